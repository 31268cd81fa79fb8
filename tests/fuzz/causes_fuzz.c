/*
 * causes_fuzz.c - thousands of damaged catalogues and sightings, the same ones in every run.
 *
 * Whatever the damage: the reader returns, each error is whole and printable, and what it accepts
 * is within its bounds. Run it under the address sanitizer to see leaks and overruns.
 */
#include <math.h>

#include "damage.h"
#include "slewtime/catalogue.h"
#include "whole.h"

enum { ROUNDS = 1500 };

static char *read_file(const char *path)
{
    static char text[TEXT_MAX];
    FILE *file = fopen(path, "r");
    assert_non_null(file);
    size_t length = fread(text, 1, sizeof text - 4096, file);
    fclose(file);
    assert_true(length > 0 && length < sizeof text - 4096);
    text[length] = '\0';
    return text;
}

static void changes_are_in_bounds(const slew_cause *cause)
{
    assert_in_range(cause->change_count, 0, SLEW_CHANGES_MAX);
    assert_in_range(cause->stated_count, 0, SLEW_CHANGES_MAX);
    assert_true(cause->commonness > 0 && strnlen(cause->means, SLEW_WORDS_MAX) < SLEW_WORDS_MAX);
    for (int i = 0; i < cause->change_count; i++) {
        const slew_change *c = &cause->change[i];
        assert_non_null(slew_key_at(c->key));
        assert_in_range(c->count, 1, SLEW_AMOUNTS_MAX);
        assert_true((c->how == SLEW_CHANGE_TO) == (c->base < 0));
        assert_true(!c->range || (c->count == 2 && c->amount[0] != c->amount[1]));
    }
}

static void damaged_catalogues_are_read_to_an_end(void **state)
{
    static damaged d;
    static slew_catalogue catalogue;
    static caught errors;
    const char *whole = read_file("lib/scenario/catalogue.yaml");
    uint64_t generator = 20260102;
    int accepted = 0;
    (void)state;
    for (int round = 0; round < ROUNDS; round++) {
        errors.count = 0;
        catalogue.count = 0;
        damage(&d, whole, &generator);
        slew_status status = slew_catalogue_read_memory(
            d.text, d.length, "damaged", (slew_error_sink){catch_error, &errors}, &catalogue);
        errors_are_whole(&errors);
        assert_int_equal(status == SLEW_OK, errors.count == 0);
        assert_in_range(catalogue.count, 0, SLEW_CAUSES_MAX);
        for (int i = 0; i < catalogue.count; i++)
            changes_are_in_bounds(&catalogue.cause[i]);
        accepted += status == SLEW_OK;
    }
    assert_true(accepted > ROUNDS / 50 && accepted < ROUNDS - ROUNDS / 10);
}

static const char SEEN[] =
    "known: {rotation.start: -30 deg, nozzle.flowing: no}\n"
    "stow: {says: fault, fault: hard_stop, seconds: 12.9 s, seconds_sd: 0.2 s}\n"
    "moved: {rotation: left, rotation_seconds: 3 s}\n"
    "lowest_voltage: 11.5 V\n"
    "check:\n"
    "  battery: {idle: 12.5 V, idle_sd: 50 mV}\n"
    "  rotation: {sensor_at_home: open, speed: 8 deg/s}\n";

static void damaged_sightings_are_read_to_an_end(void **state)
{
    static damaged d;
    static caught errors;
    slew_seen seen;
    uint64_t generator = 20260103;
    int accepted = 0;
    (void)state;
    for (int round = 0; round < 2 * ROUNDS; round++) {
        errors.count = 0;
        damage(&d, SEEN, &generator);
        slew_status status = slew_seen_read_memory(d.text, d.length, "damaged",
                                                   (slew_error_sink){catch_error, &errors}, &seen);
        errors_are_whole(&errors);
        assert_int_equal(status == SLEW_OK, errors.count == 0);
        for (int i = 0; i < SLEW_OBSERVABLES && status == SLEW_OK; i++) {
            int words = slew_observable_words(i);
            assert_true(isnan(seen.value[i]) || (isfinite(seen.value[i]) && seen.line[i] > 0));
            assert_true(words == 0 || !(seen.value[i] < 0 || seen.value[i] >= words));
            assert_true(words > 0 || seen.sd[i] > 0);
        }
        accepted += status == SLEW_OK;
    }
    assert_true(accepted > ROUNDS / 50 && accepted < 2 * ROUNDS - ROUNDS / 10);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(damaged_catalogues_are_read_to_an_end),
        cmocka_unit_test(damaged_sightings_are_read_to_an_end),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
