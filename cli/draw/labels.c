/* labels.c - see labels.h. */
#include "labels.h"

#include <math.h>
#include <string.h>

/* of the scripts' 16 point DejaVu Sans, in their 1600 x 1100 pixels */
static const double EM = 21.3, LINE_HEIGHT = 24;

typedef struct rectangle {
    double left, right, bottom, top;
} rectangle;

/* ---- panels ---- */

double cli_panel_x(const cli_panel *panel, double time)
{
    return (time - panel->t_start) / (panel->t_end - panel->t_start) * panel->width;
}

double cli_panel_y(const cli_panel *panel, double value)
{
    return (value - panel->low) / (panel->high - panel->low) * panel->height;
}

double cli_panel_time(const cli_panel *panel, double x)
{
    return panel->t_start + x / panel->width * (panel->t_end - panel->t_start);
}

double cli_panel_value(const cli_panel *panel, double y)
{
    return panel->low + y / panel->height * (panel->high - panel->low);
}

/* ---- rectangles ---- */

/* about, in em: three classes of letters are enough to keep texts apart */
static double letter_width(char letter)
{
    if (strchr("ijlft.,' ", letter) != NULL)
        return 0.33;
    return strchr("mwMW", letter) != NULL ? 0.95 : 0.61;
}

double cli_label_width(const cli_label *label)
{
    double width = 0;
    for (const char *text = label->text; *text != '\0'; text++)
        if (((unsigned char)*text & 0xC0) != 0x80)
            width += letter_width(*text) * EM;
    return label->trouble ? 1.1 * width : width;
}

static rectangle around(const cli_label *label)
{
    return (rectangle){label->text_x, label->text_x + cli_label_width(label),
                       label->text_y - LINE_HEIGHT / 2, label->text_y + LINE_HEIGHT / 2};
}

static double overlap(double low_1, double high_1, double low_2, double high_2)
{
    return fmax(0, fmin(high_1, high_2) - fmax(low_1, low_2));
}

static double shared_area(rectangle a, rectangle b)
{
    return overlap(a.left, a.right, b.left, b.right) * overlap(a.bottom, a.top, b.bottom, b.top);
}

static double outside(const cli_panel *panel, rectangle r)
{
    return fmax(0, -r.left) + fmax(0, r.right - panel->width) + fmax(0, -r.bottom) +
           fmax(0, r.top - panel->height);
}

/* how far a text reaches into a hatched area */
static double hatched(const cli_panel *panel, rectangle r)
{
    double low = cli_panel_y(panel, panel->free_low), high = cli_panel_y(panel, panel->free_high);
    return fmax(0, fmin(low - r.bottom, LINE_HEIGHT)) + fmax(0, fmin(r.top - high, LINE_HEIGHT));
}

static double distance_to(rectangle r, cli_point p)
{
    double dx = fmax(fmax(r.left - p.x, p.x - r.right), 0);
    double dy = fmax(fmax(r.bottom - p.y, p.y - r.top), 0);
    return hypot(dx, dy);
}

/* ---- what a place costs ---- */

static double cost(const cli_panel *panel, const cli_label *labels, int own, int count,
                   const cli_point *curve, size_t curve_count)
{
    rectangle place = around(&labels[own]);
    const rectangle taken = {panel->taken_left, panel->taken_right, panel->taken_bottom,
                             panel->taken_top};
    double sum = 1e4 * outside(panel, place) + 30 * hatched(panel, place);
    sum += 10 * shared_area(place, taken);
    for (int i = 0; i < own; i++)
        sum += shared_area(place, around(&labels[i]));
    for (int i = 0; i < count; i++)
        if (i != own && distance_to(place, (cli_point){labels[i].x, labels[i].y}) < 10)
            sum += 400;
    for (size_t i = 0; i < curve_count; i++)
        if (distance_to(place, curve[i]) < 4)
            sum += 12;
    return sum + distance_to(place, (cli_point){labels[own].x, labels[own].y});
}

/* ---- places to try ---- */

/* sideways from the point to the near end of the text (0: the text is centred), and upwards */
static const double ASIDE[] = {0, 14, -14, 40, -40, 75, -75, 115, -115};
static const double UP[] = {0, 26, -26, 46, -46, 70, -70, 100, -100, 140, -140};
enum { ASIDES = sizeof ASIDE / sizeof *ASIDE, UPS = sizeof UP / sizeof *UP };

static double clamp(double value, double low, double high)
{
    return fmin(fmax(value, low), high);
}

/* in a narrow panel there may be no room on either side of the point */
static bool is_tight(const cli_panel *panel, const cli_label *label)
{
    double width = cli_label_width(label) + ASIDE[1];
    return label->x + width > panel->width && label->x - width < 0;
}

static void put(const cli_panel *panel, cli_label *label, double aside, double up)
{
    label->text_x = label->x + aside;
    label->text_y = label->y + up;
    double width = cli_label_width(label);
    label->text_x -= aside < 0 ? width : aside > 0 ? 0 : width / 2;
    if (is_tight(panel, label))
        label->text_x = clamp(label->text_x, 0, fmax(panel->width - width, 0));
    rectangle r = around(label);
    label->end_x = clamp(label->x, r.left, r.right);
    label->end_y = clamp(label->y, r.bottom, r.top);
}

static void place(const cli_panel *panel, cli_label *labels, int own, int count,
                  const cli_point *curve, size_t curve_count)
{
    cli_label best = labels[own];
    double least = INFINITY;
    for (int i = 0; i < UPS * ASIDES; i++) {
        put(panel, &labels[own], ASIDE[i % ASIDES], UP[i / ASIDES]);
        double here = cost(panel, labels, own, count, curve, curve_count);
        if (here < least) {
            least = here;
            best = labels[own];
        }
    }
    labels[own] = best;
}

void cli_labels_place(const cli_panel *panel, cli_label *labels, int count, const cli_point *curve,
                      size_t curve_count)
{
    for (int i = 0; i < count; i++)
        place(panel, labels, i, count, curve, curve_count);
}

void cli_labels_spread(double *y, int count, double gap, double height)
{
    for (int round = 0; round < 100; round++) {
        for (int i = 0; i + 1 < count; i++) {
            double lack = gap - (y[i + 1] - y[i]);
            if (lack > 0) {
                y[i] -= lack / 2;
                y[i + 1] += lack / 2;
            }
        }
        for (int i = 0; i < count; i++)
            y[i] = fmin(fmax(y[i], 0), height);
    }
}
