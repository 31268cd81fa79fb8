/*
 * order.c - see order.h. The story is gone through once, with a machine of its own in mind: which
 * drives are on, what moves, which sensors are closed, which leg of the sequence it is (M6.4 to
 * M6.7).
 */
#include "order.h"

static const int R = SLEW_ROTATION, E = SLEW_ELEVATION;
/* how exact the place of an event is, and of what happens a moment later [rad]: as slew_stop_under
 */
static const double PLACE = 1e-9;

/* ---- what is known so far ---- */

typedef enum stage { LIFTS, SEEKS_FIRST, SEEKS_SECOND, MOVES, STOWED, DEPLOYS, DEPLOYED } stage;

typedef struct mind {
    const slew_scenario *scenario;
    const slew_prepared *prepared;
    const slew_setup *setup; /* of the occasion */
    stage stage;
    double time, off_at;
    double angle[SLEW_AXES];
    int drive[SLEW_AXES], moving[SLEW_AXES];
    int stop[SLEW_AXES];     /* rests on that one */
    double on_at[SLEW_AXES]; /* of the last drive */
    int moves[SLEW_AXES];    /* timed ones of this stage */
    int moved_last;          /* axis of the last one of them; SLEW_NO_AXIS: none */
    bool closed[SLEW_AXES], inside[SLEW_KEEPOUT_MAX];
    bool warned, browned_out, failed, stands;
    const slew_event *at; /* the event looked at */
} mind;

static void is_so(const mind *m, bool so, const char *what)
{
    if (!so)
        fail_msg("%s of %s at %.17g s: %s", slew_event_word(m->at->kind),
                 slew_axis_word(m->at->axis), m->at->time, what);
}

static int true_way(const mind *m, int axis, int commanded)
{
    return m->setup->axis[axis].reversed ? -commanded : commanded;
}

static const double *seconds_of(const mind *m)
{
    return m->stage == DEPLOYS ? m->scenario->deploy.seconds : m->prepared->stored;
}

static slew_order order_of(const mind *m)
{
    return m->stage == DEPLOYS ? m->scenario->deploy.order : m->scenario->stow.order;
}

static int first_of(slew_order order)
{
    return order == SLEW_ELEVATION_FIRST ? E : R;
}

/* the axis that is homed in a stage */
static int sought(const mind *m)
{
    const int first = first_of(m->scenario->stow.home_order);
    return m->stage == SEEKS_FIRST ? first : !first;
}

static void begin_moves(mind *m, stage next)
{
    m->stage = next;
    m->moves[R] = m->moves[E] = 0;
    m->moved_last = SLEW_NO_AXIS;
}

/* ---- every event ---- */

static void check_numbers(const mind *m, const slew_event *e)
{
    is_so(m, isfinite(e->time + e->angle[R] + e->angle[E]), "time or angle is no number");
    is_so(m, isfinite(e->voltage + e->current + e->energy), "a reading is no number");
    is_so(m, e->time >= m->time, "before the event before it");
    is_so(m, e->axis >= SLEW_NO_AXIS && e->axis < SLEW_AXES, "of no axis");
    is_so(m, e->energy == 0 || e->kind == SLEW_EVENT_STOP_CONTACT, "energy is lost at stops");
    is_so(m, e->fault == SLEW_FAULT_NONE || e->kind == SLEW_EVENT_FAULT, "a fault of its own");
}

/* an axis goes on in its direction and rests where it is, between its stops */
static void check_place(const mind *m, const slew_event *e, int j)
{
    const slew_range *stops = &m->setup->axis[j].stops;
    const double step = e->angle[j] - m->angle[j];
    is_so(m, e->angle[j] >= stops->low - PLACE && e->angle[j] <= stops->high + PLACE,
          "beyond a stop");
    is_so(m, m->moving[j] || step == 0, "an axis at rest is somewhere else");
    is_so(m, step * m->moving[j] >= -PLACE, "an axis has turned back");
}

static void check_any(const mind *m, const slew_event *e)
{
    check_numbers(m, e);
    for (int j = 0; j < SLEW_AXES; j++)
        check_place(m, e, j);
    is_so(m, !m->stands, "after an axis did not hold");
    is_so(m, !m->browned_out || e->time == m->time, "a brownout is no fault");
}

/* ---- drives ---- */

