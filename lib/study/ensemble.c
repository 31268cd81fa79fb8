/*
 * ensemble.c - many samples of one scenario, by several threads.
 *
 * A sample is known by its number alone, and its figures go to its own place: the threads take
 * blocks of samples in turn, and it does not matter which takes which.
 */
#include "slewtime/study.h"

#include <gsl/gsl_qrng.h>
#include <pthread.h>
#include <stdatomic.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

enum { BLOCK = 64, SOBOL_DIMENSIONS = 40, THREADS_MAX = 256 };

typedef struct work {
    const slew_scenario *scenario;
    slew_parts parts;
    const slew_sampling *sampling;
    slew_question *question;
    void *context;
    bool teaches; /* for every sample */
    double stored[SLEW_AXES];
    slew_ensemble *out;
    double *sobol;       /* [point * dimensions + d]; NULL: pseudo-random */
    const double *given; /* [sample * dimensions + d]; NULL: drawn */
    atomic_long next_block, done;
    atomic_bool stopped, short_of_memory;
    bool *block_done;
    pthread_mutex_t refusal_lock;
    long first_refused;
} work;

/* ---- what is drawn ---- */

/* deploy draws a day of its own */
static bool draws_twice(const slew_scenario *s, slew_parts parts)
{
    return s->deploy.given && !s->deploy.same_day && parts == SLEW_STOW_AND_DEPLOY;
}

int slew_ensemble_dimensions(const slew_scenario *s, slew_parts parts)
{
    return s->truck.count + s->day.count * (draws_twice(s, parts) ? 2 : 1);
}

slew_dimension slew_ensemble_dimension(const slew_scenario *s, slew_parts parts, int index)
{
    int day = index - s->truck.count, second = day - s->day.count;
    bool alone = parts == SLEW_DEPLOY_ONLY;
    if (day < 0)
        return (slew_dimension){s->truck.item[index].key, SLEW_OF_TRUCK};
    if (second < 0)
        return (slew_dimension){s->day.item[day].key, alone ? SLEW_OF_DEPLOY_DAY : SLEW_OF_DAY};
    return (slew_dimension){s->day.item[second].key, SLEW_OF_DEPLOY_DAY};
}

static double unit_of(const work *w, long sample, int dimension)
{
    const slew_sampling *how = w->sampling;
    if (w->given != NULL)
        return w->given[sample * w->out->dimensions + dimension];
    if (w->sobol == NULL)
        return slew_random_unit(how->seed, (uint64_t)sample, (uint32_t)dimension);
    long point = sample / how->shifts, shift = sample % how->shifts;
    double u = w->sobol[point * w->out->dimensions + dimension] +
               slew_random_unit(how->seed, (uint64_t)shift, (uint32_t)dimension);
    return u < 1 ? u : u - 1;
}

/* -1: every value fits; otherwise the first key whose value does not */
static int draw(slew_scenario *s, slew_layer_id layer, const slew_spread *spread, const work *w,
                long sample, int first)
{
    int unfit = -1;
    for (int i = 0; i < spread->count; i++) {
        double u = fmin(fmax(unit_of(w, sample, first + i), 0x1p-53), 1 - 0x1p-53);
        double value = slew_variation_quantile(&spread->item[i], u);
        int key = spread->item[i].key;
        if (slew_scenario_set_number(s, layer, key, value) != SLEW_OK && unfit < 0)
            unfit = key;
    }
    return unfit;
}

/* what the file's own deploy_day says is on top of the deploy's draw */
static void put_back(slew_layer *layer, const slew_layer *own)
{
    for (int i = 0; i < own->count && layer->count < SLEW_OVERRIDES_MAX; i++) {
        int k = 0;
        while (k < layer->count && layer->item[k].key != own->item[i].key)
            k++;
        layer->item[k] = own->item[i];
        if (k == layer->count)
            layer->count++;
    }
}

static int draw_sample(const work *w, long sample, slew_scenario *drawn)
{
    const slew_scenario *s = w->scenario;
    drawn->setup = s->setup;
    drawn->today = s->today;
    drawn->deploy_day = s->deploy_day;
    drawn->deploy = s->deploy;
    int truck = s->truck.count, day = s->day.count;
    int unfit = draw(drawn, SLEW_LAYER_FILE, &s->truck, w, sample, 0);
    if (unfit < 0)
        unfit = draw(drawn, SLEW_LAYER_TODAY, &s->day, w, sample, truck);
    if (unfit < 0 && draws_twice(s, w->parts)) {
        unfit = draw(drawn, SLEW_LAYER_DEPLOY_DAY, &s->day, w, sample, truck + day);
        put_back(&drawn->deploy_day, &s->deploy_day);
    }
    return unfit;
}

