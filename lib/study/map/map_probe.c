/* map_probe.c - see map_probe.h. */
#include "study/map/map_probe.h"

#include "error/error.h"
#include "keys/sound.h"
#include "slewtime/read.h"

#include <stdlib.h>
#include <string.h>

#define WORD(name, word, words)  word,
#define WORDS(name, word, words) words,
static const char *const outcome_word[] = {SLEW_OUTCOMES(WORD)};
static const char *const outcome_words[] = {SLEW_OUTCOMES(WORDS)};
#undef WORD
#undef WORDS

const char *slew_outcome_word(slew_outcome outcome)
{
    return (unsigned)outcome < SLEW_OUTCOME_COUNT ? outcome_word[outcome] : "?";
}

const char *slew_outcome_words(slew_outcome outcome)
{
    return (unsigned)outcome < SLEW_OUTCOME_COUNT ? outcome_words[outcome] : "?";
}

/* ---- what a result amounts to ---- */

static slew_outcome outcome_of_fault(slew_fault fault)
{
    switch (fault) {
    case SLEW_FAULT_HOME_NOT_FOUND:
        return SLEW_OUTCOME_HOME_NOT_FOUND;
    case SLEW_FAULT_HARD_STOP:
        return SLEW_OUTCOME_HARD_STOP;
    case SLEW_FAULT_OVERLOAD:
        return SLEW_OUTCOME_OVERLOAD;
    case SLEW_FAULT_TIMEOUT:
        return SLEW_OUTCOME_TIMEOUT;
    case SLEW_FAULT_UNDERVOLTAGE:
        return SLEW_OUTCOME_UNDERVOLTAGE;
    default:
        return SLEW_OUTCOME_CANCELLED;
    }
}

static double off_point(const slew_scenario *s, const slew_part *stow, int axis)
{
    return fabs(stow->angle[axis] - s->stow.point[axis]);
}

static double off_target(const slew_scenario *s, const slew_part *deploy, int axis)
{
    const slew_range *target = &s->deploy.target[axis];
    return fmax(fmax(target->low - deploy->angle[axis], deploy->angle[axis] - target->high), 0);
}

static void find_off(slew_map_point *p, slew_outcome outcome, const double off[SLEW_AXES])
{
    p->outcome = outcome;
    p->axis = off[SLEW_ROTATION] > off[SLEW_ELEVATION] ? SLEW_ROTATION : SLEW_ELEVATION;
    p->off = off[p->axis];
}

int slew_map_kind(const slew_map_point *p)
{
    return (int)p->outcome + (p->past ? SLEW_MAP_PAST : 0);
}

typedef struct verdict {
    const slew_scenario *scenario;
    const slew_setup *stow_setup, *deploy_setup;
    const slew_result *result;
    bool stows, deploys; /* which parts were asked for and are there */
} verdict;

/* the axis that is pressed on a stop after either part; SLEW_NO_AXIS: none */
static int pressed_axis(const verdict *v)
{
    int pressed = SLEW_NO_AXIS;
    if (v->stows)
        pressed = slew_pressed_axis(v->stow_setup, &v->result->stow);
    if (v->deploys && pressed == SLEW_NO_AXIS)
        pressed = slew_pressed_axis(v->deploy_setup, &v->result->deploy);
    return pressed;
}

/* the stow drives an axis from home to its point */
static bool is_past_point(const verdict *v, int axis)
{
    double point = v->scenario->stow.point[axis];
    double onward = point - v->stow_setup->axis[axis].home.angle;
    return (v->result->stow.angle[axis] - point) * onward > 0;
}

static bool is_past_target(const verdict *v, int axis)
{
    const slew_range *target = &v->scenario->deploy.target[axis];
    bool is_beyond = v->result->deploy.angle[axis] > target->high;
    return is_beyond == (v->scenario->deploy.seconds[axis] >= 0);
}

