/*
 * fit_recovery.c - figures of a known machine, fitted to what the reference solver says of it with
 * noise: are they found, and are they known as well as is stated?
 *
 * The rows are integrated by SUNDIALS CVODE, once; noise, errors of what the rows are told, offsets
 * of the instruments and the data sheet that the fit starts from are drawn anew for each trial,
 * from what the fit assumes of them. Of 400 trials the share whose 95 % interval holds the truth
 * has a standard deviation of 1.1 %; it is to lie between 91 and 98.5 %.
 */
#include "fit_both.h"

#include <gsl/gsl_cdf.h>

#include "slewtime/study.h"

enum { E = SLEW_ELEVATION, TRIALS = 400, ROBUST_TRIALS = 150, FIGURES = 5, BIAS = 4 };

static const double SD[] = {0.15, 0.05, 0.3}; /* of stopwatch, voltmeter, clamp */

/* ---- the truth ---- */

static const char *const paths[] = {"elevation.motor.no_load_speed",
                                    "elevation.motor.stall_current", "elevation.gear.efficiency",
                                    "supply.feed.joint_resistance"};

/* what is known of each before, as a share of the truth: of the joints told, else what is usual */
static const double before[] = {0.1, 0.15, 0.25, 0.3};
static const double bias = 0.21; /* [s] */

/* how far the scenario that the fit starts from is off where nothing else is */
static const double off[] = {1.12, 0.9, 0.85, 1.4};

static double truth_of(int figure)
{
    slew_scenario s = daily_scenario();
    return figure != BIAS ? slew_scenario_get_number(&s, slew_key_find(paths[figure])) : bias;
}

/* ---- the rows ---- */

static void add_row(slew_timings *t, slew_timing row, double supply, double pressure)
{
    slew_scenario s = daily_scenario();
    slew_setup setup;
    slew_timed timed;
    row.supply = supply;
    row.pressure = pressure;
    slew_scenario_resolve(&s, SLEW_OCCASION_STOW, &setup);
    if (row.to.kind == SLEW_PLACE_NONE) /* a standstill: a formula, tested elsewhere */
        slew_timing_simulate(&setup, &row, &timed, NULL);
    else
        timed = reference_row(setup, &row);
    for (slew_measure m = 0; m < SLEW_MEASURE_COUNT; m++)
        row.measured[m] = (slew_measured){timed.value[m], SD[m], true};
    row.line = t->count + 2;
    t->row[t->count++] = row;
}

/* what such a machine shows, without noise */
static const slew_timings *noiseless(void)
{
    static slew_timings t;
    slew_place low = at_place(SLEW_PLACE_LOW_STOP), none = at_place(SLEW_PLACE_NONE);
    if (t.count > 0)
        return &t;
    for (int direction = -1; direction <= 1; direction += 2)
        for (int weak = 0; weak < 2; weak++)
            for (int water = 0; water < 2; water++)
                add_row(&t, stop_to_stop(E, direction), weak ? 11.9 : 13.4, water ? 7e5 : 0);
    add_row(&t, travel(E, 1, low, at_place(SLEW_PLACE_HOME)), 13.4, 0);
    add_row(&t, travel(E, 1, low, at_degrees(20)), 12.6, 0);
    add_row(&t, travel(E, -1, low, none), 13.4, 0);
    return &t;
}

static double noise(uint64_t trial, uint32_t which)
{
    return gsl_cdf_ugaussian_Pinv(slew_random_unit(42, trial, which));
}

/* which numbers of a trial are drawn beside those of the readings */
enum { SHEET = 100, IDLE_CURRENT = 120, OFFSETS = 130, SUPPLIES = 140 };

/* by how much each instrument shows too much: of a hand, two meters and a clamp */
static double offset_of(uint64_t trial, int instrument)
{
    static const double sd[] = {0.2, 0.05, 0.2, 0.05};
    return sd[instrument] * noise(trial, OFFSETS + (uint32_t)instrument);
}

static void measure(uint64_t trial, slew_timings *out)
{
    *out = *noiseless();
    for (int i = 0; i < out->count; i++) {
        for (slew_measure m = 0; m < SLEW_MEASURE_COUNT; m++) {
            slew_measured *r = &out->row[i].measured[m];
            r->value += offset_of(trial, m) +
                        r->sd * noise(trial, (uint32_t)(i * SLEW_MEASURE_COUNT + (int)m));
        }
        out->row[i].supply += offset_of(trial, 3) + 0.05 * noise(trial, SUPPLIES + (uint32_t)i);
        out->row[i].input_sd[SLEW_INPUT_PRESSURE] = out->row[i].input_sd[SLEW_INPUT_TEMPERATURE] =
            0;
    }
}

