/* pose_sheet.c - see pose_sheet.h. */
#include "pose_sheet.h"

#include <math.h>

#include "single/outcome_sentence.h"
#include "tell/units.h"
#include "tell/utf8.h"

enum { VIEW_LINES = 15 };        /* of a view in the terminal: one fits a screen of 24 */
static const double LEGEND = 85; /* below it all, with the origin [pixels] */

bool cli_sheet_has(const cli_sheet *s, cli_mark_kind kind)
{
    for (int axis = 0; axis < SLEW_AXES; axis++)
        for (int i = 0; i < s->count; i++)
            if (s->shows[axis] && cli_marks_have(&s->dial[axis][i].marks, kind))
                return true;
    return false;
}

/* ---- on a sheet ---- */

static void set_lettering(cli_sheet *s, double size)
{
    s->size = size;
    s->lettering = (cli_lettering){.scale = size / 16, .line = 1.75 * size};
}

/* what plots/common.gp writes above: the findings in bold, and on a sheet what of, and the fan */
static double below_title(const cli_sheet *s)
{
    char stow[CLI_SENTENCE_MAX], deploy[CLI_SENTENCE_MAX];
    int letters = s->is_slide ? 58 : 74;
    cli_outcome_stow(s->pose[0].single, stow);
    cli_outcome_deploy(s->pose[0].single, deploy);
    int lines = cli_utf8_lines(stow, letters) + cli_utf8_lines(deploy, letters);
    if (s->is_slide)
        return s->height - 50 - 60 * lines;
    return s->height - 34 - 39 * lines - 25 * (s->pose[0].fan != NULL ? 3 : 1);
}

/* a close-up helps where a stow was to rest near a hard stop */
static bool has_lens(const cli_sheet *s)
{
    const cli_single *single = s->pose[0].single;
    int axis = cli_sheet_axis(s);
    const slew_range *stops = &single->prepared.stow_setup.axis[axis].stops;
    const slew_stow *stow = &single->scenario->stow;
    double rest = single->result.stow.angle[axis], point = stow->point[axis];
    double gap = fmin(point - stops->low, stops->high - point);
    return cli_single_stows(single) && stow->has_point && cli_degrees(gap) < 8 &&
           cli_degrees(fabs(rest - point)) < 8;
}

/* beside each other: the views that matter, and the close-up */
static void lay_out_one(cli_sheet *s)
{
    s->width = s->is_slide ? 1920 : 1600;
    s->height = s->is_slide ? 1080 : 900;
    set_lettering(s, s->is_slide ? 29 : 17);
    int other = cli_sheet_axis(s) == SLEW_ELEVATION ? SLEW_ROTATION : SLEW_ELEVATION;
    s->shows[other] = !s->is_slide && (other == SLEW_ELEVATION ||
                                       cli_marks_matter(&s->dial[other][0].marks) || !has_lens(s));
    double top = below_title(s) - 1.6 * s->lettering.line, right = s->width - 20;
    double bottom = s->is_slide ? 70 : LEGEND;
    if (has_lens(s)) {
        double wide = s->is_slide ? 600 : s->shows[other] ? 330 : 520;
        s->lens = (cli_box){right - wide, right, bottom + s->lettering.line, top};
        right -= wide + 40;
    }
    double middle = s->shows[other] ? (30 + right) / 2 : right;
    s->panel[SLEW_ELEVATION][0] = (cli_box){30, middle, bottom, top};
    s->panel[SLEW_ROTATION][0] = s->panel[SLEW_ELEVATION][0];
    if (s->shows[other])
        s->panel[SLEW_ROTATION][0] = (cli_box){middle + 30, right, bottom, top};
}

/* a slide has one view of each, the others both below each other if both matter */
static void lay_out_columns(cli_sheet *s)
{
    s->width = s->is_slide ? 1920 : s->count > 4 ? 400 * s->count : 1600;
    s->is_brief = s->count > 2 || s->is_slide;
    set_lettering(s, s->is_slide ? 29 : s->count == 2 ? 16 : s->count == 3 ? 14 : 12);
    s->shows[SLEW_ROTATION] = false;
    for (int i = 0; i < s->count; i++)
        s->shows[SLEW_ROTATION] |= cli_marks_matter(&s->dial[SLEW_ROTATION][i].marks);
    if (s->is_slide) {
        s->shows[SLEW_ELEVATION] = cli_sheet_axis(s) == SLEW_ELEVATION;
        s->shows[SLEW_ROTATION] = !s->shows[SLEW_ELEVATION];
    }
    bool both = s->shows[SLEW_ELEVATION] && s->shows[SLEW_ROTATION];
    s->height = s->is_slide ? 1080 : both ? 1100 : 800;
    double column = s->width / s->count, line = s->lettering.line;
    double begin = s->height - (s->is_slide ? 190 : 90);
    int lines = 0;
    s->head_width = column - 40;
    for (int i = 0; i < s->count; i++) {
        int own = cli_head_lines(s, i);
        lines = own > lines ? own : lines;
    }
    double top = begin - (lines + 1.5) * line, middle = (LEGEND + top) / 2;
    for (int i = 0; i < s->count; i++) {
        double left = i * column + 20, right = (i + 1) * column - 20;
        s->head[i] = (cli_point){left, begin};
        s->panel[SLEW_ELEVATION][i] = (cli_box){left, right, both ? middle : LEGEND, top};
        s->panel[SLEW_ROTATION][i] = (cli_box){left, right, LEGEND, both ? middle - 2 * line : top};
    }
}

