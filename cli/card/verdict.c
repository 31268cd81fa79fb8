/* verdict.c - a check card that was filled in, in words. */
#include "answer.h"

#include <inttypes.h>
#include <math.h>
#include <string.h>

#include "tell/append.h"
#include "tell/units.h"

enum { ROOM = 900 };

static const slew_timing *row_of(const cli_card *a, const slew_card_judged *r)
{
    return &a->timings.row[r->row];
}

void cli_verdict_what(const cli_card *a, const slew_card_judged *r, char text[CLI_CARD_WHAT_MAX])
{
    const slew_card_step step = {.kind = SLEW_CARD_TRAVEL, .row = *row_of(a, r)};
    cli_card_what(&step, text);
    if (r->measure == SLEW_MEASURE_ANGLE)
        snprintf(text, CLI_CARD_WHAT_MAX, "rest after the %s",
                 step.row.to.kind == SLEW_PLACE_DEPLOYED ? "deploy" : "stow");
}

/* ---- the answer ---- */

/* "0.42 below its band" */
static void add_outside(const slew_card_judged *r, char text[ROOM])
{
    char by[16];
    cli_card_number(by, sizeof by, r->read, fabs(r->outside));
    cli_append(text, ROOM, "%s %s its band", by, r->outside > 0 ? "above" : "below");
}

static void add_worst(const cli_card *a, char text[ROOM])
{
    char what[CLI_CARD_WHAT_MAX], shown[16];
    const slew_card_judged *r = &a->verdict.reading[a->verdict.worst];
    cli_verdict_what(a, r, what);
    cli_card_number(shown, sizeof shown, r->read, r->shown);
    cli_append(text, ROOM, "Farthest off: %s (line %d), %s: %s, ", what, row_of(a, r)->line,
               cli_card_label(r->read), shown);
    if (r->off > 1)
        add_outside(r, text);
    else
        cli_append(text, ROOM, "inside its band");
    cli_append(text, ROOM, ".");
}

static void add_chance(const slew_card_verdict *v, char text[ROOM])
{
    cli_append(text, ROOM,
               "Chance that a healthy truck shows a page at least as far off: %s%.2g %% (%" PRId64
               " of %" PRId64
               "; far off is the worst reading, from the middle of its band in parts "
               "of the way to its end). From %g %% on a page passes, so 95 %% of healthy trucks "
               "pass; %.0f %% have every reading inside.",
               v->as_far == 0 ? "below " : "", cli_percent(v->chance), v->as_far, v->pages,
               100 * SLEW_CARD_LEAST, cli_percent(v->all_inside));
    if (!v->varies)
        cli_append(text, ROOM,
                   " All that varies is known or the scenario has no spread: the bands "
                   "are the instruments' alone, and a healthy truck on another day may "
                   "fail.");
}

void cli_verdict_answer(const cli_card *a, cli_card_notes *notes)
{
    const slew_card_verdict *v = &a->verdict;
    char text[ROOM] = "", worst[ROOM] = "", chance[ROOM] = "";
    cli_append(text, ROOM, "This truck %s its page: ", v->passes ? "passes" : "does not pass");
    if (v->outside == 0)
        cli_append(text, ROOM, "every reading of %d is inside its band.", v->readings);
    else
        cli_append(text, ROOM, "of %d readings %d %s outside %s.", v->readings, v->outside,
                   v->outside == 1 ? "is" : "are", v->outside == 1 ? "its band" : "their bands");
    cli_card_add_note(notes, text);
    add_worst(a, worst);
    cli_card_add_note(notes, worst);
    add_chance(v, chance);
    cli_card_add_note(notes, chance);
}

/* ---- what is missing ---- */

static bool is_same_step(const slew_card_blank *a, const slew_card_blank *b)
{
    return memcmp(a->step.start, b->step.start, sizeof a->step.start) == 0 &&
           a->step.row.axis == b->step.row.axis && a->step.row.direction == b->step.row.direction &&
           a->step.row.to.kind == b->step.row.to.kind;
}

void cli_verdict_blanks(const cli_card *a, cli_card_notes *notes)
{
    const slew_card_verdict *v = &a->verdict;
    char text[ROOM] = "Not filled in:", what[CLI_CARD_WHAT_MAX];
    for (int i = 0; i < v->blanks; i++) {
        bool goes_on = i > 0 && is_same_step(&v->blank[i - 1], &v->blank[i]);
        cli_card_what(&v->blank[i].step, what);
        if (!goes_on)
            cli_append(text, ROOM, "%s %s:", i > 0 ? ";" : "", what);
        cli_append(text, ROOM, "%s %.*s", goes_on ? " and" : "",
                   (int)strcspn(cli_card_label(v->blank[i].read), ","),
                   cli_card_label(v->blank[i].read));
    }
    if (v->blanks > 0) {
        cli_append(text, ROOM, ".");
        cli_card_add_note(notes, text);
    }
    cli_card_add_note(notes, "Of stow and deploy the table has where they rest: read the rest "
                             "against the printed page.");
}

/* ---- what next ---- */

