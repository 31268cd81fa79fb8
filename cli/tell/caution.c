/* caution.c - see caution.h. */
#include "caution.h"

#include <stdio.h>

#include "utf8.h"

void cli_caution_of(const char *seen, char text[CLI_CAUTION_MAX])
{
    text[0] = '\0';
    if (seen[0] != '\0')
        snprintf(text, CLI_CAUTION_MAX, "Caution: %s. %s", seen, CLI_CAUTION);
}

void cli_caution(const char *seen)
{
    char text[CLI_CAUTION_MAX];
    cli_caution_of(seen, text);
    if (text[0] != '\0')
        cli_print_wrapped(text, CLI_ANSWER_LETTERS);
}

void cli_caution_after(const char *seen)
{
    if (seen[0] != '\0')
        printf("Caution: before a try clear overhead, nobody near, ready to release.\n");
}

void cli_tell_caution(cli_teller *t, const char *seen)
{
    char text[CLI_CAUTION_MAX];
    cli_caution_of(seen, text);
    cli_tell_text(t, "caution", text[0] != '\0' ? text : NULL);
}

void cli_caution_foot(const char *seen, char text[CLI_CAUTION_MAX])
{
    text[0] = '\0';
    if (seen[0] != '\0')
        snprintf(text, CLI_CAUTION_MAX, "Caution: %s. Clear overhead, nobody near.", seen);
}
