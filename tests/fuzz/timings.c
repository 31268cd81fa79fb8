/*
 * timings.c - fuzzing the CSV of timed travels.
 *
 * Whatever the text: the reader returns, each error is whole and has its place, a row that is
 * accepted is simulated or refused with its line, and written as CSV again it reads the same.
 */
#include <math.h>

#include "slewtime/fit.h"
#include "target.h"
#include "whole.h"

enum { FIELD_MAX = 100, CSV_MAX = 1 << 19 };

static slew_setup a_truck(void)
{
    static outcome o;
    slew_setup setup;
    read_text(&o, FULL);
    assert_int_equal(o.status, SLEW_OK);
    slew_scenario_resolve(&o.scenario, SLEW_OCCASION_STOW, &setup);
    return setup;
}

static void rows_are_simulated_or_refused(const slew_timings *t, const slew_setup *setup)
{
    for (int i = 0; i < t->count; i++) {
        const slew_timing *row = &t->row[i];
        slew_timed timed;
        slew_error error;
        for (slew_measure m = 0; m < SLEW_MEASURE_COUNT; m++)
            assert_true(row->measured[m].sd > 0 && isfinite(row->measured[m].sd));
        if (slew_timing_is_run(row))
            continue;
        slew_status status = slew_timing_simulate(setup, row, &timed, &error);
        assert_true(status == SLEW_OK || status == SLEW_ERROR_INPUT);
        if (status != SLEW_OK) {
            error_is_whole(&error);
            assert_int_equal(error.line, row->line);
            continue;
        }
        for (slew_measure m = 0; m < SLEW_MEASURE_COUNT; m++)
            assert_true(isnan(timed.value[m]) || isfinite(timed.value[m]));
    }
}

static size_t write_csv(const slew_timings *t, char *csv)
{
    size_t length = 0;
    for (int row = -1; row < t->count; row++)
        for (int i = 0; i < slew_timing_column_count(); i++) {
            char field[FIELD_MAX];
            snprintf(field, sizeof field, "%s", slew_timing_column_at(i)->name);
            if (row >= 0)
                assert_in_range(slew_timing_format(&t->row[row], i, field, sizeof field), 0,
                                sizeof field - 1);
            is_shown_whole(field, sizeof field);
            length += (size_t)snprintf(csv + length, CSV_MAX - length, "%s%c", field,
                                       i + 1 < slew_timing_column_count() ? ',' : '\n');
        }
    return length;
}

static void reads_back(const slew_timings *t)
{
    static slew_timings again;
    static char csv[CSV_MAX], second[CSV_MAX];
    size_t length = write_csv(t, csv);
    assert_int_equal(
        slew_timings_read_memory(csv, length, "again.csv", (slew_error_sink){0}, &again), SLEW_OK);
    assert_int_equal(again.count, t->count);
    write_csv(&again, second);
    assert_string_equal(csv, second);
}

static bool takes(const char *bytes, size_t length)
{
    static caught errors;
    static slew_timings timings;
    static slew_setup setup;
    if (!(setup.supply.main.voltage > 0))
        setup = a_truck();
    errors.count = 0;
    slew_status status = slew_timings_read_memory(
        bytes, length, "times.csv", (slew_error_sink){catch_error, &errors}, &timings);
    errors_are_whole(&errors);
    assert_true(status == SLEW_OK || status == SLEW_ERROR_INPUT);
    assert_int_equal(status == SLEW_OK, errors.count == 0);
    if (status != SLEW_OK)
        return false;
    assert_in_range(timings.count, 1, SLEW_TIMINGS_MAX);
    rows_are_simulated_or_refused(&timings, &setup);
    reads_back(&timings);
    return true;
}

const fuzz_target fuzzed = {.name = "timings", .rounds = 2500, .takes = takes};
