/* scenario_bad.c - wrong files: each mistake is one error, at its place, with a way out. */
#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include "scenario_text.h"

static outcome o;

/* ---- one mistake in a whole scenario, one error ---- */

/* Where something stands in a text, counted here by other means than the reader's. */
static void place_of(const char *text, const char *at, int *line, int *column)
{
    *line = *column = 1;
    for (const char *c = text; c < at; c++) {
        *column = *c == '\n' ? 1 : *column + (((unsigned char)*c & 0xC0) != 0x80);
        *line += *c == '\n';
    }
}

static void show(const caught *all)
{
    for (int i = 0; i < all->count && i < CAUGHT_MAX; i++) {
        const slew_error *e = &all->error[i];
        print_error("%s:%d:%d: [%s] %s (expected %s; nearest %s)\n", e->source, e->line, e->column,
                    e->key, e->message, e->expected, e->nearest);
    }
}

/* the line of the text, up to what an excerpt holds; '?' for what is better not shown, a blank for
 * a tab */
static void same_line(const char *text, int line, const char *excerpt)
{
    for (; line > 1; line--)
        text = strchr(text, '\n') + 1;
    size_t length = strcspn(text, "\n");
    if (length > sizeof o.errors.error[0].excerpt - 1)
        length = sizeof o.errors.error[0].excerpt - 1;
    assert_int_equal(strlen(excerpt), length);
    for (size_t i = 0; i < length; i++)
        assert_true(excerpt[i] == text[i] || excerpt[i] == (text[i] == '\t' ? ' ' : '?'));
}

static void one_error_at(const char *text, const char *at, const char *key, const char *message)
{
    int line, column;
    assert_non_null(at);
    place_of(text, at, &line, &column);
    read_text(&o, text);
    if (o.errors.count != 1)
        show(&o.errors);
    assert_int_equal(o.errors.count, 1);
    assert_int_equal(o.status, SLEW_ERROR_INPUT);
    const slew_error *e = &o.errors.error[0];
    if (e->line != line || e->column != column || strcmp(e->key, key) != 0 ||
        strstr(e->message, message) == NULL) {
        show(&o.errors);
        fail_msg("wanted %d:%d [%s] %s", line, column, key, message);
    }
    assert_string_equal(e->source, "scenario.yaml");
    assert_int_equal(e->status, SLEW_ERROR_INPUT);
    same_line(text, line, e->excerpt);
}

/* replaces `old` by `new` and expects the one error at `at` within the new text */
static void mistake(const char *old, const char *new, const char *at, const char *key,
                    const char *message)
{
    char *text = edit(old, new);
    const char *start = strstr(text, new);
    one_error_at(text, start ? strstr(start, at) : NULL, key, message);
    free(text);
}

static void units(void **state)
{
    (void)state;
    mistake("length: 9 m", "length: 9 V", "9 V", "supply.feed.length", "a voltage, not a length");
    mistake("length: 9 m", "length: 9", "9", "supply.feed.length", "the unit is missing");
    mistake("length: 9 m", "length: 9 mtr", "9 mtr", "supply.feed.length", "unknown unit");
    mistake("ratio: 1750", "ratio: 1750 rpm", "1750", "rotation.gear.ratio", "has no unit");
    mistake("sd: 12 K", "sd: 12 degC", "12 degC", "environment.temperature", "written in K");
    mistake("sd: 12 K", "sd: 12 degF", "12 degF", "environment.temperature", "written in K");
    mistake("sd: 12 K", "sd: 12 celsius", "12 c", "environment.temperature", "written in K");
    mistake("sd: 12 K",
            "sd: 12000000000000000000000000000000000000000000000000000000000000000000000000000000"
            "0000000000000000000000000000000000000000000000000000000000000000 K",
            "12", "environment.temperature", "too long a value");
    assert_string_equal(o.errors.error[0].expected, "a difference, for example 1 K");
}

static void keys(void **state)
{
    (void)state;
    mistake("length: 9 m", "lenght: 9 m", "lenght", "supply.feed.lenght", "unknown key");
    assert_string_equal(o.errors.error[0].nearest, "supply.feed.length");
    mistake("grease: {", "grese: {", "grese", "grese", "unknown key");
    assert_string_equal(o.errors.error[0].nearest, "grease");
    mistake("controller:\n", "controler:\n", "controler", "controler", "unknown key");
    assert_string_equal(o.errors.error[0].nearest, "controller");
    mistake("  shared_load: 6 A\n", "  shared_load: 6 A\n  wheels: 4\n", "wheels", "supply.wheels",
            "unknown key");
    assert_string_equal(o.errors.error[0].nearest, "");
    mistake("    length: 9 m\n", "    length: 9 m\n    length: 8 m\n", "length: 8",
            "supply.feed.length", "given twice, the first in line 10");
    mistake("today: {}", "today: {supply.shared_load: 1 A, supply.shared_load: 2 A}",
            "supply.shared_load: 2", "supply.shared_load", "given twice");
    mistake("nozzle:\n", "environment: {tilt: 1 deg}\nnozzle:\n", "environment", "environment",
            "given twice, the first in line 15");
    mistake("today: {}", "today: {supply.feed.lenght: 9 m}", "supply.feed.lenght",
            "supply.feed.lenght", "unknown key");
    mistake("today: {}", "today: {stow.tolerance: 9 deg}", "stow", "stow.tolerance",
            "today can't hold this key");
    mistake("today: {}", "today: {deploy: {same_day: yes}}", "deploy", "deploy.seconds.rotation",
            "today can't hold this key");
    mistake("today: {}", "today: {<<: {a: b}}", "<<", "<<", "merge keys are not allowed");
    mistake("today: {}", "today: {[1, 2]: 3}", "[1", "", "a list where a single value belongs");
}

