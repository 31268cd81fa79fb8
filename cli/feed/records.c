/* records.c - the figures of `slewtime feed`: for JSON, CSV and the picture. */
#include "answer.h"
#include "slewtime/slewtime.h"
#include "tell/csv.h"
#include "tell/judged.h"
#include "tell/known.h"
#include "tell/provenance.h"
#include "tell/units.h"

static const char *const drive_words[SLEW_FEED_DRIVES] = {"rotation", "elevation", "both"};
static const char *const ladder_words[SLEW_LADDERS] = {"awg", "class_2", "class_5"};
static const char *const weather_words[SLEW_FEED_WEATHERS] = {
    [SLEW_FEED_COLD] = "cold", [SLEW_FEED_HOT] = "hot"};

/* ---- one feed tried ---- */

static void tell_state(cli_teller *t, const cli_feed *a, const char *name, const slew_feed_state *s,
                       bool is_there)
{
    cli_tell_open_if(t, name, is_there);
    cli_tell_number(t, "voltage_V", s->voltage);
    if (t->in_full) {
        cli_tell_number(t, "motors_A", s->current);
        cli_tell_number(t, "feed_A", s->line);
        cli_tell_number(t, "auxiliary_A", s->auxiliary);
        cli_tell_number(t, "drop_V", s->drop);
    }
    cli_tell_number(t, "drop_percent", cli_percent(s->drop) / a->answer.setup.supply.system);
    cli_tell_close(t);
}

/* a row has nothing of drives that do not run */
static void tell_states(cli_teller *t, const cli_feed *a, const char *name,
                        const slew_feed_state state[SLEW_FEED_DRIVES], const bool *runs)
{
    cli_tell_open(t, name);
    for (int d = 0; d < SLEW_FEED_DRIVES; d++)
        tell_state(t, a, drive_words[d], &state[d], t->in_full || runs[d]);
    cli_tell_close(t);
}

static void tell_flags(cli_teller *t, const char *name, const bool flag[SLEW_FEED_DRIVES])
{
    cli_tell_open(t, name);
    for (int d = 0; d < SLEW_FEED_DRIVES; d++)
        cli_tell_boolean(t, drive_words[d], flag[d]);
    cli_tell_close(t);
}

static void tell_lowest_running(cli_teller *t, const slew_feed_figures *f, bool together)
{
    bool all_run = f->moves[SLEW_ROTATION] && f->moves[SLEW_ELEVATION] &&
                   (!together || f->moves[SLEW_FEED_BOTH]);
    cli_tell_number(t, "lowest_running_V",
                    t->in_full || all_run ? slew_feed_lowest_running(f, together) : NAN);
}

/* of a setup that makes no machine the resistances are known, and that nothing moves */
static void tell_figures(cli_teller *t, const cli_feed *a, const slew_feed_trial *trial)
{
    const slew_feed_figures *f = &trial->figures;
    bool known = trial->status == SLEW_OK;
    cli_tell_number(t, "conductors_mohm", cli_milliohms(f->conductors));
    cli_tell_number(t, "joints_mohm", cli_milliohms(f->joints));
    tell_state(t, a, "idle", &f->idle, known);
    tell_states(t, a, "running", f->running, f->moves);
    if (t->in_full) { /* motors at rest draw the same, whether about to start or stalled */
        tell_states(t, a, "starting", f->standing, NULL);
        tell_states(t, a, "stalled", f->standing, NULL);
    }
    tell_flags(t, "moves", f->moves);
    tell_flags(t, "starts", f->starts);
    tell_lowest_running(t, f, a->answer.together);
    cli_tell_number(t, "lowest_starting_V",
                    known ? slew_feed_lowest_standing(f, a->answer.together) : NAN);
    cli_tell_boolean(t, "keeps_floor", trial->keeps);
}

static void tell_trial(cli_teller *t, const cli_feed *a, const char *name,
                       const slew_feed_trial *trial)
{
    cli_tell_open_if(t, name, trial->status == SLEW_OK);
    tell_figures(t, a, trial);
    cli_tell_close(t);
}

/* ---- one conductor at one length ---- */

