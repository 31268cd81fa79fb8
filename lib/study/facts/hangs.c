/* hangs.c - which defaults the answers hang on: see facts.h. */
#include <stdlib.h>
#include <string.h>

#include "assumed.h"
#include "error/error.h"
#include "keys/sound.h"

enum { FAILS, MEETS, ANGLES, FIGURES = ANGLES + 2 * SLEW_AXES }; /* of one case */
enum { SCREENED = 64, ASKED = 512, SHARES_MAX = 8 };             /* cases; defaults */

static const double LEAST = 0.02 * 0.01745329251994329577; /* [rad] */
static const double FEW = 0.01; /* of the cases, that fail more or less */

/* One scenario while its defaults are varied. */
typedef struct varied {
    const slew_scenario *scenario;
    slew_scenario *trial;
    slew_parts parts;
    slew_sampling sampling;
    slew_ensemble own; /* with the default */
} varied;

/* ---- cases ---- */

static void keep_angles(const slew_part *part, double angle[SLEW_AXES])
{
    for (int axis = 0; axis < SLEW_AXES; axis++)
        angle[axis] = part->says != SLEW_NOT_RUN ? part->angle[axis] : NAN;
}

static void ask(void *context, const slew_scenario *drawn, const slew_prepared *prepared,
                double *figures)
{
    const slew_parts *parts = context;
    slew_result r;
    slew_run_prepared(drawn, prepared, *parts, NULL, &r);
    const slew_part *last = *parts == SLEW_STOW_ONLY ? &r.stow : &r.deploy;
    figures[FAILS] = r.stow.fault != SLEW_FAULT_NONE || r.deploy.fault != SLEW_FAULT_NONE ||
                     !r.stow.holds || !r.deploy.holds;
    figures[MEETS] =
        last->says != SLEW_NOT_RUN && last->fault == SLEW_FAULT_NONE && last->on_target;
    keep_angles(&r.stow, figures + ANGLES);
    keep_angles(&r.deploy, figures + ANGLES + SLEW_AXES);
}

static slew_status run_cases(varied *v, const slew_scenario *scenario, slew_ensemble *out,
                             slew_error *error)
{
    return slew_ensemble_run(scenario, v->parts, &v->sampling, ask, &v->parts, FIGURES, out, error);
}

/* ---- one value against the default ---- */

static double mean_of(const slew_ensemble *e, int figure, double refused)
{
    double sum = 0;
    for (int64_t i = 0; i < e->done; i++) {
        double value = e->figure[i * FIGURES + figure];
        sum += isnan(value) ? refused : value;
    }
    return e->done > 0 ? sum / (double)e->done : NAN;
}

/* over the cases that come to the end of the part both ways */
static double root_mean_square(const slew_ensemble *a, const slew_ensemble *b, int figure)
{
    double sum = 0;
    int64_t n = 0;
    for (int64_t i = 0; i < a->done && i < b->done; i++) {
        double move = a->figure[i * FIGURES + figure] - b->figure[i * FIGURES + figure];
        if (isnan(move))
            continue;
        sum += move * move;
        n++;
    }
    return n > 0 ? sqrt(sum / (double)n) : 0;
}

static slew_hang_outcome compare(const varied *v, const slew_ensemble *e)
{
    slew_hang_outcome o = {.fails = mean_of(e, FAILS, 1), .share = mean_of(e, MEETS, 0)};
    for (int part = 0; part < 2; part++)
        for (int axis = 0; axis < SLEW_AXES; axis++) {
            int figure = ANGLES + part * SLEW_AXES + axis;
            o.moves[part] = fmax(o.moves[part], root_mean_square(e, &v->own, figure));
        }
    return o;
}

