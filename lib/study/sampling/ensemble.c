/*
 * ensemble.c - many samples of one scenario, by several threads.
 *
 * A sample is known by its number alone, and its figures go to its own place: the threads take
 * blocks of samples in turn, and it does not matter which takes which. It is long because drawing,
 * teaching, stowing and asking of one sample share what the thread keeps of the sample before.
 */
#include "error/error.h"
#include "keys/sound.h"
#include "study/sampling/known.h"
#include "study/sampling/sobol.h"
#include "study/sampling/stowed_ensemble.h"
#include "study/sampling/workers.h"

#include <gsl/gsl_cdf.h>
#include <inttypes.h>
#include <pthread.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

enum { BLOCK = 64, SOBOL_DIMENSIONS = 40 };

typedef struct work {
    const slew_scenario *scenario;
    slew_parts parts;
    const slew_sampling *sampling;
    slew_question *question;
    const slew_stowed_asking *asking; /* in its place; NULL: none */
    void *context;
    bool teaches; /* for every truck */
    double stored[SLEW_AXES];
    slew_ensemble *out;
    double *sobol;                     /* [point * dimensions + d]; NULL: pseudo-random */
    const double *given;               /* [sample * dimensions + d]; NULL: drawn */
    slew_drawn truck, day, deploy_day; /* the first day, and one of the deploy's own */
    bool correlated;
    bool *block_done;
    pthread_mutex_t refusal_lock;
    int64_t first_refused;
} work;

/* ---- what is drawn ---- */

/* deploy draws a day of its own */
static bool draws_twice(const slew_scenario *s, slew_parts parts)
{
    return s->deploy.given && !s->deploy.same_day && parts == SLEW_STOW_AND_DEPLOY;
}

static slew_spread first_day(const slew_scenario *s, slew_parts parts)
{
    return slew_day_left(s, parts == SLEW_DEPLOY_ONLY ? SLEW_OCCASION_DEPLOY : SLEW_OCCASION_STOW);
}

static slew_spread second_day(const slew_scenario *s, slew_parts parts)
{
    return draws_twice(s, parts) ? slew_day_left(s, SLEW_OCCASION_DEPLOY) : (slew_spread){0};
}

int slew_ensemble_dimensions(const slew_scenario *s, slew_parts parts)
{
    if (!slew_has_shape(s, NULL))
        return 0;
    return s->truck.count + first_day(s, parts).count + second_day(s, parts).count;
}

slew_dimension slew_ensemble_dimension(const slew_scenario *s, slew_parts parts, int index)
{
    if (index < 0 || index >= slew_ensemble_dimensions(s, parts))
        return (slew_dimension){-1, SLEW_OF_TRUCK};
    const slew_spread first = first_day(s, parts), second = second_day(s, parts);
    int day = index - s->truck.count, later = day - first.count;
    bool alone = parts == SLEW_DEPLOY_ONLY;
    if (day < 0)
        return (slew_dimension){s->truck.item[index].key, SLEW_OF_TRUCK};
    if (later < 0)
        return (slew_dimension){first.item[day].key, alone ? SLEW_OF_DEPLOY_DAY : SLEW_OF_DAY};
    return (slew_dimension){second.item[later].key, SLEW_OF_DEPLOY_DAY};
}

static double unit_of(const work *w, int64_t sample, int dimension)
{
    const slew_sampling *how = w->sampling;
    if (w->given != NULL)
        return w->given[sample * w->out->dimensions + dimension];
    if (w->sobol == NULL)
        return slew_random_unit(how->seed, (uint64_t)sample, (uint32_t)dimension);
    int64_t point = sample / how->shifts, shift = sample % how->shifts;
    double u = w->sobol[point * w->out->dimensions + dimension] +
               slew_random_unit(how->seed, (uint64_t)shift, (uint32_t)dimension);
    return u < 1 ? u : u - 1;
}

static double inside(double u)
{
    return fmin(fmax(u, 0x1p-53), 1 - 0x1p-53);
}

/* from independent numbers to such whose normal scores go together; a key alone keeps its digits */
static void correlate(const slew_drawn *drawn, const double *independent, double *u)
{
    double score[SLEW_VARIATIONS_MAX];
    int count = drawn->spread.count;
    for (int i = 0; i < count; i++) {
        const double *row = drawn->factor + i * count;
        double sum = drawn->lead[i];
        score[i] = gsl_cdf_ugaussian_Pinv(independent[i]);
        for (int k = 0; k <= i; k++)
            sum += row[k] * score[k];
        u[i] = row[i] < 1 ? inside(gsl_cdf_ugaussian_P(sum)) : independent[i];
    }
}

