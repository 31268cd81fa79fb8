/* text.c - `slewtime check` as text: the answer, what follows for each axis, and what the answers
 * hang on. */
#include "answer.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "single/outcome_sentence.h"
#include "tell/append.h"
#include "tell/provenance.h"
#include "tell/table.h"
#include "tell/units.h"
#include "tell/utf8.h"

/* ---- the file ---- */

static const char *order_words(slew_order order)
{
    static const char *const words[] = {[SLEW_ROTATION_FIRST] = "rotation, then elevation",
                                        [SLEW_ELEVATION_FIRST] = "elevation, then rotation",
                                        [SLEW_TOGETHER] = "together"};
    return words[order];
}

static void print_order(const char *name, const double times[SLEW_AXES], slew_order order)
{
    printf("  %-8s rotation %+.2f s, elevation %+.2f s; %s\n", name, times[SLEW_ROTATION],
           times[SLEW_ELEVATION], order_words(order));
}

static void print_file(const slew_scenario *s, const slew_prepared *prepared)
{
    print_order(s->stow.has_times ? "given" : "taught", prepared->stored, s->stow.order);
    if (s->deploy.given)
        print_order("deploy", s->deploy.seconds, s->deploy.order);
    printf("  supply   %.2f V at the controller at rest, %.1f mohm before it\n",
           prepared->stow.line_voltage, 1000 * prepared->stow.line_resistance);
    if (s->keepout.count > 0)
        printf("  keep-out zones %d\n", s->keepout.count);
}

static void print_origin(const slew_scenario *s)
{
    char origin[CLI_PROVENANCE_MAX];
    cli_provenance_words(s, NULL, 0, origin);
    printf("(%s; keys: teach %d, today %d, deploy day %d, spread %d + %d)\n", origin,
           s->teach.count, s->today.count, s->deploy_day.count, s->truck.count, s->day.count);
}

/* ---- each axis ---- */

/* four digits will do */
static void value_text(int key, double value, char *text, size_t size)
{
    slew_key_format_number(key, value, text, size);
    const char *unit = strchr(text, ' ');
    if (slew_key_at(key)->kind == SLEW_KEY_NUMBER && unit != NULL) {
        char shorter[64];
        snprintf(shorter, sizeof shorter, "%.4g%s", strtod(text, NULL), unit);
        snprintf(text, size, "%s", shorter);
    }
}

static void print_following(const cli_check *a, int axis)
{
    for (int i = 0; i < CLI_FOLLOWING; i++) {
        int key = cli_check_following(a, axis, i);
        char value[64];
        if (key < 0)
            continue;
        value_text(key, slew_scenario_get_number(a->single.scenario, key), value, sizeof value);
        printf("    %s is %s, %s\n", strchr(slew_key_at(key)->path, '.') + 1, value,
               i < CLI_FOLLOWING - 1 ? "from its data sheet"
                                     : "by default (a mechanical time constant of 20 ms)");
    }
}

static void print_way(int axis, int direction, const slew_axis_way *way)
{
    bool runs = way->slowest.state == SLEW_SPEED_RUNS || way->slowest.state == SLEW_SPEED_RUNS_ON;
    printf("    %-5s ", slew_direction_word(axis, direction));
    if (runs)
        printf("%5.1f °/s where it is slowest, %.1f A, %.2f V; ", cli_degrees(way->slowest.speed),
               way->slowest.current, way->slowest.voltage);
    else
        printf("does not get past its heaviest place (%s, %.1f A); ",
               slew_speed_word(way->slowest.state), way->slowest.current);
    if (isfinite(way->travel))
        printf("%.1f s from stop to stop\n", way->travel);
    else
        printf("not from stop to stop: %s\n", slew_fault_in_words(way->fault));
}

static double most_running(const slew_axis_facts *f)
{
    return fmax(f->way[0].slowest.current, f->way[1].slowest.current);
}

static void print_currents(const slew_axis_facts *f, double threshold)
{
    printf("    draws up to %.1f A running, %.1f A at motor on and stalled; stall threshold %.4g A "
           "is %s\n",
           most_running(f), f->stalled, threshold,
           threshold >= f->stalled        ? "NOT below the stalled current"
           : threshold <= most_running(f) ? "NOT above the running current"
                                          : "between them");
}

static void print_places(int axis, const slew_axis_facts *f)
{
    printf("    %s (backward efficiency %.0f %%)\n",
           f->backward_efficiency < 0 ? "locks itself"
                                      : "does not lock itself: its load can turn it",
           cli_percent(f->backward_efficiency));
    printf("    home at %.4g°, %.4g° from the %s, %.4g° from the %s\n", cli_degrees(f->home),
           cli_degrees(f->home_from_stop[0]), cli_stop_in_words(axis, -1),
           cli_degrees(f->home_from_stop[1]), cli_stop_in_words(axis, 1));
    if (isfinite(f->point_from_home))
        printf("    stow point %+.4g° from home, %.4g° from the nearer stop\n",
               cli_degrees(f->point_from_home), cli_degrees(f->point_from_stop));
}

