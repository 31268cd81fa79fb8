/*
 * own_controller.c - a controller of your own, run against the simulated machine.
 *
 * The controller below knows two moves: creep towards the home sensor in short pulses, and drive
 * for a given time. It sees what a controller sees, the sensor and the clock, and drives through
 * the plant door (slew_plant_*). The true angle is only printed.
 */
#include <slewtime/slewtime.h>
#include <stdio.h>

static const double DEGREE = 3.14159265358979323846 / 180;
static const double SAMPLE = 0.005; /* how often the sensor is looked at [s] */
static const double PULSE = 0.02;   /* drive of one creeping step [s] */
static const double REST = 0.10;    /* pause after it [s] */
static const double PATIENCE = 30;  /* longest search [s] */

typedef struct machine {
    slew_plant_model model;
    slew_plant plant;
} machine;

/* ---- what this controller is made of ---- */

static void wait_until(machine *m, double until)
{
    while (m->plant.time < until && !slew_plant_is_over(&m->plant))
        slew_plant_advance(&m->model, &m->plant, until);
}

static void drive_for(machine *m, int axis, int direction, double seconds)
{
    slew_plant_drive(&m->model, &m->plant, axis, direction);
    wait_until(m, m->plant.time + seconds);
    slew_plant_drive(&m->model, &m->plant, axis, 0);
}

static void come_to_rest(machine *m)
{
    wait_until(m, m->plant.time + REST);
}

static bool search_fast(machine *m, int axis, int direction)
{
    double start = m->plant.time;
    slew_plant_drive(&m->model, &m->plant, axis, direction);
    for (int64_t k = 1; !m->plant.closed[axis] && (double)k * SAMPLE < PATIENCE; k++)
        wait_until(m, start + (double)k * SAMPLE);
    slew_plant_drive(&m->model, &m->plant, axis, 0);
    come_to_rest(m);
    return m->plant.closed[axis];
}

/* backs off until the sensor opens, then creeps to the edge in pulses */
static bool creep_to_edge(machine *m, int axis, int direction)
{
    for (int k = 0; m->plant.closed[axis] && k < 100; k++) {
        drive_for(m, axis, -direction, 4 * PULSE);
        come_to_rest(m);
    }
    for (int k = 0; !m->plant.closed[axis] && k < 200; k++) {
        drive_for(m, axis, direction, PULSE);
        come_to_rest(m);
    }
    return m->plant.closed[axis];
}

/* ---- the table ---- */

static void row(const machine *m, int axis, const char *what)
{
    printf("%-24s %8.2f %10.2f %7s %9.2f\n", what, m->plant.time, m->plant.angle[axis] / DEGREE,
           m->plant.closed[axis] ? "closed" : "open", m->plant.voltage);
}

static bool home_and_move(machine *m, int axis, double seconds)
{
    row(m, axis, "start");
    if (!search_fast(m, axis, -1))
        return false;
    row(m, axis, "found at full speed");
    if (!creep_to_edge(m, axis, -1))
        return false;
    row(m, axis, "crept to the edge");
    drive_for(m, axis, -1, seconds);
    row(m, axis, "timed move, drive off");
    come_to_rest(m);
    row(m, axis, "at rest");
    return true;
}

static int explain(const char *text)
{
    fprintf(stderr, "own_controller: %s\n", text);
    return 2;
}

int main(int argc, char **argv)
{
    static slew_scenario scenario;
    static slew_setup setup;
    static machine m;
    slew_error error = {0};

    if (argc != 2 || slew_scenario_read_file(argv[1], NULL, &scenario) != SLEW_OK)
        return explain("needs a scenario that `slewtime check` finds ok");
    slew_scenario_resolve(&scenario, SLEW_OCCASION_STOW, &setup);
    if (slew_plant_model_build(&setup, &m.model, &error) != SLEW_OK)
        return explain(error.message);

    const double start[SLEW_AXES] = {setup.axis[SLEW_ROTATION].start,
                                     setup.axis[SLEW_ELEVATION].start};
    slew_plant_start(&m.model, start, &m.plant);
    printf("%-24s %8s %10s %7s %9s\n", "elevation", "time, s", "angle, deg", "sensor", "supply, V");
    if (!home_and_move(&m, SLEW_ELEVATION, 2.0))
        return explain("no home sensor met");
    return 0;
}
