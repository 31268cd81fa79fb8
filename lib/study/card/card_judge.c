/* card_judge.c - does a truck pass its page: readings against those of sound trucks. M12.7 */
#include "study/card/card_band.h"
#include "study/card/card_step.h"
#include "study/sampling/summary.h"

#include "error/error.h"
#include "keys/sound.h"

#include <stdlib.h>
#include <string.h>

typedef struct judging {
    const slew_scenario *scenario;
    const slew_timings *timings;
    slew_card_verdict *out;
} judging;

/* ---- readings ---- */

static slew_card_read read_of(const slew_timing *row, slew_measure measure)
{
    static const slew_card_read reads[] = {SLEW_CARD_SECONDS, SLEW_CARD_VOLTAGE, SLEW_CARD_CURRENT};
    if (measure == SLEW_MEASURE_ANGLE)
        return row->axis == SLEW_ROTATION ? SLEW_CARD_ROTATION : SLEW_CARD_ELEVATION;
    return row->to.kind == SLEW_PLACE_STOW_POINT ? SLEW_CARD_STORED : reads[measure];
}

/* seconds of a deploy are what the controller is set to */
static bool is_reading(const slew_timing *row, slew_measure measure)
{
    return !isnan(row->measured[measure].value) &&
           (measure != SLEW_MEASURE_SECONDS || row->to.kind != SLEW_PLACE_DEPLOYED);
}

static void take_readings(const slew_timings *timings, slew_card_verdict *out)
{
    for (int i = 0; i < timings->count; i++)
        for (slew_measure m = 0; m < SLEW_MEASURE_COUNT; m++) {
            const slew_timing *row = &timings->row[i];
            const slew_measured *measured = &row->measured[m];
            slew_card_read read = read_of(row, m);
            if (!is_reading(row, m))
                continue;
            out->reading[out->readings++] =
                (slew_card_judged){.row = i,
                                   .measure = m,
                                   .read = read,
                                   .shown = measured->value,
                                   .sd = measured->sd_given ? measured->sd : slew_card_sd(read)};
        }
}

static slew_status check(const slew_timings *timings, const slew_sampling *sampling,
                         const slew_card_verdict *v, slew_error *error)
{
    if (sampling->samples < 1)
        return slew_refuse(error, "", "no samples", "1 or more");
    if (v->readings == 0)
        return slew_refuse(error, "", "nothing is measured in any row", "");
    for (int i = 0; i < v->readings; i++) {
        const slew_timing *row = &timings->row[v->reading[i].row];
        bool has_axis = row->axis >= 0 && row->axis < SLEW_AXES;
        if (!(v->reading[i].sd > 0) || !isfinite(v->reading[i].shown))
            return slew_refuse(error, "",
                               "a reading without a value or a standard deviation above 0", "");
        if (slew_timing_is_run(row) && !has_axis)
            return slew_refuse(error, "axis", "a run of no axis", "rotation or elevation");
    }
    return SLEW_OK;
}

/* where its axis rests after a stow, or after a deploy for the row's seconds, whatever else the row
 * states: the day is drawn */
static void take_rest(const slew_timing *row, slew_card_step *step, const slew_scenario *scenario,
                      const slew_prepared *prepared, slew_card_taken *out)
{
    slew_scenario set = *scenario;
    double seconds = row->measured[SLEW_MEASURE_SECONDS].value;
    step->kind = row->to.kind == SLEW_PLACE_DEPLOYED ? SLEW_CARD_DEPLOY : SLEW_CARD_STOW;
    if (step->kind == SLEW_CARD_DEPLOY && !isnan(seconds))
        set.deploy.seconds[row->axis] = row->direction * seconds;
    slew_card_take(step, &set, prepared, out);
}

/* what the row comes to on one truck, as a step of a card */
static void take_row(const slew_timing *row, slew_card_read read, const slew_scenario *scenario,
                     const slew_prepared *prepared, slew_card_taken *out)
{
    slew_card_step step = {.kind = SLEW_CARD_TRAVEL, .row = *row};
    for (int j = 0; j < SLEW_AXES; j++)
        step.start[j] = prepared->stow_setup.axis[j].start;
    if (read == SLEW_CARD_ROTATION || read == SLEW_CARD_ELEVATION)
        take_rest(row, &step, scenario, prepared, out);
    else
        slew_card_take(&step, scenario, prepared, out);
}

/* ---- what a row states ---- */

enum { STATED = 5 };

