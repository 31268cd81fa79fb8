/* feed_state.c - what the controller sees on one feed: at rest, running, and with motors held. */
#include "slewtime/drive.h"
#include "slewtime/feed.h"

#include "error/error.h"
#include "motion/dynamics.h"
#include "motion/steady.h"
#include "study/feed/feed_part.h"

#include <string.h>

/* ---- the worst place ---- */

/* On a level base the rotation makes no difference; without a load no angle does. */
static void leave_out(const slew_plant_model *model, slew_feed_place *worst)
{
    if (worst->anywhere || model->gravity_side == 0)
        worst->angle[SLEW_ROTATION] = NAN;
    if (worst->anywhere)
        worst->angle[SLEW_ELEVATION] = NAN;
}

slew_feed_place slew_feed_worst_place(const slew_plant_model *model, int axis)
{
    if (model == NULL || axis < 0 || axis >= SLEW_AXES)
        return (slew_feed_place){.torque = NAN, .angle = {NAN, NAN}};
    const slew_range travel[SLEW_AXES] = {model->axis[SLEW_ROTATION].stops,
                                          model->axis[SLEW_ELEVATION].stops};
    slew_feed_place worst = {.anywhere = true, .direction = 1};
    for (int direction = -1; direction <= 1; direction += 2) {
        slew_speed_places places = slew_speed_find_places(model, axis, direction, travel);
        double torque = direction * slew_plant_load_torque(model, axis, places.slowest);
        if (!(torque > worst.torque))
            continue;
        worst.torque = torque;
        worst.anywhere = false;
        worst.direction = direction;
        memcpy(worst.angle, places.slowest, sizeof worst.angle);
    }
    leave_out(model, &worst);
    return worst;
}

/* ---- one state ---- */

static bool is_on(int drives, int axis)
{
    return drives == SLEW_FEED_BOTH || drives == axis;
}

/* Kirchhoff's law at the controller: what the battery does not bring comes through the feed */
static slew_feed_state state_of(const slew_setup *setup, const slew_plant_model *model,
                                const slew_plant *plant)
{
    slew_feed_state s = {.voltage = plant->voltage,
                         .current = plant->current[0] + plant->current[1]};
    if (model->auxiliary && plant->voltage < model->auxiliary_voltage)
        s.auxiliary =
            (model->auxiliary_voltage - plant->voltage) / setup->supply.auxiliary.resistance;
    s.line = s.current + setup->supply.shared_load - s.auxiliary;
    s.drop = (model->line_resistance - setup->supply.main.resistance) * s.line;
    return s;
}

static int command(const slew_plant_model *model, int axis, int direction)
{
    return model->axis[axis].sign < 0 ? -direction : direction;
}

/* ---- all states ---- */

typedef struct load {
    int drive[SLEW_AXES];     /* commanded */
    double torque[SLEW_AXES]; /* [N m] */
} load;

static load worst_load(const slew_plant_model *model, const slew_feed_place place[SLEW_AXES],
                       int drives)
{
    load l = {{0, 0}, {0, 0}};
    for (int j = 0; j < SLEW_AXES; j++)
        if (is_on(drives, j)) {
            l.drive[j] = command(model, j, place[j].direction);
            l.torque[j] = place[j].direction * place[j].torque;
        }
    return l;
}

static bool starts(const slew_plant_model *model, const slew_plant *standing, int axis,
                   double torque)
{
    return slew_start_margin(model, standing, axis, false, torque, standing->current[axis]) > 0;
}

static void ask_drives(const slew_setup *setup, const slew_plant_model *model, int drives,
                       slew_feed_figures *out)
{
    slew_plant running, standing;
    load l = worst_load(model, out->place, drives);
    slew_steady(model, l.drive, l.torque, &running);
    slew_standing(model, l.drive, &standing);
    out->running[drives] = state_of(setup, model, &running);
    out->standing[drives] = state_of(setup, model, &standing);
    out->moves[drives] = out->starts[drives] = true;
    out->blocked[drives] = SLEW_NO_AXIS;
    for (int j = SLEW_AXES - 1; j >= 0; j--) {
        if (!l.drive[j])
            continue;
        bool goes_on = running.moving[j] != 0, begins = starts(model, &standing, j, l.torque[j]);
        out->moves[drives] &= goes_on;
        out->starts[drives] &= begins;
        if (!goes_on || !begins)
            out->blocked[drives] = j;
        if (drives == j)
            out->settling[j] = goes_on ? 1 / running.dynamics.damping[j][j] : NAN;
    }
}

slew_status slew_feed_ask(const slew_setup *setup, slew_feed_figures *out, slew_error *error)
{
    if (setup == NULL || out == NULL)
        return slew_no_argument(error);
    static const int none[SLEW_AXES] = {0, 0};
    slew_plant_model model;
    slew_plant idle;
    *out = (slew_feed_figures){.conductors = slew_feed_metres(setup),
                               .joints = slew_feed_joints(setup)};
    slew_status status = slew_plant_model_build(setup, &model, error);
    if (status != SLEW_OK)
        return status;
    slew_standing(&model, none, &idle);
    out->idle = state_of(setup, &model, &idle);
    for (int j = 0; j < SLEW_AXES; j++)
        out->place[j] = slew_feed_worst_place(&model, j);
    for (int drives = 0; drives < SLEW_FEED_DRIVES; drives++)
        ask_drives(setup, &model, drives, out);
    return SLEW_OK;
}

/* ---- of all drives that count ---- */

static double lowest(const slew_feed_state state[SLEW_FEED_DRIVES], bool together)
{
    double least = fmin(state[SLEW_ROTATION].voltage, state[SLEW_ELEVATION].voltage);
    return together ? fmin(least, state[SLEW_FEED_BOTH].voltage) : least;
}

double slew_feed_lowest_running(const slew_feed_figures *figures, bool together)
{
    if (figures == NULL)
        return NAN;
    return lowest(figures->running, together);
}

double slew_feed_lowest_standing(const slew_feed_figures *figures, bool together)
{
    if (figures == NULL)
        return NAN;
    return lowest(figures->standing, together);
}

bool slew_feed_keeps(const slew_feed_figures *figures, bool together, double floor)
{
    if (figures == NULL)
        return false;
    for (int drives = 0; drives <= (together ? SLEW_FEED_BOTH : SLEW_ELEVATION); drives++)
        if (!figures->moves[drives] || !figures->starts[drives])
            return false;
    return slew_feed_lowest_running(figures, together) >= floor;
}
