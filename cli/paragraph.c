/* paragraph.c - see paragraph.h. */
#include "paragraph.h"

#include <stdio.h>
#include <string.h>

enum { COLUMNS = 100 };

static int letters_in(const char *text, size_t bytes)
{
    int letters = 0;
    for (size_t i = 0; i < bytes; i++)
        letters += ((unsigned char)text[i] & 0xC0) != 0x80;
    return letters;
}

void cli_paragraph(const char *label, int indent, const char *text)
{
    int column = indent;
    printf("%-*s", indent, label);
    while (*text != '\0') {
        size_t word = strcspn(text, " ");
        int letters = letters_in(text, word);
        if (column > indent && column + 1 + letters > COLUMNS) {
            printf("\n%*s", indent, "");
            column = indent;
        }
        column += letters + printf("%s", column > indent ? " " : "");
        printf("%.*s", (int)word, text);
        text += word + strspn(text + word, " ");
    }
    putchar('\n');
}
