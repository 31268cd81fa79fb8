/*
 * shim.c - preloaded into the tool by memory.c and writes.c, and into library.c: lets an allocation
 * or a write fail, and counts blocks that are not freed. Plain C of its own, nothing of the
 * library. The tool is told by its environment, a program that calls slew_fault_arm by that.
 *
 *   SLEW_FAULT_AT=N        the N-th allocation fails; 0 or nothing: none does
 *   SLEW_FAULT_ERROR=E     the N-th write does instead, with this errno (shim_writes.c)
 *   SLEW_FAULT_LASTS=1     and all that follow
 *   SLEW_FAULT_SERVE=F/S/A try every S-th from the F-th on, each in a copy of the process
 *                          (shim_fork.c); A, unless 0: of those with the same callers the first A,
 *                          and then every A-th
 *   SLEW_FAULT_REPORT=FILE at the end: how many there were, blocks left by the tool, by libraries
 *   SLEW_FAULT_TRACE=1     where the first failed one was asked for, on stderr
 *
 * Blocks carry 16 bytes in front that tell who asked for them. gnuplot, which inherits the
 * preloading, is left alone.
 */
#define _GNU_SOURCE
#include <errno.h>
#include <execinfo.h>
#include <fcntl.h>
#include <link.h>
#include <pthread.h>
#include <stdatomic.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "shim.h"

extern void *__libc_malloc(size_t size);
extern void *__libc_realloc(void *block, size_t size);
extern void __libc_free(void *block);
extern long __sysconf(int name);

enum { OF_TOOL, OF_LIBRARY, OWNERS };
enum { HEAD = 16 };
static const uint64_t MARK = 0x51e3f4a177e5b10c;

typedef struct head {
    uint64_t mark, owner;
} head;

shim_state slew_shim;
static bool traces;
static atomic_long asked, live[OWNERS];
static uintptr_t tool_begin, tool_end;

/* ---- who and when ---- */

static int find_tool(struct dl_phdr_info *object, size_t size, void *context)
{
    (void)size;
    (void)context;
    for (int i = 0; i < object->dlpi_phnum; i++) {
        const ElfW(Phdr) *part = &object->dlpi_phdr[i];
        if (part->p_type == PT_LOAD && (part->p_flags & PF_X) != 0) {
            tool_begin = object->dlpi_addr + part->p_vaddr;
            tool_end = tool_begin + part->p_memsz;
        }
    }
    return 1; /* the program comes first */
}

static bool is_set(const char *name)
{
    const char *value = getenv(name);
    return value != NULL && value[0] == '1';
}

static long number_of(const char *name)
{
    const char *value = getenv(name);
    return value != NULL ? atol(value) : 0;
}

/* a child that the tool makes is a command of its own, or gnuplot */
static void leave_child_alone(void)
{
    if (!slew_shim.forks) {
        slew_shim.serves = false;
        slew_shim.fails_at = 0;
    }
}

__attribute__((constructor)) static void begin(void)
{
    const char *serve = getenv("SLEW_FAULT_SERVE");
    bool is_tool = strcmp(program_invocation_short_name, "slewtime") == 0;
    slew_shim.error = (int)number_of("SLEW_FAULT_ERROR");
    if (slew_shim.error != 0)
        slew_shim_catch_writes(is_tool);
    if (!is_tool)
        return;
    backtrace((void *[1]){NULL}, 1); /* it keeps blocks for ever */
    pthread_atfork(NULL, NULL, leave_child_alone);
    dl_iterate_phdr(find_tool, NULL);
    asked = live[OF_TOOL] = live[OF_LIBRARY] = 0;
    traces = is_set("SLEW_FAULT_TRACE");
    slew_shim.lasts = is_set("SLEW_FAULT_LASTS");
    slew_shim.fails_at = number_of("SLEW_FAULT_AT");
    slew_shim.serves = serve != NULL && sscanf(serve, "%ld/%ld/%d", &slew_shim.next,
                                               &slew_shim.stride, &slew_shim.alike) == 3;
}

__attribute__((destructor)) static void end(void)
{
    char line[96];
    const char *path = getenv("SLEW_FAULT_REPORT");
    int file = path != NULL && tool_end > 0 ? open(path, O_WRONLY | O_CREAT | O_TRUNC, 0600) : -1;
    int length =
        snprintf(line, sizeof line, "%ld %ld %ld\n", asked, live[OF_TOOL], live[OF_LIBRARY]);
    if (file >= 0) {
        slew_shim_write(file, line, (unsigned long)length);
        close(file);
    }
}

