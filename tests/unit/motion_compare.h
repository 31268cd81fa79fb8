/* motion_compare.h - what two implementations of lib/MODEL.md make of one scenario, compared. */
#ifndef TESTS_UNIT_MOTION_COMPARE_H
#define TESTS_UNIT_MOTION_COMPARE_H

#include "motion_both.h"

#include <stdlib.h>

/* What two implementations of lib/MODEL.md agree on, the reference at what doubles can do. Voltage
 * and current change by up to 100 V/s and A/s at a jump, so that they follow the time at 100 times
 * its tolerance. */
typedef struct limits {
    double time, angle;
} limits;

static const limits CLAIMED = {1e-9, 1e-10}; /* M8.3 */
/* where it may hang on a quantity that creeps through its threshold */
static const limits CREEPING = {1e-6, 1e-6};
static const double METER_PER_TIME = 100.0;

static const double RTOL = 1e-13, ATOL = 1e-15; /* of the reference */

/* ---- Comparing ---- */

typedef struct difference {
    limits allowed;
    bool found;
    char text[256];
    double time, angle; /* the largest so far */
} difference;

static inline void differ(difference *d, const char *what, double ours, double theirs,
                          double tolerance)
{
    if (ours == theirs || (isnan(ours) && isnan(theirs)) || fabs(ours - theirs) <= tolerance ||
        d->found)
        return;
    d->found = true;
    snprintf(d->text, sizeof d->text, "%s: %.12g, reference %.12g", what, ours, theirs);
}

static inline void compare_event(const slew_event *ours, const slew_event *theirs, difference *d)
{
    char what[64];
    snprintf(what, sizeof what, "%s at %.7f s", slew_event_word(ours->kind), ours->time);
    if (!same_sort(ours, theirs)) {
        d->found = true;
        snprintf(d->text, sizeof d->text, "%s, reference %s at %.7f s", what,
                 slew_event_word(theirs->kind), theirs->time);
    }
    differ(d, what, ours->time, theirs->time, d->allowed.time);
    for (int j = 0; j < SLEW_AXES; j++) {
        differ(d, what, ours->angle[j], theirs->angle[j], d->allowed.angle);
        d->angle = fmax(d->angle, fabs(ours->angle[j] - theirs->angle[j]));
    }
    d->time = fmax(d->time, fabs(ours->time - theirs->time));
    differ(d, what, ours->voltage, theirs->voltage, METER_PER_TIME * d->allowed.time);
    differ(d, what, ours->current, theirs->current, METER_PER_TIME * d->allowed.time);
    differ(d, what, ours->energy, theirs->energy, METER_PER_TIME * d->allowed.time);
}

static inline void compare_part(const slew_part *ours, const slew_part *theirs, difference *d)
{
    differ(d, "verdict", ours->says, theirs->says, 0.0);
    differ(d, "fault", ours->fault, theirs->fault, 0.0);
    differ(d, "axis", ours->axis, theirs->axis, 0.0);
    differ(d, "holds", ours->holds, theirs->holds, 0.0);
    differ(d, "target", ours->has_target, theirs->has_target, 0.0);
    differ(d, "on target", ours->on_target, theirs->on_target, 0.0);
    differ(d, "duration", ours->duration, theirs->duration, d->allowed.time);
    for (int j = 0; j < SLEW_AXES; j++)
        differ(d, "end angle", ours->angle[j], theirs->angle[j], d->allowed.angle);
}

static inline void compare_visits(const slew_result *ours, const slew_result *theirs, difference *d)
{
    differ(d, "visits", ours->visit_count, theirs->visit_count, 0.0);
    for (int i = 0; i < ours->visit_count && i < SLEW_KEEPOUT_VISITS_MAX; i++) {
        differ(d, "box", ours->visit[i].box, theirs->visit[i].box, 0.0);
        differ(d, "entered", ours->visit[i].entered, theirs->visit[i].entered, d->allowed.time);
        differ(d, "left", ours->visit[i].left, theirs->visit[i].left, d->allowed.time);
    }
}

static inline void compare_results(const slew_result *ours, const slew_result *theirs,
                                   difference *d)
{
    for (int j = 0; j < SLEW_AXES; j++)
        differ(d, "stored", ours->stored[j], theirs->stored[j], d->allowed.time);
    compare_part(&ours->stow, &theirs->stow, d);
    compare_part(&ours->deploy, &theirs->deploy, d);
    differ(d, "end", ours->end, theirs->end, d->allowed.time);
    differ(d, "lowest voltage", ours->lowest_voltage, theirs->lowest_voltage,
           METER_PER_TIME * d->allowed.time);
    differ(d, "under load", ours->lowest_loaded_voltage, theirs->lowest_loaded_voltage,
           METER_PER_TIME * d->allowed.time);
    differ(d, "below floor", ours->below_floor, theirs->below_floor, 0.0);
    differ(d, "peak current", ours->peak_current, theirs->peak_current,
           METER_PER_TIME * d->allowed.time);
    differ(d, "charge", ours->charge, theirs->charge, METER_PER_TIME * d->allowed.time);
    compare_visits(ours, theirs, d);
}

