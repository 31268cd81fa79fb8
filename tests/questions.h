/*
 * questions.h - the questions that take many runs or long thought, each on one scenario, with a few
 * figures of the answer: what holds of all of them is tried on all.
 */
#ifndef TESTS_QUESTIONS_H
#define TESTS_QUESTIONS_H

#include "slewtime/card.h"
#include "slewtime/causes.h"
#include "slewtime/demands.h"
#include "slewtime/facts.h"
#include "slewtime/feed.h"
#include "slewtime/map.h"
#include "slewtime/margin.h"
#include "slewtime/offset.h"
#include "slewtime/plan.h"
#include "slewtime/rest.h"
#include "slewtime/speed.h"
#include "slewtime/window.h"

/* what they are asked about */
typedef struct asked_of {
    slew_scenario scenario; /* it has a point, deploy seconds and a spread */
    slew_timings timings;
    slew_catalogue catalogue;
    slew_sampling sampling;
} asked_of;

static inline slew_status ask_offset(const asked_of *a, double *figure, slew_error *error)
{
    static slew_finer finer;
    slew_offset o;
    slew_status status = slew_offset_run(&a->scenario, &a->sampling, &o, error);
    if (status != SLEW_OK) {
        if (status == SLEW_ERROR_STOPPED)
            slew_offset_free(&o);
        return status;
    }
    figure[0] = o.choice[o.best].inside.value;
    figure[1] = o.choice[o.best].angle[SLEW_ELEVATION].median;
    status = slew_finer_run(&a->scenario, &a->sampling, &o, &finer, error);
    figure[2] = finer.at[SLEW_FINER_ANY].seconds[SLEW_ELEVATION];
    slew_offset_free(&o);
    return status;
}

static inline slew_status ask_drivers(const asked_of *a, double *figure, slew_error *error)
{
    static slew_drivers drivers;
    slew_status status = slew_drivers_run(&a->scenario, &a->sampling, &drivers, error);
    figure[0] = drivers.deviation[SLEW_ELEVATION];
    return status;
}

static inline slew_status ask_margin(const asked_of *a, double *figure, slew_error *error)
{
    static slew_margin m;
    const slew_margin_question question = {.axis = SLEW_ELEVATION, .wanted = 0.2};
    slew_status status = slew_margin_run(&a->scenario, &question, &a->sampling, &m, error);
    figure[0] = m.side[0].need.enough;
    figure[1] = m.side[0].need.unseen;
    figure[2] = (double)m.change[SLEW_MARGIN_STOP][0].samples;
    return status;
}

static inline slew_status ask_plan(const asked_of *a, double *figure, slew_error *error)
{
    static slew_plan p;
    slew_status status = slew_plan_run(&a->scenario, &a->sampling, &p, error);
    figure[0] = p.best.seconds[SLEW_ELEVATION];
    figure[1] = (double)p.count;
    return status;
}

static inline slew_status ask_line(const asked_of *a, double *figure, slew_error *error)
{
    slew_map_line line;
    slew_vary v;
    slew_status status =
        slew_vary_read(&a->scenario, "today.supply.main.voltage=9 V:15 V:40", &v, error);
    if (status == SLEW_OK)
        status = slew_map_line_run(&a->scenario, &v, 1e-3, &a->sampling, &line, error);
    if (status != SLEW_OK)
        return status;
    figure[0] = line.count;
    figure[1] = line.span[0].to;
    slew_map_line_free(&line);
    return status;
}

static inline slew_status ask_map(const asked_of *a, double *figure, slew_error *error)
{
    slew_map map;
    slew_vary v[2];
    slew_status status =
        slew_vary_read(&a->scenario, "today.supply.main.voltage=9 V:15 V:3", &v[0], error);
    if (status == SLEW_OK)
        status = slew_vary_read(&a->scenario, "stow.point.elevation=-14deg:-4deg:3", &v[1], error);
    if (status == SLEW_OK)
        status = slew_map_run(&a->scenario, v, 2, &a->sampling, &map, error);
    if (status != SLEW_OK)
        return status;
    figure[0] = map.share[SLEW_OUTCOME_OK];
    figure[1] = (double)map.looked;
    slew_map_free(&map);
    return status;
}

static inline slew_status ask_causes(const asked_of *a, double *figure, slew_error *error)
{
    slew_causes c;
    slew_status status =
        slew_causes_run(&a->scenario, &a->catalogue, NULL, &a->sampling, &c, error);
    if (status != SLEW_OK && status != SLEW_ERROR_STOPPED)
        return status;
    figure[0] = (double)c.samples;
    figure[1] = c.count > 0 ? (double)c.state[0].possible : 0;
    slew_causes_free(&c);
    return status;
}

