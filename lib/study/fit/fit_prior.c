/*
 * fit_prior.c - what is known of a figure before anything is read: the truck's spread, a stated
 * tolerance, or what is usual. M12.3
 */
#include "study/fit/fit_prior.h"
#include "study/fit/fit_factor.h"

#include "keys/keys.h"
#include "keys/quantity.h"
#include "keys/values.h"
#include "slewtime/study.h"

#include <string.h>

/* ---- what is usual ---- */

#define DEGREE (3.14159265358979323846 / 180)

/* Standard deviations of sheet figures over trucks, as a share of the value or in SI: common
 * practice. A joint is as good as new or has tens of mohm; an angle is read to a degree. */
static const struct {
    const char *ending;
    double share, sd;
} USUAL[] = {
    {".rated_voltage", 0.01, 0},
    {".no_load_speed", 0.1, 0},
    {".no_load_current", 0.2, 0},
    {".stall_current", 0.15, 0},
    {".gear.efficiency", 0.25, 0},
    {".viscous_share", 0, 0.15},
    {".gear.ratio", 0.05, 0},
    {".friction", 0.5, 0},
    {".seal_friction", 0.5, 0},
    {".inertia", 0.5, 0},
    {".mass", 0.2, 0},
    {".water_mass", 0.2, 0},
    {".centre_of_mass", 0.2, 0},
    {"joint_resistance", 0, 0.01},
    {"main.resistance", 1, 0},
    {"feed.length", 0.15, 0},
    {".voltage", 0.03, 0},
};

/* of all other keys: an angle, a temperature, a share of the value */
static const double ANGLE = DEGREE, TEMPERATURE = 5, SHARE = 0.3;

/* by which an instrument may show too much, as a standard deviation: a hand on a stopwatch, a
 * digital meter, a clamp for direct current, an angle gauge laid on the barrel; common practice */
static const double OFFSETS[] = {[-SLEW_FIT_BIAS] = 0.2,
                                 [-SLEW_FIT_VOLTAGE_OFFSET] = 0.05,
                                 [-SLEW_FIT_CURRENT_OFFSET] = 0.2,
                                 [-SLEW_FIT_ANGLE_OFFSET] = 0.3 * DEGREE,
                                 [-SLEW_FIT_SUPPLY_OFFSET] = 0.05};

/* a value below this share of the key's example is next to nothing */
static const double NEXT_TO_NOTHING = 0.1;

/* of the key's example, in SI; examples are written in units of the table */
static double size_of_example(const slew_key_row *row)
{
    slew_units none = {0};
    slew_error error;
    double value = 0;
    const slew_unit *unit = slew_unit_find(row->key.unit);
    if (slew_value_read(&none, row, row->key.example, &value, &error) && value != 0)
        return fabs(value);
    return unit != NULL ? fabs(slew_unit_to_si(unit, 1) - slew_unit_to_si(unit, 0)) : 1;
}

static bool ends_with(const char *path, const char *ending)
{
    size_t length = strlen(path), tail = strlen(ending);
    return length >= tail && strcmp(path + length - tail, ending) == 0;
}

static double usual_sd(const slew_key_row *row, double value)
{
    double example = size_of_example(row), share = SHARE;
    double size = fabs(value) > NEXT_TO_NOTHING * example ? fabs(value) : example;
    if (strcmp(row->key.quantity, "angle") == 0)
        return ANGLE;
    if (strcmp(row->key.quantity, "temperature") == 0)
        return TEMPERATURE;
    for (size_t i = 0; i < sizeof USUAL / sizeof *USUAL; i++)
        if (ends_with(row->key.path, USUAL[i].ending)) {
            if (USUAL[i].sd > 0)
                return USUAL[i].sd;
            share = USUAL[i].share;
        }
    return share * size;
}

/* ---- the truck's spread ---- */

/* by the quantiles in the middle of equal shares */
void slew_prior_moments(const slew_variation *v, double *mean, double *sd)
{
    enum { SHARES = 256 };
    double sum = 0, squares = 0;
    for (int i = 0; i < SHARES; i++)
        sum += slew_variation_quantile(v, (i + 0.5) / SHARES) / SHARES;
    for (int i = 0; i < SHARES; i++) {
        double off = slew_variation_quantile(v, (i + 0.5) / SHARES) - sum;
        squares += off * off / SHARES;
    }
    *mean = sum;
    *sd = sqrt(squares);
}

static const slew_variation *find(const slew_spread *spread, int key)
{
    for (int i = 0; i < spread->count; i++)
        if (spread->item[i].key == key)
            return &spread->item[i];
    return NULL;
}

void slew_prior_fill(const slew_scenario *scenario, double tolerance, slew_fit_figure *f)
{
    const slew_variation *own = f->key < 0 ? NULL : find(&scenario->truck, f->key);
    f->from = SLEW_PRIOR_USUAL;
    f->mean = f->start;
    if (tolerance > 0) {
        f->from = f->key < 0 ? SLEW_PRIOR_USUAL : SLEW_PRIOR_STATED;
        f->before = tolerance;
    } else if (f->key < 0) {
        f->before = OFFSETS[-f->key];
    } else {
        f->before = usual_sd(slew_key_row_at(f->key), f->start);
    }
    if (tolerance > 0 || own == NULL)
        return;
    f->from = SLEW_PRIOR_SPREAD;
    if (own->distribution == SLEW_NORMAL) {
        f->mean = own->mean;
        f->before = own->sd;
    } else
        slew_prior_moments(own, &f->mean, &f->before);
    if (!(f->before > 0)) /* a table of one value */
        f->before = 1e-6 * size_of_example(slew_key_row_at(f->key));
}

/* ---- what goes together ---- */

static double coefficient(const slew_correlations *all, const slew_fit_figure *a,
                          const slew_fit_figure *b)
{
    if (a->from != SLEW_PRIOR_SPREAD || b->from != SLEW_PRIOR_SPREAD)
        return 0;
    for (int i = 0; i < all->count; i++)
        if ((all->item[i].key[0] == a->key && all->item[i].key[1] == b->key) ||
            (all->item[i].key[0] == b->key && all->item[i].key[1] == a->key))
            return all->item[i].coefficient;
    return 0;
}

bool slew_prior_factor(const slew_scenario *scenario, const slew_fit *fit,
                       double factor[SLEW_PARAMETERS_MAX][SLEW_PARAMETERS_MAX])
{
    for (int i = 0; i < fit->figures; i++)
        for (int j = 0; j <= i; j++)
            factor[i][j] =
                i == j ? 1 : coefficient(&scenario->correlation, &fit->figure[i], &fit->figure[j]);
    return slew_lower_factor(&factor[0][0], fit->figures, SLEW_PARAMETERS_MAX, 0);
}
