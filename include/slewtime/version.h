/*
 * version.h - the version of the headers, and whether the library that is linked goes with them.
 *
 * Programs allocate the library's structs themselves, so a program and a library of different
 * versions must not meet. Within 0.MINOR structs, values of enums and functions stay as they are;
 * lib/CHANGES.md has the promise in full, and what has changed.
 */
#ifndef SLEWTIME_VERSION_H
#define SLEWTIME_VERSION_H

#include <stddef.h>

#include "slewtime/api.h"
#include "slewtime/machine.h"
#include "slewtime/run.h"
#include "slewtime/scenario.h"
#include "slewtime/status.h"

#ifdef __cplusplus
extern "C" {
#endif

#define SLEW_VERSION_MAJOR 0
#define SLEW_VERSION_MINOR 1
#define SLEW_VERSION_PATCH 0

/* As one number that grows with every version: 1002003 for 1.2.3. */
#define SLEW_VERSION_NUMBER                                                                        \
    (SLEW_VERSION_MAJOR * 1000000 + SLEW_VERSION_MINOR * 1000 + SLEW_VERSION_PATCH)

#define SLEW_VERSION_TEXT(major, minor, patch) #major "." #minor "." #patch
#define SLEW_VERSION_JOIN(major, minor, patch) SLEW_VERSION_TEXT(major, minor, patch)

/* "0.1.0" */
#define SLEW_VERSION SLEW_VERSION_JOIN(SLEW_VERSION_MAJOR, SLEW_VERSION_MINOR, SLEW_VERSION_PATCH)

/* The version of the library that is linked, SLEW_VERSION of its headers. */
SLEW_API const char *slew_version(void);

/* The same as SLEW_VERSION_NUMBER. */
SLEW_API int slew_version_number(void);

/* What a program was compiled with: its version, and the sizes of the structs that it allocates
 * [bytes]. */
typedef struct slew_layout {
    int version; /* SLEW_VERSION_NUMBER */
    size_t scenario, setup, prepared, result, machine, error;
} slew_layout;

/* The layout of these headers. */
#define SLEW_LAYOUT                                                                                \
    {                                                                                              \
        SLEW_VERSION_NUMBER, sizeof(slew_scenario), sizeof(slew_setup), sizeof(slew_prepared),     \
            sizeof(slew_result), sizeof(slew_machine), sizeof(slew_error)                          \
    }

/* SLEW_OK: a program compiled with this layout can use the library. SLEW_ERROR_BUILD: it was
 * compiled with another MAJOR.MINOR or other sizes; it is to stop. A program asks once, at its
 * start:
 *
 *     const slew_layout layout = SLEW_LAYOUT;
 *     if (slew_check_layout(&layout) != SLEW_OK)
 *         return 2;
 *
 * SLEW_ERROR_INPUT: layout is NULL. */
SLEW_API slew_status slew_check_layout(const slew_layout *layout);

#ifdef __cplusplus
}
#endif

#endif