/* parts that end as the controller wants them */
static void judge_places(slew_map_point *p, const verdict *v)
{
    const slew_result *r = v->result;
    double stow[SLEW_AXES], deploy[SLEW_AXES];
    int pressed = pressed_axis(v);
    for (int j = 0; j < SLEW_AXES; j++) {
        stow[j] = off_point(v->scenario, &r->stow, j);
        deploy[j] = off_target(v->scenario, &r->deploy, j);
    }
    if (r->visit_count > 0)
        p->outcome = SLEW_OUTCOME_KEEPOUT;
    else if (pressed != SLEW_NO_AXIS) {
        p->outcome = SLEW_OUTCOME_PRESSED;
        p->axis = pressed;
    } else if (v->stows && r->stow.has_target && !r->stow.on_target) {
        find_off(p, SLEW_OUTCOME_OFF_POINT, stow);
        p->past = is_past_point(v, p->axis);
    } else if (v->deploys && !r->deploy.on_target) {
        find_off(p, SLEW_OUTCOME_OFF_TARGET, deploy);
        p->past = is_past_target(v, p->axis);
    } else
        p->outcome = r->below_floor ? SLEW_OUTCOME_BELOW_FLOOR : SLEW_OUTCOME_OK;
}

static void judge(slew_map_point *p, const verdict *v)
{
    const slew_part *stow = &v->result->stow, *deploy = &v->result->deploy;
    bool deployed = v->deploys && (deploy->says != SLEW_NOT_RUN || !deploy->holds);
    const slew_part *last = deployed ? deploy : stow;
    memcpy(p->angle, last->angle, sizeof p->angle);
    for (int j = 0; j < SLEW_AXES; j++)
        p->stowed[j] = v->stows ? stow->angle[j] : NAN;
    if (!stow->holds || !last->holds)
        p->outcome = SLEW_OUTCOME_DOES_NOT_HOLD;
    else if (last->says == SLEW_FAULTED) {
        p->outcome = outcome_of_fault(last->fault);
        p->axis = last->axis;
    } else
        judge_places(p, v);
}

slew_map_point slew_map_judge(const slew_scenario *scenario, slew_parts parts,
                              const slew_prepared *prepared, const slew_result *result)
{
    if (scenario == NULL || prepared == NULL || result == NULL)
        return (slew_map_point){.outcome = SLEW_OUTCOME_UNFIT, .axis = SLEW_NO_AXIS};
    slew_map_point p = {.axis = SLEW_NO_AXIS};
    const verdict v = {
        scenario, &prepared->stow_setup,     &prepared->deploy_setup,
        result,   parts != SLEW_DEPLOY_ONLY, parts != SLEW_STOW_ONLY && scenario->deploy.given};
    judge(&p, &v);
    return p;
}

slew_status slew_map_end(slew_status status, slew_error *error)
{
    if (status == SLEW_OK)
        return status;
    return slew_error_set(
        error, status, "",
        status == SLEW_ERROR_STOPPED ? "stopped" : "memory is short for that many points", "");
}

/* ---- teaching and asking ---- */

bool slew_vary_teaches(const slew_vary *vary)
{
    return vary->layer == SLEW_LAYER_FILE || vary->layer == SLEW_LAYER_TEACH;
}

static bool is_taught(const slew_map_probe *m, const double *value)
{
    for (int i = 0; i < m->count; i++)
        if (slew_vary_teaches(&m->vary[i]) && m->taught_value[i] != value[i])
            return false;
    return m->taught;
}

static void teach(slew_map_probe *m, const double *value)
{
    if (is_taught(m, value))
        return;
    m->trial.stow.has_times = m->scenario->stow.has_times;
    memcpy(m->trial.stow.times, m->scenario->stow.times, sizeof m->trial.stow.times);
    m->taught_status = slew_teach(&m->trial, m->stored, &m->taught_error);
    for (int i = 0; i < m->count; i++)
        m->taught_value[i] = value[i];
    m->taught = true;
}

static slew_map_point refuse(slew_map_point p, slew_outcome outcome, const slew_error *why,
                             slew_error *error)
{
    p.outcome = outcome;
    p.angle[SLEW_ROTATION] = p.angle[SLEW_ELEVATION] = NAN;
    p.stowed[SLEW_ROTATION] = p.stowed[SLEW_ELEVATION] = NAN;
    if (error != NULL)
        *error = *why;
    return p;
}

static void keep_first(void *context, const slew_error *error)
{
    slew_error *kept = context;
    if (kept->status == SLEW_OK)
        *kept = *error;
}

