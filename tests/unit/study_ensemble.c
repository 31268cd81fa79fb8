/*
 * study_ensemble.c - many samples: the same for any number of threads, stopped, refused, and the
 * same as runs put together by hand.
 */
#include "../support.h"

#include "slewtime/study.h"

static const int E = SLEW_ELEVATION;

/* ---- A spread and a question ---- */

static void vary(slew_spread *spread, const char *path, slew_variation v)
{
    v.key = slew_key_find(path);
    spread->item[spread->count++] = v;
}

static slew_variation uniform(double low, double high)
{
    return (slew_variation){.distribution = SLEW_UNIFORM, .low = low, .high = high};
}

static slew_variation normal(double mean, double sd)
{
    return (slew_variation){
        .distribution = SLEW_NORMAL, .mean = mean, .sd = sd, .low = -INFINITY, .high = INFINITY};
}

static slew_variation either(double first, double second)
{
    return (slew_variation){
        .distribution = SLEW_TABLE, .count = 2, .value = {first, second}, .weight = {1, 1}};
}

/* invented: two keys of the truck, three of the day */
static slew_scenario varied_scenario(void)
{
    slew_scenario s = daily_scenario();
    vary(&s.truck, "elevation.motor.no_load_speed", normal(rpm(3200), rpm(60)));
    vary(&s.truck, "elevation.gear.efficiency",
         (slew_variation){.distribution = SLEW_TRIANGULAR, .low = 0.32, .mode = 0.36, .high = 0.4});
    vary(&s.day, "supply.main.voltage", uniform(11.8, 14.2));
    vary(&s.day, "rotation.start", uniform(degrees(-160), degrees(160)));
    vary(&s.day, "elevation.start", either(degrees(5), degrees(60)));
    return s;
}

enum { FIGURES = 7 };

static void keep_result(void *context, const slew_scenario *drawn, const slew_prepared *prepared,
                        double *figures)
{
    slew_result r;
    (void)context;
    slew_run_prepared(drawn, prepared, SLEW_STOW_AND_DEPLOY, NULL, &r);
    for (int j = 0; j < SLEW_AXES; j++) {
        figures[j] = r.stow.angle[j];
        figures[2 + j] = r.deploy.angle[j];
        figures[4 + j] = prepared->stored[j];
    }
    figures[6] = r.charge;
}

static slew_sampling some_samples(slew_points points, int64_t samples, int threads)
{
    slew_sampling how = slew_sampling_default();
    how.points = points;
    how.samples = samples;
    how.threads = threads;
    return how;
}

static slew_status try_ensemble(const slew_scenario *s, const slew_sampling *how, slew_ensemble *e,
                                slew_error *error)
{
    return slew_ensemble_run(s, SLEW_STOW_AND_DEPLOY, how, keep_result, NULL, FIGURES, e, error);
}

static slew_ensemble ensemble_of(const slew_scenario *s, const slew_sampling *how)
{
    slew_ensemble e;
    slew_error error;
    if (try_ensemble(s, how, &e, &error) != SLEW_OK)
        fail_msg("no ensemble: %s: %s", error.key, error.message);
    assert_int_equal(e.done, e.samples);
    return e;
}

static void same_figures(const slew_ensemble *a, const slew_ensemble *b, int64_t samples)
{
    assert_memory_equal(a->figure, b->figure,
                        (size_t)samples * (size_t)a->count * sizeof *a->figure);
}

/* ---- The same again ---- */

static void threads_do_not_matter(void **state)
{
    static const int threads[] = {1, 2, 3, 8, 0};
    const slew_scenario s = varied_scenario();
    (void)state;
    for (int points = SLEW_SOBOL; points <= SLEW_PSEUDO_RANDOM; points++) {
        slew_sampling how = some_samples((slew_points)points, 600, 1);
        slew_ensemble one = ensemble_of(&s, &how);
        for (int i = 0; i < 5; i++) {
            how.threads = threads[i];
            slew_ensemble many = ensemble_of(&s, &how);
            assert_int_equal(many.samples, one.samples);
            same_figures(&one, &many, one.samples);
            slew_ensemble_free(&many);
        }
        slew_ensemble_free(&one);
    }
}

static void pseudo_random_sample_does_not_depend_on_their_number(void **state)
{
    const slew_scenario s = varied_scenario();
    slew_sampling few = some_samples(SLEW_PSEUDO_RANDOM, 77, 2);
    slew_sampling many = some_samples(SLEW_PSEUDO_RANDOM, 300, 2);
    (void)state;
    slew_ensemble a = ensemble_of(&s, &few), b = ensemble_of(&s, &many);
    assert_int_equal(a.samples, 77);
    same_figures(&a, &b, 77);
    slew_ensemble_free(&a);
    slew_ensemble_free(&b);
}

