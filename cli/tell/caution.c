/* caution.c - see caution.h. */
#include "caution.h"

#include <stdio.h>

#include "utf8.h"

enum { SEEN_MAX = 400, LINE = 96 };

void cli_caution(const char *seen)
{
    char text[SEEN_MAX];
    snprintf(text, sizeof text, "Caution: %s. %s", seen, CLI_CAUTION);
    cli_print_wrapped(text, LINE);
}
