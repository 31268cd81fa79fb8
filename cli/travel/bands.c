/* bands.c - see bands.h. */
#include "bands.h"

#include <stdarg.h>
#include <stdlib.h>

#include "tell/csv.h"
#include "tell/units.h"
#include "tell/utf8.h"

enum { NAMES_MAX = 32 };
static const double PI = 3.14159265358979323846;
static const double NAME_GAP = 24; /* between two names [pixels] */

typedef struct name {
    double y; /* [pixels] */
    char text[64];
} name;

/* ---- rows of bands.csv and names.csv ---- */

typedef struct band {
    const char *panel, *kind;
    double from, to;  /* [s] */
    slew_range range; /* in the unit of the panel */
} band;

static void tell_band(cli_teller *t, const void *what)
{
    const band *b = what;
    cli_tell_text(t, "panel", b->panel);
    cli_tell_text(t, "kind", b->kind);
    cli_tell_number(t, "from_s", b->from);
    cli_tell_number(t, "to_s", b->to);
    cli_tell_number(t, "low", b->range.low);
    cli_tell_number(t, "high", b->range.high);
}

typedef struct placed_name {
    const char *panel, *text;
    double value; /* in the unit of the panel */
} placed_name;

static void tell_name(cli_teller *t, const void *what)
{
    const placed_name *n = what;
    cli_tell_text(t, "panel", n->panel);
    cli_tell_number(t, "value", n->value);
    cli_tell_text(t, "text", n->text);
}

void cli_bands_begin(FILE *bands, FILE *names)
{
    cli_csv_names(bands, tell_band, &(band){0});
    if (names != NULL)
        cli_csv_names(names, tell_name, &(placed_name){0});
}

/* ---- the sheet ---- */

typedef struct sheet {
    FILE *bands;
    const cli_single *single;
    const cli_panel *panel; /* of the axis being written */
    int axis;
    double stow_end; /* the stow point counts until then, the deploy target afterwards [s] */
    name name[NAMES_MAX];
    int name_count;
} sheet;

static slew_range in_degrees(slew_range radians)
{
    return (slew_range){cli_degrees(radians.low), cli_degrees(radians.high)};
}

static slew_range around(double middle, double reach)
{
    return in_degrees((slew_range){middle - reach, middle + reach});
}

/* of the home sensor while stowing; of one that never opens a whole turn */
static slew_range window_of(const cli_single *single, int axis)
{
    const slew_home *home = &single->prepared.stow.axis[axis].home;
    return around(home->angle, fmin(home->operate, PI));
}

/* ---- the frame ---- */

double cli_shown(int panel, const slew_sample *s)
{
    switch (panel) {
    case CLI_PANEL_CURRENT:
        return s->current[0] + s->current[1];
    case CLI_PANEL_VOLTAGE:
        return s->voltage;
    default:
        return cli_degrees(s->angle[panel]);
    }
}

static void span_samples(const cli_single *single, int p, cli_panel *panel)
{
    panel->t_end = 1.01 * single->result.end + 0.01;
    panel->low = INFINITY;
    panel->high = -INFINITY;
    panel->free_low = -INFINITY;
    panel->free_high = INFINITY;
    for (size_t i = 0; i < single->sample_count; i++) {
        double value = cli_shown(p, &single->sample[i]);
        panel->low = fmin(panel->low, value);
        panel->high = fmax(panel->high, value);
    }
}

static void include(cli_panel *panel, slew_range range)
{
    panel->low = fmin(panel->low, range.low);
    panel->high = fmax(panel->high, range.high);
}

