/* figures.c - see figures.h. */
#include "figures.h"

#include <stdio.h>

#include "tell/units.h"

/* ---- stow ---- */

static double stored_time(const cli_single *single, int axis)
{
    return cli_single_stows(single) ? single->result.stored[axis] : NAN;
}

static double stow_angle(const cli_single *single, int axis)
{
    return cli_single_stows(single) ? cli_degrees(single->result.stow.angle[axis]) : NAN;
}

static double from_point(const cli_single *single, int axis)
{
    const slew_stow *stow = &single->scenario.stow;
    if (!stow->has_point)
        return NAN;
    return stow_angle(single, axis) - cli_degrees(stow->point[axis]);
}

static double from_stop(const cli_single *single, int axis)
{
    const slew_range *stops = &single->prepared.stow_setup.axis[axis].stops;
    double angle = stow_angle(single, axis);
    return fmin(angle - cli_degrees(stops->low), cli_degrees(stops->high) - angle);
}

static double stow_duration(const cli_single *single, int axis)
{
    (void)axis;
    return cli_single_stows(single) ? single->result.stow.duration : NAN;
}

/* ---- deploy ---- */

static double deploy_angle(const cli_single *single, int axis)
{
    const slew_part *deploy = &single->result.deploy;
    bool reached = deploy->says != SLEW_NOT_RUN || !deploy->holds;
    return cli_single_deploys(single) && reached ? cli_degrees(deploy->angle[axis]) : NAN;
}

/* below the target -, above it +, inside it 0 */
static double from_target(const cli_single *single, int axis)
{
    const slew_range *target = &single->scenario.deploy.target[axis];
    double angle = deploy_angle(single, axis);
    double below = fmin(angle - cli_degrees(target->low), 0);
    double above = fmax(angle - cli_degrees(target->high), 0);
    return isnan(angle) ? NAN : below + above + 0.0; /* + 0.0: no minus zero */
}

static double deploy_duration(const cli_single *single, int axis)
{
    (void)axis;
    return cli_single_deploys(single) ? single->result.deploy.duration : NAN;
}

/* ---- supply and keep-out ---- */

static double lowest(const cli_single *single, int axis)
{
    (void)axis;
    return single->result.lowest_voltage;
}

static double lowest_loaded(const cli_single *single, int axis)
{
    (void)axis;
    double voltage = single->result.lowest_loaded_voltage;
    return isfinite(voltage) ? voltage : NAN;
}

static double voltage_floor(const cli_single *single, int axis)
{
    (void)axis;
    return cli_single_floor(single);
}

static double peak(const cli_single *single, int axis)
{
    (void)axis;
    return single->result.peak_current;
}

static double charge(const cli_single *single, int axis)
{
    (void)axis;
    return single->result.charge;
}

static double keepouts(const cli_single *single, int axis)
{
    (void)axis;
    return single->result.visit_count;
}

/* ---- words ---- */

static const char *yes_no(bool yes)
{
    return yes ? "yes" : "no";
}

static const char *fault_of(const slew_part *part)
{
    return part->fault != SLEW_FAULT_NONE ? slew_fault_word(part->fault) : NULL;
}

static const char *axis_of(const slew_part *part)
{
    bool has_axis = part->fault != SLEW_FAULT_NONE && part->axis != SLEW_NO_AXIS;
    return has_axis ? slew_axis_word(part->axis) : NULL;
}

static const char *holds(const slew_part *part)
{
    return part->says != SLEW_NOT_RUN || !part->holds ? yes_no(part->holds) : NULL;
}

static const char *on_target(const slew_part *part)
{
    bool says = part->says != SLEW_NOT_RUN && part->fault == SLEW_FAULT_NONE && part->has_target;
    return says ? yes_no(part->on_target) : NULL;
}

#define WORD_OF(part, is_there, what, word)                                                        \
    static const char *part##_##what(const cli_single *single)                                     \
    {                                                                                              \
        return is_there(single) ? word : NULL;                                                     \
    }

#define WORDS_OF(part, is_there)                                                                   \
    WORD_OF(part, is_there, says, slew_verdict_word(single->result.part.says))                     \
    WORD_OF(part, is_there, fault, fault_of(&single->result.part))                                 \
    WORD_OF(part, is_there, axis, axis_of(&single->result.part))                                   \
    WORD_OF(part, is_there, holds, holds(&single->result.part))                                    \
    WORD_OF(part, is_there, on_target, on_target(&single->result.part))

WORDS_OF(stow, cli_single_stows)
WORDS_OF(deploy, cli_single_deploys)

static const char *below_floor(const cli_single *single)
{
    return yes_no(single->result.below_floor);
}

/* ---- the table ---- */

enum { R = SLEW_ROTATION, E = SLEW_ELEVATION, NO = SLEW_NO_AXIS };

