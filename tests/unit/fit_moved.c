/* fit_moved.c - a stow point that a stored time has told, written by a fit: plan and margin move
 * it, and what is not known of it moves along. Runs from the project's root. */
#include "fit_both.h"

#include <stdlib.h>

#include "slewtime/demands.h"
#include "slewtime/edit.h"
#include "slewtime/margin.h"
#include "slewtime/offset.h"
#include "slewtime/plan.h"
#include "slewtime/read.h"
#include "slewtime/run.h"

enum { E = SLEW_ELEVATION, LOW = 0 };

static const char daily[] = "examples/daily.yaml";
static const char point[] = "stow.point.elevation";

/* ---- the calibrated file ---- */

static slew_scenario read_text(const char *text)
{
    slew_scenario s;
    if (slew_scenario_read_memory(text, strlen(text), "calibrated", NULL, &s) != SLEW_OK)
        fail_msg("the scenario can't be read");
    return s;
}

/* both ways by stopwatch, and what the controller has stored of a point 0.8 deg off the file's */
static slew_timings read_visit(const slew_scenario *sheet)
{
    slew_timings t = {0};
    slew_scenario truth = *sheet;
    double stored[SLEW_AXES];
    set_key(&truth, SLEW_LAYER_FILE, point, degrees(-16.8));
    assert_int_equal(slew_teach(&truth, stored, NULL), SLEW_OK);
    for (int i = 0; i < 2; i++) {
        slew_timed timed;
        slew_timing *row = &t.row[t.count++];
        *row = stop_to_stop(E, i ? 1 : -1);
        row->supply = sheet->setup.supply.main.voltage;
        assert_int_equal(slew_timing_simulate(&truth.setup, row, &timed, NULL), SLEW_OK);
        row->measured[SLEW_MEASURE_SECONDS].value = timed.value[SLEW_MEASURE_SECONDS];
    }
    slew_timing *row = &t.row[t.count++];
    *row = travel(E, -1, at_place(SLEW_PLACE_HOME), at_place(SLEW_PLACE_STOW_POINT));
    row->measured[SLEW_MEASURE_SECONDS].value = fabs(stored[E]);
    return t;
}

/* fitted, written, read again */
static slew_scenario calibrated(void)
{
    static slew_fit fit;
    slew_error error = {0};
    char *text = slew_scenario_text(daily, &error);
    const slew_scenario sheet = read_text(text);
    const slew_timings t = read_visit(&sheet);
    const slew_fit_question q = {
        .timings = &t, .keys = 1, .key = {slew_key_find("elevation.motor.no_load_speed")}};
    if (slew_fit_run(&sheet, &q, &fit, &error) != SLEW_OK)
        fail_msg("%s: %s", error.key, error.message);
    char *written = slew_fit_write(&fit, text, NULL, 0, NULL, &error);
    assert_non_null(written);
    const slew_scenario s = read_text(written);
    free(written);
    free(text);
    return s;
}

static slew_variation *spread_of_point(slew_scenario *s)
{
    for (int i = 0; i < s->truck.count; i++)
        if (s->truck.item[i].key == slew_key_find(point))
            return &s->truck.item[i];
    return NULL;
}

/* ---- where it rests ---- */

static slew_sampling samples(int64_t count)
{
    slew_sampling how = slew_sampling_default();
    how.samples = count;
    how.threads = 2;
    return how;
}

/* where a deploy of no time rests: where the stow did, on the day of teaching */
static slew_summary rests(slew_scenario s)
{
    const slew_sampling how = samples(512);
    slew_offset offset;
    slew_error error;
    s.day.count = 0;
    s.today = s.teach;
    s.deploy_day = s.teach;
    s.deploy.seconds[E] = 0;
    s.deploy.choice_count[E] = 1;
    s.deploy.choices[E][0] = 0;
    if (slew_offset_run(&s, &how, &offset, &error) != SLEW_OK)
        fail_msg("%s: %s", error.key, error.message);
    const slew_summary rest = offset.choice[0].angle[E];
    slew_offset_free(&offset);
    return rest;
}

