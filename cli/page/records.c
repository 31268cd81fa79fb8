/* records.c - the truck as the page gets it: keys with their values in SI, days, faults. */
#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "answer.h"
#include "slewtime/read.h"
#include "tell/provenance.h"

/* ---- the table of keys ---- */

static const char *kind_word(slew_key_kind kind)
{
    static const char *const words[] = {"number", "yes_no", "choice", "text", "list", "structure"};
    return words[kind];
}

/* what each word of a choice stands for, tried on `scratch` */
static slew_status read_words(int key, slew_scenario *scratch, cli_page_words *w)
{
    const slew_key *k = slew_key_at(key);
    slew_status status = SLEW_OK;
    char words[160], *rest = words;
    snprintf(words, sizeof words, "%s", k->kind == SLEW_KEY_CHOICE ? k->words : "");
    for (char *word; status == SLEW_OK && (word = strtok_r(NULL, "|", &rest)) != NULL;) {
        assert(w->count < CLI_PAGE_WORDS);
        status = slew_scenario_set(scratch, SLEW_LAYER_FILE, k->path, word, (slew_error_sink){0});
        w->word[w->count++] = (cli_page_word){key, slew_scenario_get_number(scratch, key)};
    }
    return status;
}

slew_status cli_page_read_words(cli_page_words *w)
{
    static slew_scenario scratch;
    slew_status status = SLEW_OK;
    slew_scenario_init(&scratch);
    for (int key = 0; key < slew_key_count() && status == SLEW_OK; key++)
        status = read_words(key, &scratch, w);
    return status;
}

static void tell_word_values(cli_teller *t, const cli_page_words *w, int key)
{
    cli_tell_open_list(t, "values");
    for (int i = 0; i < w->count; i++)
        if (w->word[i].key == key)
            cli_tell_number(t, NULL, w->word[i].value);
    cli_tell_close(t);
}

static void tell_key(cli_teller *t, const cli_page_words *words, int index)
{
    const slew_key *key = slew_key_at(index);
    cli_tell_open(t, NULL);
    cli_tell_text(t, "path", key->path);
    cli_tell_text(t, "kind", kind_word(key->kind));
    cli_tell_text(t, "quantity", key->quantity);
    cli_tell_text(t, "unit", key->unit);
    cli_tell_number(t, "low", key->low);
    cli_tell_number(t, "high", key->high);
    cli_tell_text(t, "default", key->default_text);
    cli_tell_text(t, "example", key->example);
    cli_tell_text(t, "words", key->words);
    tell_word_values(t, words, index);
    cli_tell_boolean(t, "layered", key->layered);
    cli_tell_text(t, "meaning", key->meaning);
    cli_tell_close(t);
}

static void tell_keys(cli_teller *t, const cli_page_words *words)
{
    cli_tell_open_list(t, "keys");
    for (int i = 0; i < slew_key_count(); i++)
        tell_key(t, words, i);
    cli_tell_close(t);
}

/* ---- the scenario ---- */

/* a key of a layer as a short list: its place in the table, its value */
static void tell_value(cli_teller *t, int key, double value)
{
    cli_tell_open_list(t, NULL);
    cli_tell_integer(t, NULL, key);
    if (isinf(value))
        cli_tell_text(t, NULL, "inf");
    else
        cli_tell_number(t, NULL, value);
    cli_tell_close(t);
}

/* of the stow point and the stored times only what is given */
static bool is_given(const slew_scenario *s, int key)
{
    const char *path = slew_key_at(key)->path;
    if (strncmp(path, "stow.point.", 11) == 0)
        return s->stow.has_point;
    if (strncmp(path, "stow.times.", 11) == 0)
        return s->stow.has_times;
    if (strncmp(path, "deploy.", 7) == 0)
        return s->deploy.given;
    return true;
}

static void tell_file(cli_teller *t, const slew_scenario *s)
{
    cli_tell_open_list(t, "file");
    for (int key = 0; key < slew_key_count(); key++) {
        double value = slew_scenario_get_number(s, key);
        if (!isnan(value) && is_given(s, key))
            tell_value(t, key, value);
    }
    cli_tell_close(t);
}

static void tell_layer(cli_teller *t, const slew_scenario *s, slew_layer_id id)
{
    const slew_layer *layer = slew_layer_at(s, id);
    cli_tell_open_list(t, slew_layer_word(id));
    for (int i = 0; i < layer->count; i++)
        tell_value(t, layer->item[i].key, layer->item[i].value);
    cli_tell_close(t);
}

