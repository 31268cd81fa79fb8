/*
 * card_steps.c - what a check card asks for and expects; what it leaves out and refuses.
 */
#include "../support.h"

#include "slewtime/card.h"

static slew_card card_of(const slew_scenario *s)
{
    slew_card card;
    slew_sampling how = slew_sampling_default();
    how.samples = 512; /* 8 shifts of 64 points: a share is right to 1/64 */
    assert_int_equal(slew_card_run(s, &how, &card, NULL), SLEW_OK);
    return card;
}

static slew_scenario plain_scenario(void)
{
    slew_scenario s = daily_scenario();
    s.truck.count = s.day.count = 0;
    return s;
}

static const slew_card_step *find(const slew_card *card, slew_card_kind kind, int axis,
                                  int direction, slew_place_kind to)
{
    for (int i = 0; i < card->steps; i++) {
        const slew_card_step *step = &card->step[i];
        if (step->kind == kind && step->row.axis == axis && step->row.direction == direction &&
            step->row.to.kind == to)
            return step;
    }
    fail_msg("no such step");
    return NULL;
}

static double expected(const slew_card_step *step, slew_card_read read)
{
    for (int k = 0; k < step->readings; k++)
        if (step->reading[k].read == read)
            return step->reading[k].expected;
    fail_msg("no such reading");
    return NAN;
}

/* ---- what is expected ---- */

static void every_way_of_every_axis_is_there(void **state)
{
    slew_scenario s = plain_scenario();
    slew_card card = card_of(&s);
    (void)state;
    assert_int_equal(card.steps, 15);
    find(&card, SLEW_CARD_TRAVEL, SLEW_NO_AXIS, 0, SLEW_PLACE_NONE);
    for (int axis = 0; axis < SLEW_AXES; axis++) {
        find(&card, SLEW_CARD_TRAVEL, axis, -1, SLEW_PLACE_LOW_STOP);
        find(&card, SLEW_CARD_TRAVEL, axis, +1, SLEW_PLACE_HIGH_STOP);
        find(&card, SLEW_CARD_TRAVEL, axis, -1, SLEW_PLACE_HOME);
        find(&card, SLEW_CARD_TRAVEL, axis, +1, SLEW_PLACE_HOME);
    }
    for (int i = 0; i < card.steps; i++)
        assert_false(card.step[i].left_out);
}

/* Ohm's law along the cable: the current of all that hangs on its far end */
static void cable_drop_is_current_times_resistance(void **state)
{
    slew_scenario s = plain_scenario();
    slew_card card = card_of(&s);
    slew_setup setup;
    slew_plant_model model;
    (void)state;
    slew_scenario_resolve(&s, SLEW_OCCASION_STOW, &setup);
    assert_int_equal(slew_plant_model_build(&setup, &model, NULL), SLEW_OK);
    double cable = model.line_resistance - setup.supply.main.resistance;
    const slew_card_step *up =
        find(&card, SLEW_CARD_TRAVEL, SLEW_ELEVATION, +1, SLEW_PLACE_HIGH_STOP);
    assert_true(cable > 0);
    close_to("at rest", expected(&card.step[0], SLEW_CARD_DROP), setup.supply.shared_load * cable,
             1e-12);
    close_to("moving", expected(up, SLEW_CARD_DROP),
             (setup.supply.shared_load + expected(up, SLEW_CARD_CURRENT)) * cable, 1e-12);
}

