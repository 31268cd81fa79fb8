/* scenario_read.c - a whole file read; every value against a conversion by hand. */
#include <math.h>
#include <unistd.h>

#include "scenario_text.h"

static const double DEGREE = 0.017453292519943295; /* pi / 180 */

static outcome o;

static int read_full(void **state)
{
    (void)state;
    read_text(&o, FULL);
    return o.status == SLEW_OK ? 0 : -1;
}

/* a conversion is one or two rounded operations: a few units in the last of 16 digits */
static void equals(double value, double expected)
{
    if (!(fabs(value - expected) <= 8e-16 * fabs(expected)))
        fail_msg("%.17g is not %.17g", value, expected);
}

static void nothing_is_wrong(void **state)
{
    (void)state;
    assert_int_equal(o.errors.count, 0);
    assert_int_equal(o.warnings.count, 0);
    assert_string_equal(
        o.scenario.title,
        "Roof monitor of a rural water tender, stowed under the folding light mast");
}

static void supply(void **state)
{
    (void)state;
    const slew_supply *s = &o.scenario.setup.supply;
    equals(s->system, 12);
    equals(s->floor, 10.5);
    equals(s->main.voltage, 13.4);
    equals(s->main.resistance, 0.010);
    equals(s->shared_load, 6);
    assert_int_equal(s->feed.conductor, SLEW_CONDUCTOR_GAUGE);
    equals(s->feed.gauge, 8);
    assert_true(isnan(s->feed.area) && isnan(s->feed.per_length));
    equals(s->feed.length, 9);
    equals(s->feed.stranding, 0.02);
    equals(s->feed.joints, 8);
    equals(s->feed.joint_resistance, 0.0015);
    assert_false(s->auxiliary_fitted);
    equals(s->auxiliary.voltage, 12.7);
    equals(s->auxiliary.resistance, 0.020);
}

static void surroundings(void **state)
{
    (void)state;
    const slew_setup *s = &o.scenario.setup;
    equals(s->environment.temperature, 293.15);
    equals(s->environment.tilt, 0);
    equals(s->environment.tilt_direction, 0);
    equals(s->grease.viscosity_40, 1e-4);
    equals(s->grease.viscosity_100, 1.11e-5);
    assert_false(s->nozzle.flowing);
    assert_int_equal(s->nozzle.kind, SLEW_SPRAY);
    equals(s->nozzle.flow, 3.785411784 / 60); /* 1000 US gallons of 3.785411784 L a minute */
    equals(s->nozzle.tip, 0.04445);           /* 1.75 x 25.4 mm */
    equals(s->nozzle.pressure, 7e5);
    assert_int_equal(s->nozzle.reaction, SLEW_REACTION_TRADE);
    equals(s->nozzle.coefficient, 1);
}

static void controller(void **state)
{
    (void)state;
    const slew_controller_settings *c = &o.scenario.setup.controller;
    equals(c->drive_resistance, 0.020);
    equals(c->drive_drop, 0.6);
    assert_int_equal(c->stop, SLEW_BRAKE);
    equals(c->sample, 0.005);
    equals(c->latency, 0.015);
    equals(c->clock, 0.010);
    equals(c->pause, 0.5);
    equals(c->move_limit, 60);
    equals(c->stall_current, 13);
    equals(c->stall_dwell, 0.25);
    equals(c->stall_blank, 0.2);
    equals(c->brownout_voltage, 9);
    equals(c->brownout_dwell, 0.05);
}

static void motor(const slew_motor_sheet *m)
{
    equals(m->rated_voltage, 12);
    equals(m->no_load_speed, 335.1032163829112); /* 3200 x 2 pi / 60 */
    equals(m->no_load_current, 1.2);
    equals(m->stall_current, 20);
    equals(m->inertia, 4.5e-5);
    equals(m->viscous_share, 0.3);
    equals(m->breakaway, 1.2);
}

static void common(const slew_axis_setup *a)
{
    motor(&a->motor);
    assert_false(a->reversed);
    equals(a->gear.efficiency, 0.36);
    assert_true(isnan(a->gear.backward_efficiency));
    equals(a->home.angle, 0);
    equals(a->home.operate, 3 * DEGREE);
    equals(a->home.release, 4 * DEGREE);
    assert_true(a->home.present && !a->home.stuck);
    assert_int_equal(a->approach, SLEW_APPROACH_FALLING);
    equals(a->overrun, 0.3);
}

