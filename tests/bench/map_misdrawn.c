/*
 * map_misdrawn.c - how much of a map is drawn as something that it is not.
 *
 * Maps of 200 x 200 over keys with narrow stripes and over smooth ones: cells of the
 * picture taken at random against runs at their centers. The table is in lib/MODEL.md, M9.8.
 */
#include "slewtime/map.h"
#include "slewtime/read.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>

enum { CHECKED = 10000 };

static void fail(const char *why)
{
    fprintf(stderr, "bench: %s\n", why);
    exit(1);
}

static double middle(const slew_vary *v, int index, int count)
{
    return v->from + (v->to - v->from) * (index + 0.5) / count;
}

/* of CHECKED cells taken at random */
static double misdrawn(const slew_scenario *s, const slew_vary *vary, const slew_map *map)
{
    int wrong = 0;
    for (int i = 0; i < CHECKED; i++) {
        int x = (int)(slew_random_unit(7, (uint64_t)i, 0) * map->width);
        int y = (int)(slew_random_unit(7, (uint64_t)i, 1) * map->height);
        const double value[] = {middle(&vary[0], x, map->width), middle(&vary[1], y, map->height)};
        slew_map_point p = slew_map_ask(s, vary, 2, value, NULL);
        wrong += slew_map_kind(&p) != map->cell[(size_t)y * (size_t)map->width + (size_t)x];
    }
    return (double)wrong / CHECKED;
}

static void measure(const char *path, const char *across, const char *up, int fine)
{
    static slew_scenario s;
    slew_vary vary[2];
    slew_map map;
    const slew_sampling how = slew_sampling_default();
    if (slew_scenario_read_file(path, NULL, &s) != SLEW_OK ||
        slew_vary_read(&s, across, &vary[0], NULL) != SLEW_OK ||
        slew_vary_read(&s, up, &vary[1], NULL) != SLEW_OK ||
        slew_map_run(&s, vary, fine, &how, &map, NULL) != SLEW_OK)
        fail(path);
    printf("%s, %s, %s: %.2f %% misdrawn; looked into %" PRId64 ", different in %.2f %%\n", path,
           across, up, 100 * misdrawn(&s, vary, &map), map.looked, 100 * map.different.value);
    fflush(stdout);
    slew_map_free(&map);
}

int main(void)
{
    int fine = 2;
    measure("examples/clearance-enough.yaml", "stow.point.elevation=-19.9deg:-10deg:200",
            "today.supply.main.voltage=9V:15V:200", fine);
    measure("examples/weak-magnet.yaml", "today.rotation.start=-30deg:30deg:200",
            "today.rotation.home.magnet.gap=4mm:12mm:200", fine);
    measure("examples/daily.yaml", "today.controller.sample=0s:2s:200",
            "today.rotation.start=-60deg:60deg:200", fine);
    return 0;
}