static void stow_and_deploy_are_those_of_a_run(void **state)
{
    slew_scenario s = plain_scenario();
    slew_card card = card_of(&s);
    slew_result r;
    (void)state;
    assert_int_equal(slew_run(&s, SLEW_STOW_AND_DEPLOY, NULL, &r, NULL), SLEW_OK);
    const slew_card_step *stow = &card.step[11], *deploy = &card.step[14];
    assert_int_equal(stow->kind, SLEW_CARD_STOW);
    assert_int_equal(deploy->kind, SLEW_CARD_DEPLOY);
    assert_int_equal(stow->says, SLEW_STOWED);
    assert_int_equal(deploy->says, SLEW_DEPLOYED);
    assert_true(expected(stow, SLEW_CARD_SECONDS) == r.stow.duration);
    assert_true(expected(stow, SLEW_CARD_ELEVATION) == r.stow.angle[SLEW_ELEVATION]);
    assert_true(expected(stow, SLEW_CARD_ROTATION) == r.stow.angle[SLEW_ROTATION]);
    assert_true(expected(deploy, SLEW_CARD_ELEVATION) == r.deploy.angle[SLEW_ELEVATION]);
    assert_true(expected(deploy, SLEW_CARD_LOWEST) == r.lowest_loaded_voltage);
}

static void stows_begin_on_both_sides_of_home(void **state)
{
    slew_scenario s = plain_scenario(), other = s;
    slew_card card = card_of(&s);
    slew_result r;
    (void)state;
    for (int i = 12; i < 14; i++) {
        const slew_card_step *step = &card.step[i];
        near("start", step->start[SLEW_ROTATION], degrees(i == 12 ? -85.0 : 85.0), 1e-12);
        /* today: it was taught from its own start */
        assert_int_equal(slew_scenario_set_number(&other, SLEW_LAYER_TODAY,
                                                  slew_key_find("rotation.start"),
                                                  step->start[SLEW_ROTATION]),
                         SLEW_OK);
        assert_int_equal(slew_run(&other, SLEW_STOW_ONLY, NULL, &r, NULL), SLEW_OK);
        assert_true(expected(step, SLEW_CARD_SECONDS) == r.stow.duration);
    }
}

/* what a controller has stored for the point, by its direction */
static void stored_times_are_asked_for(void **state)
{
    slew_scenario s = plain_scenario();
    slew_card card = card_of(&s);
    double stored[SLEW_AXES];
    (void)state;
    assert_int_equal(slew_teach(&s, stored, NULL), SLEW_OK);
    for (int axis = 0; axis < SLEW_AXES; axis++) {
        const slew_card_step *step =
            find(&card, SLEW_CARD_TRAVEL, axis, stored[axis] < 0 ? -1 : 1, SLEW_PLACE_STOW_POINT);
        assert_int_equal(step->readings, 1);
        assert_true(expected(step, SLEW_CARD_STORED) == fabs(stored[axis]));
        near("band", step->reading[0].to, fabs(stored[axis]) + 1.959964 * 0.01, 2e-5);
    }
}

/* ---- what is not ---- */

static void what_makes_no_sense_is_left_out_and_said(void **state)
{
    slew_scenario s = plain_scenario();
    (void)state;
    s.setup.axis[SLEW_ROTATION].home.present = false;
    s.stow.has_times = true; /* without a sensor nothing can be taught */
    s.stow.times[SLEW_ROTATION] = s.stow.times[SLEW_ELEVATION] = 0;
    slew_card card = card_of(&s);
    const slew_card_step *home = find(&card, SLEW_CARD_TRAVEL, SLEW_ROTATION, -1, SLEW_PLACE_HOME);
    assert_true(home->left_out);
    assert_non_null(strstr(home->why, "never closes"));
    assert_int_equal(card.step[11].fault, SLEW_FAULT_HOME_NOT_FOUND);
    assert_int_equal(card.step[11].axis, SLEW_ROTATION);
    assert_true(card.step[14].left_out);
    assert_non_null(strstr(card.step[14].why, "does not end in stowed"));
}

static void without_a_deploy_there_is_none(void **state)
{
    slew_scenario s = plain_scenario();
    (void)state;
    s.deploy.given = false;
    slew_card card = card_of(&s);
    assert_true(card.step[14].left_out);
    assert_non_null(strstr(card.step[14].why, "no deploy"));
    assert_false(card.step[11].left_out);
}

