/* observables.c - the one table of what can be seen, timed and measured at the truck. */
#include "scenario/observables.h"

#include <stdio.h>
#include <string.h>

#include "keys/quantity.h"
#include "keys/text.h"

#define PI      3.14159265358979323846
#define DEGREES (PI / 180)

#define NUMBER(by_, path_, name_, minutes_, quantity_, unit_, sd_, width_, example_, meaning_)     \
    {                                                                                              \
        .key = {.path = path_,                                                                     \
                .kind = SLEW_KEY_NUMBER,                                                           \
                .quantity = quantity_,                                                             \
                .unit = unit_,                                                                     \
                .low = -INFINITY,                                                                  \
                .high = INFINITY,                                                                  \
                .example = example_,                                                               \
                .meaning = meaning_},                                                              \
        .name = name_, .minutes = minutes_, .by = by_, .sd = sd_, .width = width_                  \
    }

#define CHOICE(by_, path_, name_, minutes_, words_, example_, meaning_)                            \
    {                                                                                              \
        .key = {.path = path_,                                                                     \
                .kind = SLEW_KEY_CHOICE,                                                           \
                .words = words_,                                                                   \
                .low = -INFINITY,                                                                  \
                .high = INFINITY,                                                                  \
                .example = example_,                                                               \
                .meaning = meaning_},                                                              \
        .name = name_, .minutes = minutes_, .by = by_                                              \
    }

#define SECONDS(path, name, meaning)                                                               \
    NUMBER(SLEW_BY_EYE, path, name, WATCH, "time", "s", 0.3, 60, "12.9 s", meaning)
#define ANGLE(path, name, meaning)                                                                 \
    NUMBER(SLEW_BY_EYE, path, name, WATCH, "angle", "deg", 0.5 * DEGREES, 180 * DEGREES,           \
           "-17.4 deg", meaning)
#define VOLTAGE(by, path, name, minutes, sd, meaning)                                              \
    NUMBER(by, path, name, minutes, "voltage", "V", sd, 15, "12.6 V", meaning)
#define CURRENT(by, path, name, minutes, sd, meaning)                                              \
    NUMBER(by, path, name, minutes, "current", "A", sd, 40, "2.4 A", meaning)

#define FAULT_WORDS                                                                                \
    "none | home_not_found | hard_stop | overload | timeout | undervoltage | cancelled"
#define AXIS_WORDS   "none | rotation | elevation"
#define SWITCH_WORDS "open | closed"

/*
 * Minutes are common practice: invented, plausible for one technician who is at the truck with the
 * tools at hand, with the time to disconnect and lock out power where the check asks for it.
 */
enum { WATCH = 3, JOG = 2, LISTEN = 3, TIMED_JOG = 4, READ_SETTING = 5, CLAMP_ON = 8 };
enum { CONTACT_AWAY = 8, CONTACT_AT_HOME = 10, MAGNET_BY_HAND = 12, WINDOW_BY_HAND = 15 };

/* what both axes have */
#define MOVED(name, title, words)                                                                  \
    CHOICE(SLEW_BY_EYE, "moved." name, title " moved first", WATCH, words, "no",                   \
           "which way it moved first while stowing")
#define MOVED_SECONDS(name)                                                                        \
    SECONDS("moved." name "_seconds", "First " name " movement took",                              \
            "how long that first movement took")
#define STOP_MET(name, title, words)                                                               \
    CHOICE(SLEW_BY_EYE, "stop_met." name, title " stop met", WATCH, words, "no",                   \
           "hard stop it ran against while stowing")
#define WAY(name, title, order, words)                                                             \
    CHOICE(SLEW_BY_CHECK, "check." name ".way", title, JOG, words, "no",                           \
           "which way it moves when jogged " order)
#define SPEED(name, title)                                                                         \
    NUMBER(SLEW_BY_CHECK, "check." name ".speed", title, TIMED_JOG, "speed of rotation", "deg/s",  \
           0.2 * DEGREES, 20 * DEGREES, "8.1 deg/s", "jogged from home to the right or up")
#define RUNNING(name, title)                                                                       \
    CURRENT(SLEW_BY_CHECK, "check." name ".current", title " motor current, jogged", CLAMP_ON,     \
            0.2, "of its motor meanwhile")
#define TURNS(name)                                                                                \
    CHOICE(SLEW_BY_CHECK, "check." name ".motor_turns", "Does the " name " motor turn?", LISTEN,   \
           "no | yes", "yes", "its motor is heard or felt to turn meanwhile")
#define AT_HOME(name, title)                                                                       \
    CHOICE(SLEW_BY_CHECK, "check." name ".sensor_at_home", title " sensor at its home mark",       \
           CONTACT_AT_HOME, SWITCH_WORDS, "closed",                                                \
           "home sensor's contact with the axis at its home mark")
#define AWAY(name, title)                                                                          \
    CHOICE(SLEW_BY_CHECK, "check." name ".sensor_away", title " sensor away from home",            \
           CONTACT_AWAY, SWITCH_WORDS, "open",                                                     \
           "home sensor's contact with the axis well away from home")
#define MAGNET(name, title)                                                                        \
    CHOICE(SLEW_BY_CHECK, "check." name ".hand_magnet", title " sensor with a hand-held magnet",   \
           MAGNET_BY_HAND, SWITCH_WORDS, "closed", "its contact with a magnet held to it by hand")
#define WINDOW(name)                                                                               \
    NUMBER(SLEW_BY_CHECK, "check." name ".window", "Width of the " name " home window",            \
           WINDOW_BY_HAND, "angle", "deg", 0.5 * DEGREES, 30 * DEGREES, "7 deg",                   \
           "from where its contact closes to where it opens again")
