/*
 * seen.c - fuzzing the reader of what was seen at the truck.
 *
 * Whatever the text: the reader returns, each error is whole and has its place, and what is
 * accepted is a word of its list or a number of its range with an uncertainty, from a line of the
 * file.
 */
#include <math.h>

#include "slewtime/catalogue.h"
#include "target.h"
#include "whole.h"

static void sighting_is_sound(const slew_seen *seen, int i)
{
    const slew_key *key = &slew_observable_at(i)->key;
    const double value = seen->value[i];
    const int words = slew_observable_words(i);
    char text[64];
    slew_observable_format(i, value, text, sizeof text);
    is_shown_whole(text, sizeof text);
    assert_true(words > 0 || (seen->sd[i] > 0 && isfinite(seen->sd[i])));
    if (isnan(value))
        return;
    assert_true(seen->line[i] > 0 && seen->column[i] > 0);
    if (words > 0)
        assert_true(value >= 0 && value < words && value == floor(value));
    else
        assert_true(isfinite(value) && key->low <= value && value <= key->high);
}

static bool takes(const char *bytes, size_t length)
{
    static caught errors;
    slew_seen seen;
    errors.count = 0;
    slew_status status = slew_seen_read_memory(bytes, length, "seen.yaml",
                                               (slew_error_sink){catch_error, &errors}, &seen);
    errors_are_whole(&errors);
    assert_true(status == SLEW_OK || status == SLEW_ERROR_INPUT);
    assert_int_equal(status == SLEW_OK, errors.count == 0);
    if (status != SLEW_OK)
        return false;
    for (int i = 0; i < SLEW_OBSERVABLES; i++)
        sighting_is_sound(&seen, i);
    assert_in_range(seen.known.count, 0, SLEW_OVERRIDES_MAX);
    for (int i = 0; i < seen.known.count; i++) {
        assert_true(slew_key_at(seen.known.item[i].key)->layered);
        assert_true(!isnan(seen.known.item[i].value));
    }
    return true;
}

const fuzz_target fuzzed = {.name = "seen", .rounds = 3000, .takes = takes};
