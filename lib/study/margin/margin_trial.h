/* margin_trial.h - one sample, taught at one clearance from a stop and stowed. */
#ifndef SLEW_STUDY_MARGIN_TRIAL_H
#define SLEW_STUDY_MARGIN_TRIAL_H

#include <pthread.h>

#include "slewtime/margin.h"

/* clearances are counted in steps of a grid */
enum { SLEW_MARGIN_FIRST = 5 };
#define SLEW_MARGIN_GRID (0.05 * 3.14159265358979323846 / 180) /* [rad] */

/* figures of one clearance in one sample; all NaN: it can't be taught */
enum {
    SLEW_MARGIN_F_FAULT,
    SLEW_MARGIN_F_PRESSED,
    SLEW_MARGIN_F_UNSAFE,
    SLEW_MARGIN_F_TOUCHED,
    SLEW_MARGIN_F_SHORT,
    SLEW_MARGIN_F_NEAR,
    SLEW_MARGIN_F_OTHER,
    SLEW_MARGIN_FIGURES
};

typedef struct slew_margin_taught {
    slew_status status;
    double stored[SLEW_AXES]; /* [s] */
} slew_margin_taught;

/* One axis of one scenario, against one of its stops. */
typedef struct slew_margin_case {
    const slew_scenario *scenario;
    int axis, side;             /* side: -1 low, +1 high */
    int last;                   /* the largest clearance [grid steps] */
    int floor;                  /* needs below it are not told apart, SLEW_MARGIN_FIRST: all are */
    int start;                  /* where the search for a need begins, not below the floor */
    slew_margin_taught *taught; /* [0 .. last]; NULL: taught anew in each sample */
    const int *step;            /* clearances of the ladder [grid steps] */
    int step_count;
    pthread_mutex_t lock;
    slew_error untaught; /* of all the reasons the first by the alphabet, whatever the threads */
} slew_margin_case;

/* Fills taught where no truck is drawn. SLEW_ERROR_MEMORY. */
slew_status slew_margin_case_open(slew_margin_case *c);
void slew_margin_case_close(slew_margin_case *c);

/* Questions of an ensemble whose context is a slew_margin_case. The first: the smallest clearance
 * that is safe, at least the floor [grid steps]; INFINITY: none, NaN: it can't be taught at the
 * last. The second: SLEW_MARGIN_FIGURES for each clearance of the ladder. */
slew_question slew_margin_ask_need, slew_margin_ask_ladder;

#endif