/* clang-format off */
static const cli_figure table[] = {
    {CLI_OF_STOW, "stored time rotation", "s", "stored_rotation_s", R, 2, true, stored_time, NULL},
    {CLI_OF_STOW, "stored time elevation", "s", "stored_elevation_s", E, 2, true, stored_time, NULL},
    {CLI_OF_STOW, "controller says", "", "stow_says", NO, 0, false, NULL, stow_says},
    {CLI_OF_STOW, "fault", "", "stow_fault", NO, 0, false, NULL, stow_fault},
    {CLI_OF_STOW, "axis of the fault", "", "stow_axis", NO, 0, false, NULL, stow_axis},
    {CLI_OF_STOW, "holds", "", "stow_holds", NO, 0, false, NULL, stow_holds},
    {CLI_OF_STOW, "rotation rests at", "deg", "stow_rotation_deg", R, 2, false, stow_angle, NULL},
    {CLI_OF_STOW, "  from the point", "deg", "stow_rotation_from_point_deg", R, 2, true, from_point, NULL},
    {CLI_OF_STOW, "  from the nearer stop", "deg", "stow_rotation_from_stop_deg", R, 2, false, from_stop, NULL},
    {CLI_OF_STOW, "elevation rests at", "deg", "stow_elevation_deg", E, 2, false, stow_angle, NULL},
    {CLI_OF_STOW, "  from the point", "deg", "stow_elevation_from_point_deg", E, 2, true, from_point, NULL},
    {CLI_OF_STOW, "  from the nearer stop", "deg", "stow_elevation_from_stop_deg", E, 2, false, from_stop, NULL},
    {CLI_OF_STOW, "on target", "", "stow_on_target", NO, 0, false, NULL, stow_on_target},
    {CLI_OF_STOW, "duration", "s", "stow_duration_s", NO, 2, false, stow_duration, NULL},
    {CLI_OF_DEPLOY, "controller says", "", "deploy_says", NO, 0, false, NULL, deploy_says},
    {CLI_OF_DEPLOY, "fault", "", "deploy_fault", NO, 0, false, NULL, deploy_fault},
    {CLI_OF_DEPLOY, "axis of the fault", "", "deploy_axis", NO, 0, false, NULL, deploy_axis},
    {CLI_OF_DEPLOY, "holds", "", "deploy_holds", NO, 0, false, NULL, deploy_holds},
    {CLI_OF_DEPLOY, "rotation rests at", "deg", "deploy_rotation_deg", R, 2, false, deploy_angle, NULL},
    {CLI_OF_DEPLOY, "  from the target", "deg", "deploy_rotation_from_target_deg", R, 2, true, from_target, NULL},
    {CLI_OF_DEPLOY, "elevation rests at", "deg", "deploy_elevation_deg", E, 2, false, deploy_angle, NULL},
    {CLI_OF_DEPLOY, "  from the target", "deg", "deploy_elevation_from_target_deg", E, 2, true, from_target, NULL},
    {CLI_OF_DEPLOY, "on target", "", "deploy_on_target", NO, 0, false, NULL, deploy_on_target},
    {CLI_OF_DEPLOY, "duration", "s", "deploy_duration_s", NO, 2, false, deploy_duration, NULL},
    {CLI_OF_SUPPLY, "lowest voltage", "V", "lowest_voltage_V", NO, 2, false, lowest, NULL},
    {CLI_OF_SUPPLY, "lowest under load", "V", "lowest_loaded_voltage_V", NO, 2, false, lowest_loaded, NULL},
    {CLI_OF_SUPPLY, "floor", "V", "floor_V", NO, 2, false, voltage_floor, NULL},
    {CLI_OF_SUPPLY, "below the floor", "", "below_floor", NO, 0, false, NULL, below_floor},
    {CLI_OF_SUPPLY, "peak current", "A", "peak_current_A", NO, 1, false, peak, NULL},
    {CLI_OF_SUPPLY, "charge", "A s", "charge_As", NO, 1, false, charge, NULL},
    {CLI_OF_SUPPLY, "keep-outs entered", "", "keepouts_entered", NO, 0, false, keepouts, NULL},
};
/* clang-format on */

enum { FIGURES = sizeof table / sizeof *table };

const cli_figure *cli_figure_at(int index)
{
    return index >= 0 && index < FIGURES ? &table[index] : NULL;
}

/* no minus zero among the numbers */
static double unsigned_zero(double value, int decimals)
{
    return fabs(value) < 0.5 * pow(10, -decimals) ? 0 : value;
}

void cli_figure_text(const cli_figure *figure, const cli_single *single,
                     char text[CLI_FIGURE_TEXT_MAX])
{
    double value = figure->number != NULL ? figure->number(single, figure->axis) : NAN;
    const char *word = figure->word != NULL ? figure->word(single) : NULL;
    if (isnan(value))
        snprintf(text, CLI_FIGURE_TEXT_MAX, "%s", word != NULL ? word : "-");
    else
        snprintf(text, CLI_FIGURE_TEXT_MAX, figure->is_signed ? "%+.*f" : "%.*f", figure->decimals,
                 unsigned_zero(value, figure->decimals));
}
