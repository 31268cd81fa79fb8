/* html.c - see html.h. */
#include "html.h"

#include <stdarg.h>
#include <string.h>

void cli_html_text(FILE *html, const char *text)
{
    for (const char *c = text; *c != '\0'; c++)
        switch (*c) {
        case '<':
            fputs("&lt;", html);
            break;
        case '>':
            fputs("&gt;", html);
            break;
        case '&':
            fputs("&amp;", html);
            break;
        case '"':
            fputs("&quot;", html);
            break;
        case '\'':
            fputs("&#39;", html);
            break;
        default:
            putc(*c, html);
        }
}

void cli_html(FILE *html, const char *tag, const char *format, ...)
{
    char text[2000];
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(text, sizeof text, format, arguments);
    va_end(arguments);
    fprintf(html, "<%s>", tag);
    cli_html_text(html, text);
    fprintf(html, "</%.*s>\n", (int)strcspn(tag, " "), tag);
}
