/* outcome_sentence.c - see outcome_sentence.h. */
#include "outcome_sentence.h"

#include <stdio.h>

#include "tell/units.h"

/* ---- words ---- */

const char *cli_fault_in_words(slew_fault fault)
{
    static const char *const words[SLEW_FAULT_COUNT] = {
        [SLEW_FAULT_HOME_NOT_FOUND] = "home not found",
        [SLEW_FAULT_HARD_STOP] = "stalled on the hard stop",
        [SLEW_FAULT_OVERLOAD] = "stalled away from the stops",
        [SLEW_FAULT_TIMEOUT] = "a drive lasted too long",
        [SLEW_FAULT_UNDERVOLTAGE] = "voltage too low",
        [SLEW_FAULT_CANCELLED] = "cancelled",
    };
    return words[fault] != NULL ? words[fault] : slew_fault_word(fault);
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

static int stopped(const char *what, const slew_part *part, const char *degree, char *text)
{
    if (part->says == SLEW_NOT_RUN)
        return snprintf(text, CLI_SENTENCE_MAX, "%s: %s", what,
                        part->holds ? "not reached" : "an axis does not hold against its load");
    if (part->axis == SLEW_NO_AXIS)
        return snprintf(text, CLI_SENTENCE_MAX, "%s: FAULT, %s", what,
                        cli_fault_in_words(part->fault));
    return snprintf(text, CLI_SENTENCE_MAX, "%s: FAULT, %s %s at %.1f%s", what,
                    slew_axis_word(part->axis), cli_fault_in_words(part->fault),
                    cli_tenths(part->angle[part->axis]), degree);
}

/* false: no axis is */
static bool pressed(const cli_single *single, const slew_part *part, const char *degree, char *text)
{
    bool is_stow = part == &single->result.stow;
    int axis = cli_pressed_axis(single, part);
    if (axis == SLEW_NO_AXIS)
        return false;
    int stop =
        slew_stop_under(is_stow ? &single->prepared.stow_setup : &single->prepared.deploy_setup,
                        axis, part->angle[axis]);
    snprintf(text, CLI_SENTENCE_MAX, "Says %s, but %s stands on its %s at %.1f%s",
             slew_verdict_word(part->says), slew_axis_word(axis), cli_stop_in_words(axis, stop),
             cli_tenths(part->angle[axis]), degree);
    return true;
}

static void stowed(const cli_single *single, const char *degree, char *text)
{
    const slew_part *stow = &single->result.stow;
    int axis = worse(miss_of_point(single, SLEW_ROTATION), miss_of_point(single, SLEW_ELEVATION));
    double angle = cli_tenths(stow->angle[axis]);
    if (!stow->has_target)
        snprintf(text, CLI_SENTENCE_MAX, "Stowed at %s %.1f%s", slew_axis_word(SLEW_ELEVATION),
                 cli_tenths(stow->angle[SLEW_ELEVATION]), degree);
    else
        snprintf(text, CLI_SENTENCE_MAX, "%s at %s %.1f%s (point %.1f%s): %s",
                 stow->on_target ? "Stowed" : "Says stowed", slew_axis_word(axis), angle, degree,
                 cli_tenths(single->scenario->stow.point[axis]), degree,
                 stow->on_target ? "on target" : "MISSED");
}

void cli_outcome_stow(const cli_single *single, const char *degree, char text[CLI_SENTENCE_MAX])
{
    const slew_part *stow = &single->result.stow;
    text[0] = '\0';
    if (!cli_single_stows(single))
        return;
    if (stow->says != SLEW_STOWED)
        stopped("Stow", stow, degree, text);
    else if (!pressed(single, stow, degree, text))
        stowed(single, degree, text);
}

void cli_outcome_deploy(const cli_single *single, const char *degree, char text[CLI_SENTENCE_MAX])
{
    const slew_part *deploy = &single->result.deploy;
    text[0] = '\0';
    if (!cli_single_deploys(single))
        return;
    if (deploy->says != SLEW_DEPLOYED) {
        stopped("Deploy", deploy, degree, text);
        return;
    }
    if (pressed(single, deploy, degree, text))
        return;
    int axis = worse(miss_of_target(single, SLEW_ROTATION), miss_of_target(single, SLEW_ELEVATION));
    const slew_range *target = &single->scenario->deploy.target[axis];
    snprintf(text, CLI_SENTENCE_MAX, "%s at %s %.1f%s (target %.0f to %.0f%s): %s",
             deploy->on_target ? "Deployed" : "Says deployed", slew_axis_word(axis),
             cli_tenths(deploy->angle[axis]), degree, cli_tenths(target->low),
             cli_tenths(target->high), degree, deploy->on_target ? "on target" : "MISSED");
}
