/*
 * guided.c - a target of fuzzing as libFuzzer calls it, which looks for inputs that reach more of
 * the code. Half of them are damaged as replay.c does it, who knows what our files are made of.
 */
#include <stdint.h>

#include "damage.h"
#include "target.h"

/* libFuzzer has no header in C */
int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);
size_t LLVMFuzzerCustomMutator(uint8_t *data, size_t size, size_t most, unsigned seed);
size_t LLVMFuzzerMutate(uint8_t *data, size_t size, size_t most);

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    fuzzed.takes((const char *)data, size);
    return 0;
}

size_t LLVMFuzzerCustomMutator(uint8_t *data, size_t size, size_t most, unsigned seed)
{
    static damaged d;
    uint64_t state = seed + UINT64_C(1);
    if (size == 0 || size >= TEXT_MAX || below(&state, 2) == 0)
        return LLVMFuzzerMutate(data, size, most);
    damage(&d, (const char *)data, size, &state);
    size_t kept = d.length < most ? d.length : most;
    memcpy(data, d.text, kept);
    return kept;
}
