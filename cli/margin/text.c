/* text.c - the answer of `slewtime margin` as text. */
#include <inttypes.h>
#include <math.h>
#include <stdio.h>

#include "answer.h"
#include "frame/sampling.h"
#include "single/outcome_sentence.h"
#include "single/reason.h"
#include "slewtime/slewtime.h"
#include "tell/caution.h"
#include "tell/table.h"
#include "tell/units.h"

double cli_margin_point(const slew_margin_side *side, int index, const slew_margin_step *step)
{
    return side->stop + (index == 0 ? step->clearance : -step->clearance);
}

/* rare shares have a digit more */
static int decimals(double share)
{
    return !(share > 0) || share >= 1e-3 ? 2 : share >= 1e-4 ? 3 : share >= 1e-5 ? 4 : 5;
}

/* a percent, or blanks where there is none */
static void add_percent(cli_table *t, const char *head, int width, double share)
{
    if (isnan(share))
        cli_table_cell(t, head, "%*s", width, "");
    else
        cli_table_cell(t, head, "%*.*f", width, decimals(share), cli_percent(share));
}

static void add_interval(cli_table *t, const char *head, const slew_share *s)
{
    if (isnan(s->value))
        cli_table_cell(t, head, "%19s", "");
    else
        cli_table_cell(t, head, " (%6.*f to %6.*f)", decimals(s->high), cli_percent(s->low),
                       decimals(s->high), cli_percent(s->high));
}

static void print_step(cli_table *t, const slew_margin_step *p, double point)
{
    cli_table_cell(t, "clearance\n°", "%9.2f", cli_degrees(p->clearance));
    cli_table_cell(t, "point\n°", "%9.2f", cli_degrees(point));
    add_percent(t, "fault on\nit, %", 10, p->fault.value);
    add_percent(t, "jammed\n%", 9, p->pressed.value);
    add_percent(t, "\n%", 9, p->unsafe.value);
    add_interval(t, "either (95 % interval)", &p->unsafe);
    add_percent(t, "     meets\n                         it, %", 9, p->touched.value);
    add_percent(t, " too near\n        %", 9, p->near_to.value);
    add_percent(t, "  too far\n        %", 9, p->short_of.value);
    add_percent(t, "  other\n      %", 7, p->other.value);
    if (p->untaught > 0)
        cli_table_cell(t, NULL, "  can't be taught on %" PRId64 " of %" PRId64 " simulated days",
                       p->untaught, p->samples);
    cli_table_end_row(t);
}

static void print_need(const cli_margin *a, const slew_margin_need *n)
{
    if (isfinite(n->enough))
        printf("Enough: %.2f°. A fault on the stop or a jam is then below %g, at %.4g %% "
               "confidence:\n%.2g (%.2g to "
               "%.2g).\n",
               cli_degrees(n->enough), a->question.wanted,
               cli_percent(a->scenario->demands.confidence), n->beyond.value, n->beyond.low,
               n->beyond.high);
    else if (n->samples == 0)
        printf("The point can't be taught at any clearance up to %.2f°.\n", cli_degrees(n->limit));
    else if (isinf(n->enough))
        printf("No clearance up to %.2f°, where the home sensor is, is enough: a steadier "
               "supply,\na higher teaching voltage, or another stow point would have to help.\n",
               cli_degrees(n->limit));
    else {
        printf("Too few simulated days (%" PRId64 ") to state a clearance; --samples %" PRId64
               " would do.\n",
               n->samples, 4 * (n->samples + n->untaught));
        if (isfinite(n->unseen))
            printf("From %.2f° on no stow jammed or faulted on the stop.\n",
                   cli_degrees(n->unseen));
    }
    if (n->samples > 0 && n->untaught > 0)
        printf("%" PRId64 " simulated days can't be taught at any clearance; they are left out.\n",
               n->untaught);
}

