/* fit_write.c - fitted figures into the text of a scenario, read back to be sure. */
#include "study/fit/fit_written.h"

#include "slewtime/edit.h"

#include "error/error.h"
#include "keys/text.h"
#include "keys/values.h"
#include "scenario/source.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* A figure that followed from a motor's data sheet, and stays what the fit ran on. */
typedef struct settled {
    int key;
    char value[48];
} settled;

enum { SETTLED_MAX = 5 * SLEW_AXES, SETTLED_DIGITS = 12 };

typedef struct writer {
    const slew_assignment *assignment;
    size_t assignment_count;
    slew_error *error;
    slew_written written;
    int settled_count;
    settled settled[SETTLED_MAX];
    bool given[SLEW_KEYS_MAX]; /* by the text and the assignments */
    slew_scenario *expected, *read_back;
} writer;

static bool refuse(const writer *w, const char *key, const char *message, const char *expected)
{
    slew_refuse(w->error, key, message, expected);
    return false;
}

/* what a reading without errors of its own says: that memory is short, or this */
static bool refuse_status(const writer *w, slew_status status, const char *key, const char *message,
                          const char *expected)
{
    if (status == SLEW_ERROR_MEMORY)
        slew_no_memory(w->error);
    else
        slew_refuse(w->error, key, message, expected);
    return false;
}

/* ---- the text ---- */

typedef struct edits {
    int count;
    slew_edit *edit;
    char *room; /* for the parts of assignments */
} edits;

/* "PATH=VALUE" taken apart into `room`; returns the room that is left */
static char *add_assignment(edits *e, const slew_assignment *a, char *room)
{
    size_t length = strlen(a->text), name = strcspn(a->text, "=");
    char *path = room, *value = room + length + 1;
    snprintf(value, length + 1, "%.*s", (int)name, a->text);
    slew_text_trim(value, path, length + 1);
    const slew_key *key = slew_key_at(slew_key_find(path));
    const char *given = a->text + name + (a->text[name] == '=');
    given += strspn(given, " ");
    bool list = key != NULL && key->kind == SLEW_KEY_LIST, open = list && *given != '[';
    snprintf(value, length + 3, "%s%s%s", open ? "[" : "", given, open ? "]" : "");
    e->edit[e->count++] = (slew_edit){slew_layer_word(a->layer), path, value, list};
    return value + length + 3;
}

static bool open_edits(edits *e, const writer *w)
{
    size_t room = 1;
    for (size_t i = 0; i < w->assignment_count; i++)
        room += 2 * strlen(w->assignment[i].text) + 8;
    size_t count = w->assignment_count + 2 * SLEW_PARAMETERS_MAX + SLEW_CORRELATIONS_MAX;
    count += SETTLED_MAX + 1; /* and that it is fitted */
    *e = (edits){.edit = calloc(count, sizeof *e->edit), .room = malloc(room)};
    return e->edit != NULL && e->room != NULL;
}

static void list_edits(edits *e, const writer *w)
{
    char *room = e->room;
    for (size_t i = 0; i < w->assignment_count; i++)
        room = add_assignment(e, &w->assignment[i], room);
    e->edit[e->count++] = (slew_edit){"", "fitted", "yes", false};
    for (int i = 0; i < w->settled_count; i++)
        e->edit[e->count++] =
            (slew_edit){"", slew_key_at(w->settled[i].key)->path, w->settled[i].value, false};
    for (int j = 0; j < w->written.figures; j++) {
        const slew_written_figure *f = &w->written.figure[j];
        const char *path = slew_key_at(f->key)->path;
        e->edit[e->count++] = (slew_edit){"", path, f->value, false};
        e->edit[e->count++] = (slew_edit){"spread.truck", path, f->spread, true};
    }
    for (int i = 0; i < w->written.pairs; i++) {
        const slew_written_pair *p = &w->written.pair[i];
        e->edit[e->count++] = p->there ? (slew_edit){p->group, "coefficient", p->text, false}
                                       : (slew_edit){"spread.correlation", "+", p->text, true};
    }
}

static char *edit(const writer *w, const char *text)
{
    edits e;
    char *whole = NULL;
    if (open_edits(&e, w)) {
        list_edits(&e, w);
        whole = slew_scenario_edit(text, e.edit, e.count, w->error);
    } else
        slew_no_memory(w->error);
    free(e.edit);
    free(e.room);
    return whole;
}

/* the comment, one line, in front, behind a byte order mark */
static char *head(const writer *w, char *text, const char *note)
{
    char line[1200];
    size_t length = strlen(text), size = length + sizeof line + 4;
    const char *start = slew_source_skip_mark(text, &length);
    if (note == NULL)
        return text;
    char *whole = malloc(size);
    slew_say(line, sizeof line, "%s", note);
    if (whole != NULL)
        snprintf(whole, size, "%.*s# %s\n%s", (int)(start - text), text, line, start);
    else
        slew_no_memory(w->error);
    free(text);
    return whole;
}

/* ---- read back ---- */

static int place_in(const slew_spread *spread, int key)
{
    int i = 0;
    while (i < spread->count && spread->item[i].key != key)
        i++;
    return i;
}

