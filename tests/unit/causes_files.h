/* causes_files.h - what the tests of catalogues and of what was seen share: errors that are kept.
 */
#ifndef TESTS_CAUSES_FILES_H
#define TESTS_CAUSES_FILES_H

#include "../support.h"

enum { KEPT_MAX = 8 };

typedef struct kept {
    int count;
    slew_error error[KEPT_MAX];
} kept;

static inline void keep_error(void *context, const slew_error *error)
{
    kept *all = context;
    if (all->count < KEPT_MAX)
        all->error[all->count] = *error;
    all->count++;
}

/* what is wrong with a text, and where; NULL: it is not looked at */
typedef struct wrong {
    const char *text;
    int line, column;
    const char *key, *message, *nearest;
} wrong;

static inline void is_said(const wrong *w, slew_status status, const kept *all)
{
    const slew_error *e = &all->error[0];
    if (status != SLEW_ERROR_INPUT || all->count != 1)
        fail_msg("status %d, %d errors, the first %s of:\n%s", status, all->count, e->message,
                 w->text);
    if (e->line != w->line || e->column != w->column || strcmp(e->key, w->key) != 0 ||
        strstr(e->message, w->message) == NULL ||
        (w->nearest != NULL && strcmp(e->nearest, w->nearest) != 0))
        fail_msg("%d:%d %s: %s (%s) of:\n%s", e->line, e->column, e->key, e->message, e->nearest,
                 w->text);
    assert_string_equal(e->source, "file.yaml");
    assert_true(e->excerpt[0] != '\0' || w->text[0] == '\0');
}

#endif
