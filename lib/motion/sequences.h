/*
 * sequences.h - search, timed moves, stow, deploy and jog of the built-in controller, M6: one leg
 * after the other, each a phase that waits for something.
 */
#ifndef SLEW_MOTION_SEQUENCES_H
#define SLEW_MOTION_SEQUENCES_H

#include "motion/controller.h"

/* what the controller waits for */
typedef enum slew_phase {
    SLEW_PHASE_IDLE,        /* nothing: all axes rest, no task */
    SLEW_PHASE_REST,        /* the axes come to rest after a task */
    SLEW_PHASE_READY_PAUSE, /* before a deploy: pause, then rest, supervised */
    SLEW_PHASE_READY_REST,
    SLEW_PHASE_MOVE_PAUSE, /* before a timed move */
    SLEW_PHASE_MOVE,
    SLEW_PHASE_JOG,
    /* of the search */
    SLEW_PHASE_SETTLE, /* found without moving: what is due at this instant comes first */
    SLEW_PHASE_LOOK_PAUSE,
    SLEW_PHASE_LOOK,
    SLEW_PHASE_LEAVE,   /* drives on to the opening edge */
    SLEW_PHASE_OVERRUN, /* and some more */
    SLEW_PHASE_BACK_PAUSE,
    SLEW_PHASE_BACK
} slew_phase;

/* legs of a sequence, in their order */
enum {
    SLEW_LEG_LIFT,
    SLEW_LEG_HOME_FIRST,
    SLEW_LEG_HOME_SECOND,
    SLEW_LEG_MOVE_FIRST, /* both, if together */
    SLEW_LEG_MOVE_SECOND,
    SLEW_LEG_END
};

/* Sets program and state of a machine whose setup and model are set: at rest at its start angles,
 * at time 0. `stored` NULL: there are no stored times yet, and nobody asks for keep-out. */
void slew_machine_place(slew_course *course, const slew_scenario *scenario,
                        const double stored[SLEW_AXES]);

/* A task begins with one leg and ends before another. SLEW_TASK_NONE: legs without a verdict. */
void slew_sequence_begin(slew_course *course, slew_task task, int leg, int end);

/* Pause and rest under supervision; then the legs that are left. */
void slew_sequence_get_ready(slew_course *course);

/* What of a task's seconds its first timed move drives [s]; all 0: it has none. */
void slew_sequence_first_move(slew_order order, const double seconds[SLEW_AXES],
                              double move[SLEW_AXES]);

/* The timed move that goes on (SLEW_PHASE_MOVE) ends after these seconds from its drive-on, with
 * the same directions and not in the past. */
void slew_sequence_time_move(slew_machine *machine, const double seconds[SLEW_AXES]);

/* Axes are driven as `wanted` says, as soon as the pause allows. */
void slew_sequence_jog(slew_course *course);

/* What goes on ends without a fault: drives off; a fault before is forgotten. */
void slew_sequence_drop(slew_course *course);

/* Ends what goes on with a fault. */
void slew_sequence_fail(slew_course *course, slew_fault fault, int axis);

/* Does what comes next, one event or one due time; only what ends at `horizon` or before. false:
 * nothing does, nothing will any more, or the observer asked to stop. */
bool slew_sequence_step(slew_course *course, double horizon);

/* Steps until the task is over; until all axes rest. false: fault, or the plant stands still for
 * good. */
bool slew_sequence_finish(slew_course *course);
bool slew_sequence_come_to_rest(slew_course *course);

/* ---- between the files of the sequences ---- */

/* The search on one axis, and how a wait in it ended. */
void slew_search_begin(slew_course *course, int axis);
void slew_search_go_on(slew_course *course, slew_wait_end end);

/* The leg is over, the next one begins. */
void slew_sequence_next_leg(slew_course *course);

#endif