/* a number of the row that may be wrong, and by how much; NULL: it states none */
static double *stated_in(slew_timing *row, int which, double *sd)
{
    static const slew_input inputs[STATED] = {SLEW_INPUT_SUPPLY, SLEW_INPUT_PRESSURE,
                                              SLEW_INPUT_TEMPERATURE, SLEW_INPUT_ANGLE,
                                              SLEW_INPUT_ANGLE};
    double *const numbers[STATED] = {&row->supply, &row->pressure, &row->temperature,
                                     &row->from.angle, &row->to.angle};
    const slew_place *place = which == 3 ? &row->from : which == 4 ? &row->to : NULL;
    double given = row->input_sd[inputs[which]];
    *sd = isnan(given) ? slew_input_sd(inputs[which]) : given;
    bool is_there = place != NULL ? place->kind == SLEW_PLACE_ANGLE : !isnan(*numbers[which]);
    bool dry = which == 1 && !(row->pressure > 0); /* nobody is wrong about that */
    return is_there && !dry ? numbers[which] : NULL;
}

/* by how much each reading of the row changes with one sd of it; 0 where it can't be made */
static void add_stated(const judging *j, const slew_prepared *prepared, int row, int which)
{
    double sd, change[2][SLEW_CARD_READ_COUNT];
    slew_card_taken taken;
    for (int side = 0; side < 2; side++) {
        slew_timing moved = j->timings->row[row];
        double *number = stated_in(&moved, which, &sd);
        if (number == NULL)
            return;
        *number = fmax(*number + (side == 0 ? -sd : sd), which <= 2 ? 0 : -INFINITY);
        take_row(&moved, SLEW_CARD_SECONDS, j->scenario, prepared, &taken);
        memcpy(change[side], taken.value, sizeof taken.value);
    }
    for (int i = 0; i < j->out->readings; i++) {
        slew_card_judged *r = &j->out->reading[i];
        double lower = change[0][r->read], upper = change[1][r->read];
        double half = isnan(lower)   ? upper - r->expected
                      : isnan(upper) ? r->expected - lower
                                     : (upper - lower) / 2;
        if (r->row == row && !isnan(half))
            r->sd = hypot(r->sd, half);
    }
}

/* ---- what is expected ---- */

static slew_status refuse_row(const slew_timing *row, const char *why, slew_error *error)
{
    slew_refuse(error, "", why, "a travel that the scenario as it is can make");
    if (error != NULL)
        error->line = row->line;
    return SLEW_ERROR_INPUT;
}

static slew_status expect(const judging *j, const slew_prepared *prepared, slew_error *error)
{
    for (int i = 0; i < j->out->readings; i++) {
        slew_card_judged *r = &j->out->reading[i];
        slew_card_taken taken;
        take_row(&j->timings->row[r->row], r->read, j->scenario, prepared, &taken);
        if (!taken.made)
            return refuse_row(&j->timings->row[r->row], taken.why, error);
        r->expected = taken.value[r->read];
    }
    for (int row = 0; row < j->timings->count; row++)
        for (int which = 0; which < STATED && !slew_timing_is_run(&j->timings->row[row]); which++)
            add_stated(j, prepared, row, which);
    return SLEW_OK;
}

/* ---- sound trucks ---- */

/* figures of a sample: 1, so that it is there, then the readings; NaN: the travel is not made */
static void ask(void *context, const slew_scenario *drawn, const slew_prepared *prepared,
                double *figures)
{
    const judging *j = context;
    slew_card_taken taken;
    int row = -1;
    figures[0] = 1;
    for (int i = 0; i < j->out->readings; i++) {
        const slew_card_judged *r = &j->out->reading[i];
        if (r->row != row || r->measure == SLEW_MEASURE_ANGLE)
            take_row(&j->timings->row[r->row], r->read, drawn, prepared, &taken);
        row = r->row;
        figures[1 + i] = taken.value[r->read];
    }
}

static double off_of(const slew_card_judged *r, double shown)
{
    double way = shown > r->middle ? r->to - r->middle : r->middle - r->from;
    if (shown == r->middle)
        return 0;
    return way > 0 ? fabs(shown - r->middle) / way : INFINITY;
}

static void place_reading(const slew_ensemble *e, int index, double *sorted, slew_card_judged *r)
{
    size_t n = (size_t)slew_sorted_figure(e, 1 + index, sorted);
    double least = slew_card_lowest(r->read);
    bool any = n > 0;
    r->from = any ? fmax(slew_card_quantile(sorted, n, r->sd, SLEW_CARD_TAIL), least) : NAN;
    r->middle = any ? fmax(slew_card_quantile(sorted, n, r->sd, 0.5), least) : NAN;
    r->to = any ? slew_card_quantile(sorted, n, r->sd, 1 - SLEW_CARD_TAIL) : NAN;
    r->outside = r->shown > r->to ? r->shown - r->to : r->shown < r->from ? r->shown - r->from : 0;
    r->off = off_of(r, r->shown);
}

/* the same of a page of a sound truck, drawn with its errors */
static double worst_of_page(const slew_ensemble *e, int64_t sample, int64_t page,
                            const slew_card_verdict *v)
{
    double worst = 0;
    for (int i = 0; i < v->readings; i++) {
        const slew_card_judged *r = &v->reading[i];
        double value = e->figure[sample * e->count + 1 + i];
        double off = off_of(r, slew_card_shown(value, r->sd, r->read, page, i));
        worst = fmax(worst, isnan(value) ? INFINITY : off);
    }
    return worst;
}