/* stops are shown when the axis comes near them */
static void frame_axis(const cli_single *single, int axis, cli_panel *panel)
{
    const slew_scenario *s = single->scenario;
    const slew_axis_setup *setup = &cli_single_setup(single)->axis[axis];
    if (cli_single_stows(single) && s->stow.has_point)
        include(panel, around(s->stow.point[axis], s->stow.tolerance));
    if (cli_single_deploy_begun(single))
        include(panel, in_degrees(s->deploy.target[axis]));
    if (cli_single_stows(single))
        include(panel, window_of(single, axis));
    double margin = 0.08 * (panel->high - panel->low), reach = 2 * margin;
    slew_range stops = in_degrees(setup->stops);
    panel->free_low = stops.low;
    panel->free_high = stops.high;
    if (stops.low > panel->low - reach)
        panel->low = fmin(panel->low, stops.low);
    if (stops.high < panel->high + reach)
        panel->high = fmax(panel->high, stops.high);
    panel->low -= margin;
    panel->high += margin;
}

void cli_bands_frame(const cli_single *single, cli_panel panel[CLI_PANELS])
{
    cli_panel *current = &panel[CLI_PANEL_CURRENT], *voltage = &panel[CLI_PANEL_VOLTAGE];
    for (int p = 0; p < CLI_PANELS; p++)
        span_samples(single, p, &panel[p]);
    for (int axis = 0; axis < SLEW_AXES; axis++)
        frame_axis(single, axis, &panel[axis]);
    current->low = 0;
    current->high = 1.2 * fmax(current->high, cli_single_setup(single)->controller.stall_current);
    voltage->low = fmin(voltage->low, cli_single_floor(single)) - 0.5;
    voltage->high = fmax(voltage->high, cli_single_floor(single)) + 0.5;
}

/* ---- names ---- */

static void add_name(sheet *s, double value, const char *format, ...)
{
    va_list arguments;
    if (s->name_count == NAMES_MAX)
        return;
    name *n = &s->name[s->name_count++];
    n->y = cli_panel_y(s->panel, fmin(fmax(value, s->panel->low), s->panel->high));
    va_start(arguments, format);
    vsnprintf(n->text, sizeof n->text, format, arguments);
    va_end(arguments);
}

static int by_height(const void *left, const void *right)
{
    double a = ((const name *)left)->y, b = ((const name *)right)->y;
    return (a > b) - (a < b);
}

static void write_names(FILE *stream, sheet *s)
{
    double y[NAMES_MAX];
    qsort(s->name, (size_t)s->name_count, sizeof *s->name, by_height);
    for (int i = 0; i < s->name_count; i++)
        y[i] = s->name[i].y;
    cli_labels_spread(y, s->name_count, NAME_GAP, s->panel->height);
    for (int i = 0; i < s->name_count; i++)
        cli_csv_values(
            stream, tell_name,
            &(placed_name){s->panel->name, s->name[i].text, cli_panel_value(s->panel, y[i])});
}

/* ---- bands ---- */

/* the part of a band that the panel shows; false: none of it */
static bool write_band(const sheet *s, const char *kind, double from, double to, slew_range range)
{
    const cli_panel *panel = s->panel;
    const band b = {panel->name,
                    kind,
                    fmax(from, 0),
                    fmin(to, panel->t_end),
                    {fmax(range.low, panel->low), fmin(range.high, panel->high)}};
    bool is_seen = b.range.low < b.range.high && b.from < b.to;
    if (is_seen)
        cli_csv_values(s->bands, tell_band, &b);
    return is_seen;
}

static void write_stops(sheet *s)
{
    slew_range stops = in_degrees(cli_single_setup(s->single)->axis[s->axis].stops);
    bool is_elevation = s->axis == SLEW_ELEVATION;
    if (write_band(s, "stop", 0, INFINITY, (slew_range){-INFINITY, stops.low}))
        add_name(s, stops.low, "%s stop %.4g\u00B0", is_elevation ? "lower" : "left", stops.low);
    if (write_band(s, "stop", 0, INFINITY, (slew_range){stops.high, INFINITY}))
        add_name(s, stops.high, "%s stop %.4g\u00B0", is_elevation ? "upper" : "right", stops.high);
}

