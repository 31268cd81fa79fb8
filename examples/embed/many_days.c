/*
 * many_days.c - one truck on 1000 days: prepared for each voltage, run without reading anything
 * again.
 *
 * The key is looked up once; slew_scenario_set_number then sets it in the today layer as a plain
 * number in SI. Nothing is allocated in the loop. The stow point is taught once, before it, and its
 * times are given to every day.
 */
#include <slewtime/slewtime.h>
#include <stdio.h>

enum { DAYS = 1000 };
static const double DEGREE = 3.14159265358979323846 / 180;
static const double FLAT = 11.8, CHARGING = 14.2; /* open-circuit voltages [V] */

typedef struct extreme {
    double angle, voltage;
} extreme;

static int explain(const char *text)
{
    fprintf(stderr, "many_days: %s\n", text);
    return 2;
}

/* the stored times are found once and written down, as the controller does */
static slew_status teach_once(slew_scenario *scenario, slew_error *error)
{
    slew_status status = slew_teach(scenario, scenario->stow.times, error);
    scenario->stow.has_times = status == SLEW_OK;
    return status;
}

static slew_status one_day(slew_scenario *scenario, int key, double voltage, slew_result *result,
                           slew_error *error)
{
    static slew_prepared prepared;
    slew_status status = slew_scenario_set_number(scenario, SLEW_LAYER_TODAY, key, voltage);
    if (status == SLEW_OK)
        status = slew_prepare(scenario, SLEW_STOW_AND_DEPLOY, &prepared, error);
    if (status == SLEW_OK)
        slew_run_prepared(scenario, &prepared, SLEW_STOW_AND_DEPLOY, NULL, result);
    return status;
}

int main(int argc, char **argv)
{
    static slew_scenario scenario;
    slew_result result;
    slew_error error = {0};
    extreme low = {INFINITY, 0}, high = {-INFINITY, 0};
    int deployed = 0;

    if (argc != 2 || slew_scenario_read_file(argv[1], NULL, &scenario) != SLEW_OK)
        return explain("needs a scenario that `slewtime check` finds ok");
    if (!scenario.deploy.given)
        return explain("the scenario has no deploy");
    if (teach_once(&scenario, &error) != SLEW_OK)
        return explain(error.message);

    int key = slew_key_find("supply.main.voltage");
    for (int day = 0; day < DAYS; day++) {
        double voltage = FLAT + (CHARGING - FLAT) * day / (DAYS - 1);
        if (one_day(&scenario, key, voltage, &result, &error) != SLEW_OK)
            return explain(error.message);
        if (result.deploy.says != SLEW_DEPLOYED)
            continue;
        double angle = result.deploy.angle[SLEW_ELEVATION] / DEGREE;
        deployed++;
        if (angle < low.angle)
            low = (extreme){angle, voltage};
        if (angle > high.angle)
            high = (extreme){angle, voltage};
    }

    printf("%d days from %.1f to %.1f V: %d deployed\n", DAYS, FLAT, CHARGING, deployed);
    if (deployed > 0)
        printf("elevation from %.2f deg (%.2f V) to %.2f deg (%.2f V)\n", low.angle, low.voltage,
               high.angle, high.voltage);
    return 0;
}
