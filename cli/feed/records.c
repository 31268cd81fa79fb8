/* records.c - the answer of `feed` as JSON; see feed.h. */
#include "answer.h"
#include "single/old_json.h"
#include "slewtime/slewtime.h"
#include "tell/provenance.h"
#include "tell/units.h"

static const char *const drive_words[SLEW_FEED_DRIVES] = {"rotation", "elevation", "both"};

/* null where it is not known: NaN, not even none, or any */
static json_t *limit(double value, double times)
{
    return cli_json_number(value < 0 ? NAN : times * value);
}

/* ---- states ---- */

static json_t *state(const slew_feed_state *s, double system)
{
    return json_pack("{s:o, s:o, s:o, s:o, s:o, s:o}", "voltage_V", cli_json_number(s->voltage),
                     "motors_A", cli_json_number(s->current), "feed_A", cli_json_number(s->line),
                     "auxiliary_A", cli_json_number(s->auxiliary), "drop_V",
                     cli_json_number(s->drop), "drop_percent",
                     cli_json_number(100 * s->drop / system));
}

/* with standing motors it is the same whether they are about to start or stalled */
static json_t *states(const slew_feed_state s[SLEW_FEED_DRIVES], double system)
{
    json_t *all = json_object();
    for (int d = 0; d < SLEW_FEED_DRIVES; d++)
        json_object_set_new(all, drive_words[d], state(&s[d], system));
    return all;
}

static json_t *flags(const bool flag[SLEW_FEED_DRIVES])
{
    return json_pack("{s:b, s:b, s:b}", drive_words[0], (int)flag[0], drive_words[1], (int)flag[1],
                     drive_words[2], (int)flag[2]);
}

static json_t *trial(const slew_feed_trial *t, const slew_feed_answer *a)
{
    const slew_feed_figures *f = &t->figures;
    double system = a->setup.supply.system;
    if (t->status != SLEW_OK)
        return json_null();
    return json_pack(
        "{s:o, s:o, s:o, s:o, s:o, s:o, s:o, s:o, s:o, s:o, s:b}", "conductors_mohm",
        cli_json_number(1000 * f->conductors), "joints_mohm", cli_json_number(1000 * f->joints),
        "idle", state(&f->idle, system), "running", states(f->running, system), "starting",
        states(f->standing, system), "stalled", states(f->standing, system), "moves",
        flags(f->moves), "starts", flags(f->starts), "lowest_running_V",
        cli_json_number(slew_feed_lowest_running(f, a->together)), "lowest_starting_V",
        cli_json_number(slew_feed_lowest_standing(f, a->together)), "keeps_floor", (int)t->keeps);
}

static json_t *place(const slew_feed_place *p, int axis)
{
    return json_pack("{s:o, s:o, s:o, s:o}", "direction",
                     cli_json_text(p->anywhere ? "" : slew_direction_word(axis, p->direction)),
                     "rotation_deg", cli_json_degrees(p->angle[SLEW_ROTATION]), "elevation_deg",
                     cli_json_degrees(p->angle[SLEW_ELEVATION]), "load_Nm",
                     cli_json_number(p->torque));
}

/* ---- needs ---- */

static json_t *size(const cli_feed *a, slew_ladder ladder, int index)
{
    char text[40] = "";
    if (index >= 0)
        cli_feed_size(a, ladder, index, text);
    return cli_json_text(text);
}

static json_t *need(const cli_feed *a, const slew_feed_need *n)
{
    const char *any = n->resistance < 0 ? "none" : isinf(n->resistance) ? "any" : "";
    return json_pack("{s:o, s:o, s:o, s:o, s:o, s:o, s:o}", "which", cli_json_text(any), "awg",
                     size(a, SLEW_LADDER_AWG, n->thinnest[SLEW_LADDER_AWG]), "class_2",
                     size(a, SLEW_LADDER_CLASS_2, n->thinnest[SLEW_LADDER_CLASS_2]), "class_5",
                     size(a, SLEW_LADDER_CLASS_5, n->thinnest[SLEW_LADDER_CLASS_5]),
                     "most_feed_mohm", limit(n->resistance, 1000), "longest_m", limit(n->length, 1),
                     "most_joint_mohm", limit(n->joint, 1000));
}

static json_t *climate(const cli_feed *a, const slew_feed_climate *c)
{
    json_t *drops = json_array();
    for (int i = 0; i < a->question.drop_count; i++)
        json_array_append_new(drops,
                              json_pack("{s:f, s:o}", "drop_percent", 100 * a->question.drop[i],
                                        "need", need(a, &c->drop[i])));
    return json_pack("{s:o, s:o, s:o, s:o}", "temperature_degC",
                     cli_json_number(cli_celsius(c->temperature)), "feed",
                     trial(&c->own, a->answer), "for_floor", need(a, &c->floor), "for_drop", drops);
}

