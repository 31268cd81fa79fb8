/* tables.c - cold and hot, conductors and other changes as tables; see answer.h. */
#include <stdlib.h>
#include <string.h>

#include "answer.h"
#include "slewtime/slewtime.h"
#include "tell/table.h"
#include "tell/units.h"

/* ---- cold and hot ---- */

static const slew_feed_weather columns[] = {SLEW_FEED_COLD, SLEW_FEED_AS_IT_IS, SLEW_FEED_HOT};
enum { COLUMNS = sizeof columns / sizeof *columns };

static void print_voltages(const cli_feed *a, const char *name,
                           double (*lowest)(const slew_feed_figures *figures, bool together))
{
    printf("  %-30s", name);
    for (int i = 0; i < COLUMNS; i++) {
        const slew_feed_trial *t = &a->answer.climate[columns[i]].own;
        if (t->status == SLEW_OK)
            printf(" %11.2f", lowest(&t->figures, a->answer.together));
        else
            printf(" %11s", "-");
    }
    printf("\n");
}

/* which drop, or -1: the floor */
static void print_thinnest(const cli_feed *a, const char *name, int which, slew_ladder ladder)
{
    printf("  %-30s", name);
    for (int i = 0; i < COLUMNS; i++) {
        const slew_feed_climate *c = &a->answer.climate[columns[i]];
        const slew_feed_need *need = which < 0 ? &c->floor : &c->drop[which];
        char size[40] = "none";
        if (need->thinnest[ladder] >= 0)
            cli_feed_size(ladder, need->thinnest[ladder], size);
        printf(" %11s", size);
    }
    printf("\n");
}

void cli_feed_climates(const cli_feed *a)
{
    char name[40];
    slew_unit_system units = a->scenario->units;
    snprintf(name, sizeof name, "Copper, motor, grease: %s",
             cli_measure_unit(units, CLI_MEASURE_TEMPERATURE));
    printf("\n  %-*s", 30 + 1, name); /* the degree sign has two bytes */
    for (int i = 0; i < COLUMNS; i++)
        printf(" %11.0f", cli_measured(units, CLI_MEASURE_TEMPERATURE,
                                       a->answer.climate[columns[i]].temperature));
    printf("\n");
    print_voltages(a, "lowest while running, V", slew_feed_lowest_running);
    print_voltages(a, "lowest starting or stalled, V", slew_feed_lowest_standing);
    for (int which = -1; which < a->question.drop_count; which++) {
        if (which < 0)
            snprintf(name, sizeof name, "thinnest that keeps %.4g V", a->answer.setup.supply.floor);
        else
            snprintf(name, sizeof name, "thinnest with a drop of %.4g %%",
                     100 * a->question.drop[which]);
        print_thinnest(a, name, which, a->ladder[0]);
        print_thinnest(a, "", which, a->ladder[1]);
    }
}

/* ---- conductors, and other changes ---- */

static void add_figures(cli_table *t, const slew_feed_trial *trial, bool together)
{
    static const char *const heads[SLEW_FEED_DRIVES] = {"running:\nrotation ", "\nelevation ",
                                                        "\nboth "};
    const slew_feed_figures *f = &trial->figures;
    cli_table_cell(t, "feed \nmohm ", "%8.1f", cli_milliohms(f->conductors + f->joints));
    cli_table_cell(t, "idle \nV ", "%8.2f", f->idle.voltage);
    for (int d = 0; d < SLEW_FEED_DRIVES; d++)
        if (f->moves[d])
            cli_table_cell(t, heads[d], "%10.2f", f->running[d].voltage);
        else
            cli_table_cell(t, heads[d], "%10s", "stalls");
    cli_table_cell(t, "starting  \nlowest ", "%10.2f", slew_feed_lowest_standing(f, together));
    cli_table_text(t, "keeps the\n minimum", "   %s", trial->keeps ? "yes" : "no");
}

