/* records.c - the answer of `slewtime offset` as JSON. */
#include "answer.h"
#include "single/old_json.h"
#include "slewtime/slewtime.h"

static json_t *angles(const slew_summary *s)
{
    return json_pack("{s:o, s:o, s:o, s:o, s:o}", "lowest_deg", cli_json_degrees(s->lowest),
                     "p05_deg", cli_json_degrees(s->p05), "median_deg", cli_json_degrees(s->median),
                     "p95_deg", cli_json_degrees(s->p95), "highest_deg",
                     cli_json_degrees(s->highest));
}

static json_t *of_axes(json_t *rotation, json_t *elevation)
{
    return json_pack("{s:o, s:o}", "rotation", rotation, "elevation", elevation);
}

static json_t *seconds(const double value[SLEW_AXES])
{
    return of_axes(cli_json_number(value[SLEW_ROTATION]), cli_json_number(value[SLEW_ELEVATION]));
}

/* ---- choices ---- */

static json_t *usual_fault(const slew_usual_fault *f)
{
    if (f->fault == SLEW_FAULT_NONE)
        return json_null();
    return json_pack("{s:s, s:o, s:s, s:o}", "fault", slew_fault_word(f->fault), "axis",
                     cli_json_axis(f->axis), "part", f->in_stow ? "stow" : "deploy", "share",
                     cli_json_share(&f->share));
}

static json_t *usual_box(const slew_scenario *scenario, const slew_usual_box *b)
{
    if (b->box < 0)
        return json_null();
    return json_pack("{s:o, s:o}", "box", cli_json_text(scenario->keepout.box[b->box].name),
                     "share", cli_json_share(&b->share));
}

static json_t *choice(const slew_scenario *scenario, const slew_offset_choice *c)
{
    return json_pack(
        "{s:o, s:o, s:o, s:o, s:o, s:o, s:o, s:o, s:o, s:o}", "seconds", seconds(c->seconds),
        "inside", cli_json_share(&c->inside), "outside",
        of_axes(cli_json_share(&c->outside[SLEW_ROTATION]),
                cli_json_share(&c->outside[SLEW_ELEVATION])),
        "fault", cli_json_share(&c->fault), "most_faults", usual_fault(&c->usual_fault),
        "no_verdict", cli_json_share(&c->no_verdict), "keepout", cli_json_share(&c->keepout),
        "most_keepouts", usual_box(scenario, &c->usual_box), "rotation",
        angles(&c->angle[SLEW_ROTATION]), "elevation", angles(&c->angle[SLEW_ELEVATION]));
}

static json_t *choices(const cli_offset *a)
{
    json_t *list = json_array();
    for (int i = 0; i < a->offset->count; i++)
        json_array_append_new(list, choice(a->scenario, &a->offset->choice[i]));
    return list;
}

/* ---- finer choices ---- */

static json_t *finer(const cli_offset *a)
{
    static const char *const words[] = {"half", "tenth", "any"};
    const slew_finer *f = a->finer;
    if (f == NULL)
        return json_null();
    json_t *whole = json_pack("{s:o, s:o, s:o, s:I}", "present_step_s", seconds(f->step),
                              "needed_s", seconds(f->needed), "reachable",
                              of_axes(cli_json_share(&f->reachable[SLEW_ROTATION]),
                                      cli_json_share(&f->reachable[SLEW_ELEVATION])),
                              "searched", (json_int_t)f->searched);
    for (int k = 0; k < SLEW_FINER_COUNT; k++)
        json_object_set_new(whole, words[k], choice(a->scenario, &f->at[k]));
    return whole;
}

/* ---- drivers ---- */

static json_t *drivers_of(const slew_drivers *d, int axis)
{
    int order[SLEW_DRIVERS_MAX];
    json_t *list = json_array();
    cli_offset_rank(d, axis, order);
    for (int i = 0; i < d->count && cli_offset_varies(d, axis); i++) {
        const slew_driver *driver = &d->driver[order[i]];
        json_array_append_new(list, json_pack("{s:s, s:s, s:o, s:o}", "key",
                                              slew_key_at(driver->drawn.key)->path, "of",
                                              cli_offset_of_word(&driver->drawn), "first",
                                              cli_json_share(&driver->first[axis]), "total",
                                              cli_json_share(&driver->total[axis])));
    }
    return json_pack("{s:o, s:o, s:b, s:o}", "mean_deg", cli_json_degrees(d->mean[axis]),
                     "deviation_deg", cli_json_degrees(d->deviation[axis]), "varies",
                     (int)cli_offset_varies(d, axis), "indices", list);
}

static json_t *drivers(const cli_offset *a)
{
    const slew_drivers *d = a->drivers;
    if (d == NULL)
        return json_pack("{s:s}", "not_told", a->no_drivers);
    return json_pack("{s:I, s:i, s:I, s:I, s:b, s:o, s:o}", "base",
                     (json_int_t)(d->base * d->repeats), "repeats", d->repeats, "runs",
                     (json_int_t)d->runs, "refused", (json_int_t)d->refused, "correlated",
                     a->scenario->correlation.count > 0, "rotation", drivers_of(d, SLEW_ROTATION),
                     "elevation", drivers_of(d, SLEW_ELEVATION));
}

/* ---- the document ---- */

static json_t *advice(const cli_offset *a)
{
    char text[CLI_OFFSET_TEXT_MAX];
    json_t *list = json_array();
    for (int i = 0; i < a->advice_count; i++) {
        cli_offset_say(a, &a->advice[i], text);
        json_array_append_new(
            list, json_pack("{s:s, s:o, s:o}", "kind", slew_advice_word(a->advice[i].kind), "axis",
                            cli_json_axis(a->advice[i].axis), "says", cli_json_text(text)));
    }
    return list;
}

int cli_offset_json(const void *answer)
{
    const cli_offset *a = answer;
    const slew_offset *o = a->offset;
    char why[CLI_OFFSET_TEXT_MAX];
    cli_offset_say_why(a, why);
    json_t *whole =
        json_pack("{s:s, s:s}", "slewtime", slew_version(), "title", a->scenario->title);
    cli_provenance_json(whole, a->scenario, a->sampling, o->samples);
    json_t *rest = json_pack("{s:I, s:f, s:b, s:i, s:o, s:o, s:s, s:o, s:o, s:o, s:o, s:o}",
                             "refused", (json_int_t)o->refused, "wanted", a->wanted, "good_enough",
                             (int)cli_offset_is_enough(a), "best", o->best, "runner_up",
                             o->runner_up < 0 ? json_null() : json_integer(o->runner_up), "lead",
                             cli_json_share(&o->lead), "why", why, "advice", advice(a),
                             "extremes_bound", cli_json_number(cli_offset_bounded(a)), "choices",
                             choices(a), "finer", finer(a), "drivers", drivers(a));
    if (whole != NULL && rest != NULL)
        json_object_update(whole, rest);
    json_decref(rest);
    return cli_json_print(whole);
}