static void an_axis_that_stalls_is_left_out(void **state)
{
    slew_scenario s = plain_scenario();
    (void)state;
    s.stow.has_times = true;
    s.stow.times[SLEW_ROTATION] = s.stow.times[SLEW_ELEVATION] = 0;
    s.setup.axis[SLEW_ROTATION].load.friction = 2000.0;
    slew_card card = card_of(&s);
    const slew_card_step *left =
        find(&card, SLEW_CARD_TRAVEL, SLEW_ROTATION, -1, SLEW_PLACE_LOW_STOP);
    assert_true(left->left_out);
    assert_non_null(strstr(left->why, "stalls"));
}

/* a quarter of the days has a rotation that can't turn */
static void share_of_stalls_is_told(void **state)
{
    slew_scenario s = plain_scenario();
    (void)state;
    s.day.count = 1;
    s.day.item[0] = (slew_variation){.key = slew_key_find("rotation.load.friction"),
                                     .distribution = SLEW_TABLE,
                                     .count = 2,
                                     .value = {8.0, 2000.0},
                                     .weight = {3, 1}};
    slew_card card = card_of(&s);
    const slew_card_step *left =
        find(&card, SLEW_CARD_TRAVEL, SLEW_ROTATION, -1, SLEW_PLACE_LOW_STOP);
    const slew_card_step *up =
        find(&card, SLEW_CARD_TRAVEL, SLEW_ELEVATION, +1, SLEW_PLACE_HIGH_STOP);
    near("stalls", left->agrees, 0.75, 1.0 / 64);
    assert_true(up->agrees == 1);
    near("stows", card.step[11].agrees, 0.75, 1.0 / 64);
    /* the band is that of the travels that are made */
    near("low", left->reading[0].low, left->reading[0].expected, 1e-9);
    near("high", left->reading[0].high, left->reading[0].expected, 1e-9);
    /* and of the stows that end as expected */
    near("low", card.step[11].reading[0].low, card.step[11].reading[0].expected, 1e-9);
    near("high", card.step[11].reading[0].high, card.step[11].reading[0].expected, 1e-9);
}

static void what_cannot_be_taught_is_refused(void **state)
{
    slew_scenario s = plain_scenario();
    slew_card card;
    slew_error error = {0};
    slew_sampling how = slew_sampling_default();
    (void)state;
    s.setup.axis[SLEW_ROTATION].home.present = false;
    assert_int_equal(slew_card_run(&s, &how, &card, &error), SLEW_ERROR_TEACH);
    assert_true(error.message[0] != '\0');
}

static bool stop(void *context, int64_t done)
{
    (void)context;
    (void)done;
    return false;
}

static void stopping_is_said(void **state)
{
    slew_scenario s = plain_scenario();
    slew_card card;
    slew_sampling how = slew_sampling_default();
    (void)state;
    s.day.count = 1;
    s.day.item[0] = (slew_variation){.key = slew_key_find("supply.main.voltage"),
                                     .distribution = SLEW_UNIFORM,
                                     .low = 12.0,
                                     .high = 14.0};
    how.samples = 100000;
    how.progress = stop;
    assert_int_equal(slew_card_run(&s, &how, &card, NULL), SLEW_ERROR_STOPPED);
    assert_true(card.samples < 100000);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_way_of_every_axis_is_there),
        cmocka_unit_test(cable_drop_is_current_times_resistance),
        cmocka_unit_test(stow_and_deploy_are_those_of_a_run),
        cmocka_unit_test(stored_times_are_asked_for),
        cmocka_unit_test(stows_begin_on_both_sides_of_home),
        cmocka_unit_test(what_makes_no_sense_is_left_out_and_said),
        cmocka_unit_test(without_a_deploy_there_is_none),
        cmocka_unit_test(an_axis_that_stalls_is_left_out),
        cmocka_unit_test(share_of_stalls_is_told),
        cmocka_unit_test(what_cannot_be_taught_is_refused),
        cmocka_unit_test(stopping_is_said),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
