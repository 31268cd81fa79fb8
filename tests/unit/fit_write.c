/*
 * fit_write.c - fitted figures in the text of a scenario: it reads back as the scenario with these
 * values set, and nothing else is lost. Runs from the project's root.
 */
#include "../support.h"

#include <glob.h>
#include <stdlib.h>

#include "slewtime/edit.h"
#include "slewtime/fit.h"

static slew_scenario read_text(const char *text, const slew_assignment *a, size_t count)
{
    static slew_scenario s;
    const slew_reading how = {.assignments = a, .assignment_count = count};
    if (slew_scenario_read_memory(text, strlen(text), "", &how, &s) != SLEW_OK)
        fail_msg("does not read:\n%s", text);
    return s;
}

static char *text_of(const char *path)
{
    slew_error error;
    char *text = slew_scenario_text(path, &error);
    assert_non_null(text);
    return text;
}

static void set_figure(slew_fit *fit, int key, double value, double sd)
{
    fit->figure[fit->figures++] = (slew_fit_figure){.key = key, .value = value, .sd = sd};
}

static const slew_variation *truck_of(const slew_scenario *s, int key)
{
    for (int i = 0; i < s->truck.count; i++)
        if (s->truck.item[i].key == key)
            return &s->truck.item[i];
    return NULL;
}

static void comments_are_kept(const char *before, const char *after)
{
    for (const char *at = strchr(before, '#'); at != NULL; at = strchr(at + 1, '#')) {
        char comment[400];
        snprintf(comment, sizeof comment, "%.*s", (int)strcspn(at, "\n"), at);
        if (strstr(after, comment) == NULL)
            fail_msg("lost: %s", comment);
    }
}

/* what followed from a motor's data sheet is written as it was, to twelve digits */
static void keep_what_followed(slew_scenario *expected, const slew_scenario *after, int but)
{
    static const char *const rest[] = {"motor.no_load_speed", "motor.no_load_current",
                                       "motor.stall_current", "gear.efficiency", "motor.inertia"};
    for (int i = 0; i < 5 * SLEW_AXES; i++) {
        char path[64];
        snprintf(path, sizeof path, "%s.%s", slew_axis_word(i / 5), rest[i % 5]);
        int key = slew_key_find(path);
        double value = slew_scenario_get_number(after, key);
        if (key == but)
            continue;
        near(path, value, slew_scenario_get_number(expected, key), 1e-11 * value);
        slew_scenario_set_number(expected, SLEW_LAYER_FILE, key, value);
    }
}

/* the scenario before, with value and spread of the key taken from the one after */
static void is_the_same_but_for(const slew_scenario *before, const slew_scenario *after, int key)
{
    slew_scenario expected = *before;
    const slew_variation *now = truck_of(after, key);
    assert_non_null(now);
    assert_int_equal(slew_scenario_set_number(&expected, SLEW_LAYER_FILE, key,
                                              slew_scenario_get_number(after, key)),
                     SLEW_OK);
    int at = 0;
    while (at < expected.truck.count && expected.truck.item[at].key != key)
        at++;
    expected.truck.count += at == expected.truck.count;
    expected.truck.item[at] = *now;
    keep_what_followed(&expected, after, key);
    assert_true(slew_scenario_hash(&expected) == slew_scenario_hash(after));
    assert_string_equal(expected.title, after->title);
}

static void write_one(const char *path, const char *text, int key)
{
    const slew_scenario before = read_text(text, NULL, 0);
    slew_fit fit = {0};
    slew_error error = {0};
    double value = slew_scenario_get_number(&before, key);
    double fitted = value * (1 - 0.0123456789), sd = 0.04321987 * fabs(value) + 1e-7;
    set_figure(&fit, key, fitted, sd);
    char *written = slew_fit_write(&fit, text, NULL, 0, "a note", &error);
    if (written == NULL)
        fail_msg("%s, %s: %s", path, slew_key_at(key)->path, error.message);
    const slew_scenario after = read_text(written, NULL, 0);
    is_the_same_but_for(&before, &after, key);
    comments_are_kept(text, written);
    assert_memory_equal(written, "# a note\n", 9);
    const slew_variation *v = truck_of(&after, key);
    assert_int_equal(v->distribution, SLEW_NORMAL);
    /* seven digits of the value in the key's unit; at 293.15 K it is 20 degC */
    near(slew_key_at(key)->path, slew_scenario_get_number(&after, key), fitted,
         5e-7 * fabs(fitted) + 1e-12);
    assert_true(v->mean == slew_scenario_get_number(&after, key));
    close_to(slew_key_at(key)->path, v->sd, sd, 5e-3);
    free(written);
}

