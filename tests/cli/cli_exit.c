/* cli_exit.c - exit codes, errors with their way out, and files whole or not at all. */
#include "tool.h"

/* ---- the command line ---- */

static void answers_with_0(void **state)
{
    (void)state;
    outcome o = TOOL("run", "truck.yaml");
    assert_int_equal(o.code, 0);
    assert_string_equal(o.err, "");
    has(o.out, "Bench monitor");
    has(o.out, "controller reports stowed");
    has(o.out, "controller reports deployed");
    free_outcome(&o);
}

static void no_line_is_wider_than_100_columns(void **state)
{
    (void)state;
    outcome o = TOOL("run", "truck.yaml", "--set", "stow.point.elevation=-19.6 deg");
    for (const char *line = o.out; *line != '\0'; line += strcspn(line, "\n") + 1) {
        int columns = 0; /* bytes that go on with a letter take none */
        for (const char *c = line; *c != '\n'; c++)
            columns += ((unsigned char)*c & 0xc0) != 0x80;
        assert_true(columns <= 100);
    }
    free_outcome(&o);
}

static void wrong_command_lines_are_2(void **state)
{
    (void)state;
    const char *const no_parts[] = {NULL};
    refuses(2, SAYS("no command", "--help"), no_parts);
    REFUSES(2, SAYS("unknown command rnu", "did you mean run?"), "rnu", "truck.yaml");
    REFUSES(2, SAYS("unknown option --jsn", "did you mean --json?"), "run", "truck.yaml", "--jsn");
    REFUSES(2, SAYS("--trace needs a value", "--trace FILE.csv"), "run", "truck.yaml", "--trace");
    REFUSES(2, SAYS("--json takes no value"), "run", "truck.yaml", "--json=yes");
    REFUSES(2, SAYS("--only", "expected stow|deploy"), "run", "truck.yaml", "--only", "stwo");
    REFUSES(2, SAYS("keys takes no option --trace"), "keys", "--trace", "x.csv");
    REFUSES(2, SAYS("needs SCENARIO"), "run");
    REFUSES(2, SAYS("one word too many: b.yaml"), "run", "truck.yaml", "b.yaml");
    REFUSES(2, SAYS("--json and --csv"), "run", "truck.yaml", "--json", "--csv");
    REFUSES(2, SAYS(".svg, .png or .pdf"), "run", "truck.yaml", "--plot", "x.gif");
    REFUSES(2, SAYS("no key has"), "keys", "zzzz");
}

static void an_option_takes_its_value_after_an_equals_sign_too(void **state)
{
    (void)state;
    outcome o = TOOL("run", "--only=stow", "--", "truck.yaml");
    assert_int_equal(o.code, 0);
    has(o.out, "controller reports stowed");
    has_not(o.out, "controller reports deployed");
    free_outcome(&o);
}

/* ---- the input ---- */

static void errors_name_the_place(void **state)
{
    (void)state;
    REFUSES(2,
            SAYS("slewtime:--set: error: supply.feed.length", "supply.feed.length=3 mm2\n",
                 "                       ^\n", "expected a length", "for example 9 m"),
            "run", "truck.yaml", "--set", "supply.feed.length=3 mm2");
    REFUSES(2, SAYS("main.voltage: unknown key", "did you mean supply.main.voltage?"), "run",
            "truck.yaml", "--today", "main.voltage=12V");
    REFUSES(2, SAYS("supply.main.volts: unknown key", "did you mean supply.main.voltage?"), "run",
            "truck.yaml", "--today", "supply.main.volts=12V");
    REFUSES(2, SAYS("unknown key", "did you mean supply.feed.length?"), "run", "truck.yaml",
            "--today", "supply.fed.length=3 m");
    write_file("bad.yaml", "format: 1\ntitle: x\nsupply:\n  feed: {length: 3 V}\n");
    REFUSES(2,
            SAYS("slewtime:bad.yaml:4:18: error: supply.feed.length", "  feed: {length: 3 V}\n",
                 "                     ^\n"),
            "check", "bad.yaml");
    assert_int_equal(unlink("bad.yaml"), 0);
}

