/* feed_conductors.c - the conductors that `feed` chooses from, and its choices, against published
 * tables and worked examples. */
#include "../support.h"

static const double FOOT = 12.0 * SLEW_INCH; /* [m] */
static const double KFT = 12000.0 * SLEW_INCH;
static const double MM2 = 1e-6; /* [m2] */

/* ---- Ladders ---- */

/* IEC 60228, largest resistance of plain copper conductors at 20 degC, ohm/km, classes 2 and 5:
 * exact. (At 50 mm2 class 5 is below class 2: so it stands in the standard.) 95 and 120 mm2: from
 * memory. */
static void metric_ladder_is_iec_60228(void **state)
{
    static const struct {
        double area, class_2, class_5;
    } row[] = {
        {1, 18.1, 19.5},     {1.5, 12.1, 13.3},  {2.5, 7.41, 7.98},  {4, 4.61, 4.95},
        {6, 3.08, 3.3},      {10, 1.83, 1.91},   {16, 1.15, 1.21},   {25, 0.727, 0.78},
        {35, 0.524, 0.554},  {50, 0.387, 0.386}, {70, 0.268, 0.272}, {95, 0.193, 0.206},
        {120, 0.153, 0.161},
    };
    enum { ROWS = sizeof row / sizeof *row };
    (void)state;
    assert_int_equal(slew_ladder_count(SLEW_LADDER_CLASS_2), ROWS);
    assert_int_equal(slew_ladder_count(SLEW_LADDER_CLASS_5), ROWS);
    for (int i = 0; i < ROWS; i++) {
        close_to("area", slew_ladder_size(SLEW_LADDER_CLASS_2, i), row[i].area * MM2, 1e-15);
        close_to("area", slew_ladder_size(SLEW_LADDER_CLASS_5, i), row[i].area * MM2, 1e-15);
        close_to("class 2", slew_ladder_resistance(SLEW_LADDER_CLASS_2, i, 0.02),
                 row[i].class_2 / 1000.0, 1e-15);
        close_to("class 5", slew_ladder_resistance(SLEW_LADDER_CLASS_5, i, 0.02),
                 row[i].class_5 / 1000.0, 1e-15);
    }
}

/* The safe side: what the standard allows is 5 to 16 % above solid copper of the nominal area. */
static void metric_ladder_is_above_solid_copper(void **state)
{
    (void)state;
    for (int ladder = SLEW_LADDER_CLASS_2; ladder <= SLEW_LADDER_CLASS_5; ladder++)
        for (int i = 0; i < slew_ladder_count((slew_ladder)ladder); i++) {
            const double solid =
                slew_conductor_resistance(slew_ladder_size((slew_ladder)ladder, i), 0.0);
            const double allowed = slew_ladder_resistance((slew_ladder)ladder, i, 0.0);
            near("ratio", allowed / solid, 1.104, 0.055);
        }
}

/* National Electrical Code (NFPA 70, 2011), chapter 9, table 8: direct current resistance of
 * uncoated stranded copper at 75 degC, ohm per 1000 ft. 0.6 %: three digits, and the table's own
 * 0.5 % at 12 AWG. */
static void gauge_ladder_is_that_of_the_code(void **state)
{
    static const struct {
        double gauge, ohm;
    } row[] = {{18, 7.95}, {16, 4.99},   {14, 3.14},   {12, 1.98},  {10, 1.24},
               {8, 0.778}, {6, 0.491},   {4, 0.308},   {2, 0.194},  {1, 0.154},
               {0, 0.122}, {-1, 0.0967}, {-2, 0.0766}, {-3, 0.0608}};
    enum { ROWS = sizeof row / sizeof *row };
    (void)state;
    assert_int_equal(slew_ladder_count(SLEW_LADDER_AWG), ROWS);
    for (int i = 0; i < ROWS; i++) {
        assert_true(slew_ladder_size(SLEW_LADDER_AWG, i) == row[i].gauge);
        close_to("ohm",
                 slew_ladder_resistance(SLEW_LADDER_AWG, i, 0.02) *
                     slew_copper_factor(celsius(75.0)) * KFT,
                 row[i].ohm, 0.006);
    }
}

/* ---- Drops ---- */

/* 12 V and a load of `current` at the end of `feet` of conductor, out and back together, solid; its
 * motors run free and draw next to nothing */
