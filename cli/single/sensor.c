/* sensor.c - see sensor.h. */
#include "sensor.h"

#include <stdio.h>
#include <string.h>

#include "line/report.h"
#include "single_run.h"
#include "slewtime/magnet.h"
#include "slewtime/run.h"

static slew_sight sight_of(const slew_setup *setup, int axis)
{
    slew_home home = setup->axis[axis].home;
    bool works = home.present && !home.stuck;
    return works ? slew_home_resolve(&home) : SLEW_SIGHT_GIVEN;
}

bool cli_sensor_is_blind(const slew_setup *setup, int axis)
{
    return sight_of(setup, axis) == SLEW_SIGHT_TOO_WEAK;
}

/* a sensor and what is wrong with it on one occasion */
typedef struct doubt {
    slew_occasion occasion;
    int axis;
    slew_sight sight;
    const slew_magnet *magnet;
} doubt;

/* Names the figure of the magnet that the uppermost layer of the occasion sets, with the layer; the
 * magnet of the file if none does. */
static void name_figure(const slew_scenario *scenario, const doubt *d, slew_error *warning)
{
    static const slew_layer_id tops[] = {SLEW_LAYER_TEACH, SLEW_LAYER_TODAY, SLEW_LAYER_DEPLOY_DAY};
    char group[64];
    snprintf(group, sizeof group, "%s.home.magnet", slew_axis_word(d->axis));
    snprintf(warning->key, sizeof warning->key, "%s", group);
    for (int layer = (int)tops[d->occasion]; layer >= SLEW_LAYER_TEACH; layer--) {
        bool counts = layer != SLEW_LAYER_TEACH || d->occasion == SLEW_OCCASION_TEACH;
        for (int key = 0; counts && key < slew_key_count(); key++)
            if (strncmp(slew_key_at(key)->path, group, strlen(group)) == 0 &&
                slew_layer_holds(slew_layer_at(scenario, (slew_layer_id)layer), key)) {
                snprintf(warning->key, sizeof warning->key, "%s", slew_key_at(key)->path);
                warning->layer = layer;
                return;
            }
    }
}

static void warn(const cli_options *options, const slew_scenario *scenario, const doubt *d)
{
    static const char *const when[] = {"while teaching", "today", "when it deploys"};
    static const double half_turn = 3.14159265358979323846;
    slew_error warning = {0};
    name_figure(scenario, d, &warning);
    if (d->sight == SLEW_SIGHT_TOO_WEAK)
        snprintf(warning.message, sizeof warning.message,
                 "%s the home sensor never closes: it needs %.4g mT and has %.4g mT over the "
                 "magnet (slewtime window tells more)",
                 when[d->occasion], 1000 * d->magnet->operate_flux,
                 1000 * slew_home_flux(d->magnet, 0));
    else
        snprintf(warning.message, sizeof warning.message,
                 "%s the home sensor never opens: half a turn away it still has %.4g mT",
                 when[d->occasion], 1000 * slew_home_flux(d->magnet, half_turn));
    cli_locate(options, &warning);
    cli_report_warning(&warning);
}

/* the same trouble on several occasions is told once */
static void warn_of_axis(const cli_options *options, const slew_scenario *scenario, int axis)
{
    double told = -INFINITY;
    for (slew_occasion o = SLEW_OCCASION_TEACH; o <= SLEW_OCCASION_DEPLOY; o++) {
        slew_setup setup;
        if (o == SLEW_OCCASION_DEPLOY && !scenario->deploy.given)
            continue;
        slew_scenario_resolve(scenario, o, &setup);
        const slew_magnet *magnet = &setup.axis[axis].home.magnet;
        const doubt d = {o, axis, sight_of(&setup, axis), magnet};
        if (d.sight != SLEW_SIGHT_TOO_WEAK && d.sight != SLEW_SIGHT_NEVER_OPENS)
            continue;
        double missing = magnet->operate_flux - slew_home_flux(magnet, 0);
        if (missing != told)
            warn(options, scenario, &d);
        told = missing;
    }
}

void cli_sensor_warn(const cli_options *options, const slew_scenario *scenario)
{
    for (int axis = 0; axis < SLEW_AXES && !options->quiet; axis++)
        warn_of_axis(options, scenario, axis);
}
