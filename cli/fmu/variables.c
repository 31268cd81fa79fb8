/* variables.c - see variables.h. */
#include "variables.h"

#include <stdio.h>
#include <string.h>

#include "slewtime/machine.h"

/* ---- what a machine is told and shows ---- */

typedef struct own {
    unsigned reference; /* of the first axis */
    const char *name;   /* of an axis: behind its own */
    bool of_axis;
    bool machine, plant; /* which kind has it */
    fmu_type type;
    fmu_role role;
    const char *quantity, *unit;
    const char *meaning;
} own;

#define BOTH       .machine = true, .plant = true
#define MACHINE    .machine = true
#define PLANT      .plant = true
#define AXIS       .of_axis = true
#define ANGLE      .quantity = "angle", .unit = "deg"
#define SPEED      .quantity = "speed of rotation", .unit = "deg/s"
#define CURRENT    .quantity = "current", .unit = "A"
#define VOLTAGE    .quantity = "voltage", .unit = "V"
#define TIME       .quantity = "time", .unit = "s"
#define TORQUE     .quantity = "torque", .unit = "N.m"
#define INPUT      .role = FMU_INPUT
#define OUTPUT     .role = FMU_OUTPUT
#define CALCULATED .role = FMU_CALCULATED
#define REAL       .type = FMU_FLOAT64
#define WHOLE      .type = FMU_INT32
#define YES_NO     .type = FMU_BOOLEAN
#define CHOICE     .type = FMU_ENUMERATION

/* clang-format off */
static const own OWN[] = {
    {FMU_TIME, "time", REAL, BOTH, .role = FMU_INDEPENDENT, TIME, .meaning = "simulated time"},
    {FMU_STOW, "command.stow", YES_NO, MACHINE, INPUT,
        .meaning = "becomes true: lift, search for home, stored times"},
    {FMU_DEPLOY, "command.deploy", YES_NO, MACHINE, INPUT,
        .meaning = "becomes true: the deploy seconds, once all axes rest and the pause is over"},
    {FMU_CANCEL, "command.cancel", YES_NO, MACHINE, INPUT,
        .meaning = "becomes true: all drives off, fault cancelled"},
    {FMU_JOG, "jog", WHOLE, MACHINE, AXIS, INPUT,
        .meaning = "changes: the axis is driven in the commanded direction, 1 or -1, until 0"},
    {FMU_DRIVE_INPUT, "drive", WHOLE, PLANT, AXIS, INPUT,
        .meaning = "the drive: 1 or -1 in the commanded direction, 0 off"},
    {FMU_TORQUE, "outside_torque", REAL, BOTH, AXIS, INPUT, TORQUE,
        .meaning = "load torque from outside at the output, positive against motion in the + direction"},
    {FMU_STORED, "stored_time", REAL, MACHINE, AXIS, CALCULATED, TIME,
        .meaning = "the time that was taught, signed"},
    {FMU_ANGLE, "angle", REAL, BOTH, AXIS, OUTPUT, ANGLE, .meaning = "true angle"},
    {FMU_SPEED, "speed", REAL, BOTH, AXIS, OUTPUT, SPEED, .meaning = "true speed of the output"},
    {FMU_CURRENT, "current", REAL, BOTH, AXIS, OUTPUT, CURRENT, .meaning = "drawn by the drive"},
    {FMU_SENSOR, "sensor", YES_NO, BOTH, AXIS, OUTPUT, .meaning = "the home sensor is closed"},
    {FMU_MOVING, "moving", WHOLE, BOTH, AXIS, OUTPUT,
        .meaning = "true direction of motion, 1 or -1; 0 at rest"},
    {FMU_DRIVE, "drive", WHOLE, MACHINE, AXIS, OUTPUT,
        .meaning = "the drive: 1 or -1 in the commanded direction, 0 off"},
    {FMU_OVER_CURRENT, "over_current", YES_NO, PLANT, AXIS, OUTPUT,
        .meaning = "the drive draws the stall current or more"},
    {FMU_VOLTAGE, "voltage", REAL, BOTH, OUTPUT, VOLTAGE, .meaning = "at the controller"},
    {FMU_BELOW_FLOOR, "below_floor", YES_NO, BOTH, OUTPUT,
        .meaning = "the voltage is below supply.floor"},
    {FMU_BELOW_BROWNOUT, "below_brownout", YES_NO, BOTH, OUTPUT,
        .meaning = "the voltage is below controller.brownout.voltage"},
    {FMU_HOLDS, "holds", YES_NO, BOTH, OUTPUT,
        .meaning = "false: an axis would be moved by its load; all stand still"},
    {FMU_TASK, "report.task", CHOICE, MACHINE, OUTPUT, .meaning = "what the controller does"},
    {FMU_VERDICT, "report.verdict", CHOICE, MACHINE, OUTPUT,
        .meaning = "what the controller says of its last task"},
    {FMU_FAULT, "report.fault", CHOICE, MACHINE, OUTPUT,
        .meaning = "fault of the last task; the next command clears it"},
    {FMU_FAULT_AXIS, "report.fault_axis", CHOICE, MACHINE, OUTPUT, .meaning = "axis of the fault"},
    {FMU_READY, "report.ready", YES_NO, MACHINE, OUTPUT,
        .meaning = "all axes rest, and the pause after the last drive-off is over"},
    {FMU_KEEPOUT, "keepout_entered", YES_NO, MACHINE, OUTPUT,
        .meaning = "the barrel is inside a keep-out zone"},
    {FMU_EVENT, "event.kind", CHOICE, MACHINE, OUTPUT, .meaning = "the last event"},
    {FMU_EVENTS, "event.count", WHOLE, BOTH, OUTPUT, .meaning = "how many events there were"},
    {FMU_LOWEST_VOLTAGE, "lowest_voltage", REAL, MACHINE, OUTPUT, VOLTAGE,
        .meaning = "at the controller, since the start"},
    {FMU_PEAK_CURRENT, "peak_current", REAL, MACHINE, OUTPUT, CURRENT,
        .meaning = "of the sum of the drive currents, since the start"},
    {FMU_CHARGE, "charge", REAL, MACHINE, OUTPUT, .unit = "A.s", .meaning = "of the same"},
};
/* clang-format on */

