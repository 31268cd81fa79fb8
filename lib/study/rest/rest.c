/* rest.c - where the axes rest over the spread, and what each part comes to. */
#include "slewtime/rest.h"

#include <gsl/gsl_sort.h>

/* figures of one sample: for each part where the axes rest, and what it came to */
enum { END = SLEW_AXES, FIGURES_OF_PART, FIGURES = SLEW_REST_PARTS * FIGURES_OF_PART };

/* ---- one sample ---- */

static slew_rest_end end_of(const slew_part *part, const slew_setup *setup)
{
    if (!part->holds)
        return SLEW_REST_DOES_NOT_HOLD;
    if (part->says == SLEW_NOT_RUN)
        return SLEW_REST_NOT_REACHED;
    if (part->says == SLEW_FAULTED)
        return SLEW_REST_FAULT;
    if (slew_pressed_axis(setup, part) != SLEW_NO_AXIS)
        return SLEW_REST_ON_A_STOP;
    return part->on_target || !part->has_target ? SLEW_REST_ON_TARGET : SLEW_REST_MISSED;
}

static void fill(const slew_part *part, const slew_setup *setup, double *figures)
{
    slew_rest_end end = end_of(part, setup);
    for (int axis = 0; axis < SLEW_AXES; axis++)
        figures[axis] = end == SLEW_REST_NOT_REACHED ? NAN : part->angle[axis];
    figures[END] = end;
}

static void ask(void *context, const slew_scenario *drawn, const slew_prepared *prepared,
                double *figures)
{
    const slew_parts *parts = context;
    slew_result result;
    slew_run_prepared(drawn, prepared, *parts, NULL, &result);
    fill(&result.stow, &prepared->stow_setup, figures);
    fill(&result.deploy, &prepared->deploy_setup, figures + FIGURES_OF_PART);
}

/* ---- all of them ---- */

slew_status slew_rest_run(const slew_scenario *scenario, slew_parts parts,
                          const slew_sampling *sampling, slew_ensemble *out, slew_error *error)
{
    return slew_ensemble_run(scenario, parts, sampling, ask, &parts, FIGURES, out, error);
}

static double figure_of(const slew_ensemble *rest, int64_t sample, slew_rest_part part, int index)
{
    return rest->figure[sample * FIGURES + (int)part * FIGURES_OF_PART + index];
}

/* these are the figures of slew_rest_run, and there is such a part of them */
static bool is_part(const slew_ensemble *rest, slew_rest_part part)
{
    return rest != NULL && rest->figure != NULL && rest->count == FIGURES &&
           (unsigned)part < SLEW_REST_PARTS;
}

int64_t slew_rest_angles(const slew_ensemble *rest, slew_rest_part part, int axis, double *angles)
{
    if (angles == NULL || !is_part(rest, part) || axis < 0 || axis >= SLEW_AXES)
        return 0;
    int64_t count = 0;
    for (int64_t i = 0; i < rest->done; i++) {
        double angle = figure_of(rest, i, part, axis);
        if (!isnan(angle))
            angles[count++] = angle;
    }
    gsl_sort(angles, 1, (size_t)count);
    return count;
}

int64_t slew_rest_count(const slew_ensemble *rest, slew_rest_part part, slew_rest_end end)
{
    if (!is_part(rest, part))
        return 0;
    int64_t count = 0;
    for (int64_t i = 0; i < rest->done; i++)
        count += figure_of(rest, i, part, END) == (double)end;
    return count;
}
