/* words.c - sizes and findings of `feed` in words; see answer.h. */
#include <string.h>

#include "answer.h"
#include "slewtime/slewtime.h"
#include "tell/units.h"

/* ---- sizes ---- */

/* a size as a scenario file has it; returns the key that holds it */
static const char *format_size(slew_conductor by, double value, char text[40])
{
    static const char *const keys[] = {[SLEW_CONDUCTOR_GAUGE] = "supply.feed.gauge",
                                       [SLEW_CONDUCTOR_AREA] = "supply.feed.area",
                                       [SLEW_CONDUCTOR_PER_LENGTH] = "supply.feed.per_length"};
    slew_key_format_number(slew_key_find(keys[by]), value, text, 40);
    return keys[by];
}

void cli_feed_size(slew_ladder ladder, int index, char text[40])
{
    slew_conductor by = ladder == SLEW_LADDER_AWG ? SLEW_CONDUCTOR_GAUGE : SLEW_CONDUCTOR_AREA;
    format_size(by, slew_ladder_size(ladder, index), text);
}

void cli_feed_own_size(const cli_feed *a, char text[40])
{
    const slew_feed *feed = &a->answer.setup.supply.feed;
    double size = feed->conductor == SLEW_CONDUCTOR_GAUGE  ? feed->gauge
                  : feed->conductor == SLEW_CONDUCTOR_AREA ? feed->area
                                                           : feed->per_length;
    format_size(feed->conductor, size, text);
}

const char *cli_feed_ladder(slew_ladder ladder)
{
    static const char *const words[] = {"AWG", "class 2", "class 5"};
    return words[ladder];
}

void cli_feed_setting(const cli_feed *a, slew_ladder ladder, int index, char text[100])
{
    double size = slew_ladder_size(ladder, index);
    double resistance =
        slew_ladder_resistance(ladder, index, a->answer.setup.supply.feed.stranding);
    char value[40];
    const char *key = ladder == SLEW_LADDER_AWG
                          ? format_size(SLEW_CONDUCTOR_GAUGE, size, value)
                          : format_size(SLEW_CONDUCTOR_PER_LENGTH, resistance, value);
    snprintf(text, 100, "%.50s=%s", key, value);
}

bool cli_feed_thinnest(const cli_feed *a, const slew_feed_need *need, char text[100])
{
    int used = 0;
    text[0] = '\0';
    for (int i = 0; i < CLI_FEED_LADDERS; i++) {
        int thinnest = need->thinnest[a->ladder[i]];
        char size[40];
        if (thinnest < 0)
            continue;
        cli_feed_size(a->ladder[i], thinnest, size);
        used += snprintf(text + used, 100 - (size_t)used, "%s%s", used > 0 ? " or " : "", size);
    }
    return used > 0;
}

slew_feed_need cli_feed_worst_floor(const slew_feed_answer *answer)
{
    slew_feed_need worst = answer->climate[0].floor;
    for (int w = 1; w < SLEW_FEED_WEATHERS; w++) {
        const slew_feed_need *need = &answer->climate[w].floor;
        for (int i = 0; i < SLEW_LADDERS; i++)
            if (worst.thinnest[i] >= 0 &&
                (need->thinnest[i] < 0 || need->thinnest[i] > worst.thinnest[i]))
                worst.thinnest[i] = need->thinnest[i];
    }
    return worst;
}

/* ---- drives ---- */

const char *cli_feed_drives(int drives)
{
    return drives == SLEW_FEED_BOTH ? "both axes" : slew_axis_word(drives);
}

int cli_feed_lowest_drives(const slew_feed_figures *f, bool together)
{
    int lowest = SLEW_ROTATION;
    for (int drives = 1; drives <= (together ? SLEW_FEED_BOTH : SLEW_ELEVATION); drives++)
        if (f->running[drives].voltage <= f->running[lowest].voltage)
            lowest = drives;
    return lowest;
}

/* of the drives that count, the first axis that does not start or go on; SLEW_NO_AXIS: none */
static int blocked_axis(const slew_feed_figures *f, bool together)
{
    for (int drives = 0; drives <= (together ? SLEW_FEED_BOTH : SLEW_ELEVATION); drives++)
        if (f->blocked[drives] != SLEW_NO_AXIS)
            return f->blocked[drives];
    return SLEW_NO_AXIS;
}

/* ---- the finding ---- */

