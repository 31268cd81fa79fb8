/* pose_sheet.h - where things are on the sheet of the pose picture, and its texts. */
#ifndef SLEW_CLI_POSE_POSE_SHEET_H
#define SLEW_CLI_POSE_POSE_SHEET_H

#include <stdio.h>

#include "pose.h"
#include "pose_dial.h"

typedef struct cli_sheet {
    int count;
    const cli_pose *pose;
    bool is_terminal, is_slide;
    bool is_brief;        /* texts leave out what can be spared */
    double width, height; /* [pixels]; the terminal's cells count as CELL_WIDTH x CELL_HEIGHT */
    double size;          /* of the texts [point] */
    cli_lettering lettering;
    cli_point head[CLI_POSES_MAX]; /* where the texts above a column begin */
    double head_width;
    bool shows[SLEW_AXES]; /* a view that has something to say */
    cli_box lens;          /* for the close-up of where it was taught; of no width: none */
    cli_box panel[SLEW_AXES][CLI_POSES_MAX]; /* for a dial with its texts; the caption is above */
    cli_dial dial[SLEW_AXES][CLI_POSES_MAX];
} cli_sheet;

enum { CLI_CELL_WIDTH = 10, CLI_CELL_HEIGHT = 20 };

/* Lays out sheet->count poses, in a file side by side, in a terminal (sheet->is_terminal) of so
 * many columns one below the other. */
void cli_sheet_lay_out(cli_sheet *sheet, int columns);

/* The axis that matters: the one in trouble, else the elevation. */
int cli_sheet_axis(const cli_sheet *sheet);

/* true: something of that kind is drawn. */
bool cli_sheet_has(const cli_sheet *sheet, cli_mark_kind kind);

/* ---- Its texts ---- */

/* How many lines of text stand above the column of that pose, and above each in a terminal. */
int cli_head_lines(const cli_sheet *sheet, int index);

/* Writes texts.csv of plots/pose.gp: all texts on a cli_sheet. */
void cli_texts_write(FILE *stream, const void *sheet);

/* "Fan of 504 simulated days: stow: 466 within tolerance, 38 outside"; empty without a fan. */
void cli_fan_sentence(const cli_pose *pose, char *text, size_t size);

#endif
