/* margin_stow.c - see margin_stow.h. */
#include "study/margin/margin_stow.h"

#include "motion/sequences.h"

#include <string.h>

static void look(void *context, const slew_event *event)
{
    slew_margin_seen *s = context;
    if (event->kind == SLEW_EVENT_HOME_FOUND)
        s->found++;
    if (event->kind == SLEW_EVENT_STOP_CONTACT && s->found == SLEW_AXES && event->axis == s->axis &&
        event->direction == s->side)
        s->touched = true;
}

static void keep(const slew_machine *m, const slew_margin_seen *seen, slew_margin_day *out)
{
    out->machine = *m;
    out->seen = *seen;
}

/* the step in which the timed moves begin reads the stored times: what was before it is kept */
static void search(slew_course *c, const slew_margin_seen *seen, slew_margin_day *out)
{
    const slew_machine *m = c->machine;
    bool goes_on = true, near = false;
    while (goes_on && m->controller.leg > 0 && m->controller.leg <= SLEW_LEG_MOVE_FIRST) {
        near = m->controller.leg == SLEW_LEG_MOVE_FIRST;
        if (near)
            keep(m, seen, out);
        goes_on = slew_sequence_step(c, INFINITY);
    }
    if (!near) /* it ended before */
        keep(m, seen, out);
}

void slew_margin_day_begin(const slew_scenario *scenario, const slew_prepared *p, int axis,
                           int side, slew_margin_day *out)
{
    static const double none[SLEW_AXES] = {0};
    slew_machine m; /* not cleared: it is large */
    slew_result result;
    slew_margin_seen seen = {.axis = axis, .side = side};
    const slew_observer observer = {.event = look, .context = &seen};
    slew_course c = {.machine = &m,
                     .model = &p->stow,
                     .setup = &p->stow_setup,
                     .observer = &observer,
                     .result = &result};
    out->prepared = p;
    out->seen = seen;
    slew_machine_place(&c, scenario, none);
    m.controller.cancel_at = p->stow_setup.stow_cancel_at;
    slew_sequence_begin(&c, SLEW_TASK_STOW, SLEW_LEG_LIFT, SLEW_LEG_END);
    search(&c, &seen, out);
}

slew_margin_seen slew_margin_day_stow(const slew_margin_day *day, const double stored[SLEW_AXES])
{
    slew_machine m = day->machine;
    slew_margin_seen seen = day->seen;
    slew_result result = {.visit_count = 0};
    const slew_observer observer = {.event = look, .context = &seen};
    slew_course c = {.machine = &m,
                     .model = &day->prepared->stow,
                     .setup = &day->prepared->stow_setup,
                     .observer = &observer,
                     .result = &result};
    memcpy(m.program.stored, stored, sizeof m.program.stored);
    slew_sequence_finish(&c);
    seen.says = m.says;
    seen.fault = m.fault;
    seen.fault_axis = m.fault_axis;
    slew_sequence_come_to_rest(&c);
    seen.holds = m.holds;
    seen.angle = m.plant.angle[seen.axis];
    return seen;
}
