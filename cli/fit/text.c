/* text.c - the answer of `slewtime fit` as text. */
#include "answer.h"

#include <string.h>

#include "tell/append.h"
#include "tell/caution.h"
#include "tell/provenance.h"
#include "tell/table.h"
#include "tell/utf8.h"

/* a reading further off than this is marked [sd] */
static const double FAR_OFF = 3;

/* ---- what was asked ---- */

static void print_question(const cli_fit *a)
{
    static const char *const many[] = {"times", "voltages", "currents"};
    int count[SLEW_MEASURE_COUNT] = {0};
    for (int i = 0; i < a->fit.readings; i++)
        count[a->fit.reading[i].measure]++;
    printf("\n%s\n  readings    %s: %d rows", a->scenario->title, a->path, a->timings.count);
    for (int m = 0; m < SLEW_MEASURE_COUNT; m++)
        if (count[m] > 0)
            printf(", %d %s", count[m], many[m]);
    printf("\n");
    if (a->written != NULL)
        printf("  written     %s\n", a->written);
}

static void print_origin(const cli_fit *a)
{
    char origin[CLI_PROVENANCE_MAX];
    cli_provenance_words(a->scenario, NULL, 0, origin);
    printf("\n  fitted      %s\n",
           a->question.robust ? "readings with what was known before; robust (Huber's, then the "
                                "bisquare weights)"
                              : "readings with what was known before");
    for (int j = 0; j < a->fit.figures; j++)
        if (a->fit.figure[j].key >= 0)
            printf("  key %-7d %s\n", j + 1, slew_fit_name(a->fit.figure[j].key));
    printf("  asked       %s\n", origin);
}

/* ---- figures ---- */

static void with_unit(const cli_fit *a, char *text, size_t size, int key, double value,
                      int decimals)
{
    const char *unit = cli_fit_sign(key, a->scenario->units);
    snprintf(text, size, "%.*f%s%s", decimals, cli_fit_shown(key, a->scenario->units, false, value),
             *unit ? " " : "", unit);
}

/* "assumed", or how much of it the readings have told */
static void told_words(const slew_fit_figure *f, char text[32])
{
    if (f->told < SLEW_FIT_ASSUMED)
        snprintf(text, 32, "assumed");
    else
        snprintf(text, 32, "%.0f %%", fmin(100 * f->told, f->told < 0.9995 ? 99.0 : 100.0));
}

static void print_figure(const cli_fit *a, cli_table *t, int number, const slew_fit_figure *f)
{
    char start[64], value[64], sd[64], interval[96], told[32], name[CLI_KEY_WORDS_MAX];
    slew_unit_system units = a->scenario->units;
    double size = cli_fit_shown(f->key, units, true, f->sd);
    int decimals = cli_fit_decimals(size);
    const char *unit = cli_fit_sign(f->key, units);
    cli_fit_name_words(f->key, name);
    with_unit(a, value, sizeof value, f->key, f->value, decimals);
    snprintf(start, sizeof start, "%.6g %s", cli_fit_shown(f->key, units, false, f->start), unit);
    snprintf(sd, sizeof sd, "%.*f%s%s", decimals, size, *unit ? " " : "", unit);
    snprintf(interval, sizeof interval, "%.*f to %.*f", decimals,
             cli_fit_shown(f->key, units, false, f->low), decimals,
             cli_fit_shown(f->key, units, false, f->high));
    told_words(f, told);
    cli_table_cell(t, NULL, "%2d  %-34s", number, name);
    cli_table_cell(t, "scenario", " %16s", start);
    cli_table_cell(t, "fitted", " %16s", value);
    cli_table_cell(t, "standard error", " %14s", sd);
    cli_table_cell(t, "readings", " %8s", told);
    cli_table_text(t, "  95 % interval", "  %s", interval);
    cli_table_end_row(t);
}