static void ranges(void **state)
{
    (void)state;
    mistake("resistance: 10 mohm", "resistance: -10 mohm", "-10", "supply.main.resistance",
            "out of range");
    mistake("ratio: 2200, efficiency: 36 %", "ratio: 2200, efficiency: 136 %", "136",
            "elevation.gear.efficiency", "out of range");
    mistake("stops: {low: -20 deg, high: 90 deg}", "stops: {low: 95 deg, high: 90 deg}", "95 deg",
            "elevation.stops.low", "(95 deg) is not below elevation.stops.high (90 deg)");
    mistake("start: -30 deg", "start: -171 deg", "-171", "rotation.start",
            "rotation.start (-171 deg) is beyond rotation.stops.low (-170 deg)");
    mistake("start: 42 deg", "start: 90.1 deg", "90.1", "elevation.start",
            "is beyond elevation.stops.high");
    mistake("  reversed: no\n  motor:\n    rated_voltage: 12 V\n    no_load_speed: 3200 rpm\n"
            "    no_load_current: 1.2 A\n    stall_current: 20 A\n    inertia: 4.5e-5 kg.m2\n"
            "    viscous_share: 30 %\n    breakaway: 1.2\n  gear: {ratio: 1750",
            "  motor:\n    rated_voltage: 12 V\n    no_load_speed: 3200 rpm\n"
            "    no_load_current: 20 A\n    stall_current: 20 A\n    inertia: 4.5e-5 kg.m2\n"
            "  gear: {ratio: 1750",
            "20 A", "rotation.motor.no_load_current", "is not less than");
    mistake("viscosity_100: 11.1 mm2/s", "viscosity_100: 111 mm2/s", "111", "grease.viscosity_100",
            "is not less than grease.viscosity_40");
    mistake("voltage: 13.4 V", "voltage: .nan", ".nan", "supply.main.voltage", "NaN");
    mistake("voltage: 13.4 V", "voltage: .inf", ".inf", "supply.main.voltage", "infinity");
    mistake("voltage: 13.4 V", "voltage: 0 V", "0 V", "supply.main.voltage", "out of range");
    mistake("system: 12 V", "system: 18 V", "18 V", "supply.system", "out of range");
    mistake("rotation: 0 deg, elevation: -16 deg", "rotation: 0 deg, elevation: -20 deg", "-20",
            "stow.point.elevation", "is on or beyond elevation.stops.low");
    mistake("elevation: -16 deg}", "elevation: -16 deg}\n  range: {elevation: {low: -21 deg}}",
            "-21 deg", "stow.range.elevation.low", "is on or beyond elevation.stops.low");
    mistake("elevation: -16 deg}", "elevation: -16 deg}\n  range: {elevation: {high: 91 deg}}",
            "91 deg", "stow.range.elevation.high", "is on or beyond elevation.stops.high");
    mistake("elevation: -16 deg}", "elevation: -16 deg}\n  range: {elevation: {low: -15 deg}}",
            "-16 deg", "stow.point.elevation", "is below stow.range.elevation.low");
    mistake("elevation: -16 deg}", "elevation: -16 deg}\n  range: {elevation: {high: -17 deg}}",
            "-16 deg", "stow.point.elevation", "is above stow.range.elevation.high");
    mistake("target: {rotation: {low: -6 deg", "target: {rotation: {low: 7 deg", "7 deg",
            "deploy.target.rotation.low", "is above deploy.target.rotation.high");
}

static void release_below_operate(void **state)
{
    (void)state;
    const char *old = "  home: {angle: 0 deg, operate: 3 deg, release: 4 deg, present: yes, "
                      "stuck: no}\n  search: right";
    mistake(old, "  home: {angle: 0 deg, operate: 3 deg, release: 2 deg}\n  search: right", "2 deg",
            "rotation.home.release", "is less than rotation.home.operate");
    /* the other one is then the default: the error is where something was written */
    mistake(old, "  home: {angle: 0 deg, operate: 5 deg}\n  search: right", "5 deg",
            "rotation.home.operate", "rotation.home.release (4 deg) is less than");
}

static void conductors(void **state)
{
    (void)state;
    mistake("    gauge: 8 AWG\n", "    gauge: 8 AWG\n    area: 10 mm2\n", "area",
            "supply.feed.area", "two conductor sizes, the first in line 9");
    mistake("today: {}", "today: {supply.feed.gauge: 8 AWG, supply.feed.per_length: 2 ohm/km}",
            "supply.feed.per_length", "supply.feed.per_length", "two conductor sizes");
}

/* ---- what is missing is told at the group it is missing from ---- */

static void missing(const char *old, const char *new, const char *parent, const char *key)
{
    char *text = edit(old, new);
    const char *at = strstr(text, parent);
    one_error_at(text, at, key, "requir");
    assert_true(strlen(o.errors.error[0].expected) > 0);
    free(text);
}

