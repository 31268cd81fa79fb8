/*
 * faults.h - runs the tool where something fails: memory, the disk, gnuplot; and knows what it
 * left.
 *
 * SLEW_FAULTS=all tries everything (`make check-faults`), else some of it (`make check`). The
 * preloaded part is $SLEWTIME_BUILD/tests/faults/shim.so.
 */
#ifndef SLEW_TESTS_FAULTS_H
#define SLEW_TESTS_FAULTS_H

#include <elf.h>
#include <signal.h>

#include "../cli/tool.h"

/* what is added to TRUCK: something to draw, two of them together */
static const char SPREAD[] =
    "spread:\n"
    "  truck: {elevation.gear.efficiency: {uniform: {low: 34 %, high: 38 %}}}\n"
    "  day:\n"
    "    supply.main.voltage: {uniform: {low: 12.6 V, high: 13.4 V}}\n"
    "    environment.temperature: {normal: {mean: 15 degC, sd: 5 K}}\n"
    "  correlation: [{between: [supply.main.voltage, environment.temperature], coefficient: "
    "0.3}]\n";

/* invented travels, timed by hand, of about that truck */
static const char TIMES[] = "axis,direction,from,to,supply_V,seconds_s,controller_V\n"
                            "elevation,up,low_stop,high_stop,13,8.1,12.8\n"
                            "elevation,down,high_stop,low_stop,13,7.6,12.8\n"
                            "rotation,left,high_stop,low_stop,13,17.2,12.8\n"
                            "elevation,up,low_stop,high_stop,12,9.0,11.8\n"
                            "elevation,down,high_stop,low_stop,12,8.4,11.8\n";

/* two invented causes instead of the built-in ones */
static const char OWN_CAUSES[] =
    "builtin: no\n"
    "causes:\n"
    "  nothing wrong:\n"
    "    {means: It is healthy., prove: Each check reads as it should., cure: None is needed.}\n"
    "  weak battery:\n"
    "    {means: The battery is weak., prove: It reads low at rest., cure: Charge it.,\n"
    "     today: {supply.main.voltage: 10 V to 11 V}}\n";

static const char SEEN[] = "stow: {says: stowed, rotation: 4 deg, elevation: -11 deg}\n"
                           "lowest_voltage: 11.5 V\n";

/* what page writes into and what an FMU carries, small: of the module the head alone is looked at,
 * for the platform */
static inline void write_stand_ins(void)
{
    const Elf64_Ehdr head = {
        .e_ident = {ELFMAG0, ELFMAG1, ELFMAG2, ELFMAG3, ELFCLASS64, ELFDATA2LSB},
        .e_machine = EM_X86_64};
    FILE *page = fopen("class.html", "w"), *module = fopen("module.so", "w");
    assert_true(page != NULL && module != NULL);
    fwrite(&head, sizeof head, 1, module);
    for (int i = 0; i < 300; i++) {
        fprintf(page, "%s<p>A stand-in of the page, line %d.</p>\n", i == 150 ? "@TRUCK@" : "", i);
        fprintf(module, "A stand-in of the module, line %d.\n", i);
    }
    fclose(page);
    fclose(module);
    setenv("SLEWTIME_PAGE", "class.html", 1);
    setenv("SLEWTIME_FMU", "module.so", 1);
}

static inline bool all_faults(void)
{
    const char *which = getenv("SLEW_FAULTS");
    return which != NULL && strcmp(which, "all") == 0;
}

/* a sanitizer brings an allocator of its own, which the shim can't stand before */
static inline bool is_sanitized(void)
{
    const char *flags = getenv("SLEWTIME_SANITIZE");
    return flags != NULL && flags[0] != '\0';
}

static inline void is_left_out(void **state)
{
    (void)state;
    skip();
}

/* ---- the directory ---- */

static char start_directory[512];

