/* days.c - a hundred simulated days, and what each came to. */
#include <math.h>

#include "answer.h"
#include "frame/sampling.h"

enum { MISSED, TEMPERATURE, VOLTAGE, FIGURES };

static slew_parts parts_of(const slew_scenario *scenario)
{
    return scenario->deploy.given ? SLEW_STOW_AND_DEPLOY : SLEW_STOW_ONLY;
}

static void ask(void *context, const slew_scenario *drawn, const slew_prepared *prepared,
                double *figures)
{
    slew_parts parts = parts_of(drawn);
    slew_result result;
    (void)context;
    slew_run_prepared(drawn, prepared, parts, NULL, &result);
    figures[MISSED] = slew_demands_missed(drawn, prepared, parts, &result);
    figures[TEMPERATURE] = prepared->stow_setup.environment.temperature;
    figures[VOLTAGE] = prepared->stow_setup.supply.main.voltage;
}

/* demands are in the order of what hurts most */
static int worst_of(unsigned mask)
{
    int demand = 0;
    while (demand < SLEW_DEMAND_COUNT && (mask >> demand & 1) == 0)
        demand++;
    return demand;
}

static void keep(cli_report_days *days, const slew_scenario *scenario, const slew_ensemble *e)
{
    unsigned untaught = slew_demands_missed_untaught(scenario, parts_of(scenario));
    days->coldest = days->weakest = INFINITY;
    days->warmest = days->highest = -INFINITY;
    for (int64_t i = 0; i < CLI_REPORT_DAYS && i < e->done; i++) { /* the shifts round up */
        const double *figure = &e->figure[i * FIGURES];
        days->worst[i] = worst_of(isnan(figure[MISSED]) ? untaught : (unsigned)figure[MISSED]);
        days->coldest = fmin(days->coldest, figure[TEMPERATURE]);
        days->warmest = fmax(days->warmest, figure[TEMPERATURE]);
        days->weakest = fmin(days->weakest, figure[VOLTAGE]);
        days->highest = fmax(days->highest, figure[VOLTAGE]);
    }
}

slew_status cli_report_simulate_days(const slew_scenario *scenario, const cli_options *options,
                                     cli_report_days *days, slew_error *error)
{
    slew_ensemble ensemble;
    cli_progress progress;
    slew_sampling sampling = cli_sampling(options, "report", &progress);
    sampling.samples = CLI_REPORT_DAYS;
    slew_status status = slew_ensemble_run(scenario, parts_of(scenario), &sampling, ask, NULL,
                                           FIGURES, &ensemble, error);
    cli_sampling_end(&progress);
    if (status == SLEW_OK) {
        keep(days, scenario, &ensemble);
        slew_ensemble_free(&ensemble);
    }
    return status;
}
