/*
 * support.h - what the tests of motion, controller and runs share: one invented machine, runs that
 * keep their events, and comparisons.
 */
#ifndef TESTS_SUPPORT_H
#define TESTS_SUPPORT_H

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "slewtime/slewtime.h"

#include "near.h"

/* ---- Numbers ---- */

static inline double degrees(double value) /* [rad] */
{
    return value * (3.14159265358979323846 / 180.0);
}

static inline double rpm(double value) /* [rad/s] */
{
    return value * (3.14159265358979323846 / 30.0);
}

static inline double celsius(double value) /* [K] */
{
    return value + SLEW_ZERO_CELSIUS;
}

/* of tests that sample for the sake of many samples alone: a tenth of them where an emulator, some
 * hundred times as slow, runs them (tests/foreign/run.sh) */
static inline int64_t samples_here(int64_t samples)
{
    return getenv("SLEWTIME_EMULATED") != NULL ? samples / 10 : samples;
}

/* `tolerance` is a share of `expected` */
static inline void close_to(const char *what, double value, double expected, double tolerance)
{
    near(what, value, expected, tolerance * fabs(expected));
}

/* ---- The daily machine ---- */

/* invented: both axes have the same gearmotor */
static inline slew_motor_sheet daily_motor(void)
{
    return (slew_motor_sheet){.rated_voltage = 12.0,
                              .no_load_speed = rpm(3200.0),
                              .no_load_current = 1.2,
                              .stall_current = 20.0,
                              .inertia = 4.5e-5,
                              .viscous_share = 0.3,
                              .breakaway = 1.2,
                              .magnet_coefficient = SLEW_FERRITE_COEFFICIENT,
                              .magnet_share = 0.5};
}

static inline slew_home daily_home(void)
{
    return (slew_home){.operate = degrees(3.0), .release = degrees(4.0), .present = true};
}

static inline slew_axis_setup daily_rotation(void)
{
    return (slew_axis_setup){
        .start = degrees(-30.0),
        .stops = {degrees(-170.0), degrees(170.0)},
        .motor = daily_motor(),
        .gear = {1750.0, 0.36, SLEW_NOT_GIVEN, 0},
        .load = {.inertia = 2.5, .friction = 8.0, .seal_friction = 1.5e-5, .reaction_arm = 0.004},
        .home = daily_home(),
        .search = 1,
        .approach = SLEW_APPROACH_FALLING,
        .overrun = 0.3};
}

static inline slew_axis_setup daily_elevation(void)
{
    return (slew_axis_setup){.start = degrees(42.0),
                             .stops = {degrees(-20.0), degrees(90.0)},
                             .motor = daily_motor(),
                             .gear = {2200.0, 0.36, SLEW_NOT_GIVEN, 0},
                             .load = {.inertia = 1.6,
                                      .friction = 6.0,
                                      .seal_friction = 1e-5,
                                      .reaction_arm = 0.06,
                                      .mass = 11.0,
                                      .water_mass = 5.0,
                                      .centre_of_mass = 0.34},
                             .home = daily_home(),
                             .search = -1,
                             .approach = SLEW_APPROACH_FALLING,
                             .overrun = 0.3};
}

static inline slew_supply daily_supply(void)
{
    return (slew_supply){.system = 12.0,
                         .floor = 11.5,
                         .main = {13.4, 0.010},
                         .shared_load = 6.0,
                         .feed = {.conductor = SLEW_CONDUCTOR_GAUGE,
                                  .gauge = 8.0,
                                  .length = 9.0,
                                  .stranding = 0.02,
                                  .joints = 8.0,
                                  .joint_resistance = 0.0015},
                         .auxiliary = {12.7, 0.020}};
}

static inline slew_controller_settings daily_controller(void)
{
    return (slew_controller_settings){.drive_resistance = 0.020,
                                      .drive_drop = 0.6,
                                      .stop = SLEW_BRAKE,
                                      .sample = 0.005,
                                      .latency = 0.015,
                                      .clock = 0.010,
                                      .pause = 0.5,
                                      .move_limit = 60.0,
                                      .stall_current = 13.0,
                                      .stall_dwell = 0.25,
                                      .stall_blank = 0.2,
                                      .brownout_voltage = 9.0,
                                      .brownout_dwell = 0.05};
}

/* invented */
static inline slew_magnet daily_magnet(void)
{
    return (slew_magnet){.given = true,
                         .remanence = 1.2,
                         .diameter = 0.008,
                         .length = 0.005,
                         .radius = 0.12,
                         .gap = 0.009,
                         .operate_flux = 0.010,
                         .release_flux = 0.007};
}

