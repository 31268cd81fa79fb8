/* by_truck.c - how often demands are missed on the days of one truck, truck by truck. */
#include "study/demands/ask.h"

#include "error/error.h"
#include "keys/sound.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics_double.h>
#include <stdlib.h>
#include <string.h>

enum { TRUCKS = SLEW_TRUCKS, SHIFTS = SLEW_TRUCK_SHIFTS, DAYS_LEAST = 32, DAYS_MOST = 128 };
static const double covered = 0.95, confidence = 0.95;
static const double QUARTER = 1.57079632679489662; /* turn */

static int days_of(const slew_sampling *sampling)
{
    int64_t days = sampling->samples / TRUCKS / SHIFTS * SHIFTS;
    return days < DAYS_LEAST ? DAYS_LEAST : days > DAYS_MOST ? DAYS_MOST : (int)days;
}

/* ---- trucks ---- */

typedef struct truck {
    bool runs;
    slew_setup setup;
    slew_deploy deploy;
    slew_stow stow; /* with the times taught */
} truck;

typedef struct fleet {
    slew_ensemble e; /* one sample for each truck, no day drawn */
    truck truck[TRUCKS];
} fleet;

static void keep_truck(void *context, const slew_scenario *drawn, const slew_prepared *prepared,
                       double *figures)
{
    fleet *f = context;
    truck *t = &f->truck[figures - f->e.figure];
    *t = (truck){true, drawn->setup, drawn->deploy, drawn->stow};
    t->stow.has_times = true;
    memcpy(t->stow.times, prepared->stored, sizeof t->stow.times);
    figures[0] = 0;
}

static slew_status draw_trucks(const slew_demands_asking *a, const slew_sampling *sampling,
                               slew_scenario *room, fleet *f, slew_error *error)
{
    slew_sampling how = *sampling;
    how.samples = TRUCKS;
    how.points = SLEW_SOBOL;
    how.shifts = 1;
    *room = *a->scenario;
    room->day.count = 0;
    slew_status status = slew_ensemble_run(room, a->parts, &how, keep_truck, f, 1, &f->e, error);
    if (status == SLEW_OK || status == SLEW_ERROR_STOPPED)
        slew_ensemble_free(&f->e);
    return status;
}

/* ---- days of one truck ---- */

/* shares of its days that miss each demand, in each shift */
typedef double shares[SLEW_DEMAND_COUNT][SHIFTS][TRUCKS];

static void count_days(const slew_demands_asking *a, const slew_ensemble *e, int number,
                       shares missed)
{
    for (int64_t i = 0; i < e->done; i++)
        for (int d = 0; d < SLEW_DEMAND_COUNT; d++)
            missed[d][i % SHIFTS][number] +=
                (double)(slew_demands_mask(a, e->figure[i]) >> d & 1) * SHIFTS / (double)e->done;
}

/* a truck that can't be taught misses what such trucks miss on all its days */
static void count_untaught(const slew_demands_asking *a, int number, shares missed)
{
    unsigned mask = slew_demands_missed_untaught(a->scenario, a->parts);
    for (int d = 0; d < SLEW_DEMAND_COUNT; d++)
        for (int k = 0; k < SHIFTS; k++)
            missed[d][k][number] = mask >> d & 1;
}

/* a->scenario is one truck; its days have nothing to do with those of another one */
static slew_status ask_days(slew_demands_asking *a, const slew_sampling *sampling, int days,
                            int number, shares missed, slew_error *error)
{
    slew_ensemble e;
    slew_sampling how = *sampling;
    how.samples = days;
    how.points = SLEW_SOBOL;
    how.shifts = SHIFTS;
    how.seed += UINT64_C(0x9e3779b97f4a7c15) * (uint64_t)(number + 1);
    slew_status status =
        slew_ensemble_run(a->scenario, a->parts, &how, slew_demands_ask, a, 1, &e, error);
    if (status == SLEW_OK)
        count_days(a, &e, number, missed);
    if (status == SLEW_OK || status == SLEW_ERROR_STOPPED)
        slew_ensemble_free(&e);
    return status;
}

static slew_status ask_trucks(const slew_demands_asking *a, const slew_sampling *sampling, int days,
                              const fleet *f, slew_scenario *room, shares missed, slew_error *error)
{
    slew_demands_asking one = {room, a->parts};
    slew_status status = SLEW_OK;
    *room = *a->scenario;
    room->truck.count = 0;
    for (int i = 0; i < TRUCKS && status == SLEW_OK; i++) {
        const truck *t = &f->truck[i];
        room->setup = t->setup;
        room->deploy = t->deploy;
        room->stow = t->stow;
        if (t->runs)
            status = ask_days(&one, sampling, days, i, missed, error);
        else
            count_untaught(a, i, missed);
    }
    return status;
}

/* ---- one demand ---- */

/* The shares of all days, as angles: the arcsine of the root, which days of any truck scatter by
 * alike (M9.7). Returns the variance of these if all trucks were alike: that of independent days,
 * as much smaller as the shifts say that Sobol points scatter less. */