/* a value with which the scenario can't be taught fails in all cases */
static slew_status try_value(varied *v, const slew_hang *hang, int index, slew_hang_outcome *out)
{
    slew_ensemble cases = {0};
    *out = (slew_hang_outcome){.fails = 1};
    *v->trial = *v->scenario;
    if (slew_scenario_set_number(v->trial, SLEW_LAYER_FILE, hang->key, hang->value[index]) !=
        SLEW_OK)
        return SLEW_OK;
    slew_status status = run_cases(v, v->trial, &cases, NULL);
    if (status == SLEW_OK)
        *out = compare(v, &cases);
    slew_ensemble_free(&cases);
    return status == SLEW_ERROR_MEMORY ? status : SLEW_OK;
}

/* ---- one default ---- */

static double most_moves(const slew_hang *hang)
{
    double most = 0;
    for (int index = 0; index < SLEW_HANG_VALUES; index++) {
        const slew_hang_outcome *o = &hang->of[index];
        if (fabs(o->fails - hang->of[1].fails) > FEW)
            return INFINITY;
        most = fmax(most, fmax(o->moves[0], o->moves[1]));
    }
    return most;
}

static slew_status try_default(varied *v, slew_hang *hang)
{
    slew_status status = SLEW_OK;
    hang->of[1] = compare(v, &v->own);
    for (int index = 0; index < SLEW_HANG_VALUES && status == SLEW_OK; index += 2)
        status = try_value(v, hang, index, &hang->of[index]);
    hang->moves = most_moves(hang);
    return status;
}

static int by_moves(const void *left, const void *right)
{
    const slew_hang *a = left, *b = right;
    return a->moves == b->moves ? (a->key > b->key) - (a->key < b->key)
                                : (a->moves < b->moves) - (a->moves > b->moves);
}

/* ---- all of them ---- */

static slew_status screen(varied *v, const bool *given, slew_hangs *out, slew_error *error)
{
    int from = 0;
    slew_hang hang;
    slew_status status = run_cases(v, v->scenario, &v->own, error);
    while (status == SLEW_OK && out->count < SLEW_HANGS_MAX &&
           slew_assumed_next(v->scenario, given, &from, &hang)) {
        status = try_default(v, &hang);
        if (hang.moves >= LEAST)
            out->item[out->count++] = hang;
    }
    slew_ensemble_free(&v->own);
    qsort(out->item, (size_t)out->count, sizeof out->item[0], by_moves);
    return status;
}

/* the shares of few cases are not told */
static slew_status ask_shares(varied *v, slew_hangs *out)
{
    v->sampling.samples = out->samples = ASKED;
    slew_status status = run_cases(v, v->scenario, &v->own, NULL);
    for (int i = 0; i < out->count && status == SLEW_OK; i++) {
        if (i < SHARES_MAX)
            status = try_default(v, &out->item[i]);
        for (int index = 0; index < SLEW_HANG_VALUES && i >= SHARES_MAX; index++)
            out->item[i].of[index].share = NAN;
    }
    slew_ensemble_free(&v->own);
    return status;
}

static slew_status find_all(varied *v, const bool *given, slew_hangs *out, slew_error *error)
{
    bool varies = v->scenario->truck.count + v->scenario->day.count > 0;
    v->sampling.samples = varies ? SCREENED : 1;
    v->sampling.shifts = varies ? v->sampling.shifts : 1;
    slew_status status = screen(v, given, out, error);
    if (status == SLEW_OK && varies)
        status = ask_shares(v, out);
    return status == SLEW_ERROR_MEMORY ? slew_no_memory(error) : status;
}

slew_status slew_hangs_run(const slew_scenario *scenario, const bool *given, slew_hangs *out,
                           slew_error *error)
{
    if (given == NULL || out == NULL)
        return slew_no_argument(error);
    if (!slew_is_sound(scenario, error))
        return SLEW_ERROR_INPUT;
    varied v = {.scenario = scenario,
                .trial = malloc(sizeof *v.trial),
                .parts = scenario->deploy.given ? SLEW_STOW_AND_DEPLOY : SLEW_STOW_ONLY,
                .sampling = slew_sampling_default()};
    memset(out, 0, sizeof *out);
    if (v.trial == NULL)
        return slew_no_memory(error);
    slew_status status = find_all(&v, given, out, error);
    free(v.trial);
    return status;
}