/* ---- one fit ---- */

/* which of the figures are fitted; the others are known */
typedef struct asked {
    int count, figure[FIGURES];
    bool robust;
} asked;

static const asked everything = {FIGURES, {0, 1, 2, 3, BIAS}, false};
static const asked with_a_stopwatch = {3, {0, 2, BIAS}, true};

/* the data sheet of a trial: of each key about the truth, not so far off that the axis stalls */
static double sheet_of(int figure, uint64_t trial)
{
    double away = noise(trial, SHEET + (uint32_t)figure);
    return truth_of(figure) * (1 + before[figure] * fmax(-1.8, fmin(1.8, away)));
}

static slew_scenario sheet(const asked *a, uint64_t trial)
{
    slew_scenario s = daily_scenario();
    for (int j = 0; j < a->count; j++)
        if (a->figure[j] != BIAS)
            set_key(&s, SLEW_LAYER_FILE, paths[a->figure[j]], sheet_of(a->figure[j], trial));
    set_key(&s, SLEW_LAYER_FILE, "elevation.motor.no_load_current",
            1.2 * (1 + 0.2 * noise(trial, IDLE_CURRENT)));
    return s;
}

static const slew_fit *fitted(const asked *a, const slew_scenario *start, double tolerance,
                              const slew_timings *timings)
{
    static slew_fit fit;
    slew_error error;
    slew_fit_question q = {.timings = timings, .keys = a->count, .robust = a->robust};
    for (int j = 0; j < a->count; j++) {
        int figure = a->figure[j];
        q.key[j] = figure == BIAS ? SLEW_FIT_BIAS : slew_key_find(paths[figure]);
        q.tolerance[j] = tolerance > 0 ? tolerance * fabs(truth_of(figure))
                         : figure == 3 ? before[3] * truth_of(3)
                                       : 0;
    }
    if (slew_fit_run(start, &q, &fit, &error) != SLEW_OK)
        fail_msg("line %d %s: %s", error.line, error.key, error.message);
    return &fit;
}

/* ---- tests ---- */

/* Without noise, and with next to nothing known before, nothing but the two solvers' difference is
 * left, 1e-6 s in some 10 s, which the least known combination of the five magnifies; and what the
 * scenario says is so uncertain that it pulls by less than a thousandth. */
static void without_noise_the_truth_is_found(void **state)
{
    (void)state;
    slew_timings t = *noiseless();
    slew_scenario start = daily_scenario();
    for (int j = 0; j < BIAS; j++)
        set_key(&start, SLEW_LAYER_FILE, paths[j], truth_of(j) * off[j]);
    for (int i = 0; i < t.count; i++)
        t.row[i].measured[SLEW_MEASURE_SECONDS].value += bias;
    const slew_fit *fit = fitted(&everything, &start, 30, &t);
    for (int j = 0; j < FIGURES; j++) {
        const slew_fit_figure *f = &fit->figure[j];
        near(slew_fit_name(f->key), f->value, truth_of(j), 1e-3 * f->sd);
        assert_true(f->told > 0.999);
    }
    /* (0.12^2 + 0.1^2 + 0.15^2 + 0.4^2 + 1^2)/30^2 of what the scenario said */
    near("chi-square", fit->chi_square, 1.2069 / 900, 2e-5);
    assert_int_equal(fit->readings, 10 * 3 + 2);
}

/* Rows timed with a motor that was warm already, told in their column, are those of a warm motor;
 * not told, the no-load speed takes the blame. */
static void warmth_of_the_motor_is_told_by_its_column(void **state)
{
    static slew_timings t;
    slew_scenario start = daily_scenario();
    (void)state;
    for (int j = 0; j < BIAS; j++)
        set_key(&start, SLEW_LAYER_FILE, paths[j], truth_of(j));
    t.count = 0;
    for (int i = 0; i < noiseless()->count; i++) {
        slew_timing row = noiseless()->row[i];
        row.winding_rise = i % 2 == 0 ? 0 : 55;
        add_row(&t, row, row.supply, row.pressure);
    }
    for (int i = 0; i < t.count; i++)
        t.row[i].measured[SLEW_MEASURE_SECONDS].value += bias;
    const slew_fit *fit = fitted(&everything, &start, 30, &t);
    for (int j = 0; j < FIGURES; j++)
        near(slew_fit_name(fit->figure[j].key), fit->figure[j].value, truth_of(j),
             1e-3 * fit->figure[j].sd);
    for (int i = 0; i < t.count; i++)
        t.row[i].winding_rise = SLEW_NOT_GIVEN;
    fit = fitted(&everything, &start, 30, &t);
    assert_true(fit->chi_square > 10);
}

