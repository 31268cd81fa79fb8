/*
 * library.c - a program that uses the library, where the N-th allocation fails, once or from then
 * on: every question says SLEW_ERROR_MEMORY or gives the answer that it gives otherwise; the
 * process never ends or hangs, and no block is left.
 *
 * `make check-faults` tries every N, `make check` some of them. Each is tried in a child of its
 * own.
 *
 * One thing is left out: allocations that UDUNITS makes. Where one of its own fails it ends the
 * process, in its scanner and by assertions, and nobody outside can keep it from that; read.h says
 * so. The library asks for its room beforehand (scenario/database.c), and that allocation, like
 * every other one before, between and after the calls of UDUNITS, fails here as any does. The rule
 * is exact: this program is linked with its own ut_* in between, and nothing fails while one runs.
 */
#include <dlfcn.h>
#include <udunits2.h>

#include "faults.h"
#include "slewtime/slewtime.h"

#include "../questions.h"

/* ---- the shim, which this program is run again with ---- */

static void (*arm)(long at, int lasts);
static void (*hold)(int held);
static void (*disarm)(long *asked, long *of_program, long *of_library);

/* dlsym gives a pointer to an object: the standard has no other way */
static bool find(void *program, const char *name, void *function)
{
    void *found = dlsym(program, name);
    memcpy(function, &found, sizeof found);
    return found != NULL;
}

static bool find_shim(void)
{
    void *program = dlopen(NULL, RTLD_NOW);
    return program != NULL && find(program, "slew_fault_arm", (void *)&arm) &&
           find(program, "slew_fault_hold", (void *)&hold) &&
           find(program, "slew_fault_disarm", (void *)&disarm);
}

/* ---- UDUNITS, within which nothing fails: the linker's --wrap ---- */

#define UDUNITS(type, name, parameters, ...)                                                       \
    type __real_##name parameters;                                                                 \
    type __wrap_##name parameters;                                                                 \
    type __wrap_##name parameters                                                                  \
    {                                                                                              \
        hold(1);                                                                                   \
        type result = __real_##name(__VA_ARGS__);                                                  \
        hold(0);                                                                                   \
        return result;                                                                             \
    }

UDUNITS(ut_system *, ut_read_xml, (const char *path), path)
UDUNITS(ut_unit *, ut_parse, (const ut_system *s, const char *t, ut_encoding e), s, t, e)
UDUNITS(ut_unit *, ut_divide, (const ut_unit *a, const ut_unit *b), a, b)
UDUNITS(int, ut_format, (const ut_unit *u, char *text, size_t size, unsigned how), u, text, size,
        how)
UDUNITS(cv_converter *, ut_get_converter, (ut_unit * from, ut_unit *to), from, to)
UDUNITS(ut_status, ut_map_name_to_unit, (const char *n, ut_encoding e, const ut_unit *u), n, e, u)
UDUNITS(ut_status, ut_unmap_name_to_unit, (ut_system * s, const char *n, ut_encoding e), s, n, e)
UDUNITS(ut_status, ut_unmap_symbol_to_unit, (ut_system * s, const char *n, ut_encoding e), s, n, e)

/* ---- the questions ---- */

enum { FIGURES = 24 };

typedef struct answer {
    slew_status status;
    slew_error error; /* of those that have one */
    double figure[FIGURES];
} answer;

static asked_of about;
static slew_seen seen;

static const char UNCOMMON[] = "supply.feed.length=0.03 furlong",
                  UNKNOWN[] = "supply.feed.length=3 ell";

static void keep(void *context, const slew_error *error)
{
    *(slew_error *)context = *error;
}

static void read_with(answer *a, const char *set)
{
    static slew_scenario read;
    const slew_assignment assignment = {.layer = SLEW_LAYER_FILE, .text = set, .origin = "set"};
    const slew_reading reading = {.assignments = set != NULL ? &assignment : NULL,
                                  .assignment_count = set != NULL,
                                  .errors = {keep, &a->error}};
    a->status = slew_scenario_read_file("truck.yaml", &reading, &read);
    a->figure[0] = read.setup.supply.feed.length;
    a->figure[1] = (double)(slew_scenario_hash(&read) >> 12);
}

