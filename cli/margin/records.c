/* records.c - the figures of `slewtime margin`: for JSON, CSV and the picture. */
#include "answer.h"
#include "slewtime/slewtime.h"
#include "tell/caution.h"
#include "tell/csv.h"

const char *const cli_margin_sides[SLEW_MARGIN_SIDES] = {"low", "high"};

/* ---- one clearance of one side ---- */

typedef struct step {
    const cli_margin *answer;
    int side, index;
} step;

/* in a document it lies within its side; a row has to say which, and where the point then is */
static void tell_step(cli_teller *t, const void *what)
{
    const step *s = what;
    const cli_margin *a = s->answer;
    const slew_margin_side *side = &a->margin.side[s->side];
    const slew_margin_step *p = &side->step[s->index];
    if (!t->in_full)
        cli_tell_text(t, "side", cli_margin_sides[s->side]);
    cli_tell_degrees(t, "clearance_deg", p->clearance);
    if (!t->in_full)
        cli_tell_degrees(t, "point_deg", cli_margin_point(side, s->side, p));
    cli_tell_integer(t, "asked", p->samples);
    cli_tell_integer(t, "untaught", p->untaught);
    cli_tell_share(t, "hard_stop", &p->fault);
    cli_tell_share(t, "pressed", &p->pressed);
    cli_tell_share(t, "either", &p->unsafe);
    cli_tell_share(t, "touches", &p->touched);
    cli_tell_share(t, "too_short", &p->short_of);
    cli_tell_share(t, "too_near", &p->near_to);
    cli_tell_share(t, "other", &p->other);
    if (!t->in_full)
        cli_tell_provenance(t, a->scenario, &a->sampling, a->margin.samples);
}

void cli_margin_table(FILE *stream, const void *what)
{
    const cli_margin *a = what;
    step s = {.answer = a};
    bool is_first = true;
    for (s.side = 0; s.side < SLEW_MARGIN_SIDES; s.side++)
        for (s.index = 0; s.index < a->margin.side[s.side].step_count; s.index++) {
            cli_csv_row(stream, is_first, tell_step, &s);
            is_first = false;
        }
}

/* ---- the document ---- */

static void tell_need(cli_teller *t, const char *name, const slew_margin_need *n)
{
    cli_tell_open(t, name);
    cli_tell_boolean(t, "asked", n->status != SLEW_ERROR_INPUT);
    cli_tell_degrees(t, "enough_deg", n->enough);
    cli_tell_share(t, "beyond", &n->beyond);
    cli_tell_degrees(t, "no_hit_from_deg", n->unseen);
    cli_tell_degrees(t, "limit_deg", n->limit);
    cli_tell_integer(t, "samples", n->samples);
    cli_tell_integer(t, "untaught", n->untaught);
    cli_tell_close(t);
}

static void tell_side(cli_teller *t, const cli_margin *a, int index)
{
    const slew_margin_side *side = &a->margin.side[index];
    step s = {a, index, 0};
    cli_tell_open(t, cli_margin_sides[index]);
    cli_tell_degrees(t, "stop_deg", side->stop);
    tell_need(t, "need", &side->need);
    cli_tell_text(t, "untaught_because", side->untaught.message);
    cli_tell_open_list(t, "ladder");
    for (; s.index < side->step_count; s.index++) {
        cli_tell_open(t, NULL);
        tell_step(t, &s);
        cli_tell_close(t);
    }
    cli_tell_close(t);
    cli_tell_close(t);
}

static void tell_changes(cli_teller *t, const slew_margin *m)
{
    cli_tell_open_list(t, "changes");
    for (int i = SLEW_MARGIN_NONE + 1; i < SLEW_MARGIN_CHANGE_COUNT; i++) {
        cli_tell_open(t, NULL);
        cli_tell_text(t, "change", slew_margin_change_words((slew_margin_change)i));
        for (int k = 0; k < SLEW_MARGIN_SIDES; k++)
            tell_need(t, cli_margin_sides[k], &m->change[i][k]);
        cli_tell_close(t);
    }
    cli_tell_close(t);
}

void cli_margin_document(cli_teller *t, const void *what)
{
    const cli_margin *a = what;
    const slew_margin *m = &a->margin;
    cli_tell_title(t, a->scenario);
    cli_tell_integer(t, "refused", m->refused);
    cli_tell_caution(t, cli_margin_dangers(a));
    cli_tell_axis(t, "axis", a->question.axis);
    cli_tell_number(t, "wanted", a->question.wanted);
    cli_tell_boolean(t, "tails_assumed", a->question.wanted < SLEW_MARGIN_ASSUMED);
    for (int k = 0; k < SLEW_MARGIN_SIDES; k++)
        tell_side(t, a, k);
    tell_changes(t, m);
    cli_tell_provenance(t, a->scenario, &a->sampling, m->samples);
}
