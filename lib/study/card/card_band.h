/* card_band.h - what an instrument shows of what sound trucks do. M12.7 */
#ifndef SLEW_STUDY_CARD_BAND_H
#define SLEW_STUDY_CARD_BAND_H

#include <stddef.h>
#include <stdint.h>

#include "slewtime/card.h"

/* outside of the central 95 %, at each end */
#define SLEW_CARD_TAIL 0.025

/* The value below which a share of what is read lies: of each of n > 0 sorted cases with a normal
 * error of this sd (a mixture of normals), to a thousandth of it. */
double slew_card_quantile(const double *sorted, size_t n, double sd, double share);

/* a stopwatch and a clamp show nothing below 0 */
double slew_card_lowest(slew_card_read read);

/* What the instrument shows of a value: with an error that belongs to sample and figure alone. */
double slew_card_shown(double value, double sd, slew_card_read read, int64_t sample, int figure);

#endif
