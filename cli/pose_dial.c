/* pose_dial.c - see pose_dial.h. */
#include "pose_dial.h"

#include <stdlib.h>

#include "letters.h"
#include "options.h"

static const double DEGREE = 3.14159265358979323846 / 180;
static const double RIM = 1.05;        /* of the radius: texts stay outside of it */
static const double KNEE = 1.09;       /* where the line to a text bends */
static const double LEAST_RADIUS = 40; /* [pixels] */
enum { OUTLINE_MAX = 500, COLUMN_MAX = CLI_MARKS_MAX };

cli_point cli_dial_at(const cli_dial *dial, double share, double angle)
{
    double r = share * dial->radius, c = cos(angle), s = sin(angle);
    bool is_side = dial->axis == SLEW_ELEVATION;
    return (cli_point){dial->x + r * (is_side ? c : s), dial->y + r * (is_side ? s : c)};
}

double cli_text_width(const cli_label *label, const cli_lettering *lettering)
{
    return lettering->is_terminal ? cli_letter_count(label->text) * lettering->cell_width
                                  : lettering->scale * cli_label_width(label);
}

/* ---- what texts keep off: the rim, the stops' hatching, the hub ---- */

static int outline(const cli_dial *dial, cli_point point[OUTLINE_MAX])
{
    double low = dial->marks.stops.low - 4 * DEGREE, high = dial->marks.stops.high + 4 * DEGREE;
    int count = 0;
    high = fmin(high, low + 360 * DEGREE);
    for (double a = low; a < high && count < OUTLINE_MAX - 50; a += DEGREE)
        point[count++] = cli_dial_at(dial, RIM, a);
    for (int i = 0; i <= 20; i++) {
        point[count++] = cli_dial_at(dial, RIM * i / 20, low);
        point[count++] = cli_dial_at(dial, RIM * i / 20, high);
    }
    for (int i = 0; i < 4; i++)
        point[count++] = cli_dial_at(dial, 0.14, 90 * i * DEGREE);
    return count;
}

/* how far to that side (-1 left, +1 right) the outline reaches in a line of text at this height */
static double reach(const cli_point *point, int count, double y, double line, int side)
{
    double most = -INFINITY;
    for (int i = 0; i < count; i++)
        if (fabs(point[i].y - y) < 0.6 * line)
            most = fmax(most, side * point[i].x);
    return most;
}

/* ---- columns of texts, left and right ---- */

typedef struct entry {
    cli_mark *mark;
    cli_point knee; /* where the line to the text bends */
    double y;       /* of the text */
} entry;

static int by_height(const void *left, const void *right)
{
    double a = ((const entry *)left)->knee.y, b = ((const entry *)right)->knee.y;
    return (a > b) - (a < b);
}

/* seen from above, what is dead ahead is told left after the stow and right after the deploy */
static int side_of(const cli_dial *dial, const cli_mark *m)
{
    double x = cli_dial_at(dial, 1, m->named_at).x - dial->x;
    if (dial->axis == SLEW_ELEVATION)
        return x < -0.05 * dial->radius ? -1 : 1;
    if (fabs(x) < 0.01 * dial->radius)
        return m->kind == CLI_MARK_DEPLOYED || m->kind == CLI_MARK_TARGET ? 1 : -1;
    return x < 0 ? -1 : 1;
}

/* a text at the top or the bottom of the dial is above or below it, where there is more room than
 * beside it */
static double height_for(const cli_dial *dial, double knee, double line)
{
    double up = knee - dial->y, beyond = RIM * dial->radius + 0.65 * line;
    if (fabs(up) < 0.9 * KNEE * dial->radius || fabs(up) > beyond)
        return knee;
    return dial->y + (up > 0 ? beyond : -beyond);
}

static int gather(cli_dial *dial, int side, double line, entry column[COLUMN_MAX])
{
    int count = 0;
    for (int i = 0; i < dial->marks.count; i++) {
        cli_mark *m = &dial->marks.mark[i];
        cli_point knee = cli_dial_at(dial, KNEE, m->named_at);
        if (side_of(dial, m) == side)
            column[count++] = (entry){m, knee, height_for(dial, knee.y, line)};
    }
    qsort(column, (size_t)count, sizeof *column, by_height);
    return count;
}