/* ---- one sample ---- */

static void refuse(work *w, long sample, const slew_error *error)
{
    pthread_mutex_lock(&w->refusal_lock);
    w->out->refused++;
    if (w->first_refused < 0 || sample < w->first_refused) {
        w->first_refused = sample;
        w->out->first_refusal = *error;
    }
    pthread_mutex_unlock(&w->refusal_lock);
}

static void ask_sample(work *w, long sample, slew_scenario *drawn, slew_prepared *prepared)
{
    double *figures = w->out->figure + sample * w->out->count;
    slew_error error = {.status = SLEW_ERROR_INPUT, .message = "a drawn value is out of range"};
    int unfit = draw_sample(w, sample, drawn);
    if (unfit >= 0)
        snprintf(error.key, sizeof error.key, "%s", slew_key_at(unfit)->path);
    if (!w->teaches) {
        drawn->stow.has_times = true;
        memcpy(drawn->stow.times, w->stored, sizeof w->stored);
    }
    if (unfit < 0 && slew_prepare(drawn, w->parts, prepared, &error) == SLEW_OK) {
        w->question(w->context, drawn, prepared, figures);
        return;
    }
    for (int i = 0; i < w->out->count; i++)
        figures[i] = NAN;
    refuse(w, sample, &error);
}

/* ---- threads ---- */

typedef struct worker {
    work *w;
    pthread_t thread;
    bool tells; /* of progress */
    slew_scenario *drawn;
    slew_prepared prepared;
} worker;

static void take_blocks(worker *me)
{
    work *w = me->w;
    while (!atomic_load(&w->stopped)) {
        long block = atomic_fetch_add(&w->next_block, 1), from = block * BLOCK;
        if (from >= w->out->samples)
            return;
        long to = from + BLOCK < w->out->samples ? from + BLOCK : w->out->samples;
        for (long i = from; i < to; i++)
            ask_sample(w, i, me->drawn, &me->prepared);
        w->block_done[block] = true;
        long done = atomic_fetch_add(&w->done, to - from) + to - from;
        if (me->tells && w->sampling->progress &&
            !w->sampling->progress(w->sampling->context, done))
            atomic_store(&w->stopped, true);
    }
}

static void *work_in_thread(void *argument)
{
    worker *me = argument;
    me->drawn = malloc(sizeof *me->drawn);
    if (me->drawn == NULL) {
        atomic_store(&me->w->short_of_memory, true);
        return NULL;
    }
    *me->drawn = *me->w->scenario;
    take_blocks(me);
    free(me->drawn);
    return NULL;
}

static int thread_count(const slew_sampling *how)
{
    long threads = how->threads > 0 ? how->threads : sysconf(_SC_NPROCESSORS_ONLN);
    return threads < 1 ? 1 : threads > THREADS_MAX ? THREADS_MAX : (int)threads;
}

/* the caller's thread is the first worker, and the one that tells of progress */
static void run_workers(work *w)
{
    int count = thread_count(w->sampling), started = 1;
    worker *workers = calloc((size_t)count, sizeof *workers);
    if (workers == NULL) {
        atomic_store(&w->short_of_memory, true);
        return;
    }
    workers[0] = (worker){.w = w, .tells = true};
    for (; started < count; started++) {
        workers[started].w = w;
        if (pthread_create(&workers[started].thread, NULL, work_in_thread, &workers[started]) != 0)
            break; /* fewer hands, the same result */
    }
    work_in_thread(&workers[0]);
    for (int i = 1; i < started; i++)
        pthread_join(workers[i].thread, NULL);
    free(workers);
}

/* ---- together ---- */

static slew_status fail(slew_error *error, slew_status status, const char *key, const char *message)
{
    if (error) {
        memset(error, 0, sizeof *error);
        error->status = status;
        snprintf(error->key, sizeof error->key, "%s", key);
        snprintf(error->message, sizeof error->message, "%s", message);
    }
    return status;
}

/* the points before they are shifted */
static bool fill_sobol(work *w)
{
    int dimensions = w->out->dimensions;
    long points = w->out->samples / w->sampling->shifts;
    gsl_qrng *generator = gsl_qrng_alloc(gsl_qrng_sobol, (unsigned)dimensions);
    w->sobol = malloc((size_t)points * (size_t)dimensions * sizeof *w->sobol);
    for (long i = 0; generator && w->sobol && i < points; i++)
        gsl_qrng_get(generator, w->sobol + i * dimensions);
    gsl_qrng_free(generator);
    return generator != NULL && w->sobol != NULL;
}