/* ---- in a terminal everything is below the other, from the top down, what matters first ---- */

static double lay_out_below(cli_sheet *s, int i, double y)
{
    s->head[i] = (cli_point){0, y};
    y -= cli_head_lines(s, i) * CLI_CELL_HEIGHT;
    for (int k = 0; k < SLEW_AXES; k++) {
        int first = cli_sheet_axis(s), axis = k == 0 ? first : !first;
        if (!s->shows[axis])
            continue;
        double top = y - 2 * CLI_CELL_HEIGHT;
        y = top - VIEW_LINES * CLI_CELL_HEIGHT;
        s->panel[axis][i] = (cli_box){0, s->head_width, y, top};
    }
    return y - CLI_CELL_HEIGHT;
}

static void lay_out_terminal(cli_sheet *s, int columns)
{
    s->width = columns * CLI_CELL_WIDTH;
    s->head_width = s->width - CLI_CELL_WIDTH;
    s->lettering =
        (cli_lettering){.line = CLI_CELL_HEIGHT, .is_terminal = true, .cell_width = CLI_CELL_WIDTH};
    int other = !cli_sheet_axis(s);
    s->shows[other] = false;
    for (int i = 0; i < s->count; i++)
        s->shows[other] |= cli_marks_matter(&s->dial[other][i].marks);
    double y = -0.5 * CLI_CELL_HEIGHT;
    for (int i = 0; i < s->count; i++)
        y = lay_out_below(s, i, y);
    s->height = -y;
    for (int i = 0; i < s->count; i++) {
        s->head[i].y -= y;
        for (int axis = 0; axis < SLEW_AXES; axis++) {
            s->panel[axis][i].bottom -= y;
            s->panel[axis][i].top -= y;
        }
    }
}

/* ---- either way ---- */

static void fill_marks(cli_sheet *s, int axis, bool is_brief)
{
    for (int i = 0; i < s->count; i++) {
        s->dial[axis][i].axis = axis;
        if (s->pose[i].why_not == NULL)
            cli_marks_fill(s->pose[i].single, axis, is_brief, &s->dial[axis][i].marks);
    }
}

/* several dials beside each other on a slide have room for where they rest alone */
static void spare_texts(cli_sheet *s, int axis)
{
    for (int i = 0; i < s->count; i++) {
        cli_marks *marks = &s->dial[axis][i].marks;
        for (int k = 0; k < marks->count; k++) {
            cli_mark *m = &marks->mark[k];
            bool is_rest = m->kind == CLI_MARK_STOWED || m->kind == CLI_MARK_DEPLOYED;
            m->label.text[0] = '\0';
            if (is_rest)
                snprintf(m->label.text, sizeof m->label.text, "%.1f\u00B0",
                         cli_tenths(m->range.low));
        }
    }
}

static void fit(cli_sheet *s, int axis, bool is_brief)
{
    fill_marks(s, axis, is_brief);
    if (s->is_slide && s->count > 1)
        spare_texts(s, axis);
    cli_dials_fit(s->dial[axis], s->count, s->panel[axis], &s->lettering);
}

/* long texts leave little room for the dial: then they are spared what can be spared */
static bool is_small(const cli_sheet *s, int axis)
{
    const cli_box *panel = s->panel[axis];
    return s->dial[axis][0].radius < (s->is_slide ? 0.45 : 0.25) * (panel->top - panel->bottom);
}

int cli_sheet_axis(const cli_sheet *s)
{
    const int axes[] = {SLEW_ELEVATION, SLEW_ROTATION};
    for (int k = 0; k < SLEW_AXES; k++)
        for (int i = 0; i < s->count; i++) {
            const cli_marks *marks = &s->dial[axes[k]][i].marks;
            for (int m = 0; m < marks->count; m++)
                if (marks->mark[m].label.trouble)
                    return axes[k];
        }
    return SLEW_ELEVATION;
}

void cli_sheet_lay_out(cli_sheet *s, int columns)
{
    for (int axis = 0; axis < SLEW_AXES; axis++) {
        s->shows[axis] = true;
        fill_marks(s, axis, false);
    }
    if (s->is_terminal)
        lay_out_terminal(s, columns);
    else if (s->count == 1)
        lay_out_one(s);
    else
        lay_out_columns(s);
    for (int axis = 0; axis < SLEW_AXES; axis++) {
        fit(s, axis, s->is_brief);
        if (is_small(s, axis))
            fit(s, axis, true);
    }
}
