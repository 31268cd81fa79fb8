/* pose_marks.c - see pose_marks.h. */
#include "pose_marks.h"

#include <stdarg.h>
#include <stdio.h>

#include "single/outcome_sentence.h"
#include "tell/append.h"
#include "tell/units.h"
#include "tell/utf8.h"

static const char *const words[CLI_MARK_KINDS] = {
    [CLI_MARK_STOP] = "stop",       [CLI_MARK_HOME] = "home",
    [CLI_MARK_POINT] = "point",     [CLI_MARK_TARGET] = "target",
    [CLI_MARK_KEEPOUT] = "keepout", [CLI_MARK_ELSEWHERE] = "elsewhere",
    [CLI_MARK_START] = "start",     [CLI_MARK_TAUGHT] = "taught",
    [CLI_MARK_STOWED] = "stowed",   [CLI_MARK_DEPLOYED] = "deployed",
};

const char *cli_mark_word(cli_mark_kind kind)
{
    return words[kind];
}

bool cli_marks_have(const cli_marks *marks, cli_mark_kind kind)
{
    for (int i = 0; i < marks->count; i++)
        if (marks->mark[i].kind == kind)
            return true;
    return false;
}

bool cli_marks_matter(const cli_marks *marks)
{
    for (int i = 0; i < marks->count; i++)
        if (marks->mark[i].label.trouble || marks->mark[i].kind == CLI_MARK_KEEPOUT)
            return true;
    return false;
}

/* the text of a new mark; named at its middle until tie_names finds better */
static cli_mark *add(cli_marks *marks, cli_mark_kind kind, slew_range range, const char *format,
                     ...)
{
    va_list arguments;
    cli_mark *m = &marks->mark[marks->count++];
    *m = (cli_mark){.kind = kind, .range = range, .named_at = (range.low + range.high) / 2};
    va_start(arguments, format);
    vsnprintf(m->label.text, sizeof m->label.text, format, arguments);
    va_end(arguments);
    return m;
}

static slew_range around(double middle, double reach)
{
    return (slew_range){middle - reach, middle + reach};
}

static bool is_inside(double angle, slew_range range)
{
    return angle >= range.low && angle <= range.high;
}

static const double PI = 3.14159265358979323846;

/* ---- the machine ---- */

static void add_stops(cli_marks *marks, int axis, bool brief)
{
    const double at[] = {marks->stops.low, marks->stops.high};
    for (int i = 0; i < 2; i++)
        add(marks, CLI_MARK_STOP, around(at[i], 0), "%s %.4g\u00B0",
            brief || axis == SLEW_ROTATION ? "stop" : cli_stop_in_words(axis, i == 0 ? -1 : 1),
            cli_degrees(at[i]));
}

/* the window as it acts: from its magnet, if that is given; a whole turn at most */
static void add_home(cli_marks *marks, const cli_single *single, int axis)
{
    const slew_plant_model *model =
        cli_single_stows(single) ? &single->prepared.stow : &single->prepared.deploy;
    const slew_home *home = &model->axis[axis].home;
    add(marks, CLI_MARK_HOME, around(home->angle, fmin(home->operate, PI)), "home%s",
        !home->present ? " (dead)"
        : home->stuck  ? " (stuck)"
                       : "");
}

/* ---- where it should rest ---- */

static void add_goals(cli_marks *marks, const cli_single *single, int axis, bool brief)
{
    const slew_stow *stow = &single->scenario->stow;
    const slew_range *target = &single->scenario->deploy.target[axis];
    if (cli_single_stows(single) && stow->has_point) {
        cli_mark *m = add(marks, CLI_MARK_POINT, around(stow->point[axis], stow->tolerance),
                          "stow point %.4g\u00B0", cli_degrees(stow->point[axis]));
        if (!brief)
            snprintf(m->label.text, sizeof m->label.text, "stow point %.4g \u00B1 %.3g\u00B0",
                     cli_degrees(stow->point[axis]), cli_degrees(stow->tolerance));
    }
    if (cli_single_deploys(single)) {
        cli_mark *m = add(marks, CLI_MARK_TARGET, *target, "target");
        if (!brief)
            snprintf(m->label.text, sizeof m->label.text, "target %.4g to %.4g\u00B0",
                     cli_degrees(target->low), cli_degrees(target->high));
    }
}

