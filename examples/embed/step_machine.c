/*
 * step_machine.c - a monitor in a loop of one's own: it stows, somebody presses deploy too early, a
 * hose pulls, the operator cancels and goes on by hand. A hundred times faster than the clock.
 *
 *   step_machine examples/daily.yaml
 */
#define _POSIX_C_SOURCE 199309L /* nanosleep */

#include <slewtime/slewtime.h>

#include <stdio.h>
#include <stdlib.h>
#include <time.h>

static const double FRAME = 0.1;    /* of simulated time [s] */
static const double SPEED_UP = 100; /* simulated over real time */

static void wait_for_frame(void)
{
    const double seconds = FRAME / SPEED_UP;
    nanosleep(&(struct timespec){.tv_nsec = (long)(seconds * 1e9)}, NULL);
}

static void tell(const slew_event *e)
{
    printf("%8.3f s  %-9s %-15s %s\n", e->time, e->axis < 0 ? "" : slew_axis_word(e->axis),
           slew_event_word(e->kind), e->kind == SLEW_EVENT_FAULT ? slew_fault_word(e->fault) : "");
}

/* lets time go on in frames, and tells what happens */
static void play(slew_machine *m, double seconds)
{
    const double end = m->time + seconds;
    slew_event event;
    while (m->time < end && m->holds && !m->gave_up) {
        const double frame = m->time + FRAME < end ? m->time + FRAME : end;
        while (slew_machine_advance(m, frame, &event))
            tell(&event);
        wait_for_frame();
    }
    const slew_sample now = slew_machine_look(m);
    printf("%8.3f s  rotation %.2f deg, elevation %.2f deg, %.2f V\n", now.time,
           now.angle[SLEW_ROTATION] * 57.29578, now.angle[SLEW_ELEVATION] * 57.29578, now.voltage);
}

int main(int argc, char **argv)
{
    static slew_scenario scenario;
    static slew_prepared prepared;
    slew_machine machine, before;
    slew_error error;
    if (argc != 2 || slew_scenario_read_file(argv[1], NULL, &scenario) != SLEW_OK)
        return fprintf(stderr, "usage: step_machine SCENARIO\n"), 2;
    if (slew_prepare(&scenario, SLEW_STOW_AND_DEPLOY, &prepared, &error) != SLEW_OK)
        return fprintf(stderr, "%s\n", error.message), 2;

    slew_machine_start(&scenario, &prepared, SLEW_OCCASION_STOW, &machine);
    slew_machine_stow(&machine);
    play(&machine, 4.0);
    before = machine; /* a copy, to come back to */
    slew_machine_deploy(&machine);
    play(&machine, 2.0);
    slew_machine_load(&machine, SLEW_ELEVATION, 20.0); /* a hose pulls it down [N m] */
    play(&machine, 1.0);
    slew_machine_cancel(&machine);
    play(&machine, 1.0);
    slew_machine_jog(&machine, SLEW_ELEVATION, 1);
    play(&machine, 2.0);
    slew_machine_jog(&machine, SLEW_ELEVATION, 0);
    play(&machine, 1.0);

    puts("and without all that:");
    play(&before, 20.0);
    return before.says == SLEW_STOWED ? EXIT_SUCCESS : EXIT_FAILURE;
}
