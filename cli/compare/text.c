/* text.c - the answer of `slewtime compare` for people. */
#include <string.h>

#include "answer.h"
#include "figures.h"
#include "line/report.h"
#include "single/outcome_phrase.h"
#include "slewtime/slewtime.h"
#include "tell/append.h"
#include "tell/caution.h"
#include "tell/provenance.h"
#include "tell/utf8.h"

enum { NAME_LETTERS = 22, GAP = 2, COLUMNS = 80, LINE = 98, ANSWER_LINES = 5 };

/* ---- the sheet: widths and lines ---- */

typedef struct sheet {
    const cli_comparison *comparison;
    cli_figure_texts figures[CLI_COLUMNS_MAX];
    int label_width;
    int width[CLI_COLUMNS_MAX]; /* of each column */
} sheet;

typedef const char *cells[CLI_COLUMNS_MAX];

static void widen(int *width, const char *text, int most)
{
    int letters = cli_utf8_count(text);
    if (letters > most)
        letters = most;
    if (letters > *width)
        *width = letters;
}

static void print_left(const char *text, int width)
{
    printf("%s%*s", text, width - cli_utf8_count(text), "");
}

static void print_right(const char *text, int letters, int width)
{
    int shown = cli_utf8_count(text);
    bool is_cut = shown > letters;
    int bytes = cli_utf8_cut(text, is_cut ? letters - 1 : letters);
    printf("%*s%.*s%s", GAP + width - (is_cut ? letters : shown), "", bytes, text,
           is_cut ? "\u2026" : "");
}

static void print_line(const sheet *s, bool differs, const char *label, const char *unit,
                       const cells cell)
{
    printf("%c ", differs ? '*' : ' ');
    print_left(label, s->label_width);
    printf("  %-3s", unit);
    for (int i = 0; i < s->comparison->columns.count; i++)
        print_right(cell[i], 1000, s->width[i]);
    putchar('\n');
}

static void print_title(const char *text)
{
    printf("\n%s%s%s\n", cli_bold(), text, cli_plain());
}

/* ---- the figures ---- */

/* to the digits shown, among the columns that run */
static bool differs(const sheet *s, const cells cell)
{
    const cli_compared_runs *columns = &s->comparison->columns;
    const char *first = NULL;
    bool found = false;
    for (int i = 0; i < columns->count; i++) {
        if (!columns->column[i].runs)
            continue;
        first = first != NULL ? first : cell[i];
        found |= strcmp(cell[i], first) != 0;
    }
    return found;
}

static void print_figure(const sheet *s, int index)
{
    const cli_figure *figure = &cli_figures[index];
    cells cell = {NULL};
    bool is_there = false; /* some column has one */
    for (int i = 0; i < s->comparison->columns.count; i++) {
        cell[i] = s->figures[i].text[index];
        is_there |= strcmp(cell[i], "-") != 0;
    }
    if (is_there)
        print_line(s, differs(s, cell), figure->label, cli_figure_unit(figure), cell);
}

static void print_figures(const sheet *s, const char *title, cli_figure_part part)
{
    print_title(title);
    for (int k = 0; k < CLI_FIGURES; k++)
        if (cli_figures[k].part == part)
            print_figure(s, k);
}

/* ---- the input ---- */

static void print_inputs(const sheet *s)
{
    const cli_comparison *c = s->comparison;
    if (c->input_count == 0)
        printf("  no differences: the scenarios are alike in all that a run depends on\n");
    for (int k = 0; k < c->input_count; k++) {
        cells cell;
        for (int i = 0; i < c->columns.count; i++)
            cell[i] = c->input[k].shown[i][0] != '\0' ? c->input[k].shown[i] : "-";
        print_line(s, true, c->input[k].words, "", cell);
    }
}

/* ---- what it was asked, and the finding ---- */

static void print_columns(const cli_compared_runs *columns)
{
    bool stow = cli_compared_runs_have(columns, cli_single_stows),
         deploy = cli_compared_runs_have(columns, cli_single_deploys);
    printf("\nCompared: %s%s%s of %d scenarios\n", stow ? "stow" : "",
           stow && deploy ? " and " : "", deploy ? "deploy" : "", columns->count);
    int width = 0;
    for (int i = 0; i < columns->count; i++)
        widen(&width, columns->column[i].name, CLI_COLUMN_LETTERS);
    for (int i = 0; i < columns->count; i++) {
        const cli_compared_run *column = &columns->column[i];
        printf("  %c  ", column->letter);
        print_left(column->name, width);
        printf("  %s: %s\n", column->path, column->scenario.title);
    }
}

static bool is_well(const cli_compared_run *column)
{
    return cli_compared_run_outcome(column) == SLEW_OUTCOME_OK;
}

static void print_finding(const cli_compared_run *column)
{
    char clause[CLI_PHRASE_MAX], line[CLI_PHRASE_MAX + 8];
    if (column->runs)
        cli_outcome_brief(&column->single, clause);
    else
        snprintf(clause, sizeof clause, "can't be taught: %s", column->error.message);
    snprintf(line, sizeof line, "%c %s.", column->letter, clause);
    if (cli_utf8_count(line) > COLUMNS)
        strcpy(line + cli_utf8_cut(line, COLUMNS - 1), "\u2026");
    printf("%s\n", line);
}

/* "A, D: all is well."; of no column: nothing */
static void print_letters(const cli_compared_runs *columns, const bool *shown, const char *words)
{
    const char *comma = "";
    for (int i = 0; i < columns->count; i++)
        if (!shown[i]) {
            printf("%s%c", comma, columns->column[i].letter);
            comma = ", ";
        }
    if (comma[0] != '\0')
        printf(" %s.\n", words);
}

