/* records.c - the answer of `slewtime speed` as JSON and CSV. */
#include "answer.h"

#include <math.h>

#include "single/old_csv.h"
#include "single/old_json.h"
#include "slewtime/slewtime.h"
#include "tell/provenance.h"
#include "tell/units.h"

static const char *occasion_word(slew_occasion occasion)
{
    return occasion == SLEW_OCCASION_DEPLOY ? "deploy_day" : "today";
}

/* ---- CSV ---- */

static void write_point(FILE *stream, const slew_speed_point *p)
{
    fprintf(stream, ",%s", slew_speed_word(p->state));
    cli_csv_number(stream, cli_degrees(p->speed));
    cli_csv_number(stream, p->current);
    cli_csv_number(stream, p->voltage);
}

static void write_rows(FILE *stream, const cli_speed *a, int index, const slew_speed_curve *c)
{
    const slew_speed *s = &a->answer[index];
    const slew_speed_level *level = &s->level[c->level];
    for (int i = 0; i < s->row_count; i++) {
        const slew_speed_row *row = &c->row[i];
        fprintf(stream, "%s,%s,%s,%.9g,%.9g,%.9g", occasion_word(a->question[index].occasion),
                slew_axis_word(c->axis), slew_direction_word(c->axis, c->direction),
                cli_bar(level->pressure), level->reaction, row->supply);
        write_point(stream, &row->slowest);
        write_point(stream, &row->fastest);
        cli_csv_number(stream, row->travel.time);
        fprintf(stream, ",%s", cli_speed_trouble(row));
        cli_provenance_csv(stream, a->scenario, NULL, 0);
        fputc('\n', stream);
    }
}

void cli_speed_csv(FILE *stream, const void *what)
{
    const cli_speed *a = what;
    fputs("occasion,axis,direction,pressure_bar,reaction_N,supply_V,"
          "slowest,slowest_deg_per_s,slowest_current_A,slowest_voltage_V,"
          "fastest,fastest_deg_per_s,fastest_current_A,fastest_voltage_V,"
          "stop_to_stop_s,trouble",
          stream);
    cli_provenance_csv_names(stream, NULL);
    fputc('\n', stream);
    for (int i = 0; i < a->count; i++)
        for (int k = 0; k < a->answer[i].curve_count; k++)
            write_rows(stream, a, i, &a->answer[i].curve[k]);
}

/* ---- JSON ---- */

static json_t *point(const slew_speed_point *p)
{
    return json_pack("{s:s, s:o, s:o, s:o}", "state", slew_speed_word(p->state), "speed_deg_per_s",
                     cli_json_degrees(p->speed), "current_A", cli_json_number(p->current),
                     "voltage_V", cli_json_number(p->voltage));
}

static json_t *row(const slew_speed_row *r)
{
    return json_pack("{s:f, s:o, s:o, s:o, s:o}", "supply_V", r->supply, "slowest",
                     point(&r->slowest), "fastest", point(&r->fastest), "stop_to_stop_s",
                     cli_json_number(r->travel.time), "trouble",
                     cli_json_text(cli_speed_trouble(r)));
}

/* 0: any; null: none in the range */
static json_t *needs(const slew_speed_needs *n)
{
    return json_pack("{s:o, s:o, s:o, s:o, s:o, s:o, s:o}", "runs_V", cli_json_number(n->runs),
                     "starts_V", cli_json_number(n->starts), "arrives_V",
                     cli_json_number(n->arrives), "brownout_V", cli_json_number(n->brownout),
                     "floor_V", cli_json_number(n->floor), "trips_V", cli_json_number(n->trips),
                     "noticed_V", cli_json_number(n->noticed));
}

static json_t *place(const double angle[SLEW_AXES])
{
    return json_pack("{s:f, s:f}", "rotation_deg", cli_degrees(angle[SLEW_ROTATION]),
                     "elevation_deg", cli_degrees(angle[SLEW_ELEVATION]));
}

static json_t *curve(const slew_speed *s, const slew_speed_curve *c)
{
    json_t *rows = json_array();
    for (int i = 0; i < s->row_count; i++)
        json_array_append_new(rows, row(&c->row[i]));
    return json_pack(
        "{s:s, s:s, s:f, s:f, s:o, s:o, s:o, s:o, s:o}", "axis", slew_axis_word(c->axis),
        "direction", slew_direction_word(c->axis, c->direction), "pressure_bar",
        cli_bar(s->level[c->level].pressure), "reaction_N", s->level[c->level].reaction,
        "slowest_at", place(c->place.slowest), "fastest_at", place(c->place.fastest), "needs",
        needs(&c->need), "own", row(&c->own), "rows", rows);
}

static json_t *occasion(const cli_speed *a, int index)
{
    const slew_speed *s = &a->answer[index];
    json_t *curves = json_array();
    char finding[300];
    cli_speed_finding(a, index, finding, sizeof finding);
    for (int i = 0; i < s->curve_count; i++)
        json_array_append_new(curves, curve(s, &s->curve[i]));
    return json_pack(
        "{s:s, s:f, s:f, s:b, s:s, s:o}", "occasion", occasion_word(a->question[index].occasion),
        "temperature_degC", cli_celsius(s->setup.environment.temperature), "supply_V",
        s->setup.supply.main.voltage, "nozzle_known", (int)slew_nozzle_is_known(&s->setup.nozzle),
        "finding", finding, "curves", curves);
}

int cli_speed_json(const void *what)
{
    const cli_speed *a = what;
    json_t *occasions = json_array();
    for (int i = 0; i < a->count; i++)
        json_array_append_new(occasions, occasion(a, i));
    json_t *whole =
        json_pack("{s:s, s:s, s:f, s:o}", "slewtime", slew_version(), "title", a->scenario->title,
                  "tolerance_V", SLEW_SPEED_TOLERANCE, "occasions", occasions);
    cli_provenance_json(whole, a->scenario, NULL, 0);
    return cli_json_print(whole);
}
