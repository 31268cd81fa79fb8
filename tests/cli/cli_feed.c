/*
 * cli_feed.c - `slewtime feed` as text, JSON, CSV and picture, and what it refuses.
 */
#include <math.h>

#include "document.h"

/* "running.elevation.voltage_V" */
static json_t *at(json_t *object, const char *path)
{
    char name[64];
    while (*path != '\0') {
        size_t length = strcspn(path, ".");
        snprintf(name, sizeof name, "%.*s", (int)length, path);
        object = json_object_get(object, name);
        if (object == NULL)
            fail_msg("no %s in the JSON", path);
        path += length + (path[length] == '.');
    }
    return object;
}

static double number(json_t *object, const char *path)
{
    return json_number_value(at(object, path));
}

static const char *word(json_t *object, const char *path)
{
    return json_string_value(at(object, path));
}

/* ---- Answers ---- */

static void text_tells_voltages_and_conductors(void **state)
{
    (void)state;
    outcome o = TOOL("feed", "truck.yaml", "--all");
    assert_int_equal(o.code, 0);
    assert_string_equal(o.err, "");
    has(o.out, "Bench monitor");
    has(o.out, "conditions  today, 68 °F; one axis at a time counts");
    has(o.out, "8 AWG, 19.7 ft one way: 25.2 mohm; no connections");
    has(o.out, "elevation up at elevation 0.0°");
    has(o.out, "11.5 V wished for at the controller while running");
    has(o.out, "\n  idle                     13.00      0.00     0.00");
    has(o.out, "thinnest with a drop of 3 %");
    has(o.out, "thinnest with a drop of 10 %");
    has(o.out, "4/0 AWG");
    has(o.out, "IEC 60228 class 5");
    has(o.out, "Running it is not called upon.");
    has(o.out, "8 AWG keeps 11.5 V (");
    has(o.out, "--set 'supply.feed.gauge=");
    has(o.out, "For fusing, as information");
    has(o.out, "for the codes and the manufacturer's instructions");
    has(o.out, "does not replace a test on the truck");
    free_outcome(&o);
}

/* the whole work first, with what is not looked at */
static void the_answer_comes_first(void **state)
{
    (void)state;
    outcome o = TOOL("feed", "truck.yaml");
    assert_int_equal(o.code, 0);
    has(o.out, "is the thinnest that does the whole work, keeps 11.5 V");
    has(o.out, "Ampacity and fuse NOT checked: code and manufacturer decide.");
    assert_true(strstr(o.out, "thinnest that does") < strstr(o.out, "Bench monitor"));
    has_not(o.out, "is enough");
    free_outcome(&o);
    json_t *whole = document(TOOL("feed", "truck.yaml", "--samples", "64", "--json"));
    assert_string_equal(word(whole, "work.not_checked"), "ampacity, fuse");
    assert_string_equal(word(whole, "work.keeps_floor.awg.judged.meets"), "meets");
    assert_int_equal(number(whole, "work.keeps_floor.awg.judged.samples"), 512);
    json_decref(whole);
}

/* it runs on a size and lands where it must not: both are said, and what chooses better */
static void where_the_barrel_ends_is_told_beside_the_size(void **state)
{
    (void)state;
    outcome o = TOOL("feed", "truck.yaml", "--set", "deploy.target.elevation.low=79 deg", "--set",
                     "deploy.target.elevation.high=80 deg");
    assert_int_equal(o.code, 0);
    has(o.out, "is the thinnest that works without a fault and keeps 11.5 V while running. On ");
    has(o.out, "deploys inside the target in 0.00 %");
    has(o.out, "slewtime plan chooses them.");
    has(o.out, "off its stow point or outside the deploy target");
    free_outcome(&o);
}

