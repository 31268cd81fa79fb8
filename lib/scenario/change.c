/* change.c - a changed key of a cause from its text; see change.h. */
#include "scenario/change.h"

#include <stdio.h>
#include <string.h>

#include "keys/text.h"
#include "keys/values.h"

static const char *const WAYS = "a value, or times, plus, minus or at least with an amount, for "
                                "example times 0.6, or plus 2 deg to 4 deg";

static const slew_key_row FACTOR = {.key = {.path = "times",
                                            .kind = SLEW_KEY_NUMBER,
                                            .quantity = "plain number",
                                            .unit = "",
                                            .low = -INFINITY,
                                            .high = INFINITY,
                                            .example = "0.6"}};

typedef struct parser {
    slew_reader *reader;
    slew_mark mark;
    const slew_key_row *row; /* of the key that is changed */
    slew_change *out;
} parser;

static bool refuse(const parser *p, const char *message)
{
    return slew_reader_refuse(p->reader, p->mark, p->row->key.path, message, WAYS);
}

/* ---- words between blanks ---- */

static const char *find_word(const char *text, const char *word)
{
    size_t length = strlen(word);
    for (const char *at = strstr(text, word); at != NULL; at = strstr(at + 1, word)) {
        bool begins = at == text || at[-1] == ' ', ends = at[length] == ' ' || at[length] == '\0';
        if (begins && ends)
            return at;
    }
    return NULL;
}

/* the text up to `end` (NULL: all of it) without blanks at its ends */
static void take(const char *text, const char *end, char part[SLEW_CHANGE_TEXT_MAX])
{
    char whole[SLEW_CHANGE_TEXT_MAX];
    size_t length = end ? (size_t)(end - text) : strlen(text);
    memcpy(whole, text, length);
    whole[length] = '\0';
    slew_text_trim(whole, part, sizeof whole);
}

/* ---- amounts ---- */

static bool read_amount(const parser *p, const char *text)
{
    slew_error error = {.status = SLEW_ERROR_INPUT};
    double *value = &p->out->amount[p->out->count];
    bool right;
    if (p->out->how == SLEW_CHANGE_TIMES)
        right = slew_value_read(&p->reader->units, &FACTOR, text, value, &error);
    else if (p->out->how == SLEW_CHANGE_PLUS)
        right = slew_difference_read(&p->reader->units, p->row, text, value, &error);
    else
        right = slew_value_read(&p->reader->units, p->row, text, value, &error);
    p->out->count++;
    if (right)
        return true;
    slew_say(error.key, sizeof error.key, "%s", p->row->key.path);
    slew_report_add(p->reader->errors, p->mark, &error);
    return false;
}

/* "A to B", or "A or B or C" */
static bool read_amounts(const parser *p, const char *text)
{
    const char *to = find_word(text, "to");
    char part[SLEW_CHANGE_TEXT_MAX];
    p->out->range = to != NULL;
    while (text != NULL) {
        const char *end = to != NULL ? to : find_word(text, "or");
        if (p->out->count == SLEW_AMOUNTS_MAX)
            return refuse(p, "more than 8 amounts");
        take(text, end, part);
        if (!read_amount(p, part))
            return false;
        text = end ? end + 2 : NULL;
        to = NULL;
        if (p->out->range && text != NULL && find_word(text, "to") != NULL)
            return refuse(p, "more than one range");
    }
    return true;
}

static bool check_amounts(const parser *p)
{
    slew_change *c = p->out;
    if (c->range && p->row->key.kind != SLEW_KEY_NUMBER)
        return refuse(p, "only numbers have a range");
    if (c->range && !(c->amount[0] < c->amount[1]))
        return refuse(p, "the range is the wrong way round");
    for (int i = 0; c->how == SLEW_CHANGE_TO && c->range && i < c->count; i++)
        if (!isfinite(c->amount[i]))
            return refuse(p, "a range has two ends");
    return true;
}

/* ---- what is changed ---- */

