/* plot.c - see plot.h. */
#include "plot.h"

#include <errno.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>
#include <sys/ioctl.h>
#include <unistd.h>

#include "gnuplot.h"
#include "line/exit_code.h"
#include "line/output.h"
#include "line/report.h"
#include "svg.h"
#include "tell/append.h"
#include "tell/caution.h"

/* where the scripts are, unless the environment says otherwise */
#ifndef SLEW_PLOTS_DIR
#define SLEW_PLOTS_DIR "plots"
#endif

/* ---- names ---- */

static const char *format_of(const char *path)
{
    static const char *const formats[] = {"svg", "png", "pdf"};
    const char *point = strrchr(path, '.');
    if (strcmp(path, "-") == 0)
        return "dumb";
    for (size_t i = 0; point != NULL && i < sizeof formats / sizeof *formats; i++)
        if (strcasecmp(point + 1, formats[i]) == 0)
            return formats[i];
    return NULL;
}

int cli_plot_check(const char *option, const char *path)
{
    const cli_complaint complaint = {.expected = "a file that ends in .svg, .png or .pdf, or - for "
                                                 "the terminal"};
    if (format_of(path) != NULL)
        return CLI_OK;
    return cli_complain(&complaint, "%s %s: no kind of picture", option, path);
}

/* ---- data and variables ---- */

/* makes the directory for the data; what it opens is closed only after CLI_OK */
static int open_plot(cli_plot *plot, const cli_picture *picture)
{
    *plot =
        (cli_plot){.is_slide = picture->is_slide, .is_terminal = strcmp(picture->path, "-") == 0};
    cli_hold_interrupts(&plot->before);
    int code = cli_temporary_directory(plot->directory, sizeof plot->directory);
    if (code != CLI_OK)
        sigprocmask(SIG_SETMASK, &plot->before, NULL);
    return code;
}

enum { PATH_ROOM = CLI_PLOT_DIRECTORY_MAX + 32 };

static void path_of(const cli_plot *plot, const char *name, char path[PATH_ROOM])
{
    snprintf(path, PATH_ROOM, "%s/%s", plot->directory, name);
}

FILE *cli_plot_data(cli_plot *plot, const char *name)
{
    char path[PATH_ROOM];
    path_of(plot, name, path);
    FILE *stream = plot->file_count < CLI_PLOT_FILES_MAX ? fopen(path, "w") : NULL;
    if (stream == NULL) {
        cli_fail_errno("set TMPDIR to a directory that has room", errno, "cannot write %s", path);
        return NULL;
    }
    plot->file[plot->file_count] = name;
    plot->stream[plot->file_count++] = stream;
    return stream;
}

bool cli_plot_table(cli_plot *plot, const char *name, void (*table)(FILE *stream, const void *what),
                    const void *what)
{
    FILE *stream = cli_plot_data(plot, name);
    if (stream != NULL)
        table(stream, what);
    return stream != NULL;
}

static void keep_setting(cli_plot *plot, char *setting)
{
    if (setting == NULL || plot->setting_count == CLI_PLOT_SETTINGS_MAX) {
        plot->short_of_memory = true;
        free(setting);
    } else
        plot->setting[plot->setting_count++] = setting;
}

void cli_plot_set(cli_plot *plot, const char *format, ...)
{
    va_list arguments;
    char *setting = malloc(128);
    va_start(arguments, format);
    if (setting != NULL)
        vsnprintf(setting, 128, format, arguments);
    va_end(arguments);
    keep_setting(plot, setting);
}

static void keep_words(cli_plot *plot, const char *name, const char *text)
{
    char *words = plot->title[0] == '\0' ? plot->title : plot->more;
    if (strncmp(name, "heading", 7) == 0 && text[0] != '\0')
        cli_append(words, CLI_PLOT_TITLE_MAX, "%s%s", words[0] != '\0' ? " " : "", text);
}

/* In gnuplot's single quotes nothing is special but the quote itself. Doubling it is not safe (a
 * text that begins with one is taken apart), so it is replaced. */
void cli_plot_set_text(cli_plot *plot, const char *name, const char *text)
{
    static const char curved[] = "\u2019";
    keep_words(plot, name, text);
    char *setting = malloc(strlen(name) + (sizeof curved - 1) * strlen(text) + 4), *end = setting;
    if (setting != NULL) {
        end += sprintf(setting, "%s='", name);
        for (; *text != '\0'; text++)
            if (*text == '\'')
                end = (char *)memcpy(end, curved, sizeof curved - 1) + sizeof curved - 1;
            else
                *end++ = *text;
        strcpy(end, "'");
    }
    keep_setting(plot, setting);
}

void cli_plot_caution(cli_plot *plot, const char *seen)
{
    char text[CLI_CAUTION_MAX];
    cli_caution_foot(seen, text);
    cli_plot_set_text(plot, "caution", text);
}

/* ---- gnuplot ---- */

