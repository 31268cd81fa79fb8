/*
 * no_file.c - a page has no file that an error could point into, and its trial varies nothing.
 */
#include "scenario/check.h"
#include "scenario/source.h"

void slew_check_spread(const slew_checker *checker)
{
    (void)checker;
}

const char *slew_source_line(const char *text, size_t length, int line, size_t *line_length)
{
    (void)text, (void)length, (void)line, (void)line_length;
    return NULL;
}
