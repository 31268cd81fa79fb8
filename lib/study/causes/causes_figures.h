/* causes_figures.h - the figures of one run, as somebody at the truck would read them. */
#ifndef SLEW_STUDY_CAUSES_FIGURES_H
#define SLEW_STUDY_CAUSES_FIGURES_H

#include "slewtime/causes.h"

#define SLEW_VISIBLE_TURN 3e-3 /* least turn that somebody sees [rad] */

/* Runs a prepared scenario and fills in what is seen and metered of it. */
void slew_figures_of_run(const slew_scenario *scenario, const slew_prepared *prepared,
                         double *figures);

/* Asks the machine what the checks read. `healthy` has the home marks and stops as they should be.
 */
void slew_figures_of_checks(const slew_scenario *scenario, const slew_prepared *prepared,
                            const slew_setup *healthy, double *figures);

#endif
