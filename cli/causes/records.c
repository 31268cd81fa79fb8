/* records.c - the figures of `slewtime causes`: for JSON, CSV and the pictures. */
#include "answer.h"

#include <math.h>

#include "tell/csv.h"

/* an entry of a list, which is a cause, a cause of the ranking or a check; and an observable */
typedef struct entry {
    const cli_causes *answer;
    int index, observable;
} entry;

static void tell_provenance(cli_teller *t, const cli_causes *a)
{
    cli_tell_provenance(t, a->scenario, &a->sampling, a->causes.samples);
}

/* ---- signatures ---- */

/* the word of a choice; empty: none */
static void word_of(int observable, int word, char text[64])
{
    text[0] = '\0';
    if (word >= 0)
        slew_observable_format(observable, word, text, 64);
}

static double in_unit(int observable, double value)
{
    return isfinite(value) ? slew_observable_in_unit(observable, value) : NAN;
}

/* a choice has a word, a number its range */
static void tell_signature(cli_teller *t, const slew_signature *s, int observable)
{
    char word[64];
    bool is_word = slew_observable_words(observable) > 0;
    word_of(observable, s->word, word);
    cli_tell_number(t, "readable", s->readable);
    cli_tell_next_if(t, is_word);
    cli_tell_text(t, "word", word);
    cli_tell_next_if(t, is_word);
    cli_tell_number(t, "share", s->word >= 0 ? s->share : NAN);
    cli_tell_next_if(t, !is_word);
    cli_tell_unit(t, "unit", slew_observable_at(observable)->key.unit);
    cli_tell_next_if(t, !is_word);
    cli_tell_number(t, "p05", in_unit(observable, s->low));
    cli_tell_next_if(t, !is_word);
    cli_tell_number(t, "median", in_unit(observable, s->mid));
    cli_tell_next_if(t, !is_word);
    cli_tell_number(t, "p95", in_unit(observable, s->high));
}

static void tell_signature_as(cli_teller *t, const char *name, const entry *e)
{
    slew_signature s = cli_signature(e->answer, e->index, e->observable);
    cli_tell_open_if(t, name, s.readable > 0);
    tell_signature(t, &s, e->observable);
    cli_tell_close(t);
}

static void tell_signature_row(cli_teller *t, const void *what)
{
    const entry *e = what;
    slew_signature s = cli_signature(e->answer, e->index, e->observable);
    cli_tell_text(t, "cause", cli_cause_name(e->answer, e->index));
    cli_tell_text(t, "observable", slew_observable_at(e->observable)->key.path);
    tell_signature(t, &s, e->observable);
    tell_provenance(t, e->answer);
}

/* ---- a cause ---- */

static bool is_told(const cli_causes *a, int cause)
{
    return slew_causes_counts(&a->causes, cause) && (a->about < 0 || a->about == cause);
}

static void tell_words(cli_teller *t, const slew_cause *cause)
{
    cli_tell_text(t, "name", cause->name);
    if (!t->in_full)
        return;
    cli_tell_text(t, "means", cause->means);
    cli_tell_text(t, "prove", cause->prove);
    cli_tell_text(t, "cure", cause->cure);
}

static void tell_cause(cli_teller *t, const void *what)
{
    entry e = *(const entry *)what;
    const cli_causes *a = e.answer;
    char reports[64];
    tell_words(t, &a->catalogue.cause[e.index]);
    cli_report_words(a, e.index, reports, sizeof reports);
    if (!t->in_full)
        cli_tell_text(t, "reports", reports);
    cli_tell_integer(t, "possible", a->causes.state[e.index].possible);
    cli_tell_open_list(t, "looks_the_same_as");
    for (int other = 0; other < a->causes.count; other++)
        if (cli_looks_alike(a, e.index, other))
            cli_tell_text(t, NULL, cli_cause_name(a, other));
    cli_tell_close(t);
    cli_tell_open(t, "signature");
    for (e.observable = 0; e.observable < SLEW_OBSERVABLES; e.observable++)
        tell_signature_as(t, slew_observable_at(e.observable)->key.path, &e);
    cli_tell_close(t);
}

/* ---- a cause of the ranking; whether it fits is asked of the candidates alone ---- */

static void tell_ranked(cli_teller *t, const void *what)
{
    const entry *e = what;
    const cli_causes *a = e->answer;
    const slew_diagnosis *d = &a->diagnosis;
    int cause = d->ranking.order[e->index];
    if (!t->in_full)
        cli_tell_integer(t, "rank", e->index + 1);
    tell_words(t, &a->catalogue.cause[cause]);
    cli_tell_number(t, "share", d->ranking.share[cause]);
    cli_tell_number(t, "share_sd", d->ranking.share_sd[cause]);
    cli_tell_number(t, "bayes_factor", slew_ranking_factor(&a->causes, &d->ranking, cause));
    cli_tell_number(t, "fit_p", e->index < d->candidates ? d->fit[e->index] : NAN);
    cli_tell_number(t, "effective_samples", slew_ranking_effective(&a->causes, &d->ranking, cause));
    if (!t->in_full)
        tell_provenance(t, a);
}

/* ---- a check ---- */

