/*
 * window.h - the window of a home sensor: where it closes and opens, how sure that is, and what it
 * makes of the place that the controller takes for home.
 *
 * Asked of one axis as it is today (file and the layer today). The magnet's figures have ranges:
 * tolerances given here, or what the scenario's spread says of them.
 */
#ifndef SLEWTIME_WINDOW_H
#define SLEWTIME_WINDOW_H

#include "slewtime/api.h"
#include "slewtime/magnet.h"
#include "slewtime/study.h"

#ifdef __cplusplus
extern "C" {
#endif

enum {
    SLEW_WINDOW_FIGURES = 7, /* of a magnet, in the order of slew_magnet */
    SLEW_WINDOW_RULES = 3,   /* approach: either, rising, falling */
    SLEW_WINDOW_STARTS = 3,
    SLEW_WINDOW_SPEEDS = 3,
    SLEW_WINDOW_PHASES = 64, /* of the sampling grid */
};

/* Where a search begins. */
typedef enum slew_window_start {
    SLEW_WINDOW_BELOW, /* on the low side of the window */
    SLEW_WINDOW_ABOVE,
    SLEW_WINDOW_INSIDE /* at the center of the window, and where it ends on either side */
} slew_window_start;

/* "gap", the last name of its key; NULL outside 0 .. SLEW_WINDOW_FIGURES - 1. */
SLEW_API const char *slew_window_figure_word(int figure);

/* A figure of a magnet by its number [T], [m]. */
SLEW_API double slew_window_figure(const slew_magnet *magnet, int figure);

/* What is asked. */
typedef struct slew_window_question {
    int axis;                               /* SLEW_ROTATION or SLEW_ELEVATION */
    slew_range figure[SLEW_WINDOW_FIGURES]; /* from, to [T], [m]; NaN: as the spread says, else as
                                               it is */
} slew_window_question;

/* Nothing is asked of the figures. */
SLEW_API slew_window_question slew_window_question_default(int axis);

/* ---- Edges ---- */

/* One magnet before its switch. */
typedef struct slew_window_case {
    slew_magnet magnet;
    slew_sight sight;
    double flux;             /* over the magnet [T] */
    double operate, release; /* NaN: never closes; INFINITY: never opens [rad] */
} slew_window_case;

/* What is to be minded, a bit each: 1u << SLEW_WINDOW_... */
#define SLEW_WINDOW_REMARKS(X)                                                                     \
    X(NEVER_CLOSES, "never_closes")       /* too weak over the magnet */                           \
    X(OFF_CENTRE, "closes_off_centre")    /* and yet strong enough beside it: two windows, which   \
                                             are not simulated */                                  \
    X(MAY_NEVER_CLOSE, "may_never_close") /* with some of the tolerances */                        \
    X(NEVER_OPENS, "never_opens")         /* within half a turn */                                 \
    X(OVER_LOW_STOP, "reaches_low_stop")  /* it does not open before the stop */                   \
    X(OVER_HIGH_STOP, "reaches_high_stop")                                                         \
    X(STOW_POINT, "stow_point_inside") /* and home is taken from either side: the next search      \
                                          ends where it stands */                                  \
    X(OTHER_POLE, "other_pole")        /* outside, the field the other way is strong enough        \
                                          for a switch that takes either pole */                   \
    X(WHOLE_TURN, "meets_again")       /* the axis turns so far that it meets it again */          \
    X(UNSEEN, "crossed_unseen")        /* between two samples, in some runs */                     \
    X(NOT_FOUND, "not_found")          /* by the scenario's own rule, in some runs */

#define SLEW_WINDOW_ENUM(name, word) SLEW_WINDOW_##name,
typedef enum slew_window_remark {
    SLEW_WINDOW_REMARKS(SLEW_WINDOW_ENUM) SLEW_WINDOW_REMARK_COUNT
} slew_window_remark;
#undef SLEW_WINDOW_ENUM

/* "never_closes"; "?" for a value that is none of the enum's. */
SLEW_API const char *slew_window_remark_word(slew_window_remark remark);

/* ---- Home position ---- */

/* Searches by one rule, from one start, at one speed, over all phases of the sampling grid. */
typedef struct slew_window_row {
    slew_approach rule;
    slew_window_start start;
    double voltage; /* of the main source [V] */
    double speed;   /* of the output when home is acted on, or met; NaN: it did not move [rad/s] */
    int runs;       /* 0: there is no room for such a start, or no run at this voltage */
    int found;      /* home found */
    int unseen;     /* runs in which the window was crossed between two samples */
    slew_range acted; /* where home is acted on; NaN: nowhere [rad] */
    slew_range rests; /* where the axis comes to rest after it [rad] */
    slew_fault fault; /* of the first run that does not find home */
} slew_window_row;

/* ---- The answer ---- */

typedef struct slew_window {
    slew_home home;                         /* as the plant has it */
    slew_window_case own;                   /* the scenario's own magnet, if it has one */
    slew_range figure[SLEW_WINDOW_FIGURES]; /* the ranges that were asked */
    int64_t cases;    /* lowest, own and highest value of each figure, in all combinations */
    int64_t blind;    /* of these: never close */
    slew_share never; /* the chance of that: of 20 000 magnets and switches drawn within the
                         tolerances, uniform between the ends that are asked, else as the spread
                         says, each figure by itself; NaN: nothing varies */
    slew_window_case narrowest; /* by operate, of those that close */
    slew_window_case widest;    /* by release; also between the values of gap, diameter, length */
    double largest_gap; /* at which it closes over the magnet; 0: at none; NaN: no magnet [m] */
    double turns_at;    /* from here on the field points the other way [rad] */
    double lobe_flux;   /* strongest there, negative [T] */
    double lobe_at;     /* [rad] */
    double beside_flux; /* strongest of all [T] */
    double beside_at;   /* [rad] */
    unsigned remarks;
    int speeds;                         /* how many voltages are tried */
    double voltage[SLEW_WINDOW_SPEEDS]; /* lowest, own, highest; ascending [V] */
    bool voltage_given;                 /* by the spread; else 11.8 to 14.4 V, doubled at 24 V */
    int rows;
    slew_window_row row[SLEW_WINDOW_RULES * SLEW_WINDOW_STARTS * SLEW_WINDOW_SPEEDS];
    slew_range
        rests[SLEW_WINDOW_RULES]; /* by slew_approach, over its rows; NaN: never found [rad] */
} slew_window;

/* Asks all of it; nothing is to be freed. The searches are real ones of the built-in controller,
 * with the axis asked about homed first; in the range of a normal distribution lie three standard
 * deviations. Errors: those of slew_prepare today, and SLEW_ERROR_INPUT for a range without a
 * magnet or outside what its key allows. */
SLEW_API slew_status slew_window_run(const slew_scenario *scenario,
                                     const slew_window_question *question, slew_window *out,
                                     slew_error *error);

/* ---- The field around home ---- */

enum { SLEW_WINDOW_ANGLES = 801 };

/* Flux density along each magnet at the switch. */
typedef struct slew_window_flux {
    double angle;                  /* of the axis [rad] */
    double own, narrowest, widest; /* NaN: there is no such magnet [T] */
} slew_window_flux;

/* At one of so many angles, in even steps as far to either side of home as there is something to
 * see, half a turn at most: 0 the lowest. */
SLEW_API slew_window_flux slew_window_flux_at(const slew_window *window, int index);

#ifdef __cplusplus
}
#endif

#endif
