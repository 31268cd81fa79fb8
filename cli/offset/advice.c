/* advice.c - what `slewtime offset` advises, as sentences. */
#include <string.h>

#include "answer.h"
#include "single/outcome_sentence.h"
#include "tell/append.h"
#include "tell/key_words.h"
#include "tell/units.h"

enum { ROOM = CLI_OFFSET_TEXT_MAX };

/* ---- parts of sentences ---- */

static void add_axis(char *text, int axis)
{
    cli_append(text, ROOM, "%s", axis == SLEW_ROTATION ? "Rotation" : "Elevation");
}

static void add_target(const cli_offset *a, int axis, char *text)
{
    const slew_range *target = &a->scenario->deploy.target[axis];
    cli_append(text, ROOM, "%.4g° to %.4g°", cli_degrees(target->low), cli_degrees(target->high));
}

static void add_inside(const slew_offset_choice *c, char *text)
{
    cli_append(text, ROOM, "inside in %.2f %%", cli_percent(c->inside.value));
    if (!c->judged.certain)
        cli_append(text, ROOM, " (95 %% interval %.2f to %.2f)", cli_percent(c->inside.low),
                   cli_percent(c->inside.high));
    cli_append(text, ROOM, ".");
}

static void add_usual_fault(const slew_usual_fault *f, char *text)
{
    if (f->axis != SLEW_NO_AXIS)
        cli_append(text, ROOM, "%s ", slew_axis_word(f->axis));
    cli_append(text, ROOM, "%s", slew_fault_in_words(f->fault));
    cli_append(text, ROOM, " in the %s", f->in_stow ? "stow" : "deploy");
}

static void say_never_moves(const cli_offset *a, int axis, char *text)
{
    const slew_offset_choice *best = a->best;
    const slew_usual_fault *f = &best->usual_fault;
    bool own = f->fault != SLEW_FAULT_NONE && f->axis == axis;
    add_axis(text, axis);
    cli_append(text, ROOM, " never moves%s, on no simulated day with any choice. Likely reason: ",
               a->offset.moves[axis] ? " in the deploy" : "");
    if (own && f->fault == SLEW_FAULT_HARD_STOP)
        cli_append(
            text, ROOM,
            "it rests on a hard stop and is driven against it; the signs of the seconds or the "
            "wires of its motor are the wrong way round.");
    else if (own)
        cli_append(text, ROOM,
                   "its motor is on and does not start it (%s): too little torque at the voltage "
                   "that is left for its friction, load or cold grease, or it is blocked.",
                   slew_fault_in_words(f->fault));
    else if (f->fault != SLEW_FAULT_NONE) {
        cli_append(text, ROOM, "a fault ends the run before: ");
        add_usual_fault(f, text);
        cli_append(text, ROOM, ".");
    } else if (best->no_verdict.value > 0)
        cli_append(text, ROOM,
                   "an axis does not hold against its load, which ends the run before.");
    else
        cli_append(text, ROOM,
                   "its seconds are too short to start it, or its motor is too weak for friction "
                   "and load.");
}

static void add_no_seconds(const cli_offset *a, char *text)
{
    cli_append(text, ROOM, "No seconds reach %.10g %%%s: the best of any time is ",
               cli_percent(a->wanted),
               a->finer.held_back[SLEW_FINER_ANY] ? " and keep to the other demands" : "");
    add_inside(&a->finer.at[SLEW_FINER_ANY], text);
}

/* of the best choice, or of what is left with the best of any time */
static void say_faults(const cli_offset *a, slew_finer_step step, char *text)
{
    bool left = step == SLEW_FINER_ANY;
    const slew_offset_choice *c = left ? &a->finer.at[step] : a->best;
    const slew_usual_fault *f = &c->usual_fault;
    if (left)
        add_no_seconds(a, text);
    cli_append(text, ROOM, "%s: %.2f %% of the simulated days, most often ",
               left ? " Faults are what is left then" : "Faults are what keeps it from the target",
               cli_percent(c->fault.value));
    add_usual_fault(f, text);
    cli_append(text, ROOM, ", %.2f %%.", cli_percent(f->share.value));
    if (!left && a->has_finer && !slew_offset_is_enough(&a->finer.at[SLEW_FINER_ANY], a->wanted))
        cli_append(text, ROOM, " Other seconds don't cure that.");
    if (f->fault == SLEW_FAULT_HARD_STOP && f->in_stow)
        cli_append(text, ROOM, " `slewtime margin` says which clearance the stow point needs.");
}

