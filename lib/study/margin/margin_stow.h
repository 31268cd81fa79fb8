/* margin_stow.h - the stow of one day, for many stored times: searched for home once. */
#ifndef SLEW_STUDY_MARGIN_STOW_H
#define SLEW_STUDY_MARGIN_STOW_H

#include "slewtime/machine.h"
#include "slewtime/margin.h"

/* what is seen of one stow */
typedef struct slew_margin_seen {
    int axis, side;
    int found;    /* axes at home */
    bool touched; /* the stop, after that */
    slew_verdict says;
    slew_fault fault;
    int fault_axis;
    bool holds;
    double angle; /* at rest [rad] */
} slew_margin_seen;

/* A stow just before its timed moves are begun, or before it ends without them. */
typedef struct slew_margin_day {
    const slew_prepared *prepared;
    slew_machine machine;
    slew_margin_seen seen; /* until then */
} slew_margin_day;

/* Stows up to there; `prepared` has to last. */
void slew_margin_day_begin(const slew_scenario *scenario, const slew_prepared *prepared, int axis,
                           int side, slew_margin_day *out);

/* The rest with these stored times [s]: to the last bit what slew_run_prepared makes of them. */
slew_margin_seen slew_margin_day_stow(const slew_margin_day *day, const double stored[SLEW_AXES]);

#endif
