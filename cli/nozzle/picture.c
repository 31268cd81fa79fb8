/* picture.c - the picture of `slewtime nozzle`: reaction against pressure in both forms. */
#include "answer.h"

#include <math.h>

#include "draw/plot.h"
#include "line/exit_code.h"
#include "slewtime/slewtime.h"
#include "tell/provenance.h"
#include "tell/units.h"

enum { CURVE_POINTS = 61 };

static const double shown_beyond = 1.2; /* of the highest pressure */

static bool is_new(const cli_nozzle *a, int index)
{
    const slew_nozzle *n = &a->row[index].nozzle;
    for (int i = 0; i < index; i++) {
        const slew_nozzle *o = &a->row[i].nozzle;
        if (o->kind == n->kind && o->tip == n->tip && o->flow == n->flow)
            return false;
    }
    return true;
}

static double highest_pressure(const cli_nozzle *a)
{
    double highest = 0;
    for (int i = 0; i < a->count; i++)
        highest = fmax(highest, a->row[i].nozzle.pressure);
    return highest;
}

static void write_point(FILE *stream, int panel, int curve, const slew_nozzle *n)
{
    slew_jet jet = slew_jet_of(n);
    fprintf(stream, "%d,%d,%.9g,%.9g,%.9g\n", panel, curve, cli_psi(n->pressure), cli_lbf(jet.rule),
            cli_lbf(jet.momentum));
}

/* one curve for each tip or flow, from no pressure on */
static void write_curves(FILE *curves, FILE *names, const cli_nozzle *a)
{
    double highest = shown_beyond * highest_pressure(a);
    int curve = 0;
    fputs("panel,curve,pressure_psi,rule_lbf,momentum_lbf\n", curves);
    fputs("panel,curve,pressure_psi,reaction_lbf,text\n", names);
    for (int i = 0; i < a->count; i++) {
        if (!is_new(a, i))
            continue;
        slew_nozzle n = a->row[i].nozzle;
        int panel = n.kind == SLEW_SPRAY;
        for (int k = 0; k < CURVE_POINTS; k++) { /* denser at the foot of a root */
            double share = (double)k / (CURVE_POINTS - 1);
            n.pressure = highest * share * share;
            write_point(curves, panel, curve, &n);
        }
        fprintf(names, "%d,%d,%.9g,%.9g,%.4g %s\n", panel, curve, cli_psi(highest),
                cli_lbf(slew_jet_of(&n).momentum), panel ? cli_gpm(n.flow) : cli_inches(n.tip),
                panel ? "gpm" : "in");
        fputc('\n', curves);
        curve++;
    }
}

static void write_marks(FILE *stream, const cli_nozzle *a)
{
    fputs("panel,curve,pressure_psi,rule_lbf,momentum_lbf\n", stream);
    for (int i = 0; i < a->count; i++)
        write_point(stream, a->row[i].nozzle.kind == SLEW_SPRAY, i, &a->row[i].nozzle);
}

static void set_headings(cli_plot *plot, const cli_nozzle *a)
{
    char text[SLEW_TITLE_MAX], origin[CLI_PROVENANCE_MAX];
    cli_nozzle_finding(a, text, sizeof text);
    cli_plot_set_text(plot, "heading_1", text);
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

static bool has(const cli_nozzle *a, slew_nozzle_kind kind)
{
    for (int i = 0; i < a->count; i++)
        if (a->row[i].nozzle.kind == kind)
            return true;
    return false;
}

static int write_data(cli_plot *plot, const cli_nozzle *a)
{
    FILE *curves = cli_plot_data(plot, "curves.csv");
    FILE *names = curves != NULL ? cli_plot_data(plot, "names.csv") : NULL;
    FILE *marks = names != NULL ? cli_plot_data(plot, "marks.csv") : NULL;
    if (marks == NULL)
        return CLI_OUTSIDE;
    write_curves(curves, names, a);
    write_marks(marks, a);
    return CLI_OK;
}

int cli_nozzle_draw(const char *path, const void *what)
{
    const cli_nozzle *a = what;
    cli_plot plot;
    int code = cli_plot_open(&plot);
    if (code != CLI_OK)
        return code;
    set_headings(&plot, a);
    cli_plot_set(&plot, "has_bore=%d", has(a, SLEW_SMOOTH_BORE));
    cli_plot_set(&plot, "has_spray=%d", has(a, SLEW_SPRAY));
    cli_plot_set(&plot, "x_high=%.9g", cli_psi(shown_beyond * highest_pressure(a)));
    return cli_plot_close(&plot, write_data(&plot, a), "nozzle.gp", path);
}
