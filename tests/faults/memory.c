/*
 * memory.c - the N-th allocation fails, once or from then on, in every command: either the answer
 * is what it is with enough memory, or the tool says that memory is short and ends with 3; it never
 * aborts, never hangs, leaves no block, no temporary file and no half of an output.
 *
 * `make check-faults` tries every N, until none fails any more; `make check` some of them.
 */
#include "faults.h"

typedef struct asked {
    const char *name;
    const char *argument[16]; /* of the tool */
    bool leaks; /* gsl_multifit_nlinear_alloc and zip_close (libzip 1.7.3, of a compressed file)
                   leave blocks when one of their own is refused */
    bool tells_still; /* the answer is told though the file could not be written */
} asked;

/* what one run left */
typedef struct ending {
    long asked, of_tool, of_library;
} ending;

enum { OUTPUTS = 3 };
static const char *const output[OUTPUTS] = {"out.csv", "out.svg", "pose.svg"};

static const asked command[] = {
    {.name = "check", .argument = {"check", "truck.yaml"}},
    {.name = "check-wrong", .argument = {"check", "truck.yaml", "--set", "supply.feed.lenth=3 m"}},
    {.name = "keys", .argument = {"keys"}, .tells_still = true},
    {.name = "keys-json", .argument = {"keys", "--json"}, .tells_still = true},
    {.name = "run", .argument = {"run", "truck.yaml", "--trace", "out.csv"}},
    {.name = "run-json", .argument = {"run", "truck.yaml", "--json"}},
    {.name = "fmu", .argument = {"fmu", "truck.yaml", "--out", "out.csv"}, .leaks = true},
    {.name = "run-csv", .argument = {"run", "truck.yaml", "--csv"}},
    {.name = "run-plot",
     .argument = {"run", "truck.yaml", "--plot", "out.svg", "--pose", "pose.svg"}},
    {.name = "run-fan",
     .argument = {"run", "truck.yaml", "--pose", "pose.svg", "--samples", "8", "--threads", "1"}},
    {.name = "compare",
     .argument = {"compare", "truck.yaml", "--beside", "weak", "--today",
                  "supply.main.voltage=11 V"}},
    {.name = "compare-json",
     .argument = {"compare", "truck.yaml", "--beside", "weak", "--today",
                  "supply.main.voltage=11 V", "--json"}},
    {.name = "offset", .argument = {"offset", "truck.yaml", "--samples", "8", "--threads", "1"}},
    {.name = "offset-json",
     .argument = {"offset", "truck.yaml", "--samples", "8", "--threads", "2", "--json"}},
    {.name = "plan", .argument = {"plan", "truck.yaml", "--samples", "8", "--threads", "1"}},
    {.name = "plan-json",
     .argument = {"plan", "truck.yaml", "--samples", "8", "--threads", "1", "--json"}},
    {.name = "margin", .argument = {"margin", "truck.yaml", "--samples", "8", "--threads", "1"}},
    {.name = "margin-json",
     .argument = {"margin", "truck.yaml", "--samples", "8", "--threads", "1", "--json"}},
    {.name = "map",
     .argument = {"map", "truck.yaml", "--vary", "today.supply.main.voltage=9V:15V:4"}},
    {.name = "map-two",
     .argument = {"map", "truck.yaml", "--vary", "today.supply.main.voltage=9V:15V:3", "--vary",
                  "stow.point.elevation=-14deg:-4deg:3"}},
    {.name = "map-json",
     .argument = {"map", "truck.yaml", "--vary", "today.supply.main.voltage=9V:15V:4", "--json"}},
    {.name = "feed", .argument = {"feed", "truck.yaml"}},
    {.name = "feed-json", .argument = {"feed", "truck.yaml", "--json"}},
    {.name = "speed", .argument = {"speed", "truck.yaml"}},
    {.name = "speed-json", .argument = {"speed", "truck.yaml", "--json"}},
    {.name = "nozzle",
     .argument = {"nozzle", "truck.yaml", "--tip", "1.5in", "--pressure", "80psi"}},
    {.name = "nozzle-json",
     .argument = {"nozzle", "--tip", "1.5in", "--pressure", "80psi", "--json"}},
    {.name = "window", .argument = {"window", "truck.yaml"}},
    {.name = "window-json", .argument = {"window", "truck.yaml", "--json"}},
    {.name = "fit",
     .argument = {"fit", "truck.yaml", "times.csv", "--key", "elevation.motor.no_load_speed"},
     .leaks = true},
    {.name = "fit-robust",
     .argument = {"fit", "truck.yaml", "times.csv", "--key", "elevation.motor.no_load_speed",
                  "--robust", "--json"},
     .leaks = true},
    {.name = "fit-write",
     .argument = {"fit", "truck.yaml", "times.csv", "--key", "elevation.motor.no_load_speed",
                  "--write", "out.csv"},
     .leaks = true,
     .tells_still = true},
    {.name = "card", .argument = {"card", "truck.yaml", "--samples", "8", "--threads", "1"}},
    {.name = "card-json",
     .argument = {"card", "truck.yaml", "--samples", "8", "--threads", "1", "--json"}},
    {.name = "causes",
     .argument = {"causes", "truck.yaml", "--seen", "seen.yaml", "--samples", "2", "--threads",
                  "1"}},
    {.name = "causes-json",
     .argument = {"causes", "truck.yaml", "--samples", "2", "--threads", "1", "--json"}},
};

