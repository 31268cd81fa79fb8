/* unsupported.c - functions of the standard that this FMU has no use for: each is fmi3Error, and
 * says why. FMI 3.0, 2.1.1: a shared library has them all. */
#include "instance.h"

static const char NO_DEPENDENCIES[] = "providesPerElementDependencies is false";
static const char NO_DERIVATIVES[] = "no derivatives are provided";
static const char NO_STRUCTURE[] = "there are no structural parameters";
static const char NO_EVALUATION[] = "providesEvaluateDiscreteStates is false";
static const char NO_CLOCKS[] = "there are no clocks";
static const char NO_EXCHANGE[] = "it is for Co-Simulation, not for Model Exchange";
static const char NO_SCHEDULE[] = "it is for Co-Simulation, not for Scheduled Execution";

static fmi3Status refuse(const fmu_instance *instance, const char *call, const char *why)
{
    return instance != NULL ? fmu_say(instance, fmi3Error, "%s: %s", call, why) : fmi3Error;
}

/* before there is an instance */
static fmi3Instance refuse_to_begin(fmi3InstanceEnvironment environment, fmi3LogMessageCallback log,
                                    const char *why)
{
    if (log != NULL)
        log(environment, fmi3Error, fmu_categories[FMU_SAYS_ERROR].name, why);
    return NULL;
}

fmi3Instance fmi3InstantiateModelExchange(fmi3String instanceName, fmi3String instantiationToken,
                                          fmi3String resourcePath, fmi3Boolean visible,
                                          fmi3Boolean loggingOn,
                                          fmi3InstanceEnvironment instanceEnvironment,
                                          fmi3LogMessageCallback logMessage)
{
    (void)instanceName, (void)instantiationToken, (void)resourcePath, (void)visible,
        (void)loggingOn;
    return refuse_to_begin(instanceEnvironment, logMessage, NO_EXCHANGE);
}

fmi3Instance fmi3InstantiateScheduledExecution(
    fmi3String instanceName, fmi3String instantiationToken, fmi3String resourcePath,
    fmi3Boolean visible, fmi3Boolean loggingOn, fmi3InstanceEnvironment instanceEnvironment,
    fmi3LogMessageCallback logMessage, fmi3ClockUpdateCallback clockUpdate,
    fmi3LockPreemptionCallback lockPreemption, fmi3UnlockPreemptionCallback unlockPreemption)
{
    (void)instanceName, (void)instantiationToken, (void)resourcePath, (void)visible,
        (void)loggingOn, (void)clockUpdate, (void)lockPreemption, (void)unlockPreemption;
    return refuse_to_begin(instanceEnvironment, logMessage, NO_SCHEDULE);
}

/* ---- what needs a capability that the description does not promise ---- */

fmi3Status fmi3GetNumberOfVariableDependencies(fmi3Instance instance,
                                               fmi3ValueReference valueReference,
                                               size_t *nDependencies)
{
    (void)valueReference, (void)nDependencies;
    return refuse(instance, "fmi3GetNumberOfVariableDependencies", NO_DEPENDENCIES);
}

fmi3Status fmi3GetVariableDependencies(fmi3Instance instance, fmi3ValueReference dependent,
                                       size_t elementIndicesOfDependent[],
                                       fmi3ValueReference independents[],
                                       size_t elementIndicesOfIndependents[],
                                       fmi3DependencyKind dependencyKinds[], size_t nDependencies)
{
    (void)dependent, (void)elementIndicesOfDependent, (void)independents,
        (void)elementIndicesOfIndependents, (void)dependencyKinds, (void)nDependencies;
    return refuse(instance, "fmi3GetVariableDependencies", NO_DEPENDENCIES);
}

fmi3Status fmi3GetDirectionalDerivative(fmi3Instance instance, const fmi3ValueReference unknowns[],
                                        size_t nUnknowns, const fmi3ValueReference knowns[],
                                        size_t nKnowns, const fmi3Float64 seed[], size_t nSeed,
                                        fmi3Float64 sensitivity[], size_t nSensitivity)
{
    (void)unknowns, (void)nUnknowns, (void)knowns, (void)nKnowns, (void)seed, (void)nSeed,
        (void)sensitivity, (void)nSensitivity;
    return refuse(instance, "fmi3GetDirectionalDerivative", NO_DERIVATIVES);
}