static bool is_of_day(const slew_scenario *s, int key)
{
    for (int i = 0; i < s->day.count; i++)
        if (s->day.item[i].key == key)
            return true;
    return false;
}

/* keys that a fit can be about, inside their ranges after a change of 1 % */
static bool is_fitted(const slew_scenario *s, int key)
{
    slew_scenario copy = *s;
    double value = slew_scenario_get_number(s, key);
    const slew_key *k = slew_key_at(key);
    return k->kind == SLEW_KEY_NUMBER && k->layered && isfinite(value) && !is_of_day(s, key) &&
           strcmp(k->path, "supply.system") != 0 && strcmp(k->path, "supply.feed.gauge") != 0 &&
           slew_scenario_set_number(&copy, SLEW_LAYER_FILE, key, value * (1 - 0.0123456789)) ==
               SLEW_OK &&
           slew_scenario_check(&copy, (slew_error_sink){0}, (slew_error_sink){0}) == SLEW_OK;
}

static void every_key_of_every_example(void **state)
{
    glob_t found;
    int written = 0;
    (void)state;
    assert_int_equal(glob("examples/*.yaml", 0, NULL, &found), 0);
    assert_true(found.gl_pathc >= 14);
    for (size_t i = 0; i < found.gl_pathc; i++) {
        if (strstr(found.gl_pathv[i], "/seen-") != NULL ||
            strstr(found.gl_pathv[i], "/wiring-") != NULL)
            continue; /* what was seen at a truck; a scenario without a sequence */
        char *text = text_of(found.gl_pathv[i]);
        const slew_scenario s = read_text(text, NULL, 0);
        for (int key = 0; key < slew_key_count(); key++)
            if (is_fitted(&s, key)) {
                write_one(found.gl_pathv[i], text, key);
                written++;
            }
        free(text);
    }
    assert_true(written > 700);
    globfree(&found);
}

static void assignments_go_in_too(void **state)
{
    static const slew_assignment a[] = {
        {SLEW_LAYER_FILE, "supply.main.voltage = 12.9 V", "--set", false},
        {SLEW_LAYER_FILE, "title=a truck: \"ours\"", "--set", false},
        {SLEW_LAYER_FILE, "stow.order=elevation, rotation", "--set", false},
        {SLEW_LAYER_FILE, "deploy.choices.elevation=5 s, 7.5 s", "--set", false},
        {SLEW_LAYER_FILE, "deploy.choices.rotation=[0 s, 1 s]", "--set", false},
        {SLEW_LAYER_FILE, "rotation.search=left", "--set", false},
        {SLEW_LAYER_TODAY, "environment.temperature=-3 degC", "--today", false},
        {SLEW_LAYER_DEPLOY_DAY, "nozzle.flowing=yes", "--deploy-day", false},
        {SLEW_LAYER_TEACH, "supply.main.voltage=12.2 V", "--teach", false},
    };
    const size_t count = sizeof a / sizeof *a;
    (void)state;
    char *text = text_of("examples/daily.yaml");
    const slew_scenario before = read_text(text, a, count);
    slew_fit fit = {0};
    slew_error error = {0};
    int key = slew_key_find("elevation.gear.efficiency");
    set_figure(&fit, key, 0.333, 0.004);
    set_figure(&fit, SLEW_FIT_BIAS, 0.2, 0.1); /* is nothing of the truck's */
    char *written = slew_fit_write(&fit, text, a, count, NULL, &error);
    if (written == NULL)
        fail_msg("%s", error.message);
    const slew_scenario after = read_text(written, NULL, 0);
    is_the_same_but_for(&before, &after, key);
    assert_string_equal(after.title, "a truck: \"ours\"");
    free(written);
    free(text);
}

