/* event_words.c - see event_words.h. */
#include "event_words.h"

#include <stdio.h>

#include "outcome_sentence.h"
#include "tell/utf8.h"

static const slew_setup *setup_of(const cli_single *single, bool is_deploy)
{
    return is_deploy ? &single->prepared.deploy_setup : &single->prepared.stow_setup;
}

static const char *box_name(const cli_single *single, const slew_event *e)
{
    return e->box >= 0 ? single->scenario->keepout.box[e->box].name : "";
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

/* ---- in full ---- */

#define SAY(...) snprintf(words, CLI_WORDS_MAX, __VA_ARGS__)

static void say_supply(const slew_controller_settings *c, double floor, const slew_event *e,
                       char *words)
{
    if (e->kind == SLEW_EVENT_LOW_VOLTAGE)
        SAY("voltage under load falls below %.4g V", floor);
    else if (e->kind == SLEW_EVENT_BROWNOUT)
        SAY("brownout: %.3g s below %.4g V", c->brownout_dwell, c->brownout_voltage);
    else
        SAY("stall: %.3g s at %.4g A or more", c->stall_dwell, c->stall_current);
}

void cli_event_words(const cli_single *single, const slew_event *e, bool is_deploy,
                     char words[CLI_WORDS_MAX])
{
    const slew_setup *setup = setup_of(single, is_deploy);
    const char *way = slew_direction_word(e->axis, e->direction);
    switch (e->kind) {
    case SLEW_EVENT_DRIVE_ON:
        SAY("drive on, %s", way);
        break;
    case SLEW_EVENT_DRIVE_OFF:
        SAY("drive off");
        break;
    case SLEW_EVENT_MOVING:
        SAY("starts to move %s", way);
        break;
    case SLEW_EVENT_AT_REST:
        SAY("at rest");
        break;
    case SLEW_EVENT_SWITCH_CLOSED:
        SAY("home sensor closes");
        break;
    case SLEW_EVENT_SWITCH_OPEN:
        SAY("home sensor opens");
        break;
    case SLEW_EVENT_HOME_FOUND:
        SAY("home found");
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
        SAY("enters keep-out %.*s", cli_utf8_cut(box_name(single, e), 24), box_name(single, e));
        break;
    case SLEW_EVENT_KEEPOUT_LEFT:
        SAY("leaves keep-out %.*s", cli_utf8_cut(box_name(single, e), 24), box_name(single, e));
        break;
    case SLEW_EVENT_DONE:
        SAY("controller says: %s", is_deploy ? "deployed" : "stowed");
        break;
    case SLEW_EVENT_FAULT:
        SAY("FAULT: %s", cli_fault_in_words(e->fault));
        break;
    case SLEW_EVENT_DOES_NOT_HOLD:
        SAY("does not hold: its load moves it %s", way);
        break;
    default:
        SAY("%s", slew_event_word(e->kind));
    }
}

/* ---- in short ---- */

void cli_event_mark(const cli_single *single, const slew_event *e, char words[CLI_WORDS_MAX])
{
    words[0] = '\0';
    switch (e->kind) {
    case SLEW_EVENT_HOME_FOUND:
        SAY("home found");
        break;
    case SLEW_EVENT_STOP_CONTACT:
        SAY("hits the %s", cli_stop_in_words(e->axis, e->direction));
        break;
    case SLEW_EVENT_STALL:
        SAY("stall");
        break;
    case SLEW_EVENT_LOW_VOLTAGE:
        SAY("below the floor");
        break;
    case SLEW_EVENT_BROWNOUT:
        SAY("brownout");
        break;
    case SLEW_EVENT_KEEPOUT_ENTERED:
        SAY("in keep-out %.*s", cli_utf8_cut(box_name(single, e), 24), box_name(single, e));
        break;
    case SLEW_EVENT_FAULT:
        SAY("FAULT");
        break;
    case SLEW_EVENT_DOES_NOT_HOLD:
        SAY("does not hold");
        break;
    default:
        break;
    }
}
