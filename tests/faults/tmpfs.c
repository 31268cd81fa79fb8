/*
 * tmpfs.c - a file system of 16 kB that is really full: pictures, a trace, a page, an FMU. Who may
 * mount one in a namespace of his own, as root or where users may have namespaces, uses that; else
 * the shim lets every write fail with the same error (writes.c does that for all N and commands).
 * Which it was is said.
 */
#define _GNU_SOURCE
#include <errno.h>
#include <sched.h>
#include <sys/mount.h>

#include "faults.h"

static const char OLD[] = "as it was\n";
static bool is_mounted;

static bool write_once(const char *path, const char *text)
{
    FILE *file = fopen(path, "w");
    bool good = file != NULL && fputs(text, file) >= 0;
    return file != NULL && fclose(file) == 0 && good;
}

/* a mount namespace of our own; what is mounted in it ends with this process */
static bool leave_namespace(void)
{
    char users[64], groups[64];
    snprintf(users, sizeof users, "0 %d 1\n", (int)getuid());
    snprintf(groups, sizeof groups, "0 %d 1\n", (int)getgid());
    if (unshare(CLONE_NEWNS) != 0 &&
        (unshare(CLONE_NEWUSER | CLONE_NEWNS) != 0 || !write_once("/proc/self/setgroups", "deny") ||
         !write_once("/proc/self/uid_map", users) || !write_once("/proc/self/gid_map", groups)))
        return false;
    return mount("none", "/", NULL, MS_REC | MS_PRIVATE, NULL) == 0;
}

static int enter(void **state)
{
    if (enter_faults(state) != 0 || mkdir("full", 0700) != 0)
        return -1;
    is_mounted = leave_namespace() && mount("none", "full", "tmpfs", 0, "size=16k") == 0;
    fprintf(stderr, "%s\n",
            is_mounted ? "on a tmpfs of 16 kB" : "may not mount: writes fail instead");
    return 0;
}

static int leave(void **state)
{
    if (is_mounted && umount("full") != 0)
        return -1;
    return rmdir("full") == 0 ? leave_faults(state) : -1;
}

/* what lies in it beside the one file */
static int count_in_full(void)
{
    int count = -1;
    DIR *full = opendir("full");
    assert_non_null(full);
    for (struct dirent *e; (e = readdir(full)) != NULL;)
        count += strcmp(e->d_name, ".") != 0 && strcmp(e->d_name, "..") != 0;
    closedir(full);
    return count;
}

static void refuses_to_fill(const char *path, const char *const *arguments)
{
    write_file(path, OLD);
    if (!is_mounted && is_sanitized())
        skip(); /* the shim does not go with its allocator */
    if (!is_mounted) {
        setenv("SLEW_FAULT_ERROR", "28", 1); /* ENOSPC on Linux */
        setenv("SLEW_FAULT_AT", "1", 1);
        setenv("SLEW_FAULT_LASTS", "1", 1);
    }
    outcome o =
        run_with(&(limits){.seconds = 120, .shim = is_mounted ? NULL : getenv("SLEW_FAULT_SHIM")},
                 arguments);
    if (o.code != 3)
        fail_msg("%s: exit code %d: %s", path, o.code, o.err);
    has(o.err, "cannot write");
    if (is_mounted)
        has(o.err, "No space left on device");
    assert_int_equal(count_temporary(), 0);
    assert_int_equal(count_in_full(), 0);
    char *kept = take_file(path);
    assert_string_equal(kept, OLD);
    free(kept);
    free_outcome(&o);
}

static void what_does_not_fit_leaves_the_old_file(void **state)
{
    (void)state;
    static const char *const draws[] = {"full/x.svg", "full/x.png", "full/x.pdf"};
    for (size_t i = 0; i < sizeof draws / sizeof *draws; i++)
        refuses_to_fill(draws[i], SAYS("run", "truck.yaml", "--plot", draws[i]));
    refuses_to_fill("full/x.csv", SAYS("run", "truck.yaml", "--trace", "full/x.csv"));
    refuses_to_fill("full/x.html", SAYS("page", "truck.yaml", "--out", "full/x.html"));
}

/* what gnuplot reads does not fit, and it is not asked */
static void a_full_place_for_temporary_files_is_told(void **state)
{
    (void)state;
    char before[512], full[600];
    if (!is_mounted)
        skip();
    snprintf(before, sizeof before, "%s", getenv("TMPDIR"));
    snprintf(full, sizeof full, "%s/../full", before);
    setenv("TMPDIR", full, 1);
    outcome o = run_with(&(limits){.seconds = 120}, SAYS("run", "truck.yaml", "--plot", "x.svg"));
    setenv("TMPDIR", before, 1);
    assert_int_equal(o.code, 3);
    has(o.err, "cannot write the data of the picture");
    has(o.err, "No space left on device");
    assert_int_equal(count_in_full(), -1);
    assert_int_not_equal(access("x.svg", F_OK), 0);
    free_outcome(&o);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_does_not_fit_leaves_the_old_file),
        cmocka_unit_test(a_full_place_for_temporary_files_is_told),
    };
    return cmocka_run_group_tests(tests, enter, leave);
}