static void required_keys(void **state)
{
    (void)state;
    missing("format: 1\n", "", "title", "format");
    missing("    length: 9 m\n", "", "feed:", "supply.feed.length");
    missing("    gauge: 8 AWG\n", "", "feed:", "supply.feed.gauge");
    missing("voltage: 13.4 V, ", "", "main:", "supply.main.voltage");
    missing("  main: {voltage: 13.4 V, resistance: 10 mohm}\n", "",
            "supply:", "supply.main.voltage");
    missing("  stall: {current: 13 A, dwell: 250 ms, blank: 200 ms}\n", "",
            "controller:", "controller.stall.current");
    missing("  stops: {low: -170 deg, high: 170 deg}\n", "", "rotation:\n", "rotation.stops");
    missing("  gear: {ratio: 2200, efficiency: 36 %}\n", "", "elevation:\n", "elevation.gear");
    missing("low: -20 deg, high: 90 deg", "low: -20 deg", "stops: {low: -20",
            "elevation.stops.high");
    missing("  home_order: elevation, rotation\n", "", "stow:", "stow.home_order");
    missing("  point: {rotation: 0 deg, elevation: -16 deg}\n", "", "stow:", "stow.point");
    missing("point: {rotation: 0 deg, elevation: -16 deg}", "point: {rotation: 0 deg}",
            "point:", "stow.point.elevation");
    missing("point: {rotation: 0 deg, elevation: -16 deg}", "times: {rotation: 0 s}",
            "times:", "stow.times.elevation");
    missing("  seconds: {rotation: 0 s, elevation: 7.5 s}\n", "", "deploy:\n", "deploy.seconds");
    missing("  order: elevation, rotation\n", "", "deploy:\n", "deploy.order");
    missing("  target: {rotation: {low: -6 deg, high: 6 deg}, elevation: {low: 30 deg, high: 50 "
            "deg}}\n",
            "", "deploy:\n", "deploy.target");
}

static void groups_that_are_missing_are_one_error_each(void **state)
{
    (void)state;
    static const char *const keys_in_order[] = {"supply", "controller.stall.current", "rotation",
                                                "elevation", "stow"};
    read_text(&o, "# a beginning\n\nformat: 1\n");
    assert_int_equal(o.errors.count, 5);
    for (int i = 0; i < 5; i++) {
        assert_string_equal(o.errors.error[i].key, keys_in_order[i]);
        assert_int_equal(o.errors.error[i].line, 3);
        assert_int_equal(o.errors.error[i].column, 1);
    }
}

static void other_versions(void **state)
{
    (void)state;
    mistake("format: 1\n", "format: 2\n", "2", "format", "out of range");
    mistake("format: 1\n", "format: one\n", "one", "format", "no number");
}

/* ---- kinds of nodes ---- */

#define SIXTEEN    "0 s, 0 s, 0 s, 0 s, 0 s, 0 s, 0 s, 0 s, 0 s, 0 s, 0 s, 0 s, 0 s, 0 s, 0 s, 0 s, "
#define SIXTY_FOUR SIXTEEN SIXTEEN SIXTEEN SIXTEEN

static void node_kinds(void **state)
{
    (void)state;
    mistake("length: 9 m", "length: {low: 9 m}", "{low: 9", "supply.feed.length",
            "a map where a single value belongs");
    mistake("length: 9 m", "length: [9 m]", "[9 m", "supply.feed.length",
            "a list where a single value belongs");
    mistake("    length: 9 m\n    stranding: 2 %\n", "    length:\n    stranding: 2 %\n", "\n",
            "supply.feed.length", "no value");
    mistake("main: {voltage: 13.4 V, resistance: 10 mohm}", "main: 13.4 V", "13.4 V", "supply.main",
            "a single value where a map belongs");
    mistake("main: {voltage: 13.4 V, resistance: 10 mohm}", "main: [13.4 V]", "[13.4",
            "supply.main", "a list where a map belongs");
    mistake("choices: {rotation: [0 s]", "choices: {rotation: 0 s", "0 s",
            "deploy.choices.rotation", "a single value where a list belongs");
    mistake("{rotation: [0 s], elevation:", "{rotation: [], elevation:", "[]",
            "deploy.choices.rotation", "an empty list");
    mistake("[0 s]", "[0 s, 1 V]", "1 V", "deploy.choices.rotation", "a voltage, not a time");
    mistake("[0 s]", "[" SIXTY_FOUR "1 s]", "1 s]", "deploy.choices.rotation",
            "more than 64 choices");
    mistake("today: {}", "today: [1]", "[1]", "today", "a list where a map belongs");
    mistake("today: {}", "today: soon", "soon", "today", "a single value where a map belongs");
    const char *list = "- 1\n- 2\n", *words = "just words\n";
    one_error_at(list, list, "", "a list where a map belongs");
    one_error_at(words, words, "", "a single value where a map belongs");
}

