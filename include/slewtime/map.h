/*
 * map.h - which outcome over one or two varied keys, and where it changes.
 *
 * A key is varied in the file or in a layer, from one value to another; everything else is as the
 * scenario says, nothing is drawn at random. One key gives a line cut into intervals, two give a
 * map cut into regions.
 */
#ifndef SLEWTIME_MAP_H
#define SLEWTIME_MAP_H

#include <stdint.h>

#include "slewtime/api.h"
#include "slewtime/study.h"

#ifdef __cplusplus
extern "C" {
#endif

/* ---- Outcomes ---- */

/* Of several that are true at once the last one in this list is told. */
#define SLEW_OUTCOMES(X)                                                                           \
    X(OK, "ok", "all is well")                                                                     \
    X(BELOW_FLOOR, "below_floor", "below the minimum voltage")                                     \
    X(OFF_TARGET, "off_target", "deployed outside the target")                                     \
    X(OFF_POINT, "off_point", "stowed off the stow point")                                         \
    X(PRESSED, "pressed", "jammed against a stop, reported as done")                               \
    X(KEEPOUT, "keepout", "keep-out zone entered")                                                 \
    X(HOME_NOT_FOUND, "home_not_found", "fault: home not found")                                   \
    X(HARD_STOP, "hard_stop", "fault: hard stop")                                                  \
    X(OVERLOAD, "overload", "fault: stalled")                                                      \
    X(TIMEOUT, "timeout", "fault: move took too long")                                             \
    X(UNDERVOLTAGE, "undervoltage", "fault: brownout")                                             \
    X(CANCELLED, "cancelled", "fault: cancelled")                                                  \
    X(DOES_NOT_HOLD, "does_not_hold", "does not hold")                                             \
    X(UNTAUGHT, "untaught", "can't be taught")                                                     \
    X(UNFIT, "unfit", "can't be run")

#define SLEW_OUTCOME_ENUM(name, word, words) SLEW_OUTCOME_##name,
typedef enum slew_outcome { SLEW_OUTCOMES(SLEW_OUTCOME_ENUM) SLEW_OUTCOME_COUNT } slew_outcome;
#undef SLEW_OUTCOME_ENUM

/* "hard_stop", "fault: hard stop"; "?" for a value that is none of the enum's. */
SLEW_API const char *slew_outcome_word(slew_outcome outcome);
SLEW_API const char *slew_outcome_words(slew_outcome outcome);

/* ---- What is varied ---- */

enum { SLEW_VARY_MAX = 2, SLEW_VARY_STEPS_MAX = 2000 };

typedef struct slew_vary {
    slew_layer_id layer;
    int key;         /* index into the key table */
    double from, to; /* from < to, in the key's SI unit */
    int steps;       /* between grid points, 2 to SLEW_VARY_STEPS_MAX; 0: not given */
} slew_vary;

/* Reads "[LAYER.]PATH=FROM:TO[:STEPS]", for example "today.supply.main.voltage=9V:15V:60"; LAYER is
 * teach, today or deploy_day, without it the file. SLEW_ERROR_INPUT with the reason: form, unknown
 * key, a layer that may not hold it, a key without numbers in between, unit, range, order, steps.
 */
SLEW_API slew_status slew_vary_read(const slew_scenario *scenario, const char *text, slew_vary *out,
                                    slew_error *error);

/* The value of grid point `index`, 0 to steps: `from` and `to` themselves at the ends. */
SLEW_API double slew_vary_value(const slew_vary *vary, int index);

/* A value of the varied key in the unit in which slew_key.unit prints it. */
SLEW_API double slew_vary_in_unit(const slew_vary *vary, double value);

/* ---- One point ---- */

typedef struct slew_map_point {
    double value[SLEW_VARY_MAX]; /* of the varied keys [SI] */
    double angle[SLEW_AXES];     /* where the axes rest at the end; NaN: it was not run [rad] */
    double stowed[SLEW_AXES];    /* and after the stow; NaN: there is none [rad] */
    double off;                  /* off target: how far from the point, or outside the target, on
                                    the axis that is further off; else 0 [rad] */
    slew_outcome outcome;
    int axis;  /* of the outcome; SLEW_NO_AXIS: none or not known */
    bool past; /* off target or off point: that axis went too far, seen in the direction in which
                  it was driven from home, or by the deploy; else it stopped short */
} slew_map_point;

/* What is told apart on a line and on a map: the outcome, and this more where `past`. */
enum { SLEW_MAP_PAST = 32 };
SLEW_API int slew_map_kind(const slew_map_point *point);

/* Runs the scenario with `count` keys (0 to 2) set to `value`. For SLEW_OUTCOME_UNTAUGHT and
 * SLEW_OUTCOME_UNFIT *error (may be NULL) has the reason. */
SLEW_API slew_map_point slew_map_ask(const slew_scenario *scenario, const slew_vary *vary,
                                     int count, const double *value, slew_error *error);

/* What a run of these parts amounts to; `value` is all 0. */
SLEW_API slew_map_point slew_map_judge(const slew_scenario *scenario, slew_parts parts,
                                       const slew_prepared *prepared, const slew_result *result);

/* ---- One key: a line ---- */

typedef struct slew_map_span {
    double from, to;            /* a boundary lies within half the tolerance of these [SI] */
    slew_map_point first, last; /* the outermost points inside that were run, of one kind */
    double largest_off;         /* of all of those [rad] */
    slew_error reason;          /* of UNTAUGHT and UNFIT, at `first`; else an empty message */
} slew_map_span;

typedef struct slew_map_line {
    int count;
    slew_map_span *span; /* owned, ascending, without gaps */
    int point_count;
    slew_map_point *point; /* owned: the grid, steps + 1 */
} slew_map_line;

/* Asks the grid and bisects between neighbours that differ until they are `tolerance` (a share of
 * the range, > 0, for example 1e-4) apart; an outcome narrower than the grid that lies between two
 * equal neighbours is not seen. Where a controller looks at its sensors on a time grid the truth is
 * ragged: outcomes alternate over a short stretch, and one of the changes is told. Of
 * `sampling` only progress counts. SLEW_ERROR_MEMORY, SLEW_ERROR_STOPPED: nothing is to be freed.
 */
SLEW_API slew_status slew_map_line_run(const slew_scenario *scenario, const slew_vary *vary,
                                       double tolerance, const slew_sampling *sampling,
                                       slew_map_line *out, slew_error *error);
SLEW_API void slew_map_line_free(slew_map_line *line);

/* ---- Two keys: a map ---- */

typedef struct slew_map {
    int columns, rows;     /* grid points: steps + 1 of the first and of the second key */
    slew_map_point *point; /* owned: [row * columns + column] */
    int fine;              /* cells of the picture along each side of a cell of the grid */
    int width, height;     /* cells of the picture: steps * fine */
    uint8_t *cell;         /* owned: slew_map_kind, [y * width + x] */
    int64_t looked;        /* cells of the grid whose corners agree and that were looked into */
    slew_share different; /* of them: another outcome was found inside; NaN: none was looked into */
    double share[SLEW_OUTCOME_COUNT];       /* of the area, counted in cells of the picture */
    double largest_off[SLEW_OUTCOME_COUNT]; /* of the grid's points [rad] */
    slew_error reason[SLEW_OUTCOME_COUNT];  /* of UNTAUGHT and UNFIT, at their first grid point */
} slew_map;

/* Asks the grid over vary[0] (across) and vary[1] (up). A cell of the grid whose corners differ is
 * asked again at the centres of fine * fine cells of the picture (1 <= fine <= 8). One in four
 * of those whose corners agree is looked into at one of these centers, chosen at random; where
 * another outcome is found, the cell and its neighbors are asked like that too, and their neighbors
 * where it goes on. The others are taken to be all alike. Bit-identical for any number of threads;
 * of `sampling` threads and progress count. SLEW_ERROR_MEMORY, SLEW_ERROR_STOPPED: nothing is to be
 * freed. */
SLEW_API slew_status slew_map_run(const slew_scenario *scenario,
                                  const slew_vary vary[SLEW_VARY_MAX], int fine,
                                  const slew_sampling *sampling, slew_map *out, slew_error *error);
SLEW_API void slew_map_free(slew_map *map);

#ifdef __cplusplus
}
#endif

#endif
