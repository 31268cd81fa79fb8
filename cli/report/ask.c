/*
 * ask.c - the commands that a report asks, each in a process of its own: their answers, refusals
 * and pictures come back as temporary files.
 */
#include <errno.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include "answer.h"
#include "frame/perform.h"
#include "line/exit_code.h"
#include "line/input.h"
#include "line/output.h"
#include "line/report.h"
#include "tell/units.h"

/* ---- words ---- */

static bool add(cli_report_answer *a, const char *word)
{
    if (a->words == CLI_REPORT_WORDS_MAX)
        return false;
    a->word[a->words] = strdup(word);
    return a->word[a->words] != NULL && ++a->words > 0;
}

static bool add_option(cli_report_answer *a, const char *name, const char *value)
{
    return add(a, name) && add(a, value);
}

/* the scenario, as the report's own command line changes it */
static bool add_scenario(cli_report_answer *a, const cli_options *options)
{
    bool done = add(a, options->operand[0]);
    for (size_t i = 0; done && i < options->assignment_count; i++)
        done = add_option(a, options->assignment[i].origin, options->assignment[i].text);
    return done;
}

static bool add_number(cli_report_answer *a, const char *name, int64_t number)
{
    char text[24];
    snprintf(text, sizeof text, "%lld", (long long)number);
    return number == 0 || add_option(a, name, text);
}

/* a little more than the days span */
static bool add_varied(cli_report_answer *a, const cli_report_days *d)
{
    const double room = 5, spare = 0.04;
    char temperature[100], voltage[100];
    snprintf(temperature, sizeof temperature, "today.environment.temperature=%.0fdegC:%.0fdegC:60",
             cli_celsius(d->coldest) - room, cli_celsius(d->warmest) + room);
    snprintf(voltage, sizeof voltage, "today.supply.main.voltage=%.1fV:%.1fV:60",
             d->weakest * (1 - spare), d->highest * (1 + spare));
    return add_option(a, "--vary", temperature) && add_option(a, "--vary", voltage);
}

static bool add_words(cli_report *r, cli_report_part part)
{
    cli_report_answer *a = &r->part[part];
    bool done = add_scenario(a, r->options);
    if (part == CLI_REPORT_MAP)
        done = done && add_varied(a, &r->days);
    else if (part != CLI_REPORT_RUN)
        done = done && add_number(a, "--seed", r->options->seed);
    if (part == CLI_REPORT_RUN && r->scenario->truck.count + r->scenario->day.count > 0)
        done = done && add_number(a, "--samples", CLI_REPORT_DAYS);
    return done && add_number(a, "--threads", part == CLI_REPORT_RUN ? 0 : r->options->threads);
}

/* ---- the child ---- */

/* what one command writes to; the picture needs a name that tells its kind */
typedef struct place {
    char directory[1024], picture[1032];
    FILE *said, *words;
} place;

static void become(const cli_report *r, cli_report_part part, place *p, const sigset_t *before)
{
    const cli_report_answer *a = &r->part[part];
    char *word[CLI_REPORT_WORDS_MAX + 4], json[] = "--json", quiet[] = "--quiet";
    char plot[] = "--plot", pose[] = "--pose";
    int count = a->words;
    memcpy(word, a->word, (size_t)count * sizeof *word);
    word[count++] = json;
    word[count++] = quiet;
    if (part != CLI_REPORT_CAUSES) {
        word[count++] = part == CLI_REPORT_RUN ? pose : plot;
        word[count++] = p->picture;
    }
    sigprocmask(SIG_SETMASK, before, NULL);
    if (dup2(fileno(p->said), STDOUT_FILENO) < 0 || dup2(fileno(p->words), STDERR_FILENO) < 0)
        _exit(CLI_OUTSIDE);
    int code = cli_close_stdout(cli_perform(r->asked[part], count, word));
    fflush(stderr);
    _exit(code);
}

/* ---- what it left ---- */

static char *take(FILE *file)
{
    rewind(file);
    return cli_read_whole(file);
}