/* ---- lists ---- */

static json_t *ladder(const cli_feed *a, slew_ladder which)
{
    const slew_feed *feed = &a->answer->setup.supply.feed;
    json_t *list = json_array();
    for (int i = 0; i < slew_ladder_count(which); i++)
        json_array_append_new(
            list,
            json_pack("{s:o, s:o, s:o}", "size", size(a, which, i), "conductor_ohm_per_km",
                      cli_json_number(1000 * slew_ladder_resistance(which, i, feed->stranding)),
                      "feed", trial(&a->answer->ladder[which][i], a->answer)));
    return list;
}

static json_t *levels(const cli_feed *a, const slew_feed_level *level, const char *name,
                      double times)
{
    json_t *list = json_array();
    for (int i = 0; i < SLEW_FEED_LEVELS; i++)
        json_array_append_new(
            list, json_pack("{s:o, s:b, s:o}", name, cli_json_number(times * level[i].value), "own",
                            (int)level[i].own, "feed", trial(&level[i].trial, a->answer)));
    return list;
}

static json_t *auxiliary(const cli_feed *a)
{
    const slew_supply *supply = &a->answer->setup.supply;
    const slew_feed_auxiliary *x = &a->answer->auxiliary;
    return json_pack("{s:b, s:f, s:f, s:o, s:o, s:o, s:o}", "fitted", (int)supply->auxiliary_fitted,
                     "voltage_V", supply->auxiliary.voltage, "resistance_mohm",
                     1000 * supply->auxiliary.resistance, "with", trial(&x->with, a->answer),
                     "without", trial(&x->without, a->answer), "for_floor_with",
                     need(a, &x->need_with), "for_floor_without", need(a, &x->need_without));
}

static json_t *measured(const cli_feed *a)
{
    const slew_feed_joint *j = &a->joint;
    if (a->measured == CLI_FEED_NOTHING)
        return json_null();
    return json_pack(
        "{s:o, s:o, s:o, s:o, s:o, s:o, s:o}", "voltage_V", cli_json_number(j->state.voltage),
        "feed_A", cli_json_number(j->state.line), "drop_V", cli_json_number(j->state.drop),
        "resistance_mohm", cli_json_number(1000 * j->resistance), "conductors_mohm",
        cli_json_number(1000 * j->conductors), "joints_mohm", cli_json_number(1000 * j->joints),
        "each_joint_mohm", cli_json_number(1000 * j->each));
}

/* ---- the document ---- */

int cli_feed_json(const void *what)
{
    const cli_feed *a = what;
    const slew_feed_answer *answer = a->answer;
    const slew_feed_figures *own = &answer->climate[SLEW_FEED_AS_IT_IS].own.figures;
    char finding[CLI_FEED_TEXT_MAX];
    const char *second = cli_feed_finding(a, finding);
    json_t *worst = json_pack("{s:o, s:o}", drive_words[0], place(&own->place[0], 0),
                              drive_words[1], place(&own->place[1], 1));
    json_t *ladders =
        json_pack("{s:o, s:o, s:o}", "awg", ladder(a, SLEW_LADDER_AWG), "class_2",
                  ladder(a, SLEW_LADDER_CLASS_2), "class_5", ladder(a, SLEW_LADDER_CLASS_5));
    json_t *weather = json_pack("{s:o, s:o}", "cold", climate(a, &answer->climate[SLEW_FEED_COLD]),
                                "hot", climate(a, &answer->climate[SLEW_FEED_HOT]));
    json_t *faults =
        json_pack("{s:o, s:o}", "both_stalled_most_A", cli_json_number(answer->most_stall),
                  "short_circuit_A", cli_json_number(answer->short_circuit));
    json_t *whole = json_pack(
        "{s:s, s:s, s:s, s:s++, s:b, s:f, s:f, s:o, s:o, s:o, s:o, s:o, s:o, s:o, s:o, s:o, s:o}",
        "slewtime", slew_version(), "title", a->scenario->title, "occasion",
        a->question.occasion == SLEW_OCCASION_DEPLOY ? "deploy_day" : "today", "finding", finding,
        second[0] != '\0' ? " " : "", second, "together", (int)answer->together, "system_V",
        answer->setup.supply.system, "floor_V", answer->setup.supply.floor, "worst_place", worst,
        "as_it_is", climate(a, &answer->climate[SLEW_FEED_AS_IT_IS]), "weather", weather,
        "conductors", ladders, "length", levels(a, answer->length, "length_m", 1), "joints",
        levels(a, answer->joints, "joints_mohm", 1000), "shared_load",
        levels(a, answer->shared, "shared_load_A", 1), "auxiliary", auxiliary(a), "fusing", faults,
        "measured", measured(a));
    cli_provenance_json(whole, a->scenario, NULL, 0);
    return cli_json_print(whole);
}
