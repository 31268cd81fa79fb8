/* output.c - see output.h. */
#define _XOPEN_SOURCE 700 /* realpath */
#include "output.h"

#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "exit_code.h"
#include "report.h"

static const char way_out[] = "give a file in a directory that exists, may be written, and has "
                              "room";

static int fail(const char *target, int error)
{
    return cli_fail_errno(way_out, error, "cannot write %s", target);
}

static char *join(const char *left, size_t length, const char *right)
{
    char *whole = malloc(length + strlen(right) + 1);
    if (whole != NULL) {
        memcpy(whole, left, length);
        strcpy(whole + length, right);
    }
    return whole;
}

static void forget(cli_file *file)
{
    free(file->target);
    free(file->place);
    free(file->temporary);
    sigprocmask(SIG_SETMASK, &file->before, NULL);
    *file = (cli_file){0};
}

/* those that end a process which does not expect them, and that it could clean up after */
static const int interrupts[] = {SIGINT,  SIGTERM, SIGHUP,  SIGQUIT,   SIGUSR1,
                                 SIGUSR2, SIGALRM, SIGXCPU, SIGVTALRM, SIGPROF};

/* under nohup a hang-up ends nothing, and so it does not stop a picture either */
static bool is_ignored(int signal)
{
    struct sigaction now;
    return sigaction(signal, NULL, &now) == 0 && now.sa_handler == SIG_IGN;
}

void cli_interrupts(sigset_t *set)
{
    sigemptyset(set);
    for (size_t i = 0; i < sizeof interrupts / sizeof *interrupts; i++)
        if (!is_ignored(interrupts[i]))
            sigaddset(set, interrupts[i]);
}

void cli_hold_interrupts(sigset_t *before)
{
    sigset_t held;
    cli_interrupts(&held);
    sigprocmask(SIG_BLOCK, &held, before);
}

bool cli_interrupt_pending(void)
{
    sigset_t pending;
    bool any = false;
    sigpending(&pending);
    for (size_t i = 0; i < sizeof interrupts / sizeof *interrupts; i++)
        any = any || (sigismember(&pending, interrupts[i]) == 1 && !is_ignored(interrupts[i]));
    return any;
}

/* ---- opening ---- */

/* where a link leads that leads nowhere yet; the path itself where it is no link. NULL: no memory
 */
static char *follow(const char *path)
{
    char to[4096];
    ssize_t length = readlink(path, to, sizeof to - 1);
    if (length < 0)
        return join(path, strlen(path), "");
    to[length] = '\0';
    const char *slash = to[0] != '/' ? strrchr(path, '/') : NULL;
    return join(path, slash != NULL ? (size_t)(slash - path) + 1 : 0, to);
}

/* where a file of that name lies or would lie. NULL: no memory */
static char *place_of(const char *path)
{
    char *place = realpath(path, NULL);
    return place != NULL ? place : follow(path);
}

/* the mode that a new file would have, or that of the file it replaces */
static mode_t wanted_mode(const char *place)
{
    struct stat old;
    if (stat(place, &old) == 0)
        return old.st_mode & 0777;
    mode_t mask = umask(0);
    umask(mask);
    return 0666 & ~mask;
}

static int open_temporary(cli_file *file)
{
    const char *slash = strrchr(file->place, '/');
    size_t directory = slash ? (size_t)(slash - file->place) + 1 : 0;
    file->temporary = join(file->place, directory, ".slewtime-XXXXXX");
    if (file->temporary == NULL)
        return cli_no_memory();
    int descriptor = mkstemp(file->temporary);
    if (descriptor < 0)
        return fail(file->target, errno);
    fchmod(descriptor, wanted_mode(file->place));
    file->stream = fdopen(descriptor, "w");
    if (file->stream != NULL)
        return CLI_OK;
    int error = errno;
    close(descriptor);
    unlink(file->temporary);
    return fail(file->target, error);
}

static int open_directly(cli_file *file)
{
    file->stream = fopen(file->target, "w");
    return file->stream != NULL ? CLI_OK : fail(file->target, errno);
}

int cli_file_open(cli_file *file, const char *target)
{
    struct stat old;
    *file = (cli_file){.target = join(target, strlen(target), ""), .place = place_of(target)};
    cli_hold_interrupts(&file->before);
    int code = CLI_OK;
    if (file->target == NULL || file->place == NULL)
        code = cli_no_memory();
    else if (stat(target, &old) == 0 && !S_ISREG(old.st_mode))
        code = open_directly(file);
    else if (access(target, F_OK) == 0 && access(target, W_OK) != 0)
        code = fail(target, errno);
    else
        code = open_temporary(file);
    if (code != CLI_OK)
        forget(file);
    return code;
}

/* ---- closing ---- */

int cli_write_error(FILE *stream)
{
    return write(fileno(stream), "\n", 1) < 0 ? errno : EIO;
}

/* everything written and on the disk; 0 or the error */
static int finish(cli_file *file)
{
    int error = 0;
    if (ferror(file->stream) != 0)
        error = cli_write_error(file->stream);
    errno = 0;
    if (fflush(file->stream) != 0)
        error = errno;
    if (error == 0 && file->temporary != NULL && fsync(fileno(file->stream)) != 0)
        error = errno;
    if (fclose(file->stream) != 0 && error == 0)
        error = errno;
    return error;
}

int cli_file_close(cli_file *file, int code)
{
    int error = finish(file);
    bool good = code == CLI_OK && error == 0;
    if (good && file->temporary != NULL && rename(file->temporary, file->place) != 0) {
        error = errno;
        good = false;
    }
    if (!good && file->temporary != NULL)
        unlink(file->temporary);
    if (code == CLI_OK && error != 0)
        code = fail(file->target, error);
    forget(file);
    return code;
}

/* ---- temporary files ---- */

int cli_temporary_directory(char *path, size_t size)
{
    const char *place = getenv("TMPDIR");
    if (place == NULL || place[0] == '\0')
        place = "/tmp";
    if (strlen(place) + 32 > size)
        return cli_fail("set TMPDIR to a shorter path", "TMPDIR is too long");
    snprintf(path, size, "%s/slewtime-XXXXXX", place);
    if (mkdtemp(path) != NULL)
        return CLI_OK;
    return cli_fail_errno("set TMPDIR to a directory that may be written", errno, "cannot make %s",
                          path);
}

/* ---- stdout ---- */

static bool reader_is_gone(void)
{
    struct pollfd out = {.fd = STDOUT_FILENO, .events = POLLOUT};
    return poll(&out, 1, 0) == 1 && (out.revents & POLLERR) != 0;
}

int cli_close_stdout(int code)
{
    bool failed = fflush(stdout) != 0;
    int error = failed ? errno : 0;
    if (!failed && ferror(stdout) != 0) {
        failed = true;
        error = cli_write_error(stdout);
    }
    bool quiet = failed && (error == EPIPE || reader_is_gone());
    if (fclose(stdout) != 0 && !failed) {
        failed = true;
        error = errno;
    }
    if (!failed || quiet)
        return code;
    return cli_fail("free some room, or send the result elsewhere", "cannot write the result: %s",
                    strerror(error));
}

/* opened for reading: a write to it is an error, as it was before */
void cli_guard_streams(void)
{
    int descriptor;
    do
        descriptor = open("/dev/null", O_RDONLY);
    while (descriptor >= 0 && descriptor <= STDERR_FILENO);
    if (descriptor > STDERR_FILENO)
        close(descriptor);
}
