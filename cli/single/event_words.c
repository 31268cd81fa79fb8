/* event_words.c - see event_words.h. */
#include "event_words.h"

#include <stdio.h>

#include "outcome_sentence.h"
#include "records.h"
#include "tell/utf8.h"

static const slew_setup *setup_of(const cli_single *single, bool is_deploy)
{
    return is_deploy ? &single->prepared.deploy_setup : &single->prepared.stow_setup;
}

bool cli_event_is_trouble(slew_event_kind kind)
{
    switch (kind) {
    case SLEW_EVENT_STOP_CONTACT:
    case SLEW_EVENT_STALL:
    case SLEW_EVENT_LOW_VOLTAGE:
    case SLEW_EVENT_BROWNOUT:
    case SLEW_EVENT_KEEPOUT_ENTERED:
    case SLEW_EVENT_FAULT:
    case SLEW_EVENT_DOES_NOT_HOLD:
        return true;
    default:
        return false;
    }
}

const char *cli_moving_word(int axis, int direction)
{
    static const char *const words[SLEW_AXES][2] = {{"turning left", "turning right"},
                                                    {"lowering", "raising"}};
    return words[axis][direction > 0];
}

/* ---- in full ---- */

#define SAY(...) snprintf(words, CLI_WORDS_MAX, __VA_ARGS__)

static void say_supply(const slew_controller_settings *c, double floor, const slew_event *e,
                       char *words)
{
    if (e->kind == SLEW_EVENT_LOW_VOLTAGE)
        SAY("falls below the minimum voltage of %.4g V", floor);
    else if (e->kind == SLEW_EVENT_BROWNOUT)
        SAY("brownout: %.3g s below %.4g V", c->brownout_dwell, c->brownout_voltage);
    else
        SAY("stall: %.3g s at %.4g A or more", c->stall_dwell, c->stall_current);
}

static void say_box(const char *what, const cli_single *single, const slew_event *e, char *words)
{
    const char *name = cli_box_name(single, e->box);
    SAY("%s keep-out zone %.*s", what, cli_utf8_cut(name, 24), name);
}

/* where the kind says it all */
static const char *const whole[SLEW_EVENT_KIND_COUNT] = {
    [SLEW_EVENT_DRIVE_OFF] = "motor off",
    [SLEW_EVENT_AT_REST] = "at rest",
    [SLEW_EVENT_SWITCH_CLOSED] = "home sensor closes",
    [SLEW_EVENT_SWITCH_OPEN] = "home sensor opens",
    [SLEW_EVENT_HOME_FOUND] = "home found",
};

void cli_event_words(const cli_single *single, const slew_event *e, bool is_deploy,
                     char words[CLI_WORDS_MAX])
{
    const slew_setup *setup = setup_of(single, is_deploy);
    const char *way = slew_direction_word(e->axis, e->direction);
    switch (e->kind) {
    case SLEW_EVENT_DRIVE_ON:
        SAY("motor on, %s", cli_moving_word(e->axis, e->direction));
        break;
    case SLEW_EVENT_MOVING:
        SAY("starts to move %s", way);
        break;
    case SLEW_EVENT_STOP_CONTACT:
        SAY("hits the %s (%.2g J)", cli_stop_in_words(e->axis, e->direction), e->energy);
        break;
    case SLEW_EVENT_STALL:
    case SLEW_EVENT_LOW_VOLTAGE:
    case SLEW_EVENT_BROWNOUT:
        say_supply(&setup->controller, setup->supply.floor, e, words);
        break;
    case SLEW_EVENT_KEEPOUT_ENTERED:
        say_box("enters", single, e, words);
        break;
    case SLEW_EVENT_KEEPOUT_LEFT:
        say_box("leaves", single, e, words);
        break;
    case SLEW_EVENT_DONE:
        SAY("controller reports %s", is_deploy ? "deployed" : "stowed");
        break;
    case SLEW_EVENT_FAULT:
        SAY("FAULT: %s", slew_fault_in_words(e->fault));
        break;
    case SLEW_EVENT_DOES_NOT_HOLD:
        SAY("does not hold: its load moves it %s", way);
        break;
    default:
        SAY("%s", whole[e->kind] != NULL ? whole[e->kind] : slew_event_word(e->kind));
    }
}

/* ---- in short ---- */

static const char *const brief[SLEW_EVENT_KIND_COUNT] = {
    [SLEW_EVENT_HOME_FOUND] = "home found",
    [SLEW_EVENT_STALL] = "stall",
    [SLEW_EVENT_LOW_VOLTAGE] = "below minimum voltage",
    [SLEW_EVENT_BROWNOUT] = "brownout",
    [SLEW_EVENT_FAULT] = "FAULT",
    [SLEW_EVENT_DOES_NOT_HOLD] = "does not hold",
};

void cli_event_mark(const cli_single *single, const slew_event *e, char words[CLI_WORDS_MAX])
{
    if (e->kind == SLEW_EVENT_STOP_CONTACT)
        SAY("hits the %s", cli_stop_in_words(e->axis, e->direction));
    else if (e->kind == SLEW_EVENT_KEEPOUT_ENTERED)
        say_box("in", single, e, words);
    else
        SAY("%s", brief[e->kind] != NULL ? brief[e->kind] : "");
}
