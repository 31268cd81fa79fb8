/* options.c - see options.h. */
#include "options.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>

#include "command.h"
#include "exit_code.h"
#include "report.h"
#include "suggest.h"

#define FIELD(field) offsetof(cli_options, field)

#define FLAG(name_, field_, help_)                                                                 \
    {                                                                                              \
        .name = name_, .kind = CLI_FLAG, .offset = FIELD(field_), .help = help_                    \
    }
#define TEXT(name_, value_, field_, help_)                                                         \
    {                                                                                              \
        .name = name_, .value = value_, .kind = CLI_TEXT, .offset = FIELD(field_), .help = help_   \
    }
#define COUNT(name_, field_, help_)                                                                \
    {                                                                                              \
        .name = name_, .value = "N", .kind = CLI_COUNT, .offset = FIELD(field_), .help = help_     \
    }
#define WORD(name_, words_, field_, help_)                                                         \
    {                                                                                              \
        .name = name_, .value = words_, .kind = CLI_WORD, .offset = FIELD(field_),                 \
        .words = words_, .help = help_                                                             \
    }
#define TEXTS(name_, value_, field_, help_)                                                        \
    {                                                                                              \
        .name = name_, .value = value_, .kind = CLI_TEXTS, .offset = FIELD(field_), .help = help_  \
    }
#define ASSIGNMENT(name_, layer_, help_)                                                           \
    {                                                                                              \
        .name = name_, .value = "PATH=VALUE", .kind = CLI_ASSIGNMENT, .layer = layer_,             \
        .help = help_                                                                              \
    }

