/*
 * plot.h - pictures, drawn by gnuplot with the scripts of the directory plots.
 *
 *     static bool fill(cli_plot *plot, const void *what)
 *     {
 *         cli_plot_set(plot, "t_end=%.9g", end);             a variable of the script
 *         FILE *data = cli_plot_data(plot, "trace.csv");      data beside it
 *         ...
 *     }
 *     int code = cli_plot_draw(&(cli_picture){"travel.png", false, "travel.gp",
 *                                             "Angles against time"}, fill, what);
 */
#ifndef SLEW_CLI_DRAW_PLOT_H
#define SLEW_CLI_DRAW_PLOT_H

#include <signal.h>
#include <stdbool.h>
#include <stdio.h>

enum {
    CLI_PLOT_FILES_MAX = 8,
    CLI_PLOT_SETTINGS_MAX = 128,
    CLI_PLOT_TITLE_MAX = 512,
    CLI_PLOT_DIRECTORY_MAX = 1024
};

typedef struct cli_plot {
    char directory[CLI_PLOT_DIRECTORY_MAX]; /* for the data, removed on close */
    const char *file[CLI_PLOT_FILES_MAX];
    FILE *stream[CLI_PLOT_FILES_MAX];
    int file_count;
    char *setting[CLI_PLOT_SETTINGS_MAX];
    int setting_count;
    bool short_of_memory;
    bool is_slide;                  /* fewer and larger things are drawn */
    bool is_terminal;               /* in letters, cli_plot_columns() wide */
    char title[CLI_PLOT_TITLE_MAX]; /* the first heading */
    char more[CLI_PLOT_TITLE_MAX];  /* the others */
    sigset_t before;                /* interrupts are held back from open to close */
} cli_plot;

/* Says whether the option's picture can have this name: .svg, .png, .pdf or "-". Returns an exit
 * code. */
int cli_plot_check(const char *option, const char *path);

/* How many columns a picture in the terminal has: as wide as that, within reason. */
int cli_plot_columns(void);

/* Where a file of the directory plots is. false: not there. */
bool cli_plot_find(const char *script, char *path, size_t size);

/* Opens a data file; the stream belongs to the plot. NULL: not possible, told on stderr. `name` is
 * to stay valid. */
FILE *cli_plot_data(cli_plot *plot, const char *name);

/* The same, written whole by `table`. false: not possible, told on stderr. */
bool cli_plot_table(cli_plot *plot, const char *name, void (*table)(FILE *stream, const void *what),
                    const void *what);

/* Sets a variable of the script, "name=value" in gnuplot's words. */
void cli_plot_set(cli_plot *plot, const char *format, ...);

/* Sets a variable to a text, whatever is in it; a straight quote becomes a curved one. Of those
 * whose names begin with "heading" the first is the title of an SVG, the others are in its
 * description. */
void cli_plot_set_text(cli_plot *plot, const char *name, const char *text);

/* Sets `caution`, the line at the foot, to what tell/caution.h says of what was seen. */
void cli_plot_caution(cli_plot *plot, const char *seen);

/* Sets the variables of a script and writes its data. false: that failed, and is told. */
typedef bool cli_plot_fill(cli_plot *plot, const void *what);

/* A picture that is asked for. */
typedef struct cli_picture {
    const char *path;
    bool is_slide;
    const char *script; /* "travel.gp" */
    const char *shows;  /* what it shows, for those who hear it described: "Angles against time" */
} cli_picture;

/* Draws a picture with its script, filled from `what`, to its path, whole or not at all, or for "-"
 * to stdout. Returns an exit code. */
int cli_plot_draw(const cli_picture *picture, cli_plot_fill *fill, const void *what);

#endif
