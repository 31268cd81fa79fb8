/* windows.c - see windows.h. */
#include "windows.h"

#include <math.h>
#include <stdio.h>

#include "slewtime/magnet.h"

/* a sensor that never opens: wider than any travel */
static const double everywhere = 100; /* [rad] */

static const slew_occasion occasions[] = {SLEW_OCCASION_TEACH, SLEW_OCCASION_STOW,
                                          SLEW_OCCASION_DEPLOY};
static const slew_layer_id own_layer[] = {SLEW_LAYER_TEACH, SLEW_LAYER_TODAY,
                                          SLEW_LAYER_DEPLOY_DAY};

static void put(slew_scenario *s, slew_layer_id layer, int axis, const char *name, double value)
{
    char path[64];
    snprintf(path, sizeof path, "%s.home.%s", axis == SLEW_ROTATION ? "rotation" : "elevation",
             name);
    slew_scenario_set_number(s, layer, slew_key_find(path), value);
}

static void put_window(slew_scenario *s, slew_layer_id layer, int axis, const slew_home *home)
{
    put(s, layer, axis, "operate", fmin(home->operate, everywhere));
    put(s, layer, axis, "release", fmin(home->release, everywhere));
    put(s, layer, axis, "present", home->present);
}

static void replace(const slew_scenario *scenario, int axis, slew_scenario *plain)
{
    slew_setup setup = scenario->setup;
    slew_home home = setup.axis[axis].home;
    /* one that never closes keeps a window, which does not count */
    home.operate = home.release = 0.01;
    slew_home_resolve(&home);
    put_window(plain, SLEW_LAYER_FILE, axis, &home);
    for (int i = 0; i < 3; i++) {
        slew_scenario_resolve(scenario, occasions[i], &setup);
        home = setup.axis[axis].home;
        if (isnan(home.operate))
            home.operate = home.release = 0.01;
        slew_home_resolve(&home);
        put_window(plain, own_layer[i], axis, &home);
    }
}

static bool has_magnet(const slew_scenario *scenario, int axis)
{
    slew_setup setup;
    bool given = scenario->setup.axis[axis].home.magnet.given;
    for (int i = 0; i < 3; i++) {
        slew_scenario_resolve(scenario, occasions[i], &setup);
        given = given || setup.axis[axis].home.magnet.given;
    }
    return given;
}

void cli_without_magnets(const slew_scenario *scenario, slew_scenario *plain)
{
    *plain = *scenario;
    for (int axis = 0; axis < SLEW_AXES; axis++)
        if (has_magnet(scenario, axis))
            replace(scenario, axis, plain);
}
