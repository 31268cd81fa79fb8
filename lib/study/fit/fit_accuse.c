/*
 * fit_accuse.c - which key, held until now, explains most of what is left where readings and model
 * do not go together. M12.6
 */
#include "study/fit/fit_prior.h"
#include "study/fit/fit_trial.h"
#include "study/fit/information.h"

#include <stdlib.h>
#include <string.h>

/* the step of a derivative, as a share of what is usual for the key */
static const double STEP = 1e-2;

/* it explains something if chi-square falls by so much: three sds */
static const double FALL = 9;

typedef struct charge {
    slew_trial *trial;
    const double *value; /* of the figures */
    slew_information information;
    double *residual, *moved, *column; /* one number for each residual */
    double *jacobian;                  /* with the sds as assumed, by what was known before */
} charge;

/* ---- the figures ---- */

/* one-sided at the end of a range */
static void derive_figure(charge *c, int j)
{
    slew_trial *t = c->trial;
    double value[SLEW_FIT_MAX], step = STEP * t->out->figure[j].before;
    memcpy(value, c->value, (size_t)t->out->figures * sizeof *value);
    value[j] = fmin(c->value[j] + step, t->high[j]);
    double up = value[j];
    bool ahead = slew_trial_ask(t, value, c->moved);
    value[j] = fmax(c->value[j] - step, t->low[j]);
    bool behind = slew_trial_ask(t, value, c->column);
    for (int i = 0; ahead && behind && i < slew_trial_residuals(t); i++)
        c->jacobian[i * t->out->figures + j] =
            (c->moved[i] - c->column[i]) * t->out->figure[j].before / (up - value[j]);
}

static bool fill_jacobian(charge *c)
{
    for (int j = 0; j < c->trial->out->figures; j++)
        derive_figure(c, j);
    return slew_information_of(c->jacobian, slew_trial_residuals(c->trial), c->trial->out->figures,
                               NULL, 0, &c->information);
}

/* ---- one more key ---- */

/* with one more key moved; false: it can't be */
static bool ask_with(charge *c, int key, double value, double *residual)
{
    slew_scenario *work = c->trial->work;
    double before = slew_scenario_get_number(work, key);
    bool there = slew_scenario_set_number(work, SLEW_LAYER_FILE, key, value) == SLEW_OK &&
                 slew_trial_ask(c->trial, c->value, residual);
    slew_scenario_set_number(work, SLEW_LAYER_FILE, key, before);
    return there;
}

/* derivatives by the key, in units of what is usual for it */
static bool derive(charge *c, const slew_fit_figure *f)
{
    int n = slew_trial_residuals(c->trial);
    double step = STEP * f->before;
    if (!ask_with(c, f->key, f->start + step, c->column) ||
        !ask_with(c, f->key, f->start - step, c->moved))
        return false;
    for (int i = 0; i < n; i++)
        c->column[i] = (c->column[i] - c->moved[i]) / (2 * STEP);
    return true;
}

/* takes out of the column what the figures can do as well */
static void project(charge *c)
{
    int n = slew_trial_residuals(c->trial), p = c->trial->out->figures;
    double step[SLEW_FIT_MAX];
    slew_information_step(&c->information, c->jacobian, c->column, n, step);
    for (int i = 0; i < n; i++)
        for (int j = 0; j < p; j++)
            c->column[i] += c->jacobian[i * p + j] * step[j];
}

/* by how much chi-square falls, the key's own distance from what is usual counted in */
static double fall_of(charge *c, double *steps)
{
    double along = 0, square = 1;
    for (int i = 0; i < slew_trial_residuals(c->trial); i++) {
        along += c->column[i] * c->residual[i];
        square += c->column[i] * c->column[i];
    }
    *steps = -along / square;
    return along * along / square;
}

static bool is_figure(const slew_fit *fit, int key)
{
    for (int j = 0; j < fit->figures; j++)
        if (fit->figure[j].key == key)
            return true;
    return false;
}

static void consider(charge *c, int key, slew_fit_culprit *best)
{
    slew_fit_figure f = {.key = key, .start = slew_scenario_get_number(c->trial->work, key)};
    double steps;
    if (is_figure(c->trial->out, key) || !slew_trial_can_be(c->trial, key, NULL))
        return;
    slew_prior_fill(c->trial->work, 0, &f);
    if (!derive(c, &f))
        return;
    project(c);
    double fall = fall_of(c, &steps);
    if (fall > fmax(FALL, best->fall))
        *best = (slew_fit_culprit){true, key, fall, f.start + steps * f.before};
}

slew_status slew_trial_accuse(slew_trial *t, const slew_least *least)
{
    size_t n = (size_t)slew_trial_residuals(t);
    double *room = calloc(n * (size_t)(3 + t->out->figures), sizeof *room);
    charge c = {.trial = t, .value = least->parameter, .residual = room};
    bool there = room != NULL;
    if (there) {
        c.moved = room + n;
        c.column = c.moved + n;
        c.jacobian = c.column + n;
        there = fill_jacobian(&c);
    }
    if (there && slew_trial_ask(t, least->parameter, c.residual))
        for (int key = 0; key < slew_key_count(); key++)
            consider(&c, key, &t->out->culprit);
    free(room);
    return there ? SLEW_OK : SLEW_ERROR_MEMORY;
}
