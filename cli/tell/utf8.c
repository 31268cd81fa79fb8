/* utf8.c - see utf8.h. */
#include "utf8.h"

#include <stdio.h>
#include <string.h>

#include "line/letters.h"

enum { COLUMNS = 100 }; /* of a paragraph */

int cli_utf8_cut(const char *text, int letters)
{
    int bytes = 0;
    while (text[bytes] != '\0' && letters-- > 0)
        do
            bytes++;
        while (((unsigned char)text[bytes] & 0xC0) == 0x80);
    return bytes;
}

bool cli_utf8_is(const char *text)
{
    int bytes = 1;
    for (; *text != '\0' && bytes > 0; text += bytes)
        bytes = cli_letter(text);
    return bytes > 0;
}

int cli_utf8_count(const char *text)
{
    int letters = 0;
    for (; *text != '\0'; text++)
        letters += ((unsigned char)*text & 0xC0) != 0x80;
    return letters;
}

int cli_utf8_line(const char *text, int letters)
{
    int most = cli_utf8_cut(text, letters), end = most;
    if (text[most] == '\0')
        return most;
    while (end > 0 && (text[end] != ' ' || text[end + 1] == '%')) /* a figure keeps its percent */
        end--;
    return end > 0 ? end : most;
}

void cli_print_wrapped(const char *text, int letters)
{
    for (const char *indent = ""; *text != '\0'; indent = "  ") {
        int length = cli_utf8_line(text, letters);
        printf("%s%.*s\n", indent, length, text);
        text += length;
        text += strspn(text, " ");
    }
}

void cli_paragraph(const char *label, int indent, const char *text)
{
    printf("%-*s", indent, label);
    for (int length; (length = cli_utf8_line(text, COLUMNS - indent)) > 0;) {
        printf("%.*s\n", length, text);
        text += length;
        text += strspn(text, " ");
        if (*text != '\0')
            printf("%*s", indent, "");
    }
}

int cli_utf8_lines(const char *text, int letters)
{
    int lines = 0;
    for (; *text != '\0'; lines++) {
        text += cli_utf8_line(text, letters);
        text += strspn(text, " ");
    }
    return lines;
}