static void check_timed_on(mind *m, const slew_event *e)
{
    const double seconds = seconds_of(m)[e->axis];
    const slew_order order = order_of(m);
    is_so(m, seconds != 0 && (seconds > 0) == (e->direction > 0), "not as its seconds say");
    is_so(m, m->moves[e->axis]++ == 0, "moved twice");
    if (order == SLEW_TOGETHER)
        is_so(m, m->moved_last < 0 || m->on_at[m->moved_last] == e->time, "not together");
    else
        is_so(m, !m->drive[!e->axis] && (m->moved_last < 0 || e->axis != first_of(order)),
              "not in its order");
    m->moved_last = e->axis;
}

static void check_on(mind *m, const slew_event *e)
{
    const double lift = m->scenario->stow.lift_first;
    is_so(m, !m->drive[e->axis], "it is on already");
    is_so(m, !m->failed, "after a fault");
    is_so(m, e->time >= m->off_at + m->setup->controller.pause, "within the pause");
    if (m->stage == STOWED)
        begin_moves(m, DEPLOYS), m->setup = &m->prepared->deploy_setup;
    if (m->stage == LIFTS)
        is_so(m, e->axis == E && e->direction == 1 && lift > 0 && m->moves[E]++ == 0, "no lift");
    else if (m->stage == SEEKS_FIRST || m->stage == SEEKS_SECOND)
        is_so(m, e->axis == sought(m) && !m->drive[!e->axis], "while home is sought");
    else if (m->stage == MOVES || m->stage == DEPLOYS)
        check_timed_on(m, e);
    else
        is_so(m, false, "after all is done");
    m->drive[e->axis] = e->direction;
    m->on_at[e->axis] = e->time;
}

static void check_off(mind *m, const slew_event *e)
{
    is_so(m, m->drive[e->axis] == e->direction && e->direction != 0, "it was not on so");
    is_so(m, e->time <= m->on_at[e->axis] + m->setup->controller.move_limit, "past the limit");
    if (m->moves[e->axis] > 0 && (m->stage == MOVES || m->stage == DEPLOYS))
        is_so(m, e->time <= m->on_at[e->axis] + fabs(seconds_of(m)[e->axis]), "past its seconds");
    m->drive[e->axis] = 0;
    m->off_at = e->time;
    if (m->stage == LIFTS && e->time == m->on_at[E] + m->scenario->stow.lift_first)
        begin_moves(m, SEEKS_FIRST);
}

static void check_home(mind *m, const slew_event *e)
{
    is_so(m, m->stage == SEEKS_FIRST || m->stage == SEEKS_SECOND, "nobody seeks it");
    is_so(m, e->axis == sought(m), "of the other axis");
    is_so(m, m->setup->axis[e->axis].home.present, "of a sensor that is not there");
    begin_moves(m, m->stage == SEEKS_FIRST ? SEEKS_SECOND : MOVES);
}

/* ---- motion ---- */

static void check_moving(mind *m, const slew_event *e)
{
    is_so(m, !m->moving[e->axis], "it moves already");
    is_so(m, m->drive[e->axis] && e->direction == true_way(m, e->axis, m->drive[e->axis]),
          "not as it is driven");
    const slew_range *stops = &m->setup->axis[e->axis].stops;
    is_so(m, e->angle[e->axis] != (e->direction > 0 ? stops->high : stops->low),
          "through its stop");
    m->moving[e->axis] = e->direction;
    m->stop[e->axis] = 0;
}

static void check_contact(mind *m, const slew_event *e)
{
    const slew_range *stops = &m->setup->axis[e->axis].stops;
    is_so(m, m->moving[e->axis] == e->direction && e->direction != 0, "it did not move there");
    is_so(m, e->angle[e->axis] == (e->direction > 0 ? stops->high : stops->low), "not at its stop");
    is_so(m, e->energy >= 0, "energy is made");
    m->moving[e->axis] = 0;
    m->stop[e->axis] = e->direction;
}

static void check_rest(mind *m, const slew_event *e)
{
    is_so(m, m->moving[e->axis] != 0, "it rests already");
    m->moving[e->axis] = 0;
}

/* a sensor that the deploy day moves is told before anything of the deploy */
static void check_switch(mind *m, const slew_event *e, bool closes)
{
    is_so(m, m->closed[e->axis] != closes, "it is so already");
    is_so(m, e->direction == m->moving[e->axis], "not the way it moves");
    if (e->direction == 0) {
        is_so(m, m->stage == STOWED && !m->moving[!e->axis], "the axis rests");
        m->setup = &m->prepared->deploy_setup;
    }
    m->closed[e->axis] = closes;
}

