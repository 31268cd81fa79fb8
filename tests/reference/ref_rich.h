/*
 * ref_rich.h - one axis with one more effect than lib/MODEL.md has, by SUNDIALS CVODE: to measure
 * what leaving it out costs. Elevation alone, from homing to the deploy; rotation stands at 0.
 *
 * Friction is smoothed over REF_RICH_CREEP of motor speed, with and without the effect alike.
 */
#ifndef REF_RICH_H
#define REF_RICH_H

#include "slewtime/scenario.h"

#define REF_RICH_CREEP 0.02 /* [rad/s] */

typedef enum ref_effect {
    REF_PLAIN,
    REF_INDUCTANCE, /* L/R of 1 ms */
    REF_STRIBECK,   /* all Coulomb friction is `breakaway` times as large at rest, less by exp(-x^2)
                       with x = speed/5 % of the no-load speed */
    REF_BACKLASH,   /* 0.2 deg at the output between rotor and load, and a shaft that stall torque
                       twists by 0.3 deg, 5 % of critical damping */
    REF_BATTERY,    /* the source has its internal resistance once more, after 10 s (RC) */
    REF_GREASE,     /* viscous drag goes with the power 2/3 of speed, the same at no-load speed */
    REF_SOFT_STOP,  /* stall torque presses the stop in by 0.2 deg; else by 0.002 deg */
    REF_EFFECTS
} ref_effect;

typedef struct ref_rich {
    double stored;       /* taught time, signed [s] */
    double stow, deploy; /* where elevation rests [rad] */
} ref_rich;

/* Taught at the point, homed and stowed today, deployed on the deploy day, all with the effect.
 * `pressed`: the stow drives on to the lower stop and 0.25 s against it. The three setups are
 * resolved, without an auxiliary battery. 0, or nonzero if the solver fails or no time leads to the
 * point. */
int ref_rich_run(const slew_scenario *scenario, const slew_setup setup[3], ref_effect effect,
                 bool pressed, ref_rich *out);

#endif
