/* work.c - what whole days on each conductor come to, in words and figures; see answer.h. */
#include <inttypes.h>
#include <stdio.h>

#include "answer.h"
#include "slewtime/slewtime.h"
#include "tell/append.h"
#include "tell/judged.h"
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
static void name_both(const cli_feed *a, slew_feed_tier tier, char text[100])
{
    const slew_feed_found *found = a->work.found[tier];
    char size[40];
    text[0] = '\0';
    for (int k = 0; k < 2 && a->work.count > 0; k++)
        if (found[k].index >= 0) {
            name_size(a, found[k].index, size);
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
    return cli_percent((double)size->misses[SLEW_DEMAND_FLOOR] / (double)size->samples);
}

int cli_feed_named(const slew_feed_work *w, int k)
{
    for (int tier = SLEW_FEED_TIERS - 1; tier >= 0; tier--)
        if (w->found[tier][k].index >= 0)
            return w->found[tier][k].index;
    return -1;
}

/* where the axes end on the gauge that is named, if that is not where they should */
static void say_off_target(const cli_feed *a, slew_feed_tier tier, char text[CLI_FEED_TEXT_MAX])
{
    static const slew_demand where[] = {SLEW_DEMAND_KEEPOUT, SLEW_DEMAND_DEPLOY, SLEW_DEMAND_STOW};
    const slew_feed_found *named = &a->work.found[tier][0];
    char size[40] = "";
    int count = 0;
    if (named->index >= 0)
        name_size(a, named->index, size);
    for (int i = 0; i < 3 && named->index >= 0; i++)
        if (named->judged.of[where[i]].asked && named->judged.of[where[i]].meets != SLEW_MEETS) {
            if (count++ == 0)
                cli_append(text, CLI_FEED_TEXT_MAX,
                           " On %s, with the file's stow point and seconds, the truck ", size);
            else
                cli_append(text, CLI_FEED_TEXT_MAX, "; ");
            cli_judged_add(&named->judged, where[i], text, CLI_FEED_TEXT_MAX);
        }
    if (count > 0)
        cli_append(text, CLI_FEED_TEXT_MAX, ": slewtime plan chooses them.");
}

/* so many simulated days are too few to be sure of the size that is named */
static void say_not_told(const cli_feed *a, slew_feed_tier tier, char text[CLI_FEED_TEXT_MAX])
{
    for (int k = 0; k < 2; k++) {
        const slew_feed_found *found = &a->work.found[tier][k];
        if (found->index >= 0 && found->judged.meets == SLEW_NOT_TOLD) {
            cli_append(text, CLI_FEED_TEXT_MAX,
                       " %" PRId64 " simulated days are too few to be sure.",
                       found->judged.samples);
            return;
        }
    }
}

void cli_feed_say_work(const cli_feed *a, char text[CLI_FEED_TEXT_MAX])
{
    double floor = a->answer.setup.supply.floor;
    char runs[100], keeps[100], meets[100];
    name_both(a, SLEW_FEED_RUNS, runs);
    name_both(a, SLEW_FEED_KEEPS, keeps);
    name_both(a, SLEW_FEED_MEETS, meets);
    text[0] = '\0';
    if (a->lacking[0] != '\0') /* no sequence to run: what is known is of a steady point alone */
        cli_append(text, CLI_FEED_TEXT_MAX,
                   "A wiring check on paper, at one steady operating point: teaching, stow and "
                   "deploy are left out.");
    else if (runs[0] == '\0')
        cli_append(text, CLI_FEED_TEXT_MAX,
                   "No size up to 4/0 AWG or 120 mm2 makes this truck work without a fault: the "
                   "cable alone is not the cause.");
    else if (meets[0] != '\0') {
        cli_append(text, CLI_FEED_TEXT_MAX,
                   "%s is the thinnest that does the whole work, keeps %.4g V while running and "
                   "meets the other demands, too.",
                   meets, floor);
        say_not_told(a, SLEW_FEED_MEETS, text);
    } else if (keeps[0] != '\0') {
        cli_append(text, CLI_FEED_TEXT_MAX,
                   "%s is the thinnest that works without a fault and keeps %.4g V while running.",
                   keeps, floor);
        say_not_told(a, SLEW_FEED_KEEPS, text);
        say_off_target(a, SLEW_FEED_KEEPS, text);
    } else {
        cli_append(text, CLI_FEED_TEXT_MAX,
                   "%s is the thinnest on which this truck works without a fault. No size keeps "
                   "%.4g V often enough: 4/0 AWG misses it in %.3g %% of the simulated days; look "
                   "at the battery first.",
                   runs, floor, share_below(thickest(a)));
        say_not_told(a, SLEW_FEED_RUNS, text);
        say_off_target(a, SLEW_FEED_RUNS, text);
    }
}

void cli_feed_title(const cli_feed *a, char text[CLI_FEED_TEXT_MAX])
{
    double floor = a->answer.setup.supply.floor;
    char runs[100], keeps[100], meets[100];
    name_both(a, SLEW_FEED_RUNS, runs);
    name_both(a, SLEW_FEED_KEEPS, keeps);
    name_both(a, SLEW_FEED_MEETS, meets);
    if (a->lacking[0] != '\0')
        snprintf(text, CLI_FEED_TEXT_MAX, "Steady point only: no sequence in the file to run");
    else if (meets[0] != '\0')
        snprintf(text, CLI_FEED_TEXT_MAX, "Thinnest that meets all demands: %s", meets);
    else if (keeps[0] != '\0')
        snprintf(text, CLI_FEED_TEXT_MAX, "Thinnest that works and keeps %.4g V: %s", floor, keeps);
    else if (runs[0] != '\0')
        snprintf(text, CLI_FEED_TEXT_MAX, "Thinnest that works: %s; no size keeps %.4g V", runs,
                 floor);
    else
        snprintf(text, CLI_FEED_TEXT_MAX, "No size makes this truck work without a fault");
}

static bool is_fault(slew_feed_limit limit)
{
    return limit > SLEW_FEED_LIMITED_BY_NONE && limit < SLEW_FEED_LIMITED_BY_FLOOR;
}

/* "12 AWG: brownout in 44 of 512 simulated days." */
static void say_limit(const cli_feed *a, int index, char text[CLI_FEED_TEXT_MAX])
{
    static const char *const words[] = {"works",
                                        "the stow point can't be taught",
                                        "brownout",
                                        "another fault",
                                        "below the minimum voltage",
                                        "a keep-out zone is entered",
                                        "off its stow point or outside the deploy target"};
    const slew_feed_size *size = &a->work.size[index];
    char name[40];
    name_size(a, index, name);
    bool by_weakest = is_fault(size->weakest) && !is_fault(size->limit);
    slew_feed_limit limit = by_weakest ? size->weakest : size->limit;
    bool varies = a->scenario->truck.count > 0 || a->scenario->day.count > 0;
    bool not_sure =
        index == 0 ? a->work.own.meets == SLEW_NOT_TOLD : index < cli_feed_named(&a->work, 0);
    cli_append(text, CLI_FEED_TEXT_MAX, "%s%s: %s", text[0] != '\0' ? " " : "", name,
               limit == SLEW_FEED_LIMITED_BY_NONE && not_sure ? "not sure to meet every demand"
                                                              : words[limit]);
    if (by_weakest)
        cli_append(text, CLI_FEED_TEXT_MAX, " on the coldest, weakest day");
    else if (limit != SLEW_FEED_LIMITED_BY_NONE && varies)
        cli_append(text, CLI_FEED_TEXT_MAX, " in %" PRId64 " of %" PRId64 " simulated days",
                   size->hits[limit], size->samples);
    cli_append(text, CLI_FEED_TEXT_MAX, ".");
}

void cli_feed_say_thinner(const cli_feed *a, char text[CLI_FEED_TEXT_MAX])
{
    const slew_feed_work *w = &a->work;
    text[0] = '\0';
    if (a->lacking[0] != '\0')
        return;
    say_limit(a, 0, text);
    int found = cli_feed_named(w, 0), thinner = found - 1;
    if (thinner > 0 && w->size[thinner].ladder == w->size[found].ladder)
        say_limit(a, thinner, text);
    else if (found < 0)
        say_limit(a, (int)(thickest(a) - w->size), text);
}
