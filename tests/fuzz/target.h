/*
 * target.h - what a target of fuzzing is: something that reads bytes, and what holds whatever they
 * are.
 *
 * Each TARGET.c of this folder defines one. Two drivers call it: replay.c in `make check`, on the
 * inputs of its corpus and on damaged copies of them, the same ones in every run; guided.c in `make
 * fuzz`, on what libFuzzer finds to reach more of the code.
 */
#ifndef TESTS_FUZZ_TARGET_H
#define TESTS_FUZZ_TARGET_H

#include <stdbool.h>
#include <stddef.h>

typedef struct fuzz_target {
    const char *name; /* its inputs are tests/fuzz/corpus/NAME/ */
    int rounds;       /* damaged copies that replay.c tries */
    /* Reads the bytes, after which no zero stands, and asserts what must hold. true: accepted. */
    bool (*takes)(const char *bytes, size_t length);
} fuzz_target;

extern const fuzz_target fuzzed;

#endif
