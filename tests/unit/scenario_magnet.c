/* scenario_magnet.c - the magnet of a home sensor in a file: all of its figures or none, and not
 * beside a window. */
#include <math.h>

#include "scenario_text.h"

static outcome o;

static const char *const HOME =
    "  home: {angle: 0 deg, operate: 3 deg, release: 4 deg, present: yes, stuck: no}\n"
    "  search: right";

#define MAGNET                                                                                     \
    "magnet: {remanence: 1.2 T, diameter: 8 mm, length: 5 mm, radius: 120 mm, gap: 9 mm,\n"        \
    "             operate_flux: 100 gauss, release_flux: 70 G}"
#define ROTATION(home) "  home: {angle: 0 deg, " home "}\n  search: right"

static const slew_magnet *magnet_of(const slew_setup *setup)
{
    return &setup->axis[SLEW_ROTATION].home.magnet;
}

static slew_magnet *magnet_to_change(slew_scenario *s)
{
    return &s->setup.axis[SLEW_ROTATION].home.magnet;
}

/* the whole scenario with another home sensor of the rotation */
static void read_home(const char *home)
{
    char *text = edit(HOME, home);
    read_text(&o, text);
    free(text);
}

static const slew_error *error_about(const char *key)
{
    for (int i = 0; i < o.errors.count && i < CAUGHT_MAX; i++)
        if (strcmp(o.errors.error[i].key, key) == 0)
            return &o.errors.error[i];
    fail_msg("no error about %s among %d", key, o.errors.count);
    return NULL;
}

static void says(const char *key, const char *message)
{
    const slew_error *e = error_about(key);
    if (strstr(e->message, message) == NULL)
        fail_msg("%s: \"%s\", not \"%s\"", key, e->message, message);
    assert_true(strlen(e->expected) + strlen(e->nearest) > 0 || strstr(message, "vary") != NULL);
}

/* ---- right ones ---- */

static void figures_are_read_with_their_units(void **state)
{
    (void)state;
    read_home(ROTATION(MAGNET));
    assert_int_equal(o.status, SLEW_OK);
    const slew_magnet *m = magnet_of(&o.scenario.setup);
    assert_true(m->given);
    assert_true(m->remanence == 1.2 && fabs(m->diameter - 0.008) < 1e-15);
    assert_true(fabs(m->length - 0.005) < 1e-15 && fabs(m->radius - 0.12) < 1e-15);
    assert_true(fabs(m->gap - 0.009) < 1e-15 && fabs(m->operate_flux - 0.01) < 1e-15);
    assert_true(fabs(m->release_flux - 0.007) < 1e-15);
    assert_false(o.scenario.setup.axis[SLEW_ELEVATION].home.magnet.given);
}

static void without_one_nothing_is_given(void **state)
{
    slew_scenario fresh;
    (void)state;
    slew_scenario_init(&fresh);
    for (int axis = 0; axis < SLEW_AXES; axis++)
        assert_false(fresh.setup.axis[axis].home.magnet.given);
    assert_true(isnan(magnet_of(&fresh.setup)->gap));
}

/* 1 T = 10 000 gauss, exact; other multiples by UDUNITS */
static void units_of_flux_density(void **state)
{
    static const struct {
        const char *text;
        double tesla;
    } row[] = {{"0.5 T", 0.5},         {"12 mT", 0.012},      {"120 gauss", 0.012},
               {"120 G", 0.012},       {"12000 uT", 0.012},   {"0.12 kilogauss", 0.012},
               {"0.012 Wb/m2", 0.012}, {"0.012 tesla", 0.012}};
    (void)state;
    for (size_t i = 0; i < sizeof row / sizeof *row; i++) {
        slew_scenario s;
        slew_scenario_init(&s);
        assert_int_equal(slew_scenario_set(&s, SLEW_LAYER_FILE, "rotation.home.magnet.operate_flux",
                                           row[i].text, (slew_error_sink){0}),
                         SLEW_OK);
        assert_true(fabs(magnet_of(&s.setup)->operate_flux - row[i].tesla) < 1e-12 * row[i].tesla);
    }
}

static void it_counts_in_the_fingerprint(void **state)
{
    (void)state;
    read_text(&o, FULL);
    uint64_t none = slew_scenario_hash(&o.scenario);
    read_home(ROTATION(MAGNET));
    slew_scenario s = o.scenario;
    assert_true(slew_scenario_hash(&s) != none);
    magnet_to_change(&s)->gap = 0.0091;
    assert_true(slew_scenario_hash(&s) != slew_scenario_hash(&o.scenario));
    /* a window that takes its place leaves no trace of it */
    slew_scenario_set_number(&s, SLEW_LAYER_FILE, slew_key_find("rotation.home.operate"),
                             slew_scenario_get_number(&s, slew_key_find("elevation.home.operate")));
    assert_true(slew_scenario_hash(&s) == none);
}

