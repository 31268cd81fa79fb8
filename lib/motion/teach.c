/*
 * teach.c - the stored times: what the controller counts while a stow point is taught.
 *
 * M6. The search is run at the teaching conditions; then, one axis after the other, the drive time
 * is sought whose move ends at rest at the point, and rounded to the controller's clock.
 */
#include "motion/teach.h"
#include "error/error.h"
#include "keys/sound.h"
#include "motion/errors.h"
#include "motion/illinois.h"

#include <stdio.h>
#include <string.h>

static const double run_on_limit = 60; /* of an axis after its drive went off [s] */

static slew_status refuse(const slew_teaching *t, int axis, const char *message,
                          const char *expected)
{
    char key[64];
    snprintf(key, sizeof key, "stow.point.%s", slew_axis_word(axis));
    return slew_error_set(t->error, SLEW_ERROR_TEACH, key, message, expected);
}

static const char *way_out(slew_fault fault)
{
    switch (fault) {
    case SLEW_FAULT_HOME_NOT_FOUND:
        return "a home sensor that works while teaching: what has gone wrong since belongs into "
               "the "
               "layer today, for example --today rotation.home.present=no";
    case SLEW_FAULT_TIMEOUT:
        return "an axis that gets there in time while teaching: more voltage, less load, or a "
               "longer "
               "controller.move_limit";
    case SLEW_FAULT_UNDERVOLTAGE:
        return "more voltage at the controller while teaching, for example --teach "
               "supply.main.voltage=12.6V";
    case SLEW_FAULT_HARD_STOP:
    case SLEW_FAULT_OVERLOAD:
        return "a move without a stall while teaching: more clearance, less load, or a higher "
               "controller.stall.current";
    default:
        return "teaching conditions without a fault: what has changed since belongs into the layer "
               "today";
    }
}

/* why the controller gave up while teaching */
static slew_status refuse_fault(const slew_teaching *t, const char *during)
{
    char message[200], key[64] = "stow.point";
    const slew_machine *m = &t->machine;
    if (m->gave_up)
        return slew_error_set(t->error, SLEW_ERROR_PIECES, key, slew_too_many_pieces,
                              slew_fewer_pieces);
    if (!m->holds)
        snprintf(message, sizeof message, "while teaching, %s: an axis does not hold its load",
                 during);
    else
        snprintf(message, sizeof message, "while teaching, %s: %s%s%s", during,
                 m->fault_axis == SLEW_NO_AXIS ? "" : slew_axis_word(m->fault_axis),
                 m->fault_axis == SLEW_NO_AXIS ? "" : ", ", slew_fault_in_words(m->fault));
    if (m->fault_axis != SLEW_NO_AXIS)
        snprintf(key, sizeof key, "stow.point.%s", slew_axis_word(m->fault_axis));
    return slew_error_set(t->error, SLEW_ERROR_TEACH, key, message, way_out(m->fault));
}

static slew_status home(slew_teaching *t)
{
    slew_course *c = &t->course;
    slew_sequence_begin(c, SLEW_TASK_NONE, SLEW_LEG_LIFT, SLEW_LEG_MOVE_FIRST);
    slew_sequence_finish(c);
    if (!slew_sequence_come_to_rest(c))
        return refuse_fault(t, "searching for home");
    return SLEW_OK;
}

/* the rounded time, as the controller drives it */
static slew_status drive_there(slew_teaching *t, int axis, double seconds)
{
    slew_course *c = &t->course;
    double *stored = t->machine.program.stored;
    stored[axis] = seconds;
    stored[!axis] = 0;
    slew_sequence_begin(c, SLEW_TASK_NONE, SLEW_LEG_MOVE_FIRST, SLEW_LEG_END);
    slew_sequence_finish(c);
    if (!slew_sequence_come_to_rest(c))
        return refuse_fault(t, "driving to the point");
    return SLEW_OK;
}

/* ---- one drive time ---- */

/* Lets the plant come to rest; its own events do not matter. */
static void come_to_rest(const slew_plant_model *model, slew_plant *plant, double limit)
{
    while (slew_plant_is_moving(plant) && !slew_plant_is_over(plant) && plant->time < limit)
        slew_plant_advance(model, plant, limit);
}

/* Drives of one axis from the present place, by their length. They begin alike, so that later ones
 * go on from a state of an earlier one. */