#define SETTING(path, name, meaning)                                                               \
    NUMBER(SLEW_BY_CHECK, "check.settings." path, name, READ_SETTING, "time", "s", 0.02, 60,       \
           "2.31 s", meaning)

#define BOTH(macro)   macro("rotation"), macro("elevation")
#define TITLED(macro) macro("rotation", "Rotation"), macro("elevation", "Elevation")

static const slew_observable TABLE[] = {
    CHOICE(SLEW_BY_EYE, "stow.says", "Controller reports after the stow", WATCH,
           "stowed | fault | nothing", "fault", "what the controller reports of the stow"),
    CHOICE(SLEW_BY_EYE, "stow.fault", "Stow fault", WATCH, FAULT_WORDS, "hard_stop",
           "which fault it reports"),
    CHOICE(SLEW_BY_EYE, "stow.axis", "Axis it blames", WATCH, AXIS_WORDS, "elevation",
           "axis that it blames"),
    SECONDS("stow.seconds", "Time of the stow", "from its start to what it reports"),
    ANGLE("stow.rotation", "Rotation rests at", "where it comes to rest after the stow"),
    ANGLE("stow.elevation", "Elevation rests at", "where it comes to rest after the stow"),
    MOVED("rotation", "Rotation", "no | left | right"),
    MOVED("elevation", "Elevation", "no | down | up"),
    BOTH(MOVED_SECONDS),
    STOP_MET("rotation", "Rotation", "no | left | right | both"),
    STOP_MET("elevation", "Elevation", "no | lower | upper | both"),
    CHOICE(SLEW_BY_EYE, "deploy.says", "Controller reports after the deploy", WATCH,
           "deployed | fault | nothing", "deployed", "what the controller reports of the deploy"),
    CHOICE(SLEW_BY_EYE, "deploy.fault", "Deploy fault", WATCH, FAULT_WORDS, "none",
           "which fault it reports"),
    CHOICE(SLEW_BY_EYE, "deploy.axis", "Axis blamed in the deploy", WATCH, AXIS_WORDS, "none",
           "axis that it blames"),
    SECONDS("deploy.seconds", "Time of the deploy", "from its start to what it reports"),
    ANGLE("deploy.rotation", "Rotation after the deploy",
          "where it comes to rest after the deploy"),
    ANGLE("deploy.elevation", "Elevation after the deploy",
          "where it comes to rest after the deploy"),
    VOLTAGE(SLEW_BY_METER, "lowest_voltage", "Lowest controller voltage while it stows and deploys",
            CLAMP_ON, 0.1, "lowest at the controller with a motor on, without motor-on dips"),
    CURRENT(SLEW_BY_METER, "peak_current", "Highest motor current", CLAMP_ON, 1,
            "highest of the motors together, motor-on peak included"),
    VOLTAGE(SLEW_BY_CHECK, "check.battery.idle", "Battery voltage at rest", 2, 0.05,
            "across the main battery, motors off"),
    VOLTAGE(SLEW_BY_CHECK, "check.battery.driven", "Battery voltage while elevation is jogged up",
            4, 0.1, "across the main battery, elevation jogged up"),
    VOLTAGE(SLEW_BY_CHECK, "check.controller.idle", "Controller voltage at rest", 5, 0.05,
            "at the controller, motors off"),
    VOLTAGE(SLEW_BY_CHECK, "check.controller.driven",
            "Controller voltage while elevation is jogged up", 6, 0.1,
            "at the controller, elevation jogged up"),
    NUMBER(SLEW_BY_CHECK, "check.feed.resistance", "Resistance of the feed, by its voltage drop",
           12, "resistance", "mohm", 3e-3, 1, "52 mohm",
           "of the feed cable, out and back, by its voltage drop"),
    VOLTAGE(SLEW_BY_CHECK, "check.auxiliary.idle", "Auxiliary battery voltage", 4, 0.05,
            "across the auxiliary battery, by itself"),
    WAY("rotation", "Jog right: which way does it turn?", "right", "no | left | right"),
    WAY("elevation", "Jog up: which way does it go?", "up", "no | down | up"),
    SPEED("rotation", "Rotation speed, jogged right"),
    SPEED("elevation", "Elevation speed, jogged up"),
    TITLED(RUNNING),
    BOTH(TURNS),
    TITLED(AT_HOME),
    TITLED(AWAY),
    TITLED(MAGNET),
    BOTH(WINDOW),
    CURRENT(SLEW_BY_CHECK, "check.settings.stall", "Stall current that is set", READ_SETTING, 0.1,
            "stall current that is set"),
    VOLTAGE(SLEW_BY_CHECK, "check.settings.brownout", "Brownout voltage that is set", READ_SETTING,
            0.05, "brownout voltage that is set"),
    SETTING("move_limit", "Longest motor-on time that is set", "longest motor-on time that is set"),
    SETTING("stored_rotation", "Stored time of rotation", "stored time, signed"),
    SETTING("stored_elevation", "Stored time of elevation", "stored time, signed"),
    SETTING("deploy_rotation", "Deploy seconds set for rotation", "deploy seconds set, signed"),
    SETTING("deploy_elevation", "Deploy seconds set for elevation", "deploy seconds set, signed"),
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
    if (path == NULL)
        return -1;
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
    if (slew_observable_at(index) == NULL)
        return 0;
    const char *words = TABLE[index].key.words;
    size_t length;
    int count = 0;
    while (words != NULL && slew_word_next(&words, &length) != NULL)
        count++;
    return count;
}

double slew_observable_in_unit(int index, double value)
{
    if (slew_observable_at(index) == NULL)
        return NAN;
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
    if (slew_observable_at(index) == NULL || (text == NULL && size > 0))
        return slew_print_nothing(text, size);
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
