/* letters.c - see letters.h. */
#include "letters.h"

int cli_letters(const char *text, int letters)
{
    int bytes = 0;
    while (text[bytes] != '\0' && letters-- > 0)
        do
            bytes++;
        while (((unsigned char)text[bytes] & 0xC0) == 0x80);
    return bytes;
}
