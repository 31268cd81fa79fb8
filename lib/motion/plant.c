/*
 * plant.c - the state of the machine and how it goes on: smooth steps, and the jumps between them.
 *
 * All jumps of the state happen here: a drive is set, an axis starts, rests or meets its stop, the
 * gear or the supply changes its regime. Hence its length: a jump in another file would be one that
 * nobody looks for.
 */
#include "slewtime/plant.h"

#include "motion/dynamics.h"
#include "motion/least.h"
#include "motion/progress.h"
#include "motion/step_read.h"
#include "motion/watch.h"

#include <assert.h>
#include <string.h>

/* Fills the event field by field; always true. */
static bool tell(slew_plant_event *event, slew_plant_event_kind kind, int axis, int direction)
{
    event->kind = kind;
    event->axis = axis;
    event->direction = direction;
    event->index = 0;
    event->value = 0;
    return true;
}

/* ---- readings ---- */

static void read_meters(slew_plant *plant)
{
    plant->voltage = slew_voltage_at(&plant->electrics, plant->speed);
    for (int j = 0; j < SLEW_AXES; j++)
        plant->current[j] = slew_current_at(&plant->electrics, j, plant->speed);
}

static void see(slew_plant_span *span, double voltage, double current)
{
    if (voltage < span->lowest_voltage)
        span->lowest_voltage = voltage;
    if (current > span->peak_current)
        span->peak_current = current;
}

static void see_now(slew_plant *plant)
{
    see(&plant->span, plant->voltage, plant->current[0] + plant->current[1]);
}

/* extremes between two times since the start of the step */
static void see_peaks(slew_plant *plant, double from, double to)
{
    const slew_step *step = &plant->step;
    for (int i = 0; i < step->peak_count; i++) {
        if (!(step->peak[i] > from && step->peak[i] < to))
            continue;
        double speed[SLEW_AXES], angle[SLEW_AXES];
        slew_step_at(step, step->peak[i], speed, angle, NULL);
        see(&plant->span, slew_voltage_at(&plant->electrics, speed),
            slew_current_at(&plant->electrics, 0, speed) +
                slew_current_at(&plant->electrics, 1, speed));
    }
}

/* the currents are linear in the speeds, so their integral is linear in the angles turned */
static double charge_of(const slew_plant_model *model, const slew_plant *plant, double duration,
                        const double turned[SLEW_AXES])
{
    const slew_electrics *e = &plant->electrics;
    double charge = (e->current_0[0] + e->current_0[1]) * duration;
    for (int k = 0; k < SLEW_AXES; k++)
        charge += (e->current_1[0][k] + e->current_1[1][k]) * turned[k] * model->axis[k].ratio;
    return charge;
}

/* ---- jumps ---- */

static void compare_current(const slew_plant_model *model, slew_plant *plant, int j)
{
    plant->over_current[j] = plant->drive[j] && plant->current[j] >= model->axis[j].watch_current;
}

/* Brings the comparators in line with the meters. */
static void compare(const slew_plant_model *model, slew_plant *plant)
{
    for (int j = 0; j < SLEW_AXES; j++)
        compare_current(model, plant, j);
    for (int k = 0; k < 2; k++)
        plant->under_voltage[k] = plant->voltage < model->watch_voltage[k];
}

static void jump(const slew_plant_model *model, slew_plant *plant)
{
    plant->has_step = false;
    plant->next_length = 0;
    plant->unsettled = true;
    slew_dynamics_refresh(model, plant, false);
    read_meters(plant);
    compare(model, plant);
}

/* the same forces go on under another rule */
static void bend(const slew_plant_model *model, slew_plant *plant)
{
    plant->has_step = false;
    plant->next_length = 0;
    slew_dynamics_refresh(model, plant, true);
}

static void start_moving(const slew_plant_model *model, slew_plant *plant, int axis, int direction,
                         double torque)
{
    plant->moving[axis] = direction;
    plant->helped[axis] = direction * torque + model->axis[axis].friction < 0;
    plant->has_step = false;
    plant->next_length = 0;
    plant->unsettled = true;
    slew_dynamics_refresh_axis(model, plant, axis);
}