static bool expect_figures(writer *w)
{
    slew_spread *truck = &w->expected->truck;
    w->expected->fitted = true;
    for (int j = 0; j < w->written.figures; j++) {
        slew_written_figure *f = &w->written.figure[j];
        const char *path = slew_key_at(f->key)->path;
        int at = place_in(truck, f->key);
        if (place_in(&w->expected->day, f->key) < w->expected->day.count)
            return refuse(w, path, "is drawn anew every day by spread.day, so it is not written",
                          "spread.day without this key, or a fit without it");
        slew_status status =
            slew_scenario_set(w->expected, SLEW_LAYER_FILE, path, f->value, (slew_error_sink){0});
        if (status != SLEW_OK)
            return refuse_status(w, status, path, "the fitted value can't be written", "");
        if (at == SLEW_VARIATIONS_MAX)
            return refuse(w, "spread.truck", "has no room for more keys", "at most 32 keys");
        f->variation.mean = slew_scenario_get_number(w->expected, f->key);
        truck->item[at] = f->variation;
        truck->count += at == truck->count;
    }
    return true;
}

static bool is_fitted(const writer *w, int key)
{
    for (int j = 0; j < w->written.figures; j++)
        if (w->written.figure[j].key == key)
            return true;
    return false;
}

/* Another figure of the data sheet's axis in the text would let what follows from the sheet come
 * out otherwise than the fit had it: so that is written too. */
static bool settle(writer *w)
{
    for (int key = 0; key < slew_key_count() && w->settled_count < SETTLED_MAX; key++) {
        slew_effect effect = slew_key_row_at(key)->effect;
        bool follows = effect == SLEW_EFFECT_MOTOR || effect == SLEW_EFFECT_INERTIA;
        if (!follows || w->given[key] || is_fitted(w, key))
            continue;
        settled *s = &w->settled[w->settled_count++];
        s->key = key;
        slew_value_print_digits(slew_key_row_at(key), slew_scenario_get_number(w->expected, key),
                                SETTLED_DIGITS, s->value, sizeof s->value);
        if (slew_scenario_set(w->expected, SLEW_LAYER_FILE, slew_key_at(key)->path, s->value,
                              (slew_error_sink){0}) != SLEW_OK)
            return refuse(w, slew_key_at(key)->path, "what follows can't be written", "");
    }
    return true;
}

static bool expect_pairs(writer *w)
{
    slew_correlations *all = &w->expected->correlation;
    for (int i = 0; i < w->written.pairs; i++) {
        const slew_written_pair *p = &w->written.pair[i];
        int at = p->there ? p->place : all->count;
        if (at == SLEW_CORRELATIONS_MAX)
            return refuse(w, "spread.correlation", "has no room for more pairs", "at most 128");
        if (p->there)
            all->item[at].coefficient = p->correlation.coefficient;
        else
            all->item[all->count++] = p->correlation;
    }
    return true;
}

static bool read_before(writer *w, const char *text)
{
    const slew_reading how = {
        .assignments = w->assignment, .assignment_count = w->assignment_count, .given = w->given};
    slew_status status = slew_scenario_read_memory(text, strlen(text), "", &how, w->expected);
    return status == SLEW_OK || refuse_status(w, status, "", "the text is no scenario", "");
}

static bool reads_as_expected(writer *w, const char *text)
{
    slew_status status = slew_scenario_read_memory(text, strlen(text), "", NULL, w->read_back);
    if (status == SLEW_OK && slew_scenario_hash(w->read_back) == slew_scenario_hash(w->expected) &&
        strcmp(w->read_back->title, w->expected->title) == 0)
        return true;
    return refuse_status(w, status, "",
                         "this file is written in a way in which values can't be put into it",
                         "the values written in by hand");
}

static char *write_checked(writer *w, const slew_fit *fit, const char *text, const char *note)
{
    if (!read_before(w, text) ||
        slew_written_fill(fit, &w->expected->correlation, &w->written, w->error) != SLEW_OK ||
        !expect_figures(w) || !settle(w) || !expect_pairs(w))
        return NULL;
    char *whole = edit(w, text);
    whole = whole != NULL ? head(w, whole, note) : NULL;
    if (whole != NULL && reads_as_expected(w, whole))
        return whole;
    free(whole);
    return NULL;
}

char *slew_fit_write(const slew_fit *fit, const char *text, const slew_assignment *assignments,
                     size_t assignment_count, const char *note, slew_error *error)
{
    if (fit == NULL || text == NULL || (assignments == NULL && assignment_count > 0)) {
        slew_no_argument(error);
        return NULL;
    }
    writer *w = calloc(1, sizeof *w);
    char *whole = NULL;
    if (w != NULL) {
        w->assignment = assignments;
        w->assignment_count = assignment_count;
        w->error = error;
        w->expected = malloc(sizeof *w->expected);
        w->read_back = malloc(sizeof *w->read_back);
    }
    if (w == NULL || w->expected == NULL || w->read_back == NULL)
        slew_no_memory(error);
    else
        whole = write_checked(w, fit, text, note);
    if (w != NULL) {
        free(w->expected);
        free(w->read_back);
    }
    free(w);
    return whole;
}
