/*
 * host_arguments.c - what a program may hand over by mistake to any public function: NULL, an axis,
 * key or size that there is not, a number that is none. Each is answered by a status or by nothing
 * (status.h), without a crash, a hang or a call of GSL's handler, which ends a process.
 *
 * Functions of plain numbers take any number: NaN comes out.
 */
#include "host_question.h"

#include <gsl/gsl_errno.h>
#include <unistd.h>

#include "keys/fields.h"
#include "slewtime/slewtime.h"

enum { BAD = 99 };

static const double nan_ = (double)NAN;

static void fail_by_gsl(const char *reason, const char *file, int line, int number)
{
    fail_msg("GSL's handler is called: %s, %s:%d, %d", reason, file, line, number);
}

static slew_error e;

static int enter(void **state)
{
    gsl_set_error_handler(fail_by_gsl);
    alarm(600); /* a hang */
    return prepare_question(state);
}

/* f(..., error): said in the error, and without one */
#define SAID(f, ...)                                                                               \
    do {                                                                                           \
        e = (slew_error){.status = SLEW_OK};                                                       \
        INPUT(f(__VA_ARGS__, &e));                                                                 \
        assert_int_equal(e.status, SLEW_ERROR_INPUT);                                              \
        assert_true(e.message[0] != '\0');                                                         \
        INPUT(f(__VA_ARGS__, NULL));                                                               \
    } while (0)

static const slew_error_sink quiet = {0};

/* ---- rooms one by one ---- */

static void of_keys_and_scenarios(void **state)
{
    (void)state;
    slew_setup setup;
    char text[8] = "as was";
    slew_scenario_init(NULL);
    slew_scenario_complete_motor(NULL, 0);
    slew_scenario_complete_motor(&s, BAD);
    assert_null(slew_layer_at(NULL, SLEW_LAYER_TODAY));
    assert_null(slew_layer_at(&s, (slew_layer_id)BAD));
    assert_false(slew_layer_holds(NULL, 0));
    assert_string_equal(slew_layer_word((slew_layer_id)BAD), "?");
    slew_scenario_resolve(NULL, SLEW_OCCASION_STOW, &setup);
    slew_scenario_resolve(&s, SLEW_OCCASION_STOW, NULL);
    assert_int_equal(slew_scenario_hash(NULL), 0);
    assert_null(slew_key_at(-1));
    assert_null(slew_key_at(slew_key_count()));
    assert_int_equal(slew_key_find(NULL), -1);
    assert_int_equal(slew_key_nearest(NULL), -1);
    assert_int_equal(slew_key_format(NULL, 0, text, sizeof text), 0);
    assert_string_equal(text, "");
    assert_int_equal(slew_key_format(&s, -1, text, sizeof text), 0);
    assert_int_equal(slew_key_format(&s, 0, NULL, 8), 0);
    assert_int_equal(slew_key_format_number(BAD * BAD, 1, text, sizeof text), 0);
    assert_int_equal(slew_key_format_number(0, 1, NULL, 8), 0);
    INPUT(slew_scenario_set_number(NULL, SLEW_LAYER_FILE, 0, 1));
    INPUT(slew_scenario_set_number(&s, SLEW_LAYER_FILE, -1, 1));
    INPUT(slew_scenario_set_number(&s, (slew_layer_id)BAD, 0, 1));
    INPUT(
        slew_scenario_set_number(&s, SLEW_LAYER_FILE, slew_key_find("supply.main.voltage"), nan_));
    IS_NAN(slew_scenario_get_number(NULL, 0));
    IS_NAN(slew_scenario_get_number(&s, -1));
}

