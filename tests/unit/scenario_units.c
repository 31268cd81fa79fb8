/* scenario_units.c - quantities as people write them; the table of units against UDUNITS. */
#include <locale.h>
#include <math.h>

#include "keys/quantity.h"
#include "scenario/database.h"
#include "scenario_text.h"

static slew_error last;

static void keep(void *context, const slew_error *error)
{
    (void)context;
    last = *error;
}

/* NaN: refused, the reason in `last` */
static double value_of(const char *path, const char *text)
{
    slew_scenario s;
    memset(&last, 0, sizeof last);
    slew_scenario_init(&s);
    slew_status status =
        slew_scenario_set(&s, SLEW_LAYER_FILE, path, text, (slew_error_sink){keep, NULL});
    return status == SLEW_OK ? slew_scenario_get_number(&s, slew_key_find(path)) : (double)NAN;
}

typedef struct reading {
    const char *path, *text;
    double si;
} reading;

/* factors: 1 in = 25.4 mm, 1 lbf = 4.4482216152605 N, US gallon = 3.785411784 L, all exact by
 * NIST SP 811, appendix B; the rest by hand */
static const reading READINGS[] = {
    {"supply.feed.length", "30 ft", 9.144},
    {"supply.feed.length", "30ft", 9.144},
    {"supply.feed.length", "9 m", 9},
    {"supply.feed.length", "  9   m  ", 9},
    {"supply.feed.length", "9e0 m", 9},
    {"supply.feed.length", ".9e1m", 9},
    {"supply.feed.length", "900E-2 m", 9},
    {"supply.feed.length", "0.9e+1 m", 9},
    {"supply.feed.length", "+9. m", 9},
    {"supply.feed.length", "1 yard", 0.9144},
    {"supply.feed.length", "0.009 km", 9},
    {"nozzle.pressure", "95 psi", 655001.9428509943},
    {"nozzle.pressure", "6.5 bar", 6.5e5},
    {"nozzle.pressure", "650 kPa", 6.5e5},
    {"nozzle.pressure", "1 atm", 101325},
    {"nozzle.flow", "1000 gpm", 0.0630901964},
    {"nozzle.flow", "1000 gal/min", 0.0630901964},
    {"nozzle.flow", "60000 gal/h", 0.0630901964},
    {"nozzle.flow", "60000 gallon/hour", 0.0630901964},
    {"nozzle.flow", "3785 L/min", 3.785 / 60},
    {"nozzle.tip", "1.75 in", 0.04445},
    {"supply.feed.gauge", "8 AWG", 8},
    {"supply.feed.gauge", "8AWG", 8},
    {"supply.feed.gauge", "AWG 8", 8},
    {"supply.feed.gauge", "AWG8", 8},
    {"supply.feed.gauge", "0 AWG", 0},
    {"supply.feed.gauge", "1/0 AWG", 0},
    {"supply.feed.gauge", "00 AWG", -1},
    {"supply.feed.gauge", "4/0 AWG", -3},
    {"supply.feed.gauge", "0000 AWG", -3},
    {"supply.feed.gauge", "AWG 4/0", -3},
    {"supply.feed.area", "10 mm2", 1e-5},
    {"supply.feed.area", "10 mm^2", 1e-5},
    {"supply.feed.area", "10 mm²", 1e-5},
    {"supply.feed.area", "10mm²", 1e-5},
    {"supply.feed.area", "0.1 cm2", 1e-5},
    {"supply.feed.per_length", "2.1 ohm/km", 2.1e-3},
    {"supply.feed.per_length", "2.1 mohm/m", 2.1e-3},
    {"supply.feed.per_length", "2.1 mΩ/m", 2.1e-3},
    {"supply.feed.per_length", "0.64 ohm/kft", 0.64 / 304.8},
    {"supply.main.resistance", "10 mohm", 0.01},
    {"supply.main.resistance", "10 mΩ", 0.01},
    {"supply.main.resistance", "10 milliohm", 0.01},
    {"supply.main.voltage", "12600 mV", 12.6},
    {"supply.main.voltage", "0.0126 kV", 12.6},
    {"supply.feed.stranding", "2 %", 0.02},
    {"supply.feed.stranding", "2%", 0.02},
    {"supply.feed.stranding", "0.02", 0.02},
    {"rotation.start", "-30 deg", -0.5235987755982988},
    {"rotation.start", "-30°", -0.5235987755982988},
    {"rotation.start", "-30 °", -0.5235987755982988},
    {"rotation.start", "0.5 rad", 0.5},
    {"rotation.start", "500 mrad", 0.5},
    {"environment.temperature", "20 degC", 293.15},
    {"environment.temperature", "20 °C", 293.15},
    {"environment.temperature", "20°C", 293.15},
    {"environment.temperature", "68 degF", 293.15},
    {"environment.temperature", "68 °F", 293.15},
    {"environment.temperature", "293.15 K", 293.15},
    {"elevation.motor.winding_rise", "40 K", 40.0},
    {"elevation.motor.magnet_coefficient", "-0.2 %/K", -0.002},
    {"elevation.motor.magnet_coefficient", "-0.0011 K-1", -0.0011},
    {"environment.temperature", "20 celsius", 293.15},
    {"environment.tilt", "90 deg", 1.5707963267948966},
    {"grease.viscosity_40", "100 mm2/s", 1e-4},
    {"grease.viscosity_40", "100 mm²/s", 1e-4},
    {"grease.viscosity_40", "100 cSt", 1e-4},
    {"grease.viscosity_40", "1 St", 1e-4},
    {"rotation.motor.no_load_speed", "3000 rpm", 314.1592653589793},
    {"rotation.motor.no_load_speed", "314 rad/s", 314},
    {"rotation.motor.no_load_speed", "180 deg/s", 3.141592653589793},
    {"rotation.motor.no_load_speed", "50 turn/s", 314.1592653589793},
    {"rotation.motor.inertia", "4.5e-5 kg.m2", 4.5e-5},
    {"rotation.motor.inertia", "4.5e-5 kg m2", 4.5e-5},
    {"rotation.motor.inertia", "4.5e-5 kg*m^2", 4.5e-5},
    {"rotation.motor.inertia", "4.5e-5 kg·m²", 4.5e-5},
    {"rotation.motor.inertia", "450 g.cm2", 4.5e-5},
    {"rotation.load.friction", "8 N.m", 8},
    {"rotation.load.friction", "8 Nm", 8},
    {"rotation.load.friction", "8 N m", 8},
    {"rotation.load.friction", "8 N*m", 8},
    {"rotation.load.friction", "6 lbf.ft", 8.134907689988401},
    {"rotation.load.friction", "6 ft.lbf", 8.134907689988401},
    {"rotation.load.seal_friction", "1.5 N.m/bar", 1.5e-5},
    {"rotation.load.seal_friction", "1.5 N m / bar", 1.5e-5},
    {"rotation.load.seal_friction", "0.1 N.m/psi", 0.1 / 6894.757293168361},
    {"controller.pause", "500 ms", 0.5},
    {"controller.pause", "0.5s", 0.5},
    {"controller.move_limit", "1 min", 60},
    {"controller.move_limit", "0.1 h", 360},
    {"supply.system", "24V", 24},
    {"supply.system", "12.0 V", 12},
    {"stow.cancel_at", "4 s", 4},
    {"rotation.gear.efficiency", "100 %", 1},
    {"rotation.gear.efficiency", "0.36", 0.36},
    {"rotation.gear.backward_efficiency", "-20 %", -0.2},
    {"rotation.gear.ratio", "1.75e3", 1750},
    {"rotation.gear.ratio", "900:1", 900},
    {"rotation.gear.ratio", "900 : 1", 900},
    {"rotation.motor.no_load_speed", "3000 RPM", 314.1592653589793},
    {"nozzle.pressure", "95 PSI", 655001.9428509943},
    {"nozzle.pressure", "95 psig", 655001.9428509943},
    {"rotation.load.friction", "6 ft-lb", 8.134907689988401},
    {"rotation.load.friction", "6 lb-ft", 8.134907689988401},
    {"rotation.load.friction", "6 lb.ft", 8.134907689988401},
    {"rotation.load.friction", "72 in-lb", 8.134907689988401},
    {"rotation.load.friction", "1152 oz-in", 8.134907689988401},
    {"environment.temperature", "20 C", 293.15},
    {"environment.temperature", "-10C", 263.15},
    {"environment.temperature", "68 F", 293.15},
    {"elevation.load.mass", "25 lb", 11.33980925},
    {"supply.feed.gauge", "008 AWG", 8},
    {"rotation.gear.ratio", "900\t:\t1\n", 900},
    {"rotation.home.present", "true", 1},
    {"rotation.home.present", "false", 0},
    {"rotation.home.present", " yes\r\n", 1},
};

