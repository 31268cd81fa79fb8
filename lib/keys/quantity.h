/*
 * quantity.h - the kinds of quantity a scenario knows and the units people write them in.
 *
 * The units in daily use are a constant table; every other unit is left to UDUNITS (units.h).
 */
#ifndef SLEW_KEYS_QUANTITY_H
#define SLEW_KEYS_QUANTITY_H

#include <stdbool.h>
#include <stddef.h>

typedef struct slew_quantity {
    const char *name;   /* "length" */
    const char *phrase; /* "a length" */
    const char *si;     /* its SI unit, in UDUNITS' spelling; NULL: not a matter of units */
} slew_quantity;

/* SI value = (value + offset) * times / over. */
typedef struct slew_unit {
    const char *quantity;
    const char *name; /* in plain spelling, see slew_unit_spell */
    double times, over;
    double offset; /* of the zero point; not for differences */
} slew_unit;

enum { SLEW_UNIT_MAX = 48 }; /* longest spelling with its end */

/* NULL: unknown. */
const slew_quantity *slew_quantity_find(const char *name);
const slew_unit *slew_unit_find(const char *name);

/* Writes a unit in plain spelling: "kg m^2", "kg*m2" and "kg m²" become "kg.m2", "°C" becomes
 * "degC". false: the text cannot be a unit. */
bool slew_unit_spell(const char *text, char out[SLEW_UNIT_MAX]);

double slew_unit_to_si(const slew_unit *unit, double value);
double slew_unit_from_si(const slew_unit *unit, double value);

#endif
