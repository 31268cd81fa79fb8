/*
 * keys.h - the table behind slew_key_at: each public key with its place in the scenario.
 *
 * The table is ordered as in a file: all keys of a group ("supply.feed") stand together.
 */
#ifndef SLEW_KEYS_KEYS_H
#define SLEW_KEYS_KEYS_H

#include "slewtime/scenario.h"

enum {
    SLEW_KEYS_MAX = 192, /* no less than slew_key_count() */
    SLEW_PATH_MAX = 96,  /* longest path of a key with its end */
    SLEW_PATH_DEPTH = 5  /* most names in one path, plus one */
};

/* What a key holds in a fresh scenario. */
typedef enum slew_initial {
    SLEW_INITIAL_DEFAULT, /* its default_text, read as a file's value */
    SLEW_INITIAL_ZERO,
    SLEW_INITIAL_NOT_GIVEN
} slew_initial;

/* What setting a key says besides its value. */
typedef enum slew_effect {
    SLEW_EFFECT_NOTHING,
    SLEW_EFFECT_GAUGE, /* this is the conductor size that counts */
    SLEW_EFFECT_AREA,
    SLEW_EFFECT_PER_LENGTH,
    SLEW_EFFECT_POINT,   /* the stow point is given */
    SLEW_EFFECT_TIMES,   /* the stored times are given */
    SLEW_EFFECT_DEPLOY,  /* there is a deploy */
    SLEW_EFFECT_WINDOW,  /* the window of the home sensor is as given */
    SLEW_EFFECT_MAGNET,  /* it follows from a magnet */
    SLEW_EFFECT_MOTOR,   /* it may follow from other figures of the motor's data sheet */
    SLEW_EFFECT_SHEET,   /* such a figure */
    SLEW_EFFECT_INERTIA, /* it has a default once these are known */
    SLEW_EFFECT_SHOWN,   /* it changes how figures are shown, and none of them */
} slew_effect;

/* How a key of kind SLEW_KEY_STRUCTURE is read. */
typedef enum slew_structure {
    SLEW_STRUCTURE_NONE,
    SLEW_STRUCTURE_KEEPOUT,
    SLEW_STRUCTURE_TEACH,
    SLEW_STRUCTURE_TODAY,
    SLEW_STRUCTURE_DEPLOY_DAY,
    SLEW_STRUCTURE_TRUCK,
    SLEW_STRUCTURE_DAY,
    SLEW_STRUCTURE_CORRELATION
} slew_structure;

#define SLEW_NO_FIELD ((size_t)-1)

typedef struct slew_key_row {
    slew_key key;
    size_t offset; /* in slew_scenario; SLEW_NO_FIELD: not stored */
    slew_initial initial;
    slew_effect effect;
    slew_structure structure;
    const int *values;    /* of a choice: the value of each of its words */
    const char *infinite; /* a word that stands for INFINITY, or NULL */
    bool bounds_only;     /* only the two bounds themselves are allowed */
    slew_key_use use;     /* of a condition, unless it is PLANT; of the rest, unless it is NONE */
} slew_key_row;

/* The row of a key. `index` must be within the table. */
const slew_key_row *slew_key_row_at(int index);

/* true for gauge, area and per_length, of which one counts. */
bool slew_key_is_size(int index);

/* true for two keys of which one takes the place of the other: two conductor sizes; a home sensor's
 * window and a figure of its magnet. */
bool slew_key_excludes(int index, int other);

/* The axis that a key of one axis belongs to, or SLEW_NO_AXIS. */
int slew_key_axis(int index);

/* First key of the group `path` ("supply.feed"); -1: no such group. */
int slew_group_find(const char *path);

/* true if the key lies in the group whose path is the first `length` characters of `path`. */
bool slew_key_within(int index, const char *path, size_t length);

/* Number of names in a path: 3 in "supply.feed.length". */
int slew_path_depth(const char *path);

/* Nearest key or group to a misspelt path, its path in `text`. Empty and false: none is near. */
bool slew_path_nearest(const char *path, char text[SLEW_PATH_MAX]);

/* Nearest of the words of a choice ("a | b"), as above. */
bool slew_word_nearest(const char *words, const char *word, char text[SLEW_PATH_MAX]);

/* The next word of "a | b | c" from *words on: its start, with its length; NULL at the end. */
const char *slew_word_next(const char **words, size_t *length);

#endif
