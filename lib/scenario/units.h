/*
 * units.h - units beyond the table of quantity.h, by UDUNITS-2.
 *
 * The database is read at the first unit that needs it (some 4 ms) and freed by slew_units_close;
 * UDUNITS 2.2.28 itself then keeps about 7 KB. Its parser is not re-entrant, so one reader at a
 * time has the database open, and others wait: close it before calling anything of the user's.
 */
#ifndef SLEW_SCENARIO_UNITS_H
#define SLEW_SCENARIO_UNITS_H

#include "scenario/quantity.h"

typedef struct slew_units {
    struct ut_system *system; /* NULL until needed */
    bool tried;
} slew_units; /* {0} to begin with */

typedef enum slew_unit_answer {
    SLEW_UNIT_FITS,
    SLEW_UNIT_UNKNOWN,
    SLEW_UNIT_OTHER,      /* of another quantity */
    SLEW_UNIT_ZERO_POINT, /* has a zero point of its own, and a difference is asked for */
    SLEW_UNIT_NO_DATABASE
} slew_unit_answer;

/* Converts a value from a unit in plain spelling to the quantity's SI unit. `difference`: between
 * two values of the quantity, not a value itself. */
slew_unit_answer slew_units_convert(slew_units *units, const slew_quantity *quantity,
                                    const char *unit, bool difference, double *value);

void slew_units_close(slew_units *units);

#endif
