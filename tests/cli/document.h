/* document.h - what the tool says with --json. */
#ifndef SLEW_TESTS_DOCUMENT_H
#define SLEW_TESTS_DOCUMENT_H

#include "tool.h"

#include <jansson.h>

/* Of a tool that ended with exit code 0. Free it with json_decref(). */
static inline json_t *json_of(const outcome *o)
{
    json_error_t error;
    if (o->code != 0)
        fail_msg("exit code %d: %s", o->code, o->err);
    json_t *whole = json_loads(o->out, 0, &error);
    if (whole == NULL)
        fail_msg("line %d: %s in:\n%s", error.line, error.text, o->out);
    return whole;
}

/* The same; releases the outcome. */
static inline json_t *document(outcome o)
{
    json_t *whole = json_of(&o);
    free_outcome(&o);
    return whole;
}

#endif
