/* window.c - the edges of a home sensor's window, and what is to be minded about it. */
#include "study/window/window.h"

#include "error/error.h"
#include "keys/sound.h"
#include "slewtime/magnet.h"

#include <stddef.h>
#include <stdio.h>

#define PI 3.14159265358979323846

enum { SCAN = 2000, HALVINGS = 100, NARROWINGS = 40, ROUNDS = 3 };

#define WORD(name, word) word,
const char *slew_window_remark_word(slew_window_remark remark)
{
    static const char *const words[] = {SLEW_WINDOW_REMARKS(WORD)};
    return remark >= 0 && remark < SLEW_WINDOW_REMARK_COUNT ? words[remark] : "?";
}
#undef WORD

/* ---- figures ---- */

enum { REMANENCE, DIAMETER, LENGTH, RADIUS, GAP, OPERATE_FLUX, RELEASE_FLUX };

static const struct {
    const char *word;
    size_t offset;
} FIGURES[SLEW_WINDOW_FIGURES] = {
    [REMANENCE] = {"remanence", offsetof(slew_magnet, remanence)},
    [DIAMETER] = {"diameter", offsetof(slew_magnet, diameter)},
    [LENGTH] = {"length", offsetof(slew_magnet, length)},
    [RADIUS] = {"radius", offsetof(slew_magnet, radius)},
    [GAP] = {"gap", offsetof(slew_magnet, gap)},
    [OPERATE_FLUX] = {"operate_flux", offsetof(slew_magnet, operate_flux)},
    [RELEASE_FLUX] = {"release_flux", offsetof(slew_magnet, release_flux)},
};

const char *slew_window_figure_word(int figure)
{
    return figure >= 0 && figure < SLEW_WINDOW_FIGURES ? FIGURES[figure].word : NULL;
}

double *slew_window_place(slew_magnet *magnet, int figure)
{
    return (double *)(void *)((char *)magnet + FIGURES[figure].offset);
}

double slew_window_figure(const slew_magnet *magnet, int figure)
{
    if (magnet == NULL || slew_window_figure_word(figure) == NULL)
        return NAN;
    slew_magnet copy = *magnet;
    return *slew_window_place(&copy, figure);
}

int slew_window_key(int axis, int figure)
{
    char path[96];
    snprintf(path, sizeof path, "%s.home.magnet.%s", slew_axis_word(axis), FIGURES[figure].word);
    return slew_key_find(path);
}

slew_window_question slew_window_question_default(int axis)
{
    slew_window_question q = {.axis = axis};
    for (int i = 0; i < SLEW_WINDOW_FIGURES; i++)
        q.figure[i] = (slew_range){NAN, NAN};
    return q;
}

/* ---- ranges ---- */

static slew_range extent(const slew_variation *v)
{
    static const double three_sigma = 0.001349898031630095; /* below mean - 3 sd */
    double tail = v->distribution == SLEW_NORMAL ? three_sigma : 0x1p-53;
    return (slew_range){slew_variation_quantile(v, tail), slew_variation_quantile(v, 1 - tail)};
}

static const slew_variation *find_key(const slew_spread *spread, int key)
{
    for (int i = 0; i < spread->count; i++)
        if (spread->item[i].key == key)
            return &spread->item[i];
    return NULL;
}

/* a day is drawn unless today says it, a truck into the file, where today hides it */
const slew_variation *slew_window_variation(const slew_scenario *scenario, int key)
{
    if (slew_is_known(scenario, SLEW_OCCASION_STOW, key))
        return NULL;
    const slew_variation *of_day = find_key(&scenario->day, key);
    return of_day != NULL ? of_day : find_key(&scenario->truck, key);
}

bool slew_window_spread(const slew_scenario *scenario, int key, slew_range *range)
{
    const slew_variation *v = slew_window_variation(scenario, key);
    if (v != NULL)
        *range = extent(v);
    return v != NULL;
}

static bool fits(int index, double value)
{
    const slew_key *key = slew_key_at(index);
    return value <= key->high && (key->low_open ? value > key->low : value >= key->low);
}

static slew_status range_error(slew_error *error, int key, const char *message)
{
    return slew_refuse(error, slew_key_at(key)->path, message,
                       "a tolerance that leaves every figure of the magnet within its range");
}