static void read_plain(answer *a)
{
    read_with(a, NULL);
}

static void read_uncommon(answer *a)
{
    read_with(a, UNCOMMON);
}

static void read_unknown(answer *a)
{
    read_with(a, UNKNOWN);
}

static void run(answer *a)
{
    static slew_result result;
    a->status = slew_run(&about.scenario, SLEW_STOW_AND_DEPLOY, NULL, &result, &a->error);
    a->figure[0] = result.stow.duration;
    a->figure[1] = result.deploy.angle[SLEW_ELEVATION];
}

static void fit_as(answer *a, bool robust)
{
    static slew_fit fit;
    slew_fit_question question = {.timings = &about.timings, .keys = 1, .robust = robust};
    question.key[0] = slew_key_find("elevation.motor.no_load_speed");
    a->status = slew_fit_run(&about.scenario, &question, &fit, &a->error);
    a->figure[0] = fit.figure[0].value;
    a->figure[1] = fit.figure[0].sd;
}

static void fit(answer *a)
{
    fit_as(a, false);
}

static void fit_robust(answer *a)
{
    fit_as(a, true);
}

static const char TEXT[] = "title: x\nspread:\n  truck:\n    a: 1\n";

static void edit(answer *a)
{
    const slew_edit edits[] = {{"", "title", "a \"b\": c", false},
                               {"today", "supply.floor", "9 V", false},
                               {"spread.truck", "b", "{uniform: {low: 1, high: 2}}", true},
                               {"spread.correlation", "+", "{between: [a, b]}", true}};
    char *text = slew_scenario_edit(TEXT, edits, 4, &a->error);
    a->status = a->error.status;
    a->figure[0] = text != NULL ? (double)strlen(text) : 0;
    free(text);
}

/* into the truck's file, with a list that is set along */
static void write_fit(answer *a)
{
    static slew_fit fit;
    const slew_assignment set = {SLEW_LAYER_FILE, "deploy.choices.elevation=1 s, 2 s", "--set",
                                 false};
    slew_fit_question question = {.timings = &about.timings, .keys = 2};
    question.key[0] = slew_key_find("elevation.motor.no_load_speed");
    question.key[1] = slew_key_find("elevation.load.friction");
    a->status = slew_fit_run(&about.scenario, &question, &fit, &a->error);
    char *truck = a->status == SLEW_OK ? slew_scenario_text("truck.yaml", &a->error) : NULL;
    if (a->status == SLEW_OK && truck == NULL)
        a->status = a->error.status;
    if (truck == NULL)
        return;
    a->error = (slew_error){0};
    char *text = slew_fit_write(&fit, truck, &set, 1, "noted", &a->error);
    a->status = a->error.status;
    a->figure[0] = text != NULL ? (double)strlen(text) : 0;
    free(text);
    free(truck);
}

static void diagnose(answer *a, const slew_catalogue *catalogue, const slew_causes *causes)
{
    slew_diagnosis d;
    a->status = slew_causes_diagnose(causes, catalogue, &seen, 1, &d, &a->error);
    if (a->status != SLEW_OK)
        return;
    a->figure[0] = d.ranking.share[d.ranking.order[0]];
    a->figure[1] = d.ranking.none;
    a->figure[2] = d.fit[0];
    a->figure[3] = d.bits[d.next[0]];
    slew_diagnosis_free(&d);
}

static void causes(answer *a)
{
    static slew_catalogue catalogue;
    slew_causes c;
    slew_sampling two = about.sampling;
    two.samples = 2;
    two.shifts = 2;
    a->status = slew_catalogue_builtin(&catalogue);
    if (a->status == SLEW_OK)
        a->status = slew_causes_run(&about.scenario, &catalogue, &seen, &two, &c, &a->error);
    if (a->status != SLEW_OK)
        return;
    diagnose(a, &catalogue, &c);
    slew_causes_free(&c);
}

