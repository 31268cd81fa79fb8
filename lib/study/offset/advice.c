/* advice.c - what the findings of an offset say should be changed. */
#include "slewtime/offset.h"

#define WORD(name, word) word,
const char *slew_advice_word(slew_advice_kind kind)
{
    static const char *const words[] = {SLEW_ADVICES(WORD)};
    return (unsigned)kind < SLEW_ADVICE_KIND_COUNT ? words[kind] : "?";
}
#undef WORD

/* ---- what is so ---- */

typedef struct findings {
    const slew_scenario *scenario;
    const slew_offset *offset;
    const slew_offset_choice *best, *any; /* any: NULL if it was not asked */
    double wanted;
} findings;

bool slew_offset_is_enough(const slew_offset_choice *choice, double wanted)
{
    if (choice == NULL)
        return false;
    return choice->inside.value >= wanted;
}

/* it makes at least half of what is not inside */
static bool prevails(double share, const slew_offset_choice *c)
{
    return share > 0 && share >= (1 - c->inside.value) / 2;
}

/* some choice drives this axis */
static bool is_driven(const slew_deploy *deploy, int axis)
{
    for (int i = 0; i < deploy->choice_count[axis]; i++)
        if (deploy->choices[axis][i] != 0)
            return true;
    return false;
}

/* the controller blames this axis, or the supply that no axis can do without */
static bool is_blamed(const findings *f, int axis)
{
    const slew_usual_fault *fault = &f->best->usual_fault;
    return fault->fault == SLEW_FAULT_UNDERVOLTAGE ||
           (fault->fault != SLEW_FAULT_NONE && fault->axis == axis);
}

/* It stands still in every deploy although a choice drives it, or in the stow and is blamed for it;
 * an axis that is not to be driven may stand still. */
static bool never_moves(const findings *f, int axis)
{
    const slew_offset *o = f->offset;
    if (o->ever_stowed)
        return is_driven(&f->scenario->deploy, axis) && !o->deploy_moves[axis];
    return !o->moves[axis] && is_blamed(f, axis);
}

static bool is_between(const slew_deploy *deploy, int axis, double seconds)
{
    double low = INFINITY, high = -INFINITY;
    for (int i = 0; i < deploy->choice_count[axis]; i++) {
        low = fmin(low, deploy->choices[axis][i]);
        high = fmax(high, deploy->choices[axis][i]);
    }
    return low <= seconds && seconds <= high;
}

static bool all_between(const slew_deploy *deploy, const double seconds[SLEW_AXES])
{
    return is_between(deploy, SLEW_ROTATION, seconds[SLEW_ROTATION]) &&
           is_between(deploy, SLEW_ELEVATION, seconds[SLEW_ELEVATION]);
}

/* the axis that is outside most often whatever the seconds; none if what faults or slips is more
 * than twice as often */
static int widest_axis(const slew_offset_choice *any)
{
    const slew_share *outside = any->outside;
    int axis = outside[SLEW_ROTATION].value > outside[SLEW_ELEVATION].value ? SLEW_ROTATION
                                                                            : SLEW_ELEVATION;
    double most = outside[axis].value;
    return most > 0 && 2 * most >= any->fault.value + any->no_verdict.value ? axis : SLEW_NO_AXIS;
}

int slew_offset_nearest(const slew_scenario *scenario, const slew_offset *offset, int axis)
{
    if (scenario == NULL || offset == NULL)
        return 0;
    int nearest = 0;
    double least = INFINITY;
    for (int i = 0; i < offset->count; i++) {
        double miss = fabs(slew_target_miss(scenario, axis, offset->choice[i].angle[axis].median));
        if (miss < least) {
            least = miss;
            nearest = i;
        }
    }
    return nearest;
}

/* ---- what to say ---- */

typedef struct list {
    slew_advice *item;
    int count;
} list;

static void say(list *l, slew_advice_kind kind, int axis, slew_finer_step step)
{
    l->item[l->count++] = (slew_advice){kind, axis, step};
}

static void say_of_axes(const findings *f, list *l)
{
    const slew_deploy *deploy = &f->scenario->deploy;
    for (int j = 0; j < SLEW_AXES; j++) {
        if (never_moves(f, j))
            continue;
        if (f->offset->ever_deployed && !f->offset->ever_inside[j])
            say(l, SLEW_ADVICE_NEVER_INSIDE, j, SLEW_FINER_COUNT);
        if (!is_driven(deploy, j) && prevails(f->best->outside[j].value, f->best))
            say(l, SLEW_ADVICE_NOT_DRIVEN, j, SLEW_FINER_COUNT);
    }
}

static void say_of_seconds(const findings *f, const slew_finer *finer, list *l)
{
    for (int k = 0; k < SLEW_FINER_COUNT; k++) {
        const slew_offset_choice *c = &finer->at[k];
        if (!slew_offset_is_enough(c, f->wanted))
            continue;
        bool inner = all_between(&f->scenario->deploy, c->seconds);
        say(l, inner ? SLEW_ADVICE_TOO_COARSE : SLEW_ADVICE_OTHER_SECONDS, SLEW_NO_AXIS,
            (slew_finer_step)k);
        return;
    }
    int axis = widest_axis(f->any);
    if (axis == SLEW_NO_AXIS && !prevails(f->best->fault.value, f->best) && f->any->fault.value > 0)
        say(l, SLEW_ADVICE_FAULTS, SLEW_NO_AXIS, SLEW_FINER_ANY);
    if (axis != SLEW_NO_AXIS && !never_moves(f, axis))
        say(l, SLEW_ADVICE_TOO_WIDE, axis, SLEW_FINER_ANY);
}

static void say_what_to_change(const findings *f, const slew_finer *finer, bool still, list *l)
{
    if (!still && prevails(f->best->fault.value, f->best))
        say(l, SLEW_ADVICE_FAULTS, SLEW_NO_AXIS, SLEW_FINER_COUNT);
    if (!still && prevails(f->best->no_verdict.value, f->best))
        say(l, SLEW_ADVICE_NO_VERDICT, SLEW_NO_AXIS, SLEW_FINER_COUNT);
    say_of_axes(f, l);
    if (finer != NULL)
        say_of_seconds(f, finer, l);
}

int slew_offset_advise(const slew_scenario *scenario, const slew_offset *offset,
                       const slew_finer *finer, double wanted, slew_advice out[SLEW_ADVICE_MAX])
{
    if (scenario == NULL || offset == NULL || out == NULL || offset->choice == NULL)
        return 0;
    const findings f = {scenario, offset, &offset->told[SLEW_TOLD_BEST],
                        finer != NULL ? &finer->at[SLEW_FINER_ANY] : NULL, wanted};
    list l = {out, 0};
    bool still = false;
    for (int j = 0; j < SLEW_AXES; j++)
        if (never_moves(&f, j)) {
            say(&l, SLEW_ADVICE_NEVER_MOVES, j, SLEW_FINER_COUNT);
            still = true;
        }
    if (slew_offset_is_enough(f.best, wanted))
        say(&l, SLEW_ADVICE_ENOUGH, SLEW_NO_AXIS, SLEW_FINER_COUNT);
    else
        say_what_to_change(&f, finer, still, &l);
    if (f.best->keepout.value > 0)
        say(&l, SLEW_ADVICE_KEEPOUT, SLEW_NO_AXIS, SLEW_FINER_COUNT);
    return l.count;
}
