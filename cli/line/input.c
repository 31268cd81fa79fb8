/* input.c - see input.h. */
#include "input.h"

#include <stdlib.h>

char *cli_read_whole(FILE *stream)
{
    size_t size = 0, room = 1 << 20;
    char *text = malloc(room);
    while (text != NULL && (size += fread(text + size, 1, room - size - 1, stream)) == room - 1) {
        char *larger = realloc(text, room *= 2);
        if (larger == NULL)
            free(text);
        text = larger;
    }
    if (text != NULL)
        text[size] = '\0';
    return text;
}
