/* reason.h - why a scenario can't be taught or run, as people say it. */
#ifndef SLEW_CLI_SINGLE_REASON_H
#define SLEW_CLI_SINGLE_REASON_H

#include <stddef.h>

#include "slewtime/status.h"

/* "stow point, elevation: beyond the hard stop", without its path; "" without a reason. */
void cli_reason_words(const slew_error *reason, char *text, size_t size);

#endif
