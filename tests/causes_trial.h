/*
 * causes_trial.h - calibrated trucks with a fault drawn from the catalogue, seen with meter error:
 * how often the true one is found. For a benchmark and a smaller test.
 *
 * A truck has figures of its own; the file that it is weighed by has them as a fit would write
 * them, off by one draw of their standard error, which is the spread that they have there. Days
 * differ.
 */
#ifndef TESTS_CAUSES_TRIAL_H
#define TESTS_CAUSES_TRIAL_H

#include <gsl/gsl_cdf.h>
#include <math.h>
#include <string.h>

#include "slewtime/slewtime.h"

/* ---- trucks ---- */

enum { TRIAL_TRUCKS = 4, TRIAL_KEYS = 4 };

typedef struct trial_key {
    const char *path;
    double sd; /* of a fit to a visit: as examples/README.md has them [SI] */
} trial_key;

/* invented: what is fitted, and the good connections that the trucks have */
static const trial_key trial_keys[TRIAL_KEYS] = {{"elevation.motor.no_load_speed", 2.6},
                                                 {"rotation.motor.no_load_speed", 2.6},
                                                 {"elevation.gear.efficiency", 0.004},
                                                 {"supply.feed.joint_resistance", 0.0002}};
static const double trial_joints[TRIAL_TRUCKS] = {0.0004, 0.0021, 0.0008, 0.0015};
static const char *const trial_files[TRIAL_TRUCKS] = {"examples/trouble-call.yaml",
                                                      "examples/daily.yaml", "examples/story.yaml",
                                                      "examples/freezing-morning.yaml"};

static inline void trial_take_out(slew_spread *spread, int key)
{
    int kept = 0;
    for (int i = 0; i < spread->count; i++)
        if (spread->item[i].key != key)
            spread->item[kept++] = spread->item[i];
    spread->count = kept;
}

static inline bool trial_set(slew_scenario *s, int key, double value)
{
    return slew_scenario_set_number(s, SLEW_LAYER_FILE, key, value) == SLEW_OK;
}

/* the truck as it is and as its file has it; false: the file can't be read */
static inline bool trial_truck(int number, slew_scenario *truth, slew_scenario *calibrated)
{
    int joints = slew_key_find("supply.feed.joint_resistance");
    if (slew_scenario_read_file(trial_files[number], NULL, truth) != SLEW_OK ||
        !trial_set(truth, joints, trial_joints[number]))
        return false;
    truth->truck.count = truth->correlation.count = 0;
    *calibrated = *truth;
    calibrated->fitted = true;
    for (int k = 0; k < TRIAL_KEYS; k++) {
        int key = slew_key_find(trial_keys[k].path);
        double u = slew_random_unit(20, (uint64_t)number, (uint32_t)k), sd = trial_keys[k].sd;
        double fitted = slew_scenario_get_number(truth, key) + sd * gsl_cdf_ugaussian_Pinv(u);
        trial_take_out(&truth->day, key);
        trial_take_out(&calibrated->day, key);
        fitted = fmax(fitted, sd / 4);
        trial_set(calibrated, key, fitted);
        calibrated->truck.item[calibrated->truck.count++] =
            (slew_variation){.key = key,
                             .distribution = SLEW_NORMAL,
                             .low = 0,
                             .high = INFINITY,
                             .mean = fitted,
                             .sd = sd};
    }
    return true;
}

/* ---- what is found ---- */

typedef struct trial_tally {
    int cases, first, three; /* of the true cause among those that count */
    int none, none_left_out; /* told to be none of them: wrongly, and with the true one left out */
} trial_tally;

/* places before the true cause */
static inline int trial_place(const slew_ranking *r, int cause)
{
    int place = 0;
    while (place < r->count && r->order[place] != cause)
        place++;
    return place;
}

/* true: that it is none of the causes is the likeliest */
static inline bool trial_is_none(const slew_ranking *r)
{
    return r->none > r->share[r->order[0]];
}

static inline void trial_see(const slew_causes *truths, int cause, int64_t sample,
                             slew_seen_by most, slew_seen *seen)
{
    slew_causes_observe(truths, cause, sample, 77, seen);
    for (int i = 0; i < SLEW_OBSERVABLES; i++)
        if (slew_observable_at(i)->by > most)
            seen->value[i] = NAN;
}

/* one case; `alone` counts the cause, `all` too */
static inline void trial_count(slew_causes *causes, const slew_catalogue *catalogue,
                               const slew_seen *seen, int cause, trial_tally *all)
{
    slew_ranking r;
    if (slew_causes_rank(causes, catalogue, seen, &r, NULL) != SLEW_OK)
        return;
    int place = trial_place(&r, cause);
    all->cases++;
    all->first += place == 0;
    all->three += place < 3;
    all->none += trial_is_none(&r);
    slew_ranking_free(&r);
    causes->state[cause].idle = true;
    if (slew_causes_rank(causes, catalogue, seen, &r, NULL) == SLEW_OK) {
        all->none_left_out += trial_is_none(&r);
        slew_ranking_free(&r);
    }
    causes->state[cause].idle = false;
}

/* causes of `truths` in its first `cases` samples, weighed by `causes`; only: -1, or the one cause
 */
static inline void trial_run(slew_causes *causes, const slew_causes *truths,
                             const slew_catalogue *catalogue, slew_seen_by most, int only,
                             trial_tally *tally)
{
    for (int c = 0; c < causes->count; c++) {
        if (!slew_causes_counts(causes, c) || !slew_causes_counts(truths, c) ||
            (only >= 0 && c != only))
            continue;
        for (int64_t i = 0; i < truths->samples; i++) {
            slew_seen seen;
            if (isnan(slew_causes_figures(truths, c, i)[SLEW_SEEN_STOW_SAYS]))
                continue;
            trial_see(truths, c, i, most, &seen);
            trial_count(causes, catalogue, &seen, c, tally);
        }
    }
}

/* ---- the catalogues ---- */

/* as it is, or with a corroded connection that multiplies what was fitted; SLEW_OK */
static inline slew_status trial_catalogue(bool multiplies, slew_catalogue *out)
{
    static const char text[] = "causes: {corroded connection in the feed: {means: x, today: "
                               "{supply.feed.joint_resistance: times 12 to 25}}}";
    slew_status status = slew_catalogue_builtin(out);
    return status == SLEW_OK && multiplies
               ? slew_catalogue_read_memory(text, strlen(text), "before", (slew_error_sink){0}, out)
               : status;
}

static inline slew_status trial_simulate(const slew_scenario *s, const slew_catalogue *catalogue,
                                         int64_t samples, uint64_t seed, slew_causes *out)
{
    slew_sampling how = slew_sampling_default();
    how.samples = samples;
    how.seed = seed;
    how.points = SLEW_PSEUDO_RANDOM;
    return slew_causes_run(s, catalogue, NULL, &how, out, NULL);
}

#endif
