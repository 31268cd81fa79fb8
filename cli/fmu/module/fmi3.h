/*
 * fmi3.h - the types and functions of the Functional Mock-up Interface 3.0, as the standard
 * declares them (Modelica Association, Functional Mock-up Interface Specification, version 3.0,
 * 2022; the sections are named below, all from memory). An FMU that is a shared library has its
 * functions without a prefix (2.2.3, 2.5.1.3).
 */
#ifndef SLEW_CLI_FMU_FMI3_H
#define SLEW_CLI_FMU_FMI3_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#ifdef __cplusplus
extern "C" {
#endif

/* ---- 2.2.1, 2.2.2: types ---- */

typedef void *fmi3Instance;
typedef void *fmi3InstanceEnvironment;
typedef void *fmi3FMUState;
typedef uint32_t fmi3ValueReference;

typedef float fmi3Float32;
typedef double fmi3Float64;
typedef int8_t fmi3Int8;
typedef uint8_t fmi3UInt8;
typedef int16_t fmi3Int16;
typedef uint16_t fmi3UInt16;
typedef int32_t fmi3Int32;
typedef uint32_t fmi3UInt32;
typedef int64_t fmi3Int64;
typedef uint64_t fmi3UInt64;
typedef bool fmi3Boolean;
typedef char fmi3Char;
typedef const fmi3Char *fmi3String;
typedef uint8_t fmi3Byte;
typedef const fmi3Byte *fmi3Binary;
typedef bool fmi3Clock;

#define fmi3True          true
#define fmi3False         false
#define fmi3ClockActive   true
#define fmi3ClockInactive false

/* ---- 2.2.4: status ---- */

typedef enum { fmi3OK, fmi3Warning, fmi3Discard, fmi3Error, fmi3Fatal } fmi3Status;

typedef enum {
    fmi3Independent,
    fmi3Constant,
    fmi3Fixed,
    fmi3Tunable,
    fmi3Discrete,
    fmi3Dependent
} fmi3DependencyKind;

typedef enum {
    fmi3IntervalNotYetKnown,
    fmi3IntervalUnchanged,
    fmi3IntervalChanged
} fmi3IntervalQualifier;

/* ---- 2.3.1, 4.2.2, 5.2.2: callbacks ---- */

typedef void (*fmi3LogMessageCallback)(fmi3InstanceEnvironment environment, fmi3Status status,
                                       fmi3String category, fmi3String message);
typedef void (*fmi3ClockUpdateCallback)(fmi3InstanceEnvironment environment);
typedef void (*fmi3IntermediateUpdateCallback)(
    fmi3InstanceEnvironment environment, fmi3Float64 intermediateUpdateTime,
    fmi3Boolean intermediateVariableSetRequested, fmi3Boolean intermediateVariableGetAllowed,
    fmi3Boolean intermediateStepFinished, fmi3Boolean canReturnEarly,
    fmi3Boolean *earlyReturnRequested, fmi3Float64 *earlyReturnTime);
typedef void (*fmi3LockPreemptionCallback)(void);
typedef void (*fmi3UnlockPreemptionCallback)(void);

/* what an FMU shows, and nothing else */
#define FMI3_EXPORT __attribute__((visibility("default")))

/* ---- 2.2.5, 2.3.1, 2.3.2: version, logging, life of an instance ---- */

FMI3_EXPORT const char *fmi3GetVersion(void);
FMI3_EXPORT fmi3Status fmi3SetDebugLogging(fmi3Instance instance, fmi3Boolean loggingOn,
                                           size_t nCategories, const fmi3String categories[]);
FMI3_EXPORT fmi3Instance fmi3InstantiateModelExchange(fmi3String instanceName,
                                                      fmi3String instantiationToken,
                                                      fmi3String resourcePath, fmi3Boolean visible,
                                                      fmi3Boolean loggingOn,
                                                      fmi3InstanceEnvironment instanceEnvironment,
                                                      fmi3LogMessageCallback logMessage);
FMI3_EXPORT fmi3Instance fmi3InstantiateCoSimulation(
    fmi3String instanceName, fmi3String instantiationToken, fmi3String resourcePath,
    fmi3Boolean visible, fmi3Boolean loggingOn, fmi3Boolean eventModeUsed,
    fmi3Boolean earlyReturnAllowed, const fmi3ValueReference requiredIntermediateVariables[],
    size_t nRequiredIntermediateVariables, fmi3InstanceEnvironment instanceEnvironment,
    fmi3LogMessageCallback logMessage, fmi3IntermediateUpdateCallback intermediateUpdate);
FMI3_EXPORT fmi3Instance fmi3InstantiateScheduledExecution(
    fmi3String instanceName, fmi3String instantiationToken, fmi3String resourcePath,
    fmi3Boolean visible, fmi3Boolean loggingOn, fmi3InstanceEnvironment instanceEnvironment,
    fmi3LogMessageCallback logMessage, fmi3ClockUpdateCallback clockUpdate,
    fmi3LockPreemptionCallback lockPreemption, fmi3UnlockPreemptionCallback unlockPreemption);
FMI3_EXPORT void fmi3FreeInstance(fmi3Instance instance);
FMI3_EXPORT fmi3Status fmi3EnterInitializationMode(fmi3Instance instance,
                                                   fmi3Boolean toleranceDefined,
                                                   fmi3Float64 tolerance, fmi3Float64 startTime,
                                                   fmi3Boolean stopTimeDefined,
                                                   fmi3Float64 stopTime);
FMI3_EXPORT fmi3Status fmi3ExitInitializationMode(fmi3Instance instance);
FMI3_EXPORT fmi3Status fmi3EnterEventMode(fmi3Instance instance);
FMI3_EXPORT fmi3Status fmi3Terminate(fmi3Instance instance);
FMI3_EXPORT fmi3Status fmi3Reset(fmi3Instance instance);

/* ---- 2.2.6.2: values ---- */

#define FMI3_GET_AND_SET(Type)                                                                     \
    FMI3_EXPORT fmi3Status fmi3Get##Type(                                                          \
        fmi3Instance instance, const fmi3ValueReference valueReferences[],                         \
        size_t nValueReferences, fmi3##Type values[], size_t nValues);                             \
    FMI3_EXPORT fmi3Status fmi3Set##Type(                                                          \
        fmi3Instance instance, const fmi3ValueReference valueReferences[],                         \
        size_t nValueReferences, const fmi3##Type values[], size_t nValues);
FMI3_GET_AND_SET(Float32)
FMI3_GET_AND_SET(Float64)
FMI3_GET_AND_SET(Int8)
FMI3_GET_AND_SET(UInt8)
FMI3_GET_AND_SET(Int16)
FMI3_GET_AND_SET(UInt16)
FMI3_GET_AND_SET(Int32)
FMI3_GET_AND_SET(UInt32)
FMI3_GET_AND_SET(Int64)
FMI3_GET_AND_SET(UInt64)
FMI3_GET_AND_SET(Boolean)
FMI3_GET_AND_SET(String)
#undef FMI3_GET_AND_SET

FMI3_EXPORT fmi3Status fmi3GetBinary(fmi3Instance instance,
                                     const fmi3ValueReference valueReferences[],
                                     size_t nValueReferences, size_t valueSizes[],
                                     fmi3Binary values[], size_t nValues);
FMI3_EXPORT fmi3Status fmi3SetBinary(fmi3Instance instance,
                                     const fmi3ValueReference valueReferences[],
                                     size_t nValueReferences, const size_t valueSizes[],
                                     const fmi3Binary values[], size_t nValues);
FMI3_EXPORT fmi3Status fmi3GetClock(fmi3Instance instance,
                                    const fmi3ValueReference valueReferences[],
                                    size_t nValueReferences, fmi3Clock values[]);
FMI3_EXPORT fmi3Status fmi3SetClock(fmi3Instance instance,
                                    const fmi3ValueReference valueReferences[],
                                    size_t nValueReferences, const fmi3Clock values[]);

/* ---- 2.2.9, 2.2.10, 2.2.11: dependencies, states, derivatives ---- */

FMI3_EXPORT fmi3Status fmi3GetNumberOfVariableDependencies(fmi3Instance instance,
                                                           fmi3ValueReference valueReference,
                                                           size_t *nDependencies);
FMI3_EXPORT fmi3Status fmi3GetVariableDependencies(
    fmi3Instance instance, fmi3ValueReference dependent, size_t elementIndicesOfDependent[],
    fmi3ValueReference independents[], size_t elementIndicesOfIndependents[],
    fmi3DependencyKind dependencyKinds[], size_t nDependencies);
FMI3_EXPORT fmi3Status fmi3GetFMUState(fmi3Instance instance, fmi3FMUState *FMUState);
FMI3_EXPORT fmi3Status fmi3SetFMUState(fmi3Instance instance, fmi3FMUState FMUState);
FMI3_EXPORT fmi3Status fmi3FreeFMUState(fmi3Instance instance, fmi3FMUState *FMUState);
FMI3_EXPORT fmi3Status fmi3SerializedFMUStateSize(fmi3Instance instance, fmi3FMUState FMUState,
                                                  size_t *size);
FMI3_EXPORT fmi3Status fmi3SerializeFMUState(fmi3Instance instance, fmi3FMUState FMUState,
                                             fmi3Byte serializedState[], size_t size);
FMI3_EXPORT fmi3Status fmi3DeserializeFMUState(fmi3Instance instance,
                                               const fmi3Byte serializedState[], size_t size,
                                               fmi3FMUState *FMUState);
FMI3_EXPORT fmi3Status fmi3GetDirectionalDerivative(
    fmi3Instance instance, const fmi3ValueReference unknowns[], size_t nUnknowns,
    const fmi3ValueReference knowns[], size_t nKnowns, const fmi3Float64 seed[], size_t nSeed,
    fmi3Float64 sensitivity[], size_t nSensitivity);
FMI3_EXPORT fmi3Status fmi3GetAdjointDerivative(fmi3Instance instance,
                                                const fmi3ValueReference unknowns[],
                                                size_t nUnknowns, const fmi3ValueReference knowns[],
                                                size_t nKnowns, const fmi3Float64 seed[],
                                                size_t nSeed, fmi3Float64 sensitivity[],
                                                size_t nSensitivity);

/* ---- 2.2.8, 2.3.3, 2.3.5: configuration, clocks, discrete states ---- */

FMI3_EXPORT fmi3Status fmi3EnterConfigurationMode(fmi3Instance instance);
FMI3_EXPORT fmi3Status fmi3ExitConfigurationMode(fmi3Instance instance);
FMI3_EXPORT fmi3Status fmi3GetIntervalDecimal(fmi3Instance instance,
                                              const fmi3ValueReference valueReferences[],
                                              size_t nValueReferences, fmi3Float64 intervals[],
                                              fmi3IntervalQualifier qualifiers[]);
FMI3_EXPORT fmi3Status fmi3GetIntervalFraction(fmi3Instance instance,
                                               const fmi3ValueReference valueReferences[],
                                               size_t nValueReferences, fmi3UInt64 counters[],
                                               fmi3UInt64 resolutions[],
                                               fmi3IntervalQualifier qualifiers[]);
FMI3_EXPORT fmi3Status fmi3GetShiftDecimal(fmi3Instance instance,
                                           const fmi3ValueReference valueReferences[],
                                           size_t nValueReferences, fmi3Float64 shifts[]);
FMI3_EXPORT fmi3Status fmi3GetShiftFraction(fmi3Instance instance,
                                            const fmi3ValueReference valueReferences[],
                                            size_t nValueReferences, fmi3UInt64 counters[],
                                            fmi3UInt64 resolutions[]);
FMI3_EXPORT fmi3Status fmi3SetIntervalDecimal(fmi3Instance instance,
                                              const fmi3ValueReference valueReferences[],
                                              size_t nValueReferences,
                                              const fmi3Float64 intervals[]);
FMI3_EXPORT fmi3Status fmi3SetIntervalFraction(fmi3Instance instance,
                                               const fmi3ValueReference valueReferences[],
                                               size_t nValueReferences, const fmi3UInt64 counters[],
                                               const fmi3UInt64 resolutions[]);
FMI3_EXPORT fmi3Status fmi3SetShiftDecimal(fmi3Instance instance,
                                           const fmi3ValueReference valueReferences[],
                                           size_t nValueReferences, const fmi3Float64 shifts[]);
FMI3_EXPORT fmi3Status fmi3SetShiftFraction(fmi3Instance instance,
                                            const fmi3ValueReference valueReferences[],
                                            size_t nValueReferences, const fmi3UInt64 counters[],
                                            const fmi3UInt64 resolutions[]);
FMI3_EXPORT fmi3Status fmi3EvaluateDiscreteStates(fmi3Instance instance);
FMI3_EXPORT fmi3Status fmi3UpdateDiscreteStates(
    fmi3Instance instance, fmi3Boolean *discreteStatesNeedUpdate, fmi3Boolean *terminateSimulation,
    fmi3Boolean *nominalsOfContinuousStatesChanged, fmi3Boolean *valuesOfContinuousStatesChanged,
    fmi3Boolean *nextEventTimeDefined, fmi3Float64 *nextEventTime);

/* ---- 3.2: Model Exchange ---- */

FMI3_EXPORT fmi3Status fmi3EnterContinuousTimeMode(fmi3Instance instance);
FMI3_EXPORT fmi3Status fmi3CompletedIntegratorStep(fmi3Instance instance,
                                                   fmi3Boolean noSetFMUStatePriorToCurrentPoint,
                                                   fmi3Boolean *enterEventMode,
                                                   fmi3Boolean *terminateSimulation);
FMI3_EXPORT fmi3Status fmi3SetTime(fmi3Instance instance, fmi3Float64 time);
FMI3_EXPORT fmi3Status fmi3SetContinuousStates(fmi3Instance instance,
                                               const fmi3Float64 continuousStates[],
                                               size_t nContinuousStates);
FMI3_EXPORT fmi3Status fmi3GetContinuousStateDerivatives(fmi3Instance instance,
                                                         fmi3Float64 derivatives[],
                                                         size_t nContinuousStates);
FMI3_EXPORT fmi3Status fmi3GetEventIndicators(fmi3Instance instance, fmi3Float64 eventIndicators[],
                                              size_t nEventIndicators);
FMI3_EXPORT fmi3Status fmi3GetContinuousStates(fmi3Instance instance,
                                               fmi3Float64 continuousStates[],
                                               size_t nContinuousStates);
FMI3_EXPORT fmi3Status fmi3GetNominalsOfContinuousStates(fmi3Instance instance,
                                                         fmi3Float64 nominals[],
                                                         size_t nContinuousStates);
FMI3_EXPORT fmi3Status fmi3GetNumberOfEventIndicators(fmi3Instance instance,
                                                      size_t *nEventIndicators);
FMI3_EXPORT fmi3Status fmi3GetNumberOfContinuousStates(fmi3Instance instance,
                                                       size_t *nContinuousStates);

/* ---- 4.2: Co-Simulation ---- */

FMI3_EXPORT fmi3Status fmi3EnterStepMode(fmi3Instance instance);
FMI3_EXPORT fmi3Status fmi3GetOutputDerivatives(fmi3Instance instance,
                                                const fmi3ValueReference valueReferences[],
                                                size_t nValueReferences, const fmi3Int32 orders[],
                                                fmi3Float64 values[], size_t nValues);
FMI3_EXPORT fmi3Status fmi3DoStep(fmi3Instance instance, fmi3Float64 currentCommunicationPoint,
                                  fmi3Float64 communicationStepSize,
                                  fmi3Boolean noSetFMUStatePriorToCurrentPoint,
                                  fmi3Boolean *eventHandlingNeeded,
                                  fmi3Boolean *terminateSimulation, fmi3Boolean *earlyReturn,
                                  fmi3Float64 *lastSuccessfulTime);

/* ---- 5.2: Scheduled Execution ---- */

FMI3_EXPORT fmi3Status fmi3ActivateModelPartition(fmi3Instance instance,
                                                  fmi3ValueReference clockReference,
                                                  fmi3Float64 activationTime);

#ifdef __cplusplus
}
#endif

#endif
