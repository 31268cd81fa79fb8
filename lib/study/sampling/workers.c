/* workers.c - see workers.h. */
#include "study/sampling/workers.h"

#include <pthread.h>
#include <stdatomic.h>
#include <stdlib.h>
#include <unistd.h>

enum { THREADS_MAX = 256 };

typedef struct work {
    const slew_workers *workers;
    _Atomic int64_t next, done;
    atomic_bool stopped, short_of_memory;
} work;

typedef struct worker {
    work *w;
    pthread_t thread;
    bool tells; /* of progress */
} worker;

static void take_jobs(const worker *me, void *room)
{
    work *w = me->w;
    const slew_workers *workers = w->workers;
    const slew_sampling *how = workers->sampling;
    while (!atomic_load(&w->stopped)) {
        int64_t index = atomic_fetch_add(&w->next, 1);
        if (index >= workers->jobs)
            return;
        int64_t share = workers->job(workers->context, room, index);
        int64_t done = atomic_fetch_add(&w->done, share) + share;
        if (me->tells && how->progress != NULL && !how->progress(how->context, done))
            atomic_store(&w->stopped, true);
    }
}

static void *work_in_thread(void *argument)
{
    const worker *me = argument;
    void *room = me->w->workers->arrive(me->w->workers->context);
    if (room != NULL)
        take_jobs(me, room);
    else
        atomic_store(&me->w->short_of_memory, true);
    free(room);
    return NULL;
}

static int thread_count(const slew_sampling *how)
{
    int64_t threads = how->threads > 0 ? how->threads : sysconf(_SC_NPROCESSORS_ONLN);
    return threads < 1 ? 1 : threads > THREADS_MAX ? THREADS_MAX : (int)threads;
}

/* the caller's thread is the first worker, and the one that tells of progress */
slew_status slew_workers_run(const slew_workers *workers)
{
    work w = {.workers = workers};
    int count = thread_count(workers->sampling), started = 1;
    worker *hand = calloc((size_t)count, sizeof *hand);
    if (hand == NULL)
        return SLEW_ERROR_MEMORY;
    hand[0] = (worker){.w = &w, .tells = true};
    for (; started < count; started++) {
        hand[started].w = &w;
        if (pthread_create(&hand[started].thread, NULL, work_in_thread, &hand[started]) != 0)
            break; /* fewer hands, the same result */
    }
    work_in_thread(&hand[0]);
    for (int i = 1; i < started; i++)
        pthread_join(hand[i].thread, NULL);
    free(hand);
    if (atomic_load(&w.short_of_memory))
        return SLEW_ERROR_MEMORY;
    return atomic_load(&w.stopped) ? SLEW_ERROR_STOPPED : SLEW_OK;
}
