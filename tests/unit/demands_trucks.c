/*
 * demands_trucks.c - how often demands are missed, truck by truck: what the few days of each
 * scatter is no difference between trucks, and what differs is found.
 */
#include "../support.h"

#include "slewtime/demands.h"
#include "study/demands/ask.h"

#include <gsl/gsl_cdf.h>

static slew_variation in_range(const char *path, double low, double high)
{
    return (slew_variation){
        .key = slew_key_find(path), .distribution = SLEW_UNIFORM, .low = low, .high = high};
}

/* deploys of 7.5 s on days of 11.8 to 14.2 V: some miss the target */
static slew_scenario varied_scenario(slew_variation of_truck)
{
    slew_scenario s = daily_scenario();
    set_key(&s, SLEW_LAYER_TEACH, "supply.main.voltage", 12.6);
    s.day.count = 1;
    s.day.item[0] = in_range("supply.main.voltage", 11.0, 15.0);
    s.truck.count = 1;
    s.truck.item[0] = of_truck;
    return s;
}

static slew_trucks ask(const slew_scenario *s, int64_t samples, int threads)
{
    slew_trucks out;
    slew_sampling how = slew_sampling_default();
    how.samples = samples;
    how.threads = threads;
    assert_int_equal(slew_demands_by_truck(s, SLEW_STOW_AND_DEPLOY, &how, &out, NULL), SLEW_OK);
    return out;
}

/* the share of many days that miss the target, of the truck at `u` of its spread */
static double missed_by(const slew_scenario *s, double u)
{
    slew_scenario one = *s;
    slew_judgment j;
    slew_sampling how = slew_sampling_default();
    how.samples = 1024;
    set_key(&one, SLEW_LAYER_FILE, slew_key_at(s->truck.item[0].key)->path,
            slew_variation_quantile(&s->truck.item[0], u));
    one.truck.count = 0;
    assert_int_equal(slew_demands_run(&one, SLEW_STOW_AND_DEPLOY, &how, &j, NULL), SLEW_OK);
    return j.of[SLEW_DEMAND_DEPLOY].missed.value;
}

/* of the share of so many independent days */
static double scatter_of_days(double share, int days)
{
    return sqrt(share * (1 - share) / days);
}

/* a rotor of 1 % more or less inertia changes nothing: 32 days of each would scatter by some points
 */
static void alike_trucks_do_not_differ(void **state)
{
    slew_scenario s = varied_scenario(in_range("rotation.motor.inertia", 4.45e-5, 4.55e-5));
    (void)state;
    s.day.count = 2;
    s.day.item[1] = in_range("environment.temperature", celsius(-10), celsius(40));
    const slew_trucks told = ask(&s, 4096, 2);
    const slew_truck_state *deploy = &told.of[SLEW_DEMAND_DEPLOY];
    double share = missed_by(&s, 0.5);
    assert_int_equal(told.trucks, 128);
    assert_int_equal(told.days, 32);
    assert_true(share > 0.05 && share < 0.95);
    assert_true(deploy->low < share && deploy->high > share);
    /* the outermost of 128 lie 2.5 sds off: half of that either way is taken out at least */
    assert_true(deploy->high - deploy->low < 2.5 * scatter_of_days(share, told.days));
}

/* each of eight trucks all over the spread, by many days of its own; told are the outermost of 128
 */
static void what_differs_is_found(void **state)
{
    const slew_scenario s = varied_scenario(in_range("elevation.motor.rated_voltage", 11.4, 12.6));
    (void)state;
    const slew_trucks told = ask(&s, 10000, 2);
    const slew_truck_state *deploy = &told.of[SLEW_DEMAND_DEPLOY];
    double least = 1, most = 0, within = 0;
    for (int i = 0; i < 8; i++) {
        double share = missed_by(&s, 0.01 + 0.98 * i / 7);
        least = fmin(least, share);
        most = fmax(most, share);
        within += share <= slew_demand_limit(&s.demands, SLEW_DEMAND_DEPLOY);
        assert_true(share > deploy->low - 0.01 && share < deploy->high + 0.01);
    }
    assert_true(most - least > 0.05); /* there is something to find */
    /* they are sure to hold the trucks, and no further off than days scatter */
    near("low", deploy->low, least, 1.5 * scatter_of_days(least, told.days));
    near("high", deploy->high, most, 1.5 * scatter_of_days(most, told.days));
    near("within", deploy->within_limit.value, within / 8, 0.15);
}