/* ---- plan ---- */

/* by 2 deg, as far as before about it */
static void a_plan_moves_it_with_its_uncertainty(void **state)
{
    slew_scenario s = calibrated(), moved = s;
    (void)state;
    const slew_variation before = *spread_of_point(&s);
    near("fitted", s.stow.point[E], degrees(-16.8), degrees(0.2));
    assert_true(before.sd > degrees(0.1) && before.sd < degrees(1));
    const slew_plan_setting setting = {.point = {s.stow.point[0], s.stow.point[E] + degrees(2)},
                                       .seconds = {0, 7.5}};
    slew_plan_set(&moved, &setting);
    const slew_variation after = *spread_of_point(&moved);
    near("mean", after.mean, before.mean + degrees(2), 1e-12);
    assert_true(after.sd == before.sd);
    const slew_summary here = rests(s), there = rests(moved);
    near("rests", there.median - here.median, degrees(2), degrees(0.1));
    close_to("as wide", there.p95 - there.p05, here.p95 - here.p05, 0.1);
    assert_true(here.p95 - here.p05 > 2 * 1.645 * 0.8 * before.sd);
}

/* a mast above the barrel of the point today: a plan that can't move it finds nothing */
static void a_plan_finds_another_point(void **state)
{
    static slew_plan plan;
    slew_scenario s = calibrated();
    const slew_sampling how = samples(600);
    slew_error error;
    (void)state;
    s.day.count = 0;
    s.stow.range[E] = (slew_range){degrees(-19), degrees(-8)};
    s.demands.keepout_entered = 0.01;
    s.keepout.count = 1;
    s.keepout.box[0].axis[E] = (slew_range){degrees(-25), degrees(-14.5)};
    if (slew_plan_run(&s, &how, &plan, &error) != SLEW_OK)
        fail_msg("%s: %s", error.key, error.message);
    assert_int_equal(plan.today.judgment.of[SLEW_DEMAND_KEEPOUT].meets, SLEW_MEETS_NOT);
    assert_int_equal(plan.best.judgment.of[SLEW_DEMAND_KEEPOUT].meets, SLEW_MEETS);
    assert_true(plan.best.moved[E] > degrees(2));
}

/* ---- margin ---- */

static double enough(const slew_scenario *s)
{
    static slew_margin margin;
    const slew_margin_question q = {E, 0.01};
    const slew_sampling how = samples(1024);
    slew_error error;
    if (slew_margin_run(s, &q, &how, &margin, &error) != SLEW_OK)
        fail_msg("%s: %s", error.key, error.message);
    assert_int_equal(margin.side[LOW].need.status, SLEW_OK);
    return margin.side[LOW].need.enough;
}

/* One in a hundred of a normal lies 2.33 sd below its middle. The days need some clearance too, in
 * quadrature, so that it is less than both together and more than the greater. */
static void a_margin_counts_what_is_not_known_of_it(void **state)
{
    slew_scenario s = calibrated(), sure = s;
    (void)state;
    slew_variation *v = spread_of_point(&s);
    v->sd = degrees(1);
    s.correlation.count = sure.correlation.count = 0;
    *spread_of_point(&sure) = (slew_variation){.key = v->key,
                                               .distribution = SLEW_NORMAL,
                                               .low = -INFINITY,
                                               .high = INFINITY,
                                               .mean = v->mean,
                                               .sd = degrees(0.001)};
    double known = enough(&sure), unknown = enough(&s);
    assert_true(unknown > known + degrees(0.3));
    assert_true(unknown < known + degrees(2.33 + 0.15));
    assert_true(unknown > degrees(2.33 - 0.15));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_plan_moves_it_with_its_uncertainty),
        cmocka_unit_test(a_plan_finds_another_point),
        cmocka_unit_test(a_margin_counts_what_is_not_known_of_it),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
