/* text.c - a check card as a page of text. */
#include "answer.h"

enum { COLUMNS = 80 };

static void print_notes(const cli_card_notes *notes)
{
    for (int i = 0; i < notes->count; i++)
        printf("%s\n", notes->line[i]);
    printf("\n");
}

static void print_head(const cli_card *a)
{
    printf("Check card for a visit to the truck\n%s\n  %s\n\n", a->scenario->title, a->asked);
    printf("truck, monitor ______________________________  date ____________  by ___________\n"
           "weather, temperature ________________________  supply at the source, V _________\n\n");
}

static void print_line(const cli_card_line *line)
{
    if (line->to[0] != '\0')
        printf("%-30s%-15s%8s  %6s to %6s  _______\n", line->what, line->read, line->expected,
               line->from, line->to);
    else if (line->read[0] != '\0')
        printf("%-30s%-15s%26s  _______\n", line->what, line->read, line->expected);
    else
        printf("%s\n", line->what);
}

void cli_card_print(const void *what)
{
    const cli_card *a = what;
    cli_card_line lines[CLI_CARD_LINES_MAX];
    cli_card_notes cautions = {.columns = COLUMNS}, notes = {.columns = COLUMNS};
    int count = cli_card_lines(a, lines);
    cli_card_cautions(&cautions);
    cli_card_explain(a, &notes);
    print_head(a);
    print_notes(&cautions);
    print_notes(&notes);
    printf("%-30s%-15s%8s  %-16s  %s\n", "what to do", "read", "expected", " band from - to",
           "write");
    for (int i = 0; i < count; i++)
        print_line(&lines[i]);
}