static bool is_of_axis_range(const own *o)
{
    return o->type == FMU_INT32 && o->of_axis; /* a direction */
}

static void add_own(fmu_variables *list, const own *o, int axis)
{
    fmu_variable *v = &list->item[list->count++];
    bool direction = is_of_axis_range(o), counts = o->type == FMU_INT32 && !direction;
    *v = (fmu_variable){.reference = o->reference + (unsigned)axis,
                        .type = o->type,
                        .role = o->role,
                        .key = FMU_NO_KEY,
                        .quantity = o->quantity,
                        .unit = o->unit,
                        .low = direction ? -1
                               : counts  ? 0
                                         : -INFINITY,
                        .high = direction ? 1 : INFINITY,
                        .meaning = o->meaning};
    if (o->of_axis)
        snprintf(v->name, sizeof v->name, "%s.%s", slew_axis_word(axis), o->name);
    else
        snprintf(v->name, sizeof v->name, "%s", o->name);
}

static void add_all_own(fmu_variables *list, fmu_kind kind, bool deploys)
{
    for (size_t i = 0; i < sizeof OWN / sizeof *OWN; i++) {
        const own *o = &OWN[i];
        if (!(kind == FMU_MACHINE ? o->machine : o->plant))
            continue;
        if (o->reference == FMU_DEPLOY && !deploys)
            continue;
        for (int axis = 0; axis < (o->of_axis ? SLEW_AXES : 1); axis++)
            add_own(list, o, axis);
    }
}

/* ---- keys ---- */

static fmu_type type_of(const slew_key *key)
{
    return key->kind == SLEW_KEY_YES_NO   ? FMU_BOOLEAN
           : key->kind == SLEW_KEY_CHOICE ? FMU_ENUMERATION
                                          : FMU_FLOAT64;
}

/* false: an FMU of that kind has no such variable */
static bool role_of(slew_key_use use, fmu_kind kind, bool taught, fmu_role *role)
{
    bool of_plant = use == SLEW_USE_PLANT || use == SLEW_USE_CONDITION || use == SLEW_USE_START;
    *role = use == SLEW_USE_CONDITION                           ? FMU_INPUT
            : use == SLEW_USE_START || use == SLEW_USE_TEACHING ? FMU_FIXED
                                                                : FMU_TUNABLE;
    if (taught)
        *role = FMU_FIXED;
    return use != SLEW_USE_NONE && (kind == FMU_MACHINE || (of_plant && !taught));
}

