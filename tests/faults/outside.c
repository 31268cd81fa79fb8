/*
 * outside.c - the disk is full after any number of bytes, stdout is closed, gnuplot fails in every
 * way: the exit code and the reason are right, an output is whole or as it was, nothing is left.
 */
#include "commands.h"
#include "faults.h"

static const char OLD[] = "as it was\n";

/* ---- a disk that is full ---- */

/* what the tool counts for `make coverage` is not to be cut off as well */
static void limit_files(rlim_t bytes)
{
    if (bytes == RLIM_INFINITY)
        unsetenv("GCOV_PREFIX");
    else
        setenv("GCOV_PREFIX", "/dev/null", 1);
    struct rlimit limit;
    assert_int_equal(getrlimit(RLIMIT_FSIZE, &limit), 0);
    limit.rlim_cur = bytes;
    assert_int_equal(setrlimit(RLIMIT_FSIZE, &limit), 0);
}

static const char *const *with_output(const char *option, const char *path)
{
    static const char *argument[8];
    bool fits = strcmp(option, "--write") == 0;
    const char *const run[] = {"run", "truck.yaml", option, path, NULL};
    const char *const fit[] = {
        "fit",  "truck.yaml", "times.csv", "--key", "elevation.motor.no_load_speed",
        option, path,         NULL};
    memcpy(argument, fits ? fit : run, fits ? sizeof fit : sizeof run);
    return argument;
}

/* no file gets longer than that, neither the output nor what gnuplot reads: whole or as it was */
static void with_room_for(const char *const *arguments, const char *path, long bytes,
                          const char *whole)
{
    write_file(path, OLD);
    limit_files((rlim_t)bytes);
    outcome o = run_with(&(limits){.seconds = 60}, arguments);
    limit_files(RLIM_INFINITY);
    char *file = take_file(path);
    assert_non_null(file);
    if (o.code == 0)
        assert_string_equal(file, whole);
    else if (o.code != 3 || strcmp(file, OLD) != 0)
        fail_msg("%s with room for %ld bytes: exit code %d: %s", path, bytes, o.code, o.err);
    if (o.code != 0 && bytes > 400) /* the reason has to fit, too */
        has(o.err, "cannot write");
    assert_int_equal(count_temporary(), 0);
    free(file);
    free_outcome(&o);
}

static void fills_the_disk_with(const char *option, const char *path)
{
    const char *const *arguments = with_output(option, path);
    outcome o = run_with(&(limits){.seconds = 60}, arguments);
    assert_int_equal(o.code, 0);
    struct stat size;
    assert_int_equal(stat(path, &size), 0);
    char *whole = take_file(path);
    long step = size.st_size / (all_faults() ? 200 : 4) + 1;
    for (long bytes = 0; bytes <= size.st_size; bytes += step)
        with_room_for(arguments, path, bytes, whole);
    with_room_for(arguments, path, size.st_size - 1, whole);
    free(whole);
    free_outcome(&o);
}

static void a_full_disk_keeps_the_old_file(void **state)
{
    (void)state;
    fills_the_disk_with("--trace", "x.csv");
    fills_the_disk_with("--plot", "x.svg");
    fills_the_disk_with("--plot", "x.png");
    fills_the_disk_with("--plot", "x.pdf");
    fills_the_disk_with("--pose", "x.svg");
    fills_the_disk_with("--write", "x.yaml");
}

static void a_full_disk_is_called_that(void **state)
{
    (void)state;
    REFUSES(3, SAYS("No space left on device"), "run", "truck.yaml", "--trace", "/dev/full");
    limit_files(3000); /* less than the trace, more than the reason */
    REFUSES(3, SAYS("cannot write x.csv: File too large"), "run", "truck.yaml", "--trace", "x.csv");
    limit_files(RLIM_INFINITY);
}

static void a_full_or_closed_stdout_is_3(void **state)
{
    (void)state;
    static const char *const tells[][8] = {
        {"run", "truck.yaml"},
        {"run", "truck.yaml", "--json"},
        {"run", "truck.yaml", "--csv"},
        {"card", "truck.yaml", "--csv", "--samples", "8"},
        {"schema", "run"},
        {"schema", "scenario"},
        {"manual", "1"},
        {"manual", "3"},
        {"manual", "5"},
        {"completion", "bash"},
        {"completion", "zsh"},
        {"run", "truck.yaml", "--plot", "-"},
        {"check", "truck.yaml"},
        {"keys"},
        {"--help"},
        {"help", "run"},
        {"offset", "truck.yaml", "--samples", "8"},
        {"causes", "truck.yaml", "--samples", "2"},
    };
    for (size_t i = 0; i < sizeof tells / sizeof *tells; i++) {
        outcome o = run_with(&(limits){.seconds = 60, .out = "/dev/full"}, tells[i]);
        if (o.code != 3)
            fail_msg("%s: exit code %d: %s", tells[i][0], o.code, o.err);
        has(o.err, "cannot write the result: No space left on device");
        free_outcome(&o);
        o = run_with(&(limits){.seconds = 60, .out = "closed"}, tells[i]);
        assert_int_equal(o.code, 3);
        has(o.err, "cannot write the result");
        free_outcome(&o);
    }
}