/* ---- supervision ---- */

static void check_stall(const mind *m, const slew_event *e)
{
    const slew_controller_settings *c = &m->setup->controller;
    is_so(m, m->drive[e->axis] == e->direction && e->direction != 0, "it is not driven so");
    is_so(m, e->time >= m->on_at[e->axis] + c->stall_blank + c->stall_dwell, "too early");
}

static void check_box(mind *m, const slew_event *e, bool enters)
{
    is_so(m, e->box >= 0 && e->box < m->scenario->keepout.count, "of no box");
    is_so(m, m->inside[e->box] != enters, "it is so already");
    m->inside[e->box] = enters;
    for (int j = 0; j < SLEW_AXES && enters; j++) {
        const slew_range *r = &m->scenario->keepout.box[e->box].axis[j];
        is_so(m, e->angle[j] >= r->low && e->angle[j] <= r->high, "the barrel is not in the box");
    }
}

static void check_done(mind *m)
{
    const bool deploys = m->stage == STOWED || m->stage == DEPLOYS;
    is_so(m, !m->drive[R] && !m->drive[E] && !m->failed, "not yet");
    is_so(m, m->stage >= MOVES && m->stage < DEPLOYED, "home is not found");
    if (m->stage == STOWED)
        begin_moves(m, DEPLOYS), m->setup = &m->prepared->deploy_setup;
    for (int j = 0; j < SLEW_AXES; j++)
        is_so(m, (m->moves[j] > 0) == (seconds_of(m)[j] != 0), "an axis has not been moved");
    m->stage = deploys ? DEPLOYED : STOWED;
}

static void check_fault(mind *m, const slew_event *e)
{
    const slew_controller_settings *c = &m->setup->controller;
    is_so(m, !m->drive[R] && !m->drive[E], "a drive is on");
    is_so(m, !m->failed && m->stage != DEPLOYED, "all is over already");
    is_so(m, e->fault > SLEW_FAULT_NONE && e->fault < SLEW_FAULT_COUNT, "which");
    is_so(m, m->browned_out == (e->fault == SLEW_FAULT_UNDERVOLTAGE), "without its brownout");
    if (e->fault == SLEW_FAULT_TIMEOUT)
        is_so(m, e->time == m->on_at[e->axis] + c->move_limit, "not at the limit");
    if (e->fault == SLEW_FAULT_CANCELLED)
        is_so(m, e->time == m->setup->stow_cancel_at && m->stage < STOWED, "nobody cancelled");
    if (e->fault == SLEW_FAULT_HARD_STOP)
        is_so(m, m->stop[e->axis] != 0 || slew_stop_under(m->setup, e->axis, e->angle[e->axis]),
              "it is on no stop");
    m->browned_out = false;
    m->failed = true;
}

/* ---- one after the other ---- */

static void check_event(mind *m, const slew_event *e)
{
    switch (e->kind) {
    case SLEW_EVENT_DRIVE_ON:
        check_on(m, e);
        break;
    case SLEW_EVENT_DRIVE_OFF:
        check_off(m, e);
        break;
    case SLEW_EVENT_MOVING:
        check_moving(m, e);
        break;
    case SLEW_EVENT_AT_REST:
        check_rest(m, e);
        break;
    case SLEW_EVENT_SWITCH_CLOSED:
    case SLEW_EVENT_SWITCH_OPEN:
        check_switch(m, e, e->kind == SLEW_EVENT_SWITCH_CLOSED);
        break;
    case SLEW_EVENT_HOME_FOUND:
        check_home(m, e);
        break;
    case SLEW_EVENT_STOP_CONTACT:
        check_contact(m, e);
        break;
    case SLEW_EVENT_STALL:
        check_stall(m, e);
        break;
    case SLEW_EVENT_LOW_VOLTAGE:
        is_so(m, !m->warned, "told twice");
        m->warned = true;
        break;
    case SLEW_EVENT_BROWNOUT:
        is_so(m, !m->browned_out && !m->failed, "told twice");
        m->browned_out = true;
        break;
    case SLEW_EVENT_KEEPOUT_ENTERED:
    case SLEW_EVENT_KEEPOUT_LEFT:
        check_box(m, e, e->kind == SLEW_EVENT_KEEPOUT_ENTERED);
        break;
    case SLEW_EVENT_DONE:
        check_done(m);
        break;
    case SLEW_EVENT_FAULT:
        check_fault(m, e);
        break;
    case SLEW_EVENT_DOES_NOT_HOLD:
        is_so(m, e->direction != 0, "no way to move");
        m->stands = true;
        break;
    default:
        is_so(m, false, "no such event");
    }
}

