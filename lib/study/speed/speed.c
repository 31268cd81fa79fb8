/* speed.c - speed, current and voltage of both axes against supply voltage and reaction. */
#include "slewtime/speed.h"

#include "error/error.h"
#include "keys/sound.h"
#include "motion/errors.h"
#include "study/speed/speed_needs.h"

#include <stdlib.h>
#include <string.h>

/* ---- the question ---- */

slew_speed_question slew_speed_question_default(const slew_scenario *scenario,
                                                slew_occasion occasion)
{
    if (!slew_has_shape(scenario, NULL))
        return (slew_speed_question){.occasion = occasion};
    slew_setup setup;
    slew_scenario_resolve(scenario, occasion, &setup);
    slew_speed_question q = {.occasion = occasion,
                             .from = 0.75 * setup.supply.system,
                             .to = 1.25 * setup.supply.system,
                             .steps = 12,
                             .level_count = 1,
                             .at = {SLEW_NOT_GIVEN, SLEW_NOT_GIVEN}};
    if (slew_nozzle_is_known(&setup.nozzle)) {
        q.level_count = 3;
        q.pressure[1] = setup.nozzle.pressure / 2;
        q.pressure[2] = setup.nozzle.pressure;
    }
    return q;
}

static slew_status check_nozzle(const slew_speed_question *q, const slew_nozzle *nozzle,
                                slew_error *error)
{
    static const char expected[] =
        "nozzle.pressure with nozzle.flow (spray) or nozzle.tip (smooth_bore), each above 0";
    bool wet = false;
    for (int i = 0; i < q->level_count; i++) {
        if (!(q->pressure[i] >= 0 && isfinite(q->pressure[i])))
            return slew_refuse(error, "nozzle.pressure", "is no pressure", "0 (dry) or more");
        wet = wet || q->pressure[i] > 0;
    }
    if (slew_nozzle_is_known(nozzle))
        return SLEW_OK;
    if (nozzle->flowing)
        return slew_refuse(error, "nozzle.flowing", "water flows, but through no known nozzle",
                           expected);
    return wet ? slew_refuse(error, "nozzle.pressure", "asked for, but the nozzle is not known",
                             expected)
               : SLEW_OK;
}

static slew_status check(const slew_speed_question *q, const slew_setup *setup, slew_error *error)
{
    if (!(q->from > 0 && q->from < q->to && isfinite(q->to)))
        return slew_refuse(error, "supply.main.voltage", "is no range of voltages",
                           "two voltages above 0, the lower one first");
    if (q->steps < 1 || q->steps > 1000000 || q->level_count < 1 ||
        q->level_count > SLEW_SPEED_LEVELS_MAX)
        return slew_refuse(error, "", "is no number of steps or pressures",
                           "1 to a million steps, 1 to 8 pressures");
    for (int j = 0; j < SLEW_AXES; j++)
        if (q->at[j] < setup->axis[j].stops.low || q->at[j] > setup->axis[j].stops.high)
            return slew_refuse(error, slew_axis_word(j), "the angle lies beyond a hard stop",
                               "an angle between the stops of its axis");
    return check_nozzle(q, &setup->nozzle, error);
}

/* ---- one voltage ---- */

static slew_status ask_row(slew_speed_probe *p, double voltage, slew_speed_row *row,
                           slew_error *error)
{
    static const slew_speed_point off = {SLEW_SPEED_OFF, 0, 0, NAN};
    const slew_speed_curve *c = p->curve;
    *row = (slew_speed_row){voltage, off, off, {NAN, SLEW_FAULT_NONE, true}};
    if (!slew_speed_probe_set(p, voltage))
        return SLEW_OK;
    row->slowest = p->at;
    row->fastest = slew_speed_at(&p->model, c->axis, c->direction, c->place.fastest);
    return slew_speed_travel_run(&p->setup, c->axis, c->direction, c->other, &row->travel, error);
}

/* ---- a curve ---- */