static void rotation(void **state)
{
    (void)state;
    const slew_axis_setup *a = &o.scenario.setup.axis[SLEW_ROTATION];
    common(a);
    equals(a->start, -30 * DEGREE);
    equals(a->stops.low, -170 * DEGREE);
    equals(a->stops.high, 170 * DEGREE);
    equals(a->gear.ratio, 1750);
    equals(a->load.inertia, 2.5);
    equals(a->load.friction, 8);
    equals(a->load.seal_friction, 1.5e-5); /* 1.5 N m per 1e5 Pa */
    equals(a->load.reaction_arm, 0.004);
    equals(a->load.mass, 0);
    assert_int_equal(a->search, +1);
}

static void elevation(void **state)
{
    (void)state;
    const slew_axis_setup *a = &o.scenario.setup.axis[SLEW_ELEVATION];
    common(a);
    equals(a->start, 42 * DEGREE);
    equals(a->stops.low, -20 * DEGREE);
    equals(a->stops.high, 90 * DEGREE);
    equals(a->gear.ratio, 2200);
    equals(a->load.inertia, 1.6);
    equals(a->load.friction, 6);
    equals(a->load.seal_friction, 1e-5);
    equals(a->load.reaction_arm, 0.06);
    equals(a->load.mass, 11);
    equals(a->load.water_mass, 5);
    equals(a->load.centre_of_mass, 0.34);
    assert_int_equal(a->search, -1);
}

static void stow(void **state)
{
    (void)state;
    const slew_stow *s = &o.scenario.stow;
    equals(s->lift_first, 0);
    assert_int_equal(s->home_order, SLEW_ELEVATION_FIRST);
    assert_int_equal(s->order, SLEW_ROTATION_FIRST);
    assert_true(s->has_point && !s->has_times);
    equals(s->point[SLEW_ROTATION], 0);
    equals(s->point[SLEW_ELEVATION], -16 * DEGREE);
    equals(s->tolerance, 2 * DEGREE);
    assert_true(o.scenario.setup.stow_cancel_at == (double)INFINITY);
}

static void deploy(void **state)
{
    (void)state;
    const slew_deploy *d = &o.scenario.deploy;
    static const double times[] = {1.5, 3, 4.5, 6, 7.5, 9};
    assert_true(d->given && !d->same_day);
    equals(d->seconds[SLEW_ROTATION], 0);
    equals(d->seconds[SLEW_ELEVATION], 7.5);
    assert_int_equal(d->order, SLEW_ELEVATION_FIRST);
    assert_int_equal(d->choice_count[SLEW_ROTATION], 1);
    equals(d->choices[SLEW_ROTATION][0], 0);
    assert_int_equal(d->choice_count[SLEW_ELEVATION], 6);
    for (int i = 0; i < 6; i++)
        equals(d->choices[SLEW_ELEVATION][i], times[i]);
    equals(d->target[SLEW_ROTATION].low, -6 * DEGREE);
    equals(d->target[SLEW_ROTATION].high, 6 * DEGREE);
    equals(d->target[SLEW_ELEVATION].low, 30 * DEGREE);
    equals(d->target[SLEW_ELEVATION].high, 50 * DEGREE);
}

static void keepout(void **state)
{
    (void)state;
    const slew_keepout *k = &o.scenario.keepout;
    assert_int_equal(k->count, 1);
    assert_string_equal(k->box[0].name, "light mast");
    equals(k->box[0].axis[SLEW_ROTATION].low, -25 * DEGREE);
    equals(k->box[0].axis[SLEW_ROTATION].high, 25 * DEGREE);
    equals(k->box[0].axis[SLEW_ELEVATION].low, -30 * DEGREE);
    equals(k->box[0].axis[SLEW_ELEVATION].high, -19 * DEGREE);
}

static void layers(void **state)
{
    (void)state;
    const slew_layer *t = &o.scenario.teach;
    assert_int_equal(t->count, 3);
    assert_int_equal(t->item[0].key, slew_key_find("supply.main.voltage"));
    equals(t->item[0].value, 12.6);
    assert_int_equal(t->item[1].key, slew_key_find("environment.temperature"));
    equals(t->item[1].value, 293.15);
    assert_int_equal(t->item[2].key, slew_key_find("nozzle.flowing"));
    equals(t->item[2].value, 0);
    assert_int_equal(o.scenario.today.count + o.scenario.deploy_day.count, 0);
}

static void varies(const slew_variation *v, const char *path, slew_distribution distribution)
{
    assert_int_equal(v->key, slew_key_find(path));
    assert_int_equal(v->distribution, distribution);
}