typedef struct asked {
    const char *name;
    void (*ask)(answer *a);
    slew_status status; /* with enough memory */
    bool leaks; /* gsl_multifit_nlinear_alloc leaves blocks when one of its own is refused */
    const struct question *sampled; /* in the place of `ask` */
} asked;

static const asked question[] = {
    {.name = "read", .ask = read_plain},
    {.name = "read uncommon unit", .ask = read_uncommon},
    {.name = "read unknown unit", .ask = read_unknown, .status = SLEW_ERROR_INPUT},
    {.name = "run", .ask = run},
    {.name = "fit", .ask = fit, .leaks = true},
    {.name = "fit robust", .ask = fit_robust, .leaks = true},
    {.name = "diagnosis", .ask = causes},
    {.name = "edit", .ask = edit},
    {.name = "write a fit", .ask = write_fit, .leaks = true},
};

enum { QUESTIONS = sizeof question / sizeof *question };

/* ---- one attempt ---- */

typedef struct left {
    long asked, of_program, of_library;
} left;

static answer ask(const asked *q, long at, bool lasts, left *l)
{
    answer a = {0};
    arm(at, lasts);
    if (q->sampled != NULL)
        a.status = q->sampled->ask(&about, a.figure, &a.error);
    else
        q->ask(&a);
    disarm(&l->asked, &l->of_program, &l->of_library);
    return a;
}

/* `kept`: blocks that other libraries keep with enough memory, too: UDUNITS of each database */
static const char *defect(const asked *q, const answer *a, const answer *good, const left *l,
                          long kept)
{
    bool same = a->status == good->status && memcmp(a->figure, good->figure, sizeof a->figure) == 0;
    if (a->status != SLEW_ERROR_MEMORY && !same)
        return a->status == good->status ? "gives another answer" : "says something else";
    if (a->status == SLEW_ERROR_MEMORY && a->error.status != SLEW_ERROR_MEMORY &&
        a->error.status != SLEW_OK)
        return "says memory, and explains another thing";
    if (l->of_program > 0 || (l->of_library > kept && !q->leaks))
        return "leaves memory";
    return NULL;
}

/* in the child */
static int attempt(const asked *q, const answer *good, long at, bool lasts, long kept)
{
    left l;
    alarm(60);
    answer a = ask(q, at, lasts, &l);
    const char *what = defect(q, &a, good, &l, kept);
    if (what != NULL)
        fprintf(stderr, "%s: allocation %ld%s: %s: status %d, %s, %ld and %ld blocks left\n",
                q->name, at, lasts ? " and all after it" : "", what, (int)a.status, a.error.message,
                l.of_program, l.of_library);
    return what != NULL;
}

static bool is_wrong(const asked *q, const answer *good, long at, bool lasts, long kept)
{
    int status;
    fflush(NULL);
    pid_t child = fork();
    assert_true(child >= 0);
    if (child == 0)
        exit(attempt(q, good, at, lasts, kept)); /* at the end branches are counted */
    assert_int_equal(waitpid(child, &status, 0), child);
    if (WIFSIGNALED(status))
        fprintf(stderr, "%s: allocation %ld%s: the process ends or hangs: signal %d\n", q->name, at,
                lasts ? " and all after it" : "", WTERMSIG(status));
    return !WIFEXITED(status) || WEXITSTATUS(status) != 0;
}

