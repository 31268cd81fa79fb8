/*
 * fit_fuzz.c - damaged CSVs of timed travels, and values put into damaged scenarios.
 *
 * Whatever the damage: the reader returns and says where, a row that is accepted is simulated or
 * refused, and a scenario that still reads gets its values or is left alone.
 */
#include "../unit/scenario_text.h"

#include <stdlib.h>

#include "damage.h"
#include "slewtime/fit.h"

enum { ROUNDS = 2500 };

static const char TIMES[] =
    "# invented\n"
    "axis,direction,from,from_deg,to,to_deg,supply_V,pressure_bar,temperature_degC,seconds_s,"
    "seconds_sd_s,controller_V,controller_sd_V,current_A,current_sd_A,rests_deg\n"
    "elevation,down,home,,stow_point,,13.4,,,2.3,,,,,,-17.4\n"
    "elevation,up,stow_point,,deployed,,13.4,,,7.5,,,,,,43.5\n"
    "elevation,up,low_stop,,high_stop,,13.4,7,-5,20.3,0.2,12.6,0.02,8.2,0.5\n"
    "rotation,left,,12,home,,12.6,,,3.5,,,,,\n"
    "elevation,down,low_stop,,,,13.4,0,20,,,12.1,,19,\n"
    ",off,,,,,13.8,,,,,13.3,,,\n"
    "\"rotation\",right,low_stop,,,-20.5,,,,41.2,,,,,\n";

static void rows_are_simulated_or_refused(const slew_timings *t, const slew_setup *setup)
{
    for (int i = 0; i < t->count; i++) {
        slew_timed timed;
        slew_error error;
        slew_status status = slew_timing_simulate(setup, &t->row[i], &timed, &error);
        assert_true(status == SLEW_OK || status == SLEW_ERROR_INPUT);
        if (status != SLEW_OK)
            assert_int_equal(error.line, t->row[i].line);
        for (slew_measure m = 0; m < SLEW_MEASURE_COUNT; m++)
            assert_true(t->row[i].measured[m].sd > 0);
    }
}

static void damaged_timings_are_read_to_an_end(void **state)
{
    static caught errors;
    static slew_timings timings;
    static outcome full;
    static damaged d;
    slew_setup setup;
    uint64_t generator = 20260202;
    int accepted = 0, refused = 0;
    (void)state;
    read_with(&full, FULL, strlen(FULL), NULL, 0);
    assert_int_equal(full.status, SLEW_OK);
    slew_scenario_resolve(&full.scenario, SLEW_OCCASION_STOW, &setup);
    for (int round = 0; round < ROUNDS; round++) {
        damage(&d, TIMES, &generator);
        errors.count = 0;
        slew_status status = slew_timings_read_memory(
            d.text, d.length, "times.csv", (slew_error_sink){catch_error, &errors}, &timings);
        assert_int_equal(status == SLEW_OK, errors.count == 0);
        for (int i = 0; i < errors.count && i < CAUGHT_MAX; i++)
            assert_true(errors.error[i].message[0] != '\0' &&
                        (errors.error[i].line > 0 || i == 100));
        if (status == SLEW_OK)
            rows_are_simulated_or_refused(&timings, &setup);
        accepted += status == SLEW_OK;
        refused += status == SLEW_ERROR_INPUT;
    }
    assert_int_equal(accepted + refused, ROUNDS);
    assert_true(accepted > ROUNDS / 50 && refused > ROUNDS / 4);
}

/* true: written */
static bool write_into(const char *text, slew_error *error)
{
    static const char *const paths[] = {"elevation.gear.efficiency", "supply.feed.joint_resistance",
                                        "elevation.motor.viscous_share"};
    slew_fit fit = {.figures = 3};
    for (int i = 0; i < 3; i++)
        fit.figure[i] = (slew_fit_figure){.key = slew_key_find(paths[i]), .value = 0.3, .sd = 0.01};
    fit.correlation[2][1] = 0.5;
    char *after = slew_fit_write(&fit, text, NULL, 0, "a note", error);
    bool written = after != NULL;
    free(after);
    return written;
}

/* the function itself reads back what it writes, and gives up where that is not right: never here
 */
static void values_go_into_whatever_still_reads(void **state)
{
    static outcome o;
    static damaged d;
    uint64_t generator = 20260303;
    int tried = 0;
    (void)state;
    for (int round = 0; round < ROUNDS; round++) {
        slew_error error = {0};
        damage(&d, FULL, &generator);
        d.text[d.length] = '\0';
        read_with(&o, d.text, d.length, NULL, 0);
        if (o.status != SLEW_OK || strlen(d.text) != d.length)
            continue;
        tried++;
        if (!write_into(d.text, &error))
            fail_msg("round %d: %s: %s", round, error.key, error.message);
    }
    assert_true(tried > ROUNDS / 50);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(damaged_timings_are_read_to_an_end),
        cmocka_unit_test(values_go_into_whatever_still_reads),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
