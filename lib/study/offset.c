/* offset.c - every deploy choice over everything that varies. */
#include "study/summary.h"

#include "motion/errors.h"

#include <stdlib.h>
#include <string.h>

/* figures of one choice in one sample */
enum { ROTATION, ELEVATION, INSIDE, FAULT, KEEPOUT, FIGURES };

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

static void fill_figures(const slew_result *r, double *figures)
{
    bool deployed = r->deploy.says == SLEW_DEPLOYED && r->deploy.holds;
    figures[ROTATION] = r->deploy.angle[SLEW_ROTATION];
    figures[ELEVATION] = r->deploy.angle[SLEW_ELEVATION];
    figures[INSIDE] = deployed && r->deploy.on_target;
    figures[FAULT] = r->stow.says == SLEW_FAULTED || r->deploy.says == SLEW_FAULTED;
    figures[KEEPOUT] = r->visit_count > 0;
}

static void ask(void *context, const slew_scenario *drawn, const slew_prepared *prepared,
                double *figures)
{
    slew_scenario trial = *drawn;
    slew_result result;
    (void)context;
    for (int i = 0; i < count_choices(&drawn->deploy); i++) {
        seconds_of(&drawn->deploy, i, trial.deploy.seconds);
        slew_run_prepared(&trial, prepared, SLEW_STOW_AND_DEPLOY, NULL, &result);
        fill_figures(&result, figures + i * FIGURES);
    }
}

static void conclude_choice(const slew_ensemble *e, const slew_sampling *sampling, int index,
                            double *sorted, slew_offset_choice *out)
{
    int first = index * FIGURES;
    for (int j = 0; j < SLEW_AXES; j++) {
        long count = slew_sorted_figure(e, first + j, sorted);
        out->angle[j] = slew_summarise(sorted, count);
    }
    out->inside = slew_share_of(e, first + INSIDE, sampling);
    out->fault = slew_share_of(e, first + FAULT, sampling);
    out->keepout = slew_share_of(e, first + KEEPOUT, sampling);
}

static bool is_better(const slew_offset_choice *a, const slew_offset_choice *b)
{
    if (a->inside.value != b->inside.value)
        return a->inside.value > b->inside.value;
    if (a->fault.value != b->fault.value)
        return a->fault.value < b->fault.value;
    return a->keepout.value < b->keepout.value;
}

static slew_status conclude(const slew_scenario *scenario, const slew_sampling *sampling,
                            const slew_ensemble *e, slew_offset *out)
{
    double *sorted = malloc((size_t)e->samples * sizeof *sorted);
    out->choice = calloc((size_t)out->count, sizeof *out->choice);
    if (sorted != NULL && out->choice != NULL) {
        for (int i = 0; i < out->count; i++) {
            seconds_of(&scenario->deploy, i, out->choice[i].seconds);
            conclude_choice(e, sampling, i, sorted, &out->choice[i]);
            if (is_better(&out->choice[i], &out->choice[out->best]))
                out->best = i;
        }
    }
    free(sorted);
    return sorted != NULL && out->choice != NULL ? SLEW_OK : SLEW_ERROR_MEMORY;
}

slew_status slew_offset_run(const slew_scenario *scenario, const slew_sampling *sampling,
                            slew_offset *out, slew_error *error)
{
    slew_ensemble e;
    memset(out, 0, sizeof *out);
    if (!scenario->deploy.given)
        return slew_motion_error(error, SLEW_ERROR_INPUT, "deploy", "the scenario has no deploy",
                                 "deploy: with seconds, order, target, and the choices of the "
                                 "controller");
    out->count = count_choices(&scenario->deploy);
    slew_status status = slew_ensemble_run(scenario, SLEW_STOW_AND_DEPLOY, sampling, ask, NULL,
                                           out->count * FIGURES, &e, error);
    if (status != SLEW_OK && status != SLEW_ERROR_STOPPED)
        return status;
    out->samples = e.done;
    out->refused = e.refused;
    out->first_refusal = e.first_refusal;
    slew_status concluded = conclude(scenario, sampling, &e, out);
    slew_ensemble_free(&e);
    return concluded != SLEW_OK ? concluded : status;
}

void slew_offset_free(slew_offset *offset)
{
    if (offset == NULL)
        return;
    free(offset->choice);
    offset->choice = NULL;
}
