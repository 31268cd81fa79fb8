/* pack.c - a scenario as an FMU has it. */
#include "answer.h"
#include "frame/windows.h"

/* what an occasion's setup holds for a key */
static double value_on(const slew_setup *setup, int key, slew_scenario *scratch)
{
    scratch->setup = *setup;
    return slew_scenario_get_number(scratch, key);
}

/* what differs while teaching; and what an importer tells of today alone */
static void put_taught(const slew_setup *today, const slew_setup *taught, slew_scenario *packed)
{
    static slew_scenario scratch;
    for (int key = 0; key < slew_key_count(); key++) {
        if (!slew_key_at(key)->layered || slew_key_used(key) == SLEW_USE_NONE)
            continue;
        double then = value_on(taught, key, &scratch), now = value_on(today, key, &scratch);
        bool tells = slew_key_used(key) == SLEW_USE_CONDITION || then != now;
        if (tells && !isnan(then))
            slew_scenario_set_number(packed, SLEW_LAYER_TEACH, key, then);
    }
}

void cli_fmu_pack(const slew_scenario *scenario, slew_scenario *packed)
{
    static slew_setup today, taught;
    cli_without_magnets(scenario, packed);
    slew_scenario_resolve(packed, SLEW_OCCASION_STOW, &today);
    slew_scenario_resolve(packed, SLEW_OCCASION_TEACH, &taught);
    packed->setup = today;
    packed->teach.count = packed->today.count = packed->deploy_day.count = 0;
    packed->truck.count = packed->day.count = packed->correlation.count = 0;
    for (int axis = 0; axis < SLEW_AXES; axis++)
        for (int i = 0; i < SLEW_MOTOR_FIGURES; i++)
            packed->sheet[axis][i] = SLEW_NOT_GIVEN;
    put_taught(&today, &taught, packed);
}