static void json_has_every_state(void **state)
{
    (void)state;
    outcome o = TOOL("feed", "truck.yaml", "--json");
    assert_string_equal(o.err, "");
    json_t *whole = json_of(&o), *own = at(whole, "as_it_is.feed");
    assert_true(number(own, "idle.voltage_V") == 13.0);
    const double both = number(own, "running.both.voltage_V");
    const double one = number(own, "running.elevation.voltage_V");
    assert_true(both < one && one < 13.0);
    assert_true(number(own, "starting.both.voltage_V") < both);
    assert_true(number(own, "stalled.both.motors_A") > 30.0);
    assert_true(number(own, "lowest_running_V") == one);
    assert_true(json_is_true(at(own, "moves.both")) && json_is_true(at(own, "keeps_floor")));
    assert_true(json_is_null(at(whole, "worst_place.rotation.direction")));
    assert_string_equal(word(whole, "worst_place.elevation.direction"), "up");
    assert_true(number(whole, "weather.cold.temperature_degC") == -20.0);
    assert_true(number(whole, "weather.hot.temperature_degC") == 60.0);
    assert_int_equal(json_array_size(at(whole, "conductors.awg")), 14);
    assert_int_equal(json_array_size(at(whole, "conductors.class_2")), 13);
    assert_int_equal(json_array_size(at(whole, "as_it_is.for_drop")), 2);
    assert_int_equal(json_array_size(at(whole, "length")), 5);
    assert_true(json_is_false(at(whole, "auxiliary.fitted")));
    assert_string_equal(word(whole, "auxiliary.for_floor_with.which"), "any");
    assert_true(json_is_null(at(whole, "measured")));
    json_decref(whole);
    free_outcome(&o);
}

/* what is recommended is what the ladder says */
static void json_need_agrees_with_the_ladder(void **state)
{
    (void)state;
    outcome o = TOOL("feed", "truck.yaml", "--set", "supply.feed.length=25 m", "--json");
    json_t *whole = json_of(&o), *row;
    const char *wanted = word(whole, "as_it_is.for_floor.class_2"), *first = NULL;
    size_t i;
    json_array_foreach(at(whole, "conductors.class_2"), i, row)
    {
        if (first == NULL && json_is_true(at(row, "feed.keeps_floor")))
            first = word(row, "size");
    }
    assert_non_null(first);
    assert_string_equal(wanted, first);
    json_decref(whole);
    free_outcome(&o);
}

/* the command that the text recommends keeps the floor */
static void recommended_setting_runs_above_the_floor(void **state)
{
    (void)state;
    char setting[100];
    outcome o = TOOL("feed", "truck.yaml", "--set", "supply.feed.length=25 m");
    const char *from = strstr(o.out, "--set 'supply.feed.per_length=");
    assert_non_null(from);
    snprintf(setting, sizeof setting, "%.*s", (int)strcspn(from + 7, "'"), from + 7);
    outcome run = TOOL("run", "truck.yaml", "--set", "supply.feed.length=25 m", "--set", setting,
                       "--only", "deploy", "--json");
    json_t *whole = json_of(&run);
    assert_true(json_is_false(at(whole, "below_floor")));
    json_decref(whole);
    free_outcome(&run);
    free_outcome(&o);
}

static void csv_has_a_row_for_each_conductor_and_length(void **state)
{
    (void)state;
    outcome o = TOOL("feed", "truck.yaml", "--csv", "--class", "2");
    assert_int_equal(lines_of(o.out), 1 + (1 + 14 + 13) * 41);
    has(o.out, "ladder,size,conductor_ohm_per_km,length_m,conductors_mohm,joints_mohm,"
               "idle_voltage_V,");
    has(o.out, ",running_rotation_voltage_V,");
    has(o.out, ",lowest_running_V,lowest_starting_V,keeps_floor,weather_cold_feed_lowest_running_V,"
               "weather_hot_feed_lowest_running_V,scenario\n");
    has(o.out, "\nown,8 AWG,");
    has(o.out, "\nAWG,1/0 AWG,");
    has(o.out, "\nclass 2,2.5 mm2,7.41,6,");
    has_not(o.out, "class 5");
    has_not(o.out, "nan");
    free_outcome(&o);
}

/* The other equipment leaves a long thin feed without a voltage at rest: nothing runs, and nothing
 * but its resistances is known. At 20 degC the factor of copper is 1; twelve digits are printed. */
static void csv_has_resistances_where_no_state_is_known(void **state)
{
    outcome o = TOOL("feed", "truck.yaml", "--csv", "--set", "supply.shared_load=30 A", "--set",
                     "supply.feed.length=15 m");
    int unknown = 0;
    (void)state;
    for (const char *line = strchr(o.out, '\n') + 1; *line != '\0'; line = strchr(line, '\n') + 1) {
        double per_length, length, conductors, joints;
        char next;
        assert_int_equal(sscanf(line, "%*[^,],%*[^,],%lf,%lf,%lf,%lf,%c", &per_length, &length,
                                &conductors, &joints, &next),
                         5);
        assert_true(fabs(conductors - 2.0 * per_length * length) <= 1e-10 * conductors);
        unknown += next == ',';
    }
    assert_true(unknown > 20);
    has(o.out, ",0,,,,,,,,,false,false,false,false,false,false,,,false,,,");
    free_outcome(&o);
}