typedef struct coverage {
    int held;
    double square; /* of the errors in sds */
} coverage;

static double true_bias(uint64_t trial)
{
    return offset_of(trial, 0);
}

static void count_trial(const asked *a, uint64_t trial, const slew_fit *fit, coverage *c)
{
    for (int j = 0; j < a->count; j++) {
        const slew_fit_figure *f = &fit->figure[j];
        double truth = a->figure[j] == BIAS ? true_bias(trial) : truth_of(a->figure[j]);
        c[j].held += f->low <= truth && truth <= f->high;
        c[j].square += (f->value - truth) * (f->value - truth) / (f->sd * f->sd);
    }
}

static void between(const char *what, int figure, int held, int trials)
{
    double share = (double)held / trials;
    if (!(share >= 0.91 && share <= 0.985))
        fail_msg("%s: figure %d lies inside in %.1f %% of the trials", what, figure, 100 * share);
}

static void intervals_hold_what_they_say(void **state)
{
    coverage c[FIGURES] = {0};
    double chi_square = 0, freedom = 0, scatter = 0, square = 0;
    static slew_timings t;
    (void)state;
    for (int trial = 0; trial < TRIALS; trial++) {
        measure((uint64_t)trial, &t);
        slew_scenario start = sheet(&everything, (uint64_t)trial);
        const slew_fit *fit = fitted(&everything, &start, 0, &t);
        count_trial(&everything, (uint64_t)trial, fit, c);
        chi_square += fit->chi_square / TRIALS;
        freedom += fit->freedom / TRIALS;
        scatter += fit->instrument[SLEW_MEASURE_SECONDS].scatter / TRIALS;
        square += pow(fit->instrument[SLEW_MEASURE_SECONDS].scatter, -2) / TRIALS;
    }
    for (int j = 0; j < FIGURES; j++) {
        between("as assumed", j, c[j].held, TRIALS);
        /* The sd is told with the scatter that was found; with the true one, 1, the errors are 1
         * over it: of a figure that the times tell, less of one known before. The scatter of 400 is
         * known to 1/sqrt(800), here three times that. */
        double errors = sqrt(c[j].square / TRIALS);
        if (!(errors > 1 - 0.106 && errors < sqrt(square) + 0.106))
            fail_msg("figure %d: errors %.3f of their sd, not 1 to %.3f", j, errors, sqrt(square));
    }
    /* its mean is the number of readings, to sqrt(2 freedom/400), here four times that */
    near("chi-square", chi_square, freedom, 4 * sqrt(2 * freedom / TRIALS));
    near("scatter", scatter, 1, 0.1);
}

/* one of the times 3 s too long: twenty sds, the button pressed late */
static void spoil(uint64_t trial, slew_timings *t, int bad)
{
    measure(trial, t);
    t->row[bad].measured[SLEW_MEASURE_SECONDS].value += 3;
}

static double weight_of_time(const slew_fit *fit, int row)
{
    int i = 0;
    while (fit->reading[i].row != row || fit->reading[i].measure != SLEW_MEASURE_SECONDS)
        i++;
    return fit->reading[i].weight;
}

static void one_bad_reading_is_taken_no_notice_of(void **state)
{
    coverage c[FIGURES] = {0};
    int missed = 0;
    static slew_timings t;
    (void)state;
    for (int trial = 0; trial < ROBUST_TRIALS; trial++) {
        int bad = trial % 10;
        spoil((uint64_t)trial, &t, bad);
        slew_scenario start = sheet(&with_a_stopwatch, (uint64_t)trial);
        const slew_fit *fit = fitted(&with_a_stopwatch, &start, 0, &t);
        count_trial(&with_a_stopwatch, (uint64_t)trial, fit, c);
        missed += weight_of_time(fit, bad) >= 0.01;
    }
    /* one of two times that tell the same hides behind the other, if noise will have it */
    assert_true(missed <= ROBUST_TRIALS / 100);
    for (int j = 0; j < with_a_stopwatch.count; j++)
        between("robust", j, c[j].held, ROBUST_TRIALS);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(without_noise_the_truth_is_found),
        cmocka_unit_test(warmth_of_the_motor_is_told_by_its_column),
        cmocka_unit_test(intervals_hold_what_they_say),
        cmocka_unit_test(one_bad_reading_is_taken_no_notice_of),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
