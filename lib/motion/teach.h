/* teach.h - teaching in steps, so that many points of one truck are taught after one search. */
#ifndef SLEW_MOTION_TEACH_H
#define SLEW_MOTION_TEACH_H

#include "motion/sequences.h"

/* A machine that is being taught. */
typedef struct slew_teaching {
    const slew_scenario *scenario; /* its stow point may change between the steps */
    slew_error *error;
    slew_machine machine;
    slew_course course; /* of this machine */
} slew_teaching;

/* Sets the machine up and lets it search for home. Errors: those of slew_teach. */
slew_status slew_teaching_begin(const slew_scenario *scenario, slew_error *error,
                                slew_teaching *out);

/* The axis that is taught first. */
int slew_teaching_first(const slew_scenario *scenario);

/* Teaches one axis, from where the steps before have left the machine. */
slew_status slew_teaching_axis(slew_teaching *teaching, int axis, double *stored);

/* A machine that can go its own way from here on. */
void slew_teaching_copy(const slew_teaching *from, slew_teaching *to);

#endif
