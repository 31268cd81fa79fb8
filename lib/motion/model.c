/* model.c - from the setup of one occasion to the constants of a plant. */
#include "slewtime/physics.h"
#include "slewtime/plant.h"

#include "error/error.h"
#include "motion/feed_loop.h"
#include "motion/home.h"

#include <string.h>

/* M1.3 */
double slew_feed_per_length(const slew_feed *feed)
{
    if (feed == NULL)
        return NAN;
    switch (feed->conductor) {
    case SLEW_CONDUCTOR_GAUGE:
        return slew_conductor_resistance(slew_awg_area(feed->gauge), feed->stranding);
    case SLEW_CONDUCTOR_AREA:
        return slew_conductor_resistance(feed->area, feed->stranding);
    default:
        return feed->per_length;
    }
}

static void derive_supply(const slew_setup *setup, slew_plant_model *model)
{
    const slew_supply *supply = &setup->supply;
    double feed = slew_feed_conductors(setup, supply->feed.length) + slew_feed_joints(setup);
    double line = supply->main.resistance + feed;
    slew_source alone = slew_source_main(supply->main.voltage, line, supply->shared_load);
    model->line_voltage = alone.voltage;
    model->line_resistance = alone.resistance;
    model->auxiliary = supply->auxiliary_fitted;
    if (supply->auxiliary_fitted && line > 0) {
        slew_source joint =
            slew_source_joint(alone, supply->auxiliary.voltage, supply->auxiliary.resistance);
        model->auxiliary_voltage = supply->auxiliary.voltage;
        model->joint_voltage = joint.voltage;
        model->joint_resistance = joint.resistance;
    }
}

/* viscous drag at this temperature over that at 25 degC, M2.4 */
static double grease_drag(const slew_grease *grease, double temperature)
{
    slew_viscosity_line line =
        slew_viscosity_through(grease->viscosity_40, SLEW_ZERO_CELSIUS + 40, grease->viscosity_100,
                               SLEW_ZERO_CELSIUS + 100);
    return slew_drag_factor(slew_viscosity_at(line, temperature) /
                            slew_viscosity_at(line, SLEW_ZERO_CELSIUS + 25));
}

double slew_plant_nozzle_reaction(const slew_nozzle *nozzle)
{
    if (nozzle == NULL)
        return NAN;
    if (!nozzle->flowing)
        return 0;
    bool trade = nozzle->reaction == SLEW_REACTION_TRADE;
    if (nozzle->kind == SLEW_SMOOTH_BORE)
        return trade ? slew_bore_reaction_trade(nozzle->tip, nozzle->pressure)
                     : slew_bore_reaction(nozzle->tip, nozzle->pressure, nozzle->coefficient);
    return trade ? slew_spray_reaction_trade(nozzle->flow, nozzle->pressure)
                 : slew_spray_reaction(nozzle->flow, nozzle->pressure, nozzle->coefficient);
}

static slew_motor derive_motor(const slew_setup *setup, int axis, double drag)
{
    const slew_motor_sheet *sheet = &setup->axis[axis].motor;
    const slew_motor_warmth warmth = {setup->environment.temperature, sheet->winding_rise,
                                      sheet->magnet_share * sheet->winding_rise,
                                      sheet->magnet_coefficient};
    return slew_motor_at(slew_motor_from_sheet(sheet->rated_voltage, sheet->no_load_speed,
                                               sheet->no_load_current, sheet->stall_current,
                                               sheet->viscous_share),
                         warmth, drag);
}

/* M3.1, M3.9 */
static void derive_gear(const slew_gear *gear, double temperature, slew_plant_axis *out)
{
    double backward = isnan(gear->backward_efficiency) ? slew_backward_efficiency(gear->efficiency)
                                                       : gear->backward_efficiency;
    out->ratio = gear->ratio;
    out->forward =
        slew_forward_efficiency_at(gear->efficiency, gear->loss_coefficient, temperature);
    out->backward = slew_backward_efficiency_at(backward, gear->loss_coefficient, temperature);
}

static void derive_axis(const slew_setup *setup, int axis, double drag, slew_plant_axis *out)
{
    const slew_axis_setup *in = &setup->axis[axis];
    const slew_motor_sheet *sheet = &in->motor;
    slew_motor motor = derive_motor(setup, axis, drag);
    double pressure = setup->nozzle.flowing ? setup->nozzle.pressure : 0;
    double ratio = in->gear.ratio;
    out->sign = in->reversed ? -1 : 1;
    out->constant = motor.constant;
    out->resistance = motor.resistance + setup->controller.drive_resistance;
    out->drop = setup->controller.drive_drop;
    out->viscous = motor.viscous;
    out->coulomb = motor.coulomb;
    out->breakaway = sheet->breakaway;
    derive_gear(&in->gear, setup->environment.temperature, out);
    out->inertia = sheet->inertia + in->load.inertia / (ratio * ratio);
    out->friction = in->load.friction + in->load.seal_friction * pressure;
    out->stops = in->stops;
    out->home = in->home;
    out->watch_current = setup->controller.stall_current;
}

