/* text.c - the answer of `slewtime fit` as text. */
#include "answer.h"

#include <string.h>

#include "slewtime/slewtime.h"
#include "tell/caution.h"
#include "tell/provenance.h"
#include "tell/table.h"
#include "tell/units.h"

/* a reading further off than this is marked [sd] */
static const double FAR_OFF = 3;

/* ---- what was asked ---- */

static void print_question(const cli_fit *a)
{
    static const char *const many[] = {"times", "voltages", "currents", "angles"};
    int count[SLEW_MEASURE_COUNT] = {0};
    char origin[CLI_PROVENANCE_MAX];
    for (int i = 0; i < a->fit.readings; i++)
        count[a->fit.reading[i].measure]++;
    cli_provenance_words(a->scenario, NULL, 0, origin);
    printf("%s\n  readings    %s: %d rows", a->scenario->title, a->path, a->timings.count);
    for (int m = 0; m < SLEW_MEASURE_COUNT; m++)
        if (count[m] > 0)
            printf(", %d %s", count[m], many[m]);
    printf("\n  fitted      %s\n  asked       %s\n",
           a->question.robust ? "readings with what was known before; robust (Huber's, then the "
                                "bisquare weights)"
                              : "readings with what was known before",
           origin);
    if (a->written != NULL)
        printf("  written     %s\n", a->written);
}

/* ---- figures ---- */

static void with_unit(char *text, size_t size, int key, double value, int decimals)
{
    const char *unit = cli_fit_unit(key);
    snprintf(text, size, "%.*f%s%s", decimals, cli_fit_in_unit(key, value), *unit ? " " : "", unit);
}

/* "assumed", or how much of it the readings have told */
static void told_words(const slew_fit_figure *f, char text[32])
{
    if (f->told < SLEW_FIT_ASSUMED)
        snprintf(text, 32, "assumed");
    else
        snprintf(text, 32, "%.0f %%", fmin(100 * f->told, f->told < 0.9995 ? 99.0 : 100.0));
}

static void print_figure(cli_table *t, int number, const slew_fit_figure *f)
{
    char start[64], value[64], sd[64], interval[96], told[32];
    double size = cli_fit_difference(f->key, f->sd);
    int decimals = cli_fit_decimals(size);
    const char *unit = cli_fit_difference_unit(f->key);
    with_unit(value, sizeof value, f->key, f->value, decimals);
    snprintf(start, sizeof start, "%.6g %s", cli_fit_in_unit(f->key, f->start),
             cli_fit_unit(f->key));
    snprintf(sd, sizeof sd, "%.*f%s%s", decimals, size, *unit ? " " : "", unit);
    snprintf(interval, sizeof interval, "%.*f to %.*f", decimals, cli_fit_in_unit(f->key, f->low),
             decimals, cli_fit_in_unit(f->key, f->high));
    told_words(f, told);
    cli_table_cell(t, NULL, "%2d  %-34s", number, slew_fit_name(f->key));
    cli_table_cell(t, "scenario", " %16s", start);
    cli_table_cell(t, "fitted", " %16s", value);
    cli_table_cell(t, "standard error", " %14s", sd);
    cli_table_cell(t, "told", " %8s", told);
    cli_table_text(t, "  95 % interval", "  %s", interval);
    cli_table_end_row(t);
}

static void print_figures(const slew_fit *fit)
{
    cli_table table = {.heads = 1};
    printf("\n");
    for (int j = 0; j < fit->figures; j++) {
        if (j > 0 && fit->figure[j - 1].asked && !fit->figure[j].asked)
            printf("    with them, not asked for:\n");
        print_figure(&table, j + 1, &fit->figure[j]);
    }
}

static void add_correlation(cli_table *t, const slew_fit *fit, int row, int column)
{
    char head[16];
    double correlation = fit->correlation[row][column];
    snprintf(head, sizeof head, "%d", column + 1);
    if (column >= row || isnan(correlation))
        cli_table_cell(t, head, "%7s", column < row ? "-" : "");
    else
        cli_table_cell(t, head, "%7.2f", correlation + 0.0);
}