static void tell_conductor(cli_teller *t, const cli_feed *a, slew_ladder ladder, int index)
{
    const slew_feed *feed = &a->answer.setup.supply.feed;
    bool own = index == SLEW_FEED_OWN;
    char size[40];
    if (own)
        cli_feed_own_size(a, size);
    else
        cli_feed_size(ladder, index, size);
    cli_tell_text(t, "size", size);
    cli_tell_number(t, "conductor_ohm_per_km",
                    1000 * (own ? slew_feed_per_length(feed)
                                : slew_ladder_resistance(ladder, index, feed->stranding)));
}

typedef struct row {
    const cli_feed *answer;
    const slew_feed_curve *curve;
    const slew_feed_point *point;
} row;

static void tell_row(cli_teller *t, const void *what)
{
    const row *r = what;
    const slew_feed_curve *c = r->curve;
    cli_tell_text(t, "ladder", c->index == SLEW_FEED_OWN ? "own" : cli_feed_ladder(c->ladder));
    tell_conductor(t, r->answer, c->ladder, c->index);
    cli_tell_number(t, "length_m", r->point->length);
    tell_figures(t, r->answer, &r->point->trial[SLEW_FEED_AS_IT_IS]);
    cli_tell_open(t, "weather");
    for (int w = SLEW_FEED_COLD; w <= SLEW_FEED_HOT; w++) {
        cli_tell_open(t, weather_words[w]);
        cli_tell_open(t, "feed");
        tell_lowest_running(t, &r->point->trial[w].figures, r->answer->answer.together);
        cli_tell_close(t);
        cli_tell_close(t);
    }
    cli_tell_close(t);
    cli_tell_provenance(t, r->answer->scenario, NULL, 0);
}

void cli_feed_table(FILE *stream, const void *what)
{
    const cli_feed *a = what;
    for (int i = 0; i < a->sweep.count; i++)
        for (int k = 0; k < SLEW_FEED_POINTS; k++)
            cli_csv_row(stream, i + k == 0, tell_row,
                        &(row){a, &a->sweep.curve[i], &a->sweep.curve[i].point[k]});
}

/* ---- needs ---- */

/* none where it is not known, where not even none would do, and where any would */
static double limit(double value, double times)
{
    return value < 0 ? NAN : times * value;
}

static void tell_need(cli_teller *t, const char *name, const slew_feed_need *n)
{
    cli_tell_open(t, name);
    cli_tell_text(t, "which", n->resistance < 0 ? "none" : isinf(n->resistance) ? "any" : NULL);
    for (int i = 0; i < SLEW_LADDERS; i++) {
        char size[40] = "";
        if (n->thinnest[i] >= 0)
            cli_feed_size((slew_ladder)i, n->thinnest[i], size);
        cli_tell_text(t, ladder_words[i], size);
    }
    cli_tell_number(t, "most_feed_mohm", limit(n->resistance, 1000));
    cli_tell_number(t, "longest_m", limit(n->length, 1));
    cli_tell_number(t, "most_joint_mohm", limit(n->joint, 1000));
    cli_tell_close(t);
}

static void tell_climate(cli_teller *t, const cli_feed *a, const char *name,
                         const slew_feed_climate *c)
{
    cli_tell_open(t, name);
    cli_tell_number(t, "temperature_degC", cli_celsius(c->temperature));
    tell_trial(t, a, "feed", &c->own);
    tell_need(t, "for_floor", &c->floor);
    cli_tell_open_list(t, "for_drop");
    for (int i = 0; i < a->question.drop_count; i++) {
        cli_tell_open(t, NULL);
        cli_tell_number(t, "drop_percent", cli_percent(a->question.drop[i]));
        tell_need(t, "need", &c->drop[i]);
        cli_tell_close(t);
    }
    cli_tell_close(t);
    cli_tell_close(t);
}

/* ---- what else is tried ---- */

