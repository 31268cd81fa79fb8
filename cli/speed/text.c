/* text.c - the answer of `slewtime speed` as text. */
#include "answer.h"

#include <math.h>
#include <string.h>

#include "slewtime/nozzle.h"
#include "slewtime/physics.h"
#include "tell/provenance.h"
#include "tell/units.h"

/* ---- names ---- */

const char *cli_speed_when(const cli_speed *a, int index)
{
    return a->question[index].occasion == SLEW_OCCASION_DEPLOY ? "on deploy day" : "today";
}

void cli_speed_name(const slew_speed_curve *c, char *text, size_t size)
{
    snprintf(text, size, "%s %s", slew_axis_word(c->axis),
             slew_direction_word(c->axis, c->direction));
}

void cli_speed_level(const slew_speed_level *level, char *text, size_t size)
{
    if (level->pressure > 0)
        snprintf(text, size, "at %.4g bar", cli_bar(level->pressure));
    else
        snprintf(text, size, "dry");
}

const char *cli_speed_trouble(const slew_speed_row *row)
{
    if (row->slowest.state == SLEW_SPEED_OFF)
        return "off";
    if (!row->travel.holds)
        return "slips";
    switch (row->travel.fault) {
    case SLEW_FAULT_NONE:
        return "";
    case SLEW_FAULT_UNDERVOLTAGE:
        return "brownout";
    case SLEW_FAULT_TIMEOUT:
        return "timeout";
    default:
        return "stall";
    }
}

/* ---- the finding ---- */

static bool needs_more(const slew_speed_needs *a, const slew_speed_needs *b)
{
    return a->arrives > b->arrives || (a->arrives == b->arrives && a->starts > b->starts);
}

/* the curve that needs most; of equals the first */
static const slew_speed_curve *hardest(const slew_speed *s)
{
    const slew_speed_curve *worst = &s->curve[0];
    for (int i = 1; i < s->curve_count; i++)
        if (needs_more(&s->curve[i].need, &worst->need))
            worst = &s->curve[i];
    return worst;
}

static void own_words(const slew_speed_curve *c, char *text, size_t size)
{
    const char *trouble = cli_speed_trouble(&c->own);
    if (trouble[0] == '\0')
        snprintf(text, size, "in %.1f s", c->own.travel.time);
    else
        snprintf(text, size, "not (%s)", trouble);
}

void cli_speed_finding(const cli_speed *a, int index, char *text, size_t size)
{
    const slew_speed *s = &a->answer[index];
    const slew_speed_curve *c = hardest(s);
    double to = a->question[index].to;
    char name[40], level[40], own[60];
    cli_speed_name(c, name, sizeof name);
    cli_speed_level(&s->level[c->level], level, sizeof level);
    own_words(c, own, sizeof own);
    if (isinf(c->need.starts))
        snprintf(text, size, "Hardest is %s %s: no start at any voltage up to %.4g V", name, level,
                 to);
    else if (isinf(c->need.arrives))
        snprintf(text, size, "Hardest is %s %s: not from stop to stop at any voltage up to %.4g V",
                 name, level, to);
    else if (c->need.arrives == 0)
        snprintf(text, size, "All get from stop to stop at any source voltage");
    else
        snprintf(text, size,
                 "Hardest is %s %s: stop to stop from %.2f V, with this scenario's %.4g V %s", name,
                 level, c->need.arrives, c->own.supply, own);
}

/* ---- what was asked ---- */

static void print_places(const slew_speed_question *q)
{
    printf("  load        ");
    if (isnan(q->at[0]) && isnan(q->at[1]))
        printf("where it slows most and least, anywhere between the stops of both axes\n");
    else if (isnan(q->at[0]) || isnan(q->at[1]))
        printf("%s at %.4g deg, the other axis anywhere between its stops\n",
               slew_axis_word(isnan(q->at[0])), cli_degrees(q->at[isnan(q->at[0])]));
    else
        printf("rotation at %.4g deg, elevation at %.4g deg\n", cli_degrees(q->at[SLEW_ROTATION]),
               cli_degrees(q->at[SLEW_ELEVATION]));
}

