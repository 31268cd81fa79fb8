/* append.c - see append.h. */
#include "append.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

void cli_append(char *text, size_t size, const char *format, ...)
{
    size_t length = strlen(text);
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(text + length, size - length, format, arguments);
    va_end(arguments);
}