/* below the diagonal; the first row is as wide as the last, for the heads */
static void print_correlations(const slew_fit *fit)
{
    cli_table table = {.heads = 1};
    if (fit->figures >= 2)
        printf("\nCorrelation\n");
    for (int i = 1; i < fit->figures; i++) {
        cli_table_cell(&table, NULL, "%4d", i + 1);
        for (int j = 0; j < fit->figures - 1; j++)
            add_correlation(&table, fit, i, j);
        cli_table_end_row(&table);
    }
}

/* ---- readings ---- */

/* a number of one decimal, without a minus before nothing */
static double one_decimal(double value)
{
    return fabs(value) < 0.05 ? 0 : value;
}

static void add_measured(cli_table *t, const slew_fit_reading *r)
{
    slew_measure m = r->measure;
    const char *unit = cli_fit_reading_unit(m);
    cli_table_cell(t, "measured", " %7.2f %s", cli_fit_in_reading(m, r->measured), unit);
    cli_table_cell(t, "simulated", " %7.2f %s", cli_fit_in_reading(m, r->simulated), unit);
    cli_table_cell(t, "sd", " %7.3g %s", cli_fit_in_reading(m, r->total), unit);
    cli_table_cell(t, "off/sd", " %6.1f", one_decimal(r->off));
}

/* the words of a row stand beside the first of its readings */
static void print_reading(cli_table *t, const cli_fit *a, int index)
{
    char words[CLI_FIT_WORDS_MAX] = "", line[16] = "";
    const slew_fit_reading *r = &a->fit.reading[index];
    const slew_timing *row = &a->timings.row[r->row];
    if (index == 0 || a->fit.reading[index - 1].row != r->row) {
        cli_fit_row_words(row, words);
        snprintf(line, sizeof line, "%d", row->line);
    }
    cli_table_cell(t, "line", "%4s", line);
    cli_table_cell(t, NULL, "  %-56s", words);
    add_measured(t, r);
    if (a->question.robust)
        cli_table_cell(t, "weight", " %6.2f", r->weight);
    if (fabs(r->off) > FAR_OFF)
        cli_table_cell(t, NULL, "  far off");
    cli_table_end_row(t);
}

static void print_readings(const cli_fit *a)
{
    cli_table table = {.heads = 1};
    printf("\n");
    for (int i = 0; i < a->fit.readings; i++)
        print_reading(&table, a, i);
}

static int count_far_off(const slew_fit *fit)
{
    int count = 0;
    for (int i = 0; i < fit->readings; i++)
        count += fabs(fit->reading[i].off) > FAR_OFF;
    return count;
}

/* ---- how good it is ---- */

static void print_scatter(const cli_fit *a)
{
    static const char *const words[SLEW_INSTRUMENTS] = {"stopwatch", "voltmeter", "clamp",
                                                        "angle gauge", "stored times"};
    const slew_fit *fit = &a->fit;
    const char *comma = "";
    printf("Scatter over the standard deviations taken:");
    for (int m = 0; m < SLEW_INSTRUMENTS; m++)
        if (fit->instrument[m].readings > 0) {
            printf("%s %s %.2f", comma, words[m], fit->instrument[m].scatter);
            comma = ",";
        }
    printf(".\n");
    if (!a->question.robust)
        printf("Chi-square %.1f of %.0f readings and what was known before (more by chance in "
               "%s%.*f %%).\n",
               fit->chi_square, fit->freedom, fit->chance < 1e-4 ? "less than " : "",
               fit->chance < 0.01 ? 2 : 0, 100 * fmax(fit->chance, 1e-4));
    if (count_far_off(fit) > 0 && !a->question.robust)
        printf("Readings more than %.0f sd off: look at them, or let them count less with "
               "--robust.\n",
               FAR_OFF);
}

