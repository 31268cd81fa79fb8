/* observables.c - the one table of what can be seen, timed and measured at the truck. */
#include "scenario/observables.h"

#include <stdio.h>
#include <string.h>

#include "keys/quantity.h"
#include "keys/text.h"

#define PI      3.14159265358979323846
#define DEGREES (PI / 180)

#define NUMBER(by_, path_, quantity_, unit_, sd_, width_, example_, meaning_)                      \
    {                                                                                              \
        .key = {.path = path_,                                                                     \
                .kind = SLEW_KEY_NUMBER,                                                           \
                .quantity = quantity_,                                                             \
                .unit = unit_,                                                                     \
                .low = -INFINITY,                                                                  \
                .high = INFINITY,                                                                  \
                .example = example_,                                                               \
                .meaning = meaning_},                                                              \
        .by = by_, .sd = sd_, .width = width_                                                      \
    }

#define CHOICE(by_, path_, words_, example_, meaning_)                                             \
    {                                                                                              \
        .key = {.path = path_,                                                                     \
                .kind = SLEW_KEY_CHOICE,                                                           \
                .words = words_,                                                                   \
                .low = -INFINITY,                                                                  \
                .high = INFINITY,                                                                  \
                .example = example_,                                                               \
                .meaning = meaning_},                                                              \
        .by = by_                                                                                  \
    }

#define SECONDS(by, path, meaning) NUMBER(by, path, "time", "s", 0.3, 60, "12.9 s", meaning)
#define ANGLE(by, path, meaning)                                                                   \
    NUMBER(by, path, "angle", "deg", 0.5 * DEGREES, 180 * DEGREES, "-17.4 deg", meaning)
#define VOLTAGE(by, path, sd, meaning) NUMBER(by, path, "voltage", "V", sd, 15, "12.6 V", meaning)
#define CURRENT(by, path, sd, meaning) NUMBER(by, path, "current", "A", sd, 40, "2.4 A", meaning)

#define FAULT_WORDS                                                                                \
    "none | home_not_found | hard_stop | overload | timeout | undervoltage | cancelled"
#define AXIS_WORDS   "none | rotation | elevation"
#define SWITCH_WORDS "open | closed"

/* what both axes have */
#define MOVED(name, words)                                                                         \
    CHOICE(SLEW_BY_EYE, "moved." name, words, "no", "which way it moved first while stowing")
#define MOVED_SECONDS(name)                                                                        \
    SECONDS(SLEW_BY_EYE, "moved." name "_seconds", "how long that first movement took")
#define STOP_MET(name, words)                                                                      \
    CHOICE(SLEW_BY_EYE, "stop_met." name, words, "no", "hard stop it ran against while stowing")
#define WAY(name, order, words)                                                                    \
    CHOICE(SLEW_BY_CHECK, "check." name ".way", words, "no",                                       \
           "which way it moves, driven by hand to go " order)
#define SPEED(name)                                                                                \
    NUMBER(SLEW_BY_CHECK, "check." name ".speed", "speed of rotation", "deg/s", 0.2 * DEGREES,     \
           20 * DEGREES, "8.1 deg/s", "driven by hand, from home to the right or up")
#define RUNNING(name)                                                                              \
    CURRENT(SLEW_BY_CHECK, "check." name ".current", 0.2, "of its motor meanwhile")
#define TURNS(name)                                                                                \
    CHOICE(SLEW_BY_CHECK, "check." name ".motor_turns", "no | yes", "yes",                         \
           "its motor is heard or felt to turn meanwhile")
#define AT_HOME(name)                                                                              \
    CHOICE(SLEW_BY_CHECK, "check." name ".sensor_at_home", SWITCH_WORDS, "closed",                 \
           "home sensor's contact with the axis at its home mark")
#define AWAY(name)                                                                                 \
    CHOICE(SLEW_BY_CHECK, "check." name ".sensor_away", SWITCH_WORDS, "open",                      \
           "home sensor's contact with the axis well away from home")
#define MAGNET(name)                                                                               \
    CHOICE(SLEW_BY_CHECK, "check." name ".hand_magnet", SWITCH_WORDS, "closed",                    \
           "its contact with a magnet held to it by hand")
#define WINDOW(name)                                                                               \
    NUMBER(SLEW_BY_CHECK, "check." name ".window", "angle", "deg", 0.5 * DEGREES, 30 * DEGREES,    \
           "7 deg", "from where its contact closes to where it opens again")
#define SETTING(name, meaning)                                                                     \
    NUMBER(SLEW_BY_CHECK, "check.settings." name, "time", "s", 0.02, 60, "2.31 s", meaning)

#define BOTH(macro) macro("rotation"), macro("elevation")

