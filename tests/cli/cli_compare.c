/*
 * cli_compare.c - `slewtime compare` for people: the columns, the marks, the finding, exit codes
 * and what it refuses.
 */
#include "tool.h"

/* what makes the bench truck go wrong today */
#define WEAK  "--today", "supply.main.voltage=11V"
#define CLOSE "--set", "stow.point.elevation=-19.7deg", "--today", "supply.main.voltage=16.5V"
#define DEAD  "--teach", "rotation.home.present=no"

/* the bench truck without its deploy, under another title */
static void write_stow_alone(const char *path)
{
    char text[4000];
    const char *deploy = strstr(TRUCK, "deploy:"), *keepout = strstr(TRUCK, "keepout:");
    assert_true(deploy != NULL && keepout != NULL);
    snprintf(text, sizeof text, "%.*s%s", (int)(deploy - TRUCK), TRUCK, keepout);
    memcpy(strstr(text, "Bench"), "Other", 5);
    write_file(path, text);
}

/* the line of the table that begins with this, in *line; blanks between the cells become one */
static void find_row(const char *table, const char *start, char line[400])
{
    char begin[100];
    snprintf(begin, sizeof begin, "\n%s", start);
    const char *at = strstr(table, begin);
    if (at == NULL)
        fail_msg("no line begins with \"%s\" in:\n%s", start, table);
    size_t length = 0;
    for (at++; *at != '\n' && length < 399; at++)
        if (*at != ' ' || (length > 0 && line[length - 1] != ' '))
            line[length++] = *at;
    line[length] = '\0';
}

static void row_is(const outcome *o, const char *start, const char *whole)
{
    char line[400];
    find_row(o->out, start, line);
    assert_string_equal(line, whole);
}

/* ---- the table ---- */

static void a_group_stands_beside_the_scenario(void **state)
{
    (void)state;
    outcome o = TOOL("compare", "truck.yaml", "--beside", "weak battery", WEAK);
    assert_int_equal(o.code, 0);
    assert_string_equal(o.err, "");
    has(o.out, "\n\nCompared: stow and deploy of 2 scenarios\n");
    has(o.out, "  A  truck         truck.yaml: Bench monitor");
    has(o.out, "  B  weak battery  truck.yaml: Bench monitor");
    row_is(&o, "* battery voltage today", "* battery voltage today 13 V 11 V");
    row_is(&o, "* elevation rests at", "* elevation rests at ° -12.03 -9.44");
    row_is(&o, "* within tolerance", "* within tolerance yes no");
    row_is(&o, "* below it while running", "* below it while running no yes");
    has(o.out, "does not replace a test on the truck");
    free_outcome(&o);
}

/* it drops out before anything has run for long */
static void a_brownout_at_the_start_is_not_above_the_floor(void **state)
{
    (void)state;
    outcome o = TOOL("compare", "truck.yaml", "--beside", "corroded", "--today",
                     "supply.main.resistance=1000 mohm");
    row_is(&o, "* fault", "* fault - brownout");
    row_is(&o, "* below it while running", "* below it while running no yes");
    free_outcome(&o);
}

static void a_name_that_is_cut_says_so(void **state)
{
    (void)state;
    outcome o = TOOL("compare", "truck.yaml", "--beside", "a thick cable to the front", WEAK);
    has(o.out, "a thick cable to the \u2026");
    has(o.out, "  B  a thick cable to the front  truck.yaml");
    free_outcome(&o);
}

static void what_faults_or_strikes_comes_with_a_caution(void **state)
{
    (void)state;
    outcome o =
        TOOL("compare", "truck.yaml", "--beside", "blind", "--today", "elevation.home.present=no");
    has(o.out, "Caution: B: a fault, a jammed barrel or a keep-out zone entered. Before a try");
    free_outcome(&o);
    o = TOOL("compare", "truck.yaml", "--beside", "weak", "--today", "supply.main.voltage=12.8 V");
    has_not(o.out, "Caution:");
    free_outcome(&o);
}

