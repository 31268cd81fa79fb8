/* card_step.c - see card_step.h. M12.7 */
#include "study/card/card_step.h"

#include <stdio.h>

/* ---- the menu ---- */

static slew_card_step *add_step(slew_card *card, const slew_setup *setup, slew_card_kind kind)
{
    slew_card_step *step = &card->step[card->steps++];
    *step = (slew_card_step){.kind = kind, .axis = SLEW_NO_AXIS, .agrees = 1};
    step->row = slew_timing_default();
    for (int j = 0; j < SLEW_AXES; j++)
        step->start[j] = setup->axis[j].start;
    return step;
}

static void add_reading(slew_card_step *step, slew_card_read read)
{
    step->reading[step->readings++].read = read;
}

static void add_standstill(slew_card *card, const slew_setup *setup)
{
    slew_card_step *step = add_step(card, setup, SLEW_CARD_TRAVEL);
    add_reading(step, SLEW_CARD_VOLTAGE);
    add_reading(step, SLEW_CARD_DROP);
}

static void add_travel(slew_card *card, const slew_setup *setup, int axis, int direction, bool home)
{
    slew_card_step *step = add_step(card, setup, SLEW_CARD_TRAVEL);
    slew_place_kind behind = direction > 0 ? SLEW_PLACE_LOW_STOP : SLEW_PLACE_HIGH_STOP;
    slew_place_kind ahead = direction > 0 ? SLEW_PLACE_HIGH_STOP : SLEW_PLACE_LOW_STOP;
    step->row.axis = axis;
    step->row.direction = direction;
    step->row.from.kind = behind;
    step->row.to.kind = home ? SLEW_PLACE_HOME : ahead;
    add_reading(step, SLEW_CARD_SECONDS);
    if (home) /* half way it is the same as on the way to the stop */
        return;
    add_reading(step, SLEW_CARD_VOLTAGE);
    add_reading(step, SLEW_CARD_CURRENT);
    if (axis == SLEW_ELEVATION && direction > 0) /* under the largest load */
        add_reading(step, SLEW_CARD_DROP);
}

/* what the controller has stored for the stow point; it drives nothing */
static void add_stored(slew_card *card, const slew_prepared *prepared, int axis)
{
    double stored = prepared->stored[axis];
    slew_card_step *step = add_step(card, &prepared->stow_setup, SLEW_CARD_TRAVEL);
    step->row.axis = axis;
    step->row.direction = stored < 0 ? -1 : 1;
    step->row.from.kind = SLEW_PLACE_HOME;
    step->row.to.kind = SLEW_PLACE_STOW_POINT;
    add_reading(step, SLEW_CARD_STORED);
}

static slew_card_step *add_run(slew_card *card, const slew_setup *setup, slew_card_kind kind)
{
    slew_card_step *step = add_step(card, setup, kind);
    add_reading(step, SLEW_CARD_SECONDS);
    add_reading(step, SLEW_CARD_ROTATION);
    add_reading(step, SLEW_CARD_ELEVATION);
    add_reading(step, SLEW_CARD_LOWEST);
    return step;
}

/* half way from home to either stop of rotation: `side` -1 or +1 */
static void add_stow_from(slew_card *card, const slew_setup *setup, int side)
{
    const slew_axis_setup *rotation = &setup->axis[SLEW_ROTATION];
    double stop = side < 0 ? rotation->stops.low : rotation->stops.high;
    slew_card_step *step = add_run(card, setup, SLEW_CARD_STOW);
    step->start[SLEW_ROTATION] = (rotation->home.angle + stop) / 2;
}

void slew_card_menu(const slew_prepared *prepared, slew_card *card)
{
    const slew_setup *setup = &prepared->stow_setup;
    card->steps = 0;
    add_standstill(card, setup);
    for (int axis = 0; axis < SLEW_AXES; axis++)
        for (int home = 0; home < 2; home++)
            for (int direction = -1; direction <= 1; direction += 2)
                add_travel(card, setup, axis, direction, home == 1);
    for (int axis = 0; axis < SLEW_AXES; axis++)
        add_stored(card, prepared, axis);
    add_run(card, setup, SLEW_CARD_STOW);
    add_stow_from(card, setup, -1);
    add_stow_from(card, setup, +1);
    add_run(card, setup, SLEW_CARD_DEPLOY);
}

/* ---- one step ---- */

static void leave_out(slew_card_taken *out, const char *why)
{
    out->made = false;
    snprintf(out->why, sizeof out->why, "%s", why);
}

