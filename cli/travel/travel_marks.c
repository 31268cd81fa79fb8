/* travel_marks.c - see travel_marks.h. */
#include "travel_marks.h"

#include <stdlib.h>
#include <string.h>

#include "line/report.h"
#include "single/event_words.h"
#include "single/outcome_sentence.h"
#include "tell/csv.h"
#include "tell/units.h"
#include "tell/utf8.h"

enum { MARKS_MAX = 64 };
static const double WIDE = 600; /* a panel that has room for a sentence [pixels] */

/* where an event is marked; a verdict on both axes */
static bool is_marked_on(const cli_single *single, const slew_event *e, int panel)
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
        const slew_range *elevation = &single->scenario->keepout.box[e->box].axis[SLEW_ELEVATION];
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

double cli_travel_miss(const cli_single *single, bool is_deploy, int axis)
{
    const slew_part *part = is_deploy ? &single->result.deploy : &single->result.stow;
    const slew_stow *stow = &single->scenario->stow;
    slew_range goal = single->scenario->deploy.target[axis];
    if (!is_deploy)
        goal =
            (slew_range){stow->point[axis] - stow->tolerance, stow->point[axis] + stow->tolerance};
    if (!part->has_target || part->on_target)
        return 0;
    return fmax(fmax(goal.low - part->angle[axis], part->angle[axis] - goal.high), 0);
}

/* how long an axis that ends up jammed pushes on its stop before the motor is off [s]; 0: another
 * event */
static double pushing(const cli_single *single, const slew_event *e, const slew_part *part)
{
    if (e->kind != SLEW_EVENT_STOP_CONTACT || cli_pressed_axis(single, part) != e->axis)
        return 0;
    for (const slew_event *next = e; next < single->event + single->event_count; next++)
        if (next->kind == SLEW_EVENT_DRIVE_OFF && next->axis == e->axis)
            return next->time - e->time;
    return 0;
}

/* a verdict's text is the place at which the axis then rests, and how far off that is */
static void mark_text(const cli_single *single, const slew_event *e, int panel, bool is_deploy,
                      bool is_wide, char text[CLI_LABEL_TEXT_MAX])
{
    const slew_part *part = is_deploy ? &single->result.deploy : &single->result.stow;
    char words[CLI_WORDS_MAX];
    double pushed = pushing(single, e, part);
    cli_event_mark(single, e, words);
    double miss = e->kind == SLEW_EVENT_DONE ? cli_travel_miss(single, is_deploy, panel) : 0;
    if (miss > 0)
        snprintf(text, CLI_LABEL_TEXT_MAX, "%.1f\u00B0, off by %.1f\u00B0",
                 cli_degrees(part->angle[panel]), cli_degrees(miss));
    else if (e->kind == SLEW_EVENT_DONE)
        snprintf(text, CLI_LABEL_TEXT_MAX, "%.1f\u00B0", cli_degrees(part->angle[panel]));
    else if (pushed > 0 && is_wide)
        snprintf(text, CLI_LABEL_TEXT_MAX, "%.40s: %.2f s; a fault needs %.2f s", words, pushed,
                 cli_single_setup(single)->controller.stall_dwell);
    else
        snprintf(text, CLI_LABEL_TEXT_MAX, "%.*s", CLI_LABEL_TEXT_MAX - 1, words);
}

/* for a sentence: in a wide panel, unless another drawing in it has that sentence */
static bool has_room(const cli_panel *frame)
{
    return frame->width > WIDE && frame->taken_right <= 0;
}

/* one text for what happens at one place, where there is room for it: "hits the lower stop, stall,
 * FAULT" */
