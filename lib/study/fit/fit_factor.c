/* fit_factor.c - see fit_factor.h. */
#include "study/fit/fit_factor.h"

#include <math.h>

bool slew_lower_factor(double *matrix, int n, int stride, double least)
{
    for (int i = 0; i < n; i++) {
        double *own = matrix + i * stride;
        for (int j = 0; j <= i; j++) {
            const double *other = matrix + j * stride;
            double rest = own[j];
            for (int k = 0; k < j; k++)
                rest -= own[k] * other[k];
            if (i == j && !(rest > least * own[i]))
                return false;
            own[j] = i == j ? sqrt(rest) : rest / other[j];
        }
    }
    return true;
}

void slew_lower_divide(const double *lower, int n, int stride, double *x, int step)
{
    for (int i = 0; i < n; i++) {
        const double *own = lower + i * stride;
        for (int k = 0; k < i; k++)
            x[i * step] -= own[k] * x[k * step];
        x[i * step] /= own[i];
    }
}
