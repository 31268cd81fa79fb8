/*
 * no_file.c - what the checks of the library ask for and a page does without: it has no file that
 * an error could point into, and its trial varies nothing.
 */
#include <stddef.h>

struct slew_checker;

void slew_check_spread(const struct slew_checker *checker);
const char *slew_source_line(const char *text, size_t length, int line, size_t *line_length);

void slew_check_spread(const struct slew_checker *checker)
{
    (void)checker;
}

const char *slew_source_line(const char *text, size_t length, int line, size_t *line_length)
{
    (void)text, (void)length, (void)line, (void)line_length;
    return NULL;
}
