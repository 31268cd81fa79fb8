/*
 * causes.c - every cause of a catalogue over a scenario's spread.
 *
 * One sample is one truck and its day; all causes are put into it in turn, and into the figures of
 * the sample one after the other. What is drawn of a cause itself belongs to seed, sample and
 * cause.
 */
#include "slewtime/causes.h"

#include "error/error.h"
#include "keys/sound.h"
#include "study/causes/causes_apply.h"
#include "study/causes/causes_figures.h"

#include <pthread.h>
#include <stdlib.h>
#include <string.h>

static const uint64_t other_numbers = 0x632be59bd9b4e019u; /* than those that draw the sample */

typedef struct work {
    slew_scenario *scenario; /* with what is known of the day */
    const slew_catalogue *catalogue;
    const slew_layer *known;
    const slew_causes_witness *witness;
    uint64_t seed;
    const slew_ensemble *ensemble; /* whose figures are being filled in */
    slew_causes *out;
    int64_t *first_refused; /* by cause; -1: none */
    pthread_mutex_t lock;
} work;

const double *slew_causes_figures(const slew_causes *causes, int cause, int64_t sample)
{
    if (causes == NULL || cause < 0 || cause > causes->count || sample < 0 ||
        sample >= causes->samples)
        return NULL;
    return causes->figure + (sample * (causes->count + 1) + cause) * SLEW_OBSERVABLES;
}

bool slew_causes_counts(const slew_causes *causes, int cause)
{
    if (causes == NULL || cause < 0 || cause >= causes->count)
        return false;
    return causes->state[cause].possible > 0 && !causes->state[cause].idle;
}

/* ---- one cause in one sample ---- */

typedef struct trial {
    work *w;
    int64_t sample;
    slew_before before;
    const slew_prepared *drawn; /* without any cause */
    slew_scenario scenario;
    slew_prepared prepared;
} trial;

static void draw_amounts(const trial *t, int cause, double u[SLEW_CHANGES_MAX])
{
    for (int i = 0; i < SLEW_CHANGES_MAX; i++)
        u[i] = slew_random_unit(t->w->seed ^ other_numbers, (uint64_t)t->sample,
                                (uint32_t)(cause * SLEW_CHANGES_MAX + i));
}

static void put_back(trial *t)
{
    const slew_scenario *drawn = t->before.scenario;
    t->scenario.setup = drawn->setup;
    t->scenario.teach = drawn->teach;
    t->scenario.today = drawn->today;
    t->scenario.deploy_day = drawn->deploy_day;
    t->scenario.deploy = drawn->deploy;
    t->scenario.stow = t->w->scenario->stow;
}

static bool contradicts(const slew_cause *cause, const slew_layer *known, slew_error *error)
{
    for (int i = 0; i < cause->change_count; i++) {
        const slew_change *change = &cause->change[i];
        bool today = change->layer == SLEW_LAYER_FILE || change->layer == SLEW_LAYER_TODAY;
        if (!today || !slew_layer_holds(known, change->key))
            continue;
        slew_refuse(error, slew_key_at(change->key)->path, "known to be so, it can't have changed",
                    "");
        return true;
    }
    return false;
}

/* what was taught before the fault came stays taught */
static bool prepare(trial *t, const slew_cause *cause, slew_error *error)
{
    slew_stow *stow = &t->scenario.stow;
    if (!slew_cause_teaches(cause)) {
        stow->has_times = true;
        memcpy(stow->times, t->drawn->stored, sizeof stow->times);
    }
    return slew_prepare(&t->scenario, SLEW_STOW_AND_DEPLOY, &t->prepared, error) == SLEW_OK;
}

static void fill_figures(trial *t, const slew_cause *cause, double *figures)
{
    slew_figures_of_run(&t->scenario, &t->prepared, figures);
    slew_figures_of_checks(&t->scenario, &t->prepared, &t->before.setup[SLEW_OCCASION_STOW],
                           figures);
    for (int i = 0; i < cause->stated_count; i++)
        figures[cause->stated[i].observable] = cause->stated[i].value;
}

static bool ask_cause(trial *t, int index, const slew_cause *cause, double *figures,
                      slew_error *error)
{
    double u[SLEW_CHANGES_MAX];
    for (int i = 0; i < SLEW_OBSERVABLES; i++)
        figures[i] = NAN;
    put_back(t);
    draw_amounts(t, index, u);
    bool can_be = !contradicts(cause, t->w->known, error) &&
                  slew_cause_apply(cause, &t->before, u, &t->scenario, error) &&
                  prepare(t, cause, error);
    if (!can_be)
        return false;
    fill_figures(t, cause, figures);
    if (index < t->w->catalogue->count)
        t->w->witness->tell(t->w->witness->context, index, t->sample, &t->scenario);
    return true;
}

/* ---- one sample ---- */

static void note_refused(work *w, int cause, int64_t sample, const slew_error *error)
{
    pthread_mutex_lock(&w->lock);
    if (w->first_refused[cause] < 0 || sample < w->first_refused[cause]) {
        w->first_refused[cause] = sample;
        w->out->state[cause].reason = *error;
    }
    pthread_mutex_unlock(&w->lock);
}

static void ask(void *context, const slew_scenario *drawn, const slew_prepared *prepared,
                double *figures)
{
    static const slew_cause none = {.name = ""};
    work *w = context;
    int count = w->catalogue->count;
    trial t = {.w = w,
               .sample = (figures - w->ensemble->figure) / w->ensemble->count,
               .drawn = prepared,
               .scenario = *drawn};
    slew_error error = {0};
    slew_before_fill(&t.before, drawn);
    for (int c = 0; c < count; c++)
        if (!ask_cause(&t, c, &w->catalogue->cause[c], figures + c * SLEW_OBSERVABLES, &error))
            note_refused(w, c, t.sample, &error);
    ask_cause(&t, count, &none, figures + count * SLEW_OBSERVABLES, &error);
}

