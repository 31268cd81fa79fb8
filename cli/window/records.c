/* records.c - the answer of `slewtime window` as JSON and CSV. */
#include "answer.h"

#include <math.h>

#include "single/old_json.h"
#include "slewtime/slewtime.h"
#include "tell/provenance.h"
#include "tell/units.h"

/* ---- CSV ---- */

static void write_degrees(FILE *stream, double radians)
{
    if (isfinite(radians))
        fprintf(stream, ",%.9f", cli_degrees(radians));
    else
        fputc(',', stream);
}

static void write_row(FILE *stream, const cli_window *a, const slew_window_row *row)
{
    fprintf(stream, "%s,%s,%.9g", cli_approach_word(row->rule),
            cli_window_start_words(a->axis, row->start), row->voltage);
    write_degrees(stream, row->speed);
    fprintf(stream, ",%d,%d,%d", row->runs, row->found, row->unseen);
    write_degrees(stream, row->acted.low);
    write_degrees(stream, row->acted.high);
    write_degrees(stream, row->rests.low);
    write_degrees(stream, row->rests.high);
    fprintf(stream, ",%s",
            row->found < row->runs && row->fault != SLEW_FAULT_NONE ? slew_fault_word(row->fault)
                                                                    : "");
    write_degrees(stream, a->window.home.angle);
    write_degrees(stream, a->window.home.present ? a->window.home.operate : (double)NAN);
    write_degrees(stream, a->window.home.present ? a->window.home.release : (double)NAN);
    cli_provenance_csv(stream, a->scenario, NULL, 0);
    fputc('\n', stream);
}

void cli_window_csv(FILE *stream, const void *what)
{
    const cli_window *a = what;
    fputs("approach,start,supply_V,speed_deg_per_s,runs,found,unseen,acted_low_deg,acted_high_deg,"
          "rests_low_deg,rests_high_deg,fault,home_deg,operate_deg,release_deg",
          stream);
    cli_provenance_csv_names(stream, NULL);
    fputc('\n', stream);
    for (int i = 0; i < a->window.rows; i++)
        write_row(stream, a, &a->window.row[i]);
}

/* ---- JSON ---- */

static json_t *milli(double value)
{
    return cli_json_number(1000 * value);
}

static json_t *range(slew_range r)
{
    return json_pack("{s:o, s:o}", "low_deg", cli_json_degrees(r.low), "high_deg",
                     cli_json_degrees(r.high));
}

static json_t *magnet(const slew_magnet *m)
{
    return json_pack("{s:o, s:o, s:o, s:o, s:o, s:o, s:o}", "remanence_T",
                     cli_json_number(m->remanence), "diameter_mm", milli(m->diameter), "length_mm",
                     milli(m->length), "radius_mm", milli(m->radius), "gap_mm", milli(m->gap),
                     "operate_flux_mT", milli(m->operate_flux), "release_flux_mT",
                     milli(m->release_flux));
}

/* null: there is none, or none that closes */
static json_t *edges(const slew_window_case *c)
{
    if (!c->magnet.given)
        return json_null();
    return json_pack("{s:o, s:o, s:o, s:o}", "operate_deg", cli_json_degrees(c->operate),
                     "release_deg", cli_json_degrees(c->release), "flux_mT", milli(c->flux),
                     "magnet", magnet(&c->magnet));
}

static json_t *remarks(unsigned bits)
{
    json_t *list = json_array();
    for (int i = 0; i < SLEW_WINDOW_REMARK_COUNT; i++)
        if (bits & 1u << i)
            json_array_append_new(list,
                                  json_string(slew_window_remark_word((slew_window_remark)i)));
    return list;
}

static json_t *row_object(const cli_window *a, const slew_window_row *r)
{
    bool fault = r->found < r->runs && r->fault != SLEW_FAULT_NONE;
    return json_pack("{s:s, s:s, s:o, s:o, s:i, s:i, s:i, s:o, s:o, s:o}", "approach",
                     cli_approach_word(r->rule), "start", cli_window_start_words(a->axis, r->start),
                     "supply_V", cli_json_number(r->voltage), "speed_deg_per_s",
                     cli_json_degrees(r->speed), "runs", r->runs, "found", r->found, "unseen",
                     r->unseen, "acted", range(r->acted), "rests", range(r->rests), "fault",
                     cli_json_text(fault ? slew_fault_word(r->fault) : NULL));
}

static json_t *rows(const cli_window *a)
{
    json_t *list = json_array();
    for (int i = 0; i < a->window.rows; i++)
        json_array_append_new(list, row_object(a, &a->window.row[i]));
    return list;
}

static json_t *rests(const slew_window *w)
{
    json_t *all = json_object();
    for (int i = 0; i < SLEW_WINDOW_RULES; i++)
        json_object_set_new(all, cli_approach_word((slew_approach)i), range(w->rests[i]));
    return all;
}

static json_t *field(const slew_window *w)
{
    if (!w->own.magnet.given)
        return json_null();
    return json_pack("{s:o, s:o, s:o, s:o, s:o}", "largest_gap_mm", milli(w->largest_gap),
                     "turns_at_deg", cli_json_degrees(w->turns_at), "other_way_flux_mT",
                     milli(w->lobe_flux), "other_way_at_deg", cli_json_degrees(w->lobe_at),
                     "strongest_at_deg", cli_json_degrees(w->beside_at));
}

static json_t *sense(const cli_sense *s)
{
    if (!s->asked)
        return json_null();
    return json_pack("{s:f, s:f, s:f, s:f, s:f}", "supply_V", s->supply, "series_ohm", s->series,
                     "closed_ohm", s->closed, "open_V", s->supply, "closed_V",
                     slew_divider_voltage(s->supply, s->series, s->closed));
}

int cli_window_json(const void *what)
{
    const cli_window *a = what;
    const slew_window *w = &a->window;
    bool closes = w->home.present;
    json_t *whole = json_pack("{s:s, s:s, s:s}", "slewtime", slew_version(), "title",
                              a->scenario->title, "axis", slew_axis_word(a->axis));
    cli_provenance_json(whole, a->scenario, NULL, 0);
    json_object_set_new(whole, "home_deg", cli_json_degrees(w->home.angle));
    json_object_set_new(whole, "operate_deg",
                        cli_json_degrees(closes ? w->home.operate : (double)NAN));
    json_object_set_new(whole, "release_deg",
                        cli_json_degrees(closes ? w->home.release : (double)NAN));
    json_object_set_new(whole, "remarks", remarks(w->remarks));
    json_object_set_new(whole, "own", edges(&w->own));
    json_object_set_new(whole, "combinations", json_integer(w->cases));
    json_object_set_new(whole, "never_close", json_integer(w->blind));
    json_object_set_new(whole, "narrowest", edges(&w->narrowest));
    json_object_set_new(whole, "widest", edges(&w->widest));
    json_object_set_new(whole, "field", field(w));
    json_object_set_new(whole, "sense", sense(&a->sense));
    json_object_set_new(whole, "rests", rests(w));
    json_object_set_new(whole, "searches", rows(a));
    return cli_json_print(whole);
}
