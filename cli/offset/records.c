/* records.c - the figures of `slewtime offset`: for JSON, CSV and the picture. */
#include "answer.h"
#include "slewtime/slewtime.h"
#include "tell/caution.h"
#include "tell/csv.h"

static void tell_provenance(cli_teller *t, const cli_offset *a)
{
    cli_tell_provenance(t, a->scenario, &a->sampling, a->offset.samples);
}

/* ---- one choice ---- */

static void tell_angles(cli_teller *t, const char *name, const slew_summary *s)
{
    cli_tell_open(t, name);
    cli_tell_degrees(t, "lowest_deg", s->lowest);
    cli_tell_degrees(t, "p05_deg", s->p05);
    cli_tell_degrees(t, "median_deg", s->median);
    cli_tell_degrees(t, "p95_deg", s->p95);
    cli_tell_degrees(t, "highest_deg", s->highest);
    cli_tell_close(t);
}

static void tell_shares(cli_teller *t, const char *name, const slew_share share[SLEW_AXES])
{
    cli_tell_open(t, name);
    for (int j = 0; j < SLEW_AXES; j++)
        cli_tell_share(t, slew_axis_word(j), &share[j]);
    cli_tell_close(t);
}

static void tell_usual_fault(cli_teller *t, const slew_usual_fault *f)
{
    cli_tell_open_if(t, "most_faults", f->fault != SLEW_FAULT_NONE);
    cli_tell_text(t, "fault", slew_fault_word(f->fault));
    cli_tell_axis(t, "axis", f->axis);
    cli_tell_text(t, "part", f->in_stow ? "stow" : "deploy");
    cli_tell_share(t, "share", &f->share);
    cli_tell_close(t);
}

static void tell_usual_box(cli_teller *t, const slew_keepout *keepout, const slew_usual_box *b)
{
    cli_tell_open_if(t, "most_keepouts", b->box >= 0);
    cli_tell_text(t, "box", b->box >= 0 ? keepout->box[b->box].name : NULL);
    cli_tell_share(t, "share", &b->share);
    cli_tell_close(t);
}

typedef struct row {
    const cli_offset *answer;
    const slew_offset_choice *choice;
} row;

static void tell_choice(cli_teller *t, const void *what)
{
    const row *r = what;
    const slew_offset_choice *c = r->choice;
    cli_tell_axes(t, "seconds", c->seconds);
    cli_tell_share(t, "inside", &c->inside);
    tell_shares(t, "outside", c->outside);
    cli_tell_share(t, "fault", &c->fault);
    tell_usual_fault(t, &c->usual_fault);
    cli_tell_share(t, "no_verdict", &c->no_verdict);
    cli_tell_share(t, "keepout", &c->keepout);
    tell_usual_box(t, &r->answer->scenario->keepout, &c->usual_box);
    for (int j = 0; j < SLEW_AXES; j++)
        tell_angles(t, slew_axis_word(j), &c->angle[j]);
    cli_tell_degrees(t, "room_deg", c->room);
    cli_tell_record(t, "judged", cli_tell_judgment, &c->judged);
    if (!t->in_full)
        tell_provenance(t, r->answer);
}

void cli_offset_table(FILE *stream, const void *what)
{
    const cli_offset *a = what;
    for (int i = 0; i < a->offset.count; i++)
        cli_csv_row(stream, i == 0, tell_choice, &(row){a, &a->offset.choice[i]});
}

/* ---- drivers ---- */

static void tell_index(cli_teller *t, const void *what)
{
    const cli_offset_rank *r = what;
    const slew_driver *driver = &r->drivers->driver[r->drivers->order[r->axis][r->place]];
    cli_tell_text(t, "key", slew_key_at(driver->drawn.key)->path);
    cli_tell_text(t, "of", cli_offset_of_word(&driver->drawn));
    cli_tell_share(t, "first", &driver->first[r->axis]);
    cli_tell_share(t, "total", &driver->total[r->axis]);
}

void cli_offset_drivers_table(FILE *stream, const void *what)
{
    cli_offset_rank r = *(const cli_offset_rank *)what;
    for (; r.place < r.drivers->count; r.place++)
        cli_csv_row(stream, r.place == 0, tell_index, &r);
}

static void tell_drivers_of(cli_teller *t, const cli_offset *a, int axis)
{
    cli_offset_rank r = {&a->drivers, axis, 0};
    bool varies = cli_offset_varies(a, axis);
    cli_tell_open(t, slew_axis_word(axis));
    cli_tell_degrees(t, "mean_deg", a->drivers.mean[axis]);
    cli_tell_degrees(t, "deviation_deg", a->drivers.deviation[axis]);
    cli_tell_boolean(t, "varies", varies);
    cli_tell_open_list(t, "indices");
    for (; varies && r.place < a->drivers.count; r.place++)
        cli_tell_record(t, NULL, tell_index, &r);
    cli_tell_close(t);
    cli_tell_close(t);
}

