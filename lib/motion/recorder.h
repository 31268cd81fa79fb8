/*
 * recorder.h - what is written down while a run goes on: events, keep-out visits, extremes,
 * samples.
 */
#ifndef SLEW_MOTION_RECORDER_H
#define SLEW_MOTION_RECORDER_H

#include "slewtime/run.h"

typedef struct slew_recorder {
    const slew_keepout *keepout;
    const slew_observer *observer; /* NULL: nobody looks */
    slew_result *result;
    bool low_voltage_seen;
    bool within[SLEW_KEEPOUT_MAX][SLEW_AXES][2]; /* above the low, below the high bound */
    int open_visit[SLEW_KEEPOUT_MAX];            /* number of the visit that goes on; -1: none */
    int64_t next_sample;                         /* index on the sampling grid */
} slew_recorder;

/* Adds the marks by which keep-out visits are noticed. */
void slew_recorder_mark_keepout(const slew_keepout *keepout, slew_plant_model *model);

void slew_recorder_start(slew_recorder *recorder, const slew_keepout *keepout,
                         const slew_observer *observer, slew_result *result);

/* Compares the keep-out boxes with the plant's angles: at the start. */
void slew_recorder_look(slew_recorder *recorder, const slew_plant *plant);

/* Tells the observer; fills in the readings. */
void slew_recorder_event(slew_recorder *recorder, const slew_plant *plant, slew_event event);

/* Turns an event of the plant into one of the run, where it is one. */
void slew_recorder_plant_event(slew_recorder *recorder, const slew_plant *plant,
                               slew_plant_event event);

/* Takes the extremes and the charge of the last advance. `loaded`: it counts as under load, where
 * the voltage is compared with `floor` [V]. */
void slew_recorder_span(slew_recorder *recorder, const slew_plant *plant, bool loaded,
                        double floor);

/* Time of the next sample on the grid; INFINITY: nobody looks. */
double slew_recorder_next_sample(const slew_recorder *recorder);

/* One sample of the present state; `on_grid`: the one that was due. */
void slew_recorder_sample(slew_recorder *recorder, const slew_plant_model *model,
                          const slew_plant *plant, bool on_grid);

#endif
