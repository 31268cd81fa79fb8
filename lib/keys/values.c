/* values.c - the text of one value, as in a file or in --set, into the SI number of a key. */
#include "keys/values.h"

#include <stdio.h>
#include <string.h>

#include "keys/number.h"
#include "keys/text.h"

enum { VALUE_MAX = 128 };

/* ---- what was expected ---- */

static void range_words(const slew_key_row *row, char *text, size_t size)
{
    const slew_key *key = &row->key;
    char low[48], high[48];
    slew_value_print(row, key->low, low, sizeof low);
    slew_value_print(row, key->high, high, sizeof high);
    *text = '\0';
    if (row->bounds_only && key->low < key->high)
        slew_say(text, size, " of %s or %s", low, high);
    else if (row->bounds_only)
        slew_say(text, size, " that is %s", low);
    else if (isfinite(key->low) && isfinite(key->high))
        slew_say(text, size, "%s%s%s%s", key->low_open ? " above " : " from ", low,
                 key->high_open  ? " and below "
                 : key->low_open ? ", to "
                                 : " to ",
                 high);
    else if (isfinite(key->low))
        slew_say(text, size, key->low_open ? " above %s" : " of %s or more", low);
    else if (isfinite(key->high))
        slew_say(text, size, " of %s or less", high);
}

static void expected_number(const slew_key_row *row, char *text, size_t size)
{
    const slew_quantity *quantity = slew_quantity_find(row->key.quantity);
    char range[112];
    range_words(row, range, sizeof range);
    slew_say(text, size, "%s%s%s%s, for example %s", row->infinite ? row->infinite : "",
             row->infinite ? " or " : "", quantity ? quantity->phrase : "a number", range,
             row->key.example);
}

void slew_value_expected(const slew_key_row *row, char *text, size_t size)
{
    switch (row->key.kind) {
    case SLEW_KEY_NUMBER:
        expected_number(row, text, size);
        break;
    case SLEW_KEY_YES_NO:
        slew_say(text, size, "yes or no");
        break;
    case SLEW_KEY_CHOICE:
        slew_say(text, size, "one of %s", row->key.words);
        break;
    case SLEW_KEY_TEXT:
        slew_say(text, size, "a text, for example %s", row->key.example);
        break;
    case SLEW_KEY_LIST:
        slew_say(text, size, "a list of times, for example %s", row->key.example);
        break;
    case SLEW_KEY_STRUCTURE:
        slew_say(text, size, "for example %s", row->key.example);
        break;
    }
}

static bool wrong(const slew_key_row *row, slew_error *error, const char *text, const char *message)
{
    slew_say(error->key, sizeof error->key, "%s", row->key.path);
    slew_say(error->message, sizeof error->message, "\"%.60s\": %s", text, message);
    slew_value_expected(row, error->expected, sizeof error->expected);
    return false;
}

/* ---- numbers with a unit ---- */

static bool wrong_unit(const slew_key_row *row, slew_error *error, const char *text,
                       const char *unit, slew_unit_answer answer)
{
    const slew_quantity *wanted = slew_quantity_find(row->key.quantity);
    const slew_unit *known = slew_unit_find(unit);
    const slew_quantity *found = known ? slew_quantity_find(known->quantity) : NULL;
    char message[160];
    if (answer == SLEW_UNIT_UNKNOWN)
        slew_say(message, sizeof message, "unknown unit \"%.40s\"", unit);
    else if (answer == SLEW_UNIT_NO_DATABASE)
        slew_say(message, sizeof message,
                 "unit \"%.40s\" is none of the usual ones, and UDUNITS' database can't be read "
                 "or memory is short for it",
                 unit);
    else if (answer == SLEW_UNIT_ZERO_POINT)
        slew_say(message, sizeof message, "a temperature difference is written in K, not in %.40s",
                 unit);
    else if (found != NULL)
        slew_say(message, sizeof message, "%s, not %s", found->phrase, wanted->phrase);
    else
        slew_say(message, sizeof message, "not %s", wanted->phrase);
    return wrong(row, error, text, message);
}

