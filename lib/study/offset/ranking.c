/* ranking.c - which of two choices is the better one, by slew_merit. */
#include "slewtime/offset.h"

static const double alike = 1e-9; /* shares [1] and angles [rad] that differ by less */

/* ---- against the demands ---- */

static double excess(const slew_demand_state *s)
{
    return s->asked ? fmax(s->missed.value - s->limit, 0) : 0;
}

static double sum_of_excesses(const slew_judgment *j)
{
    double sum = 0;
    for (int d = 0; d < SLEW_DEMAND_COUNT; d++)
        sum += excess(&j->of[d]);
    return sum;
}

/* 0: meets all; 1: not told, but every estimate is within its limit; 2: the rest */
static int kind_of(const slew_judgment *j)
{
    if (j->meets == SLEW_MEETS)
        return 0;
    return sum_of_excesses(j) > 0 ? 2 : 1;
}

/* ---- against the target ---- */

static double distance(const slew_scenario *scenario, const slew_offset_choice *c)
{
    double sum = 0;
    for (int j = 0; j < SLEW_AXES; j++)
        sum += fabs(slew_target_miss(scenario, j, c->angle[j].median));
    return sum;
}

static double off_middle(const slew_scenario *scenario, const slew_offset_choice *c)
{
    double sum = 0;
    for (int j = 0; j < SLEW_AXES; j++) {
        const slew_range *target = &scenario->deploy.target[j];
        sum += fabs(c->angle[j].median - (target->low + target->high) / 2);
    }
    return sum;
}

/* ---- which one ---- */

/* the less, the better */
static void weigh(const slew_scenario *scenario, const slew_offset_choice *c,
                  double demerit[SLEW_MERIT_COUNT])
{
    const slew_judgment *j = &c->judged;
    int kind = kind_of(j);
    demerit[SLEW_MERIT_DEMANDS] = kind;
    demerit[SLEW_MERIT_KEEPOUT] = excess(&j->of[SLEW_DEMAND_KEEPOUT]) > 0;
    demerit[SLEW_MERIT_STOP] = excess(&j->of[SLEW_DEMAND_STOP]) > 0;
    demerit[SLEW_MERIT_FAULT] = excess(&j->of[SLEW_DEMAND_FAULT]) > 0;
    demerit[SLEW_MERIT_EXCESS] = sum_of_excesses(j);
    demerit[SLEW_MERIT_DISTANCE] = kind == 2 ? distance(scenario, c) : 0;
    demerit[SLEW_MERIT_ROOM] = -c->room;
    demerit[SLEW_MERIT_MEDIANS] = off_middle(scenario, c);
}

/* the first merit in which they differ, and whether `a` is the better one in it */
static slew_merit compare(const slew_scenario *scenario, const slew_offset_choice *a,
                          const slew_offset_choice *b, bool *is_better)
{
    double of_a[SLEW_MERIT_COUNT], of_b[SLEW_MERIT_COUNT];
    int merit = 0;
    weigh(scenario, a, of_a);
    weigh(scenario, b, of_b);
    while (merit < SLEW_MERIT_COUNT && !(fabs(of_a[merit] - of_b[merit]) > alike))
        merit++;
    *is_better = merit < SLEW_MERIT_COUNT && of_a[merit] < of_b[merit];
    return (slew_merit)merit;
}

slew_merit slew_offset_decides(const slew_scenario *scenario, const slew_offset_choice *a,
                               const slew_offset_choice *b)
{
    if (scenario == NULL || a == NULL || b == NULL)
        return SLEW_MERIT_COUNT;
    bool is_better;
    return compare(scenario, a, b, &is_better);
}

bool slew_offset_is_better(const slew_scenario *scenario, const slew_offset_choice *a,
                           const slew_offset_choice *b)
{
    if (scenario == NULL || a == NULL || b == NULL)
        return false;
    bool is_better;
    compare(scenario, a, b, &is_better);
    return is_better;
}
