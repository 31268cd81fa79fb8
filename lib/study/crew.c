/* crew.c - see crew.h. */
#include "study/crew.h"

#include <pthread.h>
#include <stdatomic.h>
#include <stdlib.h>
#include <unistd.h>

enum { THREADS_MAX = 256 };

typedef struct work {
    const slew_crew *crew;
    atomic_long next, done;
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
    const slew_crew *crew = w->crew;
    const slew_sampling *how = crew->sampling;
    while (!atomic_load(&w->stopped)) {
        long index = atomic_fetch_add(&w->next, 1);
        if (index >= crew->jobs)
            return;
        long share = crew->job(crew->context, room, index);
        long done = atomic_fetch_add(&w->done, share) + share;
        if (me->tells && how->progress != NULL && !how->progress(how->context, done))
            atomic_store(&w->stopped, true);
    }
}

static void *work_in_thread(void *argument)
{
    const worker *me = argument;
    void *room = me->w->crew->arrive(me->w->crew->context);
    if (room != NULL)
        take_jobs(me, room);
    else
        atomic_store(&me->w->short_of_memory, true);
    free(room);
    return NULL;
}

static int thread_count(const slew_sampling *how)
{
    long threads = how->threads > 0 ? how->threads : sysconf(_SC_NPROCESSORS_ONLN);
    return threads < 1 ? 1 : threads > THREADS_MAX ? THREADS_MAX : (int)threads;
}

/* the caller's thread is the first worker, and the one that tells of progress */
slew_status slew_crew_work(const slew_crew *crew)
{
    work w = {.crew = crew};
    int count = thread_count(crew->sampling), started = 1;
    worker *workers = calloc((size_t)count, sizeof *workers);
    if (workers == NULL)
        return SLEW_ERROR_MEMORY;
    workers[0] = (worker){.w = &w, .tells = true};
    for (; started < count; started++) {
        workers[started].w = &w;
        if (pthread_create(&workers[started].thread, NULL, work_in_thread, &workers[started]) != 0)
            break; /* fewer hands, the same result */
    }
    work_in_thread(&workers[0]);
    for (int i = 1; i < started; i++)
        pthread_join(workers[i].thread, NULL);
    free(workers);
    if (atomic_load(&w.short_of_memory))
        return SLEW_ERROR_MEMORY;
    return atomic_load(&w.stopped) ? SLEW_ERROR_STOPPED : SLEW_OK;
}