/* TMPDIR is a directory `tmp` in that of the test, so that nothing left there is overlooked */
static inline int enter_faults(void **state)
{
    char path[1200], here[512];
    const char *build = getenv("SLEWTIME_BUILD");
    if (getcwd(start_directory, sizeof start_directory) == NULL)
        return -1;
    from_here(build != NULL ? build : "build", path, sizeof path);
    strcat(path, "/tests/faults/shim.so");
    setenv("SLEW_FAULT_SHIM", path, 1);
    if (access(path, R_OK) != 0 || enter_directory(state) != 0 || mkdir("tmp", 0700) != 0 ||
        getcwd(here, sizeof here) == NULL)
        return -1;
    strcat(here, "/tmp");
    setenv("TMPDIR", here, 1);
    FILE *truck = fopen("truck.yaml", "a");
    assert_non_null(truck);
    fputs(SPREAD, truck);
    fclose(truck);
    write_file("times.csv", TIMES);
    write_file("seen.yaml", SEEN);
    write_file("own.yaml", OWN_CAUSES);
    write_stand_ins();
    return 0;
}

/* the same, and it comes first in PATH, for a gnuplot of our own */
static inline int enter_with_gnuplot(void **state)
{
    char here[512], path[4096];
    const char *before = getenv("PATH");
    if (enter_faults(state) != 0 || getcwd(here, sizeof here) == NULL)
        return -1;
    snprintf(path, sizeof path, "%s:%s", here, before != NULL ? before : "");
    return setenv("PATH", path, 1);
}

static inline int leave_faults(void **state)
{
    rmdir("tmp");
    return leave_directory(state);
}

static inline int count_temporary(void)
{
    int count = 0;
    DIR *here = opendir("."), *tmp = opendir("tmp");
    assert_true(here != NULL && tmp != NULL);
    for (struct dirent *e; (e = readdir(here)) != NULL;)
        count += strncmp(e->d_name, ".slewtime", 9) == 0;
    for (struct dirent *e; (e = readdir(tmp)) != NULL;)
        count += strcmp(e->d_name, ".") != 0 && strcmp(e->d_name, "..") != 0;
    closedir(here);
    closedir(tmp);
    return count;
}

/* the file's text, and removes it; NULL: there is none */
static inline char *take_file(const char *path)
{
    FILE *file = fopen(path, "r");
    if (file == NULL)
        return NULL;
    unlink(path);
    return take_all(file);
}

/* ---- running ---- */

typedef struct limits {
    int seconds;      /* killed after that */
    const char *shim; /* preloaded, or NULL */
    const char *out;  /* stdout goes there, or is "closed"; NULL: is kept */
} limits;

static inline pid_t start_limited(const limits *l, const char *const *arguments, FILE *out,
                                  FILE *err)
{
    const char *argument[32] = {"slewtime"};
    for (int i = 0; arguments[i] != NULL; i++)
        argument[i + 1] = arguments[i];
    pid_t child = fork();
    assert_true(child >= 0);
    if (child != 0)
        return child;
    bool closed = l->out != NULL && strcmp(l->out, "closed") == 0;
    int target = l->out != NULL && !closed ? open(l->out, O_WRONLY) : fileno(out);
    dup2(target, STDOUT_FILENO);
    if (closed)
        close(STDOUT_FILENO);
    dup2(fileno(err), STDERR_FILENO);
    if (l->shim != NULL)
        setenv("LD_PRELOAD", l->shim, 1);
    alarm((unsigned)l->seconds);
    signal(SIGINT, SIG_DFL); /* ignored in what a script started in the background */
    execv(tool_path, (char *const *)(uintptr_t)argument);
    _exit(125);
}

static inline outcome run_with(const limits *l, const char *const *arguments)
{
    FILE *out = tmpfile(), *err = tmpfile();
    int status;
    assert_true(out != NULL && err != NULL);
    pid_t child = start_limited(l, arguments, out, err);
    assert_int_equal(waitpid(child, &status, 0), child);
    int code = WIFEXITED(status) ? WEXITSTATUS(status) : -WTERMSIG(status);
    return (outcome){code, take_all(out), take_all(err)};
}

#endif