static void seeds_give_other_samples(void **state)
{
    const slew_scenario s = varied_scenario();
    (void)state;
    for (int points = SLEW_SOBOL; points <= SLEW_PSEUDO_RANDOM; points++) {
        slew_sampling how = some_samples((slew_points)points, 64, 2);
        slew_ensemble a = ensemble_of(&s, &how);
        how.seed = 2;
        slew_ensemble b = ensemble_of(&s, &how);
        for (int64_t i = 0; i < 64 * FIGURES; i += FIGURES)
            assert_true(a.figure[i + 2 + E] != b.figure[i + 2 + E]);
        slew_ensemble_free(&a);
        slew_ensemble_free(&b);
    }
}

/* ---- Put together by hand ---- */

static void draw_by_hand(slew_scenario *s, slew_layer_id layer, const slew_spread *spread,
                         const double *u)
{
    for (int i = 0; i < spread->count; i++)
        assert_int_equal(slew_scenario_set_number(s, layer, spread->item[i].key,
                                                  slew_variation_quantile(&spread->item[i], u[i])),
                         SLEW_OK);
}

/* the truck into the file, the day on top of today, another day on top of that */
static slew_scenario drawn_by_hand(const slew_scenario *s, const double *u)
{
    slew_scenario drawn = *s;
    draw_by_hand(&drawn, SLEW_LAYER_FILE, &s->truck, u);
    draw_by_hand(&drawn, SLEW_LAYER_TODAY, &s->day, u + s->truck.count);
    draw_by_hand(&drawn, SLEW_LAYER_DEPLOY_DAY, &s->day, u + s->truck.count + s->day.count);
    return drawn;
}

static void is_run_of(const slew_scenario *drawn, const double *figures)
{
    slew_prepared prepared;
    double expected[FIGURES];
    assert_int_equal(slew_prepare(drawn, SLEW_STOW_AND_DEPLOY, &prepared, NULL), SLEW_OK);
    keep_result(NULL, drawn, &prepared, expected);
    assert_memory_equal(figures, expected, sizeof expected);
}

static void each_pseudo_random_sample_is_a_run(void **state)
{
    const slew_scenario s = varied_scenario();
    slew_sampling how = some_samples(SLEW_PSEUDO_RANDOM, 100, 2);
    slew_ensemble e = ensemble_of(&s, &how);
    (void)state;
    assert_int_equal(e.dimensions, 8);
    for (int i = 0; i < 100; i++) {
        double u[8];
        for (uint32_t d = 0; d < 8; d++)
            u[d] = slew_random_unit(how.seed, (uint64_t)i, d);
        slew_scenario drawn = drawn_by_hand(&s, u);
        is_run_of(&drawn, e.figure + i * FIGURES);
    }
    slew_ensemble_free(&e);
}

/* the ends count as the outermost shares there are, 2^-53 from them */
static void each_given_point_is_a_run(void **state)
{
    enum { POINTS = 70 };
    static double u[POINTS * 8];
    const slew_scenario s = varied_scenario();
    slew_sampling how = some_samples(SLEW_SOBOL, POINTS, 2);
    slew_ensemble e;
    (void)state;
    for (int i = 0; i < POINTS * 8; i++)
        u[i] = i < 8 ? 0 : i < 16 ? 1 : fmod(i * 0.6180339887498949, 1);
    assert_int_equal(slew_ensemble_run_at(&s, SLEW_STOW_AND_DEPLOY, &how, u, keep_result, NULL,
                                          FIGURES, &e, NULL),
                     SLEW_OK);
    assert_int_equal(e.done, POINTS);
    for (int i = 0; i < 16; i++)
        u[i] = i < 8 ? 0x1p-53 : 1 - 0x1p-53;
    for (int i = 0; i < POINTS; i++) {
        slew_scenario drawn = drawn_by_hand(&s, u + i * 8);
        is_run_of(&drawn, e.figure + i * FIGURES);
    }
    slew_ensemble_free(&e);
}

static void keep_voltage(void *context, const slew_scenario *drawn, const slew_prepared *prepared,
                         double *figures)
{
    (void)context;
    (void)drawn;
    figures[0] = prepared->stow_setup.supply.main.voltage;
    figures[1] = prepared->deploy_setup.supply.main.voltage;
}

/* Every dimension of every shift of 2^m Sobol points has as many in each of 16 equal parts, give or
 * take two: the shift cuts one of the unshifted parts in two, and GSL leaves out the point 0. */
static void sobol_points_fill_every_part_alike(void **state)
{
    slew_scenario s = daily_scenario();
    slew_sampling how = some_samples(SLEW_SOBOL, 8 * 128, 2);
    slew_ensemble e;
    int count[8][2][16] = {{{0}}};
    (void)state;
    vary(&s.day, "supply.main.voltage", uniform(12, 14));
    assert_int_equal(
        slew_ensemble_run(&s, SLEW_STOW_AND_DEPLOY, &how, keep_voltage, NULL, 2, &e, NULL),
        SLEW_OK);
    for (int64_t i = 0; i < e.done; i++)
        for (int d = 0; d < 2; d++)
            count[i % 8][d][(int)(8 * (e.figure[2 * i + d] - 12))]++;
    for (int shift = 0; shift < 8; shift++)
        for (int d = 0; d < 2; d++)
            for (int part = 0; part < 16; part++)
                near("points in a sixteenth", count[shift][d][part], 8, 2);
    slew_ensemble_free(&e);
}

