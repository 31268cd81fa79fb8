/*
 * units.h - a value from a unit into SI: by the table of quantity.h, and for units beyond it by
 * whoever knows more.
 */
#ifndef SLEW_KEYS_UNITS_H
#define SLEW_KEYS_UNITS_H

#include "keys/quantity.h"

typedef enum slew_unit_answer {
    SLEW_UNIT_FITS,
    SLEW_UNIT_UNKNOWN,
    SLEW_UNIT_OTHER,       /* of another quantity */
    SLEW_UNIT_ZERO_POINT,  /* has a zero point of its own, and a difference is asked for */
    SLEW_UNIT_NO_DATABASE, /* it can't be read */
    SLEW_UNIT_NO_MEMORY    /* memory is short, or was when the database was to be read */
} slew_unit_answer;

/* Who is asked for a unit that the table lacks, and what they keep; {0}: nobody. */
typedef struct slew_units {
    slew_unit_answer (*ask)(struct slew_units *units, const char *si, const char *unit,
                            bool difference, double *value);
    struct ut_system *system; /* NULL until needed */
    bool tried, short_of_memory;
} slew_units;

/* Converts a value from a unit in plain spelling to the quantity's SI unit. `difference`: between
 * two values of the quantity, not a value itself. */
slew_unit_answer slew_units_convert(slew_units *units, const slew_quantity *quantity,
                                    const char *unit, bool difference, double *value);

#endif