typedef struct trials {
    slew_plant_model model; /* with the target as a mark */
    int axis, direction, true_direction;
    double start, target;
    slew_plant begun, kept; /* still driven: at the start, and some time later */
    slew_illinois
        bracket; /* drives [s] that end short of the target (above 0) and beyond it [rad] */
} trials;

/* of a trial nothing is asked but where it ends */
static void ignore_others(slew_plant_model *model)
{
    for (int j = 0; j < SLEW_AXES; j++) {
        model->axis[j].mark_count = 0;
        model->axis[j].home.present = false;
        model->axis[j].watch_current = INFINITY;
    }
    model->watch_voltage[0] = model->watch_voltage[1] = -INFINITY;
}

static void begin_trials(const slew_teaching *t, int axis, int direction, double target, trials *r)
{
    const slew_machine *m = &t->machine;
    r->model = m->model;
    r->axis = axis;
    r->direction = direction;
    r->true_direction = m->model.axis[axis].sign < 0 ? -direction : direction;
    r->start = m->plant.time;
    r->target = target;
    r->bracket.low = 0;
    r->bracket.f_low = (target - m->plant.angle[axis]) * r->true_direction;
    r->bracket.kept = 0;
    ignore_others(&r->model);
    slew_plant_model_watch_angle(&r->model, axis, (slew_mark){target, r->true_direction, 0});
    r->begun = m->plant;
    slew_plant_transfer(&m->model, &r->model, &r->begun);
    slew_plant_drive(&r->model, &r->begun, axis, direction);
    r->kept = r->begun;
}

/* how far beyond the target the axis ends at rest when the drive ends now */
static double end_beyond(const trials *t, slew_plant plant)
{
    double end = plant.time + run_on_limit;
    slew_plant_drive(&t->model, &plant, t->axis, 0);
    come_to_rest(&t->model, &plant, end);
    return (plant.angle[t->axis] - t->target) * t->true_direction;
}

/* the same for a drive of `seconds`; `driven`: just before its end */
static double try_drive(const trials *t, double seconds, slew_plant *driven)
{
    double end = t->start + seconds;
    *driven = end >= t->kept.time ? t->kept : t->begun;
    while (driven->time < end && !slew_plant_is_over(driven))
        slew_plant_advance(&t->model, driven, end);
    return end_beyond(t, *driven);
}

/* Drives until the axis passes the target: a bound of the time sought, which may lie beyond the
 * move limit, since the axis runs on after a drive. false: it does not get there. */
static bool find_bound(trials *t, double longest, slew_plant *driven)
{
    *driven = t->begun;
    while (driven->time < t->start + longest && !slew_plant_is_over(driven)) {
        slew_plant_event event = slew_plant_advance(&t->model, driven, t->start + longest);
        if (event.kind == SLEW_PLANT_MARK && event.axis == t->axis) {
            t->bracket.high = driven->time - t->start;
            t->bracket.f_high = -end_beyond(t, *driven);
            return true;
        }
        t->kept = *driven;
    }
    return false;
}

/* as much less than `high` as the axis takes for what it went too far */
static double first_guess(const trials *t, const slew_plant *driven)
{
    double speed = fabs(slew_plant_output_speed(&t->model, driven, t->axis));
    double guess = t->bracket.high + t->bracket.f_high / speed;
    bool fits = guess > t->bracket.low && guess < t->bracket.high;
    return fits ? guess : slew_illinois_next(&t->bracket);
}

static double round_to_clock(double seconds, double clock)
{
    return clock > 0 ? round(seconds / clock) * clock : seconds;
}

/* true: the clock rounds all times as near to `next` as `tried` to the same one. The secant that
 * gives `next` is nearer by far to the time sought. */
static bool is_settled(double tried, double next, double clock)
{
    double near = fabs(next - tried);
    return clock > 0 && round((next - near) / clock) == round((next + near) / clock);
}

/* the drive time that ends at rest at the target, inside the bracket, as exact as the clock needs
 */
