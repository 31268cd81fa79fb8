/* xml.h - attributes of XML elements: each with a blank before it. */
#ifndef SLEW_CLI_FMU_XML_H
#define SLEW_CLI_FMU_XML_H

#include <stdbool.h>
#include <stdio.h>

/* A text; what may not stand in XML 1.0 (2.2, control characters) becomes a blank. */
void cli_xml_text(FILE *xml, const char *name, const char *text);

/* A number, in as few digits as give it back to the last bit. */
void cli_xml_number(FILE *xml, const char *name, double value);

void cli_xml_whole(FILE *xml, const char *name, long value);
void cli_xml_boolean(FILE *xml, const char *name, bool value);

#endif
