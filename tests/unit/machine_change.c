/* machine_change.c - other conditions while it moves, against closed forms. */
#include "machine_steps.h"

/* An angle of a smooth course is known to rounding and the tolerance of the steps, 1e-11 rad. */
static const double ANGLE = 1e-10;

static story told;

static slew_machine fresh(void)
{
    told.count = 0;
    return daily_machine();
}

/* ---- Rotation on level ground: one exponential ---- */

typedef struct turning {
    double angle, speed; /* of the motor */
} turning;

/* how rotation goes on, driven +, under the setup's conditions */
static turning after(turning t, const slew_setup *setup, double outside, double seconds)
{
    slew_plant_model model;
    assert_int_equal(slew_plant_model_build(setup, &model, NULL), SLEW_OK);
    const slew_plant_axis *a = &model.axis[R];
    const double total = a->resistance + model.line_resistance;
    const double damping = a->constant * a->constant / total + a->viscous;
    const double tau = a->friction + outside + model.reaction[R] * cos(setup->axis[E].start);
    const double drag = a->coulomb + tau / (a->forward * a->ratio);
    const double end = (a->constant * (model.line_voltage - a->drop) / total - drag) / damping;
    const double rate = damping / a->inertia;
    const double lag = t.speed - end;
    t.angle += (end * seconds - lag * expm1(-rate * seconds) / rate) / a->ratio;
    t.speed = end + lag * exp(-rate * seconds);
    return t;
}

/* driven +, the machine goes through two changes, cut into many advances */
static void goes_like(void (*change)(slew_setup *, int n), const char *what)
{
    slew_machine m = fresh();
    turning t = {m.setup.axis[R].start, 0.0};
    slew_setup setup = m.setup;
    slew_machine_jog(&m, R, 1);
    for (int n = 0; n < 3; n++) {
        const double until = m.time + 0.037 * (n + 1);
        keep_until(&m, until, 0.001, &told);
        t = after(t, &setup, 0.0, until - (until - 0.037 * (n + 1)));
        near(what, slew_machine_look(&m).angle[R], t.angle, ANGLE);
        near(what, slew_machine_look(&m).speed[R], t.speed / m.setup.axis[R].gear.ratio, 1e-9);
        change(&setup, n);
        assert_int_equal(slew_machine_change(&m, &setup, NULL), SLEW_OK);
    }
}

static void other_supply(slew_setup *s, int n)
{
    s->supply.main.voltage = n ? 14.2 : 11.0;
    s->supply.feed.length *= 1.7;
}

static void other_weather(slew_setup *s, int n)
{
    s->environment.temperature = celsius(n ? 40.0 : -25.0);
}

static void warm_from_use(slew_setup *s, int n)
{
    s->axis[R].motor.winding_rise = n ? 70.0 : 35.0;
}

static void other_load(slew_setup *s, int n)
{
    s->axis[R].load.friction = n ? 2.0 : 20.0;
    s->axis[R].load.inertia += 1.0; /* at the motor: its speed stays */
}

static void water(slew_setup *s, int n)
{
    s->nozzle.flowing = n == 0;
}

static void motion_follows_what_changes(void **state)
{
    (void)state;
    goes_like(other_supply, "supply");
    goes_like(other_weather, "temperature");
    goes_like(warm_from_use, "winding");
    goes_like(other_load, "load");
    goes_like(water, "nozzle");
}

static void torque_from_outside_brakes_and_helps(void **state)
{
    static const double torque[] = {0.0, 25.0, -3.0, 12.0};
    slew_machine m = fresh();
    turning t = {m.setup.axis[R].start, 0.0};
    (void)state;
    slew_machine_jog(&m, R, 1);
    for (int n = 0; n < 4; n++) {
        assert_int_equal(slew_machine_load(&m, R, torque[n]), SLEW_OK);
        keep_until(&m, 0.1 * (n + 1), 0.003, &told);
        t = after(t, &m.setup, torque[n], 0.1);
        near("angle", slew_machine_look(&m).angle[R], t.angle, ANGLE);
    }
    assert_int_equal(slew_machine_load(&m, R, NAN), SLEW_ERROR_INPUT);
    assert_int_equal(slew_machine_load(&m, 2, 1.0), SLEW_ERROR_INPUT);
    /* kept when conditions change */
    slew_setup setup = m.setup;
    setup.supply.main.voltage = 12.0;
    assert_int_equal(slew_machine_change(&m, &setup, NULL), SLEW_OK);
    keep_until(&m, 0.5, 0.003, &told);
    t = after(t, &setup, torque[3], 0.1);
    near("angle", slew_machine_look(&m).angle[R], t.angle, ANGLE);
}