/* every value of the point in its layer, and everything else as the scenario has it */
static slew_status set_values(slew_map_probe *m, const double *value)
{
    slew_status status = SLEW_OK;
    for (int i = 0; i < m->count && status == SLEW_OK; i++)
        status = slew_scenario_set_number(&m->trial, m->vary[i].layer, m->vary[i].key, value[i]);
    return status;
}

static slew_outcome prepare(slew_map_probe *m, const double *value, slew_error *why)
{
    const slew_error_sink sink = {keep_first, why};
    if (set_values(m, value) != SLEW_OK) {
        why->status = SLEW_ERROR_INPUT;
        return SLEW_OUTCOME_UNFIT;
    }
    teach(m, value);
    if (m->taught_status != SLEW_OK) {
        *why = m->taught_error;
        return m->taught_status == SLEW_ERROR_TEACH ? SLEW_OUTCOME_UNTAUGHT : SLEW_OUTCOME_UNFIT;
    }
    if (!m->unchecked && slew_scenario_check(&m->trial, sink, (slew_error_sink){0}) != SLEW_OK)
        return SLEW_OUTCOME_UNFIT;
    m->trial.stow.has_times = true;
    memcpy(m->trial.stow.times, m->stored, sizeof m->stored);
    slew_status status = slew_prepare(&m->trial, SLEW_STOW_AND_DEPLOY, &m->prepared, why);
    return status == SLEW_OK ? SLEW_OUTCOME_OK : SLEW_OUTCOME_UNFIT;
}

slew_map_point slew_map_probe_ask(slew_map_probe *m, const double *value, slew_error *error)
{
    slew_map_point p = {.axis = SLEW_NO_AXIS};
    slew_error why = {0};
    slew_result result;
    m->trial.stow.has_times = m->scenario->stow.has_times;
    slew_outcome outcome = prepare(m, value, &why);
    if (outcome == SLEW_OUTCOME_OK) {
        slew_run_prepared(&m->trial, &m->prepared, SLEW_STOW_AND_DEPLOY, NULL, &result);
        p = slew_map_judge(&m->trial, SLEW_STOW_AND_DEPLOY, &m->prepared, &result);
    } else
        p = refuse(p, outcome, &why, error);
    for (int i = 0; i < m->count; i++)
        p.value[i] = value[i];
    return p;
}

static bool passes(slew_map_probe *m, const double *value)
{
    m->trial.stow.has_times = m->scenario->stow.has_times;
    return set_values(m, value) == SLEW_OK &&
           slew_scenario_check(&m->trial, (slew_error_sink){0}, (slew_error_sink){0}) == SLEW_OK;
}

void slew_map_probe_line(slew_map_probe *m, int along, const double *value)
{
    double end[SLEW_VARY_MAX];
    memcpy(end, value, (size_t)m->count * sizeof *end);
    end[along] = m->vary[along].from;
    m->unchecked = passes(m, end);
    end[along] = m->vary[along].to;
    m->unchecked = m->unchecked && passes(m, end);
}

slew_map_probe *slew_map_probe_new(const slew_scenario *scenario, const slew_vary *vary, int count)
{
    slew_map_probe *m = calloc(1, sizeof *m);
    if (m == NULL)
        return NULL;
    m->scenario = scenario;
    m->vary = vary;
    m->count = count;
    m->trial = *scenario;
    return m;
}

slew_map_point slew_map_ask(const slew_scenario *scenario, const slew_vary *vary, int count,
                            const double *value, slew_error *error)
{
    slew_map_point p = {.outcome = SLEW_OUTCOME_UNFIT, .axis = SLEW_NO_AXIS};
    if (count < 0 || count > SLEW_VARY_MAX || (count > 0 && (vary == NULL || value == NULL))) {
        slew_no_number(error);
        return p;
    }
    if (!slew_is_sound(scenario, error))
        return p;
    for (int i = 0; i < count; i++)
        if (slew_key_at(vary[i].key) == NULL) {
            slew_no_number(error);
            return p;
        }
    slew_map_probe *m = slew_map_probe_new(scenario, vary, count);
    if (m != NULL)
        p = slew_map_probe_ask(m, value, error);
    else if (error != NULL)
        *error = (slew_error){.status = SLEW_ERROR_MEMORY, .message = "memory is short"};
    free(m);
    return p;
}