static void of_files(void **state)
{
    (void)state;
    static slew_scenario out;
    static slew_catalogue catalogue;
    static slew_seen seen;
    static slew_timings timings;
    slew_difference list[4], none = {.key = -1};
    char text[8];
    const slew_edit edit = {"", "title", "x", false};
    const slew_scenario *two[] = {&s, &s};
    INPUT(slew_scenario_read_file(NULL, NULL, &out));
    INPUT(slew_scenario_read_file("x", NULL, NULL));
    INPUT(slew_scenario_read_memory(NULL, 0, "x", NULL, &out));
    INPUT(slew_scenario_read_memory("a: 1", 4, NULL, NULL, NULL));
    INPUT(slew_scenario_set(NULL, SLEW_LAYER_FILE, "title", "x", quiet));
    INPUT(slew_scenario_set(&s, SLEW_LAYER_FILE, NULL, "x", quiet));
    INPUT(slew_scenario_set(&s, SLEW_LAYER_FILE, "title", NULL, quiet));
    INPUT(slew_scenario_set(&s, (slew_layer_id)BAD, "supply.main.voltage", "12 V", quiet));
    INPUT(slew_scenario_check(NULL, quiet, quiet));
    INPUT(slew_catalogue_builtin(NULL));
    INPUT(slew_catalogue_read_file(NULL, quiet, &catalogue));
    INPUT(slew_catalogue_read_memory(NULL, 0, NULL, quiet, &catalogue));
    assert_int_equal(slew_catalogue_find(NULL, "x"), -1);
    assert_int_equal(slew_catalogue_find(&catalogue, NULL), -1);
    slew_seen_init(NULL);
    INPUT(slew_seen_read_file(NULL, quiet, &seen));
    INPUT(slew_seen_read_memory("a: 1", 4, NULL, quiet, NULL));
    INPUT(slew_timings_read_file(NULL, quiet, &timings));
    INPUT(slew_timings_read_memory(NULL, 0, NULL, quiet, &timings));
    slew_timings_locate(NULL, &e);
    slew_timings_locate("x", NULL);
    assert_int_equal(slew_timing_format(NULL, 0, text, sizeof text), 0);
    assert_null(slew_timing_column_at(-1));
    assert_null(slew_scenario_edit(NULL, &edit, 1, &e));
    assert_int_equal(e.status, SLEW_ERROR_INPUT);
    assert_null(slew_scenario_edit("a: 1", NULL, 1, NULL));
    assert_null(slew_scenario_text(NULL, NULL));
    assert_null(slew_scenario_text("/no/such/file", NULL));
    assert_int_equal(slew_differences(NULL, 2, list, 4), 0);
    assert_int_equal(slew_differences(two, 2, NULL, 4), 0);
    assert_int_equal(slew_difference_path(none, text, sizeof text), 0);
    assert_int_equal(slew_difference_format(NULL, none, text, sizeof text), 0);
    assert_null(slew_observable_at(-1));
    assert_int_equal(slew_observable_find(NULL), -1);
    assert_int_equal(slew_observable_words(BAD), 0);
    assert_int_equal(slew_observable_format(-1, 1, text, sizeof text), 0);
    IS_NAN(slew_observable_in_unit(BAD, 1));
}

static void of_plant_and_machine(void **state)
{
    (void)state;
    static slew_machine m;
    static slew_plant plant;
    slew_plant_model model;
    slew_event event;
    const double angle[SLEW_AXES] = {0, 0};
    const slew_mark mark = {0, 1, 0};
    static unsigned char block[SLEW_MACHINE_BYTES];
    SAID(slew_plant_model_build, NULL, &model);
    SAID(slew_plant_model_build, &p.stow_setup, NULL);
    IS_NAN(slew_feed_per_length(NULL));
    assert_false(slew_plant_isolator_feeds_line(NULL));
    assert_false(slew_plant_model_watch_angle(NULL, 0, mark));
    model = p.stow;
    assert_false(slew_plant_model_watch_angle(&model, BAD, mark));
    assert_false(slew_plant_model_watch_angle(&model, 0, (slew_mark){nan_, 1, 0}));
    slew_plant_model_load(NULL, 0, 1);
    slew_plant_model_load(&model, -1, 1);
    IS_NAN(slew_plant_load_torque(NULL, 0, angle));
    IS_NAN(slew_plant_load_torque(&model, BAD, angle));
    IS_NAN(slew_plant_nozzle_reaction(NULL));
    INPUT(slew_plant_start(NULL, angle, &plant));
    INPUT(slew_plant_start(&model, NULL, &plant));
    INPUT(slew_plant_start(&model, angle, NULL));
    assert_int_equal(slew_plant_start(&model, angle, &plant), SLEW_OK);
    assert_false(slew_plant_transfer(NULL, &model, &plant));
    assert_false(slew_plant_transfer(&model, NULL, &plant));
    assert_false(slew_plant_drive(NULL, &plant, 0, 1));
    assert_false(slew_plant_drive(&model, NULL, 0, 1));
    assert_int_equal(slew_plant_advance(NULL, &plant, 1).kind, SLEW_PLANT_NOTHING);
    assert_int_equal(slew_plant_advance(&model, NULL, 1).kind, SLEW_PLANT_NOTHING);
    assert_false(slew_plant_is_over(NULL) || slew_plant_is_moving(NULL));
    IS_NAN(slew_plant_output_speed(&model, &plant, BAD));
    slew_machine_start(NULL, &p, SLEW_OCCASION_STOW, &m);
    slew_machine_start(&s, NULL, SLEW_OCCASION_STOW, &m);
    slew_machine_start(&s, &p, SLEW_OCCASION_STOW, NULL);
    slew_machine_start(&s, &p, SLEW_OCCASION_STOW, &m);
    assert_false(slew_machine_advance(NULL, 1, &event) || slew_machine_advance(&m, 1, NULL));
    IS_NAN(slew_machine_look(NULL).time);
    IS_NAN(slew_machine_meters(NULL).lowest_voltage);
    IS_NAN(slew_machine_pause_end(NULL));
    assert_false(slew_machine_is_ready(NULL) || slew_machine_stow(NULL) ||
                 slew_machine_deploy(NULL) || slew_machine_cancel(NULL) ||
                 slew_machine_jog(NULL, 0, 1));
    SAID(slew_machine_change, NULL, &p.stow_setup);
    SAID(slew_machine_change, &m, NULL);
    INPUT(slew_machine_load(NULL, 0, 1));
    INPUT(slew_machine_load(&m, 0, (double)INFINITY));
    slew_machine_save(NULL, block);
    INPUT(slew_machine_restore(NULL, 4, &m));
    INPUT(slew_machine_restore(block, 4, NULL));
    assert_int_equal(slew_machine_restore(block, 4, &m), SLEW_ERROR_DAMAGED);
}