/* ---- The same conditions ---- */

/* a change to what is already so is a new step, no other motion */
static void change_that_is_none_changes_nothing(void **state)
{
    static story plain;
    slew_machine m = fresh(), twin = m;
    (void)state;
    plain.count = 0;
    slew_machine_stow(&m);
    slew_machine_stow(&twin);
    keep_until(&m, 30.0, INFINITY, &plain);
    for (double t = 0.1; t < 30.0; t += 0.0371) {
        keep_until(&twin, t, INFINITY, &told);
        const slew_setup same = twin.setup;
        assert_int_equal(slew_machine_change(&twin, &same, NULL), SLEW_OK);
    }
    keep_until(&twin, 30.0, INFINITY, &told);
    assert_int_equal(told.count, plain.count);
    for (int i = 0; i < plain.count; i++) {
        assert_true(same_sort(&plain.event[i], &told.event[i]));
        near("time", told.event[i].time, plain.event[i].time, 1e-9);
        near("angle", told.event[i].angle[E], plain.event[i].angle[E], ANGLE * 10.0);
    }
}

/* ---- Holding ---- */

static void axis_that_did_not_hold_is_asked_anew(void **state)
{
    slew_machine m = fresh();
    (void)state;
    keep_until(&m, 1.0, INFINITY, &told);
    assert_int_equal(told.count, 0);
    slew_setup open = m.setup;
    open.axis[E].gear.backward_efficiency = 0.3;
    assert_int_equal(slew_machine_change(&m, &open, NULL), SLEW_OK);
    assert_int_equal(slew_machine_load(&m, E, 1000.0), SLEW_OK);
    keep_until(&m, 2.0, INFINITY, &told);
    assert_int_equal(told.event[0].kind, SLEW_EVENT_DOES_NOT_HOLD);
    assert_int_equal(told.event[0].direction, -1);
    assert_true(!m.holds && m.time == 1.0);
    assert_false(slew_machine_stow(&m) || slew_machine_deploy(&m) || slew_machine_cancel(&m) ||
                 slew_machine_jog(&m, R, 1));
    assert_int_equal(slew_machine_load(&m, E, 0.0), SLEW_OK);
    assert_true(m.holds && slew_machine_stow(&m));
    assert_int_equal(keep_to(&m, SLEW_EVENT_DONE, &told)->kind, SLEW_EVENT_DONE);
}

/* ---- Sensors ---- */

/* the edge that the change makes is seen like any other: latency after the grid */
static void sensor_that_the_change_closes_is_found(void **state)
{
    slew_machine m = fresh();
    slew_setup stuck = m.setup;
    (void)state;
    slew_machine_stow(&m);
    keep_until(&m, 1.0001, INFINITY, &told);
    stuck.axis[E].home.stuck = true;
    assert_int_equal(slew_machine_change(&m, &stuck, NULL), SLEW_OK);
    const slew_event *found = keep_to(&m, SLEW_EVENT_HOME_FOUND, &told);
    const slew_event *edge = seek(&told, SLEW_EVENT_SWITCH_CLOSED, E, 0);
    assert_true(edge->time == 1.0001 && edge->direction == -1);
    near("acted on", found->time, 1.005 + stuck.controller.latency, 1e-12);

    /* and lost: the window is left behind without an edge */
    stuck.axis[E].home.stuck = false;
    assert_int_equal(slew_machine_change(&m, &stuck, NULL), SLEW_OK);
    const slew_event *open = keep_to(&m, SLEW_EVENT_SWITCH_OPEN, &told);
    assert_true(open->axis == E && open->time == m.time);
}

