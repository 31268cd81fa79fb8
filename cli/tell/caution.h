/* caution.h - the line of caution under an answer in which the barrel can strike something. */
#ifndef SLEW_CLI_TELL_CAUTION_H
#define SLEW_CLI_TELL_CAUTION_H

#include "teller.h"

/* what to mind before it is tried on the truck */
#define CLI_CAUTION "Before a try on the truck: clear overhead, nobody near, ready to release."

enum { CLI_CAUTION_MAX = 900 };

/* "Caution: SEEN. Before a try on the truck: ..."; empty where `seen` is. */
void cli_caution_of(const char *seen, char text[CLI_CAUTION_MAX]);

/* Prints it on stdout, at most 80 columns wide; nothing where `seen` is empty. */
void cli_caution(const char *seen);

/* The same in one line, where `seen` has just been told. */
void cli_caution_after(const char *seen);

/* The member `caution` of a document; null where `seen` is empty. */
void cli_tell_caution(cli_teller *teller, const char *seen);

/* The same for the foot of a picture: "Caution: SEEN. Clear overhead, nobody near." */
void cli_caution_foot(const char *seen, char text[CLI_CAUTION_MAX]);

#endif
