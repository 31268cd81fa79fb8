/* fit_trial.c - the readings, simulated with trial values of the figures. M12.1 to M12.3 */
#include "study/fit/fit_trial.h"

#include "error/error.h"
#include "keys/fields.h"

#include <string.h>

/* ---- values ---- */

/* false: a value that its key does not take */
static bool set_values(slew_trial *t, const double *value)
{
    for (int j = 0; j < t->out->figures; j++) {
        int key = t->out->figure[j].key;
        if (key >= 0 &&
            slew_scenario_set_number(t->work, SLEW_LAYER_FILE, key, value[j]) != SLEW_OK)
            return false;
    }
    return true;
}

/* by how much an instrument shows too much */
static double offset_of(const slew_trial *t, const double *value, int instrument)
{
    for (int j = 0; j < t->out->figures; j++)
        if (t->out->figure[j].key == instrument)
            return value[j];
    return 0;
}

/* ---- one row ---- */

/* what meter and thermometer show too much is not there */
static slew_timing as_it_was(const slew_trial *t, const double *value, const slew_setup *setup,
                             const slew_timing *row)
{
    slew_timing own = *row;
    if (isnan(own.temperature))
        own.temperature = setup->environment.temperature;
    own.temperature -= offset_of(t, value, SLEW_FIT_TEMPERATURE_OFFSET);
    own.supply -= offset_of(t, value, SLEW_FIT_SUPPLY_OFFSET);
    return own;
}

static slew_status simulate(slew_trial *t, const double *value, const slew_setup *setup,
                            const slew_timing *row, slew_timed *out, slew_error *error)
{
    const slew_timing own = as_it_was(t, value, setup, row);
    bool is_run = slew_timing_is_run(row);
    slew_status status = is_run ? slew_trial_run(t, &own, out, error)
                                : slew_timing_simulate(setup, &own, out, error);
    for (slew_measure m = 0; m < SLEW_MEASURE_COUNT && status == SLEW_OK; m++)
        if (m != SLEW_MEASURE_SECONDS || !is_run)
            out->value[m] += offset_of(t, value, SLEW_FIT_BIAS - (int)m);
    return status;
}

static slew_status resolve(slew_trial *t, const double *value, slew_setup *setup, slew_error *error)
{
    if (!set_values(t, value)) {
        slew_refuse(error, "", "a value out of its range", "");
        return SLEW_ERROR_INPUT;
    }
    slew_scenario_resolve(t->work, SLEW_OCCASION_STOW, setup);
    return SLEW_OK;
}

slew_status slew_trial_row(slew_trial *t, const double *value, const slew_timing *row,
                           slew_timed *out, slew_error *error)
{
    slew_setup setup;
    slew_status status = resolve(t, value, &setup, error);
    return status == SLEW_OK ? simulate(t, value, &setup, row, out, error) : status;
}

/* ---- all readings ---- */

int slew_trial_first(const slew_fit *fit, int reading)
{
    int first = reading;
    while (first > 0 && fit->reading[first - 1].row == fit->reading[reading].row)
        first--;
    return first;
}

int slew_trial_instrument(const slew_trial *t, const slew_fit_reading *reading)
{
    const slew_timing *row = &t->question->timings->row[reading->row];
    bool stored = slew_timing_is_run(row) && reading->measure == SLEW_MEASURE_SECONDS;
    return stored ? (int)SLEW_FIT_STORED : (int)reading->measure;
}

/* a row is simulated once for all of its readings, which stand together */
slew_status slew_trial_simulate(slew_trial *t, const double *value, double *simulated,
                                slew_error *error)
{
    slew_setup setup;
    slew_timed timed;
    int last = -1;
    slew_status status = resolve(t, value, &setup, error);
    for (int i = 0; i < t->out->readings && status == SLEW_OK; i++) {
        const slew_fit_reading *reading = &t->out->reading[i];
        if (reading->row != last)
            status =
                simulate(t, value, &setup, &t->question->timings->row[reading->row], &timed, error);
        last = reading->row;
        if (status == SLEW_OK)
            simulated[i] = timed.value[reading->measure];
    }
    return status;
}

/* ---- residuals ---- */

int slew_trial_residuals(const slew_trial *t)
{
    return t->out->readings + t->out->figures;
}

void slew_trial_whiten_column(const slew_trial *t, const double *from, int stride, double *to)
{
    for (int i = 0; i < t->out->readings; i++) {
        int first = slew_trial_first(t->out, i);
        to[i * stride] = 0;
        for (int k = first; k <= i; k++)
            to[i * stride] += t->whitening[i].inverse[k - first] * from[k * stride];
    }
}

/* what was known before: (value - mean)/sd, told apart by the factor of their correlations */
static void whiten_figures(const slew_trial *t, const double *value, double *residual)
{
    for (int i = 0; i < t->out->figures; i++) {
        const slew_fit_figure *f = &t->out->figure[i];
        residual[i] = (value[i] - f->mean) / f->before;
        for (int k = 0; k < i; k++)
            residual[i] -= t->factor[i][k] * residual[k];
        residual[i] /= t->factor[i][i];
    }
}

void slew_trial_whitened(slew_trial *t, const double *value, double *residual)
{
    slew_trial_whiten_column(t, t->residual, 1, residual);
    for (int i = 0; i < t->out->readings; i++)
        residual[i] = -residual[i];
    whiten_figures(t, value, residual + t->out->readings);
}

double slew_trial_density(const slew_trial *t)
{
    double sum = 0;
    for (int i = 0; i < t->out->readings; i++)
        sum += t->out->reading[i].weight *
               log(t->whitening[i].inverse[i - slew_trial_first(t->out, i)]);
    return sum;
}

bool slew_trial_ask(void *trial, const double *value, double *residual)
{
    slew_trial *t = trial;
    if (slew_trial_simulate(t, value, t->residual, NULL) != SLEW_OK)
        return false;
    for (int i = 0; i < t->out->readings; i++)
        t->residual[i] = t->out->reading[i].measured - t->residual[i];
    slew_trial_whitened(t, value, residual);
    return true;
}
