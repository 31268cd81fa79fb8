/*
 * study_stowed.c - an ensemble asked after each sample's stow: the digits of whole runs, whatever
 * is taught or stowed once for several samples.
 */
#include "../support.h"

#include "study/sampling/stowed_ensemble.h"

#include <stdlib.h>
#include <string.h>

enum { FIGURES = 2 * SLEW_AXES, SAMPLES = 240, DIMENSIONS = 4 };

/* ---- The same question in both ways ---- */

static void keep(const slew_prepared *prepared, const slew_result *r, double *figures)
{
    memcpy(figures, r->deploy.angle, sizeof r->deploy.angle);
    memcpy(figures + SLEW_AXES, prepared->stored, sizeof prepared->stored);
}

static void ask_whole(void *context, const slew_scenario *drawn, const slew_prepared *prepared,
                      double *figures)
{
    slew_result r;
    (void)context;
    slew_run_prepared(drawn, prepared, SLEW_STOW_AND_DEPLOY, NULL, &r);
    keep(prepared, &r, figures);
}

static void ask_stowed(void *context, const slew_scenario *drawn, const slew_prepared *prepared,
                       const slew_stowed *stowed, double *figures)
{
    slew_result r;
    (void)context;
    slew_stowed_deploy(drawn, prepared, stowed, drawn->deploy.seconds, &r);
    keep(prepared, &r, figures);
}

static void vary(slew_spread *spread, const char *path, double low, double high)
{
    spread->item[spread->count++] = (slew_variation){
        .key = slew_key_find(path), .distribution = SLEW_UNIFORM, .low = low, .high = high};
}

/* invented: a key of the truck, one of the day, and both days of their own; some points can't be
 * taught */
static slew_scenario varied_scenario(void)
{
    slew_scenario s = daily_scenario();
    vary(&s.truck, "elevation.motor.no_load_speed", rpm(3000), rpm(3400));
    vary(&s.truck, "elevation.stops.low", degrees(-20), degrees(-15));
    vary(&s.day, "supply.main.voltage", 11.8, 14.2);
    return s;
}

/* truck, day and deploy day change after 12, 4 and 1 samples: much is alike */
static void fill_points(double *points)
{
    static const int alike[DIMENSIONS] = {12, 12, 4, 1};
    for (int i = 0; i < SAMPLES; i++)
        for (int d = 0; d < DIMENSIONS; d++)
            points[i * DIMENSIONS + d] = slew_random_unit(7, (uint64_t)(i / alike[d]), (uint32_t)d);
}

static slew_sampling by_threads(int threads)
{
    slew_sampling how = slew_sampling_default();
    how.samples = SAMPLES;
    how.threads = threads;
    return how;
}

static void same_figures(const slew_ensemble *a, const slew_ensemble *b)
{
    assert_int_equal(a->samples, b->samples);
    assert_int_equal(a->refused, b->refused);
    assert_true(a->refused > 0 && a->refused < a->samples);
    for (int64_t i = 0; i < a->samples * FIGURES; i++)
        assert_true(a->figure[i] == b->figure[i] || (isnan(a->figure[i]) && isnan(b->figure[i])));
}

/* ---- Tests ---- */

/* whole runs at these points (NULL: drawn) against what is asked after stows */
static void check_points(const double *points, double *stored)
{
    const slew_scenario s = varied_scenario();
    slew_ensemble whole, after;
    slew_sampling how = by_threads(1);
    slew_status status = points != NULL
                             ? slew_ensemble_run_at(&s, SLEW_STOW_AND_DEPLOY, &how, points,
                                                    ask_whole, NULL, FIGURES, &whole, NULL)
                             : slew_ensemble_run(&s, SLEW_STOW_AND_DEPLOY, &how, ask_whole, NULL,
                                                 FIGURES, &whole, NULL);
    assert_int_equal(status, SLEW_OK);
    const slew_stowed_asking asking = {ask_stowed, NULL, FIGURES, points, stored};
    for (int threads = 1; threads <= 3; threads++) {
        how.threads = threads;
        assert_int_equal(slew_stowed_ensemble_run(&s, &how, &asking, &after, NULL), SLEW_OK);
        same_figures(&whole, &after);
        slew_ensemble_free(&after);
    }
    slew_ensemble_free(&whole);
}

static void what_is_alike_is_done_once_with_the_same_digits(void **state)
{
    static double points[SAMPLES * DIMENSIONS];
    (void)state;
    fill_points(points);
    check_points(points, NULL);
    check_points(NULL, NULL);
}

/* the times kept by one ensemble are those of the next */
static void times_kept_are_used_with_the_same_digits(void **state)
{
    const slew_sampling how = by_threads(1);
    double *stored = slew_stowed_ensemble_times(&how);
    (void)state;
    assert_non_null(stored);
    check_points(NULL, stored);
    int known = 0;
    for (int i = 0; i < SAMPLES; i++)
        known += !isnan(stored[i * SLEW_AXES]);
    assert_true(known > 0 && known < SAMPLES);
    free(stored);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_is_alike_is_done_once_with_the_same_digits),
        cmocka_unit_test(times_kept_are_used_with_the_same_digits),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
