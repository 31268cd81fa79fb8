/*
 * reference.c - random scenarios against the second implementation (tests/reference): the same
 * events and results, and no energy made or lost.
 *
 * Ten in `make check`, 300 in `make check-random`, of those that are mild: the others have time
 * constants and distances that a general solver does not get through. SLEW_RANDOM_FIRST and
 * SLEW_RANDOM_COMPARED say which.
 */
#include "generator.h"
#include "random.h"

#include "../unit/motion_compare.h"

enum { QUICK = 10 };

static slew_scenario scenario;

/* ---- energy ---- */

/* Local errors of 1e-13 over the thousands of steps of a run. What the line and other equipment
 * take at rest does not hide an error of the axes. */
static const double BALANCED = 1e-10;

static double imbalance(const ref_balance *b)
{
    const double axes =
        b->drives + b->motors + b->friction + b->gears + b->jet + b->stops + b->lifted + b->kinetic;
    /* what the sum of the larger ones is rounded to */
    const double rounded = 1e-15 * (fabs(b->supplied) + b->line + fabs(b->other));
    return fmax(0, fabs(b->supplied - b->line - b->other - axes) - rounded) / b->turned;
}

/* ---- what a general solver gets through ---- */

/* Time constants below a millisecond, where real machines have 15 to 30 (M2.7): currents of 100 A
 * then change by more in the 1e-9 s to which events are located than the comparison allows, and a
 * solver takes millions of steps for a motor whose grease is stiff in the cold. */
static const double FASTEST = 1e3; /* [1/s] */

static bool is_fast(const slew_plant_axis *a)
{
    const double slowing = a->constant * a->constant / a->resistance + a->viscous;
    return slowing / a->inertia > FASTEST;
}

static bool is_too_fast(void)
{
    bool fast = false;
    for (slew_occasion o = SLEW_OCCASION_TEACH; o <= SLEW_OCCASION_DEPLOY; o++) {
        slew_setup setup;
        slew_plant_model model;
        slew_scenario_resolve(&scenario, o, &setup);
        if (slew_plant_model_build(&setup, &model, NULL) == SLEW_OK)
            fast = fast || is_fast(&model.axis[0]) || is_fast(&model.axis[1]);
    }
    return fast;
}

/* places that are told apart by less than two implementations agree on (head of lib/MODEL.md) */
static bool is_next_to(double a, double b)
{
    return a != b && fabs(a - b) < 1e-7;
}

static bool is_too_close(void)
{
    bool close = false;
    for (int j = 0; j < SLEW_AXES; j++) {
        const slew_axis_setup *a = &scenario.setup.axis[j];
        close = close || is_next_to(a->start, a->stops.low) ||
                is_next_to(a->home.angle, a->stops.low) || is_next_to(a->start, a->home.angle);
        for (int i = 0; i < scenario.keepout.count; i++) {
            const slew_range *r = &scenario.keepout.box[i].axis[j];
            close = close || is_next_to(a->start, r->low) || is_next_to(a->start, r->high);
        }
    }
    return close;
}

/* ---- all ---- */

typedef struct tally {
    long same, refused, left_out, aside;
    double time, angle, energy; /* the largest differences */
    uint64_t angle_at, energy_at;
} tally;

static void check_energy(tally *t, const ref_balance *b)
{
    if (!(b->turned > 0))
        return;
    const double share = imbalance(b);
    if (!(share <= BALANCED))
        fail_msg("energy: %.3g of %.6g J", share, b->turned);
    if (share > t->energy)
        t->energy = share, t->energy_at = random_number;
}

static void compare(tally *t)
{
    static story ours;
    ref_balance balance = {0};
    difference d;
    const bool both = compare_runs(&scenario, CREEPING, &balance, &ours, &d);
    if (d.found && is_discontinuous(&scenario, &ours)) {
        t->left_out++;
        return;
    }
    if (d.found)
        fail_msg("%s", d.text);
    t->refused += !both;
    if (!both)
        return;
    t->same++;
    t->time = fmax(t->time, d.time);
    if (d.angle > t->angle)
        t->angle = d.angle, t->angle_at = random_number;
    check_energy(t, &balance);
}

static void random_scenarios_are_those_of_the_reference(void **state)
{
    const long wanted = random_asked("SLEW_RANDOM_COMPARED", QUICK);
    const slew_error_sink quiet = {NULL, NULL};
    static tally t;
    (void)state;
    random_number = (uint64_t)random_asked("SLEW_RANDOM_FIRST", 0);
    for (; t.same < wanted; random_number++) {
        if (!random_is_mild(random_number))
            continue;
        random_begin(&scenario);
        if (slew_scenario_check(&scenario, quiet, quiet) == SLEW_OK) {
            if (is_too_fast() || is_too_close())
                t.aside++;
            else
                compare(&t);
        }
        random_end();
    }
    print_message("%ld the same, %ld refused by both, %ld left out, %ld set aside: worst %.1e s, "
                  "%.1e rad (scenario "
                  "%llu), %.1e of the energy (%llu)\n",
                  t.same, t.refused, t.left_out, t.aside, t.time, t.angle,
                  (unsigned long long)t.angle_at, t.energy, (unsigned long long)t.energy_at);
    assert_in_range(t.left_out, 0, wanted / 50 + 1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_teardown(random_scenarios_are_those_of_the_reference, random_tell_failed),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
