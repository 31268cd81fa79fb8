/* fit_told.c - what readings tell of the figures: standard errors, what can't be told apart, which
 * reading to take next, figures at the edge of their range, what is refused. */
#include "fit_both.h"

enum { E = SLEW_ELEVATION, R = SLEW_ROTATION };

/* ---- rows whose readings the library itself simulates ---- */

static slew_setup today_of(const slew_scenario *s)
{
    slew_setup setup;
    slew_scenario_resolve(s, SLEW_OCCASION_STOW, &setup);
    return setup;
}

static void add(slew_timings *t, const slew_scenario *truth, slew_timing row, double supply,
                unsigned measures)
{
    slew_timed timed;
    slew_error error;
    const slew_setup setup = today_of(truth);
    row.supply = supply;
    if (slew_timing_simulate(&setup, &row, &timed, &error) != SLEW_OK)
        fail_msg("%s", error.message);
    for (slew_measure m = 0; m < SLEW_MEASURE_COUNT; m++)
        if (measures & 1u << m)
            row.measured[m].value = timed.value[m];
    row.line = t->count + 2;
    t->row[t->count++] = row;
}

enum {
    S = 1 << SLEW_MEASURE_SECONDS,
    V = 1 << SLEW_MEASURE_VOLTAGE,
    A = 1 << SLEW_MEASURE_CURRENT
};

/* both ways at two voltages */
static slew_timings four_travels(const slew_scenario *truth, int axis, unsigned measures)
{
    slew_timings t = {0};
    for (int i = 0; i < 4; i++)
        add(&t, truth, stop_to_stop(axis, i % 2 ? 1 : -1), i < 2 ? 13.4 : 11.9, measures);
    return t;
}

static slew_fit_question asks(const slew_timings *t, const char *const *paths)
{
    slew_fit_question q = {.timings = t};
    for (; paths[q.keys] != NULL; q.keys++) {
        q.key[q.keys] =
            strcmp(paths[q.keys], "bias") == 0 ? SLEW_FIT_BIAS : slew_key_find(paths[q.keys]);
        assert_true(q.key[q.keys] >= SLEW_FIT_BIAS);
    }
    return q;
}

#define KEYS(...) ((const char *const[]){__VA_ARGS__, NULL})

static const slew_fit *fitted(const slew_scenario *start, const slew_timings *t,
                              const char *const *paths)
{
    static slew_fit fit;
    slew_error error;
    const slew_fit_question q = asks(t, paths);
    if (slew_fit_run(start, &q, &fit, &error) != SLEW_OK)
        fail_msg("line %d %s: %s", error.line, error.key, error.message);
    return &fit;
}

/* ---- standard errors ---- */

/* one figure, n equal readings of sd s with slope d: its standard error is s/(d sqrt(n)) */
static void the_error_of_one_figure(void **state)
{
    const slew_scenario s = daily_scenario();
    slew_timings t = {0};
    (void)state;
    for (int i = 0; i < 9; i++)
        add(&t, &s, stop_to_stop(E, 1), 13.4, S);
    slew_scenario moved = s;
    const char *path = "elevation.motor.no_load_speed";
    double value = slew_scenario_get_number(&s, slew_key_find(path)), step = 1e-3 * value;
    double seconds[2];
    for (int i = 0; i < 2; i++) {
        slew_timed timed;
        set_key(&moved, SLEW_LAYER_FILE, path, value + (i ? step : -step));
        slew_setup setup = today_of(&moved);
        slew_timing_simulate(&setup, &t.row[0], &timed, NULL);
        seconds[i] = timed.value[SLEW_MEASURE_SECONDS];
    }
    double slope = (seconds[1] - seconds[0]) / (2 * step);
    const slew_fit *fit = fitted(&s, &t, KEYS(path));
    /* both slopes are central differences, exact to about step^2 */
    close_to("sd", fit->figure[0].sd, 0.15 / (fabs(slope) * 3), 1e-5);
    close_to("interval", fit->figure[0].high - fit->figure[0].value, 1.959964 * fit->figure[0].sd,
             1e-6);
    assert_true(fit->freedom == 8);
    assert_false(fit->sds_given);
}