static const cli_option table[CLI_OPTION_COUNT] = {
    [CLI_SET] = ASSIGNMENT("--set", SLEW_LAYER_FILE,
                           "set a key of the scenario, for example\n"
                           "--set 'supply.feed.gauge=10 AWG'; may be repeated, as the next four"),
    [CLI_TEACH] =
        ASSIGNMENT("--teach", SLEW_LAYER_TEACH, "what differs while the stow point is taught"),
    [CLI_TODAY] = ASSIGNMENT("--today", SLEW_LAYER_TODAY,
                             "what has changed since it was taught, for example\n"
                             "--today rotation.home.present=no; it is known, so it does\n"
                             "not vary today"),
    [CLI_DEPLOY_DAY] = ASSIGNMENT("--deploy-day", SLEW_LAYER_DEPLOY_DAY,
                                  "what has changed again, on top of today, by the\n"
                                  "time it deploys; known of the deploy"),
    [CLI_SPREAD] = {.name = "--spread",
                    .value = "PATH=SPREAD",
                    .kind = CLI_ASSIGNMENT,
                    .is_spread = true,
                    .help = "what varies, in place of the file's: 'uniform 11 V..14 V',\n"
                            "'normal 15 degC +- 5 K', 'triangular 32 %..36 %..40 %',\n"
                            "'values 5 deg, 30 deg', as in a file, or none"},
    [CLI_UNITS] = {.name = "--units",
                   .value = "us|si",
                   .kind = CLI_UNIT_SYSTEM,
                   .words = "us|si",
                   .help = "ft, psi and °F, or m, bar and °C, in texts and pictures; JSON and\n"
                           "CSV have the units of their names"},
    [CLI_ONLY] = WORD("--only", "stow|deploy", only,
                      "this part alone; a deploy begins as stowed today, and a stow\n"
                      "that fails is shown; of feed, nozzle and speed: things as\nthey are then"),
    [CLI_REQUIRE] = WORD("--require", "ok", require,
                         "exit with 1 unless all is well: the verdict is given,\n"
                         "on target, holding, not jammed against a stop, no\n"
                         "keep-out zone entered, minimum voltage kept"),
    [CLI_JSON] = FLAG("--json", json, "the result as JSON"),
    [CLI_CSV] = FLAG("--csv", csv, "the result as CSV"),
    [CLI_TRACE] = TEXT("--trace", "FILE.csv", trace,
                       "write angles, speeds, currents and voltage every 10 ms\n"
                       "and at every event to this file"),
    [CLI_PLOT] = TEXT("--plot", "FILE", plot,
                      "draw a picture: .svg, .png or .pdf by its ending;\n"
                      "- draws in the terminal (needs gnuplot)"),
    [CLI_SLIDE] = FLAG("--slide", slide,
                       "draw for a projector: 1920 x 1080, large letters, one message;\n"
                       "otherwise a sheet of paper"),
    [CLI_POSE] = TEXT("--pose", "FILE", pose,
                      "draw where the barrel rests and where it should, from the side\n"
                      "and from above; with --samples a fan over the spread"),
    [CLI_SAMPLES] = COUNT("--samples", samples, "how many trucks and days are tried"),
    [CLI_SEED] = COUNT("--seed", seed, "another number draws others; the same repeats them"),
    [CLI_THREADS] = COUNT("--threads", threads, "how many at a time; the result is the same"),
    [CLI_RANDOM] = FLAG("--random", random, "days drawn one by one instead of evenly spread ones"),
    [CLI_AXIS] = {.name = "--axis",
                  .value = "AXIS",
                  .kind = CLI_WORD,
                  .offset = FIELD(axis),
                  .words = "elevation|rotation",
                  .help =
                      "which axis is asked about: elevation (default; speed: both) or rotation"},
    [CLI_WANTED] = TEXT("--wanted", "P", wanted,
                        "the probability wanted: of being inside the target (offset,\n"
                        "0.95 unless given), of a fault at most (margin, 0.001)"),
    [CLI_VARY] = {.name = "--vary",
                  .value = "RANGE",
                  .kind = CLI_VARIED,
                  .help = "a key from one value to another: [LAYER.]PATH=FROM:TO[:STEPS],\n"
                          "for example today.supply.main.voltage=9V:15V:60; LAYER is\n"
                          "teach, today or deploy_day; given twice: a map of both"},
    [CLI_SEEN] =
        TEXT("--seen", "FILE", seen, "what was seen, timed and measured at the truck (YAML)"),
    [CLI_CATALOGUE] = TEXT("--catalogue", "FILE", catalogue,
                           "causes of your own (YAML), beside or instead of the\n"
                           "built-in ones"),
    [CLI_ABOUT] = TEXT("--about", "CAUSE", about,
                       "all about one cause: what everything reads, how to prove\n"
                       "it, the cure"),
    [CLI_DRAW] = COUNT("--draw", draw,
                       "hides one cause, the same for the same number, and answers\n"
                       "checks until it is named; reads lines from stdin"),
    [CLI_TOLERANCE] = TEXT("--tolerance", "KEY=T,...", tolerance,
                           "how far figures of the magnet may be off, either way, for\n"
                           "example gap=0.5mm,remanence=5%"),
    [CLI_SENSE] = TEXT("--sense", "V,SERIES,CLOSED", sense,
                       "line of the sensor: its supply, the resistor in series, and the\n"
                       "closed sensor with its wires, for example 12V,3.3kohm,820ohm"),
    [CLI_DROP] = TEXT("--drop", "SHARE", drop,
                      "drop in the feed that a conductor is chosen for, as a share of\n"
                      "the nominal voltage, for example 5%; otherwise 3 % and 10 %"),
    [CLI_CLASS] = WORD("--class", "2|5", iec_class,
                       "mm2 sizes of IEC 60228 class 5, flexible (default), or 2"),
    [CLI_MEASURED_VOLTAGE] = TEXT("--measured-voltage", "VOLT", measured_voltage,
                                  "measured at the controller while AXIS runs, for example\n"
                                  "11.2V: which resistance of the connections explains it"),
    [CLI_MEASURED_DROP] = TEXT("--measured-drop", "VOLT", measured_drop,
                               "measured over a connection, or out and back over the whole feed,\n"
                               "for example 0.6V: which resistance it stands for"),
    [CLI_MEASURED_CURRENT] = TEXT("--measured-current", "AMP", measured_current,
                                  "the current at the measured drop, for example 12A"),
    [CLI_AT] = TEXTS("--at", "AXIS=ANGLE", at,
                     "where an axis is, for example elevation=30deg, instead of\n"
                     "anywhere between its stops; once for each axis"),
    [CLI_TIP] =
        TEXTS("--tip", "DIAMETER", tip, "a smooth-bore tip, for example 1.75in; repeatable"),
    [CLI_FLOW] = TEXTS("--flow", "FLOW", flow, "a spray's flow, for example 1000gpm; repeatable"),
    [CLI_PRESSURE] = TEXTS("--pressure", "PRESSURE", pressure,
                           "at the nozzle, for example 80psi or 5.5bar; repeatable"),
    [CLI_BESIDE] = {.name = "--beside",
                    .value = "NAME",
                    .kind = CLI_GROUPED,
                    .help = "begin one more column of this name: the same scenario with the\n"
                            "--set, --teach, --today and --deploy-day that follow; those\n"
                            "before the first --beside hold for every column"},
    [CLI_KEY] = TEXTS("--key", "PATH", key,
                      "a key to fit, for example elevation.motor.no_load_speed; may be\n"
                      "repeated. 'PATH +- SD' says how well it is known before, else\n"
                      "spread.truck or what is usual of a data sheet does"),
    [CLI_BIAS] =
        FLAG("--bias", bias,
             "tell by how much the stopwatch shows too much first; it is\nfitted in any case"),
    [CLI_ROBUST] = FLAG("--robust", robust, "readings that lie far off count less or not at all"),
    [CLI_WRITE] = TEXT("--write", "FILE.yaml", write,
                       "write the scenario with the fitted values, their standard\n"
                       "errors as spread.truck, and all else as it is"),
    [CLI_OUT] = TEXT("--out", "FILE.html", out, "the file to write, for example lesson.html"),
    [CLI_ALL] = FLAG("--all", all, "every row of the tables, not only those that matter most"),
    [CLI_QUIET] = FLAG("--quiet", quiet, "no warnings and no progress on stderr"),
    [CLI_HELP] = FLAG("--help", help, "show this help"),
};

