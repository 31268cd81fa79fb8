/* travel.c - see travel.h. Computes what plots/travel.gp draws, so that the script only draws. */
#include "travel.h"

#include "bands.h"
#include "draw/labels.h"
#include "inset.h"
#include "single/heading.h"
#include "single/outcome_sentence.h"
#include "single/trace.h"
#include "travel_marks.h"

/* the panels' sizes in travel.gp [pixels], on a slide of its one panel in pixels of a sheet whose
 * letters are as large (16 points against 29) */
static const double WIDTH = 1235, HEIGHT[CLI_PANELS] = {220, 300, 138, 138};
static const double SLIDE_WIDTH = 1228 * 16 / 29.0, SLIDE_HEIGHT = 572 * 16 / 29.0;

/* of a terminal, whose letters are all as wide as these */
static const double FRAME_COLUMNS = 12, COLUMN_WIDTH = 12;

static double panel_width(const cli_plot *plot)
{
    if (plot->is_terminal)
        return (cli_plot_columns() - FRAME_COLUMNS) * COLUMN_WIDTH;
    return plot->is_slide ? SLIDE_WIDTH : WIDTH;
}

static void name_panels(const cli_plot *plot, cli_panel panel[CLI_PANELS])
{
    static const char *const names[CLI_PANELS] = {"rotation", "elevation", "current", "voltage"};
    for (int p = 0; p < CLI_PANELS; p++)
        panel[p] = (cli_panel){.name = names[p],
                               .width = panel_width(plot),
                               .height = plot->is_slide ? SLIDE_HEIGHT : HEIGHT[p]};
}

/* the axis that a slide shows: the one that jams, faults, or misses where it should be */
static int shown_axis(const cli_single *single)
{
    const slew_part *parts[] = {&single->result.stow, &single->result.deploy};
    const bool asked[] = {cli_single_stows(single), cli_single_deploy_begun(single)};
    for (int i = 0; i < 2; i++) {
        if (!asked[i])
            continue;
        if (cli_pressed_axis(single, parts[i]) != SLEW_NO_AXIS)
            return cli_pressed_axis(single, parts[i]);
        if (parts[i]->fault != SLEW_FAULT_NONE && parts[i]->axis != SLEW_NO_AXIS)
            return parts[i]->axis;
        for (int axis = 0; axis < SLEW_AXES; axis++)
            if (cli_travel_miss(single, i == 1, axis) != 0)
                return axis;
    }
    return SLEW_ELEVATION;
}

/* ---- variables of the script ---- */

static void set_verdicts(cli_plot *plot, const cli_single *single)
{
    static const char *const words[] = {"stow", "deploy"};
    int part = cli_single_stows(single) ? 0 : 1;
    for (size_t i = 0; i < single->event_count; i++) {
        const slew_event *e = &single->event[i];
        if ((e->kind != SLEW_EVENT_DONE && e->kind != SLEW_EVENT_FAULT) || part > 1)
            continue;
        static const char *const names[] = {"part_1", "part_2"};
        char text[64];
        bool done = e->kind == SLEW_EVENT_DONE;
        snprintf(text, sizeof text, "%s: %s \u2193", words[part],
                 done ? part == 0 ? "reports stowed" : "reports deployed" : "FAULT");
        cli_plot_set_text(plot, names[part], text);
        cli_plot_set(plot, "verdict_%d=%.12g", part + 1, e->time);
        part++;
    }
}

static void set_ranges(cli_plot *plot, const cli_single *single, const cli_panel panel[CLI_PANELS])
{
    cli_plot_set(plot, "t_end=%.12g", panel[0].t_end);
    for (int p = 0; p < CLI_PANELS; p++) {
        cli_plot_set(plot, "%s_low=%.12g", panel[p].name, panel[p].low);
        cli_plot_set(plot, "%s_high=%.12g", panel[p].name, panel[p].high);
    }
    cli_plot_set(plot, "stall=%.12g", cli_single_setup(single)->controller.stall_current);
    cli_plot_set(plot, "floor=%.12g", cli_single_floor(single));
}

/* ---- the picture ---- */

static bool write_data(cli_plot *plot, const cli_single *single, const cli_panel panel[CLI_PANELS])
{
    bool written = cli_plot_table(plot, "trace.csv", cli_trace, single);
    FILE *bands = written ? cli_plot_data(plot, "bands.csv") : NULL;
    FILE *marks = bands != NULL ? cli_plot_data(plot, "marks.csv") : NULL;
    FILE *names = marks != NULL ? cli_plot_data(plot, "names.csv") : NULL;
    if (names == NULL)
        return false;
    cli_bands_begin(bands, names);
    cli_bands_write(bands, names, single, panel);
    cli_travel_marks_begin(marks);
    for (int p = 0; p < CLI_PANELS && written; p++)
        written = cli_travel_marks_write(marks, single, p, &panel[p],
                                         plot->is_slide ? CLI_MARK_ENDS : CLI_MARK_ALL);
    return written;
}

bool cli_travel_fill(cli_plot *plot, const void *what)
{
    const cli_single *single = what;
    cli_panel panel[CLI_PANELS];
    name_panels(plot, panel);
    cli_bands_frame(single, panel);
    cli_heading_set(plot, single);
    set_verdicts(plot, single);
    cli_plot_set_text(plot, "shown", slew_axis_word(shown_axis(single)));
    if (!plot->is_terminal) {
        const cli_inset inset = cli_inset_find(single, panel);
        cli_inset_take(&inset, panel);
        cli_inset_set(plot, &inset, single);
    }
    set_ranges(plot, single, panel);
    return write_data(plot, single, panel);
}