/* a truck that can't be taught misses on all days */
static void a_truck_that_cannot_be_taught_misses_always(void **state)
{
    slew_scenario s = varied_scenario(in_range("controller.move_limit", 1.0, 20.0));
    (void)state;
    const slew_trucks told = ask(&s, 100, 2);
    assert_true(told.of[SLEW_DEMAND_FAULT].high > 0.98);
    assert_true(told.of[SLEW_DEMAND_STOW].high > 0.98);
}

static void without_trucks_nothing_is_asked(void **state)
{
    slew_scenario s = varied_scenario(in_range("elevation.gear.efficiency", 0.32, 0.40));
    (void)state;
    s.truck.count = 0;
    assert_int_equal(ask(&s, 100, 1).trucks, 0);
}

static void threads_do_not_matter(void **state)
{
    const slew_scenario s = varied_scenario(in_range("elevation.gear.efficiency", 0.32, 0.40));
    (void)state;
    const slew_trucks one = ask(&s, 100, 1), three = ask(&s, 100, 3);
    assert_memory_equal(&one.of[SLEW_DEMAND_DEPLOY].low, &three.of[SLEW_DEMAND_DEPLOY].low,
                        3 * sizeof(double));
}

/* ---- Again and again ---- */

enum { FLEETS = 200, DAYS = 76 };

/* of trucks whose shares are drawn, and known; independent days scatter most */
typedef struct fleet {
    const char *words;
    double middle, spread; /* of the normal below */
    bool logarithm;        /* of the share is normal; else the share */
} fleet;

static double share_at(const fleet *f, double u)
{
    double x = f->middle + f->spread * gsl_cdf_ugaussian_Pinv(u);
    return fmin(fmax(f->logarithm ? exp(x) : x, 0), 1);
}

static double trucks_below(const fleet *f, double share)
{
    double x = f->logarithm ? log(share) : share;
    return gsl_cdf_ugaussian_P((x - f->middle) / f->spread);
}

static void draw(const fleet *f, uint64_t number, double shift[SLEW_TRUCK_SHIFTS][SLEW_TRUCKS])
{
    for (int i = 0; i < SLEW_TRUCKS; i++) {
        uint64_t truck = number * SLEW_TRUCKS + (uint64_t)i;
        double share = share_at(f, slew_random_unit(31, truck, 0));
        for (int k = 0; k < SLEW_TRUCK_SHIFTS; k++) {
            int days = DAYS / SLEW_TRUCK_SHIFTS, missed = 0;
            for (int d = 0; d < days; d++)
                missed += slew_random_unit(31, truck, (uint32_t)(1 + k * days + d)) < share;
            shift[k][i] = (double)missed / days;
        }
    }
}

/* rare misses that differ by a factor, where those of a good truck scatter less than those of a bad
 * one; frequent ones; trucks that differ less than their days scatter */
static void bounds_hold_95_percent_of_trucks_in_95_percent_of_repeats(void **state)
{
    static const fleet fleets[] = {{"rare", -3.5, 0.5, true},
                                   {"frequent", 0.3, 0.05, false},
                                   {"almost alike", 0.3, 0.02, false}};
    static double shift[SLEW_TRUCK_SHIFTS][SLEW_TRUCKS];
    (void)state;
    for (size_t i = 0; i < sizeof fleets / sizeof *fleets; i++) {
        int holds = 0;
        for (uint64_t n = 0; n < FLEETS; n++) {
            slew_truck_state told;
            draw(&fleets[i], n, shift);
            slew_trucks_conclude(shift, DAYS, 0.05, &told);
            holds +=
                trucks_below(&fleets[i], told.high) - trucks_below(&fleets[i], told.low) >= 0.95;
        }
        print_message("%s: %d of %d\n", fleets[i].words, holds, FLEETS);
        assert_true(holds >= 0.95 * FLEETS);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(alike_trucks_do_not_differ),
        cmocka_unit_test(what_differs_is_found),
        cmocka_unit_test(a_truck_that_cannot_be_taught_misses_always),
        cmocka_unit_test(without_trucks_nothing_is_asked),
        cmocka_unit_test(threads_do_not_matter),
        cmocka_unit_test(bounds_hold_95_percent_of_trucks_in_95_percent_of_repeats),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
