/* paragraph.h - longer texts broken into lines. */
#ifndef SLEW_CLI_PARAGRAPH_H
#define SLEW_CLI_PARAGRAPH_H

/* Writes a label of `indent` columns and, behind it, the text in lines of at most 100 columns. */
void cli_paragraph(const char *label, int indent, const char *text);

#endif
