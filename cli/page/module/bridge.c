/*
 * bridge.c - the library for a web page: plain numbers in; result, events and samples out.
 *
 * Compiled to WebAssembly together with the library's own physics, motion and table of keys. The
 * page sets keys by their number in the table (slew_key_at), in SI; it reads the blocks below by
 * their address. One scenario at a time: a base, and a trial that begins as the base.
 */
#include <stdio.h>
#include <string.h>

#include "slewtime/map.h"
#include "slewtime/slewtime.h"

#define EXPORT(name) __attribute__((export_name(#name)))

enum {
    RESULT_FIGURES = 32,
    EVENT_FIGURES = 12,
    EVENTS_MAX = 1024,
    SAMPLE_FIGURES = 12,
    SAMPLES_MAX = 32768
};

static slew_scenario base, trial;
static slew_prepared prepared;
static slew_error error;
static double result_block[RESULT_FIGURES];
static double event_block[EVENTS_MAX][EVENT_FIGURES];
static double sample_block[SAMPLES_MAX][SAMPLE_FIGURES];
static int event_count, sample_count, strikes;

/* ---- what is simulated ---- */

EXPORT(begin) void page_begin(void)
{
    slew_scenario_init(&base);
}

EXPORT(base_set) int page_base_set(int layer, int key, double value)
{
    return slew_scenario_set_number(&base, (slew_layer_id)layer, key, value);
}

/* deploy.choices, without which a scenario with a deploy is not whole */
EXPORT(base_choice) void page_base_choice(int axis, double seconds)
{
    int *count = &base.deploy.choice_count[axis];
    if (*count < SLEW_CHOICES_MAX)
        base.deploy.choices[axis][(*count)++] = seconds;
}

EXPORT(base_keepout)
void page_base_keepout(double left, double right, double lower, double upper)
{
    if (base.keepout.count < SLEW_KEEPOUT_MAX)
        base.keepout.box[base.keepout.count++] =
            (slew_keepout_box){.name = "zone", .axis = {{left, right}, {lower, upper}}};
}

/* the trial as the base; what the base varies is no part of it */
EXPORT(trial_begin) void page_trial_begin(void)
{
    trial.setup = base.setup;
    trial.stow = base.stow;
    trial.deploy = base.deploy;
    trial.keepout = base.keepout;
    trial.teach = base.teach;
    trial.today = base.today;
    trial.deploy_day = base.deploy_day;
}

EXPORT(trial_set) int page_trial_set(int layer, int key, double value)
{
    return slew_scenario_set_number(&trial, (slew_layer_id)layer, key, value);
}

/* ---- what is told ---- */

static void take_event(void *context, const slew_event *e)
{
    (void)context;
    strikes += e->kind == SLEW_EVENT_STOP_CONTACT;
    if (event_count >= EVENTS_MAX)
        return;
    const double figure[EVENT_FIGURES] = {e->time,
                                          e->kind,
                                          e->axis,
                                          e->direction,
                                          e->angle[SLEW_ROTATION],
                                          e->angle[SLEW_ELEVATION],
                                          e->voltage,
                                          e->current,
                                          e->energy,
                                          e->fault,
                                          e->box,
                                          sample_count};
    memcpy(event_block[event_count++], figure, sizeof figure);
}

static void take_sample(void *context, const slew_sample *s)
{
    (void)context;
    if (sample_count >= SAMPLES_MAX)
        return;
    const double figure[SAMPLE_FIGURES] = {
        s->time,
        s->angle[SLEW_ROTATION],
        s->angle[SLEW_ELEVATION],
        s->speed[SLEW_ROTATION],
        s->speed[SLEW_ELEVATION],
        s->current[SLEW_ROTATION],
        s->current[SLEW_ELEVATION],
        s->voltage,
        s->drive[SLEW_ROTATION],
        s->drive[SLEW_ELEVATION],
        s->closed[SLEW_ROTATION],
        s->closed[SLEW_ELEVATION],
    };
    memcpy(sample_block[sample_count++], figure, sizeof figure);
}

static double *put_part(double *to, const slew_part *p)
{
    *to++ = p->says;
    *to++ = p->fault;
    *to++ = p->axis;
    *to++ = p->holds;
    *to++ = p->angle[SLEW_ROTATION];
    *to++ = p->angle[SLEW_ELEVATION];
    *to++ = p->has_target;
    *to++ = p->on_target;
    *to++ = p->duration;
    return to;
}

