/*
 * words.h - one word for one thing: the words that no finished text has, whatever it is a text of.
 * They are whole words, whatever the case of their first letter. Names of keys, options and JSON
 * are joined by dots, underscores and hyphens, and are no words of texts.
 */
#ifndef SLEW_TESTS_WORDS_H
#define SLEW_TESTS_WORDS_H

#include <ctype.h>
#include <stdbool.h>
#include <stddef.h>
#include <string.h>

static const char *const avoided_words[] = {
    /* of JSON and scenarios */
    "home_not_found", "hard_stop", "not_run", "no_memory", "off_target",
    /* other names of what has one */
    "undervoltage", "driven by hand", "source voltage", "maker", "maker's", "licence",
    "shared load", "other equipment", "low stop", "high stop", "joint", "joints", "the floor",
    "sound truck", "main source", "the source", "own battery", "turret", "cannon", "target window",
    "drive-on", "drive-off", "drives off", "samples", "sobol", "cases", "lands",
    /* of another English */
    "metres", "litres", "motorised", "colour", "centre", "grey", "behaviour",
    /* what was found hard to understand */
    "bits of doubt", "too sharp", "gives no verdict", "says stowed", "controller says", "poles",
    "isolate", "isolated", "it says", "as it came", "unseen", "is enough", "question was answered",
    "is told", "are told", "told of", "set otherwise", "called out for", "odder", "pressed on",
    "stands on", "good enough", "cut off"};
enum { AVOIDED_WORDS = sizeof avoided_words / sizeof *avoided_words };

/* part of a name or word, so not the end of one */
static inline bool words_go_on(char letter)
{
    return isalnum((unsigned char)letter) || letter == '_';
}

static inline bool words_are_at(const char *text, const char *at, const char *word)
{
    size_t length = strlen(word);
    if (tolower((unsigned char)at[0]) != word[0] || strncmp(at + 1, word + 1, length - 1) != 0)
        return false;
    bool joined = at > text && (words_go_on(at[-1]) || strchr(".-/", at[-1]) != NULL);
    return !joined && !words_go_on(at[length]);
}

/* Where the first avoided word of a text is, and which; NULL: it has none. */
static inline const char *find_avoided_word(const char *text, const char **word)
{
    for (const char *at = text; *at != '\0'; at++)
        for (int i = 0; i < AVOIDED_WORDS; i++)
            if (words_are_at(text, at, avoided_words[i])) {
                *word = avoided_words[i];
                return at;
            }
    return NULL;
}

#endif
