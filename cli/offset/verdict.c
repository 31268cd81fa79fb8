/* verdict.c - what `slewtime offset` concludes: the best choice against the demands and against the
 * runner-up. */
#include <inttypes.h>
#include <string.h>

#include "answer.h"
#include "tell/append.h"
#include "tell/units.h"
#include "tell/utf8.h"

enum { ROOM = CLI_OFFSET_TEXT_MAX };

/* ---- the headline ---- */

/* some choice meets the demands, or may do so */
static bool some_may_do(const slew_offset *o)
{
    for (int i = 0; i < o->count; i++)
        if (o->choice[i].judged.meets != SLEW_MEETS_NOT)
            return true;
    return false;
}

void cli_offset_say_headline(const cli_offset *a, char text[ROOM])
{
    char words[CLI_JUDGED_MAX];
    const slew_judgment *j = &a->best->judged;
    bool none = !some_may_do(&a->offset) && j->meets == SLEW_MEETS_NOT;
    text[0] = '\0';
    cli_append(text, ROOM, "%s", none ? "No choice meets the demands; closest: " : "Best: ");
    cli_offset_add_seconds(text, a->best->seconds);
    if (none) {
        cli_append(text, ROOM, ", which ");
        cli_judged_add_all(j, SLEW_MEETS_NOT, text, ROOM);
    } else {
        cli_judged_words(j, words);
        cli_append(text, ROOM, ": %s", words);
    }
    cli_append(text, ROOM, ".");
}

void cli_offset_say_brief(const cli_offset *a, char text[ROOM])
{
    char words[CLI_JUDGED_MAX];
    const slew_judgment *j = &a->best->judged;
    bool none = !some_may_do(&a->offset) && j->meets == SLEW_MEETS_NOT;
    text[0] = '\0';
    cli_append(text, ROOM, "%s", none ? "No choice meets the demands; closest: " : "Best: ");
    cli_offset_add_seconds(text, a->best->seconds);
    cli_judged_brief(j, 2 * CLI_ANSWER_LETTERS - (none ? 0 : 16) - (int)strlen(text), words);
    const char *colon = none ? strstr(words, ": ") : NULL; /* that is said already */
    cli_append(text, ROOM, ", %s.", colon != NULL ? colon + 2 : words);
}

/* ---- what no seconds cure ---- */

/* Whether a stow ends on its point is not for the deploy to say. */
static bool is_missed_alike(const slew_offset *o, slew_demand demand)
{
    if (demand == SLEW_DEMAND_STOW)
        return true;
    for (int i = 1; i < o->count; i++)
        if (o->choice[i].judged.of[demand].misses != o->choice[0].judged.of[demand].misses)
            return false;
    return o->count > 1 && demand != SLEW_DEMAND_DEPLOY;
}

static const char *noun_of(slew_demand demand)
{
    static const char *const words[SLEW_DEMAND_COUNT] = {
        [SLEW_DEMAND_KEEPOUT] = "the keep-out zone",
        [SLEW_DEMAND_STOP] = "the hard stop",
        [SLEW_DEMAND_FAULT] = "the faults",
        [SLEW_DEMAND_DEPLOY] = "the deploy",
        [SLEW_DEMAND_STOW] = "the stow off its point",
        [SLEW_DEMAND_FLOOR] = "the low voltage"};
    return words[demand];
}

/* the headline has just named what is missed: here it is named again only to tell it from others */
void cli_offset_say_incurable(const cli_offset *a, char text[ROOM])
{
    char named[ROOM] = "";
    int alike = 0, missed = 0;
    text[0] = '\0';
    for (int d = 0; d < SLEW_DEMAND_COUNT; d++) {
        bool fails = a->best->judged.of[d].meets == SLEW_MEETS_NOT;
        missed += fails;
        if (fails && is_missed_alike(&a->offset, (slew_demand)d))
            cli_append(named, ROOM, "%s%s", alike++ > 0 ? " or " : "", noun_of((slew_demand)d));
    }
    if (alike > 0)
        cli_append(text, ROOM,
                   "No deploy seconds cure %s: all choices are alike in it. `slewtime plan` tries "
                   "what else could.",
                   alike == missed ? "that" : named);
}