static void several_figures_in_a_file_without_a_spread(void **state)
{
    (void)state;
    char *text = text_of("examples/foam-trailer.yaml");
    static const char *const paths[] = {"elevation.gear.efficiency",
                                        "elevation.motor.viscous_share",
                                        "supply.feed.joint_resistance", "environment.temperature"};
    slew_fit fit = {0};
    slew_error error = {0};
    const double values[] = {0.31, 0.27, 0.0021, 271.5};
    for (int i = 0; i < 4; i++)
        set_figure(&fit, slew_key_find(paths[i]), values[i], 0.01 * values[i]);
    char *written = slew_fit_write(&fit, text, NULL, 0, NULL, &error);
    if (written == NULL)
        fail_msg("%s", error.message);
    const slew_scenario after = read_text(written, NULL, 0);
    assert_int_equal(after.truck.count, 4);
    for (int i = 0; i < 4; i++) {
        close_to(paths[i], slew_scenario_get_number(&after, slew_key_find(paths[i])), values[i],
                 1e-6);
        close_to(paths[i], truck_of(&after, slew_key_find(paths[i]))->sd, 0.01 * values[i], 5e-3);
    }
    free(written);
    free(text);
}

/* figures known so badly that a normal would leave their ranges are cut off there */
static void tails_are_cut_off_at_the_range(void **state)
{
    (void)state;
    char *text = text_of("examples/daily.yaml");
    static const char *const paths[] = {"elevation.load.friction", "elevation.gear.efficiency",
                                        "elevation.motor.viscous_share"};
    slew_fit fit = {0};
    slew_error error = {0};
    set_figure(&fit, slew_key_find(paths[0]), 6, 4);
    set_figure(&fit, slew_key_find(paths[1]), 0.7, 0.3);
    set_figure(&fit, slew_key_find(paths[2]), 0.3, 0.2);
    char *written = slew_fit_write(&fit, text, NULL, 0, NULL, &error);
    if (written == NULL)
        fail_msg("%s", error.message);
    const slew_scenario after = read_text(written, NULL, 0);
    for (int i = 0; i < 3; i++) {
        const slew_variation *v = truck_of(&after, slew_key_find(paths[i]));
        near("low", v->low, slew_key_at(v->key)->low, 1e-12);
        assert_true(v->high == slew_key_at(v->key)->high ||
                    fabs(v->high - slew_key_at(v->key)->high) < 1e-12);
    }
    free(written);
    free(text);
}

/* pairs of figures go together; a second fit replaces what the first one wrote */
static void correlations_are_written_and_replaced(void **state)
{
    (void)state;
    char *text = text_of("examples/daily.yaml");
    slew_fit fit = {0};
    slew_error error = {0};
    int speed = slew_key_find("elevation.motor.no_load_speed");
    int efficiency = slew_key_find("elevation.gear.efficiency");
    int joint = slew_key_find("supply.feed.joint_resistance");
    set_figure(&fit, speed, rpm(3000), rpm(30));
    set_figure(&fit, SLEW_FIT_BIAS, 0.1, 0.1);
    set_figure(&fit, efficiency, 0.34, 0.01);
    set_figure(&fit, joint, 2e-3, 1e-4);
    fit.correlation[2][0] = -0.81234567;
    fit.correlation[3][2] = 0.2;
    fit.correlation[1][0] = fit.correlation[2][1] = 0.9; /* with the bias: nobody's business */
    char *first = slew_fit_write(&fit, text, NULL, 0, NULL, &error);
    assert_non_null(first);
    slew_scenario after = read_text(first, NULL, 0);
    assert_int_equal(after.correlation.count, 2);
    assert_int_equal(after.correlation.item[0].key[0], speed);
    assert_int_equal(after.correlation.item[0].key[1], efficiency);
    near("coefficient", after.correlation.item[0].coefficient, -0.81234567, 5e-6);
    near("coefficient", after.correlation.item[1].coefficient, 0.2, 1e-15);
    fit.correlation[2][0] = 0; /* now they do not go together, and the file has to say so */
    fit.correlation[3][0] = 0.3;
    char *second = slew_fit_write(&fit, first, NULL, 0, NULL, &error);
    assert_non_null(second);
    after = read_text(second, NULL, 0);
    assert_int_equal(after.correlation.count, 3);
    assert_true(after.correlation.item[0].coefficient == 0);
    assert_int_equal(after.correlation.item[2].key[0], speed);
    assert_int_equal(after.correlation.item[2].key[1], joint);
    free(first);
    free(second);
    free(text);
}

