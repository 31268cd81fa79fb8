/*
 * own_controller.c - firmware of your own stows the simulated machine, beside the built-in one.
 *
 * The firmware is a function that is called every 5 ms. It sees what a small controller sees, two
 * home switches and two over-current comparators, counts ticks, and sets two drives; nothing in it
 * knows of a simulation. The bench below calls it and lets the plant (slew_plant_*) go on between
 * two ticks. Both controllers replay the same stored times; the firmware counts them from whichever
 * edge of a home window it meets first, the built-in one from the side that `approach` says.
 */
#include <slewtime/slewtime.h>
#include <stdio.h>

/* ---- the firmware ---- */

enum { TICK_MS = 5, PAUSE_TICKS = 500 / TICK_MS, PATIENCE_TICKS = 30000 / TICK_MS };
enum { STALL_BLANK_TICKS = 300 / TICK_MS, STALL_TICKS = 100 / TICK_MS };

typedef struct inputs {
    bool home[2], over_current[2];
} inputs;

typedef enum state { SEARCH, MOVE, STOWED, FAULT } state;

typedef struct firmware {
    int search[2];     /* first direction of the search, +1 or -1 */
    int move_ticks[2]; /* stored, signed */
    int home_order[2]; /* axes */
    int drive[2];      /* out */
    state state;
    int leg;            /* of the search, then of the moves */
    int ticks;          /* since the drive or the pause began */
    int stalled, turns; /* ticks of over-current in a row; turns round at a stop */
    bool pausing;
} firmware;

static void pause(firmware *f)
{
    f->drive[0] = f->drive[1] = 0;
    f->ticks = f->stalled = 0;
    f->pausing = true;
}

static void next_leg(firmware *f, state then)
{
    pause(f);
    f->turns = 0;
    if (++f->leg == 2) {
        f->leg = 0;
        f->state = then;
    }
}

/* pressed on a stop: the other way once, then it gives up */
static void search_tick(firmware *f, const inputs *in)
{
    const int axis = f->home_order[f->leg];
    f->drive[axis] = f->turns == 0 ? f->search[axis] : -f->search[axis];
    f->stalled = in->over_current[axis] && f->ticks > STALL_BLANK_TICKS ? f->stalled + 1 : 0;
    if (in->home[axis])
        next_leg(f, MOVE);
    else if (f->stalled >= STALL_TICKS && f->turns++ == 0)
        pause(f);
    else if (f->stalled >= STALL_TICKS || f->ticks > PATIENCE_TICKS) {
        pause(f);
        f->state = FAULT;
    }
}

static void move_tick(firmware *f)
{
    const int axis = f->leg, ticks = f->move_ticks[axis];
    f->drive[axis] = (ticks > 0) - (ticks < 0);
    if (f->ticks > (ticks < 0 ? -ticks : ticks))
        next_leg(f, STOWED);
}

static void tick(firmware *f, const inputs *in)
{
    f->ticks++;
    if (f->pausing) {
        if (f->ticks >= PAUSE_TICKS) {
            f->pausing = false;
            f->ticks = 0;
        }
    } else if (f->state == SEARCH)
        search_tick(f, in);
    else if (f->state == MOVE)
        move_tick(f);
}

/* ---- the bench ---- */

static firmware configure(const slew_scenario *s, const slew_prepared *p)
{
    const bool rotation_first = s->stow.home_order == SLEW_ROTATION_FIRST;
    firmware f = {.home_order = {rotation_first ? 0 : 1, rotation_first ? 1 : 0}};
    for (int axis = 0; axis < SLEW_AXES; axis++) {
        const int search = p->stow_setup.axis[axis].search;
        f.search[axis] = search != 0 ? search : -1;
        f.move_ticks[axis] = (int)(p->stored[axis] * 1000 / TICK_MS);
    }
    return f;
}

/* ticks until the firmware is through and the axes rest; returns the ticks that it took */
static int stow(firmware *f, const slew_prepared *p, slew_plant *plant)
{
    int k = 0;
    while ((f->state < STOWED || f->pausing) && !slew_plant_is_over(plant)) {
        inputs in;
        for (int axis = 0; axis < SLEW_AXES; axis++) {
            in.home[axis] = plant->closed[axis];
            in.over_current[axis] = plant->current[axis] >= p->stow_setup.controller.stall_current;
        }
        tick(f, &in);
        for (int axis = 0; axis < SLEW_AXES; axis++)
            slew_plant_drive(&p->stow, plant, axis, f->drive[axis]);
        const double until = ++k * (TICK_MS / 1000.0);
        while (plant->time < until && !slew_plant_is_over(plant))
            slew_plant_advance(&p->stow, plant, until);
    }
    return k;
}

static void row(const char *who, const char *says, double seconds, const double angle[])
{
    const double degrees = 180 / 3.14159265358979323846;
    printf("%-12s %-8s %8.3f %14.2f %15.2f\n", who, says, seconds, degrees * angle[SLEW_ROTATION],
           degrees * angle[SLEW_ELEVATION]);
}

int main(int argc, char **argv)
{
    static slew_scenario scenario;
    static slew_prepared prepared;
    static slew_plant plant;
    slew_result result;
    slew_error error = {0};

    if (argc != 2 || slew_scenario_read_file(argv[1], NULL, &scenario) != SLEW_OK)
        return fprintf(stderr, "needs a scenario that `slewtime check` finds ok\n"), 2;
    if (slew_prepare(&scenario, SLEW_STOW_ONLY, &prepared, &error) != SLEW_OK)
        return fprintf(stderr, "%s\n", error.message), 2;
    const slew_axis_setup *axis = prepared.stow_setup.axis;
    const double start[SLEW_AXES] = {axis[SLEW_ROTATION].start, axis[SLEW_ELEVATION].start};
    if (slew_plant_start(&prepared.stow, start, &plant) != SLEW_OK)
        return fprintf(stderr, "the start angles are beyond a stop\n"), 2;

    firmware f = configure(&scenario, &prepared);
    const int ticks = stow(&f, &prepared, &plant);
    slew_run_prepared(&scenario, &prepared, SLEW_STOW_ONLY, NULL, &result);
    printf("%-12s %-8s %8s %14s %15s\n", "stowed by", "says", "time, s", "rotation, deg",
           "elevation, deg");
    row("own firmware", f.state == STOWED ? "stowed" : "fault", ticks * (TICK_MS / 1000.0),
        plant.angle);
    row("built-in", slew_verdict_word(result.stow.says), result.stow.duration, result.stow.angle);
    return f.state == STOWED ? 0 : 1;
}
