/* field.c - the field of an axially magnetised cylinder, by complete elliptic integrals. */
#include "slewtime/magnet.h"

#include <gsl/gsl_sf_ellint.h>

#define PI 3.14159265358979323846

/* between these bounds Carlson's integrals are within GSL's range */
static const double least = 1e-100, most = 1e100;

static bool is_in_range(double value)
{
    return value >= least && value <= most;
}

/* ---- Bulirsch's general complete integral ---- */

/* For p >= 0. a cos^2 + b sin^2 = a (cos^2 + p sin^2) + (b - a p) sin^2, and what is left of the
 * two parts is Carlson's RF and RJ. Unlike Pi(n, k) they take p and kc^2 as they are: near p = 0
 * and kc = 0 nothing is lost in 1 - n and 1 - k^2. */
static double cel_positive(double kc2, double p, double a, double b)
{
    gsl_sf_result first, third = {0, 0};
    double sine = b - a * p;
    gsl_sf_ellint_RF_e(0, kc2, 1, GSL_PREC_DOUBLE, &first);
    if (sine != 0)
        gsl_sf_ellint_RJ_e(0, kc2, 1, p, GSL_PREC_DOUBLE, &third);
    return a * first.val + sine / 3 * third.val;
}

double slew_bulirsch_cel(double kc, double p, double a, double b)
{
    double kc2 = kc * kc;
    if (p < 0) { /* Cauchy's principal value, through the same integral of another p */
        double g = 1 - p, a2 = (a - b) / g, p2 = (kc2 - p) / g;
        return slew_bulirsch_cel(kc, p2, a2, a2 * p2 - (1 - kc2) * (b - a * p) / (g * g));
    }
    if (!is_in_range(kc2) || !(is_in_range(p) || (p == 0 && b == 0)))
        return (double)NAN;
    return cel_positive(kc2, p, a, b);
}

/* ---- one end face, all lengths over the radius of the magnet ---- */

typedef struct face {
    double along;   /* from the face to the place, along the axis */
    double modulus; /* kc of the integrals */
    double size;    /* distance from the far side of its rim */
} face;

static face face_at(double along, double offset)
{
    double far = hypot(along, 1 + offset);
    return (face){along, hypot(along, 1 - offset) / far, far};
}

/* on the level of a face its own part is zero; on its rim it would be 0 times infinity */
static double axial_part(face f, double g)
{
    return f.along == 0 ? 0 : f.along * slew_bulirsch_cel(f.modulus, g * g, 1, g) / f.size;
}

static double radial_part(face f)
{
    return slew_bulirsch_cel(f.modulus, 1, 1, -1) / f.size;
}

double slew_magnet_axial(double remanence, double diameter, double length, double offset,
                         double height)
{
    double unit = diameter / 2, r = fabs(offset) / unit, g = (1 - r) / (1 + r);
    face south = face_at((height + length / 2) / unit, r);
    face north = face_at((height - length / 2) / unit, r);
    return remanence / (PI * (1 + r)) * (axial_part(south, g) - axial_part(north, g));
}

double slew_magnet_radial(double remanence, double diameter, double length, double offset,
                          double height)
{
    double unit = diameter / 2, r = fabs(offset) / unit;
    face south = face_at((height + length / 2) / unit, r);
    face north = face_at((height - length / 2) / unit, r);
    double outwards = remanence / PI * (radial_part(south) - radial_part(north));
    return offset < 0 ? -outwards : outwards;
}