static void come_to_rest(const slew_plant_model *model, slew_plant *plant, int axis)
{
    plant->moving[axis] = 0;
    plant->speed[axis] = 0;
    jump(model, plant);
}

static bool let_go(slew_plant *plant, int axis, int direction, slew_plant_event *event)
{
    plant->does_not_hold = true;
    plant->smooth = (slew_watch){.axis = axis, .index = direction};
    return tell(event, SLEW_PLANT_DOES_NOT_HOLD, axis, direction);
}

/* ---- rest or motion, M3.5 and M3.6 ---- */

static bool rests_on_stop(const slew_plant_model *model, const slew_plant *plant, int axis,
                          int direction)
{
    const slew_range *stops = &model->axis[axis].stops;
    return plant->angle[axis] == (direction > 0 ? stops->high : stops->low);
}

static bool ask_driven(const slew_plant_model *model, slew_plant *plant, int axis,
                       slew_plant_event *event)
{
    int direction = slew_driven(model, plant, axis);
    double current = plant->current[axis];
    double torque = slew_plant_load_torque(model, axis, plant->angle);
    if (!rests_on_stop(model, plant, axis, direction) &&
        slew_start_margin(model, plant, axis, false, torque, current) > 0) {
        start_moving(model, plant, axis, direction, torque);
        return tell(event, SLEW_PLANT_MOVING, axis, direction);
    }
    if (!rests_on_stop(model, plant, axis, -direction) &&
        slew_start_margin(model, plant, axis, true, torque, current) > 0)
        return let_go(plant, axis, -direction, event);
    return false;
}

static bool ask_held(const slew_plant_model *model, slew_plant *plant, int axis,
                     slew_plant_event *event)
{
    if (model->axis[axis].backward <= 0) /* self-locking */
        return false;
    double torque = slew_plant_load_torque(model, axis, plant->angle);
    for (int direction = -1; direction <= 1; direction += 2)
        if (!rests_on_stop(model, plant, axis, direction) &&
            slew_slip_margin(model, axis, direction, torque) > 0)
            return let_go(plant, axis, direction, event);
    return false;
}

static bool settle(const slew_plant_model *model, slew_plant *plant, slew_plant_event *event)
{
    for (int j = 0; j < SLEW_AXES; j++)
        if (!plant->moving[j] && (plant->drive[j] ? ask_driven(model, plant, j, event)
                                                  : ask_held(model, plant, j, event)))
            return true;
    plant->unsettled = false;
    return false;
}

/* ---- going on ---- */

/* nothing moves: only time passes */
static void wait_until(const slew_plant_model *model, slew_plant *plant, double until)
{
    static const double turned[SLEW_AXES] = {0, 0};
    plant->span.charge += charge_of(model, plant, until - plant->time, turned);
    plant->time = until;
}

static void follow_step(const slew_plant_model *model, slew_plant *plant, double since, double time)
{
    double before = plant->time - plant->step.start,
           turned[SLEW_AXES] = {plant->angle[0], plant->angle[1]};
    for (int j = 0; j < SLEW_AXES; j++)
        if (plant->moving[j])
            slew_step_angle_at(&plant->step, j, since, &plant->angle[j], &plant->speed[j]);
    for (int j = 0; j < SLEW_AXES; j++)
        turned[j] = plant->angle[j] - turned[j];
    plant->span.charge += charge_of(model, plant, time - plant->time, turned);
    plant->time = time;
    see_peaks(plant, before, since);
    read_meters(plant);
    see_now(plant);
}

static bool meet_stop(const slew_plant_model *model, slew_plant *plant, int axis,
                      slew_plant_event *event)
{
    int direction = plant->moving[axis];
    const slew_plant_axis *a = &model->axis[axis];
    double speed = plant->speed[axis];
    plant->angle[axis] = direction > 0 ? a->stops.high : a->stops.low;
    come_to_rest(model, plant, axis);
    tell(event, SLEW_PLANT_STOP_CONTACT, axis, direction);
    event->value = a->inertia * speed * speed / 2;
    return true;
}

