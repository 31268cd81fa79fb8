/* fit_written.c - fitted figures, and which go together, as texts of a scenario file. */
#include "study/fit/fit_written.h"

#include "error/error.h"
#include "keys/text.h"
#include "keys/values.h"
#include "scenario/variation.h"

#include <stdio.h>

/* digits written: of a value, whose sd is rarely below 1e-4 of it, and of that sd */
enum { VALUE_DIGITS = 7, SD_DIGITS = 3 };

/* a smaller coefficient is none */
static const double NO_CORRELATION = 5e-4;

typedef struct writer {
    const slew_fit *fit;
    const slew_correlations *there;
    slew_written *out;
    slew_error *error;
} writer;

static bool refuse(const writer *w, const char *key, const char *message, const char *expected)
{
    slew_refuse(w->error, key, message, expected);
    return false;
}

/* ---- figures as texts ---- */

/* ", low: 0 N.m" where the normal would leave the key's range there */
static void write_end(const slew_key_row *row, const char *word, double bound, double *end,
                      char text[80])
{
    slew_units none = {0};
    slew_error error;
    char value[48];
    *text = '\0';
    if (!isfinite(bound))
        return;
    slew_value_print(row, bound, value, sizeof value);
    slew_value_read(&none, row, value, end, &error);
    snprintf(text, 80, ", %s: %s", word, value);
}

/* what a normal without ends leaves of the key's range is cut off there, small tails silently */
static void write_spread(slew_written_figure *out, const slew_key_row *row, double mean, double sd)
{
    char text[48], low[80] = "", high[80] = "";
    slew_units none = {0};
    slew_error error;
    slew_variation *v = &out->variation;
    slew_difference_print(row, sd, SD_DIGITS, text, sizeof text);
    *v = (slew_variation){.key = out->key,
                          .distribution = SLEW_NORMAL,
                          .low = -INFINITY,
                          .high = INFINITY,
                          .mean = mean,
                          .sd = sd};
    slew_difference_read(&none, row, text, &v->sd, &error);
    bool cut =
        slew_variation_outside(v, (slew_range){row->key.low, row->key.high}) > SLEW_TAIL_SHARE;
    v->low = row->key.low;
    v->high = row->key.high;
    if (cut) {
        write_end(row, "low", row->key.low, &v->low, low);
        write_end(row, "high", row->key.high, &v->high, high);
    }
    snprintf(out->spread, sizeof out->spread, "{normal: {mean: %s, sd: %s%s%s}}", out->value, text,
             low, high);
}

static void write_figures(writer *w)
{
    for (int j = 0; j < w->fit->figures; j++) {
        const slew_fit_figure *f = &w->fit->figure[j];
        slew_written_figure *out = &w->out->figure[w->out->figures];
        if (f->key < 0)
            continue;
        *out = (slew_written_figure){.key = f->key};
        slew_value_print_digits(slew_key_row_at(f->key), f->value, VALUE_DIGITS, out->value,
                                sizeof out->value);
        write_spread(out, slew_key_row_at(f->key), f->value, f->sd);
        w->out->figures++;
    }
}

/* ---- figures that go together ---- */

static bool same_pair(const slew_correlation *c, int a, int b)
{
    return (c->key[0] == a && c->key[1] == b) || (c->key[0] == b && c->key[1] == a);
}

static int place_of_pair(const slew_correlations *all, int a, int b)
{
    int i = 0;
    while (i < all->count && !same_pair(&all->item[i], a, b))
        i++;
    return i;
}

/* rounded, a coefficient stays within its range */
static double coefficient_of(double correlation, char text[16])
{
    slew_text_of_double(text, 16, 5, fmax(fmin(correlation, 0.99999), -0.99999));
    return slew_text_to_double(text, NULL);
}

static bool add_pair(writer *w, int a, int b, double correlation)
{
    const slew_correlations *all = w->there;
    char number[16];
    if (w->out->pairs == SLEW_CORRELATIONS_MAX)
        return refuse(w, "spread.correlation", "has no room for all pairs of these keys",
                      "a fit of fewer keys");
    slew_written_pair *p = &w->out->pair[w->out->pairs++];
    *p = (slew_written_pair){.correlation = {{a, b}, coefficient_of(correlation, number)}};
    p->place = place_of_pair(all, a, b);
    p->there = p->place < all->count;
    if (p->there) {
        snprintf(p->group, sizeof p->group, "spread.correlation.%d", p->place);
        snprintf(p->text, sizeof p->text, "%s", number);
    } else
        snprintf(p->text, sizeof p->text, "{between: [%s, %s], coefficient: %s}",
                 slew_key_at(a)->path, slew_key_at(b)->path, number);
    return true;
}

/* a pair that does not go together is told only if the file says that it does */
static bool write_pairs(writer *w)
{
    const slew_fit *fit = w->fit;
    for (int i = 0; i < fit->figures; i++)
        for (int j = 0; j < i; j++) {
            int a = fit->figure[j].key, b = fit->figure[i].key;
            double c = fit->correlation[i][j];
            if (a < 0 || b < 0)
                continue;
            const slew_correlations *all = w->there;
            bool told = fabs(c) >= NO_CORRELATION || place_of_pair(all, a, b) < all->count;
            if (told && !add_pair(w, a, b, c))
                return false;
        }
    return true;
}

slew_status slew_written_fill(const slew_fit *fit, const slew_correlations *there,
                              slew_written *out, slew_error *error)
{
    writer w = {fit, there, out, error};
    out->figures = out->pairs = 0;
    write_figures(&w);
    return write_pairs(&w) ? SLEW_OK : SLEW_ERROR_INPUT;
}
