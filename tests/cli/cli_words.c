/*
 * cli_words.c - one word for one thing: no finished text has a word that is not to be used, the
 * answer stands in the first five lines, and where an output comes from stands at its end.
 */
#include "tool.h"

#include <ctype.h>

/* whole words of texts, whatever the case of their first letter; names of keys and of JSON are
 * joined by dots and underscores, and are no words of texts */
static const char *const avoided[] = {"home_not_found", "undervoltage",
                                      "hard_stop",      "not_run",
                                      "driven by hand", "bits of doubt",
                                      "source voltage", "maker",
                                      "maker's",        "licence",
                                      "shared load",    "other equipment",
                                      "too sharp",      "gives no verdict",
                                      "says stowed",    "metres",
                                      "motorised",      "poles",
                                      "isolate",        "low stop",
                                      "high stop",      "joint",
                                      "joints",         "the floor",
                                      "sound truck",    "drive-on",
                                      "drive-off",      "it says",
                                      "as it came",     "unseen",
                                      "main source",    "the source",
                                      "is enough",      "question was answered"};
enum { AVOIDED = sizeof avoided / sizeof *avoided };

/* part of a name or word, so not the end of one */
static bool goes_on(char letter)
{
    return isalnum((unsigned char)letter) || letter == '_';
}

static bool is_at(const char *text, const char *at, const char *word)
{
    size_t length = strlen(word);
    if (tolower((unsigned char)at[0]) != word[0] || strncmp(at + 1, word + 1, length - 1) != 0)
        return false;
    bool joined = at > text && (goes_on(at[-1]) || at[-1] == '.');
    return !joined && !goes_on(at[length]);
}

static void uses_no_avoided_word(const char *what, const char *text)
{
    for (int i = 0; i < AVOIDED; i++)
        for (const char *at = text; *at != '\0'; at++)
            if (is_at(text, at, avoided[i]))
                fail_msg("%s says \"%s\": ...%.60s", what, avoided[i], at);
}

/* ---- texts ---- */

/* plan, offset, margin, map, fit, causes, page and report are not among them */
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
    static const char *const commands[] = {"run",    "compare", "feed", "speed",
                                           "nozzle", "window",  "card", "check"};
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

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(texts_use_one_word_for_one_thing),
        cmocka_unit_test(helps_do_too),
        cmocka_unit_test(refusals_do_too),
        cmocka_unit_test(the_answer_is_five_lines_at_most),
    };
    return cmocka_run_group_tests(tests, enter_directory, leave_directory);
}
