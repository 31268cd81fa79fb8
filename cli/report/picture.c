/* picture.c - a picture of another command, put into the page as it is. */
#include <string.h>

#include "answer.h"
#include "tell/html.h"

/* what names another element of the same picture; the next has the same names */
static const char *const names[] = {" id='", " id=\"", "href='#", "href=\"#", "url(#"};

/* how long what names an element here is; 0: nothing does */
static size_t naming_at(const char *svg)
{
    for (size_t i = 0; i < sizeof names / sizeof *names; i++)
        if (strncmp(svg, names[i], strlen(names[i])) == 0)
            return strlen(names[i]);
    return 0;
}

static void put_svg(FILE *html, const char *svg, int part)
{
    const char *at = strstr(svg, "<svg");
    while (at != NULL && *at != '\0') {
        size_t naming = naming_at(at), length = naming > 0 ? naming : 1;
        fwrite(at, 1, length, html);
        if (naming > 0)
            fprintf(html, "p%d-", part);
        at += length;
    }
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
