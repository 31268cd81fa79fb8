/* csv.c - a text of values between commas or semicolons, line by line, with the place of each
 * field. */
#include "scenario/csv.h"

#include <string.h>

#include "keys/text.h"

/* ---- lines ---- */

/* the line at csv->text without its break; moves past it */
static const char *take_line(slew_csv *csv, size_t *length)
{
    const char *line = csv->text, *at = line;
    while (at < csv->end && *at != '\n' && *at != '\r')
        at++;
    *length = (size_t)(at - line);
    if (at < csv->end && *at == '\r')
        at++;
    if (at < csv->end && *at == '\n' && (at == line + *length || at[-1] == '\r'))
        at++;
    csv->text = at;
    csv->line++;
    return line;
}

/* ---- fields ---- */

typedef struct line_reader {
    const char *start, *at, *end;
    char separator;
    slew_fields *out;
    slew_report *errors;
} line_reader;

static bool say(line_reader *r, const char *message, const char *expected)
{
    slew_error error = {.status = SLEW_ERROR_INPUT};
    slew_mark mark = {SLEW_FROM_FILE, r->out->line,
                      slew_utf8_count(r->start, (size_t)(r->at - r->start)) + 1};
    slew_say(error.message, sizeof error.message, "%s", message);
    slew_say(error.expected, sizeof error.expected, "%s", expected);
    slew_report_add(r->errors, mark, &error);
    return false;
}

static void skip_blanks(line_reader *r)
{
    while (r->at < r->end && slew_is_blank(*r->at))
        r->at++;
}

/* in quotes a doubled quote stands for one */
static bool take_quoted(line_reader *r, char *text)
{
    size_t length = 0;
    const char *at = r->at + 1;
    for (; at < r->end && !(*at == '"' && (at + 1 == r->end || at[1] != '"')); at++) {
        at += *at == '"';
        if (length + 1 < SLEW_FIELD_MAX)
            text[length++] = *at;
    }
    text[length] = '\0';
    if (at >= r->end)
        return say(r, "a quote that does not end in this line", "a second \"");
    r->at = at + 1;
    skip_blanks(r);
    if (r->at < r->end && *r->at != r->separator)
        return say(r, "text after the closing quote",
                   r->separator == ';' ? "a semicolon" : "a comma");
    return true;
}

static bool take_plain(line_reader *r, char *text)
{
    const char *end = r->at;
    while (end < r->end && *end != r->separator)
        end++;
    size_t length = (size_t)(end - r->at);
    while (length > 0 && slew_is_blank(r->at[length - 1]))
        length--;
    bool fits = length < SLEW_FIELD_MAX;
    if (!fits)
        say(r, "too long a field", "at most 95 characters");
    memcpy(text, r->at, fits ? length : 0);
    text[fits ? length : 0] = '\0';
    r->at = end;
    return fits;
}

static bool take_field(line_reader *r)
{
    slew_field spare = {.text = ""};
    slew_field *field = r->out->count < SLEW_FIELDS_MAX ? &r->out->field[r->out->count] : &spare;
    skip_blanks(r);
    field->mark = (slew_mark){SLEW_FROM_FILE, r->out->line,
                              slew_utf8_count(r->start, (size_t)(r->at - r->start)) + 1};
    r->out->count++;
    return r->at < r->end && *r->at == '"' ? take_quoted(r, field->text)
                                           : take_plain(r, field->text);
}

static void take_fields(line_reader *r)
{
    while (take_field(r) && r->at < r->end)
        r->at++; /* the separator */
}

/* spreadsheets of countries with a decimal comma write semicolons */
static char separator_of(const char *line, size_t length)
{
    bool semicolons = memchr(line, ';', length) != NULL && memchr(line, ',', length) == NULL;
    return semicolons ? ';' : ',';
}

bool slew_csv_next(slew_csv *csv, slew_fields *out, slew_report *errors)
{
    while (csv->text < csv->end) {
        size_t length;
        const char *line = take_line(csv, &length);
        line_reader r = {line, line, line + length, csv->separator, out, errors};
        out->line = csv->line;
        out->count = 0;
        skip_blanks(&r);
        if (r.at == r.end || *r.at == '#')
            continue;
        if (csv->separator == '\0')
            csv->separator = r.separator = separator_of(line, length);
        take_fields(&r);
        return true;
    }
    return false;
}
