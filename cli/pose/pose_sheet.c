/* pose_sheet.c - see pose_sheet.h. */
#include "pose_sheet.h"

enum { VIEW_LINES = 21 };        /* of a view in the terminal */
static const double LEGEND = 85; /* below it all, with the origin [pixels] */

bool cli_sheet_has(const cli_sheet *s, cli_mark_kind kind)
{
    for (int axis = 0; axis < SLEW_AXES; axis++)
        for (int i = 0; i < s->count; i++)
            if (cli_marks_have(&s->dial[axis][i].marks, kind))
                return true;
    return false;
}

/* ---- on a sheet ---- */

static void set_lettering(cli_sheet *s, double size)
{
    s->size = size;
    s->lettering = (cli_lettering){.scale = size / 16, .line = 1.75 * size};
}

/* the headings say one or two findings, the truck and perhaps the fan */
static void lay_out_one(cli_sheet *s)
{
    const cli_pose *pose = &s->pose[0];
    bool both = cli_single_stows(pose->single) && cli_single_deploys(pose->single);
    s->width = 1600;
    s->height = 900;
    set_lettering(s, 17);
    double top = s->height - (both ? 190 : 150) - (pose->fan != NULL ? 26 : 0);
    s->panel[SLEW_ELEVATION][0] = (cli_box){30, 760, LEGEND, top};
    s->panel[SLEW_ROTATION][0] = (cli_box){800, 1580, LEGEND, top};
}

static void lay_out_columns(cli_sheet *s)
{
    s->width = s->count > 4 ? 400 * s->count : 1600;
    s->height = 1100;
    s->is_brief = s->count > 2;
    set_lettering(s, s->count == 2 ? 16 : s->count == 3 ? 14 : 12);
    double column = s->width / s->count, line = s->lettering.line, begin = s->height - 85;
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
        s->panel[SLEW_ELEVATION][i] = (cli_box){left, right, middle, top};
        s->panel[SLEW_ROTATION][i] = (cli_box){left, right, LEGEND, middle - 2 * line};
    }
}

/* ---- in a terminal everything is below the other, from the top down ---- */

static double lay_out_below(cli_sheet *s, int i, double y)
{
    s->head[i] = (cli_point){0, y};
    y -= cli_head_lines(s, i) * CLI_CELL_HEIGHT;
    for (int k = 0; k < SLEW_AXES; k++) {
        int axis = k == 0 ? SLEW_ELEVATION : SLEW_ROTATION;
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

static void fit(cli_sheet *s, int axis, bool is_brief)
{
    for (int i = 0; i < s->count; i++) {
        s->dial[axis][i].axis = axis;
        if (s->pose[i].why_not == NULL)
            cli_marks_fill(s->pose[i].single, axis, is_brief, &s->dial[axis][i].marks);
    }
    cli_dials_fit(s->dial[axis], s->count, s->panel[axis], &s->lettering);
}

/* long texts leave little room for the dial: then they are spared what can be spared */
static bool is_small(const cli_sheet *s, int axis)
{
    const cli_box *panel = s->panel[axis];
    return s->dial[axis][0].radius < 0.25 * (panel->top - panel->bottom);
}

void cli_sheet_lay_out(cli_sheet *s, bool is_terminal, int columns)
{
    s->is_terminal = is_terminal;
    if (is_terminal)
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