/* ---- Without a spread ---- */

/* trucks that differ in their stow point alone: each has the stored times of its own */
static void a_point_that_varies_is_taught_anew(void **state)
{
    (void)state;
    const double points[] = {degrees(-16), degrees(-12)};
    double stored[2][SLEW_AXES];
    slew_scenario s = daily_scenario(), one = s;
    vary(&s.truck, "stow.point.elevation", either(points[0], points[1]));
    for (int i = 0; i < 2; i++) {
        one.stow.point[E] = points[i];
        assert_int_equal(slew_teach(&one, stored[i], NULL), SLEW_OK);
    }
    slew_sampling how = some_samples(SLEW_PSEUDO_RANDOM, 32, 1);
    slew_ensemble e = ensemble_of(&s, &how);
    int seen[2] = {0, 0};
    for (int64_t i = 0; i < e.done; i++)
        for (int k = 0; k < 2; k++)
            seen[k] += e.figure[i * FIGURES + 4 + E] == stored[k][E];
    assert_int_equal(seen[0] + seen[1], 32);
    assert_true(seen[0] > 4 && seen[1] > 4);
    slew_ensemble_free(&e);
}

static void no_spread_gives_equal_results(void **state)
{
    const slew_scenario s = daily_scenario();
    (void)state;
    for (int points = SLEW_SOBOL; points <= SLEW_PSEUDO_RANDOM; points++) {
        slew_sampling how = some_samples((slew_points)points, 80, 2);
        slew_ensemble e = ensemble_of(&s, &how);
        assert_int_equal(e.dimensions, 0);
        assert_int_equal(e.samples, 80);
        for (int64_t i = 0; i < e.done; i++)
            is_run_of(&s, e.figure + i * FIGURES);
        slew_ensemble_free(&e);
    }
}

static void sobol_samples_are_rounded_up_to_the_shifts(void **state)
{
    const slew_scenario s = varied_scenario();
    slew_sampling how = some_samples(SLEW_SOBOL, 97, 1);
    slew_ensemble e = ensemble_of(&s, &how);
    (void)state;
    assert_int_equal(e.samples, 104);
    slew_ensemble_free(&e);
}

/* ---- Stopped ---- */

typedef struct watcher {
    int64_t last, stop_at;
    int calls;
} watcher;

static bool watch(void *context, int64_t done)
{
    watcher *w = context;
    assert_true(done > w->last);
    w->last = done;
    w->calls++;
    return done < w->stop_at;
}

static void stopped_ensemble_has_good_first_samples(void **state)
{
    const slew_scenario s = varied_scenario();
    (void)state;
    for (int threads = 1; threads <= 3; threads++) {
        slew_sampling how = some_samples(SLEW_PSEUDO_RANDOM, 2000, threads);
        slew_ensemble whole = ensemble_of(&s, &how), part;
        slew_error error;
        watcher w = {.stop_at = 300};
        how.progress = watch;
        how.context = &w;
        assert_int_equal(try_ensemble(&s, &how, &part, &error), SLEW_ERROR_STOPPED);
        assert_int_equal(error.status, SLEW_ERROR_STOPPED);
        assert_int_equal(part.samples, 2000);
        assert_in_range(part.done, 1, 1999);
        same_figures(&whole, &part, part.done);
        slew_ensemble_free(&whole);
        slew_ensemble_free(&part);
    }
}

static void watched_ensemble_is_the_same(void **state)
{
    const slew_scenario s = varied_scenario();
    slew_sampling how = some_samples(SLEW_SOBOL, 400, 1);
    watcher w = {.stop_at = 1000};
    (void)state;
    slew_ensemble alone = ensemble_of(&s, &how);
    how.progress = watch;
    how.context = &w;
    slew_ensemble watched = ensemble_of(&s, &how);
    assert_true(w.calls > 1);
    assert_int_equal(w.last, 400);
    same_figures(&alone, &watched, 400);
    slew_ensemble_free(&alone);
    slew_ensemble_free(&watched);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(threads_do_not_matter),
        cmocka_unit_test(pseudo_random_sample_does_not_depend_on_their_number),
        cmocka_unit_test(seeds_give_other_samples),
        cmocka_unit_test(each_pseudo_random_sample_is_a_run),
        cmocka_unit_test(each_given_point_is_a_run),
        cmocka_unit_test(sobol_points_fill_every_part_alike),
        cmocka_unit_test(a_point_that_varies_is_taught_anew),
        cmocka_unit_test(no_spread_gives_equal_results),
        cmocka_unit_test(sobol_samples_are_rounded_up_to_the_shifts),
        cmocka_unit_test(stopped_ensemble_has_good_first_samples),
        cmocka_unit_test(watched_ensemble_is_the_same),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
