/* outcome_sentence.c - see outcome_sentence.h. */
#include "outcome_sentence.h"

#include <stdio.h>
#include <string.h>

#include "slewtime/slewtime.h"
#include "tell/units.h"

/* ---- words ---- */

const char *cli_fault_word_in_words(const char *word)
{
    for (int fault = 0; fault < SLEW_FAULT_COUNT; fault++)
        if (strcmp(slew_fault_word((slew_fault)fault), word) == 0)
            return slew_fault_in_words((slew_fault)fault);
    return NULL;
}

const char *cli_stop_in_words(int axis, int direction)
{
    if (axis == SLEW_ELEVATION)
        return direction < 0 ? "lower stop" : "upper stop";
    return direction < 0 ? "left stop" : "right stop";
}

int cli_pressed_axis(const cli_single *single, const slew_part *part)
{
    bool is_stow = part == &single->result.stow;
    return slew_pressed_axis(
        is_stow ? &single->prepared.stow_setup : &single->prepared.deploy_setup, part);
}

/* ---- which axis tells most ---- */

static double miss_of_point(const cli_single *single, int axis)
{
    return fabs(single->result.stow.angle[axis] - single->scenario->stow.point[axis]);
}

static double miss_of_target(const cli_single *single, int axis)
{
    const slew_range *target = &single->scenario->deploy.target[axis];
    double angle = single->result.deploy.angle[axis];
    return fmax(fmax(target->low - angle, angle - target->high), 0);
}

/* elevation, unless rotation is visibly worse */
static int worse(double rotation, double elevation)
{
    return cli_degrees(rotation - elevation) > 0.1 ? SLEW_ROTATION : SLEW_ELEVATION;
}

double cli_tenths(double radians)
{
    return round(10 * cli_degrees(radians)) / 10 + 0.0;
}

/* ---- sentences ---- */

#define SAY(...) snprintf(text, CLI_SENTENCE_MAX, __VA_ARGS__)

static void say_stopped(const char *what, const slew_part *part, char *text)
{
    if (part->says == SLEW_NOT_RUN && part->holds)
        SAY("%s not attempted.", what);
    else if (part->says == SLEW_NOT_RUN)
        SAY("%s: an axis does not hold against its load.", what);
    else if (part->axis == SLEW_NO_AXIS)
        SAY("%s FAULT: %s.", what, slew_fault_in_words(part->fault));
    else
        SAY("%s FAULT: %s, %s; at %.1f°.", what, slew_axis_word(part->axis),
            slew_fault_in_words(part->fault), cli_tenths(part->angle[part->axis]));
}

/* false: no axis is */
static bool say_jammed(const cli_single *single, const slew_part *part, char *text)
{
    bool is_stow = part == &single->result.stow;
    int axis = cli_pressed_axis(single, part);
    if (axis == SLEW_NO_AXIS)
        return false;
    int stop =
        slew_stop_under(is_stow ? &single->prepared.stow_setup : &single->prepared.deploy_setup,
                        axis, part->angle[axis]);
    SAY("Reports %s, but %s is jammed against its %s (%.1f°).", slew_verdict_word(part->says),
        slew_axis_word(axis), cli_stop_in_words(axis, stop), cli_tenths(part->angle[axis]));
    return true;
}

static void say_stowed(const cli_single *single, char *text)
{
    const slew_part *stow = &single->result.stow;
    const slew_stow *asked = &single->scenario->stow;
    int axis = stow->has_target ? worse(miss_of_point(single, SLEW_ROTATION),
                                        miss_of_point(single, SLEW_ELEVATION))
                                : SLEW_ELEVATION;
    const char *name = slew_axis_word(axis);
    double angle = cli_tenths(stow->angle[axis]), point = cli_tenths(asked->point[axis]);
    if (!stow->has_target)
        SAY("Stowed: %s at %.1f°.", name, angle);
    else if (stow->on_target)
        SAY("Stowed: %s at %.1f°, within %.3g° of its stow point (%.1f°).", name, angle,
            cli_degrees(asked->tolerance), point);
    else
        SAY("Reports stowed, but %s at %.1f° is %.1f° off its stow point.", name, angle,
            cli_degrees(miss_of_point(single, axis)));
}

static void say_deployed(const cli_single *single, char *text)
{
    const slew_part *deploy = &single->result.deploy;
    int axis = worse(miss_of_target(single, SLEW_ROTATION), miss_of_target(single, SLEW_ELEVATION));
    const slew_range *target = &single->scenario->deploy.target[axis];
    double angle = deploy->angle[axis];
    if (deploy->on_target)
        SAY("Deployed: %s at %.1f°, inside its target of %.0f° to %.0f°.", slew_axis_word(axis),
            cli_tenths(angle), cli_tenths(target->low), cli_tenths(target->high));
    else
        SAY("Reports deployed, but %s at %.1f° is %.1f° %s its target.", slew_axis_word(axis),
            cli_tenths(angle), cli_degrees(miss_of_target(single, axis)),
            angle < target->low ? "below" : "above");
}

void cli_outcome_stow(const cli_single *single, char text[CLI_SENTENCE_MAX])
{
    const slew_part *stow = &single->result.stow;
    text[0] = '\0';
    if (!cli_single_stows(single))
        return;
    if (stow->says != SLEW_STOWED)
        say_stopped("Stow", stow, text);
    else if (!say_jammed(single, stow, text))
        say_stowed(single, text);
}

void cli_outcome_deploy(const cli_single *single, char text[CLI_SENTENCE_MAX])
{
    const slew_part *deploy = &single->result.deploy;
    text[0] = '\0';
    if (!cli_single_deploys(single))
        return;
    if (deploy->says != SLEW_DEPLOYED)
        say_stopped("Deploy", deploy, text);
    else if (!say_jammed(single, deploy, text))
        say_deployed(single, text);
}
