/* speed_question.c - what is asked and how it is answered: voltages, reactions, places, occasions,
 * and what is refused. */
#include "speed_ask.h"

/* ---- What is asked by default ---- */

static void default_question_is_about_the_system_voltage_and_the_nozzle(void **state)
{
    slew_scenario s = daily_scenario();
    slew_speed_question q = slew_speed_question_default(&s, SLEW_OCCASION_STOW);
    (void)state;
    assert_true(q.from == 9.0 && q.to == 15.0 && q.steps == 12);
    assert_true(q.level_count == 3 && q.pressure[0] == 0.0);
    near("half", q.pressure[1], 3.5e5, 1e-6);
    near("all", q.pressure[2], 7e5, 1e-6);
    assert_true(isnan(q.at[R]) && isnan(q.at[E]));

    s.setup.supply.system = 24.0;
    s.setup.nozzle.flow = 0.0;
    q = slew_speed_question_default(&s, SLEW_OCCASION_STOW);
    assert_true(q.from == 18.0 && q.to == 30.0 && q.level_count == 1);
    s.setup.nozzle.kind = SLEW_SMOOTH_BORE;
    assert_true(slew_nozzle_is_known(&s.setup.nozzle));
    s.setup.nozzle.pressure = 0.0;
    assert_false(slew_nozzle_is_known(&s.setup.nozzle));
}

/* ---- The answer ---- */

static void rows_are_points_and_travels_of_their_voltages(void **state)
{
    const slew_scenario s = daily_scenario();
    slew_speed_question q = slew_speed_question_default(&s, SLEW_OCCASION_STOW);
    (void)state;
    q.from = 10.0, q.to = 14.0, q.steps = 4;
    slew_speed speed = ask(&s, &q);
    assert_int_equal(speed.row_count, 5);
    for (int i = 0; i < speed.curve_count; i++) {
        const slew_speed_curve *c = &speed.curve[i];
        assert_int_equal(c->axis, i / 6);
        assert_int_equal(c->direction, i / 3 % 2 ? 1 : -1);
        assert_int_equal(c->level, i % 3);
        for (int k = 0; k <= 5; k++) {
            const slew_speed_row *row = k < 5 ? &c->row[k] : &c->own;
            slew_setup setup = daily_setup();
            setup.supply.main.voltage = k < 5 ? 10.0 + k : 13.4;
            setup.nozzle.flowing = c->level > 0;
            setup.nozzle.pressure *= c->level / 2.0;
            setup.nozzle.flow *= sqrt(c->level / 2.0);
            const slew_plant_model model = model_of(&setup);
            const slew_speed_point slow =
                slew_speed_at(&model, c->axis, c->direction, c->place.slowest);
            const slew_speed_point fast =
                slew_speed_at(&model, c->axis, c->direction, c->place.fastest);
            slew_speed_travel t;
            near("supply", row->supply, setup.supply.main.voltage, 0.0);
            close_to("slowest", row->slowest.speed, slow.speed, 1e-12);
            close_to("fastest", row->fastest.speed, fast.speed, 1e-12);
            assert_true(row->fastest.speed >= row->slowest.speed);
            slew_setup free_of_layers;
            slew_scenario_resolve(&s, SLEW_OCCASION_STOW, &free_of_layers);
            free_of_layers.nozzle = setup.nozzle;
            free_of_layers.supply.main.voltage = setup.supply.main.voltage;
            assert_int_equal(slew_speed_travel_run(&free_of_layers, c->axis, c->direction,
                                                   c->place.slowest[!c->axis], &t, NULL),
                             SLEW_OK);
            near("travel", row->travel.time, t.time, TIME);
        }
    }
    slew_speed_free(&speed);
}

/* through the same opening both forms of the reaction go with the pressure, the flow with its root
 */
static void reaction_goes_with_the_pressure(void **state)
{
    (void)state;
    for (int n = 0; n < 4; n++) {
        slew_scenario s = daily_scenario();
        s.setup.nozzle.kind = n & 1 ? SLEW_SMOOTH_BORE : SLEW_SPRAY;
        s.setup.nozzle.reaction = n & 2 ? SLEW_REACTION_MOMENTUM : SLEW_REACTION_TRADE;
        slew_speed_question q = slew_speed_question_default(&s, SLEW_OCCASION_STOW);
        q.level_count = 4;
        q.pressure[3] = 14e5;
        slew_speed speed = ask(&s, &q);
        slew_nozzle full = s.setup.nozzle;
        full.flowing = true;
        const double reaction = slew_plant_nozzle_reaction(&full);
        assert_true(speed.level[0].reaction == 0.0 && speed.level[0].flow == 0.0);
        close_to("half", speed.level[1].reaction, reaction / 2.0, 1e-12);
        close_to("full", speed.level[2].reaction, reaction, 1e-12);
        close_to("double", speed.level[3].reaction, 2.0 * reaction, 1e-12);
        if (!(n & 1))
            close_to("flow", speed.level[3].flow, full.flow * sqrt(2.0), 1e-12);
        slew_speed_free(&speed);
    }
}

