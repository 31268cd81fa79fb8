/* window_search.c - where the built-in controller finds home: by every rule, from either side of
 * the window and from inside it, at several speeds, over all phases of its sampling grid. */
#include "study/window/window.h"

#include "motion/controller.h"
#include "motion/errors.h"

static const double RUN_UP = 20 * 3.14159265358979323846 / 180; /* if there is room for it [rad] */
static const double ROOM = 1e-3;                                /* less is none [rad] */

/* from a weak battery to a charged one under way, 12 V system: common practice */
static const double weak = 11.8, charging = 14.4; /* [V] */

/* ---- one search ---- */

typedef struct watch {
    int axis;
    double grid;
    double closed_at;
    bool found, rested, unseen, told;
    double acted, rests; /* [rad] */
    double speed;        /* when home is acted on; before that when the sensor closes [rad/s] */
    double now;          /* last speed seen [rad/s] */
} watch;

static void see_event(void *context, const slew_event *e)
{
    watch *w = context;
    if (e->axis != w->axis || w->rested)
        return;
    if (e->kind == SLEW_EVENT_HOME_FOUND) {
        w->found = true;
        w->acted = w->rests = e->angle[w->axis];
    }
    if (e->kind == SLEW_EVENT_AT_REST && w->found) {
        w->rested = true;
        w->rests = e->angle[w->axis];
    }
    if (e->kind == SLEW_EVENT_SWITCH_CLOSED && !w->found) {
        w->closed_at = e->time;
        w->speed = w->now;
    }
    if (e->kind == SLEW_EVENT_SWITCH_OPEN && !w->found &&
        slew_sampling_instant(w->grid, w->closed_at) >= e->time)
        w->unseen = true;
}

/* one comes just before each event of the plant, and before the drive that has found home goes off
 */
static void see_sample(void *context, const slew_sample *sample)
{
    watch *w = context;
    w->now = fabs(sample->speed[w->axis]);
    if (w->found && !w->told && w->now > 0)
        w->speed = w->now;
    w->told = w->found;
}

typedef struct searcher {
    const slew_scenario *scenario; /* stows with stored times of zero, the axis homed first */
    slew_prepared *prepared;
    int axis;
    slew_result result;
} searcher;

static watch search_from(searcher *s, double start)
{
    watch w = {.axis = s->axis,
               .grid = s->prepared->stow_setup.controller.sample,
               .closed_at = -INFINITY,
               .speed = NAN};
    /* samples are wanted at the jumps alone */
    const slew_observer observer = {
        .event = see_event, .sample = see_sample, .interval = 1e9, .context = &w};
    s->prepared->stow_setup.axis[s->axis].start = start;
    slew_run_prepared(s->scenario, s->prepared, SLEW_STOW_ONLY, &observer, &s->result);
    return w;
}

/* ---- all phases of one row ---- */

/* where the window ends on that side; where the axis does, if it never gets there */
static double edge_of(const slew_range *stops, const slew_home *home, slew_window_start start)
{
    return start == SLEW_WINDOW_BELOW ? fmin(home->angle - home->release, stops->high)
                                      : fmax(home->angle + home->release, stops->low);
}

/* how far from the window on that side an axis can stand; inside: the window's own half width */
static double room_for(const searcher *s, const slew_home *home, slew_window_start start)
{
    const slew_range *stops = &s->prepared->stow.axis[s->axis].stops;
    switch (start) {
    case SLEW_WINDOW_BELOW:
        return edge_of(stops, home, start) - stops->low;
    case SLEW_WINDOW_ABOVE:
        return stops->high - edge_of(stops, home, start);
    default:
        return home->operate < INFINITY && home->angle > stops->low && home->angle < stops->high
                   ? home->operate
                   : -INFINITY;
    }
}

/* so near to the edge a sensor is still closed [rad] */
static const double just_inside = 1e-6;

