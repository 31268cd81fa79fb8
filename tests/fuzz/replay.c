/*
 * replay.c - a target of fuzzing on its corpus, and on thousands of damaged copies, the same ones
 * in every run. Run it under the address sanitizer to see overruns.
 */
#include <glob.h>
#include <malloc.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>

#include <cmocka.h>

#include "damage.h"
#include "target.h"

/* the inputs of the corpus, in the order of their names, and the one that is tried */
typedef struct replay {
    glob_t names;
    const char *name;
    damaged input;
    bool over; /* without a failure */
} replay;

static void load(replay *r, size_t number)
{
    r->name = r->names.gl_pathv[number];
    FILE *file = fopen(r->name, "rb");
    assert_non_null(file);
    r->input.length = fread(r->input.text, 1, TEXT_MAX, file);
    fclose(file);
    assert_true(r->input.length < TEXT_MAX);
}

/* in room of its own, without a byte too many, so that the sanitizer sees what reads beyond it */
static bool try_input(const damaged *input)
{
    char *bytes = malloc(input->length + 1), *end = bytes + 1;
    assert_non_null(bytes);
    memcpy(end, input->text, input->length);
    bool accepted = fuzzed.takes(end, input->length);
    free(bytes);
    return accepted;
}

/* ---- the heap ---- */

static size_t bytes_in_use(void)
{
    struct mallinfo2 heap = mallinfo2();
    return heap.uordblks + heap.hblkhd;
}

enum { REPEATS = 64 };

/* what is kept for later, or by malloc for the next time, comes to an end; a leak grows on and on
 */
static bool leaks(const damaged *input)
{
    int grown = 0;
    for (int i = 0; i < REPEATS && i - grown <= REPEATS / 4; i++) {
        size_t before = bytes_in_use();
        try_input(input);
        grown += bytes_in_use() > before;
    }
    return grown > REPEATS * 3 / 4;
}

/* ---- the tests ---- */

static void every_input_holds(void **state)
{
    replay *r = *state;
    for (size_t i = 0; i < r->names.gl_pathc; i++) {
        load(r, i);
        try_input(&r->input);
        if (leaks(&r->input))
            fail_msg("%s: memory is lost again and again", r->name);
    }
    r->over = true;
}

static void damaged_inputs_hold(void **state)
{
    static damaged whole;
    replay *r = *state;
    uint64_t generator = 20260101;
    int accepted = 0;
    for (int round = 0; round < fuzzed.rounds; round++) {
        load(r, (size_t)round % r->names.gl_pathc);
        whole = r->input;
        damage(&r->input, whole.text, whole.length, &generator);
        accepted += try_input(&r->input);
    }
    /* the damage is neither always harmless nor always fatal, or nothing would be tried */
    assert_in_range(accepted, fuzzed.rounds / 50, fuzzed.rounds - fuzzed.rounds / 50);
    r->over = true;
}

/* ---- what failed ---- */

static int begin(void **state)
{
    ((replay *)*state)->over = false;
    return 0;
}

/* keeps the input that failed beside the program */
static int end(void **state)
{
    const replay *r = *state;
    char path[256];
    if (r->over)
        return 0;
    snprintf(path, sizeof path, "%s/tests/fuzz/%s.failed", getenv("SLEWTIME_BUILD"), fuzzed.name);
    FILE *file = fopen(path, "wb");
    if (file == NULL)
        return 1;
    fwrite(r->input.text, 1, r->input.length, file);
    print_message("failed on %s, as it is or damaged: %s\n", r->name, path);
    return fclose(file);
}

int main(void)
{
    static replay r;
    char pattern[64];
    const struct CMUnitTest tests[] = {
        {"every_input_holds", every_input_holds, begin, end, &r},
        {"damaged_inputs_hold", damaged_inputs_hold, begin, end, &r},
    };
    snprintf(pattern, sizeof pattern, "tests/fuzz/corpus/%s/*", fuzzed.name);
    if (glob(pattern, 0, NULL, &r.names) != 0) {
        fprintf(stderr, "no inputs: %s\n", pattern);
        return 1;
    }
    int failed = cmocka_run_group_tests_name(fuzzed.name, tests, NULL, NULL);
    globfree(&r.names);
    return failed;
}
