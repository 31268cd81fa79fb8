/* records.c - the figures of `slewtime fit`: for JSON, CSV and the picture. */
#include "answer.h"
#include "tell/caution.h"
#include "tell/csv.h"
#include "tell/provenance.h"
#include "tell/timing.h"

/* ---- one reading ---- */

typedef struct reading {
    const cli_fit *answer;
    int index;
} reading;

static void tell_reading(cli_teller *t, const void *what)
{
    const reading *own = what;
    const cli_fit *a = own->answer;
    const slew_fit_reading *r = &a->fit.reading[own->index];
    const slew_timing *row = &a->timings.row[r->row];
    char words[CLI_FIT_WORDS_MAX];
    cli_fit_row_words(row, SLEW_UNITS_SI, words);
    cli_tell_integer(t, "line", row->line);
    cli_tell_text(t, "row", words);
    cli_tell_text(t, "measure", slew_measure_word(r->measure));
    cli_tell_unit(t, "unit", slew_measure_unit(r->measure));
    cli_tell_number(t, "measured", r->measured);
    cli_tell_number(t, "sd", r->sd);
    cli_tell_number(t, "total_sd", r->total);
    cli_tell_number(t, "simulated", r->simulated);
    cli_tell_number(t, "off_sd", r->off);
    cli_tell_number(t, "weight", r->weight);
    if (!t->in_full)
        cli_tell_provenance(t, a->scenario, NULL, 0);
}

void cli_fit_table(FILE *stream, const void *what)
{
    const cli_fit *a = what;
    for (reading r = {.answer = a}; r.index < a->fit.readings; r.index++)
        cli_csv_row(stream, r.index == 0, tell_reading, &r);
}

/* ---- the figures ---- */

static void tell_figure(cli_teller *t, const void *what)
{
    static const char *const from[] = {"usual", "spread.truck", "stated"};
    const slew_fit_figure *f = what;
    cli_tell_text(t, "key", slew_fit_name(f->key));
    cli_tell_unit(t, "unit", cli_fit_unit(f->key));
    cli_tell_number(t, "scenario", cli_fit_in_unit(f->key, f->start));
    cli_tell_number(t, "fitted", cli_fit_in_unit(f->key, f->value));
    cli_tell_number(t, "sd", cli_fit_difference(f->key, f->sd));
    cli_tell_unit(t, "sd_unit", cli_fit_difference_unit(f->key));
    cli_tell_number(t, "low", cli_fit_in_unit(f->key, f->low));
    cli_tell_number(t, "high", cli_fit_in_unit(f->key, f->high));
    cli_tell_boolean(t, "asked", f->asked);
    cli_tell_number(t, "told", f->told);
    cli_tell_boolean(t, "assumed", f->told < SLEW_FIT_ASSUMED);
    cli_tell_text(t, "before_from", from[f->from]);
    cli_tell_number(t, "before", cli_fit_in_unit(f->key, f->mean));
    cli_tell_number(t, "before_sd", cli_fit_difference(f->key, f->before));
    cli_tell_text(t, "held_at", f->edge < 0 ? "low" : f->edge > 0 ? "high" : NULL);
}

static void tell_figures(cli_teller *t, const slew_fit *fit)
{
    cli_tell_open_list(t, "figures");
    for (int j = 0; j < fit->figures; j++)
        cli_tell_record(t, NULL, tell_figure, &fit->figure[j]);
    cli_tell_close(t);
    cli_tell_open_list(t, "correlation");
    for (int i = 0; i < fit->figures; i++) {
        cli_tell_open_list(t, NULL);
        for (int j = 0; j < fit->figures; j++)
            cli_tell_number(t, NULL, fit->correlation[i][j]);
        cli_tell_close(t);
    }
    cli_tell_close(t);
}

static void tell_blur(cli_teller *t, const slew_fit *fit, int blur)
{
    char words[CLI_FIT_WORDS_MAX];
    cli_fit_blur_words(fit, blur, words);
    cli_tell_open(t, NULL);
    cli_tell_text(t, "words", words);
    cli_tell_number(t, "sd_share", fit->blur[blur].sd);
    cli_tell_open(t, "keys");
    for (int j = 0; j < fit->figures; j++)
        if (fit->blur[blur].share[j] != 0)
            cli_tell_number(t, slew_fit_name(fit->figure[j].key), fit->blur[blur].share[j]);
    cli_tell_close(t);
    cli_tell_close(t);
}

static void tell_next(cli_teller *t, const slew_fit *fit)
{
    const slew_fit_next *n = &fit->next;
    cli_tell_open_if(t, "next", n->any);
    cli_tell_record(t, "row", cli_tell_timing, &n->row);
    cli_tell_text(t, "measure", slew_measure_word(n->measure));
    cli_tell_number(t, "simulated", n->simulated);
    cli_tell_unit(t, "unit", slew_measure_unit(n->measure));
    cli_tell_number(t, "largest_sd_left", n->before);
    cli_tell_text(t, "of", slew_fit_name(fit->figure[n->least].key));
    cli_tell_number(t, "largest_sd_left_after", n->after);
    cli_tell_text(t, "of_after", slew_fit_name(fit->figure[n->least_after].key));
    cli_tell_close(t);
}

static void tell_scatter(cli_teller *t, const slew_fit *fit)
{
    static const char *const words[SLEW_INSTRUMENTS] = {"stopwatch", "voltmeter", "clamp",
                                                        "stored_times"};
    cli_tell_open(t, "scatter");
    for (int m = 0; m < SLEW_INSTRUMENTS; m++)
        cli_tell_number(t, words[m],
                        fit->instrument[m].readings > 0 ? fit->instrument[m].scatter : NAN);
    cli_tell_close(t);
}

static void tell_culprit(cli_teller *t, const slew_fit_culprit *c)
{
    cli_tell_open_if(t, "explained_by", c->any);
    cli_tell_text(t, "key", slew_fit_name(c->key));
    cli_tell_unit(t, "unit", cli_fit_unit(c->key));
    cli_tell_number(t, "value", cli_fit_in_unit(c->key, c->value));
    cli_tell_number(t, "chi_square_fall", c->fall);
    cli_tell_close(t);
}

/* ---- the document ---- */

void cli_fit_document(cli_teller *t, const void *what)
{
    const cli_fit *a = what;
    const slew_fit *fit = &a->fit;
    cli_tell_title(t, a->scenario);
    cli_tell_text(t, "readings_of", a->path);
    cli_tell_text(t, "finding", a->finding);
    cli_tell_caution(t, cli_fit_dangers(a));
    cli_tell_boolean(t, "robust", a->question.robust);
    cli_tell_provenance(t, a->scenario, NULL, 0);
    tell_figures(t, fit);
    cli_tell_number(t, "chi_square", fit->chi_square);
    cli_tell_number(t, "degrees_of_freedom", fit->freedom);
    cli_tell_number(t, "chance", fit->chance);
    tell_scatter(t, fit);
    cli_tell_boolean(t, "sds_given", fit->sds_given);
    tell_culprit(t, &fit->culprit);
    cli_tell_open_list(t, "not_told");
    for (int i = 0; i < fit->blurs; i++)
        tell_blur(t, fit, i);
    cli_tell_close(t);
    tell_next(t, fit);
    cli_tell_open_list(t, "readings");
    for (reading r = {.answer = a}; r.index < fit->readings; r.index++)
        cli_tell_record(t, NULL, tell_reading, &r);
    cli_tell_close(t);
}