static void closed_sensor_stays_closed_within_release(void **state)
{
    slew_scenario s = daily_scenario();
    bench b;
    (void)state;
    s.setup.axis[R].start = degrees(2.5);
    assert_true(prepare_bench(&s, &b));
    slew_machine m = machine_of(&b);
    slew_setup setup = m.setup;
    assert_true(slew_machine_look(&m).closed[R]);
    setup.axis[R].home.operate = degrees(1.0);
    assert_int_equal(slew_machine_change(&m, &setup, NULL), SLEW_OK);
    assert_true(slew_machine_look(&m).closed[R]);
    setup.axis[R].home.release = degrees(2.0);
    assert_int_equal(slew_machine_change(&m, &setup, NULL), SLEW_OK);
    assert_false(slew_machine_look(&m).closed[R]);
}

/* ---- Keep-out ---- */

/* the mark that has just been passed is not passed again */
static void change_on_a_mark_does_not_tell_it_twice(void **state)
{
    slew_scenario s = daily_scenario();
    bench b;
    (void)state;
    s.keepout.count = 1;
    s.keepout.box[0].axis[E] = (slew_range){degrees(10.0), degrees(20.0)};
    s.keepout.box[0].axis[R] = (slew_range){-INFINITY, INFINITY};
    assert_true(prepare_bench(&s, &b));
    slew_machine m = machine_of(&b);
    slew_machine_stow(&m);
    told.count = 0;
    for (slew_event_kind kind = SLEW_EVENT_KEEPOUT_ENTERED; kind <= SLEW_EVENT_KEEPOUT_LEFT;
         kind++) {
        keep_to(&m, kind, &told);
        const slew_setup same = m.setup;
        assert_int_equal(slew_machine_change(&m, &same, NULL), SLEW_OK);
    }
    keep_to(&m, SLEW_EVENT_DONE, &told);
    assert_true(seek(&told, SLEW_EVENT_KEEPOUT_ENTERED, ANY_AXIS, 0)->angle[E] == degrees(20.0));
    assert_int_equal(count_of(&told, SLEW_EVENT_KEEPOUT_ENTERED, ANY_AXIS), 1);
    assert_int_equal(count_of(&told, SLEW_EVENT_KEEPOUT_LEFT, ANY_AXIS), 1);
}

/* ---- Refused ---- */

static void refused(slew_machine *m, const slew_setup *setup, const char *key)
{
    slew_machine before;
    slew_error error;
    memcpy(&before, m, sizeof before);
    assert_int_equal(slew_machine_change(m, setup, &error), SLEW_ERROR_INPUT);
    assert_string_equal(error.key, key);
    assert_memory_equal(&before, m, sizeof before);
}

static void what_can_not_change_in_motion_is_refused(void **state)
{
    slew_machine m = fresh();
    const slew_setup own = m.setup;
    (void)state;
    slew_machine_jog(&m, R, 1);
    keep_until(&m, 1.0, INFINITY, &told);
    slew_setup s = own;
    s.axis[R].gear.ratio *= 2.0;
    refused(&m, &s, "rotation");
    s = own, s.axis[R].reversed = true;
    refused(&m, &s, "rotation");
    s = own, s.axis[R].stops.high += 0.1;
    refused(&m, &s, "rotation");
    s = own, s.axis[E].stops.high = degrees(41.0); /* it stands at 42 */
    refused(&m, &s, "elevation.start");
    s = own, s.supply.main.voltage = 0.1;
    refused(&m, &s, "supply.main.voltage");
    s = own, s.axis[E].gear.ratio *= 2.0; /* at rest it may */
    assert_int_equal(slew_machine_change(&m, &s, NULL), SLEW_OK);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(motion_follows_what_changes),
        cmocka_unit_test(torque_from_outside_brakes_and_helps),
        cmocka_unit_test(change_that_is_none_changes_nothing),
        cmocka_unit_test(axis_that_did_not_hold_is_asked_anew),
        cmocka_unit_test(sensor_that_the_change_closes_is_found),
        cmocka_unit_test(closed_sensor_stays_closed_within_release),
        cmocka_unit_test(change_on_a_mark_does_not_tell_it_twice),
        cmocka_unit_test(what_can_not_change_in_motion_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
