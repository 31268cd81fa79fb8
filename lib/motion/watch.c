/*
 * watch.c - see watch.h.
 *
 * Longer than other files: whatever can end a step stands here with its margin, beside the one
 * search that looks along all of them.
 */
#include "motion/watch.h"

#include "motion/dynamics.h"
#include "motion/illinois.h"
#include "motion/least.h"
#include "motion/step_read.h"
#include "motion/turns.h"

/* one armed event: margin = zero + speed . w for linear ones, (angle - theta) direction for angles
 */
typedef struct armed {
    enum slew_watch_kind kind;
    int axis, index;
    bool linear;
    double zero, speed[SLEW_AXES];
    double angle;
    int direction;
} armed;

typedef struct point {
    double since;
    double speed[SLEW_AXES], angle[SLEW_AXES], change[SLEW_AXES];
} point;

typedef struct search {
    const slew_plant_model *model;
    slew_plant *plant;
    double since; /* now */
} search;

enum { ROOT_STEPS_MAX = 60 };
/* a Newton step this short leaves an error of its square times about half the decay rate, 1e-11 s
 */
static const double short_step = 5e-7; /* [s] */

static const double peak_tolerance = 1e-9; /* of the current [A] */

/* ---- margins ---- */

static point point_at(const slew_step *step, double since, bool with_change)
{
    point p;
    p.since = since;
    slew_step_at(step, since, p.speed, p.angle, with_change ? p.change : NULL);
    return p;
}

static point point_of_node(const slew_step *step, int i)
{
    point p = {.since = slew_node[i] * step->length};
    for (int j = 0; j < SLEW_AXES; j++) {
        p.speed[j] = step->node_speed[i][j];
        p.angle[j] = step->node_angle[i][j];
        p.change[j] = step->node_change[i][j];
    }
    return p;
}

/* margin of a load event from the load torque and its rate */
static double load_margin(const search *s, const armed *a, double torque, double current)
{
    const slew_plant_axis *axis = &s->model->axis[a->axis];
    switch (a->kind) {
    case SLEW_WATCH_START:
        return -slew_start_margin(s->model, s->plant, a->axis, false, torque, current);
    case SLEW_WATCH_DRAG:
        return -slew_start_margin(s->model, s->plant, a->axis, true, torque, current);
    case SLEW_WATCH_SLIP:
        return -slew_slip_margin(s->model, a->axis, a->index, torque);
    default: {
        double carried = s->plant->moving[a->axis] * torque + axis->friction;
        return s->plant->helped[a->axis] ? -carried : carried;
    }
    }
}

static double margin(const search *s, const armed *a, const point *p)
{
    if (a->linear)
        return a->zero + a->speed[0] * p->speed[0] + a->speed[1] * p->speed[1];
    if (a->direction)
        return (a->angle - p->angle[a->axis]) * a->direction;
    double torque[SLEW_AXES];
    slew_torque_values(s->model, p->angle, torque);
    return load_margin(s, a, torque[a->axis],
                       slew_current_at(&s->plant->electrics, a->axis, p->speed));
}

/* its derivative by time; that of a load event across a short time, its kinks do not matter here */
static double margin_rate(const search *s, const armed *a, const point *p)
{
    if (a->linear)
        return a->speed[0] * p->change[0] + a->speed[1] * p->change[1];
    if (a->direction)
        return -p->speed[a->axis] / s->model->axis[a->axis].ratio * a->direction;
    double delta = s->plant->step.length * 1e-6;
    point later = point_at(&s->plant->step, p->since + delta, false);
    point before = point_at(&s->plant->step, p->since - delta, false);
    return (margin(s, a, &later) - margin(s, a, &before)) / (2 * delta);
}

/* a point with what the margin and its derivative need of it */
static point point_for(const search *s, const armed *a, double since)
{
    const slew_step *step = &s->plant->step;
    point p = {.since = since};
    if (!a->linear && !a->direction)
        return point_at(step, since, false);
    if (a->direction) {
        slew_step_angle_at(step, a->axis, since, &p.angle[a->axis], &p.speed[a->axis]);
        return p;
    }
    for (int j = 0; j < SLEW_AXES; j++)
        if (step->moves[j])
            slew_step_speed_at(step, j, since, &p.speed[j], &p.change[j]);
    return p;
}

/* ---- roots ---- */

/* Time in [low, high] at which the margin falls below 0: Newton from `at`, bisection where it
 * leaves the bracket. f_low belongs to low, the margin at high is below 0. */
