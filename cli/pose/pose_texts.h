/* pose_texts.h - the texts on the sheet of the pose picture. */
#ifndef SLEW_CLI_POSE_POSE_TEXTS_H
#define SLEW_CLI_POSE_POSE_TEXTS_H

#include <stdio.h>

#include "pose_sheet.h"

/* How many lines of text stand above the column of that pose, and above each in a terminal. */
int cli_head_lines(const cli_sheet *sheet, int index);

/* Writes texts.csv of plots/pose.gp: all texts on a cli_sheet. */
void cli_texts_write(FILE *stream, const void *sheet);

/* "fan of 504 samples, seed 1: stow: 466 on target, 38 missed"; empty without a fan. */
void cli_fan_sentence(const cli_pose *pose, char *text, size_t size);

#endif
