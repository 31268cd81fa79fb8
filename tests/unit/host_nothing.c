/*
 * host_nothing.c - the same as host_arguments.c asks, argument by argument: where one is there and
 * another is not, and where an axis is one too few or too many.
 */
#include "host_question.h"

static void an_answer_needs_room(void **state)
{
    (void)state;
    const slew_window_question window = slew_window_question_default(SLEW_ROTATION);
    const slew_speed_question speed = slew_speed_question_default(&s, SLEW_OCCASION_STOW);
    const slew_feed_question feed = {.occasion = SLEW_OCCASION_STOW};
    const slew_margin_question margin = {.axis = SLEW_ELEVATION, .wanted = 0.2};
    const slew_timings timings = {.count = 1};
    const slew_fit_question fit = {.timings = &timings, .keys = 1};
    const slew_timing row = slew_timing_default();
    const slew_vary vary[2] = {0};
    static const bool given[256] = {false};
    static slew_catalogue catalogue;
    static slew_causes causes;
    static slew_seen seen;
    const slew_causes_witness witness = {0};
    INPUT(slew_window_run(&s, &window, NULL, NULL));
    INPUT(slew_speed_run(&s, &speed, NULL, NULL));
    INPUT(slew_feed_run(&s, &feed, NULL, NULL));
    INPUT(slew_feed_work_run(&s, SLEW_LADDER_CLASS_2, &how, NULL, NULL));
    INPUT(slew_margin_run(&s, &margin, NULL, NULL, NULL));
    INPUT(slew_margin_run(&s, &margin, &how, NULL, NULL));
    INPUT(slew_plan_run(&s, &how, NULL, NULL));
    INPUT(slew_fit_run(&s, &fit, NULL, NULL));
    INPUT(slew_hangs_run(&s, given, NULL, NULL));
    INPUT(slew_drivers_run(&s, &how, NULL, NULL));
    INPUT(slew_offset_run(&s, &how, NULL, NULL));
    INPUT(slew_demands_by_truck(&s, SLEW_STOW_ONLY, NULL, NULL, NULL));
    INPUT(slew_map_run(&s, vary, 2, &how, NULL, NULL));
    INPUT(slew_map_run(&s, vary, 2, NULL, NULL, NULL));
    INPUT(slew_map_line_run(&s, vary, 1e-3, &how, NULL, NULL));
    INPUT(slew_map_line_run(&s, vary, 1e-3, NULL, NULL, NULL));
    INPUT(slew_vary_read(&s, "supply.floor=1V:2V", NULL, NULL));
    INPUT(slew_vary_read(&s, NULL, NULL, NULL));
    INPUT(slew_causes_run_witnessed(&s, &catalogue, NULL, NULL, &witness, &causes, NULL));
    INPUT(slew_causes_run_witnessed(&s, &catalogue, NULL, &how, NULL, &causes, NULL));
    INPUT(slew_causes_run_witnessed(&s, &catalogue, NULL, &how, &witness, NULL, NULL));
    catalogue.count = -1;
    INPUT(slew_causes_run_witnessed(&s, &catalogue, NULL, &how, &witness, &causes, NULL));
    INPUT(slew_causes_likeness(NULL, SLEW_BY_CHECK, 0.1, NULL));
    INPUT(slew_causes_likeness(&causes, SLEW_BY_CHECK, 0.1, NULL));
    INPUT(slew_causes_signature(&causes, NULL, 0, 0, NULL));
    INPUT(slew_causes_signatures(&causes, NULL, NULL));
    INPUT(slew_timings_read_memory("", 0, NULL, (slew_error_sink){0}, NULL));
    INPUT(slew_timings_read_file("x", (slew_error_sink){0}, NULL));
    INPUT(slew_catalogue_read_memory("", 0, NULL, (slew_error_sink){0}, NULL));
    INPUT(slew_catalogue_read_file("x", (slew_error_sink){0}, NULL));
    INPUT(slew_seen_read_memory(NULL, 0, NULL, (slew_error_sink){0}, &seen));
    INPUT(slew_seen_read_file("x", (slew_error_sink){0}, NULL));
    INPUT(slew_timing_simulate(&p.stow_setup, &row, NULL, NULL));
    INPUT(slew_jet_loads(&s, SLEW_OCCASION_STOW, NULL, NULL, NULL));
    INPUT(slew_speed_travel_run(&p.stow_setup, 0, 1, 0, NULL, NULL));
}

