/*
 * shim_writes.c - lets writes fail. Those of stdio are calls inside the C library, which nothing
 * preloaded stands before: the kernel is asked to hand them over instead, as SIGSYS, before it does
 * them (seccomp). It does what comes with a mark of ours. gnuplot inherits that, and its writes are
 * handed back as they are.
 *
 * Counted are write, writev, fsync and the renaming of a file, but not what goes to stderr.
 */
#define _GNU_SOURCE
#include <errno.h>
#include <linux/audit.h>
#include <linux/filter.h>
#include <linux/seccomp.h>
#include <signal.h>
#include <stddef.h>
#include <stdint.h>
#include <sys/prctl.h>
#include <sys/syscall.h>
#include <ucontext.h>
#include <unistd.h>

#include "shim.h"

#define MARK 0x51e3f4a1

static bool counts;

void slew_shim_write(int file, const void *bytes, unsigned long length)
{
    syscall(SYS_write, file, bytes, length, 0, 0, MARK);
}

#if defined __x86_64__ || defined __aarch64__

#ifdef __x86_64__
#define ARCHITECTURE AUDIT_ARCH_X86_64
#define RESULT(c)    (c)->uc_mcontext.gregs[REG_RAX]
static const int of_argument[] = {REG_RDI, REG_RSI, REG_RDX, REG_R10, REG_R8};
#define ARGUMENT(c, i) (c)->uc_mcontext.gregs[of_argument[i]]
#else
#define ARCHITECTURE   AUDIT_ARCH_AARCH64
#define RESULT(c)      (c)->uc_mcontext.regs[0]
#define ARGUMENT(c, i) (c)->uc_mcontext.regs[i]
#endif

/* the kernel's convention: an error is its number below zero */
static void handle(int signal, siginfo_t *info, void *context)
{
    (void)signal;
    int error = errno;
    ucontext_t *c = context;
    if (counts && slew_shim_fails()) {
        RESULT(c) = -slew_shim.error;
        errno = error;
        return;
    }
    long result = syscall(info->si_syscall, ARGUMENT(c, 0), ARGUMENT(c, 1), ARGUMENT(c, 2),
                          ARGUMENT(c, 3), ARGUMENT(c, 4), MARK);
    RESULT(c) = result < 0 ? -errno : result;
    errno = error;
}

#define LOAD(field)           BPF_STMT(BPF_LD | BPF_W | BPF_ABS, offsetof(struct seccomp_data, field))
#define EQUAL(value, yes, no) BPF_JUMP(BPF_JMP | BPF_JEQ | BPF_K, value, yes, no)
#define END(what)             BPF_STMT(BPF_RET | BPF_K, what)

void slew_shim_catch_writes(bool is_tool)
{
    struct sigaction catch = {.sa_sigaction = handle, .sa_flags = SA_SIGINFO | SA_RESTART};
    struct sock_filter filter[] = {
        LOAD(arch),
        EQUAL(ARCHITECTURE, 1, 0),
        END(SECCOMP_RET_ALLOW),
        LOAD(nr),
        EQUAL(SYS_write, 6, 0),
        EQUAL(SYS_writev, 5, 0),
        EQUAL(SYS_fsync, 4, 0),
#ifdef SYS_rename
        EQUAL(SYS_rename, 3, 0),
#else
        EQUAL(SYS_renameat, 3, 0),
#endif
        EQUAL(SYS_renameat, 2, 0),
        EQUAL(SYS_renameat2, 1, 0),
        END(SECCOMP_RET_ALLOW),
        LOAD(args[0]),
        EQUAL(STDERR_FILENO, 3, 0),
        LOAD(args[5]),
        EQUAL(MARK, 1, 0),
        END(SECCOMP_RET_TRAP),
        END(SECCOMP_RET_ALLOW),
    };
    struct sock_fprog program = {sizeof filter / sizeof *filter, filter};
    counts = is_tool;
    sigaction(SIGSYS, &catch, NULL);
    if (is_tool && (prctl(PR_SET_NO_NEW_PRIVS, 1, 0, 0, 0) != 0 ||
                    prctl(PR_SET_SECCOMP, SECCOMP_MODE_FILTER, &program) != 0))
        counts = false;
}

#else

/* registers of another machine: no write is counted */
void slew_shim_catch_writes(bool is_tool)
{
    counts = is_tool;
}

#endif