/* what does not matter for the size named stands behind --all; lengths as the scenario has them */
static void tables_are_short_unless_all_is_asked(void **state)
{
    (void)state;
    outcome o = TOOL("feed", "truck.yaml"), all = TOOL("feed", "truck.yaml", "--all");
    has(o.out, "\n* 8 AWG ");
    has_not(o.out, "\n  4/0 AWG");
    has_not(o.out, "One thing changed");
    has(o.out, "--all adds every size");
    has(all.out, "\n  4/0 AWG");
    has(all.out, "*             19.69 ft ");
    has(all.out, "Copper, motor, grease: °F               -4          68         140\n");
    has_not(all.out, "--all adds");
    assert_true(strstr(o.out, "(scenario ") > strstr(o.out, "does not replace a test"));
    free_outcome(&o);
    free_outcome(&all);
    o = TOOL("feed", "truck.yaml", "--units", "si");
    has(o.out, "8 AWG, 6.0 m one way");
    has(o.out, "today, 20 °C;");
    free_outcome(&o);
}

static void options_change_the_question(void **state)
{
    (void)state;
    outcome o = TOOL("feed", "truck.yaml", "--all", "--drop", "5 %", "--class", "2");
    has(o.out, "thinnest with a drop of 5 %");
    has_not(o.out, "thinnest with a drop of 3 %");
    has(o.out, "IEC 60228 class 2");
    free_outcome(&o);
    o = TOOL("feed", "truck.yaml", "--only", "deploy", "--deploy-day", "supply.main.voltage=12 V");
    has(o.out, "conditions  on deploy day");
    has(o.out, "\n  idle                     12.00");
    free_outcome(&o);
    o = TOOL("feed", "truck.yaml", "--deploy-day", "supply.main.voltage=12 V");
    has(o.out, "when it deploys 1 keys differ: --only deploy asks for that");
    free_outcome(&o);
}

/* the ladder does not depend on how the scenario gives its own conductor */
static void conductor_by_its_resistance_is_fine(void **state)
{
    (void)state;
    outcome o = TOOL("feed", "truck.yaml", "--set", "supply.feed.per_length=2.1 ohm/km");
    assert_int_equal(o.code, 0);
    has(o.out, "2.1 ohm/km, 19.7 ft one way: 25.2 mohm");
    has(o.out, "2.1 ohm/km keeps 11.5 V");
    has(o.out, "\n  14 AWG ");
    free_outcome(&o);
}

/* ---- No conductor ---- */

static void says(const char *setting, const char *part)
{
    outcome o = TOOL("feed", "truck.yaml", "--set", setting);
    assert_int_equal(o.code, 0);
    has(o.out, part);
    free_outcome(&o);
}

static void what_no_conductor_can_do_is_said(void **state)
{
    (void)state;
    says("supply.floor=13.2 V", "No conductor can keep 13.2 V:\nthe battery itself has 13 V");
    says("supply.floor=12.99 V", "the battery's own resistance leaves 12.9");
    says("elevation.load.mass=900 kg", "The elevation motor can't move its load on any conductor");
    says("rotation.load.friction=9000 N.m",
         "The rotation motor can't move its load on any conductor");
    says("supply.feed.length=9000 m", "No single conductor up to 4/0 AWG or 120 mm2 keeps it");
    says("supply.feed.length=200 m", "8 AWG misses the minimum voltage: 1");
    says("supply.auxiliary.fitted=yes", "Any would, as long as the battery lasts.");
}

static void joints_can_be_the_trouble(void **state)
{
    (void)state;
    outcome o = TOOL("feed", "truck.yaml", "--set", "supply.feed.joints=4", "--set",
                     "supply.feed.joint_resistance=200 mohm");
    has(o.out, "No conductor can: the connections alone have 800 mohm");
    free_outcome(&o);
}

