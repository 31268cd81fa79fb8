/* dynamics.c - see dynamics.h. */
#include "motion/dynamics.h"

#include "slewtime/physics.h"

/* sine and cosine of the rotation from the downhill side; both 0 on a level base, which needs none
 */
static void downhill_parts(const slew_plant_model *model, double rotation, double *sine,
                           double *cosine)
{
    *sine = *cosine = 0;
    if (model->gravity_side != 0) {
        *sine = sin(rotation - model->downhill);
        *cosine = cos(rotation - model->downhill);
    }
}

double slew_plant_load_torque(const slew_plant_model *model, int axis,
                              const double angle[SLEW_AXES])
{
    if (model == NULL || angle == NULL || axis < 0 || axis >= SLEW_AXES)
        return NAN;
    double sp, cp, side = model->gravity_side;
    downhill_parts(model, angle[SLEW_ROTATION], &sp, &cp);
    if (axis == SLEW_ROTATION) {
        double turn = side * sp + model->reaction[SLEW_ROTATION];
        return (turn != 0 ? turn * cos(angle[SLEW_ELEVATION]) : 0) + model->outside[axis];
    }
    double torque = model->gravity_up * cos(angle[SLEW_ELEVATION]) + model->reaction[axis];
    torque += model->outside[axis];
    return side != 0 ? torque + side * cp * sin(angle[SLEW_ELEVATION]) : torque;
}

void slew_torque_values(const slew_plant_model *model, const double angle[SLEW_AXES],
                        double torque[SLEW_AXES])
{
    for (int j = 0; j < SLEW_AXES; j++)
        torque[j] = slew_plant_load_torque(model, j, angle);
}

void slew_torques_at(const slew_plant_model *model, const double angle[SLEW_AXES],
                     slew_torques *out)
{
    double sp, cp, ce = cos(angle[SLEW_ELEVATION]), se = sin(angle[SLEW_ELEVATION]);
    double up = model->gravity_up, side = model->gravity_side;
    downhill_parts(model, angle[SLEW_ROTATION], &sp, &cp);
    double turn = side * sp + model->reaction[SLEW_ROTATION];
    out->value[SLEW_ELEVATION] =
        up * ce + model->reaction[SLEW_ELEVATION] + model->outside[SLEW_ELEVATION];
    if (side != 0)
        out->value[SLEW_ELEVATION] += side * cp * se;
    out->value[SLEW_ROTATION] = turn * ce + model->outside[SLEW_ROTATION];
    out->gradient[SLEW_ELEVATION][SLEW_ELEVATION] = side * ce * cp - up * se;
    out->gradient[SLEW_ELEVATION][SLEW_ROTATION] = -side * se * sp;
    out->gradient[SLEW_ROTATION][SLEW_ELEVATION] = -turn * se;
    out->gradient[SLEW_ROTATION][SLEW_ROTATION] = side * cp * ce;
}

/* ---- supply and drives, M1.4 to M2.5 ---- */

static void solve_electrics(const slew_plant_model *model, const slew_plant *plant,
                            slew_source source, slew_electrics *out)
{
    double admittance = 0, offset = 0, pull[SLEW_AXES] = {0, 0}, direction[SLEW_AXES];
    for (int j = 0; j < SLEW_AXES; j++) {
        const slew_plant_axis *axis = &model->axis[j];
        direction[j] = slew_driven(model, plant, j);
        if (plant->drive[j]) {
            admittance += 1 / axis->resistance;
            offset += axis->drop / axis->resistance;
            pull[j] = direction[j] * axis->constant / axis->resistance;
        }
    }
    double share = 1 / (1 + source.resistance * admittance);
    out->voltage_0 = (source.voltage + source.resistance * offset) * share;
    for (int k = 0; k < SLEW_AXES; k++)
        out->voltage_1[k] = source.resistance * pull[k] * share;
    for (int j = 0; j < SLEW_AXES; j++) {
        double conductance = plant->drive[j] ? 1 / model->axis[j].resistance : 0;
        out->current_0[j] = conductance * (out->voltage_0 - model->axis[j].drop);
        for (int k = 0; k < SLEW_AXES; k++)
            out->current_1[j][k] = conductance * out->voltage_1[k] - (j == k ? pull[j] : 0);
    }
}

static void refresh_electrics(const slew_plant_model *model, slew_plant *plant, bool keep_regime)
{
    slew_source alone = {model->line_voltage, model->line_resistance};
    slew_source joint = {model->joint_voltage, model->joint_resistance};
    if (!keep_regime) {
        solve_electrics(model, plant, alone, &plant->electrics);
        plant->auxiliary_on = model->auxiliary && slew_voltage_at(&plant->electrics, plant->speed) <
                                                      model->auxiliary_voltage;
        if (!plant->auxiliary_on)
            return;
    }
    solve_electrics(model, plant, plant->auxiliary_on ? joint : alone, &plant->electrics);
}

/* ---- motion, M3.4 ---- */

void slew_dynamics_refresh_axis(const slew_plant_model *model, slew_plant *plant, int j)
{
    const slew_plant_axis *axis = &model->axis[j];
    slew_dynamics *out = &plant->dynamics;
    double direction = slew_driven(model, plant, j), q = plant->moving[j];
    double drive = direction * axis->constant;
    double gear = (plant->helped[j] ? axis->backward : 1 / axis->forward) / axis->ratio;
    double per_inertia = 1 / axis->inertia;
    out->offset[j] =
        (drive * plant->electrics.current_0[j] - q * (axis->coulomb + gear * axis->friction)) *
        per_inertia;
    out->slope[j] = -gear * per_inertia;
    for (int k = 0; k < SLEW_AXES; k++)
        out->damping[j][k] = -drive * plant->electrics.current_1[j][k] * per_inertia;
    double braking =
        !plant->drive[j] && model->brake ? axis->constant * axis->constant / axis->resistance : 0;
    out->damping[j][j] += (axis->viscous + braking) * per_inertia;
}

void slew_dynamics_refresh(const slew_plant_model *model, slew_plant *plant, bool keep_regime)
{
    refresh_electrics(model, plant, keep_regime);
    for (int j = 0; j < SLEW_AXES; j++)
        if (plant->moving[j])
            slew_dynamics_refresh_axis(model, plant, j);
}

double slew_carried_torque(const slew_plant_axis *a, int direction, double torque)
{
    return slew_gear_torque(direction * torque + a->friction, a->forward, a->backward);
}

double slew_start_margin(const slew_plant_model *model, const slew_plant *plant, int axis,
                         bool back, double torque, double current)
{
    const slew_plant_axis *a = &model->axis[axis];
    int direction = back ? -slew_driven(model, plant, axis) : slew_driven(model, plant, axis);
    double push = back ? -a->constant * current : a->constant * current;
    double gear = slew_carried_torque(a, direction, torque);
    return push - gear / a->ratio - a->breakaway * a->coulomb;
}

double slew_slip_margin(const slew_plant_model *model, int axis, int direction, double torque)
{
    const slew_plant_axis *a = &model->axis[axis];
    double gear = slew_carried_torque(a, direction, torque);
    return -gear / a->ratio - a->coulomb;
}