static double join_shifts(double shift[SHIFTS][TRUCKS], int days, double angle[TRUCKS],
                          double *mean)
{
    double noise = 0, independent = 0;
    *mean = 0;
    for (int i = 0; i < TRUCKS; i++) {
        double of[SHIFTS];
        for (int k = 0; k < SHIFTS; k++)
            of[k] = shift[k][i];
        double share = fmin(gsl_stats_mean(of, 1, SHIFTS), 1);
        noise += gsl_stats_variance_m(of, 1, SHIFTS, share) / SHIFTS;
        independent += share * (1 - share) / days;
        angle[i] = asin(sqrt(share));
        *mean += share / TRUCKS;
    }
    return independent > 0 ? noise / independent / (4 * days) : 0;
}

/* The angles taken together until they have the variance of the trucks alone; `sure` says how
 * surely it is no larger, as the days of so few trucks may let it seem too small. Back to shares.
 */
static void take_out(double noise, double sure, double angle[TRUCKS])
{
    double mean = gsl_stats_mean(angle, 1, TRUCKS);
    double variance = gsl_stats_variance_m(angle, 1, TRUCKS, mean);
    double own = fmax(variance - noise, 0);
    double scatter = sqrt(2 * noise * (noise + 2 * own) / (TRUCKS - 1));
    double most = variance + gsl_cdf_ugaussian_Pinv(sure) * scatter;
    double factor = most > noise ? fmin(sqrt((most - noise) / variance), 1) : 0;
    for (int i = 0; i < TRUCKS; i++) {
        double moved = mean + factor * (angle[i] - mean), root = sin(fmin(fmax(moved, 0), QUARTER));
        angle[i] = root * root;
    }
}

/* how many of the sorted trucks may be left out at either end */
static int left_out(void)
{
    int out = 0;
    while (slew_wilks_coverage(TRUCKS, 2 * (out + 2), confidence) >= covered)
        out++;
    return out;
}

/* a limit that not one day in so many misses can't be held against so few */
static slew_share within(const double share[TRUCKS], int days, double limit)
{
    int64_t count = 0;
    for (int i = 0; i < TRUCKS; i++)
        count += share[i] <= limit;
    return limit * days < 1 ? (slew_share){NAN, NAN, NAN}
                            : slew_exact_share(count, TRUCKS, confidence);
}

/* All trucks together are not known better than so many days tell. */
void slew_trucks_conclude(double shift[SHIFTS][TRUCKS], int days, double limit,
                          slew_truck_state *out)
{
    double share[TRUCKS], mean, noise = join_shifts(shift, days, share, &mean);
    int64_t all = (int64_t)TRUCKS * days;
    slew_share together = slew_exact_share(llround(mean * (double)all), all, confidence);
    take_out(noise, confidence, share);
    gsl_sort(share, 1, TRUCKS);
    out->asked = true;
    out->low = fmin(share[left_out()], together.low);
    out->high = fmax(share[TRUCKS - 1 - left_out()], together.high);
    noise = join_shifts(shift, days, share, &mean);
    take_out(noise, 0.5, share);
    gsl_sort(share, 1, TRUCKS);
    out->median = gsl_stats_median_from_sorted_data(share, 1, TRUCKS);
    out->within_limit = within(share, days, limit);
}

/* ---- together ---- */

static slew_status ask_all(const slew_demands_asking *a, const slew_sampling *sampling, fleet *f,
                           slew_scenario *room, slew_trucks *out, slew_error *error)
{
    shares missed = {{{0}}};
    slew_status status = draw_trucks(a, sampling, room, f, error);
    if (status == SLEW_OK)
        status = ask_trucks(a, sampling, out->days, f, room, missed, error);
    if (status != SLEW_OK)
        return status;
    out->trucks = TRUCKS;
    for (int d = 0; d < SLEW_DEMAND_COUNT; d++)
        if (slew_demand_is_asked(a->scenario, a->parts, (slew_demand)d))
            slew_trucks_conclude(missed[d], out->days,
                                 slew_demand_limit(&a->scenario->demands, (slew_demand)d),
                                 &out->of[d]);
    return SLEW_OK;
}

slew_status slew_demands_by_truck(const slew_scenario *scenario, slew_parts parts,
                                  const slew_sampling *sampling, slew_trucks *out,
                                  slew_error *error)
{
    if (sampling == NULL || out == NULL)
        return slew_no_argument(error);
    if (!slew_is_sound(scenario, error))
        return SLEW_ERROR_INPUT;
    const slew_demands_asking a = {scenario, parts};
    const slew_sampling fresh = slew_sampling_fresh(sampling);
    *out = (slew_trucks){.days = days_of(sampling)};
    if (scenario->truck.count == 0)
        return SLEW_OK;
    fleet *f = calloc(1, sizeof *f);
    slew_scenario *room = malloc(sizeof *room);
    slew_status status = f != NULL && room != NULL ? ask_all(&a, &fresh, f, room, out, error)
                                                   : slew_no_memory(error);
    free(f);
    free(room);
    return status;
}