static void only_rows_that_differ_are_marked(void **state)
{
    (void)state;
    outcome o = TOOL("compare", "truck.yaml", "--beside", "weak", WEAK);
    row_is(&o, "  stored time rotation", "stored time rotation s +0.21 +0.21");
    row_is(&o, "  controller reports", "controller reports stowed stowed");
    row_is(&o, "  minimum voltage", "minimum voltage V 11.50 11.50");
    has(o.out, "\n* = differs, to the digits shown\n");
    free_outcome(&o);
}

static void the_finding_says_what_each_comes_to(void **state)
{
    (void)state;
    outcome o = TOOL("compare", "truck.yaml", "--beside", "weak", WEAK, "--beside", "close", CLOSE);
    const char first[] = "A stows on its point, 8.0° from the lower stop; deploys inside.\n";
    assert_int_equal(strncmp(o.out, first, strlen(first)), 0); /* the answer first */
    has(o.out, "\nB stows elevation 2.6° off its point; deploys inside; low voltage.\n");
    has(o.out, "\nC faults: driven into a hard stop, elevation after 7.4 s; keep-out zone.\n");
    row_is(&o, "* fault", "* fault - - driven into a hard stop");
    row_is(&o, "* axis of the fault", "* axis of the fault - - elevation");
    row_is(&o, "* keep-out zones entered", "* keep-out zones entered 0 0 1");
    free_outcome(&o);
}

static void pressed_is_told(void **state)
{
    (void)state;
    outcome o = TOOL("compare", "truck.yaml", "--beside", "pressed", "--set",
                     "stow.point.elevation=-19.7 deg", "--today", "supply.main.voltage=15 V");
    has(o.out, "B elevation jammed on its lower stop, reported stowed");
    row_is(&o, "* elevation rests at", "* elevation rests at ° -12.03 -20.00");
    free_outcome(&o);
}

static void what_stands_before_beside_holds_for_all(void **state)
{
    (void)state;
    outcome o =
        TOOL("compare", "truck.yaml", "--set", "stow.tolerance=4 deg", "--beside", "one", "--set",
             "supply.feed.length=20 m", "--beside", "other", "--set", "supply.feed.gauge=4 AWG");
    has_not(o.out, "stow.tolerance");
    row_is(&o, "* feed cable size", "* feed cable size 8 AWG 8 AWG 4 AWG");
    row_is(&o, "* feed cable length", "* feed cable length 19.69 ft 65.62 ft 19.69 ft");
    free_outcome(&o);
    o = TOOL("compare", "truck.yaml", WEAK, "--beside", "as strict", "--set",
             "stow.tolerance=3deg");
    has_not(o.out, "supply.main.voltage");
    row_is(&o, "* within tolerance", "* within tolerance no yes");
    free_outcome(&o);
}

static void assignments_hold_for_every_file(void **state)
{
    (void)state;
    write_stow_alone("stow.yaml");
    outcome o = TOOL("compare", "truck.yaml", "stow.yaml", "--set", "stow.tolerance=0.01 deg",
                     "--only", "stow");
    assert_int_equal(o.code, 0);
    has(o.out, "Compared: stow of 2 scenarios\n");
    has(o.out, "  B  stow   stow.yaml: Other monitor");
    row_is(&o, "  within tolerance", "within tolerance no no");
    free_outcome(&o);
}

static void without_a_deploy_beside_one_with(void **state)
{
    (void)state;
    outcome o = TOOL("compare", "stow.yaml", "truck.yaml");
    assert_int_equal(o.code, 0);
    row_is(&o, "* deploy seconds elevation", "* deploy seconds elevation - 2 s");
    has(o.out, "\nDeploy\n* controller reports");
    has(o.out, "A stows on its point, 8.0° from the lower stop.\n"
               "B stows on its point, 8.0° from the lower stop; deploys inside.\n");
    free_outcome(&o);
}

static void equal_scenarios_do_not_differ(void **state)
{
    (void)state;
    outcome o = TOOL("compare", "truck.yaml", "truck.yaml");
    assert_int_equal(o.code, 0);
    has(o.out, "no differences: the scenarios are alike in all that a run depends on");
    const char *mark = strstr(o.out, "\n* ");
    assert_non_null(mark);
    assert_true(strncmp(mark, "\n* = differs", 12) == 0);
    free_outcome(&o);
}

