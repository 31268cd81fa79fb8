/* printed.h - a value of a key: allowed, printed, and read again. */
#ifndef TESTS_FUZZ_PRINTED_H
#define TESTS_FUZZ_PRINTED_H

#include <math.h>

#include "keys/values.h"
#include "whole.h"

/* ten digits are printed, of a temperature in degC of what is left over its zero point */
static inline bool within_a_digit(double value, double printed, const char *unit)
{
    double zero = strcmp(unit, "degC") == 0 ? 273.15 : 0;
    return fabs(printed - value) <= 1e-9 * (fabs(value) + zero);
}

/* What a key holds is a number of its range, or its word for infinity, and its text is read as the
 * same to within a digit. A value so close to an end of the range that the text is beyond it may be
 * refused. */
static inline void value_reads_back(const slew_key_row *row, double value)
{
    slew_units everyday = {0};
    slew_error error = {0};
    char text[64];
    double again;
    if (!slew_value_allowed(row, value))
        fail_msg("%s: %g is not allowed", row->key.path, value);
    if (!isfinite(value))
        return;
    slew_value_print(row, value, text, sizeof text);
    is_shown_whole(text, sizeof text);
    if (!slew_value_read(&everyday, row, text, &again, &error)) {
        const slew_key *key = &row->key;
        if (!within_a_digit(value, key->low, key->unit) &&
            !within_a_digit(value, key->high, key->unit))
            fail_msg("%s: %.17g is printed as %s: %s", key->path, value, text, error.message);
        return;
    }
    if (!within_a_digit(value, again, row->key.unit))
        fail_msg("%s: %.17g is printed as %s, which is %.17g", row->key.path, value, text, again);
}

#endif
