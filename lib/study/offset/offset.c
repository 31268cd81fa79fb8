/* offset.c - every deploy choice over everything that varies. */
#include "slewtime/offset.h"
#include "study/offset/landing.h"
#include "study/offset/target.h"
#include "study/sampling/stowed_ensemble.h"
#include "study/sampling/summary.h"

#include "error/error.h"
#include "keys/sound.h"

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
                const slew_stowed *stowed, double *figures)
{
    double seconds[SLEW_AXES];
    slew_deploys deploys;
    (void)context;
    slew_deploys_begin(drawn, prepared, stowed, &deploys);
    for (int i = 0; i < count_choices(&drawn->deploy); i++) {
        seconds_of(&drawn->deploy, i, seconds);
        slew_landing_run(&deploys, seconds, figures + i * FIGURES);
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
            (best < 0 || slew_offset_is_better(scenario, &out->choice[i], &out->choice[best])))
            best = i;
    return best;
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
}

/* ---- what is told of the best two ---- */

/* how much more often one choice of the table is inside than another, sample by sample */
static slew_share lead_of(const table *t, int one, int other)
{
    for (int64_t i = 0; i < t->ensemble->done; i++) {
        double a = figures_of(t, i, one)[SLEW_LANDING_END];
        double b = figures_of(t, i, other)[SLEW_LANDING_END];
        t->room[i] = isnan(a) ? NAN : (double)(a == SLEW_LANDED_INSIDE) - (b == SLEW_LANDED_INSIDE);
    }
    return slew_difference_of(t->ensemble, t->room, t->sampling);
}

/* the choosing samples tell until fresh ones do */
static void tell_chosen(const table *t, slew_offset *out)
{
    bool has_other = out->runner_up >= 0;
    out->told[SLEW_TOLD_BEST] = out->choice[out->best];
    out->told[SLEW_TOLD_RUNNER_UP] = out->choice[has_other ? out->runner_up : out->best];
    out->lead = has_other ? lead_of(t, out->best, out->runner_up) : (slew_share){NAN, NAN, NAN};
}

static void ask_told(void *context, const slew_scenario *drawn, const slew_prepared *prepared,
                     const slew_stowed *stowed, double *figures)
{
    const slew_offset *offset = context;
    slew_deploys deploys;
    slew_deploys_begin(drawn, prepared, stowed, &deploys);
    for (int i = 0; i < SLEW_TOLD_COUNT; i++)
        slew_landing_run(&deploys, offset->told[i].seconds, figures + i * FIGURES);
}

/* false: memory is short */
static bool conclude_told(const table *t, slew_offset *out)
{
    if (t->room == NULL)
        return false;
    for (int i = 0; i < SLEW_TOLD_COUNT; i++)
        slew_landing_conclude(t->scenario, t->ensemble, i * FIGURES, t->sampling, t->room,
                              &out->told[i]);
    if (out->runner_up >= 0)
        out->lead = lead_of(t, SLEW_TOLD_BEST, SLEW_TOLD_RUNNER_UP);
    out->fresh = t->ensemble->done;
    return true;
}

/* what is stopped here leaves it to the choosing samples */
static slew_status tell_fresh(const slew_scenario *scenario, const slew_sampling *sampling,
                              slew_offset *out, slew_error *error)
{
    slew_ensemble e;
    const slew_sampling fresh = slew_sampling_fresh(sampling);
    out->stored_fresh = slew_stowed_ensemble_times(&fresh);
    const slew_stowed_asking asking = {ask_told, out, SLEW_TOLD_COUNT * FIGURES, NULL,
                                       out->stored_fresh};
    slew_status status = slew_stowed_ensemble_run(scenario, &fresh, &asking, &e, error);
    if (status != SLEW_OK && status != SLEW_ERROR_STOPPED)
        return status;
    table t = {scenario, &fresh, &e, malloc((size_t)e.samples * sizeof *t.room)};
    if (status == SLEW_OK && !conclude_told(&t, out))
        status = slew_error_set(error, SLEW_ERROR_MEMORY, "", "memory is short", "");
    free(t.room);
    slew_ensemble_free(&e);
    return status;
}

/* ---- the question ---- */

/* every choice on the same samples, and which are best */
static slew_status choose(const slew_scenario *scenario, const slew_sampling *sampling,
                          slew_offset *out, slew_error *error)
{
    slew_ensemble e;
    out->stored_chosen = slew_stowed_ensemble_times(sampling);
    const slew_stowed_asking asking = {ask, NULL, out->count * FIGURES, NULL, out->stored_chosen};
    slew_status status = slew_stowed_ensemble_run(scenario, sampling, &asking, &e, error);
    if (status != SLEW_OK && status != SLEW_ERROR_STOPPED)
        return status;
    out->samples = e.done;
    out->refused = e.refused;
    out->first_refusal = e.first_refusal;
    out->choice = calloc((size_t)out->count, sizeof *out->choice);
    table t = {scenario, sampling, &e, malloc((size_t)e.samples * sizeof *t.room)};
    bool room = out->choice != NULL && t.room != NULL;
    if (room) {
        conclude(&t, out);
        tell_chosen(&t, out);
    }
    free(t.room);
    slew_ensemble_free(&e);
    return room ? status : slew_error_set(error, SLEW_ERROR_MEMORY, "", "memory is short", "");
}

slew_status slew_offset_run(const slew_scenario *scenario, const slew_sampling *sampling,
                            slew_offset *out, slew_error *error)
{
    if (sampling == NULL || out == NULL)
        return slew_no_argument(error);
    if (!slew_is_sound(scenario, error))
        return SLEW_ERROR_INPUT;
    memset(out, 0, sizeof *out);
    if (!scenario->deploy.given)
        return slew_error_set(error, SLEW_ERROR_INPUT, "deploy", "the scenario has no deploy",
                              "deploy: with seconds, order, target, and the choices of the "
                              "controller");
    slew_status status = slew_target_check(scenario, error);
    if (status != SLEW_OK)
        return status;
    out->count = count_choices(&scenario->deploy);
    status = choose(scenario, sampling, out, error);
    bool varies = slew_ensemble_dimensions(scenario, SLEW_STOW_AND_DEPLOY) > 0;
    if (status == SLEW_OK && varies && out->refused < out->samples)
        status = tell_fresh(scenario, sampling, out, error);
    return status;
}

void slew_offset_free(slew_offset *offset)
{
    if (offset == NULL)
        return;
    free(offset->choice);
    free(offset->stored_chosen);
    free(offset->stored_fresh);
    offset->choice = NULL;
    offset->stored_chosen = offset->stored_fresh = NULL;
}