/* ---- what is known of the day ---- */

static void take_out(slew_spread *spread, int key)
{
    int kept = 0;
    for (int i = 0; i < spread->count; i++)
        if (spread->item[i].key != key)
            spread->item[kept++] = spread->item[i];
    spread->count = kept;
}

static slew_status set_known(slew_scenario *scenario, const slew_layer *known, slew_error *error)
{
    for (int i = 0; i < known->count; i++) {
        int key = known->item[i].key;
        if (slew_scenario_set_number(scenario, SLEW_LAYER_TODAY, key, known->item[i].value) !=
            SLEW_OK)
            return slew_refuse(error, slew_key_at(key)->path, "can't be known to be so", "");
        take_out(&scenario->day, key);
    }
    return SLEW_OK;
}

/* ---- conclusions ---- */

static bool same_figures(const double *a, const double *b)
{
    for (int i = 0; i < SLEW_OBSERVABLES; i++)
        if (a[i] != b[i] && !(isnan(a[i]) && isnan(b[i])))
            return false;
    return true;
}

static void conclude_cause(slew_causes *out, int cause, bool changes)
{
    slew_cause_state *state = &out->state[cause];
    bool differs = false;
    for (int64_t i = 0; i < out->samples; i++) {
        const double *own = slew_causes_figures(out, cause, i);
        if (isnan(own[SLEW_SEEN_STOW_SAYS]))
            continue;
        state->possible++;
        differs |= !same_figures(own, slew_causes_figures(out, out->count, i));
    }
    state->idle = changes && state->possible > 0 && !differs;
}

static slew_status allocate(work *w, slew_error *error)
{
    size_t count = (size_t)w->catalogue->count;
    w->scenario = malloc(sizeof *w->scenario);
    w->out->state = calloc(count + 1, sizeof *w->out->state);
    w->first_refused = malloc((count + 1) * sizeof *w->first_refused);
    for (size_t c = 0; w->first_refused != NULL && c < count; c++)
        w->first_refused[c] = -1;
    return w->scenario != NULL && w->out->state != NULL && w->first_refused != NULL
               ? SLEW_OK
               : slew_no_memory(error);
}

static slew_status simulate(work *w, const slew_sampling *sampling, slew_error *error)
{
    slew_ensemble e = {0};
    slew_causes *out = w->out;
    w->ensemble = &e;
    slew_status status = slew_ensemble_run(w->scenario, SLEW_STOW_AND_DEPLOY, sampling, ask, w,
                                           (out->count + 1) * SLEW_OBSERVABLES, &e, error);
    out->samples = e.done;
    out->refused = e.refused;
    out->first_refusal = e.first_refusal;
    out->figure = e.figure;
    if (status == SLEW_OK && e.refused == e.done)
        status = slew_refuse(error, e.first_refusal.key, e.first_refusal.message,
                             e.first_refusal.expected);
    return status;
}

/* the shifts of Sobol points; of other samples any */
static int groups_of(const slew_sampling *sampling)
{
    bool shifted = sampling->points == SLEW_SOBOL && sampling->shifts > 1;
    return shifted ? sampling->shifts : 8;
}

static void no_witness(void *context, int cause, int64_t sample, const slew_scenario *scenario)
{
    (void)context;
    (void)cause;
    (void)sample;
    (void)scenario;
}

slew_status slew_causes_run(const slew_scenario *scenario, const slew_catalogue *catalogue,
                            const slew_seen *seen, const slew_sampling *sampling, slew_causes *out,
                            slew_error *error)
{
    static const slew_causes_witness nobody = {no_witness, NULL};
    return slew_causes_run_witnessed(scenario, catalogue, seen, sampling, &nobody, out, error);
}

slew_status slew_causes_run_witnessed(const slew_scenario *scenario,
                                      const slew_catalogue *catalogue, const slew_seen *seen,
                                      const slew_sampling *sampling,
                                      const slew_causes_witness *witness, slew_causes *out,
                                      slew_error *error)
{
    if (catalogue == NULL || sampling == NULL || witness == NULL || out == NULL)
        return slew_no_argument(error);
    if (!slew_is_sound(scenario, error))
        return SLEW_ERROR_INPUT;
    if (catalogue->count < 0 || catalogue->count > SLEW_CAUSES_MAX)
        return slew_no_number(error);
    static const slew_layer nothing = {0};
    work w = {.catalogue = catalogue,
              .known = seen != NULL ? &seen->known : &nothing,
              .witness = witness,
              .seed = sampling->seed,
              .out = out,
              .lock = PTHREAD_MUTEX_INITIALIZER};
    *out = (slew_causes){.count = catalogue->count, .groups = groups_of(sampling)};
    slew_status status = allocate(&w, error);
    if (status == SLEW_OK) {
        *w.scenario = *scenario;
        status = set_known(w.scenario, w.known, error);
    }
    if (status == SLEW_OK)
        status = simulate(&w, sampling, error);
    for (int c = 0; c < out->count && out->figure != NULL; c++)
        conclude_cause(out, c, catalogue->cause[c].change_count > 0);
    free(w.scenario);
    free(w.first_refused);
    if (status != SLEW_OK && status != SLEW_ERROR_STOPPED)
        slew_causes_free(out);
    return status;
}

void slew_causes_free(slew_causes *causes)
{
    if (causes == NULL)
        return;
    free(causes->state);
    free(causes->figure);
    causes->state = NULL;
    causes->figure = NULL;
}