static void print_errors(const slew_fit *fit)
{
    bool angles = fit->instrument[SLEW_MEASURE_ANGLE].readings > 0;
    if (!fit->sds_given)
        printf("No standard deviations are given: %.2g s, %.2g V, %.2g A%s are taken, and %.2g V "
               "of supply_V.\n",
               slew_measure_sd(SLEW_MEASURE_SECONDS), slew_measure_sd(SLEW_MEASURE_VOLTAGE),
               slew_measure_sd(SLEW_MEASURE_CURRENT), angles ? ", 0.5 deg" : "",
               slew_input_sd(SLEW_INPUT_SUPPLY));
    printf("Told: how much of what was not known before the readings have told. An assumed value "
           "is what\nthe truck's spread, or what is usual, says.\n");
}

/* but for the one that is the finding */
static void print_blurs(const slew_fit *fit, const char *finding)
{
    char words[CLI_FIT_WORDS_MAX];
    for (int i = 0; i < fit->blurs; i++)
        if (cli_fit_blur_words(fit, i, words) && strcmp(words, finding) != 0)
            printf("Not told: %s.\n", words);
}

static void print_next(const slew_fit *fit)
{
    const slew_fit_next *next = &fit->next;
    char words[CLI_FIT_WORDS_MAX];
    const char *least = slew_fit_name(fit->figure[next->least].key);
    if (!next->any) {
        printf("Next: no other kind of reading of this visit would tell %s much better.\n", least);
        return;
    }
    cli_fit_row_words(&next->row, words);
    printf("Next: %s of %s (%.4g %s simulated)\n", slew_measure_word(next->measure), words,
           cli_fit_in_reading(next->measure, next->simulated), cli_fit_reading_unit(next->measure));
    printf("      would tell most: of what was not known of %s %.0f %% is left, then %.0f %%\n",
           least, 100 * next->before, 100 * next->after);
    printf("      (%s).\n", slew_fit_name(fit->figure[next->least_after].key));
}

/* how far off what the seconds are chosen by may be */
static void print_aim(const slew_fit_aim *a, int axis)
{
    char words[CLI_FIT_WORDS_MAX];
    if (!a->any)
        return;
    printf("Deploy: %s would rest at %.1f deg today, known to %.2g deg", slew_axis_word(axis),
           cli_degrees(a->angle), cli_degrees(a->sd));
    if (a->better) {
        cli_fit_row_words(&a->row, words);
        printf(";\n      to %.2g deg with one more %s of %s", cli_degrees(a->after),
               slew_measure_word(a->measure), words);
    }
    printf(".\n");
}

static bool drives_to_a_stop(const slew_timing *row)
{
    bool is_pressed = row->to.kind == SLEW_PLACE_NONE && row->direction != 0;
    return is_pressed || row->to.kind == SLEW_PLACE_LOW_STOP ||
           row->to.kind == SLEW_PLACE_HIGH_STOP;
}

const char *cli_fit_dangers(const cli_fit *a)
{
    bool to_stop = a->fit.next.any && drives_to_a_stop(&a->fit.next.row);
    for (int j = 0; j < SLEW_AXES; j++)
        to_stop |= a->fit.aim[j].better && drives_to_a_stop(&a->fit.aim[j].row);
    for (int i = 0; i < a->timings.count; i++)
        to_stop |= drives_to_a_stop(&a->timings.row[i]);
    return to_stop ? "these readings drive to a hard stop: release there" : "";
}

void cli_fit_text(const void *what)
{
    const cli_fit *a = what;
    print_question(a);
    print_figures(&a->fit);
    print_correlations(&a->fit);
    print_readings(a);
    printf("\n%s.\n", a->finding);
    print_blurs(&a->fit, a->finding);
    print_scatter(a);
    print_errors(&a->fit);
    print_next(&a->fit);
    for (int j = 0; j < SLEW_AXES; j++)
        print_aim(&a->fit.aim[j], j);
    cli_caution(cli_fit_dangers(a));
    printf("Simulated: it does not replace a test on the truck.\n");
}
