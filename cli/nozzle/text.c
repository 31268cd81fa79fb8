/* text.c - the answer of `slewtime nozzle` as text. */
#include <math.h>

#include "answer.h"
#include "slewtime/run.h"
#include "tell/append.h"
#include "tell/provenance.h"
#include "tell/table.h"
#include "tell/units.h"
#include "tell/utf8.h"

enum { NAME_MAX = 64 };

/* ---- names ---- */

/* "1.75 in at 80 psi", "1000 gpm at 100 psi" */
static void name_of(const cli_nozzle *a, const slew_nozzle *n, char text[NAME_MAX])
{
    bool is_bore = n->kind == SLEW_SMOOTH_BORE;
    cli_measure measure = is_bore ? CLI_MEASURE_SMALL_LENGTH : CLI_MEASURE_FLOW;
    snprintf(text, NAME_MAX, "%.4g %s at %.4g %s",
             cli_measured(a->units, measure, is_bore ? n->tip : n->flow),
             cli_measure_unit(a->units, measure),
             cli_measured(a->units, CLI_MEASURE_PRESSURE, n->pressure),
             cli_measure_unit(a->units, CLI_MEASURE_PRESSURE));
}

/* ---- the finding ---- */

/* in the scenario's form [N] */
static double reaction_of(const cli_nozzle_row *row)
{
    return slew_plant_nozzle_reaction(&row->asked.nozzle);
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
        if (reaction_of(&a->row[i]) > reaction_of(most))
            most = &a->row[i];
    return most;
}

void cli_nozzle_finding(const cli_nozzle *a, char *text, size_t size)
{
    const cli_nozzle_row *row = strongest(a);
    char name[NAME_MAX];
    double force = reaction_of(row);
    name_of(a, &row->asked.nozzle, name);
    snprintf(text, size, "%s%s: %.0f %s", a->count > 1 ? "Strongest, " : "", name,
             cli_measured(a->units, CLI_MEASURE_FORCE, force),
             cli_measure_unit(a->units, CLI_MEASURE_FORCE));
    if (a->scenario == NULL)
        return;
    int axis = harder_axis(row);
    const slew_jet_load *load = &row->load[axis];
    if (isinf(load->share))
        cli_append(text, size, ", and %s has no starting torque", slew_axis_word(axis));
    else
        cli_append(text, size, ", %.0f %% of the starting torque of %s, %.0f %% with its weight",
                   cli_percent(load->share), slew_axis_word(axis), cli_percent(load->whole));
}

/* ---- tables ---- */

bool cli_nozzle_has(const cli_nozzle *a, slew_nozzle_kind kind)
{
    for (int i = 0; i < a->count; i++)
        if (a->row[i].asked.nozzle.kind == kind)
            return true;
    return false;
}

static void print_reactions(cli_table *t, const slew_jet *jet)
{
    cli_table_cell(t, "    reaction, rule\nlbf", " %8.1f", cli_lbf(jet->rule));
    cli_table_cell(t, "\nN", " %8.0f", jet->rule);
    cli_table_cell(t, "      momentum\nlbf", " %8.1f", cli_lbf(jet->momentum));
    cli_table_cell(t, "\nN", " %8.0f", jet->momentum);
    if (isnan(jet->off))
        cli_table_cell(t, "       rule   \noff, %", " %8s", "-");
    else
        cli_table_cell(t, "       rule   \noff, %", " %+8.2f", cli_percent(jet->off));
    cli_table_end_row(t);
}

static void print_bore(cli_table *t, const slew_nozzle *n, const slew_jet *jet)
{
    cli_table_cell(t, "      tip\nin", "%6.3f", cli_inches(n->tip));
    cli_table_cell(t, "\nmm", " %6.2f", 1000 * n->tip);
    cli_table_cell(t, "         pressure\npsi", " %6.1f", cli_psi(n->pressure));
    cli_table_cell(t, "\nbar", " %6.2f", cli_bar(n->pressure));
    cli_table_cell(t, "        flow, rule\ngpm", " %7.1f", cli_gpm(jet->flow_rule));
    cli_table_cell(t, "\nL/min", " %7.0f", cli_litres(jet->flow_rule));
    cli_table_cell(t, "    flow, momentum\ngpm", " %7.1f", cli_gpm(jet->flow));
    cli_table_cell(t, "\nL/min", " %7.0f", cli_litres(jet->flow));
    print_reactions(t, jet);
}

static void print_spray(cli_table *t, const slew_nozzle *n, const slew_jet *jet)
{
    cli_table_cell(t, "      flow\ngpm", "%7.1f", cli_gpm(n->flow));
    cli_table_cell(t, "\nL/min", " %7.0f", cli_litres(n->flow));
    cli_table_cell(t, "          pressure \npsi", " %7.1f", cli_psi(n->pressure));
    cli_table_cell(t, "\nbar", " %6.2f", cli_bar(n->pressure));
    print_reactions(t, jet);
}

