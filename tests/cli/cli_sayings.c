/*
 * cli_sayings.c - what the tool says first where something about the truck is uncommon: one line of
 * the command, one sentence of its answer.
 */
#include "tool.h"

/* invented readings of that truck, and one that is slow on its way up */
static const char CARD[] = "axis,direction,from,to,seconds_s,supply_V,controller_V,rests_deg\n"
                           "elevation,up,low_stop,high_stop,7.1,13,12.9,\n"
                           "elevation,down,high_stop,low_stop,6.7,13,12.95,\n"
                           "rotation,left,high_stop,low_stop,15,13,12.95,\n"
                           "rotation,right,low_stop,home,7.5,13,12.95,\n"
                           ",off,,,,13,12.97,\n"
                           "elevation,up,stow_point,deployed,2,,,10.2\n";
static const char SLOW[] = "axis,direction,from,to,seconds_s,supply_V\n"
                           "elevation,up,low_stop,high_stop,8.6,13\n";

static int enter(void **state)
{
    if (enter_directory(state) != 0)
        return -1;
    write_file("card.csv", CARD);
    write_file("slow.csv", SLOW);
    return 0;
}

typedef struct saying {
    const char *says;
    const char *argument[10]; /* behind the command and truck.yaml */
} saying;

static void says_all(const char *command, const saying *all, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        const char *argument[14] = {command, "truck.yaml"};
        memcpy(argument + 2, all[i].argument, sizeof all[i].argument);
        outcome o = run_tool(NULL, argument);
        if (strstr(o.out, all[i].says) == NULL)
            fail_msg("%s, row %zu: \"%s\" is not in:\n%s%s", command, i, all[i].says, o.out, o.err);
        free_outcome(&o);
    }
}

#define SAYS_ALL(command, table) says_all(command, table, sizeof table / sizeof *table)

static void a_run_says_how_it_ended(void **state)
{
    (void)state;
    static const saying all[] = {
        {"Stow FAULT: cancelled.\nDeploy not attempted.", {"--today", "stow.cancel_at=6s"}},
        {"Stow FAULT: rotation, home sensor not found; at -90.0°.\nDeploy not attempted.",
         {"--today", "rotation.home.present=no"}},
        {"Stow FAULT: rotation, the move took too long; at 3.9°.",
         {"--today", "controller.move_limit=2s"}},
        {"Stow FAULT: brownout.", {"--today", "supply.main.voltage=8.9V"}},
        {"! Falls below the minimum voltage of 11.5 V while running",
         {"--today", "supply.main.voltage=11.5V"}},
        {"Deploy FAULT: elevation, driven into a hard stop; at 60.0°.",
         {"--set", "deploy.seconds.elevation=9s"}},
        {"Reports stowed, but elevation is jammed against its lower stop (-20.0°).",
         {"--set", "stow.point.elevation=-19.9deg", "--today", "supply.main.voltage=14.5V"}},
        {"! Enters the keep-out zone mast, folded at ", {"--set", "stow.point.elevation=-19deg"}},
        {"Reports deployed, but elevation at -11.0° is 16.0° below its target.",
         {"--set", "deploy.seconds.elevation=0.1s"}},
        {"Deploy: an axis does not hold against its load.",
         {"--deploy-day", "elevation.gear.backward_efficiency=60%", "--deploy-day",
          "elevation.load.mass=60kg"}},
        {"Stow: an axis does not hold against its load.\nDeploy not attempted.",
         {"--today", "elevation.gear.backward_efficiency=80%", "--today",
          "elevation.load.mass=60kg", "--today", "controller.stop=coast"}},
        {"begins     as stowed today, rotation 5.04°, elevation -12.03°", {"--only", "deploy"}},
        {"auxiliary", {"--set", "supply.auxiliary.fitted=yes"}},
    };
    SAYS_ALL("run", all);
}

static void check_says_what_is_doubtful(void **state)
{
    (void)state;
    static const saying all[] = {
        {"A stall is noticed on both axes (threshold 12 A).", {NULL}},
        {"locks itself (backward efficiency -78 %)", {NULL}},
        {"elevation does NOT get there.", {"--set", "controller.stall.current=2A", "--quiet"}},
        {"does NOT lie between running and stalled current",
         {"--set", "controller.stall.current=30A", "--quiet"}},
        {"locks itself (backward efficiency -10 %)",
         {"--set", "rotation.gear.backward_efficiency=-10%"}},
        {"does not lock itself: its load can turn it (backward efficiency 20 %)",
         {"--set", "rotation.gear.backward_efficiency=20%"}},
    };
    SAYS_ALL("check", all);
}

