/* motors.c - motors given by a data sheet: what follows, what lacks, what is assumed or disagrees.
 */
#include <stdio.h>

#include "keys/fields.h"
#include "keys/text.h"
#include "keys/values.h"
#include "scenario/reader.h"

/* of a figure, within its axis */
static const char *const NAMES[SLEW_MOTOR_FIGURES] = {
    [SLEW_MOTOR_NO_LOAD_SPEED] = "motor.no_load_speed",
    [SLEW_MOTOR_NO_LOAD_CURRENT] = "motor.no_load_current",
    [SLEW_MOTOR_STALL_CURRENT] = "motor.stall_current",
    [SLEW_MOTOR_EFFICIENCY] = "gear.efficiency",
    [SLEW_MOTOR_RESISTANCE] = "motor.armature_resistance",
    [SLEW_MOTOR_STALL_TORQUE] = "motor.stall_torque",
    [SLEW_MOTOR_RATED_SPEED] = "motor.rated.speed",
    [SLEW_MOTOR_RATED_TORQUE] = "motor.rated.torque",
    [SLEW_MOTOR_RATED_CURRENT] = "motor.rated.current",
    [SLEW_MOTOR_OUTPUT_NO_LOAD_SPEED] = "gearmotor.no_load_speed",
    [SLEW_MOTOR_OUTPUT_STALL_TORQUE] = "gearmotor.stall_torque",
    [SLEW_MOTOR_OUTPUT_RATED_SPEED] = "gearmotor.rated.speed",
    [SLEW_MOTOR_OUTPUT_RATED_TORQUE] = "gearmotor.rated.torque",
    [SLEW_MOTOR_OUTPUT_RATED_CURRENT] = "gearmotor.rated.current",
};

/* One axis while its motor is completed. */
typedef struct motor {
    slew_reader *reader;
    slew_report *warnings;
    int axis;
} motor;

static int key_named(const motor *m, const char *name)
{
    char path[SLEW_PATH_MAX];
    slew_say(path, sizeof path, "%s.%s", m->axis ? "elevation" : "rotation", name);
    return slew_key_find(path);
}

static int key_of(const motor *m, slew_motor_figure figure)
{
    return key_named(m, NAMES[figure]);
}

static slew_mark mark_of(const motor *m, int key)
{
    return m->reader->marks.key[SLEW_LAYER_FILE][key];
}

/* "elevation.motor.stall_torque (0.65 N.m)" */
static void figure_text(const motor *m, slew_motor_figure figure, char *text, size_t size)
{
    int key = key_of(m, figure);
    char value[64];
    slew_key_format(m->reader->scenario, key, value, sizeof value);
    slew_say(text, size, "%s (%s)", slew_key_at(key)->path, value);
}

/* ---- saying it ---- */

static void warn(const motor *m, int key, const char *message)
{
    slew_report_say(m->warnings, mark_of(m, key), slew_key_at(key)->path, message);
}

static void say_assumed(const motor *m)
{
    int key = key_of(m, SLEW_MOTOR_NO_LOAD_CURRENT);
    char value[64], message[160];
    slew_key_format(m->reader->scenario, key, value, sizeof value);
    slew_say(message, sizeof message,
             "not given: %s is assumed, %g %% of the stall current; measure it with the gearmotor "
             "running free",
             value, 100 * SLEW_MOTOR_IDLE_SHARE);
    warn(m, key, message);
}

static void say_off(const motor *m, const slew_motor_found *found)
{
    char own[160], other[160], message[400];
    figure_text(m, found->figure, own, sizeof own);
    if (isinf(found->off))
        slew_say(message, sizeof message,
                 "%s lies beyond the no-load speed or the stall current, and is not used", own);
    else {
        if (found->other < SLEW_MOTOR_FIGURES)
            figure_text(m, found->other, other, sizeof other);
        else
            slew_say(other, sizeof other, "the no-load current that is assumed");
        slew_say(message, sizeof message, "%s and %s disagree by %.2g %%: the latter is used", own,
                 other, 100 * expm1(fabs(found->off)));
    }
    warn(m, key_of(m, found->figure), message);
}

static void refuse(const motor *m, const slew_motor_found *found)
{
    int key = key_of(m, found->figure);
    char own[160], message[240];
    figure_text(m, found->figure, own, sizeof own);
    slew_say(message, sizeof message,
             "no motor has %s beside the other figures of its data sheet: one of them is wrong, or "
             "the gear would have to give more than it gets",
             own);
    slew_reader_refuse(m->reader, mark_of(m, key), slew_key_at(key)->path, message, "");
}

static bool refuse_if_beyond(const motor *m, int key)
{
    const slew_key_row *row = slew_key_row_at(key);
    double value = slew_field_get(m->reader->scenario, &m->reader->scenario->setup, key);
    char text[64], message[200], expected[256];
    if (mark_of(m, key).source != SLEW_FROM_NOWHERE || slew_value_allowed(row, value))
        return false;
    slew_value_print(row, value, text, sizeof text);
    slew_value_expected(row, expected, sizeof expected);
    slew_say(message, sizeof message,
             "%s follows from the data sheet; gearmotor has the figures of the output shaft, "
             "motor those of the motor shaft",
             text);
    return !slew_reader_refuse(m->reader, m->reader->marks.root, row->key.path, message, expected);
}

/* what follows may be out of its range: then a figure stands at the wrong shaft; what the rotor's
 * inertia follows from is told alone */
static void refuse_beyond(const motor *m)
{
    bool refused = false;
    for (int i = 0; i <= SLEW_MOTOR_EFFICIENCY; i++)
        refused |= refuse_if_beyond(m, key_of(m, (slew_motor_figure)i));
    if (!refused)
        refuse_if_beyond(m, key_named(m, "motor.inertia"));
}

/* ---- doing it ---- */

/* what is filled in, or not to be told once more, is not missing */
static void excuse(const motor *m, const slew_motor_found *found)
{
    for (int i = 0; i <= SLEW_MOTOR_EFFICIENCY; i++)
        if (!(found->state == SLEW_MOTOR_LACKS && found->missing[i]))
            m->reader->marks.excused[key_of(m, (slew_motor_figure)i)] = true;
}

static void complete(const motor *m)
{
    const slew_axis_setup *a = &m->reader->scenario->setup.axis[m->axis];
    if (isnan(a->motor.rated_voltage) || isnan(a->motor.viscous_share))
        return;
    slew_motor_found found = slew_scenario_complete_motor(m->reader->scenario, m->axis);
    excuse(m, &found);
    if (found.state == SLEW_MOTOR_CONTRADICTS)
        refuse(m, &found);
    if (found.state != SLEW_MOTOR_FOUND)
        return;
    refuse_beyond(m);
    if (found.idle_is_assumed)
        say_assumed(m);
    if (found.off != 0)
        say_off(m, &found);
}

void slew_reader_complete_motors(slew_reader *reader, slew_report *warnings)
{
    for (int axis = 0; axis < SLEW_AXES; axis++)
        complete(&(motor){reader, warnings, axis});
}