static void tell_keepout(cli_teller *t, const slew_keepout *keepout)
{
    cli_tell_open_list(t, "keepout");
    for (int i = 0; i < keepout->count; i++) {
        const slew_keepout_box *box = &keepout->box[i];
        cli_tell_open(t, NULL);
        cli_tell_text(t, "name", box->name);
        cli_tell_number(t, "left", box->axis[SLEW_ROTATION].low);
        cli_tell_number(t, "right", box->axis[SLEW_ROTATION].high);
        cli_tell_number(t, "lower", box->axis[SLEW_ELEVATION].low);
        cli_tell_number(t, "upper", box->axis[SLEW_ELEVATION].high);
        cli_tell_close(t);
    }
    cli_tell_close(t);
}

static void tell_choices(cli_teller *t, const slew_deploy *deploy)
{
    cli_tell_open_list(t, "choices");
    for (int j = 0; j < SLEW_AXES; j++) {
        cli_tell_open_list(t, NULL);
        for (int i = 0; i < deploy->choice_count[j]; i++)
            cli_tell_number(t, NULL, deploy->choices[j][i]);
        cli_tell_close(t);
    }
    cli_tell_close(t);
}

/* ---- what varies ---- */

static const char *distribution_word(slew_distribution d)
{
    static const char *const words[] = {"uniform", "normal", "triangular", "table"};
    return words[d];
}

static void tell_variation(cli_teller *t, const slew_variation *v)
{
    cli_tell_open(t, NULL);
    cli_tell_integer(t, "key", v->key);
    cli_tell_text(t, "distribution", distribution_word(v->distribution));
    cli_tell_number(t, "low", v->low);
    cli_tell_number(t, "high", v->high);
    cli_tell_number(t, "mean", v->mean);
    cli_tell_number(t, "sd", v->sd);
    cli_tell_number(t, "mode", v->mode);
    cli_tell_open_list(t, "table");
    for (int i = 0; i < v->count; i++) {
        cli_tell_number(t, NULL, v->value[i]);
        cli_tell_number(t, NULL, v->weight[i]);
    }
    cli_tell_close(t);
    cli_tell_close(t);
}

static void tell_spread(cli_teller *t, const char *name, const slew_spread *spread)
{
    cli_tell_open_list(t, name);
    for (int i = 0; i < spread->count; i++)
        tell_variation(t, &spread->item[i]);
    cli_tell_close(t);
}

static void tell_correlations(cli_teller *t, const slew_correlations *all)
{
    cli_tell_open_list(t, "correlation");
    for (int i = 0; i < all->count; i++) {
        cli_tell_open_list(t, NULL);
        cli_tell_integer(t, NULL, all->item[i].key[0]);
        cli_tell_integer(t, NULL, all->item[i].key[1]);
        cli_tell_number(t, NULL, all->item[i].coefficient);
        cli_tell_close(t);
    }
    cli_tell_close(t);
}

/* ---- days ---- */

void cli_page_tell_day(cli_teller *t, const cli_page_day *day)
{
    if (!day->fits) {
        cli_tell_number(t, NULL, NAN);
        return;
    }
    cli_tell_open_list(t, NULL);
    for (int i = 0; i < day->count; i++) {
        cli_tell_integer(t, NULL, day->item[i].layer);
        cli_tell_integer(t, NULL, day->item[i].key);
        cli_tell_number(t, NULL, day->item[i].value);
    }
    cli_tell_close(t);
}

static void tell_days(cli_teller *t, const cli_page *p)
{
    cli_tell_open_list(t, "days");
    for (int i = 0; i < CLI_PAGE_DAYS; i++)
        cli_page_tell_day(t, &p->day[i]);
    cli_tell_close(t);
}

/* ---- all of it ---- */

void cli_page_document(cli_teller *t, const void *what)
{
    const cli_page *p = what;
    cli_tell_title(t, p->scenario);
    cli_tell_provenance(t, p->scenario, NULL, 0);
    cli_tell_text(t, "file_name", p->file);
    tell_keys(t, &p->words);
    tell_file(t, &p->plain);
    tell_layer(t, &p->plain, SLEW_LAYER_TEACH);
    tell_layer(t, &p->plain, SLEW_LAYER_TODAY);
    tell_layer(t, &p->plain, SLEW_LAYER_DEPLOY_DAY);
    tell_keepout(t, &p->scenario->keepout);
    tell_choices(t, &p->scenario->deploy);
    tell_spread(t, "truck", &p->scenario->truck);
    tell_spread(t, "day", &p->scenario->day);
    tell_correlations(t, &p->scenario->correlation);
    tell_days(t, p);
    cli_page_tell_exercise(t, &p->exercise);
}
