/* motor_equations.c - see motor_equations.h. */
#include "physics/motor_equations.h"

#include <math.h>

#define SPEED SLEW_MOTOR_U_SPEED
#define STALL SLEW_MOTOR_U_STALL
#define IDLE  SLEW_MOTOR_U_IDLE
#define GEAR  SLEW_MOTOR_U_GEAR
enum { UNKNOWNS = SLEW_MOTOR_US };

static const double STEP = 1e-6; /* of a difference quotient */

static bool is_output(slew_motor_figure figure)
{
    return figure >= SLEW_MOTOR_OUTPUT_NO_LOAD_SPEED;
}

double slew_motor_rated_speed(const slew_motor_data *d, bool output)
{
    return output ? d->figure[SLEW_MOTOR_OUTPUT_RATED_SPEED] * d->ratio
                  : d->figure[SLEW_MOTOR_RATED_SPEED];
}

static double rated_current(const slew_motor_data *d, bool output)
{
    return d->figure[output ? SLEW_MOTOR_OUTPUT_RATED_CURRENT : SLEW_MOTOR_RATED_CURRENT];
}

/* ---- the two lines over the speed ---- */

/* the rated point's share of the no-load speed: by its speed, or else by its current */
static double rated_share(const slew_motor_data *d, bool output, const double u[UNKNOWNS])
{
    double speed = slew_motor_rated_speed(d, output);
    return isnan(speed) ? (1 - rated_current(d, output) / exp(u[STALL])) / (1 - u[IDLE])
                        : speed / exp(u[SPEED]);
}

/* log of the torque at a share of the no-load speed: K Is (1 - (1 - v) y) (1 - share) */
static double log_torque(const slew_motor_data *d, bool output, double share, double viscous,
                         const double u[UNKNOWNS])
{
    double gear = output ? log(d->ratio) + u[GEAR] : 0;
    return log(d->voltage * (1 - u[IDLE])) - u[SPEED] + u[STALL] +
           log(1 - (1 - viscous) * u[IDLE]) + log(1 - share) + gear;
}

/* log of the current at the speed of the rated point */
static double log_current(const slew_motor_data *d, bool output, const double u[UNKNOWNS])
{
    double share = slew_motor_rated_speed(d, output) / exp(u[SPEED]);
    return u[STALL] + log(1 - (1 - u[IDLE]) * share);
}

/* ---- one equation for each figure ---- */

static double direct_residual(const slew_motor_data *d, slew_motor_figure figure,
                              const double u[UNKNOWNS])
{
    double given = d->figure[figure];
    switch (figure) {
    case SLEW_MOTOR_NO_LOAD_SPEED:
        return u[SPEED] - log(given);
    case SLEW_MOTOR_OUTPUT_NO_LOAD_SPEED:
        return u[SPEED] - log(given * d->ratio);
    case SLEW_MOTOR_STALL_CURRENT:
        return u[STALL] - log(given);
    case SLEW_MOTOR_RESISTANCE:
        return log(d->voltage / given) - u[STALL];
    case SLEW_MOTOR_NO_LOAD_CURRENT:
        return u[IDLE] - given / exp(u[STALL]);
    case SLEW_MOTOR_EFFICIENCY:
        return u[GEAR] - log(given);
    default: /* the speed of a rated point says something beside its torque or current alone */
        return NAN;
    }
}

double slew_motor_residual(const slew_motor_data *d, slew_motor_figure figure, double viscous,
                           const double u[UNKNOWNS])
{
    double given = log(d->figure[figure]);
    bool output = is_output(figure);
    switch (figure) {
    case SLEW_MOTOR_STALL_TORQUE:
    case SLEW_MOTOR_OUTPUT_STALL_TORQUE:
        return log_torque(d, output, 0, viscous, u) - given;
    case SLEW_MOTOR_RATED_TORQUE:
    case SLEW_MOTOR_OUTPUT_RATED_TORQUE:
        return log_torque(d, output, rated_share(d, output, u), viscous, u) - given;
    case SLEW_MOTOR_RATED_CURRENT:
    case SLEW_MOTOR_OUTPUT_RATED_CURRENT:
        return log_current(d, output, u) - given;
    default:
        return direct_residual(d, figure, u);
    }
}

void slew_motor_slope(const slew_motor_data *d, slew_motor_figure figure, const double u[UNKNOWNS],
                      double out[UNKNOWNS])
{
    for (int i = 0; i < UNKNOWNS; i++) {
        double moved[UNKNOWNS] = {u[0], u[1], u[2], u[3]};
        moved[i] = u[i] + STEP;
        out[i] = slew_motor_residual(d, figure, d->viscous_share, moved);
        moved[i] = u[i] - STEP;
        out[i] = (out[i] - slew_motor_residual(d, figure, d->viscous_share, moved)) / (2 * STEP);
    }
}

/* ---- a figure that is too much ---- */

/* of a rated point torque and current say something, with its speed or each other */
static bool says_something(const slew_motor_data *d, slew_motor_figure figure)
{
    bool output = is_output(figure), has_speed = !isnan(slew_motor_rated_speed(d, output));
    if (isnan(d->figure[figure]) || (output && isnan(d->ratio)))
        return false;
    switch (figure) {
    case SLEW_MOTOR_RATED_SPEED:
    case SLEW_MOTOR_OUTPUT_RATED_SPEED:
        return false;
    case SLEW_MOTOR_RATED_CURRENT:
    case SLEW_MOTOR_OUTPUT_RATED_CURRENT:
        return has_speed;
    case SLEW_MOTOR_RATED_TORQUE:
    case SLEW_MOTOR_OUTPUT_RATED_TORQUE:
        return has_speed || !isnan(rated_current(d, output));
    default:
        return true;
    }
}

double slew_motor_off_by(const slew_motor_data *d, slew_motor_figure figure,
                         const double u[UNKNOWNS])
{
    double a = slew_motor_residual(d, figure, 0, u), b = slew_motor_residual(d, figure, 1, u);
    double least = fmin(fabs(a), fabs(b));
    if (!says_something(d, figure))
        return 0;
    if (isnan(a + b))
        return INFINITY;
    return a * b <= 0 ? 0 : a > 0 ? least : -least;
}
