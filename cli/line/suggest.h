/* suggest.h - the word that was probably meant. */
#ifndef SLEW_CLI_LINE_SUGGEST_H
#define SLEW_CLI_LINE_SUGGEST_H

#include <stddef.h>

/* The name nearest to the first `length` bytes of `word`: fewest letters inserted, deleted or
 * replaced, or a name that begins with it. NULL: none is near. */
const char *cli_nearest(const char *word, size_t length, const char *const *names, int count);

#endif
