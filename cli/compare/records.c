/* records.c - the figures of `slewtime compare`, for JSON and CSV. */
#include "single/records.h"
#include "answer.h"
#include "single/outcome_phrase.h"
#include "slewtime/slewtime.h"
#include "tell/caution.h"
#include "tell/csv.h"
#include "tell/provenance.h"

typedef struct row {
    const cli_comparison *comparison;
    int index;
} row;

static void tell_finding(cli_teller *t, const cli_compared_run *column)
{
    char phrase[CLI_PHRASE_MAX] = "can't be taught";
    if (column->runs)
        cli_outcome_phrase(&column->single, phrase);
    cli_tell_text(t, "finding", phrase);
}

/* what run tells of it, without the events; of one that can't be taught only what it is */
static void tell_column(cli_teller *t, const void *what)
{
    const row *r = what;
    const cli_comparison *c = r->comparison;
    const cli_compared_run *column = &c->columns.column[r->index];
    cli_tell_text(t, "column", (const char[]){column->letter, '\0'});
    cli_tell_text(t, "name", column->name);
    cli_tell_text(t, "file", column->path);
    if (t->in_full)
        tell_finding(t, column);
    cli_tell_text(t, "error", column->error.message);
    if (t->in_full) {
        cli_tell_text(t, "title", column->scenario.title);
        cli_tell_provenance(t, &column->scenario, NULL, 0);
    }
    cli_tell_figures_if(t, cli_tell_result, &column->single, column->runs);
    for (int k = 0; k < c->input_count && !t->in_full; k++)
        cli_tell_text(t, c->input[k].path, c->input[k].value[r->index]);
    if (!t->in_full)
        cli_tell_provenance(t, &column->scenario, NULL, 0);
}

void cli_compare_table(FILE *stream, const void *what)
{
    row r = {.comparison = what};
    for (; r.index < r.comparison->columns.count; r.index++)
        cli_csv_row(stream, r.index == 0, tell_column, &r);
}

static void tell_difference(cli_teller *t, const void *what)
{
    const row *r = what;
    const cli_input *input = &r->comparison->input[r->index];
    cli_tell_text(t, "path", input->path);
    cli_tell_open_list(t, "values");
    for (int i = 0; i < r->comparison->columns.count; i++)
        cli_tell_text(t, NULL, input->value[i]);
    cli_tell_close(t);
}

void cli_compare_document(cli_teller *t, const void *what)
{
    row r = {.comparison = what};
    char dangers[CLI_DANGERS_MAX];
    cli_compare_dangers(&r.comparison->columns, dangers);
    cli_tell_text(t, "slewtime", slew_version());
    cli_tell_caution(t, dangers);
    cli_tell_open_list(t, "differences");
    for (int i = 0; i < r.comparison->input_count; i++)
        cli_tell_record(t, NULL, tell_difference, &(row){what, i});
    cli_tell_close(t);
    cli_tell_open_list(t, "scenarios");
    for (; r.index < r.comparison->columns.count; r.index++)
        cli_tell_record(t, NULL, tell_column, &r);
    cli_tell_close(t);
}