static void tell_drivers(cli_teller *t, const cli_offset *a)
{
    const slew_drivers *d = &a->drivers;
    cli_tell_open(t, "drivers");
    if (a->no_drivers != NULL)
        cli_tell_text(t, "not_told", a->no_drivers);
    else {
        cli_tell_integer(t, "base", d->base * d->repeats);
        cli_tell_integer(t, "repeats", d->repeats);
        cli_tell_integer(t, "runs", d->runs);
        cli_tell_integer(t, "refused", d->refused);
        cli_tell_boolean(t, "correlated", a->scenario->correlation.count > 0);
        for (int j = 0; j < SLEW_AXES; j++)
            tell_drivers_of(t, a, j);
    }
    cli_tell_close(t);
}

/* ---- the document ---- */

static void tell_advice(cli_teller *t, const cli_offset *a)
{
    char text[CLI_OFFSET_TEXT_MAX];
    cli_tell_open_list(t, "advice");
    for (int i = 0; i < a->advice_count; i++) {
        cli_offset_say(a, &a->advice[i], text);
        cli_tell_open(t, NULL);
        cli_tell_text(t, "kind", slew_advice_word(a->advice[i].kind));
        cli_tell_axis(t, "axis", a->advice[i].axis);
        cli_tell_text(t, "says", text);
        cli_tell_close(t);
    }
    cli_tell_close(t);
}

static void tell_finer(cli_teller *t, const cli_offset *a)
{
    static const char *const words[] = {"half", "tenth", "any"};
    const slew_finer *f = &a->finer;
    cli_tell_open_if(t, "finer", a->has_finer);
    cli_tell_axes(t, "present_step_s", f->step);
    cli_tell_axes(t, "needed_s", f->needed);
    tell_shares(t, "reachable", f->reachable);
    cli_tell_integer(t, "searched", f->searched);
    for (int k = 0; k < SLEW_FINER_COUNT; k++)
        cli_tell_record(t, words[k], tell_choice, &(row){a, &f->at[k]});
    cli_tell_close(t);
}

/* the best two by samples that did not choose them */
static void tell_told(cli_teller *t, const cli_offset *a)
{
    const slew_offset *o = &a->offset;
    cli_tell_open(t, "told");
    cli_tell_integer(t, "fresh_samples", o->fresh);
    cli_tell_record(t, "best", tell_choice, &(row){a, a->best});
    cli_tell_open_if(t, "runner_up", o->runner_up >= 0);
    tell_choice(t, &(row){a, &o->told[SLEW_TOLD_RUNNER_UP]});
    cli_tell_close(t);
    cli_tell_close(t);
}

void cli_offset_document(cli_teller *t, const void *what)
{
    const cli_offset *a = what;
    const slew_offset *o = &a->offset;
    char why[CLI_OFFSET_TEXT_MAX], headline[CLI_OFFSET_TEXT_MAX];
    char dangers[CLI_JUDGED_MAX];
    cli_offset_say_why(a, why);
    cli_tell_title(t, a->scenario);
    tell_provenance(t, a);
    cli_tell_integer(t, "refused", o->refused);
    cli_tell_number(t, "wanted", a->wanted);
    cli_tell_boolean(t, "good_enough", a->best->judged.meets == SLEW_MEETS);
    cli_offset_say_headline(a, headline);
    cli_tell_text(t, "headline", headline);
    cli_judged_dangers(&a->best->judged, dangers);
    cli_tell_caution(t, dangers);
    cli_tell_record(t, "judged", cli_tell_judgment, &a->best->judged);
    cli_tell_integer(t, "best", o->best);
    if (o->runner_up < 0)
        cli_tell_nothing(t, "runner_up");
    else
        cli_tell_integer(t, "runner_up", o->runner_up);
    cli_tell_share(t, "lead", &o->lead);
    cli_tell_text(t, "why", why);
    tell_told(t, a);
    cli_tell_open_if(t, "by_truck", a->trucks.trucks > 0);
    cli_tell_trucks(t, &a->trucks);
    cli_tell_close(t);
    tell_advice(t, a);
    cli_tell_number(t, "extremes_bound", cli_offset_bounded(a));
    cli_tell_open_list(t, "choices");
    for (int i = 0; i < o->count; i++)
        cli_tell_record(t, NULL, tell_choice, &(row){a, &o->choice[i]});
    cli_tell_close(t);
    tell_finer(t, a);
    tell_drivers(t, a);
}
