/* least_squares.c - the parameters with the least weighted sum of squares, within bounds. */
#include "study/fit/information.h"

#include "error/error.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_multifit_nlinear.h>
#include <pthread.h>
#include <stdlib.h>
#include <string.h>

enum { MAX = SLEW_PARAMETERS_MAX, STEPS_MAX = 200, ANEW_MAX = 10 };

/* a residual that is not there: a step that leads to it is not taken */
static const double NO_RESIDUAL = 1e100;

/* It has settled when the step that is left is smaller than this, of the scales, or would change
 * the parameters by less than this share of their standard errors (the relative offset of D. M.
 * Bates and D. G. Watts, Technometrics 23 (1981) 179-183). */
static const double SMALL_STEP = 1e-6, SMALL_OFFSET = 1e-3;

typedef struct search {
    const slew_least_squares *problem;
    double at[MAX];  /* the parameters, those of GSL's vector apart */
    bool fixed[MAX]; /* held at a bound */
    int edge[MAX];
    int anew;         /* how often a descent was begun where the last one ended */
    double *residual; /* at `at`; without weights, as the next three */
    double *jacobian;
    double *ahead, *behind;
} search;

/* ---- GSL's variables: 1 where the search began, and 1 more for each scale ---- */

static void place(const search *s, const gsl_vector *u, double *parameter)
{
    size_t next = 0;
    for (int j = 0; j < s->problem->parameters; j++)
        parameter[j] = s->fixed[j]
                           ? s->at[j]
                           : s->at[j] + s->problem->scale[j] * (gsl_vector_get(u, next++) - 1);
}

static bool is_within(const slew_least_squares *p, const double *parameter)
{
    for (int j = 0; j < p->parameters; j++)
        if ((p->low != NULL && parameter[j] < p->low[j]) ||
            (p->high != NULL && parameter[j] > p->high[j]))
            return false;
    return true;
}

static bool ask(const slew_least_squares *p, const double *parameter, double *residual)
{
    if (!is_within(p, parameter) || !p->ask(p->context, parameter, residual))
        return false;
    for (int i = 0; i < p->residuals; i++)
        if (!isfinite(residual[i]))
            return false;
    return true;
}

static double root_weight(const slew_least_squares *p, int residual)
{
    return p->weight != NULL ? sqrt(p->weight[residual]) : 1;
}

/* ---- derivatives ---- */

/* central; one-sided where one side has no residuals */
static bool differentiate(search *s, const double *parameter, const double *residual, int j)
{
    const slew_least_squares *p = s->problem;
    double moved[MAX], h = cbrt(p->precision);
    memcpy(moved, parameter, sizeof moved);
    moved[j] = parameter[j] + h * p->scale[j];
    bool ahead = ask(p, moved, s->ahead);
    moved[j] = parameter[j] - h * p->scale[j];
    bool behind = ask(p, moved, s->behind);
    const double *high = ahead ? s->ahead : residual, *low = behind ? s->behind : residual;
    for (int i = 0; i < p->residuals; i++)
        s->jacobian[i * p->parameters + j] = (high[i] - low[i]) / (h * (ahead + behind));
    return ahead || behind;
}

/* of all parameters, held ones too */
static bool fill_jacobian(search *s, const double *parameter, const double *residual)
{
    for (int j = 0; j < s->problem->parameters; j++)
        if (!differentiate(s, parameter, residual, j))
            return false;
    return true;
}

/* ---- what GSL calls ---- */

static int residuals_for_gsl(const gsl_vector *u, void *context, gsl_vector *f)
{
    search *s = context;
    double parameter[MAX] = {0};
    place(s, u, parameter);
    bool there = ask(s->problem, parameter, s->ahead);
    for (size_t i = 0; i < f->size; i++)
        gsl_vector_set(f, i, there ? s->ahead[i] * root_weight(s->problem, (int)i) : NO_RESIDUAL);
    return GSL_SUCCESS;
}

