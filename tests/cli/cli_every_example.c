/*
 * cli_every_example.c - every command on every example: the answer is five lines of 80 columns, no
 * text has a word that is not to be used (../words.h) or a word of JSON, and no unit of the other
 * system. Each example is asked in one of the two systems, in turn.
 */
#include "tool.h"

#include <glob.h>

#include "../words.h"

enum { ANSWER_LINES = 5, ANSWER_COLUMNS = 80 };

/* ---- what is asked ---- */

#define S "SCENARIO"

static const char *const questions[][12] = {
    {"run", S},
    {"check", S},
    {"card", S, "--samples", "24"},
    {"speed", S, "--all"},
    {"feed", S, "--all", "--samples", "16"},
    {"window", S, "--all"},
    {"nozzle", S, "--tip", "1.5in", "--pressure", "80psi"},
    {"compare", S, "--beside", "weak", "--today", "supply.main.voltage=11.4 V", "--beside", "dead",
     "--today", "elevation.home.present=no"},
    {"offset", S, "--samples", "24"},
    {"offset", S, "--samples", "24", "--all"},
    {"plan", S, "--samples", "16"},
    {"plan", S, "--samples", "16", "--all"},
    {"margin", S, "--samples", "24"},
    {"margin", S, "--samples", "24", "--axis", "rotation", "--all"},
    {"map", S, "--vary", "today.environment.temperature=-20degC:40degC:6"},
    {"map", S, "--vary", "today.supply.main.voltage=9V:15V:5", "--vary",
     "stow.point.elevation=-16deg:-6deg:4"},
    {"causes", S, "--samples", "8"},
    {"fit", S, "examples/stopwatch.csv", "--key", "elevation.motor.no_load_speed", "--key",
     "elevation.gear.efficiency", "--bias", "--all"},
};
enum { QUESTIONS = sizeof questions / sizeof *questions };

/* with what belongs to it alone */
static const char *const others[][12] = {
    {"run", "examples/daily.yaml", "--only", "deploy"},
    {"run", "examples/daily.yaml", "--only", "stow", "--today", "rotation.home.present=no"},
    {"compare", "examples/clearance-enough.yaml", "examples/clearance-pressed.yaml",
     "examples/clearance-faults.yaml", "examples/daily.yaml", "examples/dead-sensor.yaml",
     "examples/foam-trailer.yaml"},
    {"causes", "examples/trouble-call.yaml", "--seen", "examples/seen-falls-short.yaml",
     "--samples", "24"},
    {"causes", "examples/trouble-call.yaml", "--seen", "examples/seen-home-not-found.yaml",
     "--samples", "24"},
    {"causes", "examples/trouble-call.yaml", "--seen", "examples/seen-nothing-fits.yaml",
     "--samples", "24"},
    {"causes", "examples/story.yaml", "--seen", "examples/seen-story.yaml", "--samples", "24"},
    {"causes", "examples/trouble-call.yaml", "--samples", "8", "--about",
     "corroded connection in the feed"},
    {"feed", "examples/daily.yaml", "--measured-drop", "0.6V", "--measured-current", "12A",
     "--samples", "16"},
    {"fit", "examples/story.yaml", "examples/story-times.csv", "--key",
     "supply.feed.joint_resistance", "--key", "supply.feed.length"},
    {"window", "examples/weak-magnet.yaml", "--axis", "rotation", "--sense", "12V,3.3kohm,820ohm"},
};
enum { OTHERS = sizeof others / sizeof *others };

/* ---- what is looked for ---- */

/* The units that one system has and the other has not. A small length in mm2 is a conductor, which
 * is as given; m, N and K stand alone too seldom to be mistaken. */
static const char *const of_si[] = {"bar", "degC", "\u00B0C", "N m",   "N.m", "mm",
                                    "m",   "K",    "N",       "L/min", NULL};
static const char *const of_us[] = {"psi", "\u00B0F", "lbf-ft", "lbf", "ft", "gpm", NULL};

/* a unit stands behind a figure, or behind the comma of a head: "12 bar", "pressure, bar" */
static const char *find_unit(const char *line, const char *unit)
{
    size_t length = strlen(unit);
    for (const char *at = strstr(line, unit); at != NULL; at = strstr(at + 1, unit)) {
        bool behind =
            at - line >= 2 && at[-1] == ' ' && (isdigit((unsigned char)at[-2]) || at[-2] == ',');
        if (behind && !words_go_on(at[length]) && at[length] != '/' && at[length] != '.')
            return at;
    }
    return NULL;
}

/* Values of keys, names for a file of --seen and figures of --tolerance are words of JSON. */
static bool has_names(const char *what)
{
    return strncmp(what, "check", 5) == 0 || strncmp(what, "causes", 6) == 0 ||
           strstr(what, "--sense") != NULL;
}

/* keys at the end are written as a file has them, and so is what goes into one */
static bool is_for_a_file(const char *line)
{
    static const char *const starts[] = {
        "  to set  ",         "  varies  ",           "  home: {",
        "To see it in a run", "               stow.", "              deploy."};
    for (size_t i = 0; i < sizeof starts / sizeof *starts; i++)
        if (strncmp(line, starts[i], strlen(starts[i])) == 0)
            return true;
    return strstr(line, "--") != NULL;
}

static bool is_of_json(char c)
{
    return islower((unsigned char)c) || c == '_';
}