/* a line for each, where there is room; else for the worst, and one for those that are well */
static void print_findings(const cli_compared_runs *columns, int room)
{
    bool told[CLI_COLUMNS_MAX] = {false}, seen[CLI_COLUMNS_MAX];
    bool all = columns->count <= room;
    int left = all ? room : room - 2;
    fputs(cli_bold(), stdout);
    for (int i = 0; i < columns->count; i++) {
        const cli_compared_run *column = &columns->column[i];
        told[i] = left > 0 && (all || !is_well(column));
        left -= told[i];
        if (told[i])
            print_finding(column);
    }
    for (int i = 0; i < columns->count; i++)
        seen[i] = told[i] || !is_well(&columns->column[i]);
    print_letters(columns, seen, "all is well");
    for (int i = 0; i < columns->count; i++)
        seen[i] = told[i] || is_well(&columns->column[i]);
    print_letters(columns, seen, "more trouble, see the table");
    fputs(cli_plain(), stdout);
}

/* it faults, is pressed on a stop or enters a keep-out zone */
static bool is_danger(const cli_compared_run *column)
{
    slew_outcome outcome = cli_compared_run_outcome(column);
    bool is_bad = outcome >= SLEW_OUTCOME_PRESSED && outcome <= SLEW_OUTCOME_DOES_NOT_HOLD;
    return is_bad || (column->runs && column->single.result.visit_count > 0);
}

void cli_compare_dangers(const cli_compared_runs *columns, char seen[CLI_DANGERS_MAX])
{
    seen[0] = '\0';
    for (int i = 0; i < columns->count; i++)
        if (is_danger(&columns->column[i]))
            cli_append(seen, CLI_DANGERS_MAX, "%s%c", seen[0] != '\0' ? ", " : "",
                       columns->column[i].letter);
    if (seen[0] != '\0')
        cli_append(seen, CLI_DANGERS_MAX, ": a fault, a jammed barrel or a keep-out zone entered");
}

/* ---- the whole ---- */

static void print_origins(const cli_compared_runs *columns)
{
    char line[CLI_COLUMNS_MAX * (CLI_HASH_MAX + 8) + 80];
    snprintf(line, sizeof line, "Computed by slewtime %s from the scenarios", slew_version());
    for (int i = 0; i < columns->count; i++) {
        char hash[CLI_HASH_MAX];
        cli_provenance_hash(&columns->column[i].scenario, hash);
        cli_append(line, sizeof line, "%s %c %s", i > 0 ? "," : "", columns->column[i].letter,
                   hash);
    }
    cli_append(line, sizeof line, ".");
    cli_print_wrapped(line, LINE);
}

static sheet lay_out(const cli_comparison *c)
{
    sheet s = {.comparison = c};
    for (int k = 0; k < c->input_count; k++)
        widen(&s.label_width, c->input[k].words, CLI_INPUT_PATH_MAX);
    for (int k = 0; k < CLI_FIGURES; k++)
        widen(&s.label_width, cli_figures[k].label, CLI_INPUT_PATH_MAX);
    for (int i = 0; i < c->columns.count; i++) {
        const cli_compared_run *column = &c->columns.column[i];
        cli_figures_read(column->runs ? &column->single : NULL, &s.figures[i]);
        widen(&s.width[i], column->name, NAME_LETTERS);
        for (int k = 0; k < c->input_count; k++)
            widen(&s.width[i], c->input[k].shown[i], CLI_INPUT_VALUE_MAX);
        for (int k = 0; k < CLI_FIGURES; k++)
            widen(&s.width[i], s.figures[i].text[k], CLI_FIGURE_TEXT_MAX);
    }
    return s;
}

static void print_heads(const sheet *s)
{
    const cli_compared_runs *columns = &s->comparison->columns;
    for (int row = 0; row < 2; row++) {
        printf("\n  %*s     ", s->label_width, "");
        for (int i = 0; i < columns->count; i++) {
            const char letter[] = {columns->column[i].letter, '\0'};
            print_right(row == 0 ? letter : columns->column[i].name, NAME_LETTERS, s->width[i]);
        }
    }
    putchar('\n');
}

void cli_compare_text(const void *comparison)
{
    const cli_comparison *c = comparison;
    sheet s = lay_out(c);
    char dangers[CLI_DANGERS_MAX];
    cli_compare_dangers(&c->columns, dangers);
    print_findings(&c->columns, ANSWER_LINES - (dangers[0] != '\0' ? 2 : 0));
    cli_caution(dangers);
    print_columns(&c->columns);
    print_heads(&s);
    print_title("Given");
    print_inputs(&s);
    if (cli_compared_runs_have(&c->columns, cli_single_stows))
        print_figures(&s, "Stow", CLI_OF_STOW);
    if (cli_compared_runs_have(&c->columns, cli_single_deploys))
        print_figures(&s, "Deploy", CLI_OF_DEPLOY);
    print_figures(&s, "Supply and keep-out zones", CLI_OF_SUPPLY);
    printf("\n* = differs, to the digits shown\n"
           "Motor inductance is left out: peak current and lowest voltage are overstated by up to "
           "20 %%.\n"
           "Simulated: it does not replace a test on the truck.\n");
    for (int k = 0; k < c->input_count; k++)
        printf("  differs     %s\n", c->input[k].path);
    print_origins(&c->columns);
}
