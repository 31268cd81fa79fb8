/* correlation.c - keys that vary together, as a matrix. */
#include "scenario/correlation.h"

#include <gsl/gsl_eigen.h>
#include <gsl/gsl_linalg.h>

/* least eigenvalue of a matrix that is called positive definite */
static const double LEAST = 1e-9;

static int place_of(const slew_spread *spread, int key)
{
    for (int i = 0; i < spread->count; i++)
        if (spread->item[i].key == key)
            return i;
    return -1;
}

bool slew_correlation_applies(const slew_spread *spread, const slew_correlation *c)
{
    return place_of(spread, c->key[0]) >= 0 && place_of(spread, c->key[1]) >= 0;
}

static void fill(gsl_matrix *matrix, const slew_spread *spread, const slew_correlations *all)
{
    gsl_matrix_set_identity(matrix);
    for (int i = 0; i < all->count; i++) {
        if (!slew_correlation_applies(spread, &all->item[i]))
            continue;
        size_t a = (size_t)place_of(spread, all->item[i].key[0]);
        size_t b = (size_t)place_of(spread, all->item[i].key[1]);
        gsl_matrix_set(matrix, a, b, all->item[i].coefficient);
        gsl_matrix_set(matrix, b, a, all->item[i].coefficient);
    }
}

/* Asked beforehand, since GSL's factorisation ends the program over a matrix that is not. The room
 * is ours: where memory is short GSL would end it, too. */
static bool is_positive_definite(const gsl_matrix *matrix)
{
    double copy_room[SLEW_FACTOR_MAX], value_room[SLEW_VARIATIONS_MAX];
    double diagonal[SLEW_VARIATIONS_MAX], beside[SLEW_VARIATIONS_MAX];
    gsl_eigen_symm_workspace workspace = {.size = matrix->size1, .d = diagonal, .sd = beside};
    gsl_matrix_view copy = gsl_matrix_view_array(copy_room, matrix->size1, matrix->size2);
    gsl_vector_view values = gsl_vector_view_array(value_room, matrix->size1);
    gsl_matrix_memcpy(&copy.matrix, matrix);
    gsl_eigen_symm(&copy.matrix, &values.vector, &workspace);
    return gsl_vector_min(&values.vector) > LEAST;
}

bool slew_correlation_factor(const slew_spread *spread, const slew_correlations *all,
                             double factor[SLEW_FACTOR_MAX])
{
    size_t count = (size_t)spread->count;
    if (count == 0)
        return true;
    gsl_matrix_view view = gsl_matrix_view_array(factor, count, count);
    fill(&view.matrix, spread, all);
    if (!is_positive_definite(&view.matrix))
        return false;
    gsl_linalg_cholesky_decomp1(&view.matrix);
    for (size_t row = 0; row < count; row++)
        for (size_t column = row + 1; column < count; column++)
            gsl_matrix_set(&view.matrix, row, column, 0);
    return true;
}
