/* judged.h - a judgment of the demands on its way out: its figures, and the words of a headline. */
#ifndef SLEW_CLI_TELL_JUDGED_H
#define SLEW_CLI_TELL_JUDGED_H

#include "slewtime/demands.h"
#include "teller.h"

enum { CLI_JUDGED_MAX = 800 };

/* "deploys inside the target": of a table. */
const char *cli_demand_words(slew_demand demand);

/* A share as it is demanded [%]: of what is met, or of what misses; NaN stays. */
double cli_demand_percent(slew_demand demand, double missed);

/* The record of a slew_judgment: whether all is met, from how many samples, and under the word of
 * each demand its limit, the share that misses it, whether it is met, and how many samples would
 * tell; null of a demand that there is nothing to ask of. A row has the share and the answer. */
void cli_tell_judgment(cli_teller *teller, const void *judgment);

/* What a headline says of a setting: "meets all demands"; "does not meet the demands: enters a
 * keep-out zone in 8.40 % (at most 0.1 %); ..." with every demand that is not met, strike risk
 * first; "too few simulated days to say, 20000 would do: ...". Begins small, ends without a stop.
 */
void cli_judged_words(const slew_judgment *judgment, char text[CLI_JUDGED_MAX]);

/* The same without what is demanded, short enough for a terminal: "fails the demands:
 * keep-out zone in 1.84 %, low voltage in 33.75 % of the days", "too few simulated days to
 * say (20000 would do)". In about so many letters, but for the first demand: of the others it has
 * the number. */
void cli_judged_brief(const slew_judgment *judgment, int letters, char text[CLI_JUDGED_MAX]);

/* How many samples would tell all demands if the shares stay as they are; -1: no number does. */
int64_t cli_judged_enough(const slew_judgment *judgment);

/* The same as cli_judged_words in a word or two: "meets all demands", "does not meet the demands",
 * "too few simulated days to say". */
const char *cli_judged_short(const slew_judgment *judgment);

/* The record of a slew_trucks, null under the word of a demand that was not asked. */
void cli_tell_trucks(cli_teller *teller, const void *trucks);

/* "Truck by truck (for what is not known about this one): 95 % of such trucks deploy
 * inside the target on 93.10 to 99.00 % of their days; 87 % of them (82 to 91) on at least 95 %.",
 * and the same of the stow. Empty if no truck was drawn. */
void cli_trucks_words(const slew_trucks *trucks, const slew_scenario *scenario,
                      char text[CLI_JUDGED_MAX]);

/* Adds "enters a keep-out zone in 8.40 % (at most 0.1 %)", "on its stow point in 80.10 % (at least
 * 95 %)". */
void cli_judged_add(const slew_judgment *judgment, slew_demand demand, char *text, size_t size);

/* Adds every demand that has this answer, separated by "; ". Returns how many. */
int cli_judged_add_all(const slew_judgment *judgment, slew_meets meets, char *text, size_t size);

/* What caution.h is to warn of with a setting whose barrel can strike something, or whose
 * controller can fault: "enters a keep-out zone in 8.40 %, faults in 0.02 % of the simulated days",
 * even within its limit. Empty if nothing of that kind was seen. */
void cli_judged_dangers(const slew_judgment *judgment, char text[CLI_JUDGED_MAX]);

/* The same of what the words of a headline (cli_judged_words) do not name. */
void cli_judged_dangers_left(const slew_judgment *judgment, char text[CLI_JUDGED_MAX]);

/* The same without shares, for a picture: "enters a keep-out zone, faults". */
void cli_judged_dangers_short(const slew_judgment *judgment, char text[CLI_JUDGED_MAX]);

#endif
