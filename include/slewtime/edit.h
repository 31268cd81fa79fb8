/*
 * edit.h - values written into the text of a scenario file, everything else left as it stands.
 */
#ifndef SLEWTIME_EDIT_H
#define SLEWTIME_EDIT_H

#include "slewtime/api.h"
#include "slewtime/scenario.h"

#ifdef __cplusplus
extern "C" {
#endif

/* One value: replaced where the key stands, added where it does not. In a list the number of an
 * item, from 0, is its name, and "+" adds one more. */
typedef struct slew_edit {
    const char *group; /* "" the file itself; "today", "spread.truck", "spread.correlation" */
    const char *key;   /* its path in the group, "supply.main.voltage" */
    const char *value; /* "13 V"; quoted where YAML needs it */
    bool as_is;        /* the value is YAML already, a map or a list in braces */
} slew_edit;

/* Applies the edits one after the other to a text that reads as a scenario; comments, order and
 * layout of everything else stay. Returns the new text, the caller's to free, or NULL: *error
 * (never NULL) says why. Read the result back where it matters: YAML has forms (explicit keys, for
 * example) that this does not edit rightly. */
SLEW_API char *slew_scenario_edit(const char *text, const slew_edit *edits, int count,
                                  slew_error *error);

/* The text of a scenario file as it stands, the caller's to free; NULL: *error says why. */
SLEW_API char *slew_scenario_text(const char *path, slew_error *error);

#ifdef __cplusplus
}
#endif

#endif