/* the same samples once more, without taking larger clearances to be safe */
static void print_check(const cli_margin *a, const slew_margin_side *side)
{
    for (int i = 0; i < side->step_count && isfinite(side->need.enough); i++) {
        const slew_margin_step *p = &side->step[i];
        if (p->clearance >= side->need.enough - 1e-9 && p->unsafe.value >= a->question.wanted) {
            printf("But at %.2f° it is %.3g %%: more clearance is not always better here.\n",
                   cli_degrees(p->clearance), cli_percent(p->unsafe.value));
            return;
        }
    }
}

/* a stow that ends in another way never came to show whether it meets the stop */
static void print_other(const cli_margin *a, const slew_margin_side *side)
{
    double most = 0;
    for (int i = 0; i < side->step_count; i++)
        most = fmax(most, side->step[i].other.value);
    if (isfinite(side->need.enough) && most >= a->question.wanted)
        printf(
            "But up to %.2f %% of the stows end in another fault or without a verdict, which "
            "says nothing\nabout the clearance: `slewtime run` and `slewtime causes` show why.\n",
            cli_percent(most));
}

/* the scenario's own point against what it needs */
static void print_own(const cli_margin *a, const slew_margin_side *side, int index)
{
    double own = (a->scenario->stow.point[a->question.axis] - side->stop) * (index == 0 ? 1 : -1);
    if (isfinite(side->need.enough) && own <= side->need.limit)
        printf("The scenario's own stow point has %.2f°: %s.\n", cli_degrees(own),
               own >= side->need.enough - 1e-9 ? "enough room to the stop"
                                               : "not enough room to the stop");
}

/* A stow has two needs: its room to the stop, and to end within the tolerance of its point. The
 * step at the clearance that is enough; NULL: there is none. */
static const slew_margin_step *enough_step(const slew_margin_side *side, double *within)
{
    double clearance = isfinite(side->need.enough) ? side->need.enough : side->need.unseen;
    for (int i = 0; i < side->step_count; i++) {
        const slew_margin_step *p = &side->step[i];
        *within = 1 - p->unsafe.value - p->near_to.value - p->short_of.value - p->other.value;
        if (fabs(p->clearance - clearance) < 1e-9 && !isnan(*within))
            return p;
    }
    return NULL;
}

static void answer_within(const cli_margin *a, const slew_margin_side *side)
{
    double within, wanted = a->scenario->demands.stow_on_target;
    const slew_margin_step *p = enough_step(side, &within);
    if (p != NULL)
        printf("There %.2f %% stow within %.4g° of the point; at least %.4g %% wanted: %s.\n",
               cli_percent(within), cli_degrees(a->scenario->stow.tolerance), cli_percent(wanted),
               within >= wanted ? "enough" : "NOT enough");
}

static void print_within(const cli_margin *a, const slew_margin_side *side)
{
    double within, wanted = a->scenario->demands.stow_on_target;
    const slew_margin_step *p = enough_step(side, &within);
    if (p != NULL)
        printf("At %.2f° %.2f %% stow within %.4g° of the stow point, %.2f %% too near, %.2f %% "
               "too far:\n%s (at least %.4g %% wanted).\n",
               cli_degrees(p->clearance), cli_percent(within),
               cli_degrees(a->scenario->stow.tolerance), cli_percent(p->near_to.value),
               cli_percent(p->short_of.value),
               within >= wanted ? "enough" : "not enough, whatever the room to the stop",
               cli_percent(wanted));
}

/* "Lower stop" */
static const char *stop_of(const cli_margin *a, int index)
{
    static const char *const words[SLEW_AXES][SLEW_MARGIN_SIDES] = {{"Left stop", "Right stop"},
                                                                    {"Lower stop", "Upper stop"}};
    return words[a->question.axis][index];
}

enum { SHOWN = 5, BEYOND = 1 };

/* of the rows about the clearance that is enough, one of them beyond; else of the largest ones */
static int first_shown(const slew_margin_side *side)
{
    int last = 0;
    while (last < side->step_count - 1 && !(side->step[last].clearance >= side->need.enough - 1e-9))
        last++;
    last += last + BEYOND < side->step_count ? BEYOND : 0;
    return (int)fmax(0, last + 1 - SHOWN);
}

