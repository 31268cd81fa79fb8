/*
 * ref_stepper_cvode.c - SUNDIALS CVODE: Adams, Newton, dense matrix, its own root finding.
 */
#include <cvode/cvode.h>
#include <nvector/nvector_serial.h>
#include <stdlib.h>
#include <string.h>
#include <sunlinsol/sunlinsol_dense.h>
#include <sunmatrix/sunmatrix_dense.h>

#include "ref_stepper.h"

typedef struct cvode_solver {
    SUNContext context;
    void *cvode;
    N_Vector y, scratch;
    SUNMatrix matrix;
    SUNLinearSolver linear;
} cvode_solver;

static int rates(realtype t, N_Vector y, N_Vector dy, void *user)
{
    (void)t;
    ref_stepper_rates(user, N_VGetArrayPointer(y), N_VGetArrayPointer(dy));
    return 0;
}

static int roots(realtype t, N_Vector y, realtype *g, void *user)
{
    const ref_stepper *st = user;
    (void)t;
    ref_roots(st->motion, N_VGetArrayPointer(y), g);
    return 0;
}

static void no_message(int code, const char *module, const char *function, char *text, void *user)
{
    (void)code;
    (void)module;
    (void)function;
    (void)text;
    (void)user;
}

static void close_solver(void *solver)
{
    cvode_solver *c = solver;
    if (c->cvode)
        CVodeFree(&c->cvode);
    if (c->linear)
        SUNLinSolFree(c->linear);
    if (c->matrix)
        SUNMatDestroy(c->matrix);
    if (c->scratch)
        N_VDestroy(c->scratch);
    if (c->y)
        N_VDestroy(c->y);
    if (c->context)
        SUNContext_Free(&c->context);
    free(c);
}

static bool make_parts(cvode_solver *c, int n)
{
    if (SUNContext_Create(NULL, &c->context) != 0)
        return false;
    c->y = N_VNew_Serial(n, c->context);
    if (!c->y)
        return false;
    c->scratch = N_VClone(c->y);
    c->matrix = SUNDenseMatrix(n, n, c->context);
    if (!c->scratch || !c->matrix)
        return false;
    c->linear = SUNLinSol_Dense(c->y, c->matrix, c->context);
    c->cvode = CVodeCreate(CV_ADAMS, c->context);
    return c->linear && c->cvode;
}

static bool wire(cvode_solver *c, ref_stepper *st)
{
    N_VConst(0.0, c->y);
    return CVodeSetErrHandlerFn(c->cvode, no_message, NULL) == CV_SUCCESS &&
           CVodeInit(c->cvode, rates, 0.0, c->y) == CV_SUCCESS &&
           CVodeSetUserData(c->cvode, st) == CV_SUCCESS &&
           CVodeSStolerances(c->cvode, st->rtol, st->atol) == CV_SUCCESS &&
           CVodeSetLinearSolver(c->cvode, c->linear, c->matrix) == CV_SUCCESS &&
           CVodeRootInit(c->cvode, REF_ROOTS, roots) == CV_SUCCESS &&
           CVodeSetNoInactiveRootWarn(c->cvode) == CV_SUCCESS;
}

static void *open_solver(ref_stepper *st)
{
    cvode_solver *c = calloc(1, sizeof *c);
    if (!c)
        return NULL;
    if (!make_parts(c, st->states) || !wire(c, st)) {
        close_solver(c);
        return NULL;
    }
    return c;
}

static bool begin(ref_stepper *st, double t, const double y[], double until)
{
    cvode_solver *c = st->solver;
    int direction[REF_ROOTS];
    memcpy(N_VGetArrayPointer(c->y), y, sizeof *y * (size_t)st->states);
    ref_root_directions(st->motion, direction);
    if (CVodeReInit(c->cvode, t, c->y) != CV_SUCCESS ||
        CVodeSetRootDirection(c->cvode, direction) != CV_SUCCESS)
        return false;
    return CVodeSetStopTime(c->cvode, until) == CV_SUCCESS;
}

static bool take_roots(ref_stepper *st, const cvode_solver *c)
{
    int info[REF_ROOTS];
    if (CVodeGetRootInfo(c->cvode, info) != CV_SUCCESS)
        return false;
    for (int i = 0; i < REF_ROOTS; i++)
        st->found[i] = info[i] != 0;
    return true;
}

static ref_step_end step(ref_stepper *st, double until)
{
    cvode_solver *c = st->solver;
    int status = CVode(c->cvode, until, c->y, &st->t, CV_ONE_STEP);
    if (status < 0)
        return REF_STEP_FAILED;
    memcpy(st->y, N_VGetArrayPointer(c->y), sizeof *st->y * (size_t)st->states);
    if (status == CV_ROOT_RETURN)
        return take_roots(st, c) ? REF_STEP_ROOT : REF_STEP_FAILED;
    return status == CV_TSTOP_RETURN ? REF_STEP_STOP : REF_STEP_GOES_ON;
}

static bool dense(ref_stepper *st, double t, double y[])
{
    cvode_solver *c = st->solver;
    if (CVodeGetDky(c->cvode, t, 0, c->scratch) != CV_SUCCESS)
        return false;
    memcpy(y, N_VGetArrayPointer(c->scratch), sizeof *y * (size_t)st->states);
    return true;
}

const ref_stepper_kind ref_stepper_cvode = {open_solver, close_solver, begin, step, dense};
