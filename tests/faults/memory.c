/*
 * memory.c - the N-th allocation fails, once or from then on, in every command: either the answer
 * is what it is with enough memory, or the tool says that memory is short and ends with 3; it never
 * aborts, never hangs, leaves no block, no temporary file and no half of an output.
 *
 * `make check-faults` tries every N, until none fails any more; `make check` some of them.
 */
#include "sweep.h"

static bool says_short(const asked *c, const answer *a, const answer *good)
{
    return a->said.code == 3 && strstr(a->said.err, "memory is short") != NULL &&
           files_are_whole(a, good) &&
           (c->tells_still || a->said.out[0] == '\0' || same(a->said.out, good->said.out));
}

static const char *defect(const asked *c, const answer *a, const answer *good, bool lasts)
{
    (void)lasts;
    if (!gives_the_answer(a, good) && !says_short(c, a, good))
        return a->said.code == good->said.code ? "gives another answer" : "says something else";
    if (a->left.of_tool > 0 || (!c->leaks && a->left.of_library > good->left.of_library))
        return "leaves memory";
    return NULL;
}

static void survives(void **state)
{
    sweep s = {.command = *state, .of = "allocation", .judge = defect};
    answer good = ask(s.command, 0, false);
    sweep_command(&s, &good, 12);
    forget(&good);
}

int main(int argc, char **argv)
{
    return sweep_commands("memory", survives, argc > 1 ? argv[1] : NULL);
}
