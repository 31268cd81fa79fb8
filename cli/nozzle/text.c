/* text.c - the answer of `slewtime nozzle` as text. */
#include "answer.h"

#include <math.h>

#include "slewtime/physics.h"
#include "slewtime/run.h"
#include "tell/provenance.h"
#include "tell/units.h"

/* ---- names ---- */

void cli_nozzle_name(const slew_nozzle *n, char text[CLI_NOZZLE_NAME_MAX])
{
    if (n->kind == SLEW_SMOOTH_BORE)
        snprintf(text, CLI_NOZZLE_NAME_MAX, "%.4g in at %.4g psi", cli_inches(n->tip),
                 cli_psi(n->pressure));
    else
        snprintf(text, CLI_NOZZLE_NAME_MAX, "%.4g gpm at %.4g psi", cli_gpm(n->flow),
                 cli_psi(n->pressure));
}

/* ---- the finding ---- */

static double reaction_of(const cli_nozzle *a, const cli_nozzle_row *row)
{
    return a->setup.nozzle.reaction == SLEW_REACTION_TRADE ? row->jet.rule : row->jet.momentum;
}

static int harder_axis(const cli_nozzle_row *row)
{
    return row->load[SLEW_ROTATION].share > row->load[SLEW_ELEVATION].share ? SLEW_ROTATION
                                                                            : SLEW_ELEVATION;
}

static const cli_nozzle_row *strongest(const cli_nozzle *a)
{
    const cli_nozzle_row *most = &a->row[0];
    for (int i = 1; i < a->count; i++)
        if (reaction_of(a, &a->row[i]) > reaction_of(a, most))
            most = &a->row[i];
    return most;
}

void cli_nozzle_finding(const cli_nozzle *a, char *text, size_t size)
{
    const cli_nozzle_row *row = strongest(a);
    char name[CLI_NOZZLE_NAME_MAX];
    double force = reaction_of(a, row);
    cli_nozzle_name(&row->nozzle, name);
    int length = snprintf(text, size, "%s%s: %.0f lbf (%.0f N)", a->count > 1 ? "Strongest, " : "",
                          name, cli_lbf(force), force);
    if (a->scenario == NULL || length < 0 || (size_t)length >= size)
        return;
    int axis = harder_axis(row);
    const slew_jet_load *load = &row->load[axis];
    if (isinf(load->share))
        snprintf(text + length, size - (size_t)length, ", and %s starts against nothing",
                 slew_axis_word(axis));
    else
        snprintf(text + length, size - (size_t)length,
                 ", %.0f %% of what %s starts against, %.0f %% with its load",
                 cli_percent(load->share), slew_axis_word(axis), cli_percent(load->whole));
}

/* ---- tables ---- */

static int count_of(const cli_nozzle *a, slew_nozzle_kind kind)
{
    int count = 0;
    for (int i = 0; i < a->count; i++)
        count += a->row[i].nozzle.kind == kind;
    return count;
}

static void print_reactions(const cli_nozzle_row *row)
{
    printf(" %8.1f %8.0f %8.1f %8.0f", cli_lbf(row->jet.rule), row->jet.rule,
           cli_lbf(row->jet.momentum), row->jet.momentum);
    if (isnan(row->jet.off))
        printf("        -\n");
    else
        printf(" %+8.2f\n", cli_percent(row->jet.off));
}

static void print_bores(const cli_nozzle *a)
{
    if (count_of(a, SLEW_SMOOTH_BORE) == 0)
        return;
    printf("\nSmooth bore, discharge coefficient %.4g\n\n", a->setup.nozzle.coefficient);
    printf("      tip         pressure        flow, rule    flow, momentum    reaction, rule"
           "      momentum       rule\n");
    printf("    in     mm    psi    bar     gpm   L/min     gpm   L/min      lbf        N"
           "      lbf        N   off, %%\n");
    for (int i = 0; i < a->count; i++) {
        const slew_nozzle *n = &a->row[i].nozzle;
        const slew_jet *jet = &a->row[i].jet;
        if (n->kind != SLEW_SMOOTH_BORE)
            continue;
        printf("%6.3f %6.2f %6.1f %6.2f %7.1f %7.0f %7.1f %7.0f", cli_inches(n->tip), 1000 * n->tip,
               cli_psi(n->pressure), cli_bar(n->pressure), cli_gpm(jet->flow_rule),
               cli_litres(jet->flow_rule), cli_gpm(jet->flow), cli_litres(jet->flow));
        print_reactions(&a->row[i]);
    }
}

