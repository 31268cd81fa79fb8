/* picture.c - a picture of another command, put into the page as it is. */
#include <string.h>

#include "answer.h"
#include "tell/html.h"

/* what names another element of the same picture; the next has the same names */
static const char *const names[] = {" id='", " id=\"", "href='#", "href=\"#", "url(#"};

static const char *next_name(const char *from, size_t *length)
{
    const char *first = NULL;
    for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
        const char *found = strstr(from, names[i]);
        if (found != NULL && (first == NULL || found < first)) {
            first = found;
            *length = strlen(names[i]);
        }
    }
    return first;
}

static void put_svg(FILE *html, const char *svg, int part)
{
    const char *from = strstr(svg, "<svg"), *name;
    size_t length = 0;
    if (from == NULL)
        return;
    while ((name = next_name(from, &length)) != NULL) {
        fwrite(from, 1, (size_t)(name - from) + length, html);
        fprintf(html, "p%d-", part);
        from = name + length;
    }
    fputs(from, html);
}

void cli_report_picture(FILE *html, const cli_report *r, cli_report_part part, const char *caption)
{
    if (r->part[part].picture == NULL)
        return;
    fputs("<figure>\n", html);
    put_svg(html, r->part[part].picture, (int)part);
    cli_html(html, "figcaption", "%s", caption);
    fputs("</figure>\n", html);
}
