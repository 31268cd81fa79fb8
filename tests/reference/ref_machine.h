/*
 * ref_machine.h - the constants of one occasion, derived from a resolved setup.
 */
#ifndef REF_MACHINE_H
#define REF_MACHINE_H

#include "slewtime/scenario.h"

typedef struct ref_axis {
    double sign;             /* true over commanded direction */
    double K;                /* motor constant [V s/rad] */
    double R;                /* motor and drive [ohm] */
    double drop;             /* of the drive [V] */
    double b, Tc;            /* viscous [N m s/rad] and Coulomb [N m] friction of the motor */
    double breakaway;        /* on Tc at rest */
    double N;                /* motor turns per output turn */
    double eta, eta_b;       /* gear, forward and backward */
    double J;                /* at the motor [kg m2] */
    double friction;         /* at the output [N m] */
    double low, high;        /* hard stops [rad] */
    double home;             /* centre of the window [rad] */
    double operate, release; /* [rad] */
    bool present, stuck;     /* home sensor */
} ref_axis;

typedef struct ref_machine {
    double line_E, line_R;   /* main source and feed, shared load drawn [V], [ohm] */
    double main_E, other;    /* main source alone [V]; shared load [A] */
    bool auxiliary;          /* fitted */
    double auxiliary_E;      /* [V] */
    double auxiliary_R;      /* [ohm] */
    double joint_E, joint_R; /* both sources together [V], [ohm] */
    double mgr_up, mgr_side; /* m g r cos(tilt), m g r sin(tilt) [N m] */
    double downhill;         /* azimuth [rad] */
    double reaction[2];      /* nozzle reaction times arm [N m] */
    bool brake;              /* drive-off shorts the motor */
    double trip;             /* stall current [A] */
    double brownout, floor;  /* voltages [V] */
    ref_axis axis[2];
} ref_machine;

/* Derives the constants; false with a reason if the setup makes no machine. */
bool ref_machine_build(const slew_setup *setup, ref_machine *machine, char *why, size_t why_size);

/* The home sensor's window: as given, or from its magnet. */
void ref_home_build(const slew_home *from, ref_axis *axis);

/* Torque at the output that opposes + motion, without friction [N m]. */
double ref_load_torque(const ref_machine *machine, int axis, double psi, double eps);

/* Kinematic viscosity at T [K] by ASTM D341 (Walther) from that at 40 and 100 degC [mm2/s]. */
double ref_viscosity(double nu40, double nu100, double T);

/* Nozzle reaction while flowing [N]. */
double ref_reaction(const slew_nozzle *nozzle);

/* Resistance of the feed, there and back, with its joints [ohm]. */
double ref_feed_resistance(const slew_feed *feed, double T);

#endif
