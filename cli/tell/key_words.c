/* key_words.c - see key_words.h. */
#include "key_words.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "units.h"

/* where people do not say the parts of the path */
static const char *const plain[][2] = {
    {"supply.system", "system voltage"},
    {"supply.floor", "minimum voltage"},
    {"supply.main.voltage", "battery voltage"},
    {"supply.main.resistance", "battery resistance"},
    {"supply.shared_load", "other load"},
    {"supply.feed.gauge", "feed cable size"},
    {"supply.feed.area", "feed cable size"},
    {"supply.feed.per_length", "feed cable resistance"},
    {"supply.feed.length", "feed cable length"},
    {"supply.feed.stranding", "feed cable stranding"},
    {"supply.feed.joints", "number of connections"},
    {"supply.feed.joint_resistance", "resistance of each connection"},
    {"supply.auxiliary.fitted", "auxiliary battery"},
    {"supply.auxiliary.voltage", "auxiliary battery voltage"},
    {"supply.auxiliary.resistance", "auxiliary battery resistance"},
    {"environment.temperature", "outside temperature"},
    {"environment.tilt", "tilt of the truck"},
    {"environment.tilt_direction", "direction of the truck's tilt"},
    {"stow.point.elevation", "stow point, elevation"},
    {"stow.point.rotation", "stow point, rotation"},
    {"rotation.start", "rotation angle before the stow"},
    {"elevation.start", "elevation angle before the stow"},
    {"rotation.stops.low", "left hard stop"},
    {"rotation.stops.high", "right hard stop"},
    {"elevation.stops.low", "lower hard stop"},
    {"elevation.stops.high", "upper hard stop"},
    {"rotation.motor.no_load_speed", "rotation motor no-load speed"},
    {"elevation.motor.no_load_speed", "elevation motor no-load speed"},
    {"rotation.load.centre_of_mass", "rotation load center of mass"},
    {"elevation.load.centre_of_mass", "elevation load center of mass"},
    {"rotation.load.friction", "rotation friction"},
    {"elevation.load.friction", "elevation friction"},
};

void cli_key_words(int key, char words[CLI_KEY_WORDS_MAX])
{
    const char *path = slew_key_at(key)->path;
    for (size_t i = 0; i < sizeof plain / sizeof *plain; i++)
        if (strcmp(plain[i][0], path) == 0) {
            snprintf(words, CLI_KEY_WORDS_MAX, "%s", plain[i][1]);
            return;
        }
    snprintf(words, CLI_KEY_WORDS_MAX, "%s", path);
    for (char *c = words; *c != '\0'; c++)
        *c = *c == '.' || *c == '_' ? ' ' : *c;
}

void cli_key_words_on(int key, slew_layer_id layer, char words[CLI_KEY_WORDS_MAX])
{
    static const char *const when[] = {[SLEW_LAYER_FILE] = "",
                                       [SLEW_LAYER_TEACH] = " when taught",
                                       [SLEW_LAYER_TODAY] = " today",
                                       [SLEW_LAYER_DEPLOY_DAY] = " on the deploy day"};
    cli_key_words(key, words);
    size_t length = strlen(words);
    snprintf(words + length, CLI_KEY_WORDS_MAX - length, "%s", when[layer]);
}

void cli_key_shown(int key, slew_unit_system units, const char *written, char *text, size_t size)
{
    char *end;
    const char *unit = key >= 0 && slew_key_at(key)->unit != NULL ? slew_key_at(key)->unit : "";
    cli_measure measure = cli_measure_of(unit);
    double number = strtod(written, &end);
    if (measure < CLI_MEASURES && end != written)
        snprintf(text, size, "%.4g %s",
                 cli_measured(units, measure, cli_measure_si(measure, number)),
                 cli_measure_unit(units, measure));
    else if (strcmp(unit, "deg") == 0 && end != written)
        snprintf(text, size, "%.4g\u00B0", number);
    else
        snprintf(text, size, "%s", written);
}