static double root_from(const search *s, const armed *a, double low, double f_low, double high,
                        double at)
{
    if (f_low <= 0)
        return low;
    for (int n = 0; n < ROOT_STEPS_MAX; n++) {
        point p = point_for(s, a, at);
        double f = margin(s, a, &p);
        if (f >= 0)
            low = at;
        else
            high = at;
        double next = at - f / margin_rate(s, a, &p);
        if (fabs(next - at) <= short_step)
            return slew_smaller(slew_larger(next, low), high);
        if (!(next > low && next < high))
            next = low + (high - low) / 2;
        at = next;
    }
    return at;
}

static double root(const search *s, const armed *a, double low, double f_low, double high,
                   double f_high)
{
    return root_from(s, a, low, f_low, high, low + (high - low) * f_low / (f_low - f_high));
}

static void clear(slew_watch *best)
{
    best->kind = SLEW_WATCH_NOTHING;
    best->axis = SLEW_NO_AXIS;
    best->index = 0;
    best->at = INFINITY;
}

static void take(slew_watch *best, const armed *a, double at)
{
    if (at < best->at) {
        best->kind = (int)a->kind;
        best->axis = a->axis;
        best->index = a->index;
        best->at = at;
    }
}

/* A margin that has just been crossed is 0 but for rounding and rises: the event is armed only from
 * where it is above 0. Returns such a place near `from`, or `from` itself. */
static point rise(const search *s, const armed *a, const point *from, double *f_from, double until)
{
    point p = *from;
    double f = *f_from;
    for (double ahead = until - from->since; f <= 0 && ahead > 1e-12; ahead /= 2) {
        p = point_at(&s->plant->step, from->since + ahead, true);
        f = margin(s, a, &p);
    }
    if (f <= 0)
        return *from;
    *f_from = f;
    return p;
}

/* looks for the first event between two neighbouring points; an axis that moves at speed 0 has just
 * started, whatever rounding makes of a torque that only just suffices */
static bool look_between(const search *s, const armed *a, point from, const point *to,
                         double f_from, double f_to, slew_watch *best)
{
    double down = margin_rate(s, a, &from);
    if (f_from <= 0 && (down > 0 || a->kind == SLEW_WATCH_REST)) {
        from = rise(s, a, &from, &f_from, to->since);
        down = margin_rate(s, a, &from);
    }
    if (f_to < 0) {
        take(best, a, root(s, a, from.since, f_from, to->since, f_to));
        return true;
    }
    if (!(down < 0 && margin_rate(s, a, to) > 0))
        return false;
    /* a lowest place in between: the rate rises through zero there */
    double low = from.since, high = to->since;
    for (int n = 0; n < 40 && high - low > 1e-12; n++) {
        double middle = low + (high - low) / 2;
        point p = point_at(&s->plant->step, middle, true);
        double f = margin(s, a, &p);
        if (f < 0) {
            take(best, a, root(s, a, from.since, f_from, middle, f));
            return true;
        }
        if (margin_rate(s, a, &p) < 0)
            low = middle;
        else
            high = middle;
    }
    return false;
}

/* looks node by node from now on, not beyond the best so far */
static void look_along(const search *s, const armed *a, slew_watch *best)
{
    slew_step *step = &s->plant->step;
    point from = point_at(step, s->since, true);
    double f_from = margin(s, a, &from);
    for (int i = 1; i < SLEW_NODES && from.since < best->at; i++) {
        if (slew_node[i] * step->length <= s->since)
            continue;
        point to = point_of_node(step, i);
        double f_to = margin(s, a, &to);
        if (look_between(s, a, from, &to, f_from, f_to, best))
            return;
        from = to;
        f_from = f_to;
    }
}

/* ---- linear events ---- */

/* where a linear margin of axis j would fall below 0, were only the exponential to change */
static double decayed_to(const slew_step *step, const armed *a, int j)
{
    double steady = a->zero + a->speed[j] * step->speed[j][0];
    double share = -steady / (a->speed[j] * step->amplitude[j][j]);
    return -log(share) / step->rate[j];
}

/* Looks as far as the speed of the only moving axis is monotone: so is the margin. true: nothing is
 * left to be looked at. */