/* scattered readings enlarge the errors where no sd is given, and only there */
static void scatter_counts_where_no_sd_is_given(void **state)
{
    const slew_scenario s = daily_scenario();
    slew_timings t = {0};
    (void)state;
    for (int i = 0; i < 9; i++) {
        add(&t, &s, stop_to_stop(E, 1), 13.4, S);
        t.row[i].measured[SLEW_MEASURE_SECONDS].value += i % 2 ? 0.6 : -0.6;
    }
    const char *const *keys = KEYS("elevation.motor.no_load_speed");
    const slew_fit assumed = *fitted(&s, &t, keys);
    close_to("enlarged", assumed.enlarged, sqrt(assumed.chi_square / 8), 1e-12);
    assert_true(assumed.enlarged > 3 && assumed.chance < 1e-6);
    /* Student's 97.5 % quantile for 8 degrees of freedom, from tables: 2.306 */
    close_to("interval", (assumed.figure[0].high - assumed.figure[0].value) / assumed.figure[0].sd,
             2.306, 2e-5 * 10);
    for (int i = 0; i < 9; i++)
        t.row[i].measured[SLEW_MEASURE_SECONDS].sd_given = true;
    const slew_fit *given = fitted(&s, &t, keys);
    assert_true(given->enlarged == 1 && given->sds_given);
    close_to("sd", given->figure[0].sd * assumed.enlarged, assumed.figure[0].sd, 1e-9);
}

/* ---- what can't be told apart ---- */

static void only_the_quotient_of_speed_and_ratio_counts(void **state)
{
    const slew_scenario s = daily_scenario();
    const slew_timings t = four_travels(&s, E, S);
    (void)state;
    const slew_fit *fit =
        fitted(&s, &t, KEYS("elevation.motor.no_load_speed", "elevation.gear.ratio"));
    assert_int_equal(fit->blurs, 1);
    assert_true(fit->blur[0].sd > 1);
    close_to("shares", fit->blur[0].share[0], fit->blur[0].share[1], 0.1);
    assert_true(fit->correlation[0][1] > 0.999);
    assert_true(fit->condition > 100);
}

/* the line sees main resistance + 8 joints; nothing else does */
static void two_resistances_in_series_count_by_their_sum(void **state)
{
    const slew_scenario s = daily_scenario();
    slew_timings t = four_travels(&s, E, S | V);
    (void)state;
    const char *const *keys = KEYS("supply.main.resistance", "supply.feed.joint_resistance");
    const slew_fit *fit = fitted(&s, &t, keys);
    assert_int_equal(fit->blurs, 1);
    assert_true(isinf(fit->blur[0].sd));
    /* main.resistance is 10 mohm, the joints 8 * 1.5: a change that keeps the sum, in their sizes
     */
    close_to("shares", fit->blur[0].share[0] / fit->blur[0].share[1], -12.0 / 10, 1e-3);
    assert_true(isinf(fit->figure[0].sd) && isinf(fit->figure[1].sd));
    assert_false(fit->next.any);
    fit = fitted(&s, &t, KEYS("supply.feed.joint_resistance"));
    assert_int_equal(fit->blurs, 0);
}

/* eight times the resistance, known to 2 %: that is not what is least known, though it is far from
 * what the scenario says */
static void the_least_known_is_weighed_by_its_fitted_value(void **state)
{
    const slew_scenario s = daily_scenario();
    slew_scenario corroded = s;
    (void)state;
    set_key(&corroded, SLEW_LAYER_FILE, "supply.feed.joint_resistance", 8 * 0.0015);
    slew_timings t = four_travels(&corroded, E, S | V | A);
    const slew_fit *fit =
        fitted(&s, &t, KEYS("elevation.gear.efficiency", "supply.feed.joint_resistance"));
    const slew_fit_figure *gear = &fit->figure[0], *joint = &fit->figure[1];
    assert_int_equal(fit->blurs, 0);
    close_to("weighed", joint->weighed, joint->value, 1e-12);
    assert_true(joint->sd / joint->size > gear->sd / gear->size);
    assert_true(joint->sd / joint->weighed < gear->sd / gear->weighed);
    assert_int_equal(fit->next.least, 0);
}

/* times alone say little of the line's resistance; a voltmeter under load does */
static void the_next_reading_shrinks_the_largest_error_most(void **state)
{
    const slew_scenario s = daily_scenario();
    slew_timings t = four_travels(&s, E, S);
    const char *const *keys = KEYS("elevation.motor.no_load_speed", "supply.feed.joint_resistance");
    (void)state;
    const slew_fit before = *fitted(&s, &t, keys);
    const slew_fit_next *next = &before.next;
    assert_true(next->any);
    assert_int_equal(next->least, 1);
    assert_int_equal(next->measure, SLEW_MEASURE_VOLTAGE);
    /* asked at the scenario's own values, from which the readings are: the fit ends beside them */
    close_to("before", next->before, before.figure[1].sd / before.figure[1].weighed, 1e-6);
    slew_timing row = next->row;
    assert_int_equal(row.to.kind, SLEW_PLACE_NONE); /* pressed on a stop: the largest current */
    row.measured[SLEW_MEASURE_VOLTAGE].value = next->simulated;
    row.line = t.count + 2;
    t.row[t.count++] = row;
    const slew_fit *after = fitted(&s, &t, keys);
    double largest = fmax(after->figure[0].sd / after->figure[0].weighed,
                          after->figure[1].sd / after->figure[1].weighed);
    /* foretold by central differences of another step */
    close_to("after", largest, next->after, 1e-3);
    assert_true(largest < 0.5 * next->before);
}

