/* speed_travel.c - from stop to stop: a run of one timed move that is longer than the way. */
#include "slewtime/drive.h"

#include "error/error.h"
#include "motion/errors.h"

typedef struct watch {
    int axis, direction;
    double on, contact; /* NaN: not yet [s] */
    bool over;          /* the controller has given up */
} watch;

static void note(void *context, const slew_event *event)
{
    watch *w = context;
    if (event->kind == SLEW_EVENT_FAULT || event->kind == SLEW_EVENT_DOES_NOT_HOLD)
        w->over = true;
    if (w->over || event->axis != w->axis)
        return;
    if (event->kind == SLEW_EVENT_DRIVE_ON)
        w->on = event->time;
    if (event->kind == SLEW_EVENT_STOP_CONTACT && event->direction == w->direction)
        w->contact = event->time;
}

/* the one move, longer than the controller lets any drive last */
static void order_move(const slew_setup *setup, int axis, int direction, slew_scenario *scenario)
{
    int commanded = setup->axis[axis].reversed ? -direction : direction;
    scenario->deploy.given = true;
    scenario->deploy.order = SLEW_ROTATION_FIRST;
    scenario->deploy.seconds[axis] = 2 * commanded * setup->controller.move_limit;
}

static void place(slew_setup *setup, int axis, int direction, double other)
{
    const slew_range *stops = &setup->axis[axis].stops;
    setup->axis[axis].start = direction > 0 ? stops->low : stops->high;
    setup->axis[!axis].start = other;
}

static void run(const slew_scenario *scenario, const slew_prepared *prepared, watch *w,
                slew_speed_travel *out)
{
    const slew_observer observer = {.event = note, .context = w};
    slew_result result;
    slew_run_prepared(scenario, prepared, SLEW_DEPLOY_ONLY, &observer, &result);
    bool arrives = !isnan(w->contact);
    out->time = w->contact - w->on;
    out->fault = arrives ? SLEW_FAULT_NONE : result.deploy.fault;
    out->holds = arrives || result.deploy.holds;
}

slew_status slew_speed_travel_run(const slew_setup *setup, int axis, int direction, double other,
                                  slew_speed_travel *out, slew_error *error)
{
    if (setup == NULL || out == NULL)
        return slew_no_argument(error);
    if (axis < 0 || axis >= SLEW_AXES || (direction != 1 && direction != -1))
        return slew_no_number(error);
    watch w = {.axis = axis, .direction = direction, .on = NAN, .contact = NAN};
    slew_prepared prepared = {.deploy_setup = *setup};
    place(&prepared.deploy_setup, axis, direction, other);
    slew_status status = slew_plant_model_build(&prepared.deploy_setup, &prepared.deploy, error);
    if (status == SLEW_OK)
        status = slew_check_setup(&prepared.deploy_setup, error);
    if (status != SLEW_OK)
        return status;
    slew_scenario scenario = {0};
    order_move(setup, axis, direction, &scenario);
    run(&scenario, &prepared, &w, out);
    return SLEW_OK;
}