static void tell_places(cli_teller *t, const slew_feed_figures *f)
{
    cli_tell_open(t, "worst_place");
    for (int j = 0; j < SLEW_AXES; j++) {
        const slew_feed_place *p = &f->place[j];
        cli_tell_open(t, drive_words[j]);
        cli_tell_text(t, "direction", p->anywhere ? NULL : slew_direction_word(j, p->direction));
        cli_tell_degrees(t, "rotation_deg", p->angle[SLEW_ROTATION]);
        cli_tell_degrees(t, "elevation_deg", p->angle[SLEW_ELEVATION]);
        cli_tell_number(t, "load_Nm", p->torque);
        cli_tell_close(t);
    }
    cli_tell_close(t);
}

static void tell_ladders(cli_teller *t, const cli_feed *a)
{
    cli_tell_open(t, "conductors");
    for (int k = 0; k < SLEW_LADDERS; k++) {
        cli_tell_open_list(t, ladder_words[k]);
        for (int i = 0; i < slew_ladder_count((slew_ladder)k); i++) {
            cli_tell_open(t, NULL);
            tell_conductor(t, a, (slew_ladder)k, i);
            tell_trial(t, a, "feed", &a->answer.ladder[k][i]);
            cli_tell_close(t);
        }
        cli_tell_close(t);
    }
    cli_tell_close(t);
}

/* a list, and what its value is called, in a unit of which there are so many in the SI's */
typedef struct names {
    const char *list, *value;
    double times;
} names;

static void tell_levels(cli_teller *t, const cli_feed *a, const slew_feed_level *level, names n)
{
    cli_tell_open_list(t, n.list);
    for (int i = 0; i < SLEW_FEED_LEVELS; i++) {
        cli_tell_open(t, NULL);
        cli_tell_number(t, n.value, n.times * level[i].value);
        cli_tell_boolean(t, "own", level[i].own);
        tell_trial(t, a, "feed", &level[i].trial);
        cli_tell_close(t);
    }
    cli_tell_close(t);
}

static void tell_auxiliary(cli_teller *t, const cli_feed *a)
{
    const slew_supply *supply = &a->answer.setup.supply;
    const slew_feed_auxiliary *x = &a->answer.auxiliary;
    cli_tell_open(t, "auxiliary");
    cli_tell_boolean(t, "fitted", supply->auxiliary_fitted);
    cli_tell_number(t, "voltage_V", supply->auxiliary.voltage);
    cli_tell_number(t, "resistance_mohm", cli_milliohms(supply->auxiliary.resistance));
    tell_trial(t, a, "with", &x->with);
    tell_trial(t, a, "without", &x->without);
    tell_need(t, "for_floor_with", &x->need_with);
    tell_need(t, "for_floor_without", &x->need_without);
    cli_tell_close(t);
}

static void tell_fusing(cli_teller *t, const slew_feed_answer *answer)
{
    cli_tell_open(t, "fusing");
    cli_tell_number(t, "both_stalled_most_A", answer->most_stall);
    cli_tell_number(t, "short_circuit_A", answer->short_circuit);
    cli_tell_close(t);
}

static void tell_measured(cli_teller *t, const cli_feed *a)
{
    const slew_feed_joint *j = &a->joint;
    cli_tell_open_if(t, "measured", a->measured != CLI_FEED_NOTHING);
    cli_tell_number(t, "voltage_V", j->state.voltage);
    cli_tell_number(t, "feed_A", j->state.line);
    cli_tell_number(t, "drop_V", j->state.drop);
    cli_tell_number(t, "resistance_mohm", cli_milliohms(j->resistance));
    cli_tell_number(t, "conductors_mohm", cli_milliohms(j->conductors));
    cli_tell_number(t, "joints_mohm", cli_milliohms(j->joints));
    cli_tell_number(t, "each_joint_mohm", cli_milliohms(j->each));
    cli_tell_close(t);
}

/* ---- whole days ---- */