/* apart by a line: what is above the pivot gives way upwards, the rest downwards */
static void push_apart(entry *column, int count, double middle, double line)
{
    int first = 0;
    while (first < count && column[first].knee.y < middle)
        first++;
    for (int i = first + 1; i < count; i++)
        column[i].y = fmax(column[i].y, column[i - 1].y + line);
    for (int i = first - 1; i >= 0 && i + 1 < count; i--)
        column[i].y = fmin(column[i].y, column[i + 1].y - line);
}

static void put_text(const cli_dial *dial, entry *e, const cli_point *edge, int edge_count,
                     const cli_lettering *lettering, int side)
{
    double gap = lettering->is_terminal ? lettering->cell_width : 0.5 * lettering->line;
    cli_label *l = &e->mark->label;
    double beyond = fmax(reach(edge, edge_count, e->y, lettering->line, side), side * e->knee.x);
    double width = cli_text_width(l, lettering);
    cli_point tip = cli_dial_at(dial, 1, e->mark->named_at);
    l->x = tip.x;
    l->y = tip.y;
    l->text_y = l->end_y = e->y;
    l->end_x = side * (beyond + 0.6 * gap);
    l->text_x = side * (beyond + gap) - (side < 0 ? width : 0);
}

static cli_box include(cli_box box, double x, double y)
{
    return (cli_box){fmin(box.left, x), fmax(box.right, x), fmin(box.bottom, y), fmax(box.top, y)};
}

cli_box cli_dial_place(cli_dial *dial, const cli_lettering *lettering)
{
    cli_point edge[OUTLINE_MAX];
    entry column[COLUMN_MAX];
    int edge_count = outline(dial, edge);
    cli_box box = {INFINITY, -INFINITY, INFINITY, -INFINITY};
    for (int i = 0; i < edge_count; i++)
        box = include(box, edge[i].x, edge[i].y);
    for (int side = -1; side <= 1; side += 2) {
        int count = gather(dial, side, lettering->line, column);
        push_apart(column, count, dial->y, lettering->line);
        for (int i = 0; i < count; i++) {
            put_text(dial, &column[i], edge, edge_count, lettering, side);
            const cli_label *l = &column[i].mark->label;
            box = include(box, l->text_x, l->text_y - lettering->line / 2);
            box = include(box, l->text_x + cli_text_width(l, lettering),
                          l->text_y + lettering->line / 2);
        }
    }
    return box;
}

/* ---- into panels ---- */

/* around the origin; their boxes are given back, and the height of all of them together */
static cli_box place_all(cli_dial *dial, int count, double radius, const cli_lettering *lettering,
                         cli_box *own)
{
    cli_box all = {0, 0, INFINITY, -INFINITY};
    for (int i = 0; i < count; i++) {
        dial[i].x = dial[i].y = 0;
        dial[i].radius = radius;
        if (dial[i].marks.count == 0)
            continue;
        own[i] = cli_dial_place(&dial[i], lettering);
        all.right = fmax(all.right, own[i].right - own[i].left);
        all.bottom = fmin(all.bottom, own[i].bottom);
        all.top = fmax(all.top, own[i].top);
    }
    return all;
}

void cli_dials_fit(cli_dial *dial, int count, const cli_box *panel, const cli_lettering *lettering)
{
    cli_box own[CLI_COLUMNS_MAX];
    double width = panel->right - panel->left, height = panel->top - panel->bottom;
    double radius = fmax(width, height);
    cli_box all = place_all(dial, count, radius, lettering, own);
    while ((all.right - all.left > width || all.top - all.bottom > height) &&
           radius > LEAST_RADIUS) {
        radius *= 0.98;
        all = place_all(dial, count, radius, lettering, own);
    }
    for (int i = 0; i < count; i++) {
        if (dial[i].marks.count == 0)
            continue;
        dial[i].x = (panel[i].left + panel[i].right - own[i].left - own[i].right) / 2;
        dial[i].y = (panel[i].bottom + panel[i].top - all.bottom - all.top) / 2;
        cli_dial_place(&dial[i], lettering);
    }
}
