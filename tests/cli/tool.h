/*
 * tool.h - runs the built tool in an empty directory of its own and keeps what it says.
 *
 * The tool is $SLEWTIME_TOOL, or build/slewtime under the directory the test is started in; its
 * plot scripts are those of plots/ there.
 */
#ifndef SLEW_TESTS_TOOL_H
#define SLEW_TESTS_TOOL_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <dirent.h>
#include <fcntl.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

/* invented data: a small monitor that stows and deploys well, under a mast it does not touch */
static const char TRUCK[] =
    "format: 1\n"
    "title: Bench monitor, \"invented\" for these tests\n"
    "supply: {floor: 11.5 V,\n"
    "  main: {voltage: 13 V, resistance: 12 mohm},\n"
    "  feed: {gauge: 8 AWG, length: 6 m}}\n"
    "controller: {stall: {current: 12 A}}\n"
    "rotation:\n"
    "  start: -20 deg\n"
    "  stops: {low: -90 deg, high: 90 deg}\n"
    "  motor: {rated_voltage: 12 V, no_load_speed: 3000 rpm, no_load_current: 1 A,\n"
    "          stall_current: 18 A, inertia: 4e-5 kg.m2}\n"
    "  gear: {ratio: 1500, efficiency: 36 %}\n"
    "  load: {inertia: 2 kg.m2, friction: 6 N.m}\n"
    "  home: {angle: 0 deg}\n"
    "  search: right\n"
    "elevation:\n"
    "  start: 20 deg\n"
    "  stops: {low: -20 deg, high: 60 deg}\n"
    "  motor: {rated_voltage: 12 V, no_load_speed: 3000 rpm, no_load_current: 1 A,\n"
    "          stall_current: 18 A, inertia: 4e-5 kg.m2}\n"
    "  gear: {ratio: 1500, efficiency: 36 %}\n"
    "  load: {inertia: 1.5 kg.m2, friction: 5 N.m, mass: 8 kg, centre_of_mass: 0.3 m}\n"
    "  home: {angle: 0 deg}\n"
    "  search: down\n"
    "stow:\n"
    "  home_order: elevation, rotation\n"
    "  order: rotation, elevation\n"
    "  point: {rotation: 5 deg, elevation: -12 deg}\n"
    "deploy:\n"
    "  seconds: {rotation: 0 s, elevation: 2 s}\n"
    "  order: elevation, rotation\n"
    "  target: {rotation: {low: 0 deg, high: 10 deg}, elevation: {low: 5 deg, high: 20 deg}}\n"
    "keepout:\n"
    "  - {name: \"mast, folded\", elevation: {low: -20 deg, high: -17 deg}}\n";

typedef struct outcome {
    int code;  /* exit code; -1: killed by a signal */
    char *out; /* stdout and stderr, terminated */
    char *err;
} outcome;

static char tool_path[1024], tool_directory[64];
static bool tool_entered; /* the current directory is tool_directory */

/* ---- the directory ---- */

static inline void write_file(const char *path, const char *text)
{
    FILE *file = fopen(path, "w");
    assert_non_null(file);
    assert_true(fputs(text, file) >= 0);
    assert_int_equal(fclose(file), 0);
}

static inline void from_here(const char *path, char *whole, size_t size)
{
    char here[512];
    assert_non_null(getcwd(here, sizeof here));
    snprintf(whole, size, path[0] == '/' ? "%s%s" : "%s/%s", path[0] == '/' ? "" : here, path);
}

static inline int enter_directory(void **state)
{
    (void)state;
    const char *tool = getenv("SLEWTIME_TOOL");
    char plots[1024];
    from_here(tool != NULL ? tool : "build/slewtime", tool_path, sizeof tool_path);
    from_here("plots", plots, sizeof plots);
    snprintf(tool_directory, sizeof tool_directory, "/tmp/slewtime-test-XXXXXX");
    if (access(tool_path, X_OK) != 0 || setenv("SLEWTIME_PLOTS", plots, 1) != 0 ||
        mkdtemp(tool_directory) == NULL || chdir(tool_directory) != 0)
        return -1;
    tool_entered = true;
    write_file("truck.yaml", TRUCK);
    return 0;
}