static void say_never_inside(const cli_offset *a, int axis, char *text)
{
    const slew_offset_choice *c =
        &a->offset.choice[slew_offset_nearest(a->scenario, &a->offset, axis)];
    double median = c->angle[axis].median, miss = slew_target_miss(a->scenario, axis, median);
    add_axis(text, axis);
    cli_append(text, ROOM, " is never inside ");
    add_target(a, axis, text);
    cli_append(
        text, ROOM,
        ", on no simulated day with any choice. The nearest, %+.2f s, rests at %.2f° (median)",
        c->seconds[axis], cli_degrees(median));
    if (miss != 0)
        cli_append(text, ROOM, ", %.2f° %s", cli_degrees(fabs(miss)), miss < 0 ? "below" : "above");
    if (!a->has_finer)
        cli_append(text, ROOM, ".");
    else if (isnan(a->finer.needed[axis]))
        cli_append(text, ROOM, "; no time up to the move limit lands it there.");
    else
        cli_append(text, ROOM, "; it would need about %+.2f s.", a->finer.needed[axis]);
}

static void say_not_driven(const cli_offset *a, int axis, char *text)
{
    const slew_offset_choice *best = a->best;
    add_axis(text, axis);
    cli_append(text, ROOM,
               " is moved by no choice: it rests where the stow leaves it, at %.2f° (median), "
               "and that is outside ",
               cli_degrees(best->angle[axis].median));
    add_target(a, axis, text);
    cli_append(text, ROOM,
               " in %.2f %%. Its stow angle is off: teach another point, or offer seconds for it.",
               cli_percent(best->outside[axis].value));
}

static const char *step_words(slew_finer_step step)
{
    static const char *const words[] = {[SLEW_FINER_HALF] = "in half of the present steps",
                                        [SLEW_FINER_TENTH] = "in a tenth of the present steps",
                                        [SLEW_FINER_ANY] = "with any time"};
    return words[step];
}

static void say_seconds(const cli_offset *a, const slew_advice *advice, char *text)
{
    const slew_offset_choice *c = &a->finer.at[advice->step];
    cli_append(text, ROOM, "%s: %s ",
               advice->kind == SLEW_ADVICE_TOO_COARSE ? "The choices are too coarse"
                                                      : "The choices do not reach far enough",
               step_words(advice->step));
    cli_offset_add_seconds(text, c->seconds);
    cli_append(text, ROOM, " would be ");
    add_inside(c, text);
    if (c->judged.meets == SLEW_MEETS_NOT) {
        cli_append(text, ROOM, " It ");
        cli_judged_add_all(&c->judged, SLEW_MEETS_NOT, text, ROOM);
        cli_append(text, ROOM, ".");
    }
}

