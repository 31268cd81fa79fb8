/* sensitivity.c - variance-based indices: which of the drawn numbers drives a figure. */
#include "slewtime/study.h"

#include "study/sampling/sobol.h"

#include <string.h>

enum { DIMENSIONS_MAX = 20 };

/* ---- points ---- */

static double shifted(double u, uint64_t seed, int dimension)
{
    double v = u + slew_random_unit(seed, 0, (uint32_t)dimension);
    return v < 1 ? v : v - 1;
}

/* A and B are the halves of one Sobol sequence of twice the dimensions */
static void fill_designs(gsl_qrng *generator, int dimensions, int64_t base, uint64_t seed,
                         double *a, double *b)
{
    double point[2 * DIMENSIONS_MAX];
    for (int64_t i = 0; i < base; i++) {
        gsl_qrng_get(generator, point);
        for (int d = 0; d < dimensions; d++) {
            a[i * dimensions + d] = shifted(point[d], seed, d);
            b[i * dimensions + d] = shifted(point[dimensions + d], seed, dimensions + d);
        }
    }
}

bool slew_sensitivity_points(int dimensions, int64_t base, uint64_t seed, double *points)
{
    if (dimensions < 1 || dimensions > DIMENSIONS_MAX || base < 1 || points == NULL)
        return false;
    gsl_qrng generator;
    if (!slew_sobol_open(&generator, 2 * dimensions))
        return false;
    double *a = points, *b = points + base * dimensions;
    fill_designs(&generator, dimensions, base, seed, a, b);
    slew_sobol_close(&generator);
    for (int d = 0; d < dimensions; d++) {
        double *mixed = points + (d + 2) * base * dimensions;
        memcpy(mixed, a, (size_t)base * (size_t)dimensions * sizeof *mixed);
        for (int64_t i = 0; i < base; i++)
            mixed[i * dimensions + d] = b[i * dimensions + d];
    }
    return true;
}

/* ---- indices ---- */

static bool is_whole(const double *figure, int dimensions, int64_t base, int64_t i)
{
    for (int block = 0; block < dimensions + 2; block++)
        if (isnan(figure[block * base + i]))
            return false;
    return true;
}

typedef struct moments {
    int64_t count;
    double mean, variance; /* of A and B together */
} moments;

static moments moments_of(const double *figure, int dimensions, int64_t base)
{
    moments m = {0, 0, 0};
    for (int64_t i = 0; i < base; i++)
        if (is_whole(figure, dimensions, base, i)) {
            m.mean += figure[i] + figure[base + i];
            m.count++;
        }
    double n = 2 * (double)m.count;
    m.mean /= n;
    for (int64_t i = 0; i < base; i++)
        if (is_whole(figure, dimensions, base, i)) {
            double a = figure[i] - m.mean, b = figure[base + i] - m.mean;
            m.variance += (a * a + b * b) / n;
        }
    return m;
}

void slew_sensitivity_indices(const double *figure, int dimensions, int64_t base, double *first,
                              double *total)
{
    if (figure == NULL || first == NULL || total == NULL || dimensions < 1 || base < 1)
        return;
    moments m = moments_of(figure, dimensions, base);
    for (int d = 0; d < dimensions; d++) {
        const double *mixed = figure + (d + 2) * base;
        double s = 0, t = 0;
        for (int64_t i = 0; i < base; i++) {
            if (!is_whole(figure, dimensions, base, i))
                continue;
            double a = figure[i], b = figure[base + i] - m.mean;
            s += b * (mixed[i] - a);
            t += (a - mixed[i]) * (a - mixed[i]) / 2;
        }
        bool varies = m.count > 0 && m.variance > 0;
        first[d] = varies ? s / (double)m.count / m.variance : 0;
        total[d] = varies ? t / (double)m.count / m.variance : 0;
    }
}
