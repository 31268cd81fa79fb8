/* pose_marks.h - what the pose picture shows of one axis: where things are, and what they are. */
#ifndef SLEW_CLI_POSE_POSE_MARKS_H
#define SLEW_CLI_POSE_POSE_MARKS_H

#include "draw/labels.h"
#include "single/single_run.h"

typedef enum cli_mark_kind {
    CLI_MARK_STOP,      /* an angle: a hard stop */
    CLI_MARK_HOME,      /* where the home sensor is closed */
    CLI_MARK_POINT,     /* the stow point with its tolerance */
    CLI_MARK_TARGET,    /* of the deploy */
    CLI_MARK_KEEPOUT,   /* a box that counts: the other axis rests inside it after some part */
    CLI_MARK_ELSEWHERE, /* a box that counts only where the other axis does not rest */
    CLI_MARK_START,     /* an angle */
    CLI_MARK_TAUGHT,    /* an angle: the barrel as it was taught, beside where it rests */
    CLI_MARK_STOWED,    /* an angle: at rest after the stow */
    CLI_MARK_DEPLOYED,  /* an angle: at rest after the deploy */
    CLI_MARK_KINDS
} cli_mark_kind;

typedef struct cli_mark {
    cli_mark_kind kind;
    slew_range range; /* low == high: an angle [rad] */
    double named_at;  /* the angle, inside the range, at which its text is tied to it [rad] */
    cli_label label;  /* its text, which may be empty, and where that is */
} cli_mark;

enum { CLI_MARKS_MAX = 9 + SLEW_KEEPOUT_MAX };

typedef struct cli_marks {
    int count;
    cli_mark mark[CLI_MARKS_MAX];
    slew_range stops; /* [rad] */
} cli_marks;

/* "home", "stowed": how data files call a kind. */
const char *cli_mark_word(cli_mark_kind kind);

/* Fills in what the single has to show of that axis; `brief` leaves out what a text can spare. */
void cli_marks_fill(const cli_single *single, int axis, bool brief, cli_marks *out);

/* true: something of that axis is in trouble, or there is a keep-out zone to be seen. */
bool cli_marks_matter(const cli_marks *marks);

/* true: there is such a mark. */
bool cli_marks_have(const cli_marks *marks, cli_mark_kind kind);

#endif