static void boxes(void **state)
{
    (void)state;
    const char *box = "  - {name: light mast, rotation: {low: -25 deg, high: 25 deg}, elevation: "
                      "{low: -30 deg, high: -19 deg}}\n";
    mistake(box, "  - {name: mast}\n", "{name", "keepout", "neither rotation nor elevation");
    mistake(box, "  - {rotation: {low: 1 deg, high: 2 deg}}\n", "{rot", "keepout.name", "missing");
    mistake(box, "  - {name: a, rotation: {low: 3 deg, high: 2 deg}}\n", "{name",
            "keepout.rotation", "low is above high");
    mistake(box, "  - {name: a, rotation: {low: 3 deg}}\n", "{low", "keepout.rotation",
            "high is missing");
    mistake(box, "  - {name: a, rotation: {high: 3 deg}}\n", "{high", "keepout.rotation",
            "low is missing");
    mistake(box, "  - {name: a, rotation: {}}\n", "{}", "keepout.rotation",
            "low and high are missing");
    mistake(box, "  - {name: a, rotation: [3 deg]}\n", "[3", "keepout.rotation",
            "a list where a map belongs");
    mistake(box, "  - {name: ' ', rotation: {low: 3 deg, high: 4 deg}}\n", "' '", "keepout.name",
            "no value");
    mistake(box,
            "  - {name: a name that is long and longer and longer than any that stands in a "
            "picture, rotation: {low: 3 deg, high: 4 deg}}\n",
            "a name that", "keepout.name", "too long a name, at most 63 bytes");
    mistake(box, "  - {name: [a], rotation: {low: 3 deg, high: 4 deg}}\n", "[a]", "keepout.name",
            "a list where a single value belongs");
    mistake(box, "  - {name: a, rotation: {low: 3 deg, hihg: 4 deg}}\n", "hihg",
            "keepout.rotation.hihg", "unknown key");
    assert_string_equal(o.errors.error[0].nearest, "high");
    mistake(box, "  - {name: a, rotation: {low: 3 m, high: 4 deg}}\n", "3 m",
            "keepout.rotation.low", "a length, not an angle");
    mistake(box, "  - {name: a, name: b, rotation: {low: 3 deg, high: 4 deg}}\n", "name: b",
            "keepout", "given twice");
    mistake(box, "  - mast\n", "mast", "keepout", "a single value where a map belongs");
    mistake("keepout:\n  - {name", "keepout:\n  {name", "{name", "keepout",
            "a map where a list belongs");
}

#define EIGHT_VOLTAGES "12 V, 12 V, 12 V, 12 V, 12 V, 12 V, 12 V, 12 V, "

static void too_many_boxes(void **state)
{
    (void)state;
    char text[2048] = "  - {name: light mast, rotation: {low: -25 deg, high: 25 deg}, elevation: "
                      "{low: -30 deg, high: -19 deg}}\n";
    char *box = strdup(text);
    for (int i = 1; i < SLEW_KEEPOUT_MAX; i++)
        strcat(text, "  - {name: a, rotation: {low: 3 deg, high: 4 deg}}\n");
    strcat(text, "  - {name: last, rotation: {low: 3 deg, high: 4 deg}}\n");
    mistake(box, text, "{name: last", "keepout", "more than 16 boxes");
    free(box);
}

static void distributions(void **state)
{
    (void)state;
    const char *key = "supply.main.voltage";
    const char *old = "    supply.main.voltage: {uniform: {low: 11.8 V, high: 14.2 V}}";
#define VARIED "    supply.main.voltage: "
    mistake(old, VARIED "{uniform: {low: 14 V, high: 12 V}}", "{uni", key, "low is not below high");
    mistake(old, VARIED "{uniform: {low: 14 V}}", "{low", key, "high is missing");
    mistake(old, VARIED "{uniform: {low: 1 m, high: 12 V}}", "1 m", key, "a length, not a voltage");
    mistake(old, VARIED "{normal: {mean: 12 V, sd: 0 V}}", "{nor", key, "sd is not above zero");
    mistake(old, VARIED "{normal: {mean: 12 V, sd: -1 V}}", "{nor", key, "sd is not above zero");
    mistake(old, VARIED "{normal: {mean: 12 V}}", "{mean", key, "sd is missing");
    mistake(old, VARIED "{normal: {mean: 12 V, sd: 1 V, low: 13 V}}", "{nor", key,
            "mean is below low");
    mistake(old, VARIED "{normal: {mean: 15 V, sd: 1 V, high: 14 V}}", "{nor", key,
            "mean is above high");
    mistake(old, VARIED "{normal: {mean: 12 V, sd: 1 V, low: 14 V, high: 13 V}}", "{nor", key,
            "low is not below high");
    mistake(old, VARIED "{triangular: {low: 11 V, mode: 15 V, high: 14 V}}", "{tri", key,
            "mode is above high");
    mistake(old, VARIED "{triangular: {low: 11 V, mode: 10 V, high: 14 V}}", "{tri", key,
            "mode is below low");
    mistake(old, VARIED "{triangular: {low: 14 V, mode: 14 V, high: 14 V}}", "{tri", key,
            "low is not below high");
    mistake(old, VARIED "{triangular: {lo: 11 V}}", "lo:", "supply.main.voltage.lo", "unknown key");
    mistake(old, VARIED "{uniform: [11 V, 12 V]}", "[11", key, "a list where a map belongs");
    mistake(old, VARIED "{values: 12 V}", "12 V", key, "a single value where a list belongs");
    mistake(old, VARIED "{table: {}}", "{}", key, "no values");
    mistake(old,
            VARIED "{values: [" EIGHT_VOLTAGES EIGHT_VOLTAGES EIGHT_VOLTAGES EIGHT_VOLTAGES "9 V]}",
            "9 V]", key, "more than 32 values");
    mistake(old, VARIED "{values: [12 V]}\n" VARIED "{values: [13 V]}",
            "supply.main.voltage: {values: [13", key, "given twice");
    mistake(old, VARIED "{values: []}", "[]", key, "no values");
    mistake(old, VARIED "{table: {12 V: 0}}", "0}}", key, "out of range");
    mistake(old, VARIED "{table: {12 V: -1}}", "-1}}", key, "out of range");
    mistake(old, VARIED "{table: {12 V: 1 V}}", "1 V}}", key, "has no unit");
    mistake(old, VARIED "{gamma: {a: 1}}", "gamma", "supply.main.voltage.gamma", "unknown key");
    mistake(old, VARIED "{uniform: {low: 11 V, high: 12 V}, values: [12 V]}", "values", key,
            "more than one distribution");
    mistake(old, VARIED "{}", "{}", key, "no distribution");
    mistake(old, VARIED "12 V", "12 V", key, "a single value where a map belongs");
#undef VARIED
    mistake(old, "    stow.tolerance: {values: [2 deg]}", "stow", "stow.tolerance",
            "does not vary from day to day");
    mistake(old, "    nozzle.flowing: {values: [yes, no]}", "nozzle", "nozzle.flowing",
            "only numbers can be varied");
    mistake(old, "    suply.main.voltage: {values: [12 V]}", "suply", "suply.main.voltage",
            "unknown key");
    mistake(old, "    supply: {main: {volts: {values: [12 V]}}}", "volts", "supply.main.volts",
            "unknown key");
    assert_string_equal(o.errors.error[0].nearest, "supply.main.voltage");
    mistake(old, "    supply: 12 V", "12 V", "supply", "a single value where a map belongs");
    mistake("    rotation.start: {uniform: {low: -160 deg, high: 160 deg}}",
            "    rotation.start: {uniform: {low: -160 deg, high: 171 deg}}", "{uni",
            "rotation.start", "0.302 % of it lies beyond the stops"); /* 1 deg of 331 */
}