static void an_axis_is_one_of_two(void **state)
{
    (void)state;
    static slew_window window;
    slew_axis_facts facts;
    slew_speed_travel travel;
    double angles[1];
    const double at[SLEW_AXES] = {0, 0};
    slew_ensemble rest = {0};
    static const int none[] = {-1, SLEW_AXES};
    for (int i = 0; i < 2; i++) {
        int axis = none[i];
        const slew_window_question question = slew_window_question_default(axis);
        INPUT(slew_window_run(&s, &question, &window, NULL));
        INPUT(slew_axis_facts_run(&s, SLEW_OCCASION_STOW, axis, &facts, NULL));
        INPUT(slew_speed_travel_run(&p.stow_setup, axis, 1, 0, &travel, NULL));
        IS_NAN(slew_speed_at(&p.stow, axis, 1, at).speed);
        IS_NAN(slew_speed_blocked_current(&p.stow, axis));
        IS_NAN(slew_speed_start_torque(&p.stow, axis));
        IS_NAN(slew_plant_output_speed(&p.stow, NULL, axis));
        IS_NAN(slew_plant_load_torque(&p.stow, axis, at));
        assert_false(slew_sensor_is_blind(&p.stow_setup, axis));
        assert_int_equal(slew_rest_angles(&rest, SLEW_REST_STOW, axis, angles), 0);
        slew_scenario_complete_motor(&s, axis);
        slew_plant_model_load(&p.stow, axis, 1);
    }
    IS_NAN(slew_speed_at(&p.stow, 0, 0, at).speed);
    IS_NAN(slew_plant_load_torque(&p.stow, 0, NULL));
}

static void one_of_two_is_not_there(void **state)
{
    (void)state;
    slew_offset offset = {0};
    slew_finer finer;
    slew_judgment judgment;
    slew_plan plan;
    slew_causes causes = {.samples = 1};
    slew_least least;
    const double one[] = {1};
    const int64_t misses[SLEW_DEMAND_COUNT] = {0};
    slew_difference difference = {.axis = -1};
    char text[8] = "as was";
    INPUT(slew_finer_run(&s, NULL, &offset, &finer, NULL));
    INPUT(slew_finer_run(&s, &how, NULL, &finer, NULL));
    INPUT(slew_finer_run(&s, &how, &offset, NULL, NULL));
    slew_demands_judge(&s, SLEW_STOW_ONLY, misses, 10, 0, NULL);
    slew_demands_judge(&s, SLEW_STOW_ONLY, misses, 0, 0, &judgment);
    slew_demands_judge(NULL, SLEW_STOW_ONLY, misses, 10, 0, &judgment);
    assert_int_equal(slew_demands_missed(NULL, &p, SLEW_STOW_ONLY, &r), 0);
    assert_int_equal(slew_demands_missed(&s, NULL, SLEW_STOW_ONLY, &r), 0);
    (void)slew_plan_recommend(NULL, NULL);
    (void)slew_plan_recommend(&plan, NULL);
    assert_null(slew_causes_figures(&causes, -1, 0));
    assert_null(slew_causes_figures(&causes, 0, -1));
    assert_null(slew_causes_figures(&causes, 0, 1));
    slew_causes_observe(&causes, 0, -1, 1, NULL);
    INPUT(slew_least_squares_run(NULL, one, &least, NULL, NULL, NULL));
    assert_int_equal(slew_difference_path((slew_difference){.axis = SLEW_AXES}, NULL, 8), 0);
    assert_int_equal(slew_difference_path(difference, text, sizeof text), 0);
    assert_int_equal(slew_observable_format(0, 1, NULL, 8), 0);
    assert_int_equal(slew_key_format_number(slew_key_find("supply.floor"), 1, NULL, 8), 0);
    assert_int_equal(slew_doubts_cause(&s, SLEW_STOW_ONLY, NULL, 0), -1);
    assert_int_equal(slew_sensor_doubts(&s, NULL), 0);
    assert_int_equal(slew_pressed_axis(&p.stow_setup, NULL), SLEW_NO_AXIS);
    assert_int_equal(slew_map_judge(NULL, SLEW_STOW_ONLY, &p, &r).outcome,
                     slew_map_judge(&s, SLEW_STOW_ONLY, NULL, &r).outcome);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(an_answer_needs_room),
        cmocka_unit_test(an_axis_is_one_of_two),
        cmocka_unit_test(one_of_two_is_not_there),
    };
    return cmocka_run_group_tests(tests, prepare_question, NULL);
}
