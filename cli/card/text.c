/* text.c - a check card as a page of text. */
#include "answer.h"

#include <string.h>

#include "tell/table.h"
#include "tell/utf8.h"

enum { COLUMNS = 80 };

static void print_notes(const cli_card_notes *notes)
{
    for (int i = 0; i < notes->count; i++)
        printf("%s\n", notes->line[i]);
}

static void print_head(const cli_card *a)
{
    printf("Check card for a visit to the truck\n%s\n", a->scenario->title);
    printf("truck, monitor ______________________________  date ____________  by ___________\n"
           "weather, temperature ________________________  battery voltage, V ______________\n");
}

/* the width in bytes that is so many letters wide */
static int padded(int letters, const char *text)
{
    return letters + (int)strlen(text) - cli_utf8_count(text);
}

/* a verdict takes the place of the band too */
static void print_line(cli_table *t, const cli_card_line *line)
{
    cli_table_text(t, "what to do", "%-*s", padded(30, line->what), line->what);
    cli_table_text(t, "read", "%-*s", padded(15, line->read), line->read);
    if (line->to[0] != '\0') {
        cli_table_cell(t, "expected", "%8s", line->expected);
        cli_table_text(t, "   band from - to", "  %6s to %6s", line->from, line->to);
    } else
        cli_table_cell(t, "expected   band from - to ", "%26s", line->expected);
    cli_table_text(t, "  write", line->read[0] != '\0' ? "  _______" : "");
    cli_table_end_row(t);
}

void cli_card_text(const void *what)
{
    const cli_card *a = what;
    cli_card_line lines[CLI_CARD_LINES_MAX];
    cli_table table = {.heads = 1};
    cli_card_notes cautions = {.columns = COLUMNS}, notes = {.columns = COLUMNS};
    int count = cli_card_lines(a, lines);
    cli_card_cautions(&cautions);
    cli_card_settings(a, &notes);
    cli_card_explain(a, &notes);
    print_head(a);
    print_notes(&cautions);
    print_notes(&notes);
    for (int i = 0; i < count; i++)
        print_line(&table, &lines[i]);
    cli_print_wrapped(a->asked, 80);
}
