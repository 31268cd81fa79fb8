/* text.c - the answer of `slewtime margin` as text. */
#include <inttypes.h>
#include <math.h>
#include <stdio.h>

#include "answer.h"
#include "frame/sampling.h"
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
    cli_table_cell(t, "clearance\ndeg", "%9.2f", cli_degrees(p->clearance));
    cli_table_cell(t, "point\ndeg", "%9.2f", cli_degrees(point));
    add_percent(t, "hard_stop\n%", 10, p->fault.value);
    add_percent(t, "pressed\n%", 9, p->pressed.value);
    add_percent(t, "\n%", 9, p->unsafe.value);
    add_interval(t, "either (95 % interval)", &p->unsafe);
    add_percent(t, "   touches\n                            %", 9, p->touched.value);
    add_percent(t, " too near\n        %", 9, p->near_to.value);
    add_percent(t, "  too far\n        %", 9, p->short_of.value);
    add_percent(t, "  other\n      %", 7, p->other.value);
    if (p->untaught > 0)
        cli_table_cell(t, NULL, "  can't be taught in %" PRId64 " of %" PRId64 " samples",
                       p->untaught, p->samples);
    cli_table_end_row(t);
}

static void print_need(const cli_margin *a, const slew_margin_need *n)
{
    if (isfinite(n->enough))
        printf("Enough: %.2f deg. Fault or pressed is then below %g, at %.4g %% confidence: %.2g "
               "(%.2g to %.2g).\n",
               cli_degrees(n->enough), a->question.wanted,
               cli_percent(a->scenario->demands.confidence), n->beyond.value, n->beyond.low,
               n->beyond.high);
    else if (n->samples == 0)
        printf("The point can't be taught at any clearance up to %.2f deg.\n",
               cli_degrees(n->limit));
    else if (isinf(n->enough))
        printf("No clearance up to %.2f deg, where the home sensor is, is enough: a steadier "
               "supply,\na higher teaching voltage, or another stow point would have to help.\n",
               cli_degrees(n->limit));
    else {
        printf("%" PRId64 " samples do not suffice to say what is enough (--samples %" PRId64
               ").\n",
               n->samples, 4 * (n->samples + n->untaught));
        if (isfinite(n->unseen))
            printf("No sample is hit from %.2f deg on.\n", cli_degrees(n->unseen));
    }
    if (n->samples > 0 && n->untaught > 0)
        printf("%" PRId64 " samples can't be taught at any clearance; they are left out.\n",
               n->untaught);
}

