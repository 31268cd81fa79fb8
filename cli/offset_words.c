/* offset_words.c - the findings of `slewtime offset` in sentences. */
#include <math.h>
#include <stdarg.h>
#include <string.h>

#include "finding.h"
#include "offset.h"
#include "story.h"

static double percent(double share)
{
    return 100 * share;
}

/* ---- building a sentence ---- */

static void add(char text[CLI_SENTENCE_MAX], const char *format, ...)
{
    size_t length = strlen(text);
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(text + length, CLI_SENTENCE_MAX - length, format, arguments);
    va_end(arguments);
}

static void add_seconds(char *text, const double seconds[SLEW_AXES])
{
    add(text, "rotation %+.2f s, elevation %+.2f s", seconds[SLEW_ROTATION],
        seconds[SLEW_ELEVATION]);
}

static void add_share(char *text, const slew_share *s)
{
    add(text, "%.2f %% (%.2f to %.2f)", percent(s->value), percent(s->low), percent(s->high));
}

const slew_offset_choice *cli_offset_best(const cli_offset *a)
{
    return &a->offset->choice[a->offset->best];
}

const char *cli_finer_words(slew_finer_step step)
{
    static const char *const words[] = {"half the steps", "a tenth of the steps", "any time"};
    return words[step];
}

/* ---- drivers ---- */

void cli_driver_name(const slew_scenario *s, const slew_driver *driver,
                     char name[CLI_DRIVER_NAME_MAX])
{
    static const char *const of[] = {"truck", "day of the stow", "day of the deploy"};
    const char *whose =
        driver->drawn.of == SLEW_OF_DAY && s->deploy.same_day ? "day" : of[driver->drawn.of];
    snprintf(name, CLI_DRIVER_NAME_MAX, "%s, %s", slew_key_at(driver->drawn.key)->path, whose);
}

/* the first row whose words the path has; a row about a whole branch comes after its twigs */
const char *cli_driver_remedy(int key)
{
    static const struct {
        const char *part, *remedy;
    } rows[] = {
        {"supply.feed", "a thicker or shorter cable, with fewer and better joints"},
        {"supply.shared_load", "less other equipment on the same cable, or a thicker one"},
        {"supply.", "a steadier supply voltage at the controller"},
        {"environment.temperature", "a grease that stiffens less in the cold"},
        {"environment.tilt", "a truck that stands level"},
        {"grease.", "one grease, and one that stiffens less in the cold"},
        {"nozzle.", "moving without water, or at one flow and pressure"},
        {"controller.", "finer or steadier settings of the controller"},
        {".start", "an approach that meets the home sensor always from the same side"},
        {".home.", "a home sensor with a narrower and steadier window"},
        {".approach", "one approach to the home sensor"},
        {".motor.", "motors that are more alike, or seconds set for each truck"},
        {".gear.", "gears that are more alike, or seconds set for each truck"},
        {".load.", "less friction and weight, or a barrel in better balance"},
    };
    const char *path = slew_key_at(key)->path;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        if (strstr(path, rows[i].part) != NULL)
            return rows[i].remedy;
    return "keeping it the same";
}

void cli_driver_order(const slew_drivers *drivers, int axis, int order[SLEW_DRIVERS_MAX])
{
    for (int i = 0; i < drivers->count; i++) {
        int at = i;
        double total = drivers->driver[i].total[axis].value;
        for (; at > 0 && drivers->driver[order[at - 1]].total[axis].value < total; at--)
            order[at] = order[at - 1];
        order[at] = i;
    }
}

/* what drives the axis most, and what could be done about it */
static void add_driver(char *text, const cli_offset *a, int axis)
{
    int order[SLEW_DRIVERS_MAX];
    char name[CLI_DRIVER_NAME_MAX];
    if (a->drivers == NULL || !(a->drivers->deviation[axis] > 0))
        return;
    cli_driver_order(a->drivers, axis, order);
    const slew_driver *most = &a->drivers->driver[order[0]];
    cli_driver_name(a->scenario, most, name);
    add(text, " What drives it most is %s (%.0f %% of the variance): %s, or a wider target.", name,
        percent(most->total[axis].value), cli_driver_remedy(most->drawn.key));
}

/* ---- faults ---- */

void cli_fault_name(const slew_usual_fault *f, char name[CLI_FAULT_NAME_MAX])
{
    bool of_axis = f->axis != SLEW_NO_AXIS;
    snprintf(name, CLI_FAULT_NAME_MAX, "%s%s%s in the %s", slew_fault_word(f->fault),
             of_axis ? " on " : "", of_axis ? slew_axis_word(f->axis) : "",
             f->in_stow ? "stow" : "deploy");
}