/* ---- gnuplot ---- */

/* a gnuplot of our own, found first */
static void put_gnuplot(const char *script)
{
    write_file("gnuplot", script);
    assert_int_equal(chmod("gnuplot", 0700), 0);
}

/* the picture asked for with it is refused for that reason, and what was there stays */
static void refuses_picture(const char *script, const char *path, const char *reason)
{
    put_gnuplot(script);
    if (strcmp(path, "-") != 0)
        write_file(path, OLD);
    REFUSES(3, SAYS(reason), "run", "truck.yaml", "--plot", path);
    if (strcmp(path, "-") != 0) {
        char *kept = take_file(path);
        assert_string_equal(kept, OLD);
        free(kept);
    }
    assert_int_equal(count_temporary(), 0);
    unlink("gnuplot");
}

static void a_picture_counts_only_whole(void **state)
{
    (void)state;
    const char *part = "drawn only part of the picture";
    refuses_picture("#!/bin/sh\nprintf '<svg><g></g>'\n", "x.svg", part);
    refuses_picture("#!/bin/sh\nprintf '\\211PNG\\r\\n\\032\\n and so on'\n", "x.png", part);
    refuses_picture("#!/bin/sh\nprintf '%%PDF-1.5 and so on'\n", "x.pdf", part);
    refuses_picture("#!/bin/sh\nprintf '</svg> and then something else altogether'\n", "x.svg",
                    part);
    refuses_picture("#!/bin/sh\nexit 0\n", "x.svg", "has drawn nothing");
    refuses_picture("#!/bin/sh\nexit 0\n", "-", "has drawn nothing");
}

static void a_gnuplot_that_fails_is_3(void **state)
{
    (void)state;
    static const char *const path[] = {"x.svg", "x.png", "-"};
    for (size_t i = 0; i < sizeof path / sizeof *path; i++) {
        refuses_picture("#!/bin/sh\necho half; echo 'no such terminal' >&2; exit 1\n", path[i],
                        "gnuplot failed: no such terminal");
        refuses_picture("#!/bin/sh\necho half; kill -9 $$\n", path[i], "killed by signal 9");
        setenv("SLEWTIME_GNUPLOT_SECONDS", "0.2", 1);
        refuses_picture("#!/bin/sh\necho half; exec sleep 100\n", path[i],
                        "gnuplot took longer than 0.2 s");
        unsetenv("SLEWTIME_GNUPLOT_SECONDS");
    }
}

/* all commands that draw, in whatever way they ask for it */
static void without_gnuplot_no_picture_is_drawn(void **state)
{
    (void)state;
    char before[4096], here[512];
    int drawn = 0;
    snprintf(before, sizeof before, "%s", getenv("PATH"));
    assert_non_null(getcwd(here, sizeof here));
    setenv("PATH", here, 1);
    for (size_t i = 0; i < COMMANDS; i++) {
        const char *const *words = command[i].argument;
        bool draws = strcmp(words[0], "report") == 0;
        for (int w = 0; words[w] != NULL; w++)
            draws = draws || strcmp(words[w], "--plot") == 0 || strcmp(words[w], "--pose") == 0;
        if (!draws)
            continue;
        refuses(3, SAYS("gnuplot is not found", "apt-get install gnuplot-nox"), words);
        assert_int_equal(count_temporary(), 0);
        for (int o = 0; o < OUTPUTS; o++)
            assert_int_not_equal(access(output[o], F_OK), 0);
        drawn++;
    }
    setenv("PATH", before, 1);
    assert_true(drawn > 10);
}

/* its pictures are those of other commands: what fails in one ends the report */
static void a_report_without_its_pictures_is_none(void **state)
{
    (void)state;
    static const char *const fails[][2] = {
        {"#!/bin/sh\necho 'no such terminal' >&2; exit 1\n", "gnuplot failed: no such terminal"},
        {"#!/bin/sh\nkill -9 $$\n", "killed by signal 9"},
        {"#!/bin/sh\nexec sleep 100\n", "gnuplot took longer than 0.2 s"},
        {"#!/bin/sh\nprintf '<svg><g></g>'\n", "drawn only part of the picture"},
        {"#!/bin/sh\nkill -9 $PPID\n", "ended early"},
    };
    setenv("SLEWTIME_GNUPLOT_SECONDS", "0.2", 1);
    size_t count = all_faults() ? sizeof fails / sizeof *fails : 2;
    for (size_t i = 0; i < count; i++) {
        put_gnuplot(fails[i][0]);
        write_file("x.html", OLD);
        REFUSES(3, SAYS(fails[i][1]), "report", "truck.yaml", "--out", "x.html");
        char *kept = take_file("x.html");
        assert_string_equal(kept, OLD);
        free(kept);
    }
    unsetenv("SLEWTIME_GNUPLOT_SECONDS");
    unlink("gnuplot");
    assert_int_equal(system("rm -rf tmp/slewtime-*"),
                     0); /* who is killed by SIGKILL cleans nothing up */
}