/* a host's clock and the machine's differ by a rounding */
static void a_time_just_below_the_present_one(void **state)
{
    (void)state;
    slew_plant plant;
    slew_machine m;
    slew_event event;
    const double angle[SLEW_AXES] = {0, 0};
    slew_plant_start(&p.stow, angle, &plant);
    slew_plant_drive(&p.stow, &plant, SLEW_ELEVATION, 1);
    for (int i = 1; i < 200; i++) {
        double now = 0.01 * i;
        while (plant.time < now)
            slew_plant_advance(&p.stow, &plant, now);
        slew_plant_advance(&p.stow, &plant, nextafter(now, 0));
        assert_true(plant.time == now);
    }
    slew_machine_start(&s, &p, SLEW_OCCASION_STOW, &m);
    slew_machine_stow(&m);
    while (slew_machine_advance(&m, 1, &event))
        continue;
    assert_false(slew_machine_advance(&m, nextafter(1, 0), &event));
    assert_true(m.time == 1);
}

static void of_runs(void **state)
{
    (void)state;
    double stored[SLEW_AXES];
    slew_prepared prepared;
    SAID(slew_teach, NULL, stored);
    SAID(slew_teach, &s, NULL);
    SAID(slew_prepare, NULL, SLEW_STOW_ONLY, &prepared);
    SAID(slew_prepare, &s, SLEW_STOW_ONLY, NULL);
    SAID(slew_run, NULL, SLEW_STOW_ONLY, NULL, &r);
    SAID(slew_run, &s, SLEW_STOW_ONLY, NULL, NULL);
    INPUT(slew_run_prepared(NULL, &p, SLEW_STOW_ONLY, NULL, &r));
    INPUT(slew_run_prepared(&s, NULL, SLEW_STOW_ONLY, NULL, &r));
    INPUT(slew_run_prepared(&s, &p, SLEW_STOW_ONLY, NULL, NULL));
    assert_int_equal(slew_stop_under(NULL, 0, 0), 0);
    assert_int_equal(slew_stop_under(&p.stow_setup, BAD, 0), 0);
    assert_int_equal(slew_pressed_axis(NULL, &r.stow), SLEW_NO_AXIS);
    assert_false(slew_part_ok(&p.stow_setup, NULL));
    assert_false(slew_result_ok(&s, SLEW_STOW_ONLY, NULL));
    assert_string_equal(slew_event_word((slew_event_kind)BAD), "?");
    assert_string_equal(slew_fault_word((slew_fault)-1), "?");
    assert_string_equal(slew_axis_word(BAD), "?");
    assert_string_equal(slew_direction_word(BAD, 1), "");
}

/* a scenario of which a program has made what no file can */
static void of_a_scenario_that_is_none(void **state)
{
    (void)state;
    enum { SHAPES = 9 }; /* the first: counts and keys; then numbers that are none */
    static slew_scenario bad[14];
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++)
        bad[i] = s;
    bad[0].teach.count = 10000;
    bad[1].today = (slew_layer){1, {{-1, 0}}};
    bad[2].truck.count = -1;
    bad[3].day.count = 1;
    bad[3].day.item[0].key = slew_key_count();
    bad[4].day.count = 1;
    bad[4].day.item[0] = (slew_variation){.key = 0, .distribution = SLEW_TABLE, .count = 0};
    bad[5].keepout.count = BAD;
    bad[6].correlation.count = -3;
    bad[7].deploy.choice_count[1] = 4000;
    bad[8].deploy_day.count = SLEW_OVERRIDES_MAX + 1;
    bad[SHAPES].stow.has_times = true;
    bad[SHAPES].stow.times[0] = nan_;
    bad[10].deploy.seconds[0] = (double)INFINITY;
    bad[11].stow.point[1] = nan_;
    bad[12].stow.lift_first = nan_;
    bad[13].correlation.count = 1;
    bad[13].correlation.item[0].coefficient = nan_;
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        slew_offset offset;
        slew_ensemble ensemble;
        slew_doubt doubt[SLEW_DOUBTS_MAX];
        SAID(slew_run, &bad[i], SLEW_STOW_AND_DEPLOY, NULL, &r);
        SAID(slew_rest_run, &bad[i], SLEW_STOW_AND_DEPLOY, &how, &ensemble);
        SAID(slew_offset_run, &bad[i], &how, &offset);
        if (i < SHAPES) {
            INPUT(slew_scenario_check(&bad[i], quiet, quiet));
            assert_int_equal(slew_scenario_hash(&bad[i]), 0);
            assert_int_equal(slew_scenario_doubts(&bad[i], doubt), 0);
        }
    }
    assert_int_equal(slew_run(&s, SLEW_STOW_AND_DEPLOY, NULL, &r, NULL), SLEW_OK);
}

