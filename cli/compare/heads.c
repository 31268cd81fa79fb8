/* heads.c - the texts above a comparison's picture. */
#include "answer.h"

#include <math.h>
#include <string.h>

#include "single/outcome_phrase.h"
#include "tell/append.h"
#include "tell/provenance.h"
#include "tell/units.h"
#include "tell/utf8.h"

enum { HEAD_LINES = 4, SLIDE_LINES = 3, TITLE_LETTERS = 76, SLIDE_LETTERS = 60, TITLE_MAX = 400 };

/* ---- the headings ---- */

/* how far the stow point of a column is from the nearer stop [deg] */
static double clearance(const cli_compared_run *column, int axis)
{
    const slew_range *stops = &column->single.prepared.stow_setup.axis[axis].stops;
    double point = column->single.scenario->stow.point[axis];
    return cli_degrees(fmin(point - stops->low, stops->high - point));
}

/* the axis whose stow point is the only difference; SLEW_NO_AXIS: another */
static int axis_of_point(const cli_comparison *c)
{
    static const char *const points[SLEW_AXES] = {"stow.point.rotation", "stow.point.elevation"};
    for (int axis = 0; axis < SLEW_AXES && c->input_count == 1; axis++)
        if (strcmp(c->input[0].path, points[axis]) == 0)
            return axis;
    return SLEW_NO_AXIS;
}

/* "A", and what it has of the only difference, kept on its line: "A (13.4 V)", "A (4.0° from the
 * stop)" */
static void say_column(const cli_comparison *c, int index, char text[TITLE_MAX])
{
    const cli_compared_run *column = &c->columns.column[index];
    int axis = axis_of_point(c);
    cli_append(text, TITLE_MAX, "%c", column->letter);
    if (axis != SLEW_NO_AXIS && column->runs)
        cli_append(text, TITLE_MAX, "\u00A0(%.1f\u00B0%s)", clearance(column, axis),
                   index == 0 ? " from the stop" : "");
    else if (c->input_count == 1 && c->input[0].shown[index][0] != '\0')
        cli_append(text, TITLE_MAX, "\u00A0(%s)", c->input[0].shown[index]);
}

/* "A, B: all is well; C: fault: hard stop" */
static void say_outcomes(const cli_comparison *c, char text[TITLE_MAX])
{
    const cli_compared_runs *columns = &c->columns;
    bool told[SLEW_OUTCOME_COUNT] = {false};
    text[0] = '\0';
    for (int i = 0; i < columns->count; i++) {
        slew_outcome outcome = cli_compared_run_outcome(&columns->column[i]);
        const char *before = text[0] != '\0' ? "; " : "";
        for (int k = i; k < columns->count && !told[outcome]; k++) {
            if (cli_compared_run_outcome(&columns->column[k]) != outcome)
                continue;
            cli_append(text, TITLE_MAX, "%s", before);
            say_column(c, k, text);
            before = ", ";
        }
        if (!told[outcome])
            cli_append(text, TITLE_MAX, ": %s",
                       outcome == SLEW_OUTCOME_PRESSED ? "jammed against a stop"
                                                       : slew_outcome_words(outcome));
        told[outcome] = true;
    }
}

/* "only the battery voltage today differs: 13.4 V, 11 V", or of several what they are */
static void say_inputs(const cli_comparison *c, char *text, size_t size)
{
    if (c->input_count == 1) {
        snprintf(text, size, "only the %s differs", c->input[0].words);
        for (int i = 0; i < c->columns.count; i++)
            cli_append(text, size, "%s%s", i > 0 ? ", " : ": ",
                       c->input[0].shown[i][0] != '\0' ? c->input[0].shown[i] : "-");
        return;
    }
    snprintf(text, size, "%s", c->input_count > 0 ? "they differ in " : "no differences");
    for (int k = 0; k < c->input_count && k < 4; k++)
        cli_append(text, size, "%s%s", k > 0 ? ", " : "", c->input[k].words);
    if (c->input_count > 4)
        cli_append(text, size, " and more");
}

/* the lines of a text as variables name_1, name_2, ...; what is too long ends in dots */
static void set_lines(cli_plot *plot, const char *name, const char *text, int letters, int most)
{
    for (int line = 1; line <= most; line++) {
        char variable[32], words[TITLE_MAX + 8];
        int length = cli_utf8_line(text, letters);
        bool is_cut = line == most && text[length] != '\0';
        if (is_cut)
            length = cli_utf8_line(text, letters - 2);
        snprintf(variable, sizeof variable, "%s_%d", name, line);
        snprintf(words, sizeof words, "%.*s%s", length, text, is_cut ? " \u2026" : "");
        cli_plot_set_text(plot, variable, words);
        text += length;
        text += strspn(text, " ");
    }
}

void cli_compare_headings(cli_plot *plot, const cli_comparison *c)
{
    char text[TITLE_MAX], inputs[4 * CLI_INPUT_PATH_MAX + 8 * CLI_INPUT_VALUE_MAX];
    say_outcomes(c, text);
    set_lines(plot, "heading", text, plot->is_slide ? SLIDE_LETTERS : TITLE_LETTERS, 2);
    say_inputs(c, inputs, sizeof inputs);
    snprintf(text, sizeof text, "%.*s", cli_utf8_cut(inputs, 150), inputs);
    cli_plot_set_text(plot, "heading_3", text);
}

/* ---- the heads of the strips ---- */

/* all that is to be said, or what it amounts to where that is too long */
static void say_head(const cli_compared_run *column, int letters, int lines,
                     char text[CLI_PHRASE_MAX])
{
    if (column->runs)
        cli_outcome_phrase(&column->single, text);
    else
        snprintf(text, CLI_PHRASE_MAX, "can\u2019t be taught: %.250s", column->error.message);
    if (cli_utf8_lines(text, letters) > lines)
        snprintf(text, CLI_PHRASE_MAX, "%s", slew_outcome_words(cli_compared_run_outcome(column)));
}

void cli_compare_head(cli_plot *plot, const cli_compared_run *column, int letters)
{
    int lines = plot->is_slide ? SLIDE_LINES : HEAD_LINES;
    char variable[16], text[CLI_PHRASE_MAX], name[CLI_COLUMN_NAME_MAX + 8];
    snprintf(variable, sizeof variable, "line_%c", column->letter);
    say_head(column, letters, lines, text);
    set_lines(plot, variable, text, letters, lines);
    snprintf(variable, sizeof variable, "name_%c", column->letter);
    bool is_cut = cli_utf8_count(column->name) > letters - 5;
    snprintf(name, sizeof name, "%c  %.*s%s", column->letter,
             cli_utf8_cut(column->name, is_cut ? letters - 6 : letters - 5), column->name,
             is_cut ? "\u2026" : "");
    cli_plot_set_text(plot, variable, name);
    snprintf(variable, sizeof variable, "origin_%c", column->letter);
    cli_provenance_hash(&column->scenario, name);
    cli_plot_set_text(plot, variable, name);
}