/* the axis that rests on a stop though the controller says stowed */
static int jammed_axis(const slew_part *stow)
{
    const double touch = 1e-9; /* a place is exact to this [rad] */
    for (int axis = SLEW_AXES - 1; axis >= 0 && stow->says == SLEW_STOWED; axis--) {
        const slew_range *stops = &prepared.stow_setup.axis[axis].stops;
        if (stow->angle[axis] <= stops->low + touch || stow->angle[axis] >= stops->high - touch)
            return axis;
    }
    return SLEW_NO_AXIS;
}

static void put_result(slew_parts parts, const slew_result *r)
{
    const slew_map_point point = slew_map_judge(&trial, parts, &prepared, r);
    double *to = result_block;
    *to++ = r->stored[SLEW_ROTATION];
    *to++ = r->stored[SLEW_ELEVATION];
    to = put_part(to, &r->stow);
    to = put_part(to, &r->deploy);
    *to++ = r->end;
    *to++ = r->lowest_voltage;
    *to++ = r->lowest_loaded_voltage;
    *to++ = r->below_floor;
    *to++ = r->peak_current;
    *to++ = r->charge;
    *to++ = r->visit_count;
    *to++ = point.outcome;
    *to++ = point.axis;
    *to++ = point.off;
    *to++ = strikes;
    *to++ = jammed_axis(&r->stow);
}

/* Runs the trial; with an interval above 0 [s] it keeps events and samples, too. Returns 0, or the
 * status of what is wrong; see page_error. */
EXPORT(run) int page_run(double interval)
{
    const slew_parts parts = trial.deploy.given ? SLEW_STOW_AND_DEPLOY : SLEW_STOW_ONLY;
    const slew_observer observer = {.event = take_event,
                                    .sample = interval > 0 ? take_sample : NULL,
                                    .interval = interval > 0 ? interval : 1};
    slew_result result;
    event_count = sample_count = strikes = 0;
    error = (slew_error){0};
    slew_status status = slew_prepare(&trial, parts, &prepared, &error);
    if (status != SLEW_OK)
        return (int)status;
    slew_run_prepared(&trial, &prepared, parts, &observer, &result);
    put_result(parts, &result);
    return SLEW_OK;
}

static void keep_first(void *context, const slew_error *found)
{
    (void)context;
    if (error.message[0] == '\0')
        error = *found;
}

/* Checks the trial as a file is checked. Returns 0, or not; see page_error. */
EXPORT(check) int page_check(void)
{
    error = (slew_error){0};
    return slew_scenario_check(&trial, (slew_error_sink){keep_first, NULL}, (slew_error_sink){0});
}

/* ---- addresses ---- */

EXPORT(result_at) const double *page_result_at(void)
{
    return result_block;
}

EXPORT(events_at) const double *page_events_at(void)
{
    return event_block[0];
}

EXPORT(event_count) int page_event_count(void)
{
    return event_count;
}

EXPORT(samples_at) const double *page_samples_at(void)
{
    return sample_block[0];
}

EXPORT(sample_count) int page_sample_count(void)
{
    return sample_count;
}

/* texts that end in a zero byte: the last error, and words of the library by their number */
EXPORT(error_text) const char *page_error_text(void)
{
    static char text[1024];
    snprintf(text, sizeof text, "%s%s%s", error.key, error.key[0] != '\0' ? ": " : "",
             error.message);
    return text;
}

EXPORT(event_word) const char *page_event_word(int kind)
{
    return slew_event_word((slew_event_kind)kind);
}

EXPORT(fault_word) const char *page_fault_word(int fault)
{
    return slew_fault_word((slew_fault)fault);
}

EXPORT(verdict_word) const char *page_verdict_word(int verdict)
{
    return slew_verdict_word((slew_verdict)verdict);
}

EXPORT(outcome_word) const char *page_outcome_word(int outcome)
{
    return slew_outcome_word((slew_outcome)outcome);
}

EXPORT(version) const char *page_version(void)
{
    return slew_version();
}

EXPORT(key_count) int page_key_count(void)
{
    return slew_key_count();
}