static slew_setup pump(double feet, double current, double temperature)
{
    slew_setup setup = daily_setup();
    setup.environment.temperature = celsius(temperature);
    setup.supply.main = (slew_battery){12.0, 0.0};
    setup.supply.shared_load = current;
    setup.supply.feed =
        (slew_feed){.conductor = SLEW_CONDUCTOR_GAUGE, .gauge = 10.0, .length = feet / 2.0 * FOOT};
    for (int j = 0; j < SLEW_AXES; j++) {
        setup.axis[j].motor.no_load_current = 1e-9;
        setup.axis[j].load = (slew_load){.inertia = 1.0};
    }
    return setup;
}

/* HB 100 [from memory] for 10 A on 21 ft, in volts and as shares of 12 V: half a unit of the last
 * digit and the 0.04 % between that table and a computed gauge. */
static void drops_of_a_pump(void **state)
{
    static const struct {
        double gauge, drop, percent, half_digit;
    } row[] = {{10, 0.2098, 1.75, 0.005},
               {12, 0.3335, 2.78, 0.005},
               {16, 0.8434, 7.0, 0.05},
               {18, 1.3409, 11.2, 0.05}};
    (void)state;
    for (size_t i = 0; i < sizeof row / sizeof *row; i++) {
        slew_setup setup = pump(21.0, 10.0, 20.0);
        slew_feed_figures f;
        setup.supply.feed.gauge = row[i].gauge;
        assert_int_equal(slew_feed_ask(&setup, &f, NULL), SLEW_OK);
        for (int drives = 0; drives < SLEW_FEED_DRIVES; drives++) {
            const double drop = f.running[drives].drop;
            near("drop", drop, row[i].drop, 5e-5 + 0.0004 * row[i].drop);
            near("percent", 100.0 * drop / 12.0, row[i].percent,
                 row[i].half_digit + 0.0004 * row[i].percent);
        }
    }
}

static int gauge_for(const slew_setup *setup, double share)
{
    const slew_feed_wish wish = {.by_drop = true, .drop = share};
    const slew_feed_need need = slew_feed_find_need(setup, &wish);
    assert_true(need.thinnest[SLEW_LADDER_AWG] >= 0);
    return (int)slew_ladder_size(SLEW_LADDER_AWG, need.thinnest[SLEW_LADDER_AWG]);
}

/* Tables after ABYC E-11 for a 12 V pump of 10 A, 11 ft out and 10 ft back: 16 AWG for 10 %, 10 AWG
 * for 3 %, with K = 10.75 ohm circular mil per foot [from memory], copper at 29.3 degC. The table
 * is entered at the next length, 25 ft; 21 ft themselves need only 12 AWG for 3 %. */
static void gauge_for_a_pump(void **state)
{
    const slew_setup entered = pump(25.0, 10.0, 29.3), exact = pump(21.0, 10.0, 29.3);
    (void)state;
    assert_int_equal(gauge_for(&entered, 0.10), 16);
    assert_int_equal(gauge_for(&entered, 0.03), 10);
    assert_int_equal(gauge_for(&exact, 0.03), 12);
}

/* The same tables by their formula, K I L / E circular mils: 7465 for 3 % and 2240 for 10 % at 25
 * ft. Half a unit, and 0.05 %, for K has four digits. */
static void circular_mils_for_a_pump(void **state)
{
    static const struct {
        double share, mils;
    } row[] = {{0.03, 7465.0}, {0.10, 2240.0}};
    const double mil = SLEW_INCH / 1000.0, circular_mil = degrees(45.0) * mil * mil;
    (void)state;
    for (size_t i = 0; i < sizeof row / sizeof *row; i++) {
        const slew_setup setup = pump(25.0, 10.0, 29.3);
        const slew_feed_wish wish = {.by_drop = true, .drop = row[i].share};
        const double ohm = slew_feed_find_need(&setup, &wish).resistance;
        const double area =
            SLEW_COPPER_RESISTIVITY * slew_copper_factor(celsius(29.3)) * 25.0 * FOOT / ohm;
        near("mils", area / circular_mil, row[i].mils, 0.5 + 0.0005 * row[i].mils);
    }
}

/* Metric rule of boat wiring (ISO 10133 [from memory]): E = 0.0164 I L / S. 10 A, 6.4 m, 4 mm2:
 * 0.2624 V. Copper at 20 degC loses 5.1 % more than that (the rule's 0.0164 is 4.88 % below it),
 * and a flexible conductor of 4 mm2 that IEC 60228 allows, 4.95 ohm/km, 20.7 % more: a choice by
 * the rule is not on the safe side. */
