/*
 * no_file.c - a page has no file that an error could point into, its trial varies nothing, and its
 * units are those of the table alone.
 */
#include "scenario/check.h"
#include "scenario/source.h"
#include "scenario/units.h"

void slew_check_spread(const slew_checker *checker)
{
    (void)checker;
}

const char *slew_source_line(const char *text, size_t length, int line, size_t *line_length)
{
    (void)text, (void)length, (void)line, (void)line_length;
    return NULL;
}

slew_unit_answer slew_units_convert(slew_units *units, const slew_quantity *quantity,
                                    const char *unit, bool difference, double *value)
{
    (void)units, (void)quantity, (void)difference;
    const slew_unit *known = slew_unit_find(unit);
    if (known == NULL)
        return SLEW_UNIT_UNKNOWN;
    *value = slew_unit_to_si(known, *value);
    return SLEW_UNIT_FITS;
}
