/*
 * signals.c - ctrl-C and SIGTERM at any moment: the process ends soon, and leaves nothing behind
 * but outputs that are whole or as they were, and no gnuplot.
 *
 * Soon is a second of a processor's time, counted from the signal on, so that a machine with more
 * to do changes nothing.
 */
#define _DEFAULT_SOURCE /* wait4 */
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
    int status;         /* of waitpid */
    double took, spent; /* from the signal to the end; a processor's time in that [s] */
    char *out, *err;
} stopped;

/* a processor's time of one process and of its children that have ended [ticks], and its parent */
static unsigned long ticks_of(const char *process, int *parent)
{
    char path[300], line[1024] = "";
    unsigned long t[4] = {0};
    snprintf(path, sizeof path, "/proc/%s/stat", process);
    FILE *file = fopen(path, "r");
    const char *after =
        file != NULL && fgets(line, sizeof line, file) != NULL ? strrchr(line, ')') : NULL;
    *parent = 0;
    if (after != NULL)
        sscanf(after, ") %*c %d %*d %*d %*d %*d %*u %*u %*u %*u %*u %lu %lu %lu %lu", parent, &t[0],
               &t[1], &t[2], &t[3]);
    if (file != NULL)
        fclose(file);
    return t[0] + t[1] + t[2] + t[3];
}

/* the same of the process, its children and theirs [s] */
static double spent_by(int process)
{
    double spent = 0;
    DIR *processes = opendir("/proc");
    assert_non_null(processes);
    for (struct dirent *e; (e = readdir(processes)) != NULL;) {
        int own = atoi(e->d_name), parent = 0;
        unsigned long ticks = own > 0 ? ticks_of(e->d_name, &parent) : 0;
        if (own == process)
            spent += (double)ticks / (double)sysconf(_SC_CLK_TCK);
        else if (own > 0 && parent == process)
            spent += spent_by(own);
    }
    closedir(processes);
    return spent;
}

static double seconds_of(const struct timeval *t)
{
    return (double)t->tv_sec + 1e-6 * (double)t->tv_usec;
}

/* processes that work in our directory, but ourselves: a gnuplot that was left */
static int count_left(void)
{
    char link[300], place[512], here[512];
    int count = 0;
    DIR *processes = opendir("/proc");
    assert_true(processes != NULL && getcwd(here, sizeof here) != NULL);
    for (struct dirent *e; (e = readdir(processes)) != NULL;) {
        snprintf(link, sizeof link, "/proc/%s/cwd", e->d_name);
        ssize_t length = atoi(e->d_name) > 0 && atoi(e->d_name) != getpid()
                             ? readlink(link, place, sizeof place - 1)
                             : -1;
        count += length >= (ssize_t)strlen(here) && strncmp(place, here, strlen(here)) == 0;
    }
    closedir(processes);
    return count;
}

/* a shell that gnuplot asks for fonts may end a moment after it */
static bool leaves_process(void)
{
    for (int i = 0; i < 1000 && count_left() > 0; i++)
        wait_for(0.01);
    return count_left() > 0;
}

/* the signal comes `times` times, 0.1 s apart */
static stopped stop_by(int times, double seconds, int signal, const char *const *arguments)
{
    FILE *out = tmpfile(), *err = tmpfile();
    stopped s;
    assert_true(out != NULL && err != NULL);
    pid_t child = start_limited(&(limits){.seconds = 120}, arguments, out, err);
    wait_for(seconds);
    struct rusage used;
    double begun = now(), before = spent_by(child);
    kill(child, signal);
    for (int i = 1; i < times; i++) {
        wait_for(0.1);
        kill(child, signal);
    }
    assert_int_equal(wait4(child, &s.status, 0, &used), child);
    s.took = now() - begun;
    s.spent = seconds_of(&used.ru_utime) + seconds_of(&used.ru_stime) - before;
    s.out = take_all(out);
    s.err = take_all(err);
    return s;
}

static stopped stop_after(double seconds, int signal, const char *const *arguments)
{
    return stop_by(1, seconds, signal, arguments);
}

/* It was over before, or died of the signal, or told what it knew until then (3); in no more than
 * `most` seconds of a processor. */
