/* ask.h - the question which demands a sample misses. */
#ifndef SLEW_STUDY_DEMANDS_ASK_H
#define SLEW_STUDY_DEMANDS_ASK_H

#include "slewtime/demands.h"

typedef struct slew_demands_asking {
    const slew_scenario *scenario;
    slew_parts parts;
} slew_demands_asking;

/* One figure, of a slew_demands_asking: the demands missed, bit by bit. */
slew_question slew_demands_ask;

/* The same from the figure, which is NaN where the sample can't run. */
unsigned slew_demands_mask(const slew_demands_asking *asking, double figure);

/* as many trucks as tell the share of 95 % of them, and days in shifts of Sobol points, whose
 * scatter tells how well a truck's share is known */
enum { SLEW_TRUCKS = 128, SLEW_TRUCK_SHIFTS = 4 };

/* What the shares of so many days that miss a demand, in each shift of each truck, tell of such
 * trucks: M9.7. */
void slew_trucks_conclude(double shift[SLEW_TRUCK_SHIFTS][SLEW_TRUCKS], int days, double limit,
                          slew_truck_state *out);

#endif
