/* physics_magnet.c - what holds for the field of every cylinder magnet. */
#include "slewtime/magnet.h"

#include <gsl/gsl_sf_ellint.h>
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "../near.h"

static const double PI = 3.14159265358979323846;

/* invented: a thick, a flat and a long magnet [m] */
static const struct {
    double diameter, length;
} MAGNET[] = {{0.010, 0.010}, {0.020, 0.002}, {0.004, 0.030}};
enum { MAGNETS = sizeof MAGNET / sizeof *MAGNET };

static double axial(int i, double offset, double height)
{
    return slew_magnet_axial(1.2, MAGNET[i].diameter, MAGNET[i].length, offset, height);
}

static double radial(int i, double offset, double height)
{
    return slew_magnet_radial(1.2, MAGNET[i].diameter, MAGNET[i].length, offset, height);
}

/* ---- The integral ---- */

/* cel(kc, 1, 1, 1) = K, cel(kc, 1, 1, kc^2) = E, and cel(kc, 1 + n, 1, 1) = Pi(n, k) with the sign
 * of n as GSL has it; these lose digits in 1 - k^2 and 1 + n, so kc and p stay away from 0 */
static void contains_legendre_s_integrals(void **state)
{
    (void)state;
    for (double kc = 0.1; kc < 1; kc += 0.1) {
        double k = sqrt(1 - kc * kc);
        double K = gsl_sf_ellint_Kcomp(k, GSL_PREC_DOUBLE);
        near("K", slew_bulirsch_cel(kc, 1, 1, 1), K, 1e-13 * K);
        near("E", slew_bulirsch_cel(kc, 1, 1, kc * kc), gsl_sf_ellint_Ecomp(k, GSL_PREC_DOUBLE),
             1e-13);
        for (double p = 0.1; p < 5; p *= 2) {
            double Pi = gsl_sf_ellint_Pcomp(k, p - 1, GSL_PREC_DOUBLE);
            near("Pi", slew_bulirsch_cel(kc, p, 1, 1), Pi, 1e-13 * Pi);
        }
    }
}

/* a cos^2 + b sin^2 with b = a p leaves nothing of the pole: a K for either sign of p */
static void a_pole_that_is_not_there(void **state)
{
    (void)state;
    for (double p = -3; p < 4; p += 0.7) {
        double K = slew_bulirsch_cel(0.3, 1, 1, 1);
        near("2 K", slew_bulirsch_cel(0.3, p, 2, 2 * p), 2 * K, 1e-13 * K);
    }
}

/* with kc = 1: (pi/2) (a + b/sqrt p)/(1 + sqrt p), by partial fractions. Rounding of a K, from
 * which a large p leaves little, and of the result itself. */
static void closed_form_of_a_circle(void **state)
{
    (void)state;
    for (double p = 1e-12; p < 1e12; p *= 10) {
        double expected = PI / 2 * (1.2 + 1.1 / sqrt(p)) / (1 + sqrt(p));
        near("circle", slew_bulirsch_cel(1, p, 1.2, 1.1), expected,
             1e-15 * (1.2 * PI / 2 + expected));
    }
}

static void what_it_can_t_do_is_nan(void **state)
{
    (void)state;
    assert_true(isnan(slew_bulirsch_cel(0, 1, 1, 1)));
    assert_true(isnan(slew_bulirsch_cel(0.5, 0, 1, 1)));
    assert_true(isnan(slew_bulirsch_cel(NAN, 1, 1, 1)));
    assert_true(isnan(slew_bulirsch_cel(0.5, INFINITY, 1, 1)));
    assert_true(isnan(slew_magnet_radial(1, 0.01, 0.01, 0.005, 0.005))); /* the rim */
}

/* ---- The field ---- */

/* On the axis, x from the pole face: B = (Br/2) ((x + L)/sqrt(R^2 + (x + L)^2) - x/sqrt(R^2 +
 * x^2)), the textbook form. Its two terms cancel far away: the tolerance is of Br. */
static void closed_form_on_the_axis(void **state)
{
    (void)state;
    for (int i = 0; i < MAGNETS; i++)
        for (double x = 1e-5; x < 1; x *= 1.7) {
            double L = MAGNET[i].length, R = MAGNET[i].diameter / 2;
            double expected = 0.6 * ((x + L) / hypot(R, x + L) - x / hypot(R, x));
            near("on axis", axial(i, 0, L / 2 + x), expected, 1e-15);
            near("sideways", radial(i, 0, L / 2 + x), 0, 1e-15);
        }
}

/* From d away the first correction to the dipole is of the order (size/d)^2: seen to fall as that
 */
