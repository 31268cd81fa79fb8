/* margin.c - clearances of a stow point over everything that varies. */
#include "slewtime/read.h"

#include "error/error.h"
#include "keys/sound.h"
#include "study/margin/margin_change.h"
#include "study/margin/margin_ladder.h"

#include <stdlib.h>
#include <string.h>

enum { CHANGE = 4 }; /* one in so many samples does for a change */

/* ---- one side ---- */

static double stop_and_limit(const slew_scenario *s, int axis, int side, double *stop)
{
    slew_setup taught;
    slew_scenario_resolve(s, SLEW_OCCASION_TEACH, &taught);
    const slew_axis_setup *setup = &taught.axis[axis];
    *stop = side < 0 ? setup->stops.low : setup->stops.high;
    return (*stop - setup->home.angle) * side;
}

/* [grid steps] */
static int last_step(const slew_scenario *s, int axis, int side)
{
    double stop;
    return (int)fmax(0, stop_and_limit(s, axis, side, &stop) / SLEW_MARGIN_GRID + 1e-6);
}

/* of the scenario as it is, with its ladder */
static slew_status ask_whole(const slew_margin_asking *a, slew_margin_case *c, slew_tail *tail,
                             slew_margin_side *out)
{
    slew_margin_samples needs;
    slew_status status =
        slew_margin_find_need(a, c, tail, a->sampling->samples, &needs, &out->need);
    if (slew_margin_has_samples(status, &needs)) {
        a->out->samples = a->out->samples > 0 ? a->out->samples : needs.ensemble.done;
        a->out->refused = needs.ensemble.refused;
        a->out->first_refusal = needs.ensemble.first_refusal;
    }
    if (status == SLEW_OK)
        status = slew_margin_climb(a, c, tail, &needs, out);
    out->untaught = c->untaught;
    slew_margin_samples_free(&needs);
    return status;
}

/* of a change: where the tail was before is a good place to begin */
static slew_status ask_need(const slew_margin_asking *a, slew_margin_case *c, slew_tail tail,
                            slew_margin_need *out)
{
    slew_margin_samples needs;
    int64_t count = (a->sampling->samples + CHANGE - 1) / CHANGE;
    slew_status status = slew_margin_find_need(a, c, &tail, count, &needs, out);
    slew_margin_samples_free(&needs);
    return status;
}

/* `whole`: all of the side, else its need alone */
static slew_status ask_side(const slew_margin_asking *a, const slew_scenario *s, int index,
                            slew_tail *tail, slew_margin_need *need, slew_margin_side *whole)
{
    int side = index == 0 ? -1 : 1;
    slew_margin_case c = {.scenario = s, .axis = a->question->axis, .side = side};
    c.last = last_step(s, c.axis, side);
    need->limit = need->enough = need->unseen = NAN;
    need->beyond = (slew_share){NAN, NAN, NAN};
    need->status = SLEW_ERROR_INPUT;
    if (c.last < SLEW_MARGIN_FIRST)
        return SLEW_OK; /* the home sensor is at this stop */
    slew_status status = slew_margin_case_open(&c);
    if (status == SLEW_OK)
        status = whole != NULL ? ask_whole(a, &c, tail, whole) : ask_need(a, &c, *tail, need);
    if (whole != NULL)
        *need = whole->need;
    slew_margin_case_close(&c);
    return status;
}

/* ---- changes ---- */

static slew_status ask_change(const slew_margin_asking *a, const slew_scenario *s,
                              slew_margin_change change, slew_tail tail[SLEW_MARGIN_SIDES],
                              slew_scenario *changed)
{
    const slew_error_sink nobody = {0};
    slew_margin_need *need = a->out->change[change];
    slew_status status = SLEW_OK;
    *changed = *s;
    if (!slew_margin_apply(changed, change, a->question->axis) ||
        slew_scenario_check(changed, nobody, nobody) != SLEW_OK)
        return SLEW_OK;
    for (int k = 0; k < SLEW_MARGIN_SIDES && status == SLEW_OK; k++)
        status = ask_side(a, changed, k, &tail[k], &need[k], NULL);
    return status;
}

/* ---- together ---- */

