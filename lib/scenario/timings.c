/* timings.c - a CSV of timed travels: header, rows, and what a row must hold. */
#include "slewtime/timing.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "keys/text.h"
#include "scenario/csv.h"
#include "scenario/document.h"
#include "scenario/source.h"
#include "scenario/timing_columns.h"

/* ---- measures ---- */

#define MEASURE_WORD(name, word, unit, sd) word,
#define MEASURE_UNIT(name, word, unit, sd) unit,
#define MEASURE_SD(name, word, unit, sd)   sd,

const char *slew_measure_word(slew_measure measure)
{
    static const char *const words[] = {SLEW_MEASURES(MEASURE_WORD)};
    return (unsigned)measure < SLEW_MEASURE_COUNT ? words[measure] : "?";
}

const char *slew_measure_unit(slew_measure measure)
{
    static const char *const units[] = {SLEW_MEASURES(MEASURE_UNIT)};
    return (unsigned)measure < SLEW_MEASURE_COUNT ? units[measure] : "?";
}

double slew_measure_sd(slew_measure measure)
{
    static const double sds[] = {SLEW_MEASURES(MEASURE_SD)};
    return (unsigned)measure < SLEW_MEASURE_COUNT ? sds[measure] : SLEW_NOT_GIVEN;
}

#define INPUT_SD(name, sd) sd,

double slew_input_sd(slew_input input)
{
    static const double sds[] = {SLEW_INPUTS(INPUT_SD)};
    return (unsigned)input < SLEW_INPUT_COUNT ? sds[input] : SLEW_NOT_GIVEN;
}

/* ---- saying what is wrong ---- */

typedef struct table {
    slew_report *errors;
    slew_timings *out;
    int columns;
    int column[SLEW_FIELDS_MAX]; /* which one stands there; -1: an unknown one */
    bool has[SLEW_COLUMNS];
    int blanks; /* rows in which nothing is measured */
} table;

static void say(table *t, slew_mark mark, const char *key, const char *message,
                const char *expected)
{
    slew_error error = {.status = SLEW_ERROR_INPUT};
    slew_say(error.key, sizeof error.key, "%s", key);
    slew_say(error.message, sizeof error.message, "%s", message);
    slew_say(error.expected, sizeof error.expected, "%s", expected);
    slew_report_add(t->errors, mark, &error);
}

static slew_mark line_mark(int line)
{
    return (slew_mark){SLEW_FROM_FILE, line, 1};
}

/* ---- header ---- */

static int find_column(const char *name)
{
    for (int i = 0; i < SLEW_COLUMNS; i++)
        if (strcmp(slew_timing_column_at(i)->name, name) == 0)
            return i;
    return -1;
}

/* all columns as "a | b | c" */
static void column_words(char *text, size_t size)
{
    size_t used = 0;
    for (int i = 0; i < SLEW_COLUMNS && used < size; i++)
        used += (size_t)snprintf(text + used, size - used, "%s%s", i > 0 ? " | " : "",
                                 slew_timing_column_at(i)->name);
}

/* the column that is the same but for its unit; -1: none */
static int same_but_for_unit(const char *name)
{
    const char *end = strrchr(name, '_');
    size_t stem = end != NULL ? (size_t)(end - name) : strlen(name);
    for (int i = 0; i < SLEW_COLUMNS; i++) {
        const slew_timing_column *c = slew_timing_column_at(i);
        if (c->unit[0] != '\0' && strlen(c->name) == stem + 1 + strlen(c->unit) &&
            strncmp(c->name, name, stem) == 0)
            return i;
    }
    return -1;
}

static void refuse_column(table *t, const slew_field *field)
{
    slew_error error = {.status = SLEW_ERROR_INPUT};
    char words[400], near[SLEW_PATH_MAX] = "";
    int other = same_but_for_unit(field->text);
    column_words(words, sizeof words);
    slew_say(error.message, sizeof error.message, "unknown column \"%.60s\"", field->text);
    if (strpbrk(field->text, ";\t") != NULL) {
        slew_say(error.expected, sizeof error.expected, "commas between the columns");
    } else if (other >= 0) {
        const slew_timing_column *c = slew_timing_column_at(other);
        slew_say(error.expected, sizeof error.expected, "it in %s: %s, %s", c->unit, c->name,
                 c->meaning);
        slew_say(near, sizeof near, "%s", c->name);
    } else {
        slew_say(error.expected, sizeof error.expected, "one of %s", words);
        slew_word_nearest(words, field->text, near);
    }
    slew_say(error.nearest, sizeof error.nearest, "%s", near);
    slew_report_add(t->errors, field->mark, &error);
}

static void read_name(table *t, const slew_field *field)
{
    int column = find_column(field->text);
    if (column < 0)
        refuse_column(t, field);
    else if (t->has[column])
        say(t, field->mark, field->text, "given twice", "");
    else
        t->has[column] = true;
    t->column[t->columns++] = column;
}

