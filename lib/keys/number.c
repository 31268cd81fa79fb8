/* number.c - a decimal number at the start of a text, and wire gauges. */
#include "keys/number.h"

#include <math.h>
#include <stddef.h>
#include <string.h>
#include <strings.h>

#include "keys/text.h"

static const char *skip_digits(const char *text)
{
    while (slew_is_digit(*text))
        text++;
    return text;
}

/* an exponent only if digits follow: "2 eV" is a number and a unit */
static const char *skip_exponent(const char *text)
{
    const char *digits = text + 1;
    if (*text != 'e' && *text != 'E')
        return text;
    if (*digits == '+' || *digits == '-')
        digits++;
    return slew_is_digit(*digits) ? skip_digits(digits) : text;
}

static const char *what_else(const char *text)
{
    if (strncasecmp(text, "nan", 3) == 0 || strncasecmp(text, ".nan", 4) == 0)
        return "NaN is not a number";
    if (strncasecmp(text, "inf", 3) == 0 || strncasecmp(text, ".inf", 4) == 0)
        return "infinity is not allowed";
    return "no number";
}

static const char *what_follows(const char *text, const char *end)
{
    if ((end[0] == 'x' || end[0] == 'X') && end == text + 1 && *text == '0')
        return "hexadecimal numbers are not allowed";
    if (*end == '_' || (*end == ',' && strspn(end + 1, "0123456789") == 3))
        return "digits may not be grouped";
    if (*end == ',')
        return "the decimal sign is a point";
    return NULL;
}

const char *slew_number_read(const char *text, double *value, const char **rest)
{
    const char *start = *text == '-' || *text == '+' ? text + 1 : text;
    const char *end = skip_digits(start);
    ptrdiff_t digits = end - start;
    if (*end == '.') {
        digits += skip_digits(end + 1) - (end + 1);
        end = digits > 0 ? skip_digits(end + 1) : end;
    }
    if (digits == 0)
        return what_else(start);
    end = skip_exponent(end);
    *value = slew_text_to_double(text, NULL);
    *rest = end;
    if (!isfinite(*value))
        return "too large a number";
    return what_follows(start, end);
}

/* ---- wire gauges ---- */

static const char *skip_blanks(const char *text)
{
    while (slew_is_blank(*text))
        text++;
    return text;
}

/* the name of the scale at `text`; *text moves past it */
static bool take_name(const char **text)
{
    const char *at = skip_blanks(*text);
    if (strncmp(at, "AWG", 3) != 0)
        return false;
    *text = skip_blanks(at + 3);
    return true;
}

/* "4/0", "0000" or "8"; *text moves past it */
static const char *take_size(const char **text, double *value)
{
    const char *start = *text;
    const char *end = skip_digits(start);
    size_t zeros = strspn(start, "0");
    if (end == start)
        return "no gauge number";
    *value = slew_text_to_double(start, NULL);
    if (end[0] == '/' && end[1] == '0' && !slew_is_digit(end[2]) && *value >= 1) {
        *value = 1 - *value;
        end += 2;
    } else if (zeros > 1 && start + zeros == end) {
        *value = 1 - (double)zeros;
    } else if (*end == '.' || *end == '/' || *end == ',') {
        return "a gauge is a whole number, or 1/0 to 4/0";
    }
    *text = end;
    return NULL;
}

const char *slew_gauge_read(const char *text, double *value)
{
    const char *at = text;
    bool named = take_name(&at);
    if (*at == '-')
        return "sizes above 0 are written 2/0, 3/0, 4/0";
    const char *problem = take_size(&at, value);
    if (problem != NULL)
        return problem;
    if (!named && !take_name(&at))
        return *skip_blanks(at) == '\0' ? "the unit is missing" : "not in AWG";
    return *at == '\0' ? NULL : "not a wire gauge";
}
