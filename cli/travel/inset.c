/* inset.c - see inset.h. */
#include "inset.h"

#include "single/outcome_sentence.h"
#include "tell/units.h"

static const double BEFORE = 0.7, AFTER = 0.25;  /* the contact, the motor off [s] */
static const double WIDTH = 0.46, HEIGHT = 0.52; /* shares of the panel */
static const double EDGE = 0.02;                 /* that it keeps from the frame */

/* ---- what jams ---- */

/* the last contact with a stop after which the motor of an axis goes off there */
static void find_push(cli_inset *inset, const cli_single *single)
{
    double contact = NAN;
    for (size_t i = 0; i < single->event_count; i++) {
        const slew_event *e = &single->event[i];
        if (e->axis != inset->axis)
            continue;
        if (e->kind == SLEW_EVENT_STOP_CONTACT)
            contact = e->time;
        if (e->kind == SLEW_EVENT_MOVING)
            contact = NAN;
        if (e->kind == SLEW_EVENT_DRIVE_OFF && !isnan(contact)) {
            inset->contact = contact;
            inset->off = e->time;
        }
    }
}

static int jammed_axis(const cli_single *single)
{
    const slew_part *parts[] = {&single->result.stow, &single->result.deploy};
    const bool asked[] = {cli_single_stows(single), cli_single_deploy_begun(single)};
    for (int i = 0; i < 2; i++)
        if (asked[i] && cli_pressed_axis(single, parts[i]) != SLEW_NO_AXIS)
            return cli_pressed_axis(single, parts[i]);
    return SLEW_NO_AXIS;
}

static void span_angles(cli_inset *inset, const cli_single *single)
{
    inset->low = INFINITY;
    inset->high = -INFINITY;
    for (size_t i = 0; i < single->sample_count; i++) {
        double angle = cli_degrees(single->sample[i].angle[inset->axis]);
        if (single->sample[i].time < inset->from || single->sample[i].time > inset->to)
            continue;
        inset->low = fmin(inset->low, angle);
        inset->high = fmax(inset->high, angle);
    }
    double room = 0.25 * (inset->high - inset->low) + 0.5;
    inset->low -= room;
    inset->high += room;
}

/* ---- where there is room ---- */

static bool covers(const cli_inset *inset, const cli_panel *panel, const slew_sample *s)
{
    double x = cli_panel_x(panel, s->time) / panel->width;
    double y = cli_panel_y(panel, cli_degrees(s->angle[inset->axis])) / panel->height;
    return x > inset->left && x < inset->right && y > inset->bottom && y < inset->top;
}

static int count_covered(const cli_inset *inset, const cli_panel *panel, const cli_single *single)
{
    int count = 0;
    for (size_t i = 0; i < single->sample_count; i++)
        count += covers(inset, panel, &single->sample[i]);
    return count;
}

/* of nine places that which hides least of the course, the uppermost and rightmost of equals */
static void find_place(cli_inset *inset, const cli_panel *panel, const cli_single *single)
{
    int least = -1;
    cli_inset best = *inset;
    for (int up = 2; up >= 0; up--)
        for (int right = 2; right >= 0; right--) {
            cli_inset trial = *inset;
            trial.left = EDGE + (1 - WIDTH - 2 * EDGE) * right / 2;
            trial.right = trial.left + WIDTH;
            trial.bottom = EDGE + (1 - HEIGHT - 2 * EDGE) * up / 2;
            trial.top = trial.bottom + HEIGHT;
            int hidden = count_covered(&trial, panel, single);
            if (least < 0 || hidden < least) {
                least = hidden;
                best = trial;
            }
        }
    *inset = best;
}

cli_inset cli_inset_find(const cli_single *single, const cli_panel panel[CLI_PANELS])
{
    cli_inset inset = {.axis = jammed_axis(single), .contact = NAN};
    if (inset.axis != SLEW_NO_AXIS)
        find_push(&inset, single);
    if (isnan(inset.contact)) {
        inset.axis = SLEW_NO_AXIS;
        return inset;
    }
    inset.from = inset.contact - BEFORE;
    inset.to = inset.off + AFTER;
    span_angles(&inset, single);
    find_place(&inset, &panel[inset.axis], single);
    return inset;
}

/* ---- handed on ---- */

void cli_inset_take(const cli_inset *inset, cli_panel panel[CLI_PANELS])
{
    if (inset->axis == SLEW_NO_AXIS)
        return;
    cli_panel *p = &panel[inset->axis];
    p->taken_left = inset->left * p->width;
    p->taken_right = inset->right * p->width;
    p->taken_bottom = inset->bottom * p->height;
    p->taken_top = inset->top * p->height;
}

void cli_inset_set(cli_plot *plot, const cli_inset *inset, const cli_single *single)
{
    char words[120];
    if (inset->axis == SLEW_NO_AXIS)
        return;
    snprintf(words, sizeof words, "The last second: %.2f s on the stop; a fault needs %.2f s",
             inset->off - inset->contact, cli_single_setup(single)->controller.stall_dwell);
    cli_plot_set_text(plot, "inset_words", words);
    cli_plot_set_text(plot, "inset_axis", slew_axis_word(inset->axis));
    cli_plot_set(plot, "inset_from=%.12g", inset->from);
    cli_plot_set(plot, "inset_to=%.12g", inset->to);
    cli_plot_set(plot, "inset_contact=%.12g", inset->contact);
    cli_plot_set(plot, "inset_off=%.12g", inset->off);
    cli_plot_set(plot, "inset_low=%.12g", inset->low);
    cli_plot_set(plot, "inset_high=%.12g", inset->high);
    cli_plot_set(plot, "inset_left=%.12g", inset->left);
    cli_plot_set(plot, "inset_right=%.12g", inset->right);
    cli_plot_set(plot, "inset_bottom=%.12g", inset->bottom);
    cli_plot_set(plot, "inset_top=%.12g", inset->top);
}
