/*
 * card.h - a check card for one visit to the truck: what to time and read, and what should show.
 *
 * Each step is a travel that a stopwatch times (timing.h), the drives off, a stow or a deploy. Each
 * reading has what the scenario as it is predicts, and a band that its spread predicts. The
 * definitions are M12.7 of lib/MODEL.md.
 */
#ifndef SLEWTIME_CARD_H
#define SLEWTIME_CARD_H

#include "slewtime/api.h"
#include "slewtime/study.h"
#include "slewtime/timing.h"

#ifdef __cplusplus
extern "C" {
#endif

/* What is read. The name as in JSON and the unit in SI. Of a run: seconds from the first drive-on
 * to the verdict, where the axes rest, and the lowest voltage while an axis is driven longer than
 * the blank time (since the stow began). Of a travel: as in timing.h. */
#define SLEW_CARD_READS(X)                                                                         \
    X(SECONDS, "seconds", "s")                                                                     \
    X(VOLTAGE, "voltage", "V") /* at the controller */                                             \
    X(CURRENT, "current", "A") /* of the drive */                                                  \
    X(DROP, "cable_drop", "V") /* battery's terminals less controller, at one moment */            \
    X(ROTATION, "rotation", "rad")                                                                 \
    X(ELEVATION, "elevation", "rad")                                                               \
    X(LOWEST, "lowest_voltage", "V")                                                               \
    X(STORED, "stored_time", "s") /* of the stow point, from home: the controller's */

#define SLEW_CARD_READ_ENUM(name, word, unit) SLEW_CARD_##name,
typedef enum slew_card_read {
    SLEW_CARD_READS(SLEW_CARD_READ_ENUM) SLEW_CARD_READ_COUNT
} slew_card_read;
#undef SLEW_CARD_READ_ENUM

SLEW_API const char *slew_card_read_word(slew_card_read read); /* "?" for none of the enum's */

/* Standard deviation of such a reading: slew_measure_sd, of a difference of two voltages sqrt(2)
 * times that of one, of an angle 0.5 deg (a digital angle gauge, common practice), of a stored time
 * 0.01 s (a controller shows hundredths, common practice). In SI. */
SLEW_API double slew_card_sd(slew_card_read read);

typedef struct slew_card_reading {
    slew_card_read read;
    double expected;  /* with the scenario as it is, without its spread */
    double low, high; /* the central 95 % of the cases; without a spread the expected value; NaN: no
                         case ends so */
    double from,
        to; /* the band: the central 95 % of what is read, errors of slew_card_sd included */
} slew_card_reading;

typedef enum slew_card_kind {
    SLEW_CARD_TRAVEL, /* or a standstill */
    SLEW_CARD_STOW,
    SLEW_CARD_DEPLOY
} slew_card_kind;

enum { SLEW_CARD_READINGS_MAX = 4, SLEW_CARD_STEPS_MAX = 15, SLEW_WHY_MAX = 320 };

typedef struct slew_card_step {
    slew_card_kind kind;
    slew_timing row;         /* of a travel, with nothing measured */
    double start[SLEW_AXES]; /* where the axes stand before; a travel's own axis: its row [rad] */
    bool meets_stop; /* an axis is driven onto a hard stop, as expected [travel: to its stop] */
    bool left_out;   /* it makes no sense with this scenario */
    char why[SLEW_WHY_MAX]; /* it is left out */
    slew_verdict says;      /* of a run, expected */
    slew_fault fault;
    int axis;      /* of the fault, or SLEW_NO_AXIS */
    double agrees; /* share of the cases in which the travel is made, or the controller says the
                      same: the bands are those of these cases; 1 without a spread */
    int readings;
    slew_card_reading reading[SLEW_CARD_READINGS_MAX];
} slew_card_step;

typedef struct slew_card {
    bool varies;              /* false: no spread, the bands are the instruments' alone */
    int64_t samples, refused; /* done (0 without a spread), and those of them that can't run */
    slew_error first_refusal;
    double passes; /* share of sound trucks all readings of whose page lie in their bands; NaN
                      without a spread */
    int steps;
    slew_card_step step[SLEW_CARD_STEPS_MAX];
} slew_card;

/* The card of a scenario: drives off; each axis both ways from stop to stop and from either stop to
 * the home sensor; stow from the scenario's start and from half way to either stop of rotation;
 * deploy after the first of these. The axis that does not travel stands at the scenario's start.
 * Truck and day are drawn as in slew_ensemble_run, the deploy on the day of its stow, and so are
 * its errors; after SLEW_ERROR_STOPPED *out holds what the samples done tell. Bit-identical for any
 * number of threads. */
SLEW_API slew_status slew_card_run(const slew_scenario *scenario, const slew_sampling *sampling,
                                   slew_card *out, slew_error *error);

/* ---- A page that is filled in ---- */

/* One reading of the page, and what it would be on sound trucks under what its row states. */
typedef struct slew_card_judged {
    int row; /* of the timings */
    slew_measure measure;
    slew_card_read read;
    double shown;    /* at the truck [SI] */
    double sd;       /* of such a reading: its instrument's, and that of what its row states */
    double expected; /* of the scenario as it is, without its spread */
    double from, middle, to; /* the band: 2.5 %, 50 % and 97.5 % of what sound trucks show */
    double outside;          /* shown less the end of the band that it is beyond; 0: inside */
    double off; /* how far it is from the middle, in parts of the way from there to the end of its
                   band: above 1 outside; infinite where sound trucks show nothing like it */
} slew_card_judged;

/* A reading of the card for which the page has no number. */
typedef struct slew_card_blank {
    slew_card_step step;
    slew_card_read read;
} slew_card_blank;

enum { SLEW_CARD_JUDGED_MAX = +SLEW_TIMINGS_MAX * +SLEW_MEASURE_COUNT, SLEW_CARD_BLANKS_MAX = 32 };

typedef struct slew_card_verdict {
    bool passes;   /* chance is SLEW_CARD_LEAST or more */
    double chance; /* that a sound truck shows a page whose worst reading is as far off, or farther:
                      (1 + as_far)/(1 + pages), where "far" is slew_card_judged.off */
    int64_t pages, as_far;    /* pages of sound trucks, and those of them that are as far off */
    double all_inside;        /* share of them with every reading inside its band */
    bool varies;              /* false: no spread, the bands are the instruments' alone */
    int64_t samples, refused; /* done (0 without a spread), and those of them that can't run */
    slew_error first_refusal;
    int outside; /* how many readings are outside their bands */
    int worst;   /* the one that is farthest off */
    int readings;
    slew_card_judged reading[SLEW_CARD_JUDGED_MAX];
    int blanks; /* travels of slew_card_run whose times, voltages or currents are not there */
    slew_card_blank blank[SLEW_CARD_BLANKS_MAX];
} slew_card_verdict;

/* A page passes if at least this share of sound trucks shows one as far off: 95 % of sound trucks
 * pass. */
#define SLEW_CARD_LEAST 0.05

/* Does a truck pass the page that was filled in at it? Rows may be those of slew_card_run or any
 * others; what they state of supply, pressure and temperature is known to input_sd, and an error of
 * it counts as one of the reading; rows of a stow or deploy are judged over all days. Samples and
 * refusals as in slew_card_run, with as many pages as samples. SLEW_ERROR_INPUT: no reading at all,
 * or, with its line, a row that the scenario as it is can't make. After SLEW_ERROR_STOPPED *out
 * holds what the samples done tell. Bit-identical for any number of threads. */
SLEW_API slew_status slew_card_judge(const slew_scenario *scenario, const slew_timings *timings,
                                     const slew_sampling *sampling, slew_card_verdict *out,
                                     slew_error *error);

#ifdef __cplusplus
}
#endif

#endif