static void compare_pages(const slew_ensemble *e, int64_t pages, slew_card_verdict *v)
{
    int64_t inside = 0;
    for (int64_t page = 0; page < pages; page++) {
        int64_t sample = v->varies ? page : 0;
        if (isnan(e->figure[sample * e->count])) /* it can't run */
            continue;
        double worst = worst_of_page(e, sample, page, v);
        v->pages++;
        v->as_far += worst >= v->reading[v->worst].off;
        inside += worst <= 1;
    }
    v->all_inside = (double)inside / (double)v->pages;
    v->chance = (double)(1 + v->as_far) / (double)(1 + v->pages);
    v->passes = v->chance >= SLEW_CARD_LEAST;
}

static slew_status conclude(const slew_ensemble *e, int64_t pages, slew_card_verdict *v)
{
    double *sorted = malloc((size_t)e->samples * sizeof *sorted);
    if (sorted == NULL)
        return SLEW_ERROR_MEMORY;
    for (int i = 0; i < v->readings; i++) {
        place_reading(e, i, sorted, &v->reading[i]);
        v->outside += v->reading[i].off > 1;
        if (v->reading[i].off > v->reading[v->worst].off)
            v->worst = i;
    }
    compare_pages(e, pages, v);
    free(sorted);
    return SLEW_OK;
}

static slew_status vary(judging *j, const slew_scenario *visit, slew_parts parts,
                        const slew_sampling *sampling, slew_error *error)
{
    slew_ensemble e;
    slew_card_verdict *v = j->out;
    slew_sampling how = *sampling;
    v->varies = slew_ensemble_dimensions(visit, parts) > 0;
    if (!v->varies)
        how.samples = 1;
    slew_status status = slew_ensemble_run(visit, parts, &how, ask, j, 1 + v->readings, &e, error);
    if (status != SLEW_OK && status != SLEW_ERROR_STOPPED)
        return status;
    slew_status concluded = conclude(&e, v->varies ? e.done : sampling->samples, v);
    v->samples = v->varies ? e.done : 0;
    v->refused = e.refused;
    v->first_refusal = e.first_refusal;
    slew_ensemble_free(&e);
    return concluded == SLEW_OK ? status : slew_no_memory(error);
}

/* ---- what is not filled in ---- */

static bool is_same_travel(const slew_timing *a, const slew_timing *b)
{
    return a->direction == b->direction && (a->direction == 0 || a->axis == b->axis) &&
           a->from.kind == b->from.kind && a->to.kind == b->to.kind;
}

static bool is_filled_in(const judging *j, const slew_timing *row, slew_card_read read)
{
    for (int i = 0; i < j->out->readings; i++)
        if (j->out->reading[i].read == read &&
            is_same_travel(&j->timings->row[j->out->reading[i].row], row))
            return true;
    return false;
}

/* a drop has no column: it is the controller's voltage under the row's own supply */
static void find_blanks(const judging *j, const slew_prepared *prepared)
{
    slew_card card;
    slew_card_taken taken;
    slew_card_menu(prepared, &card);
    for (int i = 0; i < card.steps; i++) {
        const slew_card_step *step = &card.step[i];
        if (step->kind != SLEW_CARD_TRAVEL)
            continue;
        slew_card_take(step, j->scenario, prepared, &taken);
        for (int k = 0; k < step->readings && taken.made; k++) {
            slew_card_read read = step->reading[k].read;
            if (read != SLEW_CARD_DROP && !is_filled_in(j, &step->row, read))
                j->out->blank[j->out->blanks++] = (slew_card_blank){*step, read};
        }
    }
}

/* ---- the verdict ---- */

slew_status slew_card_judge(const slew_scenario *scenario, const slew_timings *timings,
                            const slew_sampling *sampling, slew_card_verdict *out,
                            slew_error *error)
{
    if (timings == NULL || sampling == NULL || out == NULL || timings->count < 0 ||
        timings->count > SLEW_TIMINGS_MAX)
        return slew_no_argument(error);
    if (!slew_is_sound(scenario, error))
        return SLEW_ERROR_INPUT;
    slew_prepared prepared;
    slew_parts parts = scenario->deploy.given ? SLEW_STOW_AND_DEPLOY : SLEW_STOW_ONLY;
    memset(out, 0, sizeof *out);
    judging j = {scenario, timings, out};
    take_readings(timings, out);
    slew_status status = check(timings, sampling, out, error);
    if (status == SLEW_OK)
        status = slew_prepare(scenario, parts, &prepared, error);
    if (status == SLEW_OK)
        status = expect(&j, &prepared, error);
    if (status != SLEW_OK)
        return status;
    find_blanks(&j, &prepared);
    slew_scenario visit = *scenario; /* as slew_card_run has it */
    visit.deploy.same_day = true;
    return vary(&j, &visit, parts, sampling, error);
}