/* the words of gnuplot and its picture are more than a pipe holds */
static void a_talkative_gnuplot_does_not_block(void **state)
{
    (void)state;
    put_gnuplot("#!/bin/sh\nhead -c 3000000 /dev/zero >&2\nhead -c 3000000 /dev/zero\n"
                "printf IEND\n");
    outcome o = run_with(&(limits){.seconds = 60}, SAYS("run", "truck.yaml", "--plot", "x.png"));
    struct stat size;
    assert_int_equal(o.code, 0);
    assert_int_equal(stat("x.png", &size), 0);
    assert_int_equal(size.st_size, 3000004);
    free_outcome(&o);
    unlink("x.png");
    unlink("gnuplot");
}

/* ---- where temporary files go ---- */

static void a_long_or_relative_TMPDIR_is_taken(void **state)
{
    (void)state;
    char before[512], deep[1024];
    snprintf(before, sizeof before, "%s", getenv("TMPDIR"));
    snprintf(deep, sizeof deep, "%s/%0100d", before, 1);
    assert_int_equal(mkdir(deep, 0700), 0);
    put_gnuplot("#!/bin/sh\npwd >&2\nexit 1\n");
    setenv("TMPDIR", deep, 1);
    REFUSES(3, SAYS(deep), "run", "truck.yaml", "--plot", "x.svg");
    setenv("TMPDIR", "tmp", 1);
    REFUSES(3, SAYS(before), "run", "truck.yaml", "--plot", "x.svg");
    setenv("TMPDIR", before, 1);
    unlink("gnuplot");
    assert_int_equal(rmdir(deep), 0);
}

/* ---- outputs that are inputs, and links ---- */

static void no_output_names_a_file_that_is_read(void **state)
{
    (void)state;
    assert_int_equal(symlink("truck.yaml", "link.yaml"), 0);
    const char *read = "would write over a file that is read";
    REFUSES(2, SAYS("--trace truck.yaml", read), "run", "truck.yaml", "--trace", "truck.yaml");
    REFUSES(2, SAYS("--trace ./link.yaml", read), "run", "truck.yaml", "--trace", "./link.yaml");
    REFUSES(2, SAYS("--write times.csv", read), "fit", "truck.yaml", "times.csv", "--key",
            "elevation.motor.no_load_speed", "--write", "times.csv");
    REFUSES(2, SAYS("--out truck.yaml", read), "page", "truck.yaml", "--out", "truck.yaml");
    REFUSES(2, SAYS("--out class.html", read), "page", "truck.yaml", "--out", "class.html");
    REFUSES(2, SAYS("--out ./module.so", read), "fmu", "truck.yaml", "--out", "./module.so");
    REFUSES(2, SAYS("--plot and --trace both write"), "run", "truck.yaml", "--trace", "a.svg",
            "--plot", "./a.svg");
    REFUSES(2, SAYS("--plot - and --json both ask for stdout"), "run", "truck.yaml", "--json",
            "--plot", "-");
    REFUSES(2, SAYS("--pose - and --csv both ask for stdout"), "run", "truck.yaml", "--csv",
            "--pose", "-");
    unlink("link.yaml");
}

static void a_link_is_followed(void **state)
{
    (void)state;
    struct stat link;
    assert_int_equal(symlink("new.csv", "link.csv"), 0);
    for (int i = 0; i < 2; i++) { /* it leads nowhere, then to a file */
        outcome o = TOOL("run", "truck.yaml", "--trace", "link.csv");
        assert_int_equal(o.code, 0);
        assert_int_equal(lstat("link.csv", &link), 0);
        assert_true(S_ISLNK(link.st_mode));
        assert_int_equal(access("new.csv", R_OK), 0);
        free_outcome(&o);
    }
    unlink("link.csv");
    unlink("new.csv");
}

static int enter(void **state)
{
    signal(SIGXFSZ, SIG_IGN);
    return enter_with_gnuplot(state);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_full_disk_keeps_the_old_file),
        cmocka_unit_test(a_full_disk_is_called_that),
        cmocka_unit_test(a_full_or_closed_stdout_is_3),
        cmocka_unit_test(a_picture_counts_only_whole),
        cmocka_unit_test(a_gnuplot_that_fails_is_3),
        cmocka_unit_test(without_gnuplot_no_picture_is_drawn),
        cmocka_unit_test(a_report_without_its_pictures_is_none),
        cmocka_unit_test(a_talkative_gnuplot_does_not_block),
        cmocka_unit_test(a_long_or_relative_TMPDIR_is_taken),
        cmocka_unit_test(no_output_names_a_file_that_is_read),
        cmocka_unit_test(a_link_is_followed),
    };
    return cmocka_run_group_tests(tests, enter, leave_faults);
}
