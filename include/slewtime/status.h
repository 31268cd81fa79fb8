/*
 * status.h - how the library says that something went wrong.
 *
 * A function that can fail returns a slew_status and, where more is to be said, fills or reports a
 * slew_error. The library never prints, exits or aborts on bad input.
 *
 * What a program hands over by mistake - NULL where a comment does not allow it, an axis, key, size
 * or word that there is not, a number that is none, a count that is none - is SLEW_ERROR_INPUT
 * where there is a status, with nothing done. A function without one does nothing then and gives
 * what is nothing of its kind: NULL, false, "" or "?", 0 of a number of things, -1 of an index, NaN
 * of a figure. An `error` may always be NULL. Functions of plain numbers (physics.h) take any and
 * give NaN where there is no answer.
 *
 * A programmer's error that nobody can see, and that is the caller's alone: a pointer to nothing or
 * to less than is said, a struct that was never filled in, one that the library has filled in
 * (model, plant, machine, prepared, answers) and somebody else has written to, one machine or
 * answer in two threads at a time. tests/unit/host_arguments.c goes through all functions.
 *
 * GSL, which would end a process, is kept from doing so: its functions get no argument that it
 * refuses, and room of the library's own. Only least squares (fit.h) let it allocate.
 */
#ifndef SLEWTIME_STATUS_H
#define SLEWTIME_STATUS_H

/* 0 is success, everything else an error: the output is then not to be used. */
typedef enum slew_status {
    SLEW_OK = 0,
    SLEW_ERROR_INPUT,   /* a scenario, key, value or argument is wrong */
    SLEW_ERROR_TEACH,   /* the stow point can't be taught at the teaching conditions */
    SLEW_ERROR_FILE,    /* a file can't be opened or read */
    SLEW_ERROR_MEMORY,  /* memory is short */
    SLEW_ERROR_STOPPED, /* the caller's callback asked to stop */
    SLEW_ERROR_MAGNET,  /* a home sensor's magnet in the core, which takes operate and release */
    SLEW_ERROR_PIECES,  /* the motion comes in more pieces than can be followed (SLEW_PIECES_MAX) */
    SLEW_ERROR_BUILD,   /* saved by another build of the library, or not by it at all */
    SLEW_ERROR_DAMAGED  /* not as it was saved */
} slew_status;

/* One error, ready to be shown. A text that does not apply is empty, a number that does not is 0.
 */
typedef struct slew_error {
    slew_status status;
    char source[256];  /* file name, "--set" and the like */
    int line;          /* 1-based */
    int column;        /* 1-based, in characters */
    char key[96];      /* path of the key, for example "supply.feed.length" */
    int layer;         /* slew_layer_id of the layer whose value of the key is meant; 0: the file */
    char message[320]; /* what is wrong, one line, without a full stop */
    char expected[256]; /* what was expected, with an example: "a length, for example 9 m" */
    char nearest[96];   /* nearest known key or word, if there is one */
    char excerpt[160];  /* the line of the source as it stands, for a caret under `column` */
} slew_error;

/* Receives errors one by one; `report` may be NULL: errors are then only counted. */
typedef struct slew_error_sink {
    void (*report)(void *context, const slew_error *error);
    void *context;
} slew_error_sink;

#endif