/* ---- a window beside a magnet ---- */

static void a_window_and_a_magnet_are_one_error(void **state)
{
    (void)state;
    read_home(ROTATION("operate: 3 deg, " MAGNET));
    /* each figure is where a window stands already */
    assert_int_equal(o.status, SLEW_ERROR_INPUT);
    says("rotation.home.magnet.remanence",
         "a window and a magnet that gives it, the first in line");
    read_home(ROTATION(MAGNET ", release: 4 deg"));
    assert_int_equal(o.errors.count, 1);
    says("rotation.home.release", "a window and a magnet that gives it");
    assert_non_null(strstr(o.errors.error[0].expected, "operate and release, or a magnet"));
}

static void what_is_set_last_counts(void **state)
{
    (void)state;
    read_home(ROTATION(MAGNET));
    slew_scenario s = o.scenario;
    int operate = slew_key_find("rotation.home.operate");
    assert_int_equal(slew_scenario_set_number(&s, SLEW_LAYER_FILE, operate, 0.05), SLEW_OK);
    assert_false(magnet_of(&s.setup)->given);
    assert_true(isnan(magnet_of(&s.setup)->gap));
    assert_true(s.setup.axis[SLEW_ROTATION].home.operate == 0.05);
    /* the other axis is another sensor */
    s = o.scenario;
    operate = slew_key_find("elevation.home.operate");
    slew_scenario_set_number(&s, SLEW_LAYER_FILE, operate, 0.05);
    assert_true(magnet_of(&s.setup)->given);
}

static void a_layer_can_put_a_window_in_its_place(void **state)
{
    slew_setup today;
    (void)state;
    read_home(ROTATION(MAGNET));
    slew_scenario s = o.scenario;
    int operate = slew_key_find("rotation.home.operate");
    int gap = slew_key_find("rotation.home.magnet.gap");
    slew_scenario_set_number(&s, SLEW_LAYER_TODAY, operate, 0.05);
    slew_scenario_resolve(&s, SLEW_OCCASION_STOW, &today);
    assert_false(magnet_of(&today)->given);
    slew_scenario_resolve(&s, SLEW_OCCASION_TEACH, &today);
    assert_true(magnet_of(&today)->given);
    /* in one layer the last one counts too, and takes out the other */
    slew_scenario_set_number(&s, SLEW_LAYER_TODAY, gap, 0.01);
    assert_int_equal(s.today.count, 1);
    slew_scenario_resolve(&s, SLEW_OCCASION_STOW, &today);
    assert_true(magnet_of(&today)->given && magnet_of(&today)->gap == 0.01);
    assert_true(magnet_of(&today)->remanence == 1.2);
    /* and all of it */
    slew_scenario_set_number(&s, SLEW_LAYER_TODAY, slew_key_find("rotation.home.magnet.length"),
                             0.004);
    slew_scenario_set_number(&s, SLEW_LAYER_TODAY, operate, 0.05);
    assert_int_equal(s.today.count, 1);
    slew_scenario_resolve(&s, SLEW_OCCASION_STOW, &today);
    assert_false(magnet_of(&today)->given);
}

static void a_hidden_figure_is_warned_of(void **state)
{
    static const slew_assignment set[] = {
        {SLEW_LAYER_FILE, "rotation.home.magnet.gap=8 mm", "--set", false},
        {SLEW_LAYER_TODAY, "rotation.home.operate=2 deg", "--today", false}};
    char *text = edit(HOME, ROTATION(MAGNET));
    (void)state;
    read_with(&o, text, strlen(text), set, 2);
    free(text);
    assert_int_equal(o.status, SLEW_OK);
    assert_int_equal(o.warnings.count, 1);
    assert_string_equal(o.warnings.error[0].key, "rotation.home.magnet.gap");
    assert_non_null(strstr(o.warnings.error[0].message, "hidden by today"));
}

/* ---- half a magnet ---- */

static void what_is_missing_is_named(void **state)
{
    (void)state;
    read_home(ROTATION("magnet: {remanence: 1.2 T, diameter: 8 mm, gap: 6 mm, radius: 120 mm}"));
    assert_int_equal(o.status, SLEW_ERROR_INPUT);
    assert_int_equal(o.errors.count, 3);
    says("rotation.home.magnet.length", "required with a magnet, but missing");
    says("rotation.home.magnet.operate_flux", "required with a magnet, but missing");
    says("rotation.home.magnet.release_flux", "required with a magnet, but missing");
    for (int i = 0; i < 3; i++)
        assert_true(o.errors.error[i].line > 0);
}

