/*
 * signals.c - ctrl-C and SIGTERM at any moment: the process ends soon, and leaves nothing behind
 * but outputs that are whole or as they were.
 */
#include <time.h>

#include "faults.h"

static const char OLD[] = "as it was\n";

static double now(void)
{
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

static void wait_for(double seconds)
{
    struct timespec t = {(time_t)seconds, (long)(1e9 * (seconds - (double)(time_t)seconds))};
    nanosleep(&t, NULL);
}

/* from 0 to 1, the same at every run */
static double draw(uint64_t *state)
{
    *state = *state * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407);
    return (double)(*state >> 40) / (double)(1 << 24);
}

typedef struct stopped {
    int status;  /* of waitpid */
    double took; /* from the signal to the end [s] */
    char *out, *err;
} stopped;

static stopped stop_after(double seconds, int signal, const char *const *arguments)
{
    FILE *out = tmpfile(), *err = tmpfile();
    stopped s;
    assert_true(out != NULL && err != NULL);
    pid_t child = start_limited(&(limits){.seconds = 60}, arguments, out, err);
    wait_for(seconds);
    double begun = now();
    kill(child, signal);
    assert_int_equal(waitpid(child, &s.status, 0), child);
    s.took = now() - begun;
    s.out = take_all(out);
    s.err = take_all(err);
    return s;
}

/* It was over before, or died of the signal, or told what it knew until then (3). */
static void check(const stopped *s, int signal, const char *what)
{
    bool over = WIFEXITED(s->status) && WEXITSTATUS(s->status) == 0;
    bool died = WIFSIGNALED(s->status) && WTERMSIG(s->status) == signal;
    bool told = WIFEXITED(s->status) && WEXITSTATUS(s->status) == 3 &&
                strstr(s->err, "slewtime: stopped ") != NULL;
    if (!over && !died && !told)
        fail_msg("%s: status %x: %s", what, (unsigned)s->status, s->err);
    if (s->took > (all_faults() ? 1 : 20)) /* a hang; how long is measured by all of them alone */
        fail_msg("%s: took %.2f s to end", what, s->took);
    if (count_temporary() > 0)
        fail_msg("%s: leaves a temporary file", what);
}

static void forget(stopped *s)
{
    free(s->out);
    free(s->err);
}

/* ---- at random moments ---- */

static const struct {
    const char *argument[10], *output;
} command[] = {
    {{"run", "truck.yaml", "--only", "stow", "--set", "controller.pause=3000s", "--trace", "x.csv"},
     "x.csv"},
    {{"run", "truck.yaml", "--plot", "x.svg", "--pose", "x.png"}, "x.svg"},
    {{"offset", "truck.yaml", "--samples", "30000"}, NULL},
    {{"causes", "truck.yaml", "--samples", "5000"}, NULL},
    {{"card", "truck.yaml", "--samples", "50000", "--plot", "x.svg"}, "x.svg"},
    {{"map", "truck.yaml", "--vary", "today.supply.main.voltage=9V:15V:80", "--vary",
      "stow.point.elevation=-14deg:-4deg:80", "--plot", "x.svg"},
     "x.svg"},
};

static void at_a_random_moment(void **state)
{
    (void)state;
    uint64_t random = 20;
    int moments = all_faults() ? 60 : 3;
    double longest = 0;
    for (size_t c = 0; c < sizeof command / sizeof *command; c++)
        for (int i = 0; i < moments; i++) {
            int signal = i % 2 == 0 ? SIGINT : SIGTERM;
            if (command[c].output != NULL)
                write_file(command[c].output, OLD);
            stopped s = stop_after(0.6 * draw(&random), signal, command[c].argument);
            check(&s, signal, command[c].argument[0]);
            char *file = command[c].output != NULL ? take_file(command[c].output) : NULL;
            if (file != NULL && WIFSIGNALED(s.status) && strcmp(file, OLD) != 0)
                assert_true(strlen(file) > 10000); /* it was in its place already */
            longest = s.took > longest ? s.took : longest;
            free(file);
            forget(&s);
        }
    printf("the longest end took %.0f ms\n", 1000 * longest);
}

