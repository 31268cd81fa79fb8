/* weighted.c - see weighted.h. */
#include "study/sampling/weighted.h"

#include "study/sampling/exact.h"

void slew_weighted_add(slew_weighted *s, double weight, bool hit)
{
    s->whole += weight;
    s->whole_square += weight * weight;
    if (hit) {
        s->hits += weight;
        s->hits_square += weight * weight;
    }
}

/* So many independent samples would scatter as much: the variance of a quotient of sums. */
static double worth(double share, double square, double whole_square)
{
    double variance = square * (1 - 2 * share) + share * share * whole_square;
    return share * (1 - share) / variance;
}

/* of a share up to a half, weights in units of their sum */
static double lower(double share, double square, double whole_square, double each)
{
    if (!(share > 0))
        return 0;
    double n = worth(share, square, whole_square);
    return slew_exact_lower(share * n, n, each);
}

/* with one more hit, as heavy as it may be: that is what the exact bound does with equal ones */
static double upper(double share, double square, double whole_square, double next, double each)
{
    double more = share + next, n = worth(more, square + next * next, whole_square);
    return more < 1 && n > 0 ? slew_exact_upper(fmax(more * n - 1, 0), n, each) : 1;
}

slew_share slew_weighted_share(const slew_weighted *s, double each)
{
    if (!(s->whole > 0))
        return (slew_share){NAN, NAN, NAN};
    double share = fmin(s->hits / s->whole, 1), unit = s->whole * s->whole;
    double square = s->hits_square / unit, whole = s->whole_square / unit;
    double next = s->next / s->whole;
    if (share <= 0.5)
        return (slew_share){share, lower(share, square, whole, each),
                            upper(share, square, whole, next, each)};
    double missed = 1 - share,
           rest = fmax(whole - square, 0); /* the same of those that are not hit */
    return (slew_share){share, 1 - upper(missed, rest, whole, next, each),
                        1 - lower(missed, rest, whole, each)};
}
