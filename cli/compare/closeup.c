/* closeup.c - see closeup.h. */
#include "closeup.h"

#include "single/outcome_sentence.h"
#include "tell/units.h"

static const double BEFORE = 1.2, AFTER = 0.4; /* the end of the move [s] */
static const double NEAR = 5;                  /* a stop is shown from here [deg] */
static const double LEAST = 4;                 /* that a close-up spans [deg] */
static const double MOST = 0.5;                /* of the whole travel; more would enlarge nothing */

static const cli_single *stow_of(const cli_compared_runs *columns, int index)
{
    const cli_compared_run *column = &columns->column[index];
    return column->runs && cli_single_stows(&column->single) ? &column->single : NULL;
}

/* ---- which axis ---- */

/* the axis that a stow is in trouble with; SLEW_NO_AXIS: it is in none */
static int axis_of_trouble(const cli_single *single)
{
    const slew_part *stow = &single->result.stow;
    return stow->fault != SLEW_FAULT_NONE ? stow->axis : cli_pressed_axis(single, stow);
}

/* by how much the columns end apart from each other on an axis [deg] */
static double distance_apart(const cli_compared_runs *columns, int axis)
{
    double low = INFINITY, high = -INFINITY;
    for (int i = 0; i < columns->count; i++)
        if (stow_of(columns, i) != NULL) {
            double angle = cli_degrees(stow_of(columns, i)->result.stow.angle[axis]);
            low = fmin(low, angle);
            high = fmax(high, angle);
        }
    return high - low;
}

static int choose_axis(const cli_compared_runs *columns)
{
    for (int i = 0; i < columns->count; i++) {
        const cli_single *single = stow_of(columns, i);
        if (single != NULL && axis_of_trouble(single) != SLEW_NO_AXIS)
            return axis_of_trouble(single);
    }
    bool rotation =
        distance_apart(columns, SLEW_ROTATION) > distance_apart(columns, SLEW_ELEVATION);
    return rotation ? SLEW_ROTATION : SLEW_ELEVATION;
}

/* ---- when ---- */

/* when the axis is driven for the last time in the stow: the end of that [s] */
static double end_of_move(const cli_single *single, int axis)
{
    double stow_end = cli_single_stow_end(single), end = stow_end;
    for (size_t i = 0; i < single->event_count && single->event[i].time <= stow_end; i++) {
        const slew_event *e = &single->event[i];
        if (e->axis == axis && e->kind == SLEW_EVENT_DRIVE_OFF)
            end = e->time;
    }
    return isfinite(end) ? end : single->result.end;
}

/* ---- between which angles ---- */

static void include(cli_closeup *c, double angle)
{
    c->low = fmin(c->low, angle);
    c->high = fmax(c->high, angle);
}

/* where it rests, where it should, and a stop that is near that */
static void include_story(cli_closeup *c, const cli_single *single)
{
    const slew_scenario *s = single->scenario;
    const slew_range *stops = &single->prepared.stow_setup.axis[c->axis].stops;
    double angle = cli_degrees(single->result.stow.angle[c->axis]);
    double low = cli_degrees(stops->low), high = cli_degrees(stops->high);
    include(c, angle);
    if (s->stow.has_point)
        include(c, cli_degrees(s->stow.point[c->axis]));
    if (angle - low < NEAR)
        include(c, low);
    if (high - angle < NEAR)
        include(c, high);
}

/* room around it, and no less than there is to see */
static void widen(cli_closeup *c)
{
    double lack = fmax(LEAST - (c->high - c->low), 0), margin = 0.2 * (c->high - c->low + lack);
    c->low -= lack / 2 + margin;
    c->high += lack / 2 + margin;
}

cli_closeup cli_closeup_find(const cli_compared_runs *columns, const double low[SLEW_AXES],
                             const double high[SLEW_AXES])
{
    cli_closeup c = {.axis = choose_axis(columns),
                     .low = INFINITY,
                     .high = -INFINITY,
                     .duration = BEFORE + AFTER,
                     .end = BEFORE};
    for (int i = 0; i < columns->count; i++) {
        const cli_single *single = stow_of(columns, i);
        if (single == NULL)
            continue;
        include_story(&c, single);
        c.start[i] = end_of_move(single, c.axis) - BEFORE;
        c.is_there = true;
    }
    if (c.is_there)
        widen(&c);
    c.is_there = c.is_there && c.high - c.low < MOST * (high[c.axis] - low[c.axis]);
    return c;
}
