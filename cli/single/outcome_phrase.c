/* outcome_phrase.c - see outcome_phrase.h. */
#include "outcome_phrase.h"

#include "outcome_sentence.h"
#include "tell/append.h"
#include "tell/units.h"

typedef struct clause {
    const cli_single *single;
    char *text;
} clause;

#define SAY(clause, ...) cli_append((clause)->text, CLI_PHRASE_MAX, __VA_ARGS__)

/* ---- which axis tells most ---- */

typedef struct place {
    int axis, direction; /* of the stop, or of the miss */
    double distance;     /* [deg] */
} place;

/* the nearer stop of an axis, from where it rests after the stow */
static place stop_of(const cli_single *single, int axis)
{
    const slew_range *stops = &single->prepared.stow_setup.axis[axis].stops;
    double angle = single->result.stow.angle[axis];
    double low = cli_degrees(angle - stops->low), high = cli_degrees(stops->high - angle);
    return (place){axis, low < high ? -1 : +1, fmin(low, high)};
}

static place nearest_stop(const cli_single *single)
{
    place rotation = stop_of(single, SLEW_ROTATION), elevation = stop_of(single, SLEW_ELEVATION);
    return rotation.distance < elevation.distance ? rotation : elevation;
}

/* by how much an angle lies outside a range, on the axis that is further out */
static place worst_miss(const double angle[SLEW_AXES], const slew_range range[SLEW_AXES])
{
    place worst = {.axis = SLEW_ELEVATION, .direction = 1};
    for (int axis = 0; axis < SLEW_AXES; axis++) {
        double below = cli_degrees(range[axis].low - angle[axis]);
        double above = cli_degrees(angle[axis] - range[axis].high);
        if (fmax(below, above) > worst.distance)
            worst = (place){axis, below > above ? -1 : +1, fmax(below, above)};
    }
    return worst;
}

static place miss_of_point(const cli_single *single)
{
    const double *point = single->scenario->stow.point;
    slew_range at[SLEW_AXES];
    for (int axis = 0; axis < SLEW_AXES; axis++)
        at[axis] = (slew_range){point[axis], point[axis]};
    return worst_miss(single->result.stow.angle, at);
}

/* ---- the parts of a sentence ---- */

/* a part without the verdict that it was to have; false: it has it */
static bool say_failure(const clause *c, const slew_part *part, const char *where)
{
    if (part->says == SLEW_STOWED || part->says == SLEW_DEPLOYED)
        return false;
    if (part->says == SLEW_NOT_RUN) {
        SAY(c, "%s%s", part->holds ? "reports nothing" : "does not hold", where);
        return true;
    }
    SAY(c, "faults%s: %s", where, slew_fault_in_words(part->fault));
    if (part->axis != SLEW_NO_AXIS)
        SAY(c, ", %s", slew_axis_word(part->axis));
    if (isfinite(part->duration))
        SAY(c, " after %.1f s", part->duration);
    return true;
}

static void say_stow(const clause *c)
{
    const cli_single *single = c->single;
    const slew_part *stow = &single->result.stow;
    int pressed = cli_pressed_axis(single, stow);
    if (say_failure(c, stow, ""))
        return;
    if (pressed != SLEW_NO_AXIS) {
        place stop = stop_of(single, pressed);
        SAY(c, "reports stowed, but %s is jammed against its %s", slew_axis_word(pressed),
            cli_stop_in_words(pressed, stop.direction));
    } else if (stow->has_target && !stow->on_target) {
        place miss = miss_of_point(single), stop = stop_of(single, miss.axis);
        SAY(c, "reports stowed, but %s rests %.*f° off its stow point, %.1f° clear of its %s",
            slew_axis_word(miss.axis), miss.distance < 0.1 ? 3 : 1, miss.distance, stop.distance,
            cli_stop_in_words(stop.axis, stop.direction));
    } else {
        place stop = nearest_stop(single);
        SAY(c, "is stowed%s, %s %.1f° clear of its %s", stow->has_target ? " on its point" : "",
            slew_axis_word(stop.axis), stop.distance, cli_stop_in_words(stop.axis, stop.direction));
    }
}