static double drive_time(trials *t, double guess, double clock)
{
    slew_plant driven;
    double middle = guess;
    for (int n = 0; n < 100 && t->bracket.high - t->bracket.low > 1e-13 && t->bracket.f_high < 0;
         n++) {
        double short_by = -try_drive(t, middle, &driven);
        if (fabs(short_by) < 1e-13)
            return middle;
        if (short_by > 0)
            t->kept = driven;
        slew_illinois_take(&t->bracket, middle, short_by);
        double next = slew_illinois_next(&t->bracket);
        if (is_settled(middle, next, clock))
            return next;
        middle = next;
    }
    return t->bracket.high;
}

/* the axis does not pass the point, or nobody could follow it there */
static slew_status refuse_to_arrive(const slew_teaching *t, int axis, const slew_plant *driven)
{
    if (driven->gave_up)
        return slew_error_set(t->error, SLEW_ERROR_PIECES, slew_axis_word(axis),
                              slew_too_many_pieces, slew_fewer_pieces);
    return refuse(t, axis,
                  "the point can't be reached at the teaching conditions: the axis does not get "
                  "there",
                  "a nearer point, more voltage while teaching, or less load");
}

slew_status slew_teaching_axis(slew_teaching *t, int axis, double *stored)
{
    const slew_range *stops = &t->machine.model.axis[axis].stops;
    double target = t->scenario->stow.point[axis], turn = target - t->machine.plant.angle[axis];
    if (!(target > stops->low && target < stops->high))
        return refuse(t, axis, "the point lies on or beyond a hard stop",
                      "a point between the stops, with clearance");
    *stored = 0;
    if (turn == 0)
        return SLEW_OK;
    int direction = turn * t->machine.model.axis[axis].sign > 0 ? 1 : -1;
    trials r;
    slew_plant driven;
    begin_trials(t, axis, direction, target, &r);
    if (!find_bound(&r, t->machine.setup.controller.move_limit + run_on_limit, &driven))
        return refuse_to_arrive(t, axis, &driven);
    double clock = t->machine.setup.controller.clock;
    double seconds = drive_time(&r, first_guess(&r, &driven), clock);
    *stored = direction * round_to_clock(seconds, clock);
    if (fabs(*stored) > t->machine.setup.controller.move_limit)
        return refuse(t, axis, "the point takes a longer drive than the move limit allows",
                      "a nearer point, more voltage while teaching, or a longer "
                      "controller.move_limit");
    return drive_there(t, axis, *stored);
}

int slew_teaching_first(const slew_scenario *scenario)
{
    return scenario->stow.order == SLEW_ELEVATION_FIRST ? SLEW_ELEVATION : SLEW_ROTATION;
}

static void aim(slew_teaching *t)
{
    slew_machine *m = &t->machine;
    t->course = (slew_course){.machine = m, .model = &m->model, .setup = &m->setup};
}

void slew_teaching_copy(const slew_teaching *from, slew_teaching *to)
{
    *to = *from;
    aim(to);
}

slew_status slew_teaching_begin(const slew_scenario *scenario, slew_error *error, slew_teaching *t)
{
    slew_machine *m = &t->machine;
    t->scenario = scenario;
    t->error = error;
    aim(t);
    slew_scenario_resolve(scenario, SLEW_OCCASION_TEACH, &m->setup);
    slew_status status = slew_plant_model_build(&m->setup, &m->model, error);
    if (status == SLEW_OK)
        status = slew_check_setup(&m->setup, error);
    if (status != SLEW_OK)
        return slew_blame_occasion(error, status, scenario, SLEW_OCCASION_TEACH);
    slew_machine_place(&t->course, scenario, NULL);
    return home(t);
}

slew_status slew_teach(const slew_scenario *scenario, double stored[SLEW_AXES], slew_error *error)
{
    if (stored == NULL)
        return slew_no_argument(error);
    if (!slew_is_sound(scenario, error))
        return SLEW_ERROR_INPUT;
    if (scenario->stow.has_times) {
        memcpy(stored, scenario->stow.times, sizeof scenario->stow.times);
        return SLEW_OK;
    }
    slew_teaching t; /* not cleared: most of it is written before it is read, and it is large */
    int first = slew_teaching_first(scenario);
    slew_status status = slew_teaching_begin(scenario, error, &t);
    if (status == SLEW_OK)
        status = slew_teaching_axis(&t, first, &stored[first]);
    if (status == SLEW_OK)
        status = slew_teaching_axis(&t, !first, &stored[!first]);
    return status;
}
