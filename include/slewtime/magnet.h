/*
 * magnet.h - the magnet of a home sensor: its field, and the window that follows from it.
 *
 * Not in the core of the library, which takes the window as it is (SLEW_ERROR_MAGNET).
 */
#ifndef SLEWTIME_MAGNET_H
#define SLEWTIME_MAGNET_H

#include "slewtime/api.h"
#include "slewtime/scenario.h"

#ifdef __cplusplus
extern "C" {
#endif

/* ---- Its field ---- */

/* Bulirsch's complete elliptic integral
 *     cel(kc, p, a, b) = int_0^(pi/2) (a cos^2 + b sin^2)/(cos^2 + p sin^2) dphi/sqrt(cos^2 + kc^2
 * sin^2), its principal value for p < 0. R. Bulirsch, Numer. Math. 13 (1969) 305-315. Carlson's
 * integrals of GSL give it with an error of some 1e-16 of itself and of |a| K; 1e-50 <= |kc| <=
 * 1e50 and 1e-100 <= p <= 1e100 (p = 0 if b = 0), NaN otherwise. M5.3 */
SLEW_API double slew_bulirsch_cel(double kc, double p, double a, double b);

/* Flux density [T] of a cylinder of that remanence [T], `diameter` and `length` [m] > 0, magnetised
 * along its axis and alone in space: along the axis, and away from it. The place is `offset` [m]
 * beside the axis and `height` [m] from the centre of the magnet, towards its north face. Outside,
 * inside and on the axis; on the curved surface the axial one is the mean of both sides. The error
 * is some 1e-16 of the remanence: 1e-14 of the field itself close by, 1e-11 at a hundred radii. NaN
 * on the two rims, where the radial one is infinite. A run needs the axial one alone; the radial
 * one is for those whose switch lies flat. Derby and Olbert, Am. J. Phys. 78 (2010) 229-235. M5.4
 */
SLEW_API double slew_magnet_axial(double remanence, double diameter, double length, double offset,
                                  double height);
SLEW_API double slew_magnet_radial(double remanence, double diameter, double length, double offset,
                                   double height);

/* ---- Its window ---- */

/* How a home sensor sees its magnet. */
typedef enum slew_sight {
    SLEW_SIGHT_GIVEN,       /* no magnet: operate and release are as given */
    SLEW_SIGHT_CLOSES,      /* they follow from the magnet */
    SLEW_SIGHT_TOO_WEAK,    /* over the magnet it is below operate_flux: never closes */
    SLEW_SIGHT_NEVER_OPENS, /* half a turn away it is above release_flux: release is INFINITY */
} slew_sight;

/* Axial flux density [T] at the switch with the axis `turned` [rad] away from home. M5.5 */
SLEW_API double slew_home_flux(const slew_magnet *magnet, double turned);

/* What a run makes of a home sensor: operate and release of *home are replaced by the angles at
 * which the flux density falls to operate_flux and release_flux, going outwards. One that never
 * closes is not present, unless it is stuck; so is one whose magnet lacks a figure. Takes some 20
 * evaluations of the field. M5.6 */
SLEW_API slew_sight slew_home_resolve(slew_home *home);

/* ---- Where it is not what the sensor needs ---- */

/* true: a sensor that is there and not stuck never closes, for its magnet is too weak. */
SLEW_API bool slew_sensor_is_blind(const slew_setup *setup, int axis);

/* A sensor and what is wrong with it on one occasion. */
typedef struct slew_sensor_doubt {
    int axis;
    slew_occasion occasion;
    slew_sight sight;    /* SLEW_SIGHT_TOO_WEAK or SLEW_SIGHT_NEVER_OPENS */
    double flux;         /* that it has: over the magnet, or half a turn away [T] */
    double operate_flux; /* that it needs to close [T] */
    int key;             /* the figure of its magnet that the uppermost layer of the occasion sets,
                            as an index into the key table; -1: none does, it is as in the file */
    slew_layer_id layer; /* that sets it */
} slew_sensor_doubt;

enum { SLEW_SENSOR_DOUBTS_MAX = 3 * SLEW_AXES };

/* Finds them on each occasion that the scenario has, by axis; what is the same on the next occasion
 * is found once. Returns how many. */
SLEW_API int slew_sensor_doubts(const slew_scenario *scenario,
                                slew_sensor_doubt list[SLEW_SENSOR_DOUBTS_MAX]);

#ifdef __cplusplus
}
#endif

#endif