/* written into the struct past slew_scenario_set_number: a run or a status, never a hang */
static void of_a_value_that_is_none(void **state)
{
    (void)state;
    static const double values[] = {(double)NAN, (double)INFINITY, -1, 1e300};
    for (int key = 0; key < slew_key_count(); key++)
        for (size_t i = 0; i < sizeof values / sizeof *values; i++) {
            static slew_scenario bad;
            bad = s;
            if (slew_key_at(key)->kind != SLEW_KEY_NUMBER)
                continue;
            slew_field_put(&bad, SLEW_LAYER_FILE, key, values[i]);
            if (slew_run(&bad, SLEW_STOW_AND_DEPLOY, NULL, &r, &e) == SLEW_OK)
                assert_true(isfinite(r.end));
        }
}

static void of_statistics(void **state)
{
    (void)state;
    static const double value[] = {1, 2, 4};
    const slew_variation v = {.distribution = SLEW_NORMAL, .mean = 1, .sd = 0};
    double points[3] = {0};
    assert_true(isnan(slew_mean_interval(value, 1, 0.95).low));
    assert_true(isnan(slew_mean_interval(NULL, 3, 0.95).low));
    assert_true(isnan(slew_mean_interval(value, 3, 0).low));
    assert_true(isnan(slew_mean_interval(value, 3, 1).low));
    assert_true(isnan(slew_mean_interval(value, 3, nan_).low));
    assert_true(slew_mean_interval(value, 3, 0.95).low < 7.0 / 3);
    IS_NAN(slew_wilks_coverage(59, 1, 1));
    IS_NAN(slew_wilks_coverage(59, 1, 0));
    IS_NAN(slew_wilks_coverage(59, 1, nan_));
    IS_NAN(slew_wilks_coverage(0, 1, 0.95));
    IS_NAN(slew_wilks_coverage(-5, 2, 0.95));
    IS_NAN(slew_wilks_coverage(59, 2000000000, 0.95));
    assert_true(isnan(slew_exact_share(0, 0, 0.95).low));
    assert_true(isnan(slew_exact_share(-1, 10, 0.95).low));
    assert_true(isnan(slew_exact_share(11, 10, 0.95).low));
    assert_true(isnan(slew_exact_share(1, 10, 1).low));
    assert_true(isnan(slew_exact_share(1, 10, nan_).low));
    assert_true(slew_exact_share(0, 10, 0.95).low == 0 && slew_exact_share(10, 10, 0.95).high == 1);
    IS_NAN(slew_variation_quantile(NULL, 0.5));
    IS_NAN(slew_variation_quantile(&v, 0));
    IS_NAN(slew_variation_quantile(&v, 1));
    IS_NAN(slew_variation_quantile(&v, nan_));
    slew_variation_quantile(&v, 0.5);
    assert_false(slew_sensitivity_points(0, 1, 1, points));
    assert_false(slew_sensitivity_points(1, 0, 1, points));
    assert_false(slew_sensitivity_points(21, 1, 1, points));
    assert_false(slew_sensitivity_points(1, 1, 1, NULL));
    slew_sensitivity_indices(NULL, 1, 1, points, points);
    assert_false(slew_is_known(NULL, SLEW_OCCASION_STOW, 0));
    assert_int_equal(slew_ensemble_dimensions(NULL, SLEW_STOW_ONLY), 0);
    assert_int_equal(slew_ensemble_dimension(NULL, SLEW_STOW_ONLY, 0).key, -1);
    assert_int_equal(slew_ensemble_dimension(&s, SLEW_STOW_ONLY, BAD).key, -1);
}

static void no_question(void *context, const slew_scenario *drawn, const slew_prepared *prepared,
                        double *figures)
{
    (void)context, (void)drawn, (void)prepared, (void)figures;
}

