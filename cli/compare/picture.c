/* picture.c - what plots/compare.gp draws: a column of panels for each scenario. */
#include "answer.h"
#include "closeup.h"
#include "single/event_words.h"
#include "single/outcome_sentence.h"
#include "single/trace.h"
#include "tell/units.h"
#include "travel/bands.h"
#include "travel/travel_marks.h"

/* the sheet of compare.gp [pixels]; heights with and without a close-up, the current has no panel
 */
static const double WIDTH = 1475, GAP = 24;
static const double LOW[CLI_PANELS] = {93, 227, 1, 80}, TALL[CLI_PANELS] = {185, 395, 1, 130};
static const double CLOSEUP_HEIGHT = 207;
/* the same of a slide, whose panel is a close-up or an axis */
static const double SLIDE_WIDTH = 1756, SLIDE_GAP = 40, SLIDE_HEIGHT = 416, SLIDE_POINTS = 29;
static const double LETTER = 10.8; /* of running text, of 16 points, about */
enum { CLOSEUP = CLI_PANELS, ALL_PANELS };

/* one scenario */
typedef struct strip {
    const cli_compared_run *column;
    cli_panel panel[ALL_PANELS];
    char name[ALL_PANELS][24]; /* of the panels: "A.elevation" */
} strip;

typedef struct picture {
    const cli_comparison *comparison;
    int count;
    strip strip[CLI_COLUMNS_MAX];
    cli_closeup closeup;
    double points; /* size of the font in the panels */
    bool is_slide;
} picture;

/* ---- the panels: every strip has the same scales ---- */

static void widen(cli_panel *all, const cli_panel *own)
{
    all->t_end = fmax(all->t_end, own->t_end);
    all->low = fmin(all->low, own->low);
    all->high = fmax(all->high, own->high);
}

static void share_ranges(picture *p)
{
    for (int k = 0; k < CLI_PANELS; k++) {
        cli_panel all = {.t_end = 0, .low = INFINITY, .high = -INFINITY};
        for (int i = 0; i < p->count; i++)
            if (p->strip[i].column->runs)
                widen(&all, &p->strip[i].panel[k]);
        for (int i = 0; i < p->count; i++) {
            cli_panel *own = &p->strip[i].panel[k];
            own->t_end = all.t_end;
            own->low = all.low;
            own->high = all.high;
        }
    }
}

static void name_panels(strip *s)
{
    static const char *const names[] = {"rotation", "elevation", "current", "voltage", "closeup"};
    for (int k = 0; k < ALL_PANELS; k++) {
        snprintf(s->name[k], sizeof s->name[k], "%c.%s", s->column->letter, names[k]);
        s->panel[k].name = s->name[k];
    }
}

static double height_of(const picture *p, int panel)
{
    if (p->is_slide)
        return SLIDE_HEIGHT;
    return panel == CLOSEUP ? CLOSEUP_HEIGHT : p->closeup.is_there ? LOW[panel] : TALL[panel];
}

/* labels.h reckons in pixels of texts of 16 points */
static void size_panels(picture *p)
{
    double scale = 16 / p->points, gap = p->is_slide ? SLIDE_GAP : GAP;
    double width = ((p->is_slide ? SLIDE_WIDTH : WIDTH) - gap * (p->count - 1)) / p->count;
    for (int i = 0; i < p->count; i++)
        for (int k = 0; k < ALL_PANELS; k++) {
            p->strip[i].panel[k].width = width * scale;
            p->strip[i].panel[k].height = height_of(p, k) * scale;
        }
}

/* bands reach to the end of the close-up */
static void frame_closeup(picture *p)
{
    const cli_closeup *c = &p->closeup;
    double t_end = p->strip[0].panel[0].t_end;
    for (int i = 0; i < p->count && c->is_there; i++)
        t_end = fmax(t_end, c->start[i] + c->duration);
    for (int i = 0; i < p->count; i++) {
        for (int k = 0; k < CLI_PANELS; k++)
            p->strip[i].panel[k].t_end = t_end;
        cli_panel *panel = &p->strip[i].panel[CLOSEUP];
        *panel = p->strip[i].panel[c->axis];
        panel->name = p->strip[i].name[CLOSEUP];
        panel->t_start = c->start[i];
        panel->t_end = c->start[i] + c->duration;
        panel->low = c->low;
        panel->high = c->high;
    }
}

