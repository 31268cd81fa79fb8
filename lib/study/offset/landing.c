/* landing.c - see landing.h. */
#include "study/offset/landing.h"

#include "study/sampling/summary.h"

/* ---- one run ---- */

enum { PLACES = 2 * (SLEW_AXES + 1), CODES = SLEW_LANDED_FAULTED + SLEW_FAULT_COUNT * PLACES };

/* a fault with its axis and part in one number */
static int code_of_fault(slew_fault fault, int axis, bool in_stow)
{
    return SLEW_LANDED_FAULTED + (int)fault * PLACES + 2 * (axis + 1) + in_stow;
}

static int end_of(const slew_result *r)
{
    if (r->stow.says == SLEW_FAULTED)
        return code_of_fault(r->stow.fault, r->stow.axis, true);
    if (r->deploy.says == SLEW_FAULTED)
        return code_of_fault(r->deploy.fault, r->deploy.axis, false);
    if (r->deploy.says != SLEW_DEPLOYED || !r->deploy.holds)
        return SLEW_LANDED_NOWHERE;
    return r->deploy.on_target ? SLEW_LANDED_INSIDE : SLEW_LANDED_OUTSIDE;
}

static unsigned boxes_of(const slew_result *r)
{
    unsigned mask = 0;
    for (int i = 0; i < r->visit_count && i < SLEW_KEEPOUT_VISITS_MAX; i++)
        mask |= 1u << r->visit[i].box;
    return mask;
}

static unsigned moves_of(const slew_prepared *p, const slew_result *r)
{
    unsigned mask = r->stow.says == SLEW_STOWED && r->stow.holds ? 1u << 2 * SLEW_AXES : 0;
    for (int j = 0; j < SLEW_AXES; j++) {
        bool deploy = r->deploy.angle[j] != r->stow.angle[j];
        if (deploy || r->stow.angle[j] != p->stow_setup.axis[j].start)
            mask |= 1u << j;
        if (deploy)
            mask |= 1u << (SLEW_AXES + j);
    }
    return mask;
}

void slew_landing_run(slew_deploys *deploys, const double seconds[SLEW_AXES], double *figures)
{
    slew_result r;
    const slew_prepared *prepared = deploys->prepared;
    slew_deploys_run(deploys, seconds, &r);
    for (int j = 0; j < SLEW_AXES; j++)
        figures[SLEW_LANDING_ANGLE + j] = r.deploy.angle[j];
    figures[SLEW_LANDING_END] = end_of(&r);
    figures[SLEW_LANDING_BOXES] = boxes_of(&r);
    figures[SLEW_LANDING_MOVED] = moves_of(prepared, &r);
    figures[SLEW_LANDING_MISSED] =
        slew_demands_missed(deploys->scenario, prepared, SLEW_STOW_AND_DEPLOY, &r);
}

static bool has_deployed(double end)
{
    return end == SLEW_LANDED_INSIDE || end == SLEW_LANDED_OUTSIDE;
}

double slew_target_miss(const slew_scenario *scenario, int axis, double angle)
{
    if (scenario == NULL || axis < 0 || axis >= SLEW_AXES)
        return NAN;
    const slew_range *target = &scenario->deploy.target[axis];
    return angle < target->low ? angle - target->low : fmax(angle - target->high, 0);
}

bool slew_landing_is_inside(const slew_scenario *scenario, const double *figures, int axis)
{
    return has_deployed(figures[SLEW_LANDING_END]) &&
           slew_target_miss(scenario, axis, figures[SLEW_LANDING_ANGLE + axis]) == 0;
}

/* ---- all of them ---- */

typedef struct tellers {
    const slew_scenario *scenario;
    const slew_ensemble *ensemble;
    const slew_sampling *sampling;
    int first;
    double *room;
} tellers;

/* one question to a run's figures; `which` is the axis, code or box asked about */
typedef bool question(const tellers *t, const double *figures, int which);

static slew_share share_of(const tellers *t, question *is_so, int which)
{
    const slew_ensemble *e = t->ensemble;
    for (int64_t i = 0; i < e->done; i++) {
        const double *figures = e->figure + i * e->count + t->first;
        bool ran = !isnan(figures[SLEW_LANDING_END]);
        t->room[i] = ran ? is_so(t, figures, which) : NAN;
    }
    slew_share share = slew_share_of(e, t->room, t->sampling);
    return e->dimensions > 0 ? share : (slew_share){share.value, share.value, share.value};
}

