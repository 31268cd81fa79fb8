/*
 * catalogue.h - faults to be looked for, and what was seen at the truck: as data, and from files.
 *
 * A cause is a named set of changes to a scenario, with words on how to prove and to cure it. What
 * can be seen or measured is one table of observables. The files of both are YAML with the paths
 * and units of scenario files; lib/scenario/catalogue.yaml is the built-in catalogue.
 */
#ifndef SLEWTIME_CATALOGUE_H
#define SLEWTIME_CATALOGUE_H

#include "slewtime/api.h"
#include "slewtime/scenario.h"

#ifdef __cplusplus
extern "C" {
#endif

/* ---- Observables: what can be seen, timed and measured ---- */

/* Those of an axis come in twos: X + SLEW_ROTATION and X + SLEW_ELEVATION. */
typedef enum slew_observable_id {
    SLEW_SEEN_STOW_SAYS,
    SLEW_SEEN_STOW_FAULT,
    SLEW_SEEN_STOW_AXIS,
    SLEW_SEEN_STOW_SECONDS,
    SLEW_SEEN_STOW_ANGLE,
    SLEW_SEEN_MOVED = SLEW_SEEN_STOW_ANGLE + SLEW_AXES,
    SLEW_SEEN_MOVED_SECONDS = SLEW_SEEN_MOVED + SLEW_AXES,
    SLEW_SEEN_STOP_MET = SLEW_SEEN_MOVED_SECONDS + SLEW_AXES,
    SLEW_SEEN_DEPLOY_SAYS = SLEW_SEEN_STOP_MET + SLEW_AXES,
    SLEW_SEEN_DEPLOY_FAULT,
    SLEW_SEEN_DEPLOY_AXIS,
    SLEW_SEEN_DEPLOY_SECONDS,
    SLEW_SEEN_DEPLOY_ANGLE,
    SLEW_SEEN_LOWEST_VOLTAGE = SLEW_SEEN_DEPLOY_ANGLE + SLEW_AXES,
    SLEW_SEEN_PEAK_CURRENT,
    SLEW_SEEN_BATTERY_IDLE,
    SLEW_SEEN_BATTERY_DRIVEN,
    SLEW_SEEN_CONTROLLER_IDLE,
    SLEW_SEEN_CONTROLLER_DRIVEN,
    SLEW_SEEN_FEED_RESISTANCE,
    SLEW_SEEN_AUXILIARY_IDLE,
    SLEW_SEEN_WAY,
    SLEW_SEEN_SPEED = SLEW_SEEN_WAY + SLEW_AXES,
    SLEW_SEEN_CURRENT = SLEW_SEEN_SPEED + SLEW_AXES,
    SLEW_SEEN_MOTOR_TURNS = SLEW_SEEN_CURRENT + SLEW_AXES,
    SLEW_SEEN_SENSOR_AT_HOME = SLEW_SEEN_MOTOR_TURNS + SLEW_AXES,
    SLEW_SEEN_SENSOR_AWAY = SLEW_SEEN_SENSOR_AT_HOME + SLEW_AXES,
    SLEW_SEEN_HAND_MAGNET = SLEW_SEEN_SENSOR_AWAY + SLEW_AXES,
    SLEW_SEEN_WINDOW = SLEW_SEEN_HAND_MAGNET + SLEW_AXES,
    SLEW_SEEN_SETTING_STALL = SLEW_SEEN_WINDOW + SLEW_AXES,
    SLEW_SEEN_SETTING_BROWNOUT,
    SLEW_SEEN_SETTING_MOVE_LIMIT,
    SLEW_SEEN_SETTING_STORED,
    SLEW_SEEN_SETTING_DEPLOY = SLEW_SEEN_SETTING_STORED + SLEW_AXES,
    SLEW_OBSERVABLES = SLEW_SEEN_SETTING_DEPLOY + SLEW_AXES
} slew_observable_id;

typedef enum slew_seen_by {
    SLEW_BY_EYE,   /* with eyes and a stopwatch while it stows and deploys */
    SLEW_BY_METER, /* with a meter meanwhile */
    SLEW_BY_CHECK  /* afterwards: asked of the machine at rest or jogged */
} slew_seen_by;

typedef struct slew_observable {
    slew_key key; /* path ("stow.seconds"), kind (number or choice), quantity, unit, words, range,
                     example and meaning; a choice's value is the number of its word, from 0 */
    slew_seen_by by;
    const char *name; /* in plain words: "Battery voltage at rest"; some are questions */
    double minutes;   /* that looking takes, > 0; by eye and by meter: one more stow and deploy */
    double sd;        /* of a number: the uncertainty unless another is given [SI] */
    double width; /* of a number: a blunder, or a fault that nobody thought of, may give anything
                     over such a width [SI] */
} slew_observable;

/* NULL outside 0 .. SLEW_OBSERVABLES - 1. */
SLEW_API const slew_observable *slew_observable_at(int index);
SLEW_API int slew_observable_find(const char *path); /* -1: unknown */

/* How many words a choice has; 0: it is a number. */
SLEW_API int slew_observable_words(int index);

/* A value with its unit, rounded as its uncertainty allows ("12.9 s"), or its word; "-" for NaN.
 * Returns the length it needs, like snprintf. */
SLEW_API int slew_observable_format(int index, double value, char *text, size_t size);

/* A value in the unit of print-outs. */
SLEW_API double slew_observable_in_unit(int index, double value);

/* ---- Causes ---- */

enum {
    SLEW_CAUSES_MAX = 80,
    SLEW_CHANGES_MAX = 8, /* of one cause */
    SLEW_AMOUNTS_MAX = 8,
    SLEW_WORDS_MAX = 800 /* bytes of a text of a cause */
};

/* What a change does with its amount. */
typedef enum slew_change_how {
    SLEW_CHANGE_TO,
    SLEW_CHANGE_TIMES,
    SLEW_CHANGE_PLUS,
    SLEW_CHANGE_LEAST
} slew_change_how;

/* One changed key: value = amount, or the value of `base` times or plus an amount, or `base` itself
 * where that is no less. */
typedef struct slew_change {
    slew_layer_id layer; /* FILE: at all times, TODAY: since then, the deploy included; TEACH and
                            DEPLOY_DAY: on that occasion alone */
    int key;             /* index into the key table */
    slew_change_how how;
    int base;                        /* key whose value is changed, mostly `key` itself; -1: TO */
    int over;                        /* of PLUS: key that tells among how many, at least 1, the
                                        amount is shared evenly; -1: it is not */
    bool range;                      /* drawn evenly between amounts 0 and 1 */
    int count;                       /* of amounts; unless range one of them is drawn */
    double amount[SLEW_AMOUNTS_MAX]; /* in the key's SI unit; of TIMES a plain number */
} slew_change;

/* What a check reads under a cause where the model has nothing to say about it. */
typedef struct slew_stated {
    int observable;
    double value;
} slew_stated;

typedef struct slew_cause {
    char name[SLEW_NAME_MAX];
    char means[SLEW_WORDS_MAX]; /* what is wrong */
    char prove[SLEW_WORDS_MAX]; /* by which ordinary checks it is proved */
    char cure[SLEW_WORDS_MAX];
    double commonness; /* weight before anything is seen, > 0 */
    int change_count;  /* 0: a healthy machine */
    slew_change change[SLEW_CHANGES_MAX];
    int stated_count;
    slew_stated stated[SLEW_CHANGES_MAX];
} slew_cause;

typedef struct slew_catalogue {
    double none; /* probability, before anything is seen, that it is none of the causes, 0 to 0.9 */
    int count;
    slew_cause cause[SLEW_CAUSES_MAX];
} slew_catalogue;

/* The built-in catalogue. SLEW_ERROR_MEMORY or SLEW_OK. */
SLEW_API slew_status slew_catalogue_builtin(slew_catalogue *out);

/* Adds the causes of a file to *out; one of the same name takes its place, and so does
 * none_of_these. `builtin: no` in the file takes out what was there before. On anything but SLEW_OK
 * *out is not to be used. */
SLEW_API slew_status slew_catalogue_read_file(const char *path, slew_error_sink errors,
                                              slew_catalogue *out);
SLEW_API slew_status slew_catalogue_read_memory(const char *text, size_t length, const char *name,
                                                slew_error_sink errors, slew_catalogue *out);

/* The cause of that name, whatever its capitals; -1: none. */
SLEW_API int slew_catalogue_find(const slew_catalogue *catalogue, const char *name);

/* ---- What was seen ---- */

typedef struct slew_seen {
    double value[SLEW_OBSERVABLES]; /* NaN: not seen; a choice: the number of its word [SI] */
    double sd[SLEW_OBSERVABLES];    /* of a number [SI] */
    int line[SLEW_OBSERVABLES], column[SLEW_OBSERVABLES]; /* in its file; 0: none */
    slew_layer known; /* what is known of that day: layered keys, drawn no more from the spread */
} slew_seen;

/* Nothing seen, every uncertainty the table's own. */
SLEW_API void slew_seen_init(slew_seen *seen);

/* Reads a file such as
 *     known: {elevation.start: 42 deg}
 *     stow: {says: fault, fault: hard_stop, seconds: 12.9 s, seconds_sd: 0.2 s}
 *     check: {controller: {idle: 13.0 V}}
 * On anything but SLEW_OK *out is not to be used. */
SLEW_API slew_status slew_seen_read_file(const char *path, slew_error_sink errors, slew_seen *out);

/* The same from memory, for those who hold the text already; `name` stands for the file name in
 * errors. */
SLEW_API slew_status slew_seen_read_memory(const char *text, size_t length, const char *name,
                                           slew_error_sink errors, slew_seen *out);

#ifdef __cplusplus
}
#endif

#endif