static void trace(void)
{
    void *frame[40];
    long kept = slew_shim.fails_at;
    traces = false;
    slew_shim.fails_at = 0;
    backtrace_symbols_fd(frame, backtrace(frame, 40), STDERR_FILENO);
    slew_shim.fails_at = kept;
}

bool slew_shim_fails(void)
{
    if (slew_shim.held)
        return false;
    long number = ++asked;
    if (slew_shim.serves && number == slew_shim.next)
        slew_shim_try(number);
    long at = slew_shim.fails_at;
    bool now = at > 0 && (number == at || (slew_shim.lasts && number > at));
    if (now && traces)
        trace();
    return now;
}

/* where writes fail, allocations are not counted */
static bool fails(void)
{
    bool now = slew_shim.error == 0 && slew_shim_fails();
    if (now)
        errno = ENOMEM;
    return now;
}

static void *give(head *h, const void *caller)
{
    if (h == NULL)
        return NULL;
    uintptr_t from = (uintptr_t)caller;
    h->mark = MARK;
    h->owner = from >= tool_begin && from < tool_end ? OF_TOOL : OF_LIBRARY;
    live[h->owner]++;
    return (char *)h + HEAD;
}

/* NULL: the block is none of ours */
static head *head_of(void *block)
{
    head *h = (head *)((char *)block - HEAD);
    return h->mark == MARK ? h : NULL;
}

/* ---- for a program that asks ---- */

void slew_fault_arm(long at, int and_all_after);
void slew_fault_hold(int hold);
void slew_fault_disarm(long *count, long *of_program, long *of_library);

/* From here on allocations are counted, and the one numbered `at` fails; 0: none. */
void slew_fault_arm(long at, int and_all_after)
{
    if (tool_end == 0)
        dl_iterate_phdr(find_tool, NULL);
    live[OF_TOOL] = live[OF_LIBRARY] = 0;
    asked = 0;
    slew_shim.lasts = and_all_after != 0;
    traces = is_set("SLEW_FAULT_TRACE");
    slew_shim.fails_at = at;
}

/* While held none fails, nor counts. */
void slew_fault_hold(int hold)
{
    slew_shim.held = hold != 0;
}

/* How many there were, and the blocks that are left of them. */
void slew_fault_disarm(long *count, long *of_program, long *of_library)
{
    slew_shim.fails_at = 0;
    *count = asked;
    *of_program = live[OF_TOOL];
    *of_library = live[OF_LIBRARY];
}

/* ---- what is preloaded ---- */

void *malloc(size_t size)
{
    if (fails() || size > SIZE_MAX - HEAD)
        return NULL;
    return give(__libc_malloc(size + HEAD), __builtin_return_address(0));
}

void *calloc(size_t count, size_t size)
{
    size_t whole;
    if (fails() || __builtin_mul_overflow(count, size, &whole) || whole > SIZE_MAX - HEAD)
        return NULL;
    head *h = __libc_malloc(whole + HEAD);
    if (h != NULL)
        memset(h, 0, whole + HEAD);
    return give(h, __builtin_return_address(0));
}

void *realloc(void *block, size_t size)
{
    if (fails() || size > SIZE_MAX - HEAD)
        return NULL;
    if (block == NULL)
        return give(__libc_malloc(size + HEAD), __builtin_return_address(0));
    head *h = head_of(block);
    if (h == NULL)
        return __libc_realloc(block, size);
    uint64_t owner = h->owner;
    head *moved = __libc_realloc(h, size + HEAD);
    if (moved == NULL)
        return NULL;
    live[owner]--;
    return give(moved, __builtin_return_address(0));
}

void free(void *block)
{
    head *h = block != NULL ? head_of(block) : NULL;
    if (h == NULL) {
        __libc_free(block);
        return;
    }
    live[h->owner]--;
    h->mark = 0;
    __libc_free(h);
}

/* One processor, so that no thread keeps a process from being copied but where a command asks for
 * two. The answers are the same. */
long sysconf(int name)
{
    return name == _SC_NPROCESSORS_ONLN ? 1 : __sysconf(name);
}
