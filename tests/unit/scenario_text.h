/*
 * scenario_text.h - a whole scenario as a text (invented data), and what the tests of reading
 * share.
 */
#ifndef TESTS_SCENARIO_TEXT_H
#define TESTS_SCENARIO_TEXT_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "slewtime/read.h"

/* every key of the format but backward_efficiency, area, per_length and the stored times */
/* clang-format off */
static const char *const FULL =
    "format: 1\n"
    "title: Roof monitor of a rural water tender, stowed under the folding light mast\n"
    "supply:\n"
    "  system: 12 V\n"
    "  floor: 10.5 V\n"
    "  main: {voltage: 13.4 V, resistance: 10 mohm}\n"
    "  shared_load: 6 A\n"
    "  feed:\n"
    "    gauge: 8 AWG\n"
    "    length: 9 m\n"
    "    stranding: 2 %\n"
    "    joints: 8\n"
    "    joint_resistance: 1.5 mohm\n"
    "  auxiliary: {fitted: no, voltage: 12.7 V, resistance: 20 mohm}\n"
    "environment: {temperature: 20 degC, tilt: 0 deg, tilt_direction: 0 deg}\n"
    "grease: {viscosity_40: 100 mm2/s, viscosity_100: 11.1 mm2/s}\n"
    "nozzle:\n"
    "  flowing: no\n"
    "  kind: spray\n"
    "  flow: 1000 gpm\n"
    "  tip: 1.75 in\n"
    "  pressure: 7 bar\n"
    "  reaction: trade\n"
    "  coefficient: 1.0\n"
    "controller:\n"
    "  drive_resistance: 20 mohm\n"
    "  drive_drop: 0.6 V\n"
    "  stop: brake\n"
    "  sample: 5 ms\n"
    "  latency: 15 ms\n"
    "  clock: 10 ms\n"
    "  pause: 500 ms\n"
    "  move_limit: 60 s\n"
    "  stall: {current: 13 A, dwell: 250 ms, blank: 200 ms}\n"
    "  brownout: {voltage: 9 V, dwell: 50 ms}\n"
    "rotation:\n"
    "  start: -30 deg\n"
    "  stops: {low: -170 deg, high: 170 deg}\n"
    "  reversed: no\n"
    "  motor:\n"
    "    rated_voltage: 12 V\n"
    "    no_load_speed: 3200 rpm\n"
    "    no_load_current: 1.2 A\n"
    "    stall_current: 20 A\n"
    "    inertia: 4.5e-5 kg.m2\n"
    "    viscous_share: 30 %\n"
    "    breakaway: 1.2\n"
    "  gear: {ratio: 1750, efficiency: 36 %}\n"
    "  load: {inertia: 2.5 kg.m2, friction: 8 N.m, seal_friction: 1.5 N.m/bar, reaction_arm: 4 mm}\n"
    "  home: {angle: 0 deg, operate: 3 deg, release: 4 deg, present: yes, stuck: no}\n"
    "  search: right\n"
    "  approach: falling\n"
    "  overrun: 300 ms\n"
    "elevation:\n"
    "  start: 42 deg\n"
    "  stops: {low: -20 deg, high: 90 deg}\n"
    "  reversed: no\n"
    "  motor:\n"
    "    rated_voltage: 12 V\n"
    "    no_load_speed: 3200 rpm\n"
    "    no_load_current: 1.2 A\n"
    "    stall_current: 20 A\n"
    "    inertia: 4.5e-5 kg.m2\n"
    "    viscous_share: 30 %\n"
    "    breakaway: 1.2\n"
    "  gear: {ratio: 2200, efficiency: 36 %}\n"
    "  load:\n"
    "    inertia: 1.6 kg.m2\n"
    "    friction: 6 N.m\n"
    "    seal_friction: 1 N.m/bar\n"
    "    reaction_arm: 60 mm\n"
    "    mass: 11 kg\n"
    "    water_mass: 5 kg\n"
    "    centre_of_mass: 0.34 m\n"
    "  home: {angle: 0 deg, operate: 3 deg, release: 4 deg, present: yes, stuck: no}\n"
    "  search: down\n"
    "  approach: falling\n"
    "  overrun: 300 ms\n"
    "stow:\n"
    "  lift_first: 0 s\n"
    "  home_order: elevation, rotation\n"
    "  order: rotation, elevation\n"
    "  point: {rotation: 0 deg, elevation: -16 deg}\n"
    "  tolerance: 2 deg\n"
    "  cancel_at: never\n"
    "deploy:\n"
    "  seconds: {rotation: 0 s, elevation: 7.5 s}\n"
    "  order: elevation, rotation\n"
    "  choices: {rotation: [0 s], elevation: [1.5 s, 3 s, 4.5 s, 6 s, 7.5 s, 9 s]}\n"
    "  target: {rotation: {low: -6 deg, high: 6 deg}, elevation: {low: 30 deg, high: 50 deg}}\n"
    "  same_day: no\n"
    "keepout:\n"
    "  - {name: light mast, rotation: {low: -25 deg, high: 25 deg}, elevation: {low: -30 deg, high: -19 deg}}\n"
    "teach: {supply.main.voltage: 12.6 V, environment.temperature: 20 degC, nozzle.flowing: no}\n"
    "today: {}\n"
    "deploy_day: {}\n"
    "spread:\n"
    "  truck:\n"
    "    elevation.motor.no_load_speed: {normal: {mean: 3200 rpm, sd: 60 rpm}}\n"
    "    elevation.gear.efficiency: {triangular: {low: 32 %, mode: 36 %, high: 40 %}}\n"
    "  day:\n"
    "    supply.main.voltage: {uniform: {low: 11.8 V, high: 14.2 V}}\n"
    "    environment.temperature: {normal: {mean: 15 degC, sd: 12 K, low: -20 degC, high: 45 degC}}\n"
    "    rotation.start: {uniform: {low: -160 deg, high: 160 deg}}\n"
    "    elevation.start: {values: [5 deg, 30 deg, 60 deg]}\n";
