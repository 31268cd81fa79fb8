/* card_refusals.c - pages that can't be judged: what a program hands over is looked at first. */
#include "../support.h"

#include "slewtime/card.h"

static slew_card_verdict verdict;

/* a page of one row: elevation from stop to stop in 8 s, on a truck without a spread */
static slew_timings one_row(void)
{
    slew_timings t = {.count = 1};
    t.row[0] = slew_timing_default();
    t.row[0].line = 2;
    t.row[0].axis = SLEW_ELEVATION;
    t.row[0].direction = 1;
    t.row[0].from.kind = SLEW_PLACE_LOW_STOP;
    t.row[0].to.kind = SLEW_PLACE_HIGH_STOP;
    t.row[0].measured[SLEW_MEASURE_SECONDS].value = 8;
    return t;
}

static slew_status judge(const slew_timings *t, int64_t samples, slew_error *error)
{
    const slew_scenario s = daily_scenario();
    slew_sampling how = slew_sampling_default();
    how.samples = samples;
    how.threads = 1;
    return slew_card_judge(&s, t, &how, &verdict, error);
}

static void refused(const slew_timings *t, int64_t samples, const char *message)
{
    slew_error error = {0};
    assert_int_equal(judge(t, samples, &error), SLEW_ERROR_INPUT);
    if (strstr(error.message, message) == NULL)
        fail_msg("\"%s\" is not in: %s", message, error.message);
    assert_int_equal(judge(t, samples, NULL), SLEW_ERROR_INPUT);
}

static void what_is_no_page_is_refused(void **state)
{
    slew_timings t = one_row();
    (void)state;
    refused(&t, 0, "no samples");
    t.row[0].measured[SLEW_MEASURE_SECONDS].value = NAN;
    refused(&t, 8, "nothing is measured");
    t.row[0].measured[SLEW_MEASURE_SECONDS].value = INFINITY;
    refused(&t, 8, "a reading without a value");
    t = one_row();
    t.row[0].measured[SLEW_MEASURE_SECONDS].sd_given = true;
    t.row[0].measured[SLEW_MEASURE_SECONDS].sd = 0;
    refused(&t, 8, "a standard deviation above 0");
    t = one_row();
    t.row[0].to.kind = SLEW_PLACE_STOW_POINT;
    t.row[0].measured[SLEW_MEASURE_ANGLE].value = -0.2;
    t.row[0].axis = SLEW_NO_AXIS;
    refused(&t, 8, "a run of no axis");
    t.count = SLEW_TIMINGS_MAX + 1;
    refused(&t, 8, "");
    t.count = -1;
    refused(&t, 8, "");
}

/* of a travel that the truck can't make the error has the line of its row */
static void a_travel_that_can_not_be_made_has_its_line(void **state)
{
    slew_timings t = one_row();
    slew_error error = {0};
    (void)state;
    t.row[0].from.kind = SLEW_PLACE_ANGLE;
    t.row[0].from.angle = degrees(300);
    assert_int_equal(judge(&t, 8, &error), SLEW_ERROR_INPUT);
    assert_int_equal(error.line, 2);
}

/* seconds of a deploy are set, not read: alone they are no reading; the angle after them is one */
static void seconds_of_a_deploy_are_no_reading(void **state)
{
    slew_timings t = one_row();
    (void)state;
    t.row[0].from.kind = SLEW_PLACE_STOW_POINT;
    t.row[0].to.kind = SLEW_PLACE_DEPLOYED;
    t.row[0].measured[SLEW_MEASURE_SECONDS].value = 7.5;
    refused(&t, 8, "nothing is measured");
    t.row[0].measured[SLEW_MEASURE_ANGLE].value = degrees(40);
    assert_int_equal(judge(&t, 8, NULL), SLEW_OK);
    assert_int_equal(verdict.readings, 1);
    const double longer = verdict.reading[0].expected;
    t.row[0].measured[SLEW_MEASURE_SECONDS].value = 6;
    assert_int_equal(judge(&t, 8, NULL), SLEW_OK);
    assert_true(verdict.reading[0].expected < longer - degrees(5)); /* 1.5 s less upward */
    t.row[0].measured[SLEW_MEASURE_SECONDS].value = NAN; /* as the scenario has it: 7.5 s */
    assert_int_equal(judge(&t, 8, NULL), SLEW_OK);
    close_to("as set", verdict.reading[0].expected, longer, 1e-9);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_is_no_page_is_refused),
        cmocka_unit_test(a_travel_that_can_not_be_made_has_its_line),
        cmocka_unit_test(seconds_of_a_deploy_are_no_reading),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
