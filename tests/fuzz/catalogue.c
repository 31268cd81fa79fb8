/*
 * catalogue.c - fuzzing the reader of catalogues of causes.
 *
 * Whatever the text: the reader returns, each error is whole and has its place, and what is
 * accepted is within its bounds, its words whole.
 */
#include <math.h>

#include "slewtime/catalogue.h"
#include "target.h"
#include "whole.h"

static void change_is_in_bounds(const slew_change *c)
{
    assert_non_null(slew_key_at(c->key));
    assert_in_range(c->count, 1, SLEW_AMOUNTS_MAX);
    assert_true((c->how == SLEW_CHANGE_TO) == (c->base < 0));
    assert_true(c->base < 0 || slew_key_at(c->base) != NULL);
    assert_true(c->over < 0 || slew_key_at(c->over) != NULL);
    assert_true(!c->range || (c->count == 2 && c->amount[0] != c->amount[1]));
    for (int i = 0; i < c->count; i++)
        assert_true(!isnan(c->amount[i]));
}

static void cause_is_in_bounds(const slew_cause *cause)
{
    is_shown_whole(cause->name, sizeof cause->name);
    is_shown_whole(cause->means, sizeof cause->means);
    is_shown_whole(cause->prove, sizeof cause->prove);
    is_shown_whole(cause->cure, sizeof cause->cure);
    assert_true(cause->name[0] != '\0' && cause->means[0] != '\0');
    assert_true(cause->commonness > 0 && isfinite(cause->commonness));
    assert_in_range(cause->change_count, 0, SLEW_CHANGES_MAX);
    for (int i = 0; i < cause->change_count; i++)
        change_is_in_bounds(&cause->change[i]);
    assert_in_range(cause->stated_count, 0, SLEW_CHANGES_MAX);
    for (int i = 0; i < cause->stated_count; i++) {
        assert_non_null(slew_observable_at(cause->stated[i].observable));
        assert_true(isfinite(cause->stated[i].value));
    }
}

static bool takes(const char *bytes, size_t length)
{
    static slew_catalogue catalogue;
    static caught errors;
    errors.count = 0;
    catalogue.count = 0;
    catalogue.none = 0;
    slew_status status = slew_catalogue_read_memory(
        bytes, length, "causes.yaml", (slew_error_sink){catch_error, &errors}, &catalogue);
    errors_are_whole(&errors);
    assert_true(status == SLEW_OK || status == SLEW_ERROR_INPUT);
    assert_int_equal(status == SLEW_OK, errors.count == 0);
    if (status != SLEW_OK)
        return false;
    assert_true(catalogue.none >= 0 && catalogue.none <= 0.9);
    assert_in_range(catalogue.count, 0, SLEW_CAUSES_MAX);
    for (int i = 0; i < catalogue.count; i++) {
        cause_is_in_bounds(&catalogue.cause[i]);
        assert_in_range(slew_catalogue_find(&catalogue, catalogue.cause[i].name), 0, i);
    }
    return true;
}

const fuzz_target fuzzed = {.name = "catalogue", .rounds = 2500, .takes = takes};
