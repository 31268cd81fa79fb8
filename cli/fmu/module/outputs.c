/* outputs.c - what a machine or plant shows. */
#include "instance.h"

static slew_sample look_at_plant(const slew_machine *m)
{
    slew_sample s = {.time = m->plant.time, .voltage = m->plant.voltage};
    for (int axis = 0; axis < SLEW_AXES; axis++) {
        s.angle[axis] = m->plant.angle[axis];
        s.speed[axis] = slew_plant_output_speed(&m->model, &m->plant, axis);
        s.current[axis] = m->plant.current[axis];
        s.drive[axis] = m->plant.drive[axis];
        s.closed[axis] = m->plant.closed[axis];
    }
    return s;
}

fmi3Status fmu_see(fmu_instance *instance)
{
    bool happened = false;
    if (instance->has_seen)
        return fmi3OK;
    fmu_state *seen = &instance->seen;
    *seen = instance->now;
    fmi3Status status = seen->v.started ? fmi3OK : fmu_start(instance, seen);
    if (status == fmi3OK)
        status = fmu_take(instance, seen, &happened);
    if (status != fmi3OK && status != fmi3Warning)
        return status;
    if (instance->kind == FMU_PLANT) {
        instance->sample = look_at_plant(&seen->machine);
    } else {
        instance->sample = slew_machine_look(&seen->machine);
        instance->meters = slew_machine_meters(&seen->machine);
    }
    instance->has_seen = true;
    return fmi3OK;
}

/* of an axis */
static double axis_output(const fmu_instance *instance, unsigned first, int axis)
{
    const slew_machine *m = &instance->seen.machine;
    const slew_sample *s = &instance->sample;
    switch (first) {
    case FMU_STORED:
        return instance->seen.v.stored[axis];
    case FMU_ANGLE:
        return s->angle[axis];
    case FMU_SPEED:
        return s->speed[axis];
    case FMU_CURRENT:
        return s->current[axis];
    case FMU_SENSOR:
        return s->closed[axis];
    case FMU_MOVING:
        return m->plant.moving[axis];
    case FMU_DRIVE:
        return s->drive[axis];
    default:
        return m->plant.over_current[axis];
    }
}

double fmu_output(const fmu_instance *instance, unsigned reference)
{
    const slew_machine *m = &instance->seen.machine;
    const slew_sample *s = &instance->sample;
    if (reference >= FMU_STORED && reference < FMU_VOLTAGE) {
        unsigned axis = (reference - FMU_STORED) % SLEW_AXES;
        return axis_output(instance, reference - axis, (int)axis);
    }
    switch (reference) {
    case FMU_VOLTAGE:
        return s->voltage;
    case FMU_BELOW_FLOOR:
        return s->voltage < m->model.watch_voltage[0];
    case FMU_BELOW_BROWNOUT:
        return s->voltage < m->model.watch_voltage[1];
    case FMU_HOLDS:
        return m->holds;
    case FMU_TASK:
        return m->task;
    case FMU_VERDICT:
        return m->says;
    case FMU_FAULT:
        return m->fault;
    case FMU_FAULT_AXIS:
        return m->fault == SLEW_FAULT_NONE ? SLEW_NO_AXIS : m->fault_axis;
    case FMU_READY:
        return slew_machine_is_ready(m);
    case FMU_KEEPOUT:
        return instance->seen.v.inside != 0;
    case FMU_EVENT:
        return instance->seen.v.last_event;
    case FMU_EVENTS:
        return (double)instance->seen.v.events;
    case FMU_LOWEST_VOLTAGE:
        return instance->meters.lowest_voltage;
    case FMU_PEAK_CURRENT:
        return instance->meters.peak_current;
    default:
        return instance->meters.charge;
    }
}