static void print_side(const cli_margin *a, int index)
{
    const slew_margin_side *side = &a->margin.side[index];
    printf("\n%s of the %s, at %.2f°\n", stop_of(a, index), slew_axis_word(a->question.axis),
           cli_degrees(side->stop));
    if (side->need.status == SLEW_ERROR_INPUT) {
        printf("The home sensor is within 0.25° of this stop: there is no clearance to ask "
               "for.\n");
        return;
    }
    cli_table table = {.heads = 2};
    int first = a->all ? 0 : first_shown(side);
    int end = a->all ? side->step_count : (int)fmin(first + SHOWN, side->step_count);
    for (int i = first; i < end; i++)
        print_step(&table, &side->step[i], cli_margin_point(side, index, &side->step[i]));
    if (end - first < side->step_count)
        printf("  --all adds %d more.\n", side->step_count - (end - first));
    char reason[300];
    cli_reason_words(&side->untaught, reason, sizeof reason);
    if (reason[0] != '\0')
        printf("What can't be taught: %s\n", reason);
    print_need(a, &side->need);
    print_within(a, side);
    print_check(a, side);
    print_other(a, side);
    print_own(a, side, index);
}

static void print_change_need(const slew_margin_need *n)
{
    if (isfinite(n->enough))
        printf("  %11.2f°", cli_degrees(n->enough));
    else
        printf("  %12s", n->status != SLEW_OK ? "not asked"
                         : n->samples == 0    ? "not taught"
                         : isinf(n->enough)   ? "none"
                                              : "too few");
}

/* a change that is like the scenario, or is not possible, has no line */
static bool is_asked(const slew_margin_need need[SLEW_MARGIN_SIDES])
{
    return need[0].status != SLEW_ERROR_INPUT || need[1].status != SLEW_ERROR_INPUT;
}

static const char *approach_words(int axis, slew_approach approach)
{
    static const char *const from[SLEW_AXES][2] = {{"homes from the left", "homes from the right"},
                                                   {"homes from below", "homes from above"}};
    return approach == SLEW_APPROACH_EITHER ? "homes from whichever side"
                                            : from[axis][approach == SLEW_APPROACH_FALLING];
}

void cli_margin_change_words(const cli_margin *a, slew_margin_change change, char *text,
                             size_t size)
{
    int axis = a->question.axis;
    slew_setup taught, today;
    slew_scenario_resolve(a->scenario, SLEW_OCCASION_TEACH, &taught);
    slew_scenario_resolve(a->scenario, SLEW_OCCASION_STOW, &today);
    bool brakes = today.controller.stop == SLEW_BRAKE;
    if (change == SLEW_MARGIN_NONE)
        snprintf(text, size, "as it is: %s, %s, taught at %.4g V", brakes ? "brakes" : "coasts",
                 approach_words(axis, today.axis[axis].approach), taught.supply.main.voltage);
    else if (change == SLEW_MARGIN_STOP)
        snprintf(text, size, "%s", brakes ? "coasts to a stop" : "brakes to a stop");
    else if (change >= SLEW_MARGIN_EITHER && change <= SLEW_MARGIN_FALLING)
        snprintf(text, size, "%s",
                 approach_words(axis, change == SLEW_MARGIN_EITHER   ? SLEW_APPROACH_EITHER
                                      : change == SLEW_MARGIN_RISING ? SLEW_APPROACH_RISING
                                                                     : SLEW_APPROACH_FALLING));
    else
        snprintf(text, size, "%s", slew_margin_change_words(change));
}

static void print_changes(const cli_margin *a)
{
    char name[100];
    printf("\n%-57s  %12s  %12s\n", "What if: the clearance that will do",
           cli_stop_in_words(a->question.axis, -1), cli_stop_in_words(a->question.axis, 1));
    for (int i = 0; i < SLEW_MARGIN_CHANGE_COUNT; i++) {
        const slew_margin_need *need = a->margin.change[i];
        if (i != SLEW_MARGIN_NONE && !is_asked(need))
            continue;
        cli_margin_change_words(a, (slew_margin_change)i, name, sizeof name);
        printf("  %-55s", name);
        print_change_need(&need[0]);
        print_change_need(&need[1]);
        printf("\n");
    }
}