bool cli_plot_find(const char *script, char *path, size_t size)
{
    const char *directory = getenv("SLEWTIME_PLOTS");
    if (directory == NULL || directory[0] == '\0')
        directory = SLEW_PLOTS_DIR;
    char working[1024] = "";
    if (directory[0] != '/' && getcwd(working, sizeof working) == NULL)
        return false;
    snprintf(path, size, "%s%s%s/%s", working, working[0] != '\0' ? "/" : "", directory, script);
    return access(path, R_OK) == 0;
}

static int run_gnuplot(const cli_plot *plot, const char *script, const char *format, char **picture,
                       size_t *length)
{
    char path[1536], *argument[2 * CLI_PLOT_SETTINGS_MAX + 3] = {"gnuplot"};
    int count = 1;
    if (!cli_plot_find(script, path, sizeof path))
        return cli_fail("set SLEWTIME_PLOTS to the directory that has it",
                        "the script %s is not found", path);
    for (int i = 0; i < plot->setting_count; i++) {
        argument[count++] = "-e";
        argument[count++] = plot->setting[i];
    }
    argument[count] = path;
    return cli_gnuplot_draw(&(cli_gnuplot){argument, plot->directory, format, &plot->before},
                            picture, length);
}

/* ---- drawing ---- */

/* gnuplot calls every SVG the same: the words of this one instead */
static int write_svg(const cli_plot *plot, const cli_picture *picture, FILE *drawn, FILE *out)
{
    if (drawn == NULL)
        return cli_no_memory();
    cli_svg_copy(drawn, out, &(cli_svg_words){plot->title, picture->shows, plot->more});
    fclose(drawn);
    return CLI_OK;
}

static int write_to_file(const cli_plot *plot, const cli_picture *picture, char *drawn,
                         size_t length)
{
    cli_file file;
    int code = cli_file_open(&file, picture->path);
    if (code != CLI_OK)
        return code;
    const char *format = format_of(picture->path);
    if (format != NULL && strcmp(format, "svg") == 0)
        code = write_svg(plot, picture, fmemopen(drawn, length, "r"), file.stream);
    else
        fwrite(drawn, 1, length, file.stream); /* closing sees an error */
    return cli_file_close(&file, code);
}

static void write_to_stdout(const char *picture, size_t length)
{
    for (size_t i = 0; i < length; i++)
        if (picture[i] != '\f') /* gnuplot begins each page with a form feed */
            putchar(picture[i]);
}

static int draw(const cli_plot *plot, const cli_picture *picture)
{
    char *drawn = NULL;
    size_t length = 0;
    int code = run_gnuplot(plot, picture->script, format_of(picture->path), &drawn, &length);
    if (code != CLI_OK || drawn == NULL)
        return code;
    if (plot->is_terminal)
        write_to_stdout(drawn, length);
    else
        code = write_to_file(plot, picture, drawn, length);
    free(drawn);
    return code;
}

int cli_plot_columns(void)
{
    struct winsize window;
    if (ioctl(STDOUT_FILENO, TIOCGWINSZ, &window) != 0 || window.ws_col == 0)
        return 100;
    return window.ws_col < 60 ? 60 : window.ws_col > 160 ? 160 : window.ws_col;
}

/* 0, or why something was lost: closing does not tell again what an earlier write told */
static int close_stream(FILE *stream)
{
    int error = ferror(stream) != 0 ? cli_write_error(stream) : 0;
    if (fclose(stream) != 0 && error == 0)
        error = errno;
    return error;
}

static int close_data(cli_plot *plot)
{
    int first = 0;
    for (int i = 0; i < plot->file_count; i++) {
        int error = close_stream(plot->stream[i]);
        first = first != 0 ? first : error;
    }
    return first == 0
               ? CLI_OK
               : cli_fail_errno("free some room", first,
                                "cannot write the data of the picture to %s", plot->directory);
}

static void clean_up(cli_plot *plot)
{
    char path[PATH_ROOM];
    for (int i = 0; i < plot->file_count; i++) {
        path_of(plot, plot->file[i], path);
        unlink(path);
    }
    rmdir(plot->directory);
    for (int i = 0; i < plot->setting_count; i++)
        free(plot->setting[i]);
    sigprocmask(SIG_SETMASK, &plot->before, NULL);
}

/* while `code` is CLI_OK draws the picture; then removes the data */
static int close_plot(cli_plot *plot, int code, const cli_picture *picture)
{
    int closed = close_data(plot);
    if (code == CLI_OK)
        code = closed;
    cli_plot_set(plot, "format='%s'", format_of(picture->path));
    cli_plot_set(plot, "columns=%d", cli_plot_columns());
    cli_plot_set(plot, "slide=%d", plot->is_slide);
    if (code == CLI_OK && plot->short_of_memory)
        code = cli_no_memory();
    if (code == CLI_OK)
        code = draw(plot, picture);
    clean_up(plot);
    return code;
}

int cli_plot_draw(const cli_picture *picture, cli_plot_fill *fill, const void *what)
{
    cli_plot plot;
    int code = open_plot(&plot, picture);
    if (code != CLI_OK)
        return code;
    return close_plot(&plot, fill(&plot, what) ? CLI_OK : CLI_OUTSIDE, picture);
}
