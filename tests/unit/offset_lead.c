/*
 * offset_lead.c - which choice is best and by how much, what ends or enters most often, and the
 * target that no deploy can meet.
 */
#include "offset_ask.h"

#include "study/sampling/exact.h"

/* the voltage varies, 11 to 15 V; two times of elevation */
static slew_scenario varied_scenario(double one, double other)
{
    slew_scenario s = daily_scenario();
    vary(&s.day, VOLTAGE, uniform(11, 15));
    offer(&s, E, 2, one, other - one);
    return s;
}

static slew_sampling samples_of(int64_t count, slew_points points)
{
    slew_sampling how = samples(count);
    how.points = points;
    return how;
}

/* ---- The lead ---- */

static slew_merit decides(const slew_scenario *s, const slew_offset *o)
{
    return slew_offset_decides(s, &o->choice[0], &o->choice[1]);
}

/* inside with the first choice less inside with the second: -1, 0 or 1 */
static void keep_difference(void *context, const slew_scenario *drawn,
                            const slew_prepared *prepared, double *figures)
{
    slew_scenario trial = *drawn;
    slew_result r;
    (void)context;
    *figures = 0;
    for (int i = 0; i < 2; i++) {
        trial.deploy.seconds[E] = trial.deploy.choices[E][i];
        slew_run_prepared(&trial, prepared, SLEW_STOW_AND_DEPLOY, NULL, &r);
        bool inside = r.deploy.says == SLEW_DEPLOYED && r.deploy.on_target;
        *figures += (i == 0 ? 1 : -1) * (inside ? 1 : 0);
    }
}

/* independent samples: the mean and 1.96 times its own deviation */
static void lead_is_that_of_the_same_samples(void **state)
{
    const slew_scenario s = varied_scenario(7.5, 6.0);
    const slew_sampling how = samples_of(400, SLEW_PSEUDO_RANDOM);
    slew_ensemble e;
    double mean = 0, square = 0;
    (void)state;
    slew_offset o = offset_of(&s, &how);
    const slew_sampling fresh = slew_sampling_fresh(&how);
    assert_int_equal(o.best, 0);
    assert_int_equal(o.runner_up, 1);
    assert_int_equal(o.fresh, 400);
    assert_int_equal(
        slew_ensemble_run(&s, SLEW_STOW_AND_DEPLOY, &fresh, keep_difference, NULL, 1, &e, NULL),
        SLEW_OK);
    for (int64_t i = 0; i < e.done; i++)
        mean += e.figure[i] / (double)e.done;
    for (int64_t i = 0; i < e.done; i++)
        square += (e.figure[i] - mean) * (e.figure[i] - mean);
    double half = 1.959963984540054 * sqrt(square / (double)(e.done - 1) / (double)e.done);
    near("lead", o.lead.value, mean, 1e-12);
    near("lead", o.lead.value, o.told[0].inside.value - o.told[1].inside.value, 1e-12);
    near("low", o.lead.low, mean - half, 1e-9);
    near("high", o.lead.high, mean + half, 1e-9);
    assert_true(o.lead.low > 0); /* told apart */
    assert_int_equal(decides(&s, &o), SLEW_MERIT_EXCESS);
    slew_ensemble_free(&e);
    slew_offset_free(&o);
}

/* Student's interval over the shifts is not that of the samples */
static void sobol_points_tell_it_by_their_shifts(void **state)
{
    const slew_scenario s = varied_scenario(7.5, 6.0);
    const slew_sampling sobol = samples_of(1600, SLEW_SOBOL);
    const slew_sampling independent = samples_of(1600, SLEW_PSEUDO_RANDOM);
    (void)state;
    slew_offset o = offset_of(&s, &sobol), p = offset_of(&s, &independent);
    assert_true(o.lead.low > 0 && o.lead.low <= o.lead.value && o.lead.value <= o.lead.high);
    assert_true(o.lead.high - o.lead.low < (p.lead.high - p.lead.low) / 2);
    slew_offset_free(&o);
    slew_offset_free(&p);
}