/* -1: every value fits; otherwise the first key whose value does not */
static int draw(slew_scenario *s, slew_layer_id layer, const slew_drawn *drawn, const work *w,
                int64_t sample, int first)
{
    int unfit = -1;
    const slew_spread *spread = &drawn->spread;
    double independent[SLEW_VARIATIONS_MAX], together[SLEW_VARIATIONS_MAX];
    for (int i = 0; i < spread->count; i++)
        independent[i] = inside(unit_of(w, sample, first + i));
    if (w->correlated)
        correlate(drawn, independent, together);
    for (int i = 0; i < spread->count; i++) {
        double u = w->correlated ? together[i] : independent[i];
        double value = slew_variation_quantile(&spread->item[i], u);
        int key = spread->item[i].key;
        if (slew_scenario_set_number(s, layer, key, value) != SLEW_OK && unfit < 0)
            unfit = key;
    }
    return unfit;
}

static int draw_sample(const work *w, int64_t sample, slew_scenario *drawn)
{
    const slew_scenario *s = w->scenario;
    drawn->setup = s->setup;
    drawn->today = s->today;
    drawn->deploy_day = s->deploy_day;
    drawn->deploy = s->deploy;
    int truck = s->truck.count, day = w->day.spread.count;
    int unfit = draw(drawn, SLEW_LAYER_FILE, &w->truck, w, sample, 0);
    if (unfit < 0)
        unfit = draw(drawn, SLEW_LAYER_TODAY, &w->day, w, sample, truck);
    if (unfit < 0)
        unfit = draw(drawn, SLEW_LAYER_DEPLOY_DAY, &w->deploy_day, w, sample, truck + day);
    return unfit;
}

/* ---- one sample ---- */

static void refuse(work *w, int64_t sample, const slew_error *error)
{
    pthread_mutex_lock(&w->refusal_lock);
    w->out->refused++;
    if (w->first_refused < 0 || sample < w->first_refused) {
        w->first_refused = sample;
        w->out->first_refusal = *error;
    }
    pthread_mutex_unlock(&w->refusal_lock);
}

/* what a thread works in, and what it keeps of the sample before */
typedef struct room {
    slew_scenario drawn;
    slew_prepared prepared;
    bool has_truck, has_stow;
    slew_setup truck; /* taught last, */
    slew_stow point;  /* with this stow, its times left out */
    double stored[SLEW_AXES];
    slew_stow stow_asked;  /* stowed last: what was asked, */
    slew_setup stow_setup; /* of what, with these times */
    double stow_stored[SLEW_AXES];
    slew_stowed stowed;
} room;

/* the times kept of a sample; NULL: nobody keeps them */
static double *times_kept(const work *w, int64_t sample)
{
    bool kept = w->asking != NULL && w->asking->stored != NULL;
    return kept ? w->asking->stored + sample * SLEW_AXES : NULL;
}

/* what the scenario says of its stow, without the times that are put in for a sample */
static slew_stow untimed(const slew_stow *stow)
{
    slew_stow point = *stow;
    point.has_times = false;
    memset(point.times, 0, sizeof point.times);
    return point;
}

/* teaching depends on the truck and its stow alone, and these are those taught last */
static bool is_taught(const room *mine)
{
    slew_stow point = untimed(&mine->drawn.stow);
    return memcmp(&mine->truck, &mine->drawn.setup, sizeof mine->truck) == 0 &&
           memcmp(&mine->point, &point, sizeof point) == 0;
}

/* the sample's stored times, where they are known without teaching; NULL: they are not */
static const double *known_times(const work *w, const room *mine, const double *kept)
{
    if (!w->teaches)
        return w->stored;
    if (kept != NULL && !isnan(kept[0]))
        return kept;
    return mine->has_truck && is_taught(mine) ? mine->stored : NULL;
}

/* one like the last is not taught again */
static slew_status prepare(const work *w, int64_t sample, room *mine, slew_error *error)
{
    slew_stow *stow = &mine->drawn.stow;
    double *kept = times_kept(w, sample);
    const double *known = known_times(w, mine, kept);
    stow->has_times = w->scenario->stow.has_times || known != NULL;
    if (known != NULL)
        memcpy(stow->times, known, sizeof stow->times);
    slew_status status = slew_prepare(&mine->drawn, w->parts, &mine->prepared, error);
    if (w->teaches)
        stow->has_times = w->scenario->stow.has_times;
    if (status != SLEW_OK)
        return status;
    mine->has_truck = true;
    mine->truck = mine->drawn.setup;
    mine->point = untimed(&mine->drawn.stow);
    memcpy(mine->stored, mine->prepared.stored, sizeof mine->stored);
    if (kept != NULL)
        memcpy(kept, mine->stored, sizeof mine->stored);
    return SLEW_OK;
}

