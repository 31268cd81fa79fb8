/* card_step.h - the steps of a check card, and what the instruments show in one of them. */
#ifndef SLEW_STUDY_CARD_STEP_H
#define SLEW_STUDY_CARD_STEP_H

#include "slewtime/card.h"

/* What one step comes to on one truck on one day. */
typedef struct slew_card_taken {
    bool made; /* false: it can't be; `why` says the reason */
    char why[SLEW_WHY_MAX];
    slew_verdict says; /* of a run */
    slew_fault fault;
    int axis;
    bool meets_stop;                    /* an axis is driven onto a hard stop in it */
    double value[SLEW_CARD_READ_COUNT]; /* NaN where the step has no such reading [SI] */
} slew_card_taken;

/* Fills in the steps: what is done and read, nothing expected yet. */
void slew_card_menu(const slew_prepared *prepared, slew_card *card);

/* Makes one step. Allocates nothing. */
void slew_card_take(const slew_card_step *step, const slew_scenario *scenario,
                    const slew_prepared *prepared, slew_card_taken *out);

#endif
