/* records.c - the figures of `slewtime window`: for JSON, CSV and the picture. */
#include <math.h>

#include "answer.h"
#include "tell/csv.h"
#include "tell/provenance.h"

/* ---- the window ---- */

static void tell_milli(cli_teller *t, const char *name, double value)
{
    cli_tell_number(t, name, 1000 * value);
}

static void tell_home(cli_teller *t, const slew_home *home)
{
    cli_tell_degrees(t, "home_deg", home->angle);
    cli_tell_degrees(t, "operate_deg", home->present ? home->operate : (double)NAN);
    cli_tell_degrees(t, "release_deg", home->present ? home->release : (double)NAN);
}

static void tell_magnet(cli_teller *t, const void *what)
{
    const slew_magnet *m = what;
    cli_tell_number(t, "remanence_T", m->remanence);
    tell_milli(t, "diameter_mm", m->diameter);
    tell_milli(t, "length_mm", m->length);
    tell_milli(t, "radius_mm", m->radius);
    tell_milli(t, "gap_mm", m->gap);
    tell_milli(t, "operate_flux_mT", m->operate_flux);
    tell_milli(t, "release_flux_mT", m->release_flux);
}

/* nothing: there is no magnet, or none that closes */
static void tell_edges(cli_teller *t, const char *name, const slew_window_case *c)
{
    cli_tell_open_if(t, name, c->magnet.given);
    cli_tell_degrees(t, "operate_deg", c->operate);
    cli_tell_degrees(t, "release_deg", c->release);
    tell_milli(t, "flux_mT", c->flux);
    cli_tell_record(t, "magnet", tell_magnet, &c->magnet);
    cli_tell_close(t);
}

static void tell_field(cli_teller *t, const slew_window *w)
{
    cli_tell_open_if(t, "field", w->own.magnet.given);
    tell_milli(t, "largest_gap_mm", w->largest_gap);
    cli_tell_degrees(t, "turns_at_deg", w->turns_at);
    tell_milli(t, "other_way_flux_mT", w->lobe_flux);
    cli_tell_degrees(t, "other_way_at_deg", w->lobe_at);
    cli_tell_degrees(t, "strongest_at_deg", w->beside_at);
    cli_tell_close(t);
}

static void tell_sense(cli_teller *t, const cli_sense *s)
{
    cli_tell_open_if(t, "sense", s->asked);
    cli_tell_number(t, "supply_V", s->supply);
    cli_tell_number(t, "series_ohm", s->series);
    cli_tell_number(t, "closed_ohm", s->closed);
    cli_tell_number(t, "open_V", s->supply);
    cli_tell_number(t, "closed_V", s->voltage);
    cli_tell_close(t);
}

static void tell_remarks(cli_teller *t, const cli_window *a)
{
    cli_tell_open_list(t, "remarks");
    for (slew_window_remark i = 0; i < SLEW_WINDOW_REMARK_COUNT; i++)
        if (cli_window_has(a, i))
            cli_tell_text(t, NULL, slew_window_remark_word(i));
    cli_tell_close(t);
}

/* ---- home ---- */

static void tell_range(cli_teller *t, const char *name, slew_range range)
{
    cli_tell_open(t, name);
    cli_tell_degrees(t, "low_deg", range.low);
    cli_tell_degrees(t, "high_deg", range.high);
    cli_tell_close(t);
}

typedef struct search {
    const cli_window *answer;
    const slew_window_row *row;
} search;

/* in a document the window is told once; a row says it too */
static void tell_search(cli_teller *t, const void *what)
{
    const search *s = what;
    const slew_window_row *r = s->row;
    bool is_fault = r->found < r->runs && r->fault != SLEW_FAULT_NONE;
    cli_tell_text(t, "approach", slew_approach_word(r->rule));
    cli_tell_text(t, "start", cli_window_start_word(s->answer->axis, r->start));
    cli_tell_number(t, "supply_V", r->voltage);
    cli_tell_degrees(t, "speed_deg_per_s", r->speed);
    cli_tell_integer(t, "runs", r->runs);
    cli_tell_integer(t, "found", r->found);
    cli_tell_integer(t, "unseen", r->unseen);
    tell_range(t, "acted", r->acted);
    tell_range(t, "rests", r->rests);
    cli_tell_text(t, "fault", is_fault ? slew_fault_word(r->fault) : NULL);
    if (t->in_full)
        return;
    tell_home(t, &s->answer->window.home);
    cli_tell_provenance(t, s->answer->scenario, NULL, 0);
}

void cli_window_table(FILE *stream, const void *what)
{
    const cli_window *a = what;
    for (int i = 0; i < a->window.rows; i++)
        cli_csv_row(stream, i == 0, tell_search, &(search){a, &a->window.row[i]});
}

/* ---- the document ---- */

static void tell_rests(cli_teller *t, const slew_window *w)
{
    cli_tell_open(t, "rests");
    for (int i = 0; i < SLEW_WINDOW_RULES; i++)
        tell_range(t, slew_approach_word((slew_approach)i), w->rests[i]);
    cli_tell_close(t);
}

void cli_window_document(cli_teller *t, const void *what)
{
    const cli_window *a = what;
    const slew_window *w = &a->window;
    cli_tell_title(t, a->scenario);
    cli_tell_axis(t, "axis", a->axis);
    cli_tell_provenance(t, a->scenario, NULL, 0);
    tell_home(t, &w->home);
    tell_remarks(t, a);
    tell_edges(t, "own", &w->own);
    cli_tell_integer(t, "combinations", w->cases);
    cli_tell_integer(t, "never_close", w->blind);
    cli_tell_share(t, "never_closes", &w->never);
    tell_edges(t, "narrowest", &w->narrowest);
    tell_edges(t, "widest", &w->widest);
    tell_field(t, w);
    tell_sense(t, &a->sense);
    tell_rests(t, w);
    cli_tell_open_list(t, "searches");
    for (int i = 0; i < w->rows; i++)
        cli_tell_record(t, NULL, tell_search, &(search){a, &w->row[i]});
    cli_tell_close(t);
}
