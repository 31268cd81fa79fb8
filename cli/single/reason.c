/* reason.c - see reason.h. */
#include "reason.h"

#include "slewtime/scenario.h"
#include "tell/append.h"
#include "tell/key_words.h"

static void add_key(const char *path, char *text, size_t size)
{
    char words[CLI_KEY_WORDS_MAX];
    int key = slew_key_find(path);
    if (path[0] == '\0')
        return;
    if (key >= 0)
        cli_key_words(key, words);
    cli_append(text, size, "%s: ", key >= 0 ? words : path);
}

void cli_reason_words(const slew_error *reason, char *text, size_t size)
{
    text[0] = '\0';
    if (reason->message[0] == '\0')
        return;
    add_key(reason->key, text, size);
    cli_append(text, size, "%s", reason->message);
}