void cli_verdict_seen(const cli_card *a, const slew_card_judged *r, char text[CLI_CARD_WHAT_MAX])
{
    const slew_timing *row = row_of(a, r);
    text[0] = '\0';
    if (r->measure == SLEW_MEASURE_ANGLE)
        snprintf(text, CLI_CARD_WHAT_MAX, "%s.%s: %.4g deg",
                 row->to.kind == SLEW_PLACE_DEPLOYED ? "deploy" : "stow", slew_axis_word(row->axis),
                 cli_degrees(r->shown));
    else if (r->read == SLEW_CARD_STORED)
        snprintf(text, CLI_CARD_WHAT_MAX, "check.settings.stored_%s: %.4g s",
                 slew_axis_word(row->axis), r->shown * row->direction);
    else if (r->read == SLEW_CARD_VOLTAGE && row->direction == 0)
        snprintf(text, CLI_CARD_WHAT_MAX, "check.controller.idle: %.4g V", r->shown);
    else if (r->read == SLEW_CARD_VOLTAGE && row->axis == SLEW_ELEVATION && row->direction > 0 &&
             row->to.kind != SLEW_PLACE_NONE)
        snprintf(text, CLI_CARD_WHAT_MAX, "check.controller.driven: %.4g V", r->shown);
    else if (r->read == SLEW_CARD_CURRENT && row->axis == SLEW_ROTATION && row->direction > 0 &&
             row->to.kind != SLEW_PLACE_NONE)
        snprintf(text, CLI_CARD_WHAT_MAX, "check.rotation.current: %.3g A", r->shown);
}

/* the file for --seen, a line for each reading outside that has a word there; each word once */
static int add_seen(const cli_card *a, cli_card_notes *notes)
{
    int words = 0;
    bool has_battery = false;
    char said[ROOM] = "";
    for (int i = 0; i < a->verdict.readings; i++) {
        char seen[CLI_CARD_WHAT_MAX], name[CLI_CARD_WHAT_MAX], line[CLI_CARD_WHAT_MAX + 8];
        const slew_card_judged *r = &a->verdict.reading[i];
        const slew_timing *row = row_of(a, r);
        cli_verdict_seen(a, r, seen);
        snprintf(name, sizeof name, "%.*s:", (int)strcspn(seen, ":"), seen);
        if (!(r->off > 1) || seen[0] == '\0' || strstr(said, name) != NULL)
            continue;
        cli_append(said, ROOM, "%s", name);
        snprintf(line, sizeof line, "  %s", seen);
        cli_card_add_note(notes, line);
        words++;
        if (r->read != SLEW_CARD_VOLTAGE || isnan(row->supply) || has_battery)
            continue;
        snprintf(line, sizeof line, "  check.battery.idle: %.4g V", row->supply);
        cli_card_add_note(notes, line);
        has_battery = true;
    }
    return words;
}

/* which axis is too slow, too fast or at the wrong current: its word asks for a jog of its own */
static void add_jogs(const cli_card *a, cli_card_notes *notes)
{
    bool jog[SLEW_AXES] = {false};
    char text[ROOM] = "";
    for (int i = 0; i < a->verdict.readings; i++) {
        const slew_card_judged *r = &a->verdict.reading[i];
        int axis = row_of(a, r)->axis;
        if (r->off > 1 && axis != SLEW_NO_AXIS &&
            (r->read == SLEW_CARD_SECONDS || r->read == SLEW_CARD_CURRENT))
            jog[axis] = true;
    }
    for (int axis = 0; axis < SLEW_AXES; axis++)
        if (jog[axis])
            cli_append(text, ROOM, "%scheck.%s.speed and check.%s.current, jogged %s from home",
                       text[0] != '\0' ? "; " : "Read also, for that file: ", slew_axis_word(axis),
                       slew_axis_word(axis), slew_direction_word(axis, 1));
    if (text[0] == '\0')
        return;
    cli_append(text, ROOM, ".");
    cli_card_add_note(notes, text);
}

void cli_verdict_next(const cli_card *a, cli_card_notes *notes)
{
    char text[ROOM] = "";
    if (a->verdict.passes) {
        cli_append(
            text, ROOM,
            "Next: %sfor this truck's own figures: slewtime fit %s %s --key KEY. If it still "
            "misses, say what was seen: slewtime causes %s --seen FILE.",
            a->verdict.outside > 0 ? "read what is outside once more; " : "", a->path, a->readings,
            a->path);
        cli_card_add_note(notes, text);
        return;
    }
    cli_append(text, ROOM,
               "Next: read the rows outside once more. If they stay, which fault it is: slewtime "
               "causes %s --seen FILE, with in that file:",
               a->path);
    cli_card_add_note(notes, text);
    if (add_seen(a, notes) == 0)
        cli_card_add_note(notes, "  what was seen of the stow, such as stow.seconds: 12.9 s");
    add_jogs(a, notes);
    text[0] = '\0';
    cli_append(text, ROOM,
               "If nothing is broken it is a truck of its own: slewtime fit %s %s --key KEY.",
               a->path, a->readings);
    cli_card_add_note(notes, text);
}
