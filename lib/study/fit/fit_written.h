/* fit_written.h - fitted figures, and which go together, as texts of a scenario file. */
#ifndef SLEW_STUDY_FIT_WRITTEN_H
#define SLEW_STUDY_FIT_WRITTEN_H

#include "keys/keys.h"
#include "slewtime/fit.h"

enum { SLEW_WRITTEN_MAX = 320 };

typedef struct slew_written_figure {
    int key;
    char value[64], spread[SLEW_WRITTEN_MAX];
    slew_variation variation; /* as `spread` reads */
} slew_written_figure;

/* A pair of figures that go together. */
typedef struct slew_written_pair {
    slew_correlation correlation; /* as `text` reads */
    bool there;                   /* in the file's list, at `place`; else it is one more */
    int place;
    char group[48], text[SLEW_WRITTEN_MAX];
} slew_written_pair;

typedef struct slew_written {
    int figures;
    slew_written_figure figure[SLEW_PARAMETERS_MAX];
    int pairs;
    slew_written_pair pair[SLEW_CORRELATIONS_MAX];
} slew_written;

/* Fills `out`; `there` is what the file says of correlations. SLEW_ERROR_INPUT:
 * more pairs than there is room for. */
slew_status slew_written_fill(const slew_fit *fit, const slew_correlations *there,
                              slew_written *out, slew_error *error);

#endif
