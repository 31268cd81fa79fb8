/* key_words.h - what people call a key of a scenario. */
#ifndef SLEW_CLI_TELL_KEY_WORDS_H
#define SLEW_CLI_TELL_KEY_WORDS_H

#include <stddef.h>

#include "slewtime/scenario.h"

enum { CLI_KEY_WORDS_MAX = 80 };

/* "battery voltage", "elevation gear efficiency", by the key's place in the table: never its path.
 */
void cli_key_words(int key, char words[CLI_KEY_WORDS_MAX]);

/* A value as a file writes it ("20 degC", "-16 deg") as people read it ("68 °F", "-16°"), in the
 * units that they ask for. */
void cli_key_shown(int key, slew_unit_system units, const char *written, char *text, size_t size);

/* "battery voltage today", "outside temperature on the deploy day". */
void cli_key_words_on(int key, slew_layer_id layer, char words[CLI_KEY_WORDS_MAX]);

#endif
