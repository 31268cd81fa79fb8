/* offset_json.c - `slewtime offset` as JSON and CSV. */
#include "csv.h"
#include "json.h"
#include "offset.h"
#include "slewtime/slewtime.h"
#include "story.h"

/* ---- JSON: parts ---- */

static json_t *share(const slew_share *s)
{
    return json_pack("{s:o, s:o, s:o}", "share", cli_json_number(s->value), "low",
                     cli_json_number(s->low), "high", cli_json_number(s->high));
}

static json_t *axis_word(int axis)
{
    return axis == SLEW_NO_AXIS ? json_null() : json_string(slew_axis_word(axis));
}

static json_t *of_axes(json_t *rotation, json_t *elevation)
{
    return json_pack("{s:o, s:o}", slew_axis_word(SLEW_ROTATION), rotation,
                     slew_axis_word(SLEW_ELEVATION), elevation);
}

static json_t *seconds(const double s[SLEW_AXES])
{
    return of_axes(cli_json_number(s[SLEW_ROTATION]), cli_json_number(s[SLEW_ELEVATION]));
}

static json_t *angles(const slew_summary *s)
{
    return json_pack(
        "{s:o, s:o, s:o, s:o, s:o}", "lowest_deg", cli_json_number(cli_degrees(s->lowest)),
        "p05_deg", cli_json_number(cli_degrees(s->p05)), "median_deg",
        cli_json_number(cli_degrees(s->median)), "p95_deg", cli_json_number(cli_degrees(s->p95)),
        "highest_deg", cli_json_number(cli_degrees(s->highest)));
}

/* null where there is no fault */
static json_t *usual_fault(const slew_usual_fault *f)
{
    if (f->fault == SLEW_FAULT_NONE)
        return json_null();
    return json_pack("{s:s, s:o, s:s, s:o}", "fault", slew_fault_word(f->fault), "axis",
                     axis_word(f->axis), "part", f->in_stow ? "stow" : "deploy", "in",
                     share(&f->share));
}

/* null where no box is entered */
static json_t *usual_box(const slew_scenario *s, const slew_usual_box *b)
{
    if (b->box < 0)
        return json_null();
    return json_pack("{s:s, s:o}", "name", s->keepout.box[b->box].name, "in", share(&b->share));
}

static json_t *choice(const slew_scenario *s, const slew_offset_choice *c)
{
    const int r = SLEW_ROTATION, e = SLEW_ELEVATION;
    return json_pack("{s:o, s:o, s:o, s:o, s:o, s:o, s:o, s:o, s:o, s:o}", "seconds",
                     seconds(c->seconds), "inside", share(&c->inside), "outside",
                     of_axes(share(&c->outside[r]), share(&c->outside[e])), "fault",
                     share(&c->fault), "fault_most_often", usual_fault(&c->usual_fault),
                     "no_verdict", share(&c->no_verdict), "keepout", share(&c->keepout),
                     "keepout_most_often", usual_box(s, &c->usual_box), slew_axis_word(r),
                     angles(&c->angle[r]), slew_axis_word(e), angles(&c->angle[e]));
}

/* ---- JSON: findings ---- */

static json_t *choices(const cli_offset *a)
{
    json_t *list = json_array();
    for (int i = 0; i < a->offset->count; i++)
        json_array_append_new(list, choice(a->scenario, &a->offset->choice[i]));
    return list;
}

static json_t *advice(const cli_offset *a)
{
    char text[CLI_SENTENCE_MAX];
    json_t *list = json_array();
    for (int i = 0; i < a->advice_count; i++) {
        const slew_advice *item = &a->advice[i];
        cli_offset_say(a, item, text);
        json_array_append_new(list,
                              json_pack("{s:s, s:o, s:s}", "kind", slew_advice_word(item->kind),
                                        "axis", axis_word(item->axis), "says", text));
    }
    return list;
}

static json_t *finer(const cli_offset *a)
{
    static const char *const names[] = {"half_steps", "tenth_steps", "any_time"};
    const slew_finer *f = a->finer;
    if (f == NULL)
        return json_null();
    json_t *all = json_pack(
        "{s:o, s:o, s:o, s:I}", "step_s", seconds(f->step), "needed_s", seconds(f->needed),
        "reachable",
        of_axes(share(&f->reachable[SLEW_ROTATION]), share(&f->reachable[SLEW_ELEVATION])),
        "searched", (json_int_t)f->searched);
    for (int k = 0; k < SLEW_FINER_COUNT; k++)
        json_object_set_new(all, names[k], choice(a->scenario, &f->at[k]));
    return all;
}

