/*
 * timing.h - what was timed and metered at the truck: one row for each travel.
 *
 * A row is one travel of one axis, driven from standstill at `from` until it reaches `to`, or one
 * standstill: driven into a stop, or with the drives off; or a stow or deploy by the controller, of
 * which is read where the axis rests. What it means exactly is M12 of
 * lib/MODEL.md.
 */
#ifndef SLEWTIME_TIMING_H
#define SLEWTIME_TIMING_H

#include "slewtime/api.h"
#include "slewtime/scenario.h"

#ifdef __cplusplus
extern "C" {
#endif

/* ---- Rows ---- */

/* What is measured: the stopwatch, the voltmeter at the controller, the clamp on its supply lead,
 * the gauge on the barrel that says where the axis rests.
 * The name as in text, the unit, and the sd that is taken where none is given: hand timing, a
 * digital meter, a clamp for direct current, a digital angle gauge (common practice). */
#define SLEW_MEASURES(X)                                                                           \
    X(SECONDS, "seconds", "s", 0.15)                                                               \
    X(VOLTAGE, "voltage", "V", 0.05)                                                               \
    X(CURRENT, "current", "A", 0.3)                                                                \
    X(ANGLE, "angle", "rad", 0.5 * 3.14159265358979323846 / 180)

#define SLEW_MEASURE_ENUM(name, word, unit, sd) SLEW_MEASURE_##name,
typedef enum slew_measure { SLEW_MEASURES(SLEW_MEASURE_ENUM) SLEW_MEASURE_COUNT } slew_measure;
#undef SLEW_MEASURE_ENUM

SLEW_API const char *
slew_measure_word(slew_measure measure); /* "seconds"; "?" for none of the enum's */
SLEW_API const char *slew_measure_unit(slew_measure measure); /* "s" */
SLEW_API double slew_measure_sd(slew_measure measure);        /* where none is given [SI] */

typedef struct slew_measured {
    double value;  /* SLEW_NOT_GIVEN: not measured [s], [V], [A], [rad] */
    double sd;     /* standard deviation of such a measurement, > 0 */
    bool sd_given; /* false: it is slew_measure_sd */
} slew_measured;

/* What is told of a row's conditions, wrong by this much where the row does not say (common
 * practice: a digital meter at the source, a gauge of class 1.6 up to 16 bar, a thermometer that
 * stands beside the grease and not in it, an angle read from a gauge). */
#define SLEW_INPUTS(X)                                                                             \
    X(SUPPLY, 0.05)                                                                                \
    X(PRESSURE, 0.3e5)                                                                             \
    X(TEMPERATURE, 3)                                                                              \
    X(ANGLE, 0.5 * 3.14159265358979323846 / 180)

#define SLEW_INPUT_ENUM(name, sd) SLEW_INPUT_##name,
typedef enum slew_input { SLEW_INPUTS(SLEW_INPUT_ENUM) SLEW_INPUT_COUNT } slew_input;
#undef SLEW_INPUT_ENUM

SLEW_API double slew_input_sd(slew_input input); /* where none is given [V], [Pa], [K], [rad] */

typedef enum slew_place_kind {
    SLEW_PLACE_NONE, /* `to`: it does not travel */
    SLEW_PLACE_ANGLE,
    SLEW_PLACE_LOW_STOP,
    SLEW_PLACE_HIGH_STOP,
    SLEW_PLACE_HOME,       /* `from`: the centre of the window; `to`: the sensor closes */
    SLEW_PLACE_STOW_POINT, /* `to`, from home: the seconds are the controller's stored time, the
                              angle is where the axis rests after a stow today. `from`: where that
                              is */
    SLEW_PLACE_DEPLOYED /* `to` alone, from the stow point: where the axis rests after a deploy for
                           the seconds, which the controller was set to and nobody measured */
} slew_place_kind;

typedef struct slew_place {
    slew_place_kind kind;
    double angle; /* of SLEW_PLACE_ANGLE [rad] */
} slew_place;

typedef struct slew_timing {
    int line;      /* in its file; 0: in none */
    int axis;      /* SLEW_NO_AXIS with the drives off */
    int direction; /* in which it moves, or is pressed: +1, -1; 0: the drives are off */
    slew_place from, to;
    double supply; /* supply.main.voltage; SLEW_NOT_GIVEN: the scenario's, as the next three [V] */
    double pressure;                   /* at the nozzle; 0: no water flows [Pa] */
    double temperature;                /* [K] */
    double winding_rise;               /* of its axis [K] */
    double input_sd[SLEW_INPUT_COUNT]; /* of these conditions but the last, and angles;
                                          SLEW_NOT_GIVEN: slew_input_sd [V], [Pa], [K], [rad] */
    slew_measured measured[SLEW_MEASURE_COUNT];
} slew_timing;

/* A row in which nothing is measured and no condition given, in no file, with the drives off; each
 * reading would have the standard deviation of slew_measure_sd(). */
SLEW_API slew_timing slew_timing_default(void);

enum { SLEW_TIMINGS_MAX = 256 };

/* true: the controller makes the row by itself, a stow or a deploy. */
SLEW_API bool slew_timing_is_run(const slew_timing *row);

typedef struct slew_timings {
    int count;
    slew_timing row[SLEW_TIMINGS_MAX];
} slew_timings;

/* ---- Files ---- */

/* One column of the CSV. */
typedef struct slew_timing_column {
    const char *name;  /* "seconds_s" */
    const char *unit;  /* "s"; "" for words */
    const char *words; /* "up | down"; NULL for numbers */
    const char *example;
    const char *meaning; /* one line */
} slew_timing_column;

SLEW_API int slew_timing_column_count(void);
SLEW_API const slew_timing_column *slew_timing_column_at(int index); /* NULL outside 0 .. count-1 */

/* Reads a CSV file: a header of columns in any order, then a row for each travel; lines that are
 * empty or begin with # do not count, nor do rows in which nothing is measured (of a card that is
 * filled in in part), unless all are such. Every error is told, with line and column; on anything
 * but SLEW_OK *out is not to be used. Regular files up to 1 MiB, at most SLEW_TIMINGS_MAX rows. */
SLEW_API slew_status slew_timings_read_file(const char *path, slew_error_sink errors,
                                            slew_timings *out);

/* The same from memory; `name` stands for the file name in errors. */
SLEW_API slew_status slew_timings_read_memory(const char *text, size_t length, const char *name,
                                              slew_error_sink errors, slew_timings *out);

/* Fills in source, column and excerpt of an error that has a line of the file. */
SLEW_API void slew_timings_locate(const char *path, slew_error *error);

/* Writes one field of a row as the CSV has it, "" where it is not given. Returns the length it
 * needs, like snprintf. */
SLEW_API int slew_timing_format(const slew_timing *row, int column, char *text, size_t size);

/* ---- Simulation ---- */

/* What the instruments would show; NaN where the row has no such thing. */
typedef struct slew_timed {
    double value[SLEW_MEASURE_COUNT]; /* [s], [V], [A], [rad] */
    double travel;                    /* from `from` to `to`, signed [rad] */
} slew_timed;

/* Simulates one row, not one of the controller (to the stow point, to a deploy), on a resolved
 * setup (SLEW_OCCASION_STOW: the truck as it is today) with supply, pressure, temperature and
 * winding_rise of the row. SLEW_ERROR_INPUT with the row's line and the reason: it can't be (a
 * place beyond a stop, against the direction, a sensor that never closes), or the axis stalls on
 * the way. Allocates nothing. */
SLEW_API slew_status slew_timing_simulate(const slew_setup *setup, const slew_timing *row,
                                          slew_timed *out, slew_error *error);

#ifdef __cplusplus
}
#endif

#endif
