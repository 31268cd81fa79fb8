/* values.c - variables read and written: FMI 3.0, 2.2.6.2, and when that is allowed, 4.2.1. */
#include "instance.h"

/* ---- finding ---- */

static const char *const type_word[] = {"Float64", "Int32", "Boolean", "Enumeration"};

/* NULL, and said, if there is no such variable of that type */
static const fmu_variable *find(const fmu_instance *own, fmi3ValueReference reference,
                                fmu_type type)
{
    const fmu_variable *v = fmu_variable_find(&own->variables, reference);
    if (v == NULL)
        fmu_say(own, fmi3Error, "there is no variable %u", (unsigned)reference);
    else if (v->type != type)
        fmu_say(own, fmi3Error, "%s is a variable of type %s, not %s", v->name, type_word[v->type],
                type_word[type]);
    return v != NULL && v->type == type ? v : NULL;
}

/* ---- reading ---- */

static double input(const fmu_inputs *inputs, unsigned reference)
{
    switch (reference) {
    case FMU_STOW:
        return inputs->stow;
    case FMU_DEPLOY:
        return inputs->deploy;
    case FMU_CANCEL:
        return inputs->cancel;
    case FMU_JOG:
    case FMU_DRIVE_INPUT:
        return inputs->direction[SLEW_ROTATION];
    case FMU_JOG + 1:
    case FMU_DRIVE_INPUT + 1:
        return inputs->direction[SLEW_ELEVATION];
    default:
        return inputs->torque[reference - FMU_TORQUE];
    }
}

static fmi3Status get(fmu_instance *own, fmi3ValueReference reference, fmu_type type, double *value)
{
    const fmu_variable *v = find(own, reference, type);
    if (v == NULL)
        return fmi3Error;
    const fmu_values *now = &own->now.v;
    if (v->role == FMU_INDEPENDENT) {
        *value = now->time;
    } else if (v->key != FMU_NO_KEY) {
        *value = (v->layer == SLEW_LAYER_TEACH ? now->taught : now->key)[v->key];
    } else if (v->role == FMU_INPUT) {
        *value = input(&now->wanted, reference);
    } else {
        if (now->mode == FMU_INSTANTIATED)
            return fmu_say(own, fmi3Error, "%s is not known before Initialization Mode", v->name);
        fmi3Status status = fmu_see(own);
        if (status != fmi3OK)
            return status;
        *value = fmu_output(own, reference);
    }
    return fmi3OK;
}

/* ---- writing ---- */

static bool may_set(const fmu_instance *own, const fmu_variable *v)
{
    fmu_mode mode = own->now.v.mode;
    bool before = mode == FMU_INSTANTIATED || mode == FMU_INITIALIZATION;
    bool at_event = mode == FMU_EVENT_MODE || (mode == FMU_STEP_MODE && !own->event_mode_used);
    switch (v->role) {
    case FMU_FIXED:
        return before;
    case FMU_TUNABLE:
        return before || at_event;
    case FMU_INPUT: /* what is no Float64 is discrete */
        return before || at_event || (mode == FMU_STEP_MODE && v->type == FMU_FLOAT64);
    default:
        return false;
    }
}

static void put_input(fmu_inputs *inputs, unsigned reference, double value)
{
    switch (reference) {
    case FMU_STOW:
        inputs->stow = value != 0;
        break;
    case FMU_DEPLOY:
        inputs->deploy = value != 0;
        break;
    case FMU_CANCEL:
        inputs->cancel = value != 0;
        break;
    case FMU_JOG:
    case FMU_DRIVE_INPUT:
        inputs->direction[SLEW_ROTATION] = (int)value;
        break;
    case FMU_JOG + 1:
    case FMU_DRIVE_INPUT + 1:
        inputs->direction[SLEW_ELEVATION] = (int)value;
        break;
    default:
        inputs->torque[reference - FMU_TORQUE] = value;
    }
}

/* the range of a key is that of the table */
static bool is_allowed(fmu_instance *own, const fmu_variable *v, double value)
{
    if (v->key == FMU_NO_KEY)
        return isfinite(value) && value >= v->low && value <= v->high;
    return isfinite(value) &&
           slew_scenario_set_number(&own->scenario, v->layer, v->key, value) == SLEW_OK;
}

static fmi3Status set(fmu_instance *own, fmi3ValueReference reference, fmu_type type, double value)
{
    const fmu_variable *v = find(own, reference, type);
    if (v == NULL)
        return fmi3Error;
    if (!may_set(own, v))
        return fmu_say(own, fmi3Error, "%s can't be set now", v->name);
    if (!is_allowed(own, v, value))
        return fmu_say(own, fmi3Error, "%s: %g is out of range", v->name, value);
    if (v->key == FMU_NO_KEY)
        put_input(&own->now.v.wanted, reference, value);
    else
        (v->layer == SLEW_LAYER_TEACH ? own->now.v.taught : own->now.v.key)[v->key] = value;
    own->has_seen = false;
    return fmi3OK;
}

/* ---- the standard's functions ---- */

