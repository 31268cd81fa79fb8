/* svg.c - see svg.h. */
#include "svg.h"

#include <stdbool.h>
#include <string.h>

/* gnuplot names one family and knows no other to fall back on */
static const char family[] = "font-family=\"DejaVu Sans", others[] = ",Verdana,sans-serif";

static void write_escaped(FILE *to, const char *text)
{
    for (; *text != '\0'; text++)
        if (*text == '&')
            fputs("&amp;", to);
        else if (*text == '<')
            fputs("&lt;", to);
        else
            putc(*text, to);
}

static void write_element(FILE *to, const char *name, const char *text, const char *more)
{
    fprintf(to, "<%s>", name);
    write_escaped(to, text);
    fputs(more[0] != '\0' ? ". " : "", to);
    write_escaped(to, more);
    fprintf(to, "</%s>\n", name);
}

/* the title of a curve: gnuplot writes the words of its script there, which a browser shows */
static void drop_title(char *line)
{
    char *from = strstr(line, "<title>"), *to = strstr(line, "</title>");
    if (from != NULL && to != NULL)
        memmove(from, to + strlen("</title>"), strlen(to + strlen("</title>")) + 1);
}

/* each family ends at its quote; that it is bold, gnuplot may leave in its name */
static void write_line(FILE *to, const char *line)
{
    const char *at;
    while ((at = strstr(line, family)) != NULL) {
        const char *weight = at + strlen(family), *end = weight + strcspn(weight, "\"\n");
        bool is_bold = strncmp(weight, ":Bold", 5) == 0;
        fprintf(to, "%.*s%s%s", (int)(weight - line), line, others,
                is_bold ? "\" font-weight=\"bold" : "");
        line = end;
    }
    fputs(line, to);
}

void cli_svg_copy(FILE *from, FILE *to, const cli_svg_words *words)
{
    char line[8192];
    while (fgets(line, sizeof line, from) != NULL)
        if (strncmp(line, "<title>", 7) == 0)
            write_element(to, "title", words->title, "");
        else if (strncmp(line, "<desc>", 6) == 0)
            write_element(to, "desc", words->shows, words->more);
        else {
            drop_title(line);
            write_line(to, line);
        }
}
