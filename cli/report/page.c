/* page.c - the whole report as one HTML file. */
#include <errno.h>

#include "answer.h"
#include "draw/plot.h"
#include "line/report.h"
#include "tell/html.h"

static const char style_sheet[] = "report.css";

static bool write_style(FILE *html)
{
    char path[1536];
    errno = ENOENT;
    FILE *style = cli_plot_find(style_sheet, path, sizeof path) ? fopen(path, "r") : NULL;
    if (style == NULL) {
        cli_fail_errno("set SLEWTIME_PLOTS to the directory that has it", errno, "%s is not found",
                       style_sheet);
        return false;
    }
    fputs("<style>\n", html);
    for (int c; (c = getc(style)) != EOF;)
        putc(c, html);
    fputs("</style>\n", html);
    fclose(style);
    return true;
}

/* what is folded on the screen is open on paper */
static const char unfold[] =
    "<script>addEventListener('beforeprint',()=>document.querySelectorAll('details')"
    ".forEach(d=>{d.open=true}))</script>\n";

bool cli_report_page(FILE *html, const cli_report *r)
{
    fputs("<!doctype html>\n<html lang=\"en-US\">\n<head>\n<meta charset=\"utf-8\">\n"
          "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n",
          html);
    cli_html(html, "title", "%s", r->scenario->title);
    if (!write_style(html))
        return false;
    fputs("</head>\n<body>\n<main>\n", html);
    cli_report_page_one(html, r);
    cli_report_sections(html, r);
    cli_report_trouble(html, r);
    cli_report_card(html, r);
    cli_report_appendix(html, r);
    fprintf(html, "</main>\n%s</body>\n</html>\n", unfold);
    return true;
}
