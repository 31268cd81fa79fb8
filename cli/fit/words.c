/* words.c - figures, rows and findings of `slewtime fit` in words. */
#include "answer.h"

#include <string.h>

#include "slewtime/slewtime.h"
#include "tell/append.h"
#include "tell/units.h"

/* ---- figures ---- */

/* of a unit with a zero point of its own nothing comes back as nothing: 0 degC, not 6e-14 degC */
double cli_fit_in_unit(int key, double value)
{
    const slew_vary vary = {.key = key};
    if (key < 0)
        return key == SLEW_FIT_ANGLE_OFFSET ? cli_degrees(value) : value;
    double in_unit = slew_vary_in_unit(&vary, value);
    double grain = 1e-12 * fabs(slew_vary_in_unit(&vary, 0));
    return fabs(in_unit) <= grain ? 0 : in_unit;
}

double cli_fit_difference(int key, double difference)
{
    return cli_fit_in_unit(key, difference) - cli_fit_in_unit(key, 0);
}

const char *cli_fit_unit(int key)
{
    static const char *const units[] = {
        [-SLEW_FIT_BIAS] = "s",           [-SLEW_FIT_VOLTAGE_OFFSET] = "V",
        [-SLEW_FIT_CURRENT_OFFSET] = "A", [-SLEW_FIT_ANGLE_OFFSET] = "deg",
        [-SLEW_FIT_SUPPLY_OFFSET] = "V",  [-SLEW_FIT_TEMPERATURE_OFFSET] = "K"};
    return key < 0 ? units[-key] : slew_key_at(key)->unit;
}

const char *cli_fit_difference_unit(int key)
{
    const char *unit = cli_fit_unit(key);
    return strcmp(unit, "degC") == 0 ? "K" : unit;
}

int cli_fit_decimals(double sd)
{
    if (!isfinite(sd) || !(sd > 0))
        return 3;
    int decimals = 1 - (int)floor(log10(sd));
    return decimals < 0 ? 0 : decimals > 9 ? 9 : decimals;
}

/* ---- readings ---- */

double cli_fit_in_reading(slew_measure measure, double si)
{
    return measure == SLEW_MEASURE_ANGLE ? cli_degrees(si) : si;
}

const char *cli_fit_reading_unit(slew_measure measure)
{
    return measure == SLEW_MEASURE_ANGLE ? "deg" : slew_measure_unit(measure);
}

/* ---- rows ---- */

static void add_place(char *text, const slew_place *place, const char *home)
{
    const char *const words[] = {[SLEW_PLACE_LOW_STOP] = "low stop",
                                 [SLEW_PLACE_HIGH_STOP] = "high stop",
                                 [SLEW_PLACE_STOW_POINT] = "stow point",
                                 [SLEW_PLACE_DEPLOYED] = "deployed",
                                 [SLEW_PLACE_HOME] = home};
    if (place->kind < SLEW_PLACE_LOW_STOP)
        cli_append(text, CLI_FIT_WORDS_MAX, "%.4g deg", cli_degrees(place->angle));
    else
        cli_append(text, CLI_FIT_WORDS_MAX, "%s", words[place->kind]);
}

static void add_course(char *text, const slew_timing *row)
{
    bool travels = row->to.kind != SLEW_PLACE_NONE;
    if (row->direction == 0) {
        cli_append(text, CLI_FIT_WORDS_MAX, "drives off");
        return;
    }
    if (row->to.kind == SLEW_PLACE_DEPLOYED) {
        cli_append(text, CLI_FIT_WORDS_MAX, "%s %s, deployed for %.4g s", slew_axis_word(row->axis),
                   slew_direction_word(row->axis, row->direction),
                   row->measured[SLEW_MEASURE_SECONDS].value);
        return;
    }
    cli_append(text, CLI_FIT_WORDS_MAX, "%s %s, %s", slew_axis_word(row->axis),
               slew_direction_word(row->axis, row->direction), travels ? "" : "pressed on the ");
    add_place(text, &row->from, "home");
    if (travels) {
        cli_append(text, CLI_FIT_WORDS_MAX, " to ");
        add_place(text, &row->to, "home sensor");
        if (row->to.kind == SLEW_PLACE_STOW_POINT)
            cli_append(text, CLI_FIT_WORDS_MAX, ", as stored");
    }
}

