/* picture.c - what plots/nozzle.gp draws of `slewtime nozzle`: reaction against pressure. */
#include <math.h>

#include "answer.h"
#include "slewtime/physics.h"
#include "tell/csv.h"
#include "tell/provenance.h"
#include "tell/units.h"

static const double shown_beyond = 1.2; /* of the highest pressure */

static bool is_new(const cli_nozzle *a, int index)
{
    const slew_nozzle *n = &a->row[index].asked.nozzle;
    for (int i = 0; i < index; i++) {
        const slew_nozzle *o = &a->row[i].asked.nozzle;
        if (o->kind == n->kind && o->tip == n->tip && o->flow == n->flow)
            return false;
    }
    return true;
}

static double highest_shown(const cli_nozzle *a)
{
    double highest = 0;
    for (int i = 0; i < a->count; i++)
        highest = fmax(highest, a->row[i].asked.nozzle.pressure);
    return shown_beyond * highest;
}

/* one curve for each tip or flow, an empty line behind it */
static void write_curves(FILE *stream, const void *what)
{
    const cli_nozzle *a = what;
    slew_jet_point point[SLEW_JET_POINTS];
    for (int i = 0; i < a->count; i++) {
        if (!is_new(a, i))
            continue;
        slew_jet_curve(&a->row[i].asked.nozzle, highest_shown(a), point);
        for (int k = 0; k < SLEW_JET_POINTS; k++)
            cli_csv_row(stream, i + k == 0, cli_nozzle_tell_jet, &point[k]);
        fputc('\n', stream);
    }
}

static void set_headings(cli_plot *plot, const cli_nozzle *a)
{
    char text[SLEW_TITLE_MAX], origin[CLI_PROVENANCE_MAX];
    cli_plot_set_text(plot, "heading_1", a->finding);
    if (a->scenario != NULL) {
        cli_plot_set_text(plot, "heading_2", a->scenario->title);
        cli_provenance_words(a->scenario, NULL, 0, origin);
        cli_plot_set_text(plot, "origin", origin);
        return;
    }
    snprintf(text, sizeof text, "Force on whatever holds the nozzle, people too; coefficient %.4g",
             a->setup.nozzle.coefficient);
    cli_plot_set_text(plot, "heading_2", text);
}

/* the unit that is shown, and how many of them are in one of the tables' [SI] */
static void set_unit(cli_plot *plot, const cli_nozzle *a, const char *name, cli_measure measure,
                     double of_table)
{
    char variable[24];
    snprintf(variable, sizeof variable, "%s_unit", name);
    cli_plot_set_text(plot, variable, cli_measure_unit(a->units, measure));
    cli_plot_set(plot, "%s_size=%.12g", name, cli_measured(a->units, measure, of_table));
}

bool cli_nozzle_fill(cli_plot *plot, const void *what)
{
    const cli_nozzle *a = what;
    set_headings(plot, a);
    cli_plot_set(plot, "has_bore=%d", cli_nozzle_has(a, SLEW_SMOOTH_BORE));
    cli_plot_set(plot, "has_spray=%d", cli_nozzle_has(a, SLEW_SPRAY));
    cli_plot_set(plot, "x_high=%.9g", cli_psi(highest_shown(a)));
    set_unit(plot, a, "pressure", CLI_MEASURE_PRESSURE, SLEW_PSI);
    set_unit(plot, a, "force", CLI_MEASURE_FORCE, SLEW_POUND_FORCE);
    set_unit(plot, a, "flow", CLI_MEASURE_FLOW, SLEW_US_GALLON / 60);
    set_unit(plot, a, "tip", CLI_MEASURE_SMALL_LENGTH, SLEW_INCH);
    return cli_plot_table(plot, "curves.csv", write_curves, a) &&
           cli_plot_table(plot, "nozzle.csv", cli_nozzle_table, a);
}
