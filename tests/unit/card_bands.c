/*
 * card_bands.c - the bands of a check card hold what sound trucks show, and not what faulty ones
 * do.
 */
#include "../support.h"

#include <gsl/gsl_cdf.h>

#include "slewtime/card.h"

/* invented: the daily machine with a battery, a temperature and a motor that vary */
static slew_scenario varied_scenario(void)
{
    slew_scenario s = daily_scenario();
    s.truck.count = 1;
    s.truck.item[0] = (slew_variation){.key = slew_key_find("elevation.motor.no_load_speed"),
                                       .distribution = SLEW_NORMAL,
                                       .mean = rpm(3200.0),
                                       .sd = rpm(60.0),
                                       .low = -INFINITY,
                                       .high = INFINITY};
    s.day.count = 2;
    s.day.item[0] = (slew_variation){.key = slew_key_find("supply.main.voltage"),
                                     .distribution = SLEW_UNIFORM,
                                     .low = 11.8,
                                     .high = 14.2};
    s.day.item[1] = (slew_variation){.key = slew_key_find("environment.temperature"),
                                     .distribution = SLEW_UNIFORM,
                                     .low = celsius(5.0),
                                     .high = celsius(35.0)};
    return s;
}

static slew_card card_of(const slew_scenario *s, int64_t samples, int threads)
{
    slew_card card;
    slew_error error = {0};
    slew_sampling how = slew_sampling_default();
    how.samples = samples;
    how.threads = threads;
    assert_int_equal(slew_card_run(s, &how, &card, &error), SLEW_OK);
    return card;
}

/* ---- the central 95 % ---- */

enum { FIGURES = SLEW_CARD_STEPS_MAX * SLEW_CARD_READINGS_MAX, FRESH = 2000 };

/* the same readings by way of the public functions alone */
static double read_travel(const slew_card_step *step, const slew_prepared *p, slew_card_read read)
{
    slew_timed timed;
    slew_setup setup = p->stow_setup;
    if (read == SLEW_CARD_STORED)
        return p->stored[step->row.axis] * step->row.direction;
    static const slew_measure measures[] = {SLEW_MEASURE_SECONDS, SLEW_MEASURE_VOLTAGE,
                                            SLEW_MEASURE_CURRENT};
    assert_int_equal(slew_timing_simulate(&setup, &step->row, &timed, NULL), SLEW_OK);
    return read <= SLEW_CARD_CURRENT ? timed.value[measures[read]] : NAN;
}

static double read_run(const slew_card_step *step, const slew_scenario *drawn,
                       const slew_prepared *p, slew_card_read read)
{
    slew_result r;
    slew_prepared own = *p;
    bool stows = step->kind == SLEW_CARD_STOW;
    for (int j = 0; j < SLEW_AXES; j++)
        own.stow_setup.axis[j].start = step->start[j];
    slew_run_prepared(drawn, &own, stows ? SLEW_STOW_ONLY : SLEW_STOW_AND_DEPLOY, NULL, &r);
    const slew_part *part = stows ? &r.stow : &r.deploy;
    return read == SLEW_CARD_SECONDS     ? part->duration
           : read == SLEW_CARD_ROTATION  ? part->angle[SLEW_ROTATION]
           : read == SLEW_CARD_ELEVATION ? part->angle[SLEW_ELEVATION]
                                         : r.lowest_loaded_voltage;
}

static void read_again(void *context, const slew_scenario *drawn, const slew_prepared *p,
                       double *figures)
{
    const slew_card *card = context;
    for (int i = 0; i < card->steps; i++)
        for (int k = 0; k < card->step[i].readings; k++) {
            const slew_card_step *step = &card->step[i];
            figures[i * SLEW_CARD_READINGS_MAX + k] =
                step->kind == SLEW_CARD_TRAVEL ? read_travel(step, p, step->reading[k].read)
                                               : read_run(step, drawn, p, step->reading[k].read);
        }
}