/* inside: `end` -1 or 1 is where the closed window ends, or the axis does */
static double place_inside(const slew_range *stops, const slew_home *home, int end)
{
    double at = home->angle + end * fmax(home->operate - just_inside, 0);
    return fmin(fmax(at, stops->low), stops->high);
}

static double place_of(const searcher *s, const slew_home *home, slew_window_start start,
                       double room, int end)
{
    const slew_range *stops = &s->prepared->stow.axis[s->axis].stops;
    double away = fmin(RUN_UP, room / 2);
    if (start == SLEW_WINDOW_INSIDE)
        return place_inside(stops, home, end);
    return edge_of(stops, home, start) + (start == SLEW_WINDOW_BELOW ? -away : away);
}

static slew_range around(slew_range range, double value)
{
    return (slew_range){fmin(range.low, value), fmax(range.high, value)};
}

static void take_run(slew_window_row *row, const searcher *s, const watch *w)
{
    row->runs++;
    row->unseen += w->unseen;
    if (!w->found) {
        if (row->found == row->runs - 1)
            row->fault = s->result.stow.fault;
        return;
    }
    row->found++;
    row->acted = around(row->acted, w->acted);
    row->rests = around(row->rests, w->rests);
}

/* Meets the window later by a share of the period of the grid: a start further away by what is made
 * on the way in that time; from inside, where there is little room, a longer pause before it comes
 * back. */
static watch search_later(searcher *s, const slew_window_row *row, double first, double way,
                          double share)
{
    double *pause = &s->prepared->stow_setup.controller.pause, own = *pause;
    int away = row->start == SLEW_WINDOW_BELOW ? -1 : 1;
    if (row->start == SLEW_WINDOW_INSIDE)
        *pause += s->prepared->stow_setup.controller.sample * share;
    else
        first += away * way * share;
    watch w = search_from(s, first);
    *pause = own;
    return w;
}

/* all phases from about one place */
static void take_place(searcher *s, double first, double room, slew_window_row *row)
{
    double grid = s->prepared->stow_setup.controller.sample;
    watch w = search_from(s, first);
    if (isnan(row->speed))
        row->speed = w.speed;
    take_run(row, s, &w);
    double way = fmin((isnan(w.speed) ? 0 : w.speed) * grid, room / 4);
    for (int i = 1; i < SLEW_WINDOW_PHASES && way > 0; i++) {
        w = search_later(s, row, first, way, (double)i / SLEW_WINDOW_PHASES);
        take_run(row, s, &w);
    }
}

static void fill_row(searcher *s, const slew_home *home, slew_window_row *row)
{
    double room = room_for(s, home, row->start);
    if (!(room > ROOM))
        return;
    take_place(s, place_of(s, home, row->start, room, 0), room, row);
    for (int end = -1; end <= 1 && row->start == SLEW_WINDOW_INSIDE; end += 2)
        take_place(s, place_of(s, home, row->start, room, end), room, row);
}

static void fill_speed(searcher *s, slew_window *out, double voltage)
{
    for (int rule = 0; rule < SLEW_WINDOW_RULES; rule++)
        for (int start = 0; start < SLEW_WINDOW_STARTS; start++) {
            slew_window_row *row = &out->row[out->rows++];
            *row = (slew_window_row){.rule = (slew_approach)rule,
                                     .start = (slew_window_start)start,
                                     .voltage = voltage,
                                     .speed = NAN,
                                     .acted = {NAN, NAN},
                                     .rests = {NAN, NAN}};
            s->prepared->stow_setup.axis[s->axis].approach = row->rule;
            fill_row(s, &out->home, row);
        }
}

/* ---- speeds ---- */

static void add_voltage(slew_window *out, double voltage)
{
    int k = out->speeds;
    for (int i = 0; i < out->speeds; i++)
        if (out->voltage[i] == voltage)
            return;
    for (; k > 0 && out->voltage[k - 1] > voltage; k--)
        out->voltage[k] = out->voltage[k - 1];
    out->voltage[k] = voltage;
    out->speeds++;
}