typedef void print_row(cli_table *t, const slew_nozzle *n, const slew_jet *jet);

static void print_nozzles(const cli_nozzle *a, slew_nozzle_kind kind, const char *title,
                          print_row *print)
{
    cli_table table = {.heads = 2};
    if (!cli_nozzle_has(a, kind))
        return;
    printf("\n%s coefficient %.4g\n\n", title, a->setup.nozzle.coefficient);
    for (int i = 0; i < a->count; i++)
        if (a->row[i].asked.nozzle.kind == kind)
            print(&table, &a->row[i].asked.nozzle, &a->row[i].asked.jet);
}

static void add_measure(cli_table *t, slew_unit_system units, const char *head, cli_measure measure,
                        double si)
{
    char heads[40];
    int decimals = measure == CLI_MEASURE_FORCE ? 0 : measure == CLI_MEASURE_TORQUE ? 1 : 2;
    snprintf(heads, sizeof heads, "%s\n%s", head, cli_measure_unit(units, measure));
    cli_table_cell(t, heads, " %8.*f", decimals, cli_measured(units, measure, si));
}

static void print_axis(cli_table *t, const cli_nozzle *a, const cli_nozzle_row *row, int axis)
{
    slew_unit_system units = a->scenario->units;
    const slew_jet_load *load = &row->load[axis];
    char name[NAME_MAX] = "";
    if (axis == 0)
        name_of(a, &row->asked.nozzle, name);
    cli_table_text(t, NULL, "%-24s", name);
    add_measure(t, units, "reaction", CLI_MEASURE_FORCE, reaction_of(row));
    cli_table_text(t, "  axis", "  %-9s", slew_axis_word(axis));
    add_measure(t, units, "arm", CLI_MEASURE_SMALL_LENGTH, load->arm);
    cli_table_text(t, "  pushes", "  %-6s",
                   load->pushes ? slew_direction_word(axis, load->pushes) : "-");
    add_measure(t, units, "moment", CLI_MEASURE_TORQUE, load->moment);
    add_measure(t, units, "load", CLI_MEASURE_TORQUE, load->load);
    add_measure(t, units, "starting\ntorque", CLI_MEASURE_TORQUE, load->available);
    cli_table_number(t, "moment\nof that\n%", 8, 1, cli_percent(load->share));
    cli_table_number(t, "load\nof that\n%", 8, 1, cli_percent(load->whole));
    cli_table_end_row(t);
}

static void print_axes(const cli_nozzle *a)
{
    if (a->scenario == NULL)
        return;
    cli_table table = {.heads = 3};
    char temperature[CLI_MEASURE_MAX];
    bool trade = a->setup.nozzle.reaction == SLEW_REACTION_TRADE;
    cli_measure_words(a->scenario->units, CLI_MEASURE_TEMPERATURE, 0,
                      a->setup.environment.temperature, temperature);
    printf("\nAt the axes, at %.4g V and %s, by the %s\n\n", a->setup.supply.main.voltage,
           temperature, trade ? "rule" : "momentum");
    for (int i = 0; i < a->count; i++)
        for (int axis = 0; axis < SLEW_AXES; axis++)
            print_axis(&table, a, &a->row[i], axis);
    printf(
        "\n"
        "  moment           of the reaction alone, where it is largest between the hard stops\n"
        "  load             of weight, water and reaction, where it is largest\n"
        "  starting torque  of the motor at the output, friction and breakaway taken off; above\n"
        "                   100 %% of it the axis does not start there\n");
}

static void print_asked(const cli_nozzle *a)
{
    if (a->scenario != NULL)
        printf("\n%s\n  conditions  %s\n", a->scenario->title,
               a->occasion == SLEW_OCCASION_DEPLOY ? "on deploy day" : "today");
}

void cli_nozzle_text(const void *what)
{
    const cli_nozzle *a = what;
    char origin[CLI_PROVENANCE_MAX], finding[sizeof a->finding + 1];
    snprintf(finding, sizeof finding, "%s.", a->finding);
    cli_print_wrapped(finding, CLI_ANSWER_LETTERS);
    printf("It pushes on whatever holds the nozzle, people too: it can throw them down.\n");
    print_asked(a);
    print_nozzles(a, SLEW_SMOOTH_BORE, "Straight stream, smooth bore: discharge", print_bore);
    print_nozzles(a, SLEW_SPRAY, "Fog: velocity", print_spray);
    print_axes(a);
    printf(
        "\nRules, in lbf, in, psi, gpm: 1.57 d^2 P, 29.7 d^2 sqrt(P), 0.0505 Q sqrt(P). The last\n"
        "stands for a velocity coefficient of 0.96; used on a smooth bore it is 4.5 %% short.\n"
        "The pull at a hose coupling is another, larger force than this.\n");
    if (a->scenario == NULL)
        return;
    cli_provenance_words(a->scenario, NULL, 0, origin);
    printf("Simulated: it does not replace a test on the truck.\n(%s)\n", origin);
}