static void miss_columns(table *t, slew_mark mark)
{
    if (!t->has[SLEW_COLUMN_AXIS])
        say(t, mark, "axis", "the column is missing", "a column of rotation or elevation");
    if (!t->has[SLEW_COLUMN_DIRECTION])
        say(t, mark, "direction", "the column is missing", "a column of left, right, down, up");
    if (!t->has[SLEW_COLUMN_FROM] && !t->has[SLEW_COLUMN_FROM_DEG])
        say(t, mark, "from", "the column is missing",
            "a column of low_stop, high_stop or home, or from_deg with angles");
    if (!t->has[SLEW_COLUMN_SECONDS] && !t->has[SLEW_COLUMN_VOLTAGE] &&
        !t->has[SLEW_COLUMN_CURRENT])
        say(t, mark, "seconds_s", "no column has what was measured",
            "seconds_s, controller_V or current_A");
}

static void read_header(table *t, const slew_fields *fields)
{
    if (fields->count > SLEW_FIELDS_MAX) {
        say(t, line_mark(fields->line), "", "too many columns", "");
        return;
    }
    for (int i = 0; i < fields->count; i++)
        read_name(t, &fields->field[i]);
    if (t->errors->count == 0)
        miss_columns(t, line_mark(fields->line));
}

/* ---- rows ---- */

slew_timing slew_timing_default(void)
{
    slew_timing row = {.axis = SLEW_NO_AXIS,
                       .supply = SLEW_NOT_GIVEN,
                       .pressure = SLEW_NOT_GIVEN,
                       .temperature = SLEW_NOT_GIVEN,
                       .winding_rise = SLEW_NOT_GIVEN};
    for (slew_measure m = 0; m < SLEW_MEASURE_COUNT; m++)
        row.measured[m] = (slew_measured){SLEW_NOT_GIVEN, slew_measure_sd(m), false};
    for (slew_input i = 0; i < SLEW_INPUT_COUNT; i++)
        row.input_sd[i] = SLEW_NOT_GIVEN;
    return row;
}

static bool is_measured(const slew_timing *row, slew_measure measure)
{
    return !isnan(row->measured[measure].value);
}

/* the field of a column in this row; NULL: it is empty or there is no such column */
static const slew_field *field_of(const table *t, const slew_fields *fields, int column)
{
    for (int i = 0; i < t->columns && i < fields->count; i++)
        if (t->column[i] == column && fields->field[i].text[0] != '\0')
            return &fields->field[i];
    return NULL;
}

/* in the order of the table of columns, whatever that of the file */
static bool read_fields(table *t, const slew_fields *fields, slew_timing *row)
{
    bool right = true;
    for (int column = 0; column < SLEW_COLUMNS; column++) {
        const slew_field *field = field_of(t, fields, column);
        slew_error error = {.status = SLEW_ERROR_INPUT};
        if (field == NULL || slew_timing_read_field(column, field->text, row, &error))
            continue;
        slew_say(error.key, sizeof error.key, "%s", slew_timing_column_at(column)->name);
        slew_report_add(t->errors, field->mark, &error);
        right = false;
    }
    return right;
}

/* the first thing that such a row can't do without; NULL: it is whole */
static const char *lack_of(const table *t, const slew_fields *fields, const slew_timing *row,
                           const char **key)
{
    bool off = row->direction == 0;
    bool pressed = (row->from.kind == SLEW_PLACE_LOW_STOP && row->direction < 0) ||
                   (row->from.kind == SLEW_PLACE_HIGH_STOP && row->direction > 0);
    *key = "direction";
    if (field_of(t, fields, SLEW_COLUMN_DIRECTION) == NULL)
        return "no direction";
    *key = "axis";
    if (row->axis == SLEW_NO_AXIS && !off)
        return "no axis";
    *key = "from";
    if (field_of(t, fields, SLEW_COLUMN_FROM) && field_of(t, fields, SLEW_COLUMN_FROM_DEG))
        return "given as a word and as an angle";
    if (row->from.kind == SLEW_PLACE_NONE && !off)
        return "no place to start from";
    *key = "to";
    if (field_of(t, fields, SLEW_COLUMN_TO) && field_of(t, fields, SLEW_COLUMN_TO_DEG))
        return "given as a word and as an angle";
    if (row->to.kind == SLEW_PLACE_NONE && !off && !pressed)
        return "no place to go to";
    if (row->to.kind != SLEW_PLACE_NONE && off)
        return "with the drives off nothing goes anywhere";
    bool stored = row->to.kind == SLEW_PLACE_STOW_POINT;
    *key = "from";
    if (stored && row->from.kind != SLEW_PLACE_HOME)
        return "a stored time counts from home";
    *key = "seconds_s";
    if (stored &&
        (is_measured(row, SLEW_MEASURE_VOLTAGE) || is_measured(row, SLEW_MEASURE_CURRENT)))
        return "of a stored time there are seconds alone";
    if (is_measured(row, SLEW_MEASURE_SECONDS) && row->to.kind == SLEW_PLACE_NONE)
        return "seconds of a standstill";
    *key = "current_A";
    if (is_measured(row, SLEW_MEASURE_CURRENT) && off)
        return "with the drives off no drive draws a current";
    return NULL;
}

