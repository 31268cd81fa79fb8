/* physics_grease.c - viscosity against temperature (ASTM D341, Walther) against worked examples. */
#include "slewtime/physics.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "../near.h"

static const double MM2 = 1e-6; /* [m2] */

/* viscosities in mm2/s, temperatures in degC; `zero` is the offset to kelvin of the source */

static slew_viscosity_line line(double nu_1, double t_1, double nu_2, double t_2, double zero)
{
    return slew_viscosity_through(nu_1 * MM2, t_1 + zero, nu_2 * MM2, t_2 + zero);
}

static double viscosity(slew_viscosity_line oil, double t, double zero)
{
    return slew_viscosity_at(oil, t + zero) / MM2;
}

/* Worked spreadsheet after ASTM D341: ISO VG 32 oil, 32 at 40 degC and 5.4 at 100: A = 9.5259,
 * B = 3.7449, 8.5 mm2/s at 80 degC. It takes 0 degC as 273 K. Half a unit of the digits. */
static void iso_vg_32_oil(void **state)
{
    const slew_viscosity_line oil = line(32.0, 40.0, 5.4, 100.0, 273.0);
    (void)state;
    near("A", oil.a, 9.5259, 5e-5);
    near("B", oil.b, 3.7449, 5e-5);
    near("80 degC", viscosity(oil, 80.0, 273.0), 8.5, 0.05);
}

/* Worked page after ASTM D341, example 1: SAE 140 gear oil, 404 at 40 degC and 28 at 100: 132.126
 * at
 * 60. Example 2: 68 at 40 and 14.85 at 80: 8.8 at 100, outside its two points. */
static void gear_oils(void **state)
{
    const slew_viscosity_line sae_140 = line(404.0, 40.0, 28.0, 100.0, SLEW_ZERO_CELSIUS);
    const slew_viscosity_line other = line(68.0, 40.0, 14.85, 80.0, SLEW_ZERO_CELSIUS);
    (void)state;
    near("60 degC", viscosity(sae_140, 60.0, SLEW_ZERO_CELSIUS), 132.126, 0.0005);
    near("100 degC", viscosity(other, 100.0, SLEW_ZERO_CELSIUS), 8.8, 0.05);
}

/* The two oils at -20 degC, worked out independently of this library. Both are extrapolations. */
static void cold_oils(void **state)
{
    const slew_viscosity_line vg_32 = line(32.0, 40.0, 5.4, 100.0, SLEW_ZERO_CELSIUS);
    const slew_viscosity_line sae_140 = line(404.0, 40.0, 28.0, 100.0, SLEW_ZERO_CELSIUS);
    (void)state;
    near("VG 32", viscosity(vg_32, -20.0, SLEW_ZERO_CELSIUS), 2291.0, 0.5);
    near("SAE 140", viscosity(sae_140, -20.0, SLEW_ZERO_CELSIUS), 1.896e5, 50.0);
}

/* Palmgren, Ball and Roller Bearing Engineering: lubricant torque goes with (viscosity times
 * speed)^(2/3) [from memory]. Eight times the viscosity is four times the drag. */
static void drag_goes_with_the_two_thirds_power(void **state)
{
    (void)state;
    near("same", slew_drag_factor(1.0), 1.0, 0.0);
    near("8 times", slew_drag_factor(8.0), 4.0, 1e-14);
    near("an eighth", slew_drag_factor(0.125), 0.25, 1e-15);
    near("none", slew_drag_factor(0.0), 0.0, 0.0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(iso_vg_32_oil),
        cmocka_unit_test(gear_oils),
        cmocka_unit_test(cold_oils),
        cmocka_unit_test(drag_goes_with_the_two_thirds_power),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