/* ---- why the best is the best ---- */

static void add_inside(const cli_offset *a, const slew_offset_choice *other, char *text)
{
    const slew_share *lead = &a->offset.lead;
    bool apart = lead->low > 0 || lead->high < 0;
    if (lead->value == 0) {
        cli_append(text, ROOM, "is inside as often.");
        return;
    }
    cli_append(text, ROOM, "is inside in %.2f %%, which is %.2f points %s",
               cli_percent(other->inside.value), cli_percent(fabs(lead->value)),
               lead->value > 0 ? "less" : "more");
    if (!a->best->judged.certain)
        cli_append(text, ROOM,
                   " (95 %% interval %.2f to %.2f): %" PRId64 " simulated days %s the two apart",
                   cli_percent(lead->value > 0 ? lead->low : -lead->high),
                   cli_percent(lead->value > 0 ? lead->high : -lead->low),
                   a->offset.fresh > 0 ? a->offset.fresh : a->offset.samples,
                   apart ? "tell" : "can't tell");
    cli_append(text, ROOM, ".");
}

static void add_judged(const slew_offset_choice *other, char text[ROOM])
{
    char words[CLI_JUDGED_MAX];
    cli_append(text, ROOM, " It ");
    if (other->judged.meets == SLEW_MEETS_NOT)
        cli_judged_add_all(&other->judged, SLEW_MEETS_NOT, text, ROOM);
    else {
        cli_judged_words(&other->judged, words);
        cli_append(text, ROOM, "%s%s", other->judged.meets == SLEW_MEETS ? "" : "is ", words);
    }
    cli_append(text, ROOM, ".");
}

static void add_demand(const slew_offset_choice *other, slew_demand demand, char *text)
{
    cli_append(text, ROOM, " It ");
    cli_judged_add(&other->judged, demand, text, ROOM);
    cli_append(text, ROOM, ".");
}

/* what the choosing samples put before it */
static void add_merit(const cli_offset *a, const slew_offset_choice *other, char *text)
{
    const slew_offset *o = &a->offset;
    switch (slew_offset_decides(a->scenario, &o->choice[o->best], &o->choice[o->runner_up])) {
    case SLEW_MERIT_DEMANDS:
        add_judged(other, text);
        break;
    case SLEW_MERIT_KEEPOUT:
        add_demand(other, SLEW_DEMAND_KEEPOUT, text);
        break;
    case SLEW_MERIT_STOP:
        add_demand(other, SLEW_DEMAND_STOP, text);
        break;
    case SLEW_MERIT_FAULT:
        add_demand(other, SLEW_DEMAND_FAULT, text);
        break;
    case SLEW_MERIT_EXCESS:
        if (!(o->lead.value > 0))
            cli_append(text, ROOM, " It misses the demands by more.");
        break;
    case SLEW_MERIT_DISTANCE:
        cli_append(text, ROOM, " The medians of the best one are nearer to the target.");
        break;
    case SLEW_MERIT_ROOM:
        cli_append(text, ROOM, " It has less room within the target: %.2f° against %.2f°.",
                   cli_degrees(other->room), cli_degrees(a->best->room));
        break;
    case SLEW_MERIT_MEDIANS:
        cli_append(text, ROOM,
                   " The medians of the best one are nearer to the middle of the target.");
        break;
    default:
        cli_append(text, ROOM, " Nothing tells the two apart, the first is taken.");
    }
}

void cli_offset_say_why(const cli_offset *a, char text[ROOM])
{
    const slew_offset *o = &a->offset;
    const slew_offset_choice *other = &o->told[SLEW_TOLD_RUNNER_UP];
    text[0] = '\0';
    if (o->runner_up < 0) {
        cli_append(text, ROOM, "It is the only choice.");
        return;
    }
    cli_append(text, ROOM, "The runner-up, ");
    cli_offset_add_seconds(text, other->seconds);
    cli_append(text, ROOM, ", ");
    add_inside(a, other, text);
    add_merit(a, other, text);
}
