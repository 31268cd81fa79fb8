/*
 * sweep.h - one command, where its N-th allocation or write fails, for every N: once, and all after
 * it too. The shim does that in copies of one process where it can (shim_fork.c); where it can't,
 * the command is run again.
 */
#ifndef SLEW_TESTS_FAULTS_SWEEP_H
#define SLEW_TESTS_FAULTS_SWEEP_H

#include "commands.h"
#include "kept.h"
#include "shim.h"

/* what one run left */
typedef struct ending {
    long asked, of_tool, of_library;
} ending;

/* what the tool gave: its words and its files */
typedef struct answer {
    outcome said;
    char *file[OUTPUTS]; /* NULL: none */
    ending left;
} answer;

/* What is wrong with an answer; NULL: nothing. */
typedef const char *judge(const asked *c, const answer *a, const answer *good, bool lasts);

typedef struct sweep {
    const asked *command;
    const answer *good;
    const char *of; /* "allocation" */
    judge *judge;
    int wrong;
    long runs, again; /* again: of them from the start */
} sweep;

/* ---- one answer ---- */

static inline void forget(answer *a)
{
    free_outcome(&a->said);
    for (int i = 0; i < OUTPUTS; i++)
        free(a->file[i]);
}

/* as the shim reported it, and the files */
static inline void take_rest(answer *a)
{
    char *report = take_file("report");
    a->left = (ending){0};
    if (report != NULL)
        sscanf(report, "%ld %ld %ld", &a->left.asked, &a->left.of_tool, &a->left.of_library);
    free(report);
    for (int i = 0; i < OUTPUTS; i++)
        a->file[i] = take_file(output[i]);
}

static inline void set_number(const char *name, long number)
{
    char text[24];
    snprintf(text, sizeof text, "%ld", number);
    setenv(name, text, 1);
}

/* 0: nothing fails */
static inline answer ask(const asked *c, long at, bool lasts)
{
    answer a;
    unsetenv("SLEW_FAULT_SERVE");
    setenv("SLEW_FAULT_REPORT", "report", 1);
    set_number("SLEW_FAULT_AT", at);
    set_number("SLEW_FAULT_LASTS", lasts);
    a.said = run_with(&(limits){.seconds = 600, .shim = getenv("SLEW_FAULT_SHIM")}, c->argument);
    take_rest(&a);
    return a;
}

static inline bool same(const char *a, const char *b)
{
    return a == NULL || b == NULL ? a == b : strcmp(a, b) == 0;
}

static inline bool gives_the_answer(const answer *a, const answer *good)
{
    bool yes = a->said.code == good->said.code && same(a->said.out, good->said.out) &&
               same(a->said.err, good->said.err);
    for (int i = 0; i < OUTPUTS; i++)
        yes = yes && same(a->file[i], good->file[i]);
    return yes;
}

/* each is as it was, which is not there, or whole */
static inline bool files_are_whole(const answer *a, const answer *good)
{
    for (int i = 0; i < OUTPUTS; i++)
        if (a->file[i] != NULL && !same(a->file[i], good->file[i]))
            return false;
    return true;
}

static inline void look_at(sweep *s, answer *a, long at, bool lasts)
{
    const char *what =
        a->said.code < 0 ? "is killed or hangs" : s->judge(s->command, a, s->good, lasts);
    if (what == NULL && count_temporary() > 0)
        what = "leaves a temporary file";
    if (what != NULL)
        fprintf(stderr, "%s: %s %ld%s: %s, exit code %d: %.150s\n", s->command->name, s->of, at,
                lasts ? " and all after it" : "", what, a->said.code, a->said.err);
    s->wrong += what != NULL;
    s->runs++;
    forget(a);
}

/* ---- in copies of one process ---- */

static inline char *all_of(FILE *file)
{
    struct stat size;
    assert_int_equal(fstat(fileno(file), &size), 0);
    char *text = calloc((size_t)size.st_size + 1, 1);
    assert_non_null(text);
    assert_int_equal(pread(fileno(file), text, (size_t)size.st_size, 0), size.st_size);
    return text;
}

static inline int code_of(int status)
{
    return WIFEXITED(status) ? WEXITSTATUS(status) : -WTERMSIG(status);
}

typedef struct served {
    pid_t child;
    FILE *out, *err;
    int from, to;
} served;

/* a pipe whose ends the tool does not inherit */
static inline void open_pipe(int ends[2])
{
    assert_int_equal(pipe(ends), 0);
    for (int i = 0; i < 2; i++)
        fcntl(ends[i], F_SETFD, FD_CLOEXEC);
}

static inline void take_place(int file, int place)
{
    dup2(file, place);
    close(file);
}

static inline served serve(const asked *c, long first, long stride)
{
    int asks[2], tells[2];
    char which[64];
    served v = {.out = tmpfile(), .err = tmpfile()};
    assert_true(v.out != NULL && v.err != NULL);
    open_pipe(asks);
    open_pipe(tells);
    bool writes = getenv("SLEW_FAULT_ERROR") != NULL; /* few: all are tried */
    snprintf(which, sizeof which, "%ld/%ld/%d", first, stride, writes ? 0 : c->alike);
    setenv("SLEW_FAULT_SERVE", which, 1);
    setenv("SLEW_FAULT_REPORT", "report", 1);
    setenv("SLEW_FAULT_AT", "0", 1);
    take_place(asks[0], SHIM_HEARS);
    take_place(tells[1], SHIM_TELLS);
    v.child =
        start_limited(&(limits){.shim = getenv("SLEW_FAULT_SHIM")}, c->argument, v.out, v.err);
    close(SHIM_HEARS);
    close(SHIM_TELLS);
    v.from = tells[0];
    v.to = asks[1];
    return v;
}

