/* margin_ladder.c - see margin_ladder.h. */
#include "study/margin/margin_ladder.h"

#include "study/sampling/weighted.h"

enum { FEW = 2, RARE_STEPS = 2 }; /* one in FEW samples does for the steps that are not rare */
static const double confidence = 0.95;

/* the clearance that the ladder leads up to [grid steps] */
static int top_of(const slew_margin_need *need, int last)
{
    double top = isfinite(need->enough) ? need->enough : need->unseen;
    int steps = isfinite(top) ? (int)lround(top / SLEW_MARGIN_GRID) : last;
    return steps < SLEW_MARGIN_FIRST ? SLEW_MARGIN_FIRST : steps;
}

/* geometric, rounded to the grid, each further than the one before; the last but one is the top
 * unless that is nearer than a step for each */
static int build_ladder(int top, int last, int step[SLEW_MARGIN_STEPS])
{
    double growth = pow((double)top / SLEW_MARGIN_FIRST, 1.0 / (SLEW_MARGIN_STEPS - 2));
    int count = 0;
    for (int i = 0; i < SLEW_MARGIN_STEPS; i++) {
        int next = (int)lround(SLEW_MARGIN_FIRST * pow(growth, i));
        if (count > 0 && next <= step[count - 1])
            next = step[count - 1] + 1;
        if (next <= last)
            step[count++] = next;
    }
    return count;
}

/* ---- one step ---- */

/* `next`: of one more hit; NaN: as heavy as any, if none is hit */
static slew_share share_of(const slew_margin_samples *s, int index, double next)
{
    slew_weighted sums = {0};
    double of_hits = 0, of_all = 0;
    for (int64_t i = 0; i < s->ensemble.done; i++) {
        double value = s->ensemble.figure[i * s->ensemble.count + index];
        if (isnan(value))
            continue;
        slew_weighted_add(&sums, s->weight[i], value > 0);
        of_hits = value > 0 ? fmax(of_hits, s->weight[i]) : of_hits;
        of_all = fmax(of_all, s->weight[i]);
    }
    sums.next = of_hits > 0 ? of_hits : isnan(next) ? of_all : next;
    return slew_weighted_share(&sums, (1 + confidence) / 2);
}

/* of the sample that would be hit next at a little less clearance [1] */
static double weight_of_next(const slew_margin_samples *needs, double clearance)
{
    double nearest = -INFINITY, weight = NAN;
    const double *need = needs->ensemble.figure;
    for (int64_t i = 0; i < needs->ensemble.done; i++)
        if (need[i] <= clearance && need[i] >= nearest) {
            weight = need[i] > nearest ? needs->weight[i] : fmax(weight, needs->weight[i]);
            nearest = need[i];
        }
    return weight;
}

static int64_t count_untaught(const slew_ensemble *e, int index)
{
    int64_t count = -e->refused;
    for (int64_t i = 0; i < e->done; i++)
        count += isnan(e->figure[i * e->count + index]);
    return count;
}

static void conclude_step(const slew_margin_samples *s, int first, double next,
                          slew_margin_step *out)
{
    out->samples = s->ensemble.done;
    out->untaught = count_untaught(&s->ensemble, first);
    out->fault = share_of(s, first + SLEW_MARGIN_F_FAULT, next);
    out->pressed = share_of(s, first + SLEW_MARGIN_F_PRESSED, next);
    out->unsafe = share_of(s, first + SLEW_MARGIN_F_UNSAFE, next);
    out->touched = share_of(s, first + SLEW_MARGIN_F_TOUCHED, next);
    out->short_of = share_of(s, first + SLEW_MARGIN_F_SHORT, NAN);
    out->near_to = share_of(s, first + SLEW_MARGIN_F_NEAR, NAN);
    out->other = share_of(s, first + SLEW_MARGIN_F_OTHER, NAN);
}

/* ---- all steps ---- */

/* the steps from `from` on, c->step_count of them */
static slew_status take_steps(const slew_margin_asking *a, slew_margin_case *c,
                              const slew_tail *tail, const slew_margin_samples *needs,
                              int64_t samples, slew_margin_side *out)
{
    slew_margin_samples s = {0};
    slew_status status = SLEW_OK;
    if (c->step_count > 0)
        status = slew_margin_ask(a, c, tail, a->sampling->seed, samples, slew_margin_ask_ladder,
                                 c->step_count * SLEW_MARGIN_FIGURES, &s);
    for (int i = 0; i < c->step_count && slew_margin_has_samples(status, &s); i++) {
        slew_margin_step *step = &out->step[out->step_count++];
        step->clearance = c->step[i] * SLEW_MARGIN_GRID;
        conclude_step(&s, i * SLEW_MARGIN_FIGURES, weight_of_next(needs, c->step[i]), step);
    }
    slew_margin_samples_free(&s);
    return status;
}

slew_status slew_margin_climb(const slew_margin_asking *a, slew_margin_case *c,
                              const slew_tail *tail, const slew_margin_samples *needs,
                              slew_margin_side *out)
{
    int step[SLEW_MARGIN_STEPS] = {0};
    int count = build_ladder(top_of(&out->need, c->last), c->last, step);
    int rare = count < RARE_STEPS ? count : RARE_STEPS;
    int64_t all = needs->ensemble.samples;
    out->step_count = 0;
    c->step = step;
    c->step_count = count - rare;
    slew_status status = take_steps(a, c, tail, needs, (all + FEW - 1) / FEW, out);
    c->step = step + count - rare;
    c->step_count = rare;
    return status == SLEW_OK ? take_steps(a, c, tail, needs, all, out) : status;
}
