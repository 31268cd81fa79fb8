/*
 * cli_speed.c - `slewtime speed` as text, JSON, CSV and picture, and what it refuses.
 */
#include "document.h"

#define NOZZLE                                                                                     \
    "--set", "nozzle.flow=500 gpm", "--set", "nozzle.pressure=6 bar", "--set",                     \
        "elevation.load.reaction_arm=50 mm"
#define FEW "--vary", "supply.main.voltage=8V:14V:3"

static void text_names_speeds_and_lowest_voltages(void **state)
{
    (void)state;
    outcome o = TOOL("speed", "truck.yaml", NOZZLE, FEW, "--units", "si", "--all");
    assert_int_equal(o.code, 0);
    assert_string_equal(o.err, "");
    assert_int_equal(strncmp(o.out, "Worst case elevation up at 6 bar: stop to stop takes ", 53),
                     0);
    has(o.out, "\nBench monitor, \"invented\" for these tests\n");
    has(o.out, "conditions  today, 20 °C");
    has(o.out, "8 to 14 V in 3 steps; the scenario has 13 V");
    has(o.out, "reaction    dry, 524 N at 3 bar, 1048 N at 6 bar");
    has(o.out, "anywhere between the hard stops of both axes");
    has(o.out, "Elevation, at 6 bar");
    has(o.out, "does not replace a test on the truck");
    free_outcome(&o);
}

static void us_units_and_the_tables_that_matter_by_itself(void **state)
{
    (void)state;
    outcome o = TOOL("speed", "truck.yaml", NOZZLE, FEW);
    has(o.out, "reaction    dry, 118 lbf at 43.5 psi, 236 lbf at 87 psi");
    has(o.out, "conditions  today, 68 °F");
    has(o.out, "--all adds");
    has_not(o.out, "Elevation, at 87 psi");
    has_not(o.out, " bar");
    free_outcome(&o);
}

static void without_nozzle_data_only_dry_and_said(void **state)
{
    (void)state;
    outcome o = TOOL("speed", "truck.yaml", FEW);
    assert_int_equal(o.code, 0);
    has(o.out, "dry only: the scenario does not give the nozzle's pressure and flow or tip");
    has_not(o.out, " psi\n");
    free_outcome(&o);
}

static void what_cannot_start_is_named(void **state)
{
    (void)state;
    outcome o = TOOL("speed", "truck.yaml", FEW, "--set", "elevation.load.mass=160 kg");
    assert_int_equal(o.code, 0);
    has(o.out, "Worst case elevation up dry: no start at any battery voltage up to 14 V");
    has(o.out, "elevation up dry can't start at any voltage up to 14 V.\n");
    has_not(o.out, "elevation down dry can't");
    has_not(o.out, "rotation left dry can't");
    free_outcome(&o);
    o = TOOL("speed", "truck.yaml", FEW, "--set", "supply.main.voltage=9.2 V", "--set",
             "controller.brownout.voltage=1 V", "--set", "elevation.load.mass=90 kg");
    has(o.out, "elevation up dry can't start at the scenario's 9.2 V: it needs ");
    free_outcome(&o);
}

static void places_are_told(void **state)
{
    (void)state;
    outcome o = TOOL("speed", "truck.yaml", FEW, "--at", "elevation=30 deg");
    has(o.out, "load        elevation at 30°, the other axis anywhere between its hard stops");
    has(o.out, "   30.0\n");
    free_outcome(&o);
    o = TOOL("speed", "truck.yaml", FEW, "--at", "elevation=0.5rad", "--at", "rotation=-15deg");
    has(o.out, "load        rotation at -15°, elevation at 28.65°");
    free_outcome(&o);
}

static void a_deploy_day_of_its_own_follows(void **state)
{
    (void)state;
    outcome o =
        TOOL("speed", "truck.yaml", FEW, "--deploy-day", "environment.temperature=-10 degC");
    has(o.out, "conditions  today, 68 °F");
    has(o.out, "conditions  on deploy day, 14 °F");
    free_outcome(&o);
    o = TOOL("speed", "truck.yaml", FEW, "--only", "deploy", "--deploy-day",
             "environment.temperature=-10 degC");
    has_not(o.out, "today,");
    has(o.out, "on deploy day, 14 °F");
    free_outcome(&o);
    o = TOOL("speed", "truck.yaml", FEW, "--deploy-day", "supply.main.voltage=12 V");
    has_not(o.out, "on deploy day");
    free_outcome(&o);
}