typedef struct again {
    long number;
    bool lasts;
} again;

enum { AGAIN_MAX = 4096 };

static inline void look_at_copy(sweep *s, const served *v, const shim_message *m,
                                const kept *before)
{
    answer a = {.said = {code_of(m->status), all_of(v->out), all_of(v->err)}};
    take_rest(&a);
    look_at(s, &a, m->number, m->lasts);
    put_directory_back(before);
}

/* the run without a fault, beside the copies, gives the answer */
static inline void end_served(sweep *s, served *v)
{
    int status;
    assert_int_equal(waitpid(v->child, &status, 0), v->child);
    answer a = {.said = {code_of(status), take_all(v->out), take_all(v->err)}};
    take_rest(&a);
    if (!gives_the_answer(&a, s->good)) {
        fprintf(stderr, "%s: beside its copies: another answer, %d: %.150s\n", s->command->name,
                a.said.code, a.said.err);
        s->wrong++;
    }
    close(v->from);
    close(v->to);
    forget(&a);
}

/* returns how many could not be tried in a copy */
static inline int sweep_copies(sweep *s, long first, long stride, again *left)
{
    static kept before;
    shim_message m;
    int count = 0;
    served v = serve(s->command, first, stride);
    while (read(v.from, &m, sizeof m) == sizeof m) {
        if (m.what == SHIM_CANNOT) {
            assert_true(count < AGAIN_MAX);
            left[count++] = (again){m.number, m.lasts};
            continue;
        }
        if (m.what == SHIM_BEGINS)
            keep_directory(&before);
        else
            look_at_copy(s, &v, &m, &before);
        assert_int_equal(write(v.to, "", 1), 1);
    }
    end_served(s, &v);
    return count;
}

/* every stride-th from `first` */
static inline void sweep_from(sweep *s, long first, long stride)
{
    static again left[AGAIN_MAX];
    int count = sweep_copies(s, first, stride, left);
    for (int i = 0; i < count; i++) {
        answer a = ask(s->command, left[i].number, left[i].lasts);
        look_at(s, &a, left[i].number, left[i].lasts);
        s->again++;
    }
}

/* ---- two at a time, where all are tried ---- */

/* what one of them found comes through a pipe */
typedef struct found {
    int wrong;
    long runs, again;
} found;

/* in a directory of its own, so that another may work beside it */
static inline void sweep_alone(sweep *s, long first, long stride, int to)
{
    void *state = NULL;
    if (chdir(start_directory) != 0 || enter_faults(&state) != 0)
        _exit(1);
    sweep_from(s, first, stride);
    rmdir("other");
    leave_faults(&state);
    found f = {s->wrong, s->runs, s->again};
    _exit(write(to, &f, sizeof f) != sizeof f);
}

static inline void sweep_shared(sweep *s, long count, long some)
{
    long stride = all_faults() ? 1 : count / some + 1;
    int ends[2], parts = all_faults() ? 2 : 1, heard = 0;
    found f;
    open_pipe(ends);
    for (int part = 0; part < parts; part++)
        if (fork() == 0)
            sweep_alone(s, 1 + part * stride, parts * stride, ends[1]);
    close(ends[1]);
    for (; read(ends[0], &f, sizeof f) == sizeof f; heard++) {
        s->wrong += f.wrong;
        s->runs += f.runs;
        s->again += f.again;
    }
    close(ends[0]);
    while (wait(NULL) > 0)
        continue;
    assert_int_equal(heard, parts);
}

/* Tries each, or `some` of them; the command is that of the test. */
static inline void sweep_command(sweep *s, const answer *good, long some)
{
    s->good = good;
    if (good->said.code != s->command->code)
        fail_msg("%s: exit code %d: %s", s->command->name, good->said.code, good->said.err);
    assert_int_equal(good->left.of_tool, 0);
    sweep_shared(s, good->left.asked, some);
    fprintf(stderr, "%s: %ld %ss, %ld runs, %ld of them from the start, %d wrong\n",
            s->command->name, good->left.asked, s->of, s->runs, s->again, s->wrong);
    assert_int_equal(s->wrong, 0);
    if (all_faults() && s->command->alike == 0 && s->again == 0)
        assert_int_equal(s->runs, 2 * good->left.asked);
}

/* Runs `test` for each command, or that which is named. */
static inline int sweep_commands(const char *name, CMUnitTestFunction test, const char *only)
{
    struct CMUnitTest tests[COMMANDS];
    size_t count = 0;
    for (size_t i = 0; i < COMMANDS; i++)
        if (only != NULL ? strcmp(only, command[i].name) == 0 : all_faults() || !command[i].slow)
            tests[count++] =
                (struct CMUnitTest){command[i].name, is_sanitized() ? is_left_out : test, NULL,
                                    NULL, (void *)(uintptr_t)&command[i]};
    return _cmocka_run_group_tests(name, tests, count, enter_faults, leave_faults);
}

#endif