/* the same samples once more, without taking larger clearances to be safe */
static void print_check(const cli_margin *a, const slew_margin_side *side)
{
    for (int i = 0; i < side->step_count && isfinite(side->need.enough); i++) {
        const slew_margin_step *p = &side->step[i];
        if (p->clearance >= side->need.enough - 1e-9 && p->unsafe.value >= a->question.wanted) {
            printf("But at %.2f deg it is %.3g %%: more clearance is not always better here.\n",
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
        printf("The scenario's own point has %.2f deg: %s.\n", cli_degrees(own),
               own >= side->need.enough - 1e-9 ? "enough room to the stop"
                                               : "not enough room to the stop");
}

/* a stow has two needs: its room to the stop, and to end within the tolerance of its point */
static void print_within(const cli_margin *a, const slew_margin_side *side)
{
    double clearance = isfinite(side->need.enough) ? side->need.enough : side->need.unseen;
    double wanted = a->scenario->demands.stow_on_target;
    for (int i = 0; i < side->step_count; i++) {
        const slew_margin_step *p = &side->step[i];
        double within = 1 - p->unsafe.value - p->near_to.value - p->short_of.value - p->other.value;
        if (!(fabs(p->clearance - clearance) < 1e-9) || isnan(within))
            continue;
        printf("At %.2f deg %.2f %% stow within %.4g deg of the point, %.2f %% too near, %.2f %% "
               "too far:\n%s (at least %.4g %% wanted).\n",
               cli_degrees(clearance), cli_percent(within),
               cli_degrees(a->scenario->stow.tolerance), cli_percent(p->near_to.value),
               cli_percent(p->short_of.value),
               within >= wanted ? "enough" : "not enough, whatever the room to the stop",
               cli_percent(wanted));
    }
}

static void print_side(const cli_margin *a, int index)
{
    const slew_margin_side *side = &a->margin.side[index];
    printf("\n%s side: %s stop at %.2f deg\n", index == 0 ? "Low" : "High",
           slew_axis_word(a->question.axis), cli_degrees(side->stop));
    if (side->need.status == SLEW_ERROR_INPUT) {
        printf("The home sensor is within 0.25 deg of this stop: there is no clearance to ask "
               "for.\n");
        return;
    }
    cli_table table = {.heads = 2};
    for (int i = 0; i < side->step_count; i++)
        print_step(&table, &side->step[i], cli_margin_point(side, index, &side->step[i]));
    if (side->untaught.message[0] != '\0')
        printf("What can't be taught: %s %s\n", side->untaught.key, side->untaught.message);
    print_need(a, &side->need);
    print_within(a, side);
    print_check(a, side);
    print_other(a, side);
    print_own(a, side, index);
}

static void print_change_need(const slew_margin_need *n)
{
    if (isfinite(n->enough))
        printf("  %8.2f deg", cli_degrees(n->enough));
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

/* "controller.stop switched" with what that means here */
static void name_change(const cli_margin *a, slew_margin_change change, char *text, size_t size)
{
    slew_setup taught, today;
    slew_scenario_resolve(a->scenario, SLEW_OCCASION_TEACH, &taught);
    slew_scenario_resolve(a->scenario, SLEW_OCCASION_STOW, &today);
    bool brakes = today.controller.stop == SLEW_BRAKE;
    const char *words = slew_margin_change_words(change);
    if (change == SLEW_MARGIN_NONE)
        snprintf(
            text, size, "%s: %s, approach %s, taught at %.4g V", words, brakes ? "brake" : "coast",
            slew_approach_word(today.axis[a->question.axis].approach), taught.supply.main.voltage);
    else if (change == SLEW_MARGIN_STOP)
        snprintf(text, size, "%s: %s", words, brakes ? "coast" : "brake");
    else
        snprintf(text, size, "%s", words);
}

static void print_changes(const cli_margin *a)
{
    char name[100];
    printf("\nWhat if: the clearance that is enough                     low side     high side\n");
    for (int i = 0; i < SLEW_MARGIN_CHANGE_COUNT; i++) {
        const slew_margin_need *need = a->margin.change[i];
        if (i != SLEW_MARGIN_NONE && !is_asked(need))
            continue;
        name_change(a, (slew_margin_change)i, name, sizeof name);
        printf("  %-51s", name);
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
    return strikes ? "some of these stows fault, are pressed on the stop or have a keep-out zone "
                     "near"
                   : "";
}

void cli_margin_text(const void *what)
{
    const cli_margin *a = what;
    printf("%s\n", a->scenario->title);
    printf("  axis        %s, stow tolerance %.4g deg\n", slew_axis_word(a->question.axis),
           cli_degrees(a->scenario->stow.tolerance));
    printf("  wanted      hard_stop fault or pressed on the stop: below %g; within tolerance: at "
           "least %.4g %%\n",
           a->question.wanted, cli_percent(a->scenario->demands.stow_on_target));
    cli_print_spread(a->scenario);
    printf("  asked       %s\n", a->asked);
    printf("  drawn       a third as days come, the rest where it gets tight, each weighed\n");
    if (a->question.wanted < SLEW_MARGIN_ASSUMED)
        printf(
            "  rare        below %g the answer measures the tails that the spread assumes, which "
            "nobody\n              has seen: how far a voltage or a temperature can really go "
            "decides\n",
            a->question.wanted);
    for (int k = 0; k < SLEW_MARGIN_SIDES; k++)
        print_side(a, k);
    print_changes(a);
    printf(
        "\npressed: on the stop, but reported stowed. touches: meets the stop after homing.\n"
        "too near, too far: stowed, but nearer to the stop or further from it than the tolerance "
        "allows.\n");
    cli_caution(cli_margin_dangers(a));
    printf("Simulated: it does not replace a test on the truck.\n");
}