void cli_fit_row_words(const slew_timing *row, char text[CLI_FIT_WORDS_MAX])
{
    text[0] = '\0';
    add_course(text, row);
    if (!isnan(row->supply))
        cli_append(text, CLI_FIT_WORDS_MAX, ", %.4g V", row->supply);
    if (row->pressure > 0)
        cli_append(text, CLI_FIT_WORDS_MAX, ", %.3g bar", row->pressure / 1e5);
    else if (row->pressure == 0)
        cli_append(text, CLI_FIT_WORDS_MAX, ", dry");
    if (!isnan(row->temperature))
        cli_append(text, CLI_FIT_WORDS_MAX, ", %.3g degC", cli_celsius(row->temperature) + 0.0);
    if (row->winding_rise > 0)
        cli_append(text, CLI_FIT_WORDS_MAX, ", motor %.3g K warmer", row->winding_rise);
}

/* ---- what can't be told apart ---- */

/* Blurs that share figures belong together. */
typedef struct group {
    int blurs, first; /* how many, and the first of them */
    int figures, who[SLEW_PARAMETERS_MAX];
} group;

static bool has_part(const slew_fit_blur *blur, const bool *in, int figures)
{
    for (int j = 0; j < figures; j++)
        if (in[j] && blur->share[j] != 0)
            return true;
    return false;
}

/* all figures that hang together with those of a blur */
static void gather(const slew_fit *fit, int blur, bool *in)
{
    for (int j = 0; j < fit->figures; j++)
        in[j] = fit->blur[blur].share[j] != 0;
    for (int round = 0; round < fit->blurs; round++)
        for (int i = 0; i < fit->blurs; i++)
            for (int j = 0; has_part(&fit->blur[i], in, fit->figures) && j < fit->figures; j++)
                in[j] |= fit->blur[i].share[j] != 0;
}

static group group_of(const slew_fit *fit, int blur)
{
    bool in[SLEW_PARAMETERS_MAX] = {false};
    group g = {.first = fit->blurs};
    gather(fit, blur, in);
    for (int i = fit->blurs - 1; i >= 0; i--)
        if (has_part(&fit->blur[i], in, fit->figures)) {
            g.blurs++;
            g.first = i;
        }
    for (int j = 0; j < fit->figures; j++)
        if (in[j])
            g.who[g.figures++] = j;
    return g;
}

/* a share of what was known of a figure as a share of its value */
static double relative(const slew_fit *fit, int figure, const double *share)
{
    const slew_fit_figure *f = &fit->figure[figure];
    return share[figure] * f->before / fabs(f->start);
}

static const char *how_two_count(const slew_fit *fit, const int *who, const double *share)
{
    double a = relative(fit, who[0], share), b = relative(fit, who[1], share);
    double ratio = fabs(a / b);
    bool alike = ratio > 0.9 && ratio < 1 / 0.9;
    if (!alike)
        return "only a combination of them counts";
    return a * b > 0 ? "only their quotient counts" : "only their product counts";
}

static const char *how_they_count(const group *g)
{
    if (g->blurs >= g->figures)
        return g->figures == 1 ? ": these readings say little about it"
                               : ": these readings say little about them";
    return g->figures > 2 ? " can't be told apart: only combinations of them count"
                          : " can't be told apart: ";
}

