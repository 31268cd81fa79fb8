/* reading.h - the scenario that the command line names, and errors with their place in it. */
#ifndef SLEW_CLI_FRAME_READING_H
#define SLEW_CLI_FRAME_READING_H

#include "line/options.h"

/* Reads the scenario that the options name, with their assignments. Errors and (unless quiet)
 * warnings are told on stderr. Returns an exit code. */
int cli_read_scenario(const cli_options *options, slew_scenario *scenario);

/* The same; warnings go to `warnings` instead. */
int cli_read_scenario_and(const cli_options *options, slew_error_sink warnings,
                          slew_scenario *scenario);

/* Gives an error of the library about a key the key's place in the file, by reading it once more.
 */
void cli_locate(const cli_options *options, slew_error *error);

/* Tells such an error on stderr, with its place. Returns the exit code of the status. */
int cli_report_located(const cli_options *options, slew_status status, slew_error *error);

/* What feed and speed do without: a sequence, and where it begins and finds home. */
const char *const *cli_unneeded_for_wiring(const cli_options *options);

/* Names what a run of the scenario lacks, in the order of the file: "stow, rotation.start"; empty:
 * it can be run. */
void cli_name_lacking(const slew_scenario *scenario, char *text, size_t size);

#endif