void slew_plant_model_load(slew_plant_model *model, int axis, double torque)
{
    if (model == NULL || axis < 0 || axis >= SLEW_AXES)
        return;
    double up = axis == SLEW_ELEVATION ? fabs(model->gravity_up) : 0;
    double side = fabs(model->gravity_side);
    model->outside[axis] = torque;
    model->axis[axis].largest_torque = up + side + fabs(model->reaction[axis]) + fabs(torque);
}

static void derive_loads(const slew_setup *setup, slew_plant_model *model)
{
    const slew_load *barrel = &setup->axis[SLEW_ELEVATION].load;
    double mass = barrel->mass + (setup->nozzle.flowing ? barrel->water_mass : 0);
    double moment = mass * SLEW_GRAVITY * barrel->centre_of_mass;
    double reaction = slew_plant_nozzle_reaction(&setup->nozzle);
    model->gravity_up = moment * cos(setup->environment.tilt);
    model->gravity_side = moment * sin(setup->environment.tilt);
    model->downhill = setup->environment.tilt_direction;
    for (int j = 0; j < SLEW_AXES; j++)
        model->reaction[j] = reaction * setup->axis[j].load.reaction_arm;
    for (int j = 0; j < SLEW_AXES; j++)
        slew_plant_model_load(model, j, 0);
}

/* what a scenario that was not read and checked may lack */
static bool is_machine(const slew_plant_axis *a)
{
    return a->constant > 0 && a->resistance > 0 && a->inertia > 0 && a->ratio > 0 &&
           a->forward > 0 && a->viscous >= 0 && a->coulomb >= 0 && a->breakaway >= 1 &&
           a->friction >= 0 && a->stops.low < a->stops.high && !isnan(a->backward) &&
           isfinite(a->constant + a->resistance + a->inertia + a->ratio + a->viscous + a->coulomb +
                    a->friction + a->largest_torque);
}

static slew_status check(const slew_setup *setup, const slew_plant_model *model, slew_error *error)
{
    for (int j = 0; j < SLEW_AXES; j++)
        if (!is_machine(&model->axis[j]))
            return slew_error_set(error, SLEW_ERROR_INPUT, j ? "elevation" : "rotation",
                                  "motor, gear, load or stops of the axis make no machine",
                                  "every required key within its range: slew_scenario_check "
                                  "tells which is not");
    for (int j = 0; j < SLEW_AXES; j++)
        if (slew_magnet_check(&setup->axis[j].home.magnet, j, error) != SLEW_OK)
            return SLEW_ERROR_INPUT;
    if (setup->supply.auxiliary_fitted && !(model->line_resistance > 0))
        return slew_error_set(
            error, SLEW_ERROR_INPUT, "supply.feed.length",
            "a battery without any resistance beside an auxiliary battery",
            "a resistance of battery or feed above 0, for example a length of 9 m");
    double rest =
        slew_plant_isolator_feeds_line(model) ? model->joint_voltage : model->line_voltage;
    if (!(rest >= setup->controller.drive_drop))
        return slew_error_set(error, SLEW_ERROR_INPUT, "supply.main.voltage",
                              "the controller has less voltage at rest than its drives drop",
                              "more voltage, less shared load, or a shorter or thicker feed");
    return SLEW_OK;
}

slew_status slew_plant_model_build(const slew_setup *setup, slew_plant_model *model,
                                   slew_error *error)
{
    if (setup == NULL || model == NULL)
        return slew_no_argument(error);
    memset(model, 0, sizeof *model);
    derive_supply(setup, model);
    double drag = grease_drag(&setup->grease, setup->environment.temperature);
    for (int j = 0; j < SLEW_AXES; j++) {
        derive_axis(setup, j, drag, &model->axis[j]);
        if (slew_home_settle(&model->axis[j].home, j, error) != SLEW_OK)
            return SLEW_ERROR_MAGNET;
    }
    derive_loads(setup, model);
    model->brake = setup->controller.stop == SLEW_BRAKE;
    model->watch_voltage[0] = setup->supply.floor;
    model->watch_voltage[1] = setup->controller.brownout_voltage;
    return check(setup, model, error);
}

bool slew_plant_isolator_feeds_line(const slew_plant_model *model)
{
    if (model == NULL)
        return false;
    return model->auxiliary && model->line_voltage < model->auxiliary_voltage;
}

bool slew_plant_model_watch_angle(slew_plant_model *model, int axis, slew_mark mark)
{
    if (model == NULL || axis < 0 || axis >= SLEW_AXES || isnan(mark.angle))
        return false;
    slew_plant_axis *a = &model->axis[axis];
    if (a->mark_count == SLEW_MARKS_MAX)
        return false;
    int k = a->mark_count++;
    for (; k > 0 && a->mark[k - 1].angle > mark.angle; k--)
        a->mark[k] = a->mark[k - 1];
    a->mark[k] = mark;
    return true;
}
