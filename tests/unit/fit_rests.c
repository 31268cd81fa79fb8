/* fit_rests.c - where stows and deploys rest, as readings of a fit: what they tell of the truck and
 * of the next deploy. */
#include "fit_both.h"

#include "slewtime/run.h"

enum { E = SLEW_ELEVATION, R = SLEW_ROTATION };

/* ---- a truck, and what is read of it ---- */

/* where both axes rest after stow and deploy, each on the day of the visit */
static slew_result run_of(const slew_scenario *s)
{
    slew_result result;
    assert_int_equal(slew_run(s, SLEW_STOW_AND_DEPLOY, NULL, &result, NULL), SLEW_OK);
    assert_int_equal(result.deploy.says, SLEW_DEPLOYED);
    return result;
}

static slew_timing *add(slew_timings *t, slew_timing row)
{
    row.line = t->count + 2;
    t->row[t->count] = row;
    return &t->row[t->count++];
}

/* both ways, by stopwatch and meters */
static void add_travels(slew_timings *t, const slew_scenario *truth, int axis)
{
    slew_setup setup;
    slew_scenario_resolve(truth, SLEW_OCCASION_STOW, &setup);
    for (int direction = -1; direction <= 1; direction += 2) {
        slew_timed timed;
        slew_timing *row = add(t, stop_to_stop(axis, direction));
        row->supply = setup.supply.main.voltage;
        assert_int_equal(slew_timing_simulate(&setup, row, &timed, NULL), SLEW_OK);
        for (slew_measure m = 0; m < SLEW_MEASURE_COUNT; m++)
            row->measured[m].value = timed.value[m];
    }
}

static void add_stow(slew_timings *t, const slew_scenario *truth, int axis)
{
    const slew_result result = run_of(truth);
    int direction = result.stored[axis] < 0 ? -1 : 1;
    slew_timing *row =
        add(t, travel(axis, direction, at_place(SLEW_PLACE_HOME), at_place(SLEW_PLACE_STOW_POINT)));
    row->measured[SLEW_MEASURE_SECONDS].value = fabs(result.stored[axis]);
    row->measured[SLEW_MEASURE_ANGLE].value = result.stow.angle[axis];
}

static slew_timing *add_deploy(slew_timings *t, const slew_scenario *truth, int axis)
{
    double seconds = truth->deploy.seconds[axis];
    slew_timing *row = add(t, travel(axis, seconds < 0 ? -1 : 1, at_place(SLEW_PLACE_STOW_POINT),
                                     at_place(SLEW_PLACE_DEPLOYED)));
    row->measured[SLEW_MEASURE_SECONDS].value = fabs(seconds);
    row->measured[SLEW_MEASURE_ANGLE].value = run_of(truth).deploy.angle[axis];
    return row;
}

static const slew_fit *fitted(const slew_scenario *start, const slew_timings *t)
{
    static slew_fit fit;
    slew_error error;
    const slew_fit_question q = {.timings = t,
                                 .keys = 2,
                                 .key = {slew_key_find("elevation.motor.no_load_speed"),
                                         slew_key_find("elevation.gear.efficiency")}};
    if (slew_fit_run(start, &q, &fit, &error) != SLEW_OK)
        fail_msg("line %d %s: %s", error.line, error.key, error.message);
    return &fit;
}

static const slew_fit_figure *figure_of(const slew_fit *fit, const char *path)
{
    for (int j = 0; j < fit->figures; j++)
        if (strcmp(slew_fit_name(fit->figure[j].key), path) == 0)
            return &fit->figure[j];
    return NULL;
}

static void set_figures(slew_scenario *s, const slew_fit *fit)
{
    for (int j = 0; j < fit->figures; j++)
        if (fit->figure[j].key >= 0)
            set_key(s, SLEW_LAYER_FILE, slew_fit_name(fit->figure[j].key), fit->figure[j].value);
}

/* ---- what is simulated ---- */

/* 0.03 deg: the run rounds its stored times to 10 ms and looks at the sensor every 5 ms */
static void a_row_is_what_the_run_does(void **state)
{
    slew_scenario s = daily_scenario();
    slew_timings t = {0};
    (void)state;
    s.deploy.seconds[R] = -3;
    add_travels(&t, &s, E);
    for (int axis = 0; axis < SLEW_AXES; axis++) {
        add_stow(&t, &s, axis);
        add_deploy(&t, &s, axis);
    }
    const slew_fit *fit = fitted(&s, &t);
    int angles = 0;
    for (int i = 0; i < fit->readings; i++)
        if (fit->reading[i].measure == SLEW_MEASURE_ANGLE) {
            near("angle", fit->reading[i].simulated, fit->reading[i].measured, degrees(0.1));
            angles++;
        }
    assert_int_equal(angles, 4);
    /* what was set is no reading; the angles have an instrument of their own, stored times too */
    assert_int_equal(fit->instrument[SLEW_MEASURE_SECONDS].readings, 2);
    assert_int_equal(fit->instrument[SLEW_MEASURE_ANGLE].readings, 4);
    assert_int_equal(fit->instrument[SLEW_FIT_STORED].readings, 2);
    assert_non_null(figure_of(fit, "angle gauge offset"));
}

/* ---- what it tells ---- */

/* Home sensor and point 1 deg off what the file says: times alone can't tell, a deploy that is read
 * does, of another deploy on another day too. */
