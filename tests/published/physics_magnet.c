/*
 * physics_magnet.c - the field of a cylinder magnet and the integral behind it against published
 * and independently computed values, and the line of a sensor against the trade's.
 */
#include "slewtime/magnet.h"
#include "slewtime/physics.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "../near.h"

/* ---- The integral ---- */

/* R. Bulirsch, Numerical Calculation of Elliptic Integrals and Elliptic Functions III, Numer. Math.
 * 13 (1969) 305-315, section 4.2, with all digits as tests of the magpylib library quote it
 * (tests/test_elliptics.py). 16 digits are given: within a few units of the last, 2.2e-16. */
static void bulirsch_values(void **state)
{
    (void)state;
    near("p = 4.1", slew_bulirsch_cel(0.1, 4.1, 1.2, 1.1), 1.5464442694017956,
         8 * 2.2e-16 * 1.5464442694017956);
    near("p = -4.1", slew_bulirsch_cel(0.1, -4.1, 1.2, 1.1), -0.67687378198360556,
         8 * 2.2e-16 * 0.67687378198360556);
}

/* ---- The field ---- */

/* magpylib, documentation of the field of a cylinder: unit polarisation, three decimals, so half a
 * unit of the third; beside it by quadrature of the surface current with 30 digits, rel 1e-12 of
 * what it prints. Lengths over the radius, half the length z0. */
static void documented_points(void **state)
{
    static const struct {
        double half, r, z, radial, axial;
        double radial_computed, axial_computed;
    } row[] = {
        {1, 1, 2, 0.056, 0.067, 0.05561469002411406, 0.06690167259161976},
        {2, 2, 3, 0.041, 0.018, 0.04117918971405163, 0.01805673856981965},
    };
    (void)state;
    for (size_t i = 0; i < sizeof row / sizeof *row; i++) {
        double axial = slew_magnet_axial(1, 2, 2 * row[i].half, row[i].r, row[i].z);
        double radial = slew_magnet_radial(1, 2, 2 * row[i].half, row[i].r, row[i].z);
        near("radial, printed", radial, row[i].radial, 0.5e-3);
        near("axial, printed", axial, row[i].axial, 0.5e-3);
        near("radial", radial, row[i].radial_computed, 1e-12 * row[i].radial_computed);
        near("axial", axial, row[i].axial_computed, 1e-12 * row[i].axial_computed);
    }
}

/* magpylib, tests/testdata/testdata_field_BH_cylinder.p: six stored points of its cylinder with
 * axial polarisation, in any consistent units; 1e-9 of |B|. */
static void stored_library_points(void **state)
{
    static const struct {
        double polarisation, diameter, height, place[3], field[3];
    } row[] = {
        {-406.1055711037284,
         0.41129121330897034,
         0.4835270176198787,
         {-0.15601522370910803, 0.20584558055449792, -0.21386204340707882},
         {-47.265723588202526, 62.36212134325184, 31.724827614457332}},
        {231.8942958060124,
         0.5155605653442205,
         0.510361426095901,
         {-0.23048463006178171, 0.19229369305058508, 0.1563601054766044},
         {-23.649035813060742, 19.730428152020448, -35.396826859142955}},
        {-248.46697505285752,
         0.5228081759858516,
         0.3775077901009959,
         {-0.24139848528894264, 0.22326600382121553, -0.060680749387169663},
         {-11.049854347243247, 10.21985212526307, 37.28769227780032}},
        {33.37341490661139,
         0.7760247512172848,
         0.15959597587036134,
         {0.1294009075353752, 0.11433200282926914, 0.11719866533125067},
         {1.004590358920938, 0.8876044994275331, 6.432137795392139}},
        {44.827357439336964,
         0.931387197772191,
         0.35038619733576004,
         {-0.21174289765693644, -0.12385355567475459, 0.23204388988056218},
         {-3.5279728583651404, -2.0635968793649693, 12.284761631759098}},
        {-160.11737372022606,
         0.8152517639963222,
         0.2283732233993142,
         {-0.0037154748795922288, 0.04159563838864161, 0.18095002283408923},
         {0.1583072896045295, -1.772288330852251, -34.0726754877767}},
    };
    (void)state;
    for (size_t i = 0; i < sizeof row / sizeof *row; i++) {
        const double *at = row[i].place, *field = row[i].field;
        double r = hypot(at[0], at[1]), J = row[i].polarisation;
        double size = sqrt(field[0] * field[0] + field[1] * field[1] + field[2] * field[2]);
        double axial = slew_magnet_axial(J, row[i].diameter, row[i].height, r, at[2]);
        double radial = slew_magnet_radial(J, row[i].diameter, row[i].height, r, at[2]);
        near("x", radial * at[0] / r, field[0], 1e-9 * size);
        near("y", radial * at[1] / r, field[1], 1e-9 * size);
        near("z", axial, field[2], 1e-9 * size);
    }
}

