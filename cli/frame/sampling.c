/* sampling.c - see sampling.h. */
#include "sampling.h"

#include <inttypes.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

#include "line/exit_code.h"
#include "line/report.h"
#include "tell/key_words.h"
#include "tell/known.h"

static const int64_t default_samples = 10000;
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

static bool tell_progress(void *context, int64_t done)
{
    cli_progress *p = context;
    double now = seconds_now();
    if (p->shows && now - p->started > 1 && now - p->told > 0.1) {
        fprintf(stderr, "\r%s: %" PRId64 " of %" PRId64 " simulated days ", p->what, done,
                p->samples);
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

int cli_read_wanted(const cli_options *options, const char *example, double *wanted)
{
    char *end, expected[80];
    if (options->wanted == NULL)
        return CLI_OK;
    *wanted = strtod(options->wanted, &end);
    if (end != options->wanted && *end == '%')
        *wanted /= 100, end++;
    if (end != options->wanted && *end == '\0' && *wanted >= 1e-6 && *wanted < 1)
        return CLI_OK;
    snprintf(expected, sizeof expected,
             "a probability from 1e-6 to below 1, for example %s or 95%%", example);
    cli_complaint complaint = {.expected = expected};
    return cli_complain(&complaint, "--wanted %s: not a probability of that kind", options->wanted);
}

static bool is_in(slew_dimension d, const slew_dimension *dimensions, int count)
{
    for (int i = 0; i < count; i++)
        if (dimensions[i].key == d.key &&
            (dimensions[i].of == SLEW_OF_TRUCK) == (d.of == SLEW_OF_TRUCK))
            return true;
    return false;
}

/* a key of both days once, unless one of them is known */
void cli_print_spread(const slew_scenario *s)
{
    static const char *const names[] = {"truck", "day", "deploy"};
    slew_dimension told[3 * SLEW_VARIATIONS_MAX];
    char known[CLI_KNOWN_WORDS_MAX];
    int count = slew_ensemble_dimensions(s, SLEW_STOW_AND_DEPLOY), kept = 0;
    for (int i = 0; i < count; i++) {
        slew_dimension d = slew_ensemble_dimension(s, SLEW_STOW_AND_DEPLOY, i);
        if (is_in(d, told, kept))
            continue;
        told[kept++] = d;
        printf("  varies      %-9s %s\n", names[d.of], slew_key_at(d.key)->path);
    }
    cli_known_words(s, known, sizeof known);
    if (known[0] != '\0')
        printf("  known       %s\n", known);
}

/* the group of the spread that draws it; NULL: none, or it is known */
static const char *drawn_by(const slew_scenario *s, int key)
{
    for (int i = 0; i < slew_ensemble_dimensions(s, SLEW_STOW_AND_DEPLOY); i++) {
        slew_dimension d = slew_ensemble_dimension(s, SLEW_STOW_AND_DEPLOY, i);
        if (d.key == key)
            return d.of == SLEW_OF_TRUCK ? "truck" : "day";
    }
    return NULL;
}

/* a key of the file itself that was set, and that each truck or day draws all the same */
static void warn_of_drawn(const slew_assignment *a, const slew_scenario *s)
{
    char path[120], words[CLI_KEY_WORDS_MAX];
    snprintf(path, sizeof path, "%.*s", (int)strcspn(a->text, "= "), a->text);
    int key = slew_key_find(path);
    const char *group = key >= 0 ? drawn_by(s, key) : NULL;
    if (group == NULL)
        return;
    cli_key_words(key, words);
    fprintf(stderr,
            "slewtime: warning: %s %s has no effect on what is drawn: spread.%s draws the %s; hold "
            "it with --spread '%s=none'\n",
            a->origin, a->text, group, words, path);
}

void cli_warn_of_known(const cli_options *options, const slew_scenario *scenario)
{
    char known[CLI_KNOWN_WORDS_MAX];
    cli_known_words(scenario, known, sizeof known);
    if (options->quiet)
        return;
    if (known[0] != '\0')
        fprintf(stderr, "slewtime: warning: known, so not drawn from spread.day: %s\n", known);
    for (size_t i = 0; i < options->assignment_count; i++)
        if (options->assignment[i].layer == SLEW_LAYER_FILE && !options->assignment[i].is_spread)
            warn_of_drawn(&options->assignment[i], scenario);
}

void cli_report_stopped(int64_t done, int64_t samples)
{
    if (done == 0)
        fprintf(stderr, "slewtime: stopped before there was an answer\n");
    else
        fprintf(stderr,
                "slewtime: stopped after %" PRId64 " of %" PRId64
                " simulated days; this is what they tell\n",
                done, samples);
}

void cli_sampling_next(cli_progress *progress, int64_t samples)
{
    progress->samples = samples;
}

void cli_sampling_end(cli_progress *progress)
{
    signal(SIGINT, SIG_DFL);
    if (progress->shown)
        fprintf(stderr, "\r%60s\r", "");
}
