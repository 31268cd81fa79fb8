/* compared_runs.c - see compared_runs.h. */
#include "compared_runs.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "line/exit_code.h"
#include "line/report.h"
#include "tell/utf8.h"

static const char command_name[] = "compare";

/* ---- which columns ---- */

static int count_columns(const cli_options *options)
{
    return options->operand_count > 1 ? options->operand_count : 1 + options->group_count;
}

static int check(const cli_options *options)
{
    cli_complaint complaint = {.help = command_name};
    int count = count_columns(options);
    if (options->operand_count > 1 && options->group_count > 0) {
        complaint.expected = "several scenarios, or one with --beside NAME";
        return cli_complain(&complaint, "--beside goes with one scenario, not with %d",
                            options->operand_count);
    }
    if (count < 2) {
        complaint.expected = "one more scenario, or --beside NAME --set PATH=VALUE";
        return cli_complain(&complaint, "compare needs two: %s stands alone", options->operand[0]);
    }
    if (count > CLI_COLUMNS_MAX) {
        complaint.expected = "2 to 6 of them";
        return cli_complain(&complaint, "compare sets at most %d side by side, not %d",
                            CLI_COLUMNS_MAX, count);
    }
    for (int i = 0; i < options->group_count; i++)
        if (options->group[i].name[0] == '\0') {
            complaint.expected = "what its column is called, for example --beside 'thicker cable'";
            return cli_complain(&complaint, "--beside has no name");
        }
    return CLI_OK;
}

/* ---- their names and options ---- */

/* the first letters of a text, on one line */
static void set_name(cli_compared_run *column, const char *text, size_t length)
{
    char *name = column->name;
    if (length > (size_t)cli_utf8_cut(text, CLI_COLUMN_LETTERS))
        length = (size_t)cli_utf8_cut(text, CLI_COLUMN_LETTERS);
    snprintf(name, sizeof column->name, "%.*s", (int)length, text);
    for (; *name != '\0'; name++)
        if ((unsigned char)*name < ' ' || *name == 0x7F)
            *name = ' ';
}

/* a file without directory and ending */
static void name_by_file(cli_compared_run *column)
{
    const char *slash = strrchr(column->path, '/');
    const char *name = slash != NULL && slash[1] != '\0' ? slash + 1 : column->path;
    const char *point = strrchr(name, '.');
    set_name(column, name, point != NULL && point != name ? (size_t)(point - name) : strlen(name));
}

/* the assignments before the first group hold for all; those of a group come after them */
static bool take_assignments(cli_compared_run *column, const cli_options *options, int group)
{
    const cli_group *groups = options->group;
    size_t shared = options->group_count > 0 ? groups[0].first : options->assignment_count;
    size_t from = group >= 0 ? groups[group].first : shared;
    size_t end = group < 0                          ? shared
                 : group + 1 < options->group_count ? groups[group + 1].first
                                                    : options->assignment_count;
    size_t own = end - from;
    slew_assignment *all = calloc(shared + own + 1, sizeof *all);
    column->origin = calloc(own + 1, sizeof *column->origin);
    column->options.assignment = all;
    column->options.assignment_count = shared + own;
    /* analyzer: no leak, both are the column's: cli_compared_runs_free */
    if (all == NULL || column->origin == NULL)
        return false;
    memcpy(all, options->assignment, shared * sizeof *all);
    for (size_t i = 0; i < own; i++) {
        all[shared + i] = options->assignment[from + i];
        snprintf(column->origin[i], CLI_GIVEN_BY_MAX, "--beside %.*s %s",
                 cli_utf8_cut(column->name, 30), column->name, all[shared + i].origin);
        all[shared + i].origin = column->origin[i];
    }
    return true;
}

static bool set_up(cli_compared_run *column, const cli_options *options, int index)
{
    int operand = options->operand_count > 1 ? index : 0;
    int group = options->operand_count > 1 ? -1 : index - 1;
    column->letter = (char)('A' + index);
    column->path = options->operand[operand];
    column->options = *options;
    column->options.operand = &options->operand[operand];
    column->options.operand_count = 1;
    column->options.assignment = NULL;
    column->single.scenario = &column->scenario;
    if (group >= 0)
        set_name(column, options->group[group].name, strlen(options->group[group].name));
    else
        name_by_file(column);
    return take_assignments(column, options, group);
}