static mind at_the_start(const slew_scenario *scenario, const slew_prepared *prepared)
{
    mind m = {.scenario = scenario,
              .prepared = prepared,
              .setup = &prepared->stow_setup,
              .stage = scenario->stow.lift_first > 0 ? LIFTS : SEEKS_FIRST,
              .off_at = -INFINITY,
              .moved_last = SLEW_NO_AXIS};
    for (int j = 0; j < SLEW_AXES; j++) {
        const slew_home *home = &prepared->stow.axis[j].home;
        m.angle[j] = m.setup->axis[j].start;
        m.stop[j] = m.angle[j] == m.setup->axis[j].stops.low    ? -1
                    : m.angle[j] == m.setup->axis[j].stops.high ? 1
                                                                : 0;
        m.closed[j] =
            home->present && (home->stuck || fabs(m.angle[j] - home->angle) <= home->operate);
    }
    return m;
}

void random_check_order(const slew_scenario *scenario, const slew_prepared *prepared,
                        const story *run)
{
    mind m = at_the_start(scenario, prepared);
    for (int i = 0; i < run->count; i++) {
        const slew_event *e = m.at = &run->event[i];
        check_any(&m, e);
        check_event(&m, e);
        m.time = e->time;
        memcpy(m.angle, e->angle, sizeof m.angle);
    }
    assert_true(m.stands || (!m.drive[R] && !m.drive[E] && !m.moving[R] && !m.moving[E]));
}

/* ---- the result ---- */

static void check_part(const slew_setup *setup, const slew_part *part, bool done)
{
    assert_int_equal(part->says == SLEW_STOWED || part->says == SLEW_DEPLOYED, done);
    assert_int_equal(part->says == SLEW_FAULTED, part->fault != SLEW_FAULT_NONE);
    assert_true(part->duration >= 0 || isnan(part->duration));
    for (int j = 0; j < SLEW_AXES; j++)
        assert_true(part->angle[j] >= setup->axis[j].stops.low - PLACE &&
                    part->angle[j] <= setup->axis[j].stops.high + PLACE);
}

static void check_visits(const story *run)
{
    const slew_result *r = &run->result;
    assert_int_equal(r->visit_count, count_of(run, SLEW_EVENT_KEEPOUT_ENTERED, ANY_AXIS));
    for (int i = 0; i < r->visit_count && i < SLEW_KEEPOUT_VISITS_MAX; i++) {
        const slew_event *e = nth(run, SLEW_EVENT_KEEPOUT_ENTERED, ANY_AXIS, i);
        assert_true(r->visit[i].box == e->box && r->visit[i].entered == e->time);
        assert_true(r->visit[i].left >= e->time);
    }
}

static void check_meters(const story *run)
{
    const slew_result *r = &run->result;
    assert_true(isfinite(r->end + r->lowest_voltage + r->peak_current + r->charge));
    assert_true(isfinite(r->stored[R] + r->stored[E]));
    assert_true(r->lowest_loaded_voltage >= r->lowest_voltage);
    for (int i = 0; i < run->count; i++) {
        const slew_event *e = &run->event[i];
        assert_true(e->time <= r->end);
        assert_true(e->voltage >= r->lowest_voltage && e->current <= r->peak_current);
    }
}

void random_check_result(const slew_scenario *scenario, const slew_prepared *prepared,
                         const story *run)
{
    const slew_result *r = &run->result;
    const bool deploys = scenario->deploy.given;
    const int done = count_of(run, SLEW_EVENT_DONE, ANY_AXIS);
    assert_in_range(done, 0, deploys ? 2 : 1);
    check_part(&prepared->stow_setup, &r->stow, done > 0);
    check_part(deploys ? &prepared->deploy_setup : &prepared->stow_setup, &r->deploy, done > 1);
    assert_int_equal(count_of(run, SLEW_EVENT_FAULT, ANY_AXIS),
                     (r->stow.fault != SLEW_FAULT_NONE) + (r->deploy.fault != SLEW_FAULT_NONE));
    assert_int_equal(count_of(run, SLEW_EVENT_DOES_NOT_HOLD, ANY_AXIS) > 0,
                     !r->stow.holds || !r->deploy.holds);
    check_visits(run);
    check_meters(run);
}
