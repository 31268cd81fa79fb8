/* gnuplot.c - see gnuplot.h. The picture comes through a pipe, so that no disk can cut it short
 * unseen: gnuplot itself ends with 0 when it can't write. */
#include "gnuplot.h"

#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#include "line/exit_code.h"
#include "line/output.h"
#include "line/report.h"

enum { WORDS_MAX = 4096, PIECE = 65536, LOOK_MS = 50 };
static const double seconds_allowed = 60;

/* what came through a pipe: a text that ends with a zero */
typedef struct intake {
    int from; /* -1: closed */
    char *text;
    size_t length, room;
    bool keeps_all; /* else the first of it */
} intake;

typedef enum ending { DRAWN, STOPPED, TOO_SLOW, SHORT_OF_MEMORY } ending;

/* ---- the child ---- */

static void become_gnuplot(const cli_gnuplot *ask, const int out[2], const int words[2])
{
    signal(SIGPIPE, SIG_DFL);
    signal(SIGXFSZ, SIG_DFL);
    sigprocmask(SIG_SETMASK, ask->before, NULL);
    if (chdir(ask->directory) != 0 || dup2(out[1], STDOUT_FILENO) < 0 ||
        dup2(words[1], STDERR_FILENO) < 0)
        _exit(126);
    execvp("gnuplot", ask->argument);
    _exit(errno == ENOENT ? 127 : 126);
}

static bool open_pipe(int ends[2])
{
    if (pipe(ends) != 0)
        return false;
    fcntl(ends[0], F_SETFD, FD_CLOEXEC);
    fcntl(ends[1], F_SETFD, FD_CLOEXEC);
    return true;
}

static void close_pipe(const int ends[2])
{
    close(ends[0]);
    close(ends[1]);
}

/* -1: told by errno */
static pid_t start(const cli_gnuplot *ask, intake *picture, intake *words)
{
    int out[2], err[2];
    if (!open_pipe(out))
        return -1;
    if (!open_pipe(err)) {
        close_pipe(out);
        return -1;
    }
    fflush(stdout);
    fflush(stderr);
    pid_t child = fork();
    if (child == 0)
        become_gnuplot(ask, out, err);
    close(out[1]);
    close(err[1]);
    picture->from = out[0];
    words->from = err[0];
    return child;
}

/* ---- what it says ---- */

static bool grow(intake *i)
{
    size_t room = i->room > 0 ? 2 * i->room : PIECE;
    char *more = realloc(i->text, room);
    if (more == NULL)
        return false;
    i->text = more;
    i->room = room;
    return true;
}

static void end_intake(intake *i)
{
    if (i->from >= 0)
        close(i->from);
    i->from = -1;
}

/* false: memory is short */
static bool take_in(intake *i)
{
    char piece[WORDS_MAX];
    if (i->keeps_all && i->room - i->length <= sizeof piece && !grow(i))
        return false;
    ssize_t count = read(i->from, piece, sizeof piece);
    if (count == 0 || (count < 0 && errno != EINTR && errno != EAGAIN))
        end_intake(i);
    size_t left = i->room - i->length - 1, taken = count > 0 ? (size_t)count : 0;
    taken = taken < left ? taken : left;
    memcpy(i->text + i->length, piece, taken);
    i->length += taken;
    i->text[i->length] = '\0';
    return true;
}