/* Points of the size of a home sensor's magnet, remanence 1 T, computed twice: by Derby and Olbert,
 * Am. J. Phys. 78 (2010) 229-235, and by quadrature of the surface current with 30 digits. Both
 * agree in the 12 digits given: half a unit of the last. */
static void points_of_the_size_of_a_sensor(void **state)
{
    static const struct {
        double radius, length, r, z; /* [mm] */
        double radial, axial;
        double radial_last, axial_last; /* half a unit of the last digit */
    } row[] = {
        {5, 10, 0, 15, 0, 0.0378576545727, 0, 0.5e-13},
        {5, 10, 0, 10, 0, 0.120788258432, 0, 0.5e-12},
        {5, 10, 5, 15, 0.0146740274347, 0.0275948723139, 0.5e-13, 0.5e-13},
        {5, 10, 10, 0, 0, -0.0518527200019, 0, 0.5e-13},
        {5, 10, 10, 10, 0.0343166224327, 0.0101609091535, 0.5e-13, 0.5e-13},
        {5, 10, 5, 12, 0.0312461872111, 0.0460580859451, 0.5e-13, 0.5e-13},
        {6, 4, 12, 8, 0.0177188691952, 0.00121315499917, 0.5e-13, 0.5e-14},
        {3, 6, 4, 12, 0.00616513218554, 0.0115249316507, 0.5e-14, 0.5e-13},
        {5, 10, 20, 5, 0.00483242318973, -0.00580354550417, 0.5e-14, 0.5e-14},
        {5, 10, 2.5, 0, 0, 0.739446877768, 0, 0.5e-12},
    };
    (void)state;
    for (size_t i = 0; i < sizeof row / sizeof *row; i++) {
        double d = 2e-3 * row[i].radius, length = 1e-3 * row[i].length;
        double r = 1e-3 * row[i].r, z = 1e-3 * row[i].z;
        near("radial", slew_magnet_radial(1, d, length, r, z), row[i].radial,
             row[i].radial_last + 1e-15);
        near("axial", slew_magnet_axial(1, d, length, r, z), row[i].axial,
             row[i].axial_last + 1e-15);
    }
}

/* At twice its radius from this flat magnet the dipole has the wrong sign along the axis: what is
 * close to a magnet needs its whole field. Computed as above. */
static void a_dipole_would_have_the_wrong_sign(void **state)
{
    double radius = 6, length = 4, r = 12, z = 8, d2 = r * r + z * z;
    double moment = radius * radius * length / 4;
    double dipole = moment * (3 * z * z - d2) / pow(d2, 2.5);
    (void)state;
    near("dipole", dipole, -0.000923133, 0.5e-9);
    assert_true(slew_magnet_axial(1, 2 * radius, length, r, z) > 0);
}

/* ---- The line of a sensor ---- */

/* common practice: a closed home sensor leaves 7.5 V of 12 V on its line, a share of 0.625 */
static void line_of_a_closed_sensor(void **state)
{
    (void)state;
    near("closed", slew_divider_voltage(12, 600, 1000), 7.5, 1e-12);
    near("open", slew_divider_voltage(12, 600, 1e15), 12, 1e-11);
    near("shorted", slew_divider_voltage(12, 600, 0), 0, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(bulirsch_values),
        cmocka_unit_test(documented_points),
        cmocka_unit_test(stored_library_points),
        cmocka_unit_test(points_of_the_size_of_a_sensor),
        cmocka_unit_test(a_dipole_would_have_the_wrong_sign),
        cmocka_unit_test(line_of_a_closed_sensor),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