/* UDUNITS' own factors are doubles of its decimal definitions: 1e-14 leaves room for their
 * round-off */
static void quantities_as_people_write_them(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof READINGS / sizeof READINGS[0]; i++) {
        const reading *r = &READINGS[i];
        double value = value_of(r->path, r->text);
        if (!(fabs(value - r->si) <= 1e-14 * fabs(r->si)))
            fail_msg("%s: %s gives %.17g, not %.17g (%s)", r->path, r->text, value, r->si,
                     last.message);
    }
}

static void bounds_written_in_their_units_are_within(void **state)
{
    (void)state;
    assert_true(value_of("environment.tilt", "90 deg") > 0);
    assert_true(value_of("environment.temperature", "-60 degC") > 0);
    assert_true(value_of("environment.temperature", "100 degC") > 0);
    assert_true(value_of("rotation.motor.viscous_share", "100 %") == 1);
    assert_true(value_of("supply.feed.gauge", "40 AWG") == 40);
}

/* ---- what is refused ---- */

typedef struct refusal {
    const char *path, *text, *reason;
} refusal;

static const refusal REFUSALS[] = {
    {"supply.feed.length", "9", "the unit is missing"},
    {"supply.feed.length", "9 V", "a voltage, not a length"},
    {"supply.feed.length", "9 J", "not a length"},
    {"supply.feed.length", "9 blob", "unknown unit \"blob\""},
    {"supply.feed.length", "9 m m", "not a length"},
    {"supply.feed.length", "9 2 m", "unknown unit"},
    {"supply.feed.length", "9 (m)", "unknown unit"},
    {"supply.feed.length", "9 m @ 3", "unknown unit"},
    {"supply.feed.length", "9 m/", "unknown unit"},
    {"supply.feed.length", "9em", "unknown unit \"em\""},
    {"supply.feed.length", "9 m-", "unknown unit"},
    {"supply.feed.length", "9 m2-", "unknown unit"},
    {"supply.feed.length", "9 m%", "unknown unit"},
    {"supply.feed.length", "9 m22", "not a length"},
    {"supply.feed.length", "9 /m", "unknown unit"},
    {"supply.feed.length", "9 m//s", "unknown unit"},
    {"supply.feed.length", "9 {m}", "unknown unit"},
    {"supply.feed.length", "9 [m]", "unknown unit"},
    {"supply.feed.length", "9 mmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmmm m", "unknown unit"},
    {"supply.feed.length", "-9 m", "out of range"},
    {"supply.feed.length", "m", "no number"},
    {"supply.feed.length", "nine m", "no number"},
    {"supply.feed.length", "", "no value"},
    {"supply.feed.length", "NaN m", "NaN is not a number"},
    {"supply.feed.length", ".nan", "NaN is not a number"},
    {"supply.feed.length", "inf m", "infinity is not allowed"},
    {"supply.feed.length", "-.inf", "infinity is not allowed"},
    {"supply.feed.length", "1e999 m", "too large a number"},
    {"supply.feed.length", "1e101 m", "too large a number"},
    {"supply.feed.stranding", "1e308", "too large a number"},
    {"supply.feed.length", "0x1p3 m", "hexadecimal numbers are not allowed"},
    {"supply.feed.length", "0X9 m", "hexadecimal numbers are not allowed"},
    {"supply.feed.length", "9x m", "unknown unit"},
    {"supply.feed.length", "00x9 m", "unknown unit"},
    {"supply.feed.length", "1_000 m", "digits may not be grouped"},
    {"supply.feed.length", "1,000 m", "digits may not be grouped"},
    {"supply.feed.length", "1,5 m", "the decimal sign is a point"},
    {"supply.feed.gauge", "8", "the unit is missing"},
    {"supply.feed.gauge", "8.5 AWG", "a gauge is a whole number"},
    {"supply.feed.gauge", "-1 AWG", "sizes above 0 are written"},
    {"supply.feed.gauge", "8 mm2", "not in AWG"},
    {"supply.feed.gauge", "41 AWG", "out of range"},
    {"supply.feed.gauge", "5/0 AWG", "out of range"},
    {"supply.feed.gauge", "4/1 AWG", "a gauge is a whole number"},
    {"supply.feed.gauge", "4/05 AWG", "a gauge is a whole number"},
    {"supply.feed.gauge", "0/0 AWG", "a gauge is a whole number"},
    {"supply.feed.gauge", "8,5 AWG", "a gauge is a whole number"},
    {"supply.feed.gauge", "AWG", "no gauge number"},
    {"supply.feed.gauge", "8 AWG AWG", "not a wire gauge"},
    {"supply.system", "18 V", "out of range"},
    {"supply.system", "13 V", "out of range"},
    {"rotation.gear.ratio", "1750 rpm", "a plain number has no unit"},
    {"rotation.gear.ratio", "5 %", "a plain number has no unit"},
    {"rotation.gear.ratio", "0", "out of range"},
    {"rotation.gear.efficiency", "101 %", "out of range"},
    {"rotation.gear.efficiency", "36", "out of range"},
    {"rotation.gear.efficiency", "0 %", "out of range"},
    {"rotation.start", "10 %", "a share, not an angle"},
    {"rotation.start", "10 m/m", "not an angle"},
    {"rotation.motor.no_load_speed", "50 Hz", "not a speed of rotation"},
    {"rotation.motor.no_load_speed", "3000 1/min", "unknown unit"},
    {"rotation.load.friction", "8 lb.m", "not a torque"},
    {"environment.temperature", "20 coulomb", "not a temperature"},
    {"elevation.motor.winding_rise", "40 degC", "a temperature difference is written in K"},
    {"elevation.motor.winding_rise", "40 m", "a length, not a temperature difference"},
    {"elevation.motor.winding_rise", "-1 K", "out of range"},
    {"elevation.motor.magnet_coefficient", "0.2 %/K", "out of range"},
    {"rotation.gear.ratio", "900:2", "unknown unit"},
    {"supply.main.voltage", "12 V:1", "unknown unit"},
    {"environment.temperature", "-300 degC", "out of range"},
    {"rotation.home.present", "maybe", "neither yes nor no"},
    {"nozzle.kind", "Spray", "not one of the words"},
    {"stow.order", "elevation", "not one of the words"},
    {"stow.cancel_at", "ever", "no number"},
};