/* ---- the edge of a range ---- */

static void a_key_that_wants_beyond_its_range_is_held(void **state)
{
    slew_scenario truth = daily_scenario(), start = daily_scenario();
    set_key(&truth, SLEW_LAYER_FILE, "elevation.load.friction", 0);
    slew_timings t = four_travels(&truth, E, S | A);
    (void)state;
    for (int i = 0; i < t.count; i++) /* a motor even faster and lighter on current */
        t.row[i].measured[SLEW_MEASURE_CURRENT].value -= 0.5;
    const slew_fit *fit =
        fitted(&start, &t, KEYS("elevation.load.friction", "elevation.motor.no_load_speed"));
    assert_int_equal(fit->figure[0].edge, -1);
    assert_true(fit->figure[0].value == 0 && isnan(fit->figure[0].sd));
    assert_int_equal(fit->figure[1].edge, 0);
    assert_true(fit->freedom == 8 - 1);
    /* the others are those of a fit with it there */
    set_key(&start, SLEW_LAYER_FILE, "elevation.load.friction", 0);
    double beside = fit->figure[1].value, sd = fit->figure[1].sd;
    fit = fitted(&start, &t, KEYS("elevation.motor.no_load_speed"));
    close_to("value", beside, fit->figure[0].value, 1e-6);
    close_to("sd", sd, fit->figure[0].sd, 1e-5);
}

/* ---- what is refused ---- */

static void refused(const slew_scenario *s, const slew_timings *t, const char *const *keys,
                    int line, const char *key, const char *part)
{
    static slew_fit fit;
    slew_error error = {0};
    const slew_fit_question q = asks(t, keys);
    assert_int_equal(slew_fit_run(s, &q, &fit, &error), SLEW_ERROR_INPUT);
    if (error.line != line || strcmp(error.key, key) != 0 || strstr(error.message, part) == NULL)
        fail_msg("line %d, %s: %s, not line %d, %s: %s", error.line, error.key, error.message, line,
                 key, part);
    assert_int_equal(slew_fit_run(s, &q, &fit, NULL), SLEW_ERROR_INPUT);
}

static void keys_that_cannot_be_fitted(void **state)
{
    slew_scenario s = daily_scenario();
    const slew_timings t = four_travels(&s, E, S);
    (void)state;
    refused(&s, &t, KEYS("elevation.search"), 0, "elevation.search", "is no number");
    refused(&s, &t, KEYS("title"), 0, "title", "is no number");
    refused(&s, &t, KEYS("spread.truck"), 0, "spread.truck", "is no number");
    refused(&s, &t, KEYS("format"), 0, "format", "no values in between");
    refused(&s, &t, KEYS("supply.system"), 0, "supply.system", "no values in between");
    refused(&s, &t, KEYS("supply.feed.gauge"), 0, "supply.feed.gauge", "no values in between");
    refused(&s, &t, KEYS("stow.cancel_at"), 0, "stow.cancel_at", "no value in the scenario");
    refused(&s, &t, KEYS("supply.feed.area"), 0, "supply.feed.area", "no value in the scenario");
    refused(&s, &t, KEYS("bias", "bias"), 0, "stopwatch bias", "asked for twice");
    refused(&s, &t, KEYS("elevation.gear.ratio", "rotation.gear.ratio"), 0, "rotation.gear.ratio",
            "no influence on any of the rows");
    refused(&s, &t, KEYS("stow.tolerance"), 0, "stow.tolerance", "no influence");
    refused(&s, &t, KEYS("supply.main.voltage"), 0, "supply.main.voltage", "no influence");
    set_key(&s, SLEW_LAYER_TODAY, "elevation.gear.efficiency", 0.3);
    refused(&s, &t, KEYS("elevation.gear.efficiency"), 0, "elevation.gear.efficiency",
            "hidden by today");
    const slew_fit_question none = {.timings = &t};
    static slew_fit fit;
    assert_int_equal(slew_fit_run(&s, &none, &fit, NULL), SLEW_ERROR_INPUT);
}

