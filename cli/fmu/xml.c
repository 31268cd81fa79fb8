/* xml.c - see xml.h. */
#include "xml.h"

#include <stdlib.h>
#include <string.h>

#include "tell/html.h"

void cli_xml_text(FILE *xml, const char *name, const char *text)
{
    fprintf(xml, " %s=\"", name);
    for (char one[2] = ""; *text != '\0'; text++) {
        one[0] = (unsigned char)*text < ' ' ? ' ' : *text;
        cli_html_text(xml, one);
    }
    fputs("\"", xml);
}

void cli_xml_number(FILE *xml, const char *name, double value)
{
    char text[40];
    int digits = 15; /* most decimals come back from these */
    do
        snprintf(text, sizeof text, "%.*g", digits, value);
    while (strtod(text, NULL) != value && digits++ < 17);
    fprintf(xml, " %s=\"%s\"", name, text);
}

void cli_xml_whole(FILE *xml, const char *name, long value)
{
    fprintf(xml, " %s=\"%ld\"", name, value);
}

void cli_xml_boolean(FILE *xml, const char *name, bool value)
{
    fprintf(xml, " %s=\"%s\"", name, value ? "true" : "false");
}
