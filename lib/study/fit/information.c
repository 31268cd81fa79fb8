/* information.c - what a Jacobian tells about its parameters, by its singular values. */
#include "study/fit/information.h"

#include <gsl/gsl_linalg.h>
#include <stdlib.h>
#include <string.h>

enum { MAX = SLEW_PARAMETERS_MAX };

/* smaller shares of a unit vector are round-off */
static const double NO_SHARE = 1e-6;

/* ---- singular values ---- */

/* the free columns alone, and rows of zeros where there are fewer than columns */
static void copy_free(const double *jacobian, int rows, const slew_information *i, double *out)
{
    for (int r = 0; r < rows; r++)
        for (int j = 0, at = 0; j < i->parameters; j++)
            if (!i->fixed[j])
                out[r * i->directions + at++] = jacobian[r * i->parameters + j];
}

/* directions by falling sd: the singular values come largest first */
static void keep(slew_information *i, const double *singular, const double *right, double noise)
{
    for (int k = 0; k < i->directions; k++) {
        int column = i->directions - 1 - k;
        double s = singular[column];
        i->sd[k] = s > noise * singular[0] ? 1 / s : INFINITY;
        for (int j = 0, at = 0; j < i->parameters; j++)
            i->direction[k][j] = i->fixed[j] ? 0 : right[at++ * i->directions + column];
    }
}

/* What GSL's rotations come to an end with: squares and products that are numbers. */
static bool is_workable(const double *matrix, size_t cells)
{
    for (size_t i = 0; i < cells; i++)
        if (!(fabs(matrix[i]) < 1e100))
            return false;
    return true;
}

/* of a matrix that is none: nothing is known */
static void know_nothing(slew_information *i)
{
    for (int k = 0, j = 0; k < i->directions; k++, j++) {
        while (i->fixed[j])
            j++;
        i->sd[k] = INFINITY;
        memset(i->direction[k], 0, sizeof i->direction[k]);
        i->direction[k][j] = 1;
    }
}

/* `matrix` [rows * directions] is used up; rows >= directions. By Jacobi's rotations: GSL's other
 * decompositions allocate, and do not look whether they got it. */
static void decompose(double *matrix, int rows, double noise, slew_information *i)
{
    double singular[MAX], right[MAX * MAX];
    size_t n = (size_t)i->directions;
    gsl_matrix_view a = gsl_matrix_view_array(matrix, (size_t)rows, n);
    gsl_matrix_view v = gsl_matrix_view_array(right, n, n);
    gsl_vector_view s = gsl_vector_view_array(singular, n);
    if (!is_workable(matrix, (size_t)rows * n)) {
        know_nothing(i);
        return;
    }
    gsl_linalg_SV_decomp_jacobi(&a.matrix, &v.matrix, &s.vector);
    keep(i, singular, right, noise);
}

static void begin(slew_information *i, int parameters, const bool *fixed)
{
    *i = (slew_information){.parameters = parameters};
    for (int j = 0; j < parameters; j++) {
        i->fixed[j] = fixed != NULL && fixed[j];
        i->directions += !i->fixed[j];
    }
}

bool slew_information_of(const double *jacobian, int rows, int parameters, const bool *fixed,
                         double noise, slew_information *out)
{
    begin(out, parameters, fixed);
    if (out->directions == 0)
        return true;
    int padded = rows < out->directions ? out->directions : rows;
    double *matrix = calloc((size_t)(padded * out->directions), sizeof *matrix);
    if (matrix == NULL)
        return false;
    copy_free(jacobian, rows, out, matrix);
    decompose(matrix, padded, noise, out);
    free(matrix);
    return true;
}

void slew_information_add(slew_information *information, const double *row)
{
    if (information == NULL || row == NULL)
        return;
    const slew_information old = *information;
    double matrix[(MAX + 1) * MAX], rows[(MAX + 1) * MAX] = {0};
    if (old.directions == 0)
        return;
    for (int k = 0; k < old.directions; k++)
        for (int j = 0; j < old.parameters; j++)
            rows[k * old.parameters + j] = old.direction[k][j] / old.sd[k];
    memcpy(rows + old.directions * old.parameters, row, (size_t)old.parameters * sizeof *row);
    copy_free(rows, old.directions + 1, &old, matrix);
    decompose(matrix, old.directions + 1, 0, information);
}

/* ---- reading it ---- */

double slew_information_covariance(const slew_information *i, int a, int b)
{
    if (i == NULL || a < 0 || b < 0 || a >= i->parameters || b >= i->parameters)
        return NAN;
    double sum = 0;
    for (int k = 0; k < i->directions; k++) {
        double share = i->direction[k][a] * i->direction[k][b];
        if (isfinite(i->sd[k]))
            sum += share * i->sd[k] * i->sd[k];
        else if (fabs(i->direction[k][a]) > NO_SHARE && fabs(i->direction[k][b]) > NO_SHARE)
            sum += share > 0 ? INFINITY : -INFINITY;
    }
    return sum;
}

double slew_information_condition(const slew_information *i)
{
    return i->directions > 0 ? i->sd[0] / i->sd[i->directions - 1] : 1;
}

/* along a direction the sum of squares is a parabola of curvature 1/sd^2 */
double slew_information_step(const slew_information *i, const double *jacobian,
                             const double *residual, int rows, double *step)
{
    double fall = 0;
    memset(step, 0, (size_t)i->parameters * sizeof *step);
    for (int k = 0; k < i->directions; k++) {
        double slope = 0, sd = isfinite(i->sd[k]) ? i->sd[k] : 0;
        for (int r = 0; r < rows; r++)
            for (int j = 0; j < i->parameters; j++)
                slope += residual[r] * jacobian[r * i->parameters + j] * i->direction[k][j];
        for (int j = 0; j < i->parameters; j++)
            step[j] -= i->direction[k][j] * sd * sd * slope;
        fall += sd * sd * slope * slope;
    }
    return fall;
}
