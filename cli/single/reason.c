/* reason.c - see reason.h. */
#include "reason.h"

#include <string.h>

#include "outcome_sentence.h"
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

/* the first fault that a message has as a word of JSON; NULL: none */
static const char *find_fault(const char *message, slew_fault *fault)
{
    for (int f = SLEW_FAULT_NONE + 1; f < SLEW_FAULT_COUNT; f++) {
        const char *at = strstr(message, slew_fault_word((slew_fault)f));
        *fault = (slew_fault)f;
        if (at != NULL)
            return at;
    }
    return NULL;
}

void cli_reason_words(const slew_error *reason, char *text, size_t size)
{
    slew_fault fault;
    const char *message = reason->message, *at = find_fault(message, &fault);
    text[0] = '\0';
    if (message[0] == '\0')
        return;
    add_key(reason->key, text, size);
    if (at == NULL)
        cli_append(text, size, "%s", message);
    else
        cli_append(text, size, "%.*s%s%s", (int)(at - message), message, cli_fault_in_words(fault),
                   at + strlen(slew_fault_word(fault)));
}