static void spread_of_trucks(void **state)
{
    (void)state;
    const slew_variation *v = o.scenario.truck.item;
    assert_int_equal(o.scenario.truck.count, 2);
    varies(&v[0], "elevation.motor.no_load_speed", SLEW_NORMAL);
    equals(v[0].mean, 335.1032163829112);
    equals(v[0].sd, 6.283185307179586); /* 60 rpm is one turn a second */
    equals(v[0].low, 0);                /* not cut off: where the key's own range ends */
    equals(v[0].high, slew_key_at(v[0].key)->high);
    varies(&v[1], "elevation.gear.efficiency", SLEW_TRIANGULAR);
    equals(v[1].low, 0.32);
    equals(v[1].mode, 0.36);
    equals(v[1].high, 0.40);
}

static void spread_of_days(void **state)
{
    (void)state;
    const slew_variation *v = o.scenario.day.item;
    assert_int_equal(o.scenario.day.count, 4);
    varies(&v[0], "supply.main.voltage", SLEW_UNIFORM);
    equals(v[0].low, 11.8);
    equals(v[0].high, 14.2);
    varies(&v[1], "environment.temperature", SLEW_NORMAL);
    equals(v[1].mean, 288.15);
    equals(v[1].sd, 12);
    equals(v[1].low, 253.15);
    equals(v[1].high, 318.15);
    varies(&v[2], "rotation.start", SLEW_UNIFORM);
    equals(v[2].low, -160 * DEGREE);
    varies(&v[3], "elevation.start", SLEW_TABLE);
    assert_int_equal(v[3].count, 3);
    equals(v[3].value[0], 5 * DEGREE);
    equals(v[3].value[1], 30 * DEGREE);
    equals(v[3].value[2], 60 * DEGREE);
    equals(v[3].weight[2], 1);
}

/* ---- other ways to write it ---- */

static void a_table_has_weights(void **state)
{
    (void)state;
    static outcome t;
    char *text =
        edit("{values: [5 deg, 30 deg, 60 deg]}", "{table: {5 deg: 1, 30 deg: 2.5, 60 deg: 1}}");
    read_text(&t, text);
    free(text);
    assert_int_equal(t.status, SLEW_OK);
    const slew_variation *v = &t.scenario.day.item[3];
    varies(v, "elevation.start", SLEW_TABLE);
    assert_int_equal(v->count, 3);
    equals(v->value[1], 30 * DEGREE);
    equals(v->weight[0], 1);
    equals(v->weight[1], 2.5);
}

static void stored_times_take_the_place_of_the_point(void **state)
{
    (void)state;
    static outcome t;
    char *text = edit("point: {rotation: 0 deg, elevation: -16 deg}",
                      "times: {rotation: 0.31 s, elevation: -2.31 s}");
    read_text(&t, text);
    free(text);
    assert_int_equal(t.status, SLEW_OK);
    assert_true(t.scenario.stow.has_times && !t.scenario.stow.has_point);
    equals(t.scenario.stow.times[SLEW_ROTATION], 0.31);
    equals(t.scenario.stow.times[SLEW_ELEVATION], -2.31);
}

static void choices_default_to_the_seconds_alone(void **state)
{
    (void)state;
    static outcome t;
    char *text = edit("  choices: {rotation: [0 s], elevation: [1.5 s, 3 s, 4.5 s, 6 s, 7.5 s, "
                      "9 s]}\n",
                      "");
    read_text(&t, text);
    free(text);
    assert_int_equal(t.status, SLEW_OK);
    assert_int_equal(t.scenario.deploy.choice_count[SLEW_ELEVATION], 1);
    equals(t.scenario.deploy.choices[SLEW_ELEVATION][0], 7.5);
    assert_int_equal(t.scenario.deploy.choice_count[SLEW_ROTATION], 1);
}

static void a_box_without_an_axis_spans_it(void **state)
{
    (void)state;
    static outcome t;
    char *text = edit("rotation: {low: -25 deg, high: 25 deg}, ", "");
    read_text(&t, text);
    free(text);
    assert_int_equal(t.status, SLEW_OK);
    assert_true(t.scenario.keepout.box[0].axis[SLEW_ROTATION].low == -(double)INFINITY);
    assert_true(t.scenario.keepout.box[0].axis[SLEW_ROTATION].high == (double)INFINITY);
}

static void without_a_deploy_there_is_none(void **state)
{
    (void)state;
    static outcome t;
    const char *deploy_at = strstr(FULL, "deploy:\n"), *keepout_at = strstr(FULL, "keepout:");
    char text[8192];
    snprintf(text, sizeof text, "%.*s%s", (int)(deploy_at - FULL), FULL, keepout_at);
    read_text(&t, text);
    assert_int_equal(t.status, SLEW_OK);
    assert_false(t.scenario.deploy.given);
    assert_int_equal(t.scenario.deploy.choice_count[SLEW_ROTATION], 0);
}