static void of_ensembles(void **state)
{
    (void)state;
    slew_ensemble out;
    slew_judgment judgment;
    slew_trucks trucks;
    double angles[8];
    static const int64_t counts[] = {0, -1, INT64_MAX, INT64_MIN};
    SAID(slew_ensemble_run, NULL, SLEW_STOW_ONLY, &how, no_question, NULL, 1, &out);
    SAID(slew_ensemble_run, &s, SLEW_STOW_ONLY, NULL, no_question, NULL, 1, &out);
    SAID(slew_ensemble_run, &s, SLEW_STOW_ONLY, &how, NULL, NULL, 1, &out);
    SAID(slew_ensemble_run, &s, SLEW_STOW_ONLY, &how, no_question, NULL, 1, NULL);
    SAID(slew_ensemble_run, &s, SLEW_STOW_ONLY, &how, no_question, NULL, 0, &out);
    SAID(slew_ensemble_run, &s, SLEW_STOW_ONLY, &how, no_question, NULL, -7, &out);
    for (size_t i = 0; i < sizeof counts / sizeof *counts; i++) {
        slew_sampling bad = how;
        bad.samples = counts[i];
        SAID(slew_rest_run, &s, SLEW_STOW_ONLY, &bad, &out);
        SAID(slew_demands_run, &s, SLEW_STOW_ONLY, &bad, &judgment);
    }
    slew_ensemble_free(NULL);
    SAID(slew_demands_run, &s, SLEW_STOW_ONLY, NULL, &judgment);
    SAID(slew_demands_run, &s, SLEW_STOW_ONLY, &how, NULL);
    SAID(slew_demands_by_truck, &s, SLEW_STOW_ONLY, &how, NULL);
    SAID(slew_demands_by_truck, NULL, SLEW_STOW_ONLY, &how, &trucks);
    slew_demands_judge(&s, SLEW_STOW_ONLY, NULL, 10, 0, &judgment);
    assert_true(slew_sampling_fresh(NULL).samples > 0);
    IS_NAN(slew_demand_limit(NULL, SLEW_DEMAND_STOP));
    assert_false(slew_demand_is_asked(NULL, SLEW_STOW_ONLY, SLEW_DEMAND_STOP));
    assert_int_equal(slew_demands_missed(&s, &p, SLEW_STOW_ONLY, NULL), 0);
    assert_int_equal(slew_demands_missed_untaught(NULL, SLEW_STOW_ONLY), 0);
    SAID(slew_rest_run, &s, SLEW_STOW_ONLY, NULL, &out);
    assert_int_equal(slew_rest_angles(NULL, SLEW_REST_STOW, 0, angles), 0);
    assert_int_equal(slew_rest_count(NULL, SLEW_REST_STOW, SLEW_REST_MISSED), 0);
    assert_int_equal(slew_rest_run(&s, SLEW_STOW_ONLY, &how, &out, NULL), SLEW_OK);
    assert_int_equal(slew_rest_angles(&out, (slew_rest_part)BAD, 0, angles), 0);
    assert_int_equal(slew_rest_angles(&out, SLEW_REST_STOW, BAD, angles), 0);
    slew_ensemble_free(&out);
}

static void of_drives_and_windows(void **state)
{
    (void)state;
    static slew_window window;
    static slew_feed_answer feed;
    static slew_feed_sweep sweep;
    const double beyond[SLEW_AXES] = {1000, nan_};
    slew_speed_travel travel;
    slew_axis_facts facts;
    slew_feed_figures figures;
    slew_feed_joint joint;
    slew_speed speed;
    slew_sensor_doubt doubt[SLEW_SENSOR_DOUBTS_MAX];
    slew_window_question window_question = slew_window_question_default(BAD);
    slew_feed_question feed_question = {.drop_count = BAD};
    slew_speed_question speed_question = slew_speed_question_default(NULL, SLEW_OCCASION_STOW);
    slew_timing row = slew_timing_default();
    slew_timed timed;
    assert_false(slew_nozzle_is_known(NULL));
    IS_NAN(slew_speed_at(&p.stow, 0, 1, beyond).speed);
    IS_NAN(slew_speed_at(&p.stow, BAD, 1, (double[]){0, 0}).speed);
    IS_NAN(slew_speed_at(NULL, 0, 1, (double[]){0, 0}).speed);
    IS_NAN(slew_speed_blocked_current(NULL, 0));
    IS_NAN(slew_speed_start_torque(&p.stow, BAD));
    IS_NAN(slew_speed_find_places(&p.stow, 0, 1, NULL).slowest[0]);
    SAID(slew_speed_travel_run, &p.stow_setup, BAD, 1, 0, &travel);
    SAID(slew_speed_travel_run, &p.stow_setup, 0, 0, 0, &travel);
    SAID(slew_speed_travel_run, NULL, 0, 1, 0, &travel);
    SAID(slew_axis_facts_run, &s, SLEW_OCCASION_STOW, BAD, &facts);
    SAID(slew_axis_facts_run, NULL, SLEW_OCCASION_STOW, 0, &facts);
    SAID(slew_timing_simulate, NULL, &row, &timed);
    SAID(slew_timing_simulate, &p.stow_setup, NULL, &timed);
    SAID(slew_speed_run, &s, NULL, &speed);
    SAID(slew_speed_run, &s, &speed_question, &speed);
    slew_speed_free(NULL);
    IS_NAN(slew_feed_worst_place(NULL, 0).torque);
    SAID(slew_feed_ask, NULL, &figures);
    SAID(slew_feed_run, &s, &feed_question, &feed);
    SAID(slew_feed_run, &s, NULL, &feed);
    SAID(slew_feed_explain_drop, &p.stow_setup, nan_, 1, &joint);
    SAID(slew_feed_explain_drop, NULL, 1, 1, &joint);
    SAID(slew_feed_explain_voltage, &p.stow_setup, BAD, 11, &joint);
    SAID(slew_feed_explain_voltage, &p.stow_setup, 0, nan_, &joint);
    IS_NAN(slew_feed_find_need(NULL, NULL).resistance);
    IS_NAN(slew_feed_lowest_running(NULL, true));
    IS_NAN(slew_feed_lowest_standing(NULL, true));
    assert_false(slew_feed_keeps(NULL, true, 0));
    slew_feed_fit(NULL, SLEW_LADDER_AWG, 0);
    slew_feed_fit(&p.stow_setup, SLEW_LADDER_AWG, BAD);
    slew_feed_sweep_run(NULL, SLEW_LADDER_CLASS_2, &sweep);
    assert_int_equal(slew_feed_try(NULL, true).status, SLEW_ERROR_INPUT);
    SAID(slew_window_run, &s, &window_question, &window);
    SAID(slew_window_run, &s, NULL, &window);
    IS_NAN(slew_window_figure(NULL, 0));
    IS_NAN(slew_window_flux_at(NULL, 0).own);
    IS_NAN(slew_home_flux(NULL, 0));
    assert_int_equal(slew_home_resolve(NULL), SLEW_SIGHT_GIVEN);
    assert_false(slew_sensor_is_blind(NULL, 0) || slew_sensor_is_blind(&p.stow_setup, BAD));
    assert_int_equal(slew_sensor_doubts(NULL, doubt), 0);
}