static void a_page_passes_or_not(void **state)
{
    (void)state;
    static const saying all[] = {
        {"This truck passes its page: every reading of 10 is inside its band.",
         {"--readings", "card.csv"}},
        {"This truck does not pass its page: ", {"--readings", "slow.csv"}},
        {"Farthest off: elevation up, stop to stop (line 2), time, s: 8.60, 1.17 above its\n  "
         "band.",
         {"--readings", "slow.csv"}},
    };
    SAYS_ALL("card", all);
}

static void a_fit_says_what_can_be_told_apart(void **state)
{
    (void)state;
    static const saying all[] = {
        {"Stopwatch bias is known to ", {"card.csv", "--bias"}},
        {"Elevation friction: these readings say little about it.",
         {"card.csv", "--key", "elevation.load.friction "}},
        {"Elevation motor no-load speed and elevation gear ratio can't be told apart:\n  only "
         "their "
         "quotient counts.",
         {"card.csv", "--key", "elevation.motor.no_load_speed", "--key", "elevation.gear.ratio"}},
        {"these readings drive to a hard stop: release there",
         {"card.csv", "--key", "elevation.motor.no_load_speed"}},
    };
    SAYS_ALL("fit", all);
}

static void a_line_or_a_map_says_where_all_is_well(void **state)
{
    (void)state;
    static const saying all[] = {
        {"Trouble-free from 11.60 to 14.56 V.\n", {"--vary", "today.supply.main.voltage=9V:15V:6"}},
        {"Trouble-free from 1400.0 to 1600.0.\n", {"--vary", "rotation.gear.ratio=1400:1600:6"}},
        {"Trouble-free nowhere in this range.\n",
         {"--vary", "today.supply.main.voltage=7V:8.5V:6"}},
        {"38 % of this map is trouble-free (area of the map, not a probability);\n  deployed short "
         "of the target 41 %, keep-out zone entered 12 %.",
         {"--vary", "stow.point.elevation=-19deg:-4deg:6", "--vary",
          "deploy.seconds.elevation=0s:3s:5"}},
    };
    SAYS_ALL("map", all);
}

static void speed_says_what_it_takes(void **state)
{
    (void)state;
    static const saying all[] = {
        {"no start at any battery voltage up to 15 V.", {"--set", "elevation.load.mass=200kg"}},
        {"at this truck's 8 V it gets there not (brownout).",
         {"--set", "supply.floor=5V", "--set", "supply.main.voltage=8V"}},
        {"not from stop to stop at any battery voltage up\n  to 15 V.",
         {"--set", "controller.move_limit=3s"}},
        {"does not get from stop to stop at the scenario's 13 V: timeout.",
         {"--set", "controller.move_limit=3s"}},
    };
    SAYS_ALL("speed", all);
}

static void feed_says_what_the_cable_has_to_do_with_it(void **state)
{
    (void)state;
    static const saying all[] = {
        {"No\n  size keeps 13.5 V often enough", {"--set", "supply.floor=13.5V"}},
        {"6 AWG or 16 mm2 is the thinnest that does the whole work",
         {"--set", "supply.floor=12.85V", "--set", "supply.main.resistance=40 mohm"}},
        {"the\n  cable alone is not the cause.", {"--set", "elevation.load.mass=150kg"}},
        {"8 AWG: the stow point can't be taught.", {"--set", "supply.feed.length=900m"}},
        {"10 mm2: works.", {"--set", "supply.feed.area=10mm2", "--drop", "5%", "--class", "2"}},
        {"2 ohm/km: works.", {"--set", "supply.feed.per_length=2 ohm/km"}},
    };
    SAYS_ALL("feed", all);
}

#define VOLTAGE "--spread", "supply.main.voltage=uniform 11 V..14.5 V", "--samples", "64"

