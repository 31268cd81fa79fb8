/* text.c - the answer of `slewtime speed` as text. */
#include <math.h>

#include "answer.h"
#include "tell/append.h"
#include "tell/provenance.h"
#include "tell/table.h"
#include "tell/units.h"
#include "tell/utf8.h"

/* ---- what was asked ---- */

static void print_places(const slew_speed_question *q)
{
    printf("  load        ");
    if (isnan(q->at[0]) && isnan(q->at[1]))
        printf("where it slows most and least, anywhere between the hard stops of both axes\n");
    else if (isnan(q->at[0]) || isnan(q->at[1]))
        printf("%s at %.4g°, the other axis anywhere between its hard stops\n",
               slew_axis_word(isnan(q->at[0])), cli_degrees(q->at[isnan(q->at[0])]));
    else
        printf("rotation at %.4g°, elevation at %.4g°\n", cli_degrees(q->at[SLEW_ROTATION]),
               cli_degrees(q->at[SLEW_ELEVATION]));
}

static void print_levels(const cli_speed *a, const slew_speed *s)
{
    char force[CLI_MEASURE_MAX], level[40];
    printf("  reaction    ");
    for (int i = 0; i < s->level_count; i++) {
        cli_speed_level(a, &s->level[i], level, sizeof level);
        cli_measure_words(a->scenario->units, CLI_MEASURE_FORCE, 0, s->level[i].reaction, force);
        if (s->level[i].pressure > 0)
            printf("%s%s %s", i ? ", " : "", force, level);
        else
            printf("%s%s", i ? ", " : "", level);
    }
    if (!slew_nozzle_is_known(&s->setup.nozzle))
        printf(" only: the scenario does not give the nozzle's pressure and flow or tip");
    printf("\n");
}

static void print_asked(const cli_speed *a, int index)
{
    const slew_speed_question *q = &a->question[index];
    const slew_speed *s = &a->answer[index];
    char temperature[CLI_MEASURE_MAX];
    cli_measure_words(a->scenario->units, CLI_MEASURE_TEMPERATURE, 0,
                      s->setup.environment.temperature, temperature);
    printf("  conditions  %s, %s\n", cli_speed_when(a, index), temperature);
    printf("  battery     %.4g to %.4g V in %d steps; the scenario has %.4g V\n", q->from, q->to,
           q->steps, s->setup.supply.main.voltage);
    print_levels(a, s);
    print_places(q);
}

/* ---- tables ---- */

/* "rotation  left  at 102 psi" in columns */
static void add_name(cli_table *t, const cli_speed *a, const slew_speed *s,
                     const slew_speed_curve *c)
{
    char level[40];
    cli_speed_level(a, &s->level[c->level], level, sizeof level);
    cli_table_text(t, NULL, "%-9s  %-5s  %-11s", slew_axis_word(c->axis),
                   slew_direction_word(c->axis, c->direction), level);
}

/* of slowest and fastest speed, current, voltage and time */
typedef const char *figure_heads[5];

static void add_figures(cli_table *t, const figure_heads head, const slew_speed_row *row)
{
    bool is_on = row->slowest.state != SLEW_SPEED_OFF;
    const char *trouble = cli_speed_trouble(row);
    cli_table_cell(t, head[0], " %8.2f", cli_degrees(row->slowest.speed));
    cli_table_cell(t, head[1], " %8.2f", cli_degrees(row->fastest.speed));
    cli_table_number(t, head[2], 7, 2, is_on ? row->slowest.current : NAN);
    cli_table_number(t, head[3], 7, 2, is_on ? row->slowest.voltage : NAN);
    if (trouble[0] == '\0')
        cli_table_cell(t, head[4], " %8.2f", row->travel.time);
    else
        cli_table_cell(t, head[4], " %8s", trouble);
}

/* ---- at the scenario's voltage ---- */

static void print_own(const cli_speed *a, const slew_speed *s)
{
    static const figure_heads heads = {"slowest\n°/s", "fastest\n°/s", "current\nA", "voltage\nV",
                                       "stop to \nstop, s"};
    cli_table table = {.heads = 2};
    printf("\nAt the scenario's %.4g V, steady; current and controller voltage where it is "
           "slowest\n\n",
           s->setup.supply.main.voltage);
    for (int i = 0; i < s->curve_count; i++) {
        const slew_speed_curve *c = &s->curve[i];
        if (!cli_speed_is_asked(a, c))
            continue;
        add_name(&table, a, s, c);
        add_figures(&table, heads, &c->own);
        cli_table_cell(&table, "  slowest at\nrot. °", "  %7.1f",
                       cli_degrees(c->place.slowest[SLEW_ROTATION]));
        cli_table_cell(&table, "\nelev. °", " %7.1f",
                       cli_degrees(c->place.slowest[SLEW_ELEVATION]));
        cli_table_end_row(&table);
    }
}

/* ---- the lowest voltages ---- */

static void add_need(cli_table *t, const char *head, double need, double to)
{
    char text[32];
    if (need == 0)
        snprintf(text, sizeof text, "any");
    else if (isinf(need))
        snprintf(text, sizeof text, "> %.4g", to);
    else
        snprintf(text, sizeof text, "%.3f", need);
    cli_table_cell(t, head, " %9s", text);
}

