/* caution.h - the line of caution under an answer in which the barrel can strike something. */
#ifndef SLEW_CLI_TELL_CAUTION_H
#define SLEW_CLI_TELL_CAUTION_H

/* what to mind before it is tried on the truck */
#define CLI_CAUTION "Before a try on the truck: clear overhead, nobody near, ready to release."

/* Prints "Caution: SEEN. Before a try on the truck: ..." on stdout, at most 98 columns wide. */
void cli_caution(const char *seen);

#endif