static void print_axis(const cli_check *a, int axis)
{
    const slew_axis_facts *f = &a->axis[axis];
    printf("  %s today\n", slew_axis_word(axis));
    print_following(a, axis);
    for (int i = 0; i < 2; i++)
        print_way(axis, 2 * i - 1, &f->way[i]);
    print_currents(f, a->single.prepared.stow_setup.controller.stall_current);
    print_places(axis, f);
}

/* ---- what it hangs on ---- */

enum { ROWS_MAX = 8 };

static void print_value(cli_table *table, const slew_hang *h, int index, const cli_check *a)
{
    const slew_hang_outcome *o = &h->of[index];
    bool deploys = a->single.scenario->deploy.given;
    char value[64];
    value_text(h->key, h->value[index], value, sizeof value);
    cli_table_text(table, "  left to its default", "  %-34s",
                   index == 1 ? slew_key_at(h->key)->path : "");
    cli_table_text(table, " tried", " %-16s", value);
    cli_table_number(table, "stow\nmoves\n°", 7, 2, cli_degrees(o->moves[0]));
    if (deploys)
        cli_table_number(table, "deploy\nmoves\n°", 7, 2, cli_degrees(o->moves[1]));
    cli_table_number(table, "ends in\na fault\n%", 8, 1, cli_percent(o->fails));
    if (a->hangs.samples > 0)
        cli_table_number(table, deploys ? "\ninside\n%" : "on\ntarget\n%", 8, 1,
                         cli_percent(o->share));
    cli_table_end_row(table);
}

/* the default first; a bound that is the default is not tried */
static void print_hang(cli_table *table, const slew_hang *h, const cli_check *a)
{
    print_value(table, h, 1, a);
    for (int index = 0; index < SLEW_HANG_VALUES; index += 2)
        if (h->value[index] != h->value[1])
            print_value(table, h, index, a);
}

static void print_measures(const slew_hangs *hangs)
{
    for (int i = 0; i < hangs->count && i < 3; i++)
        printf("  Measure for %s: %s.\n", slew_key_at(hangs->item[i].key)->path,
               hangs->item[i].measure);
}

static void print_hangs(const cli_check *a)
{
    const slew_hangs *hangs = &a->hangs;
    cli_table table = {.heads = 3};
    if (hangs->count == 0) {
        printf("\nNo key left to its default moves an end by 0.02°.\n");
        return;
    }
    printf("\nThe answers hang on these defaults. How far the ends move%s, each by itself:\n",
           hangs->samples > 0 ? " over the spread (root mean square)" : "");
    for (int i = 0; i < hangs->count && i < ROWS_MAX; i++)
        print_hang(&table, &hangs->item[i], a);
    if (hangs->count > ROWS_MAX)
        printf("  and %d that move less (--json has all)\n", hangs->count - ROWS_MAX);
    print_measures(hangs);
}

/* ---- the answer ---- */

/* seconds of the slower way, or that there is none */
static void print_travel(const char *before, int axis, const slew_axis_facts *f)
{
    double slower = fmax(f->way[0].travel, f->way[1].travel);
    if (isfinite(f->way[0].travel) && isfinite(f->way[1].travel))
        printf("%s%s %.1f s", before, slew_axis_word(axis), slower);
    else
        printf("%s%s does NOT get there", before, slew_axis_word(axis));
}

static bool notices_a_stall(const cli_check *a, int axis)
{
    const slew_axis_facts *f = &a->axis[axis];
    double threshold = a->single.prepared.stow_setup.controller.stall_current;
    return threshold < f->stalled && threshold > most_running(f);
}

static void print_stall(const cli_check *a)
{
    double threshold = a->single.prepared.stow_setup.controller.stall_current;
    bool rotation = notices_a_stall(a, SLEW_ROTATION),
         elevation = notices_a_stall(a, SLEW_ELEVATION);
    if (rotation && elevation)
        printf("A stall is noticed on both axes (threshold %.4g A).\n", threshold);
    else
        printf("The stall threshold of %.4g A does NOT lie between running and stalled current: "
               "%s.\n",
               threshold,
               rotation    ? "elevation"
               : elevation ? "rotation"
                           : "both axes");
}

static void print_answer(const cli_check *a)
{
    const slew_hangs *hangs = &a->hangs;
    printf("%s: ok\n", a->path);
    printf("%s.\n", a->single.scenario->stow.has_times ? "The stored times are given"
                                                       : "The stow point can be taught");
    print_travel("From stop to stop: ", SLEW_ROTATION, &a->axis[SLEW_ROTATION]);
    print_travel(", ", SLEW_ELEVATION, &a->axis[SLEW_ELEVATION]);
    printf(".\n");
    print_stall(a);
    if (hangs->count > 0)
        printf("%d key%s left to %s default%s an end by up to %.2g°: measure as below.\n",
               hangs->count, hangs->count > 1 ? "s" : "", hangs->count > 1 ? "their" : "its",
               hangs->count > 1 ? "s move" : " moves", cli_degrees(hangs->item[0].moves));
    printf("\n%s\n", a->single.scenario->title);
}

void cli_check_text(const void *what)
{
    const cli_check *a = what;
    print_answer(a);
    print_file(a->single.scenario, &a->single.prepared);
    for (int axis = 0; axis < SLEW_AXES; axis++)
        print_axis(a, axis);
    print_hangs(a);
    print_origin(a->single.scenario);
}
