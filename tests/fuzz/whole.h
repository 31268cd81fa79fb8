/* whole.h - errors are whole and printable, whatever was damaged. */
#ifndef TESTS_FUZZ_WHOLE_H
#define TESTS_FUZZ_WHOLE_H

#include "../unit/scenario_text.h"
#include "keys/text.h"

/* ended, UTF-8, and nothing that a terminal acts on */
static inline void is_shown_whole(const char *text, size_t size)
{
    size_t length = strnlen(text, size);
    assert_true(length < size);
    for (size_t i = 0, step; i < length; i += step) {
        step = slew_utf8_length(text + i, length - i);
        assert_true(step > 0);
        assert_true((unsigned char)text[i] >= 0x20 && text[i] != 0x7F);
    }
}

static inline void error_is_whole(const slew_error *e)
{
    is_shown_whole(e->source, sizeof e->source);
    is_shown_whole(e->message, sizeof e->message);
    is_shown_whole(e->key, sizeof e->key);
    is_shown_whole(e->expected, sizeof e->expected);
    is_shown_whole(e->nearest, sizeof e->nearest);
    is_shown_whole(e->excerpt, sizeof e->excerpt);
    assert_true(e->message[0] != '\0');
    assert_true(e->line >= 0 && e->column >= 0 && (e->line > 0 || e->column == 0));
}

/* of a file: each with its place, in the order of the lines; the last may say that there are more
 */
static inline void errors_are_whole(const caught *all)
{
    int line = 0;
    for (int i = 0; i < all->count && i < CAUGHT_MAX; i++) {
        const slew_error *e = &all->error[i];
        error_is_whole(e);
        assert_true(e->source[0] != '\0');
        assert_true((e->line > 0 && e->line >= line) || i == 100);
        line = e->line;
    }
}

#endif
