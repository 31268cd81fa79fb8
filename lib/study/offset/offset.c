/* offset.c - every deploy choice over everything that varies. */
#include "study/offset/landing.h"
#include "study/offset/target.h"
#include "study/sampling/summary.h"

#include "error/error.h"

#include <stdlib.h>
#include <string.h>

enum { FIGURES = SLEW_LANDING_FIGURES };

static void seconds_of(const slew_deploy *deploy, int choice, double seconds[SLEW_AXES])
{
    int inner = deploy->choice_count[SLEW_ELEVATION];
    seconds[SLEW_ROTATION] = deploy->choices[SLEW_ROTATION][choice / inner];
    seconds[SLEW_ELEVATION] = deploy->choices[SLEW_ELEVATION][choice % inner];
}

static int count_choices(const slew_deploy *deploy)
{
    return deploy->choice_count[SLEW_ROTATION] * deploy->choice_count[SLEW_ELEVATION];
}

static void ask(void *context, const slew_scenario *drawn, const slew_prepared *prepared,
                double *figures)
{
    slew_scenario trial = *drawn;
    (void)context;
    for (int i = 0; i < count_choices(&drawn->deploy); i++) {
        seconds_of(&drawn->deploy, i, trial.deploy.seconds);
        slew_landing_run(&trial, prepared, figures + i * FIGURES);
    }
}

/* ---- all choices together ---- */

typedef struct table {
    const slew_scenario *scenario;
    const slew_sampling *sampling;
    const slew_ensemble *ensemble;
    double *room; /* one number for each sample */
} table;

static const double *figures_of(const table *t, int64_t sample, int choice)
{
    return t->ensemble->figure + sample * t->ensemble->count + choice * FIGURES;
}

/* what has happened in one run has happened at all */
static void note(const slew_scenario *scenario, const double *figures, slew_offset *out)
{
    if (isnan(figures[SLEW_LANDING_END]))
        return;
    unsigned moved = (unsigned)figures[SLEW_LANDING_MOVED];
    out->ever_stowed |= (moved >> 2 * SLEW_AXES & 1) != 0;
    out->ever_deployed |= figures[SLEW_LANDING_END] <= SLEW_LANDED_OUTSIDE;
    for (int j = 0; j < SLEW_AXES; j++) {
        out->moves[j] |= (moved >> j & 1) != 0;
        out->deploy_moves[j] |= (moved >> (SLEW_AXES + j) & 1) != 0;
        out->ever_inside[j] |= slew_landing_is_inside(scenario, figures, j);
    }
}

/* the best choice but one; -1: there is no other */
static int best_but(const slew_scenario *scenario, const slew_offset *out, int left_out)
{
    int best = -1;
    for (int i = 0; i < out->count; i++)
        if (i != left_out &&
            (best < 0 || slew_landing_is_better(scenario, &out->choice[i], &out->choice[best])))
            best = i;
    return best;
}

/* how much more often the best one is inside than the runner-up, sample by sample */
static slew_share lead_of(const table *t, const slew_offset *out)
{
    if (out->runner_up < 0)
        return (slew_share){NAN, NAN, NAN};
    for (int64_t i = 0; i < t->ensemble->done; i++) {
        double best = figures_of(t, i, out->best)[SLEW_LANDING_END];
        double other = figures_of(t, i, out->runner_up)[SLEW_LANDING_END];
        t->room[i] = isnan(best)
                         ? NAN
                         : (double)(best == SLEW_LANDED_INSIDE) - (other == SLEW_LANDED_INSIDE);
    }
    return slew_difference_of(t->ensemble, t->room, t->sampling);
}

static void conclude(const table *t, slew_offset *out)
{
    for (int i = 0; i < out->count; i++) {
        seconds_of(&t->scenario->deploy, i, out->choice[i].seconds);
        slew_landing_conclude(t->scenario, t->ensemble, i * FIGURES, t->sampling, t->room,
                              &out->choice[i]);
        for (int64_t k = 0; k < t->ensemble->done; k++)
            note(t->scenario, figures_of(t, k, i), out);
    }
    out->best = best_but(t->scenario, out, -1);
    out->runner_up = best_but(t->scenario, out, out->best);
    out->lead = lead_of(t, out);
}

slew_status slew_offset_run(const slew_scenario *scenario, const slew_sampling *sampling,
                            slew_offset *out, slew_error *error)
{
    slew_ensemble e;
    memset(out, 0, sizeof *out);
    if (!scenario->deploy.given)
        return slew_error_set(error, SLEW_ERROR_INPUT, "deploy", "the scenario has no deploy",
                              "deploy: with seconds, order, target, and the choices of the "
                              "controller");
    slew_status status = slew_target_check(scenario, error);
    if (status != SLEW_OK)
        return status;
    out->count = count_choices(&scenario->deploy);
    status = slew_ensemble_run(scenario, SLEW_STOW_AND_DEPLOY, sampling, ask, NULL,
                               out->count * FIGURES, &e, error);
    if (status != SLEW_OK && status != SLEW_ERROR_STOPPED)
        return status;
    out->samples = e.done;
    out->refused = e.refused;
    out->first_refusal = e.first_refusal;
    out->choice = calloc((size_t)out->count, sizeof *out->choice);
    table t = {scenario, sampling, &e, malloc((size_t)e.samples * sizeof *t.room)};
    bool room = out->choice != NULL && t.room != NULL;
    if (room)
        conclude(&t, out);
    free(t.room);
    slew_ensemble_free(&e);
    return room ? status : slew_error_set(error, SLEW_ERROR_MEMORY, "", "memory is short", "");
}

void slew_offset_free(slew_offset *offset)
{
    if (offset == NULL)
        return;
    free(offset->choice);
    offset->choice = NULL;
}
