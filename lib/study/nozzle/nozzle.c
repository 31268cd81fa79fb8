/* nozzle.c - one jet in both forms, and what it asks of the motors. */
#include "slewtime/nozzle.h"

#include "slewtime/physics.h"

#include "error/error.h"
#include "keys/sound.h"
#include "motion/errors.h"

static double reaction_as(slew_nozzle nozzle, slew_reaction_form form)
{
    nozzle.flowing = true;
    nozzle.reaction = form;
    return slew_plant_nozzle_reaction(&nozzle);
}

slew_jet slew_jet_of(const slew_nozzle *n)
{
    if (n == NULL)
        return (slew_jet){NAN, NAN, NAN, NAN, NAN};
    slew_jet jet = {n->flow, n->flow, reaction_as(*n, SLEW_REACTION_TRADE),
                    reaction_as(*n, SLEW_REACTION_MOMENTUM), NAN};
    if (n->kind == SLEW_SMOOTH_BORE) {
        jet.flow_rule = slew_bore_flow_trade(n->tip, n->pressure);
        jet.flow = slew_bore_flow(n->tip, n->pressure, n->coefficient);
    }
    if (jet.momentum > 0)
        jet.off = jet.rule / jet.momentum - 1;
    return jet;
}

void slew_jet_curve(const slew_nozzle *nozzle, double highest, slew_jet_point out[SLEW_JET_POINTS])
{
    if (nozzle == NULL || out == NULL)
        return;
    for (int i = 0; i < SLEW_JET_POINTS; i++) {
        double share = (double)i / (SLEW_JET_POINTS - 1);
        out[i].nozzle = *nozzle;
        out[i].nozzle.pressure = highest * share * share;
        out[i].jet = slew_jet_of(&out[i].nozzle);
    }
}

/* ---- at the axes ---- */

/* the largest load against motion in a direction, friction excluded */
static double load_against(const slew_plant_model *model, int axis, int direction)
{
    const slew_range travel[SLEW_AXES] = {model->axis[0].stops, model->axis[1].stops};
    slew_speed_places places = slew_speed_find_places(model, axis, direction, travel);
    return direction * slew_plant_load_torque(model, axis, places.slowest);
}

static slew_jet_load load_of(const slew_plant_model *model, int axis, double arm)
{
    slew_plant_model weightless = *model;
    weightless.gravity_up = weightless.gravity_side = 0;
    int against = model->reaction[axis] < 0 ? -1 : 1;
    slew_jet_load load = {.arm = arm,
                          .pushes = model->reaction[axis] == 0 ? 0 : -against,
                          .moment = load_against(&weightless, axis, against),
                          .load = load_against(model, axis, against),
                          .available = slew_speed_start_torque(model, axis)};
    load.share = load.available > 0 ? load.moment / load.available : INFINITY;
    load.whole = load.available > 0 ? load.load / load.available : INFINITY;
    return load;
}

slew_status slew_jet_loads(const slew_scenario *scenario, slew_occasion occasion,
                           const slew_nozzle *nozzle, slew_jet_load out[SLEW_AXES],
                           slew_error *error)
{
    if (nozzle == NULL || out == NULL)
        return slew_no_argument(error);
    if (!slew_is_sound(scenario, error))
        return SLEW_ERROR_INPUT;
    slew_setup setup;
    slew_plant_model model;
    slew_scenario_resolve(scenario, occasion, &setup);
    setup.nozzle = *nozzle;
    setup.nozzle.flowing = true;
    slew_status status = slew_plant_model_build(&setup, &model, error);
    if (status != SLEW_OK)
        return slew_blame_occasion(error, status, scenario, occasion);
    for (int j = 0; j < SLEW_AXES; j++)
        out[j] = load_of(&model, j, setup.axis[j].load.reaction_arm);
    return SLEW_OK;
}
