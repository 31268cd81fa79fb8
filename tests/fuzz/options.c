/*
 * options.c - fuzzing the command line: each line of the input is a word of it.
 *
 * Whatever the words: they are taken, with values in their ranges and nothing on stderr, or refused
 * with exit code 2 and an error on stderr that is UTF-8 and does nothing to a terminal.
 */
#include "line/options.h"
#include <float.h>

#include "frame/sampling.h"
#include "line/exit_code.h"
#include "line/report.h"
#include "line/value.h"
#include "slewtime/map.h"
#include "slewtime/window.h"
#include "speed/answer.h"
#include "target.h"
#include "usable.h"
#include "window/answer.h"

enum { INPUT_MAX = 400, WORDS_MAX = 16, SAID_MAX = 1 << 16, SCENARIO_MAX = 8192 };

/* ---- the scenario that they are about ---- */

/* it has a magnet and a spread */
static const char *scenario_text(void)
{
    static char text[SCENARIO_MAX];
    if (text[0] != '\0')
        return text;
    FILE *file = fopen("examples/weak-magnet.yaml", "r");
    assert_non_null(file);
    size_t length = fread(text, 1, sizeof text - 1, file);
    fclose(file);
    assert_in_range(length, 1, sizeof text - 2);
    return text;
}

/* as cli_read_scenario does it, from memory; without assignments it is the same each time */
static int read_scenario(const cli_options *options, slew_scenario *scenario)
{
    static slew_scenario as_it_is;
    const char *text = scenario_text();
    const slew_reading reading = {.assignments = options->assignment,
                                  .assignment_count = options->assignment_count,
                                  .errors = {.report = cli_tell_error}};
    if (as_it_is.title[0] == '\0')
        assert_int_equal(
            slew_scenario_read_memory(text, strlen(text), "truck.yaml", NULL, &as_it_is), SLEW_OK);
    *scenario = as_it_is;
    if (options->assignment_count == 0)
        return CLI_OK;
    int code =
        cli_code(slew_scenario_read_memory(text, strlen(text), "truck.yaml", &reading, scenario));
    if (code == CLI_OK)
        is_usable(scenario);
    return code;
}

/* ---- the texts, each by its own reader ---- */

static int read_varied(const cli_options *options, const slew_scenario *scenario)
{
    int code = CLI_OK;
    for (int i = 0; code == CLI_OK && i < options->vary_count && i < CLI_VARIED_MAX; i++) {
        slew_vary vary;
        code = cli_read_vary(options->vary[i], scenario, &vary);
        if (code != CLI_OK)
            break;
        assert_int_equal(slew_key_at(vary.key)->kind, SLEW_KEY_NUMBER);
        assert_true(isfinite(vary.from) && isfinite(vary.to) && vary.from < vary.to);
        assert_true(vary.steps == 0 || (vary.steps >= 2 && vary.steps <= SLEW_VARY_STEPS_MAX));
        value_reads_back(slew_key_row_at(vary.key), vary.from);
        value_reads_back(slew_key_row_at(vary.key), vary.to);
    }
    return code;
}

static int read_tolerances(const cli_options *options, const slew_scenario *scenario)
{
    slew_window_question q = slew_window_question_default(SLEW_ROTATION);
    slew_setup setup;
    slew_scenario_resolve(scenario, SLEW_OCCASION_STOW, &setup);
    const slew_magnet *magnet = &setup.axis[SLEW_ROTATION].home.magnet;
    int code = cli_window_tolerances(options->tolerance, magnet, &q), asked = 0;
    for (int i = 0; code == CLI_OK && i < SLEW_WINDOW_FIGURES; i++)
        if (!isnan(q.figure[i].low)) {
            asked++;
            assert_true(isfinite(q.figure[i].low) && isfinite(q.figure[i].high));
            assert_true(q.figure[i].low <= q.figure[i].high);
        }
    assert_true(code != CLI_OK || asked > 0);
    return code;
}