static void a_layer_alone_needs_them_all(void **state)
{
    char *text = edit("today: {}", "today: {rotation.home.magnet.gap: 6 mm}");
    (void)state;
    read_text(&o, text);
    free(text);
    assert_int_equal(o.status, SLEW_ERROR_INPUT);
    assert_int_equal(o.errors.count, 6);
    says("rotation.home.magnet.remanence", "required with rotation.home.magnet.gap, but missing "
                                           "today");
    assert_int_equal(o.errors.error[0].line, 95);
    text = edit("today: {}", "today: {rotation: {home: {" MAGNET "}}}");
    read_text(&o, text);
    free(text);
    assert_int_equal(o.status, SLEW_OK);
}

/* ---- wrong ones ---- */

static void wrong_figure(const char *from, const char *to, const char *key, const char *message)
{
    const char *whole = ROTATION(MAGNET), *at = strstr(whole, from);
    char text[512];
    assert_non_null(at);
    snprintf(text, sizeof text, "%.*s%s%s", (int)(at - whole), whole, to, at + strlen(from));
    read_home(text);
    assert_int_equal(o.status, SLEW_ERROR_INPUT);
    assert_int_equal(o.errors.count, 1);
    says(key, message);
}

static void figures_out_of_range(void **state)
{
    (void)state;
    wrong_figure("gap: 9 mm", "gap: 0 mm", "rotation.home.magnet.gap", "out of range");
    wrong_figure("gap: 9 mm", "gap: -2 mm", "rotation.home.magnet.gap", "out of range");
    wrong_figure("diameter: 8 mm", "diameter: 0 mm", "rotation.home.magnet.diameter",
                 "out of range");
    wrong_figure("length: 5 mm", "length: -5 mm", "rotation.home.magnet.length", "out of range");
    wrong_figure("radius: 120 mm", "radius: 0 m", "rotation.home.magnet.radius", "out of range");
    wrong_figure("remanence: 1.2 T", "remanence: 12 T", "rotation.home.magnet.remanence",
                 "out of range");
    wrong_figure("remanence: 1.2 T", "remanence: 1.2 V", "rotation.home.magnet.remanence",
                 "a voltage, not a flux density");
    wrong_figure("remanence: 1.2 T", "remanence: 1.2", "rotation.home.magnet.remanence",
                 "the unit is missing");
    wrong_figure("gap: 9 mm", "gap: 9 mT", "rotation.home.magnet.gap",
                 "a flux density, not a length");
    wrong_figure("release_flux: 70 G", "release_flux: 170 G", "rotation.home.magnet.release_flux",
                 "(17 mT) is above rotation.home.magnet.operate_flux (10 mT)");
    wrong_figure("gap: 9 mm", "gpa: 9 mm", "rotation.home.magnet.gpa", "unknown key");
    assert_string_equal(o.errors.error[0].nearest, "rotation.home.magnet.gap");
}

/* ---- spread ---- */

static void spread_needs_what_it_varies(void **state)
{
    char *text = edit("  truck:\n", "  truck:\n    rotation.home.magnet.gap: {uniform: {low: 5 mm, "
                                    "high: 6 mm}}\n");
    (void)state;
    read_text(&o, text);
    free(text);
    assert_int_equal(o.errors.count, 1);
    says("rotation.home.magnet.gap", "no magnet is given that could vary");
    text = edit(HOME, ROTATION(MAGNET));
    char *end = strstr(text, "  truck:\n");
    char whole[8192];
    snprintf(whole, sizeof whole,
             "%.*s  truck:\n    rotation.home.operate: {uniform: {low: 1 deg, "
             "high: 2 deg}}\n%s",
             (int)(end - text), text, end + strlen("  truck:\n"));
    free(text);
    read_text(&o, whole);
    assert_int_equal(o.errors.count, 1);
    says("rotation.home.operate", "vary the figures of the magnet instead");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(figures_are_read_with_their_units),
        cmocka_unit_test(without_one_nothing_is_given),
        cmocka_unit_test(units_of_flux_density),
        cmocka_unit_test(it_counts_in_the_fingerprint),
        cmocka_unit_test(a_window_and_a_magnet_are_one_error),
        cmocka_unit_test(what_is_set_last_counts),
        cmocka_unit_test(a_layer_can_put_a_window_in_its_place),
        cmocka_unit_test(a_hidden_figure_is_warned_of),
        cmocka_unit_test(what_is_missing_is_named),
        cmocka_unit_test(a_layer_alone_needs_them_all),
        cmocka_unit_test(figures_out_of_range),
        cmocka_unit_test(spread_needs_what_it_varies),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
