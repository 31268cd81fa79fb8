/* shim.h - what the files of the shim share. */
#ifndef SLEW_TESTS_SHIM_H
#define SLEW_TESTS_SHIM_H

#include <stdbool.h>

typedef struct shim_state {
    long fails_at; /* 0: none */
    bool lasts, held;
    int error;          /* of writes; 0: it is allocations that fail */
    bool serves, forks; /* tries in copies of the process; makes one just now */
    long next, stride;  /* which is tried next, and the distance to the one after it */
    int alike;          /* of those with the same callers so many are tried, and each so-many-th */
} shim_state;

extern shim_state slew_shim;

/* One more allocation or write: does it fail? */
bool slew_shim_fails(void);

/* From here on writes, of all files but stderr, ask slew_shim_fails if the process `counts` them.
 */
void slew_shim_catch_writes(bool counts);

/* a write that is not counted */
void slew_shim_write(int file, const void *bytes, unsigned long length);

/* ---- trying in copies: what the process and the test that runs it tell each other ---- */

enum { SHIM_HEARS = 200, SHIM_TELLS = 201 }; /* files, both pipes */

typedef struct shim_message {
    enum { SHIM_BEGINS, SHIM_ENDED, SHIM_CANNOT } what; /* each but CANNOT awaits a byte */
    bool lasts;
    int status; /* ENDED: as of waitpid */
    long number;
} shim_message;

/* Tries the one of that number: in a copy of the process it fails, in another all after it do. A
 * copy returns with fails_at set. */
void slew_shim_try(long number);

#endif