/* a stow like the last is not run again */
static const slew_stowed *stow(room *mine)
{
    const slew_prepared *p = &mine->prepared;
    slew_stow asked = untimed(&mine->drawn.stow);
    if (mine->has_stow && memcmp(&mine->stow_asked, &asked, sizeof asked) == 0 &&
        memcmp(mine->stow_stored, p->stored, sizeof p->stored) == 0 &&
        memcmp(&mine->stow_setup, &p->stow_setup, sizeof p->stow_setup) == 0)
        return &mine->stowed;
    slew_stowed_run(&mine->drawn, p, &mine->stowed);
    mine->has_stow = true;
    mine->stow_asked = asked;
    mine->stow_setup = p->stow_setup;
    memcpy(mine->stow_stored, p->stored, sizeof p->stored);
    return &mine->stowed;
}

static void ask_sample(work *w, int64_t sample, room *mine)
{
    const slew_stowed_asking *asking = w->asking;
    double *figures = w->out->figure + sample * w->out->count;
    slew_error error = {.status = SLEW_ERROR_INPUT, .message = "a drawn value is out of range"};
    int unfit = draw_sample(w, sample, &mine->drawn);
    if (unfit >= 0)
        snprintf(error.key, sizeof error.key, "%s", slew_key_at(unfit)->path);
    if (unfit >= 0 || prepare(w, sample, mine, &error) != SLEW_OK) {
        for (int i = 0; i < w->out->count; i++)
            figures[i] = NAN;
        refuse(w, sample, &error);
    } else if (asking != NULL) {
        asking->question(asking->context, &mine->drawn, &mine->prepared, stow(mine), figures);
    } else {
        w->question(w->context, &mine->drawn, &mine->prepared, figures);
    }
}

/* ---- blocks of samples ---- */

static void *arrive(void *context)
{
    const work *w = context;
    room *mine = malloc(sizeof *mine);
    if (mine == NULL)
        return NULL;
    mine->drawn = *w->scenario;
    mine->has_truck = mine->has_stow = false;
    return mine;
}

static int64_t ask_block(void *context, void *workspace, int64_t block)
{
    work *w = context;
    room *mine = workspace;
    int64_t from = block * BLOCK;
    int64_t to = from + BLOCK < w->out->samples ? from + BLOCK : w->out->samples;
    for (int64_t i = from; i < to; i++)
        ask_sample(w, i, mine);
    w->block_done[block] = true;
    return to - from;
}

/* ---- together ---- */

static slew_status fail(slew_error *error, slew_status status, const char *key, const char *message)
{
    return slew_error_set(error, status, key, message, "");
}

