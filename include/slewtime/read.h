/* read.h - a scenario from a file or from texts, and whether it makes sense. */
#ifndef SLEWTIME_READ_H
#define SLEWTIME_READ_H

#include "slewtime/api.h"
#include "slewtime/scenario.h"

#ifdef __cplusplus
extern "C" {
#endif

/* One setting from outside the file: "supply.main.voltage=13 V" for one layer. */
typedef struct slew_assignment {
    slew_layer_id layer;
    const char *text;   /* PATH=VALUE */
    const char *origin; /* how errors name it, for example "--set" */
    bool is_spread;     /* the value is a distribution, "uniform 11 V..14 V" or as in a file
                           "{uniform: {low: 11 V, high: 14 V}}", or "none": it changes spread.truck
                           or spread.day, where the key stands, or else spread.day; `layer` does
                           not count */
} slew_assignment;

typedef struct slew_reading {
    const slew_assignment *assignments; /* applied in order, after the file; may be NULL */
    size_t assignment_count;
    slew_error_sink errors;   /* every error of the file, in the order of its lines */
    slew_error_sink warnings; /* hidden --set, extrapolated grease and the like */
    bool spread_unused;       /* nothing will be drawn: what is wrong with the file's spread is a
                                 warning */
    bool *given; /* unless NULL: of slew_key_count() keys, filled in with whether file, layers or
                    assignments set them */
    /* Keys and groups that may be missing although a run needs them, for a question that is not one
       of runs; the last is NULL. May be NULL. Such a scenario is not to be run unless
       slew_scenario_check takes it. */
    const char *const *unneeded;
    slew_error *locate; /* unless NULL: an error about a key that came up after an earlier reading;
                           its source, line, column and excerpt are filled in */
} slew_reading;

/* Reads a scenario, applies the assignments, checks it all (slew_scenario_check). `reading` may be
 * NULL. On anything but SLEW_OK *out is not to be used. A unit beyond the everyday ones is asked of
 * UDUNITS-2, which ends a process where its memory runs out: it is asked only while 2 MB are there,
 * four times what it takes. Regular files up to 1 MiB are read; anything else (directory, binary,
 * empty, too large, too deep, aliases) is one clear error. */
SLEW_API slew_status slew_scenario_read_file(const char *path, const slew_reading *reading,
                                             slew_scenario *out);

/* The same from memory; `name` stands for the file name in errors. */
SLEW_API slew_status slew_scenario_read_memory(const char *text, size_t length, const char *name,
                                               const slew_reading *reading, slew_scenario *out);

/* Sets one key by its path in one layer from a text with unit, as in a file ("13 V"). A layer other
 * than the file holds only keys whose `layered` is true. */
SLEW_API slew_status slew_scenario_set(slew_scenario *scenario, slew_layer_id layer,
                                       const char *path, const char *value, slew_error_sink errors);

/* What no single value can tell: required keys, one conductor size, stops in order, start within
 * the stops, release >= operate, point within the stops, ... on the file and on every occasion.
 * Reports every error found. */
SLEW_API slew_status slew_scenario_check(const slew_scenario *scenario, slew_error_sink errors,
                                         slew_error_sink warnings);

#ifdef __cplusplus
}
#endif

#endif