static bool change_switch(slew_plant *plant, int axis, slew_plant_event *event)
{
    plant->closed[axis] = !plant->closed[axis];
    return tell(event, plant->closed[axis] ? SLEW_PLANT_SWITCH_CLOSED : SLEW_PLANT_SWITCH_OPEN,
                axis, plant->moving[axis]);
}

/* its place is the mark's own, whatever rounding makes of the way there */
static bool pass_mark(const slew_plant_model *model, slew_plant *plant, int axis, int tag,
                      slew_plant_event *event)
{
    int behind = plant->passed[axis], next = plant->moving[axis] > 0 ? behind : behind - 1;
    plant->angle[axis] = model->axis[axis].mark[next].angle;
    plant->passed[axis] += plant->moving[axis];
    tell(event, SLEW_PLANT_MARK, axis, plant->moving[axis]);
    event->index = tag;
    return true;
}

static bool start_resting(const slew_plant_model *model, slew_plant *plant, int axis, int direction,
                          slew_plant_event *event)
{
    start_moving(model, plant, axis, direction, slew_plant_load_torque(model, axis, plant->angle));
    return tell(event, SLEW_PLANT_MOVING, axis, direction);
}

/* a stop, a switch edge or a mark is reached */
static bool take_angle(const slew_plant_model *model, slew_plant *plant, slew_plant_event *event)
{
    int axis = plant->angles.axis;
    plant->has_angles = false;
    switch ((enum slew_watch_kind)plant->angles.kind) {
    case SLEW_WATCH_SWITCH:
        return change_switch(plant, axis, event);
    case SLEW_WATCH_MARK:
        return pass_mark(model, plant, axis, plant->angles.index, event);
    default:
        return meet_stop(model, plant, axis, event);
    }
}

static bool pass_voltage(slew_plant *plant, int index, slew_plant_event *event)
{
    plant->under_voltage[index] = !plant->under_voltage[index];
    tell(event, SLEW_PLANT_VOLTAGE, SLEW_NO_AXIS, plant->under_voltage[index] ? -1 : 1);
    event->index = index;
    return true;
}

static bool take_smooth(const slew_plant_model *model, slew_plant *plant, slew_plant_event *event)
{
    int axis = plant->smooth.axis, index = plant->smooth.index;
    plant->has_smooth = plant->has_angles = false;
    switch ((enum slew_watch_kind)plant->smooth.kind) {
    case SLEW_WATCH_REST:
        come_to_rest(model, plant, axis);
        return tell(event, SLEW_PLANT_AT_REST, axis, 0);
    case SLEW_WATCH_GEAR:
        plant->helped[axis] = !plant->helped[axis];
        bend(model, plant);
        return false;
    case SLEW_WATCH_REGIME:
        plant->auxiliary_on = !plant->auxiliary_on;
        bend(model, plant);
        return false;
    case SLEW_WATCH_CURRENT:
        plant->over_current[axis] = !plant->over_current[axis];
        return tell(event, SLEW_PLANT_CURRENT, axis, plant->over_current[axis] ? 1 : -1);
    case SLEW_WATCH_VOLTAGE:
        return pass_voltage(plant, index, event);
    case SLEW_WATCH_START:
        return start_resting(model, plant, axis, index, event);
    default:
        return let_go(plant, axis, index, event);
    }
}

static void begin_count(slew_plant *plant)
{
    plant->crowd_since = plant->time;
    plant->crowd = 0;
}

/* counts the pieces of one second */
static void count_piece(slew_plant *plant)
{
    plant->crowd++;
    if (plant->time >= plant->crowd_since + 1)
        begin_count(plant);
}

static void look_ahead(const slew_plant_model *model, slew_plant *plant)
{
    if (!plant->has_step) {
        count_piece(plant);
        slew_step_build(model, plant);
        slew_watch_peaks(plant);
        plant->has_step = true;
        plant->has_smooth = plant->has_angles = false;
    }
    if (!plant->has_smooth) {
        slew_watch_smooth(model, plant);
        plant->has_smooth = true;
    }
    if (!plant->has_angles) {
        slew_watch_angles(model, plant);
        plant->has_angles = true;
    }
}