typedef struct asking {
    const slew_speed_question *question;
    slew_speed *speed;
} asking;

static double voltage_at(const slew_speed_question *q, int i)
{
    return i >= q->steps ? q->to : q->from + (q->to - q->from) * i / q->steps;
}

static void find_places(const slew_plant_model *model, const slew_speed_question *q,
                        slew_speed_curve *c)
{
    slew_range range[SLEW_AXES];
    for (int j = 0; j < SLEW_AXES; j++)
        range[j] = isnan(q->at[j]) ? model->axis[j].stops : (slew_range){q->at[j], q->at[j]};
    c->place = slew_speed_find_places(model, c->axis, c->direction, range);
    c->other = c->place.slowest[!c->axis];
}

static slew_status ask_curve(const asking *a, slew_speed_curve *c, slew_error *error)
{
    const slew_speed_question *q = a->question;
    slew_speed_probe p = {.setup = a->speed->setup, .curve = c};
    p.setup.nozzle = slew_nozzle_at(p.setup.nozzle, q->pressure[c->level]);
    slew_status status = slew_plant_model_build(&p.setup, &p.model, error);
    if (status != SLEW_OK)
        return status;
    find_places(&p.model, q, c);
    c->need = slew_speed_find_needs(&p, q->to);
    status = ask_row(&p, a->speed->setup.supply.main.voltage, &c->own, error);
    for (int i = 0; i <= q->steps && status == SLEW_OK; i++)
        status = ask_row(&p, voltage_at(q, i), &c->row[i], error);
    return status;
}

/* ---- all of them ---- */

static void name_levels(const slew_speed_question *q, slew_speed *out)
{
    out->level_count = q->level_count;
    for (int i = 0; i < q->level_count; i++) {
        slew_nozzle nozzle = slew_nozzle_at(out->setup.nozzle, q->pressure[i]);
        out->level[i] = (slew_speed_level){q->pressure[i], nozzle.flowing ? nozzle.flow : 0,
                                           slew_plant_nozzle_reaction(&nozzle)};
    }
}

static bool make_curves(const slew_speed_question *q, slew_speed *out)
{
    out->curve_count = 2 * SLEW_AXES * q->level_count;
    out->row_count = q->steps + 1;
    out->row = calloc((size_t)out->curve_count * (size_t)out->row_count, sizeof *out->row);
    if (out->row == NULL)
        return false;
    for (int i = 0; i < out->curve_count; i++) {
        int pair = i / q->level_count;
        out->curve[i] = (slew_speed_curve){.axis = pair / 2,
                                           .direction = pair % 2 ? 1 : -1,
                                           .level = i % q->level_count,
                                           .row = out->row + (size_t)i * (size_t)out->row_count};
    }
    return true;
}

slew_status slew_speed_run(const slew_scenario *scenario, const slew_speed_question *question,
                           slew_speed *out, slew_error *error)
{
    if (question == NULL || out == NULL)
        return slew_no_argument(error);
    if (!slew_is_sound(scenario, error))
        return SLEW_ERROR_INPUT;
    const asking a = {question, out};
    memset(out, 0, sizeof *out);
    slew_scenario_resolve(scenario, question->occasion, &out->setup);
    slew_status status = check(question, &out->setup, error);
    if (status != SLEW_OK)
        return slew_blame_occasion(error, status, scenario, question->occasion);
    name_levels(question, out);
    if (!make_curves(question, out))
        return slew_no_memory(error);
    for (int i = 0; i < out->curve_count && status == SLEW_OK; i++)
        status = ask_curve(&a, &out->curve[i], error);
    if (status != SLEW_OK) {
        slew_speed_free(out);
        return slew_blame_occasion(error, status, scenario, question->occasion);
    }
    return SLEW_OK;
}

void slew_speed_free(slew_speed *speed)
{
    if (speed == NULL)
        return;
    free(speed->row);
    *speed = (slew_speed){0};
}