static picture lay_out(const cli_comparison *comparison, bool is_slide)
{
    picture p = {
        .comparison = comparison, .count = comparison->columns.count, .is_slide = is_slide};
    p.points = is_slide ? SLIDE_POINTS : p.count <= 3 ? 14 : p.count == 4 ? 13 : 12;
    for (int i = 0; i < p.count; i++) {
        p.strip[i].column = &comparison->columns.column[i];
        if (p.strip[i].column->runs)
            cli_bands_frame(&p.strip[i].column->single, p.strip[i].panel);
    }
    share_ranges(&p);
    const cli_panel *panel = p.strip[0].panel;
    const double low[] = {panel[SLEW_ROTATION].low, panel[SLEW_ELEVATION].low};
    const double high[] = {panel[SLEW_ROTATION].high, panel[SLEW_ELEVATION].high};
    p.closeup = cli_closeup_find(&comparison->columns, low, high);
    frame_closeup(&p);
    size_panels(&p);
    return p;
}

/* ---- when it goes wrong ---- */

/* the verdict of a part that is not where it should be */
static bool is_miss(const cli_single *single, const slew_event *e)
{
    bool is_stow = cli_single_stows(single) && e->time <= cli_single_stow_end(single);
    const slew_part *part = is_stow ? &single->result.stow : &single->result.deploy;
    return e->kind == SLEW_EVENT_DONE && ((part->has_target && !part->on_target) ||
                                          cli_pressed_axis(single, part) != SLEW_NO_AXIS);
}

/* while it searches home an axis may meet a stop and reverse there; what fails then is a fault */
static bool is_of_search(const slew_event *e, const bool found[SLEW_AXES])
{
    bool at_stop = e->kind == SLEW_EVENT_STOP_CONTACT || e->kind == SLEW_EVENT_STALL;
    return at_stop && e->axis != SLEW_NO_AXIS && !found[e->axis];
}

/* the first trouble of a run that does not end well; NaN: all is well [s] */
static double moment_of_trouble(const cli_compared_run *column)
{
    const cli_single *single = &column->single;
    bool no_search = !cli_single_stows(single), found[SLEW_AXES] = {no_search, no_search};
    if (cli_compared_run_outcome(column) == SLEW_OUTCOME_OK)
        return NAN;
    for (size_t i = 0; i < single->event_count; i++) {
        const slew_event *e = &single->event[i];
        if (e->kind == SLEW_EVENT_HOME_FOUND)
            found[e->axis] = true;
        double missed = e->axis != SLEW_NO_AXIS ? cli_travel_missed_home(single, e->axis) : NAN;
        if (e->time >= missed)
            return missed;
        bool is_trouble = cli_event_is_trouble(e->kind) && !is_of_search(e, found);
        if (is_trouble || is_miss(single, e))
            return e->time;
    }
    return NAN;
}

static void set_times(cli_plot *plot, const picture *p, int index)
{
    const cli_compared_run *column = p->strip[index].column;
    double wrong = moment_of_trouble(column);
    if (isfinite(wrong))
        cli_plot_set(plot, "wrong_%c=%.12g", column->letter, wrong);
    if (cli_single_stows(&column->single) && isfinite(cli_single_stow_end(&column->single)))
        cli_plot_set(plot, "verdict_%c=%.12g", column->letter,
                     cli_single_stow_end(&column->single));
    cli_plot_set(plot, "floor_%c=%.12g", column->letter, cli_single_floor(&column->single));
    cli_plot_set(plot, "start_%c=%.12g", column->letter, p->closeup.start[index]);
}

/* the stow point and the hard stop near it, where the close-up shows both */
static void set_dimension(cli_plot *plot, const picture *p, int index)
{
    const cli_compared_run *column = p->strip[index].column;
    const cli_closeup *c = &p->closeup;
    const slew_stow *stow = &column->single.scenario->stow;
    const slew_range *stops = &column->single.prepared.stow_setup.axis[c->axis].stops;
    double point = stow->point[c->axis];
    double stop = point - stops->low < stops->high - point ? stops->low : stops->high;
    if (!c->is_there || !stow->has_point || cli_degrees(stop) < c->low ||
        cli_degrees(stop) > c->high)
        return;
    cli_plot_set(plot, "point_%c=%.12g", column->letter, cli_degrees(point));
    cli_plot_set(plot, "stop_%c=%.12g", column->letter, cli_degrees(stop));
}

/* what the legend is to explain */
static void set_kinds(cli_plot *plot, const picture *p)
{
    bool stows = false, deploys = false, keepout = false, wrong = false;
    for (int i = 0; i < p->count; i++) {
        const cli_compared_run *column = p->strip[i].column;
        if (!column->runs)
            continue;
        stows |= cli_single_stows(&column->single);
        deploys |= cli_single_deploy_begun(&column->single);
        keepout |= column->scenario.keepout.count > 0;
        wrong |= isfinite(moment_of_trouble(column));
    }
    char text[60];
    snprintf(text, sizeof text, "stop%s%s%s%s", stows ? " home point" : "",
             deploys ? " target" : "", keepout ? " keepout" : "", wrong ? " wrong" : "");
    cli_plot_set_text(plot, "kinds", text);
}