static void battery_that_discharges_is_said(void **state)
{
    (void)state;
    outcome o = TOOL("feed", "truck.yaml", "--all", "--set", "supply.auxiliary.fitted=yes", "--set",
                     "supply.auxiliary.voltage=13.6 V");
    has(o.out, "run back through the feed into the\nbattery of the truck");
    free_outcome(&o);
    o = TOOL("feed", "truck.yaml", "--all", "--set", "supply.auxiliary.voltage=12.9 V", "--set",
             "supply.shared_load=10 A");
    has(o.out, "At rest it discharges: it carries ");
    free_outcome(&o);
}

static void starting_below_the_brownout_is_said(void **state)
{
    (void)state;
    outcome o = TOOL("feed", "truck.yaml", "--set", "supply.feed.length=150 m");
    has(o.out, "On this feed a motor that starts or is stalled leaves ");
    has(o.out, "below the brownout of 9 V");
    free_outcome(&o);
    o = TOOL("feed", "truck.yaml");
    has_not(o.out, "On this feed a motor that starts");
    free_outcome(&o);
}

/* ---- Measurements ---- */

static void measured_drop_is_a_resistance(void **state)
{
    (void)state;
    outcome o = TOOL("feed", "truck.yaml", "--measured-drop", "0.6V", "--measured-current", "12 A",
                     "--set", "supply.feed.joints=2");
    assert_int_equal(o.code, 0);
    has(o.out, "0.6 V at 12 A stand for 50.00 mohm.");
    has(o.out, "24.8 mohm for the connections:\n12.39 mohm for each of 2");
    free_outcome(&o);
    o = TOOL("feed", "truck.yaml", "--measured-drop", "100 mV", "--measured-current", "12 A");
    has(o.out, "That is less than the cable itself has (25.2 mohm)");
    free_outcome(&o);
}

static void measured_voltage_is_a_resistance(void **state)
{
    (void)state;
    outcome o =
        TOOL("feed", "truck.yaml", "--measured-voltage", "12.5V", "--axis", "rotation", "--json");
    json_t *whole = json_of(&o), *m = at(whole, "measured");
    const double drop = number(m, "drop_V"), current = number(m, "feed_A");
    assert_true(fabs(drop + 0.012 * current - 0.5) < 1e-9);
    assert_true(fabs(number(m, "resistance_mohm") - 1000.0 * drop / current) < 1e-6);
    assert_true(json_is_null(at(m, "each_joint_mohm")));
    json_decref(whole);
    free_outcome(&o);
    o = TOOL("feed", "truck.yaml", "--measured-voltage", "12.5V");
    has(o.out, "12.5 V at the controller while running (elevation up at elevation 0.0°)");
    free_outcome(&o);
}

/* ---- Picture ---- */

static void draws(const char *setting)
{
    outcome o = TOOL("feed", "truck.yaml", "--plot", "feed.png", "--set", setting);
    assert_int_equal(o.code, 0);
    assert_string_equal(o.err, "");
    is_png("feed.png");
    assert_int_equal(remove("feed.png"), 0);
    free_outcome(&o);
}

/* also where nothing moves, without length, and where an axis stalls somewhere */
static void picture_is_drawn(void **state)
{
    (void)state;
    draws("supply.feed.length=8 m");
    draws("supply.feed.length=0 m");
    draws("supply.feed.length=300 m");
    draws("supply.feed.area=10 mm2");
    draws("supply.feed.per_length=0 ohm/km");
    draws("elevation.load.mass=900 kg");
}

/* ---- Refusals ---- */