static inline slew_status ask_card(const asked_of *a, double *figure, slew_error *error)
{
    static slew_card card;
    slew_status status = slew_card_run(&a->scenario, &a->sampling, &card, error);
    figure[0] = card.passes;
    figure[1] = card.step[1].reading[0].high;
    return status;
}

static inline slew_status ask_judge(const asked_of *a, double *figure, slew_error *error)
{
    static slew_card_verdict v;
    slew_status status = slew_card_judge(&a->scenario, &a->timings, &a->sampling, &v, error);
    figure[0] = v.chance;
    figure[1] = v.reading[0].middle;
    return status;
}

static inline slew_status ask_work(const asked_of *a, double *figure, slew_error *error)
{
    static slew_feed_work w;
    slew_status status =
        slew_feed_work_run(&a->scenario, SLEW_LADDER_CLASS_5, &a->sampling, &w, error);
    figure[0] = w.count;
    figure[1] = w.found[SLEW_FEED_RUNS][0].index;
    return status;
}

static inline slew_status ask_demands(const asked_of *a, double *figure, slew_error *error)
{
    slew_judgment j;
    slew_status status =
        slew_demands_run(&a->scenario, SLEW_STOW_AND_DEPLOY, &a->sampling, &j, error);
    figure[0] = j.of[SLEW_DEMAND_FAULT].missed.high;
    return status;
}

static inline slew_status ask_trucks(const asked_of *a, double *figure, slew_error *error)
{
    slew_trucks t;
    slew_status status =
        slew_demands_by_truck(&a->scenario, SLEW_STOW_ONLY, &a->sampling, &t, error);
    figure[0] = t.of[SLEW_DEMAND_FAULT].high;
    return status;
}

static inline slew_status ask_rest(const asked_of *a, double *figure, slew_error *error)
{
    slew_ensemble e;
    slew_status status = slew_rest_run(&a->scenario, SLEW_STOW_AND_DEPLOY, &a->sampling, &e, error);
    if (status != SLEW_OK && status != SLEW_ERROR_STOPPED)
        return status;
    figure[0] = (double)slew_rest_count(&e, SLEW_REST_STOW, SLEW_REST_MISSED);
    slew_ensemble_free(&e);
    return status;
}

static inline slew_status ask_hangs(const asked_of *a, double *figure, slew_error *error)
{
    static const bool given[256] = {false};
    static slew_hangs h;
    slew_status status = slew_hangs_run(&a->scenario, given, &h, error);
    figure[0] = h.count;
    figure[1] = h.item[0].moves;
    return status;
}

static inline slew_status ask_speed(const asked_of *a, double *figure, slew_error *error)
{
    slew_speed speed;
    slew_speed_question q = slew_speed_question_default(&a->scenario, SLEW_OCCASION_STOW);
    q.steps = 2;
    slew_status status = slew_speed_run(&a->scenario, &q, &speed, error);
    if (status != SLEW_OK)
        return status;
    figure[0] = speed.row_count;
    figure[1] = speed.row[speed.row_count - 1].slowest.current;
    slew_speed_free(&speed);
    return status;
}

static inline slew_status ask_window(const asked_of *a, double *figure, slew_error *error)
{
    static slew_window window;
    const slew_window_question q = slew_window_question_default(SLEW_ELEVATION);
    slew_status status = slew_window_run(&a->scenario, &q, &window, error);
    figure[0] = window.home.operate;
    figure[1] = window.rows;
    return status;
}

static inline slew_status ask_feed(const asked_of *a, double *figure, slew_error *error)
{
    static slew_feed_answer answer;
    const slew_feed_question q = {.occasion = SLEW_OCCASION_STOW};
    slew_status status = slew_feed_run(&a->scenario, &q, &answer, error);
    figure[0] = answer.climate[0].floor.length;
    return status;
}

enum { QUESTION_FIGURES = 3 };

static const struct question {
    const char *name;
    slew_status (*ask)(const asked_of *a, double *figure, slew_error *error);
    bool untold; /* it has no progress: it can't be stopped */
} QUESTION[] = {
    {"offset", ask_offset, false}, {"drivers", ask_drivers, false}, {"margin", ask_margin, false},
    {"plan", ask_plan, false},     {"line", ask_line, false},       {"map", ask_map, false},
    {"causes", ask_causes, false}, {"card", ask_card, false},       {"judge", ask_judge, false},
    {"work", ask_work, false},     {"demands", ask_demands, false}, {"trucks", ask_trucks, false},
    {"rest", ask_rest, false},     {"hangs", ask_hangs, true},      {"speed", ask_speed, true},
    {"window", ask_window, true},  {"feed", ask_feed, true},
};

enum { QUESTION_COUNT = sizeof QUESTION / sizeof *QUESTION };

#endif