/* each figure from its least to its greatest value, its own between them */
static slew_status find_ranges(const slew_scenario *s, const slew_window_question *q,
                               const slew_magnet *own, slew_window *out, slew_error *error)
{
    for (int i = 0; i < SLEW_WINDOW_FIGURES; i++) {
        int key = slew_window_key(q->axis, i);
        slew_range *range = &out->figure[i];
        bool asked = !isnan(q->figure[i].low);
        *range = q->figure[i];
        if (asked && !own->given)
            return range_error(error, key, "there is no magnet that could have a tolerance");
        if (!asked && (!own->given || !slew_window_spread(s, key, range)))
            *range = (slew_range){NAN, NAN};
        if (asked &&
            !(range->low <= range->high && fits(key, range->low) && fits(key, range->high)))
            return range_error(error, key, "the tolerance takes it out of its range");
    }
    return SLEW_OK;
}

/* ---- cases ---- */

static slew_window_case look(const slew_home *from, const slew_magnet *magnet)
{
    slew_home home = *from;
    home.magnet = *magnet;
    slew_window_case c = {.magnet = *magnet, .sight = slew_home_resolve(&home)};
    bool closes = c.sight != SLEW_SIGHT_TOO_WEAK;
    c.flux = magnet->given ? slew_home_flux(magnet, 0) : (double)NAN;
    c.operate = closes ? home.operate : (double)NAN;
    c.release = closes ? home.release : (double)NAN;
    return c;
}

/* value number 0, 1 or 2 of a figure */
static double value_of(const slew_window *w, int figure, int number)
{
    double own = slew_window_figure(&w->own.magnet, figure);
    slew_range range = w->figure[figure];
    return number == 1 ? own : number == 0 ? range.low : range.high;
}

/* combination number n; false: there is none of that number */
static bool combine(const slew_window *w, int64_t n, slew_magnet *magnet)
{
    *magnet = w->own.magnet;
    for (int i = 0; i < SLEW_WINDOW_FIGURES; i++)
        if (!isnan(w->figure[i].low)) {
            *slew_window_place(magnet, i) = value_of(w, i, (int)(n % 3));
            n /= 3;
        }
    return n == 0;
}

/* by where it opens, then by where it closes */
static bool is_wider(const slew_window_case *a, const slew_window_case *b)
{
    static const double same = 1e-9; /* the roots differ by less [rad] */
    if (fabs(a->release - b->release) < same)
        return a->operate > b->operate + same;
    return !(b->release >= a->release);
}

static void take_case(slew_window *w, const slew_window_case *c)
{
    w->cases++;
    if (c->sight == SLEW_SIGHT_TOO_WEAK) {
        w->blind++;
        return;
    }
    if (!(w->narrowest.operate <= c->operate))
        w->narrowest = *c;
    if (is_wider(c, &w->widest))
        w->widest = *c;
}

/* ---- between the values that were tried ---- */

/* The widest window may lie between two values of the gap or the size of the magnet: nearer the
 * field is stronger, further away it reaches further. Golden section, for the window is widest at
 * one place alone. */
static void widen_by(slew_window *w, const slew_home *home, int figure)
{
    static const double golden = 0.6180339887498949;
    double low = w->figure[figure].low, high = w->figure[figure].high;
    double a = high - golden * (high - low), b = low + golden * (high - low);
    slew_magnet magnet = w->widest.magnet;
    for (int n = 0; n < NARROWINGS; n++) {
        slew_window_case at_a, at_b;
        *slew_window_place(&magnet, figure) = a;
        at_a = look(home, &magnet);
        *slew_window_place(&magnet, figure) = b;
        at_b = look(home, &magnet);
        const slew_window_case *better = at_a.release >= at_b.release ? &at_a : &at_b;
        if (is_wider(better, &w->widest))
            w->widest = *better;
        if (better == &at_a)
            high = b;
        else
            low = a;
        a = high - golden * (high - low), b = low + golden * (high - low);
    }
}

static void widen(slew_window *w, const slew_home *home)
{
    static const int figures[] = {GAP, DIAMETER, LENGTH};
    for (int round = 0; round < ROUNDS && isfinite(w->widest.release); round++)
        for (size_t i = 0; i < sizeof figures / sizeof *figures; i++)
            if (!isnan(w->figure[figures[i]].low))
                widen_by(w, home, figures[i]);
}

/* A switch that would open above what it closes at is left out. */
static void try_cases(slew_window *w, const slew_home *home)
{
    slew_magnet magnet;
    w->narrowest = w->widest = (slew_window_case){.operate = NAN, .release = NAN};
    for (int64_t n = 0; combine(w, n, &magnet); n++) {
        if (magnet.release_flux > magnet.operate_flux)
            continue;
        slew_window_case c = look(home, &magnet);
        take_case(w, &c);
    }
    widen(w, home);
}

/* ---- the field ---- */