static void write_home(sheet *s)
{
    const slew_home *home = &s->single->prepared.stow.axis[s->axis].home;
    if (cli_single_stows(s->single) &&
        write_band(s, "home", 0, INFINITY, window_of(s->single, s->axis)))
        add_name(s, cli_degrees(home->angle), "home window%s",
                 !home->present ? " (dead)"
                 : home->stuck  ? " (stuck)"
                                : "");
}

static void write_goals(sheet *s)
{
    const slew_stow *stow = &s->single->scenario->stow;
    double point = cli_degrees(stow->point[s->axis]);
    if (cli_single_stows(s->single) && stow->has_point &&
        write_band(s, "point", 0, s->stow_end, around(stow->point[s->axis], stow->tolerance)))
        add_name(s, point, "stow point %.4g \u00B1 %.3g\u00B0", point,
                 cli_degrees(stow->tolerance));
    slew_range target = in_degrees(s->single->scenario->deploy.target[s->axis]);
    if (cli_single_deploy_begun(s->single) &&
        write_band(s, "target", s->stow_end, INFINITY, target))
        add_name(s, target.high, "deploy target");
}

/* A box counts while the other axis is inside it: what the curve then meets is the keep-out. What
 * lies beyond the stops is left to them. */
static void write_box(sheet *s, const slew_keepout_box *box)
{
    const cli_single *single = s->single;
    const slew_range *stops = &cli_single_setup(single)->axis[s->axis].stops,
                     *own = &box->axis[s->axis];
    slew_range others = box->axis[!s->axis];
    slew_range range =
        in_degrees((slew_range){fmax(own->low, stops->low), fmin(own->high, stops->high)});
    double since = INFINITY;
    bool any = false;
    for (size_t i = 0; i < single->sample_count; i++) {
        const slew_sample *sample = &single->sample[i];
        double other = sample->angle[!s->axis];
        bool inside = other >= others.low && other <= others.high;
        if (inside && isinf(since))
            since = sample->time;
        if (!inside && isfinite(since)) {
            any |= write_band(s, "keepout", since, sample->time, range);
            since = INFINITY;
        }
    }
    if (isfinite(since))
        any |= write_band(s, "keepout", since, INFINITY, range);
    if (any)
        add_name(s, fmin(range.high, s->panel->high), "keep-out %.*s", cli_utf8_cut(box->name, 12),
                 box->name);
}

static void write_axis(sheet *s)
{
    const slew_keepout *keepout = &s->single->scenario->keepout;
    write_stops(s);
    write_home(s);
    write_goals(s);
    for (int i = 0; i < keepout->count; i++)
        write_box(s, &keepout->box[i]);
}

/* ---- the lower panels: without inductance, peaks and dips are a little too sharp ---- */

static void name_current(sheet *s)
{
    double stall = cli_single_setup(s->single)->controller.stall_current;
    add_name(s, stall, "stall current %.3g A", stall);
    add_name(s, 0.99 * s->panel->high, "peaks: at most this");
    add_name(s, 0.36 * s->panel->high, "solid: elevation");
    add_name(s, 0.12 * s->panel->high, "dashed: rotation");
}

static void name_voltage(sheet *s)
{
    double floor = cli_single_floor(s->single);
    add_name(s, s->panel->high, "dips: at least this");
    add_name(s, floor, "minimum %.4g V", floor);
}

void cli_bands_write(FILE *bands, FILE *names, const cli_single *single,
                     const cli_panel panel[CLI_PANELS])
{
    sheet s = {.bands = bands, .single = single};
    s.stow_end = cli_single_stows(single) ? cli_single_stow_end(single) : 0;
    for (int p = 0; p < CLI_PANELS; p++) {
        s.panel = &panel[p];
        s.axis = p;
        if (p < SLEW_AXES)
            write_axis(&s);
        else if (p == CLI_PANEL_CURRENT)
            name_current(&s);
        else
            name_voltage(&s);
        if (names != NULL)
            write_names(names, &s);
        s.name_count = 0;
    }
}
