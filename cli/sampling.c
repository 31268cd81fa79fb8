/* sampling.c - see sampling.h. */
#include "sampling.h"

#include <signal.h>
#include <stdio.h>
#include <time.h>
#include <unistd.h>

static const long default_samples = 10000;
static volatile sig_atomic_t interrupted; /* a signal can leave its word nowhere else */

static void interrupt(int signal)
{
    (void)signal;
    interrupted = 1;
}

static double seconds_now(void)
{
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

static bool tell_progress(void *context, long done)
{
    cli_progress *p = context;
    double now = seconds_now();
    if (p->shows && now - p->started > 1 && now - p->told > 0.1) {
        fprintf(stderr, "\r%s: %ld of %ld samples ", p->what, done, p->samples);
        p->told = now;
        p->shown = true;
    }
    return !interrupted;
}

slew_sampling cli_sampling(const cli_options *options, const char *what, cli_progress *progress)
{
    slew_sampling s = slew_sampling_default();
    s.samples = options->samples > 0 ? options->samples : default_samples;
    if (options->seed > 0)
        s.seed = (uint64_t)options->seed;
    s.threads = options->threads > 256 ? 256 : (int)options->threads;
    s.points = options->random ? SLEW_PSEUDO_RANDOM : SLEW_SOBOL;
    s.progress = tell_progress;
    s.context = progress;
    *progress = (cli_progress){.what = what,
                               .samples = s.samples,
                               .started = seconds_now(),
                               .shows = isatty(STDERR_FILENO) && !options->quiet};
    interrupted = 0;
    signal(SIGINT, interrupt);
    return s;
}

void cli_sampling_end(cli_progress *progress)
{
    signal(SIGINT, SIG_DFL);
    if (progress->shown)
        fprintf(stderr, "\r%60s\r", "");
}
