/* cli_cautions.c - an answer with a fault, a pressed stop or a keep-out has its line of caution in
 * the document and in the picture, and one without has none. */
#include "document.h"

static char mast[4200], story[4200], times[4200];

static int enter(void **state)
{
    char root[4000];
    if (getcwd(root, sizeof root) == NULL)
        return -1;
    snprintf(mast, sizeof mast, "%s/examples/mast-on-the-way.yaml", root);
    snprintf(story, sizeof story, "%s/examples/story.yaml", root);
    snprintf(times, sizeof times, "%s/examples/story-times.csv", root);
    return enter_directory(state);
}

static void is_cautious(outcome o, const char *seen)
{
    json_t *whole = document(o);
    const char *caution = json_string_value(json_object_get(whole, "caution"));
    assert_non_null(caution);
    has(caution, "Caution: ");
    has(caution, seen);
    has(caution, ". Before a try on the truck: clear overhead, nobody near, ready to release.");
    json_decref(whole);
}

static void is_calm(outcome o)
{
    json_t *whole = document(o);
    assert_true(json_is_null(json_object_get(whole, "caution")));
    json_decref(whole);
}

static void is_at_the_foot(outcome o, const char *seen)
{
    char *svg = take_all(fopen("caution.svg", "r"));
    assert_int_equal(o.code, 0);
    has(svg, seen);
    has(svg, "Clear overhead, nobody near.");
    free(svg);
    free_outcome(&o);
}

#define BLIND "--today", "elevation.home.present=no"
#define PLOT  "--plot", "caution.svg"

static void compare_has_it(void **state)
{
    (void)state;
    const char seen[] = "B: a fault, a jammed barrel or a keep-out zone entered";
    is_cautious(TOOL("compare", "truck.yaml", "--beside", "blind", BLIND, "--json"), seen);
    is_calm(TOOL("compare", "truck.yaml", "--beside", "same", "--json"));
    is_at_the_foot(TOOL("compare", "truck.yaml", PLOT, "--beside", "blind", BLIND), seen);
}

static void map_has_it(void **state)
{
    (void)state;
#define VOLTS "--vary", "today.supply.main.voltage=12.9V:13.1V:2"
#define POINT "--vary", "stow.point.elevation=-12 deg:-11 deg:2"
    const char seen[] = "some runs fault, jam or enter a keep-out zone";
    is_cautious(TOOL("map", "truck.yaml", VOLTS, BLIND, "--json"), seen);
    is_calm(TOOL("map", "truck.yaml", VOLTS, "--json"));
    is_at_the_foot(TOOL("map", "truck.yaml", VOLTS, BLIND, PLOT), seen);
    is_at_the_foot(TOOL("map", "truck.yaml", VOLTS, POINT, BLIND, PLOT), seen);
}

#define VARY "--spread", "supply.main.voltage=uniform 12V..14V"

static void margin_has_it(void **state)
{
    (void)state;
    const char seen[] = "some stows fault, jam";
    is_cautious(TOOL("margin", "truck.yaml", VARY, "--samples", "64", "--wanted", "0.1", "--json"),
                seen);
    is_at_the_foot(TOOL("margin", "truck.yaml", VARY, "--samples", "64", "--wanted", "0.1", PLOT),
                   seen);
}

static void fit_has_it(void **state)
{
    (void)state;
    const char seen[] = "these readings drive to a hard stop: release there";
    const char key[] = "elevation.gear.efficiency";
    is_cautious(TOOL("fit", story, times, "--key", key, "--json"), seen);
    is_at_the_foot(TOOL("fit", story, times, "--key", key, PLOT), seen);
}

static void offset_has_it(void **state)
{
    (void)state;
    const char seen[] = "enters a keep-out zone in 100.00 % of the simulated days";
    const char order[] = "stow.home_order=rotation,elevation";
    is_cautious(TOOL("offset", mast, "--samples", "200", "--json"), seen);
    is_calm(TOOL("offset", mast, "--samples", "200", "--set", order, "--json"));
    is_at_the_foot(TOOL("offset", mast, "--samples", "200", PLOT),
                   "Caution: enters a keep-out zone.");
}

static void plan_has_it(void **state)
{
    (void)state;
    is_cautious(TOOL("plan", mast, "--samples", "200", "--json"),
                "enters a keep-out zone in 100.00 % of the simulated days");
    is_at_the_foot(TOOL("plan", mast, "--samples", "200", PLOT),
                   "Caution: enters a keep-out zone.");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(compare_has_it), cmocka_unit_test(map_has_it),
        cmocka_unit_test(margin_has_it),  cmocka_unit_test(fit_has_it),
        cmocka_unit_test(offset_has_it),  cmocka_unit_test(plan_has_it),
    };
    return cmocka_run_group_tests(tests, enter, leave_directory);
}
