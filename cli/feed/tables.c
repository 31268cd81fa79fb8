/* tables.c - cold and hot, conductors and other changes as tables; see tables.h. */
#include "tables.h"

#include "slewtime/slewtime.h"
#include "tell/units.h"

/* ---- cold and hot ---- */

static const slew_feed_weather columns[] = {SLEW_FEED_COLD, SLEW_FEED_AS_IT_IS, SLEW_FEED_HOT};
enum { COLUMNS = sizeof columns / sizeof *columns };

static void print_voltages(const cli_feed *a, const char *name,
                           double (*lowest)(const slew_feed_figures *figures, bool together))
{
    printf("  %-30s", name);
    for (int i = 0; i < COLUMNS; i++) {
        const slew_feed_trial *t = &a->answer->climate[columns[i]].own;
        if (t->status == SLEW_OK)
            printf(" %11.2f", lowest(&t->figures, a->answer->together));
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
        const slew_feed_climate *c = &a->answer->climate[columns[i]];
        const slew_feed_need *need = which < 0 ? &c->floor : &c->drop[which];
        char size[40] = "none";
        if (need->thinnest[ladder] >= 0)
            cli_feed_size(a, ladder, need->thinnest[ladder], size);
        printf(" %11s", size);
    }
    printf("\n");
}

void cli_feed_climates(const cli_feed *a)
{
    char name[40];
    printf("\n  %-30s", "Copper, motor, grease: degC");
    for (int i = 0; i < COLUMNS; i++)
        printf(" %11.1f", cli_celsius(a->answer->climate[columns[i]].temperature));
    printf("\n");
    print_voltages(a, "lowest while running, V", slew_feed_lowest_running);
    print_voltages(a, "lowest starting or stalled, V", slew_feed_lowest_standing);
    for (int which = -1; which < a->question.drop_count; which++) {
        if (which < 0)
            snprintf(name, sizeof name, "thinnest that keeps %.4g V",
                     a->answer->setup.supply.floor);
        else
            snprintf(name, sizeof name, "thinnest with a drop of %.4g %%",
                     100 * a->question.drop[which]);
        print_thinnest(a, name, which, SLEW_LADDER_AWG);
        print_thinnest(a, "", which, a->metric);
    }
}

/* ---- conductors, and other changes ---- */

static void print_trial(const slew_feed_trial *t, const cli_feed *a)
{
    const slew_feed_figures *f = &t->figures;
    if (t->status != SLEW_OK) {
        printf("   the drives have no voltage at rest\n");
        return;
    }
    printf("%8.1f %7.2f", cli_milliohms(f->conductors + f->joints), f->idle.voltage);
    for (int d = 0; d < SLEW_FEED_DRIVES; d++)
        if (f->moves[d])
            printf(" %9.2f", f->running[d].voltage);
        else
            printf(" %9s", "stalls");
    printf(" %9.2f   %s\n", slew_feed_lowest_standing(f, a->answer->together),
           t->keeps ? "yes" : "no");
}

static void print_trial_heads(const char *what)
{
    printf("\n%-22s   feed    idle   running:                    starting  keeps the\n"
           "%-22s   mohm       V  rotation elevation      both    lowest  floor\n",
           what, "");
}

static void print_ladder(const cli_feed *a, slew_ladder ladder)
{
    const slew_feed *feed = &a->answer->setup.supply.feed;
    for (int i = 0; i < slew_ladder_count(ladder); i++) {
        char size[40];
        cli_feed_size(a, ladder, i, size);
        printf("  %-9s%9.4g  ", size, 1000 * slew_ladder_resistance(ladder, i, feed->stranding));
        print_trial(&a->answer->ladder[ladder][i], a);
    }
}

static void print_levels(const cli_feed *a, const slew_feed_level *level, const char *name,
                         double unit, const char *unit_name)
{
    for (int i = 0; i < SLEW_FEED_LEVELS; i++) {
        printf("%c %-11s%6.4g %-4s", level[i].own ? '*' : ' ', i == 0 ? name : "",
               level[i].value / unit, unit_name);
        print_trial(&level[i].trial, a);
    }
}

void cli_feed_tables(const cli_feed *a)
{
    const slew_feed_answer *answer = a->answer;
    print_trial_heads("Conductor     ohm/km");
    print_ladder(a, SLEW_LADDER_AWG);
    print_ladder(a, a->metric);
    printf(
        "ohm/km: of one conductor at 20 degC; mm2 by the largest that IEC 60228 class %d allows.\n",
        a->metric == SLEW_LADDER_CLASS_2 ? 2 : 5);
    print_trial_heads("One thing changed");
    print_levels(a, answer->length, "length", 1, "m");
    print_levels(a, answer->joints, "all joints", 1e-3, "mohm");
    print_levels(a, answer->shared, "other load", 1, "A");
    printf("%c %-22s", answer->setup.supply.auxiliary_fitted ? ' ' : '*', "no auxiliary battery");
    print_trial(&answer->auxiliary.without, a);
    printf("%c %-22s", answer->setup.supply.auxiliary_fitted ? '*' : ' ', "auxiliary battery");
    print_trial(&answer->auxiliary.with, a);
    printf("*: as the scenario has it.\n");
}