/* the first row may be one without figures */
static void print_heads(cli_table *t, const char *what)
{
    *t = (cli_table){.heads = 2};
    printf("\n");
    cli_table_text(t, what, "%-22s", "");
    add_figures(t, &(slew_feed_trial){.status = SLEW_OK}, false);
    cli_table_heads(t);
}

static void print_row(cli_table *t, const slew_feed_trial *trial, bool together)
{
    if (trial->status == SLEW_OK)
        add_figures(t, trial, together);
    else
        cli_table_text(t, NULL, "   the drives have no voltage at rest");
    cli_table_end_row(t);
}

/* the index in its ladder of the size that the answer names first; 0: of none */
static int named_size(const cli_feed *a, int k)
{
    const slew_feed_work *w = &a->work;
    int found = w->count == 0 ? -1 : cli_feed_named(w, k);
    int steady = a->answer.climate[SLEW_FEED_AS_IT_IS].floor.thinnest[a->ladder[k]];
    return found >= 0 ? w->size[found].index : steady >= 0 ? steady : 0;
}

/* near the size that the answer names, or the scenario's own */
static void print_ladder(cli_table *t, const cli_feed *a, int k)
{
    enum { NEAR = 2 };
    const slew_feed *feed = &a->answer.setup.supply.feed;
    slew_ladder ladder = a->ladder[k];
    char own[40];
    cli_feed_own_size(a, own);
    for (int i = 0; i < slew_ladder_count(ladder); i++) {
        char size[40];
        cli_feed_size(ladder, i, size);
        bool is_own = strcmp(size, own) == 0;
        if (!a->all && !is_own && abs(i - named_size(a, k)) > NEAR)
            continue;
        cli_table_text(t, NULL, "%c %-9s%9.4g  ", is_own ? '*' : ' ', size,
                       1000 * slew_ladder_resistance(ladder, i, feed->stranding));
        print_row(t, &a->answer.ladder[ladder][i], a->answer.together);
    }
}

typedef struct unit {
    const char *name;
    double value; /* [SI] */
} unit;

static void print_levels(cli_table *t, const cli_feed *a, const slew_feed_level *level,
                         const char *name, unit u)
{
    for (int i = 0; i < SLEW_FEED_LEVELS; i++) {
        cli_table_text(t, NULL, "%c %-11s%6.4g %-4s", level[i].own ? '*' : ' ', i == 0 ? name : "",
                       level[i].value / u.value, u.name);
        print_row(t, &level[i].trial, a->answer.together);
    }
}

void cli_feed_conductors(const cli_feed *a)
{
    cli_table table;
    print_heads(&table, "Conductor     ohm/km");
    for (int k = 0; k < CLI_FEED_LADDERS; k++)
        print_ladder(&table, a, k);
    printf("*: as the scenario has it. ohm/km: of one conductor at %s; mm2 by the largest that\n"
           "IEC 60228 class %d allows.\n",
           a->scenario->units == SLEW_UNITS_US ? "68 °F" : "20 °C",
           a->ladder[1] == SLEW_LADDER_CLASS_2 ? 2 : 5);
}

void cli_feed_changes(const cli_feed *a)
{
    const slew_feed_answer *answer = &a->answer;
    const bool fitted = answer->setup.supply.auxiliary_fitted;
    slew_unit_system units = a->scenario->units;
    const unit length = {cli_measure_unit(units, CLI_MEASURE_LENGTH),
                         1 / cli_measured(units, CLI_MEASURE_LENGTH, 1)};
    cli_table table;
    print_heads(&table, "One thing changed");
    print_levels(&table, a, answer->length, "length", length);
    print_levels(&table, a, answer->joints, "connections", (unit){"mohm", 1e-3});
    print_levels(&table, a, answer->shared, "other load", (unit){"A", 1});
    cli_table_text(&table, NULL, "%c %-22s", fitted ? ' ' : '*', "no auxiliary battery");
    print_row(&table, &answer->auxiliary.without, answer->together);
    cli_table_text(&table, NULL, "%c %-22s", fitted ? '*' : ' ', "auxiliary battery");
    print_row(&table, &answer->auxiliary.with, answer->together);
    printf("*: as the scenario has it.\n");
}