/* clang-format on */

enum { CAUGHT_MAX = 128 };

/* Errors or warnings in the order of their telling. */
typedef struct caught {
    int count;
    slew_error error[CAUGHT_MAX];
} caught;

static inline void catch_error(void *context, const slew_error *error)
{
    caught *all = context;
    if (all->count < CAUGHT_MAX)
        all->error[all->count] = *error;
    all->count++;
}

/* One reading with all that came of it. */
typedef struct outcome {
    slew_scenario scenario;
    slew_status status;
    caught errors, warnings;
} outcome;

static inline void read_with(outcome *o, const char *text, size_t length,
                             const slew_assignment *assignments, size_t count)
{
    slew_reading reading = {.assignments = assignments,
                            .assignment_count = count,
                            .errors = {catch_error, &o->errors},
                            .warnings = {catch_error, &o->warnings}};
    o->errors.count = o->warnings.count = 0;
    o->status = slew_scenario_read_memory(text, length, "scenario.yaml", &reading, &o->scenario);
}

static inline void read_text(outcome *o, const char *text)
{
    read_with(o, text, strlen(text), NULL, 0);
}

static inline void same_layer(const slew_layer *a, const slew_layer *b)
{
    assert_int_equal(a->count, b->count);
    for (int i = 0; i < a->count; i++) {
        assert_int_equal(a->item[i].key, b->item[i].key);
        assert_true(a->item[i].value == b->item[i].value);
    }
}

static inline void same_spread(const slew_spread *a, const slew_spread *b)
{
    assert_int_equal(a->count, b->count);
    for (int i = 0; i < a->count; i++) {
        const slew_variation *x = &a->item[i], *y = &b->item[i];
        assert_true(x->key == y->key && x->distribution == y->distribution);
        assert_true(x->low == y->low && x->high == y->high && x->count == y->count);
    }
}

/* every key, layer and spread the same; bytes between the fields do not count */
static inline void same_scenario(const slew_scenario *a, const slew_scenario *b)
{
    for (int i = 0; i < slew_key_count(); i++) {
        char x[512], y[512];
        slew_key_format(a, i, x, sizeof x);
        slew_key_format(b, i, y, sizeof y);
        assert_string_equal(x, y);
    }
    same_layer(&a->teach, &b->teach);
    same_layer(&a->today, &b->today);
    same_layer(&a->deploy_day, &b->deploy_day);
    same_spread(&a->truck, &b->truck);
    same_spread(&a->day, &b->day);
    assert_int_equal(a->keepout.count, b->keepout.count);
}

/* FULL with `old`, which stands in it exactly once, replaced; to be freed. */
static inline char *edit(const char *old, const char *new)
{
    const char *at = strstr(FULL, old);
    if (at == NULL || strstr(at + 1, old) != NULL)
        fail_msg("not exactly once in the scenario: %s", old);
    size_t before = (size_t)(at - FULL);
    size_t size = strlen(FULL) + strlen(new) + 1;
    char *text = malloc(size);
    assert_non_null(text);
    snprintf(text, size, "%.*s%s%s", (int)before, FULL, new, at + strlen(old));
    return text;
}

#endif