/* how a piece of the way ends */
typedef enum reach {
    REACH_ON,    /* there may be more to do */
    REACH_EVENT, /* an event is to be told */
    REACH_BEYOND /* the piece would end beyond the horizon: it is not begun */
} reach;

/* one step's worth of motion towards `until` */
static reach move_on(const slew_plant_model *model, slew_plant *plant, double until, double horizon,
                     slew_plant_event *event)
{
    look_ahead(model, plant);
    const slew_step *step = &plant->step;
    bool angle_first = plant->angles.at <= plant->smooth.at;
    double since = angle_first ? plant->angles.at : plant->smooth.at;
    double event_time = step->start + since, end = step->start + step->length;
    if (slew_smaller(slew_smaller(event_time, end), until) > horizon)
        return REACH_BEYOND;
    if (event_time <= until) {
        count_piece(plant);
        follow_step(model, plant, since, event_time);
        bool told =
            angle_first ? take_angle(model, plant, event) : take_smooth(model, plant, event);
        return told ? REACH_EVENT : REACH_ON;
    }
    if (end <= until) {
        follow_step(model, plant, step->length, end);
        plant->has_step = false;
    } else {
        follow_step(model, plant, until - step->start, until);
    }
    return REACH_ON;
}

static reach give_up(slew_plant *plant, slew_plant_event *event)
{
    plant->gave_up = true;
    tell(event, SLEW_PLANT_GAVE_UP, SLEW_NO_AXIS, 0);
    return REACH_EVENT;
}

/* goes on as far as one rule holds */
static reach go_on(const slew_plant_model *model, slew_plant *plant, double until, double horizon,
                   slew_plant_event *event)
{
    if (plant->does_not_hold) {
        tell(event, SLEW_PLANT_DOES_NOT_HOLD, plant->smooth.axis, plant->smooth.index);
        return REACH_EVENT;
    }
    if (plant->gave_up || plant->crowd > SLEW_PIECES_MAX)
        return give_up(plant, event);
    if (plant->unsettled)
        return settle(model, plant, event) ? REACH_EVENT : REACH_ON;
    if (slew_plant_is_moving(plant))
        return move_on(model, plant, until, horizon, event);
    if (until > horizon)
        return REACH_BEYOND;
    wait_until(model, plant, until);
    return REACH_ON;
}

static void begin_span(slew_plant *plant)
{
    plant->span.lowest_voltage = INFINITY;
    plant->span.peak_current = -INFINITY;
    plant->span.charge = 0;
    see_now(plant);
}

bool slew_plant_progress(const slew_plant_model *model, slew_plant *plant, double until,
                         double horizon, bool fresh, slew_plant_event *event)
{
    assert(until >= plant->time);
    tell(event, SLEW_PLANT_NOTHING, SLEW_NO_AXIS, 0);
    if (fresh)
        begin_span(plant);
    for (;;) {
        reach r = go_on(model, plant, until, horizon, event);
        if (r == REACH_BEYOND)
            return false;
        if (r == REACH_EVENT)
            return true;
        bool smooth = !plant->unsettled && (plant->has_step || !slew_plant_is_moving(plant));
        if (smooth && plant->time >= until)
            return true;
    }
}

slew_plant_event slew_plant_advance(const slew_plant_model *model, slew_plant *plant, double until)
{
    slew_plant_event event = {.axis = SLEW_NO_AXIS};
    if (model == NULL || plant == NULL)
        return event;
    slew_plant_progress(model, plant, fmax(until, plant->time), INFINITY, true, &event);
    return event;
}

/* ---- setting and reading ---- */

static bool is_beyond(const slew_mark *mark, double angle)
{
    return angle > mark->angle || (angle == mark->angle && mark->on > 0);
}

static bool is_between_stops(const slew_plant_model *model, const double angle[SLEW_AXES])
{
    bool between = true;
    for (int j = 0; j < SLEW_AXES; j++)
        between = between && angle[j] >= model->axis[j].stops.low &&
                  angle[j] <= model->axis[j].stops.high;
    return between;
}