/* a gear's "900:1" */
static bool is_to_one(const char *rest)
{
    if (*rest++ != ':')
        return false;
    rest += strspn(rest, " \t");
    return *rest++ == '1' && rest[strspn(rest, " \t")] == '\0';
}

static bool read_unit(slew_units *units, const slew_key_row *row, const char *text,
                      const char *rest, bool difference, double *value, slew_error *error)
{
    const slew_quantity *quantity = slew_quantity_find(row->key.quantity);
    char unit[SLEW_UNIT_MAX];
    if (strcmp(quantity->name, "plain number") == 0 && is_to_one(rest))
        return true;
    if (!slew_unit_spell(rest, unit)) {
        char shown[SLEW_UNIT_MAX];
        slew_say(shown, sizeof shown, "%s", rest);
        return wrong_unit(row, error, text, shown, SLEW_UNIT_UNKNOWN);
    }
    if (quantity->si == NULL && unit[0] == '\0')
        return true;
    if (strcmp(quantity->name, "plain number") == 0)
        return wrong(row, error, text, "a plain number has no unit");
    if (unit[0] == '\0')
        return wrong(row, error, text, "the unit is missing");
    if (strcmp(quantity->name, "temperature difference") == 0) {
        quantity = slew_quantity_find("temperature");
        difference = true;
    }
    slew_unit_answer answer = slew_units_convert(units, quantity, unit, difference, value);
    return answer == SLEW_UNIT_FITS || wrong_unit(row, error, text, unit, answer);
}

static bool read_quantity(slew_units *units, const slew_key_row *row, const char *text,
                          bool difference, double *value, slew_error *error)
{
    const char *rest = text;
    const char *problem = strcmp(row->key.quantity, "wire gauge") == 0 && !difference
                              ? slew_gauge_read(text, value)
                              : slew_number_read(text, value, &rest);
    if (problem != NULL)
        return wrong(row, error, text, problem);
    while (slew_is_blank(*rest))
        rest++;
    return rest == text || read_unit(units, row, text, rest, difference, value, error);
}

/* ---- ranges ---- */

bool slew_value_allowed(const slew_key_row *row, double value)
{
    const slew_key *key = &row->key;
    if (row->infinite != NULL && value == (double)INFINITY)
        return true;
    if (!isfinite(value) || value < key->low || value > key->high)
        return false;
    if (row->bounds_only && value != key->low && value != key->high)
        return false;
    return !(key->low_open && value <= key->low) && !(key->high_open && value >= key->high);
}

static bool read_number(slew_units *units, const slew_key_row *row, const char *text, double *value,
                        slew_error *error)
{
    if (row->infinite != NULL && strcmp(text, row->infinite) == 0) {
        *value = INFINITY;
        return true;
    }
    if (!read_quantity(units, row, text, false, value, error))
        return false;
    return slew_value_allowed(row, *value) || wrong(row, error, text, "out of range");
}

/* ---- words ---- */

static bool read_yes_no(const slew_key_row *row, const char *text, double *value, slew_error *error)
{
    bool yes = strcmp(text, "yes") == 0 || strcmp(text, "true") == 0;
    bool no = strcmp(text, "no") == 0 || strcmp(text, "false") == 0;
    *value = yes ? 1 : 0;
    return yes || no || wrong(row, error, text, "neither yes nor no");
}

/* blanks do not count: "rotation,elevation" is "rotation, elevation" */
static bool same_word(const char *word, size_t length, const char *text)
{
    const char *end = word + length;
    while (true) {
        while (word < end && *word == ' ')
            word++;
        while (*text == ' ')
            text++;
        if (word == end || *text == '\0')
            return word == end && *text == '\0';
        if (*word++ != *text++)
            return false;
    }
}