/* why no deploy seconds land inside, and what would help */
static void offset_says_what_to_change(void **state)
{
    (void)state;
    static const saying all[] = {
        {"Elevation never moves in the deploy, on no simulated day with any choice. Likely reason: "
         "its motor\n  is on and does not start it",
         {VOLTAGE, "--set", "elevation.load.mass=150kg"}},
        {"faults in 100.00 %", {VOLTAGE, "--today", "rotation.home.present=no"}},
        {"rotation does not vary: it rests at -90.00°.",
         {VOLTAGE, "--today", "rotation.home.present=no"}},
        {"elevation does not vary: it rests at 60.00°.",
         {VOLTAGE, "--set", "deploy.seconds.elevation=9s"}},
        {"Rotation is never inside 20° to 30°, on no simulated day with any choice.",
         {VOLTAGE, "--set", "deploy.target.rotation.low=20deg", "--set",
          "deploy.target.rotation.high=30deg"}},
        {"Rotation is moved by no choice: it rests where the stow leaves it",
         {VOLTAGE, "--set", "deploy.target.rotation.low=20deg", "--set",
          "deploy.target.rotation.high=30deg"}},
        {"The choices are too coarse: in half of the present steps",
         {VOLTAGE, "--set", "deploy.choices.elevation=0s, 4s"}},
        {"Likely reason: an axis\n  does not hold against its load, which ends the run before.",
         {VOLTAGE, "--deploy-day", "elevation.gear.backward_efficiency=60%", "--deploy-day",
          "elevation.load.mass=60kg"}},
        {"a steadier\n  supply voltage would help, or a wider target.",
         {VOLTAGE, "--set", "deploy.target.elevation.low=10deg", "--set",
          "deploy.target.elevation.high=11deg"}},
        {"keep-out zone in ", {VOLTAGE, "--set", "stow.point.elevation=-19.7deg"}},
    };
    SAYS_ALL("offset", all);
}

static void margin_says_how_much_room_there_is(void **state)
{
    (void)state;
    static const saying all[] = {
        {"too few simulated days to state a clearance; --samples 256 would do.", {VOLTAGE}},
        {"Left stop: a stow point needs 10.65° of clearance.", {VOLTAGE, "--axis", "rotation"}},
        {"not enough, whatever the room to the stop", {VOLTAGE, "--all"}},
    };
    SAYS_ALL("margin", all);
}

static void nozzle_and_window_say_so_too(void **state)
{
    (void)state;
    static const saying nozzle[] = {
        {"1000 gpm at 101.5 psi: 509 lbf, 281 % of the starting torque of elevation",
         {"--set", "nozzle.pressure=7bar", "--set", "nozzle.flow=1000gpm", "--set",
          "elevation.load.reaction_arm=400mm"}},
        {"2 in at 101.5 psi: 638 lbf", {"--tip", "2in", "--set", "nozzle.pressure=7bar"}},
    };
    static const saying window[] = {
        {"Home sensor of the elevation: stuck: closed at every angle.",
         {"--set", "elevation.home.stuck=yes"}},
        {"never closes: the sensor is not present.", {"--set", "elevation.home.present=no"}},
    };
    SAYS_ALL("nozzle", nozzle);
    SAYS_ALL("window", window);
}

/* a picture is called what the answer says first; both pictures of one run, also without its parts
 */
static void pictures_say_it_in_their_titles(void **state)
{
    (void)state;
    static const saying all[] = {
        {"<title>Reports stowed, but elevation is jammed against its lower stop (-20.0°).</title>",
         {"--set", "stow.point.elevation=-19.9deg", "--today", "supply.main.voltage=14.5V"}},
        {"<title>Stow FAULT: rotation, home sensor not found; at -90.0°.</title>",
         {"--today", "rotation.home.present=no"}},
        {"<title>Stow FAULT: cancelled.</title>", {"--today", "stow.cancel_at=6s"}},
        {"<title>Deployed: elevation at 10.2°, inside its target", {"--only", "deploy"}},
        {"Deploy FAULT: elevation, driven into a hard stop; at 60.0°.",
         {"--set", "deploy.seconds.elevation=9s"}},
        {"Stow: an axis does not hold against its load.",
         {"--today", "elevation.gear.backward_efficiency=80%", "--today",
          "elevation.load.mass=60kg", "--today", "controller.stop=coast"}},
    };
    for (size_t i = 0; i < sizeof all / sizeof *all; i++) {
        const char *argument[14] = {"run", "truck.yaml", "--plot", "a.svg", "--pose", "b.svg"};
        memcpy(argument + 6, all[i].argument, 6 * sizeof *argument);
        outcome o = run_tool(NULL, argument);
        assert_true(o.code == 0 || o.code == 1);
        free_outcome(&o);
        for (int k = 0; k < 2; k++) {
            FILE *file = fopen(k ? "b.svg" : "a.svg", "r");
            assert_non_null(file);
            char *text = take_all(file);
            has(text, all[i].says);
            free(text);
            remove(k ? "b.svg" : "a.svg");
        }
    }
}