/* Boxes that are entered, or left, at one place are so in no order: put into that of their numbers.
 */
static inline bool are_at_once(const slew_event *a, const slew_event *b)
{
    const bool boxes = a->kind == b->kind && a->box >= 0 && b->box >= 0;
    return boxes && fabs(a->time - b->time) <= CLAIMED.time;
}

static inline void number_boxes(story *s)
{
    for (int i = 1; i < s->count; i++)
        for (int k = i; k > 0 && are_at_once(&s->event[k - 1], &s->event[k]) &&
                        s->event[k - 1].box > s->event[k].box;
             k--) {
            const slew_event later = s->event[k - 1];
            s->event[k - 1] = s->event[k];
            s->event[k] = later;
        }
    slew_keepout_visit *v = s->result.visit;
    for (int i = 1; i < s->result.visit_count && i < SLEW_KEEPOUT_VISITS_MAX; i++)
        for (int k = i;
             k > 0 && v[k].entered - v[k - 1].entered <= CLAIMED.time && v[k - 1].box > v[k].box;
             k--) {
            const slew_keepout_visit later = v[k - 1];
            v[k - 1] = v[k];
            v[k] = later;
        }
}

static inline void compare_stories(const story *ours, const story *theirs, difference *d)
{
    for (int i = 0; i < ours->count && i < theirs->count && !d->found; i++)
        compare_event(&ours->event[i], &theirs->event[i], d);
    differ(d, "number of events", ours->count, theirs->count, 0.0);
    if (!d->found)
        compare_results(&ours->result, &theirs->result, d);
}

/* ---- Both runs ---- */

/* false: both refuse the scenario. The reference keeps the book of energy where there is one. */
static inline bool compare_runs(const slew_scenario *s, limits allowed, ref_balance *balance,
                                story *ours, difference *d)
{
    static story theirs;
    ref_options options = {.solver = REF_CVODE, .rtol = RTOL, .atol = ATOL, .balance = balance};
    char why[256] = "";
    *d = (difference){.allowed = allowed};
    try_run(s, SLEW_STOW_AND_DEPLOY, ours);
    const int refused = run_reference(s, &options, &theirs, why, sizeof why);
    if ((ours->status != SLEW_OK) != (refused != 0)) {
        d->found = true;
        snprintf(d->text, sizeof d->text, "only one refuses it: %.80s | %.80s",
                 ours->status ? ours->error.message : "", why);
    }
    if (ours->status != SLEW_OK || refused)
        return false;
    number_boxes(ours);
    number_boxes(&theirs);
    compare_stories(ours, &theirs, d);
    if (d->found && getenv("SLEWTIME_TEST_VERBOSE")) {
        print_story("library", ours);
        print_story("reference", &theirs);
    }
    return true;
}

/* ---- Discontinuities ---- */

/* scales a key in the file and where a layer hides it */
static inline void nudge(slew_scenario *s, const char *path, double factor)
{
    const int key = slew_key_find(path);
    slew_scenario_set_number(s, SLEW_LAYER_FILE, key, slew_scenario_get_number(s, key) * factor);
    for (int i = 0; i < s->today.count; i++)
        if (s->today.item[i].key == key)
            s->today.item[i].value *= factor;
}

static inline bool differs_much(const story *a, const story *b)
{
    difference d = {0};
    differ(&d, "status", a->status, b->status, 0.0);
    differ(&d, "count", a->count, b->count, 0.0);
    for (int i = 0; i < a->count && !d.found; i++) {
        differ(&d, "time", a->event[i].time, b->event[i].time, 1e-4);
        d.found = d.found || !same_sort(&a->event[i], &b->event[i]);
    }
    differ(&d, "under load", a->result.lowest_loaded_voltage, b->result.lowest_loaded_voltage,
           1e-3);
    return d.found;
}

/* A run is truly discontinuous where two deciding instants meet: then a supply or a timer different
 * by 1e-8, which moves instants by 1e-7 s at most, gives another story. */
static inline bool is_discontinuous(const slew_scenario *scenario, const story *ours)
{
    static const char *const keys[] = {"supply.main.voltage", "controller.stall.blank",
                                       "controller.stall.dwell", "controller.latency"};
    static story other;
    for (size_t i = 0; i < 2 * (sizeof keys / sizeof *keys); i++) {
        slew_scenario s = *scenario;
        nudge(&s, keys[i / 2], i % 2 ? 1.0 + 1e-8 : 1.0 - 1e-8);
        try_run(&s, SLEW_STOW_AND_DEPLOY, &other);
        if (differs_much(ours, &other))
            return true;
    }
    return false;
}

#endif
