/* records.c - the answers of `slewtime causes` as JSON and CSV. */
#include "answer.h"

#include <math.h>

#include "single/old_csv.h"
#include "single/old_json.h"
#include "slewtime/slewtime.h"

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

static bool is_told(const cli_causes *a, int cause)
{
    return slew_causes_counts(a->causes, cause) && (a->about < 0 || a->about == cause);
}

/* ---- CSV ---- */

static void write_origin(FILE *stream, const cli_causes *a)
{
    cli_provenance_csv(stream, a->scenario, a->sampling, a->causes->samples);
    fputc('\n', stream);
}

static void write_signature(FILE *stream, const cli_causes *a, int cause, int observable)
{
    char word[64];
    slew_signature s = cli_signature(a, cause, observable);
    bool is_word = slew_observable_words(observable) > 0;
    const slew_key *key = &slew_observable_at(observable)->key;
    cli_csv_text(stream, cli_cause_name(a, cause));
    fprintf(stream, ",%s,%s", key->path, is_word ? "" : key->unit);
    cli_csv_number(stream, s.readable);
    word_of(observable, s.word, word);
    fprintf(stream, ",%s", word);
    cli_csv_number(stream, is_word && s.word >= 0 ? s.share : NAN);
    cli_csv_number(stream, is_word ? NAN : in_unit(observable, s.low));
    cli_csv_number(stream, is_word ? NAN : in_unit(observable, s.mid));
    cli_csv_number(stream, is_word ? NAN : in_unit(observable, s.high));
    write_origin(stream, a);
}

static void write_signatures(FILE *stream, const cli_causes *a)
{
    fputs("cause,observable,unit,readable,word,word_share,p05,median,p95", stream);
    cli_provenance_csv_names(stream, a->sampling);
    fputc('\n', stream);
    for (int c = 0; c < a->causes->count; c++)
        for (int i = 0; i < SLEW_OBSERVABLES && is_told(a, c); i++)
            write_signature(stream, a, c, i);
}

/* every cause that counts; whether it fits is asked of the candidates alone */
static void write_ranking(FILE *stream, const cli_causes *a)
{
    const slew_diagnosis *d = a->diagnosis;
    fputs("rank,cause,share,fit_p,effective_samples", stream);
    cli_provenance_csv_names(stream, a->sampling);
    fputc('\n', stream);
    for (int i = 0; i < d->ranking.count; i++) {
        int cause = d->ranking.order[i];
        fprintf(stream, "%d,", i + 1);
        cli_csv_text(stream, cli_cause_name(a, cause));
        cli_csv_number(stream, d->ranking.share[cause]);
        cli_csv_number(stream, i < d->candidates ? d->fit[i] : NAN);
        cli_csv_number(stream, slew_ranking_effective(a->causes, &d->ranking, cause));
        write_origin(stream, a);
    }
}

void cli_causes_csv(FILE *stream, const void *what)
{
    const cli_causes *a = what;
    if (a->diagnosis != NULL)
        write_ranking(stream, a);
    else
        write_signatures(stream, a);
}

/* ---- JSON: signatures ---- */

static json_t *signature(const cli_causes *a, int cause, int observable)
{
    char word[64];
    slew_signature s = cli_signature(a, cause, observable);
    if (!(s.readable > 0))
        return json_null();
    if (slew_observable_words(observable) > 0) {
        word_of(observable, s.word, word);
        return json_pack("{s:f, s:s, s:f}", "readable", s.readable, "word", word, "share", s.share);
    }
    return json_pack("{s:f, s:s, s:o, s:o, s:o}", "readable", s.readable, "unit",
                     slew_observable_at(observable)->key.unit, "p05",
                     cli_json_number(in_unit(observable, s.low)), "median",
                     cli_json_number(in_unit(observable, s.mid)), "p95",
                     cli_json_number(in_unit(observable, s.high)));
}

static json_t *signatures(const cli_causes *a, int cause)
{
    json_t *all = json_object();
    for (int i = 0; i < SLEW_OBSERVABLES; i++)
        json_object_set_new(all, slew_observable_at(i)->key.path, signature(a, cause, i));
    return all;
}

static json_t *alike(const cli_causes *a, int cause)
{
    json_t *names = json_array();
    int count = a->causes->count;
    for (int other = 0; other < count; other++)
        if (other != cause && a->likeness[cause * count + other] >= SLEW_LOOKS_THE_SAME)
            json_array_append_new(names, json_string(cli_cause_name(a, other)));
    return names;
}

static json_t *cause_words(const cli_causes *a, int cause)
{
    const slew_cause *own = &a->catalogue->cause[cause];
    return json_pack("{s:s, s:s, s:o, s:o}", "name", own->name, "means", own->means, "prove",
                     cli_json_text(own->prove), "cure", cli_json_text(own->cure));
}