static void what_is_no_quantity_of_its_kind_is_refused(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof REFUSALS / sizeof REFUSALS[0]; i++) {
        const refusal *r = &REFUSALS[i];
        double value = value_of(r->path, r->text);
        if (!isnan(value) || strstr(last.message, r->reason) == NULL)
            fail_msg("%s: %s gives %g: %s", r->path, r->text, value, last.message);
        assert_string_equal(last.key, r->path);
        assert_true(strlen(last.expected) > 0);
    }
}

static void an_error_shows_what_is_right(void **state)
{
    (void)state;
    char longer[200] = "";
    memset(longer, '9', sizeof longer - 1);
    value_of("supply.feed.length", longer);
    assert_non_null(strstr(last.message, "too long a value"));
    assert_string_equal(last.expected, "a length of 0 m or more, for example 9 m");
    value_of("supply.main.resistance", "-10 mohm");
    assert_string_equal(last.message, "\"-10 mohm\": out of range");
    assert_string_equal(last.expected, "a resistance of 0 mohm or more, for example 10 mohm");
    value_of("supply.system", "18 V");
    assert_string_equal(last.expected, "a voltage of 12 V or 24 V, for example 24 V");
    value_of("rotation.gear.efficiency", "0");
    assert_string_equal(last.expected, "a share above 0 %, to 100 %, for example 36 %");
    value_of("nozzle.kind", "smothbore");
    assert_string_equal(last.nearest, "smooth_bore");
    value_of("stow.cancel_at", "-1 s");
    assert_string_equal(last.expected, "never or a time of 0 s or more, for example 4 s");
}