static void a_deploy_that_is_read_tells_where_the_next_one_rests(void **state)
{
    slew_scenario truth = daily_scenario(), start = truth;
    slew_timings t = {0};
    (void)state;
    set_key(&truth, SLEW_LAYER_FILE, "elevation.home.angle", degrees(1));
    set_key(&truth, SLEW_LAYER_FILE, "stow.point.elevation", degrees(-15));
    add_travels(&t, &truth, E);
    add_stow(&t, &truth, E);
    t.row[2].measured[SLEW_MEASURE_ANGLE] = slew_timing_default().measured[SLEW_MEASURE_ANGLE];
    const slew_fit blind = *fitted(&start, &t);
    assert_null(figure_of(&blind, "elevation.home.angle"));
    double rests = run_of(&truth).deploy.angle[E];
    assert_true(blind.aim[E].any && !blind.aim[R].any);
    assert_true(fabs(blind.aim[E].angle - rests) > degrees(0.8));
    add_stow(&t, &truth, E);
    for (int i = 0; i < 3; i++)
        add_deploy(&t, &truth, E);
    const slew_fit *fit = fitted(&start, &t);
    near("deploy", fit->aim[E].angle, rests, degrees(0.25));
    assert_true(fit->aim[E].sd < 0.5 * blind.aim[E].sd);
    assert_false(figure_of(fit, "elevation.home.angle")->asked);
    set_figures(&start, fit);
    start.deploy.seconds[E] = truth.deploy.seconds[E] = 6;
    set_key(&start, SLEW_LAYER_TODAY, "supply.main.voltage", 12.2);
    set_key(&truth, SLEW_LAYER_TODAY, "supply.main.voltage", 12.2);
    near("another", run_of(&start).deploy.angle[E], run_of(&truth).deploy.angle[E], degrees(0.25));
}

/* the reading that is proposed does what was foretold */
static void the_reading_for_the_deploy_is_proposed(void **state)
{
    const slew_scenario s = daily_scenario();
    slew_timings t = {0};
    (void)state;
    add_travels(&t, &s, E);
    const slew_fit_aim before = fitted(&s, &t)->aim[E];
    assert_true(before.better);
    assert_int_equal(before.measure, SLEW_MEASURE_ANGLE);
    assert_int_equal(before.row.to.kind, SLEW_PLACE_DEPLOYED);
    assert_true(before.row.measured[SLEW_MEASURE_SECONDS].value == 7.5);
    assert_true(isnan(before.row.measured[SLEW_MEASURE_ANGLE].value));
    near("angle", before.simulated, run_of(&s).deploy.angle[E], degrees(0.1));
    add(&t, before.row)->measured[SLEW_MEASURE_ANGLE].value = before.simulated;
    const slew_fit_aim after = fitted(&s, &t)->aim[E];
    assert_true(after.sd < 0.8 * before.sd);
    /* foretold without home sensor and stow point, which float from then on */
    assert_true(after.sd > 0.95 * before.after && after.sd < 1.25 * before.after);
}

/* ---- at a stop ---- */

/* pressed on its stop the axis rests there, whatever the point: it is fitted all the same */
static void a_stow_that_ends_on_the_stop_is_fitted(void **state)
{
    slew_scenario truth = daily_scenario();
    slew_timings t = {0};
    (void)state;
    set_key(&truth, SLEW_LAYER_FILE, "stow.point.elevation", degrees(-19));
    set_key(&truth, SLEW_LAYER_TODAY, "supply.main.voltage", 15);
    set_key(&truth, SLEW_LAYER_FILE, "controller.stall.dwell", 2); /* no fault yet */
    near("on the stop", run_of(&truth).stow.angle[E], degrees(-20), degrees(0.01));
    add_travels(&t, &truth, E);
    add_stow(&t, &truth, E);
    t.row[2].measured[SLEW_MEASURE_ANGLE].value -= degrees(1); /* as a gauge may */
    add_deploy(&t, &truth, E);
    const slew_fit *fit = fitted(&truth, &t);
    for (int i = 0; i < fit->readings; i++)
        if (fit->reading[i].measure == SLEW_MEASURE_ANGLE)
            assert_true(fit->reading[i].simulated > degrees(-20.6));
    near("deploy", fit->aim[E].angle, run_of(&truth).deploy.angle[E], degrees(0.5));
}

/* ---- what is refused ---- */

static void a_deploy_that_can_t_be_is_refused(void **state)
{
    static slew_fit fit;
    slew_scenario s = daily_scenario();
    slew_timings t = {0};
    slew_error error;
    const slew_fit_question q = {
        .timings = &t, .keys = 1, .key = {slew_key_find("elevation.motor.no_load_speed")}};
    (void)state;
    add_travels(&t, &s, E);
    add_deploy(&t, &s, E);
    s.deploy.given = false;
    assert_int_equal(slew_fit_run(&s, &q, &fit, &error), SLEW_ERROR_INPUT);
    assert_int_equal(error.line, 4);
    assert_string_equal(error.message, "the scenario has no deploy");
    s.deploy.given = true;
    s.setup.axis[E].home.present = false;
    set_key(&s, SLEW_LAYER_TEACH, "supply.main.voltage", 12.6);
    assert_int_equal(slew_fit_run(&s, &q, &fit, &error), SLEW_ERROR_INPUT);
    assert_int_equal(error.line, 4);
    slew_timed timed;
    slew_setup setup;
    slew_scenario_resolve(&s, SLEW_OCCASION_STOW, &setup);
    assert_int_equal(slew_timing_simulate(&setup, &t.row[2], &timed, &error), SLEW_ERROR_INPUT);
    assert_string_equal(error.key, "to");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_row_is_what_the_run_does),
        cmocka_unit_test(a_deploy_that_is_read_tells_where_the_next_one_rests),
        cmocka_unit_test(the_reading_for_the_deploy_is_proposed),
        cmocka_unit_test(a_stow_that_ends_on_the_stop_is_fitted),
        cmocka_unit_test(a_deploy_that_can_t_be_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