static void choices_alike_have_no_lead(void **state)
{
    slew_scenario s = varied_scenario(7.5, 7.5);
    const slew_sampling how = samples(64);
    (void)state;
    slew_offset o = offset_of(&s, &how);
    assert_int_equal(o.best, 0);
    assert_int_equal(o.runner_up, 1);
    near("lead", o.lead.value, 0, 0);
    assert_false(o.lead.low > 0);
    assert_int_equal(decides(&s, &o), SLEW_MERIT_COUNT);
    slew_offset_free(&o);
    s.deploy.choice_count[E] = 1;
    o = offset_of(&s, &how);
    assert_int_equal(o.runner_up, -1);
    assert_true(isnan(o.lead.value));
    slew_offset_free(&o);
}

static void few_samples_do_not_tell_neighbours_apart(void **state)
{
    const slew_scenario s = varied_scenario(7.50, 7.51);
    const slew_sampling how = samples_of(32, SLEW_PSEUDO_RANDOM);
    (void)state;
    slew_offset o = offset_of(&s, &how);
    assert_false(o.lead.low > 0);
    slew_offset_free(&o);
}

/* ---- The interval of the lead ---- */

enum { REPEATS = 100, DRAWS = 2000, PAIRS = 128 };

/* the first choice over the second, in so many samples that its own error is small */
static double true_lead(const slew_scenario *s)
{
    const slew_sampling many = samples_of(16384, SLEW_SOBOL);
    slew_ensemble e;
    double sum = 0;
    assert_int_equal(
        slew_ensemble_run(s, SLEW_STOW_AND_DEPLOY, &many, keep_difference, NULL, 1, &e, NULL),
        SLEW_OK);
    for (int64_t i = 0; i < e.done; i++)
        sum += e.figure[i];
    sum /= (double)e.done;
    slew_ensemble_free(&e);
    return sum;
}

/* in which share of the repeats the interval holds the truth */
static double coverage(double one, double other, int64_t count, slew_points points)
{
    const slew_scenario s = varied_scenario(one, other);
    double lead = true_lead(&s);
    int holds = 0;
    for (uint64_t seed = 1; seed <= REPEATS; seed++) {
        slew_sampling how = samples_of(count, points);
        how.seed = seed;
        slew_offset o = offset_of(&s, &how);
        double own = o.best == 0 ? lead : -lead;
        holds += o.lead.low <= own && own <= o.lead.high;
        slew_offset_free(&o);
    }
    print_message("%.2f s against %.2f s, lead %.4f: %.3f\n", one, other, lead,
                  (double)holds / REPEATS);
    return (double)holds / REPEATS;
}

/* one and 14 samples that differ, about */
static void interval_covers_where_few_samples_differ(void **state)
{
    (void)state;
    assert_true(coverage(7.5, 7.52, PAIRS, SLEW_PSEUDO_RANDOM) >= 0.95);
    assert_true(coverage(7.5, 7.52, PAIRS, SLEW_SOBOL) >= 0.95);
    assert_true(coverage(7.5, 7.8, PAIRS, SLEW_PSEUDO_RANDOM) >= 0.95);
}

/* pairs drawn at these rates of either alone: in which share of the repeats the interval holds the
 * true difference */
static double coverage_of_draws(double first, double second)
{
    int holds = 0;
    for (uint64_t repeat = 0; repeat < DRAWS; repeat++) {
        int64_t more = 0, fewer = 0;
        for (uint32_t i = 0; i < PAIRS; i++) {
            double u = slew_random_unit(11, repeat, i);
            more += u < first;
            fewer += u > 1 - second;
        }
        slew_share lead = slew_exact_difference(more, fewer, PAIRS, 0.95);
        holds += lead.low <= first - second && first - second <= lead.high;
    }
    return (double)holds / DRAWS;
}

static void exact_interval_covers_at_any_rate(void **state)
{
    static const double rates[] = {0, 0.002, 0.01, 0.03, 0.1, 0.15};
    double least = 1;
    (void)state;
    for (int i = 0; i < 6; i++)
        for (int k = 0; k < 6; k++)
            least = fmin(least, coverage_of_draws(rates[i], rates[k]));
    print_message("covers in %.4f or more\n", least);
    assert_true(least >= 0.95);
}

/* none differs: the bound on how often it does, 1 - 0.0125^(1/128), is that of Clopper and Pearson
 * at 97.5 % */
static void none_that_differs_is_not_certainty(void **state)
{
    const slew_scenario s = varied_scenario(7.5, 7.5);
    const slew_sampling how = samples_of(128, SLEW_PSEUDO_RANDOM);
    const double bound = 1 - pow(0.0125, 1.0 / 128);
    (void)state;
    slew_offset o = offset_of(&s, &how);
    near("lead", o.lead.value, 0, 0);
    near("low", o.lead.low, -bound, 1e-12);
    near("high", o.lead.high, bound, 1e-12);
    slew_offset_free(&o);
}