/* ---- the table of units against UDUNITS ---- */

static const char *const TABLE[] = {
    "V",    "mV",      "A",       "mA",    "ohm", "mohm",  "ohm/m",   "mohm/m", "ohm/km",
    "m",    "ohm/kft", "mohm/ft", "cm",    "mm",  "in",    "ft",      "m2",     "mm2",
    "rad",  "rad/s",   "rpm",     "s",     "ms",  "min",   "K",       "degC",   "degF",
    "m2/s", "mm2/s",   "cSt",     "m3/s",  "L/s", "L/min", "m3/h",    "Pa",     "kPa",
    "MPa",  "bar",     "psi",     "kg.m2", "N.m", "g.cm2", "lbf.ft",  "lbf.in", "N.m/Pa",
    "kg",   "g",       "lb",      "gpm",   "deg", "deg/s", "gal/min", "Nm",     "N.m/bar",
};

/* Another spelling of a unit, which the table does not have, so that the database is asked. */
static void another_spelling(const slew_unit *unit, char *text, size_t size)
{
    if (unit->offset == 0)
        snprintf(text, size, "%s.m/m", unit->name);
    else
        snprintf(text, size, "%s", strcmp(unit->name, "degC") == 0 ? "celsius" : "fahrenheit");
}

/* The database is closed again before anything is asserted: it locks others out. */
static slew_unit_answer by_database(const slew_unit *unit, const char *spelling, double *value)
{
    slew_units units = slew_units_of_database();
    slew_unit_answer answer =
        slew_units_convert(&units, slew_quantity_find(unit->quantity), spelling, false, value);
    slew_units_close(&units);
    return answer;
}

