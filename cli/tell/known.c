/* known.c - see known.h. */
#include "known.h"

#include <stdio.h>
#include <string.h>

#include "key_words.h"

/* today says it of the stow at least, deploy_day of the deploy */
int cli_known_of(const slew_scenario *s, cli_known known[CLI_KNOWN_MAX])
{
    int count = 0;
    slew_scenario later = *s; /* what deploy_day says alone */
    later.deploy.same_day = false;
    for (int i = 0; i < s->day.count; i++) {
        int key = s->day.item[i].key;
        if (slew_is_known(s, SLEW_OCCASION_STOW, key))
            known[count++] = (cli_known){SLEW_LAYER_TODAY, key};
        if (s->deploy.given && slew_is_known(&later, SLEW_OCCASION_DEPLOY, key))
            known[count++] = (cli_known){SLEW_LAYER_DEPLOY_DAY, key};
    }
    return count;
}

/* another size of the same conductor may be what is known: then without a value */
static void say_value(const slew_layer *layer, int key, char *text, size_t size)
{
    text[0] = '\0';
    for (int i = 0; i < layer->count; i++)
        if (layer->item[i].key == key)
            slew_key_format_number(key, layer->item[i].value, text, size);
}

void cli_known_words(const slew_scenario *s, char *text, size_t size)
{
    cli_known known[CLI_KNOWN_MAX];
    int count = cli_known_of(s, known);
    text[0] = '\0';
    for (int i = 0; i < count; i++) {
        char value[64], shown[64], words[CLI_KEY_WORDS_MAX];
        size_t length = strlen(text);
        say_value(slew_layer_at(s, known[i].layer), known[i].key, value, sizeof value);
        cli_key_shown(known[i].key, s->units, value, shown, sizeof shown);
        cli_key_words_on(known[i].key, known[i].layer, words);
        snprintf(text + length, size - length, "%s%s%s%s", i > 0 ? "; " : "", words,
                 shown[0] != '\0' ? " " : "", shown);
    }
}

void cli_tell_known(cli_teller *t, const slew_scenario *s)
{
    cli_known known[CLI_KNOWN_MAX];
    int count = cli_known_of(s, known);
    cli_tell_open_list(t, "known");
    for (int i = 0; i < count; i++) {
        char path[120];
        snprintf(path, sizeof path, "%s.%s", slew_layer_word(known[i].layer),
                 slew_key_at(known[i].key)->path);
        cli_tell_text(t, NULL, path);
    }
    cli_tell_close(t);
}