slew_status slew_plant_start(const slew_plant_model *model, const double angle[SLEW_AXES],
                             slew_plant *plant)
{
    if (model == NULL || angle == NULL || plant == NULL)
        return SLEW_ERROR_INPUT;
    if (!is_between_stops(model, angle))
        return SLEW_ERROR_INPUT;
    memset(plant, 0, sizeof *plant);
    for (int j = 0; j < SLEW_AXES; j++) {
        const slew_plant_axis *axis = &model->axis[j];
        plant->angle[j] = angle[j];
        const slew_home *home = &axis->home;
        plant->closed[j] =
            home->present && (home->stuck || fabs(angle[j] - home->angle) <= home->operate);
        while (plant->passed[j] < axis->mark_count &&
               is_beyond(&axis->mark[plant->passed[j]], angle[j]))
            plant->passed[j]++;
    }
    jump(model, plant);
    return SLEW_OK;
}

/* true: the two sensors close and open at the same places */
static bool is_same_home(const slew_home *a, const slew_home *b)
{
    return a->present == b->present && a->stuck == b->stuck && a->angle == b->angle &&
           a->operate == b->operate && a->release == b->release;
}

static void keep_closed(const slew_home *home, const slew_home *before, const slew_plant *old,
                        int axis, slew_plant *plant)
{
    if (is_same_home(home, before))
        plant->closed[axis] = old->closed[axis];
    else if (old->closed[axis] && home->present &&
             fabs(old->angle[axis] - home->angle) < home->release)
        plant->closed[axis] = true;
}

/* a drive or a motion goes on under the new rules */
static void keep_going(const slew_plant_model *model, const slew_plant *old, slew_plant *plant)
{
    for (int j = 0; j < SLEW_AXES; j++) {
        plant->drive[j] = old->drive[j];
        plant->moving[j] = old->moving[j];
        plant->speed[j] = old->speed[j];
        plant->passed[j] = old->passed[j];
        plant->deaf[j] = old->deaf[j];
        double torque = slew_plant_load_torque(model, j, plant->angle);
        plant->helped[j] = plant->moving[j] * torque + model->axis[j].friction < 0;
    }
    jump(model, plant);
}

bool slew_plant_transfer(const slew_plant_model *from, const slew_plant_model *to,
                         slew_plant *plant)
{
    if (from == NULL || plant == NULL)
        return false;
    slew_plant old = *plant;
    if (slew_plant_start(to, old.angle, plant) != SLEW_OK)
        return false;
    plant->time = old.time;
    begin_count(plant);
    for (int j = 0; j < SLEW_AXES; j++)
        keep_closed(&to->axis[j].home, &from->axis[j].home, &old, j, plant);
    if (slew_plant_is_moving(&old) || old.drive[0] || old.drive[1])
        keep_going(to, &old, plant);
    return true;
}

bool slew_plant_drive(const slew_plant_model *model, slew_plant *plant, int axis, int direction)
{
    if (model == NULL || plant == NULL || axis < 0 || axis >= SLEW_AXES || direction < -1 ||
        direction > 1)
        return false;
    plant->drive[axis] = direction;
    plant->deaf[axis] = false;
    begin_count(plant);
    jump(model, plant);
    return true;
}

void slew_plant_deafen(slew_plant *plant, int axis)
{
    plant->deaf[axis] = true;
}

void slew_plant_hear(const slew_plant_model *model, slew_plant *plant, int axis)
{
    plant->deaf[axis] = false;
    compare_current(model, plant, axis);
    if (plant->has_step && plant->has_smooth)
        slew_watch_current(model, plant, axis);
}

bool slew_plant_is_over(const slew_plant *plant)
{
    if (plant == NULL)
        return false;
    return plant->does_not_hold || plant->gave_up;
}

bool slew_plant_is_moving(const slew_plant *plant)
{
    if (plant == NULL)
        return false;
    return plant->moving[0] || plant->moving[1];
}

double slew_plant_output_speed(const slew_plant_model *model, const slew_plant *plant, int axis)
{
    if (model == NULL || plant == NULL || axis < 0 || axis >= SLEW_AXES)
        return NAN;
    return plant->speed[axis] / model->axis[axis].ratio;
}
