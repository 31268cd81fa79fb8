/*
 * cli_words.c - one word for one thing: no finished text has a word that is not to be used
 * (../words.h), the answer stands in the first five lines, and where an output comes from stands at
 * its end. tests/cli/cli_every_example.c asks the same of every command on the examples.
 */
#include "tool.h"

#include <glob.h>

#include "../words.h"

static char project[1024];

static void uses_no_avoided_word(const char *what, const char *text)
{
    const char *word, *at = find_avoided_word(text, &word);
    if (at != NULL)
        fail_msg("%s says \"%s\": ...%.60s", what, word, at);
}

/* ---- texts ---- */

static const char *const lines[][8] = {
    {"run", "truck.yaml"},
    {"run", "truck.yaml", "--today", "rotation.home.present=no"},
    {"run", "truck.yaml", "--set", "supply.feed.length=80 m"},
    {"run", "truck.yaml", "--set", "stow.point.elevation=-19.5 deg"},
    {"compare", "truck.yaml", "--beside", "dead", "--today", "rotation.home.present=no"},
    {"speed", "truck.yaml", "--all"},
    {"nozzle", "truck.yaml", "--tip", "1.5in"},
    {"feed", "truck.yaml", "--all", "--samples", "64"},
    {"feed", "truck.yaml", "--samples", "64", "--set", "supply.feed.length=60 m"},
    {"feed", "truck.yaml", "--measured-drop", "0.6V", "--measured-current", "12A"},
    {"feed", "truck.yaml", "--measured-voltage", "12.5V"},
    {"window", "truck.yaml", "--all"},
    {"window", "truck.yaml", "--axis", "rotation", "--sense", "12V,3.3kohm,820ohm"},
    {"card", "truck.yaml"},
    {"card", "truck.yaml", "--today", "rotation.home.present=no"},
    {"check", "truck.yaml"},
};
enum { LINES = sizeof lines / sizeof *lines };

static void texts_use_one_word_for_one_thing(void **state)
{
    (void)state;
    for (int i = 0; i < LINES; i++) {
        outcome o = run_tool(NULL, lines[i]);
        assert_int_equal(o.code, 0);
        uses_no_avoided_word(lines[i][0], o.out);
        free_outcome(&o);
    }
}

static void helps_do_too(void **state)
{
    static const char *const commands[] = {"run",    "plan",  "compare", "offset", "margin", "map",
                                           "feed",   "speed", "nozzle",  "window", "fit",    "card",
                                           "causes", "page",  "report",  "check",  "keys"};
    (void)state;
    for (size_t i = 0; i < sizeof commands / sizeof *commands; i++) {
        outcome o = TOOL(commands[i], "--help");
        uses_no_avoided_word(commands[i], o.out);
        free_outcome(&o);
    }
    outcome o = TOOL("--help");
    uses_no_avoided_word("help", o.out);
    free_outcome(&o);
}

static void refusals_do_too(void **state)
{
    (void)state;
    outcome o[] = {TOOL("run", "truck.yaml", "--teach", "rotation.home.present=no"),
                   TOOL("run", "truck.yaml", "--teach", "supply.main.voltage=8 V"),
                   TOOL("feed", "truck.yaml", "--measured-voltage", "14 V")};
    for (size_t i = 0; i < sizeof o / sizeof *o; i++) {
        assert_int_equal(o[i].code, 2);
        uses_no_avoided_word("a refusal", o[i].err);
        free_outcome(&o[i]);
    }
}

/* what a file gets wrong is named by its key, not by a word of JSON */
static void errors_do_too(void **state)
{
    (void)state;
    outcome o[] = {TOOL("run", "truck.yaml", "--set", "stow.point.elevation=-40 deg"),
                   TOOL("offset", "truck.yaml", "--set", "deploy.seconds.elevation=fast"),
                   TOOL("map", "truck.yaml", "--vary", "nothing=1:2"),
                   TOOL("plan", "missing.yaml"),
                   TOOL("margin", "truck.yaml", "--units", "metric"),
                   TOOL("fit", "truck.yaml", "missing.csv", "--key", "rotation.gear.ratio")};
    for (size_t i = 0; i < sizeof o / sizeof *o; i++) {
        assert_int_not_equal(o[i].code, 0);
        uses_no_avoided_word("an error", o[i].err);
        free_outcome(&o[i]);
    }
}

