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

void slew_landing_run(const slew_scenario *trial, const slew_prepared *prepared, double *figures)
{
    slew_result r;
    slew_run_prepared(trial, prepared, SLEW_STOW_AND_DEPLOY, NULL, &r);
    for (int j = 0; j < SLEW_AXES; j++)
        figures[SLEW_LANDING_ANGLE + j] = r.deploy.angle[j];
    figures[SLEW_LANDING_END] = end_of(&r);
    figures[SLEW_LANDING_BOXES] = boxes_of(&r);
    figures[SLEW_LANDING_MOVED] = moves_of(prepared, &r);
}

static bool has_deployed(double end)
{
    return end == SLEW_LANDED_INSIDE || end == SLEW_LANDED_OUTSIDE;
}

double slew_target_miss(const slew_scenario *scenario, int axis, double angle)
{
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
    return slew_share_of(e, t->room, t->sampling);
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
}

/* the less, the better */
static void weigh(const slew_scenario *scenario, const slew_offset_choice *c,
                  double demerit[SLEW_MERIT_COUNT])
{
    demerit[SLEW_MERIT_INSIDE] = -c->inside.value;
    demerit[SLEW_MERIT_FAULT] = c->fault.value;
    demerit[SLEW_MERIT_KEEPOUT] = c->keepout.value;
    demerit[SLEW_MERIT_MEDIANS] = 0;
    for (int j = 0; j < SLEW_AXES; j++)
        demerit[SLEW_MERIT_MEDIANS] += fabs(slew_target_miss(scenario, j, c->angle[j].median));
}

/* the first merit in which they differ, and whether `a` is the better one in it */
static slew_merit compare(const slew_scenario *scenario, const slew_offset_choice *a,
                          const slew_offset_choice *b, bool *is_better)
{
    double of_a[SLEW_MERIT_COUNT], of_b[SLEW_MERIT_COUNT];
    int merit = 0;
    weigh(scenario, a, of_a);
    weigh(scenario, b, of_b);
    while (merit < SLEW_MERIT_COUNT && of_a[merit] == of_b[merit])
        merit++;
    *is_better = merit < SLEW_MERIT_COUNT && of_a[merit] < of_b[merit];
    return (slew_merit)merit;
}

slew_merit slew_offset_decides(const slew_scenario *scenario, const slew_offset_choice *a,
                               const slew_offset_choice *b)
{
    bool is_better;
    return compare(scenario, a, b, &is_better);
}

bool slew_landing_is_better(const slew_scenario *scenario, const slew_offset_choice *a,
                            const slew_offset_choice *b)
{
    bool is_better;
    compare(scenario, a, b, &is_better);
    return is_better;
}
