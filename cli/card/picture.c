/* picture.c - a check card as a page to print. */
#include "answer.h"

#include <string.h>

#include "draw/plot.h"
#include "line/exit_code.h"

/* of the lines above the table, on paper and in a terminal */
enum { PAGE_COLUMNS = 112, TERMINAL_COLUMNS = 80 };

/* 2: a number with a band, 1: a verdict, 0: nothing to write */
static int kind_of(const cli_card_line *line)
{
    return line->to[0] != '\0' ? 2 : line->read[0] != '\0';
}

static void write_table(FILE *stream, const cli_card *a)
{
    cli_card_line lines[CLI_CARD_LINES_MAX];
    int count = cli_card_lines(a, lines);
    fputs("first,kind,what,read,expected,from,to\n", stream);
    for (int i = 0; i < count; i++) {
        const char *field[] = {lines[i].what, lines[i].read, lines[i].expected, lines[i].from,
                               lines[i].to};
        fprintf(stream, "%d,%d", lines[i].first, kind_of(&lines[i]));
        for (int k = 0; k < 5; k++)
            fprintf(stream, ",\"%s\"", field[k][0] != '\0' ? field[k] : " ");
        fputc('\n', stream);
    }
}

/* always in quotes: gnuplot takes the blanks of a line that is set in away from a bare field */
static void write_notes(FILE *stream, const cli_card_notes *notes)
{
    fputs("text\n", stream);
    for (int i = 0; i < notes->count; i++) {
        fputc('"', stream);
        for (const char *c = notes->line[i]; *c != '\0'; c++)
            fputc(*c == '"' ? '\'' : *c, stream);
        fputs("\"\n", stream);
    }
}

static bool write_data(cli_plot *plot, const cli_card *a, int columns)
{
    cli_card_notes cautions = {.columns = columns}, notes = {.columns = columns};
    FILE *table = cli_plot_data(plot, "card.csv");
    FILE *first = table != NULL ? cli_plot_data(plot, "cautions.csv") : NULL;
    FILE *second = first != NULL ? cli_plot_data(plot, "notes.csv") : NULL;
    if (second == NULL)
        return false;
    cli_card_cautions(&cautions);
    cli_card_explain(a, &notes);
    write_table(table, a);
    write_notes(first, &cautions);
    write_notes(second, &notes);
    return true;
}

int cli_card_draw(const char *path, const void *what)
{
    const cli_card *a = what;
    cli_plot plot;
    int code = cli_plot_open(&plot);
    if (code != CLI_OK)
        return code;
    cli_plot_set_text(&plot, "heading", a->scenario->title);
    cli_plot_set_text(&plot, "origin", a->asked);
    if (!write_data(&plot, a, strcmp(path, "-") == 0 ? TERMINAL_COLUMNS : PAGE_COLUMNS))
        code = CLI_OUTSIDE;
    return cli_plot_close(&plot, code, "card.gp", path);
}