static void a_missing_file_is_3(void **state)
{
    (void)state;
    REFUSES(3, SAYS("slewtime:none.yaml: error:", "No such file"), "run", "none.yaml");
}

static void a_directory_is_2(void **state)
{
    (void)state;
    REFUSES(2, SAYS("slewtime:.: error:", "is a directory, not a file"), "check", ".");
}

static void a_failed_teaching_is_2(void **state)
{
    (void)state;
    REFUSES(2,
            SAYS("rotation, home sensor not found", "truck.yaml:28:21: error: stow.point.rotation"),
            "run", "truck.yaml", "--teach", "rotation.home.present=no", "--json");
    REFUSES(2, SAYS("rotation, home sensor not found"), "check", "truck.yaml", "--teach",
            "rotation.home.present=no");
}

/* 0.5 V is less than the drives drop; each layer is named, and its own value is pointed at */
static void an_error_of_an_occasion_names_it_and_its_layer(void **state)
{
    (void)state;
    REFUSES(2, SAYS("--teach: error: supply.main.voltage: while teaching:"), "run", "truck.yaml",
            "--teach", "supply.main.voltage=0.5 V");
    REFUSES(2, SAYS("--today: error: supply.main.voltage: today:"), "run", "truck.yaml", "--today",
            "supply.main.voltage=0.5 V");
    REFUSES(2, SAYS("--deploy-day: error: supply.main.voltage: on deploy day:"), "run",
            "truck.yaml", "--deploy-day", "supply.main.voltage=0.5 V");
    REFUSES(2, SAYS("--deploy-day: error: elevation.stops.low: on deploy day:"), "run",
            "truck.yaml", "--deploy-day", "elevation.stops.low=-15 deg");
}

static void check_says_ok(void **state)
{
    (void)state;
    outcome o = TOOL("check", "truck.yaml");
    assert_int_equal(o.code, 0);
    has(o.out, "truck.yaml: ok\n");
    has(o.out, "elevation -");
    free_outcome(&o);
}

static void quiet_leaves_warnings_out(void **state)
{
    (void)state;
    outcome o = TOOL("check", "truck.yaml", "--teach", "supply.main.voltage=12.5 V", "--set",
                     "supply.main.voltage=13 V");
    has(o.err, "slewtime:--set: warning: supply.main.voltage");
    assert_int_equal(o.code, 0);
    free_outcome(&o);
    o = TOOL("check", "truck.yaml", "--quiet", "--teach", "supply.main.voltage=12.5 V", "--set",
             "supply.main.voltage=13 V");
    assert_string_equal(o.err, "");
    free_outcome(&o);
}

/* ---- --require ok ---- */

static int code_required(const char *today)
{
    outcome o = TOOL("run", "truck.yaml", "--require", "ok", "--json", "--today", today);
    int code = o.code;
    assert_true(o.out[0] == '{'); /* the answer is given in any case */
    free_outcome(&o);
    return code;
}

/* within tolerance, but on its stop, and the controller knows nothing of it */
static void pressed_is_not_ok(void **state)
{
    (void)state;
    outcome o = TOOL("run", "truck.yaml", "--require", "ok", "--set",
                     "stow.point.elevation=-19.7 deg", "--today", "supply.main.voltage=15 V");
    has(o.out, "Reports stowed, but elevation is jammed against its lower stop (-20.0°).\n");
    has(o.out, "; JAMMED against a hard stop\n");
    assert_int_equal(o.code, 1);
    free_outcome(&o);
}