static const slew_observable TABLE[] = {
    CHOICE(SLEW_BY_EYE, "stow.says", "stowed | fault | nothing", "fault",
           "what the controller says of the stow"),
    CHOICE(SLEW_BY_EYE, "stow.fault", FAULT_WORDS, "hard_stop", "which fault it says"),
    CHOICE(SLEW_BY_EYE, "stow.axis", AXIS_WORDS, "elevation", "axis that it blames"),
    SECONDS(SLEW_BY_EYE, "stow.seconds", "from its start to what it says"),
    ANGLE(SLEW_BY_EYE, "stow.rotation", "where it rests after the stow"),
    ANGLE(SLEW_BY_EYE, "stow.elevation", "where it rests after the stow"),
    MOVED("rotation", "no | left | right"),
    MOVED("elevation", "no | down | up"),
    BOTH(MOVED_SECONDS),
    STOP_MET("rotation", "no | left | right | both"),
    STOP_MET("elevation", "no | lower | upper | both"),
    CHOICE(SLEW_BY_EYE, "deploy.says", "deployed | fault | nothing", "deployed",
           "what the controller says of the deploy"),
    CHOICE(SLEW_BY_EYE, "deploy.fault", FAULT_WORDS, "none", "which fault it says"),
    CHOICE(SLEW_BY_EYE, "deploy.axis", AXIS_WORDS, "none", "axis that it blames"),
    SECONDS(SLEW_BY_EYE, "deploy.seconds", "from its start to what it says"),
    ANGLE(SLEW_BY_EYE, "deploy.rotation", "where it rests after the deploy"),
    ANGLE(SLEW_BY_EYE, "deploy.elevation", "where it rests after the deploy"),
    VOLTAGE(SLEW_BY_METER, "lowest_voltage", 0.1,
            "lowest at the controller while driven, without drive-on dips"),
    CURRENT(SLEW_BY_METER, "peak_current", 1, "highest of the motors together, drive-on included"),
    VOLTAGE(SLEW_BY_CHECK, "check.battery.idle", 0.05, "across the main battery, nothing driven"),
    VOLTAGE(SLEW_BY_CHECK, "check.battery.driven", 0.1,
            "across the main battery, elevation driven up by hand"),
    VOLTAGE(SLEW_BY_CHECK, "check.controller.idle", 0.05, "at the controller, nothing driven"),
    VOLTAGE(SLEW_BY_CHECK, "check.controller.driven", 0.1,
            "at the controller, elevation driven up by hand"),
    NUMBER(SLEW_BY_CHECK, "check.feed.resistance", "resistance", "mohm", 3e-3, 1, "52 mohm",
           "of the feed, out and back, by its voltage loss"),
    VOLTAGE(SLEW_BY_CHECK, "check.auxiliary.idle", 0.05, "across the auxiliary battery, by itself"),
    WAY("rotation", "right", "no | left | right"),
    WAY("elevation", "up", "no | down | up"),
    BOTH(SPEED),
    BOTH(RUNNING),
    BOTH(TURNS),
    BOTH(AT_HOME),
    BOTH(AWAY),
    BOTH(MAGNET),
    BOTH(WINDOW),
    CURRENT(SLEW_BY_CHECK, "check.settings.stall", 0.1, "stall current that is set"),
    VOLTAGE(SLEW_BY_CHECK, "check.settings.brownout", 0.05, "brownout voltage that is set"),
    SETTING("move_limit", "longest drive that is set"),
    SETTING("stored_rotation", "stored time, signed"),
    SETTING("stored_elevation", "stored time, signed"),
    SETTING("deploy_rotation", "deploy seconds that are set, signed"),
    SETTING("deploy_elevation", "deploy seconds that are set, signed"),
};

#define COUNT ((int)(sizeof TABLE / sizeof TABLE[0]))
_Static_assert(COUNT == SLEW_OBSERVABLES, "the table has a row for each of the enum");

const slew_observable *slew_observable_at(int index)
{
    return index >= 0 && index < COUNT ? &TABLE[index] : NULL;
}

slew_key_row slew_observable_row(int index)
{
    static const int numbers[] = {0, 1, 2, 3, 4, 5, 6};
    return (slew_key_row){.key = TABLE[index].key, .offset = SLEW_NO_FIELD, .values = numbers};
}

/* ---- finding ---- */

int slew_observable_find(const char *path)
{
    for (int i = 0; i < COUNT; i++)
        if (strcmp(TABLE[i].key.path, path) == 0)
            return i;
    return -1;
}

bool slew_observable_group(const char *path)
{
    size_t length = strlen(path);
    for (int i = 0; i < COUNT; i++)
        if (strncmp(TABLE[i].key.path, path, length) == 0 && TABLE[i].key.path[length] == '.')
            return true;
    return false;
}

bool slew_observable_nearest(const char *path, char text[SLEW_PATH_MAX])
{
    char words[COUNT * 40] = "known";
    size_t length = strlen(words);
    for (int i = 0; i < COUNT; i++)
        length +=
            (size_t)snprintf(words + length, sizeof words - length, " | %s", TABLE[i].key.path);
    return slew_word_nearest(words, path, text);
}

/* ---- values ---- */

int slew_observable_words(int index)
{
    const char *words = TABLE[index].key.words;
    size_t length;
    int count = 0;
    while (words != NULL && slew_word_next(&words, &length) != NULL)
        count++;
    return count;
}

double slew_observable_in_unit(int index, double value)
{
    return slew_unit_from_si(slew_unit_find(TABLE[index].key.unit), value) + 0.0;
}

static int format_word(int index, double value, char *text, size_t size)
{
    const char *words = TABLE[index].key.words, *word = "?";
    size_t length = 1;
    for (int i = 0; i <= (int)value; i++)
        word = slew_word_next(&words, &length);
    return snprintf(text, size, "%.*s", word ? (int)length : 1, word ? word : "?");
}

/* as many decimals as are good for half of the uncertainty */
static int decimals_of(int index)
{
    double half = slew_observable_in_unit(index, TABLE[index].sd) / 2;
    int decimals = 0;
    for (; decimals < 6 && half < 1; decimals++)
        half *= 10;
    return decimals;
}

int slew_observable_format(int index, double value, char *text, size_t size)
{
    const slew_key *key = &TABLE[index].key;
    if (isnan(value))
        return snprintf(text, size, "-");
    if (key->kind == SLEW_KEY_CHOICE)
        return format_word(index, value, text, size);
    int decimals = decimals_of(index);
    double scale = pow(10, decimals);
    double rounded = round(slew_observable_in_unit(index, value) * scale) / scale + 0.0;
    return snprintf(text, size, "%.*f %s", decimals, rounded, key->unit);
}
