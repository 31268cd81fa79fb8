/*
 * writes.c - the N-th write fails, once or from then on, since the disk is full or broken, in every
 * command: either the answer is what it is otherwise, or the tool says what it cannot write and
 * ends with 3, and its files are whole or as they were; it leaves no temporary file and no block.
 *
 * `make check-faults` tries every N, `make check` some of them.
 */
#include <errno.h>

#include "sweep.h"

static int failure; /* as an errno */

/* a fault that lasts is called by its name */
static const char *defect(const asked *c, const answer *a, const answer *good, bool lasts)
{
    bool says = a->said.code == 3 && strstr(a->said.err, "cannot write") != NULL &&
                (!lasts || strstr(a->said.err, strerror(failure)) != NULL);
    if (!gives_the_answer(a, good) && !(says && files_are_whole(a, good)))
        return a->said.code == good->said.code ? "gives another answer" : "says something else";
    if (a->left.of_tool > 0 || a->left.of_library > good->left.of_library)
        return "leaves memory";
    (void)c;
    return NULL;
}

static void survives(void **state)
{
    static const int errors[] = {ENOSPC, EIO};
    for (size_t i = 0; i < (all_faults() ? 2 : 1); i++) {
        sweep s = {.command = *state, .of = "write", .judge = defect};
        failure = errors[i];
        set_number("SLEW_FAULT_ERROR", failure);
        answer good = ask(s.command, 0, false);
        /* the kernel hands them over, and each command writes but one that is refused */
        assert_true(good.left.asked > 0 || good.said.code != 0);
        sweep_command(&s, &good, 6);
        forget(&good);
    }
}

int main(int argc, char **argv)
{
    return sweep_commands("writes", survives, argc > 1 ? argv[1] : NULL);
}
