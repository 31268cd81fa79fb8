/* travel.c - see travel.h. Computes what plots/travel.gp draws, so that the script only draws. */
#include "travel.h"

#include <stdlib.h>
#include <string.h>

#include "bands.h"
#include "command.h"
#include "csv.h"
#include "eventwords.h"
#include "finding.h"
#include "labels.h"
#include "letters.h"
#include "origin.h"
#include "plot.h"
#include "report.h"
#include "slewtime/slewtime.h"
#include "trace.h"

/* the panels' sizes in travel.gp [pixels] */
static const double WIDTH = 1235, HEIGHT[CLI_PANELS] = {220, 300, 138, 138};
enum { MARKS_MAX = 64 };

/* ---- what each panel shows ---- */

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

static const slew_controller_settings *controller_of(const cli_story *story)
{
    return cli_story_stows(story) ? &story->prepared.stow_setup.controller
                                  : &story->prepared.deploy_setup.controller;
}

static void frame_panels(const cli_story *story, cli_panel panel[CLI_PANELS])
{
    static const char *const names[CLI_PANELS] = {"rotation", "elevation", "current", "voltage"};
    for (int p = 0; p < CLI_PANELS; p++) {
        panel[p] = (cli_panel){names[p], WIDTH,     HEIGHT[p], 1.01 * story->result.end + 0.01,
                               INFINITY, -INFINITY, -INFINITY, INFINITY};
        for (size_t i = 0; i < story->sample_count; i++) {
            double value = cli_shown(p, &story->sample[i]);
            panel[p].low = fmin(panel[p].low, value);
            panel[p].high = fmax(panel[p].high, value);
        }
    }
    cli_panel *current = &panel[CLI_PANEL_CURRENT], *voltage = &panel[CLI_PANEL_VOLTAGE];
    current->low = 0;
    current->high = 1.2 * fmax(current->high, controller_of(story)->stall_current);
    voltage->low = fmin(voltage->low, cli_story_floor(story)) - 0.5;
    voltage->high = fmax(voltage->high, cli_story_floor(story)) + 0.5;
}

/* ---- marks ---- */

/* where an event is marked; a verdict on both axes */
static bool is_marked_on(const cli_story *story, const slew_event *e, int panel)
{
    switch (e->kind) {
    case SLEW_EVENT_LOW_VOLTAGE:
    case SLEW_EVENT_BROWNOUT:
        return panel == CLI_PANEL_VOLTAGE;
    case SLEW_EVENT_DONE:
        return panel < SLEW_AXES;
    case SLEW_EVENT_STALL:
        return panel == e->axis || panel == CLI_PANEL_CURRENT;
    case SLEW_EVENT_KEEPOUT_ENTERED: {
        const slew_range *elevation = &story->scenario.keepout.box[e->box].axis[SLEW_ELEVATION];
        return panel == (isfinite(elevation->low) ? SLEW_ELEVATION : SLEW_ROTATION);
    }
    default:
        return panel == (e->axis == SLEW_NO_AXIS ? SLEW_ELEVATION : e->axis);
    }
}

static double value_at(int panel, const slew_event *e)
{
    if (panel == CLI_PANEL_CURRENT)
        return e->current;
    return panel == CLI_PANEL_VOLTAGE ? e->voltage : cli_degrees(e->angle[panel]);
}

/* a verdict's text is the place at which the axis then rests */
static void mark_text(const cli_story *story, const slew_event *e, int panel, bool is_deploy,
                      char text[CLI_LABEL_TEXT_MAX])
{
    const slew_part *part = is_deploy ? &story->result.deploy : &story->result.stow;
    char words[CLI_WORDS_MAX];
    cli_event_mark(story, e, words);
    if (e->kind == SLEW_EVENT_DONE)
        snprintf(text, CLI_LABEL_TEXT_MAX, "%.1f\u00B0", cli_degrees(part->angle[panel]));
    else
        snprintf(text, CLI_LABEL_TEXT_MAX, "%.*s", CLI_LABEL_TEXT_MAX - 1, words);
}

/* one text for what happens at one place: "hits the lower stop, stall, FAULT" */
static bool joins(cli_label *last, const cli_label *next)
{
    if (hypot(last->x - next->x, last->y - next->y) > 45)
        return false;
    if (strlen(last->text) + strlen(next->text) + 3 > sizeof last->text)
        return false;
    if (strstr(last->text, next->text) == NULL) {
        strcat(last->text, ", ");
        strcat(last->text, next->text);
    }
    if (next->trouble && !last->trouble) {
        last->x = next->x;
        last->y = next->y;
        last->trouble = true;
    }
    return true;
}

static int collect_marks(const cli_story *story, int panel, const cli_panel *frame,
                         cli_label labels[MARKS_MAX])
{
    double stow_end = cli_story_stows(story) ? cli_story_stow_end(story) : -INFINITY;
    int count = 0;
    for (size_t i = 0; i < story->event_count && count < MARKS_MAX; i++) {
        const slew_event *e = &story->event[i];
        cli_label label = {.trouble = cli_event_is_trouble(e->kind)};
        if (!is_marked_on(story, e, panel))
            continue;
        mark_text(story, e, panel, e->time > stow_end, label.text);
        if (label.text[0] == '\0')
            continue;
        label.x = cli_panel_x(frame, e->time);
        label.y = cli_panel_y(frame, value_at(panel, e));
        if (count == 0 || !joins(&labels[count - 1], &label))
            labels[count++] = label;
    }
    return count;
}