/* Along the cable alone: what the source keeps for itself is not between the two points. */
static double drop_of(const slew_prepared *p, double voltage)
{
    const slew_battery *source = &p->stow_setup.supply.main;
    double line = p->stow.line_resistance;
    return line > 0 ? (source->voltage - voltage) * (1 - source->resistance / line) : 0;
}

static void take_travel(const slew_card_step *step, const slew_prepared *prepared,
                        slew_card_taken *out)
{
    slew_setup setup = prepared->stow_setup;
    slew_timed timed;
    slew_error error = {0};
    if (step->row.to.kind == SLEW_PLACE_STOW_POINT) {
        out->value[SLEW_CARD_STORED] = prepared->stored[step->row.axis] * step->row.direction;
        return;
    }
    for (int j = 0; j < SLEW_AXES; j++)
        setup.axis[j].start = step->start[j];
    if (slew_timing_simulate(&setup, &step->row, &timed, &error) != SLEW_OK) {
        leave_out(out, error.message);
        return;
    }
    out->meets_stop = step->row.direction != 0 && step->row.to.kind != SLEW_PLACE_HOME;
    out->value[SLEW_CARD_SECONDS] = timed.value[SLEW_MEASURE_SECONDS];
    out->value[SLEW_CARD_VOLTAGE] = timed.value[SLEW_MEASURE_VOLTAGE];
    out->value[SLEW_CARD_CURRENT] = timed.value[SLEW_MEASURE_CURRENT];
    out->value[SLEW_CARD_DROP] = drop_of(prepared, timed.value[SLEW_MEASURE_VOLTAGE]);
}

typedef struct contacts {
    bool met;
    bool after_stow; /* what its stow does before the deploy is not counted */
} contacts;

static void note_contact(void *context, const slew_event *event)
{
    contacts *c = context;
    c->met |= event->kind == SLEW_EVENT_STOP_CONTACT;
    if (event->kind == SLEW_EVENT_DONE && c->after_stow)
        *c = (contacts){false, false};
}

static bool starts_within(const slew_card_step *step, const slew_setup *setup)
{
    for (int j = 0; j < SLEW_AXES; j++)
        if (step->start[j] < setup->axis[j].stops.low || step->start[j] > setup->axis[j].stops.high)
            return false;
    return true;
}

static void take_run(const slew_card_step *step, const slew_scenario *scenario,
                     const slew_prepared *prepared, slew_card_taken *out)
{
    slew_prepared own = *prepared;
    slew_result result;
    bool stows = step->kind == SLEW_CARD_STOW;
    for (int j = 0; j < SLEW_AXES; j++)
        own.stow_setup.axis[j].start = step->start[j];
    contacts touched = {.after_stow = !stows};
    const slew_observer observer = {.event = note_contact, .context = &touched};
    slew_run_prepared(scenario, &own, stows ? SLEW_STOW_ONLY : SLEW_STOW_AND_DEPLOY, &observer,
                      &result);
    const slew_part *part = stows ? &result.stow : &result.deploy;
    out->meets_stop = touched.met;
    out->says = part->says;
    out->fault = part->fault;
    out->axis = part->axis;
    out->value[SLEW_CARD_SECONDS] = part->duration;
    out->value[SLEW_CARD_ROTATION] = part->angle[SLEW_ROTATION];
    out->value[SLEW_CARD_ELEVATION] = part->angle[SLEW_ELEVATION];
    out->value[SLEW_CARD_LOWEST] =
        isfinite(result.lowest_loaded_voltage) ? result.lowest_loaded_voltage : NAN;
    if (part->says == SLEW_NOT_RUN || !part->holds)
        leave_out(out, stows || result.stow.says == SLEW_STOWED
                           ? "an axis is moved by its load, it would not hold"
                           : "the stow before it does not end in stowed");
}

void slew_card_take(const slew_card_step *step, const slew_scenario *scenario,
                    const slew_prepared *prepared, slew_card_taken *out)
{
    *out = (slew_card_taken){.made = true, .axis = SLEW_NO_AXIS};
    for (int i = 0; i < SLEW_CARD_READ_COUNT; i++)
        out->value[i] = NAN;
    if (step->kind == SLEW_CARD_TRAVEL)
        take_travel(step, prepared, out);
    else if (step->kind == SLEW_CARD_DEPLOY && !scenario->deploy.given)
        leave_out(out, "the scenario has no deploy");
    else if (!starts_within(step, &prepared->stow_setup))
        leave_out(out, "it would start beyond a stop");
    else
        take_run(step, scenario, prepared, out);
}