static bool look_while_monotone(const search *s, const armed *a, slew_watch *best)
{
    const slew_step *step = &s->plant->step;
    int j = step->moves[1];
    if (step->moves[0] && step->moves[1])
        return false;
    double until = slew_turns_first(step);
    if (until <= s->since)
        return false;
    point end = until < step->length ? point_for(s, a, until) : point_of_node(step, SLEW_NODES - 1);
    double f_end = margin(s, a, &end);
    if (f_end >= 0)
        return until >= step->length;
    double f_now = a->zero + a->speed[j] * s->plant->speed[j], guess = decayed_to(step, a, j);
    take(best, a,
         guess > s->since && guess < until ? root_from(s, a, s->since, f_now, until, guess)
                                           : root(s, a, s->since, f_now, until, f_end));
    return true;
}

/* share w_j at its least from now on, by the bounds of its speed */
static inline double least_of(const slew_plant *plant, int j, double share)
{
    double now = share * plant->speed[j];
    double low = share * plant->step.speed_low[j], high = share * plant->step.speed_high[j];
    return slew_smaller(now, slew_smaller(low, high));
}

/* zero + speed_0 w_0 + speed_1 w_1 is nowhere below 0 in the rest of the step */
static inline bool stays_above(const slew_plant *plant, double zero, double speed_0, double speed_1)
{
    return !(zero + least_of(plant, 0, speed_0) + least_of(plant, 1, speed_1) < 0);
}

/* looks for a margin that may fall below 0 */
static void look_linear(const search *s, const armed *a, slew_watch *best)
{
    if (!look_while_monotone(s, a, best))
        look_along(s, a, best);
}

static void look_for_rest(const search *s, slew_watch *best)
{
    for (int j = 0; j < SLEW_AXES; j++)
        if (s->plant->moving[j]) {
            double d = s->plant->moving[j];
            if (stays_above(s->plant, 0, j ? 0 : d, j ? d : 0))
                continue;
            armed a = {.kind = SLEW_WATCH_REST, .axis = j, .linear = true};
            a.speed[j] = d;
            look_linear(s, &a, best);
        }
}

static void look_at_voltage(const search *s, enum slew_watch_kind kind, int index, double level,
                            bool below, slew_watch *best)
{
    const slew_electrics *e = &s->plant->electrics;
    double sign = below ? -1 : 1, zero = sign * (e->voltage_0 - level);
    double speed[SLEW_AXES] = {sign * e->voltage_1[0], sign * e->voltage_1[1]};
    if (stays_above(s->plant, zero, speed[0], speed[1]))
        return;
    armed a = {.kind = kind,
               .axis = SLEW_NO_AXIS,
               .index = index,
               .linear = true,
               .zero = zero,
               .speed = {speed[0], speed[1]}};
    look_linear(s, &a, best);
}

static void look_at_current(const search *s, int j, slew_watch *best)
{
    const slew_electrics *e = &s->plant->electrics;
    double sign = s->plant->over_current[j] ? 1 : -1;
    double zero = sign * (e->current_0[j] - s->model->axis[j].watch_current);
    double speed[SLEW_AXES] = {sign * e->current_1[j][0], sign * e->current_1[j][1]};
    if (stays_above(s->plant, zero, speed[0], speed[1]))
        return;
    armed a = {.kind = SLEW_WATCH_CURRENT,
               .axis = j,
               .linear = true,
               .zero = zero,
               .speed = {speed[0], speed[1]}};
    look_linear(s, &a, best);
}

static void look_at_electrics(const search *s, slew_watch *best)
{
    const slew_plant_model *model = s->model;
    const slew_plant *plant = s->plant;
    if (!plant->drive[0] && !plant->drive[1])
        return;
    if (model->auxiliary)
        look_at_voltage(s, SLEW_WATCH_REGIME, 0, model->auxiliary_voltage, plant->auxiliary_on,
                        best);
    for (int j = 0; j < SLEW_AXES; j++)
        if (plant->drive[j] && !plant->deaf[j])
            look_at_current(s, j, best);
    const slew_electrics *e = &plant->electrics;
    double lowest =
        e->voltage_0 + least_of(plant, 0, e->voltage_1[0]) + least_of(plant, 1, e->voltage_1[1]);
    for (int k = 0; k < 2; k++)
        if (plant->under_voltage[k] || lowest < model->watch_voltage[k])
            look_at_voltage(s, SLEW_WATCH_VOLTAGE, k, model->watch_voltage[k],
                            plant->under_voltage[k], best);
}

/* ---- load events ---- */

