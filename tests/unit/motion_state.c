/* motion_state.c - the state of the machine: it can be copied, cut into pieces and handed on. */
#include "motion_plant.h"

/* ---- State ---- */

/* tilted, flowing, both axes driven, with watches: as little of it as possible is simple */
static slew_plant_model busy_model(void)
{
    slew_setup setup = daily_setup();
    setup.environment.tilt = degrees(12.0);
    setup.environment.tilt_direction = degrees(50.0);
    setup.nozzle.flowing = true;
    setup.supply.auxiliary_fitted = true;
    slew_plant_model model = model_of(&setup);
    model.watch_voltage[0] = 12.3;
    model.axis[R].watch_current = 3.0;
    model.axis[E].watch_current = 13.0;
    for (int i = -40; i <= 60; i += 7)
        slew_plant_model_watch_angle(&model, R, (slew_mark){degrees(i), 1, i});
    return model;
}

enum { PROGRAM_MAX = 200 };

typedef struct course {
    int count;
    double time[PROGRAM_MAX], angle[PROGRAM_MAX][SLEW_AXES];
    slew_plant end;
} course;

/* advances to `until` in pieces of about `piece`, noting the events */
static void follow(const slew_plant_model *model, slew_plant *plant, double until, double piece,
                   course *out)
{
    while (plant->time < until) {
        const double target = fmin(until, plant->time + piece * (1.0 + 0.37 * sin(plant->time)));
        const slew_plant_event event = slew_plant_advance(model, plant, target);
        if (event.kind == SLEW_PLANT_NOTHING)
            continue;
        assert_in_range(out->count, 0, PROGRAM_MAX - 1);
        out->time[out->count] = plant->time;
        memcpy(out->angle[out->count++], plant->angle, sizeof plant->angle);
    }
}

static void program(const slew_plant_model *model, slew_plant *plant, double piece, course *out)
{
    static const struct {
        double until;
        int drive[SLEW_AXES];
    } leg[] = {{1.0, {1, 0}}, {2.5, {1, -1}}, {3.0, {0, -1}}, {5.0, {-1, 1}}, {6.0, {0, 0}}};
    const double start = plant->time;
    for (size_t i = 0; i < sizeof leg / sizeof *leg; i++) {
        for (int j = 0; j < SLEW_AXES; j++)
            if (plant->drive[j] != leg[i].drive[j])
                slew_plant_drive(model, plant, j, leg[i].drive[j]);
        follow(model, plant, start + leg[i].until, piece, out);
    }
    out->end = *plant;
}

static void same_course(const course *a, const course *b)
{
    assert_int_equal(a->count, b->count);
    for (int i = 0; i < a->count; i++) {
        assert_true(a->time[i] == b->time[i]);
        assert_memory_equal(a->angle[i], b->angle[i], sizeof a->angle[i]);
    }
    assert_memory_equal(a->end.angle, b->end.angle, sizeof a->end.angle);
    assert_true(a->end.time == b->end.time && a->end.voltage == b->end.voltage);
}

static void small_pieces_give_the_same_bits_as_one_advance(void **state)
{
    const slew_plant_model model = busy_model();
    course whole = {0}, parts = {0};
    slew_plant plant = plant_at(&model, -30.0, 42.0);
    (void)state;

    program(&model, &plant, 100.0, &whole);
    assert_in_range(whole.count, 15, PROGRAM_MAX);
    for (double piece = 0.0007; piece < 1.0; piece *= 9.0) {
        plant = plant_at(&model, -30.0, 42.0);
        memset(&parts, 0, sizeof parts);
        program(&model, &plant, piece, &parts);
        same_course(&whole, &parts);
    }
}

static void copy_of_the_state_goes_on_like_the_original(void **state)
{
    const slew_plant_model model = busy_model();
    course first = {0}, second = {0};
    slew_plant plant = plant_at(&model, -30.0, 42.0);
    (void)state;

    slew_plant_drive(&model, &plant, E, -1);
    while (plant.time < 0.4321)
        slew_plant_advance(&model, &plant, 0.4321);
    slew_plant copy = plant;
    program(&model, &plant, 100.0, &first);
    program(&model, &copy, 100.0, &second);
    assert_in_range(first.count, 15, PROGRAM_MAX);
    same_course(&first, &second);
}

/* mounted on other conditions it stands where it stood, at the same time */
static void transfer_keeps_time_place_and_a_closed_switch(void **state)
{
    slew_setup setup = daily_setup();
    const slew_plant_model before = model_of(&setup);
    setup.supply.main.voltage = 12.0;
    setup.axis[R].home.operate = degrees(1.0);
    const slew_plant_model after = model_of(&setup);
    slew_plant plant = plant_at(&before, 2.5, 20.0);
    (void)state;

    next(&before, &plant, 3.0, SLEW_PLANT_NOTHING);
    slew_plant_transfer(&before, &after, &plant);
    assert_true(plant.time == 3.0 && plant.angle[R] == degrees(2.5) && plant.closed[R]);
    near("voltage", plant.voltage, after.line_voltage, 1e-15);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(small_pieces_give_the_same_bits_as_one_advance),
        cmocka_unit_test(copy_of_the_state_goes_on_like_the_original),
        cmocka_unit_test(transfer_keeps_time_place_and_a_closed_switch),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