static void meanings_of_keys_do_too(void **state)
{
    (void)state;
    outcome o = TOOL("keys");
    /* each line has the key first, which is no word of texts: a group of its own has no dot */
    char *rest = NULL;
    for (char *line = strtok_r(o.out, "\n", &rest); line != NULL;
         line = strtok_r(NULL, "\n", &rest))
        uses_no_avoided_word("keys", line + strcspn(line, " "));
    free_outcome(&o);
}

/* ---- documents ---- */

static char *read_project(const char *name)
{
    char path[2048];
    snprintf(path, sizeof path, "%s/%s", project, name);
    FILE *file = fopen(path, "r");
    if (file == NULL)
        fail_msg("%s is not there", path);
    return take_all(file);
}

static void documents_do_too(void **state)
{
    static const char *const names[] = {"README.md", "examples/README.md", "examples/story.md",
                                        "plots/page/lessons.json", "plots/page/checks.json"};
    (void)state;
    for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
        char *text = read_project(names[i]);
        uses_no_avoided_word(names[i], text);
        free(text);
    }
}

/* their keys have names of their own */
static void heads_of_examples_do_too(void **state)
{
    (void)state;
    char pattern[2048];
    glob_t found;
    snprintf(pattern, sizeof pattern, "%s/examples/*.yaml", project);
    assert_int_equal(glob(pattern, 0, NULL, &found), 0);
    assert_true(found.gl_pathc > 20);
    for (size_t i = 0; i < found.gl_pathc; i++) {
        char *rest = NULL, *text = take_all(fopen(found.gl_pathv[i], "r"));
        for (char *line = strtok_r(text, "\n", &rest); line != NULL && line[0] == '#';
             line = strtok_r(NULL, "\n", &rest))
            uses_no_avoided_word(found.gl_pathv[i], line);
        free(text);
    }
    globfree(&found);
}

/* read in five minutes at the 238 words a minute of M. Brysbaert, How many words do we read per
 * minute?, Journal of Memory and Language 109 (2019) */
static void the_readme_is_read_in_five_minutes(void **state)
{
    (void)state;
    char *rest = NULL, *text = read_project("README.md");
    int words = 0;
    for (char *word = strtok_r(text, " \n", &rest); word != NULL;
         word = strtok_r(NULL, " \n", &rest))
        words++;
    free(text);
    assert_in_range(words, 800, 5 * 238);
}

/* ---- the answer first ---- */

/* the card is a form, whose first lines are to be written on */
static void the_answer_is_five_lines_at_most(void **state)
{
    (void)state;
    for (int i = 0; i < LINES; i++) {
        if (strcmp(lines[i][0], "card") == 0)
            continue;
        outcome o = run_tool(NULL, lines[i]);
        char *end = strstr(o.out, "\n\n");
        if (end != NULL)
            end[1] = '\0';
        if (lines_of(o.out) > 5)
            fail_msg("%s answers in %d lines:\n%s", lines[i][0], lines_of(o.out), o.out);
        has_not(o.out, "(scenario ");
        free_outcome(&o);
    }
}

static int enter(void **state)
{
    return getcwd(project, sizeof project) == NULL ? -1 : enter_directory(state);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(texts_use_one_word_for_one_thing),
        cmocka_unit_test(helps_do_too),
        cmocka_unit_test(refusals_do_too),
        cmocka_unit_test(errors_do_too),
        cmocka_unit_test(meanings_of_keys_do_too),
        cmocka_unit_test(documents_do_too),
        cmocka_unit_test(heads_of_examples_do_too),
        cmocka_unit_test(the_readme_is_read_in_five_minutes),
        cmocka_unit_test(the_answer_is_five_lines_at_most),
    };
    return cmocka_run_group_tests(tests, enter, leave_directory);
}