/* true: an array of scalars */
static bool are_there(const fmu_instance *own, const fmi3ValueReference references[], size_t count,
                      const void *values, size_t value_count)
{
    if (count == value_count && (count == 0 || (references != NULL && values != NULL)))
        return true;
    fmu_say(own, fmi3Error, "there must be one value for each reference");
    return false;
}

#define GET_AND_SET(Type, type)                                                                    \
    fmi3Status fmi3Get##Type(fmi3Instance instance, const fmi3ValueReference valueReferences[],    \
                             size_t nValueReferences, fmi3##Type values[], size_t nValues)         \
    {                                                                                              \
        fmu_instance *own = instance;                                                              \
        double value = 0;                                                                          \
        if (!fmu_may(own, FMU_ANY_MODE, "fmi3Get" #Type) ||                                        \
            !are_there(own, valueReferences, nValueReferences, values, nValues))                   \
            return fmi3Error;                                                                      \
        for (size_t i = 0; i < nValueReferences; i++) {                                            \
            fmi3Status status = get(own, valueReferences[i], type, &value);                        \
            if (status != fmi3OK)                                                                  \
                return status;                                                                     \
            values[i] = (fmi3##Type)value;                                                         \
        }                                                                                          \
        return fmi3OK;                                                                             \
    }                                                                                              \
                                                                                                   \
    fmi3Status fmi3Set##Type(fmi3Instance instance, const fmi3ValueReference valueReferences[],    \
                             size_t nValueReferences, const fmi3##Type values[], size_t nValues)   \
    {                                                                                              \
        fmu_instance *own = instance;                                                              \
        if (!fmu_may(own, FMU_ANY_MODE, "fmi3Set" #Type) ||                                        \
            !are_there(own, valueReferences, nValueReferences, values, nValues))                   \
            return fmi3Error;                                                                      \
        for (size_t i = 0; i < nValueReferences; i++) {                                            \
            fmi3Status status = set(own, valueReferences[i], type, (double)values[i]);             \
            if (status != fmi3OK)                                                                  \
                return status;                                                                     \
        }                                                                                          \
        return fmi3OK;                                                                             \
    }

GET_AND_SET(Float64, FMU_FLOAT64)
GET_AND_SET(Int32, FMU_INT32)
GET_AND_SET(Boolean, FMU_BOOLEAN)
GET_AND_SET(Int64, FMU_ENUMERATION) /* 2.2.6.2: enumerations are read and written as Int64 */

/* ---- types that no variable has ---- */

static fmi3Status none_of(fmi3Instance instance, size_t references, const char *type)
{
    const fmu_instance *own = instance;
    if (!fmu_may(own, FMU_ANY_MODE, type))
        return fmi3Error;
    return references == 0 ? fmi3OK
                           : fmu_say(own, fmi3Error, "there is no variable of type %s", type);
}

#define NONE_OF(Type)                                                                              \
    fmi3Status fmi3Get##Type(fmi3Instance instance, const fmi3ValueReference valueReferences[],    \
                             size_t nValueReferences, fmi3##Type values[], size_t nValues)         \
    {                                                                                              \
        (void)valueReferences, (void)values, (void)nValues;                                        \
        return none_of(instance, nValueReferences, #Type);                                         \
    }                                                                                              \
                                                                                                   \
    fmi3Status fmi3Set##Type(fmi3Instance instance, const fmi3ValueReference valueReferences[],    \
                             size_t nValueReferences, const fmi3##Type values[], size_t nValues)   \
    {                                                                                              \
        (void)valueReferences, (void)values, (void)nValues;                                        \
        return none_of(instance, nValueReferences, #Type);                                         \
    }

NONE_OF(Float32)
NONE_OF(Int8)
NONE_OF(UInt8)
NONE_OF(Int16)
NONE_OF(UInt16)
NONE_OF(UInt32)
NONE_OF(UInt64)
NONE_OF(String)

fmi3Status fmi3GetBinary(fmi3Instance instance, const fmi3ValueReference valueReferences[],
                         size_t nValueReferences, size_t valueSizes[], fmi3Binary values[],
                         size_t nValues)
{
    (void)valueReferences, (void)valueSizes, (void)values, (void)nValues;
    return none_of(instance, nValueReferences, "Binary");
}

fmi3Status fmi3SetBinary(fmi3Instance instance, const fmi3ValueReference valueReferences[],
                         size_t nValueReferences, const size_t valueSizes[],
                         const fmi3Binary values[], size_t nValues)
{
    (void)valueReferences, (void)valueSizes, (void)values, (void)nValues;
    return none_of(instance, nValueReferences, "Binary");
}

fmi3Status fmi3GetClock(fmi3Instance instance, const fmi3ValueReference valueReferences[],
                        size_t nValueReferences, fmi3Clock values[])
{
    (void)valueReferences, (void)values;
    return none_of(instance, nValueReferences, "Clock");
}

fmi3Status fmi3SetClock(fmi3Instance instance, const fmi3ValueReference valueReferences[],
                        size_t nValueReferences, const fmi3Clock values[])
{
    (void)valueReferences, (void)values;
    return none_of(instance, nValueReferences, "Clock");
}
