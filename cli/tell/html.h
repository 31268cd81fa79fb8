/* html.h - elements of a page; every text is escaped. */
#ifndef SLEW_CLI_TELL_HTML_H
#define SLEW_CLI_TELL_HTML_H

#include <stdio.h>

/* Writes a text in which < > & and quotes stand for themselves. */
void cli_html_text(FILE *html, const char *text);

/* Writes an element with a text: cli_html(html, "td class=\"number\"", "%.2f", share). `tag` is
 * ours and not escaped. */
void cli_html(FILE *html, const char *tag, const char *format, ...);

#endif
