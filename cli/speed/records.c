/* records.c - the figures of `slewtime speed`: for JSON, CSV and the picture. */
#include "answer.h"
#include "tell/csv.h"
#include "tell/provenance.h"
#include "tell/units.h"

/* a curve, and the number of one of its rows */
typedef struct place {
    const cli_speed *asked;
    int occasion, curve, row;
} place;

static const slew_speed_curve *curve_of(const place *p)
{
    return &p->asked->answer[p->occasion].curve[p->curve];
}

/* ---- one voltage ---- */

static void tell_point(cli_teller *t, const char *name, const slew_speed_point *p)
{
    cli_tell_open(t, name);
    cli_tell_text(t, "state", slew_speed_word(p->state));
    cli_tell_degrees(t, "speed_deg_per_s", p->speed);
    cli_tell_number(t, "current_A", p->current);
    cli_tell_number(t, "voltage_V", p->voltage);
    cli_tell_close(t);
}

static void tell_figures(cli_teller *t, const void *what)
{
    const slew_speed_row *row = what;
    cli_tell_number(t, "supply_V", row->supply);
    tell_point(t, "slowest", &row->slowest);
    tell_point(t, "fastest", &row->fastest);
    cli_tell_number(t, "stop_to_stop_s", row->travel.time);
    cli_tell_text(t, "trouble", cli_speed_trouble(row));
}

/* ---- one curve ---- */

/* in a document it lies within its occasion; a row has to say which, and which reaction it is */
static void tell_name(cli_teller *t, const place *p)
{
    const slew_speed_curve *c = curve_of(p);
    const slew_speed_level *level = &p->asked->answer[p->occasion].level[c->level];
    if (!t->in_full)
        cli_tell_text(t, "occasion", cli_speed_occasion(p->asked, p->occasion));
    cli_tell_text(t, "axis", slew_axis_word(c->axis));
    cli_tell_text(t, "direction", slew_direction_word(c->axis, c->direction));
    if (!t->in_full)
        cli_tell_integer(t, "level", c->level);
    cli_tell_number(t, "pressure_bar", cli_bar(level->pressure));
    cli_tell_number(t, "reaction_N", level->reaction);
}

static void tell_place(cli_teller *t, const void *angle)
{
    cli_tell_angles(t, angle);
}

/* 0: any; nothing: none in the range */
static void tell_needs(cli_teller *t, const slew_speed_needs *n)
{
    cli_tell_open(t, "needs");
    cli_tell_number(t, "runs_V", n->runs);
    cli_tell_number(t, "starts_V", n->starts);
    cli_tell_number(t, "arrives_V", n->arrives);
    cli_tell_number(t, "brownout_V", n->brownout);
    cli_tell_number(t, "floor_V", n->floor);
    cli_tell_number(t, "trips_V", n->trips);
    cli_tell_number(t, "noticed_V", n->noticed);
    cli_tell_close(t);
}

static void tell_curve(cli_teller *t, const void *what)
{
    const place *p = what;
    const slew_speed_curve *c = curve_of(p);
    tell_name(t, p);
    cli_tell_record(t, "slowest_at", tell_place, c->place.slowest);
    cli_tell_record(t, "fastest_at", tell_place, c->place.fastest);
    tell_needs(t, &c->need);
    cli_tell_record(t, "own", tell_figures, &c->own);
    cli_tell_open_list(t, "rows");
    for (int i = 0; i < p->asked->answer[p->occasion].row_count; i++)
        cli_tell_record(t, NULL, tell_figures, &c->row[i]);
    cli_tell_close(t);
}

/* ---- tables ---- */

static void tell_row(cli_teller *t, const void *what)
{
    const place *p = what;
    tell_name(t, p);
    tell_figures(t, &curve_of(p)->row[p->row]);
    cli_tell_provenance(t, p->asked->scenario, NULL, 0);
}

/* the next curve asked about, from the one before the first on; false: there are no more */
static bool next_curve(place *p)
{
    do
        if (++p->curve == p->asked->answer[p->occasion].curve_count) {
            p->curve = 0;
            p->occasion++;
        }
    while (p->occasion < p->asked->count && !cli_speed_is_asked(p->asked, curve_of(p)));
    return p->occasion < p->asked->count;
}

void cli_speed_curves(FILE *stream, const void *what)
{
    place p = {.asked = what, .curve = -1};
    for (bool is_first = true; next_curve(&p); is_first = false)
        cli_csv_row(stream, is_first, tell_curve, &p);
}

void cli_speed_table(FILE *stream, const void *what)
{
    place p = {.asked = what, .curve = -1};
    bool is_first = true;
    while (next_curve(&p))
        for (p.row = 0; p.row < p.asked->answer[p.occasion].row_count; p.row++) {
            cli_csv_row(stream, is_first, tell_row, &p);
            is_first = false;
        }
}

/* ---- the document ---- */

static void tell_occasion(cli_teller *t, const void *what)
{
    place p = *(const place *)what;
    const slew_speed *s = &p.asked->answer[p.occasion];
    char finding[300];
    cli_speed_finding(p.asked, p.occasion, finding, sizeof finding);
    cli_tell_text(t, "occasion", cli_speed_occasion(p.asked, p.occasion));
    cli_tell_number(t, "temperature_degC", cli_celsius(s->setup.environment.temperature));
    cli_tell_number(t, "supply_V", s->setup.supply.main.voltage);
    cli_tell_boolean(t, "nozzle_known", slew_nozzle_is_known(&s->setup.nozzle));
    cli_tell_text(t, "finding", finding);
    cli_tell_open_list(t, "curves");
    for (; p.curve < s->curve_count; p.curve++)
        if (cli_speed_is_asked(p.asked, curve_of(&p)))
            cli_tell_record(t, NULL, tell_curve, &p);
    cli_tell_close(t);
}

void cli_speed_document(cli_teller *t, const void *what)
{
    const cli_speed *a = what;
    cli_tell_title(t, a->scenario);
    cli_tell_number(t, "tolerance_V", SLEW_SPEED_TOLERANCE);
    cli_tell_open_list(t, "occasions");
    for (int i = 0; i < a->count; i++)
        cli_tell_record(t, NULL, tell_occasion, &(place){.asked = a, .occasion = i});
    cli_tell_close(t);
    cli_tell_provenance(t, a->scenario, NULL, 0);
}
