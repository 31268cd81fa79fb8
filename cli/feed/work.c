/* work.c - what whole days on each conductor come to, in words and figures; see answer.h. */
#include <inttypes.h>
#include <stdio.h>

#include "answer.h"
#include "slewtime/slewtime.h"
#include "tell/append.h"
#include "tell/units.h"

const char cli_feed_not_checked[] = "Ampacity and fuse NOT checked: code and manufacturer decide.";

static void name_size(const cli_feed *a, int index, char text[40])
{
    const slew_feed_size *size = &a->work.size[index];
    if (size->index == SLEW_FEED_OWN)
        cli_feed_own_size(a, text);
    else
        cli_feed_size(size->ladder, size->index, text);
}

/* "10 AWG or 6 mm2"; empty: none, or nothing was run */
static void name_both(const cli_feed *a, const int index[2], char text[100])
{
    char size[40];
    text[0] = '\0';
    for (int k = 0; k < 2 && a->work.count > 0; k++)
        if (index[k] >= 0) {
            name_size(a, index[k], size);
            cli_append(text, 100, "%s%s", text[0] != '\0' ? " or " : "", size);
        }
}

/* the thickest gauge */
static const slew_feed_size *thickest(const cli_feed *a)
{
    int last = 0;
    for (int i = 1; i < a->work.count; i++)
        if (a->work.size[i].ladder == SLEW_LADDER_AWG)
            last = i;
    return &a->work.size[last];
}

static double share_below(const slew_feed_size *size)
{
    return cli_percent((double)size->hits[SLEW_FEED_LIMITED_BY_FLOOR] / (double)size->samples);
}

void cli_feed_say_work(const cli_feed *a, char text[CLI_FEED_TEXT_MAX])
{
    const slew_feed_work *w = &a->work;
    double floor = a->answer.setup.supply.floor;
    char runs[100], keeps[100];
    name_both(a, w->runs, runs);
    name_both(a, w->keeps, keeps);
    text[0] = '\0';
    if (a->lacking[0] != '\0') /* no sequence to run: what is known is of a steady point alone */
        cli_append(text, CLI_FEED_TEXT_MAX,
                   "A wiring check on paper, at one steady operating point: teaching, stow and "
                   "deploy are left out.");
    else if (runs[0] == '\0')
        cli_append(text, CLI_FEED_TEXT_MAX,
                   "No size up to 4/0 AWG or 120 mm2 makes this truck work without a fault: the "
                   "cable alone is not the cause.");
    else if (keeps[0] != '\0')
        cli_append(text, CLI_FEED_TEXT_MAX,
                   "%s is the thinnest that does the whole work and keeps %.4g V while running.",
                   keeps, floor);
    else
        cli_append(text, CLI_FEED_TEXT_MAX,
                   "%s is the thinnest on which this truck works without a fault. No size keeps "
                   "%.4g V often enough: 4/0 AWG misses it in %.3g %% of the simulated days; look "
                   "at the battery first.",
                   runs, floor, share_below(thickest(a)));
}

void cli_feed_title(const cli_feed *a, char text[CLI_FEED_TEXT_MAX])
{
    const slew_feed_work *w = &a->work;
    double floor = a->answer.setup.supply.floor;
    char runs[100], keeps[100];
    name_both(a, w->runs, runs);
    name_both(a, w->keeps, keeps);
    if (a->lacking[0] != '\0')
        snprintf(text, CLI_FEED_TEXT_MAX, "Steady point only: no sequence in the file to run");
    else if (keeps[0] != '\0')
        snprintf(text, CLI_FEED_TEXT_MAX, "Thinnest that works and keeps %.4g V: %s", floor, keeps);
    else if (runs[0] != '\0')
        snprintf(text, CLI_FEED_TEXT_MAX, "Thinnest that works: %s; no size keeps %.4g V", runs,
                 floor);
    else
        snprintf(text, CLI_FEED_TEXT_MAX, "No size makes this truck work without a fault");
}

/* "12 AWG: brownout in 44 of 512 simulated days" */
static void say_limit(const cli_feed *a, int index, char text[CLI_FEED_TEXT_MAX])
{
    static const char *const words[] = {"works", "the stow point can't be taught", "brownout",
                                        "another fault", "below the minimum voltage"};
    const slew_feed_size *size = &a->work.size[index];
    char name[40];
    name_size(a, index, name);
    slew_feed_limit limit = size->limit == SLEW_FEED_LIMITED_BY_NONE ? size->weakest : size->limit;
    cli_append(text, CLI_FEED_TEXT_MAX, "%s%s: %s", text[0] != '\0' ? " " : "", name, words[limit]);
    if (size->limit != SLEW_FEED_LIMITED_BY_NONE && size->samples > 1)
        cli_append(text, CLI_FEED_TEXT_MAX, " in %" PRId64 " of %" PRId64 " simulated days",
                   size->hits[limit], size->samples);
    else if (limit != SLEW_FEED_LIMITED_BY_NONE)
        cli_append(text, CLI_FEED_TEXT_MAX, " on the coldest, weakest day");
    cli_append(text, CLI_FEED_TEXT_MAX, ".");
}

void cli_feed_say_thinner(const cli_feed *a, char text[CLI_FEED_TEXT_MAX])
{
    const slew_feed_work *w = &a->work;
    text[0] = '\0';
    if (a->lacking[0] != '\0')
        return;
    say_limit(a, 0, text);
    int found = w->keeps[0] >= 0 ? w->keeps[0] : w->runs[0], thinner = found - 1;
    if (thinner > 0 && w->size[thinner].ladder == w->size[found].ladder)
        say_limit(a, thinner, text);
}
