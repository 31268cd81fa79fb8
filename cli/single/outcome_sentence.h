/* outcome_sentence.h - the outcome of a run in a sentence: titles of pictures, head of the verdict.
 */
#ifndef SLEW_CLI_SINGLE_OUTCOME_SENTENCE_H
#define SLEW_CLI_SINGLE_OUTCOME_SENTENCE_H

#include "single_run.h"

enum { CLI_SENTENCE_MAX = 240 };

/* What the stow, and the deploy, came to. Empty when the part was not asked for. */
void cli_outcome_stow(const cli_single *single, char text[CLI_SENTENCE_MAX]);
void cli_outcome_deploy(const cli_single *single, char text[CLI_SENTENCE_MAX]);

/* Degrees for print-outs with one digit: no minus zero. */
double cli_tenths(double radians);

/* A fault, named by its word in JSON ("hard_stop"), in plain words: "driven into a hard stop";
 * NULL: it names none. */
const char *cli_fault_word_in_words(const char *word);

/* The stop of that direction: "lower stop", "left stop". */
const char *cli_stop_in_words(int axis, int direction);

/* The axis that stands on a stop while the controller takes that part, single->result.stow or
 * .deploy, for done; SLEW_NO_AXIS: none. */
int cli_pressed_axis(const cli_single *single, const slew_part *part);

#endif