static json_t *driver(const slew_driver *d, int axis)
{
    static const char *const of[] = {"truck", "day", "deploy_day"};
    return json_pack("{s:s, s:s, s:o, s:o}", "key", slew_key_at(d->drawn.key)->path, "of",
                     of[d->drawn.of], "first_order", share(&d->first[axis]), "total",
                     share(&d->total[axis]));
}

static json_t *axis_drivers(const slew_drivers *d, int axis)
{
    int order[SLEW_DRIVERS_MAX];
    json_t *list = json_array();
    cli_driver_order(d, axis, order);
    for (int i = 0; i < d->count && d->deviation[axis] > 0; i++)
        json_array_append_new(list, driver(&d->driver[order[i]], axis));
    return json_pack("{s:b, s:o, s:o, s:o}", "varies", d->deviation[axis] > 0, "mean_deg",
                     cli_json_number(cli_degrees(d->mean[axis])), "deviation_deg",
                     cli_json_number(cli_degrees(d->deviation[axis])), "by_total", list);
}

static json_t *drivers(const cli_offset *a)
{
    const slew_drivers *d = a->drivers;
    if (d == NULL)
        return json_pack("{s:s}", "not_told_because", a->why_not);
    return json_pack("{s:i, s:I, s:I, s:o, s:o}", "repeats", d->repeats, "base",
                     (json_int_t)d->base, "runs", (json_int_t)d->runs,
                     slew_axis_word(SLEW_ROTATION), axis_drivers(d, SLEW_ROTATION),
                     slew_axis_word(SLEW_ELEVATION), axis_drivers(d, SLEW_ELEVATION));
}

int cli_offset_json(const void *what)
{
    const cli_offset *a = what;
    const slew_offset *o = a->offset;
    json_t *whole =
        json_pack("{s:s, s:s}", "slewtime", slew_version(), "title", a->scenario->title);
    cli_origin_json(whole, a->scenario, a->sampling, o->samples);
    json_object_set_new(whole, "refused", json_integer(o->refused));
    json_object_set_new(whole, "wanted", json_real(a->wanted));
    json_object_set_new(whole, "good_enough",
                        json_boolean(cli_offset_best(a)->inside.value >= a->wanted));
    json_object_set_new(whole, "best", json_integer(o->best));
    json_object_set_new(whole, "runner_up",
                        o->runner_up < 0 ? json_null() : json_integer(o->runner_up));
    json_object_set_new(whole, "lead", o->runner_up < 0 ? json_null() : share(&o->lead));
    json_object_set_new(whole, "advice", advice(a));
    json_object_set_new(whole, "choices", choices(a));
    json_object_set_new(whole, "finer", finer(a));
    json_object_set_new(whole, "drivers", drivers(a));
    return cli_json_print(whole);
}

/* ---- CSV ---- */

static void write_angles(FILE *stream, const slew_summary *s)
{
    fprintf(stream, ",%.9f,%.9f,%.9f,%.9f,%.9f", cli_degrees(s->lowest), cli_degrees(s->p05),
            cli_degrees(s->median), cli_degrees(s->p95), cli_degrees(s->highest));
}

/* the names of the usual fault and box; empty where there is none */
static void write_names(FILE *stream, const slew_scenario *s, const slew_offset_choice *c)
{
    fprintf(stream, ",%s,",
            c->usual_fault.fault == SLEW_FAULT_NONE ? "" : slew_fault_word(c->usual_fault.fault));
    if (c->usual_box.box >= 0)
        cli_csv_text(stream, s->keepout.box[c->usual_box.box].name);
}

void cli_offset_csv(FILE *stream, const void *what)
{
    const cli_offset *a = what;
    fputs("rotation_s,elevation_s,inside,inside_low,inside_high,fault,keepout,"
          "rotation_lowest_deg,rotation_p05_deg,rotation_median_deg,rotation_p95_deg,"
          "rotation_highest_deg,elevation_lowest_deg,elevation_p05_deg,elevation_median_deg,"
          "elevation_p95_deg,elevation_highest_deg,fault_most_often,keepout_most_often",
          stream);
    cli_origin_csv_names(stream, a->sampling);
    fputc('\n', stream);
    for (int i = 0; i < a->offset->count; i++) {
        const slew_offset_choice *c = &a->offset->choice[i];
        fprintf(stream, "%.12g,%.12g,%.9g,%.9g,%.9g,%.9g,%.9g", c->seconds[SLEW_ROTATION],
                c->seconds[SLEW_ELEVATION], c->inside.value, c->inside.low, c->inside.high,
                c->fault.value, c->keepout.value);
        write_angles(stream, &c->angle[SLEW_ROTATION]);
        write_angles(stream, &c->angle[SLEW_ELEVATION]);
        write_names(stream, a->scenario, c);
        cli_origin_csv(stream, a->scenario, a->sampling, a->offset->samples);
        fputc('\n', stream);
    }
}