static void tell_check(cli_teller *t, const void *what)
{
    entry e = *(const entry *)what;
    const slew_diagnosis *d = &e.answer->diagnosis;
    e.observable = d->next[e.index];
    cli_tell_text(t, "observable", slew_observable_at(e.observable)->key.path);
    cli_tell_text(t, "meaning", slew_observable_at(e.observable)->key.meaning);
    cli_tell_text(t, "name", slew_observable_at(e.observable)->name);
    cli_tell_number(t, "minutes", slew_observable_at(e.observable)->minutes);
    cli_tell_number(t, "bits", d->bits[e.index]);
    if (!t->in_full)
        return;
    cli_tell_open(t, "expected");
    for (int i = 0; i < d->candidates; i++) {
        e.index = d->ranking.order[i];
        tell_signature_as(t, cli_ranked_name(e.answer, i), &e);
    }
    cli_tell_close(t);
}

/* ---- tables ---- */

static void write_signatures(FILE *stream, const cli_causes *a)
{
    entry e = {.answer = a};
    bool is_first = true;
    for (e.index = 0; e.index < a->causes.count; e.index++)
        for (e.observable = 0; e.observable < SLEW_OBSERVABLES && is_told(a, e.index);
             e.observable++) {
            cli_csv_row(stream, is_first, tell_signature_row, &e);
            is_first = false;
        }
}

void cli_causes_table(FILE *stream, const void *what)
{
    const cli_causes *a = what;
    if (!a->ranks)
        write_signatures(stream, a);
    for (entry e = {.answer = a}; e.index < a->diagnosis.ranking.count; e.index++)
        cli_csv_row(stream, e.index == 0, tell_ranked, &e);
}

void cli_signatures_table(FILE *stream, const void *what)
{
    const cli_causes *a = what;
    bool is_first = true;
    for (entry e = {.answer = a}; e.index < a->causes.count; e.index++)
        if (is_told(a, e.index)) {
            cli_csv_row(stream, is_first, tell_cause, &e);
            is_first = false;
        }
}

/* ---- the document ---- */

static void tell_causes(cli_teller *t, const cli_causes *a)
{
    cli_tell_open_list(t, "causes");
    for (entry e = {.answer = a}; e.index < a->causes.count; e.index++)
        if (is_told(a, e.index))
            cli_tell_record(t, NULL, tell_cause, &e);
    cli_tell_close(t);
}

static void tell_sighting(cli_teller *t, const slew_seen *seen, int observable)
{
    char word[64];
    const slew_key *key = &slew_observable_at(observable)->key;
    if (slew_observable_words(observable) > 0) {
        word_of(observable, (int)seen->value[observable], word);
        cli_tell_text(t, key->path, word);
        return;
    }
    cli_tell_open(t, key->path);
    cli_tell_unit(t, "unit", key->unit);
    cli_tell_number(t, "value", in_unit(observable, seen->value[observable]));
    cli_tell_number(t, "sd", in_unit(observable, seen->sd[observable]));
    cli_tell_close(t);
}

/* that it is none of the causes */
static void tell_none(cli_teller *t, const cli_causes *a)
{
    const slew_ranking *r = &a->diagnosis.ranking;
    cli_tell_open(t, "none_of_these");
    cli_tell_number(t, "prior", a->catalogue.none);
    cli_tell_number(t, "share", r->none);
    cli_tell_number(t, "share_sd", r->none_sd);
    cli_tell_number(t, "bayes_factor", slew_ranking_factor(&a->causes, r, -1));
    cli_tell_close(t);
}

static void tell_ranking(cli_teller *t, const cli_causes *a)
{
    char finding[512];
    const slew_diagnosis *d = &a->diagnosis;
    cli_ranking_finding(a, finding, sizeof finding);
    cli_tell_open(t, "seen");
    for (int i = 0; i < SLEW_OBSERVABLES; i++)
        if (!isnan(a->seen.value[i]))
            tell_sighting(t, &a->seen, i);
    cli_tell_close(t);
    cli_tell_boolean(t, "fits", d->fits);
    cli_tell_boolean(t, "fitted", a->scenario->fitted);
    cli_tell_text(t, "advice", cli_wants_fit(a) ? "fit" : d->fits ? "check" : "none fits");
    tell_none(t, a);
    cli_tell_text(t, "finding", finding);
    cli_tell_number(t, "doubt_bits", d->ranking.bits);
    cli_tell_open_list(t, "ranking");
    for (entry e = {.answer = a}; e.index < d->ranking.count; e.index++)
        cli_tell_record(t, NULL, tell_ranked, &e);
    cli_tell_close(t);
    cli_tell_open_list(t, "next");
    for (entry e = {.answer = a}; e.index < d->next_count; e.index++)
        cli_tell_record(t, NULL, tell_check, &e);
    cli_tell_close(t);
}

static void tell_left_out(cli_teller *t, const cli_causes *a)
{
    cli_tell_open_list(t, "left_out");
    for (int c = 0; c < a->causes.count; c++) {
        const slew_cause_state *state = &a->causes.state[c];
        if (slew_causes_counts(&a->causes, c))
            continue;
        cli_tell_open(t, NULL);
        cli_tell_text(t, "name", cli_cause_name(a, c));
        cli_tell_text(t, "key", state->idle ? NULL : state->reason.key);
        cli_tell_text(t, "reason",
                      state->idle ? "changes nothing on this scenario" : state->reason.message);
        cli_tell_close(t);
    }
    cli_tell_close(t);
}

void cli_causes_document(cli_teller *t, const void *what)
{
    const cli_causes *a = what;
    cli_tell_title(t, a->scenario);
    tell_provenance(t, a);
    cli_tell_integer(t, "refused", a->causes.refused);
    if (a->ranks)
        tell_ranking(t, a);
    else
        tell_causes(t, a);
    tell_left_out(t, a);
}
