/* pose.c - see pose.h. Hands plots/pose.gp its data, so that the script only draws. */
#include "pose.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "draw/plot.h"
#include "line/report.h"
#include "pose_shapes.h"
#include "pose_sheet.h"
#include "single/heading.h"
#include "single/outcome_sentence.h"
#include "tell/append.h"
#include "tell/provenance.h"
#include "tell/units.h"

/* ---- above the whole ---- */

/* "Stowed where it should be: 2 of 3; deployed where it should be: 1 of 2" */
static void say_how_many(const cli_sheet *s, char *text, size_t size)
{
    int stows = 0, stowed = 0, deploys = 0, deployed = 0;
    for (int i = 0; i < s->count; i++) {
        const cli_single *single = s->pose[i].single;
        stows += cli_single_stows(single);
        deploys += cli_single_deploys(single);
        stowed += cli_single_stows(single) &&
                  slew_part_ok(&single->prepared.stow_setup, &single->result.stow);
        deployed += cli_single_deploys(single) &&
                    slew_part_ok(&single->prepared.deploy_setup, &single->result.deploy);
    }
    snprintf(text, size, "%s: %d of %d",
             stows > 0 ? "Stowed where it should be" : "Where it should be",
             stows > 0 ? stowed : deployed, stows > 0 ? stows : deploys);
    if (stows > 0 && deploys > 0)
        cli_append(text, size, "; deployed where it should be: %d of %d", deployed, deploys);
}

static void set_origin(const cli_pose *pose, cli_plot *plot)
{
    char text[CLI_PROVENANCE_MAX];
    const cli_fan *fan = pose->fan;
    cli_provenance_words(pose->single->scenario, fan != NULL ? &fan->sampling : NULL,
                         fan != NULL ? fan->rest.done : 0, text);
    cli_plot_set_text(plot, "origin", text);
}

static void set_headings(const cli_sheet *s, cli_plot *plot)
{
    char text[2 * CLI_SENTENCE_MAX];
    if (s->count > 1) {
        say_how_many(s, text, sizeof text);
        cli_plot_set_text(plot, "heading_1", text);
    } else {
        cli_heading_set(plot, s->pose[0].single);
        cli_fan_sentence(&s->pose[0], text, sizeof text);
        cli_plot_set_text(plot, "heading_4", text);
        set_origin(&s->pose[0], plot);
    }
}

/* ---- the legend tells only what is there ---- */

static void set_fan_legend(cli_plot *plot, const cli_fan *fan)
{
    char text[120];
    int64_t each = (fan->rest.done + CLI_FAN_LINES_MAX - 1) / CLI_FAN_LINES_MAX;
    if (each > 1)
        snprintf(text, sizeof text, "where it rests on other days, one line for about %" PRId64,
                 each);
    else
        snprintf(text, sizeof text, "where it rests on other days, one line for each");
    cli_plot_set(plot, "has_fan=1");
    cli_plot_set_text(plot, "fan_words", text);
}

static void set_legend(const cli_sheet *s, cli_plot *plot)
{
    cli_plot_set(plot, "has_keepout=%d", cli_sheet_has(s, CLI_MARK_KEEPOUT));
    cli_plot_set(plot, "has_elsewhere=%d", cli_sheet_has(s, CLI_MARK_ELSEWHERE));
    for (int i = 0; i < s->count; i++)
        if (s->pose[i].fan != NULL)
            set_fan_legend(plot, s->pose[i].fan);
}

/* ---- data ---- */

static bool write_dial(const cli_sheet *s, int axis, int i, FILE *shapes, FILE *fan)
{
    const cli_dial *dial = &s->dial[axis][i];
    if (s->pose[i].why_not != NULL || !s->shows[axis])
        return true;
    cli_shapes_write(shapes, i, dial);
    return s->pose[i].fan == NULL || cli_shapes_write_fan(fan, i, dial, s->pose[i].fan);
}

static bool write_shapes(const cli_sheet *s, cli_plot *plot)
{
    FILE *shapes = cli_plot_data(plot, "shapes.csv");
    FILE *fan = shapes != NULL ? cli_plot_data(plot, "fan.csv") : NULL;
    bool written = fan != NULL;
    if (written) {
        cli_shapes_begin(shapes);
        cli_shapes_begin(fan);
    }
    for (int axis = 0; axis < SLEW_AXES; axis++)
        for (int i = 0; i < s->count && written; i++)
            written = write_dial(s, axis, i, shapes, fan);
    return written;
}