/* "home_not_found": words of small letters joined by underscores, and no part of a path */
static const char *find_json_word(const char *line)
{
    for (const char *at = line; *at != '\0'; at++) {
        if (*at != '_' || at == line || !islower((unsigned char)at[-1]) ||
            !islower((unsigned char)at[1]))
            continue;
        const char *start = at, *end = at;
        while (start > line && is_of_json(start[-1]))
            start--;
        while (is_of_json(*end))
            end++;
        bool path = (start > line && start[-1] == '.') || *end == '.';
        if (!path)
            return start;
    }
    return NULL;
}

static void is_one_language(const char *what, const char *line, bool si)
{
    const char *word, *const *units = si ? of_us : of_si, *at = find_avoided_word(line, &word);
    if (at != NULL)
        fail_msg("%s says \"%s\": %s", what, word, line);
    if (is_for_a_file(line))
        return;
    if (find_json_word(line) != NULL && !has_names(what))
        fail_msg("%s has a word of JSON: %s", what, line);
    /* `nozzle` has both systems side by side, as its rules have; in `check` stand values of keys */
    bool both = strncmp(what, "nozzle", 6) == 0 || strncmp(what, "check", 5) == 0;
    for (int i = 0; units[i] != NULL && !both; i++)
        if (find_unit(line, units[i]) != NULL)
            fail_msg("%s has %s with the units %s: %s", what, units[i], si ? "si" : "us", line);
}

static int letters_of(const char *line)
{
    int letters = 0;
    for (; *line != '\0'; line++)
        letters += ((unsigned char)*line & 0xC0) != 0x80;
    return letters;
}

/* the card is a form, whose first lines are to be written on; --about is all about one cause */
static void answers_first(const char *what, const char *line, int number)
{
    if (strncmp(what, "card", 4) == 0 || strstr(what, "--about") != NULL)
        return;
    if (number > ANSWER_LINES)
        fail_msg("%s answers in more than %d lines: %s", what, ANSWER_LINES, line);
    if (letters_of(line) > ANSWER_COLUMNS)
        fail_msg("%s answers in %d columns: %s", what, letters_of(line), line);
    if (strstr(line, "(scenario ") != NULL)
        fail_msg("%s tells where it comes from first: %s", what, line);
}

static void reads_well(const char *what, const char *text, bool si)
{
    char line[4096];
    bool answer = true;
    for (int number = 1; *text != '\0'; number++) {
        size_t length = strcspn(text, "\n");
        snprintf(line, sizeof line, "%.*s", (int)length, text);
        answer = answer && length > 0;
        if (answer)
            answers_first(what, line, number);
        is_one_language(what, line, si);
        text += length + (text[length] == '\n');
    }
}

/* ---- the tests ---- */

/* the words of a question, with the example in its place; returns whether it was answered */
static bool ask(const char *const *question, const char *scenario, bool si)
{
    const char *argument[20], *const units[] = {"--units", si ? "si" : "us"};
    char what[300] = "";
    int count = 0;
    for (; question[count] != NULL; count++) {
        argument[count] = strcmp(question[count], S) == 0 ? scenario : question[count];
        snprintf(what + strlen(what), sizeof what - strlen(what), "%.60s ", argument[count]);
    }
    argument[count++] = units[0];
    argument[count++] = units[1];
    argument[count] = NULL;
    outcome o = run_tool(NULL, argument);
    bool answered = o.code == 0;
    reads_well(what, o.out, si);
    const char *word;
    if (find_avoided_word(o.err, &word) != NULL)
        fail_msg("%s refuses with \"%s\": %s", what, word, o.err);
    free_outcome(&o);
    return answered;
}

static void every_command_on_every_example(void **state)
{
    (void)state;
    glob_t found;
    int answers = 0;
    assert_int_equal(glob("examples/[!s]*.yaml", 0, NULL, &found), 0);
    assert_int_equal(glob("examples/s[!e]*.yaml", GLOB_APPEND, NULL, &found), 0);
    assert_true(found.gl_pathc >= 20);
    for (size_t i = 0; i < found.gl_pathc; i++)
        for (int k = 0; k < QUESTIONS; k++)
            answers += ask(questions[k], found.gl_pathv[i], (i + (size_t)k) % 2 == 1);
    assert_true(answers > QUESTIONS * (int)found.gl_pathc / 2);
    globfree(&found);
}

static void questions_of_their_own(void **state)
{
    (void)state;
    for (int k = 0; k < OTHERS; k++)
        for (int si = 0; si < 2; si++)
            if (!ask(others[k], NULL, si == 1))
                fail_msg("%s %s is not answered", others[k][0], others[k][1]);
}

/* it finds what it looks for */
static void what_is_not_to_be_is_found(void **state)
{
    (void)state;
    assert_non_null(find_unit("at 6 bar, dry", "bar"));
    assert_non_null(find_unit("pressure, bar", "bar"));
    assert_null(find_unit("4 mm2", "mm"));
    assert_null(find_unit("3.3 ohm/km", "m"));
    assert_non_null(find_json_word("  FAULT: home_not_found"));
    assert_null(find_json_word("  varies      day  environment.temperature, stow.home_order"));
}

/* ---- where ---- */

static int enter(void **state)
{
    char examples[1024];
    from_here("examples", examples, sizeof examples);
    int code = enter_directory(state);
    return code == 0 ? symlink(examples, "examples") : code;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_is_not_to_be_is_found),
        cmocka_unit_test(questions_of_their_own),
        cmocka_unit_test(every_command_on_every_example),
    };
    return cmocka_run_group_tests(tests, enter, leave_directory);
}
