/* utf8.c - see utf8.h. */
#include "utf8.h"

#include <stdint.h>
#include <stdio.h>
#include <string.h>

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

/* the bytes of a letter and the least code that takes as many, by its first byte; 0: no first byte
 */
static int bytes_of(unsigned char lead, uint32_t *code, uint32_t *least)
{
    int bytes = lead < 0x80 ? 1 : lead < 0xC0 ? 0 : lead < 0xE0 ? 2 : lead < 0xF0 ? 3 : 4;
    static const uint32_t leasts[] = {0, 0, 0x80, 0x800, 0x10000};
    *code = bytes == 1 ? lead : lead & (0x7Fu >> bytes);
    *least = leasts[bytes];
    return lead > 0xF4 ? 0 : bytes;
}

bool cli_utf8_is(const char *text)
{
    for (const unsigned char *byte = (const unsigned char *)text; *byte != '\0';) {
        uint32_t code, least;
        int bytes = bytes_of(*byte++, &code, &least);
        for (int i = 1; i < bytes; i++, byte++) {
            if ((*byte & 0xC0) != 0x80)
                return false;
            code = code << 6 | (*byte & 0x3F);
        }
        bool surrogate = code >= 0xD800 && code < 0xE000;
        if (bytes == 0 || code < least || surrogate || code > 0x10FFFF)
            return false;
    }
    return true;
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
