/*
 * trial.h - a whole trial of the calibration: a truck that is richer than the model, one visit with
 * the card, fit, the choice of deploy seconds, and what days of the truck make of it. M12.10
 *
 * The truck is elevation on CVODE (reference/ref_rich.h) with inductance, Stribeck friction, grease
 * of power 2/3, battery relaxation, elastic stops and on every other truck backlash; its rotation
 * stands on target, no controller watches for faults. Everything is invented and seeded.
 */
#ifndef TESTS_TRIAL_H
#define TESTS_TRIAL_H

#include "reference/ref_rich.h"
#include "support.h"

#include <gsl/gsl_cdf.h>
#include <stdlib.h>

#include "slewtime/edit.h"
#include "slewtime/fit.h"
#include "slewtime/offset.h"
#include "slewtime/read.h"
#include "slewtime/study.h"

#define TRIAL_SHEET    "examples/daily.yaml"
#define TRIAL_ACCURACY 1e-6 /* of the truth */

enum { TRIAL_CHOICES = 9, TRIAL_DAYS_MAX = 400, TRIAL_DEPLOYS = 5 };

/* ---- chance ---- */

typedef struct dice {
    uint64_t truck;
    uint32_t next;
} dice;

static inline double uniform(dice *d, double low, double high)
{
    return low + (high - low) * slew_random_unit(33, d->truck, d->next++);
}

static inline double normal(dice *d, double sd)
{
    return sd * gsl_cdf_ugaussian_Pinv(uniform(d, 0, 1));
}

/* ---- the truck ---- */

typedef struct truck {
    slew_scenario truth;
    unsigned effects;
    double stored; /* by its controller [s] */
} truck;

/* What else differs from the sheet, beside its own spread of the truck: by a share, or in SI. */
static const struct {
    const char *path;
    double share, sd;
} TRIAL_DRAWN[] = {
    {"elevation.motor.no_load_current", 0.1, 0},
    {"elevation.motor.stall_current", 0.1, 0},
    {"elevation.motor.viscous_share", 0.3, 0},
    {"elevation.motor.inertia", 0.2, 0},
    {"elevation.load.friction", 0.3, 0},
    {"elevation.load.mass", 0.05, 0},
    {"elevation.home.angle", 0, 0.3 * 3.14159265358979 / 180},
    {"supply.main.resistance", 0.3, 0},
    {"supply.feed.joint_resistance", 0, 0.003},
    {"stow.point.elevation", 0, 1.0 * 3.14159265358979 / 180},
};

static inline void draw_key(slew_scenario *truth, const char *path, double sd, dice *d)
{
    int key = slew_key_find(path);
    double sheet = slew_scenario_get_number(truth, key), value;
    do
        value = sheet + normal(d, sd);
    while (sheet > 0 && value < 0.3 * sheet);
    set_key(truth, SLEW_LAYER_FILE, path, value);
}

/* as a controller acts: at the next look at the sensor */
static inline slew_setup truck_setup(const truck *t, slew_occasion when, dice *d)
{
    slew_setup setup;
    slew_scenario_resolve(&t->truth, when, &setup);
    setup.controller.latency += uniform(d, 0, setup.controller.sample) + fabs(normal(d, 0.002));
    return setup;
}

static inline truck draw_truck(const slew_scenario *sheet, dice *d)
{
    truck t = {.truth = *sheet,
               .effects = 1u << REF_INDUCTANCE | 1u << REF_STRIBECK | 1u << REF_GREASE |
                          1u << REF_BATTERY | 1u << REF_SOFT_STOP};
    ref_truth taught;
    t.effects |= d->truck % 2 ? 1u << REF_BACKLASH : 0;
    for (int i = 0; i < sheet->truck.count; i++)
        slew_scenario_set_number(&t.truth, SLEW_LAYER_FILE, sheet->truck.item[i].key,
                                 slew_variation_quantile(&sheet->truck.item[i], uniform(d, 0, 1)));
    for (size_t i = 0; i < sizeof TRIAL_DRAWN / sizeof *TRIAL_DRAWN; i++) {
        double now = slew_scenario_get_number(sheet, slew_key_find(TRIAL_DRAWN[i].path));
        double share = TRIAL_DRAWN[i].share;
        draw_key(&t.truth, TRIAL_DRAWN[i].path, share > 0 ? share * now : TRIAL_DRAWN[i].sd, d);
    }
    set_key(&t.truth, SLEW_LAYER_FILE, "elevation.gear.loss_coefficient", uniform(d, -0.003, 0));
    const slew_setup setup = truck_setup(&t, SLEW_OCCASION_TEACH, d);
    double clock = setup.controller.clock;
    assert_true(ref_truth_build(&setup, t.effects, TRIAL_ACCURACY, &taught));
    assert_true(ref_truth_teach(&taught, &setup, t.truth.stow.point[SLEW_ELEVATION], &t.stored));
    t.stored = round(t.stored / clock) * clock;
    return t;
}