/* the axis of a slide without a close-up: the one whose rest differs most */
static int shown_axis(const picture *p)
{
    double apart[SLEW_AXES];
    for (int axis = 0; axis < SLEW_AXES; axis++) {
        double low = INFINITY, high = -INFINITY;
        for (int i = 0; i < p->count; i++) {
            const cli_single *single = &p->strip[i].column->single;
            if (!p->strip[i].column->runs)
                continue;
            double angle = cli_single_deploy_begun(single) ? single->result.deploy.angle[axis]
                                                           : single->result.stow.angle[axis];
            low = fmin(low, angle);
            high = fmax(high, angle);
        }
        apart[axis] = high - low;
    }
    return apart[SLEW_ROTATION] > apart[SLEW_ELEVATION] ? SLEW_ROTATION : SLEW_ELEVATION;
}

static void set_variables(cli_plot *plot, const picture *p)
{
    static const char *const names[CLI_PANELS] = {"rotation", "elevation", NULL, "voltage"};
    const cli_closeup *c = &p->closeup;
    char dangers[CLI_DANGERS_MAX];
    cli_compare_dangers(&p->comparison->columns, dangers);
    cli_plot_caution(plot, dangers);
    cli_compare_headings(plot, p->comparison);
    set_kinds(plot, p);
    cli_plot_set_text(plot, "shown", slew_axis_word(shown_axis(p)));
    cli_plot_set(plot, "count=%d", p->count);
    cli_plot_set(plot, "points=%.12g", p->points);
    cli_plot_set(plot, "t_end=%.12g", p->strip[0].panel[0].t_end);
    for (int k = 0; k < CLI_PANELS; k++) {
        if (names[k] == NULL)
            continue;
        cli_plot_set(plot, "%s_low=%.12g", names[k], p->strip[0].panel[k].low);
        cli_plot_set(plot, "%s_high=%.12g", names[k], p->strip[0].panel[k].high);
    }
    if (c->is_there) {
        cli_plot_set_text(plot, "closeup", slew_axis_word(c->axis));
        cli_plot_set(plot, "closeup_low=%.12g", c->low);
        cli_plot_set(plot, "closeup_high=%.12g", c->high);
        cli_plot_set(plot, "closeup_time=%.12g", c->duration);
        cli_plot_set(plot, "closeup_end=%.12g", c->end);
    }
    for (int i = 0; i < p->count; i++) {
        cli_compare_head(plot, p->strip[i].column, (int)(p->strip[i].panel[0].width / LETTER));
        if (p->strip[i].column->runs) {
            set_times(plot, p, i);
            set_dimension(plot, p, i);
        }
    }
}

/* ---- data ---- */

static bool write_marks(FILE *stream, const picture *p, const strip *s)
{
    const cli_single *single = &s->column->single;
    cli_marking marking = p->is_slide ? CLI_MARK_VERDICTS : CLI_MARK_ENDS;
    bool written = true;
    for (int k = 0; k < CLI_PANELS && written; k++)
        if (k != CLI_PANEL_CURRENT)
            written = cli_travel_marks_write(stream, single, k, &s->panel[k], marking);
    if (p->closeup.is_there && written)
        written =
            cli_travel_marks_write(stream, single, p->closeup.axis, &s->panel[CLOSEUP], marking);
    return written;
}

static bool write_data(cli_plot *plot, const picture *p)
{
    static const char *const files[CLI_COLUMNS_MAX] = {"A.csv", "B.csv", "C.csv",
                                                       "D.csv", "E.csv", "F.csv"};
    FILE *bands = cli_plot_data(plot, "bands.csv");
    FILE *marks = bands != NULL ? cli_plot_data(plot, "marks.csv") : NULL;
    bool written = marks != NULL;
    if (written) {
        cli_bands_begin(bands, NULL);
        cli_travel_marks_begin(marks);
    }
    for (int i = 0; i < p->count && written; i++) {
        const strip *s = &p->strip[i];
        if (!s->column->runs)
            continue;
        cli_bands_write(bands, NULL, &s->column->single, s->panel);
        written = cli_plot_table(plot, files[i], cli_trace, &s->column->single) &&
                  write_marks(marks, p, s);
    }
    return written;
}

bool cli_compare_fill(cli_plot *plot, const void *comparison)
{
    picture p = lay_out(comparison, plot->is_slide);
    for (int i = 0; i < p.count; i++)
        name_panels(&p.strip[i]);
    set_variables(plot, &p);
    return write_data(plot, &p);
}
