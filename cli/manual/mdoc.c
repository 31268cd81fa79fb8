/* mdoc.c - see mdoc.h. */
#include "mdoc.h"

#include <stdbool.h>
#include <stdio.h>
#include <string.h>

#include "slewtime/slewtime.h"

/* the day on which the words of the pages were last looked through */
static const char DAY[] = "November 28, 2026";

void cli_mdoc_begin(const char *name, int section, const char *what)
{
    printf(".Dd %s\n.Dt %s %d\n.Os slewtime %s\n.Sh NAME\n.Nm %s\n.Nd %s\n", DAY, name, section,
           slew_version(), name, what);
}

/* the blanks of a literal line are kept; a sentence of running text begins a line */
static void put(const char *text, size_t length, bool literal)
{
    if (length > 0 && strchr(".'", text[0]) != NULL)
        fputs("\\&", stdout);
    for (size_t i = 0; i < length; i++) {
        bool ends = !literal && i > 0 && text[i] == ' ' && strchr(".?!", text[i - 1]) != NULL;
        if (text[i] == '\\')
            fputs("\\e", stdout);
        else if (text[i] == '-')
            fputs("\\-", stdout);
        else if (ends && i + 1 < length)
            fputs(strchr(".' ", text[i + 1]) != NULL ? "\n\\&" : "\n", stdout);
        else
            putchar(text[i]);
    }
}

void cli_mdoc_words(const char *text)
{
    put(text, strlen(text), false);
}

void cli_mdoc_lines(const char *lines)
{
    bool literal = false, begun = false, owed = false;
    while (*lines != '\0') {
        size_t length = strcspn(lines, "\n");
        bool as_it_is = length > 0 && lines[0] == ' ';
        if (as_it_is != literal)
            puts(as_it_is ? ".Bd -literal -offset indent" : ".Ed");
        if (owed && begun && !as_it_is && length > 0 && !literal)
            puts(".Pp");
        owed = length == 0;
        literal = as_it_is;
        begun |= length > 0;
        size_t blanks = literal ? strspn(lines, " ") : 0;
        if (length > 0) {
            put(lines + blanks, length - blanks, literal);
            putchar('\n');
        }
        lines += length + (lines[length] == '\n');
    }
    if (literal)
        puts(".Ed");
}