static int read_sense(const cli_options *options)
{
    cli_sense sense = {0};
    int code = cli_window_sense(options->sense, &sense);
    if (code == CLI_OK) {
        assert_true(sense.asked && sense.supply > 0 && sense.series > 0 && sense.closed >= 0);
        /* three operations, each rounded */
        assert_true(sense.voltage >= 0 && sense.voltage <= sense.supply * (1 + 4 * DBL_EPSILON));
    }
    return code;
}

static int read_wanted(const cli_options *options)
{
    double wanted = 0.5;
    int code = cli_read_wanted(options, "0.95", &wanted);
    assert_true(code != CLI_OK || (wanted >= 1e-6 && wanted < 1));
    return code;
}

static int read_repeated(const char *option, const cli_texts *texts, const char *path)
{
    double values[CLI_VALUES_MAX];
    int code = cli_read_values(option, texts, path, values);
    for (int i = 0; code == CLI_OK && i < texts->count; i++)
        value_reads_back(slew_key_row_at(slew_key_find(path)), values[i]);
    return code;
}

static int read_places(const cli_options *options, const slew_scenario *scenario)
{
    static cli_speed speed;
    cli_options places = {.at = options->at, .pressure = options->pressure};
    memset(&speed, 0, sizeof speed);
    speed.scenario = scenario;
    return cli_speed_questions(&places, &speed);
}

static int read_texts(const cli_options *options)
{
    static slew_scenario scenario;
    int code = read_scenario(options, &scenario);
    if (code == CLI_OK)
        code = read_varied(options, &scenario);
    if (code == CLI_OK && options->tolerance != NULL)
        code = read_tolerances(options, &scenario);
    if (code == CLI_OK && options->sense != NULL)
        code = read_sense(options);
    if (code == CLI_OK)
        code = read_wanted(options);
    if (code == CLI_OK)
        code = read_repeated("--tip", &options->tip, "nozzle.tip");
    if (code == CLI_OK)
        code = read_repeated("--flow", &options->flow, "nozzle.flow");
    return code == CLI_OK ? read_places(options, &scenario) : code;
}

/* ---- the line, and what is said of it ---- */

static int read_line(int count, char **words)
{
    cli_options options;
    int code = cli_options_read(&options, "slewtime", ~UINT64_C(0), count, words);
    if (code == CLI_OK)
        code = read_texts(&options);
    cli_options_free(&options);
    return code;
}

static void check_said(int code, const char *said)
{
    if (code == CLI_OK) {
        assert_string_equal(said, "");
        return;
    }
    assert_int_equal(code, CLI_WRONG);
    assert_true(strncmp(said, "slewtime:", strlen("slewtime:")) == 0);
    assert_non_null(strstr(said, "error: "));
    for (const char *line = said; *line != '\0';) {
        char one[SLEW_TITLE_MAX * 4];
        size_t length = strcspn(line, "\n");
        assert_true(line[length] == '\n' && length < sizeof one);
        memcpy(one, line, length);
        one[length] = '\0';
        is_shown_whole(one, sizeof one);
        line += length + 1;
    }
}

static int split(char *text, char **words)
{
    int count = 0;
    for (char *word = strtok(text, "\n"); word != NULL && count < WORDS_MAX;
         word = strtok(NULL, "\n"))
        words[count++] = word;
    return count;
}

static bool takes(const char *bytes, size_t length)
{
    static char said[SAID_MAX];
    static FILE *listener;
    char text[INPUT_MAX], *words[WORDS_MAX];
    if (length >= sizeof text || memchr(bytes, '\0', length) != NULL)
        return false;
    if (listener == NULL)
        listener = fmemopen(said, sizeof said, "w");
    assert_non_null(listener);
    memcpy(text, bytes, length);
    text[length] = '\0';
    int count = split(text, words);
    rewind(listener);
    FILE *before = stderr;
    stderr = listener;
    int code = read_line(count, words);
    stderr = before;
    fflush(listener);
    said[ftell(listener)] = '\0';
    check_said(code, said);
    return code == CLI_OK;
}

const fuzz_target fuzzed = {.name = "options", .rounds = 2500, .takes = takes};
