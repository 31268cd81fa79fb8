/* answer.h - the answer of `slewtime check`, and how it is told. */
#ifndef SLEW_CLI_CHECK_ANSWER_H
#define SLEW_CLI_CHECK_ANSWER_H

#include "single/single_run.h"
#include "slewtime/facts.h"
#include "tell/teller.h"

typedef struct cli_check {
    cli_single single;
    const char *path;
    slew_axis_facts axis[SLEW_AXES]; /* today */
    slew_hangs hangs;
    const bool *given; /* of each key, whether file or command line set it */
    int doubt_count;
    slew_doubt doubt[SLEW_DOUBTS_MAX];
} cli_check;

/* The figures of an axis' motor that are not given but follow from its data sheet (one that is a
 * default: last), as keys; -1: given. */
enum { CLI_FOLLOWING = 5 };
int cli_check_following(const cli_check *answer, int axis, int index);

/* The ways of telling it, for cli_frame. */
void cli_check_text(const void *what);
void cli_check_document(cli_teller *teller, const void *what);

#endif