/* why no feed whatever would do */
static void say_hopeless(const slew_feed_answer *a, char *text, size_t size)
{
    const slew_supply *supply = &a->setup.supply;
    const slew_feed_trial *ideal = &a->ideal;
    int axis = ideal->status == SLEW_OK ? blocked_axis(&ideal->figures, a->together) : SLEW_NO_AXIS;
    if (axis != SLEW_NO_AXIS)
        snprintf(
            text, size,
            "The %s motor can't move its load on any conductor: even the battery's full voltage "
            "is not enough at the worst place.",
            slew_axis_word(axis));
    else if (supply->floor > supply->main.voltage)
        snprintf(text, size,
                 "No conductor can keep %.4g V: the battery itself has %.4g V without any load.",
                 supply->floor, supply->main.voltage);
    else
        snprintf(text, size,
                 "No conductor can keep %.4g V: the battery's own resistance leaves %.2f V even "
                 "without any cable.",
                 supply->floor, slew_feed_lowest_running(&ideal->figures, a->together));
}

static void say_trouble(const cli_feed *c, char *text, size_t size)
{
    const slew_feed_answer *a = &c->answer;
    const slew_feed_figures *f = &a->climate[0].own.figures;
    int axis = blocked_axis(f, a->together), lowest = cli_feed_lowest_drives(f, a->together);
    char own[40];
    cli_feed_own_size(c, own);
    if (axis != SLEW_NO_AXIS)
        snprintf(text, size, "On %s the %s motor %s.", own, slew_axis_word(axis),
                 f->moves[axis] ? "does not start from rest" : "stalls");
    else
        snprintf(text, size,
                 "%s misses the minimum voltage: %.2f V while running (%s), wanted %.4g V.", own,
                 f->running[lowest].voltage, cli_feed_drives(lowest), a->setup.supply.floor);
}

static void say_cure(const cli_feed *c, char *text, size_t size)
{
    const slew_feed_answer *a = &c->answer;
    const slew_feed_need *need = &a->climate[0].floor;
    char thinnest[100], length[CLI_MEASURE_MAX];
    cli_measure_words(c->scenario->units, CLI_MEASURE_LENGTH, 1, a->setup.supply.feed.length,
                      length);
    if (need->length < 0)
        snprintf(text, size,
                 "No conductor can: the connections alone have %.3g mohm, the whole feed may have "
                 "%.3g mohm.",
                 1000 * a->climate[0].own.figures.joints, 1000 * need->resistance);
    else if (cli_feed_thinnest(c, need, thinnest))
        snprintf(text, size, "At %s, steady, it takes %s.", length, thinnest);
    else
        snprintf(
            text, size,
            "No single conductor up to 4/0 AWG or 120 mm2 keeps it: a shorter feed, several in "
            "parallel or a battery at the monitor would have to help.");
}

static void say_good(const cli_feed *c, char *text, size_t size)
{
    const slew_feed_answer *a = &c->answer;
    const slew_feed_figures *f = &a->climate[0].own.figures;
    const slew_feed_need *need = &a->climate[0].floor;
    int lowest = cli_feed_lowest_drives(f, a->together);
    char own[40], thinnest[100], length[80] = "", longest[CLI_MEASURE_MAX], here[CLI_MEASURE_MAX];
    slew_unit_system units = c->scenario->units;
    cli_feed_own_size(c, own);
    cli_measure_words(units, CLI_MEASURE_LENGTH, 1, a->setup.supply.feed.length, here);
    cli_measure_words(units, CLI_MEASURE_LENGTH, 0, need->length, longest);
    if (isfinite(need->length))
        snprintf(length, sizeof length, ", and would up to %s", longest);
    int used = snprintf(text, size, "%s keeps %.4g V (%.2f V, %s)%s.", own, a->setup.supply.floor,
                        f->running[lowest].voltage, cli_feed_drives(lowest), length);
    if (isinf(need->resistance))
        snprintf(text + used, size - (size_t)used, " Any would, as long as the battery lasts.");
    else if (cli_feed_thinnest(c, need, thinnest))
        snprintf(text + used, size - (size_t)used, " At %s, steady, it takes %s.", here, thinnest);
}

void cli_feed_finding(const cli_feed *c, char text[CLI_FEED_TEXT_MAX])
{
    const slew_feed_answer *a = &c->answer;
    if (a->climate[0].own.keeps)
        say_good(c, text, CLI_FEED_TEXT_MAX);
    else if (a->climate[0].floor.resistance < 0)
        say_hopeless(a, text, CLI_FEED_TEXT_MAX);
    else {
        say_trouble(c, text, CLI_FEED_TEXT_MAX);
        size_t used = strlen(text);
        text[used++] = ' ';
        say_cure(c, text + used, CLI_FEED_TEXT_MAX - used);
    }
}

const char *cli_feed_finding_lines(const cli_feed *a, char text[CLI_FEED_TEXT_MAX])
{
    cli_feed_finding(a, text);
    char *end = strstr(text, ". ");
    if (end == NULL)
        end = strstr(text, ": ");
    if (end == NULL)
        return "";
    end[1] = '\0';
    return end + 2;
}