/* said before anything runs, with the share: of 13 V below 0 one, of the normal's tail 2.28 % */
static void distributions_that_leave_what_the_key_allows(void **state)
{
    (void)state;
    const char *key = "supply.main.voltage";
    const char *old = "    supply.main.voltage: {uniform: {low: 11.8 V, high: 14.2 V}}";
#define VARIED "    supply.main.voltage: "
    mistake(old, VARIED "{uniform: {low: -1 V, high: 12 V}}", "{uni", key,
            "7.69 % of it lies outside what the key allows");
    mistake(old, VARIED "{uniform: {low: 0 V, high: 12 V}}", "{uni", key,
            "reaches an end that the key does not allow");
    mistake(old, VARIED "{normal: {mean: 2 V, sd: 1 V}}", "{nor", key,
            "2.28 % of it lies outside what the key allows");
    mistake(old, VARIED "{normal: {mean: 2 V, sd: 1 V, low: -1 V, high: 5 V}}", "{nor", key,
            "2.15 % of it lies outside what the key allows");
    mistake(old, VARIED "{triangular: {low: -1 V, mode: 1 V, high: 3 V}}", "{tri", key,
            "12.5 % of it lies outside what the key allows");
    mistake(old, VARIED "{values: [-1 V, 1 V, 2 V, 3 V]}", "{val", key,
            "25 % of it lies outside what the key allows");
    mistake(old, VARIED "{table: {-1 V: 1, 12 V: 3, 0 V: 1}}", "{tab", key,
            "20 % of it lies outside what the key allows");
#undef VARIED
    mistake("    elevation.start: {values: [5 deg, 30 deg, 60 deg]}",
            "    elevation.start: {normal: {mean: 0 deg, sd: 10 deg}}", "{nor", "elevation.start",
            "2.28 % of it lies beyond the stops");
    mistake("    elevation.gear.efficiency: {triangular: {low: 32 %, mode: 36 %, high: 40 %}}",
            "    supply.system: {uniform: {low: 12 V, high: 24 V}}", "{uni", "supply.system",
            "100 % of it lies outside what the key allows");
    mistake("    elevation.gear.efficiency: {triangular: {low: 32 %, mode: 36 %, high: 40 %}}",
            "    supply.system: {table: {12 V: 3, 18 V: 1}}", "{tab", "supply.system",
            "25 % of it lies outside what the key allows");
    mistake("    elevation.gear.efficiency: {triangular: {low: 32 %, mode: 36 %, high: 40 %}}",
            "    rotation.home.magnet.gap: {uniform: {low: 4 mm, high: 5 mm}}", "{uni",
            "rotation.home.magnet.gap", "no magnet is given that could vary");
}

/* a tail of less than 1 in 1000 is cut off, an end of one's own is kept */
static void small_tails_are_cut_off(void **state)
{
    (void)state;
    const char *old = "{uniform: {low: 11.8 V, high: 14.2 V}}";
    char *text = edit(old, "{normal: {mean: 3.1 V, sd: 1 V}}");
    read_text(&o, text);
    free(text);
    assert_int_equal(o.status, SLEW_OK);
    assert_true(o.scenario.day.item[0].low == 0);
    text = edit(old, "{normal: {mean: 2 V, sd: 1 V, low: 1 V}}");
    read_text(&o, text);
    free(text);
    assert_int_equal(o.status, SLEW_OK);
    assert_true(o.scenario.day.item[0].low == 1);
}

#define PAIR(pair) "  correlation:\n    - " pair "\n  truck:\n"