/* ---- where it rests ---- */

typedef struct rest {
    const slew_part *part;
    const slew_setup *setup;
    cli_mark_kind kind;
    bool begun; /* the part was begun: its angles mean something */
} rest;

static void rests_of(const cli_single *single, rest out[2])
{
    out[0] = (rest){&single->result.stow, &single->prepared.stow_setup, CLI_MARK_STOWED,
                    cli_single_stows(single)};
    out[1] = (rest){&single->result.deploy, &single->prepared.deploy_setup, CLI_MARK_DEPLOYED,
                    cli_single_deploy_begun(single)};
}

static const char *rest_in_words(const rest *r, bool brief)
{
    bool is_stow = r->kind == CLI_MARK_STOWED;
    if (!r->part->holds)
        return "does not hold";
    if (r->part->says == SLEW_FAULTED)
        return brief ? "fault" : is_stow ? "stow fault" : "deploy fault";
    return is_stow ? "stowed" : "deployed";
}

static bool is_missed(const cli_single *single, const rest *r, int axis)
{
    const slew_stow *stow = &single->scenario->stow;
    double angle = r->part->angle[axis];
    if (r->kind == CLI_MARK_DEPLOYED)
        return !is_inside(angle, single->scenario->deploy.target[axis]);
    return stow->has_point && !(fabs(angle - stow->point[axis]) <= stow->tolerance);
}

static void add_rest(cli_marks *marks, const cli_single *single, const rest *r, int axis,
                     bool brief)
{
    double angle = r->part->angle[axis];
    bool on_stop = slew_stop_under(r->setup, axis, angle) != 0;
    cli_mark *m = add(marks, r->kind, around(angle, 0), "%s %.1f\u00B0%s", rest_in_words(r, brief),
                      cli_tenths(angle),
                      !on_stop ? ""
                      : brief  ? ", on stop"
                               : ", on the stop");
    m->label.trouble = on_stop || is_missed(single, r, axis);
}

static void add_rests(cli_marks *marks, const cli_single *single, int axis, bool brief)
{
    rest rests[2];
    rests_of(single, rests);
    double start = cli_single_setup(single)->axis[axis].start;
    add(marks, CLI_MARK_START, around(start, 0), "start %.4g\u00B0", cli_degrees(start));
    const slew_stow *stow = &single->scenario->stow;
    if (cli_single_stows(single) && stow->has_point)
        add(marks, CLI_MARK_TAUGHT, around(stow->point[axis], 0), "%s", "");
    for (int i = 0; i < 2; i++)
        if (rests[i].begun)
            add_rest(marks, single, &rests[i], axis, brief);
}

/* ---- where it must not be ---- */

/* what a box has to do with where the axes rest */
typedef struct nearness {
    int begun, across, inside; /* parts: begun; with the other axis in the box; wholly in it */
    int part;                  /* the last of those in it, or across: 0 the stow, 1 the deploy */
} nearness;

static nearness near_box(const cli_single *single, const slew_keepout_box *box, int axis)
{
    nearness n = {0};
    rest rests[2];
    rests_of(single, rests);
    for (int i = 0; i < 2; i++) {
        const double *angle = rests[i].part->angle;
        bool across = rests[i].begun && is_inside(angle[!axis], box->axis[!axis]);
        bool inside = across && is_inside(angle[axis], box->axis[axis]);
        if (inside || (across && n.inside == 0))
            n.part = i;
        n.begun += rests[i].begun;
        n.across += across;
        n.inside += inside;
    }
    return n;
}

/* What lies beyond the stops is left to them. A box that spans the axis and does not count here has
 * nothing to show. */