static void what_it_refuses(void **state)
{
    (void)state;
    REFUSES(2, SAYS("--set", "supply.feed.gauge", "99 AWG", "4/0 AWG to 40 AWG"), "feed",
            "truck.yaml", "--set", "supply.feed.gauge=99 AWG");
    REFUSES(2, SAYS("--set", "supply.feed.length", "-3 m", "0 m or more"), "feed", "truck.yaml",
            "--set", "supply.feed.length=-3 m");
    REFUSES(2, SAYS("truck.yaml:4:19", "supply.main.voltage", "less voltage at rest"), "feed",
            "truck.yaml", "--set", "supply.shared_load=500 A");
    REFUSES(2, SAYS("--drop 0%", "above 0 % and below 100 %"), "feed", "truck.yaml", "--drop",
            "0%");
    REFUSES(2, SAYS("--drop 100 %", "below 100 %"), "feed", "truck.yaml", "--drop", "100 %");
    REFUSES(2, SAYS("--drop 10", "1000 %"), "feed", "truck.yaml", "--drop", "10");
    REFUSES(2, SAYS("--drop \"-3 %\"", "out of range"), "feed", "truck.yaml", "--drop", "-3 %");
    REFUSES(2, SAYS("--drop \"5 V\"", "for example 3%"), "feed", "truck.yaml", "--drop", "5 V");
    REFUSES(2, SAYS("--class 4", "2|5"), "feed", "truck.yaml", "--class", "4");
    REFUSES(2, SAYS("not below the battery voltage", "0.6 V"), "feed", "truck.yaml",
            "--measured-drop", "14 V", "--measured-current", "12 A");
    REFUSES(2, SAYS("without a current"), "feed", "truck.yaml", "--measured-drop", "0.6 V",
            "--measured-current", "0 A");
    REFUSES(2, SAYS("--measured-current \"12\"", "unit is missing", "12A"), "feed", "truck.yaml",
            "--measured-drop", "0.6 V", "--measured-current", "12");
    REFUSES(2, SAYS("belong together"), "feed", "truck.yaml", "--measured-drop", "0.6 V");
    REFUSES(2, SAYS("belong together"), "feed", "truck.yaml", "--measured-current", "2 A");
    REFUSES(2, SAYS("two measurements"), "feed", "truck.yaml", "--measured-drop", "0.6 V",
            "--measured-current", "2 A", "--measured-voltage", "12 V");
    REFUSES(2, SAYS("not below the battery voltage"), "feed", "truck.yaml", "--measured-voltage",
            "13 V");
    REFUSES(2, SAYS("can't run at its worst place"), "feed", "truck.yaml", "--measured-voltage",
            "1 V");
    REFUSES(2, SAYS("--json and --csv"), "feed", "truck.yaml", "--json", "--csv");
    REFUSES(2, SAYS("run takes no option --drop"), "run", "truck.yaml", "--drop", "3%");
}

static void a_deploy_that_is_not_there(void **state)
{
    char text[4000];
    const char *deploy = strstr(TRUCK, "deploy:"), *rest = strstr(TRUCK, "keepout:");
    (void)state;
    snprintf(text, sizeof text, "%.*s%s", (int)(deploy - TRUCK), TRUCK, rest);
    write_file("stow.yaml", text);
    REFUSES(2, SAYS("deploy", "has no deploy"), "feed", "stow.yaml", "--only", "deploy");
    outcome o = TOOL("feed", "stow.yaml");
    assert_int_equal(o.code, 0);
    free_outcome(&o);
}

static void help_has_the_cautions(void **state)
{
    (void)state;
    outcome o = TOOL("feed", "--help");
    has(o.out, "can be too\nthin for its fuse");
    has(o.out, "hundreds of amperes into a short circuit");
    has(o.out, "move without warning and crush");
    free_outcome(&o);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(text_tells_voltages_and_conductors),
        cmocka_unit_test(the_answer_comes_first),
        cmocka_unit_test(where_the_barrel_ends_is_told_beside_the_size),
        cmocka_unit_test(json_has_every_state),
        cmocka_unit_test(json_need_agrees_with_the_ladder),
        cmocka_unit_test(recommended_setting_runs_above_the_floor),
        cmocka_unit_test(csv_has_a_row_for_each_conductor_and_length),
        cmocka_unit_test(csv_has_resistances_where_no_state_is_known),
        cmocka_unit_test(tables_are_short_unless_all_is_asked),
        cmocka_unit_test(options_change_the_question),
        cmocka_unit_test(conductor_by_its_resistance_is_fine),
        cmocka_unit_test(what_no_conductor_can_do_is_said),
        cmocka_unit_test(joints_can_be_the_trouble),
        cmocka_unit_test(battery_that_discharges_is_said),
        cmocka_unit_test(starting_below_the_brownout_is_said),
        cmocka_unit_test(measured_drop_is_a_resistance),
        cmocka_unit_test(measured_voltage_is_a_resistance),
        cmocka_unit_test(picture_is_drawn),
        cmocka_unit_test(what_it_refuses),
        cmocka_unit_test(a_deploy_that_is_not_there),
        cmocka_unit_test(help_has_the_cautions),
    };
    return cmocka_run_group_tests(tests, enter_directory, leave_directory);
}