static void print_levels(const slew_speed *s)
{
    printf("  reaction    ");
    for (int i = 0; i < s->level_count; i++)
        if (s->level[i].pressure > 0)
            printf("%s%.0f N at %.4g bar", i ? ", " : "", s->level[i].reaction,
                   cli_bar(s->level[i].pressure));
        else
            printf("%sdry", i ? ", " : "");
    if (!slew_nozzle_is_known(&s->setup.nozzle))
        printf(" only: the scenario does not say the nozzle's pressure and flow or tip");
    printf("\n");
}

static void print_asked(const cli_speed *a, int index)
{
    const slew_speed_question *q = &a->question[index];
    const slew_speed *s = &a->answer[index];
    printf("  conditions  %s, %.1f degC\n", cli_speed_when(a, index),
           cli_celsius(s->setup.environment.temperature));
    printf("  supply      %.4g to %.4g V in %d steps; the scenario has %.4g V\n", q->from, q->to,
           q->steps, s->setup.supply.main.voltage);
    print_levels(s);
    print_places(q);
}

/* ---- at the scenario's voltage ---- */

/* "rotation  left  7 bar" in columns */
static void print_curve_name(const slew_speed *s, const slew_speed_curve *c)
{
    char level[40];
    cli_speed_level(&s->level[c->level], level, sizeof level);
    printf("%-9s  %-5s  %-11s", slew_axis_word(c->axis), slew_direction_word(c->axis, c->direction),
           level);
}

static void print_time(const slew_speed_row *row)
{
    const char *trouble = cli_speed_trouble(row);
    if (trouble[0] == '\0')
        printf(" %8.2f", row->travel.time);
    else
        printf(" %8s", trouble);
}

static void print_figures(const slew_speed_row *row)
{
    printf(" %8.2f %8.2f", cli_degrees(row->slowest.speed), cli_degrees(row->fastest.speed));
    if (row->slowest.state == SLEW_SPEED_OFF)
        printf(" %7s %7s", "-", "-");
    else
        printf(" %7.2f %7.2f", row->slowest.current, row->slowest.voltage);
    print_time(row);
}

static void print_own(const slew_speed *s)
{
    printf("\nWith the scenario's %.4g V, steady; current and voltage where it is slowest\n\n",
           s->setup.supply.main.voltage);
    printf("%28s   slowest  fastest current voltage stop to   slowest at\n", "");
    printf("%28s     deg/s    deg/s       A       V  stop, s   R, deg  E, deg\n", "");
    for (int i = 0; i < s->curve_count; i++) {
        const slew_speed_curve *c = &s->curve[i];
        print_curve_name(s, c);
        print_figures(&c->own);
        printf("  %7.1f %7.1f\n", cli_degrees(c->place.slowest[0]),
               cli_degrees(c->place.slowest[1]));
    }
}

/* ---- the lowest voltages ---- */

static void print_need(double need, double to)
{
    char text[32];
    if (need == 0)
        snprintf(text, sizeof text, "any");
    else if (isinf(need))
        snprintf(text, sizeof text, "> %.4g", to);
    else
        snprintf(text, sizeof text, "%.3f", need);
    printf(" %9s", text);
}

static void print_needs(const slew_speed *s, double to)
{
    const slew_controller_settings *c = &s->setup.controller;
    printf("\nLowest source voltage, V, where the load is worst (bisected to %g mV)\n\n",
           1000 * SLEW_SPEED_TOLERANCE);
    printf("%28s      runs    starts   arrives  brownout     floor     trips   noticed\n", "");
    for (int i = 0; i < s->curve_count; i++) {
        const slew_speed_needs *n = &s->curve[i].need;
        print_curve_name(s, &s->curve[i]);
        print_need(n->runs, to);
        print_need(n->starts, to);
        print_need(n->arrives, to);
        print_need(n->brownout, to);
        print_need(n->floor, to);
        print_need(n->trips, to);
        print_need(n->noticed, to);
        printf("\n");
    }
    printf("\n"
           "  runs      keeps running once it moves; below, it stalls\n"
           "  starts    moves from rest, against breakaway\n"
           "  arrives   the controller brings it from stop to stop: no fault on the way\n"
           "  brownout  the controller keeps %.4g V under the steady load; floor: %.4g V\n"
           "  trips     from here on the steady current is %.4g A or more: declared a stall\n"
           "  noticed   from here on a blocked axis draws %.4g A: below, no stop is noticed\n",
           c->brownout_voltage, s->setup.supply.floor, c->stall_current, c->stall_current);
}

