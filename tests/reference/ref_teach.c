/*
 * ref_teach.c - the stored times: how long to drive so that each axis ends at rest at the point.
 */
#include <math.h>
#include <stdio.h>

#include "ref_controller.h"

#define REST_LIMIT 60.0

static const char *const axis_name[2] = {"rotation", "elevation"};

typedef struct lesson {
    const ref_plant *from; /* at rest, before the move */
    int axis;
    int direction; /* commanded */
    double point;  /* [rad] */
    bool failed;   /* the solver did */
} lesson;

/* ---- one trial ---- */

static void go_on(ref_plant *p, double until, bool to_rest)
{
    while (p->t < until && !p->does_not_hold && !p->failed) {
        ref_plant_settle(p);
        if (to_rest && !ref_plant_moves(p))
            return;
        ref_plant_advance(p, until);
    }
}

/* how far beyond the point, in the true direction of the move, it rests after T seconds [rad] */
static double beyond(void *ctx, double T)
{
    lesson *l = ctx;
    ref_plant p = *l->from;
    double start = p.t;
    p.log = NULL;
    p.keepout = NULL;
    int true_direction = l->direction * (int)p.machine.axis[l->axis].sign;
    if (T > 0.0) {
        ref_plant_drive(&p, l->axis, l->direction);
        go_on(&p, start + T, false);
        ref_plant_drive(&p, l->axis, 0);
        go_on(&p, start + T + REST_LIMIT, true);
    }
    l->failed = l->failed || p.failed;
    return true_direction * (p.y[REF_ANGLE + l->axis] - l->point);
}

/* ---- the time of one axis ---- */

/* NaN: it does not get there within the limit */
static double find_time(lesson *l, double limit)
{
    double low = 0.0, high = fmin(0.1, limit);
    double f_low = beyond(l, low), f_high = beyond(l, high);
    if (f_low >= 0.0)
        return 0.0;
    while (f_high < 0.0 && high < limit && !l->failed) {
        low = high;
        f_low = f_high;
        high = fmin(2.0 * high, limit);
        f_high = beyond(l, high);
    }
    if (f_high < 0.0)
        return NAN;
    return ref_find_root(beyond, l, low, f_low, high, f_high, 1e-12);
}

static double round_to(double T, double clock)
{
    return clock > 0.0 ? clock * round(T / clock) : T;
}

static bool complain(char *why, size_t size, int axis, const char *text)
{
    snprintf(why, size, "%s %s", axis_name[axis], text);
    return false;
}

/* the rounded move itself, as the controller makes it */
static bool verify(ref_controller *c, int axis, double T, char *why, size_t size)
{
    double seconds[2] = {0.0, 0.0};
    seconds[axis] = T;
    if (ref_timed_moves(c, seconds) && ref_wait_for_rest(c))
        return true;
    if (c->plant.failed)
        return complain(why, size, axis, "the solver failed while teaching");
    return complain(why, size, axis,
                    c->fault == SLEW_FAULT_NONE ? "does not hold while it is taught"
                                                : "meets a fault on its way to the point");
}

static bool teach_axis(ref_controller *c, int axis, double point, double *stored, char *why,
                       size_t size)
{
    double away = point - c->plant.y[REF_ANGLE + axis];
    int direction = (away > 0.0 ? 1 : -1) * (int)c->plant.machine.axis[axis].sign;
    lesson l = {&c->plant, axis, direction, point, false};
    double T = away == 0.0 ? 0.0 : find_time(&l, c->setup->controller.move_limit);
    if (l.failed)
        return complain(why, size, axis, "the solver failed while teaching");
    if (isnan(T))
        return complain(why, size, axis, "does not reach the point within the move limit");
    T = direction * round_to(T, c->setup->controller.clock);
    *stored = T == 0.0 ? 0.0 : T;
    return verify(c, axis, T, why, size);
}

/* ---- both axes ---- */

static bool point_is_free(const ref_machine *m, const double point[2], char *why, size_t size)
{
    for (int a = 0; a < 2; a++)
        if (!(point[a] > m->axis[a].low && point[a] < m->axis[a].high))
            return complain(why, size, a, "is to be taught on or beyond a stop");
    return true;
}

bool ref_teach_times(ref_controller *c, const slew_stow *stow, double stored[2], char *why,
                     size_t size)
{
    int first = stow->order == SLEW_ELEVATION_FIRST ? SLEW_ELEVATION : SLEW_ROTATION;
    if (!point_is_free(&c->plant.machine, stow->point, why, size))
        return false;
    for (int i = 0; i < 2; i++) {
        int axis = i == 0 ? first : 1 - first;
        if (!teach_axis(c, axis, stow->point[axis], &stored[axis], why, size))
            return false;
    }
    return true;
}
