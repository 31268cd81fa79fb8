/* respread.c - a distribution from outside the file: "uniform 11 V..14 V", or as the file has it.
 */
#include <stdio.h>
#include <string.h>

#include "keys/text.h"
#include "scenario/reader.h"

enum { TEXT_MAX = 1024, FIGURES_MAX = 3 };

static const char *const EXPECTED =
    "uniform 11 V..14 V, normal 13 V +- 0.2 V, none, or as in a file {uniform: {low: 11 V, high: "
    "14 V}}";

/* ---- short forms ---- */

typedef struct form {
    const char *word, *between;
    const char *figure[FIGURES_MAX];
    int count;
} form;

static const form forms[] = {
    {"uniform", "..", {"low", "high"}, 2},
    {"triangular", "..", {"low", "mode", "high"}, 3},
    {"normal", "+-", {"mean", "sd"}, 2},
};

/* what follows the word and a blank; NULL: it is another word */
static const char *after_word(const char *text, const char *word)
{
    size_t length = strlen(word);
    return strncmp(text, word, length) == 0 && text[length] == ' ' ? text + length + 1 : NULL;
}

static void append(char yaml[TEXT_MAX], const char *format, const char *name, const char *text,
                   size_t length)
{
    size_t used = strlen(yaml);
    slew_say(yaml + used, TEXT_MAX - used, format, name, (int)length, text);
}

/* "11 V..14 V" as "{uniform: {low: 11 V, high: 14 V}}"; false: too few or too many figures */
static bool spell_figures(const form *f, const char *text, char yaml[TEXT_MAX])
{
    slew_say(yaml, TEXT_MAX, "{%s: {", f->word);
    for (int i = 0; i < f->count; i++) {
        const char *end = strstr(text, f->between);
        bool is_last = i == f->count - 1;
        if (is_last != (end == NULL))
            return false;
        append(yaml, is_last ? "%s: %.*s}}" : "%s: %.*s, ", f->figure[i], text,
               is_last ? strlen(text) : (size_t)(end - text));
        text = is_last ? text : end + strlen(f->between);
    }
    return true;
}

static bool spell_out(const char *text, char yaml[TEXT_MAX])
{
    const char *rest = after_word(text, "values");
    if (strlen(text) > TEXT_MAX / 2)
        return false;
    slew_say(yaml, TEXT_MAX, rest != NULL ? "{values: [%s]}" : "%s", rest != NULL ? rest : text);
    if (rest != NULL || text[0] == '{')
        return true;
    for (size_t i = 0; i < sizeof forms / sizeof *forms; i++)
        if ((rest = after_word(text, forms[i].word)) != NULL)
            return spell_figures(&forms[i], rest, yaml);
    return false;
}

/* ---- reading ---- */

/* every node stands where the value does */
static bool read_tree(const char *yaml, slew_mark mark, slew_tree *tree)
{
    slew_report own = {.severity = SLEW_ERROR_INPUT};
    bool right = slew_tree_read(tree, yaml, strlen(yaml), &own);
    slew_report_end(&own, (slew_error_sink){0});
    for (int i = 0; right && i < tree->count; i++)
        tree->node[i].mark = mark;
    return right;
}

static bool read_value(slew_reader *reader, int key, const char *value, slew_mark mark,
                       slew_variation *out)
{
    slew_tree tree = {0};
    char yaml[TEXT_MAX];
    bool right = false;
    if (spell_out(value, yaml) && read_tree(yaml, mark, &tree))
        right = slew_reader_variation(reader, &tree, key, 0, out);
    else
        slew_reader_refuse(reader, mark, slew_key_at(key)->path,
                           "not a distribution that can be read", EXPECTED);
    slew_tree_free(&tree);
    return right;
}

/* ---- changing the spread ---- */

static int place_of(const slew_spread *spread, int key)
{
    int at = 0;
    while (at < spread->count && spread->item[at].key != key)
        at++;
    return at;
}

static bool take_out(slew_spread *spread, slew_mark *marks, int key)
{
    int at = place_of(spread, key);
    if (at == spread->count)
        return false;
    spread->count--;
    for (int i = at; i < spread->count; i++) {
        spread->item[i] = spread->item[i + 1];
        marks[i] = marks[i + 1];
    }
    return true;
}

/* what does not vary goes together with nothing */
static void take_out_pairs(slew_correlations *all, slew_mark *marks, int key)
{
    int kept = 0;
    for (int i = 0; i < all->count; i++)
        if (all->item[i].key[0] != key && all->item[i].key[1] != key) {
            all->item[kept] = all->item[i];
            marks[kept++] = marks[i];
        }
    all->count = kept;
}

static void remove_key(slew_reader *reader, int key, slew_mark mark)
{
    slew_scenario *s = reader->scenario;
    bool of_truck = take_out(&s->truck, reader->marks.truck, key);
    bool of_day = take_out(&s->day, reader->marks.day, key);
    if (!of_truck && !of_day)
        slew_reader_refuse(reader, mark, slew_key_at(key)->path, "does not vary",
                           "a key of spread");
    take_out_pairs(&s->correlation, reader->marks.correlation, key);
}

static void put_key(slew_reader *reader, bool of_truck, const slew_variation *v, slew_mark mark)
{
    slew_spread *spread = of_truck ? &reader->scenario->truck : &reader->scenario->day;
    int at = place_of(spread, v->key);
    if (at == SLEW_VARIATIONS_MAX) {
        slew_reader_refuse(reader, mark, slew_key_at(v->key)->path, "more than 32 keys", "");
        return;
    }
    spread->item[at] = *v;
    (of_truck ? reader->marks.truck : reader->marks.day)[at] = mark;
    spread->count += at == spread->count;
}

void slew_reader_respread(slew_reader *reader, const char *path, slew_mark path_mark,
                          const char *value, slew_mark value_mark)
{
    const slew_scenario *s = reader->scenario;
    slew_variation variation;
    int known = slew_key_find(path);
    bool of_day = place_of(&s->day, known) < s->day.count;
    bool of_truck = !of_day && place_of(&s->truck, known) < s->truck.count;
    int key = slew_reader_varied_key(reader, path, path_mark, !of_truck);
    if (key < 0)
        return;
    if (strcmp(value, "none") == 0)
        remove_key(reader, key, path_mark);
    else if (read_value(reader, key, value, value_mark, &variation))
        put_key(reader, of_truck, &variation, value_mark);
}
