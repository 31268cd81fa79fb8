/*
 * margin_tail.h - samples where it matters: some as they are drawn, some shifted towards the tail.
 *
 * M9.6. A sample is known by its normal scores, one for each number drawn. A part of the samples is
 * drawn with scores of mean 0, as nature does, every other part with means of its own; a sample
 * weighs as much as it is more often in nature than in all the parts together.
 */
#ifndef SLEW_STUDY_MARGIN_TAIL_H
#define SLEW_STUDY_MARGIN_TAIL_H

#include "slewtime/study.h"

enum { SLEW_TAIL_PARTS = 12, SLEW_TAIL_DIMENSIONS = 2 * SLEW_VARIATIONS_MAX };

typedef struct slew_tail {
    int dimensions;
    int parts;                                           /* 1: as nature draws */
    double shift[SLEW_TAIL_PARTS][SLEW_TAIL_DIMENSIONS]; /* part 0: none */
    double share[SLEW_TAIL_PARTS];                       /* of the samples, 1 in all */
    double begins; /* the figure from which on it is the tail, as far as is known; NaN: unknown */
    bool short_of_memory; /* some time it could not be asked: what came of it is no answer */
} slew_tail;

/* Nature alone. */
slew_tail slew_tail_begin(int dimensions);

/* One more part, of no share yet, around the mean scores of those of `count` samples of `tail`
 * whose figure is at least that of the `least`-th largest, or lower until they hold `wanted` of all
 * the weight. false: there is nothing to tell them by, no room, or no memory; *reached: no need to
 * go further out. NaN figures do not count. */
bool slew_tail_add(slew_tail *tail, const double *score, const double *figure, int64_t count,
                   int64_t least, double wanted, bool *reached);

/* The last part is one of `levels` equal heaps of samples, the others hold the rest as before. */
void slew_tail_include_last(slew_tail *tail, int levels);

/* The figure that the share `wanted` of all the weight reaches. NaN: no figure is told. */
double slew_tail_quantile(slew_tail *tail, const double *score, const double *figure, int64_t count,
                          double wanted);

/* The shares of the parts once all are there: a third for nature and for the last one, the rest for
 * those between, which tell the way there. */
void slew_tail_settle(slew_tail *tail);

/* The last part alone, to draw from it. */
slew_tail slew_tail_last(const slew_tail *tail);

/* The scores of sample `index`, which belongs to seed and number alone. */
void slew_tail_draw(const slew_tail *tail, uint64_t seed, int64_t index, double *score);

/* How much more often these scores are in nature than among the samples. */
double slew_tail_weight(const slew_tail *tail, const double *score);

#endif