static void print_sprays(const cli_nozzle *a)
{
    if (count_of(a, SLEW_SPRAY) == 0)
        return;
    printf("\nSpray, velocity coefficient %.4g\n\n", a->setup.nozzle.coefficient);
    printf("      flow          pressure     reaction, rule      momentum       rule\n");
    printf("    gpm   L/min     psi    bar      lbf        N      lbf        N   off, %%\n");
    for (int i = 0; i < a->count; i++) {
        const slew_nozzle *n = &a->row[i].nozzle;
        if (n->kind != SLEW_SPRAY)
            continue;
        printf("%7.1f %7.0f %7.1f %6.2f", cli_gpm(n->flow), cli_litres(n->flow),
               cli_psi(n->pressure), cli_bar(n->pressure));
        print_reactions(&a->row[i]);
    }
}

static void print_share(double share)
{
    if (isinf(share))
        printf(" %8s", "-");
    else
        printf(" %8.1f", cli_percent(share));
}

static void print_axis(const cli_nozzle *a, const cli_nozzle_row *row, int axis)
{
    const slew_jet_load *load = &row->load[axis];
    char name[CLI_NOZZLE_NAME_MAX];
    cli_nozzle_name(&row->nozzle, name);
    printf("%-24s %8.0f  %-9s %7.1f  %-6s %8.1f %8.1f %8.1f", axis ? "" : name, reaction_of(a, row),
           slew_axis_word(axis), 1000 * load->arm,
           load->pushes ? slew_direction_word(axis, load->pushes) : "-", load->moment, load->load,
           load->available);
    print_share(load->share);
    print_share(load->whole);
    printf("\n");
}

static void print_axes(const cli_nozzle *a)
{
    if (a->scenario == NULL)
        return;
    bool trade = a->setup.nozzle.reaction == SLEW_REACTION_TRADE;
    printf("\nAt the axes, with %.4g V and %.1f degC, by the %s (nozzle.reaction)\n\n",
           a->setup.supply.main.voltage, cli_celsius(a->setup.environment.temperature),
           trade ? "rule" : "momentum");
    printf("%24s reaction  axis          arm  pushes   moment     load   starts    share    share"
           "\n",
           "");
    printf("%24s        N                 mm              N m      N m  against  of that   of all,"
           "\n",
           "");
    printf("%24s                                                            N m        %%        %%"
           "\n",
           "");
    for (int i = 0; i < a->count; i++)
        for (int axis = 0; axis < SLEW_AXES; axis++)
            print_axis(a, &a->row[i], axis);
    printf(
        "\n"
        "  moment   of the reaction alone, where it is largest between the stops\n"
        "  load     of weight, water and reaction, against motion the same way, where it is\n"
        "           largest; the motor starts against so much, friction and breakaway overcome\n"
        "  share    of the moment, and of all of the load; above 100 %% it does not start there\n");
}

static void print_asked(const cli_nozzle *a)
{
    char origin[CLI_PROVENANCE_MAX];
    if (a->scenario == NULL) {
        printf("Reaction and flow of nozzles\n");
        return;
    }
    cli_provenance_words(a->scenario, NULL, 0, origin);
    printf("%s\n  asked       %s\n  conditions  %s\n", a->scenario->title, origin,
           a->occasion == SLEW_OCCASION_DEPLOY ? "on deploy day" : "today");
}

void cli_nozzle_print(const void *what)
{
    const cli_nozzle *a = what;
    char finding[300];
    print_asked(a);
    print_bores(a);
    print_sprays(a);
    print_axes(a);
    cli_nozzle_finding(a, finding, sizeof finding);
    printf("\n%s.\n", finding);
    printf("Rules, in lbf, in, psi, gpm: 1.57 d^2 P, 29.7 d^2 sqrt(P), 0.0505 Q sqrt(P). The last\n"
           "stands for a velocity coefficient of 0.96; used on a smooth bore it is 4.5 %% short.\n"
           "The pull at a hose coupling is another, larger force than this.\n"
           "It pushes on whatever holds the nozzle, people too: it can throw them down.\n");
    if (a->scenario != NULL)
        printf("Simulated: it does not replace a test on the truck.\n");
}
