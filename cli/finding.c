/* finding.c - see finding.h. */
#include "finding.h"

#include <stdio.h>

#include "units.h"

/* ---- words ---- */

const char *cli_fault_in_words(slew_fault fault)
{
    switch (fault) {
    case SLEW_FAULT_HOME_NOT_FOUND:
        return "home not found";
    case SLEW_FAULT_HARD_STOP:
        return "stalled on the hard stop";
    case SLEW_FAULT_OVERLOAD:
        return "stalled away from the stops";
    case SLEW_FAULT_TIMEOUT:
        return "a drive lasted too long";
    case SLEW_FAULT_UNDERVOLTAGE:
        return "voltage too low";
    case SLEW_FAULT_CANCELLED:
        return "cancelled";
    default:
        return slew_fault_word(fault);
    }
}

const char *cli_stop_in_words(int axis, int direction)
{
    if (axis == SLEW_ELEVATION)
        return direction < 0 ? "lower stop" : "upper stop";
    return direction < 0 ? "left stop" : "right stop";
}

int cli_pressed_axis(const cli_story *story)
{
    const slew_part *stow = &story->result.stow;
    for (int axis = 0; axis < SLEW_AXES && stow->says == SLEW_STOWED; axis++)
        if (cli_stop_under(&story->prepared.stow_setup, axis, stow->angle[axis]) != 0)
            return axis;
    return SLEW_NO_AXIS;
}

/* ---- which axis tells most ---- */

static double miss_of_point(const cli_story *story, int axis)
{
    return fabs(story->result.stow.angle[axis] - story->scenario.stow.point[axis]);
}

static double miss_of_target(const cli_story *story, int axis)
{
    const slew_range *target = &story->scenario.deploy.target[axis];
    double angle = story->result.deploy.angle[axis];
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

static int stopped(const char *what, const slew_part *part, const char *degree, char *text)
{
    if (part->says == SLEW_NOT_RUN)
        return snprintf(text, CLI_FINDING_MAX, "%s: %s", what,
                        part->holds ? "not reached" : "an axis does not hold against its load");
    if (part->axis == SLEW_NO_AXIS)
        return snprintf(text, CLI_FINDING_MAX, "%s: FAULT, %s", what,
                        cli_fault_in_words(part->fault));
    return snprintf(text, CLI_FINDING_MAX, "%s: FAULT, %s %s at %.1f%s", what,
                    slew_axis_word(part->axis), cli_fault_in_words(part->fault),
                    cli_tenths(part->angle[part->axis]), degree);
}

static int pressed(const cli_story *story, int axis, const char *degree, char *text)
{
    const slew_part *stow = &story->result.stow;
    int stop = cli_stop_under(&story->prepared.stow_setup, axis, stow->angle[axis]);
    return snprintf(text, CLI_FINDING_MAX, "Says stowed, but %s stands on its %s at %.1f%s",
                    slew_axis_word(axis), cli_stop_in_words(axis, stop),
                    cli_tenths(stow->angle[axis]), degree);
}

static void stowed(const cli_story *story, const char *degree, char *text)
{
    const slew_part *stow = &story->result.stow;
    int axis = worse(miss_of_point(story, SLEW_ROTATION), miss_of_point(story, SLEW_ELEVATION));
    double angle = cli_tenths(stow->angle[axis]);
    if (!stow->has_target)
        snprintf(text, CLI_FINDING_MAX, "Stowed at %s %.1f%s", slew_axis_word(SLEW_ELEVATION),
                 cli_tenths(stow->angle[SLEW_ELEVATION]), degree);
    else
        snprintf(text, CLI_FINDING_MAX, "%s at %s %.1f%s (point %.1f%s): %s",
                 stow->on_target ? "Stowed" : "Says stowed", slew_axis_word(axis), angle, degree,
                 cli_tenths(story->scenario.stow.point[axis]), degree,
                 stow->on_target ? "on target" : "MISSED");
}

void cli_finding_stow(const cli_story *story, const char *degree, char text[CLI_FINDING_MAX])
{
    const slew_part *stow = &story->result.stow;
    text[0] = '\0';
    if (!cli_story_stows(story))
        return;
    if (stow->says != SLEW_STOWED)
        stopped("Stow", stow, degree, text);
    else if (cli_pressed_axis(story) != SLEW_NO_AXIS)
        pressed(story, cli_pressed_axis(story), degree, text);
    else
        stowed(story, degree, text);
}

void cli_finding_deploy(const cli_story *story, const char *degree, char text[CLI_FINDING_MAX])
{
    const slew_part *deploy = &story->result.deploy;
    text[0] = '\0';
    if (!cli_story_deploys(story))
        return;
    if (deploy->says != SLEW_DEPLOYED) {
        stopped("Deploy", deploy, degree, text);
        return;
    }
    int axis = worse(miss_of_target(story, SLEW_ROTATION), miss_of_target(story, SLEW_ELEVATION));
    const slew_range *target = &story->scenario.deploy.target[axis];
    snprintf(text, CLI_FINDING_MAX, "%s at %s %.1f%s (target %.0f to %.0f%s): %s",
             deploy->on_target ? "Deployed" : "Says deployed", slew_axis_word(axis),
             cli_tenths(deploy->angle[axis]), degree, cli_tenths(target->low),
             cli_tenths(target->high), degree, deploy->on_target ? "on target" : "MISSED");
}