/* ---- over the voltages ---- */

static void print_grid(const slew_speed *s, int axis, int level)
{
    const slew_speed_curve *one = &s->curve[(2 * axis) * s->level_count + level];
    const slew_speed_curve *other = one + s->level_count;
    char name[40];
    cli_speed_level(&s->level[level], name, sizeof name);
    printf("\n%s, %s\n\n", axis == SLEW_ROTATION ? "Rotation" : "Elevation", name);
    printf(" supply  %-43s %s\n", slew_direction_word(axis, -1), slew_direction_word(axis, 1));
    printf("      V");
    for (int d = 0; d < 2; d++)
        printf("  slowest  fastest       A       V        s");
    printf("\n");
    for (int i = 0; i < s->row_count; i++) {
        printf("%7.2f", one->row[i].supply);
        print_figures(&one->row[i]);
        print_figures(&other->row[i]);
        printf("\n");
    }
}

static void print_grids(const slew_speed *s)
{
    printf("\nOver the source voltage: slowest and fastest steady speed, deg/s; current and\n"
           "controller voltage where it is slowest; time from stop to stop, or why not: stall\n"
           "(declared on the way), brownout, timeout (of the drive), slips (its load moves an "
           "axis)\n");
    for (int axis = 0; axis < SLEW_AXES; axis++)
        for (int level = 0; level < s->level_count; level++)
            print_grid(s, axis, level);
}

/* ---- the whole ---- */

/* by name, what does not do it with this scenario's voltage */
static void print_failure(const slew_speed *s, const slew_speed_curve *c, double to)
{
    char name[40], level[40];
    cli_speed_name(c, name, sizeof name);
    cli_speed_level(&s->level[c->level], level, sizeof level);
    if (isinf(c->need.starts))
        printf("%s %s can't start at any voltage up to %.4g V.\n", name, level, to);
    else if (c->own.slowest.state != SLEW_SPEED_RUNS)
        printf("%s %s can't start with the scenario's %.4g V: it needs %.3f V.\n", name, level,
               c->own.supply, c->need.starts);
    else if (cli_speed_trouble(&c->own)[0] != '\0')
        printf("%s %s does not get from stop to stop with the scenario's %.4g V: %s.\n", name,
               level, c->own.supply, cli_speed_trouble(&c->own));
}

static void print_occasion(const cli_speed *a, int index)
{
    const slew_speed *s = &a->answer[index];
    char finding[300];
    if (index > 0)
        printf("\n");
    print_asked(a, index);
    print_own(s);
    print_needs(s, a->question[index].to);
    print_grids(s);
    cli_speed_finding(a, index, finding, sizeof finding);
    printf("\n%s.\n", finding);
    for (int i = 0; i < s->curve_count; i++)
        print_failure(s, &s->curve[i], a->question[index].to);
}

void cli_speed_print(const void *what)
{
    const cli_speed *a = what;
    char origin[CLI_PROVENANCE_MAX];
    cli_provenance_words(a->scenario, NULL, 0, origin);
    printf("%s\n  asked       %s\n", a->scenario->title, origin);
    for (int i = 0; i < a->count; i++)
        print_occasion(a, i);
    printf("Motor inductance is left out: the dip of the voltage at drive-on is a bound.\n"
           "Simulated: it does not replace a test on the truck.\n");
}