static void add_box(cli_marks *marks, const cli_single *single, const slew_keepout_box *box,
                    int axis, bool brief)
{
    const slew_range *own = &box->axis[axis];
    slew_range shown = {fmax(own->low, marks->stops.low), fmin(own->high, marks->stops.high)};
    nearness n = near_box(single, box, axis);
    int letters = cli_utf8_cut(box->name, brief ? 12 : 14);
    if (shown.low > shown.high || (n.across == 0 && isinf(own->low) && isinf(own->high)))
        return;
    if (n.across == 0)
        add(marks, CLI_MARK_ELSEWHERE, shown, "(%.*s)", letters, box->name);
    else if (n.inside == 0 && (n.across == n.begun || brief))
        add(marks, CLI_MARK_KEEPOUT, shown, "%.*s", letters, box->name);
    else if (n.inside == 0)
        add(marks, CLI_MARK_KEEPOUT, shown, "%.*s, %s", letters, box->name,
            n.part == 0 ? "stow" : "deploy");
    else
        add(marks, CLI_MARK_KEEPOUT, shown, "%.*s,%s inside", letters, box->name,
            n.inside == 2 ? ""
            : n.part == 0 ? " stowed"
                          : " deployed")
            ->label.trouble = true;
}

/* how much a box matters: the barrel in it, that it counts where it rests, neither */
static int rank(const cli_mark *m)
{
    return m->kind == CLI_MARK_ELSEWHERE ? 2 : m->kind == CLI_MARK_KEEPOUT && !m->label.trouble;
}

/* with many boxes only the most important have names, the last of them counts the others */
static void spare_names(cli_marks *marks, int most)
{
    cli_mark *last = NULL;
    int named = 0, unnamed = 0;
    for (int wanted = 0; wanted <= 2; wanted++)
        for (int i = 0; i < marks->count; i++) {
            cli_mark *m = &marks->mark[i];
            bool is_box = m->kind == CLI_MARK_KEEPOUT || m->kind == CLI_MARK_ELSEWHERE;
            if (!is_box || rank(m) != wanted)
                continue;
            if (named++ < most)
                last = m;
            else {
                m->label.text[0] = '\0';
                unnamed++;
            }
        }
    if (unnamed > 0)
        cli_append(last->label.text, sizeof last->label.text, ", %d more", unnamed);
}

/* ---- where the texts are tied to sectors ---- */

static double distance_to_rests(const cli_marks *marks, double angle)
{
    double least = INFINITY;
    for (int i = 0; i < marks->count; i++)
        if (marks->mark[i].kind >= CLI_MARK_STOWED)
            least = fmin(least, fabs(marks->mark[i].range.low - angle));
    return least;
}

/* near the end of the sector that is farther from the barrels; in the plan view of one that is
 * ahead, what belongs to the deploy on the right, all else on the left */
static void tie_name(const cli_marks *marks, int axis, cli_mark *m)
{
    double span = m->range.high - m->range.low;
    double low = m->range.low + 0.05 * span, high = m->range.high - 0.05 * span;
    if (axis == SLEW_ROTATION && low < 0 && high > 0)
        m->named_at = m->kind == CLI_MARK_TARGET ? high : low;
    else
        m->named_at = distance_to_rests(marks, low) > distance_to_rests(marks, high) ? low : high;
}

void cli_marks_fill(const cli_single *single, int axis, bool brief, cli_marks *out)
{
    const slew_axis_setup *setup = &cli_single_setup(single)->axis[axis];
    const slew_keepout *keepout = &single->scenario->keepout;
    *out = (cli_marks){.stops = setup->stops};
    add_stops(out, axis, brief);
    add_home(out, single, axis);
    add_goals(out, single, axis, brief);
    add_rests(out, single, axis, brief);
    for (int i = 0; i < keepout->count; i++)
        add_box(out, single, &keepout->box[i], axis, brief);
    for (int i = 0; i < out->count; i++)
        if (out->mark[i].range.low < out->mark[i].range.high)
            tie_name(out, axis, &out->mark[i]);
    spare_names(out, brief ? 3 : 5);
}
