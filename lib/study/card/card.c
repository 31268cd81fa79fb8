/* card.c - what a check card expects, and its bands over everything that varies. M12.7 */
#include "study/card/card_step.h"
#include "study/sampling/summary.h"

#include "error/error.h"
#include "keys/sound.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_statistics_double.h>
#include <stdlib.h>
#include <string.h>

/* figures of one step in one sample: whether it ended as expected, then its readings */
enum { FIGURES = 1 + SLEW_CARD_READINGS_MAX };

/* what errors of readings are drawn by, whatever the samples are */
enum { ERRORS = 20251 };

/* outside of the central 95 %, at each end */
static const double TAIL = 0.025;

/* of an angle read from a gauge [rad] */
static const double ANGLE_SD = 0.5 * 3.14159265358979323846 / 180;

/* of a time that a controller shows [s] */
static const double STORED_SD = 0.01;

#define READ_WORD(name, word, unit) word,

const char *slew_card_read_word(slew_card_read read)
{
    static const char *const words[] = {SLEW_CARD_READS(READ_WORD)};
    return (unsigned)read < SLEW_CARD_READ_COUNT ? words[read] : "?";
}

double slew_card_sd(slew_card_read read)
{
    switch (read) {
    case SLEW_CARD_SECONDS:
        return slew_measure_sd(SLEW_MEASURE_SECONDS);
    case SLEW_CARD_CURRENT:
        return slew_measure_sd(SLEW_MEASURE_CURRENT);
    case SLEW_CARD_DROP:
        return sqrt(2) * slew_measure_sd(SLEW_MEASURE_VOLTAGE);
    case SLEW_CARD_STORED:
        return STORED_SD;
    case SLEW_CARD_ROTATION:
    case SLEW_CARD_ELEVATION:
        return ANGLE_SD;
    default:
        return slew_measure_sd(SLEW_MEASURE_VOLTAGE);
    }
}

/* ---- what is expected ---- */

static void expect(slew_card_step *step, const slew_scenario *scenario,
                   const slew_prepared *prepared)
{
    slew_card_taken taken;
    slew_card_take(step, scenario, prepared, &taken);
    step->left_out = !taken.made;
    step->meets_stop = taken.meets_stop;
    memcpy(step->why, taken.why, sizeof step->why);
    step->says = taken.says;
    step->fault = taken.fault;
    step->axis = taken.axis;
    for (int i = 0; i < step->readings; i++) {
        slew_card_reading *r = &step->reading[i];
        r->expected = r->low = r->high = taken.value[r->read];
    }
}

static bool is_as_expected(const slew_card_step *step, const slew_card_taken *taken)
{
    return taken->made && taken->says == step->says && taken->fault == step->fault &&
           taken->axis == step->axis;
}

/* ---- over the spread ---- */

static void ask(void *context, const slew_scenario *drawn, const slew_prepared *prepared,
                double *figures)
{
    const slew_card *card = context;
    slew_card_taken taken;
    for (int i = 0; i < card->steps; i++, figures += FIGURES) {
        const slew_card_step *step = &card->step[i];
        for (int k = 0; k < FIGURES; k++)
            figures[k] = NAN;
        if (step->left_out)
            continue;
        slew_card_take(step, drawn, prepared, &taken);
        figures[0] = is_as_expected(step, &taken);
        for (int k = 0; figures[0] > 0 && k < step->readings; k++)
            figures[1 + k] = taken.value[step->reading[k].read];
    }
}

/* The value below which a share of what is read lies: of each case with a normal error (a mixture
 * of normals), halved down to a thousandth of the sd. */
static double quantile_read(const double *sorted, size_t n, double sd, double share)
{
    double low = sorted[0] - 9 * sd, high = sorted[n - 1] + 9 * sd;
    while (high - low > 1e-3 * sd) {
        double middle = (low + high) / 2, below = 0;
        for (size_t i = 0; i < n; i++)
            below += gsl_cdf_ugaussian_P((middle - sorted[i]) / sd);
        *(below < share * (double)n ? &low : &high) = middle;
    }
    return (low + high) / 2;
}

/* a stopwatch and a clamp show nothing below 0 */
static double lowest_of(slew_card_read read)
{
    return read == SLEW_CARD_SECONDS || read == SLEW_CARD_CURRENT ? 0 : -INFINITY;
}

static void fill_band(slew_card_reading *r, const double *sorted, size_t n)
{
    double sd = slew_card_sd(r->read);
    r->from = n > 0 ? fmax(quantile_read(sorted, n, sd, TAIL), lowest_of(r->read)) : NAN;
    r->to = n > 0 ? quantile_read(sorted, n, sd, 1 - TAIL) : NAN;
}

