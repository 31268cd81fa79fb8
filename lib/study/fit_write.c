/* fit_write.c - fitted figures into the text of a scenario, read back to be sure. */
#include "slewtime/edit.h"
#include "slewtime/fit.h"

#include "motion/errors.h"
#include "scenario/source.h"
#include "scenario/text.h"
#include "scenario/values.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* digits written: of a value, whose sd is rarely below 1e-4 of it, and of that sd */
enum { VALUE_DIGITS = 7, SD_DIGITS = 3, TEXT_MAX = 160 };

/* the texts of one figure */
typedef struct written {
    int key;
    char value[64], spread[TEXT_MAX];
    slew_variation variation;
} written;

typedef struct writer {
    const slew_fit *fit;
    const slew_assignment *assignment;
    size_t assignment_count;
    slew_error *error;
    int count;
    written figure[SLEW_PARAMETERS_MAX];
    slew_scenario *expected, *read_back;
} writer;

static bool refuse(const writer *w, const char *key, const char *message, const char *expected)
{
    slew_motion_error(w->error, SLEW_ERROR_INPUT, key, message, expected);
    return false;
}

static bool no_memory(const writer *w)
{
    slew_motion_error(w->error, SLEW_ERROR_MEMORY, "", "memory is short", "");
    return false;
}

/* ---- figures as texts ---- */

static bool is_told(const slew_fit *fit, int figure)
{
    for (int i = 0; i < fit->blurs; i++)
        if (fit->blur[i].share[figure] != 0)
            return false;
    return !isinf(fit->figure[figure].sd);
}

static bool check_figure(const writer *w, int figure)
{
    const slew_fit_figure *f = &w->fit->figure[figure];
    if (f->edge != 0)
        return refuse(w, slew_fit_name(f->key),
                      "is held at the edge of its range, so its uncertainty is not known",
                      "a fit without this key, or other readings");
    return is_told(w->fit, figure) ||
           refuse(w, slew_fit_name(f->key), "is not told by the readings, so it is not written",
                  "a fit without this key, or more readings");
}

static void write_spread(written *out, const slew_key_row *row, double sd)
{
    char text[48];
    slew_units none = {0};
    slew_error error;
    slew_difference_print(row, sd, SD_DIGITS, text, sizeof text);
    snprintf(out->spread, sizeof out->spread, "{normal: {mean: %s, sd: %s}}", out->value, text);
    out->variation = (slew_variation){
        .key = out->key, .distribution = SLEW_NORMAL, .low = row->key.low, .high = row->key.high};
    slew_difference_read(&none, row, text, &out->variation.sd, &error);
}

static bool write_figures(writer *w)
{
    for (int j = 0; j < w->fit->figures; j++) {
        const slew_fit_figure *f = &w->fit->figure[j];
        written *out = &w->figure[w->count];
        if (f->key == SLEW_FIT_BIAS)
            continue;
        if (!check_figure(w, j))
            return false;
        *out = (written){.key = f->key};
        slew_value_print_digits(slew_key_row_at(f->key), f->value, VALUE_DIGITS, out->value,
                                sizeof out->value);
        write_spread(out, slew_key_row_at(f->key), f->sd);
        w->count++;
    }
    return true;
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
    *e = (edits){.edit = calloc(w->assignment_count + 2 * SLEW_PARAMETERS_MAX, sizeof *e->edit),
                 .room = malloc(room)};
    return e->edit != NULL && e->room != NULL;
}

static void list_edits(edits *e, const writer *w)
{
    char *room = e->room;
    for (size_t i = 0; i < w->assignment_count; i++)
        room = add_assignment(e, &w->assignment[i], room);
    for (int j = 0; j < w->count; j++) {
        const written *f = &w->figure[j];
        const char *path = slew_key_at(f->key)->path;
        e->edit[e->count++] = (slew_edit){"", path, f->value, false};
        e->edit[e->count++] = (slew_edit){"spread.truck", path, f->spread, true};
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
        no_memory(w);
    free(e.edit);
    free(e.room);
    return whole;
}

/* the comment in front, behind a byte order mark */
static char *head(const writer *w, char *text, const char *note)
{
    size_t length = strlen(text);
    const char *start = slew_source_skip_mark(text, &length);
    size_t size = strlen(text) + (note != NULL ? strlen(note) : 0) + 4;
    char *whole = note != NULL ? malloc(size) : text;
    if (note == NULL)
        return text;
    if (whole != NULL)
        snprintf(whole, size, "%.*s# %s\n%s", (int)(start - text), text, note, start);
    else
        no_memory(w);
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
    for (int j = 0; j < w->count; j++) {
        written *f = &w->figure[j];
        const char *path = slew_key_at(f->key)->path;
        int at = place_in(truck, f->key);
        if (slew_scenario_set(w->expected, SLEW_LAYER_FILE, path, f->value, (slew_error_sink){0}) !=
            SLEW_OK)
            return refuse(w, path, "the fitted value can't be written", "");
        if (at == SLEW_VARIATIONS_MAX)
            return refuse(w, "spread.truck", "has no room for more keys", "at most 32 keys");
        f->variation.mean = slew_scenario_get_number(w->expected, f->key);
        truck->item[at] = f->variation;
        truck->count += at == truck->count;
    }
    return true;
}

static bool reads_as_expected(writer *w, const char *before, const char *after)
{
    const slew_reading how = {.assignments = w->assignment,
                              .assignment_count = w->assignment_count};
    if (slew_scenario_read_memory(before, strlen(before), "", &how, w->expected) != SLEW_OK)
        return refuse(w, "", "the text is no scenario", "");
    if (!expect_figures(w))
        return false;
    if (slew_scenario_read_memory(after, strlen(after), "", NULL, w->read_back) == SLEW_OK &&
        slew_scenario_hash(w->read_back) == slew_scenario_hash(w->expected) &&
        strcmp(w->read_back->title, w->expected->title) == 0)
        return true;
    return refuse(w, "", "this file is written in a way in which values can't be put into it",
                  "the values written in by hand");
}

static char *write_checked(writer *w, const char *text, const char *note)
{
    char *whole = write_figures(w) ? edit(w, text) : NULL;
    whole = whole != NULL ? head(w, whole, note) : NULL;
    if (whole != NULL && reads_as_expected(w, text, whole))
        return whole;
    free(whole);
    return NULL;
}

char *slew_fit_write(const slew_fit *fit, const char *text, const slew_assignment *assignments,
                     size_t assignment_count, const char *note, slew_error *error)
{
    writer *w = calloc(1, sizeof *w);
    char *whole = NULL;
    if (w != NULL) {
        w->fit = fit;
        w->assignment = assignments;
        w->assignment_count = assignment_count;
        w->error = error;
        w->expected = malloc(sizeof *w->expected);
        w->read_back = malloc(sizeof *w->read_back);
    }
    if (w == NULL || w->expected == NULL || w->read_back == NULL)
        slew_motion_error(error, SLEW_ERROR_MEMORY, "", "memory is short", "");
    else
        whole = write_checked(w, text, note);
    if (w != NULL) {
        free(w->expected);
        free(w->read_back);
    }
    free(w);
    return whole;
}
