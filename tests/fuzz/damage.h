/* damage.h - a text with a few things wrong in it, the same ones for the same state. */
#ifndef TESTS_FUZZ_DAMAGE_H
#define TESTS_FUZZ_DAMAGE_H

#include <stdbool.h>
#include <stdint.h>
#include <string.h>

enum { TEXT_MAX = 32768 };

/* Marsaglia's xorshift64*, from any start but zero */
static inline uint64_t next(uint64_t *state)
{
    *state ^= *state >> 12;
    *state ^= *state << 25;
    *state ^= *state >> 27;
    return *state * UINT64_C(2685821657736338717);
}

static inline size_t below(uint64_t *state, size_t bound)
{
    return (size_t)(next(state) >> 33) % bound;
}

typedef struct damaged {
    char text[TEXT_MAX];
    size_t length;
} damaged;

/* ---- damage ---- */

static inline void flip(damaged *d, uint64_t *state)
{
    d->text[below(state, d->length)] ^= (char)(1 << below(state, 7));
}

static inline void drop(damaged *d, uint64_t *state)
{
    size_t at = below(state, d->length), count = 1 + below(state, 12);
    if (at + count >= d->length)
        return;
    memmove(d->text + at, d->text + at + count, d->length - at - count);
    d->length -= count;
}

static inline void insert(damaged *d, size_t at, const char *what, size_t count)
{
    if (d->length + count >= TEXT_MAX)
        return;
    memmove(d->text + at + count, d->text + at, d->length - at);
    memcpy(d->text + at, what, count);
    d->length += count;
}

static inline void splice(damaged *d, uint64_t *state)
{
    static const char *const pieces[] = {
        "{",
        "}",
        "[",
        "]",
        ": ",
        ", ",
        "\n",
        "\n  ",
        "- ",
        "#",
        "&a ",
        "*a",
        "!!map",
        "'",
        "\"",
        "|\n",
        "NaN",
        "-",
        "e999",
        "%",
        "null",
        "~",
        "°",
        "\xFF",
        "---",
        "\t",
        "1_000",
        "1e308",
        ".",
        "/",
        "mm2/s",
        "furlong",
        "K",
        "0",
        "\\x00",
        "<<",
        "never",
        "AWG 4/0",
        "normal: {mean: 1 V, sd: 1 V}",
        "\xEF\xBB\xBF",
    };
    const char *piece = pieces[below(state, sizeof pieces / sizeof pieces[0])];
    insert(d, below(state, d->length), piece, strlen(piece));
}

static inline void repeat(damaged *d, uint64_t *state)
{
    char copy[64];
    size_t count = 1 + below(state, sizeof copy), from = below(state, d->length);
    if (from + count > d->length)
        return;
    memcpy(copy, d->text + from, count);
    insert(d, below(state, d->length), copy, count);
}

static inline bool is_of_number(char c)
{
    return (c >= '0' && c <= '9') || c == '.';
}

/* another number in the place of one: the ends of what may be written, and what is hardly there */
static inline void renumber(damaged *d, uint64_t *state)
{
    static const char *const numbers[] = {
        "0",     "-1",   "1",   "1e-300", "1e-12", "1e-3", "1e3",   "1e6", "1e12", "1e99",
        "1e100", "99.9", "100", "0.5",    "89.99", "180",  "359.9", "256", "2001", "65535"};
    const char *number = numbers[below(state, sizeof numbers / sizeof numbers[0])];
    size_t at = below(state, d->length), end;
    while (at < d->length && !is_of_number(d->text[at]))
        at++;
    for (end = at; end < d->length && is_of_number(d->text[end]);)
        end++;
    if (end == at || end - at >= d->length)
        return;
    memmove(d->text + at, d->text + end, d->length - end);
    d->length -= end - at;
    insert(d, at, number, strlen(number));
}

static inline void cut(damaged *d, uint64_t *state)
{
    if (below(state, 20) == 0)
        d->length = 1 + below(state, d->length);
}

/* length: 1 to TEXT_MAX - 1; the damaged text is no shorter and no longer than that */
static inline void damage(damaged *d, const char *text, size_t length, uint64_t *state)
{
    static void (*const ways[])(damaged *, uint64_t *) = {flip,   drop,     splice,
                                                          repeat, renumber, cut};
    d->length = length;
    memcpy(d->text, text, d->length);
    for (size_t times = 1 + below(state, 6); times > 0; times--)
        ways[below(state, sizeof ways / sizeof ways[0])](d, state);
}

#endif
