/*
 * ref_motor.c - a plain linear motor through the same right-hand side.
 */
#include <string.h>

#include "ref_stepper.h"

/* one axis with an ideal gear and supply, the other at rest */
static void build_motor_alone(ref_machine *m, double J, double b, double K, double R, double V)
{
    memset(m, 0, sizeof *m);
    m->line_E = V;
    m->brake = true;
    m->trip = 1e300;
    for (int a = 0; a < 2; a++)
        m->axis[a] = (ref_axis){.sign = 1.0,
                                .K = K,
                                .R = R,
                                .b = b,
                                .breakaway = 1.0,
                                .N = 1.0,
                                .eta = 1.0,
                                .eta_b = 1.0,
                                .J = J,
                                .low = -1e300,
                                .high = 1e300};
}

int ref_motor_step(double J, double b, double K, double R, double L, double V, double t,
                   double *speed, double *current)
{
    ref_options options = {.solver = REF_CVODE, .inductance = true, .inductance_h = {L, L}};
    ref_machine machine;
    build_motor_alone(&machine, J, b, K, R, V);
    ref_motion motion = {.machine = &machine,
                         .inductance = true,
                         .L = {L, L},
                         .states = REF_STATES,
                         .s = {1, 0},
                         .q = {1, 0},
                         .forward = {true, true},
                         .place = {1e300, 1e300}};
    double y[REF_STATES] = {0};
    ref_step_end end = REF_STEP_FAILED;
    ref_stepper *st = ref_stepper_open(&options, REF_STATES);
    if (!st)
        return 1;
    if (ref_stepper_begin(st, &motion, 0.0, y, t))
        do
            end = ref_stepper_step(st, t);
        while (end == REF_STEP_GOES_ON);
    *speed = st->y[REF_SPEED];
    *current = st->y[REF_CURRENT];
    ref_stepper_close(st);
    return end == REF_STEP_STOP ? 0 : 2;
}