fmi3Status fmi3GetAdjointDerivative(fmi3Instance instance, const fmi3ValueReference unknowns[],
                                    size_t nUnknowns, const fmi3ValueReference knowns[],
                                    size_t nKnowns, const fmi3Float64 seed[], size_t nSeed,
                                    fmi3Float64 sensitivity[], size_t nSensitivity)
{
    (void)unknowns, (void)nUnknowns, (void)knowns, (void)nKnowns, (void)seed, (void)nSeed,
        (void)sensitivity, (void)nSensitivity;
    return refuse(instance, "fmi3GetAdjointDerivative", NO_DERIVATIVES);
}

fmi3Status fmi3GetOutputDerivatives(fmi3Instance instance,
                                    const fmi3ValueReference valueReferences[],
                                    size_t nValueReferences, const fmi3Int32 orders[],
                                    fmi3Float64 values[], size_t nValues)
{
    (void)valueReferences, (void)nValueReferences, (void)orders, (void)values, (void)nValues;
    return refuse(instance, "fmi3GetOutputDerivatives", NO_DERIVATIVES);
}

fmi3Status fmi3EnterConfigurationMode(fmi3Instance instance)
{
    return refuse(instance, "fmi3EnterConfigurationMode", NO_STRUCTURE);
}

fmi3Status fmi3ExitConfigurationMode(fmi3Instance instance)
{
    return refuse(instance, "fmi3ExitConfigurationMode", NO_STRUCTURE);
}

fmi3Status fmi3EvaluateDiscreteStates(fmi3Instance instance)
{
    return refuse(instance, "fmi3EvaluateDiscreteStates", NO_EVALUATION);
}

/* ---- clocks ---- */

fmi3Status fmi3GetIntervalDecimal(fmi3Instance instance, const fmi3ValueReference valueReferences[],
                                  size_t nValueReferences, fmi3Float64 intervals[],
                                  fmi3IntervalQualifier qualifiers[])
{
    (void)valueReferences, (void)nValueReferences, (void)intervals, (void)qualifiers;
    return refuse(instance, "fmi3GetIntervalDecimal", NO_CLOCKS);
}

fmi3Status fmi3GetIntervalFraction(fmi3Instance instance,
                                   const fmi3ValueReference valueReferences[],
                                   size_t nValueReferences, fmi3UInt64 counters[],
                                   fmi3UInt64 resolutions[], fmi3IntervalQualifier qualifiers[])
{
    (void)valueReferences, (void)nValueReferences, (void)counters, (void)resolutions,
        (void)qualifiers;
    return refuse(instance, "fmi3GetIntervalFraction", NO_CLOCKS);
}

fmi3Status fmi3GetShiftDecimal(fmi3Instance instance, const fmi3ValueReference valueReferences[],
                               size_t nValueReferences, fmi3Float64 shifts[])
{
    (void)valueReferences, (void)nValueReferences, (void)shifts;
    return refuse(instance, "fmi3GetShiftDecimal", NO_CLOCKS);
}

fmi3Status fmi3GetShiftFraction(fmi3Instance instance, const fmi3ValueReference valueReferences[],
                                size_t nValueReferences, fmi3UInt64 counters[],
                                fmi3UInt64 resolutions[])
{
    (void)valueReferences, (void)nValueReferences, (void)counters, (void)resolutions;
    return refuse(instance, "fmi3GetShiftFraction", NO_CLOCKS);
}

fmi3Status fmi3SetIntervalDecimal(fmi3Instance instance, const fmi3ValueReference valueReferences[],
                                  size_t nValueReferences, const fmi3Float64 intervals[])
{
    (void)valueReferences, (void)nValueReferences, (void)intervals;
    return refuse(instance, "fmi3SetIntervalDecimal", NO_CLOCKS);
}

fmi3Status fmi3SetIntervalFraction(fmi3Instance instance,
                                   const fmi3ValueReference valueReferences[],
                                   size_t nValueReferences, const fmi3UInt64 counters[],
                                   const fmi3UInt64 resolutions[])
{
    (void)valueReferences, (void)nValueReferences, (void)counters, (void)resolutions;
    return refuse(instance, "fmi3SetIntervalFraction", NO_CLOCKS);
}

