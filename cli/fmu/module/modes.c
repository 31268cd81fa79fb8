/*
 * modes.c - the order of calls of Co-Simulation: FMI 3.0, 2.3 and 4.2.1.
 *
 * A call in the wrong mode, or with wrong arguments, is fmi3Error and does nothing.
 */
#include "instance.h"

/* ---- initialization ---- */

fmi3Status fmi3EnterInitializationMode(fmi3Instance instance, fmi3Boolean toleranceDefined,
                                       fmi3Float64 tolerance, fmi3Float64 startTime,
                                       fmi3Boolean stopTimeDefined, fmi3Float64 stopTime)
{
    fmu_instance *own = instance;
    (void)toleranceDefined, (void)tolerance;
    if (!fmu_may(own, FMU_INSTANTIATED, "fmi3EnterInitializationMode"))
        return fmi3Error;
    if (!isfinite(startTime) || (stopTimeDefined && !(stopTime >= startTime)))
        return fmu_say(own, fmi3Error, "the start time is no number, or the stop time before it");
    own->now.v.time = own->now.v.ahead = startTime;
    own->now.v.stop = stopTimeDefined ? stopTime : INFINITY;
    own->now.v.mode = FMU_INITIALIZATION;
    own->has_seen = false;
    return fmi3OK;
}

fmi3Status fmi3ExitInitializationMode(fmi3Instance instance)
{
    fmu_instance *own = instance;
    if (!fmu_may(own, FMU_INITIALIZATION, "fmi3ExitInitializationMode"))
        return fmi3Error;
    fmi3Status status = fmu_start(own, &own->now);
    if (status != fmi3OK)
        return status;
    own->has_seen = false;
    own->now.v.mode = own->event_mode_used ? FMU_EVENT_MODE : FMU_STEP_MODE;
    return fmi3OK;
}

/* ---- events ---- */

fmi3Status fmi3EnterEventMode(fmi3Instance instance)
{
    fmu_instance *own = instance;
    if (!fmu_may(own, FMU_STEP_MODE, "fmi3EnterEventMode"))
        return fmi3Error;
    if (!own->event_mode_used)
        return fmu_say(own, fmi3Error,
                       "fmi3EnterEventMode: the instance was made with eventModeUsed false");
    own->now.v.mode = FMU_EVENT_MODE;
    return fmi3OK;
}

fmi3Status fmi3UpdateDiscreteStates(fmi3Instance instance, fmi3Boolean *discreteStatesNeedUpdate,
                                    fmi3Boolean *terminateSimulation,
                                    fmi3Boolean *nominalsOfContinuousStatesChanged,
                                    fmi3Boolean *valuesOfContinuousStatesChanged,
                                    fmi3Boolean *nextEventTimeDefined, fmi3Float64 *nextEventTime)
{
    fmu_instance *own = instance;
    bool happened = false;
    if (!fmu_may(own, FMU_EVENT_MODE, "fmi3UpdateDiscreteStates"))
        return fmi3Error;
    if (!discreteStatesNeedUpdate || !terminateSimulation || !nominalsOfContinuousStatesChanged ||
        !valuesOfContinuousStatesChanged || !nextEventTimeDefined || !nextEventTime)
        return fmu_say(own, fmi3Error, "fmi3UpdateDiscreteStates: an argument is NULL");
    *discreteStatesNeedUpdate = *terminateSimulation = fmi3False;
    *nominalsOfContinuousStatesChanged = *valuesOfContinuousStatesChanged = fmi3False;
    *nextEventTimeDefined = fmi3False;
    *nextEventTime = 0;
    own->has_seen = false;
    return fmu_take(own, &own->now, &happened);
}

fmi3Status fmi3EnterStepMode(fmi3Instance instance)
{
    fmu_instance *own = instance;
    if (!fmu_may(own, FMU_EVENT_MODE, "fmi3EnterStepMode"))
        return fmi3Error;
    own->now.v.mode = FMU_STEP_MODE;
    return fmi3OK;
}

/* ---- time ---- */

/* the importer counts in steps of its own, and rounds */
static double rounding(double time)
{
    return 1e-9 * fmax(1, fabs(time));
}

static bool is_now(const fmu_instance *own, double time)
{
    return fabs(time - own->now.v.time) <= rounding(time);
}

fmi3Status fmi3DoStep(fmi3Instance instance, fmi3Float64 currentCommunicationPoint,
                      fmi3Float64 communicationStepSize,
                      fmi3Boolean noSetFMUStatePriorToCurrentPoint,
                      fmi3Boolean *eventHandlingNeeded, fmi3Boolean *terminateSimulation,
                      fmi3Boolean *earlyReturn, fmi3Float64 *lastSuccessfulTime)
{
    fmu_instance *own = instance;
    bool happened = false;
    (void)noSetFMUStatePriorToCurrentPoint;
    if (!fmu_may(own, FMU_STEP_MODE, "fmi3DoStep"))
        return fmi3Error;
    if (!eventHandlingNeeded || !terminateSimulation || !earlyReturn || !lastSuccessfulTime)
        return fmu_say(own, fmi3Error, "fmi3DoStep: an argument is NULL");
    *eventHandlingNeeded = *terminateSimulation = *earlyReturn = fmi3False;
    *lastSuccessfulTime = own->now.v.time;
    const double until = currentCommunicationPoint + communicationStepSize;
    if (!(communicationStepSize > 0) || !isfinite(until))
        return fmu_say(own, fmi3Error, "fmi3DoStep: the step size is not above 0");
    if (!is_now(own, currentCommunicationPoint))
        return fmu_say(own, fmi3Error, "fmi3DoStep: the last step ended at %.17g s, not at %.17g s",
                       own->now.v.time, currentCommunicationPoint);
    if (until > own->now.v.stop + rounding(until)) /* 2.3.3: past it is an error */
        return fmu_say(own, fmi3Error, "fmi3DoStep: %.17g s is past the stop time, %.17g s", until,
                       own->now.v.stop);
    own->has_seen = false;
    fmi3Status taken = fmu_take(own, &own->now, &happened);
    if (taken != fmi3OK && taken != fmi3Warning)
        return taken;
    fmi3Status status = fmu_advance(own, &own->now, until, own->early_return_allowed, &happened);
    *lastSuccessfulTime = own->now.v.time;
    *earlyReturn = own->now.v.time < until;
    *eventHandlingNeeded = happened && own->event_mode_used;
    return status == fmi3OK ? taken : status;
}

fmi3Status fmi3Terminate(fmi3Instance instance)
{
    fmu_instance *own = instance;
    if (!fmu_may(own, FMU_EVENT_MODE | FMU_STEP_MODE, "fmi3Terminate"))
        return fmi3Error;
    own->now.v.mode = FMU_TERMINATED;
    return fmi3OK;
}