static void what_is_wrong_with_the_command_line(void **state)
{
    (void)state;
    REFUSES(2, SAYS("--samples 0: not a number of that kind"), "run", "truck.yaml", "--samples",
            "0");
    REFUSES(2, SAYS("--samples 1e3: not a number"), "run", "truck.yaml", "--samples", "1e3");
    REFUSES(2, SAYS("--samples -3: not a number"), "run", "truck.yaml", "--samples", "-3");
    REFUSES(2, SAYS("--samples 99999999999999999999: not a number"), "run", "truck.yaml",
            "--samples", "99999999999999999999");
    REFUSES(2, SAYS("unknown option -x; options are written with two dashes"), "run", "truck.yaml",
            "-x");
    REFUSES(2, SAYS("one word too many: --x"), "run", "truck.yaml", "--", "--x");
    REFUSES(2, SAYS("--axis foo: not one of its words"), "window", "truck.yaml", "--axis", "foo");
    REFUSES(2, SAYS("no kind of picture"), "run", "truck.yaml", "--plot", "picture");
    REFUSES(2, SAYS("no kind of picture"), "run", "truck.yaml", "--plot", "a.gif");
    REFUSES(2, SAYS("elevation=80deg: beyond its stops, -20 to 60 deg"), "speed", "truck.yaml",
            "--at", "elevation=80deg");
    REFUSES(2, SAYS("--at foo=1deg: not an axis with an angle"), "speed", "truck.yaml", "--at",
            "foo=1deg");
    REFUSES(2, SAYS("supply.main.voltage is varied twice"), "map", "truck.yaml", "--vary",
            "supply.main.voltage=9V:15V", "--vary", "supply.main.voltage=9V:15V");
    REFUSES(2, SAYS("does not say which nozzle it has"), "nozzle", "truck.yaml");
    REFUSES(2, SAYS("the home sensor of the elevation has no magnet"), "window", "truck.yaml",
            "--tolerance", "gap=1mm");
    REFUSES(2, SAYS("--key stow.point: a group of keys, such as stow.point.rotation"), "fit",
            "truck.yaml", "card.csv", "--key", "stow.point");
    REFUSES(2, SAYS("--drop 300%: that is 300 %"), "feed", "truck.yaml", "--drop", "300%");
    REFUSES(2, SAYS("no number"), "feed", "truck.yaml", "--drop", "x");
    REFUSES(2, SAYS("no --key says what is to be fitted"), "fit", "truck.yaml", "card.csv");
    outcome o = TOOL("-h");
    assert_int_equal(o.code, 0);
    has(o.out, "Usage: slewtime COMMAND SCENARIO [options]");
    free_outcome(&o);
    o = TOOL("run", "-h");
    assert_int_equal(o.code, 0);
    has(o.out, "Usage: slewtime run SCENARIO");
    free_outcome(&o);
}

static void what_is_wrong_around_a_picture(void **state)
{
    (void)state;
    char before[1024];
    snprintf(before, sizeof before, "%s", getenv("SLEWTIME_PLOTS"));
    setenv("SLEWTIME_PLOTS", "/nowhere", 1);
    REFUSES(3, SAYS("the script /nowhere/travel.gp is not found"), "run", "truck.yaml", "--plot",
            "a.svg");
    setenv("SLEWTIME_PLOTS", "nowhere", 1); /* from where one is */
    REFUSES(3, SAYS("/nowhere/travel.gp is not found", tool_directory), "run", "truck.yaml",
            "--plot", "a.svg");
    setenv("SLEWTIME_PLOTS", before, 1);
    setenv("TMPDIR", "/nowhere", 1);
    REFUSES(3, SAYS("cannot make /nowhere/slewtime-", "set TMPDIR"), "run", "truck.yaml", "--plot",
            "a.svg");
    unsetenv("TMPDIR");
    assert_int_equal(count_files(), 3);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_run_says_how_it_ended),
        cmocka_unit_test(check_says_what_is_doubtful),
        cmocka_unit_test(a_page_passes_or_not),
        cmocka_unit_test(a_fit_says_what_can_be_told_apart),
        cmocka_unit_test(a_line_or_a_map_says_where_all_is_well),
        cmocka_unit_test(speed_says_what_it_takes),
        cmocka_unit_test(feed_says_what_the_cable_has_to_do_with_it),
        cmocka_unit_test(offset_says_what_to_change),
        cmocka_unit_test(margin_says_how_much_room_there_is),
        cmocka_unit_test(nozzle_and_window_say_so_too),
        cmocka_unit_test(pictures_say_it_in_their_titles),
        cmocka_unit_test(what_is_wrong_with_the_command_line),
        cmocka_unit_test(what_is_wrong_around_a_picture),
    };
    return cmocka_run_group_tests(tests, enter, leave_directory);
}