static void conclude_step(const slew_ensemble *e, int first, double *sorted, slew_card_step *step)
{
    int64_t cases = slew_sorted_figure(e, first, sorted);
    step->agrees = cases > 0 ? gsl_stats_mean(sorted, 1, (size_t)cases) : NAN;
    for (int k = 0; k < step->readings; k++) {
        int64_t count = slew_sorted_figure(e, first + 1 + k, sorted);
        size_t n = (size_t)count;
        bool any = count > 0;
        slew_card_reading *r = &step->reading[k];
        r->low = any ? gsl_stats_quantile_from_sorted_data(sorted, 1, n, TAIL) : NAN;
        r->high = any ? gsl_stats_quantile_from_sorted_data(sorted, 1, n, 1 - TAIL) : NAN;
        fill_band(r, sorted, n);
    }
}

/* ---- the whole page ---- */

/* what an instrument shows of the figure of one case */
static double read_of(const slew_ensemble *e, int64_t sample, int figure, slew_card_read read)
{
    double u = slew_random_unit(ERRORS, (uint64_t)sample, (uint32_t)figure);
    return fmax(e->figure[sample * e->count + figure] +
                    slew_card_sd(read) * gsl_cdf_ugaussian_Pinv(u),
                lowest_of(read));
}

static bool passes(const slew_ensemble *e, int64_t sample, const slew_card *card)
{
    for (int i = 0; i < card->steps; i++) {
        const slew_card_step *step = &card->step[i];
        if (step->left_out)
            continue;
        if (!(e->figure[sample * e->count + i * FIGURES] > 0))
            return false;
        for (int k = 0; k < step->readings; k++) {
            const slew_card_reading *r = &step->reading[k];
            double shown = read_of(e, sample, i * FIGURES + 1 + k, r->read);
            if (shown < r->from || shown > r->to)
                return false;
        }
    }
    return true;
}

static double share_that_passes(const slew_ensemble *e, const slew_card *card)
{
    int64_t pass = 0;
    for (int64_t i = 0; i < e->done; i++)
        pass += passes(e, i, card);
    return (double)pass / (double)(e->done - e->refused);
}

static slew_status conclude(const slew_ensemble *e, slew_card *card)
{
    double *sorted = malloc((size_t)e->samples * sizeof *sorted);
    for (int i = 0; sorted != NULL && i < card->steps; i++)
        if (!card->step[i].left_out)
            conclude_step(e, i * FIGURES, sorted, &card->step[i]);
    card->passes = sorted != NULL ? share_that_passes(e, card) : NAN;
    card->samples = e->done;
    card->refused = e->refused;
    card->first_refusal = e->first_refusal;
    free(sorted);
    return sorted != NULL ? SLEW_OK : SLEW_ERROR_MEMORY;
}

static slew_status vary(const slew_scenario *visit, slew_parts parts, const slew_sampling *sampling,
                        slew_card *card, slew_error *error)
{
    slew_ensemble e;
    slew_status status =
        slew_ensemble_run(visit, parts, sampling, ask, card, card->steps * FIGURES, &e, error);
    if (status != SLEW_OK && status != SLEW_ERROR_STOPPED)
        return status;
    slew_status concluded = conclude(&e, card);
    slew_ensemble_free(&e);
    return concluded == SLEW_OK ? status : slew_no_memory(error);
}

/* ---- the card ---- */

/* without a spread, of the instruments alone */
static void fill_bands(slew_card_step *step)
{
    for (int k = 0; k < step->readings; k++) {
        slew_card_reading *r = &step->reading[k];
        fill_band(r, &r->expected, isnan(r->expected) ? 0u : 1u);
    }
}

slew_status slew_card_run(const slew_scenario *scenario, const slew_sampling *sampling,
                          slew_card *out, slew_error *error)
{
    if (sampling == NULL || out == NULL)
        return slew_no_argument(error);
    if (!slew_is_sound(scenario, error))
        return SLEW_ERROR_INPUT;
    slew_prepared prepared;
    slew_parts parts = scenario->deploy.given ? SLEW_STOW_AND_DEPLOY : SLEW_STOW_ONLY;
    memset(out, 0, sizeof *out);
    slew_status status = slew_prepare(scenario, parts, &prepared, error);
    if (status != SLEW_OK)
        return status;
    slew_card_menu(&prepared, out);
    for (int i = 0; i < out->steps; i++)
        expect(&out->step[i], scenario, &prepared);
    slew_scenario visit = *scenario; /* the deploy has the day of its stow */
    visit.deploy.same_day = true;
    out->varies = slew_ensemble_dimensions(&visit, parts) > 0;
    out->passes = NAN;
    if (out->varies)
        status = vary(&visit, parts, sampling, out, error);
    for (int i = 0; i < out->steps && !out->varies; i++)
        fill_bands(&out->step[i]);
    return status;
}
