/* json.h - what documents are made of. */
#ifndef SLEW_CLI_OLD_JSON_H
#define SLEW_CLI_OLD_JSON_H

#include <jansson.h>

#include "single_run.h"
#include "slewtime/study.h"

/* Writes a finished document to stdout and releases it; NULL: memory was short. Returns an exit
 * code. */
int cli_json_print(json_t *document);

/* A number; null when it is not finite. */
json_t *cli_json_number(double value);

/* An angle [rad] in degrees; null when it is not finite. */
json_t *cli_json_degrees(double radians);

/* The word of an axis; null for SLEW_NO_AXIS. */
json_t *cli_json_axis(int axis);

/* {"share", "low", "high"}: a share with its interval. */
json_t *cli_json_share(const slew_share *share);

/* A text; null when it is NULL, empty or not UTF-8. */
json_t *cli_json_text(const char *text);

/* Adds "scenario": "3f9a12bc77d0e541" and, with a sampling, "samples", "seed" and "points" to a
 * document. NULL documents are left alone. */
void cli_provenance_json(json_t *document, const slew_scenario *scenario,
                         const slew_sampling *sampling, int64_t done);

/* The same as the last columns of a CSV table: names for the header (from the comma on), and
 * values for each row. Neither ends the line. */
void cli_provenance_csv_names(FILE *stream, const slew_sampling *sampling);
void cli_provenance_csv(FILE *stream, const slew_scenario *scenario, const slew_sampling *sampling,
                        int64_t done);

#endif
