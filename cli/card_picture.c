/* card_picture.c - a check card as a page to print. */
#include "card.h"

#include "command.h"
#include "csv.h"
#include "plot.h"

static void write_table(FILE *stream, const cli_card *a)
{
    cli_card_line lines[CLI_CARD_LINES_MAX];
    int count = cli_card_lines(a, lines);
    fputs("first,what,read,expected,band\n", stream);
    for (int i = 0; i < count; i++) {
        const char *field[] = {lines[i].what, lines[i].read, lines[i].expected, lines[i].band};
        fprintf(stream, "%d", lines[i].first);
        for (int k = 0; k < 4; k++)
            fprintf(stream, ",\"%s\"", field[k]);
        fputc('\n', stream);
    }
}

static void write_notes(FILE *stream, const cli_card_notes *notes)
{
    fputs("text\n", stream);
    for (int i = 0; i < notes->count; i++) {
        cli_csv_text(stream, notes->line[i]);
        fputc('\n', stream);
    }
}

static bool write_data(cli_plot *plot, const cli_card *a)
{
    cli_card_notes cautions = {0}, notes = {0};
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
    if (!write_data(&plot, a))
        code = CLI_OUTSIDE;
    return cli_plot_close(&plot, code, "card.gp", path);
}