static double share_inside(const slew_ensemble *e, int index, const slew_card_reading *r)
{
    int64_t inside = 0;
    for (int64_t i = 0; i < e->done; i++) {
        double value = e->figure[i * e->count + index];
        inside += value >= r->low && value <= r->high;
    }
    return (double)inside / (double)e->done;
}

/* A share of 0.95 of 2000 independent samples has an sd of sqrt(0.95 0.05/2000) = 0.0049, and the
 * two quantiles, of 2048 points, move the share by at most as much again: 0.0069 together. Four
 * of these, for 32 readings. */
static void bands_hold_95_percent_of_fresh_samples(void **state)
{
    slew_scenario s = varied_scenario();
    slew_card card = card_of(&s, 2048, 0);
    s.deploy.same_day = true; /* as it is on one visit */
    slew_sampling fresh = {.samples = FRESH, .seed = 4711, .points = SLEW_PSEUDO_RANDOM};
    slew_ensemble e;
    (void)state;
    assert_int_equal(
        slew_ensemble_run(&s, SLEW_STOW_AND_DEPLOY, &fresh, read_again, &card, FIGURES, &e, NULL),
        SLEW_OK);
    int looked_at = 0;
    for (int i = 0; i < card.steps; i++)
        for (int k = 0; k < card.step[i].readings; k++) {
            const slew_card_reading *r = &card.step[i].reading[k];
            if (r->read == SLEW_CARD_DROP ||
                r->read == SLEW_CARD_STORED) /* in steps of the clock */
                continue;
            if (card.step[i].kind == SLEW_CARD_DEPLOY && r->read == SLEW_CARD_SECONDS) {
                near("deploy seconds do not vary", r->high - r->low, 0, 1e-9);
                continue;
            }
            near(slew_card_read_word(r->read), share_inside(&e, i * SLEW_CARD_READINGS_MAX + k, r),
                 0.95, 4 * 0.0069);
            looked_at++;
        }
    assert_int_equal(looked_at, 32);
    slew_ensemble_free(&e);
}

/* Errors drawn anew: 5 % of what is read on sound trucks lies outside, to four times the 0.0069 of
 * above; and the whole page lies inside in the share that is told, known to 0.011 of 2000. */
static void bands_hold_what_is_read_and_the_page_what_is_told(void **state)
{
    slew_scenario s = varied_scenario();
    slew_card card = card_of(&s, 2048, 0);
    s.deploy.same_day = true;
    slew_sampling fresh = {.samples = FRESH, .seed = 815, .points = SLEW_PSEUDO_RANDOM};
    slew_ensemble e;
    int64_t pass = 0, inside[FIGURES] = {0};
    (void)state;
    assert_int_equal(
        slew_ensemble_run(&s, SLEW_STOW_AND_DEPLOY, &fresh, read_again, &card, FIGURES, &e, NULL),
        SLEW_OK);
    for (int64_t i = 0; i < e.done; i++) {
        bool all = true;
        for (int j = 0; j < card.steps * SLEW_CARD_READINGS_MAX; j++) {
            const slew_card_step *step = &card.step[j / SLEW_CARD_READINGS_MAX];
            const slew_card_reading *r = &step->reading[j % SLEW_CARD_READINGS_MAX];
            if (j % SLEW_CARD_READINGS_MAX >= step->readings || r->read == SLEW_CARD_DROP)
                continue;
            double error = gsl_cdf_ugaussian_Pinv(slew_random_unit(99, (uint64_t)i, (uint32_t)j));
            double shown = e.figure[i * e.count + j] + slew_card_sd(r->read) * error;
            bool in = shown >= r->from && shown <= r->to;
            inside[j] += in;
            all = all && in;
        }
        pass += all;
    }
    int looked_at = 0;
    for (int j = 0; j < FIGURES; j++)
        if (inside[j] > 0) {
            near("inside", (double)inside[j] / FRESH, 0.95, 4 * 0.0069);
            looked_at++;
        }
    assert_int_equal(looked_at, 35);
    /* the card has two cable drops more, each outside in 5 % */
    double share = (double)pass / FRESH;
    assert_true(card.passes < share + 0.03 && card.passes > 0.9 * share - 0.03);
    assert_true(card.passes > 0.2 && card.passes < 0.8);
    slew_ensemble_free(&e);
}