_Static_assert(CLI_OPTION_COUNT <= 64, "CLI_BIT has a bit for every option");

const cli_option *cli_option_at(int id)
{
    return id >= 0 && id < CLI_OPTION_COUNT ? &table[id] : NULL;
}

/* ---- finding ---- */

/* the word as the user wrote it, name and value apart */
typedef struct given {
    const char *name;
    size_t length;
    const char *value; /* after an equals sign; NULL: none */
} given;

static given take_apart(const char *word)
{
    const char *equals = strchr(word, '=');
    return (given){word, equals ? (size_t)(equals - word) : strlen(word),
                   equals ? equals + 1 : NULL};
}

static int find(given option, uint64_t takes)
{
    for (int id = 0; id < CLI_OPTION_COUNT; id++)
        if ((takes & CLI_BIT(id)) && strlen(table[id].name) == option.length &&
            strncmp(table[id].name, option.name, option.length) == 0)
            return id;
    return -1;
}

static int refuse_option(const char *command, given option, uint64_t takes)
{
    const char *names[CLI_OPTION_COUNT];
    int count = 0;
    for (int id = 0; id < CLI_OPTION_COUNT; id++)
        if (takes & CLI_BIT(id))
            names[count++] = table[id].name;
    const char *near = cli_nearest(option.name, option.length, names, count);
    cli_complaint complaint = {.nearest = near, .help = command};
    if (find(option, ~UINT64_C(0)) >= 0)
        return cli_complain(&complaint, "%s takes no option %.*s", command, (int)option.length,
                            option.name);
    return cli_complain(&complaint, "unknown option %.*s", (int)option.length, option.name);
}

/* ---- values ---- */

static int set_word(const cli_option *option, const char *value, int *field)
{
    const char *word = option->words;
    for (int number = 1; *word != '\0'; number++) {
        size_t length = strcspn(word, "|");
        if (strlen(value) == length && strncmp(word, value, length) == 0) {
            *field = number;
            return CLI_OK;
        }
        word += length + (word[length] == '|');
    }
    cli_complaint complaint = {.expected = option->words};
    return cli_complain(&complaint, "%s %s: not one of its words", option->name, value);
}

static int set_count(const cli_option *option, const char *value, int64_t *field)
{
    char *end;
    errno = 0;
    *field = strtoll(value, &end, 10);
    if (value[0] >= '0' && value[0] <= '9' && *end == '\0' && errno == 0 && *field > 0)
        return CLI_OK;
    cli_complaint complaint = {.expected = "a whole number of 1 or more, for example 10000"};
    return cli_complain(&complaint, "%s %s: not a number of that kind", option->name, value);
}