/* the points before they are shifted */
static bool fill_sobol(work *w)
{
    int dimensions = w->out->dimensions;
    int64_t points = w->out->samples / w->sampling->shifts;
    gsl_qrng generator;
    bool opened = slew_sobol_open(&generator, dimensions);
    w->sobol = malloc((size_t)points * (size_t)dimensions * sizeof *w->sobol);
    for (int64_t i = 0; opened && w->sobol && i < points; i++)
        gsl_qrng_get(&generator, w->sobol + i * dimensions);
    slew_sobol_close(&generator);
    return opened && w->sobol != NULL;
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

/* what is promised but not there ends a program later, without a word: it is said now */
static slew_status check_room(const work *w, slew_error *error)
{
    char message[120];
    double each = (double)w->out->count * sizeof *w->out->figure;
    if (wants_sobol(w))
        each += (double)w->out->dimensions * sizeof *w->sobol / w->sampling->shifts;
    double memory = (double)sysconf(_SC_PHYS_PAGES) * (double)sysconf(_SC_PAGESIZE);
    if (!(memory > 0) || (double)w->out->samples * each < memory)
        return SLEW_OK;
    snprintf(message, sizeof message,
             "memory is short for %" PRId64 " samples; it has room for %.3g", w->out->samples,
             memory / each);
    return fail(error, SLEW_ERROR_MEMORY, "", message);
}

/* with what is known of the day on that occasion */
static bool correlate_day(const slew_scenario *s, slew_occasion occasion, slew_drawn *drawn)
{
    slew_setup setup;
    slew_spread known = slew_day_known(s, occasion);
    slew_scenario_resolve(s, occasion, &setup);
    return slew_drawn_together(s, &known, &setup, drawn);
}

/* which keys go together */
static slew_status correlate_keys(work *w, slew_error *error)
{
    const slew_scenario *s = w->scenario;
    const slew_spread none = {0};
    slew_occasion first = w->parts == SLEW_DEPLOY_ONLY ? SLEW_OCCASION_DEPLOY : SLEW_OCCASION_STOW;
    w->correlated = s->correlation.count > 0;
    if (!w->correlated ||
        (slew_drawn_together(s, &none, &s->setup, &w->truck) && correlate_day(s, first, &w->day) &&
         correlate_day(s, SLEW_OCCASION_DEPLOY, &w->deploy_day)))
        return SLEW_OK;
    return fail(error, SLEW_ERROR_INPUT, "spread.correlation",
                "these coefficients can't hold all at once");
}

static slew_status allocate(work *w, slew_error *error)
{
    slew_ensemble *out = w->out;
    int64_t blocks = out->samples / BLOCK + 1;
    out->figure = calloc((size_t)out->samples * (size_t)out->count, sizeof *out->figure);
    w->block_done = calloc((size_t)blocks, sizeof *w->block_done);
    bool sobol = wants_sobol(w) && out->dimensions > 0;
    if (out->figure == NULL || w->block_done == NULL || (sobol && !fill_sobol(w)))
        return fail(error, SLEW_ERROR_MEMORY, "", "memory is short for that many samples");
    return SLEW_OK;
}

/* samples up to the first block that is not done */
static int64_t count_done(const work *w)
{
    int64_t block = 0;
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
    const slew_workers workers = {.sampling = w->sampling,
                                  .jobs = (w->out->samples + BLOCK - 1) / BLOCK,
                                  .arrive = arrive,
                                  .job = ask_block,
                                  .context = w};
    slew_status worked = slew_workers_run(&workers);
    w->out->done = count_done(w);
    if (worked == SLEW_ERROR_MEMORY)
        return fail(error, SLEW_ERROR_MEMORY, "", "memory is short");
    return w->out->done < w->out->samples ? fail(error, SLEW_ERROR_STOPPED, "", "stopped")
                                          : SLEW_OK;
}

static slew_status run_all(work *w, int count, slew_error *error)
{
    slew_ensemble *out = w->out;
    int64_t shifts = wants_sobol(w) && w->sampling->shifts > 0 ? w->sampling->shifts : 1;
    memset(out, 0, sizeof *out);
    out->count = count;
    out->dimensions = slew_ensemble_dimensions(w->scenario, w->parts);
    slew_status status = check(w, error);
    if (status != SLEW_OK)
        return status;
    out->samples = (w->sampling->samples + shifts - 1) / shifts * shifts;
    status = check_room(w, error);
    if (status == SLEW_OK)
        status = correlate_keys(w, error);
    if (status == SLEW_OK)
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

static work begin(const slew_scenario *scenario, slew_parts parts, const slew_sampling *sampling,
                  slew_ensemble *out)
{
    return (work){.scenario = scenario,
                  .parts = parts,
                  .sampling = sampling,
                  .out = out,
                  .truck.spread = scenario->truck,
                  .day.spread = first_day(scenario, parts),
                  .deploy_day.spread = second_day(scenario, parts),
                  .refusal_lock = PTHREAD_MUTEX_INITIALIZER,
                  .first_refused = -1};
}

slew_status slew_ensemble_run_at(const slew_scenario *scenario, slew_parts parts,
                                 const slew_sampling *sampling, const double *points,
                                 slew_question *question, void *context, int count,
                                 slew_ensemble *out, slew_error *error)
{
    if (sampling == NULL || question == NULL || out == NULL || count < 1)
        return slew_no_argument(error);
    if (!slew_is_sound(scenario, error))
        return SLEW_ERROR_INPUT;
    work w = begin(scenario, parts, sampling, out);
    w.given = points;
    w.question = question;
    w.context = context;
    return run_all(&w, count, error);
}

slew_status slew_stowed_ensemble_run(const slew_scenario *scenario, const slew_sampling *sampling,
                                     const slew_stowed_asking *asking, slew_ensemble *out,
                                     slew_error *error)
{
    work w = begin(scenario, SLEW_STOW_AND_DEPLOY, sampling, out);
    w.given = asking->points;
    w.asking = asking;
    return run_all(&w, asking->count, error);
}

double *slew_stowed_ensemble_times(const slew_sampling *sampling)
{
    int64_t shifts = sampling->points == SLEW_SOBOL && sampling->shifts > 0 ? sampling->shifts : 1;
    size_t count = (size_t)(sampling->samples + shifts) * SLEW_AXES;
    double *stored = malloc(count * sizeof *stored);
    for (size_t i = 0; stored != NULL && i < count; i++)
        stored[i] = NAN;
    return stored;
}

void slew_ensemble_free(slew_ensemble *ensemble)
{
    if (ensemble == NULL)
        return;
    free(ensemble->figure);
    ensemble->figure = NULL;
}
