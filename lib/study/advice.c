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

/* it makes at least half of what is not inside */
static bool prevails(double share, const slew_offset_choice *c)
{
    return share > 0 && share >= (1 - c->inside.value) / 2;
}

/* of the best choice, or of what is left with any time */
static bool keeps_from(const findings *f, double of_best, double of_any)
{
    bool left = f->any != NULL && f->any->inside.value < f->wanted;
    return prevails(of_best, f->best) || (left && prevails(of_any, f->any));
}

/* some choice drives this axis */
static bool is_driven(const slew_deploy *deploy, int axis)
{
    for (int i = 0; i < deploy->choice_count[axis]; i++)
        if (deploy->choices[axis][i] != 0)
            return true;
    return false;
}

/* it stands still although it is driven, or a fault says that it should have been */
static bool never_moves(const findings *f, int axis)
{
    const slew_offset *o = f->offset;
    if (is_driven(&f->scenario->deploy, axis))
        return !o->deploy_moves[axis] && (o->ever_stowed || !o->moves[axis]);
    return !o->moves[axis] && f->best->fault.value > 0 && !o->ever_deployed;
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

/* the axis that is outside most often whatever the seconds; none if faults are more often */
static int widest_axis(const slew_offset_choice *any)
{
    const slew_share *outside = any->outside;
    int axis = outside[SLEW_ROTATION].value > outside[SLEW_ELEVATION].value ? SLEW_ROTATION
                                                                            : SLEW_ELEVATION;
    bool most = outside[axis].value > 0 && outside[axis].value >= any->fault.value &&
                outside[axis].value >= any->no_verdict.value;
    return most ? axis : SLEW_NO_AXIS;
}

int slew_offset_nearest(const slew_scenario *scenario, const slew_offset *offset, int axis)
{
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
            say(l, SLEW_ADVICE_NEVER_INSIDE, j, 0);
        if (!is_driven(deploy, j) && prevails(f->best->outside[j].value, f->best))
            say(l, SLEW_ADVICE_NOT_DRIVEN, j, 0);
    }
}

static void say_of_seconds(const findings *f, const slew_finer *finer, list *l)
{
    for (int k = 0; k < SLEW_FINER_COUNT; k++) {
        const slew_offset_choice *c = &finer->at[k];
        if (c->inside.value < f->wanted)
            continue;
        bool inner = all_between(&f->scenario->deploy, c->seconds);
        say(l, inner ? SLEW_ADVICE_TOO_COARSE : SLEW_ADVICE_OTHER_SECONDS, SLEW_NO_AXIS,
            (slew_finer_step)k);
        return;
    }
    int axis = widest_axis(f->any);
    if (axis != SLEW_NO_AXIS && !never_moves(f, axis))
        say(l, SLEW_ADVICE_TOO_WIDE, axis, 0);
}

static void say_what_to_change(const findings *f, const slew_finer *finer, bool still, list *l)
{
    const slew_offset_choice *best = f->best, *any = f->any != NULL ? f->any : best;
    if (!still && keeps_from(f, best->fault.value, any->fault.value))
        say(l, SLEW_ADVICE_FAULTS, SLEW_NO_AXIS, 0);
    if (!still && keeps_from(f, best->no_verdict.value, any->no_verdict.value))
        say(l, SLEW_ADVICE_NO_VERDICT, SLEW_NO_AXIS, 0);
    say_of_axes(f, l);
    if (finer != NULL)
        say_of_seconds(f, finer, l);
}

int slew_offset_advise(const slew_scenario *scenario, const slew_offset *offset,
                       const slew_finer *finer, double wanted, slew_advice out[SLEW_ADVICE_MAX])
{
    const findings f = {scenario, offset, &offset->choice[offset->best],
                        finer != NULL ? &finer->at[SLEW_FINER_ANY] : NULL, wanted};
    list l = {out, 0};
    bool still = false;
    for (int j = 0; j < SLEW_AXES; j++)
        if (never_moves(&f, j)) {
            say(&l, SLEW_ADVICE_NEVER_MOVES, j, 0);
            still = true;
        }
    if (f.best->inside.value >= wanted)
        say(&l, SLEW_ADVICE_ENOUGH, SLEW_NO_AXIS, 0);
    else
        say_what_to_change(&f, finer, still, &l);
    if (f.best->keepout.value > 0)
        say(&l, SLEW_ADVICE_KEEPOUT, SLEW_NO_AXIS, 0);
    return l.count;
}
