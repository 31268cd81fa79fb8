/* speed_needs.c - see speed_needs.h. By bisection on the machine itself. */
#include "study/speed/speed_needs.h"

typedef bool holds(const slew_speed_probe *p);

bool slew_speed_probe_set(slew_speed_probe *p, double voltage)
{
    p->setup.supply.main.voltage = voltage;
    if (slew_plant_model_build(&p->setup, &p->model, NULL) != SLEW_OK)
        return false;
    const slew_speed_curve *c = p->curve;
    p->at = slew_speed_at(&p->model, c->axis, c->direction, c->place.slowest);
    return true;
}

/* ---- what is asked of one voltage ---- */

static bool runs(const slew_speed_probe *p)
{
    return p->at.state == SLEW_SPEED_RUNS || p->at.state == SLEW_SPEED_RUNS_ON;
}

static bool starts(const slew_speed_probe *p)
{
    return p->at.state == SLEW_SPEED_RUNS;
}

static bool arrives(const slew_speed_probe *p)
{
    const slew_speed_curve *c = p->curve;
    slew_speed_travel travel;
    slew_status status =
        slew_speed_travel_run(&p->setup, c->axis, c->direction, c->other, &travel, NULL);
    return status == SLEW_OK && !isnan(travel.time);
}

static bool clears_brownout(const slew_speed_probe *p)
{
    return p->at.voltage >= p->setup.controller.brownout_voltage;
}

static bool clears_floor(const slew_speed_probe *p)
{
    return p->at.voltage >= p->setup.supply.floor;
}

static bool trips(const slew_speed_probe *p)
{
    return runs(p) && p->at.current >= p->setup.controller.stall_current;
}

static bool is_noticed(const slew_speed_probe *p)
{
    return slew_speed_blocked_current(&p->model, p->curve->axis) >=
           p->setup.controller.stall_current;
}

/* ---- bisection ---- */

static bool holds_at(slew_speed_probe *p, double voltage, holds *ask)
{
    return slew_speed_probe_set(p, voltage) && ask(p);
}

/* Every one of them holds from some voltage on: more voltage brings more torque, speed, current. */
static double lowest(slew_speed_probe *p, double to, holds *ask)
{
    double low = 0, high = to;
    if (!holds_at(p, high, ask))
        return INFINITY;
    if (holds_at(p, low, ask))
        return 0;
    while (high - low > SLEW_SPEED_TOLERANCE) {
        double middle = (low + high) / 2;
        if (holds_at(p, middle, ask))
            high = middle;
        else
            low = middle;
    }
    return high;
}

slew_speed_needs slew_speed_find_needs(slew_speed_probe *p, double to)
{
    slew_speed_needs need = {.runs = lowest(p, to, runs),
                             .starts = lowest(p, to, starts),
                             .brownout = lowest(p, to, clears_brownout),
                             .floor = lowest(p, to, clears_floor),
                             .trips = lowest(p, to, trips),
                             .noticed = lowest(p, to, is_noticed)};
    need.arrives = lowest(p, fmin(to, need.trips), arrives); /* beyond, it stalls again */
    return need;
}