static int jacobian_for_gsl(const gsl_vector *u, void *context, gsl_matrix *out)
{
    search *s = context;
    double parameter[MAX] = {0};
    place(s, u, parameter);
    if (!ask(s->problem, parameter, s->residual) || !fill_jacobian(s, parameter, s->residual))
        return GSL_EFAILED;
    for (size_t i = 0; i < out->size1; i++)
        for (int j = 0, column = 0; j < s->problem->parameters; j++)
            if (!s->fixed[j])
                gsl_matrix_set(out, i, (size_t)column++,
                               s->jacobian[(int)i * s->problem->parameters + j] *
                                   root_weight(s->problem, (int)i));
    return GSL_SUCCESS;
}

/* ---- one search, some parameters held ---- */

static size_t count_free(const search *s)
{
    size_t count = 0;
    for (int j = 0; j < s->problem->parameters; j++)
        count += !s->fixed[j];
    return count;
}

static pthread_mutex_t one_at_a_time = PTHREAD_MUTEX_INITIALIZER;

/* GSL's handler would end the program where memory is short. It belongs to the whole process, so it
 * is off for this one call, of one thread at a time; nothing else here can call it. NULL: short. */
static gsl_multifit_nlinear_workspace *get_workspace(const gsl_multifit_nlinear_fdf *functions)
{
    gsl_multifit_nlinear_parameters how = gsl_multifit_nlinear_default_parameters();
    pthread_mutex_lock(&one_at_a_time);
    gsl_error_handler_t *before = gsl_set_error_handler_off();
    gsl_multifit_nlinear_workspace *w =
        gsl_multifit_nlinear_alloc(gsl_multifit_nlinear_trust, &how, functions->n, functions->p);
    gsl_set_error_handler(before);
    pthread_mutex_unlock(&one_at_a_time);
    return w;
}

/* Moves s->at as far as it goes. Returns the number of steps; -1: memory is short. */
static int descend(search *s)
{
    double noise = pow(s->problem->precision, 2.0 / 3), start[MAX];
    size_t free_count = count_free(s);
    gsl_multifit_nlinear_fdf functions = {.f = residuals_for_gsl,
                                          .df = jacobian_for_gsl,
                                          .n = (size_t)s->problem->residuals,
                                          .p = free_count,
                                          .params = s};
    gsl_multifit_nlinear_workspace *w = get_workspace(&functions);
    if (w == NULL)
        return -1;
    for (size_t j = 0; j < free_count; j++)
        start[j] = 1;
    gsl_vector_view u = gsl_vector_view_array(start, free_count);
    int steps = 0, info;
    if (gsl_multifit_nlinear_init(&u.vector, &functions, w) == GSL_SUCCESS) {
        gsl_multifit_nlinear_driver(STEPS_MAX, fmax(noise, 1e-10), 100 * noise, 0, NULL, NULL,
                                    &info, w);
        double parameter[MAX] = {0};
        place(s, gsl_multifit_nlinear_position(w), parameter);
        memcpy(s->at, parameter, sizeof parameter);
        steps = (int)gsl_multifit_nlinear_niter(w);
    }
    gsl_multifit_nlinear_free(w);
    return steps;
}

/* ---- has it settled? ---- */

static double weigh(const search *s, double *residual, double *jacobian)
{
    const slew_least_squares *p = s->problem;
    double sum = 0;
    for (int i = 0; i < p->residuals; i++) {
        double w = root_weight(p, i);
        residual[i] = s->residual[i] * w;
        sum += residual[i] * residual[i];
        for (int j = 0; j < p->parameters; j++)
            jacobian[i * p->parameters + j] = s->jacobian[i * p->parameters + j] * w;
    }
    return sum;
}

static bool is_small(const search *s, const double *step, double fall, double sum)
{
    int directions = (int)count_free(s), freedom = s->problem->residuals - directions;
    double longest = 0;
    for (int j = 0; j < s->problem->parameters; j++)
        longest = fmax(longest, fabs(step[j]));
    return longest < SMALL_STEP ||
           fall * freedom < SMALL_OFFSET * SMALL_OFFSET * directions * (sum - fall);
}

/* the share of a step after which a parameter meets its bound */
static double reach(const search *s, int j, double step)
{
    const slew_least_squares *p = s->problem;
    const double *bound = step > 0 ? p->high : p->low;
    if (step == 0 || bound == NULL || !isfinite(bound[j]))
        return INFINITY;
    return (bound[j] - s->at[j]) / (step * p->scale[j]);
}