/* how many files the directory has */
static inline int count_files(void)
{
    int count = 0;
    DIR *directory = opendir(".");
    assert_non_null(directory);
    for (struct dirent *entry; (entry = readdir(directory)) != NULL;)
        count += strcmp(entry->d_name, ".") != 0 && strcmp(entry->d_name, "..") != 0;
    closedir(directory);
    return count;
}

static inline int leave_directory(void **state)
{
    (void)state;
    if (!tool_entered) /* the set-up failed: this is somebody else's directory */
        return -1;
    DIR *directory = opendir(tool_directory);
    for (struct dirent *entry; directory != NULL && (entry = readdir(directory)) != NULL;)
        if (entry->d_name[0] != '.' || strlen(entry->d_name) > 2)
            unlink(entry->d_name);
    if (directory != NULL)
        closedir(directory);
    return chdir("/") == 0 && rmdir(tool_directory) == 0 ? 0 : -1;
}

/* ---- running ---- */

static inline char *take_all(FILE *file)
{
    assert_int_equal(fseek(file, 0, SEEK_END), 0);
    int64_t size = ftell(file);
    assert_true(size >= 0);
    char *text = calloc((size_t)size + 1, 1);
    assert_non_null(text);
    rewind(file);
    assert_int_equal(fread(text, 1, (size_t)size, file), (size_t)size);
    fclose(file);
    return text;
}

/* where stdout goes: NULL for a file that is read back */
static inline outcome run_tool(const char *out_path, const char *const *arguments)
{
    FILE *out = tmpfile(), *err = tmpfile();
    const char *argument[32] = {"slewtime"};
    int status, count = 1;
    for (; arguments[count - 1] != NULL; count++)
        argument[count] = arguments[count - 1];
    assert_true(out != NULL && err != NULL);
    pid_t child = fork();
    assert_true(child >= 0);
    if (child == 0) {
        int target = out_path != NULL ? open(out_path, O_WRONLY) : fileno(out);
        dup2(target, STDOUT_FILENO);
        dup2(fileno(err), STDERR_FILENO);
        execv(tool_path, (char *const *)(uintptr_t)argument);
        _exit(125);
    }
    assert_int_equal(waitpid(child, &status, 0), child);
    int code = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
    return (outcome){code, take_all(out), take_all(err)};
}

#define TOOL(...) run_tool(NULL, (const char *const[]){__VA_ARGS__, NULL})

static inline void free_outcome(outcome *o)
{
    free(o->out);
    free(o->err);
    *o = (outcome){0};
}

static inline void has(const char *text, const char *part)
{
    if (strstr(text, part) == NULL)
        fail_msg("\"%s\" is not in:\n%s", part, text);
}

static inline void has_not(const char *text, const char *part)
{
    if (strstr(text, part) != NULL)
        fail_msg("\"%s\" is in:\n%s", part, text);
}

static inline int lines_of(const char *text)
{
    int lines = 0;
    for (; *text != '\0'; text++)
        lines += *text == '\n';
    return lines;
}

/* the first bytes of a file, by which its kind is known; at most 16 */
static inline void begins(const char *path, const char *magic, size_t length)
{
    char start[16] = "";
    FILE *file = fopen(path, "rb");
    assert_non_null(file);
    assert_int_equal(fread(start, 1, sizeof start, file), sizeof start);
    assert_memory_equal(start, magic, length);
    fclose(file);
}

static inline void is_png(const char *path)
{
    begins(path, "\x89PNG\r\n\x1a\n", 8);
}

/* The exit code, nothing on stdout, and this on stderr. */
static inline void refuses(int code, const char *const *parts, const char *const *arguments)
{
    outcome o = run_tool(NULL, arguments);
    if (o.code != code)
        fail_msg("exit code %d, not %d:\n%s", o.code, code, o.err);
    assert_string_equal(o.out, "");
    for (; *parts != NULL; parts++)
        has(o.err, *parts);
    free_outcome(&o);
}

#define SAYS(...)                 ((const char *const[]){__VA_ARGS__, NULL})
#define REFUSES(code, parts, ...) refuses(code, parts, (const char *const[]){__VA_ARGS__, NULL})

#endif
