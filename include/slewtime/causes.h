/*
 * causes.h - what each fault would look like at the truck, and which agree with what was seen.
 *
 * Every cause of a catalogue is simulated over the scenario's spread, all on the same trucks and
 * days. A sample of a cause is a row of figures, one for each observable; the samples together are
 * its signature. What was seen is weighed against them (lib/MODEL.md, M13).
 */
#ifndef SLEWTIME_CAUSES_H
#define SLEWTIME_CAUSES_H

#include "slewtime/api.h"
#include "slewtime/catalogue.h"
#include "slewtime/study.h"

#ifdef __cplusplus
extern "C" {
#endif

/* One reading in a hundred is taken to be a blunder: another word, or a number that is anything. */
#define SLEW_BLUNDER 0.01

/* ---- Simulating ---- */

typedef struct slew_cause_state {
    int64_t possible;  /* samples in which it can be */
    slew_error reason; /* why it can't in the first of the others; empty message: in all it can */
    bool idle;         /* it changes nothing that can be observed on this scenario */
} slew_cause_state;

typedef struct slew_causes {
    int count; /* of causes, in the order of the catalogue */
    int64_t samples;
    int groups;      /* samples i with another i % groups were drawn independently; >= 2 */
    int64_t refused; /* samples in which the scenario itself can't run: they count for no cause */
    slew_error first_refusal;
    slew_cause_state *state; /* owned: [count] */
    double *figure;          /* owned: see slew_causes_figures; NaN: there is no reading */
} slew_causes;

/* Figures of a cause in a sample, SLEW_OBSERVABLES of them in SI; cause `count` is the scenario
 * itself. Where the cause can't be, all are NaN, SLEW_SEEN_STOW_SAYS too. */
SLEW_API const double *slew_causes_figures(const slew_causes *causes, int cause, int64_t sample);

/* Simulates every cause of the catalogue. What `seen` (may be NULL) tells as known of the day is
 * set and drawn no more; a cause that changes it can't be. Errors: those of slew_ensemble_run;
 * after SLEW_ERROR_STOPPED *out holds the samples done. Free it unless there was another error. */
SLEW_API slew_status slew_causes_run(const slew_scenario *scenario, const slew_catalogue *catalogue,
                                     const slew_seen *seen, const slew_sampling *sampling,
                                     slew_causes *out, slew_error *error);
SLEW_API void slew_causes_free(slew_causes *causes);

/* Told of each cause in each sample in which it can be, by several threads at a time: the scenario
 * that is run, with the sample drawn, the cause put into it, and what was taught before it came. */
typedef struct slew_causes_witness {
    void (*tell)(void *context, int cause, int64_t sample, const slew_scenario *scenario);
    void *context;
} slew_causes_witness;

/* slew_causes_run with a witness. */
SLEW_API slew_status slew_causes_run_witnessed(const slew_scenario *scenario,
                                               const slew_catalogue *catalogue,
                                               const slew_seen *seen, const slew_sampling *sampling,
                                               const slew_causes_witness *witness, slew_causes *out,
                                               slew_error *error);

/* true: the cause can be told of: it is possible somewhere, and changes something or is no fault.
 */
SLEW_API bool slew_causes_counts(const slew_causes *causes, int cause);

/* ---- Signatures ---- */

/* One observable under one cause. Shares are of its samples, or of their weight. */
typedef struct slew_signature {
    double readable;       /* share of those that have a reading */
    double low, mid, high; /* of a number: 5 %, 50 % and 95 % of those; NaN: none [SI] */
    int word;              /* of a choice: the most common word; -1: none */
    double share;          /* of those with a reading that have this word */
} slew_signature;

/* `weight` (may be NULL: all alike) has one number for each sample. SLEW_ERROR_MEMORY. */
SLEW_API slew_status slew_causes_signature(const slew_causes *causes, const double *weight,
                                           int cause, int observable, slew_signature *out);

/* All of them: fills [cause * SLEW_OBSERVABLES + observable]; `weight` (may be NULL) has one number
 * for each sample of each cause, [cause * samples + sample], as a ranking has. SLEW_ERROR_MEMORY.
 */
SLEW_API slew_status slew_causes_signatures(const slew_causes *causes, const double *weight,
                                            slew_signature *out);

/* How alike two causes are: the probability that the wrong one of the two gets on average, from
 * 0 (they can always be told apart) to 0.5 (never), by everything seen as `most` says or more
 * simply. Fills [a * count + b]; a pair that one single observable tells apart gets that
 * observable's bound, if that is below `least`. The first 1000 samples count. SLEW_ERROR_MEMORY. */
SLEW_API slew_status slew_causes_likeness(const slew_causes *causes, slew_seen_by most,
                                          double least, double *likeness);

/* From here on two causes are said to look the same. */
#define SLEW_LOOKS_THE_SAME 0.4

/* ---- Ranking ---- */

typedef struct slew_ranking {
    int count;              /* of causes that count */
    int *order;             /* owned: [count], the likeliest first */
    double *share;          /* owned: [causes], probability; 1 together with `none` */
    double *share_sd;       /* owned: [causes], its sampling error (lib/MODEL.md, M13.7) */
    double *likelihood;     /* owned: [causes], of what was seen, in a unit common to all */
    double *weight;         /* owned: [cause * samples + sample], the shares by samples */
    double none, none_sd;   /* probability that it is none of the causes; its sampling error */
    double none_likelihood; /* in the same unit */
    double bits; /* of doubt that is left among the causes: entropy, should it be one of them */
} slew_ranking;

/* Of an unknown fault: each thing seen reads as it does over the whole catalogue, or so often as
 * this like anything over the observable's width. M13.7 */
#define SLEW_BROAD 0.5

/* Weighs the causes by what was seen: share ~ commonness * mean over the samples of the likelihood,
 * and beside them that it is none of them, with the catalogue's probability before.
 * SLEW_ERROR_INPUT: nothing seen, something that no sample has a reading of, or no cause that
 * counts. Free the ranking after SLEW_OK. */
SLEW_API slew_status slew_causes_rank(const slew_causes *causes, const slew_catalogue *catalogue,
                                      const slew_seen *seen, slew_ranking *out, slew_error *error);
SLEW_API void slew_ranking_free(slew_ranking *ranking);

/* How many equal samples a cause's weight is worth (Kish): few of them say little. */
SLEW_API double slew_ranking_effective(const slew_causes *causes, const slew_ranking *ranking,
                                       int cause);

/* How many times as likely what was seen is under a cause (-1: none of them) as under the likeliest
 * other, that it is none of them included: a Bayes factor, whatever is common or not. Infinite
 * where there is no other. */
SLEW_API double slew_ranking_factor(const slew_causes *causes, const slew_ranking *ranking,
                                    int cause);

/* How odd what was seen is under a cause: the share of `trials` made-up observations of its own
 * (the same observables of a sample, with their uncertainty and no blunder) that are no likelier,
 * that sample left out. A p-value; below SLEW_FITS it is odd. */
SLEW_API double slew_causes_fit(const slew_causes *causes, const slew_seen *seen, int cause,
                                uint64_t seed, int trials);
#define SLEW_FITS 0.01

/* The observable seen that speaks most against a cause: least likelihood beside its best, with what
 * was expected instead as a signature. -1: all fits well. */
SLEW_API int slew_causes_against(const slew_causes *causes, const slew_seen *seen, int cause);

/* What an observable would tell about the cause, on average: mutual information of the two, given
 * what is known so far and that it is one of them [bit], 0 to ranking.bits. Numbers are put into
 * bins of half their uncertainty, of wide ranges a hundredth. */
SLEW_API double slew_causes_information(const slew_causes *causes, const slew_ranking *ranking,
                                        int observable);

/* ---- All of it ---- */

enum { SLEW_CANDIDATES_MAX = 8 };
#define SLEW_CANDIDATE 0.01 /* least probability of a cause that is still a candidate */

typedef struct slew_diagnosis {
    slew_ranking ranking;
    int candidates;                  /* so many of ranking.order, 1 to SLEW_CANDIDATES_MAX */
    double fit[SLEW_CANDIDATES_MAX]; /* of each: slew_causes_fit */
    bool fits;      /* the first of them is likelier than that it is none of them */
    int next_count; /* observables not seen yet that tell something, most bits a minute first */
    int next[SLEW_OBSERVABLES];
    double bits[SLEW_OBSERVABLES]; /* slew_causes_information of each */
} slew_diagnosis;

/* Ranks, asks how well it fits, and what to look at next. Errors: those of slew_causes_rank. */
SLEW_API slew_status slew_causes_diagnose(const slew_causes *causes,
                                          const slew_catalogue *catalogue, const slew_seen *seen,
                                          uint64_t seed, slew_diagnosis *out, slew_error *error);
SLEW_API void slew_diagnosis_free(slew_diagnosis *diagnosis);

/* ---- Drawing one ---- */

/* Reads one sample of a cause as somebody at the truck would: with the table's uncertainties, the
 * same for the same seed; no blunders. */
SLEW_API void slew_causes_observe(const slew_causes *causes, int cause, int64_t sample,
                                  uint64_t seed, slew_seen *out);

#ifdef __cplusplus
}
#endif

#endif