static void add_fault(char *text, const slew_usual_fault *f)
{
    char name[CLI_FAULT_NAME_MAX];
    cli_fault_name(f, name);
    add(text, "%s", name);
}

static const char *why_it_stands(const slew_usual_fault *f, int axis)
{
    if (f->fault == SLEW_FAULT_NONE)
        return "the controller notices nothing, its drive does not reach the stall current or not "
               "for long enough";
    if (f->fault == SLEW_FAULT_UNDERVOLTAGE)
        return "the supply breaks down under the drive";
    if (f->fault == SLEW_FAULT_CANCELLED)
        return "the operator cancels before its turn";
    if (f->axis != axis)
        return "the run ends before its turn";
    if (f->fault == SLEW_FAULT_HARD_STOP)
        return "it is driven into the hard stop on which it stands";
    return "it is driven and does not break away: too weak a motor, too much friction, or too "
           "little voltage";
}

static void say_never_moves(const cli_offset *a, int axis, char *text)
{
    const slew_usual_fault *f = &cli_offset_best(a)->usual_fault;
    add(text, "The %s never moves%s, in any sample of any choice: ", slew_axis_word(axis),
        a->offset->moves[axis] ? " in the deploy" : "");
    if (f->fault != SLEW_FAULT_NONE) {
        add(text, "the controller says ");
        add_fault(text, f);
        add(text, " in %.2f %%; ", percent(f->share.value));
    }
    add(text, "%s.", why_it_stands(f, axis));
}

static void add_no_seconds(char *text, const cli_offset *a)
{
    add(text, "No choice of seconds reaches %g %%: with any time it is ", percent(a->wanted));
    add_share(text, &a->finer->at[SLEW_FINER_ANY].inside);
    add(text, ". ");
}

static void say_faults(const cli_offset *a, slew_finer_step step, char *text)
{
    bool left = step == SLEW_FINER_ANY; /* whatever the seconds */
    const slew_offset_choice *c = left ? &a->finer->at[step] : cli_offset_best(a);
    const slew_usual_fault *f = &c->usual_fault;
    if (left)
        add_no_seconds(text, a);
    add(text, "The controller%s faults in %.2f %% of the cases, mostly ", left ? " then" : "",
        percent(c->fault.value));
    add_fault(text, f);
    add(text, " (%.2f %%: %s)%s.", percent(f->share.value), cli_fault_in_words(f->fault),
        f->in_stow ? "; no choice of seconds changes the stow" : "");
}

/* ---- places ---- */

static void say_never_inside(const cli_offset *a, int axis, char *text)
{
    const slew_range *target = &a->scenario->deploy.target[axis];
    const slew_offset_choice *c =
        &a->offset->choice[slew_offset_nearest(a->scenario, a->offset, axis)];
    double miss = slew_target_miss(a->scenario, axis, c->angle[axis].median);
    add(text,
        "No choice lands the %s inside its target of %.4g to %.4g deg, in any sample. The nearest, "
        "%+.2f s, has its median at %.2f deg",
        slew_axis_word(axis), cli_degrees(target->low), cli_degrees(target->high), c->seconds[axis],
        cli_degrees(c->angle[axis].median));
    if (miss != 0)
        add(text, ", %.2f deg %s it", fabs(cli_degrees(miss)), miss < 0 ? "below" : "above");
    if (a->finer == NULL)
        add(text, ".");
    else if (isnan(a->finer->needed[axis]))
        add(text, "; no seconds up to the move limit land it there.");
    else
        add(text, "; about %+.2f s would be needed.", a->finer->needed[axis]);
}

static void say_not_driven(const cli_offset *a, int axis, char *text)
{
    const slew_offset_choice *best = cli_offset_best(a);
    add(text,
        "No choice drives the %s in the deploy: it rests where it was stowed, at %.2f deg (median),"
        " outside its target in %.2f %% of the cases. Another stow point, another target or "
        "seconds of its own would have to help.",
        slew_axis_word(axis), cli_degrees(best->angle[axis].median),
        percent(best->outside[axis].value));
}

static void say_other_seconds(const cli_offset *a, const slew_advice *advice, char *text)
{
    const slew_offset_choice *c = &a->finer->at[advice->step];
    add(text, "%s %s would do: ",
        advice->kind == SLEW_ADVICE_TOO_COARSE ? "The choices are too coarse."
                                               : "The choices do not reach the right seconds.",
        advice->step == SLEW_FINER_HALF    ? "Half the present steps"
        : advice->step == SLEW_FINER_TENTH ? "A tenth of the present steps"
                                           : "Freely chosen times");
    add_seconds(text, c->seconds);
    add(text, ", inside in ");
    add_share(text, &c->inside);
    add(text, ".");
}