/* what could be done about a key; of several rows the first whose part its path has */
static const char *remedy_of(int key)
{
    static const struct {
        const char *part, *remedy;
    } rows[] = {
        {"supply.feed", "a thicker or shorter cable, with fewer and better connections"},
        {"supply.shared_load", "less other equipment on the same cable, or a thicker one"},
        {"supply.", "a steadier supply voltage"},
        {"environment.temperature", "a grease that stiffens less in the cold"},
        {"environment.tilt", "a base that stands level"},
        {"grease.", "one grease, and one that stiffens less in the cold"},
        {"nozzle.", "moving without water, or at one flow and pressure"},
        {"controller.", "steadier settings of the controller"},
        {".start", "an approach that meets the home sensor always from the same side"},
        {".home.", "a home sensor whose window is narrower or steadier"},
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

static void add_driver(const cli_offset *a, int axis, char *text)
{
    const slew_drivers *d = &a->drivers;
    if (!cli_offset_varies(a, axis)) {
        cli_append(text, ROOM, " A wider target or a narrower spread would have to help.");
        return;
    }
    const slew_driver *first = &d->driver[d->order[axis][0]];
    char words[CLI_KEY_WORDS_MAX];
    cli_key_words(first->drawn.key, words);
    cli_append(text, ROOM,
               " What changes it most is the %s of the %s, %.0f %% of its variance: %s would help, "
               "or a wider target.",
               words, cli_offset_of_word(&first->drawn),
               cli_percent(fmin(first->total[axis].value, 1)), remedy_of(first->drawn.key));
}

static void say_too_wide(const cli_offset *a, int axis, char *text)
{
    const slew_offset_choice *any = &a->finer.at[SLEW_FINER_ANY];
    const slew_range *target = &a->scenario->deploy.target[axis];
    const slew_summary *angle = &any->angle[axis];
    add_no_seconds(a, text);
    cli_append(text, ROOM,
               " The %s then spreads over %.2f° from 5 to 95 %% and over %.2f° at all; the target "
               "is %.4g° "
               "wide.",
               slew_axis_word(axis), cli_degrees(angle->p95 - angle->p05),
               cli_degrees(angle->highest - angle->lowest),
               cli_degrees(target->high - target->low));
    if (any->fault.value > 0) {
        cli_append(text, ROOM, " In %.2f %% the controller faults, most often ",
                   cli_percent(any->fault.value));
        add_usual_fault(&any->usual_fault, text);
        cli_append(text, ROOM, ".");
    }
    add_driver(a, axis, text);
}

/* other seconds do not change it */
static bool all_enter_alike(const slew_offset *o)
{
    for (int i = 1; i < o->count; i++)
        if (o->choice[i].keepout.value != o->choice[0].keepout.value)
            return false;
    return o->count > 1;
}

static void say_keepout(const cli_offset *a, char *text)
{
    const slew_offset_choice *best = a->best;
    const slew_usual_box *usual = &best->usual_box;
    if (usual->box >= 0)
        cli_append(text, ROOM, "Most often it is %s: in %.2f %% of the simulated days",
                   a->scenario->keepout.box[usual->box].name, cli_percent(usual->share.value));
    else
        cli_append(text, ROOM, "A keep-out zone is entered in %.2f %% of the simulated days",
                   cli_percent(best->keepout.value));
    cli_append(text, ROOM, "%s.",
               all_enter_alike(&a->offset) ? "; so with every other choice" : "");
}

void cli_offset_say(const cli_offset *a, const slew_advice *advice, char text[CLI_OFFSET_TEXT_MAX])
{
    text[0] = '\0';
    switch (advice->kind) {
    case SLEW_ADVICE_NEVER_MOVES:
        say_never_moves(a, advice->axis, text);
        break;
    case SLEW_ADVICE_FAULTS:
        say_faults(a, advice->step, text);
        break;
    case SLEW_ADVICE_NO_VERDICT:
        cli_append(
            text, ROOM,
            "An axis does not hold against its load in %.2f %% of the simulated days: friction and "
            "gear let the barrel sink.",
            cli_percent(a->best->no_verdict.value));
        break;
    case SLEW_ADVICE_NEVER_INSIDE:
        say_never_inside(a, advice->axis, text);
        break;
    case SLEW_ADVICE_NOT_DRIVEN:
        say_not_driven(a, advice->axis, text);
        break;
    case SLEW_ADVICE_OTHER_SECONDS:
    case SLEW_ADVICE_TOO_COARSE:
        say_seconds(a, advice, text);
        break;
    case SLEW_ADVICE_TOO_WIDE:
        say_too_wide(a, advice->axis, text);
        break;
    case SLEW_ADVICE_KEEPOUT:
        say_keepout(a, text);
        break;
    default:
        cli_append(text, ROOM, "The best choice is inside as often as wanted, %.10g %%.",
                   cli_percent(a->wanted));
    }
}