/* ---- Which of equals ---- */

/* none is inside: the median of 9 s is nearer to 75 deg than that of 6 s */
static void of_misses_the_nearest(void **state)
{
    slew_scenario s = varied_scenario(6.0, 9.0);
    const slew_sampling how = samples(32);
    (void)state;
    aim(&s, E, 74, 76);
    slew_offset o = offset_of(&s, &how);
    assert_int_equal(o.best, 1);
    assert_int_equal(decides(&s, &o), SLEW_MERIT_DISTANCE);
    assert_int_equal(slew_offset_nearest(&s, &o, E), 1);
    aim(&s, E, -1, 1);
    assert_int_equal(slew_offset_nearest(&s, &o, E), 0);
    slew_offset_free(&o);
}

/* none is inside; the first is nearer, but runs into the stop on strong days */
static void of_misses_the_one_without_faults(void **state)
{
    slew_scenario s = varied_scenario(12.0, 6.0);
    const slew_sampling how = samples(64);
    (void)state;
    s.setup.axis[E].stops.high = degrees(60);
    aim(&s, R, 100, 101);
    aim(&s, E, 57, 58);
    slew_offset o = offset_of(&s, &how);
    assert_true(o.choice[0].fault.value > 0);
    assert_int_equal(slew_offset_nearest(&s, &o, E), 0);
    assert_int_equal(o.best, 1);
    assert_int_equal(decides(&s, &o), SLEW_MERIT_STOP);
    slew_offset_free(&o);
}

/* none is inside or faults; the first enters a box on its way */
static void of_misses_the_one_that_stays_clear(void **state)
{
    slew_scenario s = varied_scenario(9.0, 6.0);
    const slew_sampling how = samples(64);
    (void)state;
    aim(&s, R, 100, 101);
    s.keepout.count = 1;
    s.keepout.box[0] = (slew_keepout_box){.name = "high",
                                          .axis = {{-INFINITY, INFINITY}, {degrees(50), INFINITY}}};
    slew_offset o = offset_of(&s, &how);
    near("no fault", o.choice[0].fault.value, 0, 0);
    assert_true(o.choice[0].keepout.value > o.choice[1].keepout.value);
    assert_int_equal(o.best, 1);
    assert_int_equal(decides(&s, &o), SLEW_MERIT_KEEPOUT);
    slew_offset_free(&o);
}

static void enough_is_as_often_as_wanted(void **state)
{
    const slew_offset_choice choice = {.inside = {0.95, 0.9, 0.99}};
    (void)state;
    assert_true(slew_offset_is_enough(&choice, 0.95));
    assert_false(slew_offset_is_enough(&choice, 0.951));
}

static void sides_of_a_target(void **state)
{
    const slew_scenario s = varied_scenario(6.0, 9.0); /* 30 to 50 deg */
    (void)state;
    near("below", slew_target_miss(&s, E, degrees(28)), -degrees(2), 1e-12);
    near("inside", slew_target_miss(&s, E, degrees(30)), 0, 0);
    near("above", slew_target_miss(&s, E, degrees(51)), degrees(1), 1e-12);
}

/* ---- What a choice is made of ---- */

static void every_sample_ends_once(void **state)
{
    slew_scenario s = varied_scenario(6.0, 12.0);
    const slew_sampling how = samples(256);
    (void)state;
    s.setup.axis[E].stops.high = degrees(60); /* 12 s run into it on a strong day */
    slew_offset o = offset_of(&s, &how);
    for (int i = 0; i < 2; i++) {
        const slew_offset_choice *c = &o.choice[i];
        near("rotation", c->outside[R].value, 0, 0);
        near("together", c->inside.value + c->outside[E].value + c->fault.value, 1, 1e-12);
        near("no verdict", c->no_verdict.value, 0, 0);
    }
    const slew_usual_fault *f = &o.choice[1].usual_fault;
    assert_true(f->fault == SLEW_FAULT_HARD_STOP && f->axis == E && !f->in_stow);
    assert_true(f->share.value > 0.1);
    near("all of them", f->share.value, o.choice[1].fault.value, 0);
    assert_int_equal(o.choice[0].usual_fault.fault, SLEW_FAULT_NONE);
    slew_offset_free(&o);
}

