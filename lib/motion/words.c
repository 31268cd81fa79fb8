/* words.c - the words of the output for enums of runs and scenarios. */
#include "slewtime/slewtime.h"

#define WORD(name, word) word,
static const char *const event_words[] = {SLEW_EVENT_KINDS(WORD)};
static const char *const fault_words[] = {SLEW_FAULTS(WORD)};
#undef WORD
static const char *const faults_in_words[SLEW_FAULT_COUNT] = {
    [SLEW_FAULT_NONE] = "none",
    [SLEW_FAULT_HOME_NOT_FOUND] = "home sensor not found",
    [SLEW_FAULT_HARD_STOP] = "driven into a hard stop",
    [SLEW_FAULT_OVERLOAD] = "stalled away from the hard stops",
    [SLEW_FAULT_TIMEOUT] = "the move took too long",
    [SLEW_FAULT_UNDERVOLTAGE] = "brownout",
    [SLEW_FAULT_CANCELLED] = "cancelled",
};
static const char *const verdict_words[] = {"not_run", "stowed", "deployed", "fault"};
static const char *const approach_words[] = {"either", "rising", "falling"};
static const char *const axis_words[SLEW_AXES] = {"rotation", "elevation"};
static const char *const direction_words[SLEW_AXES][2] = {{"left", "right"}, {"down", "up"}};

#define PICK(table, index)                                                                         \
    ((index) >= 0 && (size_t)(index) < sizeof(table) / sizeof(table)[0] ? (table)[index] : "?")

const char *slew_event_word(slew_event_kind kind)
{
    return PICK(event_words, (int)kind);
}

const char *slew_fault_word(slew_fault fault)
{
    return PICK(fault_words, (int)fault);
}

const char *slew_fault_in_words(slew_fault fault)
{
    return PICK(faults_in_words, (int)fault);
}

const char *slew_verdict_word(slew_verdict verdict)
{
    return PICK(verdict_words, (int)verdict);
}

const char *slew_approach_word(slew_approach approach)
{
    return PICK(approach_words, (int)approach);
}

const char *slew_axis_word(int axis)
{
    return PICK(axis_words, axis);
}

const char *slew_direction_word(int axis, int direction)
{
    if (axis < 0 || axis >= SLEW_AXES || direction == 0)
        return "";
    return direction_words[axis][direction > 0];
}