static void correlations(void **state)
{
    (void)state;
    const char *old = "  truck:\n", *key = "spread.correlation";
#define TWO "[supply.main.voltage, environment.temperature]"
    mistake(old, PAIR("{between: " TWO ", coefficient: 1}"), "1}", key, "out of range");
    mistake(old, PAIR("{between: " TWO ", coefficient: -1.2}"), "-1.2", key, "out of range");
    mistake(old, PAIR("{between: " TWO ", coefficient: 1 V}"), "1 V", key, "has no unit");
    mistake(old, PAIR("{between: " TWO "}"), "{bet", key, "coefficient is missing");
    mistake(old, PAIR("{coefficient: 0.5}"), "{coe", key, "between is missing");
    mistake(old, PAIR("{between: [supply.main.voltage], coefficient: 0.5}"), "[sup", key,
            "not two keys");
    mistake(old, PAIR("{between: [supply.main.voltage, rotation.strat], coefficient: 0.5}"),
            "rotation.strat", "rotation.strat", "unknown key");
    mistake(old, PAIR("{between: [supply.main.voltage, supply.main.voltage], coefficient: 0.5}"),
            "{bet", key, "a key with itself");
    mistake(old, PAIR("{between: [supply.main.voltage, rotation.gear.ratio], coefficient: 0.5}"),
            "{bet", key, "supply.main.voltage and rotation.gear.ratio are not varied together");
    mistake(old,
            PAIR("{between: [supply.main.voltage, elevation.gear.efficiency], coefficient: 0.5}"),
            "{bet", key, "are not varied together"); /* one of the truck, one of the day */
    mistake(old,
            PAIR("{between: " TWO ", coefficient: 0.5}\n"
                 "    - {between: [environment.temperature, supply.main.voltage], coefficient: 0}"),
            "{between: [env", key, "the same two keys again");
    mistake(old, PAIR("{with: " TWO "}"), "with", "spread.correlation.with", "unknown key");
    mistake(old, "  correlation: {coefficient: 0.5}\n  truck:\n", "{coe", key,
            "a map where a list belongs");
    mistake(old, PAIR("supply"), "supply", key, "a single value where a map belongs");
    mistake(old, PAIR("{between: 1, coefficient: 0.5}"), "1,", key,
            "a single value where a list belongs");
    mistake(old, PAIR("{between: [], coefficient: 0.5}"), "[]", key, "not two keys");
    mistake(old, PAIR("{between: [a, b, c], coefficient: 0.5}"), "[a", key, "not two keys");
    mistake(old, PAIR("{between: [[a], supply.main.voltage], coefficient: 0.5}"), "[a]", key,
            "a list where a single value belongs");
    /* if the first two go together and the second and third, the others can't go apart */
    mistake(old,
            PAIR("{between: " TWO ", coefficient: 0.9}\n"
                 "    - {between: [environment.temperature, rotation.start], coefficient: 0.9}\n"
                 "    - {between: [supply.main.voltage, rotation.start], coefficient: -0.9}"),
            "{between: [supply.main.voltage, rotation", key, "can't hold all at once");
#undef TWO
}

/* a scenario that is no file: what a reader would have refused is refused as well, without a place
 */
static void coefficients_that_were_set(void **state)
{
    (void)state;
    char *text =
        edit("  truck:\n", PAIR("{between: [supply.main.voltage, environment.temperature], "
                                "coefficient: 0.5}"));
    read_text(&o, text);
    free(text);
    assert_int_equal(o.status, SLEW_OK);
    o.scenario.correlation.item[0].coefficient = 1;
    const slew_error_sink errors = {catch_error, &o.errors};
    assert_int_equal(slew_scenario_check(&o.scenario, errors, (slew_error_sink){0}),
                     SLEW_ERROR_INPUT);
    assert_int_equal(o.errors.count, 1);
    assert_string_equal(o.errors.error[0].message, "the coefficient is not between -1 and 1");
    assert_int_equal(o.errors.error[0].line, 0);
}

/* ---- what is no scenario at all ---- */

static void yaml_mistakes(void **state)
{
    (void)state;
    mistake("length: 9 m", "\tlength: 9 m", "\t", "", "not valid YAML: found a tab");
    mistake("today: {}", "today: {", "spread:", "",
            "not valid YAML: did not find expected ',' or '}'");
    char *text = edit("length: 9 m", "length: \"9 m");
    one_error_at(text, text + strlen(text), "", "scanning a quoted scalar from line 10 on");
    free(text);
}

static void only_plain_yaml(void **state)
{
    (void)state;
    mistake("today: {}", "today: &a {}", "&a", "", "anchors are not allowed");
    mistake("today: {}", "today: *a", "*a", "", "aliases are not allowed");
    mistake("today: {}", "today: !!map {}", "!!map", "", "tags are not allowed");
    mistake("today: {}", "today: {a: {b: {c: {d: {e: {f: {g: {h: 1}}}}}}}}", "{h", "",
            "nested too deeply");
    mistake("today: {}", "today: {\"\\0\": 1}", "\"\\0", "", "control character");
}

static void one_document(void **state)
{
    (void)state;
    char text[16384];
    snprintf(text, sizeof text, "%s---\nformat: 1\n", FULL);
    one_error_at(text, strstr(text, "---"), "", "a second document");
}