static void json_has_every_curve(void **state)
{
    (void)state;
    outcome o = TOOL("speed", "truck.yaml", NOZZLE, FEW, "--pressure", "4bar", "--json");
    json_t *whole = json_of(&o);
    assert_true(json_is_string(json_object_get(whole, "scenario")));
    json_t *day = json_array_get(json_object_get(whole, "occasions"), 0);
    assert_string_equal(json_string_value(json_object_get(day, "occasion")), "today");
    json_t *curves = json_object_get(day, "curves");
    assert_int_equal(json_array_size(curves), 8);
    json_t *up = json_array_get(curves, 7);
    assert_string_equal(json_string_value(json_object_get(up, "axis")), "elevation");
    assert_string_equal(json_string_value(json_object_get(up, "direction")), "up");
    assert_true(json_real_value(json_object_get(up, "pressure_bar")) == 4.0);
    json_t *needs = json_object_get(up, "needs");
    double runs = json_real_value(json_object_get(needs, "runs_V"));
    double starts = json_real_value(json_object_get(needs, "starts_V"));
    double arrives = json_real_value(json_object_get(needs, "arrives_V"));
    assert_true(0.0 < runs && runs < starts && starts < arrives && arrives < 14.0);
    assert_true(json_is_null(json_object_get(needs, "trips_V")));
    json_t *rows = json_object_get(up, "rows");
    assert_int_equal(json_array_size(rows), 4);
    json_t *last = json_array_get(rows, 3);
    assert_true(json_real_value(json_object_get(last, "supply_V")) == 14.0);
    assert_true(json_real_value(json_object_get(last, "stop_to_stop_s")) > 1.0);
    assert_true(json_is_null(json_object_get(last, "trouble")));
    json_t *first = json_array_get(rows, 0);
    assert_string_equal(json_string_value(json_object_get(first, "trouble")), "brownout");
    json_decref(whole);
    free_outcome(&o);
}

/* --axis: finding, tables, figures and picture are of that axis */
static void one_axis_is_told_of_alone(void **state)
{
    (void)state;
    outcome o = TOOL("speed", "truck.yaml", NOZZLE, FEW, "--axis", "rotation", "--all", "--plot",
                     "axis.svg");
    assert_int_equal(o.code, 0);
    assert_int_equal(strncmp(o.out, "Worst case rotation ", 20), 0);
    has(o.out, "rotation   right  dry");
    has_not(o.out, "elevation  up");
    has_not(o.out, "\nElevation, ");
    free_outcome(&o);
    char *svg = take_all(fopen("axis.svg", "r"));
    has(svg, "rotation right");
    has_not(svg, "elevation up");
    free(svg);
    json_t *whole = document(TOOL("speed", "truck.yaml", FEW, "--axis", "elevation", "--json"));
    json_t *curves =
        json_object_get(json_array_get(json_object_get(whole, "occasions"), 0), "curves");
    assert_int_equal(json_array_size(curves), 2);
    json_decref(whole);
}

/* the reaction above the picture is in the units that are asked for */
static void the_picture_has_the_units_of_the_text(void **state)
{
    (void)state;
    static const char *const shown[][3] = {{"us", "nozzle at 87 psi", "bar"},
                                           {"si", "nozzle at 6 bar", "psi"}};
    for (int i = 0; i < 2; i++) {
        outcome o =
            TOOL("speed", "truck.yaml", NOZZLE, FEW, "--units", shown[i][0], "--plot", "units.svg");
        assert_int_equal(o.code, 0);
        free_outcome(&o);
        char *svg = take_all(fopen("units.svg", "r"));
        has(svg, shown[i][1]);
        has_not(svg, shown[i][2]);
        free(svg);
    }
}

static void csv_has_a_row_for_each_curve_and_voltage(void **state)
{
    (void)state;
    outcome o = TOOL("speed", "truck.yaml", NOZZLE, FEW, "--csv");
    assert_int_equal(lines_of(o.out), 1 + 12 * 4);
    has(o.out, "occasion,axis,direction,level,pressure_bar,reaction_N,supply_V,slowest_state,"
               "slowest_speed_deg_per_s,slowest_current_A,slowest_voltage_V,fastest_state,");
    has(o.out, ",stop_to_stop_s,trouble,scenario\ntoday,");
    has(o.out, "\ntoday,rotation,left,0,0,0,8,runs,");
    has(o.out, "\ntoday,elevation,up,2,6,1047.76");
    free_outcome(&o);
}

static void pictures_are_drawn(void **state)
{
    static const char *const more[] = {"nozzle.flowing=no", "elevation.load.mass=160 kg",
                                       "controller.stall.current=1 A"};
    (void)state;
    for (int i = 0; i < 3; i++) {
        outcome o =
            TOOL("speed", "truck.yaml", NOZZLE, FEW, "--set", more[i], "--plot", "speed.png");
        assert_int_equal(o.code, 0);
        assert_string_equal(o.err, "");
        is_png("speed.png");
        assert_int_equal(remove("speed.png"), 0);
        free_outcome(&o);
    }
    outcome o = TOOL("speed", "truck.yaml", FEW, "--plot", "-");
    assert_int_equal(o.code, 0);
    assert_string_equal(o.err, "");
    free_outcome(&o);
}

