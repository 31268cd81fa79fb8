/* text.c - small helpers on text: safe printing, blanks, and the C locale. */
#include "keys/text.h"

#include <locale.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

bool slew_is_blank(char c)
{
    return c == ' ' || c == '\t' || c == '\n' || c == '\r';
}

bool slew_is_digit(char c)
{
    return c >= '0' && c <= '9';
}

bool slew_is_letter(char c)
{
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

int slew_print_nothing(char *text, size_t size)
{
    if (text != NULL && size > 0)
        text[0] = '\0';
    return 0;
}

/* ---- UTF-8 ---- */

static size_t length_of_lead(unsigned char lead)
{
    if (lead < 0x80)
        return 1;
    if (lead >= 0xC2 && lead <= 0xDF)
        return 2;
    if (lead >= 0xE0 && lead <= 0xEF)
        return 3;
    return lead >= 0xF0 && lead <= 0xF4 ? 4 : 0;
}

/* the second byte is narrower after some leads: no overlong forms, surrogates or above U+10FFFF */
static bool second_fits(unsigned char lead, unsigned char second)
{
    unsigned char low = lead == 0xE0 ? 0xA0 : lead == 0xF0 ? 0x90 : 0x80;
    unsigned char high = lead == 0xED ? 0x9F : lead == 0xF4 ? 0x8F : 0xBF;
    return second >= low && second <= high;
}

size_t slew_utf8_length(const char *text, size_t left)
{
    const unsigned char *byte = (const unsigned char *)text;
    size_t length = left > 0 ? length_of_lead(byte[0]) : 0;
    if (length == 0 || length > left)
        return 0;
    if (length > 1 && !second_fits(byte[0], byte[1]))
        return 0;
    for (size_t i = 2; i < length; i++)
        if ((byte[i] & 0xC0) != 0x80)
            return 0;
    return length;
}

int slew_utf8_count(const char *text, size_t length)
{
    int count = 0;
    for (size_t i = 0; i < length; i++)
        if (((unsigned char)text[i] & 0xC0) != 0x80)
            count++;
    return count;
}

/* ---- printing ---- */

static bool is_control(const char *text, size_t length)
{
    unsigned char first = (unsigned char)text[0];
    if (length == 2)
        return first == 0xC2 && (unsigned char)text[1] < 0xA0;
    return length == 1 && (first < 0x20 || first == 0x7F);
}

/* a character that the end of the text has cut through */
static bool is_cut(const char *text, size_t left)
{
    return length_of_lead((unsigned char)text[0]) > left;
}

void slew_text_clean(char *text)
{
    size_t left = strlen(text);
    while (left > 0) {
        size_t length = slew_utf8_length(text, left);
        if (length == 0 && is_cut(text, left)) {
            *text = '\0';
            return;
        }
        if (length == 0)
            length = 1, *text = '?';
        else if (*text == '\t')
            *text = ' ';
        else if (is_control(text, length))
            memset(text, '?', length);
        text += length;
        left -= length;
    }
}

void slew_say(char *out, size_t size, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(out, size, format, arguments);
    va_end(arguments);
    slew_text_clean(out);
}

bool slew_text_trim(const char *text, char *out, size_t size)
{
    size_t length = strlen(text);
    while (length > 0 && slew_is_blank(text[length - 1]))
        length--;
    while (length > 0 && slew_is_blank(*text))
        text++, length--;
    if (length >= size)
        return false;
    memcpy(out, text, length);
    out[length] = '\0';
    return true;
}

/* ---- numbers with a decimal point, whatever the locale ---- */

double slew_text_to_double(const char *text, char **end)
{
    locale_t plain = newlocale(LC_NUMERIC_MASK, "C", (locale_t)0);
    locale_t before = uselocale(plain);
    double value = strtod(text, end);
    uselocale(before);
    freelocale(plain);
    return value;
}

void slew_text_of_double(char *out, size_t size, int digits, double value)
{
    locale_t plain = newlocale(LC_NUMERIC_MASK, "C", (locale_t)0);
    locale_t before = uselocale(plain);
    snprintf(out, size, "%.*g", digits, value);
    uselocale(before);
    freelocale(plain);
}
