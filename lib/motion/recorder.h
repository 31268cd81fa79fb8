/*
 * recorder.h - what is written down while a machine goes on: events, keep-out visits, extremes,
 * samples.
 */
#ifndef SLEW_MOTION_RECORDER_H
#define SLEW_MOTION_RECORDER_H

#include "slewtime/machine.h"

/* A machine and who looks on: what the rooms below hand each other. All that lasts is in the
 * machine.
 */
typedef struct slew_course {
    slew_machine *machine;
    const slew_plant_model *model; /* what it runs on */
    const slew_setup *setup;
    const slew_observer *observer; /* NULL: nobody looks */
    slew_result *result;           /* keeps the keep-out visits; NULL: nobody does */
    int64_t next_sample;           /* index on the sampling grid */
    bool stopped;                  /* the observer asked to */
} slew_course;

/* Adds the marks by which keep-out visits are noticed. */
void slew_recorder_mark_keepout(const slew_keepout *keepout, slew_plant_model *model);

/* Nothing is recorded yet. */
void slew_recorder_start(slew_machine *machine);

/* Compares the keep-out boxes with the plant's angles: at the start. */
void slew_recorder_look(slew_course *course, const slew_keepout *keepout);

/* Tells the observer; fills in the readings. */
void slew_recorder_event(slew_course *course, slew_event event);

/* One that is no more than its kind, axis and direction. */
void slew_recorder_tell(slew_course *course, slew_event_kind kind, int axis, int direction);

/* Turns an event of the plant into one of the run, where it is one. */
void slew_recorder_plant_event(slew_course *course, slew_plant_event event);

/* Adds extremes and charge of a span. `loaded`: it counts as under load, where the voltage is
 * compared with `floor` [V]. */
void slew_recorder_span(slew_meters *meters, const slew_plant_span *span, bool loaded,
                        double floor);

static inline bool slew_recorder_is_sampled(const slew_course *c)
{
    return c->observer && c->observer->sample;
}

/* Time of the next sample on the grid; INFINITY: nobody looks. */
double slew_recorder_next_sample(const slew_course *course);

/* What a trace shows of a plant. */
slew_sample slew_recorder_look_at(const slew_plant_model *model, const slew_plant *plant);

/* One sample of a plant's state; `on_grid`: the one that was due. */
void slew_recorder_sample(slew_course *course, const slew_plant *plant, bool on_grid);

#endif
