/* sobol.h - GSL's Sobol points in memory of our own: its own way of getting some ends the process
 * where there is none. */
#ifndef SLEW_STUDY_SAMPLING_SOBOL_H
#define SLEW_STUDY_SAMPLING_SOBOL_H

#include <gsl/gsl_qrng.h>
#include <stdbool.h>

/* Before the first point of so many dimensions, 1 to 40. false: memory is short. To be closed in
 * either case. */
bool slew_sobol_open(gsl_qrng *generator, int dimensions);
void slew_sobol_close(gsl_qrng *generator);

#endif