static void tell_work_size(cli_teller *t, const cli_feed *a, const slew_feed_size *s)
{
    char name[40];
    if (s->index == SLEW_FEED_OWN)
        cli_feed_own_size(a, name);
    else
        cli_feed_size(s->ladder, s->index, name);
    cli_tell_open(t, NULL);
    cli_tell_text(t, "ladder", s->index == SLEW_FEED_OWN ? "own" : cli_feed_ladder(s->ladder));
    cli_tell_text(t, "size", name);
    cli_tell_text(t, "limit", slew_feed_limit_word(s->limit));
    cli_tell_text(t, "weakest_day", slew_feed_limit_word(s->weakest));
    cli_tell_integer(t, "samples", s->samples);
    cli_tell_open(t, "fails");
    for (int k = SLEW_FEED_LIMITED_BY_TEACHING; k < SLEW_FEED_LIMIT_COUNT; k++)
        cli_tell_integer(t, slew_feed_limit_word((slew_feed_limit)k), s->hits[k]);
    cli_tell_close(t);
    cli_tell_number(t, "lowest_loaded_V", s->lowest_loaded);
    cli_tell_close(t);
}

static void tell_found(cli_teller *t, const cli_feed *a, const char *name,
                       const slew_feed_found found[2])
{
    static const char *const kinds[] = {"awg", "mm2"};
    cli_tell_open(t, name);
    for (int k = 0; k < 2; k++) {
        const slew_feed_size *s = &a->work.size[found[k].index > 0 ? found[k].index : 0];
        char size[40];
        cli_feed_size(s->ladder, s->index > 0 ? s->index : 0, size);
        cli_tell_open_if(t, kinds[k], found[k].index > 0);
        cli_tell_text(t, "size", size);
        cli_tell_record(t, "judged", cli_tell_judgment, &found[k].judged);
        cli_tell_close(t);
    }
    cli_tell_close(t);
}

static void tell_work(cli_teller *t, const cli_feed *a)
{
    const slew_feed_work *w = &a->work;
    char text[CLI_FEED_TEXT_MAX];
    cli_feed_say_work(a, text);
    cli_tell_text(t, "lacking", a->lacking);
    cli_tell_open_if(t, "work", w->count > 0);
    cli_tell_text(t, "finding", text);
    cli_tell_text(t, "not_checked", "ampacity, fuse");
    if (t->in_full)
        cli_tell_known(t, a->scenario);
    cli_tell_record(t, "own", cli_tell_judgment, &w->own);
    tell_found(t, a, "runs", w->found[SLEW_FEED_RUNS]);
    tell_found(t, a, "keeps_floor", w->found[SLEW_FEED_KEEPS]);
    tell_found(t, a, "meets_demands", w->found[SLEW_FEED_MEETS]);
    cli_tell_open_list(t, "sizes");
    for (int i = 0; i < w->count; i++)
        tell_work_size(t, a, &w->size[i]);
    cli_tell_close(t);
    cli_tell_close(t);
}

/* ---- the document ---- */

void cli_feed_document(cli_teller *t, const void *what)
{
    const cli_feed *a = what;
    const slew_feed_answer *answer = &a->answer;
    const slew_feed_climate *as_it_is = &answer->climate[SLEW_FEED_AS_IT_IS];
    char finding[CLI_FEED_TEXT_MAX];
    cli_feed_finding(a, finding);
    cli_tell_title(t, a->scenario);
    cli_tell_text(t, "occasion",
                  a->question.occasion == SLEW_OCCASION_DEPLOY ? "deploy_day" : "today");
    cli_tell_text(t, "finding", finding);
    cli_tell_boolean(t, "together", answer->together);
    cli_tell_number(t, "system_V", answer->setup.supply.system);
    cli_tell_number(t, "floor_V", answer->setup.supply.floor);
    tell_work(t, a);
    tell_places(t, &as_it_is->own.figures);
    tell_climate(t, a, "as_it_is", as_it_is);
    cli_tell_open(t, "weather");
    for (int w = SLEW_FEED_COLD; w <= SLEW_FEED_HOT; w++)
        tell_climate(t, a, weather_words[w], &answer->climate[w]);
    cli_tell_close(t);
    tell_ladders(t, a);
    tell_levels(t, a, answer->length, (names){"length", "length_m", 1});
    tell_levels(t, a, answer->joints, (names){"joints", "joints_mohm", 1000});
    tell_levels(t, a, answer->shared, (names){"shared_load", "shared_load_A", 1});
    tell_auxiliary(t, a);
    tell_fusing(t, answer);
    tell_measured(t, a);
    cli_tell_provenance(t, a->scenario, NULL, 0);
}