static bool read_base(const parser *p, const char *text)
{
    slew_change *c = p->out;
    c->base = *text == '\0' ? c->key : slew_key_find(text);
    if (c->base < 0) {
        slew_reader_unknown(p->reader, SLEW_LAYER_TODAY, text, p->mark);
        return false;
    }
    if (slew_key_at(c->base)->kind != SLEW_KEY_NUMBER || p->row->key.kind != SLEW_KEY_NUMBER)
        return refuse(p, "only a number can be changed by an amount");
    if (strcmp(slew_key_at(c->base)->quantity, p->row->key.quantity) != 0)
        return refuse(p, "the two keys are not of one kind");
    return true;
}

typedef struct verb {
    const char *word;
    slew_change_how how;
    bool minus;
} verb;

/* the first of the words that change a number, as it stands in the text; NULL: there is none */
static const char *find_verb(const char *text, verb *which)
{
    static const verb verbs[] = {{"times", SLEW_CHANGE_TIMES, false},
                                 {"plus", SLEW_CHANGE_PLUS, false},
                                 {"minus", SLEW_CHANGE_PLUS, true},
                                 {"at least", SLEW_CHANGE_LEAST, false}};
    const char *first = NULL;
    for (size_t i = 0; i < sizeof verbs / sizeof *verbs; i++) {
        const char *found = find_word(text, verbs[i].word);
        if (found == NULL || (first != NULL && found > first))
            continue;
        first = found;
        *which = verbs[i];
    }
    return first;
}

/* "60 mohm to 300 mohm over supply.feed.joints": the amounts without what they are shared over */
static bool read_over(const parser *p, const char *text, char amounts[SLEW_CHANGE_TEXT_MAX])
{
    const char *over = find_word(text, "over");
    char path[SLEW_CHANGE_TEXT_MAX];
    p->out->over = -1;
    take(text, over, amounts);
    if (over == NULL)
        return true;
    take(over + strlen("over"), NULL, path);
    if (p->out->how != SLEW_CHANGE_PLUS)
        return refuse(p, "only an amount that is added can be shared");
    p->out->over = slew_key_find(path);
    if (p->out->over < 0) {
        slew_reader_unknown(p->reader, SLEW_LAYER_TODAY, path, p->mark);
        return false;
    }
    return strcmp(slew_key_at(p->out->over)->quantity, FACTOR.key.quantity) == 0 ||
           refuse(p, "an amount is shared over a key that is a plain number");
}

/* the text of the amounts alone, with what stands before them read; false: said */
static bool read_verb(const parser *p, const char *text, char amounts[SLEW_CHANGE_TEXT_MAX],
                      bool *minus)
{
    char left[SLEW_CHANGE_TEXT_MAX];
    verb own;
    const char *at = find_verb(text, &own);
    if (at == NULL)
        return read_over(p, text, amounts);
    p->out->how = own.how;
    *minus = own.minus;
    take(text, at, left);
    return read_base(p, left) && read_over(p, at + strlen(own.word), amounts) &&
           (amounts[0] != '\0' || refuse(p, "no amount"));
}

bool slew_change_read(slew_reader *reader, const char *text, slew_mark mark, slew_change *out)
{
    parser p = {reader, mark, slew_key_row_at(out->key), out};
    char amounts[SLEW_CHANGE_TEXT_MAX];
    bool minus = false;
    out->how = SLEW_CHANGE_TO;
    out->base = out->over = -1;
    take(text, NULL, amounts);
    if (slew_key_find(amounts) >= 0) {
        out->how = SLEW_CHANGE_PLUS; /* another key as it is: plus nothing */
        out->count = 1;
        return read_base(&p, amounts);
    }
    if (!read_verb(&p, text, amounts, &minus) || !read_amounts(&p, amounts) || !check_amounts(&p))
        return false;
    for (int i = 0; minus && i < out->count; i++)
        out->amount[i] = -out->amount[i];
    return true;
}
