/* pose_dial.c - see pose_dial.h. */
#include "pose_dial.h"

#include <stdlib.h>

#include "line/options.h"
#include "tell/utf8.h"

static const double DEGREE = 3.14159265358979323846 / 180;
static const double HATCHING = 4 * 3.14159265358979323846 / 180; /* beyond a stop [rad] */
static const double HUB = 0.16, RIM = 1.05;                      /* shares of the radius */
static const double KNEE = 1.09;       /* the same: where the line to a text bends */
static const double LEAST_RADIUS = 40; /* [pixels] */

cli_point cli_dial_at(const cli_dial *dial, double share, double angle)
{
    double r = share * dial->radius, c = cos(angle), s = sin(angle);
    bool is_side = dial->axis == SLEW_ELEVATION;
    return (cli_point){dial->x + r * (is_side ? c : s), dial->y + r * (is_side ? s : c)};
}

double cli_text_width(const cli_label *label, const cli_lettering *lettering)
{
    return lettering->is_terminal ? cli_utf8_count(label->text) * lettering->cell_width
                                  : lettering->scale * cli_label_width(label);
}

/* ---- the dial without its texts: hub, rim, the hatching of the stops ---- */

static cli_box include(cli_box box, double x, double y)
{
    return (cli_box){fmin(box.left, x), fmax(box.right, x), fmin(box.bottom, y), fmax(box.top, y)};
}

static cli_box bare_box(const cli_dial *dial)
{
    const slew_range *stops = &dial->marks.stops;
    double hub = HUB * dial->radius, high = stops->high + HATCHING;
    cli_box box = {dial->x - hub, dial->x + hub, dial->y - hub, dial->y + hub};
    for (double a = stops->low - HATCHING; a < high; a += DEGREE) {
        cli_point p = cli_dial_at(dial, RIM, a);
        box = include(box, p.x, p.y);
    }
    return box;
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

static int gather(cli_dial *dial, int side, double line, entry column[CLI_MARKS_MAX])
{
    int count = 0;
    for (int i = 0; i < dial->marks.count; i++) {
        cli_mark *m = &dial->marks.mark[i];
        cli_point knee = cli_dial_at(dial, KNEE, m->named_at);
        if (m->label.text[0] != '\0' && side_of(dial, m) == side)
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

/* beside its knee: whatever has given way above or below is off the dial there too */
static void put_text(entry *e, const cli_lettering *lettering, int side)
{
    double gap = lettering->is_terminal ? lettering->cell_width : 0.5 * lettering->line;
    cli_label *l = &e->mark->label;
    l->text_y = l->end_y = e->y;
    l->end_x = e->knee.x + 0.6 * side * gap;
    l->text_x = e->knee.x + side * gap - (side < 0 ? cli_text_width(l, lettering) : 0);
}

/* Places the texts of the marks around the dial: each near its angle, none on the dial or on
 * another one. Returns the box that has all of it. */
static cli_box place_texts(cli_dial *dial, const cli_lettering *lettering)
{
    entry column[CLI_MARKS_MAX];
    cli_box box = bare_box(dial);
    for (int side = -1; side <= 1; side += 2) {
        int count = gather(dial, side, lettering->line, column);
        push_apart(column, count, dial->y, lettering->line);
        for (int i = 0; i < count; i++) {
            put_text(&column[i], lettering, side);
            const cli_label *l = &column[i].mark->label;
            box = include(box, l->text_x, l->text_y - lettering->line / 2);
            box = include(box, l->text_x + cli_text_width(l, lettering),
                          l->text_y + lettering->line / 2);
        }
    }
    return box;
}

/* ---- into panels ---- */

/* around the origin; gives back their own boxes, and how wide the widest and how high all are */
static cli_box place_all(cli_dial *dial, int count, double radius, const cli_lettering *lettering,
                         cli_box *own)
{
    cli_box all = {0, 0, INFINITY, -INFINITY};
    for (int i = 0; i < count; i++) {
        dial[i].x = dial[i].y = 0;
        dial[i].radius = radius;
        if (dial[i].marks.count == 0)
            continue;
        own[i] = place_texts(&dial[i], lettering);
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
        place_texts(&dial[i], lettering);
    }
}