static void write_mark(FILE *stream, const cli_panel *frame, const cli_label *l)
{
    fprintf(stream, "%s,%s,%.9g,%.9g,%.9g,%.9g,%.9g,%.9g,", frame->name,
            l->trouble ? "trouble" : "plain", cli_panel_time(frame, l->x),
            cli_panel_value(frame, l->y), cli_panel_time(frame, l->text_x),
            cli_panel_value(frame, l->text_y), cli_panel_time(frame, l->end_x),
            cli_panel_value(frame, l->end_y));
    cli_csv_text(stream, l->text);
    fputc('\n', stream);
}

static bool write_marks(FILE *stream, const cli_story *story, const cli_panel panel[CLI_PANELS])
{
    cli_point *curve = malloc((story->sample_count + 1) * sizeof *curve);
    if (curve == NULL)
        return false;
    for (int p = 0; p < CLI_PANELS; p++) {
        cli_label labels[MARKS_MAX];
        for (size_t i = 0; i < story->sample_count; i++)
            curve[i] = (cli_point){cli_panel_x(&panel[p], story->sample[i].time),
                                   cli_panel_y(&panel[p], cli_shown(p, &story->sample[i]))};
        int count = collect_marks(story, p, &panel[p], labels);
        cli_labels_place(&panel[p], labels, count, curve, story->sample_count);
        for (int i = 0; i < count; i++)
            write_mark(stream, &panel[p], &labels[i]);
    }
    free(curve);
    return true;
}

/* ---- variables of the script ---- */

static void say_occasion(const char *part, const slew_setup *setup, char text[80])
{
    snprintf(text, 80, "   |   %s at %.1f V, %.0f \u00B0C%s", part, setup->supply.main.voltage,
             setup->environment.temperature - SLEW_ZERO_CELSIUS,
             setup->nozzle.flowing ? ", water flowing" : "");
}

static void set_heading(cli_plot *plot, const cli_story *story)
{
    char stow[CLI_FINDING_MAX], deploy[CLI_FINDING_MAX], truck[SLEW_TITLE_MAX + 160];
    char origin[CLI_ORIGIN_MAX];
    char stow_day[80] = "", deploy_day[80] = "";
    cli_finding_stow(story, "\u00B0", stow);
    cli_finding_deploy(story, "\u00B0", deploy);
    if (cli_story_stows(story))
        say_occasion("stow", &story->prepared.stow_setup, stow_day);
    if (cli_story_deploys(story))
        say_occasion("deploy", &story->prepared.deploy_setup, deploy_day);
    cli_origin_words(&story->scenario, NULL, 0, origin);
    snprintf(truck, sizeof truck, "%.*s%s%s", cli_letters(story->scenario.title, 80),
             story->scenario.title, stow_day, deploy_day);
    cli_plot_set_text(plot, "heading_1", stow[0] != '\0' ? stow : deploy);
    cli_plot_set_text(plot, "heading_2", stow[0] != '\0' ? deploy : "");
    cli_plot_set_text(plot, "heading_3", truck);
    cli_plot_set_text(plot, "origin", origin);
}

static void set_verdicts(cli_plot *plot, const cli_story *story)
{
    static const char *const words[] = {"stow", "deploy"};
    int part = cli_story_stows(story) ? 0 : 1;
    for (size_t i = 0; i < story->event_count; i++) {
        const slew_event *e = &story->event[i];
        if ((e->kind != SLEW_EVENT_DONE && e->kind != SLEW_EVENT_FAULT) || part > 1)
            continue;
        static const char *const names[] = {"part_1", "part_2"};
        char text[64];
        bool done = e->kind == SLEW_EVENT_DONE;
        snprintf(text, sizeof text, "%s: %s \u2193", words[part],
                 done ? part == 0 ? "says stowed" : "says deployed" : "FAULT");
        cli_plot_set_text(plot, names[part], text);
        cli_plot_set(plot, "verdict_%d=%.9g", part + 1, e->time);
        part++;
    }
}

static void set_ranges(cli_plot *plot, const cli_story *story, const cli_panel panel[CLI_PANELS])
{
    cli_plot_set(plot, "t_end=%.9g", panel[0].t_end);
    for (int p = 0; p < CLI_PANELS; p++) {
        cli_plot_set(plot, "%s_low=%.9g", panel[p].name, panel[p].low);
        cli_plot_set(plot, "%s_high=%.9g", panel[p].name, panel[p].high);
    }
    cli_plot_set(plot, "stall=%.9g", controller_of(story)->stall_current);
    cli_plot_set(plot, "floor=%.9g", cli_story_floor(story));
}

/* ---- the picture ---- */

static int write_data(cli_plot *plot, const cli_story *story, const cli_panel panel[CLI_PANELS])
{
    FILE *trace = cli_plot_data(plot, "trace.csv");
    FILE *bands = trace != NULL ? cli_plot_data(plot, "bands.csv") : NULL;
    FILE *marks = bands != NULL ? cli_plot_data(plot, "marks.csv") : NULL;
    FILE *names = marks != NULL ? cli_plot_data(plot, "names.csv") : NULL;
    if (names == NULL)
        return CLI_OUTSIDE;
    cli_trace(trace, story);
    cli_bands_write(bands, names, story, panel);
    return write_marks(marks, story, panel) ? CLI_OK : cli_no_memory();
}

int cli_travel_picture(const char *path, const cli_story *story)
{
    cli_plot plot;
    cli_panel panel[CLI_PANELS];
    int code = cli_plot_open(&plot);
    if (code != CLI_OK)
        return code;
    frame_panels(story, panel);
    cli_bands_frame(story, panel);
    set_heading(&plot, story);
    set_verdicts(&plot, story);
    set_ranges(&plot, story, panel);
    code = write_data(&plot, story, panel);
    return cli_plot_close(&plot, code, "travel.gp", path);
}
