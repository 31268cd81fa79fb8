/* key_words.h - what people call a key of a scenario. */
#ifndef SLEW_CLI_TELL_KEY_WORDS_H
#define SLEW_CLI_TELL_KEY_WORDS_H

enum { CLI_KEY_WORDS_MAX = 80 };

/* "battery voltage", "elevation gear efficiency", by the key's place in the table: never its path.
 */
void cli_key_words(int key, char words[CLI_KEY_WORDS_MAX]);

#endif