static json_t *told_causes(const cli_causes *a)
{
    json_t *list = json_array();
    for (int c = 0; c < a->causes->count; c++) {
        if (!is_told(a, c))
            continue;
        json_t *row = cause_words(a, c);
        json_object_set_new(row, "possible", json_integer(a->causes->state[c].possible));
        json_object_set_new(row, "looks_the_same_as", alike(a, c));
        json_object_set_new(row, "signature", signatures(a, c));
        json_array_append_new(list, row);
    }
    return list;
}

static json_t *left_out(const cli_causes *a)
{
    json_t *list = json_array();
    for (int c = 0; c < a->causes->count; c++) {
        const slew_cause_state *state = &a->causes->state[c];
        if (!slew_causes_counts(a->causes, c))
            json_array_append_new(
                list, json_pack("{s:s, s:o, s:s}", "name", cli_cause_name(a, c), "key",
                                cli_json_text(state->idle ? NULL : state->reason.key), "reason",
                                state->idle ? "changes nothing on this scenario"
                                            : state->reason.message));
    }
    return list;
}

/* ---- JSON: the ranking ---- */

static json_t *sightings(const cli_causes *a)
{
    json_t *all = json_object();
    for (int i = 0; i < SLEW_OBSERVABLES; i++) {
        char word[64];
        double value = a->seen->value[i];
        if (isnan(value))
            continue;
        word_of(i, (int)value, word);
        json_object_set_new(all, slew_observable_at(i)->key.path,
                            slew_observable_words(i) > 0
                                ? json_string(word)
                                : json_pack("{s:s, s:f, s:f}", "unit",
                                            slew_observable_at(i)->key.unit, "value",
                                            in_unit(i, value), "sd", in_unit(i, a->seen->sd[i])));
    }
    return all;
}

static json_t *ranked(const cli_causes *a)
{
    const slew_diagnosis *d = a->diagnosis;
    json_t *list = json_array();
    for (int i = 0; i < d->ranking.count; i++) {
        int cause = d->ranking.order[i];
        json_t *row = cause_words(a, cause);
        json_object_set_new(row, "share", json_real(d->ranking.share[cause]));
        json_object_set_new(row, "fit_p", cli_json_number(i < d->candidates ? d->fit[i] : NAN));
        json_object_set_new(row, "effective_samples",
                            json_real(slew_ranking_effective(a->causes, &d->ranking, cause)));
        json_array_append_new(list, row);
    }
    return list;
}

static json_t *expected(const cli_causes *a, int observable)
{
    const slew_diagnosis *d = a->diagnosis;
    json_t *all = json_object();
    for (int i = 0; i < d->candidates; i++)
        json_object_set_new(all, cli_cause_name(a, d->ranking.order[i]),
                            signature(a, d->ranking.order[i], observable));
    return all;
}

static json_t *next_checks(const cli_causes *a)
{
    const slew_diagnosis *d = a->diagnosis;
    json_t *list = json_array();
    for (int i = 0; i < d->next_count; i++)
        json_array_append_new(list, json_pack("{s:s, s:s, s:f, s:o}", "observable",
                                              slew_observable_at(d->next[i])->key.path, "meaning",
                                              slew_observable_at(d->next[i])->key.meaning, "bits",
                                              d->bits[i], "expected", expected(a, d->next[i])));
    return list;
}

static void add_ranking(json_t *whole, const cli_causes *a)
{
    char finding[512];
    cli_ranking_finding(a, finding, sizeof finding);
    json_object_set_new(whole, "seen", sightings(a));
    json_object_set_new(whole, "fits", json_boolean(a->diagnosis->fits));
    json_object_set_new(whole, "finding", json_string(finding));
    json_object_set_new(whole, "doubt_bits", json_real(a->diagnosis->ranking.bits));
    json_object_set_new(whole, "ranking", ranked(a));
    json_object_set_new(whole, "next", next_checks(a));
}

int cli_causes_json(const void *what)
{
    const cli_causes *a = what;
    json_t *whole =
        json_pack("{s:s, s:s}", "slewtime", slew_version(), "title", a->scenario->title);
    cli_provenance_json(whole, a->scenario, a->sampling, a->causes->samples);
    json_object_set_new(whole, "refused", json_integer(a->causes->refused));
    if (a->diagnosis != NULL)
        add_ranking(whole, a);
    else
        json_object_set_new(whole, "causes", told_causes(a));
    json_object_set_new(whole, "left_out", left_out(a));
    return cli_json_print(whole);
}
