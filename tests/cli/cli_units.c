/*
 * cli_units.c - figures in the units that people ask for: --units and the key `units`.
 *
 * Sizes of units: A. Thompson, B. N. Taylor, Guide for the Use of the International System of
 * Units, NIST Special Publication 811, 2008, appendix B.8; exact values in bold there.
 */
#include "tool.h"

#include <math.h>

#include "../near.h"
#include "tell/units.h"

static double in_us(cli_measure measure, double si)
{
    return cli_measured(SLEW_UNITS_US, measure, si);
}

static void us_units_have_their_published_sizes(void **state)
{
    (void)state;
    near("length", in_us(CLI_MEASURE_LENGTH, 0.3048), 1, 1e-12);
    near("small length", in_us(CLI_MEASURE_SMALL_LENGTH, 0.0254), 1, 1e-12);
    near("temperature", in_us(CLI_MEASURE_TEMPERATURE, 273.15), 32, 1e-9);
    near("temperature", in_us(CLI_MEASURE_TEMPERATURE, 373.15), 212, 1e-9);
    near("temperature step", in_us(CLI_MEASURE_TEMPERATURE_STEP, 5), 9, 1e-12);
    near("pressure", in_us(CLI_MEASURE_PRESSURE, 6.894757e3), 1, 1e-7);
    near("force", in_us(CLI_MEASURE_FORCE, 4.448222), 1, 2e-7);
    near("torque", in_us(CLI_MEASURE_TORQUE, 1.355818), 1, 4e-7);
    near("flow", in_us(CLI_MEASURE_FLOW, 6.309020e-5), 1, 1e-7);
}

static void words_name_the_unit(void **state)
{
    (void)state;
    char text[CLI_MEASURE_MAX];
    cli_measure_words(SLEW_UNITS_US, CLI_MEASURE_TEMPERATURE, 1, 293.15, text);
    assert_string_equal(text, "68.0 \u00b0F");
    cli_measure_words(SLEW_UNITS_SI, CLI_MEASURE_FLOW, 0, 0.01, text);
    assert_string_equal(text, "600 L/min");
    cli_measure_words(SLEW_UNITS_US, CLI_MEASURE_TEMPERATURE, 0, 255.3, text); /* -0.13 */
    assert_string_equal(text, "0 \u00b0F");
    assert_int_equal(cli_measure_of("N.m"), CLI_MEASURE_TORQUE);
    assert_int_equal(cli_measure_of("V"), CLI_MEASURES);
}

static void another_word_is_refused(void **state)
{
    (void)state;
    outcome o = TOOL("run", "truck.yaml", "--units", "metric");
    assert_int_equal(o.code, 2);
    has(o.err, "--units metric");
    has(o.err, "us|si");
    free_outcome(&o);
}

/* figures of JSON name their unit */
static void json_does_not_change(void **state)
{
    (void)state;
    outcome us = TOOL("run", "truck.yaml", "--units", "us", "--json");
    outcome si = TOOL("run", "truck.yaml", "--units", "si", "--json");
    assert_int_equal(us.code, 0);
    assert_string_equal(us.out, si.out);
    free_outcome(&us);
    free_outcome(&si);
}

static void pictures_have_the_units_of_texts(void **state)
{
    (void)state;
    static const char *const shown[][2] = {{"us", "68 \u00b0F"}, {"si", "20 \u00b0C"}};
    for (int i = 0; i < 2; i++) {
        outcome o = TOOL("run", "truck.yaml", "--units", shown[i][0], "--plot", "x.svg");
        assert_int_equal(o.code, 0);
        char *svg = take_all(fopen("x.svg", "r"));
        has(svg, shown[i][1]);
        free(svg);
        free_outcome(&o);
    }
    unlink("x.svg");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(us_units_have_their_published_sizes),
        cmocka_unit_test(words_name_the_unit),
        cmocka_unit_test(another_word_is_refused),
        cmocka_unit_test(json_does_not_change),
        cmocka_unit_test(pictures_have_the_units_of_texts),
    };
    return cmocka_run_group_tests(tests, enter_directory, leave_directory);
}