slew_sampling slew_sampling_default(void)
{
    return (slew_sampling){.samples = 2048, .seed = 1, .points = SLEW_SOBOL, .shifts = 8};
}

/* Sobol points are needed, not given ones or independent ones */
static bool wants_sobol(const work *w)
{
    return w->given == NULL && w->sampling->points == SLEW_SOBOL;
}

static slew_status check(const work *w, slew_error *error)
{
    const slew_sampling *how = w->sampling;
    if (how->samples <= 0 || how->samples > 1000000000L || (wants_sobol(w) && how->shifts <= 0))
        return fail(error, SLEW_ERROR_INPUT, "", "the number of samples must be 1 to 1e9");
    if (wants_sobol(w) && w->out->dimensions > SOBOL_DIMENSIONS)
        return fail(error, SLEW_ERROR_INPUT, "spread",
                    "more varied keys than quasi-random points have dimensions (40)");
    return SLEW_OK;
}

static slew_status allocate(work *w, slew_error *error)
{
    slew_ensemble *out = w->out;
    long blocks = out->samples / BLOCK + 1;
    out->figure = calloc((size_t)out->samples * (size_t)out->count, sizeof *out->figure);
    w->block_done = calloc((size_t)blocks, sizeof *w->block_done);
    bool sobol = wants_sobol(w) && out->dimensions > 0;
    if (out->figure == NULL || w->block_done == NULL || (sobol && !fill_sobol(w)))
        return fail(error, SLEW_ERROR_MEMORY, "", "memory is short for that many samples");
    return SLEW_OK;
}

/* samples up to the first block that is not done */
static long count_done(const work *w)
{
    long block = 0;
    while (block * BLOCK < w->out->samples && w->block_done[block])
        block++;
    return block * BLOCK < w->out->samples ? block * BLOCK : w->out->samples;
}

static slew_status run(work *w, slew_error *error)
{
    w->teaches = w->scenario->truck.count > 0;
    if (!w->teaches && w->parts != SLEW_DEPLOY_ONLY) {
        slew_status status = slew_teach(w->scenario, w->stored, error);
        if (status != SLEW_OK)
            return status;
    }
    run_workers(w);
    w->out->done = count_done(w);
    if (atomic_load(&w->short_of_memory))
        return fail(error, SLEW_ERROR_MEMORY, "", "memory is short");
    return w->out->done < w->out->samples ? fail(error, SLEW_ERROR_STOPPED, "", "stopped")
                                          : SLEW_OK;
}

static slew_status run_all(work *w, long shifts, int count, slew_error *error)
{
    slew_ensemble *out = w->out;
    memset(out, 0, sizeof *out);
    out->count = count;
    out->dimensions = slew_ensemble_dimensions(w->scenario, w->parts);
    slew_status status = check(w, error);
    if (status != SLEW_OK)
        return status;
    out->samples = (w->sampling->samples + shifts - 1) / shifts * shifts;
    status = allocate(w, error);
    if (status == SLEW_OK)
        status = run(w, error);
    free(w->sobol);
    free(w->block_done);
    if (status != SLEW_OK && status != SLEW_ERROR_STOPPED)
        slew_ensemble_free(out);
    return status;
}

slew_status slew_ensemble_run(const slew_scenario *scenario, slew_parts parts,
                              const slew_sampling *sampling, slew_question *question, void *context,
                              int count, slew_ensemble *out, slew_error *error)
{
    return slew_ensemble_run_at(scenario, parts, sampling, NULL, question, context, count, out,
                                error);
}

slew_status slew_ensemble_run_at(const slew_scenario *scenario, slew_parts parts,
                                 const slew_sampling *sampling, const double *points,
                                 slew_question *question, void *context, int count,
                                 slew_ensemble *out, slew_error *error)
{
    work w = {.scenario = scenario,
              .parts = parts,
              .sampling = sampling,
              .given = points,
              .question = question,
              .context = context,
              .out = out,
              .refusal_lock = PTHREAD_MUTEX_INITIALIZER,
              .first_refused = -1};
    bool shifted = points == NULL && sampling->points == SLEW_SOBOL && sampling->shifts > 0;
    return run_all(&w, shifted ? sampling->shifts : 1, count, error);
}

void slew_ensemble_free(slew_ensemble *ensemble)
{
    if (ensemble == NULL)
        return;
    free(ensemble->figure);
    ensemble->figure = NULL;
}
