/* picture.c - what plots/card.gp draws of `slewtime card`: a page to print. */
#include "answer.h"
#include "tell/csv.h"

/* of the lines above the table, on paper and in a terminal */
enum { PAGE_COLUMNS = 112, TERMINAL_COLUMNS = 80 };

/* ---- the table ---- */

/* 2: a number with a band, 1: a verdict, 0: nothing to write */
static int kind_of(const cli_card_line *line)
{
    return line->to[0] != '\0' ? 2 : line->read[0] != '\0';
}

static void tell_line(cli_teller *t, const void *what)
{
    const cli_card_line *line = what;
    cli_tell_boolean(t, "first", line->first);
    cli_tell_integer(t, "kind", kind_of(line));
    cli_tell_text(t, "what", line->what);
    cli_tell_text(t, "read", line->read);
    cli_tell_text(t, "expected", line->expected);
    cli_tell_text(t, "from", line->from);
    cli_tell_text(t, "to", line->to);
}

static void write_lines(FILE *stream, const void *what)
{
    cli_card_line lines[CLI_CARD_LINES_MAX];
    int count = cli_card_lines(what, lines);
    for (int i = 0; i < count; i++)
        cli_csv_row(stream, i == 0, tell_line, &lines[i]);
}

/* ---- the notes ---- */

static void tell_note(cli_teller *t, const void *line)
{
    cli_tell_text(t, "text", line);
}

static void write_notes(FILE *stream, const void *what)
{
    const cli_card_notes *notes = what;
    for (int i = 0; i < notes->count; i++)
        cli_csv_row(stream, i == 0, tell_note, notes->line[i]);
}

/* ---- the picture ---- */

bool cli_card_fill(cli_plot *plot, const void *what)
{
    const cli_card *a = what;
    int columns = a->on_terminal ? TERMINAL_COLUMNS : PAGE_COLUMNS;
    cli_card_notes cautions = {.columns = columns}, notes = {.columns = columns};
    cli_card_cautions(&cautions);
    cli_card_settings(a, &notes);
    cli_card_explain(a, &notes);
    cli_plot_set_text(plot, "heading", a->scenario->title);
    cli_plot_set_text(plot, "origin", a->asked);
    return cli_plot_table(plot, "card.csv", write_lines, a) &&
           cli_plot_table(plot, "cautions.csv", write_notes, &cautions) &&
           cli_plot_table(plot, "notes.csv", write_notes, &notes);
}
