/*
 * picture_words.h - words that no text of a picture has: for cli_picture_words.c, and for
 * tests/page/pictures.test.js, which reads what stands in quotes here.
 */
#ifndef TESTS_CLI_PICTURE_WORDS_H
#define TESTS_CLI_PICTURE_WORDS_H

/* whole words; the first letter may be a capital */
static const char *const picture_words[] = {
    "undervoltage", "turret",         "cannon",        "low stop",        "high stop",
    "says stowed",  "says deployed",  "it says",       "source",          "floor",
    "joint",        "joints",         "own battery",   "shared load",     "maker",
    "licence",      "driven by hand", "isolate",       "as it came",      "unseen",
    "is enough",    "too sharp",      "bits of doubt", "does not fit, p", "odder",
    "metres",       "motorised",      "poles",         "sound truck",     "missed",
    "stow target",  "stands on",      "on target",     "off target",      "gnuplot",
    "are told",     "least told",     "mount's base",  "coverage",        "Sobol indices",
    "not_run",
};

#endif
