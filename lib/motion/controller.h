/*
 * controller.h - the built-in controller: drives, clocks and supervision, on the plant's doors
 * alone (plant.h, progress.h).
 *
 * M6. It counts in commanded directions and decides by home sensors, drive currents and its own
 * voltage; where an axis stands it asks only to name a fault (M6.6). Nothing here blocks: a wait
 * goes on from where the machine is, as far as it is let, and says how it ended.
 */
#ifndef SLEW_MOTION_CONTROLLER_H
#define SLEW_MOTION_CONTROLLER_H

#include "motion/recorder.h"

/* When a home sensor edge at `time` is looked at: the next instant of the grid; 0: no grid. M5.2 */
double slew_sampling_instant(double grid, double time);

/* Drives off, clocks stopped; the plant stands at its start. */
void slew_controller_start(slew_machine *machine);

/* Brings the comparators in line with the plant's. */
void slew_controller_compare(slew_machine *machine);

/* The current of a drive is heard again once its blank time is over. Until then it counts as over
 * the threshold: nothing hangs on it. */
void slew_controller_hear(slew_course *course);

/* The plant goes on under another model and setup, which must last as long as the course. */
void slew_controller_transfer(slew_course *course, const slew_plant_model *model,
                              const slew_setup *setup);

/* Switches a drive on; the home sensor of that axis is looked at from now on if `look`. */
void slew_controller_on(slew_course *course, int axis, int direction, bool look);
void slew_controller_off(slew_course *course, int axis);

/* From now on the home sensor of one axis is looked at, or none (SLEW_NO_AXIS). */
void slew_controller_look_at(slew_machine *machine, int sensor);

/* A home sensor has changed: it will be looked at if it is that one. M5.2 What is seen then is
 * noted when it matters: with the next edge, or when it is acted on. */
void slew_controller_note_edge(slew_course *course, int axis);

/* What was, or would be, seen of that sensor at the instant at which it is looked at. */
void slew_controller_see(slew_course *course, bool closed);

/* Ends it all: drives off, fault told. */
void slew_controller_fail(slew_course *course, slew_fault fault, int axis);

/* The home sensors are not looked at while it waits until `until` [s], or now. */
void slew_controller_wait_blind(slew_machine *machine, double until);

/* Time of the end of the pause after the last drive-off, or now [s]. M6.4 */
double slew_controller_pause_end(const slew_course *course);

typedef enum slew_wait_end {
    SLEW_WAIT_BEYOND,  /* what comes next ends beyond the horizon */
    SLEW_WAIT_GOES_ON, /* something happened on the way */
    SLEW_WAIT_TIME,    /* wait_until is reached; all axes rest */
    SLEW_WAIT_CLOSED,  /* a closing edge is acted on */
    SLEW_WAIT_OPENED,  /* an opening edge is acted on */
    SLEW_WAIT_STALLED, /* a stall is acted on: *stalled */
    SLEW_WAIT_OVER     /* fault, or the plant stands still for good */
} slew_wait_end;

/* Lets time go on under supervision towards wait_until: one event or one due time. */
slew_wait_end slew_controller_wait(slew_course *course, double horizon, int *stalled);

/* The same towards rest, 60 s at most after the last action. `supervised`: a brownout still counts.
 */
slew_wait_end slew_controller_rest(slew_course *course, double horizon, bool supervised);

/* Tells of the first time that the voltage is below the floor under load. */
void slew_controller_warn(slew_course *course);

/* Ends the plant's span at `time`, before which nothing is due: something is done to it then. */
void slew_controller_catch_up(slew_course *course, double time);

/* Some axis is driven for longer than the blank time. M6.11 */
bool slew_controller_is_loaded(const slew_machine *machine);

#endif