static double now(void)
{
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

static double time_limit(void)
{
    const char *given = getenv("SLEWTIME_GNUPLOT_SECONDS");
    double seconds = given != NULL ? strtod(given, NULL) : 0;
    return seconds > 0 ? seconds : seconds_allowed;
}

/* until it has closed both, or one of the reasons not to wait for that */
static ending take_all_in(intake *picture, intake *words)
{
    double until = now() + time_limit();
    while (picture->from >= 0 || words->from >= 0) {
        struct pollfd ready[] = {{.fd = picture->from, .events = POLLIN},
                                 {.fd = words->from, .events = POLLIN}};
        poll(ready, 2, LOOK_MS);
        if (cli_interrupt_pending())
            return STOPPED;
        if (now() > until)
            return TOO_SLOW;
        if ((ready[0].revents != 0 && !take_in(picture)) ||
            (ready[1].revents != 0 && !take_in(words)))
            return SHORT_OF_MEMORY;
    }
    return DRAWN;
}

/* ---- what came of it ---- */

/* the last line that gnuplot complained with, told as the reason */
static int tell_failure(const char *words)
{
    char reason[256] = "no reason given";
    for (const char *line = words; *line != '\0'; line += strcspn(line, "\n")) {
        line += strspn(line, "\n");
        size_t length = strcspn(line, "\n");
        if (strspn(line, " \t^") < length)
            snprintf(reason, sizeof reason, "%.*s", (int)length, line);
    }
    return cli_fail("see whether gnuplot itself works; it needs the terminals pngcairo, svg and "
                    "pdfcairo (gnuplot-nox has them)",
                    "gnuplot failed: %s", reason);
}

/* the mark that each format ends with stands in the last bytes */
static bool is_whole(const char *format, const char *picture, size_t length)
{
    static const struct {
        const char *format, *mark;
    } ends[] = {{"png", "IEND"}, {"svg", "</svg>"}, {"pdf", "%%EOF"}};
    size_t tail = length < 16 ? length : 16;
    for (size_t i = 0; i < sizeof ends / sizeof *ends; i++) {
        size_t mark = strlen(ends[i].mark);
        if (strcmp(format, ends[i].format) != 0)
            continue;
        for (size_t at = length - tail; at + mark <= length; at++)
            if (memcmp(picture + at, ends[i].mark, mark) == 0)
                return true;
        return false;
    }
    return length > 0;
}

static int judge_status(const cli_gnuplot *ask, int status, const intake *picture,
                        const intake *words)
{
    if (WIFEXITED(status) && WEXITSTATUS(status) == 127)
        return cli_fail("install it: apt-get install gnuplot-nox; "
                        "--csv, --json and --trace need no gnuplot",
                        "gnuplot is not found");
    if (WIFSIGNALED(status))
        return cli_fail("see whether gnuplot itself works", "gnuplot was killed by signal %d",
                        WTERMSIG(status));
    if (!WIFEXITED(status) || WEXITSTATUS(status) != 0)
        return tell_failure(words->text);
    if (picture->length == 0)
        return cli_fail("see whether gnuplot itself works", "gnuplot has drawn nothing");
    if (!is_whole(ask->format, picture->text, picture->length))
        return cli_fail("free some room and try again",
                        "gnuplot has drawn only part of the picture");
    return CLI_OK;
}

static int judge(const cli_gnuplot *ask, ending end, int status, const intake *picture,
                 const intake *words)
{
    switch (end) {
    case STOPPED: /* the signal says why */
        return CLI_OUTSIDE;
    case TOO_SLOW:
        return cli_fail("see whether gnuplot itself works; SLEWTIME_GNUPLOT_SECONDS allows it more",
                        "gnuplot took longer than %.3g s and was ended", time_limit());
    case SHORT_OF_MEMORY:
        return cli_no_memory();
    default:
        return judge_status(ask, status, picture, words);
    }
}

static int wait_for(const cli_gnuplot *ask, pid_t child, intake *picture, intake *words)
{
    int status = 0;
    ending end = take_all_in(picture, words);
    end_intake(picture);
    end_intake(words);
    if (end != DRAWN)
        kill(child, SIGKILL);
    while (waitpid(child, &status, 0) < 0 && errno == EINTR)
        continue;
    return judge(ask, end, status, picture, words);
}

int cli_gnuplot_draw(const cli_gnuplot *ask, char **picture, size_t *length)
{
    char first_words[WORDS_MAX] = "";
    intake drawn = {.from = -1, .keeps_all = true};
    intake words = {.from = -1, .text = first_words, .room = sizeof first_words};
    *picture = NULL;
    if (!grow(&drawn))
        return cli_no_memory();
    pid_t child = start(ask, &drawn, &words);
    int code = child > 0 ? wait_for(ask, child, &drawn, &words)
                         : cli_fail_errno(NULL, errno, "cannot start gnuplot");
    end_intake(&drawn);
    end_intake(&words);
    if (code != CLI_OK) {
        free(drawn.text);
        return code;
    }
    *picture = drawn.text;
    *length = drawn.length;
    return CLI_OK;
}
