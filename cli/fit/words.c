/* words.c - figures, rows and findings of `slewtime fit` in words. */
#include "answer.h"

#include <ctype.h>
#include <string.h>

#include "single/outcome_sentence.h"
#include "slewtime/slewtime.h"
#include "tell/append.h"
#include "tell/key_words.h"
#include "tell/units.h"

/* ---- figures ---- */

/* of a unit with a zero point of its own nothing comes back as nothing: 0 degC, not 6e-14 degC */
double cli_fit_in_unit(int key, double value)
{
    const slew_vary vary = {.key = key};
    if (key < 0)
        return value;
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
    static const char *const units[] = {[-SLEW_FIT_BIAS] = "s",
                                        [-SLEW_FIT_VOLTAGE_OFFSET] = "V",
                                        [-SLEW_FIT_CURRENT_OFFSET] = "A",
                                        [-SLEW_FIT_SUPPLY_OFFSET] = "V",
                                        [-SLEW_FIT_TEMPERATURE_OFFSET] = "K"};
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

/* ---- figures as they are asked for ---- */

/* of a temperature its differences */
static cli_measure measure_of(int key, bool is_difference)
{
    cli_measure measure = cli_measure_of(cli_fit_unit(key));
    return measure == CLI_MEASURE_TEMPERATURE && is_difference ? CLI_MEASURE_TEMPERATURE_STEP
                                                               : measure;
}

double cli_fit_shown(int key, slew_unit_system units, bool is_difference, double value)
{
    cli_measure measure = measure_of(key, is_difference);
    if (measure < CLI_MEASURES)
        return cli_measured(units, measure, value);
    return is_difference ? cli_fit_difference(key, value) : cli_fit_in_unit(key, value);
}

const char *cli_fit_sign(int key, slew_unit_system units)
{
    cli_measure measure = measure_of(key, false);
    const char *unit = cli_fit_unit(key);
    return measure < CLI_MEASURES     ? cli_measure_unit(units, measure)
           : strcmp(unit, "deg") == 0 ? "\u00B0"
                                      : unit;
}

/* ---- rows ---- */

static void add_place(char *text, int axis, const slew_place *place, const char *home)
{
    if (place->kind < SLEW_PLACE_LOW_STOP)
        cli_append(text, CLI_FIT_WORDS_MAX, "%.4g°", cli_degrees(place->angle));
    else if (place->kind == SLEW_PLACE_STOW_POINT)
        cli_append(text, CLI_FIT_WORDS_MAX, "stow point, as stored");
    else if (place->kind == SLEW_PLACE_HOME)
        cli_append(text, CLI_FIT_WORDS_MAX, "%s", home);
    else
        cli_append(text, CLI_FIT_WORDS_MAX, "%s",
                   cli_stop_in_words(axis, place->kind == SLEW_PLACE_LOW_STOP ? -1 : 1));
}

static void add_course(char *text, const slew_timing *row)
{
    bool travels = row->to.kind != SLEW_PLACE_NONE;
    if (row->direction == 0) {
        cli_append(text, CLI_FIT_WORDS_MAX, "motors off");
        return;
    }
    cli_append(text, CLI_FIT_WORDS_MAX, "%s %s, %s", slew_axis_word(row->axis),
               slew_direction_word(row->axis, row->direction), travels ? "" : "held on the ");
    add_place(text, row->axis, &row->from, "home");
    if (travels) {
        cli_append(text, CLI_FIT_WORDS_MAX, " to ");
        add_place(text, row->axis, &row->to, "home sensor");
    }
}

static void add_measure(char *text, slew_unit_system units, cli_measure measure, double si)
{
    cli_append(text, CLI_FIT_WORDS_MAX, "%.3g %s", cli_measured(units, measure, si),
               cli_measure_unit(units, measure));
}

void cli_fit_row_words(const slew_timing *row, slew_unit_system units, char text[CLI_FIT_WORDS_MAX])
{
    text[0] = '\0';
    add_course(text, row);
    if (!isnan(row->supply))
        cli_append(text, CLI_FIT_WORDS_MAX, ", %.4g V", row->supply);
    if (row->pressure >= 0)
        cli_append(text, CLI_FIT_WORDS_MAX, row->pressure > 0 ? ", " : ", dry");
    if (row->pressure > 0)
        add_measure(text, units, CLI_MEASURE_PRESSURE, row->pressure);
    if (!isnan(row->temperature)) {
        cli_append(text, CLI_FIT_WORDS_MAX, ", ");
        add_measure(text, units, CLI_MEASURE_TEMPERATURE, row->temperature);
    }
    if (row->winding_rise > 0) {
        cli_append(text, CLI_FIT_WORDS_MAX, ", motor ");
        add_measure(text, units, CLI_MEASURE_TEMPERATURE_STEP, row->winding_rise);
        cli_append(text, CLI_FIT_WORDS_MAX, " warmer");
    }
}

/* ---- figures by name ---- */

void cli_fit_name_words(int key, char words[CLI_KEY_WORDS_MAX])
{
    if (key < 0)
        snprintf(words, CLI_KEY_WORDS_MAX, "%s", slew_fit_name(key));
    else
        cli_key_words(key, words);
}

/* the same where a sentence begins */
static void begin_with_name(int key, char words[CLI_KEY_WORDS_MAX])
{
    cli_fit_name_words(key, words);
    words[0] = (char)toupper((unsigned char)words[0]);
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
    for (int i = 0; i < g.figures; i++) {
        char name[CLI_KEY_WORDS_MAX];
        (i == 0 ? begin_with_name : cli_fit_name_words)(fit->figure[g.who[i]].key, name);
        cli_append(text, CLI_FIT_WORDS_MAX, "%s%s",
                   i == 0               ? ""
                   : i == g.figures - 1 ? " and "
                                        : ", ",
                   name);
    }
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

/* "...; elevation gear efficiency explains most of it, at about 12 %" */
static void misfit(const slew_fit *fit, slew_unit_system units, char text[CLI_FIT_WORDS_MAX])
{
    const slew_fit_culprit *c = &fit->culprit;
    char name[CLI_KEY_WORDS_MAX];
    snprintf(text, CLI_FIT_WORDS_MAX,
             "Readings and model do not go together: by chance in less than %.2g %%",
             fmax(100 * fit->chance, 0.01));
    if (!c->any) {
        cli_append(text, CLI_FIT_WORDS_MAX,
                   "; no single value explains it, so look at the readings");
        return;
    }
    cli_fit_name_words(c->key, name);
    cli_append(text, CLI_FIT_WORDS_MAX, "; %s explains most of it, at about %.3g%s%s", name,
               cli_fit_shown(c->key, units, false, c->value),
               *cli_fit_sign(c->key, units) ? " " : "", cli_fit_sign(c->key, units));
}

/* the least certain of them, and to what it is known */
static void told(const slew_fit *fit, slew_unit_system units, char text[CLI_FIT_WORDS_MAX])
{
    const slew_fit_figure *f = &fit->figure[least_told(fit)];
    double sd = cli_fit_shown(f->key, units, true, f->sd);
    const char *unit = cli_fit_sign(f->key, units);
    int asked = count_asked(fit);
    char name[CLI_KEY_WORDS_MAX];
    if (strcmp(unit, "%") == 0)
        unit = "points"; /* 32 % known to 0.4 points, not to 0.4 % of it */
    (asked == 1 ? begin_with_name : cli_fit_name_words)(f->key, name);
    if (asked == 1)
        snprintf(text, CLI_FIT_WORDS_MAX, "%s is known to %.*f%s%s", name, cli_fit_decimals(sd), sd,
                 *unit ? " " : "", unit);
    else
        snprintf(text, CLI_FIT_WORDS_MAX,
                 "All %d values determined; least certain: %s, to %.*f%s%s", asked, name,
                 cli_fit_decimals(sd), sd, *unit ? " " : "", unit);
}

/* a figure at an end of its range */
static void held_back(const slew_fit_figure *f, char text[CLI_FIT_WORDS_MAX])
{
    char name[CLI_KEY_WORDS_MAX];
    begin_with_name(f->key, name);
    snprintf(text, CLI_FIT_WORDS_MAX,
             "%s is at the %s end of its range: the readings want it beyond", name,
             f->edge > 0 ? "high" : "low");
}

void cli_fit_finding(const cli_fit *a, char text[CLI_FIT_WORDS_MAX])
{
    const slew_fit *fit = &a->fit;
    slew_unit_system units = a->scenario->units;
    int held = held_figure(fit);
    if (fit->chance < SLEW_FIT_CHANCE)
        misfit(fit, units, text);
    else if (held >= 0)
        held_back(&fit->figure[held], text);
    else if (fit->blurs > 0)
        cli_fit_blur_words(fit, 0, text);
    else
        told(fit, units, text);
}
