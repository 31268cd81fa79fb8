/* motion_switches.c - home switches and marks: what is told of an angle, and when. */
#include "motion_plant.h"

/* ---- Switches and marks ---- */

/* drives rotation from one side past home: angles of the closing and the opening edge */
static void edges_from(double start, int direction, double closes, double opens)
{
    const slew_plant_model model = daily_model();
    const decay d = driven(&model, R);
    slew_plant plant = plant_at(&model, start, 0.0);

    start_drive(&model, &plant, R, direction);
    const double angle[2] = {closes, opens};
    for (int i = 0; i < 2; i++) {
        const slew_plant_event event =
            next(&model, &plant, 9.0, i == 0 ? SLEW_PLANT_SWITCH_CLOSED : SLEW_PLANT_SWITCH_OPEN);
        assert_true(event.axis == R && event.direction == direction);
        assert_true(plant.closed[R] == (i == 0));
        near("edge", degrees(start) + direction * turn_after(d, 0.0, plant.time) / 1750.0,
             degrees(angle[i]), ANGLE);
        near("angle", plant.angle[R], degrees(angle[i]), ANGLE);
    }
    next(&model, &plant, plant.time + 0.5, SLEW_PLANT_NOTHING);
}

static void switch_closes_within_operate_and_opens_beyond_release(void **state)
{
    (void)state;
    edges_from(-10.0, 1, -3.0, 4.0);
    edges_from(10.0, -1, 3.0, -4.0);
}

static void switch_at_the_start_is_closed_within_operate_only(void **state)
{
    slew_plant_model model = daily_model();
    (void)state;
    assert_true(plant_at(&model, 2.999, 0.0).closed[R]);
    assert_false(plant_at(&model, 3.5, 0.0).closed[R]); /* between operate and release */
    model.axis[R].home.stuck = true;
    assert_true(plant_at(&model, 120.0, 0.0).closed[R]);
    model.axis[R].home.present = false;
    assert_false(plant_at(&model, 0.0, 0.0).closed[R]);
}

/* an axis that turns back between operate and release keeps the state it has */
static void switch_has_hysteresis(void **state)
{
    const slew_plant_model model = daily_model();
    slew_plant plant = plant_at(&model, 3.5, 0.0);
    (void)state;

    start_drive(&model, &plant, R, -1);
    next(&model, &plant, 9.0, SLEW_PLANT_SWITCH_CLOSED);
    slew_plant_drive(&model, &plant, R, 0);
    next(&model, &plant, 9.0, SLEW_PLANT_AT_REST);
    start_drive(&model, &plant, R, 1);
    while (plant.angle[R] < degrees(3.6))
        next(&model, &plant, plant.time + 0.01, SLEW_PLANT_NOTHING);
    assert_true(plant.closed[R]);
    next(&model, &plant, 9.0, SLEW_PLANT_SWITCH_OPEN);
    near("opens", plant.angle[R], degrees(4.0), ANGLE);
}

static slew_plant_model marked(double angle, int on)
{
    slew_plant_model model = daily_model();
    assert_true(slew_plant_model_watch_angle(&model, R, (slew_mark){degrees(angle), on, 7}));
    return model;
}

/* drives from exactly on a mark: is it passed? */
static bool passes_from_on_it(int on, int direction)
{
    const slew_plant_model model = marked(60.0, on);
    slew_plant plant = plant_at(&model, 60.0, 0.0);
    start_drive(&model, &plant, R, direction);
    const slew_plant_event event = slew_plant_advance(&model, &plant, 0.5);
    if (event.kind == SLEW_PLANT_NOTHING)
        return false;
    assert_int_equal(event.kind, SLEW_PLANT_MARK);
    assert_true(event.index == 7 && event.axis == R && event.direction == direction);
    near("at once", plant.time, 0.0, TIME);
    next(&model, &plant, 0.5, SLEW_PLANT_NOTHING);
    return true;
}

static void axis_on_a_mark_is_beyond_or_before_it_as_told(void **state)
{
    (void)state;
    assert_false(passes_from_on_it(1, 1));
    assert_true(passes_from_on_it(1, -1));
    assert_true(passes_from_on_it(-1, 1));
    assert_false(passes_from_on_it(-1, -1));
}

static void mark_is_passed_at_its_angle_each_way(void **state)
{
    const slew_plant_model model = marked(61.0, 1);
    slew_plant plant = plant_at(&model, 60.0, 0.0);
    (void)state;

    for (int direction = 1; direction >= -1; direction -= 2) {
        start_drive(&model, &plant, R, direction);
        const slew_plant_event event = next(&model, &plant, 99.0, SLEW_PLANT_MARK);
        assert_int_equal(event.direction, direction);
        near("angle", plant.angle[R], degrees(61.0), ANGLE);
        next(&model, &plant, plant.time + 0.1, SLEW_PLANT_NOTHING);
        slew_plant_drive(&model, &plant, R, 0);
        next(&model, &plant, 99.0, SLEW_PLANT_AT_REST);
    }
}

/* a mark on a stop belongs to the side it is told to: reached, or never passed */
static void mark_on_a_stop_is_reached_only_if_on_it_is_beyond(void **state)
{
    (void)state;
    for (int on = -1; on <= 1; on += 2) {
        const slew_plant_model model = marked(170.0, on);
        slew_plant plant = plant_at(&model, 169.0, 0.0);
        int passed = 0, contacts = 0;
        start_drive(&model, &plant, R, 1);
        slew_plant_event event;
        while ((event = slew_plant_advance(&model, &plant, 2.0)).kind != SLEW_PLANT_NOTHING) {
            passed += event.kind == SLEW_PLANT_MARK;
            contacts += event.kind == SLEW_PLANT_STOP_CONTACT;
        }
        assert_int_equal(contacts, 1);
        assert_int_equal(passed, on > 0);
    }
}

static void marks_have_room_and_an_end(void **state)
{
    slew_plant_model model = daily_model();
    (void)state;
    for (int i = 0; i < SLEW_MARKS_MAX; i++)
        assert_true(slew_plant_model_watch_angle(&model, R, (slew_mark){degrees(-i), 1, i}));
    assert_false(slew_plant_model_watch_angle(&model, R, (slew_mark){0.0, 1, 0}));
    for (int i = 1; i < SLEW_MARKS_MAX; i++)
        assert_true(model.axis[R].mark[i - 1].angle < model.axis[R].mark[i].angle);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(switch_closes_within_operate_and_opens_beyond_release),
        cmocka_unit_test(switch_at_the_start_is_closed_within_operate_only),
        cmocka_unit_test(switch_has_hysteresis),
        cmocka_unit_test(axis_on_a_mark_is_beyond_or_before_it_as_told),
        cmocka_unit_test(mark_is_passed_at_its_angle_each_way),
        cmocka_unit_test(mark_on_a_stop_is_reached_only_if_on_it_is_beyond),
        cmocka_unit_test(marks_have_room_and_an_end),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
