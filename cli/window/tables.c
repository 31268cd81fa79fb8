/* tables.c - the tables of `slewtime window`: where the sensor closes, and where home is taken. */
#include <inttypes.h>
#include <math.h>

#include "answer.h"
#include "tell/table.h"
#include "tell/units.h"

/* ---- edges ---- */

static const char edge_heads[] = "  closes   opens  over the\n"
                                 "       °       °  magnet, mT";

static void add_edges(cli_table *t, const char *name, const slew_window_case *c)
{
    cli_table_text(t, NULL, "  %-10s ", name);
    cli_table_text(t, edge_heads, "%7.2f %7.2f  %9.4g", cli_degrees(c->operate),
                   cli_degrees(c->release), 1000 * c->flux);
}

/* with the figures that make it so */
static void print_extreme(cli_table *t, const cli_window *a, const char *name,
                          const slew_window_case *c)
{
    const char *before = "  ";
    add_edges(t, name, c);
    for (int i = 0; i < SLEW_WINDOW_FIGURES; i++) {
        char value[32];
        if (isnan(a->window.figure[i].low))
            continue;
        cli_window_say_figure(a, i, slew_window_figure(&c->magnet, i), value, sizeof value);
        cli_table_cell(t, NULL, "%s%s %s", before, slew_window_figure_word(i), value);
        before = ", ";
    }
    cli_table_end_row(t);
}

static void print_narrowest(cli_table *t, const cli_window *a)
{
    if (a->window.blind == 0) {
        print_extreme(t, a, "narrowest", &a->window.narrowest);
        return;
    }
    cli_table_text(t, NULL, "  %-10s ", "narrowest");
    cli_table_text(t, edge_heads, "never closes");
    cli_table_end_row(t);
}

void cli_window_print_edges(const cli_window *a)
{
    const slew_window *w = &a->window;
    cli_table table = {.heads = 2};
    if (!w->own.magnet.given || w->cases == w->blind || (w->cases == 1 && !cli_window_has_edges(a)))
        return;
    printf("\n");
    if (w->cases > 1)
        print_narrowest(&table, a);
    if (w->own.sight != SLEW_SIGHT_TOO_WEAK) {
        add_edges(&table, "as it is", &w->own);
        cli_table_end_row(&table);
    }
    if (w->cases > 1) {
        print_extreme(&table, a, "widest", &w->widest);
        printf("  (of %" PRId64 " combinations of lowest, own and highest values, and between them;"
               " %" PRId64 " never close)\n",
               w->cases, w->blind);
    }
}

/* ---- home ---- */

static const slew_window_row *row_of(const slew_window *w, slew_approach rule,
                                     slew_window_start start, double voltage)
{
    for (int i = 0; i < w->rows; i++)
        if (w->row[i].rule == rule && w->row[i].start == start && w->row[i].voltage == voltage)
            return &w->row[i];
    return NULL;
}

/* of the first row at that voltage that moves */
static double speed_at(const slew_window *w, double voltage)
{
    for (int i = 0; i < w->rows; i++)
        if (w->row[i].voltage == voltage && !isnan(w->row[i].speed))
            return w->row[i].speed;
    return NAN;
}

/* or a word instead */
static void add_range(cli_table *t, const char *head, slew_range range, const char *instead)
{
    if (instead == NULL)
        cli_table_text(t, head, "  %7.2f %7.2f", cli_degrees(range.low), cli_degrees(range.high));
    else
        cli_table_text(t, head, "  %15s", instead);
}

/* where home is acted on at that voltage */
static void add_acted(cli_table *t, const slew_window *w, double voltage,
                      const slew_window_row *row)
{
    char head[80], speed[24] = "";
    double moves = cli_degrees(speed_at(w, voltage));
    if (!isnan(moves))
        snprintf(speed, sizeof speed, "%6.2f °/s", moves);
    snprintf(head, sizeof head, "    at %6.2f V   \n    %s\n     from      to", voltage, speed);
    if (row == NULL || row->runs == 0)
        add_range(t, head, (slew_range){0, 0}, "-");
    else
        add_range(t, head, row->acted, row->found == 0 ? "not found" : NULL);
}

static double percent_of(int part, int whole)
{
    return whole > 0 ? 100.0 * part / whole : 0.0;
}

static void print_home_row(cli_table *t, const cli_window *a, slew_approach rule,
                           slew_window_start start)
{
    const slew_window *w = &a->window;
    slew_window_row all = {.rests = {NAN, NAN}};
    cli_table_cell(t, NULL, "%c ", rule == a->today.axis[a->axis].approach ? '*' : ' ');
    cli_table_text(t, "\n\nhomed", "%-20s", cli_window_rule_words(a->axis, rule));
    cli_table_text(t, "\n\nstart", "%-7s", cli_window_start_word(a->axis, start));
    for (int i = 0; i < w->speeds; i++) {
        const slew_window_row *row = row_of(w, rule, start, w->voltage[i]);
        add_acted(t, w, w->voltage[i], row);
        if (row == NULL)
            continue;
        all.runs += row->runs, all.found += row->found, all.unseen += row->unseen;
        all.rests.low = fmin(all.rests.low, row->rests.low);
        all.rests.high = fmax(all.rests.high, row->rests.high);
    }
    add_range(t, "  comes to rest\n  at all of them\n     from      to", all.rests,
              all.found == 0 ? "-" : NULL);
    cli_table_cell(t, "\nfound\n%", "  %5.1f", percent_of(all.found, all.runs));
    cli_table_cell(t, "\nmissed\n%", " %6.1f", percent_of(all.unseen, all.runs));
    cli_table_end_row(t);
}

/* its own rule alone, unless all are asked for */
static void print_home_rows(cli_table *t, const cli_window *a)
{
    for (int rule = 0; rule < SLEW_WINDOW_RULES; rule++)
        for (int start = 0; start < SLEW_WINDOW_STARTS; start++)
            if (a->all || rule == (int)a->today.axis[a->axis].approach)
                print_home_row(t, a, (slew_approach)rule, (slew_window_start)start);
}

void cli_window_print_home(const cli_window *a)
{
    cli_table table = {.heads = 3};
    if (!cli_window_has_edges(a))
        return;
    printf("\nWith the power ON, nobody near.\n"
           "Where the controller takes home, °: sampled every %.4g ms in all phases, acting "
           "%.4g ms later\n\n",
           1000 * a->today.controller.sample, 1000 * a->today.controller.latency);
    print_home_rows(&table, a);
    printf("(%sFrom place to rest lies the %s after the motor goes off.%s)\n",
           a->all ? "* as the scenario homes. " : "",
           a->today.controller.stop == SLEW_BRAKE ? "braking" : "coasting",
           a->all ? " From\nwhichever side, a search that begins inside ends where the axis rests."
                  : " --all adds the other rules.");
    if (!a->window.voltage_given)
        printf("The spread has no battery voltage: those around the scenario's are common "
               "practice.\n");
}