/* true: the carried torque can't have changed its sign, not even unseen between two nodes */
static bool gear_is_quiet(const search *s, int j)
{
    const slew_plant_axis *axis = &s->model->axis[j];
    const slew_step *step = &s->plant->step;
    if (!s->plant->helped[j] && axis->largest_torque <= axis->friction)
        return true;
    double span = 0, least = INFINITY;
    for (int k = 0; k < SLEW_AXES; k++) {
        if (!step->moves[k])
            continue;
        for (int c = 1; c < SLEW_NODES + 2; c++)
            span += fabs(step->angle[k][c]);
        span += fabs(step->swing[k][0]) * (step->coupled || k == 0) +
                fabs(step->swing[k][1]) * (step->coupled || k == 1);
    }
    armed a = {.kind = SLEW_WATCH_GEAR, .axis = j};
    for (int i = 0; i < SLEW_NODES; i++)
        least = slew_smaller(least, load_margin(s, &a, step->node_torque[i][j], 0));
    /* |T''| <= largest_torque; neighbouring nodes are less than half the span apart */
    return least > axis->largest_torque * span * span / 32;
}

static void look_at_gears(const search *s, slew_watch *best)
{
    for (int j = 0; j < SLEW_AXES; j++)
        if (s->plant->moving[j] && !gear_is_quiet(s, j)) {
            armed a = {.kind = SLEW_WATCH_GEAR, .axis = j};
            look_along(s, &a, best);
        }
}

/* the questions of an axis at rest beside one that moves */
static void look_at_resting(const search *s, slew_watch *best)
{
    for (int j = 0; j < SLEW_AXES; j++) {
        const slew_plant_axis *axis = &s->model->axis[j];
        if (s->plant->moving[j])
            continue;
        int driven = slew_driven(s->model, s->plant, j);
        for (int d = -1; d <= 1; d += 2) {
            if (s->plant->angle[j] == (d > 0 ? axis->stops.high : axis->stops.low))
                continue;
            if (!driven && (axis->backward <= 0 || axis->largest_torque <= axis->friction))
                continue;
            armed a = {.kind = !driven       ? SLEW_WATCH_SLIP
                               : d == driven ? SLEW_WATCH_START
                                             : SLEW_WATCH_DRAG,
                       .axis = j,
                       .index = d};
            look_along(s, &a, best);
        }
    }
}

/* ---- angle events ---- */

static double next_switch_edge(const slew_plant_axis *axis, const slew_plant *plant, int j)
{
    const slew_home *home = &axis->home;
    double d = plant->moving[j], none = d * INFINITY;
    if (!home->present || home->stuck)
        return none;
    if (plant->closed[j])
        return home->angle + d * home->release;
    double edge = home->angle - d * home->operate;
    return (edge - plant->angle[j]) * d > 0 ? edge : none;
}

/* the angle that an axis meets first on its way, and what it is; the stop comes last, for an axis
 * rests on it */
static void next_angle(const search *s, int j, armed *a)
{
    const slew_plant_axis *axis = &s->model->axis[j];
    int d = s->plant->moving[j], behind = s->plant->passed[j];
    a->kind = SLEW_WATCH_STOP;
    a->axis = j;
    a->index = 0;
    a->linear = false;
    a->direction = d;
    a->angle = d > 0 ? axis->stops.high : axis->stops.low;
    int next = d > 0 ? behind : behind - 1;
    if (next >= 0 && next < axis->mark_count) {
        const slew_mark *mark = &axis->mark[next];
        double ahead = (a->angle - mark->angle) * d;
        if (ahead > 0 || (ahead == 0 && mark->on == d))
            a->kind = SLEW_WATCH_MARK, a->angle = mark->angle, a->index = mark->tag;
    }
    double edge = next_switch_edge(axis, s->plant, j);
    if ((a->angle - edge) * d >= 0)
        a->kind = SLEW_WATCH_SWITCH, a->angle = edge, a->index = 0;
}

/* a point with the angles alone */
static point place_at(const slew_step *step, double since)
{
    point p = {.since = since};
    for (int j = 0; j < SLEW_AXES; j++)
        if (step->moves[j])
            slew_step_angle_at(step, j, since, &p.angle[j], &p.speed[j]);
    return p;
}

/* When an axis will be at an angle, about [s]: as the polynomial of a plain step says, else as
 * speed and acceleration at the nearest node do, the start left aside. */