static void check_within(double most, const stopped *s, int signal, const char *what)
{
    bool over = WIFEXITED(s->status) && WEXITSTATUS(s->status) == 0;
    bool died = WIFSIGNALED(s->status) && WTERMSIG(s->status) == signal;
    bool told = WIFEXITED(s->status) && WEXITSTATUS(s->status) == 3 &&
                strstr(s->err, "slewtime: stopped ") != NULL;
    if (!over && !died && !told)
        fail_msg("%s: status %x: %s", what, (unsigned)s->status, s->err);
    if (s->spent > most || s->took > 60)
        fail_msg("%s: took %.2f s of a processor to end, in %.2f s", what, s->spent, s->took);
    if (count_temporary() > 0)
        fail_msg("%s: leaves a temporary file", what);
    if (leaves_process())
        fail_msg("%s: leaves a process", what);
}

static void check(const stopped *s, int signal, const char *what)
{
    check_within(1, s, signal, what);
}

static void forget(stopped *s)
{
    free(s->out);
    free(s->err);
}

/* ---- at random moments ---- */

static const struct {
    const char *argument[12], *output;
    double lasts; /* about as long, or as long as what is of interest in it [s] */
} command[] = {
    {{"run", "truck.yaml", "--only", "stow", "--set", "controller.pause=3000s", "--trace", "x.csv"},
     "x.csv",
     0.6},
    {{"run", "truck.yaml", "--plot", "x.svg", "--pose", "x.png"}, "x.svg", 0.6},
    {{"run", "truck.yaml", "--pose", "x.svg", "--samples", "30000"}, "x.svg", 2},
    {{"compare", "truck.yaml", "--beside", "weak", "--today", "supply.main.voltage=11V", "--plot",
      "x.svg"},
     "x.svg",
     0.5},
    {{"offset", "truck.yaml", "--samples", "30000"}, NULL, 0.6},
    {{"plan", "truck.yaml", "--samples", "30000", "--plot", "x.svg"}, "x.svg", 2},
    {{"margin", "truck.yaml", "--samples", "3000", "--plot", "x.svg"}, "x.svg", 2},
    {{"feed", "truck.yaml", "--plot", "x.svg"}, "x.svg", 1},
    {{"speed", "truck.yaml", "--plot", "x.svg"}, "x.svg", 0.4},
    {{"nozzle", "truck.yaml", "--tip", "1.5in", "--pressure", "80psi", "--plot", "x.svg"},
     "x.svg",
     0.4},
    {{"window", "truck.yaml", "--plot", "x.svg"}, "x.svg", 0.4},
    {{"fit", "truck.yaml", "times.csv", "--key", "elevation.motor.no_load_speed", "--write",
      "x.yaml"},
     "x.yaml",
     0.1},
    {{"causes", "truck.yaml", "--samples", "5000"}, NULL, 0.6},
    {{"card", "truck.yaml", "--samples", "50000", "--plot", "x.svg"}, "x.svg", 0.6},
    {{"map", "truck.yaml", "--vary", "today.supply.main.voltage=9V:15V:80", "--vary",
      "stow.point.elevation=-14deg:-4deg:80", "--plot", "x.svg"},
     "x.svg",
     2},
    {{"page", "truck.yaml", "--out", "x.html"}, "x.html", 1},
    {{"report", "truck.yaml", "--out", "x.html"}, "x.html", 4},
    {{"fmu", "truck.yaml", "--out", "x.fmu"}, "x.fmu", 0.1},
    {{"check", "truck.yaml"}, NULL, 0.3},
    {{"keys"}, NULL, 0.02},
    {{"schema", "scenario"}, NULL, 0.04},
    {{"manual", "5"}, NULL, 0.02},
    {{"completion", "zsh"}, NULL, 0.02},
};

