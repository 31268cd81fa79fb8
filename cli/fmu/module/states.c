/*
 * states.c - states kept, set and written as bytes: FMI 3.0, 2.2.10.
 *
 * The bytes are those of the machine as slew_machine_save writes them, which name the build, behind
 * the rest of the state with a head that names the FMU. They are for the same build on the same
 * kind of computer. The checksum is FNV-1a of 64 bits (Fowler, Noll and Vo), as in machine_bytes.c.
 */
#include "instance.h"

#include <stdlib.h>
#include <string.h>

typedef struct head {
    char token[FMU_TOKEN_MAX];
    uint64_t checksum; /* of the values behind it */
} head;

enum { VALUES_AT = sizeof(head), MACHINE_AT = sizeof(head) + sizeof(fmu_values) };
static const size_t LENGTH = MACHINE_AT + (size_t)SLEW_MACHINE_BYTES;

static uint64_t checksum(const unsigned char *byte)
{
    uint64_t sum = 0xcbf29ce484222325u;
    for (size_t i = 0; i < sizeof(fmu_values); i++)
        sum = (sum ^ byte[i]) * 0x100000001b3u;
    return sum;
}

/* ---- in memory ---- */

fmi3Status fmi3GetFMUState(fmi3Instance instance, fmi3FMUState *FMUState)
{
    const fmu_instance *own = instance;
    if (!fmu_may(own, FMU_ANY_MODE, "fmi3GetFMUState"))
        return fmi3Error;
    if (FMUState == NULL)
        return fmu_say(own, fmi3Error, "fmi3GetFMUState: an argument is NULL");
    if (*FMUState == NULL)
        *FMUState = malloc(sizeof own->now);
    if (*FMUState == NULL)
        return fmu_say(own, fmi3Error, "fmi3GetFMUState: memory is short");
    memcpy(*FMUState, &own->now, sizeof own->now);
    return fmi3OK;
}

fmi3Status fmi3SetFMUState(fmi3Instance instance, fmi3FMUState FMUState)
{
    fmu_instance *own = instance;
    if (!fmu_may(own, FMU_ANY_MODE, "fmi3SetFMUState"))
        return fmi3Error;
    if (FMUState == NULL)
        return fmu_say(own, fmi3Error, "fmi3SetFMUState: there is no state");
    memcpy(&own->now, FMUState, sizeof own->now);
    own->has_seen = false;
    return fmi3OK;
}

fmi3Status fmi3FreeFMUState(fmi3Instance instance, fmi3FMUState *FMUState)
{
    if (!fmu_may(instance, FMU_ANY_MODE, "fmi3FreeFMUState"))
        return fmi3Error;
    if (FMUState == NULL)
        return fmi3OK;
    free(*FMUState);
    *FMUState = NULL;
    return fmi3OK;
}

/* ---- as bytes ---- */

fmi3Status fmi3SerializedFMUStateSize(fmi3Instance instance, fmi3FMUState FMUState, size_t *size)
{
    const fmu_instance *own = instance;
    if (!fmu_may(own, FMU_ANY_MODE, "fmi3SerializedFMUStateSize"))
        return fmi3Error;
    if (FMUState == NULL || size == NULL)
        return fmu_say(own, fmi3Error, "fmi3SerializedFMUStateSize: an argument is NULL");
    *size = LENGTH;
    return fmi3OK;
}

fmi3Status fmi3SerializeFMUState(fmi3Instance instance, fmi3FMUState FMUState,
                                 fmi3Byte serializedState[], size_t size)
{
    const fmu_instance *own = instance;
    const fmu_state *state = FMUState;
    head h = {.token = ""};
    if (!fmu_may(own, FMU_ANY_MODE, "fmi3SerializeFMUState"))
        return fmi3Error;
    if (state == NULL || serializedState == NULL || size < LENGTH)
        return fmu_say(own, fmi3Error, "fmi3SerializeFMUState: no state, or less than %zu bytes",
                       LENGTH);
    memcpy(h.token, own->token, sizeof h.token);
    memcpy(serializedState + VALUES_AT, &state->v, sizeof state->v);
    h.checksum = checksum(serializedState + VALUES_AT);
    memcpy(serializedState, &h, sizeof h);
    slew_machine_save(&state->machine, serializedState + MACHINE_AT);
    return fmi3OK;
}

/* false, and said why: not one of this FMU, or not as it was written */
static bool read_state(const fmu_instance *own, const fmi3Byte bytes[], size_t size,
                       fmu_state *state)
{
    head h;
    if (size == LENGTH)
        memcpy(&h, bytes, sizeof h);
    if (size != LENGTH || memcmp(h.token, own->token, sizeof h.token) != 0) {
        fmu_say(own, fmi3Error, "fmi3DeserializeFMUState: it is no state of this FMU");
        return false;
    }
    slew_status status =
        slew_machine_restore(bytes + MACHINE_AT, SLEW_MACHINE_BYTES, &state->machine);
    if (status == SLEW_OK && h.checksum == checksum(bytes + VALUES_AT)) {
        memcpy(&state->v, bytes + VALUES_AT, sizeof state->v);
        return true;
    }
    fmu_say(own, fmi3Error, "fmi3DeserializeFMUState: the state is %s",
            status == SLEW_ERROR_BUILD ? "of another build" : "damaged");
    return false;
}

fmi3Status fmi3DeserializeFMUState(fmi3Instance instance, const fmi3Byte serializedState[],
                                   size_t size, fmi3FMUState *FMUState)
{
    const fmu_instance *own = instance;
    if (!fmu_may(own, FMU_ANY_MODE, "fmi3DeserializeFMUState"))
        return fmi3Error;
    if (serializedState == NULL || FMUState == NULL)
        return fmu_say(own, fmi3Error, "fmi3DeserializeFMUState: an argument is NULL");
    fmu_state *state = malloc(sizeof *state);
    if (state == NULL)
        return fmu_say(own, fmi3Error, "fmi3DeserializeFMUState: memory is short");
    if (!read_state(own, serializedState, size, state)) {
        free(state);
        return fmi3Error;
    }
    free(*FMUState);
    *FMUState = state;
    return fmi3OK;
}