/* asked are clearances at which the barrel is driven into its stop */
const char *cli_margin_dangers(const cli_margin *a)
{
    bool strikes = a->scenario->keepout.count > 0;
    for (int k = 0; k < SLEW_MARGIN_SIDES; k++)
        for (int i = 0; i < a->margin.side[k].step_count; i++)
            strikes |= a->margin.side[k].step[i].unsafe.value > 0 ||
                       a->margin.side[k].step[i].other.value > 0;
    return strikes ? "some stows fault, jam or have a keep-out zone near" : "";
}

/* ---- the answer ---- */

/* how far the scenario's own point is from a stop [rad] */
static double own_clearance(const cli_margin *a, int index)
{
    double from = a->scenario->stow.point[a->question.axis] - a->margin.side[index].stop;
    return index == 0 ? from : -from;
}

static void answer_side(const cli_margin *a, int index)
{
    const slew_margin_need *n = &a->margin.side[index].need;
    double own = own_clearance(a, index);
    printf("%s: ", stop_of(a, index));
    if (n->status == SLEW_ERROR_INPUT)
        printf("the home sensor is next to it, there is no clearance to ask for.\n");
    else if (isfinite(n->enough) && own <= n->limit)
        printf("the stow point needs %.2f° of clearance, has %.2f°: %s.\n", cli_degrees(n->enough),
               cli_degrees(own), own >= n->enough - 1e-9 ? "enough room" : "NOT ENOUGH ROOM");
    else if (isfinite(n->enough))
        printf("a stow point needs %.2f° of clearance.\n", cli_degrees(n->enough));
    else if (n->samples == 0)
        printf("the stow point can't be taught at any clearance.\n");
    else if (isinf(n->enough))
        printf("no clearance up to %.2f° is enough.\n", cli_degrees(n->limit));
    else
        printf("too few simulated days to state a clearance; --samples %" PRId64 " would do.\n",
               4 * (n->samples + n->untaught));
}

static void print_answer(const cli_margin *a)
{
    for (int k = 0; k < SLEW_MARGIN_SIDES; k++)
        answer_side(a, k);
    int nearer = own_clearance(a, 0) <= own_clearance(a, 1) ? 0 : 1;
    answer_within(a, &a->margin.side[nearer]);
    cli_caution(cli_margin_dangers(a));
}

/* ---- the end: keys and method ---- */

static void print_end(const cli_margin *a)
{
    printf("\njammed: on the stop, but reported stowed. meets it: on the way, after homing.\n"
           "too near, too far: stowed, but nearer to the stop or further from it than the stow "
           "tolerance.\nSimulated: it does not replace a test on the truck.\n\n");
    cli_print_spread(a->scenario);
    printf("  asked       %s\n", a->asked);
    printf("  drawn       a third as days come, the rest where it gets tight, each weighed\n");
    if (a->question.wanted < SLEW_MARGIN_ASSUMED)
        printf(
            "  rare        below %g the answer measures the tails that the spread assumes, which "
            "nobody\n              has seen: how far a voltage or a temperature can really go "
            "decides\n",
            a->question.wanted);
}

void cli_margin_text(const void *what)
{
    const cli_margin *a = what;
    print_answer(a);
    printf("\n%s\n", a->scenario->title);
    printf("  axis          %s, stow tolerance %.4g°\n", slew_axis_word(a->question.axis),
           cli_degrees(a->scenario->stow.tolerance));
    printf("  allowed risk  of a fault on the stop or a jam: below %g; within tolerance: at least "
           "%.4g %%\n",
           a->question.wanted, cli_percent(a->scenario->demands.stow_on_target));
    for (int k = 0; k < SLEW_MARGIN_SIDES; k++)
        print_side(a, k);
    print_changes(a);
    print_end(a);
}