static void bytes_that_are_no_text(void **state)
{
    (void)state;
    mistake("length: 9 m", "length: 9 \xFFm", "\xFF", "", "not a text in UTF-8 (byte 0xFF)");
    mistake("length: 9 m", "length: 9 \xC0\x80m", "\xC0", "", "not a text in UTF-8");
    mistake("length: 9 m", "length: 9 \x01m", "\x01", "", "a binary file");
    mistake("length: 9 m", "length: 9 \x1B[31mm", "\x1B", "", "a binary file");
    mistake("length: 9 m", "length: 9 \x7Fm", "\x7F", "", "a binary file");
    mistake("length: 9 m", "length: 9 \xC2\x84m", "\xC2", "", "a binary file");
    mistake("length: 9 m", "length: 9 \xEF\xBF\xBEm", "\xEF", "", "a binary file");
    mistake("length: 9 m", "length: 9 \xEF\xBF\xBFm", "\xEF", "", "a binary file");
    static const char zeros[64] = "format: 1\nsupply";
    read_with(&o, zeros, sizeof zeros, NULL, 0);
    assert_int_equal(o.errors.count, 1);
    assert_non_null(strstr(o.errors.error[0].message, "a binary file, not a text (byte 0x00)"));
    assert_int_equal(o.errors.error[0].line, 2);
    assert_int_equal(o.errors.error[0].column, 7);
}

/* RFC 3629, section 4: what follows a lead byte, and what no character begins with */
static void bytes_that_are_no_characters(void **state)
{
    (void)state;
    static const char *const wrong[] = {"\x80",
                                        "\xC1\xBF",
                                        "\xC2(",
                                        "\xE0\x9F\xBF",
                                        "\xE2\x82(",
                                        "\xED\xA0\x80",
                                        "\xF0\x8F\xBF\xBF",
                                        "\xF1\x80\x80(",
                                        "\xF1\x80(\x80",
                                        "\xF4\x90\x80\x80",
                                        "\xF5\x80\x80\x80"};
    static const char *const right[] = {"\xC2\xA0",        "\xDF\xBF",     "\xE0\xA0\x80",
                                        "\xED\x9F\xBF",    "\xEE\x80\x80", "\xF0\x90\x80\x80",
                                        "\xF4\x8F\xBF\xBD"};
    for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++) {
        char *text = edit("title: Roof", "title: Roof"), *at = strstr(text, "Roof");
        memcpy(at, wrong[i], strlen(wrong[i]));
        read_text(&o, text);
        assert_int_equal(o.errors.count, 1);
        assert_non_null(strstr(o.errors.error[0].message, "not a text in UTF-8"));
        assert_int_equal(o.errors.error[0].column, 8);
        free(text);
    }
    for (size_t i = 0; i < sizeof right / sizeof *right; i++) {
        char *text = edit("title: Roof", "title: Roof"), *at = strstr(text, "Roof");
        memcpy(at, right[i], strlen(right[i]));
        read_text(&o, text);
        assert_int_equal(o.status, SLEW_OK);
        assert_memory_equal(o.scenario.title, right[i], strlen(right[i]));
        free(text);
    }
    read_with(&o, "title: \xE2\x82", 9, NULL, 0); /* cut through */
    assert_non_null(strstr(o.errors.error[0].message, "not a text in UTF-8"));
}

/* YAML 1.1, section 4.1.2: CR LF, CR, LF, NEL, LS and PS end a line each */
static void every_break_ends_a_line(void **state)
{
    (void)state;
    read_text(&o, "one: 1\r\ntwo: 2\rthree: 3\xC2\x85"
                  "four: 4\xE2\x80\xA8"
                  "five: 5\xE2\x80\xA9six: 6\n");
    static const char *const line[] = {"one: 1",  "two: 2",  "three: 3",
                                       "four: 4", "five: 5", "six: 6"};
    int seen = 0;
    for (int i = 0; i < o.errors.count; i++) {
        const slew_error *e = &o.errors.error[i];
        if (strcmp(e->message, "unknown key") != 0)
            continue;
        assert_int_equal(e->line, seen + 1);
        assert_string_equal(e->excerpt, line[seen++]);
    }
    assert_int_equal(seen, 6);
}

static void nothing_at_all(void **state)
{
    (void)state;
    static const char *const empty[] = {"", "\n\n", "# only a remark\n", "   ", "---\n...\n"};
    for (size_t i = 0; i < 4; i++) {
        read_text(&o, empty[i]);
        assert_int_equal(o.errors.count, 1);
        assert_int_equal(o.status, SLEW_ERROR_INPUT);
        assert_string_equal(o.errors.error[0].message, "the file is empty");
        assert_int_equal(o.errors.error[0].line, 1);
        assert_int_equal(o.errors.error[0].column, 1);
    }
    read_text(&o, empty[4]);
    assert_int_equal(o.errors.count, 1);
}

/* ---- files ---- */

static void read_path(const char *path)
{
    slew_reading reading = {.errors = {catch_error, &o.errors}};
    o.errors.count = 0;
    o.status = slew_scenario_read_file(path, &reading, &o.scenario);
    assert_int_equal(o.errors.count, 1);
    assert_string_equal(o.errors.error[0].source, path);
    assert_int_equal(o.errors.error[0].line, 0);
}