static void a_given_angle_is_where_it_is_asked(void **state)
{
    const slew_scenario s = daily_scenario();
    slew_speed_question q = slew_speed_question_default(&s, SLEW_OCCASION_STOW);
    (void)state;
    q.at[E] = degrees(60.0);
    slew_speed speed = ask(&s, &q);
    for (int i = 0; i < speed.curve_count; i++) {
        const slew_speed_curve *c = &speed.curve[i];
        assert_true(c->place.slowest[E] == q.at[E] && c->place.fastest[E] == q.at[E]);
        assert_true(c->own.slowest.speed == c->own.fastest.speed);
        if (c->axis == R)
            assert_true(c->other == q.at[E]);
    }
    slew_speed_free(&speed);
}

static void each_occasion_has_its_own_conditions(void **state)
{
    slew_scenario s = daily_scenario();
    (void)state;
    set_key(&s, SLEW_LAYER_TODAY, "supply.main.voltage", 12.8);
    set_key(&s, SLEW_LAYER_DEPLOY_DAY, "environment.temperature", celsius(-15.0));
    slew_speed_question q = slew_speed_question_default(&s, SLEW_OCCASION_STOW);
    slew_speed warm = ask(&s, &q);
    q.occasion = SLEW_OCCASION_DEPLOY;
    slew_speed cold = ask(&s, &q);
    near("own voltage", cold.curve[0].own.supply, 12.8, 0.0);
    for (int i = 0; i < warm.curve_count; i++) /* thick grease */
        assert_true(cold.curve[i].own.travel.time > warm.curve[i].own.travel.time + 0.5);
    slew_speed_free(&warm);
    slew_speed_free(&cold);
    slew_speed_free(NULL);
}

/* ---- What is refused ---- */

static void refuses(const slew_scenario *s, const slew_speed_question *q, const char *key)
{
    slew_speed out;
    slew_error error;
    assert_int_equal(slew_speed_run(s, q, &out, &error), SLEW_ERROR_INPUT);
    assert_string_equal(error.key, key);
    assert_null(out.row);
    assert_int_equal(slew_speed_run(s, q, &out, NULL), SLEW_ERROR_INPUT);
}

static void questions_out_of_range_are_refused(void **state)
{
    const slew_scenario s = daily_scenario();
    const slew_speed_question good = slew_speed_question_default(&s, SLEW_OCCASION_STOW);
    slew_speed_question q = good;
    (void)state;
    q.from = 15.0, q.to = 9.0;
    refuses(&s, &q, "supply.main.voltage");
    q.to = 15.0;
    refuses(&s, &q, "supply.main.voltage");
    q.from = 9.0, q.to = INFINITY;
    refuses(&s, &q, "supply.main.voltage");
    q.to = 15.0;
    q.from = 0.0;
    refuses(&s, &q, "supply.main.voltage");
    q.from = NAN;
    refuses(&s, &q, "supply.main.voltage");
    q = good;
    q.steps = 0;
    refuses(&s, &q, "");
    q.steps = 1000001;
    refuses(&s, &q, "");
    q = good;
    q.level_count = 0;
    refuses(&s, &q, "");
    q.level_count = SLEW_SPEED_LEVELS_MAX + 1;
    refuses(&s, &q, "");
    q = good;
    q.pressure[1] = -1.0;
    refuses(&s, &q, "nozzle.pressure");
    q.pressure[1] = INFINITY;
    refuses(&s, &q, "nozzle.pressure");
    q = good;
    q.at[R] = degrees(171.0);
    refuses(&s, &q, "rotation");
    q.at[R] = degrees(-171.0);
    refuses(&s, &q, "rotation");
}

static void scenarios_that_do_not_fit_are_refused(void **state)
{
    slew_scenario s = daily_scenario();
    const slew_speed_question wet = slew_speed_question_default(&s, SLEW_OCCASION_STOW);
    slew_speed_question dry = wet;
    (void)state;
    dry.level_count = 1;
    s.setup.nozzle.flow = 0.0;
    refuses(&s, &wet, "nozzle.pressure");
    s.setup.nozzle.flowing = true;
    refuses(&s, &dry, "nozzle.flowing");
    s = daily_scenario();
    s.setup.supply.main.voltage = 0.5;
    refuses(&s, &wet, "supply.main.voltage");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(default_question_is_about_the_system_voltage_and_the_nozzle),
        cmocka_unit_test(rows_are_points_and_travels_of_their_voltages),
        cmocka_unit_test(reaction_goes_with_the_pressure),
        cmocka_unit_test(a_given_angle_is_where_it_is_asked),
        cmocka_unit_test(each_occasion_has_its_own_conditions),
        cmocka_unit_test(questions_out_of_range_are_refused),
        cmocka_unit_test(scenarios_that_do_not_fit_are_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