static void of_questions(void **state)
{
    (void)state;
    static slew_card card;
    static slew_card_verdict page;
    static slew_hangs hangs;
    static slew_feed_work work;
    static slew_margin margin;
    static slew_fit fit;
    static slew_plan plan;
    static slew_drivers drivers;
    static slew_finer finer;
    static slew_timings timings;
    slew_offset offset = {.count = 0};
    slew_map map;
    slew_map_line line;
    slew_vary vary[2] = {{.key = -1, .from = 1, .to = 2, .steps = 3}, {.key = 0}};
    slew_jet_load load[SLEW_AXES];
    slew_jet_point curve[SLEW_JET_POINTS];
    const slew_margin_question nowhere = {BAD, 0.01};
    slew_fit_question question = {.timings = &timings, .keys = 1, .key = {0}};
    char text[40];
    SAID(slew_card_run, &s, NULL, &card);
    SAID(slew_card_run, &s, &how, NULL);
    SAID(slew_card_judge, &s, NULL, &how, &page);
    SAID(slew_card_judge, &s, &timings, &how, &page); /* no reading */
    SAID(slew_card_judge, &s, &timings, NULL, &page);
    SAID(slew_card_judge, &s, &timings, &how, NULL);
    SAID(slew_hangs_run, &s, NULL, &hangs);
    SAID(slew_feed_work_run, &s, SLEW_LADDER_CLASS_2, NULL, &work);
    SAID(slew_margin_run, &s, &nowhere, &how, &margin);
    SAID(slew_margin_run, &s, NULL, &how, &margin);
    SAID(slew_fit_run, &s, NULL, &fit);
    timings.count = SLEW_TIMINGS_MAX + 1;
    SAID(slew_fit_run, &s, &question, &fit);
    timings.count = 0;
    question.keys = BAD;
    SAID(slew_fit_run, &s, &question, &fit);
    question.timings = NULL;
    SAID(slew_fit_run, &s, &question, &fit);
    assert_null(slew_fit_write(NULL, "a: 1", NULL, 0, NULL, &e));
    slew_fit_name(-BAD);
    SAID(slew_offset_run, &s, NULL, &offset);
    SAID(slew_finer_run, &s, &how, &offset, &finer);
    SAID(slew_drivers_run, &s, NULL, &drivers);
    slew_offset_free(NULL);
    assert_int_equal(slew_offset_decides(&s, NULL, NULL), SLEW_MERIT_COUNT);
    assert_false(slew_offset_is_better(&s, NULL, NULL) || slew_offset_is_enough(NULL, 0.5));
    assert_int_equal(slew_offset_advise(&s, NULL, NULL, 0.5, NULL), 0);
    assert_int_equal(slew_offset_nearest(NULL, NULL, 0), 0);
    IS_NAN(slew_target_miss(&s, BAD, 0));
    SAID(slew_plan_run, &s, NULL, &plan);
    slew_plan_recommend(NULL, NULL);
    slew_plan_set(NULL, NULL);
    assert_false(slew_plan_apply(NULL, NULL));
    slew_plan_words(NULL, text, sizeof text);
    slew_plan_plain(NULL, text, sizeof text);
    slew_plan_to_set(NULL, text, sizeof text);
    assert_string_equal(text, "");
    SAID(slew_vary_read, &s, NULL, vary);
    SAID(slew_map_run, &s, vary, 1, &how, &map);
    SAID(slew_map_run, &s, NULL, 1, &how, &map);
    SAID(slew_map_line_run, &s, vary, 1e-3, &how, &line);
    IS_NAN(slew_vary_value(NULL, 0));
    IS_NAN(slew_vary_in_unit(NULL, 0));
    assert_int_equal(slew_map_ask(&s, vary, 1, NULL, &e).outcome, SLEW_OUTCOME_UNFIT);
    assert_int_equal(slew_map_ask(&s, vary, BAD, NULL, NULL).outcome, SLEW_OUTCOME_UNFIT);
    assert_int_equal(slew_map_judge(&s, SLEW_STOW_ONLY, &p, NULL).outcome, SLEW_OUTCOME_UNFIT);
    slew_map_free(NULL);
    slew_map_line_free(NULL);
    IS_NAN(slew_jet_of(NULL).rule);
    slew_jet_curve(NULL, 1, curve);
    SAID(slew_jet_loads, &s, SLEW_OCCASION_STOW, NULL, load);
    assert_int_equal(slew_scenario_doubts(&s, NULL), 0);
    assert_int_equal(slew_doubts_cause(&s, SLEW_STOW_ONLY, NULL, 3), -1);
}

