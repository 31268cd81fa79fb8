/*
 * write.c - fuzzing fit's way of writing: values put into whatever scenario still reads.
 *
 * The function itself reads back what it writes and gives up where that is not the scenario with
 * these values: never here. All else of the text stays.
 */
#include <stdlib.h>

#include "slewtime/fit.h"
#include "target.h"
#include "whole.h"

static slew_fit some_values(void)
{
    static const char *const paths[] = {"elevation.gear.efficiency", "supply.feed.joint_resistance",
                                        "elevation.motor.viscous_share"};
    slew_fit fit = {.figures = 3};
    for (int i = 0; i < 3; i++)
        fit.figure[i] = (slew_fit_figure){.key = slew_key_find(paths[i]), .value = 0.3, .sd = 0.01};
    fit.correlation[2][1] = 0.5;
    return fit;
}

static bool takes(const char *bytes, size_t length)
{
    static outcome o;
    static char text[1 << 16];
    slew_error error = {0};
    if (length >= sizeof text || memchr(bytes, '\0', length) != NULL)
        return false;
    memcpy(text, bytes, length);
    text[length] = '\0';
    read_text(&o, text);
    if (o.status != SLEW_OK)
        return false;
    const slew_fit fit = some_values();
    char *after = slew_fit_write(&fit, text, NULL, 0, "a note", &error);
    if (after == NULL)
        fail_msg("%s: %s", error.key, error.message);
    read_text(&o, after);
    assert_int_equal(o.status, SLEW_OK);
    for (int i = 0; i < fit.figures; i++)
        assert_true(slew_scenario_get_number(&o.scenario, fit.figure[i].key) == 0.3);
    free(after);
    return true;
}

const fuzz_target fuzzed = {.name = "write", .rounds = 2500, .takes = takes};