static void the_table_agrees_with_udunits(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof TABLE / sizeof TABLE[0]; i++) {
        const slew_unit *unit = slew_unit_find(TABLE[i]);
        char spelling[64];
        double theirs = 1.25;
        assert_non_null(unit);
        another_spelling(unit, spelling, sizeof spelling);
        assert_null(slew_unit_find(spelling));
        double own = slew_unit_to_si(unit, 1.25);
        if (by_database(unit, spelling, &theirs) != SLEW_UNIT_FITS ||
            fabs(theirs - own) > 1e-14 * fabs(own))
            fail_msg("%s: %.17g by the table, %.17g by UDUNITS", TABLE[i], own, theirs);
    }
}

static void common_units_leave_the_database_closed(void **state)
{
    (void)state;
    slew_units units = slew_units_of_database();
    const slew_quantity *length = slew_quantity_find("length");
    double value = 9;
    slew_unit_answer answer = slew_units_convert(&units, length, "ft", false, &value);
    bool after_common = units.tried;
    slew_units_convert(&units, length, "furlong", false, &value);
    bool after_rare = units.tried;
    slew_units_close(&units);
    assert_int_equal(answer, SLEW_UNIT_FITS);
    assert_false(after_common);
    assert_true(after_rare);
    assert_false(units.tried);
    slew_units_close(&units);
}

/* ---- spelling ---- */

static void units_are_brought_to_one_spelling(void **state)
{
    (void)state;
    static const char *const cases[][2] = {
        {"kg m^2", "kg.m2"},
        {" kg * m² ", "kg.m2"},
        {"N m / bar", "N.m/bar"},
        {"°C", "degC"},
        {"mΩ", "mohm"},
        {"µm", "um"},
        {"s-1", "s-1"},
        {"", ""},
        {"%", "%"},
        {"m^-2", "m-2"},
        {"/m", NULL},
        {"m//s", NULL},
        {"2m", NULL},
        {"m 2", NULL},
        {"m+m", NULL},
        {"m.", NULL},
        {"m2s", NULL},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char out[SLEW_UNIT_MAX];
        bool right = slew_unit_spell(cases[i][0], out);
        if (cases[i][1] == NULL && right)
            fail_msg("%s becomes %s", cases[i][0], out);
        if (cases[i][1] != NULL)
            assert_string_equal(right ? out : "refused", cases[i][1]);
    }
    char endless[512], out[SLEW_UNIT_MAX];
    memset(endless, 'm', sizeof endless - 1);
    endless[sizeof endless - 1] = '\0';
    assert_false(slew_unit_spell(endless, out));
}

/* a program in a country with a decimal comma reads the same */
static void the_locale_does_not_matter(void **state)
{
    (void)state;
    static const char *const names[] = {"de_DE.UTF-8", "de_DE.utf8", "fr_FR.UTF-8", "nl_NL.UTF-8"};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++)
        if (setlocale(LC_ALL, names[i]) != NULL)
            break;
    assert_true(value_of("supply.main.voltage", "13.4 V") == 13.4);
    setlocale(LC_ALL, "C");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(quantities_as_people_write_them),
        cmocka_unit_test(bounds_written_in_their_units_are_within),
        cmocka_unit_test(what_is_no_quantity_of_its_kind_is_refused),
        cmocka_unit_test(an_error_shows_what_is_right),
        cmocka_unit_test(the_table_agrees_with_udunits),
        cmocka_unit_test(common_units_leave_the_database_closed),
        cmocka_unit_test(units_are_brought_to_one_spelling),
        cmocka_unit_test(the_locale_does_not_matter),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
