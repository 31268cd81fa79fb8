/*
 * shim_fork.c - the process makes a copy of itself just where something is to fail: it fails in the
 * copy, which goes on to its end, while the process waits and then goes on without a fault. So
 * everything can fail once in the time of one run and of many short ends.
 *
 * What process and copy share are files: sizes and positions are put back here, names by the test
 * that runs the tool. Where more is shared - a pipe, a thread, a child - no copy is made, and the
 * test runs the tool again from its start.
 */
#define _GNU_SOURCE
#include <errno.h>
#include <execinfo.h>
#include <stdint.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include "shim.h"

enum { FILES = 64, SECONDS = 600 };

typedef struct file {
    bool is_regular;
    off_t at, size;
} file;

static bool keep(file *files)
{
    struct stat s;
    for (int i = 0; i < FILES; i++) {
        files[i].is_regular = false;
        if (fstat(i, &s) != 0)
            continue;
        if (i > STDERR_FILENO && (S_ISFIFO(s.st_mode) || S_ISSOCK(s.st_mode)))
            return false;
        files[i] = (file){S_ISREG(s.st_mode), lseek(i, 0, SEEK_CUR), s.st_size};
    }
    return true;
}

static void put_back(const file *files)
{
    struct stat s;
    for (int i = 0; i < FILES; i++) {
        if (!files[i].is_regular)
            continue;
        if (fstat(i, &s) == 0 && s.st_size != files[i].size && ftruncate(i, files[i].size) != 0)
            _exit(123);
        lseek(i, files[i].at, SEEK_SET);
    }
}

static bool is_alone(void)
{
    struct stat tasks;
    siginfo_t child;
    return stat("/proc/self/task", &tasks) == 0 && tasks.st_nlink == 3 &&
           waitid(P_ALL, 0, &child, WEXITED | WNOHANG | WNOWAIT) != 0;
}

static void tell(shim_message m)
{
    char heard;
    slew_shim_write(SHIM_TELLS, &m, sizeof m);
    if (m.what != SHIM_CANNOT && read(SHIM_HEARS, &heard, 1) != 1)
        _exit(123);
}

static void become_copy(long number, bool lasts)
{
    slew_shim.serves = slew_shim.forks = slew_shim.held = false;
    slew_shim.fails_at = number;
    slew_shim.lasts = lasts;
    close(SHIM_HEARS);
    close(SHIM_TELLS);
    alarm(SECONDS);
}

/* true: this is the copy */
static bool try_once(long number, bool lasts)
{
    file files[FILES];
    int status = 0;
    if (!is_alone() || !keep(files)) {
        tell((shim_message){SHIM_CANNOT, lasts, 0, number});
        return false;
    }
    tell((shim_message){SHIM_BEGINS, lasts, 0, number});
    slew_shim.forks = true;
    pid_t copy = fork();
    if (copy == 0) {
        become_copy(number, lasts);
        return true;
    }
    slew_shim.forks = false;
    if (copy < 0 || waitpid(copy, &status, 0) != copy)
        _exit(123);
    tell((shim_message){SHIM_ENDED, lasts, status, number}); /* it looks at them */
    put_back(files);
    return false;
}

/* ---- those that are alike ---- */

enum { CALLERS = 24, SLOTS = 1 << 15 };

/* a number from who asked */
static uint64_t hash_callers(void)
{
    void *caller[CALLERS];
    uint64_t hash = UINT64_C(14695981039346656037);
    for (int i = 0, count = backtrace(caller, CALLERS); i < count; i++)
        hash = (hash ^ (uint64_t)(uintptr_t)caller[i]) * UINT64_C(1099511628211);
    return hash | 1;
}

/* how many with these callers there were before */
static long count_alike(void)
{
    static struct {
        uint64_t hash;
        long count;
    } slot[SLOTS];
    uint64_t hash = hash_callers();
    for (int tries = 0; tries < SLOTS; tries++) {
        int i = (int)((hash >> 7) + (uint64_t)tries) & (SLOTS - 1);
        if (slot[i].hash != 0 && slot[i].hash != hash)
            continue;
        slot[i].hash = hash;
        return slot[i].count++;
    }
    return 0;
}

static bool is_worth_it(void)
{
    long before = slew_shim.alike > 0 ? count_alike() : 0;
    return before < slew_shim.alike || slew_shim.alike == 0 || before % slew_shim.alike == 0;
}

void slew_shim_try(long number)
{
    int error = errno;
    slew_shim.held = true;
    slew_shim.next += slew_shim.stride;
    if (!is_worth_it())
        slew_shim.held = false;
    else if (!try_once(number, false) && !try_once(number, true))
        slew_shim.held = false;
    errno = error;
}
