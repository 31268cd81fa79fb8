#!/bin/sh
# The module of FMUs shows the functions of FMI 3.0 and nothing else, and needs libm and libc alone.
# The list is that of the standard (version 3.0, 2022; from memory), not of the header.
set -eu
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
module=$SLEWTIME_BUILD/fmu.so
failed=0
echo "[==========] Running 2 test(s)."

{
    for type in Float32 Float64 Int8 UInt8 Int16 UInt16 Int32 UInt32 Int64 UInt64 Boolean String \
        Binary Clock; do
        echo "fmi3Get$type"
        echo "fmi3Set$type"
    done
    for what in IntervalDecimal IntervalFraction ShiftDecimal ShiftFraction; do
        echo "fmi3Get$what"
        echo "fmi3Set$what"
    done
    for mode in Initialization Configuration; do
        echo "fmi3Enter${mode}Mode"
        echo "fmi3Exit${mode}Mode"
    done
    for name in GetVersion SetDebugLogging InstantiateModelExchange InstantiateCoSimulation \
        InstantiateScheduledExecution FreeInstance EnterEventMode Terminate Reset \
        GetNumberOfVariableDependencies GetVariableDependencies GetFMUState SetFMUState \
        FreeFMUState SerializedFMUStateSize SerializeFMUState DeserializeFMUState \
        GetDirectionalDerivative GetAdjointDerivative EvaluateDiscreteStates \
        UpdateDiscreteStates EnterContinuousTimeMode CompletedIntegratorStep SetTime \
        SetContinuousStates GetContinuousStateDerivatives GetEventIndicators \
        GetContinuousStates GetNominalsOfContinuousStates GetNumberOfEventIndicators \
        GetNumberOfContinuousStates EnterStepMode GetOutputDerivatives DoStep \
        ActivateModelPartition; do
        echo "fmi3$name"
    done
} | LC_ALL=C sort >"$work/standard"
nm -D --defined-only "$module" | awk '{ print $NF }' | LC_ALL=C sort >"$work/shown"
if ! diff "$work/standard" "$work/shown"; then
    echo "[  FAILED  ] < of the standard, > shown"
    failed=$((failed + 1))
fi

# a sanitizer brings libraries of its own
others=$(ldd "$module" | awk '/=>/ { print $1 }' | grep -vE '^lib(m|c|asan|ubsan)\.so' || true)
if [ -z "${SLEWTIME_SANITIZE:-}" ] && [ -n "$others" ]; then
    echo "[  FAILED  ] needs $others"
    failed=$((failed + 1))
fi

echo "[==========] 2 test(s) run."
echo "[  PASSED  ] $((2 - failed)) test(s)."
[ $failed -eq 0 ]