static void explain_needs(const slew_setup *setup)
{
    const slew_controller_settings *c = &setup->controller;
    printf(
        "\n"
        "  runs      keeps running once it moves; below, it stalls\n"
        "  starts    moves from rest, against breakaway\n"
        "  arrives   the controller brings it from stop to stop without a fault\n"
        "  brownout  the controller keeps its brownout voltage of %.4g V while it runs\n"
        "  minimum   the controller keeps the minimum voltage of %.4g V while it runs\n"
        "  trips     from here on the running current is %.4g A or more: taken for a stall\n"
        "  noticed   from here on a blocked axis draws %.4g A; below, a hard stop is not noticed\n",
        c->brownout_voltage, setup->supply.floor, c->stall_current, c->stall_current);
}

static void print_needs(const cli_speed *a, const slew_speed *s, double to)
{
    cli_table table = {.heads = 1};
    printf("\nLowest battery voltage, V, where the load is worst\n\n");
    for (int i = 0; i < s->curve_count; i++) {
        const slew_speed_needs *n = &s->curve[i].need;
        if (!cli_speed_is_asked(a, &s->curve[i]))
            continue;
        add_name(&table, a, s, &s->curve[i]);
        add_need(&table, "runs ", n->runs, to);
        add_need(&table, "starts ", n->starts, to);
        add_need(&table, "arrives ", n->arrives, to);
        add_need(&table, "brownout ", n->brownout, to);
        add_need(&table, "minimum ", n->floor, to);
        add_need(&table, "trips ", n->trips, to);
        add_need(&table, "noticed ", n->noticed, to);
        cli_table_end_row(&table);
    }
    explain_needs(&s->setup);
}

/* ---- over the voltages ---- */

/* the figures of one direction, its word above them */
static void add_direction(cli_table *t, const slew_speed_curve *c, int row, int width)
{
    char first[32];
    snprintf(first, sizeof first, "%-*s\nslowest", width,
             slew_direction_word(c->axis, c->direction));
    add_figures(t, (const figure_heads){first, "\nfastest", "\nA", "\nV", "\ns"}, &c->row[row]);
}

static void print_grid(const cli_speed *a, const slew_speed *s, int axis, int level)
{
    const slew_speed_curve *one = &s->curve[(2 * axis) * s->level_count + level];
    const slew_speed_curve *other = one + s->level_count;
    cli_table table = {.heads = 2};
    char name[40];
    cli_speed_level(a, &s->level[level], name, sizeof name);
    printf("\n%s, %s\n\n", axis == SLEW_ROTATION ? "Rotation" : "Elevation", name);
    for (int i = 0; i < s->row_count; i++) {
        cli_table_cell(&table, "battery\nV", "%7.2f", one->row[i].supply);
        add_direction(&table, one, i, 7);
        add_direction(&table, other, i, 6);
        cli_table_end_row(&table);
    }
}

static void print_grids(const cli_speed *a, const slew_speed *s)
{
    printf("\nOver the battery voltage: slowest and fastest steady speed, °/s; current and\n"
           "controller voltage where it is slowest; time from stop to stop, or why not: stall\n"
           "(declared on the way), brownout, timeout (of the move), slips (its load moves an "
           "axis)\n");
    for (int axis = 0; axis < SLEW_AXES; axis++)
        for (int level = 0; level < s->level_count; level++)
            if (a->axis == SLEW_NO_AXIS || a->axis == axis)
                print_grid(a, s, axis, level);
}

/* ---- the answer ---- */

/* by name, what does not do it with this scenario's voltage */
static void print_failure(const cli_speed *a, int index, const slew_speed_curve *c)
{
    char name[40], level[40];
    double to = a->question[index].to;
    cli_speed_name(c, name, sizeof name);
    cli_speed_level(a, &a->answer[index].level[c->level], level, sizeof level);
    if (isinf(c->need.starts))
        printf("%s %s can't start at any voltage up to %.4g V.\n", name, level, to);
    else if (c->own.slowest.state != SLEW_SPEED_RUNS)
        printf("%s %s can't start at the scenario's %.4g V: it needs %.3f V.\n", name, level,
               c->own.supply, c->need.starts);
    else if (cli_speed_trouble(&c->own)[0] != '\0')
        printf("%s %s does not get from stop to stop at the scenario's %.4g V: %s.\n", name, level,
               c->own.supply, cli_speed_trouble(&c->own));
}

static void print_answer(const cli_speed *a, int index)
{
    const slew_speed *s = &a->answer[index];
    char finding[400];
    cli_speed_finding(a, index, finding, sizeof finding);
    cli_append(finding, sizeof finding, "%s",
               a->count > 1 ? (index == 0 ? ", today." : ", on deploy day.") : ".");
    cli_print_wrapped(finding, CLI_ANSWER_LETTERS);
    for (int i = 0; i < s->curve_count; i++)
        if (cli_speed_is_asked(a, &s->curve[i]))
            print_failure(a, index, &s->curve[i]);
}

/* ---- the whole ---- */

static void print_occasion(const cli_speed *a, int index)
{
    const slew_speed *s = &a->answer[index];
    if (index > 0)
        printf("\n");
    print_asked(a, index);
    print_own(a, s);
    print_needs(a, s, a->question[index].to);
    if (a->all)
        print_grids(a, s);
}

void cli_speed_text(const void *what)
{
    const cli_speed *a = what;
    char origin[CLI_PROVENANCE_MAX];
    for (int i = 0; i < a->count; i++)
        print_answer(a, i);
    printf("\n%s\n", a->scenario->title);
    for (int i = 0; i < a->count; i++)
        print_occasion(a, i);
    printf("\n%sMotor inductance is left out: the dip of the voltage at the start is overstated.\n"
           "Simulated: it does not replace a test on the truck.\n",
           a->all ? "" : "--all adds speed, current and voltage over the battery voltage.\n");
    cli_provenance_words(a->scenario, NULL, 0, origin);
    printf("(%s)\n", origin);
}
