/*
 * motion_control.h - ways to ask the controller one thing at a time, on the daily machine.
 */
#ifndef TESTS_MOTION_CONTROL_H
#define TESTS_MOTION_CONTROL_H

#include "../support.h"

enum { R = SLEW_ROTATION, E = SLEW_ELEVATION };

/* Instants of the controller are sums of its own times: they agree to rounding. Instants of the
 * plant are located to 1e-9 s. */
#define EXACT 1e-12
#define TIME  2e-9
#define ANGLE 1e-9

static story run; /* the last one */

/* ---- Ways to ask ---- */

/* one axis as letters, in the order of time: > < driven +, -; . off; c o switch; | stop met;
 * S stall declared; H home found; F fault, D done, of whatever axis */
static inline const char *path(int axis)
{
    static char text[256];
    static const char letter[SLEW_EVENT_KIND_COUNT] = {
        [SLEW_EVENT_DRIVE_OFF] = '.',    [SLEW_EVENT_SWITCH_CLOSED] = 'c',
        [SLEW_EVENT_SWITCH_OPEN] = 'o',  [SLEW_EVENT_HOME_FOUND] = 'H',
        [SLEW_EVENT_STOP_CONTACT] = '|', [SLEW_EVENT_STALL] = 'S',
        [SLEW_EVENT_FAULT] = 'F',        [SLEW_EVENT_DONE] = 'D'};
    size_t n = 0;
    for (int i = 0; i < run.count && n + 1 < sizeof text; i++) {
        const slew_event *e = &run.event[i];
        if (e->axis != axis && e->kind != SLEW_EVENT_FAULT && e->kind != SLEW_EVENT_DONE)
            continue;
        if (e->kind == SLEW_EVENT_DRIVE_ON)
            text[n++] = e->direction > 0 ? '>' : '<';
        else if (letter[e->kind])
            text[n++] = letter[e->kind];
    }
    text[n] = '\0';
    return text;
}

static inline double time_of(slew_event_kind kind, int axis, int n)
{
    return nth(&run, kind, axis, n)->time;
}

/* both axes are found where they stand, and have nowhere to go */
static inline slew_scenario idle_scenario(void)
{
    slew_scenario s = daily_scenario();
    for (int j = 0; j < SLEW_AXES; j++) {
        s.setup.axis[j].start = 0.0;
        s.setup.axis[j].approach = SLEW_APPROACH_EITHER;
    }
    s.stow.home_order = SLEW_ROTATION_FIRST;
    s.stow.has_point = false;
    s.stow.has_times = true;
    s.deploy.given = false;
    return s;
}

/* rotation searches from `start` [deg], the rest stands */
static inline slew_scenario search_scenario(double start, int direction, slew_approach approach)
{
    slew_scenario s = idle_scenario();
    s.setup.axis[R].start = degrees(start);
    s.setup.axis[R].search = direction;
    s.setup.axis[R].approach = approach;
    return s;
}

/* from `start` [deg], `seconds` of each axis as a deploy */
static inline slew_scenario move_scenario(double rotation, double elevation, double turn,
                                          double climb)
{
    slew_scenario s = idle_scenario();
    s.setup.axis[R].start = degrees(rotation);
    s.setup.axis[E].start = degrees(elevation);
    s.deploy.given = true;
    s.deploy.order = SLEW_ROTATION_FIRST;
    s.deploy.seconds[R] = turn;
    s.deploy.seconds[E] = climb;
    return s;
}

static inline void do_stow(slew_scenario s)
{
    run_parts(&s, SLEW_STOW_ONLY, &run);
}

static inline void do_move(slew_scenario s)
{
    run_parts(&s, SLEW_DEPLOY_ONLY, &run);
}

static inline void faults_with(const slew_part *part, slew_fault fault, int axis)
{
    const slew_event *event = nth(&run, SLEW_EVENT_FAULT, ANY_AXIS, 0);
    assert_int_equal(part->says, SLEW_FAULTED);
    assert_string_equal(slew_fault_word(part->fault), slew_fault_word(fault));
    assert_int_equal(part->axis, axis);
    assert_int_equal(event->fault, fault);
    assert_int_equal(event->axis, axis);
    assert_int_equal(count_of(&run, SLEW_EVENT_FAULT, ANY_AXIS), 1);
    assert_int_equal(count_of(&run, SLEW_EVENT_DRIVE_ON, ANY_AXIS),
                     count_of(&run, SLEW_EVENT_DRIVE_OFF, ANY_AXIS));
}

#endif