static void say_deploy(const clause *c)
{
    const slew_part *deploy = &c->single->result.deploy;
    int pressed = cli_pressed_axis(c->single, deploy);
    if (say_failure(c, deploy, " in the deploy"))
        return;
    if (pressed != SLEW_NO_AXIS) {
        int stop =
            slew_stop_under(&c->single->prepared.deploy_setup, pressed, deploy->angle[pressed]);
        SAY(c, "reports deployed, but %s is jammed against its %s", slew_axis_word(pressed),
            cli_stop_in_words(pressed, stop));
        return;
    }
    if (deploy->on_target) {
        SAY(c, "deploys inside its target");
        return;
    }
    place miss = worst_miss(deploy->angle, c->single->scenario->deploy.target);
    SAY(c, "deploys %s to %.1f°, %.1f° %s its target", slew_axis_word(miss.axis),
        cli_tenths(deploy->angle[miss.axis]), miss.distance,
        miss.direction < 0 ? "short of" : "beyond");
}

static void say_trouble(const clause *c)
{
    const slew_result *r = &c->single->result;
    if (r->visit_count > 0)
        SAY(c, "; enters a keep-out zone");
    if (r->below_floor)
        SAY(c, "; falls below its minimum voltage");
}

void cli_outcome_phrase(const cli_single *single, char text[CLI_PHRASE_MAX])
{
    const clause c = {single, text};
    bool deploys = cli_single_deploy_begun(single);
    text[0] = '\0';
    if (cli_single_stows(single))
        say_stow(&c);
    if (cli_single_stows(single) && deploys)
        SAY(&c, "; ");
    if (deploys)
        say_deploy(&c);
    say_trouble(&c);
}

/* ---- the same in a line of 80 ---- */

static void brief_stow(const clause *c)
{
    const slew_part *stow = &c->single->result.stow;
    int pressed = cli_pressed_axis(c->single, stow);
    if (say_failure(c, stow, ""))
        return;
    if (pressed != SLEW_NO_AXIS)
        SAY(c, "%s jammed on its %s, reported stowed", slew_axis_word(pressed),
            cli_stop_in_words(pressed, stop_of(c->single, pressed).direction));
    else if (stow->has_target && !stow->on_target) {
        place miss = miss_of_point(c->single);
        SAY(c, "stows %s %.*f° off its point", slew_axis_word(miss.axis),
            miss.distance < 0.1 ? 3 : 1, miss.distance);
    } else {
        place stop = nearest_stop(c->single);
        SAY(c, "stows%s, %.1f° from the %s", stow->has_target ? " on its point" : "", stop.distance,
            cli_stop_in_words(stop.axis, stop.direction));
    }
}

static void brief_deploy(const clause *c)
{
    const slew_part *deploy = &c->single->result.deploy;
    int pressed = cli_pressed_axis(c->single, deploy);
    if (say_failure(c, deploy, " in the deploy"))
        return;
    if (pressed != SLEW_NO_AXIS)
        SAY(c, "%s jammed, reported deployed", slew_axis_word(pressed));
    else if (deploy->on_target)
        SAY(c, "deploys inside");
    else {
        place miss = worst_miss(deploy->angle, c->single->scenario->deploy.target);
        SAY(c, "deploys %.1f° %s", miss.distance, miss.direction < 0 ? "short" : "beyond");
    }
}

void cli_outcome_brief(const cli_single *single, char text[CLI_PHRASE_MAX])
{
    const clause c = {single, text};
    const slew_result *r = &single->result;
    bool deploys = cli_single_deploy_begun(single);
    text[0] = '\0';
    if (cli_single_stows(single))
        brief_stow(&c);
    if (cli_single_stows(single) && deploys)
        SAY(&c, "; ");
    if (deploys)
        brief_deploy(&c);
    SAY(&c, "%s%s", r->visit_count > 0 ? "; keep-out zone" : "",
        r->below_floor ? "; low voltage" : "");
}