static inline slew_setup daily_setup(void)
{
    return (slew_setup){.supply = daily_supply(),
                        .environment = {.temperature = celsius(20.0)},
                        .grease = {100e-6, 11.1e-6},
                        .nozzle = {.kind = SLEW_SPRAY,
                                   .flow = 1000.0 * SLEW_US_GALLON / 60.0,
                                   .tip = 1.75 * SLEW_INCH,
                                   .pressure = 7e5,
                                   .reaction = SLEW_REACTION_TRADE,
                                   .coefficient = 1.0},
                        .controller = daily_controller(),
                        .axis = {daily_rotation(), daily_elevation()},
                        .stow_cancel_at = INFINITY};
}

/* invented: a roof monitor, stowed with its barrel low and straight ahead */
static inline slew_scenario daily_scenario(void)
{
    slew_scenario s;
    slew_scenario_init(&s);
    s.setup = daily_setup();
    s.stow =
        (slew_stow){.home_order = SLEW_ELEVATION_FIRST,
                    .order = SLEW_ROTATION_FIRST,
                    .has_point = true,
                    .point = {0.0, degrees(-16.0)},
                    .tolerance = degrees(2.0),
                    .range = {{SLEW_NOT_GIVEN, SLEW_NOT_GIVEN}, {SLEW_NOT_GIVEN, SLEW_NOT_GIVEN}}};
    s.deploy =
        (slew_deploy){.given = true,
                      .seconds = {0.0, 7.5},
                      .order = SLEW_ELEVATION_FIRST,
                      .choice_count = {1, 1},
                      .choices = {{0.0}, {7.5}},
                      .target = {{degrees(-6.0), degrees(6.0)}, {degrees(30.0), degrees(50.0)}}};
    return s;
}

/* one key of one layer, in SI */
static inline void set_key(slew_scenario *s, slew_layer_id layer, const char *path, double value)
{
    if (slew_scenario_set_number(s, layer, slew_key_find(path), value) != SLEW_OK)
        fail_msg("the key %s does not take %g", path, value);
}

/* ---- Runs that keep their events ---- */

enum { STORY_MAX = 4096 };

typedef struct story {
    slew_status status;
    slew_error error;
    slew_result result;
    int count; /* of events */
    slew_event event[STORY_MAX];
} story;

static inline void keep_event(void *context, const slew_event *event)
{
    story *all = context;
    if (all->count < STORY_MAX)
        all->event[all->count] = *event;
    all->count++;
}

static inline void try_run(const slew_scenario *scenario, slew_parts parts, story *out)
{
    slew_observer observer = {.event = keep_event, .context = out};
    out->count = 0;
    out->status = slew_run(scenario, parts, &observer, &out->result, &out->error);
    assert_in_range(out->count, 0, STORY_MAX);
}

static inline void run_parts(const slew_scenario *scenario, slew_parts parts, story *out)
{
    try_run(scenario, parts, out);
    if (out->status != SLEW_OK)
        fail_msg("no run: %s: %s", out->error.key, out->error.message);
}

/* any axis */
enum { ANY_AXIS = -2 };

static inline bool is_event(const slew_event *event, slew_event_kind kind, int axis)
{
    return event->kind == kind && (axis == ANY_AXIS || event->axis == axis);
}

/* NULL: there is none; n counts from 0 */
static inline const slew_event *seek(const story *s, slew_event_kind kind, int axis, int n)
{
    for (int i = 0; i < s->count; i++)
        if (is_event(&s->event[i], kind, axis) && n-- == 0)
            return &s->event[i];
    return NULL;
}

/* the n-th one there must be */
static inline const slew_event *nth(const story *s, slew_event_kind kind, int axis, int n)
{
    const slew_event *event = seek(s, kind, axis, n);
    if (!event)
        fail_msg("no event %s number %d of axis %d", slew_event_word(kind), n, axis);
    return event;
}

static inline int count_of(const story *s, slew_event_kind kind, int axis)
{
    int count = 0;
    while (seek(s, kind, axis, count))
        count++;
    return count;
}

/* the same in kind, place and meaning; not in its numbers */
static inline bool same_sort(const slew_event *a, const slew_event *b)
{
    return a->kind == b->kind && a->axis == b->axis && a->direction == b->direction &&
           a->fault == b->fault && a->box == b->box;
}

static inline void print_story(const char *title, const story *s)
{
    print_message("%s\n", title);
    for (int i = 0; i < s->count && i < STORY_MAX; i++) {
        const slew_event *e = &s->event[i];
        print_message("  %12.8f %-9s %-15s %2d  %12.8f %12.8f deg  %s\n", e->time,
                      e->axis < 0 ? "" : slew_axis_word(e->axis), slew_event_word(e->kind),
                      e->direction, e->angle[0] / degrees(1.0), e->angle[1] / degrees(1.0),
                      e->kind == SLEW_EVENT_FAULT ? slew_fault_word(e->fault) : "");
    }
}

#endif
