/* verdict.c - the end of a run's text: what the controller says beside where the axes truly are,
 * and what to mind. */
#include "timeline.h"

#include <stdio.h>

#include "line/report.h"
#include "outcome_sentence.h"
#include "slewtime/slewtime.h"
#include "tell/provenance.h"
#include "tell/units.h"

/* ---- says, and is ---- */

static void print_headline(const char *text)
{
    if (text[0] != '\0')
        printf("%s%s%s\n", cli_bold(), text, cli_plain());
}

static void print_target(const cli_single *single, const slew_part *part)
{
    if (cli_pressed_axis(single, part) != SLEW_NO_AXIS)
        printf("; PRESSED on a stop");
    else if (part->has_target && part->says != SLEW_NOT_RUN && part->fault == SLEW_FAULT_NONE)
        printf("%s", part->on_target ? "; on target" : "; NOT on target");
}

static void print_says(const char *name, const cli_single *single, const slew_part *part)
{
    printf("  %-7s controller says %s", name, slew_verdict_word(part->says));
    if (part->fault != SLEW_FAULT_NONE)
        printf(": %s%s%s", slew_fault_word(part->fault), part->axis != SLEW_NO_AXIS ? " on " : "",
               part->axis != SLEW_NO_AXIS ? slew_axis_word(part->axis) : "");
    if (isfinite(part->duration))
        printf(" after %.2f s", part->duration);
    printf("%s", part->holds ? "" : "; the axes do not hold");
    print_target(single, part);
    putchar('\n');
}

static void print_stow_axis(const cli_single *single, int axis)
{
    const slew_stow *stow = &single->scenario->stow;
    double angle = single->result.stow.angle[axis];
    printf("          %-9s rests at %7.2f deg", slew_axis_word(axis), cli_degrees(angle));
    if (stow->has_point)
        printf(", %+.2f deg from the point %.4g (within %.3g is on target)",
               cli_degrees(angle - stow->point[axis]), cli_degrees(stow->point[axis]),
               cli_degrees(stow->tolerance));
    putchar('\n');
}

static void print_deploy_axis(const cli_single *single, int axis)
{
    const slew_range *target = &single->scenario->deploy.target[axis];
    printf("          %-9s rests at %7.2f deg, target %.4g to %.4g\n", slew_axis_word(axis),
           cli_degrees(single->result.deploy.angle[axis]), cli_degrees(target->low),
           cli_degrees(target->high));
}

static void print_parts(const cli_single *single)
{
    if (cli_single_stows(single)) {
        print_says("stow", single, &single->result.stow);
        for (int axis = 0; axis < SLEW_AXES; axis++)
            print_stow_axis(single, axis);
    }
    if (cli_single_deploys(single)) {
        print_says("deploy", single, &single->result.deploy);
        for (int axis = 0; axis < SLEW_AXES && single->result.deploy.says != SLEW_NOT_RUN; axis++)
            print_deploy_axis(single, axis);
    }
}

/* ---- supply and keep-out ---- */

static void print_supply(const cli_single *single)
{
    const slew_result *r = &single->result;
    printf("  supply  lowest voltage %.2f V", r->lowest_voltage);
    if (isfinite(r->lowest_loaded_voltage))
        printf(", under load %.2f V", r->lowest_loaded_voltage);
    if (isfinite(r->lowest_loaded_voltage) || r->below_floor)
        printf(" (floor %.4g V)", cli_single_floor(single));
    printf("; peak %.1f A; charge %.1f A s\n", r->peak_current, r->charge);
}

static void print_visits(const cli_single *single)
{
    const slew_result *r = &single->result;
    if (single->scenario->keepout.count == 0)
        return;
    if (r->visit_count == 0)
        printf("  clear   no keep-out entered\n");
    for (int i = 0; i < r->visit_count && i < SLEW_KEEPOUT_VISITS_MAX; i++) {
        const slew_keepout_visit *visit = &r->visit[i];
        printf("  KEEPOUT %s entered at %.2f s, ", single->scenario->keepout.box[visit->box].name,
               visit->entered);
        if (isfinite(visit->left))
            printf("left at %.2f s\n", visit->left);
        else
            printf("still inside at the end\n");
    }
}

/* ---- what to mind ---- */

static void print_pressed(const cli_single *single, const slew_part *part)
{
    int axis = cli_pressed_axis(single, part);
    if (axis != SLEW_NO_AXIS)
        printf("  ! The %s stands on a hard stop, yet the controller reports it %s: the drive\n"
               "    ended before the stall was noticed. Gear and motor were pressed on the stop.\n",
               slew_axis_word(axis), slew_verdict_word(part->says));
}

static void print_notes(const cli_single *single)
{
    const slew_result *r = &single->result;
    printf("\nNotes\n");
    if (single->stow_fails)
        printf("  ! The deploy begins as stowed today, and this stow does not get there: it is\n"
               "    told instead.\n");
    print_pressed(single, &r->stow);
    print_pressed(single, &r->deploy);
    for (int j = 0; j < SLEW_AXES && cli_single_stows(single); j++)
        if (slew_sensor_is_blind(&single->prepared.stow_setup, j))
            printf(
                "  ! The home sensor of the %s never closes: its magnet is too weak, or too far\n"
                "    away (slewtime window tells more).\n",
                slew_axis_word(j));
    if (r->below_floor)
        printf("  ! Under load the voltage falls below the floor of %.4g V: see battery,\n"
               "    feed and joints.\n",
               cli_single_floor(single));
    if ((cli_single_stows(single) && slew_plant_isolator_feeds_line(&single->prepared.stow)) ||
        (cli_single_deploys(single) && slew_plant_isolator_feeds_line(&single->prepared.deploy)))
        printf(
            "  ! At rest the auxiliary battery stands above what the feed brings: behind a\n"
            "    one-way isolator it feeds the line and the shared load as well, and runs flat.\n");
    if (r->visit_count > SLEW_KEEPOUT_VISITS_MAX)
        printf("  ! %d keep-out visits in all; the first %d are listed.\n", r->visit_count,
               (int)SLEW_KEEPOUT_VISITS_MAX);
    if (!r->stow.holds || !r->deploy.holds)
        printf("  ! An axis is moved by its own load with the drive off; the run ends there.\n");
    printf(
        "  - Motor inductance is left out: the peak current and the voltage dip at drive-on are\n"
        "    bounds, up to 20 %% too sharp.\n"
        "  - Simulated: it does not replace a test on the truck.\n");
    char hash[CLI_HASH_MAX];
    cli_provenance_hash(single->scenario, hash);
    printf("  - Computed by slewtime %s from scenario %s.\n", slew_version(), hash);
}

void cli_verdict(const cli_single *single)
{
    char text[CLI_SENTENCE_MAX];
    putchar('\n');
    cli_outcome_stow(single, " deg", text);
    print_headline(text);
    cli_outcome_deploy(single, " deg", text);
    print_headline(text);
    print_parts(single);
    print_supply(single);
    print_visits(single);
    print_notes(single);
}