static void say_too_wide(const cli_offset *a, int axis, char *text)
{
    const slew_offset_choice *any = &a->finer->at[SLEW_FINER_ANY];
    const slew_range *target = &a->scenario->deploy.target[axis];
    double width = cli_degrees(target->high - target->low);
    double spread = cli_degrees(any->angle[axis].p95 - any->angle[axis].p05);
    add_no_seconds(text, a);
    add(text, "5 to 95 %% of the %s then span %.2f deg, %s the target, which is %.4g deg wide.",
        slew_axis_word(axis), spread, spread > width ? "more than" : "too much for", width);
    if (any->fault.value > 0) {
        add(text, " In %.2f %% the controller faults, mostly ", percent(any->fault.value));
        add_fault(text, &any->usual_fault);
        add(text, ".");
    }
    add_driver(text, a, axis);
}

static void say_keepout(const cli_offset *a, char *text)
{
    const slew_offset_choice *best = cli_offset_best(a);
    const slew_usual_box *box = &best->usual_box;
    bool alike = a->offset->count > 1;
    for (int i = 0; i < a->offset->count; i++)
        alike = alike && a->offset->choice[i].keepout.value == best->keepout.value;
    add(text, "It enters the keep-out \"%s\" in %.2f %% of the cases",
        a->scenario->keepout.box[box->box].name, percent(box->share.value));
    if (best->keepout.value > box->share.value)
        add(text, ", some keep-out in %.2f %%", percent(best->keepout.value));
    add(text, "%s.", alike ? "; so does every choice: other seconds do not change it" : "");
}

static void say_enough(const cli_offset *a, char *text)
{
    add(text, "That is good enough: %g %% are wanted%s.", percent(a->wanted),
        cli_offset_best(a)->inside.low >= a->wanted
            ? ""
            : ", though the interval reaches below; more samples would tell");
}

void cli_offset_say(const cli_offset *a, const slew_advice *advice, char text[CLI_SENTENCE_MAX])
{
    text[0] = '\0';
    switch (advice->kind) {
    case SLEW_ADVICE_ENOUGH:
        say_enough(a, text);
        break;
    case SLEW_ADVICE_NEVER_MOVES:
        say_never_moves(a, advice->axis, text);
        break;
    case SLEW_ADVICE_FAULTS:
        say_faults(a, advice->step, text);
        break;
    case SLEW_ADVICE_NO_VERDICT:
        add(text,
            "In %.2f %% of the cases an axis is moved by its own load with the drive off: gear or "
            "balance would have to help, not the seconds.",
            percent(cli_offset_best(a)->no_verdict.value));
        break;
    case SLEW_ADVICE_NEVER_INSIDE:
        say_never_inside(a, advice->axis, text);
        break;
    case SLEW_ADVICE_NOT_DRIVEN:
        say_not_driven(a, advice->axis, text);
        break;
    case SLEW_ADVICE_OTHER_SECONDS:
    case SLEW_ADVICE_TOO_COARSE:
        say_other_seconds(a, advice, text);
        break;
    case SLEW_ADVICE_TOO_WIDE:
        say_too_wide(a, advice->axis, text);
        break;
    default:
        say_keepout(a, text);
    }
}

/* ---- the runner-up ---- */

static void say_ahead(const slew_offset *o, const slew_offset_choice *next, char *text)
{
    add(text, "It is most often inside; the runner-up, ");
    add_seconds(text, next->seconds);
    add(text, ", is so in %.2f %%, %.2f points less (%.2f to %.2f)", percent(next->inside.value),
        percent(o->lead.value), percent(o->lead.low), percent(o->lead.high));
    if (!(o->lead.low > 0))
        add(text, ": %ld samples can't tell the two apart", o->samples);
    add(text, ".");
}

static void say_level(const slew_offset *o, const slew_offset_choice *next, char *text)
{
    const slew_offset_choice *best = &o->choice[o->best];
    add(text, "The runner-up, ");
    add_seconds(text, next->seconds);
    add(text, ", is inside as often: %ld samples can't tell the two apart%s.", o->samples,
        next->fault.value > best->fault.value       ? ", but it has more faults"
        : next->keepout.value > best->keepout.value ? ", but it enters more keep-outs"
                                                    : "");
}

void cli_offset_say_lead(const cli_offset *a, char text[CLI_SENTENCE_MAX])
{
    const slew_offset *o = a->offset;
    text[0] = '\0';
    if (o->runner_up < 0)
        add(text, "It is the only choice.");
    else if (!(cli_offset_best(a)->inside.value > 0))
        add(text, "No choice lands inside; this one has the fewest faults and keep-outs, then "
                  "medians nearest to the target.");
    else if (o->lead.value > 0)
        say_ahead(o, &o->choice[o->runner_up], text);
    else
        say_level(o, &o->choice[o->runner_up], text);
}