static bool read_choice(const slew_key_row *row, const char *text, double *value, slew_error *error)
{
    const char *words = row->key.words;
    const char *word;
    size_t length;
    for (int i = 0; (word = slew_word_next(&words, &length)) != NULL; i++)
        if (same_word(word, length, text)) {
            *value = row->values[i];
            return true;
        }
    char near[SLEW_PATH_MAX];
    if (slew_word_nearest(row->key.words, text, near))
        slew_say(error->nearest, sizeof error->nearest, "%s", near);
    return wrong(row, error, text, "not one of the words");
}

/* ---- any of them ---- */

bool slew_value_read(slew_units *units, const slew_key_row *row, const char *text, double *value,
                     slew_error *error)
{
    char plain[VALUE_MAX];
    if (!slew_text_trim(text, plain, sizeof plain))
        return wrong(row, error, text, "too long a value");
    if (plain[0] == '\0')
        return wrong(row, error, plain, "no value");
    switch (row->key.kind) {
    case SLEW_KEY_NUMBER:
    case SLEW_KEY_LIST:
        return read_number(units, row, plain, value, error);
    case SLEW_KEY_YES_NO:
        return read_yes_no(row, plain, value, error);
    case SLEW_KEY_CHOICE:
        return read_choice(row, plain, value, error);
    default:
        return wrong(row, error, plain, "this key has no single value");
    }
}

/* a difference has the key's unit, but neither its example nor its range */
static void expect_difference(const slew_key_row *row, slew_error *error)
{
    const char *unit = row->key.unit;
    if (strcmp(unit, "degC") == 0)
        unit = "K";
    slew_say(error->expected, sizeof error->expected, "a difference, for example 1%s%s",
             *unit ? " " : "", unit);
}

bool slew_difference_read(slew_units *units, const slew_key_row *row, const char *text,
                          double *value, slew_error *error)
{
    char plain[VALUE_MAX];
    bool right = slew_text_trim(text, plain, sizeof plain)
                     ? read_quantity(units, row, plain, true, value, error)
                     : wrong(row, error, text, "too long a value");
    if (!right)
        expect_difference(row, error);
    return right;
}

/* ---- printing ---- */

static void print_gauge(double value, int digits, char *text, size_t size)
{
    char number[32];
    slew_text_of_double(number, sizeof number, digits, value);
    if (value == 0 || value == -1 || value == -2 || value == -3)
        snprintf(text, size, "%d/0 AWG", (int)(1 - value));
    else
        snprintf(text, size, "%s AWG", number);
}

void slew_value_print_digits(const slew_key_row *row, double value, int digits, char *text,
                             size_t size)
{
    const slew_unit *unit = slew_unit_find(row->key.unit);
    char number[32];
    if (strcmp(row->key.quantity, "wire gauge") == 0) {
        print_gauge(value, digits, text, size);
        return;
    }
    if (strcmp(row->key.quantity, "plain number") != 0 && unit != NULL)
        value = slew_unit_from_si(unit, value);
    slew_text_of_double(number, sizeof number, digits, value == 0 ? 0 : value);
    snprintf(text, size, "%s%s%s", number, *row->key.unit ? " " : "", row->key.unit);
}

void slew_value_print(const slew_key_row *row, double value, char *text, size_t size)
{
    slew_value_print_digits(row, value, 10, text, size);
}

void slew_difference_print(const slew_key_row *row, double difference, int digits, char *text,
                           size_t size)
{
    const slew_unit *unit = slew_unit_find(row->key.unit);
    const char *name = strcmp(row->key.unit, "degC") == 0 ? "K" : row->key.unit;
    char number[32];
    if (unit != NULL)
        difference = slew_unit_from_si(unit, difference) - slew_unit_from_si(unit, 0);
    slew_text_of_double(number, sizeof number, digits, difference);
    snprintf(text, size, "%s%s%s", number, *name ? " " : "", name);
}
