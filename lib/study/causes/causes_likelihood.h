/* causes_likelihood.h - how likely it is to see something where a sample has its own figure. */
#ifndef SLEW_STUDY_CAUSES_LIKELIHOOD_H
#define SLEW_STUDY_CAUSES_LIKELIHOOD_H

#include "slewtime/causes.h"

/* Something that was seen, ready to be weighed. */
typedef struct slew_sighting {
    int observable;
    bool is_word;
    double value;   /* [SI] */
    double sd;      /* of a number [SI] */
    double blunder; /* likelihood of a blunder beside that of the figure itself */
    double any;     /* of it where anything may be read, in the same unit */
} slew_sighting;

/* Those of what was seen that have a value; returns how many. */
int slew_sightings_of(const slew_seen *seen, slew_sighting sightings[SLEW_OBSERVABLES]);

/* One sighting of a figure (NaN: the sample has none, so it is a blunder), beside the figure itself
 * seen exactly: 0 < result <= 1 + blunder. M13.2, M13.3 */
double slew_sighting_likelihood(const slew_sighting *sighting, double figure);

/* true: the cause could be in the sample that has these figures. */
bool slew_is_possible(const double *figures);

/* What was seen, to be weighed on samples of causes. */
typedef struct slew_scales {
    const slew_causes *causes;
    slew_sighting sighting[SLEW_OBSERVABLES];
    int count;
} slew_scales;

/* Sum of the likelihoods of all of it in a cause's samples but for one (-1: none), each into `each`
 * (may be NULL); 0 where the cause can't be. */
double slew_weigh(const slew_scales *scales, int cause, int64_t left_out, double *each);

/* A figure as it would be read, from a random number 0 < u < 1: no blunder. */
double slew_figure_read(int observable, double figure, double sd, double u);

#endif