static void add_key(fmu_variables *list, fmu_kind kind, int index, slew_layer_id layer,
                    double value)
{
    const slew_key *key = slew_key_at(index);
    bool taught = layer == SLEW_LAYER_TEACH, number = key->kind == SLEW_KEY_NUMBER;
    fmu_role role;
    if (!isfinite(value) || !role_of(slew_key_used(index), kind, taught, &role))
        return;
    fmu_variable *v = &list->item[list->count++];
    *v = (fmu_variable){.reference = (taught ? FMU_TAUGHT : FMU_KEYS) + (unsigned)index,
                        .type = type_of(key),
                        .role = role,
                        .key = index,
                        .layer = layer,
                        .quantity = key->quantity,
                        .unit = number ? key->unit : NULL,
                        .low = number ? key->low : -INFINITY,
                        .high = number ? key->high : INFINITY,
                        .low_open = key->low_open,
                        .high_open = key->high_open,
                        .start = value,
                        .meaning = key->meaning};
    snprintf(v->name, sizeof v->name, "%s%s", taught ? "teach." : "", key->path);
}

static double taught_value(const slew_scenario *scenario, int key)
{
    const slew_layer *teach = slew_layer_at(scenario, SLEW_LAYER_TEACH);
    for (int i = 0; i < teach->count; i++)
        if (teach->item[i].key == key)
            return teach->item[i].value;
    return SLEW_NOT_GIVEN;
}

void fmu_variables_list(const slew_scenario *scenario, fmu_kind kind, fmu_variables *list)
{
    list->count = 0;
    add_all_own(list, kind, scenario->deploy.given);
    for (int key = 0; key < slew_key_count(); key++)
        add_key(list, kind, key, SLEW_LAYER_FILE, slew_scenario_get_number(scenario, key));
    for (int key = 0; key < slew_key_count(); key++)
        add_key(list, kind, key, SLEW_LAYER_TEACH, taught_value(scenario, key));
}

const fmu_variable *fmu_variable_find(const fmu_variables *list, unsigned reference)
{
    int low = 0, high = list->count;
    while (low < high) {
        int middle = (low + high) / 2;
        if (list->item[middle].reference < reference)
            low = middle + 1;
        else
            high = middle;
    }
    bool found = low < list->count && list->item[low].reference == reference;
    return found ? &list->item[low] : NULL;
}

/* ---- categories ---- */

const fmu_category fmu_categories[FMU_CATEGORIES] = {
    [FMU_SAYS_ERROR] = {"logStatusError", "what is wrong"},
    [FMU_SAYS_WARNING] = {"logStatusWarning", "what is not done"},
    [FMU_SAYS_EVENT] = {"logEvents", "each event with its time"},
};

/* ---- enumerations ---- */

static const char *own_word(unsigned reference, int value)
{
    static const char *const tasks[] = {"none", "stow", "deploy", "jog"};
    switch (reference) {
    case FMU_TASK:
        return value >= 0 && value <= SLEW_TASK_JOG ? tasks[value] : "?";
    case FMU_VERDICT:
        return slew_verdict_word((slew_verdict)value);
    case FMU_FAULT:
        return slew_fault_word((slew_fault)value);
    case FMU_FAULT_AXIS:
        return value == SLEW_NO_AXIS ? "none" : slew_axis_word(value);
    default: /* before the first event there is none */
        return value == -1 ? "none" : slew_event_word((slew_event_kind)value);
    }
}

static void word_of(const fmu_variable *v, int value, char *word, size_t size)
{
    if (v->key != FMU_NO_KEY)
        slew_key_format_number(v->key, value, word, size);
    else
        snprintf(word, size, "%s", own_word(v->reference, value));
    if (strcmp(word, "?") == 0)
        word[0] = '\0';
}

bool fmu_variable_item(const fmu_variable *v, int index, char *word, size_t size, int *value)
{
    enum { LEAST = -1, MOST = 32 }; /* values of all words */
    for (int i = LEAST; i <= MOST; i++) {
        word_of(v, i, word, size);
        if (word[0] != '\0' && index-- == 0) {
            *value = i;
            return true;
        }
    }
    return false;
}