enum { COMMANDS = sizeof command / sizeof *command };

/* ---- one command ---- */

/* what the tool gave: its words and its files */
typedef struct answer {
    outcome said;
    char *file[OUTPUTS]; /* NULL: none */
    ending left;
} answer;

static void forget(answer *a)
{
    free_outcome(&a->said);
    for (int i = 0; i < OUTPUTS; i++)
        free(a->file[i]);
}

/* as the shim reported it */
static ending take_ending(void)
{
    ending e = {0};
    char *report = take_file(getenv("SLEW_FAULT_REPORT"));
    if (report != NULL)
        sscanf(report, "%ld %ld %ld", &e.asked, &e.of_tool, &e.of_library);
    free(report);
    return e;
}

static answer ask(const asked *c, long at, bool lasts)
{
    answer a;
    char number[24];
    snprintf(number, sizeof number, "%ld", at);
    setenv("SLEW_FAULT_AT", number, 1);
    setenv("SLEW_FAULT_LASTS", lasts ? "1" : "0", 1);
    a.said = run_with(&(limits){.seconds = 20, .shim = getenv("SLEW_FAULT_SHIM")}, c->argument);
    a.left = take_ending();
    for (int i = 0; i < OUTPUTS; i++)
        a.file[i] = take_file(output[i]);
    return a;
}

static bool same(const char *a, const char *b)
{
    return a == NULL || b == NULL ? a == b : strcmp(a, b) == 0;
}

static bool gives_the_answer(const answer *a, const answer *good)
{
    bool yes = a->said.code == good->said.code && same(a->said.out, good->said.out);
    for (int i = 0; i < OUTPUTS; i++)
        yes = yes && same(a->file[i], good->file[i]);
    return yes;
}

/* files that were written before memory was short are whole */
static bool says_short(const asked *c, const answer *a, const answer *good)
{
    bool yes = a->said.code == 3 && strstr(a->said.err, "memory is short") != NULL &&
               (c->tells_still || a->said.out[0] == '\0' || same(a->said.out, good->said.out));
    for (int i = 0; i < OUTPUTS; i++)
        yes = yes && (a->file[i] == NULL || same(a->file[i], good->file[i]));
    return yes;
}

static const char *defect(const asked *c, const answer *a, const answer *good)
{
    if (a->said.code < 0)
        return "is killed or hangs";
    if (!gives_the_answer(a, good) && !says_short(c, a, good))
        return a->said.code == good->said.code ? "gives another answer" : "says something else";
    if (a->left.of_tool > 0 || (!c->leaks && a->left.of_library > good->left.of_library))
        return "leaves memory";
    if (count_temporary() > 0)
        return "leaves a temporary file";
    return NULL;
}

/* every stride-th N from `first`; how many were wrong */
static int sweep(const asked *c, const answer *good, long first, long stride)
{
    int wrong = 0;
    for (long at = first; at <= good->left.asked; at += stride)
        for (int lasts = 0; lasts < 2; lasts++) {
            answer a = ask(c, at, lasts);
            const char *what = defect(c, &a, good);
            if (what != NULL)
                fprintf(stderr, "%s: allocation %ld%s: %s, exit code %d: %.150s\n", c->name, at,
                        lasts ? " and all after it" : "", what, a.said.code, a.said.err);
            wrong += what != NULL;
            forget(&a);
        }
    return wrong;
}

/* in a directory of its own, so that others may work beside it */
static int sweep_alone(const asked *c, const answer *good, long first, long stride)
{
    void *state = NULL;
    if (chdir(start_directory) != 0 || enter_faults(&state) != 0)
        return 255;
    setenv("SLEW_FAULT_REPORT", "report", 1);
    int wrong = sweep(c, good, first, stride);
    leave_faults(&state);
    return wrong < 255 ? wrong : 254;
}

/* two at a time; the first numbers are tried at any rate */
static int sweep_shared(const asked *c, const answer *good)
{
    long stride = all_faults() ? 1 : good->left.asked / 12 + 1;
    int wrong = 0, status;
    for (long half = 0; half < 2; half++)
        if (fork() == 0)
            _exit(sweep_alone(c, good, 1 + half * stride, 2 * stride));
    while (wait(&status) > 0)
        wrong += WIFEXITED(status) ? WEXITSTATUS(status) : 1;
    return wrong;
}

static void survives(void **state)
{
    const asked *c = *state;
    setenv("SLEW_FAULT_REPORT", "report", 1);
    answer good = ask(c, 0, false);
    if (good.said.code < 0 || good.said.code == 3)
        fail_msg("%s: exit code %d: %s", c->name, good.said.code, good.said.err);
    assert_int_equal(good.left.of_tool, 0);
    int wrong = sweep_shared(c, &good);
    fprintf(stderr, "%s: %ld allocations, %d wrong\n", c->name, good.left.asked, wrong);
    forget(&good);
    assert_int_equal(wrong, 0);
}

int main(int argc, char **argv)
{
    struct CMUnitTest tests[COMMANDS];
    size_t count = 0;
    for (size_t i = 0; i < COMMANDS; i++)
        if (argc < 2 || strcmp(argv[1], command[i].name) == 0)
            tests[count++] = (struct CMUnitTest){command[i].name, survives, NULL, NULL,
                                                 (void *)(uintptr_t)&command[i]};
    return _cmocka_run_group_tests("memory", tests, count, enter_faults, leave_faults);
}
