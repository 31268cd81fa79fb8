/* sensor.c - home sensors that never close, or never open, and the key at fault. */
#include "slewtime/magnet.h"

#include "keys/fields.h"
#include "keys/sound.h"
#include "slewtime/run.h"

#include <stdio.h>
#include <string.h>

static const double HALF_TURN = 3.14159265358979323846;

static slew_sight sight_of(const slew_setup *setup, int axis)
{
    slew_home home = setup->axis[axis].home;
    bool works = home.present && !home.stuck;
    return works ? slew_home_resolve(&home) : SLEW_SIGHT_GIVEN;
}

bool slew_sensor_is_blind(const slew_setup *setup, int axis)
{
    if (setup == NULL || axis < 0 || axis >= SLEW_AXES)
        return false;
    return sight_of(setup, axis) == SLEW_SIGHT_TOO_WEAK;
}

/* ---- the key at fault ---- */

/* the first figure of the axis' magnet that the layer holds; -1: none */
static int magnet_key_in(const slew_layer *layer, int axis)
{
    char group[64];
    snprintf(group, sizeof group, "%s.home.magnet", slew_axis_word(axis));
    for (int key = 0; key < slew_key_count(); key++)
        if (strncmp(slew_key_at(key)->path, group, strlen(group)) == 0 &&
            slew_layer_holds(layer, key))
            return key;
    return -1;
}

static void blame(const slew_scenario *scenario, slew_sensor_doubt *d)
{
    int count;
    const slew_layer_id *layers = slew_occasion_layers(d->occasion, &count);
    d->key = -1;
    d->layer = SLEW_LAYER_FILE;
    for (int i = count - 1; i >= 0 && d->key < 0; i--) {
        d->key = magnet_key_in(slew_layer_at(scenario, layers[i]), d->axis);
        if (d->key >= 0)
            d->layer = layers[i];
    }
}

/* ---- each occasion ---- */

/* false: there is nothing wrong with it */
static bool look_at(const slew_scenario *scenario, slew_sensor_doubt *d)
{
    slew_setup setup;
    slew_scenario_resolve(scenario, d->occasion, &setup);
    const slew_magnet *magnet = &setup.axis[d->axis].home.magnet;
    d->sight = sight_of(&setup, d->axis);
    if (d->sight != SLEW_SIGHT_TOO_WEAK && d->sight != SLEW_SIGHT_NEVER_OPENS)
        return false;
    d->flux = slew_home_flux(magnet, d->sight == SLEW_SIGHT_NEVER_OPENS ? HALF_TURN : 0);
    d->operate_flux = magnet->operate_flux;
    return true;
}

static bool is_same(const slew_sensor_doubt *a, const slew_sensor_doubt *b)
{
    return a->sight == b->sight && a->flux == b->flux && a->operate_flux == b->operate_flux;
}

static int doubts_of_axis(const slew_scenario *scenario, int axis, slew_sensor_doubt *list)
{
    int count = 0;
    for (slew_occasion o = SLEW_OCCASION_TEACH; o <= SLEW_OCCASION_DEPLOY; o++) {
        slew_sensor_doubt *d = &list[count];
        *d = (slew_sensor_doubt){.axis = axis, .occasion = o};
        if ((o == SLEW_OCCASION_DEPLOY && !scenario->deploy.given) || !look_at(scenario, d))
            continue;
        if (count > 0 && is_same(d, d - 1))
            continue;
        blame(scenario, d);
        count++;
    }
    return count;
}

int slew_sensor_doubts(const slew_scenario *scenario,
                       slew_sensor_doubt list[SLEW_SENSOR_DOUBTS_MAX])
{
    if (!slew_has_shape(scenario, NULL) || list == NULL)
        return 0;
    int count = 0;
    for (int axis = 0; axis < SLEW_AXES; axis++)
        count += doubts_of_axis(scenario, axis, list + count);
    return count;
}