/* ---- where something holds signals back ---- */

static void ends_by(int signal, const char *path, const char *const *arguments)
{
    write_file(path, OLD);
    stopped s = stop_after(0.5, signal, arguments);
    check(&s, signal, arguments[0]);
    assert_true(WIFSIGNALED(s.status));
    char *kept = take_file(path);
    assert_string_equal(kept, OLD);
    free(kept);
    forget(&s);
}

/* gnuplot waits for ever: that holds nothing up */
static void while_gnuplot_hangs(void **state)
{
    (void)state;
    static const int signals[] = {SIGINT, SIGTERM, SIGHUP, SIGUSR1, SIGUSR2, SIGQUIT};
    write_file("gnuplot", "#!/bin/sh\nexec sleep 100\n");
    assert_int_equal(chmod("gnuplot", 0700), 0);
    for (size_t i = 0; i < sizeof signals / sizeof *signals; i++)
        ends_by(signals[i], "x.svg", SAYS("run", "truck.yaml", "--plot", "x.svg"));
    unlink("gnuplot");
}

/* an hour's rest in steps of 10 ms, several times */
static void while_a_trace_is_written(void **state)
{
    (void)state;
    const char *const *long_trace =
        SAYS("run", "truck.yaml", "--set", "controller.pause=3600s", "--trace", "x.csv");
    ends_by(SIGTERM, "x.csv", long_trace);
    ends_by(SIGINT, "x.csv", long_trace);
}

/* what a trace of an hour takes does not grow with it: less memory than its samples */
static void a_trace_streams(void **state)
{
    (void)state;
    const char *sanitized = getenv("SLEWTIME_SANITIZE");
    struct rlimit before, small;
    if (sanitized != NULL && sanitized[0] != '\0')
        return; /* it needs far more room itself */
    assert_int_equal(getrlimit(RLIMIT_AS, &before), 0);
    small = before;
    small.rlim_cur = 40 << 20;
    assert_int_equal(setrlimit(RLIMIT_AS, &small), 0);
    outcome o =
        run_with(&(limits){.seconds = 300}, SAYS("run", "truck.yaml", "--only", "stow", "--set",
                                                 "controller.pause=3600s", "--trace", "x.csv"));
    assert_int_equal(setrlimit(RLIMIT_AS, &before), 0);
    if (o.code != 0)
        fail_msg("exit code %d: %s", o.code, o.err);
    struct stat size;
    assert_int_equal(stat("x.csv", &size), 0);
    assert_true(size.st_size > 40 << 20);
    unlink("x.csv");
    free_outcome(&o);
}

static void what_is_stopped_is_3(void **state)
{
    (void)state;
    static const char *const asked[][6] = {
        {"causes", "truck.yaml", "--samples", "1000000"},
        {"causes", "truck.yaml", "--seen", "seen.yaml", "--samples", "1000000"},
        {"causes", "truck.yaml", "--samples", "1000000", "--json"},
        {"offset", "truck.yaml", "--samples", "100000000"},
        {"card", "truck.yaml", "--samples", "5000000"},
    };
    for (size_t i = 0; i < sizeof asked / sizeof *asked; i++) {
        const char *words[7] = {0};
        memcpy(words, asked[i], sizeof asked[i]);
        stopped s = stop_after(1, SIGINT, words);
        check(&s, SIGINT, words[0]);
        if (!WIFEXITED(s.status) || WEXITSTATUS(s.status) != 3)
            fail_msg("%s %s: status %x", words[0], words[2], (unsigned)s.status);
        forget(&s);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(at_a_random_moment),       cmocka_unit_test(while_gnuplot_hangs),
        cmocka_unit_test(while_a_trace_is_written), cmocka_unit_test(a_trace_streams),
        cmocka_unit_test(what_is_stopped_is_3),
    };
    return cmocka_run_group_tests(tests, enter_with_gnuplot, leave_faults);
}
