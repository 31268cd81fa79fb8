/* records.c - the figures of `slewtime plan`: for JSON, CSV and the picture. */
#include "answer.h"
#include "tell/caution.h"
#include "tell/csv.h"
#include "tell/judged.h"

static void tell_degrees_of_axes(cli_teller *t, const char *name, const double angle[SLEW_AXES])
{
    cli_tell_open(t, name);
    cli_tell_degrees(t, "rotation_deg", angle[SLEW_ROTATION]);
    cli_tell_degrees(t, "elevation_deg", angle[SLEW_ELEVATION]);
    cli_tell_close(t);
}

static void tell_setting(cli_teller *t, const void *what)
{
    const slew_plan_setting *p = what;
    tell_degrees_of_axes(t, "point", p->point);
    tell_degrees_of_axes(t, "moved", p->moved);
    cli_tell_axes(t, "seconds", p->seconds);
    cli_tell_boolean(t, "confirmed", p->confirmed);
    cli_tell_number(t, "shortfall", p->shortfall);
    cli_tell_record(t, "demands", cli_tell_judgment, &p->judgment);
}

/* ---- changes ---- */

typedef struct place {
    const cli_plan *answer;
    int index;
} place;

static void tell_change(cli_teller *t, const slew_plan_change *c)
{
    char words[120];
    slew_plan_words(c, words, sizeof words);
    cli_tell_text(t, "change", words);
    cli_tell_text(t, "key", c->key < 0 ? NULL : slew_key_at(c->key)->path);
    cli_tell_text(t, "layer", c->kind == SLEW_PLAN_TAUGHT_AT ? "teach" : NULL);
}

/* in a row the demands as they are met today stand beside those after the change */
static void tell_row(cli_teller *t, const void *what)
{
    const place *p = what;
    const cli_plan *a = p->answer;
    const slew_plan_row *r = &a->plan.row[p->index];
    cli_tell_integer(t, "rank", p->index + 1);
    tell_change(t, &r->change);
    cli_tell_text(t, "cost", slew_plan_cost_word(r->cost));
    tell_setting(t, &r->best);
    cli_tell_record(t, "before", cli_tell_judgment, &a->plan.today.judgment);
    if (!t->in_full)
        cli_tell_provenance(t, a->scenario, &a->sampling, a->plan.confirmed);
}

void cli_plan_table(FILE *stream, const void *what)
{
    const cli_plan *a = what;
    for (place p = {a, 0}; p.index < a->plan.count; p.index++)
        cli_csv_row(stream, p.index == 0, tell_row, &p);
}

/* ---- curves ---- */

typedef struct spot {
    const slew_plan_curve *curve;
    int index;
} spot;

static void tell_spot(cli_teller *t, const void *what)
{
    const spot *p = what;
    const slew_plan_curve *c = p->curve;
    double at = c->at[p->index];
    cli_tell_text(t, "what", c->of_seconds ? "seconds" : "point");
    cli_tell_axis(t, "axis", c->axis);
    cli_tell_next_if(t, c->of_seconds);
    cli_tell_number(t, "at_s", at);
    cli_tell_next_if(t, !c->of_seconds);
    cli_tell_degrees(t, "at_deg", at);
    cli_tell_record(t, "demands", cli_tell_judgment, &c->judgment[p->index]);
}

/* for each point of each curve */
static void for_each_spot(const slew_plan *plan, void (*take)(void *, const spot *), void *context)
{
    for (int k = 0; k < SLEW_PLAN_CURVES; k++)
        for (spot p = {&plan->curve[k], 0}; p.index < p.curve->count; p.index++)
            take(context, &p);
}

typedef struct writing {
    FILE *stream;
    bool has_begun;
} writing;

static void write_spot(void *context, const spot *p)
{
    writing *w = context;
    cli_csv_row(w->stream, !w->has_begun, tell_spot, p);
    w->has_begun = true;
}

void cli_plan_curves(FILE *stream, const void *what)
{
    writing w = {stream, false};
    for_each_spot(&((const cli_plan *)what)->plan, write_spot, &w);
}

/* ---- the document ---- */

static void add_spot(void *context, const spot *p)
{
    cli_tell_record(context, NULL, tell_spot, p);
}

static void tell_changes(cli_teller *t, const slew_plan_change *change, int count)
{
    cli_tell_open_list(t, "changes");
    for (int i = 0; i < count; i++) {
        cli_tell_open(t, NULL);
        tell_change(t, &change[i]);
        cli_tell_close(t);
    }
    cli_tell_close(t);
}

static void tell_recommended(cli_teller *t, const cli_plan *a)
{
    const slew_plan_advice *d = &a->advice;
    char text[CLI_PLAN_LINE_MAX];
    cli_plan_advice(a, text);
    cli_tell_text(t, "advice", text);
    cli_tell_open_if(t, "recommended", d->is_there);
    if (d->is_there) {
        tell_changes(t, d->change, d->count);
        tell_setting(t, &d->setting);
    }
    cli_tell_close(t);
}

static void tell_together(cli_teller *t, const slew_plan_together *all)
{
    cli_tell_open_if(t, "together", all->count > 0);
    if (all->count > 0) {
        tell_changes(t, all->change, all->count);
        cli_tell_text(t, "cost", slew_plan_cost_word(all->cost));
        tell_setting(t, &all->best);
    }
    cli_tell_close(t);
}

void cli_plan_document(cli_teller *t, const void *what)
{
    const cli_plan *a = what;
    const slew_plan *p = &a->plan;
    char dangers[CLI_JUDGED_MAX];
    cli_tell_title(t, a->scenario);
    tell_recommended(t, a);
    cli_tell_open_if(t, "by_truck", a->trucks.trucks > 0);
    cli_tell_trucks(t, &a->trucks);
    cli_tell_close(t);
    cli_judged_dangers(&p->today.judgment, dangers);
    cli_tell_caution(t, dangers);
    cli_tell_text(t, "untaught_because", p->taught ? NULL : p->untaught.message);
    cli_tell_integer(t, "screened_with", p->screened);
    cli_tell_record(t, "today", tell_setting, &p->today);
    cli_tell_open_if(t, "best", p->best.judgment.samples > 0);
    tell_setting(t, &p->best);
    cli_tell_close(t);
    cli_tell_open_list(t, "changes");
    for (place at = {a, 0}; at.index < p->count; at.index++)
        cli_tell_record(t, NULL, tell_row, &at);
    cli_tell_close(t);
    tell_together(t, &p->together);
    cli_tell_open_list(t, "curves");
    for_each_spot(p, add_spot, t);
    cli_tell_close(t);
    cli_tell_provenance(t, a->scenario, &a->sampling, p->confirmed);
}
