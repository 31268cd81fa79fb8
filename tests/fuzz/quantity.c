/*
 * quantity.c - fuzzing values with their units: one text as a value, and as a difference, of every
 * quantity that the table of keys knows.
 *
 * What is read is finite, in the range of its key, and printed so that it reads the same to within
 * a digit; what is refused says so, and what would be right. A text is of one quantity alone, but
 * where units are shared.
 */
#include "printed.h"
#include "scenario/database.h"
#include "target.h"

enum { LENGTH_MAX = 200 };

/* true if the key is the first of its quantity, or the first of these with a word for infinity */
static bool stands_for_its_quantity(int index)
{
    const slew_key_row *row = slew_key_row_at(index);
    if (row->key.kind != SLEW_KEY_NUMBER)
        return false;
    for (int i = 0; i < index; i++) {
        const slew_key_row *other = slew_key_row_at(i);
        if (other->key.kind == SLEW_KEY_NUMBER &&
            strcmp(other->key.quantity, row->key.quantity) == 0 &&
            (other->infinite != NULL) == (row->infinite != NULL))
            return false;
    }
    return true;
}

static void refusal_is_whole(const slew_key_row *row, const slew_error *error)
{
    error_is_whole(error);
    assert_string_equal(error->key, row->key.path);
    assert_true(error->expected[0] != '\0');
}

static bool try_value(slew_units *units, const slew_key_row *row, const char *text)
{
    slew_error error = {0};
    double value = NAN;
    bool read = slew_value_read(units, row, text, &value, &error);
    if (read)
        value_reads_back(row, value);
    else
        refusal_is_whole(row, &error);
    return read;
}

static void try_difference(slew_units *units, const slew_key_row *row, const char *text)
{
    slew_error error = {0};
    double difference = NAN;
    if (slew_difference_read(units, row, text, &difference, &error))
        assert_true(isfinite(difference));
    else
        refusal_is_whole(row, &error);
}

static bool takes(const char *bytes, size_t length)
{
    /* opened once: reading the database takes longer than a thousand texts */
    static slew_units units;
    char text[LENGTH_MAX];
    int read = 0;
    if (length >= sizeof text)
        return false;
    memcpy(text, bytes, length);
    text[length] = '\0';
    if (units.ask == NULL)
        units = slew_units_of_database();
    for (int i = 0; i < slew_key_count(); i++)
        if (stands_for_its_quantity(i)) {
            read += try_value(&units, slew_key_row_at(i), text);
            try_difference(&units, slew_key_row_at(i), text);
        }
    return read > 0;
}

const fuzz_target fuzzed = {.name = "quantity", .rounds = 5000, .takes = takes};
