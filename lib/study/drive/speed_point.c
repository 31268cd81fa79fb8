/* speed_point.c - where a driven axis settles at one place: the plant's own equations at rest. */
#include "slewtime/drive.h"

#include "motion/dynamics.h"
#include "motion/steady.h"

#define WORD(name, word) word,

const char *slew_speed_word(slew_speed_state state)
{
    static const char *const all[] = {SLEW_SPEED_STATES(WORD)};
    return (unsigned)state < SLEW_SPEED_STATE_COUNT ? all[state] : "?";
}

/* at rest, its drive just on in a true direction */
static slew_plant driven(const slew_plant_model *model, int axis, int direction,
                         const double angle[SLEW_AXES])
{
    slew_plant plant = {.drive = {0, 0}};
    slew_plant_start(model, angle, &plant);
    slew_plant_drive(model, &plant, axis, model->axis[axis].sign < 0 ? -direction : direction);
    return plant;
}

static slew_speed_point at_rest(const slew_plant *plant, int axis, slew_speed_state state)
{
    return (slew_speed_point){state, 0, plant->current[axis], plant->voltage};
}

slew_speed_point slew_speed_at(const slew_plant_model *model, int axis, int direction,
                               const double angle[SLEW_AXES])
{
    slew_plant plant;
    if (axis < 0 || axis >= SLEW_AXES || (direction != 1 && direction != -1) ||
        slew_plant_start(model, angle, &plant) != SLEW_OK)
        return (slew_speed_point){SLEW_SPEED_STATE_COUNT, NAN, NAN, NAN};
    plant = driven(model, axis, direction, angle);
    double torque = slew_plant_load_torque(model, axis, angle), current = plant.current[axis];
    if (slew_start_margin(model, &plant, axis, true, torque, current) > 0)
        return at_rest(&plant, axis, SLEW_SPEED_DRAGGED_BACK);
    bool starts = slew_start_margin(model, &plant, axis, false, torque, current) > 0;
    slew_plant running;
    double torques[SLEW_AXES] = {0, 0};
    torques[axis] = torque;
    slew_steady(model, plant.drive, torques, &running);
    if (!running.moving[axis])
        return at_rest(&plant, axis, SLEW_SPEED_STANDS);
    return (slew_speed_point){starts ? SLEW_SPEED_RUNS : SLEW_SPEED_RUNS_ON,
                              direction * slew_plant_output_speed(model, &running, axis),
                              running.current[axis], running.voltage};
}

double slew_speed_blocked_current(const slew_plant_model *model, int axis)
{
    if (model == NULL || axis < 0 || axis >= SLEW_AXES)
        return NAN;
    const double low[SLEW_AXES] = {model->axis[0].stops.low, model->axis[1].stops.low};
    return driven(model, axis, 1, low).current[axis];
}

double slew_speed_start_torque(const slew_plant_model *model, int axis)
{
    if (model == NULL || axis < 0 || axis >= SLEW_AXES)
        return NAN;
    const slew_plant_axis *a = &model->axis[axis];
    double push = a->constant * slew_speed_blocked_current(model, axis) - a->breakaway * a->coulomb;
    return push * a->ratio * a->forward - a->friction;
}