static void metric_rule_of_boats_is_optimistic(void **state)
{
    slew_setup setup = pump(6.4 / FOOT, 10.0, 20.0);
    slew_feed_figures f;
    (void)state;
    setup.supply.feed.conductor = SLEW_CONDUCTOR_AREA;
    setup.supply.feed.area = 4.0 * MM2;
    assert_int_equal(slew_feed_ask(&setup, &f, NULL), SLEW_OK);
    near("rule over copper", 0.2624 / f.running[0].drop, 1.0 - 0.0488, 5e-5);
    slew_feed_fit(&setup, SLEW_LADDER_CLASS_5, 3);
    assert_int_equal(slew_feed_ask(&setup, &f, NULL), SLEW_OK);
    near("allowed", f.running[0].drop, 4.95e-3 * 6.4 * 10.0, 1e-9);
}

/* ---- Batteries ---- */

/* Cold cranking amperes: what a new battery delivers for 30 s at -18 degC with 7.2 V left. Internal
 * resistance (12.65 V - 7.2 V)/CCA by convention, mohm: half a unit of the last digit. */
static void cranking_current_leaves_7_2_volts(void **state)
{
    static const struct {
        double amperes, mohm;
    } row[] = {{600, 9.083}, {750, 7.267}, {1000, 5.450}};
    (void)state;
    for (size_t i = 0; i < sizeof row / sizeof *row; i++) {
        slew_setup setup = pump(0.0, row[i].amperes, -18.0);
        slew_feed_figures f;
        setup.supply.main = (slew_battery){12.65, row[i].mohm / 1000.0};
        assert_int_equal(slew_feed_ask(&setup, &f, NULL), SLEW_OK);
        near("volts", f.idle.voltage, 7.2, 0.5e-6 * row[i].amperes);
    }
}

/* ---- ISO 16750-2 ---- */

/* A floor that is left out is the low end of code D, 10.5 V, at 24 V of code G, 22 V: BS ISO
 * 16750-2:2010, tables 1 and 2. A conductor is chosen for it. */
static void default_floor_is_that_of_a_device(void **state)
{
    slew_scenario s = daily_scenario();
    slew_feed_answer a;
    const slew_feed_question question = {.occasion = SLEW_OCCASION_STOW};
    (void)state;
    s.setup.supply.floor = SLEW_NOT_GIVEN;
    assert_int_equal(slew_feed_run(&s, &question, &a, NULL), SLEW_OK);
    assert_true(a.setup.supply.floor == 10.5);
    s.setup.supply.system = 24.0;
    assert_int_equal(slew_feed_run(&s, &question, &a, NULL), SLEW_OK);
    assert_true(a.setup.supply.floor == 22.0);
}

/* ---- Common practice ---- */

/* a long thin feed is the usual cause of a slow or stalled monitor; no source */
static void long_thin_feed_slows_and_stalls(void **state)
{
    slew_setup setup = daily_setup();
    double last = INFINITY;
    bool stalls = false;
    (void)state;
    setup.supply.feed.gauge = 16.0;
    for (double length = 0.0; length < 200.0; length += 10.0) {
        slew_feed_figures f;
        setup.supply.feed.length = length;
        if (slew_feed_ask(&setup, &f, NULL) != SLEW_OK)
            break;
        assert_true(f.running[SLEW_ELEVATION].voltage < last);
        assert_true(!stalls || !f.moves[SLEW_ELEVATION]);
        last = f.running[SLEW_ELEVATION].voltage;
        stalls = !f.moves[SLEW_ELEVATION];
    }
    assert_true(stalls);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(metric_ladder_is_iec_60228),
        cmocka_unit_test(metric_ladder_is_above_solid_copper),
        cmocka_unit_test(gauge_ladder_is_that_of_the_code),
        cmocka_unit_test(drops_of_a_pump),
        cmocka_unit_test(gauge_for_a_pump),
        cmocka_unit_test(circular_mils_for_a_pump),
        cmocka_unit_test(metric_rule_of_boats_is_optimistic),
        cmocka_unit_test(cranking_current_leaves_7_2_volts),
        cmocka_unit_test(default_floor_is_that_of_a_device),
        cmocka_unit_test(long_thin_feed_slows_and_stalls),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
