/*
 * watch.h - what will happen next inside a step.
 *
 * Every possible event has a margin: a smooth function along the step that is not negative while
 * nothing happens and falls below zero at the event. The sign of each margin follows the discrete
 * state, so that an event that has happened is disarmed until its opposite has.
 */
#ifndef SLEW_MOTION_WATCH_H
#define SLEW_MOTION_WATCH_H

#include "slewtime/plant.h"

enum slew_watch_kind {
    SLEW_WATCH_NOTHING,
    SLEW_WATCH_SWITCH,  /* home sensor of `axis` changes */
    SLEW_WATCH_MARK,    /* `axis` passes the mark next to it */
    SLEW_WATCH_STOP,    /* `axis` meets its stop */
    SLEW_WATCH_REST,    /* speed of `axis` reaches zero */
    SLEW_WATCH_GEAR,    /* load on `axis` begins or ceases to drive its gear */
    SLEW_WATCH_REGIME,  /* auxiliary battery begins or ceases to feed */
    SLEW_WATCH_CURRENT, /* drive current of `axis` passes watch_current */
    SLEW_WATCH_VOLTAGE, /* voltage passes watch_voltage[index] */
    SLEW_WATCH_START,   /* resting, driven `axis` starts */
    SLEW_WATCH_DRAG,    /* resting, driven `axis` is dragged back */
    SLEW_WATCH_SLIP     /* resting `axis` with its drive off is moved in direction `index` */
};

/* Finds the first event of speeds, currents, voltage and loads in the plant's step from now on:
 * plant->smooth. */
void slew_watch_smooth(const slew_plant_model *model, slew_plant *plant);

/* The drive current of an axis, asked for alone from now on: an event before that one takes its
 * place. */
void slew_watch_current(const slew_plant_model *model, slew_plant *plant, int axis);

/* Finds the first stop, switch edge or mark before that: plant->angles. */
void slew_watch_angles(const slew_plant_model *model, slew_plant *plant);

/* Finds where the sum of the drive currents is greatest, and with it the voltage lowest, inside the
 * step: step.peak. */
void slew_watch_peaks(slew_plant *plant);

#endif
