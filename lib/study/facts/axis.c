/* axis.c - what an axis does, by itself: see facts.h. */
#include "slewtime/facts.h"

#include "error/error.h"
#include "keys/sound.h"

static slew_status find_way(const slew_setup *setup, const slew_plant_model *model, int axis,
                            int direction, slew_axis_way *out, slew_error *error)
{
    const slew_range range[SLEW_AXES] = {model->axis[0].stops, model->axis[1].stops};
    slew_speed_places places = slew_speed_find_places(model, axis, direction, range);
    slew_speed_travel travel;
    out->slowest = slew_speed_at(model, axis, direction, places.slowest);
    slew_status status =
        slew_speed_travel_run(setup, axis, direction, places.slowest[!axis], &travel, error);
    out->travel = travel.time;
    out->fault = travel.fault;
    return status;
}

static void measure(const slew_scenario *scenario, const slew_setup *setup, int axis,
                    slew_axis_facts *out)
{
    const slew_axis_setup *a = &setup->axis[axis];
    bool has_point = scenario->stow.has_point;
    double point = has_point ? scenario->stow.point[axis] : NAN;
    out->home = a->home.angle;
    out->home_from_stop[0] = a->home.angle - a->stops.low;
    out->home_from_stop[1] = a->stops.high - a->home.angle;
    out->point_from_home = point - a->home.angle;
    out->point_from_stop = has_point ? fmin(point - a->stops.low, a->stops.high - point) : NAN;
}

slew_status slew_axis_facts_run(const slew_scenario *scenario, slew_occasion occasion, int axis,
                                slew_axis_facts *out, slew_error *error)
{
    if (out == NULL)
        return slew_no_argument(error);
    if (!slew_is_sound(scenario, error))
        return SLEW_ERROR_INPUT;
    if (axis < 0 || axis >= SLEW_AXES)
        return slew_no_number(error);
    slew_setup setup;
    slew_plant_model model;
    slew_scenario_resolve(scenario, occasion, &setup);
    slew_status status = slew_plant_model_build(&setup, &model, error);
    for (int i = 0; i < 2 && status == SLEW_OK; i++)
        status = find_way(&setup, &model, axis, 2 * i - 1, &out->way[i], error);
    if (status != SLEW_OK)
        return status;
    out->stalled = slew_speed_blocked_current(&model, axis);
    out->backward_efficiency = model.axis[axis].backward;
    measure(scenario, &setup, axis, out);
    return SLEW_OK;
}
