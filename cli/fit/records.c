/* records.c - the answer of `slewtime fit` as JSON and as CSV. */
#include "answer.h"
#include "single/old_csv.h"
#include "single/old_json.h"
#include "slewtime/slewtime.h"
#include "tell/provenance.h"

/* ---- CSV: a row for each reading ---- */

void cli_fit_csv(FILE *stream, const void *what)
{
    const cli_fit *a = what;
    char words[CLI_FIT_WORDS_MAX];
    fputs("line,row,measure,unit,measured,sd,simulated,off_sd,weight", stream);
    cli_provenance_csv_names(stream, NULL);
    fputc('\n', stream);
    for (int i = 0; i < a->fit.readings; i++) {
        const slew_fit_reading *r = &a->fit.reading[i];
        const slew_timing *row = &a->timings->row[r->row];
        cli_fit_row_words(row, words);
        fprintf(stream, "%d,", row->line);
        cli_csv_text(stream, words);
        fprintf(stream, ",%s,%s,%.9g,%.9g,%.9g,%.6g,%.6g", slew_measure_word(r->measure),
                slew_measure_unit(r->measure), r->measured, r->sd, r->simulated, r->off + 0.0,
                r->weight);
        cli_provenance_csv(stream, a->scenario, NULL, 0);
        fputc('\n', stream);
    }
}

/* ---- JSON ---- */

static json_t *value(int key, double si)
{
    return cli_json_number(cli_fit_in_unit(key, si));
}

static json_t *figure(const slew_fit_figure *f)
{
    return json_pack("{s:s, s:s, s:o, s:o, s:o, s:s, s:o, s:o, s:o}", "key", slew_fit_name(f->key),
                     "unit", cli_fit_unit(f->key), "scenario", value(f->key, f->start), "fitted",
                     value(f->key, f->value), "sd",
                     cli_json_number(cli_fit_difference(f->key, f->sd)), "sd_unit",
                     cli_fit_difference_unit(f->key), "low", value(f->key, f->low), "high",
                     value(f->key, f->high), "held_at",
                     cli_json_text(f->edge < 0   ? "low"
                                   : f->edge > 0 ? "high"
                                                 : NULL));
}

static json_t *figures(const slew_fit *fit)
{
    json_t *list = json_array();
    for (int j = 0; j < fit->figures; j++)
        json_array_append_new(list, figure(&fit->figure[j]));
    return list;
}

static json_t *correlation(const slew_fit *fit)
{
    json_t *rows = json_array();
    for (int a = 0; a < fit->figures; a++) {
        json_t *row = json_array();
        for (int b = 0; b < fit->figures; b++)
            json_array_append_new(row, cli_json_number(fit->correlation[a][b]));
        json_array_append_new(rows, row);
    }
    return rows;
}

static json_t *readings(const cli_fit *a)
{
    json_t *list = json_array();
    for (int i = 0; i < a->fit.readings; i++) {
        const slew_fit_reading *r = &a->fit.reading[i];
        char words[CLI_FIT_WORDS_MAX];
        cli_fit_row_words(&a->timings->row[r->row], words);
        json_array_append_new(
            list, json_pack("{s:i, s:s, s:s, s:s, s:o, s:o, s:o, s:o, s:o}", "line",
                            a->timings->row[r->row].line, "row", words, "measure",
                            slew_measure_word(r->measure), "unit", slew_measure_unit(r->measure),
                            "measured", cli_json_number(r->measured), "sd", cli_json_number(r->sd),
                            "simulated", cli_json_number(r->simulated), "off_sd",
                            cli_json_number(r->off), "weight", cli_json_number(r->weight)));
    }
    return list;
}

static json_t *blurs(const slew_fit *fit)
{
    json_t *list = json_array();
    for (int i = 0; i < fit->blurs; i++) {
        char words[CLI_FIT_WORDS_MAX];
        json_t *keys = json_object();
        for (int j = 0; j < fit->figures; j++)
            if (fit->blur[i].share[j] != 0)
                json_object_set_new(keys, slew_fit_name(fit->figure[j].key),
                                    cli_json_number(fit->blur[i].share[j]));
        cli_fit_blur_words(fit, i, words);
        json_array_append_new(list, json_pack("{s:s, s:o, s:o}", "words", words, "sd_share",
                                              cli_json_number(fit->blur[i].sd), "keys", keys));
    }
    return list;
}

json_t *cli_fit_row_json(const slew_timing *row)
{
    json_t *object = json_object();
    for (int i = 0; i < slew_timing_column_count(); i++) {
        char text[64];
        const slew_timing_column *c = slew_timing_column_at(i);
        slew_timing_format(row, i, text, sizeof text);
        if (text[0] != '\0')
            json_object_set_new(object, c->name, json_string(text));
    }
    return object;
}

static json_t *next(const slew_fit *fit)
{
    const slew_fit_next *n = &fit->next;
    if (!n->any)
        return json_null();
    return json_pack(
        "{s:o, s:s, s:o, s:s, s:o, s:s, s:o, s:s}", "row", cli_fit_row_json(&n->row), "measure",
        slew_measure_word(n->measure), "simulated", cli_json_number(n->simulated), "unit",
        slew_measure_unit(n->measure), "largest_sd_share", cli_json_number(n->before), "of",
        slew_fit_name(fit->figure[n->least].key), "largest_sd_share_after",
        cli_json_number(n->after), "of_after", slew_fit_name(fit->figure[n->least_after].key));
}

int cli_fit_json(const void *what)
{
    const cli_fit *a = what;
    const slew_fit *fit = &a->fit;
    char finding[CLI_FIT_WORDS_MAX];
    cli_fit_finding(a, finding);
    json_t *whole = json_pack("{s:s, s:s, s:s, s:s, s:b}", "slewtime", slew_version(), "title",
                              a->scenario->title, "readings_of", a->path, "finding", finding,
                              "robust", (int)a->robust);
    cli_provenance_json(whole, a->scenario, NULL, 0);
    json_object_set_new(whole, "figures", figures(fit));
    json_object_set_new(whole, "correlation", correlation(fit));
    json_object_set_new(whole, "chi_square", cli_json_number(fit->chi_square));
    json_object_set_new(whole, "degrees_of_freedom", cli_json_number(fit->freedom));
    json_object_set_new(whole, "chance", cli_json_number(fit->chance));
    json_object_set_new(whole, "scatter", cli_json_number(fit->scatter));
    json_object_set_new(whole, "sds_given", json_boolean(fit->sds_given));
    json_object_set_new(whole, "enlarged", cli_json_number(fit->enlarged));
    json_object_set_new(whole, "condition", cli_json_number(fit->condition));
    json_object_set_new(whole, "not_told", blurs(fit));
    json_object_set_new(whole, "next", next(fit));
    json_object_set_new(whole, "readings", readings(a));
    return cli_json_print(whole);
}