/* ---- the visit ---- */

/* by how much the instruments of a visit show too much */
typedef struct person {
    double late, voltmeter, clamp, source, gauge;
} person;

static inline slew_timing *next_row(slew_timings *to, int direction, slew_place_kind from,
                                    slew_place_kind ahead)
{
    slew_timing *row = &to->row[to->count++];
    *row = slew_timing_default();
    row->line = to->count + 1;
    row->axis = direction ? SLEW_ELEVATION : SLEW_NO_AXIS;
    row->direction = direction;
    row->from.kind = from;
    row->to.kind = ahead;
    return row;
}

/* the day of the visit, as it is and as it is told */
static inline slew_setup row_day(const truck *t, slew_timing *row, const person *p, dice *d)
{
    slew_setup setup = truck_setup(t, SLEW_OCCASION_STOW, d);
    setup.supply.main.voltage = 13.6 + normal(d, 0.1);
    setup.environment.temperature = celsius(18) + normal(d, 3);
    setup.axis[SLEW_ELEVATION].motor.winding_rise = uniform(d, 0, 15);
    row->supply = setup.supply.main.voltage + p->source + normal(d, 0.05);
    row->temperature = celsius(18);
    row->pressure = 0;
    return setup;
}

static inline void read_row(const ref_meters *m, bool home, const person *p, slew_timing *row,
                            dice *d)
{
    row->measured[SLEW_MEASURE_SECONDS].value = m->seconds + p->late + normal(d, 0.15);
    if (home)
        return;
    row->measured[SLEW_MEASURE_VOLTAGE].value = m->voltage + p->voltmeter + normal(d, 0.05);
    row->measured[SLEW_MEASURE_CURRENT].value = m->current + p->clamp + normal(d, 0.3);
}

/* from stop to stop, or to the sensor's edge */
static inline void make_travel(const truck *t, int direction, bool home, const person *p,
                               slew_timings *to, dice *d)
{
    ref_truth today;
    ref_meters m;
    slew_place_kind low = SLEW_PLACE_LOW_STOP, high = SLEW_PLACE_HIGH_STOP;
    slew_timing *row = next_row(to, direction, direction > 0 ? low : high,
                                home            ? SLEW_PLACE_HOME
                                : direction > 0 ? high
                                                : low);
    const slew_setup setup = row_day(t, row, p, d);
    const slew_axis_setup *axis = &setup.axis[SLEW_ELEVATION];
    double from = direction > 0 ? axis->stops.low : axis->stops.high;
    double stop = direction > 0 ? axis->stops.high : axis->stops.low;
    double edge = axis->home.angle - direction * axis->home.operate;
    assert_true(ref_truth_build(&setup, t->effects, TRIAL_ACCURACY, &today));
    assert_true(ref_truth_travel(&today, from, home ? edge : stop, &m));
    read_row(&m, home, p, row, d);
}

/* a gauge laid on the barrel, where a stow of the visit rests or what a deploy after it leads to */
static inline void read_gauge(const truck *t, slew_timing *row, const person *p, dice *d)
{
    ref_truth today;
    double y[REF_STATES], seconds = row->measured[SLEW_MEASURE_SECONDS].value, angle;
    const slew_setup setup = row_day(t, row, p, d);
    assert_true(ref_truth_build(&setup, t->effects, TRIAL_ACCURACY, &today));
    assert_true(ref_truth_stow(&today, &setup, t->stored + normal(d, 0.01), y));
    angle = ref_truth_angle(y);
    seconds += normal(d, 0.01);
    if (row->to.kind == SLEW_PLACE_DEPLOYED)
        assert_true(ref_truth_deploy(&today, angle, 1, &seconds, &angle));
    row->measured[SLEW_MEASURE_ANGLE].value = angle + p->gauge + normal(d, degrees(0.5));
}