static slew_status refuse(slew_error *error, const char *key, const char *message,
                          const char *expected)
{
    return slew_error_set(error, SLEW_ERROR_INPUT, key, message, expected);
}

static slew_status check(const slew_scenario *s, const slew_margin_question *q, slew_error *error)
{
    if (q->axis < 0 || q->axis >= SLEW_AXES)
        return slew_no_number(error);
    if (!(q->wanted > 0 && q->wanted < 1))
        return refuse(error, "", "the wanted probability lies outside 0 to 1",
                      "a share, for example 0.001");
    if (s->stow.has_times)
        return refuse(error, "stow.times", "stored times do not move with the clearance",
                      "stow.point, where it is taught, instead of the times");
    if (!s->stow.has_point)
        return refuse(error, "stow.point", "there is no point whose clearance could be asked",
                      "stow.point, where it is taught");
    if (slew_ensemble_dimensions(s, SLEW_STOW_ONLY) == 0)
        return refuse(error, "spread", "nothing varies, so there is no probability",
                      "spread: with day: or truck:, for example "
                      "supply.main.voltage: {uniform: {low: 11.8 V, high: 14.2 V}}");
    if (last_step(s, q->axis, -1) < SLEW_MARGIN_FIRST &&
        last_step(s, q->axis, 1) < SLEW_MARGIN_FIRST)
        return refuse(error,
                      q->axis == SLEW_ROTATION ? "rotation.home.angle" : "elevation.home.angle",
                      "the home sensor is within 0.25 deg of both hard stops",
                      "a home sensor between the stops");
    return SLEW_OK;
}

static void clear(slew_margin *out)
{
    const slew_margin_need none = {.status = SLEW_ERROR_INPUT,
                                   .limit = NAN,
                                   .enough = NAN,
                                   .unseen = NAN,
                                   .beyond = {NAN, NAN, NAN}};
    memset(out, 0, sizeof *out);
    for (int k = 0; k < SLEW_MARGIN_SIDES; k++) {
        out->side[k].need = none;
        for (int i = 0; i < SLEW_MARGIN_CHANGE_COUNT; i++)
            out->change[i][k] = none;
    }
}

static slew_status ask_all(const slew_margin_asking *a, const slew_scenario *s,
                           slew_scenario *changed)
{
    slew_status status = SLEW_OK;
    slew_tail tail[SLEW_MARGIN_SIDES];
    for (int k = 0; k < SLEW_MARGIN_SIDES && status == SLEW_OK; k++) {
        slew_margin_side *side = &a->out->side[k];
        stop_and_limit(s, a->question->axis, k == 0 ? -1 : 1, &side->stop);
        tail[k] = slew_tail_begin(slew_ensemble_dimensions(s, SLEW_STOW_ONLY));
        status = ask_side(a, s, k, &tail[k], &a->out->change[SLEW_MARGIN_NONE][k], side);
    }
    int64_t refused = a->out->refused;
    slew_error first = a->out->first_refusal;
    for (int i = SLEW_MARGIN_NONE + 1; i < SLEW_MARGIN_CHANGE_COUNT && status == SLEW_OK; i++)
        status = ask_change(a, s, (slew_margin_change)i, tail, changed);
    a->out->refused = refused; /* of the scenario as it is */
    a->out->first_refusal = first;
    return status;
}

slew_status slew_margin_run(const slew_scenario *scenario, const slew_margin_question *question,
                            const slew_sampling *sampling, slew_margin *out, slew_error *error)
{
    if (question == NULL || sampling == NULL || out == NULL)
        return slew_no_argument(error);
    if (!slew_is_sound(scenario, error))
        return SLEW_ERROR_INPUT;
    const slew_margin_asking a = {question, sampling, out, error};
    clear(out);
    slew_status status = check(scenario, question, error);
    if (status != SLEW_OK)
        return status;
    slew_scenario *changed = malloc(sizeof *changed);
    if (changed != NULL)
        status = ask_all(&a, scenario, changed);
    free(changed);
    if (changed == NULL || status == SLEW_ERROR_MEMORY) {
        refuse(error, "", "memory is short for that many samples", "");
        status = SLEW_ERROR_MEMORY;
        if (error != NULL)
            error->status = status;
    }
    return status;
}