static void print_figures(const cli_fit *a)
{
    const slew_fit *fit = &a->fit;
    cli_table table = {.heads = 1};
    printf("\n");
    for (int j = 0; j < fit->figures; j++) {
        if (j > 0 && fit->figure[j - 1].asked && !fit->figure[j].asked)
            printf("    with them, not asked for:\n");
        print_figure(a, &table, j + 1, &fit->figure[j]);
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
    const char *unit = slew_measure_unit(r->measure);
    cli_table_cell(t, "measured", " %7.2f %s", r->measured, unit);
    cli_table_cell(t, "simulated", " %7.2f %s", r->simulated, unit);
    cli_table_cell(t, "sd", " %7.3g %s", r->total, unit);
    cli_table_cell(t, "off/sd", " %6.1f", one_decimal(r->off));
}

/* the words of a row stand beside the first of its readings */
static void print_reading(cli_table *t, const cli_fit *a, int index, bool first)
{
    char words[CLI_FIT_WORDS_MAX] = "", line[16] = "";
    const slew_fit_reading *r = &a->fit.reading[index];
    const slew_timing *row = &a->timings.row[r->row];
    if (first) {
        cli_fit_row_words(row, a->scenario->units, words);
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

enum { SHOWN = 5 };

/* one of the rows whose readings are furthest off: fewer than SHOWN are further */
static bool is_among_worst(const slew_fit *fit, int index)
{
    int further = 0;
    for (int i = 0; i < fit->readings; i++)
        further += fabs(fit->reading[i].off) > fabs(fit->reading[index].off);
    return further < SHOWN;
}

static void print_readings(const cli_fit *a)
{
    cli_table table = {.heads = 1};
    int left_out = 0;
    printf("\n");
    for (int i = 0, row = -1; i < a->fit.readings; i++) {
        bool shown = a->all || is_among_worst(&a->fit, i);
        left_out += !shown;
        if (shown)
            print_reading(&table, a, i, a->fit.reading[i].row != row);
        if (shown)
            row = a->fit.reading[i].row;
    }
    if (left_out > 0)
        printf("  --all adds %d more, nearer to what is simulated.\n", left_out);
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
                                                        "stored times"};
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
    if (!fit->sds_given)
        printf("No standard deviations are given: %.2g s, %.2g V, %.2g A are taken, and %.2g V "
               "of the battery voltage.\n",
               slew_measure_sd(SLEW_MEASURE_SECONDS), slew_measure_sd(SLEW_MEASURE_VOLTAGE),
               slew_measure_sd(SLEW_MEASURE_CURRENT), slew_input_sd(SLEW_INPUT_SUPPLY));
    printf("Readings: how much of what was not known before comes from them. An assumed value is "
           "what\nthe truck's spread, or what is usual, gives.\n");
}

/* but for the one that is the finding */
static void print_blurs(const slew_fit *fit, const char *finding)
{
    char words[CLI_FIT_WORDS_MAX];
    for (int i = 0; i < fit->blurs; i++)
        if (cli_fit_blur_words(fit, i, words) && strcmp(words, finding) != 0)
            printf("Not determined: %s.\n", words);
}

static void print_next(const cli_fit *a)
{
    const slew_fit *fit = &a->fit;
    const slew_fit_next *next = &fit->next;
    char words[CLI_FIT_WORDS_MAX], least[CLI_KEY_WORDS_MAX], after[CLI_KEY_WORDS_MAX];
    char text[3 * CLI_FIT_WORDS_MAX];
    cli_fit_name_words(fit->figure[next->least].key, least);
    if (!next->any) {
        snprintf(text, sizeof text,
                 "Next: no other kind of reading of this visit makes %s much more certain.", least);
        cli_print_wrapped(text, CLI_ANSWER_LETTERS);
        return;
    }
    cli_fit_row_words(&next->row, a->scenario->units, words);
    cli_fit_name_words(fit->figure[next->least_after].key, after);
    snprintf(text, sizeof text,
             "Next: %s of %s (%.4g %s simulated) helps most: %.0f %% of what was not known of %s "
             "is left, then %.0f %% (%s).",
             slew_measure_word(next->measure), words, next->simulated,
             slew_measure_unit(next->measure), 100 * next->before, least, 100 * next->after, after);
    cli_print_wrapped(text, CLI_ANSWER_LETTERS);
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
    for (int i = 0; i < a->timings.count; i++)
        to_stop |= drives_to_a_stop(&a->timings.row[i]);
    return to_stop ? "these readings drive to a hard stop: release there" : "";
}

/* ---- the answer ---- */

enum { LINES = 5, VALUES_MAX = 1200 };

/* "elevation gear efficiency 33.8 % (36 %)", the scenario's in brackets */
static void value_words(const cli_fit *a, const slew_fit_figure *f, char *text, size_t size)
{
    char name[CLI_KEY_WORDS_MAX], value[64];
    slew_unit_system units = a->scenario->units;
    int decimals = cli_fit_decimals(cli_fit_shown(f->key, units, true, f->sd));
    cli_fit_name_words(f->key, name);
    with_unit(a, value, sizeof value, f->key, f->value, decimals);
    snprintf(text, size, "%s %s (%.4g)", name, value,
             cli_fit_shown(f->key, units, false, f->start));
}

/* as many as so many lines have room for */
static void values_words(const cli_fit *a, int lines, char text[VALUES_MAX])
{
    int left_out = 0, told = 0;
    snprintf(text, VALUES_MAX, "Fitted (before): ");
    for (int j = 0; j < a->fit.figures; j++) {
        char piece[200], longer[VALUES_MAX];
        if (!a->fit.figure[j].asked)
            continue;
        value_words(a, &a->fit.figure[j], piece, sizeof piece);
        snprintf(longer, sizeof longer, "%.900s%s%s, 9 more.", text, told > 0 ? ", " : "", piece);
        if (told > 0 && cli_utf8_lines(longer, CLI_ANSWER_LETTERS) > lines)
            left_out++;
        else
            cli_append(text, VALUES_MAX, "%s%s", told++ > 0 ? ", " : "", piece);
    }
    if (left_out > 0)
        cli_append(text, VALUES_MAX, ", %d more", left_out);
    cli_append(text, VALUES_MAX, ".");
}

static void print_answer(const cli_fit *a)
{
    char finding[CLI_FIT_WORDS_MAX + 2], values[VALUES_MAX], more[] = "\u2026";
    const char *dangers = cli_fit_dangers(a);
    snprintf(finding, sizeof finding, "%s.", a->finding);
    if (cli_utf8_lines(finding, CLI_ANSWER_LETTERS) > 2)
        strcpy(finding + cli_utf8_cut(finding, 2 * CLI_ANSWER_LETTERS - 12), more);
    int left = LINES - cli_utf8_lines(finding, CLI_ANSWER_LETTERS) - (dangers[0] != '\0' ? 2 : 0);
    values_words(a, left, values);
    cli_print_wrapped(finding, CLI_ANSWER_LETTERS);
    cli_print_wrapped(values, CLI_ANSWER_LETTERS);
    cli_caution(dangers);
}

void cli_fit_text(const void *what)
{
    const cli_fit *a = what;
    print_answer(a);
    print_question(a);
    print_figures(a);
    print_next(a);
    print_blurs(&a->fit, a->finding);
    print_readings(a);
    printf("\n");
    print_scatter(a);
    print_correlations(&a->fit);
    printf("\n");
    print_errors(&a->fit);
    printf("Simulated: it does not replace a test on the truck.\n");
    print_origin(a);
}
