/* outputs.c - see outputs.h. */
#define _XOPEN_SOURCE 700 /* realpath */
#include "outputs.h"

#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "exit_code.h"
#include "report.h"

/* a file and the option that names it */
typedef struct named {
    const char *option, *path; /* NULL: not given */
} named;

/* ---- one file by two names ---- */

/* the way to a file that need not be there, without links; false: there is none */
static bool find_place(const char *path, char place[PATH_MAX])
{
    char directory[PATH_MAX] = ".", whole[PATH_MAX];
    const char *slash = strrchr(path, '/'), *name = slash != NULL ? slash + 1 : path;
    if (realpath(path, place) != NULL)
        return true;
    if (slash != NULL)
        snprintf(directory, sizeof directory, "%.*s", (int)(slash - path + 1), path);
    if (realpath(directory, whole) == NULL)
        return false;
    size_t length = strlen(whole);
    int more = snprintf(place, PATH_MAX, "%s/", whole);
    return more > 0 && length + strlen(name) + 2 < PATH_MAX && strcpy(place + more, name) != NULL;
}

/* a device or a pipe may be written twice */
static bool is_same_file(const char *a, const char *b)
{
    struct stat of_a, of_b;
    char place_a[PATH_MAX], place_b[PATH_MAX];
    if (stat(a, &of_a) == 0 && stat(b, &of_b) == 0)
        return S_ISREG(of_a.st_mode) && of_a.st_dev == of_b.st_dev && of_a.st_ino == of_b.st_ino;
    return find_place(a, place_a) && find_place(b, place_b) && strcmp(place_a, place_b) == 0;
}

static bool clash(const named *a, const named *b)
{
    return a->path != NULL && b->path != NULL && strcmp(a->path, "-") != 0 &&
           is_same_file(a->path, b->path);
}

/* ---- the command line ---- */

static int refuse_input(const named *output, const char *command)
{
    const cli_complaint complaint = {.expected = "a file that is not read", .help = command};
    return cli_complain(&complaint, "%s %s would write over a file that is read", output->option,
                        output->path);
}

static int check_inputs(const cli_options *options, const named *output, const char *command)
{
    const named others[] = {{"--seen", options->seen}, {"--catalogue", options->catalogue}};
    for (int i = 0; i < options->operand_count; i++)
        if (clash(output, &(named){"", options->operand[i]}))
            return refuse_input(output, command);
    for (size_t i = 0; i < sizeof others / sizeof *others; i++)
        if (clash(output, &others[i]))
            return refuse_input(output, command);
    return CLI_OK;
}

int cli_outputs_spare(const char *out, const char *read, const char *command)
{
    const named output = {"--out", out};
    return clash(&output, &(named){"", read}) ? refuse_input(&output, command) : CLI_OK;
}

static int check_stdout(const cli_options *options, const named *output, const char *command)
{
    const cli_complaint complaint = {.expected = "one of them", .help = command};
    bool tells = options->json || options->csv;
    if (!tells || output->path == NULL || strcmp(output->path, "-") != 0)
        return CLI_OK;
    return cli_complain(&complaint, "%s - and %s both ask for stdout", output->option,
                        options->json ? "--json" : "--csv");
}

int cli_outputs_check(const cli_options *options, const char *command)
{
    const named output[] = {{"--plot", options->plot},
                            {"--pose", options->pose},
                            {"--trace", options->trace},
                            {"--write", options->write},
                            {"--out", options->out}};
    const cli_complaint complaint = {.expected = "two files", .help = command};
    int code = CLI_OK;
    for (size_t i = 0; i < sizeof output / sizeof *output && code == CLI_OK; i++) {
        code = check_stdout(options, &output[i], command);
        if (code == CLI_OK)
            code = check_inputs(options, &output[i], command);
        for (size_t j = 0; j < i && code == CLI_OK; j++)
            if (clash(&output[j], &output[i]))
                code = cli_complain(&complaint, "%s and %s both write %s", output[j].option,
                                    output[i].option, output[i].path);
    }
    return code;
}