fmi3Status fmi3SetShiftDecimal(fmi3Instance instance, const fmi3ValueReference valueReferences[],
                               size_t nValueReferences, const fmi3Float64 shifts[])
{
    (void)valueReferences, (void)nValueReferences, (void)shifts;
    return refuse(instance, "fmi3SetShiftDecimal", NO_CLOCKS);
}

fmi3Status fmi3SetShiftFraction(fmi3Instance instance, const fmi3ValueReference valueReferences[],
                                size_t nValueReferences, const fmi3UInt64 counters[],
                                const fmi3UInt64 resolutions[])
{
    (void)valueReferences, (void)nValueReferences, (void)counters, (void)resolutions;
    return refuse(instance, "fmi3SetShiftFraction", NO_CLOCKS);
}

/* ---- Model Exchange ---- */

fmi3Status fmi3EnterContinuousTimeMode(fmi3Instance instance)
{
    return refuse(instance, "fmi3EnterContinuousTimeMode", NO_EXCHANGE);
}

fmi3Status fmi3CompletedIntegratorStep(fmi3Instance instance,
                                       fmi3Boolean noSetFMUStatePriorToCurrentPoint,
                                       fmi3Boolean *enterEventMode,
                                       fmi3Boolean *terminateSimulation)
{
    (void)noSetFMUStatePriorToCurrentPoint, (void)enterEventMode, (void)terminateSimulation;
    return refuse(instance, "fmi3CompletedIntegratorStep", NO_EXCHANGE);
}

fmi3Status fmi3SetTime(fmi3Instance instance, fmi3Float64 time)
{
    (void)time;
    return refuse(instance, "fmi3SetTime", NO_EXCHANGE);
}

fmi3Status fmi3SetContinuousStates(fmi3Instance instance, const fmi3Float64 continuousStates[],
                                   size_t nContinuousStates)
{
    (void)continuousStates, (void)nContinuousStates;
    return refuse(instance, "fmi3SetContinuousStates", NO_EXCHANGE);
}

fmi3Status fmi3GetContinuousStateDerivatives(fmi3Instance instance, fmi3Float64 derivatives[],
                                             size_t nContinuousStates)
{
    (void)derivatives, (void)nContinuousStates;
    return refuse(instance, "fmi3GetContinuousStateDerivatives", NO_EXCHANGE);
}

fmi3Status fmi3GetEventIndicators(fmi3Instance instance, fmi3Float64 eventIndicators[],
                                  size_t nEventIndicators)
{
    (void)eventIndicators, (void)nEventIndicators;
    return refuse(instance, "fmi3GetEventIndicators", NO_EXCHANGE);
}

fmi3Status fmi3GetContinuousStates(fmi3Instance instance, fmi3Float64 continuousStates[],
                                   size_t nContinuousStates)
{
    (void)continuousStates, (void)nContinuousStates;
    return refuse(instance, "fmi3GetContinuousStates", NO_EXCHANGE);
}

fmi3Status fmi3GetNominalsOfContinuousStates(fmi3Instance instance, fmi3Float64 nominals[],
                                             size_t nContinuousStates)
{
    (void)nominals, (void)nContinuousStates;
    return refuse(instance, "fmi3GetNominalsOfContinuousStates", NO_EXCHANGE);
}

fmi3Status fmi3GetNumberOfEventIndicators(fmi3Instance instance, size_t *nEventIndicators)
{
    (void)nEventIndicators;
    return refuse(instance, "fmi3GetNumberOfEventIndicators", NO_EXCHANGE);
}

fmi3Status fmi3GetNumberOfContinuousStates(fmi3Instance instance, size_t *nContinuousStates)
{
    (void)nContinuousStates;
    return refuse(instance, "fmi3GetNumberOfContinuousStates", NO_EXCHANGE);
}

/* ---- Scheduled Execution ---- */

fmi3Status fmi3ActivateModelPartition(fmi3Instance instance, fmi3ValueReference clockReference,
                                      fmi3Float64 activationTime)
{
    (void)clockReference, (void)activationTime;
    return refuse(instance, "fmi3ActivateModelPartition", NO_SCHEDULE);
}
