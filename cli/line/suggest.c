/* suggest.c - see suggest.h. */
#include "suggest.h"

#include <string.h>

enum { WORD_MAX = 32 };

static size_t least(size_t a, size_t b)
{
    return a < b ? a : b;
}

/* letters to insert, delete or replace (Levenshtein) */
static size_t distance(const char *a, size_t na, const char *b, size_t nb)
{
    size_t row[WORD_MAX + 1];
    for (size_t j = 0; j <= nb; j++)
        row[j] = j;
    for (size_t i = 1; i <= na; i++) {
        size_t diagonal = row[0];
        row[0] = i;
        for (size_t j = 1; j <= nb; j++) {
            size_t replaced = diagonal + (a[i - 1] != b[j - 1]);
            diagonal = row[j];
            row[j] = least(replaced, least(row[j], row[j - 1]) + 1);
        }
    }
    return row[nb];
}

const char *cli_nearest(const char *word, size_t length, const char *const *names, int count)
{
    const char *best = NULL;
    size_t reach = length / 3 + 2;
    if (length == 0 || length > WORD_MAX)
        return NULL;
    for (int i = 0; i < count; i++) {
        size_t own = strlen(names[i]);
        if (own > WORD_MAX)
            continue;
        if (length >= 2 && strncmp(names[i], word, length) == 0)
            return names[i];
        size_t letters = distance(word, length, names[i], own);
        if (letters < reach && letters < own) {
            best = names[i];
            reach = letters;
        }
    }
    return best;
}