static void at_a_random_moment(void **state)
{
    (void)state;
    uint64_t random = 20;
    int moments = all_faults() ? 20 : 1;
    double longest = 0, most = 0;
    for (size_t c = 0; c < sizeof command / sizeof *command; c++)
        for (int i = 0; i < moments; i++) {
            int signal = (i + (int)c) % 2 == 0 ? SIGINT : SIGTERM;
            if (command[c].output != NULL)
                write_file(command[c].output, OLD);
            stopped s = stop_after(command[c].lasts * draw(&random), signal, command[c].argument);
            check(&s, signal, command[c].argument[0]);
            struct stat size = {0};
            if (command[c].output != NULL)
                stat(command[c].output, &size);
            char *file = command[c].output != NULL ? take_file(command[c].output) : NULL;
            if (file != NULL && WIFSIGNALED(s.status) && strcmp(file, OLD) != 0)
                assert_true(size.st_size > 1000); /* it was in its place already */
            longest = s.took > longest ? s.took : longest;
            most = s.spent > most ? s.spent : most;
            free(file);
            forget(&s);
        }
    printf("the longest end took %.0f ms, and %.0f ms of a processor\n", 1000 * longest,
           1000 * most);
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

static const int deadly[] = {SIGINT, SIGTERM, SIGHUP, SIGUSR1, SIGUSR2, SIGQUIT};

/* gnuplot waits for ever: that holds nothing up */
static void while_gnuplot_hangs(void **state)
{
    (void)state;
    write_file("gnuplot", "#!/bin/sh\nexec sleep 100\n");
    assert_int_equal(chmod("gnuplot", 0700), 0);
    for (size_t i = 0; i < sizeof deadly / sizeof *deadly; i++)
        ends_by(deadly[i], "x.svg", SAYS("run", "truck.yaml", "--plot", "x.svg"));
    unlink("gnuplot");
}

/* under nohup a hang-up is ignored: the picture is drawn all the same */
static void what_is_ignored_stops_nothing(void **state)
{
    (void)state;
    write_file("gnuplot", "#!/bin/sh\nsleep 1\necho '<svg></svg>'\n");
    assert_int_equal(chmod("gnuplot", 0700), 0);
    signal(SIGHUP, SIG_IGN);
    stopped s = stop_after(0.5, SIGHUP, SAYS("run", "truck.yaml", "--plot", "x.svg"));
    signal(SIGHUP, SIG_DFL);
    if (!WIFEXITED(s.status) || WEXITSTATUS(s.status) != 0)
        fail_msg("status %x: %s", (unsigned)s.status, s.err);
    char *drawn = take_file("x.svg");
    assert_string_equal(drawn, "<svg></svg>\n");
    free(drawn);
    forget(&s);
    unlink("gnuplot");
}

/* the commands that it asks are processes of their own, which end with it */
static void while_a_report_asks(void **state)
{
    (void)state;
    write_file("gnuplot", "#!/bin/sh\nexec sleep 100\n");
    assert_int_equal(chmod("gnuplot", 0700), 0);
    for (size_t i = 0; i < sizeof deadly / sizeof *deadly; i++)
        ends_by(deadly[i], "x.html", SAYS("report", "truck.yaml", "--out", "x.html"));
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

static const char *const lasting[][7] = {
    {"causes", "truck.yaml", "--samples", "1000000"},
    {"causes", "truck.yaml", "--seen", "seen.yaml", "--samples", "1000000"},
    {"causes", "truck.yaml", "--samples", "1000000", "--json"},
    {"offset", "truck.yaml", "--samples", "5000000"},
    {"card", "truck.yaml", "--samples", "5000000"},
};

/* what follows from the days done takes a share of the time that they took */
static void what_is_stopped_is_3(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof lasting / sizeof *lasting; i++) {
        const char *const *words = lasting[i];
        stopped s = stop_after(1, SIGINT, words);
        check_within(10, &s, SIGINT, words[0]);
        if (!WIFEXITED(s.status) || WEXITSTATUS(s.status) != 3)
            fail_msg("%s %s: status %x", words[0], words[2], (unsigned)s.status);
        forget(&s);
    }
}

/* who does not want to wait for that stops it once more */
static void a_second_signal_ends_it(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof lasting / sizeof *lasting; i++) {
        stopped s = stop_by(2, 1, SIGINT, lasting[i]);
        check(&s, SIGINT, lasting[i][0]);
        forget(&s);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(at_a_random_moment),      cmocka_unit_test(while_gnuplot_hangs),
        cmocka_unit_test(while_a_report_asks),     cmocka_unit_test(while_a_trace_is_written),
        cmocka_unit_test(a_trace_streams),         cmocka_unit_test(what_is_stopped_is_3),
        cmocka_unit_test(a_second_signal_ends_it), cmocka_unit_test(what_is_ignored_stops_nothing),
    };
    for (size_t i = 0; i < sizeof deadly / sizeof *deadly; i++)
        signal(deadly[i], SIG_DFL); /* whoever runs the tests may ignore some */
    return cmocka_run_group_tests(tests, enter_with_gnuplot, leave_faults);
}