static void same_numbers_for_any_number_of_threads(void **state)
{
    slew_scenario s = varied_scenario();
    slew_card one = card_of(&s, 512, 1), three = card_of(&s, 512, 3);
    (void)state;
    assert_int_equal(one.steps, three.steps);
    for (int i = 0; i < one.steps; i++)
        assert_memory_equal(one.step[i].reading, three.step[i].reading, sizeof one.step[i].reading);
}

static void without_a_spread_the_bands_are_the_instruments(void **state)
{
    slew_scenario s = varied_scenario();
    s.truck.count = s.day.count = 0;
    slew_card card = card_of(&s, 256, 0);
    (void)state;
    assert_false(card.varies);
    assert_int_equal(card.samples, 0);
    for (int i = 0; i < card.steps; i++)
        for (int k = 0; k < card.step[i].readings; k++) {
            const slew_card_reading *r = &card.step[i].reading[k];
            double half = 1.959964 * slew_card_sd(r->read);
            near("from", r->from, r->expected - half, 2e-3 * half);
            near("to", r->to, r->expected + half, 2e-3 * half);
        }
}

/* ---- sound and faulty trucks ---- */

static int count_outside(const slew_card *bands, const slew_card *truck)
{
    int outside = 0;
    for (int i = 0; i < bands->steps; i++)
        for (int k = 0; k < bands->step[i].readings; k++) {
            const slew_card_reading *r = &bands->step[i].reading[k];
            double shown = truck->step[i].reading[k].expected;
            outside += !(shown >= r->from && shown <= r->to);
        }
    return outside;
}

/* on one day, without a spread */
static slew_card truck_shows(double voltage, double more_joint, double temperature)
{
    slew_scenario s = daily_scenario();
    s.truck.count = s.day.count = 0;
    set_key(&s, SLEW_LAYER_TODAY, "supply.main.voltage", voltage); /* taught as it was */
    set_key(&s, SLEW_LAYER_TODAY, "environment.temperature", temperature);
    s.setup.supply.feed.joint_resistance += more_joint / s.setup.supply.feed.joints;
    return card_of(&s, 1, 1);
}

/* a joint that has gained 60 mohm, whatever the battery: the cable drop tells it */
static void a_worn_joint_lies_outside(void **state)
{
    slew_scenario s = varied_scenario();
    slew_card bands = card_of(&s, 1024, 0);
    (void)state;
    for (double voltage = 12.0; voltage <= 14.0; voltage += 0.5) {
        slew_card sound = truck_shows(voltage, 0, celsius(20.0));
        slew_card worn = truck_shows(voltage, 0.060, celsius(20.0));
        assert_int_equal(count_outside(&bands, &sound), 0);
        assert_true(count_outside(&bands, &worn) > 0);
        assert_true(worn.step[0].reading[1].expected > bands.step[0].reading[1].to);
    }
}

/* colder than the spread has it: slow, and more current */
static void cold_grease_lies_outside(void **state)
{
    slew_scenario s = varied_scenario();
    slew_card bands = card_of(&s, 1024, 0);
    (void)state;
    for (double voltage = 12.0; voltage <= 14.0; voltage += 0.5) {
        slew_card cold = truck_shows(voltage, 0, celsius(-30.0));
        assert_true(count_outside(&bands, &cold) > 0);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(bands_hold_95_percent_of_fresh_samples),
        cmocka_unit_test(bands_hold_what_is_read_and_the_page_what_is_told),
        cmocka_unit_test(same_numbers_for_any_number_of_threads),
        cmocka_unit_test(without_a_spread_the_bands_are_the_instruments),
        cmocka_unit_test(a_worn_joint_lies_outside),
        cmocka_unit_test(cold_grease_lies_outside),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