static double find_largest_gap(const slew_magnet *m)
{
    double low = 0, high = m->length + m->diameter;
    slew_magnet at = *m;
    for (at.gap = high; slew_home_flux(&at, 0) >= m->operate_flux; at.gap = high)
        low = high, high *= 2;
    for (int i = 0; i < HALVINGS; i++) {
        at.gap = low + (high - low) / 2;
        if (slew_home_flux(&at, 0) >= m->operate_flux)
            low = at.gap;
        else
            high = at.gap;
    }
    return low;
}

/* where the field turns round: a switch that closes and opens at next to nothing would open there
 */
static double find_turn(const slew_home *home)
{
    static const double nothing = 1e-12; /* [T] */
    slew_home other = *home;
    other.magnet.operate_flux = other.magnet.release_flux = nothing;
    slew_home_resolve(&other);
    return other.operate;
}

/* strongest either way, by looking at many places, the more the nearer to the magnet */
static void scan_field(slew_window *w)
{
    const slew_magnet *m = &w->own.magnet;
    for (int i = 0; i <= SCAN; i++) {
        double x = (double)i / SCAN, turned = PI * x * x, flux = slew_home_flux(m, turned);
        if (flux < w->lobe_flux)
            w->lobe_flux = flux, w->lobe_at = turned;
        if (flux > w->beside_flux)
            w->beside_flux = flux, w->beside_at = turned;
    }
}

static void look_at_field(slew_window *w, const slew_home *home)
{
    w->largest_gap = w->turns_at = w->lobe_at = w->beside_at = NAN;
    if (!w->own.magnet.given)
        return;
    w->largest_gap = find_largest_gap(&w->own.magnet);
    w->turns_at = find_turn(home);
    w->beside_at = w->lobe_at = 0;
    w->beside_flux = w->own.flux;
    scan_field(w);
}

/* ---- what is to be minded ---- */

static void remark(slew_window *w, slew_window_remark what, bool so)
{
    if (so)
        w->remarks |= 1u << what;
}

static void remark_on_field(slew_window *w)
{
    const slew_magnet *m = &w->own.magnet;
    bool weak = w->own.sight == SLEW_SIGHT_TOO_WEAK;
    remark(w, SLEW_WINDOW_NEVER_CLOSES, weak);
    remark(w, SLEW_WINDOW_OFF_CENTRE, weak && w->beside_flux >= m->operate_flux);
    remark(w, SLEW_WINDOW_MAY_NEVER_CLOSE, !weak && w->blind > 0);
    remark(w, SLEW_WINDOW_OTHER_POLE, m->given && -w->lobe_flux >= m->operate_flux);
}

static void remark_on_window(slew_window *w, const slew_scenario *s, const slew_axis_setup *axis,
                             int j)
{
    const slew_home *h = &w->home;
    if (!h->present || h->stuck)
        return;
    double whole = 2 * PI - h->release, point = s->stow.point[j];
    remark(w, SLEW_WINDOW_NEVER_OPENS, isinf(h->release));
    remark(w, SLEW_WINDOW_OVER_LOW_STOP, h->angle - h->release <= axis->stops.low);
    remark(w, SLEW_WINDOW_OVER_HIGH_STOP, h->angle + h->release >= axis->stops.high);
    remark(w, SLEW_WINDOW_WHOLE_TURN,
           axis->stops.high - h->angle >= whole || h->angle - axis->stops.low >= whole);
    remark(w, SLEW_WINDOW_STOW_POINT,
           axis->approach == SLEW_APPROACH_EITHER && s->stow.has_point &&
               fabs(point - h->angle) <= h->release);
}

slew_status slew_window_run(const slew_scenario *scenario, const slew_window_question *question,
                            slew_window *out, slew_error *error)
{
    if (question == NULL || out == NULL)
        return slew_no_argument(error);
    if (!slew_is_sound(scenario, error))
        return SLEW_ERROR_INPUT;
    slew_setup today;
    slew_plant_model model;
    int axis = question->axis;
    if (axis < 0 || axis >= SLEW_AXES)
        return slew_no_number(error);
    *out = (slew_window){0};
    slew_scenario_resolve(scenario, SLEW_OCCASION_STOW, &today);
    const slew_home *home = &today.axis[axis].home;
    slew_status status = slew_plant_model_build(&today, &model, error);
    if (status == SLEW_OK)
        status = find_ranges(scenario, question, &home->magnet, out, error);
    if (status != SLEW_OK)
        return status;
    out->home = model.axis[axis].home;
    out->own = look(home, &home->magnet);
    try_cases(out, home);
    out->never = slew_window_chance(scenario, question, &home->magnet);
    look_at_field(out, home);
    remark_on_field(out);
    remark_on_window(out, scenario, &today.axis[axis], axis);
    return slew_window_search(scenario, axis, out, error);
}