/* asked once before it is counted: what libraries keep for ever is there then */
static void survives(void **state)
{
    const asked *q = *state;
    left l;
    int wrong = 0;
    ask(q, 0, false, &l);
    answer good = ask(q, 0, false, &l);
    if (good.status != q->status)
        fail_msg("%s: status %d: %s", q->name, (int)good.status, good.error.message);
    assert_int_equal(l.of_program, 0);
    const long kept = l.of_library;
    long stride = all_faults() || l.asked < 256 ? 1 : l.asked / 12 + 1;
    for (long at = 1; at <= l.asked; at += stride)
        wrong += is_wrong(q, &good, at, false, kept) + is_wrong(q, &good, at, true, kept);
    fprintf(stderr, "%s: %ld allocations, %d wrong\n", q->name, l.asked, wrong);
    assert_int_equal(wrong, 0);
}

/* what short memory for a unit is called */
static void a_unit_without_memory_says_so(void **state)
{
    (void)state;
    static const asked read = {.name = "unit", .ask = read_uncommon};
    int told = 0;
    left l;
    ask(&read, 0, false, &l);
    for (long at = 1; at <= l.asked; at++) {
        left ignored;
        answer a = ask(&read, at, false, &ignored);
        assert_true(a.status == SLEW_ERROR_MEMORY || a.status == SLEW_OK);
        if (strstr(a.error.message, "unit \"furlong\" is none of the usual ones, and memory is "
                                    "short") != NULL) {
            assert_int_equal(a.error.status, SLEW_ERROR_MEMORY);
            told++;
        }
    }
    assert_true(told > 0);
}

/* ---- what is asked about ---- */

static int enter(void **state)
{
    if (enter_faults(state) != 0)
        return -1;
    about.sampling = slew_sampling_default();
    about.sampling.samples = 8;
    about.sampling.threads = 1;
    if (slew_catalogue_builtin(&about.catalogue) != SLEW_OK)
        return -1;
    about.catalogue.count = 4;
    const slew_error_sink quiet = {0};
    return slew_scenario_read_file("truck.yaml", NULL, &about.scenario) == SLEW_OK &&
                   slew_timings_read_file("times.csv", quiet, &about.timings) == SLEW_OK &&
                   slew_seen_read_file("seen.yaml", quiet, &seen) == SLEW_OK
               ? 0
               : -1;
}

static int run_with_shim(char **argument)
{
    char path[1200];
    const char *build = getenv("SLEWTIME_BUILD");
    from_here(build != NULL ? build : "build", path, sizeof path - 32);
    strcat(path, "/tests/faults/shim.so");
    setenv("LD_PRELOAD", path, 1);
    execv("/proc/self/exe", argument);
    perror(path);
    return 1;
}

/* the question if it is asked for, by its name or for lack of one; returns how many: 1 or 0 */
static size_t add(const char *name, const asked *q, struct CMUnitTest *test)
{
    *test = (struct CMUnitTest){q->name, survives, NULL, NULL, (void *)(uintptr_t)q};
    return name == NULL || strcmp(name, q->name) == 0;
}

int main(int argc, char **argv)
{
    static asked sampled[QUESTION_COUNT];
    struct CMUnitTest tests[QUESTIONS + QUESTION_COUNT + 1];
    const struct CMUnitTest none[] = {cmocka_unit_test(is_left_out)};
    size_t count = 0;
    if (is_sanitized())
        return cmocka_run_group_tests(none, NULL, NULL);
    if (getenv("LD_PRELOAD") == NULL)
        return run_with_shim(argv);
    if (!find_shim()) {
        fprintf(stderr, "the shim was not loaded: %s\n", getenv("LD_PRELOAD"));
        return 1;
    }
    unsetenv("LD_PRELOAD");
    for (size_t i = 0; i < QUESTIONS; i++)
        count += add(argv[1], &question[i], &tests[count]);
    for (size_t i = 0; i < QUESTION_COUNT; i++) {
        sampled[i] = (asked){.name = QUESTION[i].name, .sampled = &QUESTION[i]};
        count += add(argv[1], &sampled[i], &tests[count]);
    }
    if (argc < 2)
        tests[count++] = (struct CMUnitTest)cmocka_unit_test(a_unit_without_memory_says_so);
    return _cmocka_run_group_tests("library", tests, count, enter, leave_faults);
}
