/*
 * step_machine.c - a monitor at the keyboard, in real time.
 *
 *   step_machine examples/daily.yaml
 *
 * s stows, d deploys, c cancels; j and l drive to the left and right, i and k up and down, a space
 * lets go; h hangs a hose on the barrel and takes it off, m remembers the state and r returns to
 * it; q quits. Figures skip so many seconds. Where the keys come from a file or a pipe nothing
 * waits for the clock, and time goes on by figures alone:
 *
 *   printf 's4d2q' | step_machine examples/daily.yaml
 */
#define _POSIX_C_SOURCE 200809L

#include <slewtime/slewtime.h>

#include <poll.h>
#include <stdio.h>
#include <termios.h>
#include <time.h>
#include <unistd.h>

enum { FRAME_MS = 50 };

typedef struct panel {
    slew_machine machine, remembered;
    bool live, hose, quit;
} panel;

static void tell(const slew_event *e)
{
    printf("%8.3f s  %-9s %-15s %s\n", e->time, e->axis < 0 ? "" : slew_axis_word(e->axis),
           slew_event_word(e->kind), e->kind == SLEW_EVENT_FAULT ? slew_fault_word(e->fault) : "");
}

static void show(const slew_machine *m, const char *end)
{
    const slew_sample now = slew_machine_look(m);
    printf("%8.3f s  rotation %7.2f deg, elevation %7.2f deg, %.2f V%s", now.time,
           now.angle[SLEW_ROTATION] * 57.29577951, now.angle[SLEW_ELEVATION] * 57.29577951,
           now.voltage, end);
    fflush(stdout);
}

static void go_on(slew_machine *m, double seconds)
{
    const double until = m->time + seconds;
    slew_event event;
    while (slew_machine_advance(m, until, &event))
        tell(&event);
}

/* one key; false: it means nothing */
static bool press(panel *p, int key)
{
    slew_machine *m = &p->machine;
    switch (key) {
    case 's':
        return slew_machine_stow(m);
    case 'd':
        return slew_machine_deploy(m);
    case 'c':
        return slew_machine_cancel(m);
    case 'j':
        return slew_machine_jog(m, SLEW_ROTATION, -1);
    case 'l':
        return slew_machine_jog(m, SLEW_ROTATION, 1);
    case 'i':
        return slew_machine_jog(m, SLEW_ELEVATION, 1);
    case 'k':
        return slew_machine_jog(m, SLEW_ELEVATION, -1);
    case ' ':
        return slew_machine_jog(m, SLEW_ROTATION, 0) && slew_machine_jog(m, SLEW_ELEVATION, 0);
    case 'h':
        p->hose = !p->hose;
        return slew_machine_load(m, SLEW_ELEVATION, p->hose ? 20.0 : 0.0) == SLEW_OK; /* [N m] */
    case 'm':
        p->remembered = *m;
        return true;
    case 'r':
        *m = p->remembered;
        return true;
    case 'q':
    case EOF:
        p->quit = true;
        return true;
    default:
        break;
    }
    if (key < '1' || key > '9')
        return false;
    go_on(m, key - '0');
    return true;
}

/* the next key within a frame; 0: none */
static int next_key(const panel *p)
{
    struct pollfd keys = {.fd = STDIN_FILENO, .events = POLLIN};
    char key;
    if (p->live && poll(&keys, 1, FRAME_MS) == 0)
        return 0;
    return read(STDIN_FILENO, &key, 1) == 1 ? key : EOF;
}

static double clock_now(void)
{
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

/* in live play the machine keeps up with the clock, whether a key came or not */
static void play(panel *p)
{
    double shown = clock_now();
    while (!p->quit) {
        const int key = next_key(p);
        if (key != 0 && key != '\n' && !press(p, key))
            printf("%c: not now, or no such key\n", key);
        const double now = clock_now();
        if (p->live)
            go_on(&p->machine, now - shown);
        shown = now;
        show(&p->machine, p->live ? "\r" : "\n");
    }
}

int main(int argc, char **argv)
{
    static slew_scenario scenario;
    static slew_prepared prepared;
    static panel p;
    struct termios before;
    slew_error error = {0};
    if (argc != 2 || slew_scenario_read_file(argv[1], NULL, &scenario) != SLEW_OK)
        return fprintf(stderr, "usage: step_machine SCENARIO\n"), 2;
    if (slew_prepare(&scenario, SLEW_STOW_AND_DEPLOY, &prepared, &error) != SLEW_OK)
        return fprintf(stderr, "%s\n", error.message), 2;

    slew_machine_start(&scenario, &prepared, SLEW_OCCASION_STOW, &p.machine);
    p.remembered = p.machine;
    p.live = tcgetattr(STDIN_FILENO, &before) == 0;
    if (p.live) { /* keys come one by one, without enter */
        struct termios raw = before;
        raw.c_lflag &= ~(tcflag_t)(ICANON | ECHO);
        tcsetattr(STDIN_FILENO, TCSANOW, &raw);
        puts("s stow  d deploy  c cancel  j l i k drive, space lets go  h hose  m remember  r "
             "return  "
             "q quit");
    }
    play(&p);
    if (p.live) {
        tcsetattr(STDIN_FILENO, TCSANOW, &before);
        putchar('\n');
    }
    return 0;
}