/* there need be none; false: memory is short */
static bool take_picture(const place *p, char **picture)
{
    FILE *file = fopen(p->picture, "r");
    if (file == NULL)
        return errno != ENOMEM;
    *picture = cli_read_whole(file);
    fclose(file);
    return *picture != NULL;
}

/* what a command refuses is an answer, too; what failed outside ends the report */
static int collect(cli_report_answer *a, const place *p, int code)
{
    a->why_not = take(p->words);
    if (a->why_not == NULL)
        return cli_no_memory();
    if (code == CLI_OUTSIDE) {
        fputs(a->why_not, stderr);
        return code;
    }
    if (code != CLI_OK)
        return CLI_OK;
    rewind(p->said);
    a->said = json_loadf(p->said, 0, NULL);
    return take_picture(p, &a->picture) && a->said != NULL ? CLI_OK : cli_no_memory();
}

static int open_files(place *p)
{
    p->said = tmpfile();
    p->words = tmpfile();
    return p->said != NULL && p->words != NULL
               ? CLI_OK
               : cli_fail_errno("free some room", errno, "cannot make a temporary file");
}

static void close_files(place *p)
{
    if (p->said != NULL)
        fclose(p->said);
    if (p->words != NULL)
        fclose(p->words);
    unlink(p->picture);
}

/* ---- one after the other ---- */

/* waits for the child; an interrupt goes on to it, and is the result, else 0 */
static int wait_for(pid_t child, const sigset_t *awaited, int *status)
{
    int interrupt = 0;
    while (waitpid(child, status, WNOHANG) == 0) {
        int signal = 0;
        sigwait(awaited, &signal);
        if (signal != SIGCHLD) {
            interrupt = signal;
            kill(child, SIGTERM);
        }
    }
    return interrupt;
}

typedef struct waiting {
    sigset_t before, awaited;
    int interrupt; /* 0: none came */
} waiting;

static int run_one(cli_report *r, cli_report_part part, place *p, waiting *w)
{
    int status = 0;
    fflush(stderr);
    pid_t child = fork();
    if (child == 0)
        become(r, part, p, &w->before);
    if (child < 0)
        return cli_fail_errno("end other programs", errno, "cannot ask %s", r->asked[part]->name);
    w->interrupt = wait_for(child, &w->awaited, &status);
    if (w->interrupt != 0)
        return CLI_OUTSIDE;
    if (!WIFEXITED(status))
        return cli_fail("run it alone to see why", "%s ended early", r->asked[part]->name);
    return collect(&r->part[part], p, WEXITSTATUS(status));
}

static int ask_one(cli_report *r, cli_report_part part, place *p, waiting *w)
{
    if (!add_words(r, part))
        return cli_no_memory();
    int code = open_files(p);
    if (code == CLI_OK)
        code = run_one(r, part, p, w);
    close_files(p);
    return code;
}

static void hold_signals(waiting *w)
{
    cli_interrupts(&w->awaited);
    sigaddset(&w->awaited, SIGCHLD);
    sigprocmask(SIG_BLOCK, &w->awaited, &w->before);
}

static void release_signals(const waiting *w)
{
    sigprocmask(SIG_SETMASK, &w->before, NULL);
    if (w->interrupt != 0) {
        signal(w->interrupt, SIG_DFL);
        raise(w->interrupt);
    }
}

int cli_report_ask(cli_report *r)
{
    place p = {.directory = ""};
    waiting w = {.interrupt = 0};
    hold_signals(&w);
    int code = cli_temporary_directory(p.directory, sizeof p.directory);
    bool is_made = code == CLI_OK;
    snprintf(p.picture, sizeof p.picture, "%s/p.svg", p.directory);
    for (int part = 0; code == CLI_OK && part < CLI_REPORT_PARTS; part++)
        code = ask_one(r, (cli_report_part)part, &p, &w);
    if (is_made)
        rmdir(p.directory);
    release_signals(&w);
    return code;
}

void cli_report_free(cli_report *r)
{
    for (int part = 0; part < CLI_REPORT_PARTS; part++) {
        cli_report_answer *a = &r->part[part];
        for (int i = 0; i < a->words; i++)
            free(a->word[i]);
        json_decref(a->said);
        free(a->picture);
        free(a->why_not);
    }
}
