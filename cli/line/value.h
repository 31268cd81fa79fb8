/* value.h - quantities and ranges on the command line, read as the scenario file reads them. */
#ifndef SLEW_CLI_LINE_VALUE_H
#define SLEW_CLI_LINE_VALUE_H

#include "options.h"
#include "slewtime/map.h"

/* A varied key, "[LAYER.]PATH=FROM:TO[:STEPS]". Errors of all of these are told on stderr with the
 * option that they are about; returns an exit code. */
int cli_read_vary(const char *text, const slew_scenario *scenario, slew_vary *vary);

/* The value `text` of an option whose whole text is `given`, as a value of the key `path` [SI]. */
int cli_read_value(const char *option, const char *given, const char *path, const char *text,
                   double *value);

/* A quantity of its own that no key holds, but `path` is one of its kind and range [SI]; what was
 * expected is said in its own words. */
int cli_read_quantity(const char *option, const char *text, const char *path, const char *expected,
                      double *value);

enum { CLI_VALUES_MAX = 7 };

/* Every value of a repeatable option, as values above 0 of the key `path` [SI]. */
int cli_read_values(const char *option, const cli_texts *given, const char *path,
                    double values[CLI_VALUES_MAX]);

/* Says that a repeatable option is given more than `most` times. Returns an exit code. */
int cli_check_count(const char *option, const cli_texts *given, int most);

#endif
