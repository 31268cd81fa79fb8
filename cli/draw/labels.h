/* labels.h - places the texts of marked points so that they do not overlap. */
#ifndef SLEW_CLI_DRAW_LABELS_H
#define SLEW_CLI_DRAW_LABELS_H

#include <stdbool.h>
#include <stddef.h>

enum { CLI_LABEL_TEXT_MAX = 96 };

/* A panel of a picture: its size in pixels and what its axes span. */
typedef struct cli_panel {
    const char *name;
    double width, height;
    double t_end, low, high;    /* end of the time axis [s]; value axis in its own unit */
    double free_low, free_high; /* between them nothing is hatched; infinite: no bound */
    double t_start;             /* of the time axis, 0 unless it is a close-up [s] */
    double taken_left, taken_right, taken_bottom, taken_top; /* another drawing lies there [pixels],
                                                                no text; all 0: none */
} cli_panel;

typedef struct cli_label {
    double x, y; /* the marked point; all in pixels from the lower left corner of the panel */
    double text_x, text_y; /* given back: left end and middle of the text */
    double end_x, end_y;   /* given back: where the line from the point meets the text */
    bool trouble;          /* it is written bold */
    char text[CLI_LABEL_TEXT_MAX];
} cli_label;

typedef struct cli_point {
    double x, y;
} cli_point;

/* Pixels of a time and a value, and back. */
double cli_panel_x(const cli_panel *panel, double time);
double cli_panel_y(const cli_panel *panel, double value);
double cli_panel_time(const cli_panel *panel, double x);
double cli_panel_value(const cli_panel *panel, double y);

/* About how wide a text is [pixels]. */
double cli_label_width(const cli_label *label);

/* Fills text_* and end_* of each label: near its point, inside the panel, off the other texts and
 * off the curve as far as there is room. */
void cli_labels_place(const cli_panel *panel, cli_label *labels, int count, const cli_point *curve,
                      size_t curve_count);

/* Moves values [pixels, ascending] apart until each is `gap` from the next, inside 0 to height. */
void cli_labels_spread(double *y, int count, double gap, double height);

#endif
