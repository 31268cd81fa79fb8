/* cli_help.c - the table of options, the parser and the help say the same; so do keys. */
#include "tool.h"

/* the table itself, to hold the tool's help against it */
#include "line/options.h"
#include "line/report.h"
#include "line/suggest.h"

static const char *const commands[] = {"run",    "plan",  "compare", "offset", "margin", "map",
                                       "feed",   "speed", "nozzle",  "window", "fit",    "card",
                                       "causes", "page",  "report",  "fmu",    "check",  "keys"};
enum { COMMANDS = sizeof commands / sizeof *commands };

/* a line of the help that begins with the option */
static bool lists(const char *help, const cli_option *option)
{
    char line[96];
    snprintf(line, sizeof line, "\n  %s%s%s ", option->name, option->value ? " " : "",
             option->value ? option->value : "");
    return strstr(help, line) != NULL;
}

/* true: the command knows the option, whatever it says about its value */
static bool takes(const char *command, const cli_option *option)
{
    outcome o = TOOL(command, option->name);
    bool known =
        strstr(o.err, "unknown option") == NULL && strstr(o.err, "takes no option") == NULL;
    free_outcome(&o);
    return known;
}

static void every_row_is_whole(void **state)
{
    (void)state;
    for (int id = 0; id < CLI_OPTION_COUNT; id++) {
        const cli_option *option = cli_option_at(id);
        assert_non_null(option->name);
        assert_true(strncmp(option->name, "--", 2) == 0);
        assert_non_null(option->help);
        assert_true((option->value == NULL) == (option->kind == CLI_FLAG));
        assert_true((option->words != NULL) ==
                    (option->kind == CLI_WORD || option->kind == CLI_UNIT_SYSTEM));
        for (int other = 0; other < id; other++)
            assert_string_not_equal(option->name, cli_option_at(other)->name);
    }
    assert_null(cli_option_at(-1));
    assert_null(cli_option_at(CLI_OPTION_COUNT));
}

static void help_lists_what_the_parser_takes(void **state)
{
    (void)state;
    int used[CLI_OPTION_COUNT] = {0};
    for (int c = 0; c < COMMANDS; c++) {
        outcome o = TOOL(commands[c], "--help");
        assert_int_equal(o.code, 0);
        for (int id = 0; id < CLI_OPTION_COUNT; id++) {
            bool listed = lists(o.out, cli_option_at(id));
            if (listed != takes(commands[c], cli_option_at(id)))
                fail_msg("%s %s: help and parser differ", commands[c], cli_option_at(id)->name);
            used[id] += listed;
        }
        assert_int_equal(strstr(o.out, "  1  with --require ok") != NULL,
                         takes(commands[c], cli_option_at(CLI_REQUIRE)));
        free_outcome(&o);
    }
    for (int id = 0; id < CLI_OPTION_COUNT; id++)
        assert_true(used[id] > 0);
}

static void the_general_help_lists_the_commands(void **state)
{
    (void)state;
    outcome o = TOOL("--help"), same = TOOL("help");
    assert_int_equal(o.code, 0);
    assert_string_equal(o.out, same.out);
    for (int c = 0; c < COMMANDS; c++) {
        char line[32];
        snprintf(line, sizeof line, "\n  %s ", commands[c]);
        has(o.out, line);
    }
    free_outcome(&o);
    free_outcome(&same);
}

static void help_of_run_has_the_cautions(void **state)
{
    (void)state;
    outcome o = TOOL("run", "--help"), same = TOOL("help", "run");
    assert_string_equal(o.out, same.out);
    has(o.out, "move without warning and crush");
    has(o.out, "lock out its power");
    has(o.out, "do not replace a\n  test on the truck");
    has(o.out, "license");
    free_outcome(&o);
    free_outcome(&same);
}

static void version(void **state)
{
    (void)state;
    outcome o = TOOL("--version");
    assert_int_equal(o.code, 0);
    assert_string_equal(o.out, "slewtime 0.1.0\n");
    free_outcome(&o);
}

static void keys_lists_every_key(void **state)
{
    (void)state;
    outcome o = TOOL("keys");
    assert_int_equal(o.code, 0);
    for (int i = 0; i < slew_key_count(); i++) {
        char start[128];
        snprintf(start, sizeof start, "\n%s ", slew_key_at(i)->path);
        has(o.out, start);
        has(o.out, slew_key_at(i)->meaning);
    }
    free_outcome(&o);
    o = TOOL("keys", "supply.feed");
    has(o.out, "\nsupply.feed.length");
    has(o.out, "a length of 0 m or more, for example 9 m");
    has_not(o.out, "\nrotation.start");
    free_outcome(&o);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_row_is_whole),
        cmocka_unit_test(help_lists_what_the_parser_takes),
        cmocka_unit_test(the_general_help_lists_the_commands),
        cmocka_unit_test(help_of_run_has_the_cautions),
        cmocka_unit_test(version),
        cmocka_unit_test(keys_lists_every_key),
    };
    return cmocka_run_group_tests(tests, enter_directory, leave_directory);
}
