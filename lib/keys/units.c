/* units.c - see units.h. */
#include "keys/units.h"

#include "slewtime/scenario.h"

#include <string.h>

static slew_unit_answer from_table(const slew_unit *unit, const slew_quantity *quantity,
                                   bool difference, double *value)
{
    if (strcmp(unit->quantity, quantity->name) != 0)
        return SLEW_UNIT_OTHER;
    if (difference && unit->offset != 0)
        return SLEW_UNIT_ZERO_POINT;
    *value = slew_unit_to_si(unit, *value);
    return SLEW_UNIT_FITS;
}

slew_unit_answer slew_units_convert(slew_units *units, const slew_quantity *quantity,
                                    const char *unit, bool difference, double *value)
{
    const slew_unit *known = slew_unit_find(unit);
    if (known != NULL)
        return from_table(known, quantity, difference, value);
    if (units->ask == NULL)
        return SLEW_UNIT_UNKNOWN;
    return units->ask(units, quantity->si ? quantity->si : "1", unit, difference, value);
}

bool slew_unit_scale(const char *quantity, const char *unit, slew_scale *scale)
{
    const slew_quantity *known = slew_quantity_find(quantity);
    const slew_unit *shown = slew_unit_find(unit);
    bool difference = strcmp(quantity, "temperature difference") == 0;
    const char *of = difference ? "temperature" : quantity;
    if (known == NULL || shown == NULL || strcmp(quantity, "wire gauge") == 0)
        return false;
    if (*unit != '\0' && strcmp(shown->quantity, of) != 0)
        return false;
    *scale = (slew_scale){known->si != NULL ? known->si : "", shown->over / shown->times,
                          difference ? 0 : -shown->offset};
    return true;
}
