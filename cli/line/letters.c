/* letters.c - see letters.h. */
#include "letters.h"

#include <stdbool.h>
#include <stdint.h>
#include <string.h>

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

int cli_letter(const char *text)
{
    const unsigned char *byte = (const unsigned char *)text;
    uint32_t code, least;
    int bytes = *byte != '\0' ? bytes_of(*byte, &code, &least) : 0;
    for (int i = 1; i < bytes; i++) {
        if ((byte[i] & 0xC0) != 0x80)
            return 0;
        code = code << 6 | (byte[i] & 0x3F);
    }
    bool surrogate = bytes > 0 && code >= 0xD800 && code < 0xE000;
    return bytes == 0 || code < least || surrogate || code > 0x10FFFF ? 0 : bytes;
}

/* of ASCII, or of Latin-1 (U+0080 to U+009F) */
static bool is_control(const char *text, int bytes)
{
    unsigned char first = (unsigned char)text[0];
    return bytes == 1 ? first < 0x20 || first == 0x7F
                      : bytes == 2 && first == 0xC2 && (unsigned char)text[1] < 0xA0;
}

void cli_letters_clean(char *text)
{
    while (*text != '\0') {
        int bytes = cli_letter(text), taken = bytes > 0 ? bytes : 1;
        if (bytes == 0 || is_control(text, bytes))
            memset(text, '?', (size_t)taken);
        text += taken;
    }
}
