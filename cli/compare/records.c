/* records.c - the answer of `slewtime compare` for other software: JSON and CSV. */
#include <string.h>

#include "answer.h"
#include "single/figures.h"
#include "single/old_csv.h"
#include "single/old_json.h"
#include "single/outcome_phrase.h"
#include "slewtime/slewtime.h"
#include "tell/provenance.h"

/* ---- JSON ---- */

static json_t *difference(const cli_comparison *c, const cli_input *input)
{
    json_t *values = json_array();
    for (int i = 0; i < c->columns.count; i++)
        json_array_append_new(values, cli_json_text(input->value[i]));
    return json_pack("{s:s, s:o}", "path", input->path, "values", values);
}

static json_t *differences(const cli_comparison *c)
{
    json_t *list = json_array();
    for (int i = 0; i < c->input_count; i++)
        json_array_append_new(list, difference(c, &c->input[i]));
    return list;
}

static json_t *untaught(const cli_single *single)
{
    json_t *object = json_pack("{s:s}", "title", single->scenario.title);
    cli_provenance_json(object, &single->scenario, NULL, 0);
    return object;
}

/* what run has of it, without the events; of one that can't be taught only what it is */
static json_t *scenario(const cli_compared_run *column)
{
    const char letter[] = {column->letter, '\0'};
    char clause[CLI_PHRASE_MAX] = "can't be taught";
    if (column->runs)
        cli_outcome_phrase(column->single, " deg", clause);
    json_t *object = json_pack("{s:s, s:o, s:o, s:s, s:o}", "column", letter, "name",
                               cli_json_text(column->name), "file", cli_json_text(column->path),
                               "finding", clause, "error", cli_json_text(column->error.message));
    json_t *result = column->runs ? cli_json_result(column->single) : untaught(column->single);
    json_object_del(result, "slewtime");
    json_object_update(object, result);
    json_decref(result);
    return object;
}

int cli_compare_json(const void *comparison)
{
    const cli_comparison *c = comparison;
    json_t *scenarios = json_array();
    for (int i = 0; i < c->columns.count; i++)
        json_array_append_new(scenarios, scenario(&c->columns.column[i]));
    return cli_json_print(json_pack("{s:s, s:o, s:o}", "slewtime", slew_version(), "differences",
                                    differences(c), "scenarios", scenarios));
}

/* ---- CSV ---- */

static void write_head(FILE *stream, const cli_comparison *c)
{
    const cli_figure *figure;
    fputs("column,name,file,error", stream);
    for (int k = 0; (figure = cli_figure_at(k)) != NULL; k++)
        fprintf(stream, ",%s", figure->name);
    for (int k = 0; k < c->input_count; k++) {
        fputc(',', stream);
        cli_csv_text(stream, c->input[k].path);
    }
    cli_provenance_csv_names(stream, NULL);
    fputc('\n', stream);
}

static void write_figure(FILE *stream, const cli_figure *figure, const cli_single *single)
{
    double value = figure->number != NULL ? figure->number(single, figure->axis) : NAN;
    const char *word = figure->word != NULL ? figure->word(single) : NULL;
    fputc(',', stream);
    if (!isnan(value))
        fprintf(stream, "%.12g", value + 0.0);
    else if (word != NULL)
        fputs(word, stream);
}

static void write_row(FILE *stream, const cli_comparison *c, int index)
{
    const cli_compared_run *column = &c->columns.column[index];
    const cli_figure *figure;
    fprintf(stream, "%c,", column->letter);
    cli_csv_text(stream, column->name);
    fputc(',', stream);
    cli_csv_text(stream, column->path);
    fputc(',', stream);
    cli_csv_text(stream, column->error.message);
    for (int k = 0; (figure = cli_figure_at(k)) != NULL; k++)
        if (column->runs)
            write_figure(stream, figure, column->single);
        else
            fputc(',', stream);
    for (int k = 0; k < c->input_count; k++) {
        fputc(',', stream);
        cli_csv_text(stream, c->input[k].value[index]);
    }
    cli_provenance_csv(stream, &column->single->scenario, NULL, 0);
    fputc('\n', stream);
}

void cli_compare_csv(FILE *stream, const void *comparison)
{
    const cli_comparison *c = comparison;
    write_head(stream, c);
    for (int i = 0; i < c->columns.count; i++)
        write_row(stream, c, i);
}