static void choose_voltages(const slew_scenario *scenario, const slew_supply *own, slew_window *out)
{
    double times = own->system > 18 ? 2 : 1;
    slew_range range;
    out->voltage_given = slew_window_spread(scenario, slew_key_find("supply.main.voltage"), &range);
    if (!out->voltage_given)
        range = (slew_range){weak * times, charging * times};
    add_voltage(out, own->main.voltage);
    add_voltage(out, fmin(range.low, own->main.voltage));
    add_voltage(out, fmax(range.high, own->main.voltage));
}

/* ---- all of it ---- */

/* a stow that ends with both axes at home, the one asked about first */
static slew_scenario simplify(const slew_scenario *scenario, int axis)
{
    slew_scenario s = *scenario;
    s.stow = (slew_stow){.home_order =
                             axis == SLEW_ROTATION ? SLEW_ROTATION_FIRST : SLEW_ELEVATION_FIRST,
                         .order = SLEW_ROTATION_FIRST,
                         .has_times = true};
    s.deploy.given = false;
    s.keepout.count = 0;
    return s;
}

/* Where the search of the axis begins is each row's own, and the other axis has nothing to do with
 * it: what a file without a sequence leaves out stands in the middle of the stops. */
static void stand_in(slew_setup *setup)
{
    for (int j = 0; j < SLEW_AXES; j++) {
        slew_axis_setup *a = &setup->axis[j];
        double middle = (a->stops.low + a->stops.high) / 2;
        if (isnan(a->start))
            a->start = middle;
        if (isnan(a->home.angle))
            a->home.angle = middle;
        if (a->search == 0)
            a->search = 1;
    }
}

static slew_status prepare_at(const slew_setup *today, double voltage, slew_prepared *out,
                              slew_error *error)
{
    out->stow_setup = *today;
    stand_in(&out->stow_setup);
    out->stow_setup.supply.main.voltage = voltage;
    out->stow_setup.stow_cancel_at = INFINITY;
    out->stored[0] = out->stored[1] = 0;
    slew_status status = slew_plant_model_build(&out->stow_setup, &out->stow, error);
    return status == SLEW_OK ? slew_check_setup(&out->stow_setup, error) : status;
}

static void sum_up(slew_window *out, slew_approach own)
{
    for (int i = 0; i < SLEW_WINDOW_RULES; i++)
        out->rests[i] = (slew_range){NAN, NAN};
    for (int i = 0; i < out->rows; i++) {
        const slew_window_row *row = &out->row[i];
        slew_range *all = &out->rests[row->rule];
        if (row->found > 0)
            *all = around(around(*all, row->rests.low), row->rests.high);
        if (row->unseen > 0)
            out->remarks |= 1u << SLEW_WINDOW_UNSEEN;
        if (row->rule == own && row->found < row->runs)
            out->remarks |= 1u << SLEW_WINDOW_NOT_FOUND;
    }
}

/* another voltage that the machine can't work at leaves its rows empty */
slew_status slew_window_search(const slew_scenario *scenario, int axis, slew_window *out,
                               slew_error *error)
{
    slew_setup today;
    slew_prepared prepared;
    slew_error other;
    slew_scenario simple = simplify(scenario, axis);
    searcher s = {.scenario = &simple, .prepared = &prepared, .axis = axis};
    slew_scenario_resolve(scenario, SLEW_OCCASION_STOW, &today);
    choose_voltages(scenario, &today.supply, out);
    for (int i = 0; i < out->speeds; i++) {
        bool own = out->voltage[i] == today.supply.main.voltage;
        slew_status status = prepare_at(&today, out->voltage[i], &prepared, own ? error : &other);
        if (status == SLEW_OK)
            fill_speed(&s, out, out->voltage[i]);
        else if (own)
            return status;
    }
    sum_up(out, today.axis[axis].approach);
    return SLEW_OK;
}
