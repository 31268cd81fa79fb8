/*
 * workers.h - several threads that take numbered jobs in turn.
 *
 * A job writes to places of its own, so that it does not matter which thread takes which.
 */
#ifndef SLEW_STUDY_WORKERS_H
#define SLEW_STUDY_WORKERS_H

#include "slewtime/study.h"

typedef struct slew_workers {
    const slew_sampling *sampling; /* its threads and its progress count */
    int64_t jobs;                  /* numbered from 0 */
    void *(*arrive)(
        void *context); /* a thread's own room, freed by free(); NULL: memory is short */
    int64_t (*job)(void *context, void *room,
                   int64_t index); /* returns how much of the progress it is */
    void *context;
} slew_workers;

/* Returns once every job is done (SLEW_OK), a progress call has stopped it (SLEW_ERROR_STOPPED), or
 * a thread found no room (SLEW_ERROR_MEMORY). */
slew_status slew_workers_run(const slew_workers *workers);

#endif