static void refused(const slew_fit *fit, const char *text, const slew_assignment *a, size_t count,
                    const char *part)
{
    slew_error error = {0};
    assert_null(slew_fit_write(fit, text, a, count, "note", &error));
    assert_int_equal(error.status, SLEW_ERROR_INPUT);
    if (strstr(error.message, part) == NULL)
        fail_msg("\"%s\" is not in: %s", part, error.message);
}

/* a second row would never be drawn: the day's is */
static void what_the_day_draws_is_not_written(void **state)
{
    (void)state;
    char *text = text_of("examples/daily.yaml");
    slew_fit fit = {0};
    set_figure(&fit, slew_key_find("supply.main.voltage"), 13.2, 0.1);
    refused(&fit, text, NULL, 0, "drawn anew every day");
    free(text);
}

/* what floats belongs to the posterior, what an instrument shows too much does not */
static void what_floats_is_written(void **state)
{
    (void)state;
    char *text = text_of("examples/daily.yaml");
    slew_fit fit = {0};
    slew_error error = {0};
    const int offsets[] = {SLEW_FIT_BIAS, SLEW_FIT_VOLTAGE_OFFSET, SLEW_FIT_CURRENT_OFFSET,
                           SLEW_FIT_SUPPLY_OFFSET, SLEW_FIT_TEMPERATURE_OFFSET};
    set_figure(&fit, slew_key_find("stow.point.elevation"), degrees(-15.2), degrees(0.1));
    fit.figure[0].edge = -1;
    for (int i = 0; i < 5; i++)
        set_figure(&fit, offsets[i], 0.1, 0.1);
    char *written = slew_fit_write(&fit, text, NULL, 0, NULL, &error);
    if (written == NULL)
        fail_msg("%s", error.message);
    const slew_scenario after = read_text(written, NULL, 0);
    near("point", after.stow.point[SLEW_ELEVATION], degrees(-15.2), 1e-9);
    assert_int_equal(after.truck.count, 3);
    free(written);
    free(text);
}

/* what does not read back as it should is seen, and nothing comes out */
static void a_text_that_cannot_be_edited_is_refused(void **state)
{
    (void)state;
    char *text = text_of("examples/daily.yaml");
    slew_fit fit = {0};
    set_figure(&fit, slew_key_find("elevation.gear.efficiency"), 0.333, 0.01);
    static const slew_assignment size[] = {
        {SLEW_LAYER_FILE, "supply.feed.area=10 mm2", "--set", false}};
    refused(&fit, text, size, 1, "can't be put into it"); /* two sizes would stand there */
    refused(&fit, "title: nothing else\n", NULL, 0, "no scenario");
    free(text);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_key_of_every_example),
        cmocka_unit_test(assignments_go_in_too),
        cmocka_unit_test(several_figures_in_a_file_without_a_spread),
        cmocka_unit_test(tails_are_cut_off_at_the_range),
        cmocka_unit_test(correlations_are_written_and_replaced),
        cmocka_unit_test(what_the_day_draws_is_not_written),
        cmocka_unit_test(what_floats_is_written),
        cmocka_unit_test(a_text_that_cannot_be_edited_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