static void far_away_it_is_a_dipole(void **state)
{
    (void)state;
    for (int i = 0; i < MAGNETS; i++)
        for (double angle = 0.1; angle < PI; angle += 0.3) {
            double R = MAGNET[i].diameter / 2, L = MAGNET[i].length, last = 0;
            for (double d = 0.4; d < 1.7; d *= 2) {
                double r = d * sin(angle), z = d * cos(angle), moment = 1.2 * R * R * L / 4;
                double size = moment / (d * d * d), c = cos(angle), s = sin(angle);
                double off = hypot(axial(i, r, z) - size * (3 * c * c - 1),
                                   radial(i, r, z) - size * 3 * c * s) /
                             size;
                double share = (L * L + R * R) / (d * d);
                /* rounding: some 1e-16 of Br against the size of what is left, times d/R */
                double rounding = 1e-16 * 1.2 * (d / R) / size;
                assert_true(off < 4 * share + rounding);
                if (last > 100 * rounding)
                    near("falls to a quarter", off / last, 0.25, 0.02);
                last = off;
            }
        }
}

/* div B = 0: (1/r) d(r Br)/dr + dBz/dz, and outside the magnet no curl: dBr/dz = dBz/dr, by central
 * differences of step h, whose error is h^2 of the third derivative */
static void no_sources_and_no_curl(void **state)
{
    (void)state;
    const double h = 1e-6;
    for (int i = 0; i < MAGNETS; i++)
        for (double r = 1.3e-3; r < 0.03; r *= 1.5)
            for (double x = 1.1e-3; x < 0.03; x *= 1.6) {
                double z = MAGNET[i].length / 2 + x;
                double out = ((r + h) * radial(i, r + h, z) - (r - h) * radial(i, r - h, z)) / r;
                double up = axial(i, r, z + h) - axial(i, r, z - h);
                double turn = radial(i, r, z + h) - radial(i, r, z - h);
                double slope = axial(i, r + h, z) - axial(i, r - h, z);
                /* h^2/3 of a third derivative of at most 6 B/x^3, and rounding of 1e-16 T */
                double most = 1.2 * 2 * h * (h * h / (x * x * x)) * 4 + 4e-16;
                near("div B", out + up, 0, most);
                near("curl B", turn - slope, 0, most);
            }
}

/* the flux through any plane between the ends is conserved, and the axial component jumps by the
 * remanence at the curved surface: its value there is the mean */
static void surface(void **state)
{
    (void)state;
    double R = MAGNET[0].diameter / 2, step = 1e-11;
    double inside = axial(0, R - step, 0.001), outside = axial(0, R + step, 0.001);
    near("jump", inside - outside, 1.2, 1e-7);
    near("mean", axial(0, R, 0.001), (inside + outside) / 2, 1e-7);
}

/* beyond the ends the field is smooth where r passes the radius, where Legendre's third integral in
 * its usual form has lost half its digits */
static void smooth_past_the_radius(void **state)
{
    (void)state;
    double R = MAGNET[0].diameter / 2, z = 0.0151, at = axial(0, R, z);
    double slope = (axial(0, R + 1e-6, z) - axial(0, R - 1e-6, z)) / 2e-6;
    for (double step = 1e-7; step > 1e-19; step /= 10) {
        near("inside", axial(0, R - step, z) - at, -slope * step, 1e-15 + 2e2 * step * step);
        near("outside", axial(0, R + step, z) - at, slope * step, 1e-15 + 2e2 * step * step);
    }
}

static void symmetries(void **state)
{
    (void)state;
    for (int i = 0; i < MAGNETS; i++)
        for (double r = 0.0007; r < 0.05; r *= 1.9) {
            double z = 0.017;
            near("below", axial(i, r, -z), axial(i, r, z), 1e-15);
            near("below, sideways", radial(i, r, -z), -radial(i, r, z), 1e-15);
            near("other side", axial(i, -r, z), axial(i, r, z), 0);
            near("other side, sideways", radial(i, -r, z), -radial(i, r, z), 0);
            near("twice as strong", 2 * axial(i, r, z),
                 slew_magnet_axial(2.4, MAGNET[i].diameter, MAGNET[i].length, r, z), 1e-16);
            near("twice as large", axial(i, r, z),
                 slew_magnet_axial(1.2, 2 * MAGNET[i].diameter, 2 * MAGNET[i].length, 2 * r, 2 * z),
                 1e-16);
        }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(contains_legendre_s_integrals), cmocka_unit_test(a_pole_that_is_not_there),
        cmocka_unit_test(closed_form_of_a_circle),       cmocka_unit_test(what_it_can_t_do_is_nan),
        cmocka_unit_test(closed_form_on_the_axis),       cmocka_unit_test(far_away_it_is_a_dipole),
        cmocka_unit_test(no_sources_and_no_curl),        cmocka_unit_test(surface),
        cmocka_unit_test(smooth_past_the_radius),        cmocka_unit_test(symmetries),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
