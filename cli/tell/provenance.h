/* provenance.h - what a figure comes from, on every output: the scenario's hash, samples and seed.
 */
#ifndef SLEW_CLI_TELL_PROVENANCE_H
#define SLEW_CLI_TELL_PROVENANCE_H

#include "slewtime/study.h"
#include "teller.h"

enum { CLI_HASH_MAX = 17, CLI_PROVENANCE_MAX = 200 };

/* The hash of the scenario as file and command line give it (its title left out): 16 hexadecimal
 * digits. */
void cli_provenance_hash(const slew_scenario *scenario, char text[CLI_HASH_MAX]);

/* "scenario 3f9a12bc77d0e541", for a heading or a line of text. With a sampling: "10000
 * simulated days (evenly spread, 8 shifts), seed 1, scenario 3f9a12bc77d0e541", where `done`
 * samples were done.
 */
void cli_provenance_words(const slew_scenario *scenario, const slew_sampling *sampling,
                          int64_t done, char text[CLI_PROVENANCE_MAX]);

/* Tells "scenario", "3f9a12bc77d0e541" and, with a sampling, "samples", "seed" and "points": of a
 * document, which tells too what is known of the day, or as the last columns of a row. */
void cli_tell_provenance(cli_teller *teller, const slew_scenario *scenario,
                         const slew_sampling *sampling, int64_t done);

/* Tells "slewtime" and "title", with which every document begins. */
void cli_tell_title(cli_teller *teller, const slew_scenario *scenario);

#endif
