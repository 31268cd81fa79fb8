/* demands.c - the demands themselves, and which of them one run misses. */
#include "slewtime/demands.h"

#define WORD(name, word, at_least) word,
const char *slew_demand_word(slew_demand demand)
{
    static const char *const words[] = {SLEW_DEMANDS(WORD)};
    return (unsigned)demand < SLEW_DEMAND_COUNT ? words[demand] : "?";
}
#undef WORD

#define AT_LEAST(name, word, at_least) at_least,
bool slew_demand_is_at_least(slew_demand demand)
{
    static const bool flags[] = {SLEW_DEMANDS(AT_LEAST)};
    return (unsigned)demand < SLEW_DEMAND_COUNT && flags[demand];
}
#undef AT_LEAST

double slew_demand_limit(const slew_demands *d, slew_demand demand)
{
    if (d == NULL)
        return NAN;
    const double limits[SLEW_DEMAND_COUNT] = {d->keepout_entered,    d->hard_stop,
                                              d->other_fault,        1 - d->deploy_inside,
                                              1 - d->stow_on_target, d->below_floor};
    return limits[demand];
}

/* ---- one run ---- */

static bool stows(slew_parts parts)
{
    return parts != SLEW_DEPLOY_ONLY;
}

static bool deploys(const slew_scenario *s, slew_parts parts)
{
    return s->deploy.given && parts != SLEW_STOW_ONLY;
}

bool slew_demand_is_asked(const slew_scenario *s, slew_parts parts, slew_demand demand)
{
    if (s == NULL)
        return false;
    switch (demand) {
    case SLEW_DEMAND_KEEPOUT:
        return s->keepout.count > 0;
    case SLEW_DEMAND_DEPLOY:
        return deploys(s, parts);
    case SLEW_DEMAND_STOW:
        return stows(parts) && s->stow.has_point;
    default:
        return true;
    }
}

static bool is_stopped(const slew_setup *setup, const slew_part *part)
{
    return part->fault == SLEW_FAULT_HARD_STOP || slew_pressed_axis(setup, part) != SLEW_NO_AXIS;
}

static bool fails_otherwise(const slew_part *part)
{
    bool faulted = part->says == SLEW_FAULTED && part->fault != SLEW_FAULT_HARD_STOP;
    return faulted || !part->holds;
}

unsigned slew_demands_missed(const slew_scenario *s, const slew_prepared *p, slew_parts parts,
                             const slew_result *r)
{
    if (s == NULL || p == NULL || r == NULL)
        return 0;
    const slew_part *stow = &r->stow, *deploy = &r->deploy;
    const bool missed[SLEW_DEMAND_COUNT] = {
        [SLEW_DEMAND_KEEPOUT] = r->visit_count > 0,
        [SLEW_DEMAND_STOP] =
            is_stopped(&p->stow_setup, stow) || is_stopped(&p->deploy_setup, deploy),
        [SLEW_DEMAND_FAULT] = fails_otherwise(stow) || fails_otherwise(deploy),
        [SLEW_DEMAND_DEPLOY] =
            !(deploy->says == SLEW_DEPLOYED && deploy->holds && deploy->on_target),
        [SLEW_DEMAND_STOW] = !(stow->says == SLEW_STOWED && stow->holds && stow->on_target),
        [SLEW_DEMAND_FLOOR] = r->below_floor};
    unsigned mask = 0;
    for (int d = 0; d < SLEW_DEMAND_COUNT; d++)
        if (missed[d] && slew_demand_is_asked(s, parts, (slew_demand)d))
            mask |= 1u << d;
    return mask;
}

unsigned slew_demands_missed_untaught(const slew_scenario *s, slew_parts parts)
{
    if (s == NULL)
        return 0;
    unsigned mask = 1u << SLEW_DEMAND_FAULT;
    if (slew_demand_is_asked(s, parts, SLEW_DEMAND_DEPLOY))
        mask |= 1u << SLEW_DEMAND_DEPLOY;
    if (slew_demand_is_asked(s, parts, SLEW_DEMAND_STOW))
        mask |= 1u << SLEW_DEMAND_STOW;
    return mask;
}
