/* records.c - see records.h. */
#include "records.h"

#include "outcome_sentence.h"
#include "tell/units.h"

const char *cli_box_name(const cli_single *single, int box)
{
    return box >= 0 ? single->scenario->keepout.box[box].name : NULL;
}

static void tell_stored_times(cli_teller *t, const cli_single *single)
{
    cli_tell_open_if(t, "stored_times_s", cli_single_stows(single));
    for (int axis = 0; axis < SLEW_AXES; axis++)
        cli_tell_number(t, slew_axis_word(axis), single->result.stored[axis]);
    cli_tell_close(t);
}

/* ---- stow and deploy ---- */

static void tell_distances_of_stow(cli_teller *t, const cli_single *single, int axis)
{
    static const char *const from_point[] = {"rotation_from_point_deg", "elevation_from_point_deg"};
    static const char *const from_stop[] = {"rotation_from_stop_deg", "elevation_from_stop_deg"};
    const slew_stow *stow = &single->scenario->stow;
    const slew_range *stops = &single->prepared.stow_setup.axis[axis].stops;
    double angle = cli_degrees(single->result.stow.angle[axis]);
    cli_tell_number(t, from_point[axis],
                    stow->has_point ? angle - cli_degrees(stow->point[axis]) : NAN);
    cli_tell_number(t, from_stop[axis],
                    fmin(angle - cli_degrees(stops->low), cli_degrees(stops->high) - angle));
}

/* below the target -, above it +, inside it 0 */
static void tell_distance_of_deploy(cli_teller *t, const cli_single *single, int axis)
{
    static const char *const from_target[] = {"rotation_from_target_deg",
                                              "elevation_from_target_deg"};
    const slew_range *target = &single->scenario->deploy.target[axis];
    double angle = cli_degrees(single->result.deploy.angle[axis]);
    bool begun = cli_single_deploy_begun(single);
    double off =
        fmin(angle - cli_degrees(target->low), 0) + fmax(angle - cli_degrees(target->high), 0);
    cli_tell_number(t, from_target[axis], begun ? off : NAN);
}

static void tell_places(cli_teller *t, const cli_single *single, bool is_stow, bool begun)
{
    static const char *const names[] = {"rotation_deg", "elevation_deg"};
    const slew_part *part = is_stow ? &single->result.stow : &single->result.deploy;
    for (int axis = 0; axis < SLEW_AXES; axis++) {
        cli_tell_degrees(t, names[axis], t->in_full || begun ? part->angle[axis] : NAN);
        if (!t->in_full && is_stow)
            tell_distances_of_stow(t, single, axis);
        else if (!t->in_full)
            tell_distance_of_deploy(t, single, axis);
    }
}

/* In a document there is a verdict on the target whenever that is given; in a row, where the
 * controller says that it is done. */
static void tell_on_target(cli_teller *t, const slew_part *part, bool asked)
{
    bool is_done = part->says != SLEW_NOT_RUN && part->fault == SLEW_FAULT_NONE;
    if (part->has_target && (t->in_full ? asked : is_done))
        cli_tell_boolean(t, "on_target", part->on_target);
    else
        cli_tell_nothing(t, "on_target");
}

static void tell_part(cli_teller *t, const cli_single *single, bool is_stow)
{
    const slew_part *part = is_stow ? &single->result.stow : &single->result.deploy;
    bool asked = is_stow ? cli_single_stows(single) : cli_single_deploys(single);
    bool begun = part->says != SLEW_NOT_RUN || !part->holds;
    cli_tell_open_if(t, is_stow ? "stow" : "deploy", t->in_full || asked);
    cli_tell_text(t, "says", slew_verdict_word(part->says));
    cli_tell_text(t, "fault", part->fault != SLEW_FAULT_NONE ? slew_fault_word(part->fault) : NULL);
    cli_tell_axis(t, "axis", part->axis);
    cli_tell_next_if(t, t->in_full || begun);
    cli_tell_boolean(t, "holds", part->holds);
    tell_places(t, single, is_stow, begun);
    tell_on_target(t, part, asked);
    cli_tell_axis(t, "pressed", asked ? cli_pressed_axis(single, part) : SLEW_NO_AXIS);
    cli_tell_number(t, "duration_s", part->duration);
    cli_tell_close(t);
}

/* ---- supply and clearance ---- */

static void tell_visits(cli_teller *t, const cli_single *single)
{
    int count = single->result.visit_count;
    cli_tell_open_list(t, "keepout");
    for (int i = 0; i < count && i < SLEW_KEEPOUT_VISITS_MAX; i++) {
        const slew_keepout_visit *visit = &single->result.visit[i];
        cli_tell_open(t, NULL);
        cli_tell_text(t, "name", cli_box_name(single, visit->box));
        cli_tell_number(t, "entered_s", visit->entered);
        cli_tell_number(t, "left_s", visit->left);
        cli_tell_close(t);
    }
    cli_tell_close(t);
}

void cli_tell_result(cli_teller *t, const void *what)
{
    const cli_single *single = what;
    const slew_result *r = &single->result;
    tell_stored_times(t, single);
    tell_part(t, single, true);
    tell_part(t, single, false);
    cli_tell_number(t, "lowest_voltage_V", r->lowest_voltage);
    cli_tell_number(t, "lowest_loaded_voltage_V", r->lowest_loaded_voltage);
    if (!t->in_full)
        cli_tell_number(t, "floor_V", cli_single_floor(single));
    cli_tell_boolean(t, "below_floor", r->below_floor);
    cli_tell_number(t, "peak_current_A", r->peak_current);
    cli_tell_number(t, "charge_As", r->charge);
    if (t->in_full)
        tell_visits(t, single);
    else
        cli_tell_integer(t, "keepouts_entered", r->visit_count);
}
