/* map_ranges.c - "today.supply.main.voltage=9V:15V:60": what is varied, read from an option's text.
 */
#include "scenario_text.h"

#include "slewtime/map.h"

static outcome o;

static int enter(void **state)
{
    (void)state;
    read_text(&o, FULL);
    return o.status == SLEW_OK ? 0 : -1;
}

static slew_vary range_of(const char *text)
{
    slew_vary v;
    slew_error error;
    if (slew_vary_read(&o.scenario, text, &v, &error) != SLEW_OK)
        fail_msg("%s: %s", text, error.message);
    return v;
}

static void ranges_as_people_write_them(void **state)
{
    (void)state;
    slew_vary v = range_of("today.supply.main.voltage=9V:15V:60");
    assert_int_equal(v.layer, SLEW_LAYER_TODAY);
    assert_int_equal(v.key, slew_key_find("supply.main.voltage"));
    assert_true(v.from == 9 && v.to == 15 && v.steps == 60);
    v = range_of("  supply.main.voltage = 9 V : 15 V : 2000 ");
    assert_int_equal(v.layer, SLEW_LAYER_FILE);
    assert_int_equal(v.steps, 2000);
    v = range_of("teach.supply.main.voltage=9 V:15 V");
    assert_int_equal(v.layer, SLEW_LAYER_TEACH);
    assert_int_equal(v.steps, 0);
    assert_true(isnan(slew_vary_value(&v, 0)));
    v = range_of("deploy_day.environment.temperature=-20degC:40degC:3");
    assert_int_equal(v.layer, SLEW_LAYER_DEPLOY_DAY);
    assert_true(slew_vary_value(&v, 0) == v.from && slew_vary_value(&v, 3) == v.to);
    assert_true(fabs(slew_vary_in_unit(&v, slew_vary_value(&v, 1)) - 0) < 1e-9);
    v = range_of("supply.feed.gauge=4AWG:10AWG:3");
    assert_true(slew_vary_in_unit(&v, 6) == 6);
    v = range_of("rotation.gear.ratio=1000:2000:2");
    assert_true(slew_vary_in_unit(&v, 1500) == 1500);
}

static void refused(const char *text, const char *key, const char *message)
{
    slew_vary v;
    slew_error error;
    assert_int_equal(slew_vary_read(&o.scenario, text, &v, &error), SLEW_ERROR_INPUT);
    if (strcmp(error.key, key) != 0 || strstr(error.message, message) == NULL)
        fail_msg("%s: [%s] %s", text, error.key, error.message);
    assert_int_equal(slew_vary_read(&o.scenario, text, &v, NULL), SLEW_ERROR_INPUT);
}

static void what_is_no_range_is_refused(void **state)
{
    (void)state;
    static const char *const none[] = {"",          "supply.main.voltage",
                                       "=9V:15V",   "supply.main.voltage=",
                                       "a=9V",      "supply.main.voltage=:15V",
                                       "a=9V:",     "supply.main.voltage=9V: :3",
                                       "a=9V:15V:", "supply.main.voltage=9V:15V:3:4",
                                       "  =9V:15V"};
    char longer[200];
    const char *key = "supply.main.voltage";
    for (size_t i = 0; i < sizeof none / sizeof *none; i++)
        refused(none[i], "", "not a key with a range");
    memset(longer, 'x', sizeof longer);
    memcpy(longer + 120, "=9V:15V", 8);
    refused(longer, "", "not a key with a range");
    refused("suply.main.voltage=9V:15V", "suply.main.voltage", "unknown key");
    refused("todays.supply.main.voltage=9V:15V", "todays.supply.main.voltage", "unknown key");
    refused("today.stow.tolerance=1deg:2deg", "stow.tolerance", "today can't hold");
    refused("rotation.home.present=no:yes", "rotation.home.present", "can't be varied");
    refused("supply.main.voltage=9V:15m", key, "a length, not a voltage");
    refused("supply.main.voltage=9A:15V", key, "a current, not a voltage");
    refused("supply.main.voltage=15V:9V", key, "the wrong way round");
    refused("supply.main.voltage=9V:9V", key, "the range is empty");
    refused("stow.cancel_at=1s:never", "stow.cancel_at", "both ends must be finite");
    refused("supply.system=12V:24V", "supply.system", "the values between the two");
    refused("supply.main.voltage=9V:15V:1", key, "not a number of steps");
    refused("supply.main.voltage=9V:15V:2001", key, "not a number of steps");
    refused("supply.main.voltage=9V:15V:-3", key, "not a number of steps");
    refused("supply.main.voltage=9V:15V:many", key, "not a number of steps");
    refused("supply.main.voltage=9V:15V:3.5", key, "not a number of steps");
}

/* what a program makes up itself */
static void what_is_handed_over_is_looked_at(void **state)
{
    (void)state;
    static slew_map_line line;
    const slew_vary right = range_of("supply.main.voltage=12V:13V:2");
    const slew_sampling how = slew_sampling_default();
    slew_vary wrong[8];
    for (int i = 0; i < 8; i++)
        wrong[i] = right;
    wrong[0].key = -1;
    wrong[1].key = slew_key_find("rotation.home.present");
    wrong[2].layer = (slew_layer_id)99;
    wrong[3].from = (double)-INFINITY;
    wrong[4].to = (double)INFINITY;
    wrong[5].from = 14;
    wrong[6].steps = 1;
    wrong[7].steps = 2001;
    for (int i = 0; i < 8; i++)
        assert_int_equal(slew_map_line_run(&o.scenario, &wrong[i], 1e-3, &how, &line, NULL),
                         SLEW_ERROR_INPUT);
    assert_int_equal(slew_map_line_run(&o.scenario, &right, 0, &how, &line, NULL),
                     SLEW_ERROR_INPUT);
    assert_int_equal(slew_map_line_run(&o.scenario, &right, 1e-3, &how, &line, NULL), SLEW_OK);
    assert_int_equal(line.point_count, 3);
    slew_map_line_free(&line);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(ranges_as_people_write_them),
        cmocka_unit_test(what_is_no_range_is_refused),
        cmocka_unit_test(what_is_handed_over_is_looked_at),
    };
    return cmocka_run_group_tests(tests, enter, NULL);
}