/* hard stops on strong days, a supply that breaks down on fewer weak ones */
static void the_fault_that_ends_most(void **state)
{
    slew_scenario s = varied_scenario(12.0, 6.0);
    const slew_sampling how = samples(256);
    (void)state;
    s.deploy.same_day = true;
    s.day.item[0].low = 9.5;
    s.setup.axis[E].stops.high = degrees(60);
    slew_offset o = offset_of(&s, &how);
    const slew_offset_choice *c = &o.choice[0];
    print_message("faults %.3f, usual %.3f; of 6 s %.3f, %s\n", c->fault.value,
                  c->usual_fault.share.value, o.choice[1].fault.value,
                  slew_fault_word(o.choice[1].usual_fault.fault));
    assert_int_equal(o.choice[1].usual_fault.fault, SLEW_FAULT_UNDERVOLTAGE);
    assert_int_equal(c->usual_fault.fault, SLEW_FAULT_HARD_STOP);
    near("the rest", c->fault.value - c->usual_fault.share.value, o.choice[1].fault.value, 1e-12);
    assert_true(o.choice[1].usual_fault.share.value < c->usual_fault.share.value);
    slew_offset_free(&o);
}

/* the second box is entered on its way by every sample, the first by the strong days alone */
static void the_box_that_most_enter(void **state)
{
    slew_scenario s = varied_scenario(7.5, 1.0);
    const slew_sampling how = samples(128);
    (void)state;
    s.keepout.count = 2;
    for (int i = 0; i < 2; i++)
        s.keepout.box[i] =
            (slew_keepout_box){.name = "box",
                               .axis = {{-INFINITY, INFINITY},
                                        {degrees(i == 0 ? 43 : 20), degrees(i == 0 ? 80 : 21)}}};
    s.setup.axis[E].start = degrees(5); /* the stow meets neither */
    slew_offset o = offset_of(&s, &how);
    assert_int_equal(o.choice[0].usual_box.box, 1);
    near("entered", o.choice[0].usual_box.share.value, 1, 0);
    assert_int_equal(o.choice[1].usual_box.box, -1);
    near("clear", o.choice[1].keepout.value, 0, 0);
    slew_offset_free(&o);
}

/* ---- A target beyond the stops ---- */

static slew_status status_of(const slew_scenario *s, slew_error *error)
{
    const slew_sampling how = samples(8);
    slew_offset o;
    slew_status status = slew_offset_run(s, &how, &o, error);
    slew_offset_free(&o);
    return status;
}

/* the stops are those of the deploy, and a target that touches one can be met there */
static void refused_only_if_it_is_certain(void **state)
{
    slew_scenario s = varied_scenario(6.0, 9.0); /* stops at -20 and 90 deg */
    slew_error error;
    (void)state;
    aim(&s, E, 90, 95);
    assert_int_equal(status_of(&s, &error), SLEW_OK);
    aim(&s, E, 91, 95);
    assert_int_equal(status_of(&s, &error), SLEW_ERROR_INPUT);
    assert_non_null(strstr(error.expected, "-20 to 90 deg"));
    set_key(&s, SLEW_LAYER_DEPLOY_DAY, "elevation.stops.high", degrees(92));
    assert_int_equal(status_of(&s, &error), SLEW_OK);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(lead_is_that_of_the_same_samples),
        cmocka_unit_test(sobol_points_tell_it_by_their_shifts),
        cmocka_unit_test(choices_alike_have_no_lead),
        cmocka_unit_test(few_samples_do_not_tell_neighbours_apart),
        cmocka_unit_test(interval_covers_where_few_samples_differ),
        cmocka_unit_test(exact_interval_covers_at_any_rate),
        cmocka_unit_test(none_that_differs_is_not_certainty),
        cmocka_unit_test(of_misses_the_nearest),
        cmocka_unit_test(of_misses_the_one_without_faults),
        cmocka_unit_test(of_misses_the_one_that_stays_clear),
        cmocka_unit_test(the_fault_that_ends_most),
        cmocka_unit_test(enough_is_as_often_as_wanted),
        cmocka_unit_test(sides_of_a_target),
        cmocka_unit_test(every_sample_ends_once),
        cmocka_unit_test(the_box_that_most_enter),
        cmocka_unit_test(refused_only_if_it_is_certain),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