static void boxes_are_compared_by_name(void **state)
{
    (void)state;
    char text[4000];
    snprintf(text, sizeof text, "%s  - {name: crane, rotation: {low: 40 deg, high: 60 deg}}\n",
             TRUCK);
    memcpy(strstr(text, "-17 deg"), "-18 deg", 7);
    write_file("boxes.yaml", text);
    outcome o = TOOL("compare", "truck.yaml", "boxes.yaml");
    row_is(&o, "* keep-out zone mast",
           "* keep-out zone mast, folded -20 to -17 deg -20 to -18 deg");
    row_is(&o, "* keepout.rotation (crane)", "* keepout.rotation (crane) - 40 to 60 deg");
    row_is(&o, "* keepout.elevation (crane)", "* keepout.elevation (crane) - all");
    has_not(o.out, "keepout.rotation (mast");
    free_outcome(&o);
}

/* ---- a point that can't be taught ---- */

static void the_others_are_answered(void **state)
{
    (void)state;
    outcome o = TOOL("compare", "truck.yaml", "--beside", "dead", DEAD);
    assert_int_equal(o.code, 0);
    has(o.out, "\nB can't be taught: while teaching, searching for home: rotation, home sensor not "
               "found.\n");
    row_is(&o, "  elevation rests at", "elevation rests at ° -12.03 -");
    row_is(&o, "* teach.rotation", "* teach.rotation.home.present yes no");
    has(o.err, "slewtime:truck.yaml:28:21: ");
    has(o.err, "warning: stow.point.rotation: while teaching");
    free_outcome(&o);
    o = TOOL("compare", "truck.yaml", "--beside", "dead", DEAD, "--quiet");
    assert_string_equal(o.err, "");
    free_outcome(&o);
}

static void none_that_can_be_taught_is_an_error(void **state)
{
    (void)state;
    outcome o =
        TOOL("compare", "truck.yaml", DEAD, "--beside", "wider", "--set", "stow.tolerance=3 deg");
    assert_int_equal(o.code, 2);
    assert_string_equal(o.out, "");
    const char *first = strstr(o.err, "error: stow.point.rotation: while teaching");
    assert_non_null(first);
    assert_null(strstr(first + 1, "error:")); /* of both it is the same */
    free_outcome(&o);
}

/* it begins as stowed today, so the point has to be taught */
static void a_deploy_alone_needs_its_stow(void **state)
{
    (void)state;
    outcome o = TOOL("compare", "truck.yaml", "--only", "deploy", "--beside", "dead", DEAD,
                     "--beside", "less", "--today", "supply.main.voltage=13 V");
    assert_int_equal(o.code, 0);
    has(o.out, "Compared: deploy of 3 scenarios\n");
    has_not(o.out, "\nStow\n");
    has(o.out, "can't be taught");
    free_outcome(&o);
}

/* ---- exit codes, warnings ---- */

static int code_of(const char *const *arguments)
{
    outcome o = run_tool(NULL, arguments);
    int code = o.code;
    assert_true(o.out[0] != '\0');
    free_outcome(&o);
    return code;
}

#define CODE_OF(...) code_of((const char *const[]){__VA_ARGS__, NULL})

static void require_ok_asks_it_of_every_column(void **state)
{
    (void)state;
    assert_int_equal(CODE_OF("compare", "truck.yaml", "stow.yaml", "--require", "ok"), 0);
    assert_int_equal(CODE_OF("compare", "truck.yaml", "--beside", "w", WEAK, "--require", "ok"), 1);
    assert_int_equal(CODE_OF("compare", "truck.yaml", WEAK, "--beside", "w", "--today",
                             "supply.main.voltage=13V", "--require", "ok"),
                     1);
    assert_int_equal(CODE_OF("compare", "truck.yaml", "--beside", "dead", DEAD, "--require", "ok"),
                     1);
}

static void a_warning_is_told_once(void **state)
{
    (void)state;
    outcome o = TOOL("compare", "truck.yaml", "--today", "environment.temperature=-40 degC",
                     "--beside", "near", "--set", "stow.tolerance=3 deg");
    const char *first = strstr(o.err, "warning:");
    assert_non_null(first);
    assert_null(strstr(first + 1, "warning:"));
    free_outcome(&o);
}

