/* answer.h - the answer of `slewtime speed` as text, JSON, CSV and picture. */
#ifndef SLEW_CLI_SPEED_ANSWER_H
#define SLEW_CLI_SPEED_ANSWER_H

#include <stdio.h>

#include "slewtime/speed.h"

enum { CLI_SPEED_OCCASIONS = 2 };

typedef struct cli_speed {
    const slew_scenario *scenario;
    int count; /* of occasions asked about */
    slew_speed_question question[CLI_SPEED_OCCASIONS];
    slew_speed answer[CLI_SPEED_OCCASIONS];
} cli_speed;

/* "today" or "on deploy day" */
const char *cli_speed_when(const cli_speed *speed, int index);

/* "elevation up" */
void cli_speed_name(const slew_speed_curve *curve, char *text, size_t size);

/* "dry", "at 7 bar" */
void cli_speed_level(const slew_speed_level *level, char *text, size_t size);

/* What was found on one occasion, in one line. */
void cli_speed_finding(const cli_speed *speed, int index, char *text, size_t size);

/* Why an axis does not get from stop to stop, in a word; "" if it does. */
const char *cli_speed_trouble(const slew_speed_row *row);

void cli_speed_print(const void *speed);
int cli_speed_json(const void *speed);               /* returns an exit code */
void cli_speed_csv(FILE *stream, const void *speed); /* one row for each curve and voltage */

/* Draws the first occasion. Returns an exit code. */
int cli_speed_draw(const char *path, const void *speed);

#endif
