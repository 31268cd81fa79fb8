/* words.c - the words of `slewtime speed`: names, what troubles an axis, and what was found. */
#include <math.h>

#include "answer.h"
#include "tell/append.h"
#include "tell/units.h"

/* ---- names ---- */

const char *cli_speed_occasion(const cli_speed *a, int index)
{
    return a->question[index].occasion == SLEW_OCCASION_DEPLOY ? "deploy_day" : "today";
}

const char *cli_speed_when(const cli_speed *a, int index)
{
    return a->question[index].occasion == SLEW_OCCASION_DEPLOY ? "on deploy day" : "today";
}

void cli_speed_name(const slew_speed_curve *c, char *text, size_t size)
{
    snprintf(text, size, "%s %s", slew_axis_word(c->axis),
             slew_direction_word(c->axis, c->direction));
}

void cli_speed_level(const cli_speed *a, const slew_speed_level *level, char *text, size_t size)
{
    slew_unit_system units = a->scenario->units;
    if (level->pressure > 0)
        snprintf(text, size, "at %.3g %s",
                 cli_measured(units, CLI_MEASURE_PRESSURE, level->pressure),
                 cli_measure_unit(units, CLI_MEASURE_PRESSURE));
    else
        snprintf(text, size, "dry");
}

const char *cli_speed_trouble(const slew_speed_row *row)
{
    if (row->slowest.state == SLEW_SPEED_OFF)
        return "off";
    if (!row->travel.holds)
        return "slips";
    switch (row->travel.fault) {
    case SLEW_FAULT_NONE:
        return "";
    case SLEW_FAULT_UNDERVOLTAGE:
        return "brownout";
    case SLEW_FAULT_TIMEOUT:
        return "timeout";
    default:
        return "stall";
    }
}

/* ---- the finding ---- */

static bool needs_more(const slew_speed_needs *a, const slew_speed_needs *b)
{
    return a->arrives > b->arrives || (a->arrives == b->arrives && a->starts > b->starts);
}

/* of those asked about the curve that needs most; of equals the first */
static const slew_speed_curve *hardest(const cli_speed *a, const slew_speed *s)
{
    const slew_speed_curve *worst = NULL;
    for (int i = 0; i < s->curve_count; i++)
        if (cli_speed_is_asked(a, &s->curve[i]) &&
            (worst == NULL || needs_more(&s->curve[i].need, &worst->need)))
            worst = &s->curve[i];
    return worst;
}

static void add_own(const slew_speed_curve *c, char *text, size_t size)
{
    const char *trouble = cli_speed_trouble(&c->own);
    if (trouble[0] == '\0')
        cli_append(text, size, "in %.1f s", c->own.travel.time);
    else
        cli_append(text, size, "not (%s)", trouble);
}

void cli_speed_finding(const cli_speed *a, int index, char *text, size_t size)
{
    const slew_speed *s = &a->answer[index];
    const slew_speed_curve *c = hardest(a, s);
    double to = a->question[index].to;
    char name[40], level[40];
    cli_speed_name(c, name, sizeof name);
    cli_speed_level(a, &s->level[c->level], level, sizeof level);
    text[0] = '\0';
    if (c->need.arrives == 0) {
        if (a->axis == SLEW_NO_AXIS)
            cli_append(text, size, "Both axes get from stop to stop at any battery voltage");
        else
            cli_append(text, size, "The %s gets from stop to stop at any battery voltage",
                       slew_axis_word(a->axis));
        return;
    }
    cli_append(text, size, "Worst case %s %s: ", name, level);
    if (isinf(c->need.starts))
        cli_append(text, size, "no start at any battery voltage up to %.4g V", to);
    else if (isinf(c->need.arrives))
        cli_append(text, size, "not from stop to stop at any battery voltage up to %.4g V", to);
    else {
        cli_append(text, size,
                   "stop to stop takes a battery voltage of %.2f V; at this truck's "
                   "%.4g V it gets there ",
                   c->need.arrives, c->own.supply);
        add_own(c, text, size);
    }
}