bool cli_fit_blur_words(const slew_fit *fit, int blur, char text[CLI_FIT_WORDS_MAX])
{
    const group g = group_of(fit, blur);
    text[0] = '\0';
    for (int i = 0; i < g.figures; i++)
        cli_append(text, CLI_FIT_WORDS_MAX, "%s%s",
                   i == 0               ? ""
                   : i == g.figures - 1 ? " and "
                                        : ", ",
                   slew_fit_name(fit->figure[g.who[i]].key));
    cli_append(text, CLI_FIT_WORDS_MAX, "%s", how_they_count(&g));
    if (g.figures == 2 && g.blurs == 1)
        cli_append(text, CLI_FIT_WORDS_MAX, "%s", how_two_count(fit, g.who, fit->blur[blur].share));
    return g.first == blur;
}

/* ---- the finding ---- */

static int held_figure(const slew_fit *fit)
{
    for (int j = 0; j < fit->figures; j++)
        if (fit->figure[j].asked && fit->figure[j].edge != 0)
            return j;
    return -1;
}

/* of those asked for */
static int least_told(const slew_fit *fit)
{
    int least = 0;
    for (int j = 1; j < fit->figures; j++)
        if (fit->figure[j].asked && fit->figure[j].told < fit->figure[least].told)
            least = j;
    return least;
}

static int count_asked(const slew_fit *fit)
{
    int count = 0;
    for (int j = 0; j < fit->figures; j++)
        count += fit->figure[j].asked;
    return count;
}

/* "elevation.gear.efficiency 12 %, known before to 9 points" */
static void misfit(const slew_fit *fit, char text[CLI_FIT_WORDS_MAX])
{
    const slew_fit_culprit *c = &fit->culprit;
    snprintf(text, CLI_FIT_WORDS_MAX,
             "Readings and model do not go together: by chance in less than %.2g %%",
             fmax(100 * fit->chance, 0.01));
    if (!c->any) {
        cli_append(text, CLI_FIT_WORDS_MAX, "; no single key explains it, so look at the readings");
        return;
    }
    cli_append(text, CLI_FIT_WORDS_MAX, "; %s explains most of it, at about %.3g%s%s",
               slew_fit_name(c->key), cli_fit_in_unit(c->key, c->value),
               *cli_fit_unit(c->key) ? " " : "", cli_fit_unit(c->key));
}

/* the least told of them, and to what it is known */
static void told(const slew_fit *fit, char text[CLI_FIT_WORDS_MAX])
{
    const slew_fit_figure *f = &fit->figure[least_told(fit)];
    double sd = cli_fit_difference(f->key, f->sd);
    const char *unit = cli_fit_difference_unit(f->key);
    int asked = count_asked(fit);
    if (strcmp(unit, "%") == 0)
        unit = "points"; /* 32 % known to 0.4 points, not to 0.4 % of it */
    if (asked == 1)
        snprintf(text, CLI_FIT_WORDS_MAX, "%s is known to %.*f%s%s", slew_fit_name(f->key),
                 cli_fit_decimals(sd), sd, *unit ? " " : "", unit);
    else
        snprintf(text, CLI_FIT_WORDS_MAX,
                 "The %d figures are told; the least told, %s, to %.*f%s%s", asked,
                 slew_fit_name(f->key), cli_fit_decimals(sd), sd, *unit ? " " : "", unit);
}

void cli_fit_finding(const cli_fit *a, char text[CLI_FIT_WORDS_MAX])
{
    const slew_fit *fit = &a->fit;
    int held = held_figure(fit);
    if (fit->chance < SLEW_FIT_CHANCE)
        misfit(fit, text);
    else if (held >= 0)
        snprintf(text, CLI_FIT_WORDS_MAX,
                 "%s is at the %s end of its range: the readings want it beyond",
                 slew_fit_name(fit->figure[held].key), fit->figure[held].edge > 0 ? "high" : "low");
    else if (fit->blurs > 0)
        cli_fit_blur_words(fit, 0, text);
    else
        told(fit, text);
}