static void the_script_runs_by_itself(void **state)
{
#define DRAW(variables, file)                                                                      \
    system("gnuplot -e \"" variables "\" \"$SLEWTIME_PLOTS/speed.gp\" >" file " 2>alone.err")
    (void)state;
    outcome o = TOOL("speed", "truck.yaml", NOZZLE, FEW, "--csv", "--deploy-day",
                     "environment.temperature=-10 degC");
    write_file("speed.csv", o.out);
    free_outcome(&o);
    assert_int_equal(DRAW("format='png'", "alone.png"), 0);
    is_png("alone.png");
    assert_int_equal(DRAW("occasion='deploy_day'", "alone.png"), 0);
    is_png("alone.png");
    assert_int_not_equal(DRAW("occasion='yesterday'", "alone.png"), 0);
}

static void what_it_refuses(void **state)
{
    (void)state;
    REFUSES(2, SAYS("supply.main.voltage: the range is the wrong way round\n  expected FROM below"),
            "speed", "truck.yaml", "--vary", "supply.main.voltage=15V:9V");
    REFUSES(2, SAYS("supply.main.voltage: the range is empty\n"), "speed", "truck.yaml", "--vary",
            "supply.main.voltage=9V:9V");
    REFUSES(2, SAYS("not a number of steps\n  expected a whole number of steps, 2 to 2000"),
            "speed", "truck.yaml", "--vary", "supply.main.voltage=9V:15V:0");
    REFUSES(2, SAYS("supply.main.voltage: \"0V\": out of range"), "speed", "truck.yaml", "--vary",
            "supply.main.voltage=0V:15V");
    REFUSES(2, SAYS("--vary elevation.start=0deg:9deg: speed varies supply.main.voltage alone"),
            "speed", "truck.yaml", "--vary", "elevation.start=0deg:9deg");
    REFUSES(2, SAYS("speed varies supply.main.voltage alone, on every occasion"), "speed",
            "truck.yaml", "--vary", "today.supply.main.voltage=9V:15V");
    REFUSES(2, SAYS("--vary is given 2 times"), "speed", "truck.yaml", FEW, FEW);
    REFUSES(2, SAYS("--at elevation=95deg: beyond its stops, -20 to 60 deg"), "speed", "truck.yaml",
            "--at", "elevation=95deg");
    REFUSES(2, SAYS("--at elevation=5: error: elevation.start: \"5\": the unit is missing"),
            "speed", "truck.yaml", "--at", "elevation=5");
    REFUSES(2, SAYS("--at barrel=5deg: not an axis with an angle"), "speed", "truck.yaml", "--at",
            "barrel=5deg");
    REFUSES(2, SAYS("--at elevation=4deg: elevation is given twice"), "speed", "truck.yaml", "--at",
            "elevation=3deg", "--at", "elevation=4deg");
    REFUSES(2, SAYS("--pressure 0bar: nothing flows"), "speed", "truck.yaml", NOZZLE, "--pressure",
            "0bar");
    REFUSES(2, SAYS("nozzle.pressure: \"5m\": a length, not a pressure"), "speed", "truck.yaml",
            "--pressure", "5m");
    REFUSES(2,
            SAYS("truck.yaml:", "nozzle.pressure: today: asked for, but the nozzle is not known",
                 "nozzle.flow (spray)"),
            "speed", "truck.yaml", "--pressure", "5bar");
    REFUSES(2, SAYS("nozzle.flowing: today: water flows, but through no known nozzle"), "speed",
            "truck.yaml", "--set", "nozzle.flowing=yes");
    REFUSES(2, SAYS("supply.main.voltage: today: the controller has less voltage at rest"), "speed",
            "truck.yaml", "--set", "supply.main.voltage=0.3 V");
    REFUSES(2, SAYS("--json and --csv"), "speed", "truck.yaml", "--json", "--csv");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(text_names_speeds_and_lowest_voltages),
        cmocka_unit_test(us_units_and_the_tables_that_matter_by_itself),
        cmocka_unit_test(without_nozzle_data_only_dry_and_said),
        cmocka_unit_test(what_cannot_start_is_named),
        cmocka_unit_test(places_are_told),
        cmocka_unit_test(a_deploy_day_of_its_own_follows),
        cmocka_unit_test(json_has_every_curve),
        cmocka_unit_test(one_axis_is_told_of_alone),
        cmocka_unit_test(the_picture_has_the_units_of_the_text),
        cmocka_unit_test(csv_has_a_row_for_each_curve_and_voltage),
        cmocka_unit_test(pictures_are_drawn),
        cmocka_unit_test(the_script_runs_by_itself),
        cmocka_unit_test(what_it_refuses),
    };
    return cmocka_run_group_tests(tests, enter_directory, leave_directory);
}