static void required_ok(void **state)
{
    (void)state;
    assert_int_equal(code_required("supply.main.voltage=13 V"), 0);
    assert_int_equal(code_required("rotation.home.present=no"), 1); /* a fault */
    assert_int_equal(code_required("supply.floor=12.95 V"), 1);     /* below the floor */
    assert_int_equal(code_required("stow.cancel_at=1 s"), 1);
    outcome o = TOOL("run", "truck.yaml", "--today", "rotation.home.present=no");
    assert_int_equal(o.code, 0); /* a fault is an answer, too */
    free_outcome(&o);
}

/* ---- output ---- */

static void unwritable_output_is_3_and_leaves_nothing(void **state)
{
    (void)state;
    int files = count_files();
    REFUSES(3, SAYS("cannot write nowhere/x.csv", "give a file"), "run", "truck.yaml", "--trace",
            "nowhere/x.csv");
    REFUSES(3, SAYS("cannot write /dev/full"), "run", "truck.yaml", "--trace", "/dev/full");
    assert_int_equal(count_files(), files);
    outcome o = run_tool("/dev/full", SAYS("run", "truck.yaml", "--json"));
    assert_int_equal(o.code, 3);
    has(o.err, "cannot write the result");
    free_outcome(&o);
}

/* a full disk, by a limit on the size of files, spoils neither the directory nor the old file */
static void a_short_write_keeps_the_old_file(void **state)
{
    (void)state;
    struct rlimit before, small;
    write_file("old.csv", "old\n");
    int files = count_files();
    assert_int_equal(getrlimit(RLIMIT_FSIZE, &before), 0);
    small = before;
    small.rlim_cur = 20000; /* bytes: less than the trace, more than the message */
    assert_int_equal(setrlimit(RLIMIT_FSIZE, &small), 0);
    outcome o = TOOL("run", "truck.yaml", "--trace", "old.csv");
    assert_int_equal(setrlimit(RLIMIT_FSIZE, &before), 0);
    assert_int_equal(o.code, 3);
    has(o.err, "cannot write old.csv");
    assert_string_equal(o.out, "");
    assert_int_equal(count_files(), files);
    struct stat old;
    assert_int_equal(stat("old.csv", &old), 0);
    assert_int_equal(old.st_size, 4);
    free_outcome(&o);
    assert_int_equal(unlink("old.csv"), 0);
}

static void a_broken_pipe_is_a_quiet_end(void **state)
{
    (void)state;
    char command[2048];
    snprintf(command, sizeof command,
             "{ '%s' keys --json; echo $? > code; } 2> words | head -c 1 > /dev/null", tool_path);
    assert_int_equal(system(command), 0);
    FILE *code = fopen("code", "r"), *words = fopen("words", "r");
    assert_true(code != NULL && words != NULL);
    assert_int_equal(fgetc(code), '0');
    assert_int_equal(fgetc(words), EOF);
    fclose(code);
    fclose(words);
    unlink("code");
    unlink("words");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(answers_with_0),
        cmocka_unit_test(no_line_is_wider_than_100_columns),
        cmocka_unit_test(wrong_command_lines_are_2),
        cmocka_unit_test(an_option_takes_its_value_after_an_equals_sign_too),
        cmocka_unit_test(errors_name_the_place),
        cmocka_unit_test(a_missing_file_is_3),
        cmocka_unit_test(a_directory_is_2),
        cmocka_unit_test(a_failed_teaching_is_2),
        cmocka_unit_test(an_error_of_an_occasion_names_it_and_its_layer),
        cmocka_unit_test(check_says_ok),
        cmocka_unit_test(quiet_leaves_warnings_out),
        cmocka_unit_test(required_ok),
        cmocka_unit_test(pressed_is_not_ok),
        cmocka_unit_test(unwritable_output_is_3_and_leaves_nothing),
        cmocka_unit_test(a_short_write_keeps_the_old_file),
        cmocka_unit_test(a_broken_pipe_is_a_quiet_end),
    };
    return cmocka_run_group_tests(tests, enter_directory, leave_directory);
}