/* Holds the parameter that stands in the way of the step; false: none does. */
static bool hold_one(search *s, const double *step)
{
    int first = -1;
    double least = 1;
    for (int j = 0; j < s->problem->parameters; j++)
        if (!s->fixed[j] && reach(s, j, step[j]) < least) {
            first = j;
            least = reach(s, j, step[j]);
        }
    if (first < 0)
        return false;
    s->fixed[first] = true;
    s->edge[first] = step[first] > 0 ? 1 : -1;
    s->at[first] = step[first] > 0 ? s->problem->high[first] : s->problem->low[first];
    return true;
}

static slew_status not_settled(slew_error *error)
{
    return slew_refuse(error, "", "the fit does not settle",
                       "figures to start from that are nearer to the truth, or fewer keys");
}

/* After a descent: SLEW_OK and *settled, or what to do next is in `search`. A descent along a bound
 * comes to rest by small steps where the way on leads inside: it is begun anew there. */
static slew_status judge(search *s, double *weighted, slew_least *out, bool *settled,
                         slew_error *error)
{
    const slew_least_squares *p = s->problem;
    double *residual = weighted, *jacobian = weighted + p->residuals, step[MAX];
    if (!ask(p, s->at, s->residual) || !fill_jacobian(s, s->at, s->residual))
        return not_settled(error);
    out->sum = weigh(s, residual, jacobian);
    if (!slew_information_of(jacobian, p->residuals, p->parameters, s->fixed,
                             10 * pow(p->precision, 2.0 / 3), &out->information))
        return SLEW_ERROR_MEMORY;
    double fall = slew_information_step(&out->information, jacobian, residual, p->residuals, step);
    *settled = is_small(s, step, fall, out->sum);
    if (*settled || hold_one(s, step) || s->anew++ < ANEW_MAX)
        return SLEW_OK;
    return not_settled(error);
}

static slew_status settle(search *s, double *weighted, slew_least *out, slew_error *error)
{
    for (int held = 0; held <= s->problem->parameters + ANEW_MAX; held++) {
        bool settled = false;
        int steps = count_free(s) > 0 ? descend(s) : 0;
        if (steps < 0)
            return SLEW_ERROR_MEMORY;
        out->steps += steps;
        slew_status status = judge(s, weighted, out, &settled, error);
        if (status != SLEW_OK || settled)
            return status;
    }
    return not_settled(error);
}

slew_status slew_least_squares_run(const slew_least_squares *problem, const double *start,
                                   slew_least *out, double *residual, double *jacobian,
                                   slew_error *error)
{
    if (problem == NULL || problem->ask == NULL || problem->scale == NULL || start == NULL ||
        out == NULL)
        return slew_no_argument(error);
    if (problem->parameters < 1 || problem->parameters > MAX ||
        problem->residuals < problem->parameters || !(problem->precision > 0))
        return slew_no_number(error);
    size_t rows = (size_t)problem->residuals, cells = rows * (size_t)problem->parameters;
    double *room = calloc(5 * rows + 2 * cells, sizeof *room);
    search s = {.problem = problem};
    *out = (slew_least){.steps = 0};
    if (room == NULL)
        return SLEW_ERROR_MEMORY;
    s.residual = room + rows + cells;
    s.ahead = s.residual + rows;
    s.behind = s.ahead + rows;
    s.jacobian = s.behind + rows;
    memcpy(s.at, start, (size_t)problem->parameters * sizeof *start);
    slew_status status = ask(problem, s.at, s.residual)
                             ? settle(&s, room, out, error)
                             : slew_refuse(error, "", "nothing can be worked out at the start", "");
    memcpy(out->parameter, s.at, sizeof s.at);
    memcpy(out->edge, s.edge, sizeof s.edge);
    if (residual != NULL)
        memcpy(residual, s.residual, rows * sizeof *residual);
    if (jacobian != NULL)
        memcpy(jacobian, s.jacobian, cells * sizeof *jacobian);
    free(room);
    return status;
}