static void directories_and_devices(void **state)
{
    (void)state;
    read_path("/");
    assert_int_equal(o.status, SLEW_ERROR_INPUT);
    assert_string_equal(o.errors.error[0].message, "is a directory, not a file");
    read_path("/dev/zero");
    assert_string_equal(o.errors.error[0].message, "is not a regular file");
    read_path("/nowhere/at all");
    assert_int_equal(o.status, SLEW_ERROR_FILE);
    assert_string_equal(o.errors.error[0].message, "can't be opened: No such file or directory");
}

static void pipes_do_not_hang(void **state)
{
    (void)state;
    char place[] = "/tmp/scenario_bad_XXXXXX", path[64];
    assert_non_null(mkdtemp(place));
    snprintf(path, sizeof path, "%s/pipe", place);
    assert_int_equal(mkfifo(path, 0600), 0);
    read_path(path);
    assert_string_equal(o.errors.error[0].message, "is not a regular file");
    unlink(path);
    rmdir(place);
}

/* 100 MB, without a byte on the disk: the size alone is enough */
static void huge_files(void **state)
{
    (void)state;
    char path[] = "/tmp/scenario_bad_XXXXXX";
    int file = mkstemp(path);
    assert_true(file >= 0);
    assert_int_equal(ftruncate(file, 100 * 1000 * 1000), 0);
    close(file);
    read_path(path);
    unlink(path);
    assert_int_equal(o.status, SLEW_ERROR_INPUT);
    assert_non_null(strstr(o.errors.error[0].message, "larger than 1 MiB"));
}

/* ---- several at once ---- */

static void all_errors_in_the_order_of_lines(void **state)
{
    (void)state;
    char *text = edit("    length: 9 m\n", "    length: 9 V\n    colour: red\n");
    char *at = strstr(text, "start: -30 deg");
    memcpy(at, "start: 530 deg", 14);
    at = strstr(text, "cancel_at: never");
    memcpy(at, "cancel_at: later", 16);
    read_text(&o, text);
    free(text);
    static const struct {
        int line;
        const char *key;
    } expected[] = {{10, "supply.feed.length"},
                    {11, "supply.feed.colour"},
                    {38, "rotation.start"},
                    {86, "stow.cancel_at"}};
    if (o.errors.count != 4)
        show(&o.errors);
    assert_int_equal(o.errors.count, 4);
    for (int i = 0; i < 4; i++) {
        assert_int_equal(o.errors.error[i].line, expected[i].line);
        assert_string_equal(o.errors.error[i].key, expected[i].key);
    }
    assert_int_equal(o.errors.error[0].column, 13);
    assert_int_equal(o.errors.error[1].column, 5);
    assert_string_equal(o.errors.error[1].excerpt, "    colour: red");
}

static void errors_without_end_are_cut_off(void **state)
{
    (void)state;
    char text[8192] = "";
    for (int i = 0; i < 300; i++)
        snprintf(text + strlen(text), sizeof text - strlen(text), "key_%d: %d\n", i, i);
    read_text(&o, text);
    assert_int_equal(o.errors.count, 101);
    assert_string_equal(o.errors.error[100].message, "there are more than the first 100");
}

/* what is wrong is shown, but cannot steer a terminal or break a line */
static void shown_texts_are_clean(void **state)
{
    (void)state;
    read_text(&o, "format: 1\n\"a\\tb\\nc\": 1\ntitle: \"x\"\n");
    for (int i = 0; i < o.errors.count; i++)
        for (const char *c = o.errors.error[i].key; *c != '\0'; c++)
            assert_true((unsigned char)*c >= 0x20);
}

static void without_a_sink_errors_still_count(void **state)
{
    (void)state;
    static slew_scenario s;
    assert_int_equal(slew_scenario_read_memory("format: 1\n", 10, "x", NULL, &s), SLEW_ERROR_INPUT);
    assert_int_equal(slew_scenario_read_file("/", NULL, &s), SLEW_ERROR_INPUT);
    assert_int_equal(slew_scenario_read_memory(NULL, 0, NULL, NULL, &s), SLEW_ERROR_INPUT);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(units),
        cmocka_unit_test(keys),
        cmocka_unit_test(ranges),
        cmocka_unit_test(release_below_operate),
        cmocka_unit_test(conductors),
        cmocka_unit_test(required_keys),
        cmocka_unit_test(groups_that_are_missing_are_one_error_each),
        cmocka_unit_test(other_versions),
        cmocka_unit_test(node_kinds),
        cmocka_unit_test(boxes),
        cmocka_unit_test(too_many_boxes),
        cmocka_unit_test(distributions),
        cmocka_unit_test(distributions_that_leave_what_the_key_allows),
        cmocka_unit_test(small_tails_are_cut_off),
        cmocka_unit_test(correlations),
        cmocka_unit_test(coefficients_that_were_set),
        cmocka_unit_test(yaml_mistakes),
        cmocka_unit_test(only_plain_yaml),
        cmocka_unit_test(one_document),
        cmocka_unit_test(bytes_that_are_no_text),
        cmocka_unit_test(bytes_that_are_no_characters),
        cmocka_unit_test(every_break_ends_a_line),
        cmocka_unit_test(nothing_at_all),
        cmocka_unit_test(directories_and_devices),
        cmocka_unit_test(pipes_do_not_hang),
        cmocka_unit_test(huge_files),
        cmocka_unit_test(all_errors_in_the_order_of_lines),
        cmocka_unit_test(errors_without_end_are_cut_off),
        cmocka_unit_test(shown_texts_are_clean),
        cmocka_unit_test(without_a_sink_errors_still_count),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
