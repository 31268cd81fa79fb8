/* steady.c - see steady.h. */
#include "motion/steady.h"

#include "motion/dynamics.h"

#include <string.h>

/* how far, as a share of the motor's torque, rounding may make a motor look stronger than it is */
static const double round_off = 1e-12;

static void begin(const int drive[SLEW_AXES], slew_plant *plant)
{
    memset(plant, 0, sizeof *plant);
    memcpy(plant->drive, drive, sizeof plant->drive);
}

static void set_moving(const slew_plant_model *model, const double torque[SLEW_AXES],
                       const bool moves[SLEW_AXES], slew_plant *plant)
{
    for (int j = 0; j < SLEW_AXES; j++) {
        int direction = slew_driven(model, plant, j);
        plant->moving[j] = moves[j] ? direction : 0;
        plant->helped[j] = direction * torque[j] + model->axis[j].friction < 0;
    }
}

/* dw/dt = 0: damping w = offset + slope T, by Cramer's rule */
static void solve_speeds(const double torque[SLEW_AXES], slew_plant *plant)
{
    const slew_dynamics *d = &plant->dynamics;
    double force[SLEW_AXES], c[SLEW_AXES][SLEW_AXES] = {{1, 0}, {0, 1}};
    for (int j = 0; j < SLEW_AXES; j++) {
        force[j] = plant->moving[j] ? d->offset[j] + d->slope[j] * torque[j] : 0;
        for (int k = 0; k < SLEW_AXES; k++)
            if (plant->moving[j] && plant->moving[k])
                c[j][k] = d->damping[j][k];
    }
    double determinant = c[0][0] * c[1][1] - c[0][1] * c[1][0];
    plant->speed[0] = (force[0] * c[1][1] - c[0][1] * force[1]) / determinant;
    plant->speed[1] = (c[0][0] * force[1] - force[0] * c[1][0]) / determinant;
}

static void settle_in(const slew_plant_model *model, const double torque[SLEW_AXES], bool auxiliary,
                      slew_plant *plant)
{
    plant->auxiliary_on = auxiliary;
    slew_dynamics_refresh(model, plant, true);
    solve_speeds(torque, plant);
    plant->voltage = slew_voltage_at(&plant->electrics, plant->speed);
}

/* in the regime of the supply that is consistent, M1.6 */
static void settle(const slew_plant_model *model, const double torque[SLEW_AXES], slew_plant *plant)
{
    settle_in(model, torque, false, plant);
    if (model->auxiliary && plant->voltage < model->auxiliary_voltage)
        settle_in(model, torque, true, plant);
    for (int j = 0; j < SLEW_AXES; j++)
        plant->current[j] = slew_current_at(&plant->electrics, j, plant->speed);
}

/* a moving axis turns as it is driven; one that stands is too weak to go on, breakaway or not */
static bool is_consistent(const slew_plant_model *model, const double torque[SLEW_AXES],
                          const slew_plant *plant)
{
    for (int j = 0; j < SLEW_AXES; j++) {
        const slew_plant_axis *a = &model->axis[j];
        int direction = slew_driven(model, plant, j);
        double push = a->constant * plant->current[j];
        double load = slew_carried_torque(a, direction, torque[j]);
        if (plant->moving[j] ? !(plant->speed[j] * direction > 0)
                             : direction && push - load / a->ratio - a->coulomb > round_off * push)
            return false;
    }
    return true;
}

/* Which of the driven axes go on is found by trying: they hinder each other by their currents
 * alone, so that one answer is consistent. */
void slew_steady(const slew_plant_model *model, const int drive[SLEW_AXES],
                 const double torque[SLEW_AXES], slew_plant *out)
{
    static const bool tried[][SLEW_AXES] = {
        {true, true}, {true, false}, {false, true}, {false, false}};
    for (int i = 0; i < 4; i++) {
        begin(drive, out);
        set_moving(model, torque, tried[i], out);
        settle(model, torque, out);
        if (is_consistent(model, torque, out))
            return;
    }
}

void slew_standing(const slew_plant_model *model, const int drive[SLEW_AXES], slew_plant *out)
{
    static const double none[SLEW_AXES] = {0, 0};
    begin(drive, out);
    settle(model, none, out);
}
