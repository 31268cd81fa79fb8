/* records.c - the figures of `slewtime nozzle`: for JSON, CSV and the picture. */
#include <math.h>

#include "answer.h"
#include "slewtime/slewtime.h"
#include "tell/csv.h"
#include "tell/provenance.h"
#include "tell/units.h"

/* ---- one jet ---- */

static void tell_flow(cli_teller *t, const char *name, double flow)
{
    cli_tell_open(t, name);
    cli_tell_number(t, "gpm", cli_gpm(flow));
    cli_tell_number(t, "L_per_min", cli_litres(flow));
    cli_tell_close(t);
}

static void tell_force(cli_teller *t, const char *name, double force)
{
    cli_tell_open(t, name);
    cli_tell_number(t, "lbf", cli_lbf(force));
    cli_tell_number(t, "N", force);
    cli_tell_close(t);
}

void cli_nozzle_tell_jet(cli_teller *t, const void *point)
{
    const slew_jet_point *p = point;
    bool bore = p->nozzle.kind == SLEW_SMOOTH_BORE;
    double tip = bore ? p->nozzle.tip : NAN;
    cli_tell_text(t, "kind", bore ? "smooth_bore" : "spray");
    cli_tell_number(t, "tip_in", cli_inches(tip));
    cli_tell_number(t, "tip_mm", 1000 * tip);
    cli_tell_number(t, "pressure_psi", cli_psi(p->nozzle.pressure));
    cli_tell_number(t, "pressure_bar", cli_bar(p->nozzle.pressure));
    cli_tell_open(t, "flow");
    tell_flow(t, "rule", p->jet.flow_rule);
    tell_flow(t, "momentum", p->jet.flow);
    cli_tell_close(t);
    cli_tell_open(t, "reaction");
    tell_force(t, "rule", p->jet.rule);
    tell_force(t, "momentum", p->jet.momentum);
    cli_tell_number(t, "rule_off", p->jet.off);
    cli_tell_close(t);
}

/* ---- one row, with what it asks of the axes ---- */

static void tell_load(cli_teller *t, int axis, const slew_jet_load *l)
{
    cli_tell_open(t, slew_axis_word(axis));
    cli_tell_number(t, "arm_mm", 1000 * l->arm);
    cli_tell_text(t, "pushes", l->pushes ? slew_direction_word(axis, l->pushes) : NULL);
    cli_tell_number(t, "moment_Nm", l->moment);
    cli_tell_number(t, "load_Nm", l->load);
    cli_tell_number(t, "available_Nm", l->available);
    cli_tell_number(t, "share", l->share);
    cli_tell_number(t, "whole", l->whole);
    cli_tell_close(t);
}

typedef struct row {
    const cli_nozzle *answer;
    int index;
} row;

static void tell_row(cli_teller *t, const void *what)
{
    const row *r = what;
    const cli_nozzle_row *own = &r->answer->row[r->index];
    cli_nozzle_tell_jet(t, &own->asked);
    for (int axis = 0; axis < SLEW_AXES && r->answer->scenario != NULL; axis++)
        tell_load(t, axis, &own->load[axis]);
    if (!t->in_full && r->answer->scenario != NULL)
        cli_tell_provenance(t, r->answer->scenario, NULL, 0);
}

void cli_nozzle_table(FILE *stream, const void *what)
{
    const cli_nozzle *a = what;
    for (int i = 0; i < a->count; i++)
        cli_csv_row(stream, i == 0, tell_row, &(row){a, i});
}

/* ---- the document ---- */

void cli_nozzle_document(cli_teller *t, const void *what)
{
    const cli_nozzle *a = what;
    bool trade = a->setup.nozzle.reaction == SLEW_REACTION_TRADE;
    cli_tell_text(t, "slewtime", slew_version());
    cli_tell_text(t, "title", a->scenario != NULL ? a->scenario->title : NULL);
    cli_tell_number(t, "coefficient", a->setup.nozzle.coefficient);
    cli_tell_text(t, "reaction", trade ? "trade" : "momentum");
    cli_tell_text(t, "finding", a->finding);
    cli_tell_open_list(t, "nozzles");
    for (int i = 0; i < a->count; i++)
        cli_tell_record(t, NULL, tell_row, &(row){a, i});
    cli_tell_close(t);
    if (a->scenario != NULL)
        cli_tell_provenance(t, a->scenario, NULL, 0);
}
