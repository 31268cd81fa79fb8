/* records.c - the figures of `slewtime check`, for JSON. */
#include "answer.h"

#include <stdio.h>

#include "tell/provenance.h"
#include "tell/units.h"

/* ---- each axis ---- */

int cli_check_following(const cli_check *answer, int axis, int index)
{
    static const char *const paths[CLI_FOLLOWING] = {"motor.no_load_speed", "motor.no_load_current",
                                                     "motor.stall_current", "gear.efficiency",
                                                     "motor.inertia"};
    char path[64];
    snprintf(path, sizeof path, "%s.%s", slew_axis_word(axis), paths[index]);
    int key = slew_key_find(path);
    return answer->given[key] ? -1 : key;
}

static void tell_following(cli_teller *t, const cli_check *a, int axis)
{
    cli_tell_open_list(t, "follows");
    for (int i = 0; i < CLI_FOLLOWING; i++) {
        int key = cli_check_following(a, axis, i);
        char value[64];
        if (key < 0)
            continue;
        slew_key_format(a->single.scenario, key, value, sizeof value);
        cli_tell_open(t, NULL);
        cli_tell_text(t, "key", slew_key_at(key)->path);
        cli_tell_text(t, "value", value);
        cli_tell_boolean(t, "is_default", i == CLI_FOLLOWING - 1);
        cli_tell_close(t);
    }
    cli_tell_close(t);
}

static void tell_way(cli_teller *t, const void *what)
{
    const slew_axis_way *w = what;
    cli_tell_text(t, "state", slew_speed_word(w->slowest.state));
    cli_tell_number(t, "speed_deg_s", cli_degrees(w->slowest.speed));
    cli_tell_number(t, "running_A", w->slowest.current);
    cli_tell_number(t, "running_V", w->slowest.voltage);
    cli_tell_number(t, "stop_to_stop_s", w->travel);
    cli_tell_text(t, "fault", w->fault != SLEW_FAULT_NONE ? slew_fault_word(w->fault) : NULL);
}

static void tell_axis(cli_teller *t, const cli_check *a, int axis)
{
    const slew_axis_facts *f = &a->axis[axis];
    cli_tell_open(t, slew_axis_word(axis));
    tell_following(t, a, axis);
    for (int i = 0; i < 2; i++)
        cli_tell_record(t, slew_direction_word(axis, 2 * i - 1), tell_way, &f->way[i]);
    cli_tell_number(t, "starting_A", f->stalled);
    cli_tell_number(t, "stalled_A", f->stalled);
    cli_tell_number(t, "stall_threshold_A", a->single.prepared.stow_setup.controller.stall_current);
    cli_tell_boolean(t, "self_locking", f->backward_efficiency < 0);
    cli_tell_number(t, "backward_efficiency", f->backward_efficiency);
    cli_tell_degrees(t, "home_deg", f->home);
    cli_tell_degrees(t, "home_from_low_stop_deg", f->home_from_stop[0]);
    cli_tell_degrees(t, "home_from_high_stop_deg", f->home_from_stop[1]);
    cli_tell_degrees(t, "point_from_home_deg", f->point_from_home);
    cli_tell_degrees(t, "point_from_stop_deg", f->point_from_stop);
    cli_tell_number(t, "stored_s", a->single.prepared.stored[axis]);
    cli_tell_close(t);
}

/* ---- what it hangs on ---- */

static void tell_value(cli_teller *t, const slew_hang *h, int index)
{
    char text[64];
    slew_key_format_number(h->key, h->value[index], text, sizeof text);
    cli_tell_open(t, NULL);
    cli_tell_text(t, "value", text);
    cli_tell_boolean(t, "is_default", index == 1);
    cli_tell_degrees(t, "stow_moves_deg", h->of[index].moves[0]);
    cli_tell_degrees(t, "deploy_moves_deg", h->of[index].moves[1]);
    cli_tell_number(t, "fails", h->of[index].fails);
    cli_tell_number(t, "share", h->of[index].share);
    cli_tell_close(t);
}

static void tell_hang(cli_teller *t, const void *what)
{
    const slew_hang *h = what;
    cli_tell_text(t, "key", slew_key_at(h->key)->path);
    cli_tell_degrees(t, "moves_deg", h->moves);
    cli_tell_text(t, "measure", h->measure);
    cli_tell_open_list(t, "tried");
    for (int i = 0; i < SLEW_HANG_VALUES; i++)
        tell_value(t, h, i);
    cli_tell_close(t);
}

static void tell_doubt(cli_teller *t, const void *what)
{
    const slew_doubt *d = what;
    cli_tell_text(t, "key", slew_key_at(d->key)->path);
    cli_tell_text(t, "layer", slew_layer_word(d->layer));
    cli_tell_text(t, "message", d->message);
}

void cli_check_document(cli_teller *t, const void *what)
{
    const cli_check *a = what;
    cli_tell_title(t, a->single.scenario);
    cli_tell_provenance(t, a->single.scenario, NULL, 0);
    for (int axis = 0; axis < SLEW_AXES; axis++)
        tell_axis(t, a, axis);
    cli_tell_open(t, "supply");
    cli_tell_number(t, "at_rest_V", a->single.prepared.stow.line_voltage);
    cli_tell_number(t, "before_controller_mohm",
                    cli_milliohms(a->single.prepared.stow.line_resistance));
    cli_tell_close(t);
    cli_tell_integer(t, "share_samples", a->hangs.samples);
    cli_tell_open_list(t, "hangs_on");
    for (int i = 0; i < a->hangs.count; i++)
        cli_tell_record(t, NULL, tell_hang, &a->hangs.item[i]);
    cli_tell_close(t);
    cli_tell_open_list(t, "doubts");
    for (int i = 0; i < a->doubt_count; i++)
        cli_tell_record(t, NULL, tell_doubt, &a->doubt[i]);
    cli_tell_close(t);
}