static void of_causes(void **state)
{
    (void)state;
    static slew_catalogue catalogue;
    static slew_causes causes;
    static slew_diagnosis diagnosis;
    static slew_seen seen;
    slew_ranking ranking;
    slew_signature signature;
    double likeness[4];
    catalogue.count = SLEW_CAUSES_MAX + 1;
    SAID(slew_causes_run, &s, &catalogue, NULL, &how, &causes);
    SAID(slew_causes_run, &s, NULL, NULL, &how, &causes);
    slew_causes_free(NULL);
    assert_null(slew_causes_figures(NULL, 0, 0));
    assert_null(slew_causes_figures(&causes, BAD, 0));
    assert_false(slew_causes_counts(NULL, 0) || slew_causes_counts(&causes, BAD));
    INPUT(slew_causes_signature(NULL, NULL, 0, 0, &signature));
    INPUT(slew_causes_signatures(NULL, NULL, &signature));
    INPUT(slew_causes_likeness(NULL, SLEW_BY_EYE, 0, likeness));
    SAID(slew_causes_rank, NULL, &catalogue, &seen, &ranking);
    SAID(slew_causes_diagnose, NULL, &catalogue, &seen, 1, &diagnosis);
    slew_ranking_free(NULL);
    slew_diagnosis_free(NULL);
    IS_NAN(slew_ranking_effective(NULL, NULL, 0));
    IS_NAN(slew_ranking_factor(NULL, NULL, 0));
    IS_NAN(slew_causes_fit(NULL, &seen, 0, 1, 1));
    assert_int_equal(slew_causes_against(NULL, &seen, 0), -1);
    IS_NAN(slew_causes_information(NULL, NULL, 0));
    slew_causes_observe(NULL, 0, 0, 1, &seen);
    slew_causes_observe(NULL, 0, 0, 1, NULL);
}

/* each argument that lacks alone, and the first number that is none: there are no causes */
static void of_causes_one_by_one(void **state)
{
    (void)state;
    static slew_catalogue catalogue;
    static slew_causes causes;
    static slew_diagnosis diagnosis;
    static slew_seen seen;
    slew_ranking ranking = {0};
    SAID(slew_causes_rank, &causes, NULL, &seen, &ranking);
    SAID(slew_causes_rank, &causes, &catalogue, NULL, &ranking);
    SAID(slew_causes_rank, &causes, &catalogue, &seen, NULL);
    SAID(slew_causes_diagnose, &causes, NULL, &seen, 1, &diagnosis);
    SAID(slew_causes_diagnose, &causes, &catalogue, NULL, 1, &diagnosis);
    SAID(slew_causes_diagnose, &causes, &catalogue, &seen, 1, NULL);
    IS_NAN(slew_ranking_effective(NULL, &ranking, 0));
    IS_NAN(slew_ranking_effective(&causes, NULL, 0));
    IS_NAN(slew_ranking_effective(&causes, &ranking, 0));
    IS_NAN(slew_ranking_factor(NULL, &ranking, -1));
    IS_NAN(slew_ranking_factor(&causes, NULL, -1));
    IS_NAN(slew_ranking_factor(&causes, &ranking, 0));
    IS_NAN(slew_ranking_factor(&causes, &ranking, -2));
    IS_NAN(slew_causes_fit(&causes, NULL, 0, 1, 1));
    IS_NAN(slew_causes_fit(&causes, &seen, 0, 1, 1));
    assert_int_equal(slew_causes_against(&causes, NULL, 0), -1);
    assert_int_equal(slew_causes_against(&causes, &seen, 0), -1);
    IS_NAN(slew_causes_information(NULL, &ranking, 0));
    IS_NAN(slew_causes_information(&causes, NULL, 0));
    IS_NAN(slew_causes_information(&causes, &ranking, SLEW_OBSERVABLES));
    assert_null(slew_causes_figures(&causes, 1, 0));
    assert_null(slew_causes_figures(&causes, 0, -1));
    assert_false(slew_causes_counts(&causes, 0));
}

