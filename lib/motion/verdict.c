/* verdict.c - what a result is worth: does every part end as the controller says, where it should.
 */
#include "slewtime/run.h"

int slew_pressed_axis(const slew_setup *setup, const slew_part *part)
{
    if (setup == NULL || part == NULL)
        return SLEW_NO_AXIS;
    bool done = part->says == SLEW_STOWED || part->says == SLEW_DEPLOYED;
    for (int j = SLEW_AXES - 1; j >= 0 && done; j--)
        if (slew_stop_under(setup, j, part->angle[j]) != 0)
            return j;
    return SLEW_NO_AXIS;
}

bool slew_part_ok(const slew_setup *setup, const slew_part *part)
{
    if (setup == NULL || part == NULL)
        return false;
    return (part->says == SLEW_STOWED || part->says == SLEW_DEPLOYED) && part->holds &&
           (part->on_target || !part->has_target) && slew_pressed_axis(setup, part) == SLEW_NO_AXIS;
}

bool slew_result_ok(const slew_scenario *scenario, slew_parts parts, const slew_result *result)
{
    if (scenario == NULL || result == NULL)
        return false;
    slew_setup stowed, deployed;
    bool stows = parts != SLEW_DEPLOY_ONLY;
    bool deploys = parts != SLEW_STOW_ONLY && scenario->deploy.given;
    slew_scenario_resolve(scenario, SLEW_OCCASION_STOW, &stowed);
    slew_scenario_resolve(scenario, SLEW_OCCASION_DEPLOY, &deployed);
    return (!stows || slew_part_ok(&stowed, &result->stow)) &&
           (!deploys || slew_part_ok(&deployed, &result->deploy)) && result->visit_count == 0 &&
           !result->below_floor;
}