static void readings_that_do_not_suffice(void **state)
{
    const slew_scenario s = daily_scenario();
    slew_timings t = four_travels(&s, E, S);
    const char *const *two = KEYS("elevation.motor.no_load_speed", "elevation.gear.efficiency");
    (void)state;
    t.count = 1;
    refused(&s, &t, two, 0, "", "1 reading can't tell 2 figures");
    for (t.count = 3; t.count > 0;)
        t.row[--t.count] = t.row[0];
    t.count = 3;
    refused(&s, &t, two, 0, "", "all 3 readings are alike");
    t.row[2] = stop_to_stop(E, -1);
    t.row[2].measured[SLEW_MEASURE_SECONDS].value = 12.6;
    refused(&s, &t, KEYS("elevation.motor.no_load_speed", "elevation.gear.efficiency", "bias"), 0,
            "", "3 readings of only 2 kinds");
    t.row[2].measured[SLEW_MEASURE_SECONDS].sd = 0;
    refused(&s, &t, two, 0, "", "standard deviation above 0");
}

/* 110 deg at 13.4 V: 11.28 V/(3200 rpm) of the sheet, 0.2 % per K colder magnets at 20 degC, and
 * 0.6 V in the drive give 12.8/11.39*3200 rpm/2200 = 9.8 deg/s at most */
static void a_travel_faster_than_the_motor_turns(void **state)
{
    const slew_scenario s = daily_scenario();
    slew_timings t = four_travels(&s, E, S);
    const char *const *keys = KEYS("elevation.motor.no_load_speed");
    (void)state;
    t.row[1].measured[SLEW_MEASURE_SECONDS].value = 5.5;
    refused(&s, &t, keys, 3, "seconds_s",
            "110 deg in 5.5 s is 20.0 deg/s, but at 13.4 V the axis can't turn faster than 9.8 "
            "deg/s: 2 times too fast");
    t.row[1].measured[SLEW_MEASURE_SECONDS].value = 110 / 9.8 - 0.3; /* within three sds of it */
    fitted(&s, &t, keys);
    t.row[1].measured[SLEW_MEASURE_SECONDS].value = 110 / 9.8 - 0.6;
    refused(&s, &t, keys, 3, "seconds_s", "1.1 times too fast");
}

/* a heavy barrel that drives its gear backward turns faster than the motor alone would */
static void a_load_that_helps_may_make_it_faster(void **state)
{
    slew_scenario s = daily_scenario();
    (void)state;
    set_key(&s, SLEW_LAYER_FILE, "elevation.gear.efficiency", 0.9);
    set_key(&s, SLEW_LAYER_FILE, "elevation.gear.backward_efficiency", 0.9);
    set_key(&s, SLEW_LAYER_FILE, "elevation.load.mass", 250);
    slew_timings t = {0};
    slew_timing down = stop_to_stop(E, -1);
    for (int i = 0; i < 2; i++)
        add(&t, &s, down, i ? 13.4 : 11.9, S);
    assert_true(110 / t.row[1].measured[SLEW_MEASURE_SECONDS].value > 11);
    fitted(&s, &t, KEYS("elevation.motor.no_load_speed"));
}

static void rows_that_cannot_be(void **state)
{
    const slew_scenario s = daily_scenario();
    slew_timings t = four_travels(&s, E, S);
    const char *const *keys = KEYS("elevation.motor.no_load_speed");
    (void)state;
    t.row[2].from = at_degrees(100);
    refused(&s, &t, keys, 4, "from", "beyond the stops");
    t.row[2] = stop_to_stop(E, 1);
    t.row[2].line = 4;
    t.row[2].supply = 2;
    refused(&s, &t, keys, 4, "", "stalls at -20 deg");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_error_of_one_figure),
        cmocka_unit_test(scatter_counts_where_no_sd_is_given),
        cmocka_unit_test(only_the_quotient_of_speed_and_ratio_counts),
        cmocka_unit_test(two_resistances_in_series_count_by_their_sum),
        cmocka_unit_test(the_least_known_is_weighed_by_its_fitted_value),
        cmocka_unit_test(the_next_reading_shrinks_the_largest_error_most),
        cmocka_unit_test(a_key_that_wants_beyond_its_range_is_held),
        cmocka_unit_test(keys_that_cannot_be_fitted),
        cmocka_unit_test(readings_that_do_not_suffice),
        cmocka_unit_test(a_travel_faster_than_the_motor_turns),
        cmocka_unit_test(a_load_that_helps_may_make_it_faster),
        cmocka_unit_test(rows_that_cannot_be),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