/* a line of a card that nobody has filled in: it tells nothing */
static bool is_blank(const slew_timing *row)
{
    for (slew_measure m = 0; m < SLEW_MEASURE_COUNT; m++)
        if (is_measured(row, m))
            return false;
    return true;
}

static const char *expected_of(const char *key)
{
    return strcmp(key, "direction") == 0 ? "left, right, down, up or off"
           : strcmp(key, "axis") == 0    ? "rotation or elevation"
           : strcmp(key, "from") == 0    ? "one of low_stop, high_stop and home, or from_deg"
           : strcmp(key, "to") == 0
               ? "one of low_stop, high_stop and home, or to_deg; none when it is pressed on the "
                 "stop that it starts from"
               : "an empty field";
}

static bool is_empty(const slew_fields *fields)
{
    for (int i = 0; i < fields->count; i++)
        if (fields->field[i].text[0] != '\0')
            return false;
    return true;
}

static void read_row(table *t, const slew_fields *fields)
{
    slew_timing row = slew_timing_default();
    row.line = fields->line;
    const char *key;
    char message[80];
    if (fields->count > t->columns) {
        snprintf(message, sizeof message, "%d fields, but %d columns in the header", fields->count,
                 t->columns);
        say(t, line_mark(fields->line), "", message, "a number with a decimal point, no comma");
        return;
    }
    if (is_empty(fields) || !read_fields(t, fields, &row))
        return;
    const char *lack = lack_of(t, fields, &row, &key);
    if (lack != NULL)
        say(t, line_mark(fields->line), key, lack, expected_of(key));
    else if (is_blank(&row))
        t->blanks++;
    else if (t->out->count == SLEW_TIMINGS_MAX)
        say(t, line_mark(fields->line), "", "more than 256 rows", "");
    else
        t->out->row[t->out->count++] = row;
}

/* ---- the whole text ---- */

static void read_rows(table *t, slew_csv *csv, slew_fields *fields)
{
    if (!slew_csv_next(csv, fields, t->errors)) {
        say(t, (slew_mark){SLEW_FROM_FILE, 1, 1}, "", "the file is empty",
            "a header of columns, then a row for each travel");
        return;
    }
    read_header(t, fields);
    if (t->errors->count > 0) /* with a wrong header every row would be wrong */
        return;
    int header = fields->line;
    while (!t->errors->more && slew_csv_next(csv, fields, t->errors))
        read_row(t, fields);
    if (t->errors->count > 0 || t->out->count > 0)
        return;
    if (t->blanks > 0)
        say(t, line_mark(header), "", "nothing is measured in any row",
            "a number in seconds_s, controller_V or current_A");
    else
        say(t, line_mark(header), "", "a header without rows", "a row for each travel below it");
}

static void read_text(table *t, const char *text, size_t length)
{
    slew_mark mark;
    slew_error error = {.status = SLEW_ERROR_INPUT};
    slew_fields fields;
    slew_csv csv = {text, text + length, 0, 0};
    if (slew_source_is_text(text, length, &mark, &error)) {
        read_rows(t, &csv, &fields);
        return;
    }
    slew_say(error.expected, sizeof error.expected, "a CSV text in UTF-8");
    slew_report_add(t->errors, mark, &error);
}

slew_status slew_timings_read_memory(const char *text, size_t length, const char *name,
                                     slew_error_sink errors, slew_timings *out)
{
    if (text == NULL || out == NULL)
        return SLEW_ERROR_INPUT;
    slew_sources sources = slew_document_sources(text, length, name);
    text = sources.text;
    length = sources.length;
    slew_report report = {.sources = &sources, .severity = SLEW_ERROR_INPUT};
    table t = {.errors = &report, .out = out};
    out->count = 0;
    read_text(&t, text, length);
    return slew_report_end(&report, errors);
}

slew_status slew_timings_read_file(const char *path, slew_error_sink errors, slew_timings *out)
{
    if (path == NULL || out == NULL)
        return SLEW_ERROR_INPUT;
    slew_error error = {.status = SLEW_ERROR_FILE};
    size_t length;
    char *text = slew_source_read(path, &length, &error);
    if (text == NULL) {
        slew_say(error.source, sizeof error.source, "%s", path);
        slew_say(error.expected, sizeof error.expected, "the path of a CSV file that can be read");
        if (errors.report != NULL && error.status != SLEW_ERROR_MEMORY)
            errors.report(errors.context, &error);
        return error.status;
    }
    slew_status status = slew_timings_read_memory(text, length, path, errors, out);
    free(text);
    return status;
}

void slew_timings_locate(const char *path, slew_error *error)
{
    if (path == NULL || error == NULL)
        return;
    size_t length;
    slew_error unread;
    char *text = slew_source_read(path, &length, &unread);
    slew_say(error->source, sizeof error->source, "%s", path);
    if (text == NULL)
        return;
    const char *start = slew_source_skip_mark(text, &length);
    slew_sources sources = {.name = path, .text = start, .length = length};
    if (error->line > 0)
        slew_report_place(&sources, line_mark(error->line), error);
    free(text);
}