/* The rows of the card that elevation has: drives off, both ways from stop to stop and to the home
 * sensor, the stored time and where its stow rests, where deploys rest. */
static inline void make_visit(const truck *t, slew_timings *to, dice *d)
{
    const person p = {0.1 + normal(d, 0.1), normal(d, 0.05), normal(d, 0.2), normal(d, 0.05),
                      normal(d, degrees(0.3))};
    ref_truth today;
    to->count = 0;
    slew_timing *off = next_row(to, 0, SLEW_PLACE_NONE, SLEW_PLACE_NONE);
    const slew_setup setup = row_day(t, off, &p, d);
    assert_true(ref_truth_build(&setup, t->effects, TRIAL_ACCURACY, &today));
    off->measured[SLEW_MEASURE_VOLTAGE].value =
        today.machine.line_E + p.voltmeter + normal(d, 0.05);
    for (int home = 0; home < 2; home++)
        for (int direction = -1; direction <= 1; direction += 2)
            make_travel(t, direction, home == 1, &p, to, d);
    slew_timing *stored = next_row(to, -1, SLEW_PLACE_HOME, SLEW_PLACE_STOW_POINT);
    stored->measured[SLEW_MEASURE_SECONDS].value = fabs(t->stored);
    read_gauge(t, stored, &p, d);
    for (int i = 0; i < TRIAL_DEPLOYS; i++) {
        slew_timing *row = next_row(to, 1, SLEW_PLACE_STOW_POINT, SLEW_PLACE_DEPLOYED);
        row->measured[SLEW_MEASURE_SECONDS].value = t->truth.deploy.seconds[SLEW_ELEVATION];
        read_gauge(t, row, &p, d);
    }
}

/* the same visit without a gauge, or with fewer deploys */
static inline slew_timings cut_down(const slew_timings *all, bool gauge, int deploys)
{
    slew_timings some = *all;
    some.count -= TRIAL_DEPLOYS - deploys;
    for (int i = 0; i < some.count && !gauge; i++)
        if (some.row[i].to.kind == SLEW_PLACE_STOW_POINT) {
            const slew_timing plain = slew_timing_default();
            some.row[i].measured[SLEW_MEASURE_ANGLE] = plain.measured[SLEW_MEASURE_ANGLE];
            some.row[i].supply = plain.supply;
            some.row[i].temperature = plain.temperature;
            some.row[i].pressure = plain.pressure;
        }
    return some;
}

/* ---- fit, and the choice ---- */

static inline slew_scenario read_scenario(const char *text)
{
    slew_scenario s;
    if (slew_scenario_read_memory(text, strlen(text), "trial", NULL, &s) != SLEW_OK)
        fail_msg("the scenario can't be read");
    return s;
}

/* the sheet's file with the posterior written into it, read again */
static inline slew_scenario calibrated(const char *text, const slew_timings *readings)
{
    static slew_fit fit;
    slew_error error = {0};
    const slew_scenario sheet = read_scenario(text);
    const slew_fit_question q = {.timings = readings,
                                 .keys = 3,
                                 .key = {slew_key_find("elevation.motor.no_load_speed"),
                                         slew_key_find("elevation.gear.efficiency"),
                                         slew_key_find("supply.feed.joint_resistance")}};
    if (slew_fit_run(&sheet, &q, &fit, &error) != SLEW_OK)
        fail_msg("fit: line %d %s: %s", error.line, error.key, error.message);
    char *written = slew_fit_write(&fit, text, NULL, 0, NULL, &error);
    if (written == NULL)
        fail_msg("write: %s: %s", error.key, error.message);
    slew_scenario out = read_scenario(written);
    free(written);
    return out;
}

/* the choices of the trial, and a target about 40 deg */
static inline void ask_seconds(slew_scenario *s, double width)
{
    s->deploy.choice_count[SLEW_ELEVATION] = TRIAL_CHOICES;
    for (int i = 0; i < TRIAL_CHOICES; i++)
        s->deploy.choices[SLEW_ELEVATION][i] = 6.3 + 0.3 * i;
    s->deploy.target[SLEW_ELEVATION] =
        (slew_range){degrees(40 - width / 2), degrees(40 + width / 2)};
}

typedef struct chosen {
    int choice;
    double told; /* share inside */
} chosen;