static bool joins(cli_label *last, const cli_label *next, const cli_panel *frame)
{
    if (hypot(last->x - next->x, last->y - next->y) > 45)
        return false;
    if (strlen(last->text) + strlen(next->text) + 3 > sizeof last->text ||
        cli_label_width(last) + cli_label_width(next) > frame->width)
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

/* a text wider than its panel ends in dots */
static void cut_to_fit(cli_label *label, const cli_panel *frame)
{
    static const char dots[] = "\u2026";
    for (int letters = cli_utf8_count(label->text); cli_label_width(label) > frame->width;)
        strcpy(label->text + cli_utf8_cut(label->text, --letters - 1), dots);
}

static bool is_inside(const cli_panel *frame, const cli_label *label)
{
    return label->x >= 0 && label->x <= frame->width && label->y >= 0 && label->y <= frame->height;
}

static bool is_wanted(const cli_single *single, const slew_event *e, int panel, cli_marking marking)
{
    bool is_verdict = e->kind == SLEW_EVENT_DONE || e->kind == SLEW_EVENT_FAULT;
    bool is_end = is_verdict || cli_event_is_trouble(e->kind);
    bool is_told = marking == CLI_MARK_ALL || (marking == CLI_MARK_ENDS ? is_end : is_verdict);
    return is_told && is_marked_on(single, e, panel);
}

/* the first sample after an axis has passed the middle of a home window whose sensor is dead */
static const slew_sample *missed_home(const cli_single *single, int axis)
{
    const slew_home *home = &single->prepared.stow.axis[axis].home;
    if (home->present || !cli_single_stows(single))
        return NULL;
    for (size_t i = 1; i < single->sample_count; i++) {
        const slew_sample *before = &single->sample[i - 1], *s = &single->sample[i];
        if (s->time <= cli_single_stow_end(single) &&
            (before->angle[axis] - home->angle) * (s->angle[axis] - home->angle) < 0)
            return s;
    }
    return NULL;
}

double cli_travel_missed_home(const cli_single *single, int axis)
{
    const slew_sample *s = missed_home(single, axis);
    return s != NULL ? s->time : NAN;
}

static void mark_missed_home(const cli_single *single, int axis, const cli_panel *frame,
                             cli_label labels[MARKS_MAX], int *count)
{
    const slew_sample *s = missed_home(single, axis);
    if (s == NULL || *count == MARKS_MAX)
        return;
    cli_label label = {.x = cli_panel_x(frame, s->time),
                       .y = cli_panel_y(frame, cli_degrees(s->angle[axis])),
                       .trouble = true,
                       .text = "passes home: not seen"};
    cut_to_fit(&label, frame);
    if (is_inside(frame, &label))
        labels[(*count)++] = label;
}

/* it rests outside of where it should, or pushes on its stop */
static bool ends_wrong(const cli_single *single, bool is_deploy, int axis)
{
    const slew_part *part = is_deploy ? &single->result.deploy : &single->result.stow;
    return cli_travel_miss(single, is_deploy, axis) > 0 || cli_pressed_axis(single, part) == axis;
}

static int collect_marks(const cli_single *single, int panel, const cli_panel *frame,
                         cli_marking marking, cli_label labels[MARKS_MAX])
{
    double stow_end = cli_single_stows(single) ? cli_single_stow_end(single) : -INFINITY;
    int count = 0;
    for (size_t i = 0; i < single->event_count && count < MARKS_MAX; i++) {
        const slew_event *e = &single->event[i];
        cli_label label = {.trouble = cli_event_is_trouble(e->kind)};
        if (!is_wanted(single, e, panel, marking))
            continue;
        if (e->kind == SLEW_EVENT_DONE)
            label.trouble = ends_wrong(single, e->time > stow_end, panel);
        mark_text(single, e, panel, e->time > stow_end, has_room(frame), label.text);
        label.x = cli_panel_x(frame, e->time);
        label.y = cli_panel_y(frame, value_at(panel, e));
        if (label.text[0] == '\0' || !is_inside(frame, &label))
            continue;
        cut_to_fit(&label, frame);
        if (count == 0 || !joins(&labels[count - 1], &label, frame))
            labels[count++] = label;
    }
    if (panel < SLEW_AXES && marking != CLI_MARK_VERDICTS)
        mark_missed_home(single, panel, frame, labels, &count);
    return count;
}

/* ---- rows of marks.csv ---- */

typedef struct mark {
    const cli_panel *frame;
    const cli_label *label;
} mark;

static void tell_mark(cli_teller *t, const void *what)
{
    const mark *m = what;
    const cli_label *l = m->label;
    cli_tell_text(t, "panel", m->frame->name);
    cli_tell_text(t, "kind", l->trouble ? "trouble" : "plain");
    cli_tell_number(t, "time_s", cli_panel_time(m->frame, l->x));
    cli_tell_number(t, "value", cli_panel_value(m->frame, l->y));
    cli_tell_number(t, "text_s", cli_panel_time(m->frame, l->text_x));
    cli_tell_number(t, "text_value", cli_panel_value(m->frame, l->text_y));
    cli_tell_number(t, "end_s", cli_panel_time(m->frame, l->end_x));
    cli_tell_number(t, "end_value", cli_panel_value(m->frame, l->end_y));
    cli_tell_text(t, "text", l->text);
}

void cli_travel_marks_begin(FILE *stream)
{
    cli_csv_names(stream, tell_mark, &(mark){&(cli_panel){0}, &(cli_label){0}});
}

bool cli_travel_marks_write(FILE *stream, const cli_single *single, int panel,
                            const cli_panel *frame, cli_marking marking)
{
    cli_label labels[MARKS_MAX];
    cli_point *curve = malloc((single->sample_count + 1) * sizeof *curve);
    if (curve == NULL) {
        cli_no_memory();
        return false;
    }
    for (size_t i = 0; i < single->sample_count; i++)
        curve[i] = (cli_point){cli_panel_x(frame, single->sample[i].time),
                               cli_panel_y(frame, cli_shown(panel, &single->sample[i]))};
    int count = collect_marks(single, panel, frame, marking, labels);
    cli_labels_place(frame, labels, count, curve, single->sample_count);
    for (int i = 0; i < count; i++)
        cli_csv_values(stream, tell_mark, &(mark){frame, &labels[i]});
    free(curve);
    return true;
}