static double guess_when(const search *s, int j, double angle)
{
    const slew_step *step = &s->plant->step;
    if (step->plain)
        return (angle - step->angle[j][0]) / step->angle[j][1] * step->length;
    int node = 1;
    while (node + 1 < SLEW_NODES &&
           fabs(angle - step->node_angle[node + 1][j]) < fabs(angle - step->node_angle[node][j]))
        node++;
    double speed = step->node_speed[node][j];
    double ahead = (angle - step->node_angle[node][j]) * s->model->axis[j].ratio / speed;
    return slew_node[node] * step->length +
           ahead * (1 - ahead * step->node_change[node][j] / (2 * speed));
}

/* An axis turns one way until it rests: only its place at the end has to be looked at. */
void slew_watch_angles(const slew_plant_model *model, slew_plant *plant)
{
    const slew_step *step = &plant->step;
    search s = {model, plant, plant->time - step->start};
    slew_watch *best = &plant->angles;
    clear(best);
    point end = plant->smooth.at < step->length ? place_at(step, plant->smooth.at)
                                                : point_of_node(step, SLEW_NODES - 1);
    for (int j = 0; j < SLEW_AXES; j++) {
        if (!plant->moving[j])
            continue;
        armed a;
        next_angle(&s, j, &a);
        double f_end = margin(&s, &a, &end);
        if (f_end > 0)
            continue;
        double f_now = (a.angle - plant->angle[j]) * a.direction,
               guess = guess_when(&s, j, a.angle);
        take(best, &a,
             guess > s.since && guess < end.since
                 ? root_from(&s, &a, s.since, f_now, end.since, guess)
                 : root(&s, &a, s.since, f_now, end.since, f_end));
    }
}

/* ---- both together ---- */

void slew_watch_smooth(const slew_plant_model *model, slew_plant *plant)
{
    search s = {model, plant, plant->time - plant->step.start};
    slew_watch *best = &plant->smooth;
    clear(best);
    look_for_rest(&s, best);
    look_at_electrics(&s, best);
    look_at_gears(&s, best);
    if (!plant->moving[0] || !plant->moving[1])
        look_at_resting(&s, best);
}

void slew_watch_current(const slew_plant_model *model, slew_plant *plant, int axis)
{
    search s = {model, plant, plant->time - plant->step.start};
    look_at_current(&s, axis, &plant->smooth);
}

/* the extreme between two places whose rates differ in sign */
static double find_peak(const slew_step *step, const double share[SLEW_AXES], slew_illinois bracket)
{
    double at = bracket.low;
    for (int n = 0; n < 40; n++) {
        double next = slew_illinois_next(&bracket);
        double rate = slew_turns_rate(step, share, next);
        if (fabs(rate * (next - at)) < peak_tolerance)
            return next;
        at = next;
        slew_illinois_take(&bracket, at, rate);
    }
    return at;
}

/* between two neighbouring nodes; also where it rises and falls again, or falls and rises, unseen
 */
static void find_peak_after(slew_step *step, const double share[SLEW_AXES],
                            const double rate[SLEW_NODES], int node)
{
    slew_illinois bracket = {slew_node[node] * step->length, rate[node],
                             slew_node[node + 1] * step->length, rate[node + 1], 0};
    if (bracket.f_low * bracket.f_high > 0) {
        double between = slew_turns_nears(rate, node) ? slew_turns_hidden(step, share, node) : -1;
        if (between < 0)
            return;
        double back = slew_turns_rate(step, share, between);
        if (back < 0)
            bracket.high = between, bracket.f_high = back;
        else
            bracket.low = between, bracket.f_low = back;
    }
    if (bracket.f_low > 0 && bracket.f_high < 0)
        step->peak[step->peak_count++] = find_peak(step, share, bracket);
}

void slew_watch_peaks(slew_plant *plant)
{
    slew_step *step = &plant->step;
    step->peak_count = 0;
    if (!plant->drive[0] && !plant->drive[1])
        return;
    if (step->plain)
        return;
    const slew_electrics *e = &plant->electrics;
    const double share[SLEW_AXES] = {e->current_1[0][0] + e->current_1[1][0],
                                     e->current_1[0][1] + e->current_1[1][1]};
    double rate[SLEW_NODES];
    for (int i = 0; i < SLEW_NODES; i++)
        rate[i] = slew_turns_node(step, share, i);
    for (int i = 0; i + 1 < SLEW_NODES; i++)
        find_peak_after(step, share, rate, i);
}