static inline chosen choose(slew_scenario s, double width, int samples)
{
    slew_sampling how = slew_sampling_default();
    slew_offset offset;
    slew_error error;
    how.samples = samples;
    how.threads = 1;
    ask_seconds(&s, width);
    if (slew_offset_run(&s, &how, &offset, &error) != SLEW_OK)
        fail_msg("offset: %s", error.message);
    chosen out = {offset.best, offset.told[SLEW_TOLD_BEST].inside.value};
    slew_offset_free(&offset);
    return out;
}

/* ---- days of the truck ---- */

typedef struct truck_days {
    int count;
    double rest[TRIAL_DAYS_MAX][TRIAL_CHOICES]; /* after each choice of seconds [rad] */
} truck_days;

/* A day as the sheet spreads it, and what the sheet does not know: a warm motor, friction. */
static inline slew_setup draw_day(const truck *t, slew_occasion when, dice *d)
{
    truck today = *t;
    const slew_spread *day = &t->truth.day;
    for (int i = 0; i < day->count; i++)
        slew_scenario_set_number(&today.truth, SLEW_LAYER_FILE, day->item[i].key,
                                 slew_variation_quantile(&day->item[i], uniform(d, 0, 1)));
    slew_setup setup = truck_setup(&today, when, d);
    setup.axis[SLEW_ELEVATION].motor.winding_rise = uniform(d, 0, 25);
    setup.axis[SLEW_ELEVATION].load.friction *= exp(normal(d, 0.1));
    return setup;
}

/* stowed on one day, deployed on another; each drive lasts some ms more or less */
static inline void live_through(const truck *t, const slew_scenario *asked, int days, dice *d,
                                truck_days *out)
{
    out->count = days;
    for (int i = 0; i < days; i++) {
        double y[REF_STATES], seconds[TRIAL_CHOICES], jitter = normal(d, 0.01);
        ref_truth stow, deploy;
        const slew_setup stowing = draw_day(t, SLEW_OCCASION_STOW, d);
        const slew_setup deploying = draw_day(t, SLEW_OCCASION_DEPLOY, d);
        assert_true(ref_truth_build(&stowing, t->effects, TRIAL_ACCURACY, &stow));
        assert_true(ref_truth_build(&deploying, t->effects, TRIAL_ACCURACY, &deploy));
        assert_true(ref_truth_stow(&stow, &stowing, t->stored + normal(d, 0.01), y));
        for (int k = 0; k < TRIAL_CHOICES; k++)
            seconds[k] = asked->deploy.choices[SLEW_ELEVATION][k] + jitter;
        assert_true(
            ref_truth_deploy(&deploy, ref_truth_angle(y), TRIAL_CHOICES, seconds, out->rest[i]));
    }
}

/* ---- regret ---- */

static inline bool lands(double angle, double width)
{
    return fabs(angle - degrees(40)) <= degrees(width / 2);
}

static inline double share_inside(const truck_days *days, int from, int to, int choice,
                                  double width)
{
    int hits = 0;
    for (int i = from; i < to; i++)
        hits += lands(days->rest[i][choice], width);
    return (double)hits / (to - from);
}

static inline int best_choice(const truck_days *days, int from, int to, double width)
{
    int best = 0;
    for (int k = 1; k < TRIAL_CHOICES; k++)
        if (share_inside(days, from, to, k, width) > share_inside(days, from, to, best, width))
            best = k;
    return best;
}

/* Shares of the days inside. What is best on some days is so by luck in part: its share on those
 * very days is too high, on other days a little too low. */
typedef struct regret {
    double chosen;
    double best;     /* of the same days */
    double fresh;    /* best of one half of the days, seen on the other, both ways */
    double variance; /* of the mean of best - chosen */
} regret;

static inline regret judge(const truck_days *days, int choice, double width)
{
    int n = days->count, half = n / 2, differ = 0, best = best_choice(days, 0, n, width);
    int early = best_choice(days, 0, half, width), late = best_choice(days, half, n, width);
    for (int i = 0; i < n; i++)
        differ += lands(days->rest[i][best], width) != lands(days->rest[i][choice], width);
    regret r = {.chosen = share_inside(days, 0, n, choice, width),
                .best = share_inside(days, 0, n, best, width),
                .fresh = (share_inside(days, half, n, early, width) * (n - half) +
                          share_inside(days, 0, half, late, width) * half) /
                         n};
    double mean = r.best - r.chosen;
    r.variance = ((double)differ / n - mean * mean) / n;
    return r;
}

#endif
