/*
 * left_out.c - what the model's simplifications change at the deploy angle of elevation.
 *
 *   build/tests/bench/left_out [SCENARIO ...]
 *
 * Each effect by itself, taught and replayed with it, against the same without it (ref_rich.h);
 * warm motors and the gear's coefficient by the library. Angles in degrees. The table of
 * lib/MODEL.md comes from here.
 */
#include "slewtime/slewtime.h"

#include "../reference/ref_rich.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

enum { E = SLEW_ELEVATION };

#define DEGREES (180.0 / 3.14159265358979323846)

static const char *const EFFECTS[REF_EFFECTS] = {
    [REF_INDUCTANCE] = "inductance, L/R 1 ms",
    [REF_STRIBECK] = "friction falls with speed (Stribeck)",
    [REF_BACKLASH] = "backlash 0.2 deg, elastic shaft",
    [REF_BATTERY] = "battery sags on, 10 s",
    [REF_GREASE] = "grease's drag with speed^(2/3)",
    [REF_SOFT_STOP] = "elastic stop, pressed on it",
};

static double deployed(const slew_scenario *s)
{
    slew_result r;
    slew_error error;
    return slew_run(s, SLEW_STOW_AND_DEPLOY, NULL, &r, &error) == SLEW_OK
               ? r.deploy.angle[E] * DEGREES
               : NAN;
}

static double rich(const slew_scenario *s, ref_effect effect, bool pressed)
{
    slew_setup setup[3];
    ref_rich r;
    for (int i = 0; i < 3; i++)
        slew_scenario_resolve(s, (slew_occasion)i, &setup[i]);
    return ref_rich_run(s, setup, effect, pressed, &r) == 0 ? r.deploy * DEGREES : NAN;
}

static void left_out(const slew_scenario *s)
{
    printf("  %-40s %+8.4f\n", "both as lib/MODEL.md has it",
           rich(s, REF_PLAIN, false) - deployed(s));
    for (int i = REF_PLAIN + 1; i < REF_EFFECTS; i++) {
        bool pressed = i == REF_SOFT_STOP;
        printf("  %-40s %+8.4f\n", EFFECTS[i],
               rich(s, (ref_effect)i, pressed) - rich(s, REF_PLAIN, pressed));
    }
}

/* ---- what the model has keys for ---- */

static void set(slew_scenario *s, slew_layer_id layer, const char *path, double value)
{
    slew_scenario_set_number(s, layer, slew_key_find(path), value);
}

static slew_scenario cold(const slew_scenario *s)
{
    slew_scenario c = *s;
    set(&c, SLEW_LAYER_DEPLOY_DAY, "elevation.motor.winding_rise", 0.0);
    set(&c, SLEW_LAYER_FILE, "elevation.gear.loss_coefficient", 0.0);
    return c;
}

static void warm(const slew_scenario *s)
{
    static const double share[] = {0.0, 0.5, 0.8};
    for (int i = 0; i < 3; i++) {
        slew_scenario w = cold(s);
        set(&w, SLEW_LAYER_FILE, "elevation.motor.magnet_share", share[i]);
        set(&w, SLEW_LAYER_DEPLOY_DAY, "elevation.motor.winding_rise", 40.0);
        slew_scenario c = cold(s);
        printf("  winding 40 K warm, magnets %2.0f %% of it     %+8.4f\n", 100.0 * share[i],
               deployed(&w) - deployed(&c));
    }
    slew_scenario w = cold(s), c = cold(s);
    set(&w, SLEW_LAYER_FILE, "elevation.gear.loss_coefficient", -0.003);
    set(&w, SLEW_LAYER_DEPLOY_DAY, "environment.temperature", SLEW_ZERO_CELSIUS - 15.0);
    set(&c, SLEW_LAYER_DEPLOY_DAY, "environment.temperature", SLEW_ZERO_CELSIUS - 15.0);
    printf("  %-40s %+8.4f\n", "gear loses 0.3 % more per K, at -15 degC",
           deployed(&w) - deployed(&c));
}

/* ---- from day to day ---- */

static void keep_deploy(void *context, const slew_scenario *drawn, const slew_prepared *prepared,
                        double *figures)
{
    slew_result r;
    (void)context;
    slew_run_prepared(drawn, prepared, SLEW_STOW_AND_DEPLOY, NULL, &r);
    figures[0] = r.deploy.angle[E] * DEGREES;
}

static double spread_of(const slew_scenario *s)
{
    slew_sampling how = slew_sampling_default();
    slew_ensemble e;
    double sum = 0.0, squares = 0.0;
    how.samples = 2048;
    if (slew_ensemble_run(s, SLEW_STOW_AND_DEPLOY, &how, keep_deploy, NULL, 1, &e, NULL) != SLEW_OK)
        return NAN;
    for (int64_t i = 0; i < e.done; i++) {
        sum += e.figure[i];
        squares += e.figure[i] * e.figure[i];
    }
    double mean = sum / (double)e.done, variance = squares / (double)e.done - mean * mean;
    slew_ensemble_free(&e);
    return sqrt(variance);
}

static slew_scenario with_rise(const slew_scenario *s, double most)
{
    slew_scenario d = cold(s);
    int key = slew_key_find("elevation.motor.winding_rise"), kept = 0;
    d.deploy_day.count = 0;
    for (int i = 0; i < d.day.count; i++)
        if (d.day.item[i].key != key)
            d.day.item[kept++] = d.day.item[i];
    d.day.count = kept;
    d.day.item[d.day.count++] =
        (slew_variation){.key = key, .distribution = SLEW_UNIFORM, .low = 0.0, .high = most};
    return d;
}

static void from_day_to_day(const slew_scenario *s)
{
    slew_scenario none = with_rise(s, 1e-9);
    printf("  sd over days %.4f", spread_of(&none));
    for (int share = 0; share <= 80; share += 40) {
        slew_scenario some = with_rise(s, 60.0);
        set(&some, SLEW_LAYER_FILE, "elevation.motor.magnet_share", share / 100.0);
        printf(", %d %%: %.4f", share, spread_of(&some));
    }
    printf("  (motors 0 to 60 K warm, magnets by their share)\n");
}

int main(int argc, char **argv)
{
    const char *const ours[] = {"examples/daily.yaml", "examples/winter-drill-24v.yaml"};
    const slew_reading reading = {0};
    for (int i = 0; i < (argc > 1 ? argc - 1 : 2); i++) {
        const char *path = argc > 1 ? argv[i + 1] : ours[i];
        slew_scenario s;
        if (slew_scenario_read_file(path, &reading, &s) != SLEW_OK)
            return EXIT_FAILURE;
        printf("deploy angle of elevation, deg: %s\n", path);
        left_out(&s);
        warm(&s);
        from_day_to_day(&s);
    }
    return EXIT_SUCCESS;
}
