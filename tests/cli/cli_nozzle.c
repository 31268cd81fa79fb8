/*
 * cli_nozzle.c - `slewtime nozzle` with and without a scenario, as text, JSON, CSV and picture, and
 * what it refuses.
 */
#include "document.h"

/* the bench truck with a nozzle and an arm; invented data */
#define WET                                                                                        \
    "truck.yaml", "--set", "nozzle.flow=500 gpm", "--set", "nozzle.pressure=100 psi", "--set",     \
        "elevation.load.reaction_arm=50 mm"

static void usual_nozzles_without_a_scenario(void **state)
{
    (void)state;
    outcome o = TOOL("nozzle");
    assert_int_equal(o.code, 0);
    assert_string_equal(o.err, "");
    has(o.out, "\n 1.750  44.45   80.0   5.52   813.5    3080   816.9    3092    384.7     1711    "
               "384.8     1712    -0.05\n");
    has(o.out, "\n  500.0    1893   100.0   6.89    252.5     1123    263.3     1171    -4.12\n");
    has(o.out, "Strongest, 2000 gpm at 100 psi: 1010 lbf.");
    has(o.out, "people too: it can throw them down");
    has_not(o.out, "At the axes");
    has_not(o.out, "scenario");
    free_outcome(&o);
}

/* either unit, and only what is asked */
static void given_nozzles(void **state)
{
    (void)state;
    outcome o = TOOL("nozzle", "--tip", "1.75in", "--pressure", "80psi");
    outcome same = TOOL("nozzle", "--tip", "44.45 mm", "--pressure", "551.5805834534689 kPa");
    assert_string_equal(o.out, same.out);
    has(o.out, "1.75 in at 80 psi: 385 lbf.");
    has_not(o.out, "Fog: ");
    free_outcome(&same);
    free_outcome(&o);
    o = TOOL("nozzle", "--flow", "1000gpm", "--flow", "3000 L/min", "--pressure", "7bar");
    has(o.out, "\n 1000.0    3785   101.5   7.00    508.8     2263 ");
    has(o.out, "\n  792.5    3000   101.5   7.00 ");
    has_not(o.out, "Straight stream");
    free_outcome(&o);
}

static void a_scenario_adds_the_axes(void **state)
{
    (void)state;
    outcome o = TOOL("nozzle", WET);
    assert_int_equal(o.code, 0);
    assert_string_equal(o.err, "");
    has(o.out, "\n(scenario ");
    has(o.out, "conditions  today");
    has(o.out, "At the axes, at 13 V and 68 °F, by the rule\n");
    has(o.out, "253  rotation      0.00  -           0.0      0.0 ");
    has(o.out, "253  elevation     1.97  down       41.4     58.8 ");
    has(o.out, "500 gpm at 100 psi: 253 lbf, ");
    has(o.out, "does not replace a test on the truck");
    free_outcome(&o);
    o = TOOL("nozzle", WET, "--set", "nozzle.reaction=momentum", "--tip", "2in", "--only",
             "deploy");
    has(o.out, "conditions  on deploy day");
    has(o.out, "by the momentum\n");
    has(o.out, "2 in at 100 psi"); /* at the scenario's own pressure */
    has_not(o.out, "500 gpm");
    free_outcome(&o);
}

static void json_has_both_forms_in_both_units(void **state)
{
    (void)state;
    outcome o =
        TOOL("nozzle", WET, "--tip", "2in", "--flow", "500gpm", "--pressure", "80psi", "--json");
    json_t *whole = json_of(&o);
    assert_true(json_is_string(json_object_get(whole, "scenario")));
    json_t *rows = json_object_get(whole, "nozzles");
    assert_int_equal(json_array_size(rows), 2);
    json_t *tip = json_array_get(rows, 0), *reaction = json_object_get(tip, "reaction");
    assert_string_equal(json_string_value(json_object_get(tip, "kind")), "smooth_bore");
    double rule = json_real_value(json_object_get(json_object_get(reaction, "rule"), "lbf"));
    double exact = json_real_value(json_object_get(json_object_get(reaction, "momentum"), "N"));
    assert_true(rule > 502.399 && rule < 502.401);
    assert_true(exact > 2235.919 && exact < 2235.921);
    json_t *elevation = json_object_get(tip, "elevation");
    assert_string_equal(json_string_value(json_object_get(elevation, "pushes")), "down");
    double moment = json_real_value(json_object_get(elevation, "moment_Nm"));
    assert_true(moment > 111.7 && moment < 111.8);
    assert_true(json_is_null(
        json_object_get(json_object_get(tip, "rotation"), "pushes"))); /* it has no arm */
    assert_true(json_is_null(json_object_get(json_array_get(rows, 1), "tip_in")));
    json_decref(whole);
    free_outcome(&o);
}

