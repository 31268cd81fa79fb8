/* speed_place.c - where on its travel an axis is slowest and fastest. The load torque is a sum and
 * product of sines, so that its extremes lie at known places. */
#include "motion/dynamics.h"
#include "slewtime/drive.h"

#include <string.h>

enum { CANDIDATES = 5, SEARCH_STEPS = 60 };

static const double PI = 3.14159265358979323846;

static double clamp(double angle, slew_range range)
{
    return fmin(fmax(angle, range.low), range.high);
}

/* the home sensor, both ends, and the first two of `stationary` + k pi in between */
static int candidates(double home, slew_range range, double stationary, double out[CANDIDATES])
{
    int count = 0;
    out[count++] = clamp(home, range);
    out[count++] = range.low;
    out[count++] = range.high;
    double first = stationary + PI * ceil((range.low - stationary) / PI);
    for (int k = 0; k < 2; k++)
        if (first + k * PI < range.high)
            out[count++] = clamp(first + k * PI, range);
    return count;
}

/* ---- extremes of the load torque ---- */

typedef struct extremes {
    double low, high; /* torque [N m] */
    double at_low[SLEW_AXES], at_high[SLEW_AXES];
} extremes;

static void consider(const slew_plant_model *model, int axis, const double angle[SLEW_AXES],
                     extremes *e)
{
    double torque = slew_plant_load_torque(model, axis, angle);
    if (torque < e->low) {
        e->low = torque;
        memcpy(e->at_low, angle, sizeof e->at_low);
    }
    if (torque > e->high) {
        e->high = torque;
        memcpy(e->at_high, angle, sizeof e->at_high);
    }
}

/* elevation at which the torque has its extremes, M3.3: the rotation's goes with the cosine */
static double stationary_elevation(const slew_plant_model *model, int axis, double rotation)
{
    if (axis == SLEW_ROTATION)
        return 0;
    return atan2(model->gravity_side * cos(rotation - model->downhill), model->gravity_up);
}

static extremes find_extremes(const slew_plant_model *model, int axis,
                              const slew_range range[SLEW_AXES])
{
    extremes e = {.low = INFINITY, .high = -INFINITY};
    double turn[CANDIDATES], lift[CANDIDATES];
    double across = model->downhill + (axis == SLEW_ROTATION ? PI / 2 : 0);
    int turns =
        candidates(model->axis[SLEW_ROTATION].home.angle, range[SLEW_ROTATION], across, turn);
    for (int i = 0; i < turns; i++) {
        int lifts = candidates(model->axis[SLEW_ELEVATION].home.angle, range[SLEW_ELEVATION],
                               stationary_elevation(model, axis, turn[i]), lift);
        for (int k = 0; k < lifts; k++)
            consider(model, axis, (const double[SLEW_AXES]){turn[i], lift[k]}, &e);
    }
    return e;
}

/* ---- what the motor feels of it ---- */

/* on the straight way from one place to another, where the torque is `wanted` */
static void place_between(const slew_plant_model *model, int axis, const extremes *e, double wanted,
                          double out[SLEW_AXES])
{
    double low = 0, high = 1;
    for (int i = 0; i < SEARCH_STEPS; i++) {
        double share = (low + high) / 2;
        for (int j = 0; j < SLEW_AXES; j++)
            out[j] = e->at_low[j] + share * (e->at_high[j] - e->at_low[j]);
        if (slew_plant_load_torque(model, axis, out) < wanted)
            low = share;
        else
            high = share;
    }
}

slew_speed_places slew_speed_find_places(const slew_plant_model *model, int axis, int direction,
                                         const slew_range range[SLEW_AXES])
{
    if (model == NULL || range == NULL || axis < 0 || axis >= SLEW_AXES)
        return (slew_speed_places){{NAN, NAN}, {NAN, NAN}};
    const slew_plant_axis *a = &model->axis[axis];
    extremes e = find_extremes(model, axis, range);
    slew_speed_places places;
    bool high_is_slower =
        slew_carried_torque(a, direction, e.high) >= slew_carried_torque(a, direction, e.low);
    memcpy(places.slowest, high_is_slower ? e.at_high : e.at_low, sizeof places.slowest);
    memcpy(places.fastest, high_is_slower ? e.at_low : e.at_high, sizeof places.fastest);
    /* a self-locking gear brakes a load that helps: it runs most easily where there is none */
    double none = -direction * a->friction;
    if (a->backward < 0 && e.low < none && none < e.high)
        place_between(model, axis, &e, none, places.fastest);
    return places;
}