static bool ends_with(const tellers *t, const double *figures, int code)
{
    (void)t;
    return figures[SLEW_LANDING_END] == code;
}

static bool faults(const tellers *t, const double *figures, int which)
{
    (void)t;
    (void)which;
    return figures[SLEW_LANDING_END] >= SLEW_LANDED_FAULTED;
}

static bool is_outside(const tellers *t, const double *figures, int axis)
{
    return has_deployed(figures[SLEW_LANDING_END]) &&
           !slew_landing_is_inside(t->scenario, figures, axis);
}

static bool enters(const tellers *t, const double *figures, int box)
{
    (void)t;
    return ((unsigned)figures[SLEW_LANDING_BOXES] >> box & 1) != 0;
}

static bool enters_any(const tellers *t, const double *figures, int which)
{
    (void)t;
    (void)which;
    return figures[SLEW_LANDING_BOXES] != 0;
}

static slew_usual_fault usual_fault(const tellers *t)
{
    int64_t count[CODES] = {0};
    const slew_ensemble *e = t->ensemble;
    for (int64_t i = 0; i < e->done; i++) {
        double end = e->figure[i * e->count + t->first + SLEW_LANDING_END];
        if (end >= SLEW_LANDED_FAULTED)
            count[(int)end]++;
    }
    int most = SLEW_LANDED_FAULTED;
    for (int code = most; code < CODES; code++)
        if (count[code] > count[most])
            most = code;
    if (count[most] == 0)
        return (slew_usual_fault){SLEW_FAULT_NONE, SLEW_NO_AXIS, false, share_of(t, faults, 0)};
    int place = (most - SLEW_LANDED_FAULTED) % PLACES;
    return (slew_usual_fault){(slew_fault)((most - SLEW_LANDED_FAULTED) / PLACES), place / 2 - 1,
                              place % 2 != 0, share_of(t, ends_with, most)};
}

static slew_usual_box usual_box(const tellers *t)
{
    slew_usual_box most = {-1, share_of(t, enters_any, 0)};
    for (int box = 0; box < t->scenario->keepout.count; box++) {
        slew_share share = share_of(t, enters, box);
        if (share.value > 0 && (most.box < 0 || share.value > most.share.value))
            most = (slew_usual_box){box, share};
    }
    return most;
}

static slew_judgment judgment(const tellers *t)
{
    const slew_ensemble *e = t->ensemble;
    int64_t misses[SLEW_DEMAND_COUNT] = {0};
    unsigned untaught = slew_demands_missed_untaught(t->scenario, SLEW_STOW_AND_DEPLOY);
    slew_judgment judged = {0};
    for (int64_t i = 0; i < e->done; i++) {
        double missed = e->figure[i * e->count + t->first + SLEW_LANDING_MISSED];
        unsigned mask = isnan(missed) ? untaught : (unsigned)missed;
        for (int d = 0; d < SLEW_DEMAND_COUNT; d++)
            misses[d] += mask >> d & 1;
    }
    if (e->done > 0)
        slew_demands_judge(t->scenario, SLEW_STOW_AND_DEPLOY, misses, e->done, e->refused, &judged);
    return judged;
}

static double room_of(const slew_scenario *scenario, const slew_summary angle[SLEW_AXES])
{
    double room = INFINITY;
    for (int j = 0; j < SLEW_AXES; j++) {
        const slew_range *target = &scenario->deploy.target[j];
        room = fmin(room, fmin(angle[j].p05 - target->low, target->high - angle[j].p95));
    }
    return room;
}

void slew_landing_conclude(const slew_scenario *scenario, const slew_ensemble *e, int first,
                           const slew_sampling *sampling, double *room, slew_offset_choice *out)
{
    const tellers t = {scenario, e, sampling, first, room};
    for (int j = 0; j < SLEW_AXES; j++) {
        int64_t count = slew_sorted_figure(e, first + SLEW_LANDING_ANGLE + j, room);
        out->angle[j] = slew_summarise(room, count);
        out->outside[j] = share_of(&t, is_outside, j);
    }
    out->inside = share_of(&t, ends_with, SLEW_LANDED_INSIDE);
    out->fault = share_of(&t, faults, 0);
    out->no_verdict = share_of(&t, ends_with, SLEW_LANDED_NOWHERE);
    out->keepout = share_of(&t, enters_any, 0);
    out->usual_fault = usual_fault(&t);
    out->usual_box = usual_box(&t);
    out->judged = judgment(&t);
    out->room = room_of(scenario, out->angle);
}
