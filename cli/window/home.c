/* home.c - where the controller takes home, as a table. */
#include "answer.h"

#include <math.h>

#include "tell/units.h"

static const slew_window_row *row_of(const slew_window *w, slew_approach rule,
                                     slew_window_start start, double voltage)
{
    for (int i = 0; i < w->rows; i++)
        if (w->row[i].rule == rule && w->row[i].start == start && w->row[i].voltage == voltage)
            return &w->row[i];
    return NULL;
}

static void print_acted(const slew_window_row *row)
{
    if (row == NULL || row->runs == 0)
        printf("  %15s", "-");
    else if (row->found == 0)
        printf("  %15s", "not found");
    else
        printf("  %7.2f %7.2f", cli_degrees(row->acted.low), cli_degrees(row->acted.high));
}

static void print_home_row(const cli_window *a, slew_approach rule, slew_window_start start)
{
    const slew_window *w = &a->window;
    slew_range rests = {NAN, NAN};
    int runs = 0, found = 0, unseen = 0;
    printf("%c %-8s %-7s", rule == a->today.axis[a->axis].approach ? '*' : ' ',
           cli_approach_word(rule), cli_window_start_words(a->axis, start));
    for (int i = 0; i < w->speeds; i++) {
        const slew_window_row *row = row_of(w, rule, start, w->voltage[i]);
        print_acted(row);
        if (row == NULL)
            continue;
        runs += row->runs, found += row->found, unseen += row->unseen;
        rests.low = fmin(rests.low, row->rests.low);
        rests.high = fmax(rests.high, row->rests.high);
    }
    if (found > 0)
        printf("  %7.2f %7.2f", cli_degrees(rests.low), cli_degrees(rests.high));
    else
        printf("  %15s", "-");
    printf("  %5.1f %6.1f\n", runs > 0 ? 100.0 * found / runs : 0.0,
           runs > 0 ? 100.0 * unseen / runs : 0.0);
}

/* of the first row at that voltage that moves */
static double speed_at(const slew_window *w, double voltage)
{
    for (int i = 0; i < w->rows; i++)
        if (w->row[i].voltage == voltage && !isnan(w->row[i].speed))
            return w->row[i].speed;
    return NAN;
}

static void print_home_head(const cli_window *a)
{
    const slew_window *w = &a->window;
    printf("\nWhere the controller takes home, deg: sampled every %.4g ms in all phases, acted on "
           "%.4g ms later\n\n%18s",
           1000 * a->today.controller.sample, 1000 * a->today.controller.latency, "");
    for (int i = 0; i < w->speeds; i++)
        printf("    at %6.2f V   ", w->voltage[i]);
    printf("  comes to rest\n%18s", "");
    for (int i = 0; i < w->speeds; i++) {
        double speed = cli_degrees(speed_at(w, w->voltage[i]));
        if (isnan(speed))
            printf("%17s", "");
        else
            printf("    %6.2f deg/s ", speed);
    }
    printf("  at all of them   found unseen\n  %-8s %-7s", "approach", "start");
    for (int i = 0; i <= w->speeds; i++)
        printf("  %7s %7s", "from", "to");
    printf("  %5s %6s\n", "%", "%");
}

void cli_window_print_home(const cli_window *a)
{
    char text[160];
    if (!cli_window_has_edges(a))
        return;
    print_home_head(a);
    for (int rule = 0; rule < SLEW_WINDOW_RULES; rule++)
        for (int start = 0; start < SLEW_WINDOW_STARTS; start++)
            print_home_row(a, (slew_approach)rule, (slew_window_start)start);
    cli_window_rules(a, text, sizeof text);
    printf("\n%s%s\n", text, text[0] != '\0' ? "." : "");
    printf("(* the scenario's own rule. From place to rest lies the %s after the drive goes off. "
           "With\neither, a search that begins inside ends where it stands.)\n",
           a->today.controller.stop == SLEW_BRAKE ? "braking" : "coasting");
    if (!a->window.voltage_given)
        printf("The spread says nothing of the supply: the voltages around its own are common "
               "practice.\n");
}