static void empty_groups_mean_nothing(void **state)
{
    (void)state;
    static outcome t;
    char *text = edit("today: {}", "today:");
    read_text(&t, text);
    free(text);
    assert_int_equal(t.status, SLEW_OK);
    assert_int_equal(t.scenario.today.count, 0);
}

/* a byte order mark, carriage returns, quotes and another style of map change nothing */
static void the_dress_of_the_text_does_not_matter(void **state)
{
    (void)state;
    static outcome t;
    char text[16384] = "\xEF\xBB\xBF";
    size_t length = strlen(text);
    for (const char *c = FULL; *c != '\0'; c++) {
        if (*c == '\n')
            text[length++] = '\r';
        text[length++] = *c;
    }
    read_with(&t, text, length, NULL, 0);
    assert_int_equal(t.status, SLEW_OK);
    same_scenario(&t.scenario, &o.scenario);
    char *quoted = edit("length: 9 m", "\"length\": '9 m'   # as measured");
    read_text(&t, quoted);
    free(quoted);
    same_scenario(&t.scenario, &o.scenario);
}

/* all numbers other than their defaults, written as PATH: VALUE and read back */
static void every_key_of_a_file_arrives(void **state)
{
    (void)state;
    static outcome t;
    slew_scenario s = o.scenario;
    char text[16384] = "format: 1\n";
    for (int i = 0; i < slew_key_count(); i++) {
        const slew_key *key = slew_key_at(i);
        double value = slew_scenario_get_number(&s, i);
        if (key->kind == SLEW_KEY_YES_NO)
            slew_scenario_set_number(&s, SLEW_LAYER_FILE, i, 1 - value);
        if (key->kind == SLEW_KEY_NUMBER && isfinite(value))
            slew_scenario_set_number(&s, SLEW_LAYER_FILE, i, value * 1.0625);
        if (key->kind == SLEW_KEY_STRUCTURE || key->kind == SLEW_KEY_TEXT || i == 0)
            continue;
        char shown[256];
        if (slew_key_format(&s, i, shown, sizeof shown) > 0 &&
            strcmp(key->quantity ? key->quantity : "", "wire gauge") != 0)
            snprintf(text + strlen(text), sizeof text - strlen(text), "%s: %s\n", key->path, shown);
    }
    strcat(text, "supply.feed.gauge: 8 AWG\n");
    read_text(&t, text);
    for (int i = 0; i < t.errors.count; i++)
        print_error("%d: %s: %s\n", t.errors.error[i].line, t.errors.error[i].key,
                    t.errors.error[i].message);
    assert_int_equal(t.status, SLEW_OK);
    for (int i = 0; i < slew_key_count(); i++) {
        double value = slew_scenario_get_number(&s, i);
        double read = slew_scenario_get_number(&t.scenario, i);
        if (strcmp(slew_key_at(i)->path, "supply.feed.gauge") == 0)
            continue;
        if (isfinite(value))
            assert_true(fabs(read - value) <= 1e-9 * fabs(value));
        else
            assert_true(isnan(read) == isnan(value));
    }
}

static void a_file_is_read_like_its_text(void **state)
{
    (void)state;
    static slew_scenario s;
    char path[] = "/tmp/scenario_read_XXXXXX";
    int file = mkstemp(path);
    assert_true(file >= 0);
    assert_int_equal(write(file, FULL, strlen(FULL)), (ssize_t)strlen(FULL));
    close(file);
    slew_status status = slew_scenario_read_file(path, NULL, &s);
    unlink(path);
    assert_int_equal(status, SLEW_OK);
    same_scenario(&s, &o.scenario);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(nothing_is_wrong),
        cmocka_unit_test(supply),
        cmocka_unit_test(surroundings),
        cmocka_unit_test(controller),
        cmocka_unit_test(rotation),
        cmocka_unit_test(elevation),
        cmocka_unit_test(stow),
        cmocka_unit_test(deploy),
        cmocka_unit_test(keepout),
        cmocka_unit_test(layers),
        cmocka_unit_test(spread_of_trucks),
        cmocka_unit_test(spread_of_days),
        cmocka_unit_test(a_table_has_weights),
        cmocka_unit_test(stored_times_take_the_place_of_the_point),
        cmocka_unit_test(choices_default_to_the_seconds_alone),
        cmocka_unit_test(a_box_without_an_axis_spans_it),
        cmocka_unit_test(without_a_deploy_there_is_none),
        cmocka_unit_test(empty_groups_mean_nothing),
        cmocka_unit_test(the_dress_of_the_text_does_not_matter),
        cmocka_unit_test(every_key_of_a_file_arrives),
        cmocka_unit_test(a_file_is_read_like_its_text),
    };
    return cmocka_run_group_tests(tests, read_full, NULL);
}