static bool write_letters(const cli_sheet *s, cli_plot *plot)
{
    FILE *letters = cli_plot_data(plot, "letters.csv");
    bool written = letters != NULL;
    if (written)
        cli_letters_begin(letters);
    for (int axis = 0; axis < SLEW_AXES; axis++)
        for (int i = 0; i < s->count && written; i++)
            if (s->pose[i].why_not == NULL)
                written = cli_letters_write(letters, &s->dial[axis][i], s->pose[i].fan);
    return written;
}

/* ---- the picture ---- */

static void set_sizes(const cli_sheet *s, cli_plot *plot)
{
    cli_plot_set(plot, "width=%.12g", s->width);
    cli_plot_set(plot, "height=%.12g", s->height);
    cli_plot_set(plot, "size=%.12g", s->size);
    cli_plot_set(plot, "lines=%d", (int)(s->height / CLI_CELL_HEIGHT));
}

/* a keep-out zone between the stop and the stow point, too narrow to be seen on the dial [deg] */
static void set_lens_keepout(const cli_sheet *s, int axis, cli_plot *plot)
{
    const cli_marks *marks = &s->dial[axis][0].marks;
    for (int i = 0; i < marks->count; i++) {
        const cli_mark *m = &marks->mark[i];
        if (m->kind != CLI_MARK_KEEPOUT)
            continue;
        cli_plot_set(plot, "lens_keepout_low=%.12g", cli_degrees(m->range.low));
        cli_plot_set(plot, "lens_keepout_high=%.12g", cli_degrees(m->range.high));
        return;
    }
}

/* the close-up: from the hard stop to the stow point and where it rests [deg] */
static void set_lens(const cli_sheet *s, cli_plot *plot)
{
    const cli_single *single = s->pose[0].single;
    int axis = cli_sheet_axis(s);
    const slew_range *stops = &single->prepared.stow_setup.axis[axis].stops;
    const slew_stow *stow = &single->scenario->stow;
    double point = stow->point[axis];
    double stop = point - stops->low < stops->high - point ? stops->low : stops->high;
    if (s->lens.right <= s->lens.left)
        return;
    cli_plot_set(plot, "lens_left=%.12g", s->lens.left);
    cli_plot_set(plot, "lens_right=%.12g", s->lens.right);
    cli_plot_set(plot, "lens_bottom=%.12g", s->lens.bottom);
    cli_plot_set(plot, "lens_top=%.12g", s->lens.top);
    cli_plot_set(plot, "lens_stop=%.12g", cli_degrees(stop));
    cli_plot_set(plot, "lens_point=%.12g", cli_degrees(point));
    cli_plot_set(plot, "lens_tolerance=%.12g", cli_degrees(stow->tolerance));
    cli_plot_set(plot, "lens_rest=%.12g", cli_degrees(single->result.stow.angle[axis]));
    set_lens_keepout(s, axis, plot);
}

static bool fill(cli_plot *plot, const void *what)
{
    const cli_sheet *s = what;
    set_headings(s, plot);
    set_legend(s, plot);
    set_sizes(s, plot);
    set_lens(s, plot);
    return cli_plot_table(plot, "texts.csv", cli_texts_write, s) && write_shapes(s, plot) &&
           (!s->is_terminal || write_letters(s, plot));
}

int cli_pose_draw(const cli_options *options, int count, const cli_pose pose[])
{
    const cli_picture picture = {
        options->pose, options->slide, "pose.gp",
        "Where the barrel rests and where it should, from the side and from above"};
    cli_sheet *s = calloc(1, sizeof *s);
    if (s == NULL)
        return cli_no_memory();
    s->count = count;
    s->pose = pose;
    s->is_terminal = strcmp(options->pose, "-") == 0;
    s->is_slide = options->slide;
    cli_sheet_lay_out(s, cli_plot_columns());
    int code = cli_plot_draw(&picture, fill, s);
    free(s);
    return code;
}