static void csv_has_a_row_for_each_nozzle(void **state)
{
    (void)state;
    outcome o = TOOL("nozzle", "--csv");
    assert_int_equal(lines_of(o.out), 1 + 9 * 3 + 8 * 2);
    has(o.out, "kind,tip_in,tip_mm,pressure_psi,");
    has(o.out, ",reaction_rule_off\nsmooth_bore,1,25.4,50,");
    has(o.out, "\nspray,,,75,");
    free_outcome(&o);
    o = TOOL("nozzle", WET, "--csv");
    assert_int_equal(lines_of(o.out), 2);
    has(o.out, ",elevation_moment_Nm,elevation_load_Nm,elevation_available_Nm,elevation_share,");
    has(o.out, ",scenario\n");
    free_outcome(&o);
}

/* without a scenario, too */
static void the_picture_has_the_units_that_are_asked_for(void **state)
{
    static const char *const shown[][4] = {
        {"us", "1.75 in at 80 psi: 385 lbf", "pressure at the nozzle, psi", " N"},
        {"si", "44.45 mm at 5.516 bar: 1711 N", "pressure at the nozzle, bar", "lbf"}};
    (void)state;
    for (int i = 0; i < 2; i++) {
        outcome o = TOOL("nozzle", "--tip", "1.75in", "--pressure", "80psi", "--units", shown[i][0],
                         "--plot", "units.svg");
        assert_int_equal(o.code, 0);
        free_outcome(&o);
        char *svg = take_all(fopen("units.svg", "r"));
        has(svg, shown[i][1]);
        has(svg, shown[i][2]);
        has_not(svg, shown[i][3]);
        free(svg);
    }
}

static void pictures_are_drawn(void **state)
{
    (void)state;
    outcome o[] = {TOOL("nozzle", "--plot", "0.png"),
                   TOOL("nozzle", "--tip", "2in", "--plot", "1.png"),
                   TOOL("nozzle", WET, "--plot", "2.png"), TOOL("nozzle", "--plot", "-")};
    for (int i = 0; i < 4; i++) {
        char name[8];
        snprintf(name, sizeof name, "%d.png", i);
        assert_int_equal(o[i].code, 0);
        assert_string_equal(o[i].err, "");
        if (i < 3)
            is_png(name);
        free_outcome(&o[i]);
    }
}

static void what_it_refuses(void **state)
{
    (void)state;
    REFUSES(2, SAYS("--tip 0in: nothing flows\n  expected a value above 0"), "nozzle", "--tip",
            "0in");
    REFUSES(2, SAYS("nozzle.tip: \"5bar\": a pressure, not a length\n  expected a length of 0 in"),
            "nozzle", "--tip", "5bar");
    REFUSES(2, SAYS("--flow 1000: error: nozzle.flow: \"1000\": the unit is missing"), "nozzle",
            "--flow", "1000");
    REFUSES(2, SAYS("nozzle.pressure: \"wide\": no number"), "nozzle", "--pressure", "wide");
    REFUSES(2, SAYS("--tip is given 8 times; 7 is the most"), "nozzle", "--tip", "1in", "--tip",
            "1in", "--tip", "1in", "--tip", "1in", "--tip", "1in", "--tip", "1in", "--tip", "1in",
            "--tip", "1in");
    REFUSES(2, SAYS("--set is about a scenario, and none is given"), "nozzle", "--set",
            "nozzle.tip=2in");
    REFUSES(2, SAYS("--only is about a scenario, and none is given"), "nozzle", "--only", "deploy");
    REFUSES(2,
            SAYS("the scenario does not say which nozzle it has\n  expected nozzle.pressure with "
                 "nozzle.flow (spray)"),
            "nozzle", "truck.yaml");
    REFUSES(2, SAYS("supply.main.voltage: on deploy day: the controller has less voltage at rest"),
            "nozzle", WET, "--deploy-day", "supply.main.voltage=0.3 V", "--only", "deploy");
    REFUSES(2, SAYS("nozzle: one word too many: more"), "nozzle", "truck.yaml", "more");
    REFUSES(2, SAYS("--json and --csv"), "nozzle", "--json", "--csv");
    REFUSES(3, SAYS("none.yaml"), "nozzle", "none.yaml");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(usual_nozzles_without_a_scenario),
        cmocka_unit_test(given_nozzles),
        cmocka_unit_test(a_scenario_adds_the_axes),
        cmocka_unit_test(json_has_both_forms_in_both_units),
        cmocka_unit_test(csv_has_a_row_for_each_nozzle),
        cmocka_unit_test(the_picture_has_the_units_that_are_asked_for),
        cmocka_unit_test(pictures_are_drawn),
        cmocka_unit_test(what_it_refuses),
    };
    return cmocka_run_group_tests(tests, enter_directory, leave_directory);
}
