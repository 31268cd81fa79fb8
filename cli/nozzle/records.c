/* records.c - the answer of `slewtime nozzle` as JSON and CSV. */
#include "answer.h"

#include <math.h>

#include "single/old_csv.h"
#include "single/old_json.h"
#include "slewtime/slewtime.h"
#include "tell/provenance.h"
#include "tell/units.h"

static const char *kind_word(const slew_nozzle *n)
{
    return n->kind == SLEW_SMOOTH_BORE ? "smooth_bore" : "spray";
}

static const char *pushes_word(int axis, const slew_jet_load *load)
{
    return load->pushes ? slew_direction_word(axis, load->pushes) : "";
}

/* ---- CSV ---- */

static void write_numbers(FILE *stream, const double *values, size_t count)
{
    for (size_t i = 0; i < count; i++)
        cli_csv_number(stream, values[i]);
}

static void write_axis(FILE *stream, int axis, const slew_jet_load *l)
{
    const double values[] = {l->moment, l->load, l->available, l->share, l->whole};
    cli_csv_number(stream, 1000 * l->arm);
    fprintf(stream, ",%s", pushes_word(axis, l));
    write_numbers(stream, values, sizeof values / sizeof *values);
}

static void write_row(FILE *stream, const cli_nozzle *a, const cli_nozzle_row *row)
{
    const slew_nozzle *n = &row->nozzle;
    const slew_jet *j = &row->jet;
    const double tip = n->kind == SLEW_SMOOTH_BORE ? n->tip : NAN;
    const double values[] = {cli_inches(tip),
                             1000 * tip,
                             cli_psi(n->pressure),
                             cli_bar(n->pressure),
                             cli_gpm(j->flow_rule),
                             cli_litres(j->flow_rule),
                             cli_gpm(j->flow),
                             cli_litres(j->flow),
                             cli_lbf(j->rule),
                             j->rule,
                             cli_lbf(j->momentum),
                             j->momentum,
                             j->off};
    fputs(kind_word(n), stream);
    write_numbers(stream, values, sizeof values / sizeof *values);
    for (int axis = 0; axis < SLEW_AXES && a->scenario != NULL; axis++)
        write_axis(stream, axis, &row->load[axis]);
    if (a->scenario != NULL)
        cli_provenance_csv(stream, a->scenario, NULL, 0);
    fputc('\n', stream);
}

void cli_nozzle_csv(FILE *stream, const void *what)
{
    const cli_nozzle *a = what;
    fputs("kind,tip_in,tip_mm,pressure_psi,pressure_bar,rule_gpm,rule_L_per_min,"
          "momentum_gpm,momentum_L_per_min,rule_lbf,rule_N,momentum_lbf,momentum_N,rule_off",
          stream);
    for (int axis = 0; axis < SLEW_AXES && a->scenario != NULL; axis++) {
        const char *w = slew_axis_word(axis);
        fprintf(stream,
                ",%s_arm_mm,%s_pushes,%s_moment_Nm,%s_load_Nm,%s_available_Nm,%s_share,%s_whole", w,
                w, w, w, w, w, w);
    }
    if (a->scenario != NULL)
        cli_provenance_csv_names(stream, NULL);
    fputc('\n', stream);
    for (int i = 0; i < a->count; i++)
        write_row(stream, a, &a->row[i]);
}

/* ---- JSON ---- */

static json_t *flow(double value)
{
    return json_pack("{s:o, s:o}", "gpm", cli_json_number(cli_gpm(value)), "L_per_min",
                     cli_json_number(cli_litres(value)));
}

static json_t *force(double value)
{
    return json_pack("{s:o, s:o}", "lbf", cli_json_number(cli_lbf(value)), "N",
                     cli_json_number(value));
}

static json_t *load_object(int axis, const slew_jet_load *l)
{
    return json_pack("{s:f, s:o, s:o, s:o, s:o, s:o, s:o}", "arm_mm", 1000 * l->arm, "pushes",
                     cli_json_text(pushes_word(axis, l)), "moment_Nm", cli_json_number(l->moment),
                     "load_Nm", cli_json_number(l->load), "available_Nm",
                     cli_json_number(l->available), "share", cli_json_number(l->share), "whole",
                     cli_json_number(l->whole));
}

static json_t *row_object(const cli_nozzle *a, const cli_nozzle_row *row)
{
    const slew_nozzle *n = &row->nozzle;
    const slew_jet *j = &row->jet;
    const double tip = n->kind == SLEW_SMOOTH_BORE ? n->tip : NAN;
    json_t *object = json_pack(
        "{s:s, s:o, s:o, s:f, s:f, s:{s:o, s:o}, s:{s:o, s:o, s:o}}", "kind", kind_word(n),
        "tip_in", cli_json_number(cli_inches(tip)), "tip_mm", cli_json_number(1000 * tip),
        "pressure_psi", cli_psi(n->pressure), "pressure_bar", cli_bar(n->pressure), "flow", "rule",
        flow(j->flow_rule), "momentum", flow(j->flow), "reaction", "rule", force(j->rule),
        "momentum", force(j->momentum), "rule_off", cli_json_number(j->off));
    for (int axis = 0; axis < SLEW_AXES && a->scenario != NULL; axis++)
        json_object_set_new(object, slew_axis_word(axis), load_object(axis, &row->load[axis]));
    return object;
}

int cli_nozzle_json(const void *what)
{
    const cli_nozzle *a = what;
    char finding[300];
    json_t *rows = json_array();
    for (int i = 0; i < a->count; i++)
        json_array_append_new(rows, row_object(a, &a->row[i]));
    cli_nozzle_finding(a, finding, sizeof finding);
    json_t *whole =
        json_pack("{s:s, s:o, s:f, s:s, s:s, s:o}", "slewtime", slew_version(), "title",
                  cli_json_text(a->scenario != NULL ? a->scenario->title : NULL), "coefficient",
                  a->setup.nozzle.coefficient, "reaction",
                  a->setup.nozzle.reaction == SLEW_REACTION_TRADE ? "trade" : "momentum", "finding",
                  finding, "nozzles", rows);
    if (a->scenario != NULL)
        cli_provenance_json(whole, a->scenario, NULL, 0);
    return cli_json_print(whole);
}
