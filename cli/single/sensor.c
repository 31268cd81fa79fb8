/* sensor.c - warnings about home sensors whose magnet is not what they need. */
#include "single_run.h"

#include <stdio.h>

#include "line/report.h"
#include "slewtime/magnet.h"
#include "slewtime/run.h"

static void say(const slew_sensor_doubt *d, slew_error *warning)
{
    static const char *const when[] = {"while teaching", "today", "when it deploys"};
    if (d->sight == SLEW_SIGHT_TOO_WEAK)
        snprintf(warning->message, sizeof warning->message,
                 "%s the home sensor never closes: it needs %.4g mT and has %.4g mT over the "
                 "magnet (slewtime window tells more)",
                 when[d->occasion], 1000 * d->operate_flux, 1000 * d->flux);
    else
        snprintf(warning->message, sizeof warning->message,
                 "%s the home sensor never opens: half a turn away it still has %.4g mT",
                 when[d->occasion], 1000 * d->flux);
}

static void name_key(const slew_sensor_doubt *d, slew_error *warning)
{
    if (d->key >= 0)
        snprintf(warning->key, sizeof warning->key, "%s", slew_key_at(d->key)->path);
    else
        snprintf(warning->key, sizeof warning->key, "%s.home.magnet", slew_axis_word(d->axis));
    warning->layer = (int)d->layer;
}

void cli_sensor_warn(const cli_options *options, const slew_scenario *scenario)
{
    slew_sensor_doubt doubts[SLEW_SENSOR_DOUBTS_MAX];
    int count = options->quiet ? 0 : slew_sensor_doubts(scenario, doubts);
    for (int i = 0; i < count; i++) {
        slew_error warning = {0};
        say(&doubts[i], &warning);
        name_key(&doubts[i], &warning);
        cli_locate(options, &warning);
        cli_report_warning(&warning);
    }
}