/* ---- reading: what was warned of once is not warned of again ---- */

enum { TOLD_MAX = 64 };

typedef struct told {
    int count;
    slew_error warning[TOLD_MAX];
} told;

static bool is_same(const slew_error *a, const slew_error *b)
{
    return a->line == b->line && a->column == b->column && strcmp(a->source, b->source) == 0 &&
           strcmp(a->key, b->key) == 0 && strcmp(a->message, b->message) == 0 &&
           strcmp(a->excerpt, b->excerpt) == 0;
}

static void tell_once(void *context, const slew_error *warning)
{
    told *before = context;
    for (int i = 0; i < before->count; i++)
        if (is_same(&before->warning[i], warning))
            return;
    if (before->count < TOLD_MAX)
        before->warning[before->count++] = *warning;
    cli_report_warning(warning);
}

static int read_all(cli_compared_runs *columns, bool quiet)
{
    told *before = calloc(1, sizeof *before);
    const slew_error_sink warnings = {quiet ? NULL : tell_once, before};
    int code = before != NULL ? CLI_OK : cli_no_memory();
    for (int i = 0; i < columns->count && code == CLI_OK; i++)
        code = cli_read_scenario_and(&columns->column[i].options, warnings,
                                     &columns->column[i].scenario);
    free(before);
    return code;
}

/* ---- running ---- */

static int run(cli_compared_run *column, bool with_samples)
{
    cli_single *single = &column->single;
    single->parts = cli_wanted_parts(&column->options);
    slew_status status = cli_single_try(single, &column->options, &column->error);
    column->runs = status == SLEW_OK;
    if (column->runs)
        return cli_single_play(single, with_samples);
    if (status == SLEW_ERROR_TEACH)
        return CLI_OK;
    cli_report_error(&column->error);
    return cli_code(status);
}

/* a column before this one can't be taught for the same reason */
static bool is_told(const cli_compared_runs *columns, int index)
{
    for (int i = 0; i < index; i++)
        if (is_same(&columns->column[i].error, &columns->column[index].error))
            return true;
    return false;
}

static int tell_untaught(const cli_compared_runs *columns, bool quiet)
{
    int running = 0;
    for (int i = 0; i < columns->count; i++)
        running += columns->column[i].runs;
    for (int i = 0; i < columns->count; i++) {
        const cli_compared_run *column = &columns->column[i];
        if (column->runs || is_told(columns, i))
            continue;
        if (running == 0)
            cli_report_error(&column->error);
        else if (!quiet)
            cli_report_warning(&column->error);
    }
    return running > 0 ? CLI_OK : CLI_WRONG;
}

int cli_compared_runs_run(cli_compared_runs *columns, const cli_options *options, bool with_samples)
{
    int code = check(options);
    if (code != CLI_OK)
        return code;
    columns->count = count_columns(options);
    for (int i = 0; i < columns->count; i++)
        if (!set_up(&columns->column[i], options, i))
            return cli_no_memory();
    code = read_all(columns, options->quiet);
    for (int i = 0; i < columns->count && code == CLI_OK; i++)
        code = run(&columns->column[i], with_samples);
    return code == CLI_OK ? tell_untaught(columns, options->quiet) : code;
}

void cli_compared_runs_free(cli_compared_runs *columns)
{
    for (int i = 0; i < columns->count; i++) {
        cli_compared_run *column = &columns->column[i];
        free(column->options.assignment);
        free(column->origin);
        cli_single_free(&column->single);
    }
}

/* ---- asking ---- */

slew_outcome cli_compared_run_outcome(const cli_compared_run *column)
{
    const cli_single *single = &column->single;
    if (!column->runs)
        return SLEW_OUTCOME_UNTAUGHT;
    return slew_map_judge(single->scenario, single->parts, &single->prepared, &single->result)
        .outcome;
}

bool cli_compared_runs_have(const cli_compared_runs *columns, bool (*has)(const cli_single *single))
{
    for (int i = 0; i < columns->count; i++)
        if (columns->column[i].runs && has(&columns->column[i].single))
            return true;
    return false;
}