/* ---- what it refuses ---- */

static void what_it_refuses(void **state)
{
    (void)state;
    REFUSES(2, SAYS("compare needs two: truck.yaml stands alone", "--beside NAME", "--help"),
            "compare", "truck.yaml");
    REFUSES(2, SAYS("compare needs SCENARIO [SCENARIO ...]"), "compare");
    REFUSES(2, SAYS("--beside goes with one scenario, not with 2"), "compare", "truck.yaml",
            "truck.yaml", "--beside", "x");
    REFUSES(2, SAYS("at most 6 side by side, not 7", "2 to 6"), "compare", "truck.yaml",
            "truck.yaml", "truck.yaml", "truck.yaml", "truck.yaml", "truck.yaml", "truck.yaml");
    REFUSES(2, SAYS("at most 6 side by side, not 7"), "compare", "truck.yaml", "--beside", "b",
            "--beside", "c", "--beside", "d", "--beside", "e", "--beside", "f", "--beside", "g");
    REFUSES(2, SAYS("--beside needs a value"), "compare", "truck.yaml", "--beside");
    REFUSES(2, SAYS("--beside has no name", "thicker cable"), "compare", "truck.yaml", "--beside",
            "");
    REFUSES(2, SAYS("--json and --csv"), "compare", "truck.yaml", "truck.yaml", "--json", "--csv");
    REFUSES(2, SAYS("run takes no option --beside"), "run", "truck.yaml", "--beside", "x");
    REFUSES(2, SAYS("stow.yaml", "deploy: the scenario has no deploy to be run"), "compare",
            "truck.yaml", "stow.yaml", "--only", "deploy");
    REFUSES(3, SAYS("slewtime:none.yaml: error"), "compare", "truck.yaml", "none.yaml");
}

static void an_error_names_its_group_and_place(void **state)
{
    (void)state;
    REFUSES(2,
            SAYS("slewtime:--beside thick cable --set: error: supply.feed.gage: unknown key",
                 "    supply.feed.gage=4 AWG\n    ^\n", "did you mean supply.feed.gauge?"),
            "compare", "truck.yaml", "--beside", "fine", "--set", "stow.tolerance=3deg", "--beside",
            "thick cable", "--set", "supply.feed.gage=4 AWG");
    /* of an assignment that all have: once */
    outcome o = TOOL("compare", "truck.yaml", "--set", "supply.feed.gage=4 AWG", "--beside", "x");
    assert_int_equal(o.code, 2);
    assert_true(strncmp(o.err, "slewtime:--set: error", 21) == 0);
    assert_null(strstr(strstr(o.err, "error:") + 1, "error:"));
    free_outcome(&o);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_group_stands_beside_the_scenario),
        cmocka_unit_test(a_brownout_at_the_start_is_not_above_the_floor),
        cmocka_unit_test(a_name_that_is_cut_says_so),
        cmocka_unit_test(what_faults_or_strikes_comes_with_a_caution),
        cmocka_unit_test(only_rows_that_differ_are_marked),
        cmocka_unit_test(the_finding_says_what_each_comes_to),
        cmocka_unit_test(pressed_is_told),
        cmocka_unit_test(what_stands_before_beside_holds_for_all),
        cmocka_unit_test(assignments_hold_for_every_file),
        cmocka_unit_test(without_a_deploy_beside_one_with),
        cmocka_unit_test(equal_scenarios_do_not_differ),
        cmocka_unit_test(boxes_are_compared_by_name),
        cmocka_unit_test(the_others_are_answered),
        cmocka_unit_test(none_that_can_be_taught_is_an_error),
        cmocka_unit_test(a_deploy_alone_needs_its_stow),
        cmocka_unit_test(require_ok_asks_it_of_every_column),
        cmocka_unit_test(a_warning_is_told_once),
        cmocka_unit_test(what_it_refuses),
        cmocka_unit_test(an_error_names_its_group_and_place),
    };
    return cmocka_run_group_tests(tests, enter_directory, leave_directory);
}