static void add_text(cli_texts *texts, const char *value)
{
    if (texts->count < CLI_TEXTS_MAX)
        texts->text[texts->count] = value;
    texts->count++;
}

static int add_units(cli_options *options, const cli_option *option, const char *value)
{
    static const char *const texts[] = {"units=us", "units=si"};
    int number = 0;
    int code = set_word(option, value, &number);
    if (code == CLI_OK)
        options->assignment[options->assignment_count++] =
            (slew_assignment){SLEW_LAYER_FILE, texts[number - 1], option->name, false};
    return code;
}

static int set_value(cli_options *options, const cli_option *option, const char *value)
{
    char *field = (char *)options + option->offset;
    switch (option->kind) {
    case CLI_FLAG:
        *(bool *)(void *)field = true;
        return CLI_OK;
    case CLI_TEXT:
        *(const char **)(void *)field = value;
        return CLI_OK;
    case CLI_COUNT:
        return set_count(option, value, (int64_t *)(void *)field);
    case CLI_WORD:
        return set_word(option, value, (int *)(void *)field);
    case CLI_TEXTS:
        add_text((cli_texts *)(void *)field, value);
        return CLI_OK;
    case CLI_ASSIGNMENT:
        options->assignment[options->assignment_count++] =
            (slew_assignment){option->layer, value, option->name, option->is_spread};
        return CLI_OK;
    case CLI_UNIT_SYSTEM:
        return add_units(options, option, value);
    case CLI_VARIED:
        if (options->vary_count < CLI_VARIED_MAX)
            options->vary[options->vary_count] = value;
        options->vary_count++;
        return CLI_OK;
    case CLI_GROUPED:
        if (options->group_count < CLI_COLUMNS_MAX)
            options->group[options->group_count] = (cli_group){value, options->assignment_count};
        options->group_count++;
        return CLI_OK;
    }
    return CLI_WRONG;
}

/* reads the option at words[*at], and the word after it when that is its value */
static int read_option(cli_options *options, const char *command, uint64_t takes, int count,
                       char **words, int *at)
{
    given written = take_apart(words[*at]);
    int id = find(written, takes);
    if (id < 0)
        return refuse_option(command, written, takes);
    const cli_option *option = &table[id];
    cli_complaint complaint = {.help = command};
    if (option->value == NULL && written.value != NULL)
        return cli_complain(&complaint, "%s takes no value", option->name);
    if (option->value != NULL && written.value == NULL) {
        if (*at + 1 >= count)
            return cli_complain(&complaint, "%s needs a value: %s %s", option->name, option->name,
                                option->value);
        written.value = words[++*at];
    }
    return set_value(options, option, written.value);
}

/* ---- the whole line ---- */

static bool is_option(const char *word)
{
    return word[0] == '-' && word[1] == '-' && word[2] != '\0';
}

static int read_word(cli_options *options, const char *command, uint64_t takes, int count,
                     char **words, int *at)
{
    const char *word = words[*at];
    cli_complaint complaint = {.help = command};
    if (strcmp(word, "-h") == 0)
        options->help = true;
    else if (is_option(word))
        return read_option(options, command, takes, count, words, at);
    else if (word[0] == '-' && word[1] != '\0')
        return cli_complain(&complaint, "unknown option %s; options are written with two dashes",
                            word);
    else
        options->operand[options->operand_count++] = word;
    return CLI_OK;
}

int cli_options_read(cli_options *options, const char *command, uint64_t takes, int count,
                     char **words)
{
    size_t room = (size_t)count + 1;
    memset(options, 0, sizeof *options);
    options->operand = calloc(room, sizeof *options->operand);
    options->assignment = calloc(room, sizeof *options->assignment);
    if (options->operand == NULL || options->assignment == NULL)
        return cli_no_memory();
    bool options_end = false;
    int code = CLI_OK;
    for (int i = 0; i < count && code == CLI_OK; i++)
        if (options_end)
            options->operand[options->operand_count++] = words[i];
        else if (strcmp(words[i], "--") == 0)
            options_end = true;
        else
            code = read_word(options, command, takes, count, words, &i);
    return code;
}

void cli_options_free(cli_options *options)
{
    free(options->operand);
    free(options->assignment);
}
