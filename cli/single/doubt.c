/* doubt.c - values that no truck has: warnings, and the reason of a failure. */
#include "single_run.h"

#include <stdio.h>
#include <string.h>

#include "line/report.h"

static void place(const cli_options *options, const slew_doubt *doubt, slew_error *error)
{
    snprintf(error->key, sizeof error->key, "%s", slew_key_at(doubt->key)->path);
    error->layer = (int)doubt->layer;
    cli_locate(options, error);
}

void cli_doubt_warn(const cli_options *options, const slew_doubt *doubts, int count)
{
    for (int i = 0; i < count && !options->quiet; i++) {
        slew_error warning = {0};
        snprintf(warning.message, sizeof warning.message, "%s", doubts[i].message);
        place(options, &doubts[i], &warning);
        cli_report_warning(&warning);
    }
}

static bool find_cause(const slew_scenario *scenario, slew_parts parts, slew_doubt *cause)
{
    slew_doubt doubts[SLEW_DOUBTS_MAX];
    int count = slew_scenario_doubts(scenario, doubts);
    int at = slew_doubts_cause(scenario, parts, doubts, count);
    if (at >= 0)
        *cause = doubts[at];
    return at >= 0;
}

void cli_doubt_explain(const cli_options *options, const cli_single *single, slew_error *error)
{
    slew_doubt cause;
    slew_error told = {.status = error->status};
    if (!find_cause(single->scenario, cli_single_cycle(single), &cause) ||
        strcmp(error->key, slew_key_at(cause.key)->path) == 0)
        return;
    snprintf(told.message, sizeof told.message, "%.200s (%.100s)", cause.message, error->message);
    place(options, &cause, &told);
    *error = told;
}

bool cli_doubt_cause(const cli_single *single, slew_doubt *cause)
{
    const slew_result *r = &single->result;
    bool fails = r->stow.fault != SLEW_FAULT_NONE || r->deploy.fault != SLEW_FAULT_NONE ||
                 !r->stow.holds || !r->deploy.holds;
    return fails && find_cause(single->scenario, cli_single_cycle(single), cause);
}