static bool no_residuals(void *context, const double *parameter, double *residual)
{
    (void)context;
    residual[0] = 1e200 * parameter[0];
    residual[1] = 1e200;
    return true;
}

static void of_least_squares(void **state)
{
    (void)state;
    const double one[] = {1, 1};
    slew_least least;
    slew_least_squares problem = {2, 1, no_residuals, NULL, one, NULL, NULL, NULL, 1e-16};
    slew_information information = {
        .parameters = 1, .directions = 1, .sd = {1}, .direction = {{1}}};
    SAID(slew_least_squares_run, NULL, one, &least, NULL, NULL);
    SAID(slew_least_squares_run, &problem, NULL, &least, NULL, NULL);
    problem.residuals = 0;
    SAID(slew_least_squares_run, &problem, one, &least, NULL, NULL);
    problem.residuals = 2;
    problem.parameters = BAD;
    SAID(slew_least_squares_run, &problem, one, &least, NULL, NULL);
    problem.parameters = 1;
    slew_least_squares_run(&problem, one, &least, NULL, NULL, &e); /* squares overflow */
    IS_NAN(slew_information_covariance(NULL, 0, 0));
    IS_NAN(slew_information_covariance(&information, 0, BAD));
    slew_information_add(NULL, one);
    slew_information_add(&information, &nan_); /* GSL's rotations would not end */
    assert_true(isinf(information.sd[0]));
}

/* ---- plain numbers ---- */

static void of_physics(void **state)
{
    (void)state;
    static const double numbers[] = {
        0, -1, 1e300, -1e300, 1e-300, (double)INFINITY, -(double)INFINITY, (double)NAN};
    enum { COUNT = sizeof numbers / sizeof *numbers };
    assert_int_equal(slew_ladder_count((slew_ladder)BAD), 0);
    IS_NAN(slew_ladder_size(SLEW_LADDER_AWG, -1));
    IS_NAN(slew_ladder_resistance(SLEW_LADDER_CLASS_5, BAD, 0));
    assert_int_equal(slew_ladder_thinnest((slew_ladder)BAD, 0, 1), -1);
    assert_int_equal(slew_ladder_thinnest(SLEW_LADDER_AWG, 0, nan_), -1);
    assert_int_equal(slew_motor_from_data(NULL).state, SLEW_MOTOR_LACKS);
    for (int i = 0; i < COUNT * COUNT * COUNT; i++) {
        double a = numbers[i % COUNT], b = numbers[i / COUNT % COUNT],
               c = numbers[i / COUNT / COUNT];
        slew_bulirsch_cel(a, b, c, c);
        slew_magnet_axial(1, a, b, c, a);
        slew_magnet_radial(1, a, b, c, b);
        slew_viscosity_at(slew_viscosity_through(a, b, c, a), b);
        slew_motor_from_data(&(slew_motor_data){a, b, c, {a, b, c, a, b, c}});
        slew_worm_forward_efficiency(a, b, c);
        slew_source_joint(slew_source_main(a, b, c), b, c);
        slew_random_unit((uint64_t)i, 0, 0);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(of_keys_and_scenarios),
        cmocka_unit_test(of_files),
        cmocka_unit_test(of_plant_and_machine),
        cmocka_unit_test(a_time_just_below_the_present_one),
        cmocka_unit_test(of_runs),
        cmocka_unit_test(of_a_scenario_that_is_none),
        cmocka_unit_test(of_a_value_that_is_none),
        cmocka_unit_test(of_statistics),
        cmocka_unit_test(of_ensembles),
        cmocka_unit_test(of_drives_and_windows),
        cmocka_unit_test(of_questions),
        cmocka_unit_test(of_causes),
        cmocka_unit_test(of_causes_one_by_one),
        cmocka_unit_test(of_least_squares),
        cmocka_unit_test(of_physics),
    };
    return cmocka_run_group_tests(tests, enter, NULL);
}
