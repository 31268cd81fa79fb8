/* verdict.c - the beginning and the end of a run's text: what it came to and what to mind, and what
 * the controller reports beside where the axes truly are. */
#include "timeline.h"

#include <stdio.h>

#include "line/report.h"
#include "outcome_sentence.h"
#include "slewtime/slewtime.h"
#include "tell/key_words.h"
#include "tell/provenance.h"
#include "tell/units.h"
#include "tell/utf8.h"

/* ---- reports, and is ---- */

static void print_target(const cli_single *single, const slew_part *part)
{
    if (cli_pressed_axis(single, part) != SLEW_NO_AXIS)
        printf("; JAMMED against a hard stop");
    else if (part->has_target && part->says != SLEW_NOT_RUN && part->fault == SLEW_FAULT_NONE)
        printf("%s", part->on_target ? "; where it should be" : "; NOT where it should be");
}

static void print_reports(const char *name, const cli_single *single, const slew_part *part)
{
    if (part->says == SLEW_NOT_RUN)
        printf("  %-7s not attempted", name);
    else if (part->fault == SLEW_FAULT_NONE)
        printf("  %-7s controller reports %s", name, slew_verdict_word(part->says));
    else
        printf("  %-7s controller reports a fault: %s%s%s", name,
               part->axis != SLEW_NO_AXIS ? slew_axis_word(part->axis) : "",
               part->axis != SLEW_NO_AXIS ? ", " : "", slew_fault_in_words(part->fault));
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
    printf("          %-9s rests at %7.2f°", slew_axis_word(axis), cli_degrees(angle));
    if (stow->has_point && single->result.stow.fault == SLEW_FAULT_NONE)
        printf(", %+.2f° from its stow point of %.4g° (tolerance %.3g°)",
               cli_degrees(angle - stow->point[axis]), cli_degrees(stow->point[axis]),
               cli_degrees(stow->tolerance));
    putchar('\n');
}

static void print_deploy_axis(const cli_single *single, int axis)
{
    const slew_range *target = &single->scenario->deploy.target[axis];
    printf("          %-9s rests at %7.2f°, target %.4g° to %.4g°\n", slew_axis_word(axis),
           cli_degrees(single->result.deploy.angle[axis]), cli_degrees(target->low),
           cli_degrees(target->high));
}

static void print_parts(const cli_single *single)
{
    if (cli_single_stows(single)) {
        print_reports("stow", single, &single->result.stow);
        for (int axis = 0; axis < SLEW_AXES; axis++)
            print_stow_axis(single, axis);
    }
    if (cli_single_deploys(single)) {
        print_reports("deploy", single, &single->result.deploy);
        for (int axis = 0; axis < SLEW_AXES && single->result.deploy.says != SLEW_NOT_RUN; axis++)
            print_deploy_axis(single, axis);
    }
}

/* ---- supply ---- */

static void print_supply(const cli_single *single)
{
    const slew_result *r = &single->result;
    printf("  supply  lowest voltage %.2f V", r->lowest_voltage);
    if (isfinite(r->lowest_loaded_voltage))
        printf(", while running %.2f V", r->lowest_loaded_voltage);
    if (isfinite(r->lowest_loaded_voltage) || r->below_floor)
        printf(" (minimum %.4g V)", cli_single_floor(single));
    printf("\n          peak %.1f A, charge %.1f A s\n", r->peak_current, r->charge);
    if (single->scenario->keepout.count > 0 && r->visit_count == 0)
        printf("  keep-out zones: none entered\n");
}

/* ---- what to mind ---- */

static void print_visits(const cli_single *single)
{
    const slew_result *r = &single->result;
    for (int i = 0; i < r->visit_count && i < SLEW_KEEPOUT_VISITS_MAX; i++) {
        const slew_keepout_visit *visit = &r->visit[i];
        printf("! Enters the keep-out zone %s at %.2f s, ",
               single->scenario->keepout.box[visit->box].name, visit->entered);
        if (isfinite(visit->left))
            printf("leaves it at %.2f s.\n", visit->left);
        else
            printf("and is still inside at the end.\n");
    }
    if (r->visit_count > SLEW_KEEPOUT_VISITS_MAX)
        printf("! %d visits of keep-out zones in all; the first %d are listed.\n", r->visit_count,
               (int)SLEW_KEEPOUT_VISITS_MAX);
}

static void print_jammed(const cli_single *single, const slew_part *part)
{
    if (cli_pressed_axis(single, part) != SLEW_NO_AXIS)
        printf("! Switched off before the stall was noticed: motor and gear are strained.\n");
}

/* a value that no truck has, if it is why the run ends as it does */
static void print_cause(const cli_single *single)
{
    slew_doubt cause;
    char text[sizeof cause.message + 120], words[CLI_KEY_WORDS_MAX];
    if (!cli_doubt_cause(single, &cause))
        return;
    cli_key_words(cause.key, words);
    snprintf(text, sizeof text, "! It ends so because of %s: %s.", words, cause.message);
    cli_print_wrapped(text, CLI_ANSWER_LETTERS);
}

static void print_blind(const cli_single *single)
{
    for (int j = 0; j < SLEW_AXES && cli_single_stows(single); j++)
        if (slew_sensor_is_blind(&single->prepared.stow_setup, j))
            printf("! The home sensor of the %s never closes: its magnet is too weak or too\n"
                   "  far away (see slewtime window).\n",
                   slew_axis_word(j));
}

static bool feeds_line(const cli_single *single)
{
    return (cli_single_stows(single) && slew_plant_isolator_feeds_line(&single->prepared.stow)) ||
           (cli_single_deploys(single) && slew_plant_isolator_feeds_line(&single->prepared.deploy));
}

static void print_warnings(const cli_single *single)
{
    const slew_result *r = &single->result;
    if (single->stow_fails)
        printf("! The deploy begins as stowed today, and this stow does not get there: the stow "
               "is\n  shown instead.\n");
    print_cause(single);
    print_visits(single);
    print_jammed(single, &r->stow);
    print_jammed(single, &r->deploy);
    print_blind(single);
    if (r->below_floor)
        printf("! Falls below the minimum voltage of %.4g V while running: look at battery,\n"
               "  feed cable and connections.\n",
               cli_single_floor(single));
    if (!r->stow.holds || !r->deploy.holds)
        printf("! An axis is moved by its own load with the motor off; the run ends there.\n");
    if (feeds_line(single))
        printf("! At rest the auxiliary battery has more than the feed cable brings: behind a\n"
               "  one-way isolator it feeds the other load as well, and runs flat.\n");
}

/* ---- beginning and end ---- */

static void print_headline(const char *text)
{
    if (text[0] != '\0')
        printf("%s%s%s\n", cli_bold(), text, cli_plain());
}

void cli_answer(const cli_single *single)
{
    char text[CLI_SENTENCE_MAX];
    cli_outcome_stow(single, text);
    print_headline(text);
    cli_outcome_deploy(single, text);
    print_headline(text);
    print_warnings(single);
}

void cli_verdict(const cli_single *single)
{
    char hash[CLI_HASH_MAX];
    putchar('\n');
    print_parts(single);
    print_supply(single);
    cli_provenance_hash(single->scenario, hash);
    printf(
        "\nMotor inductance is left out: peak current and voltage dip at the start are overstated "
        "by up\nto 20 %%. Simulated: it does not replace a test on the truck.\n"
        "(scenario %s, slewtime %s)\n",
        hash, slew_version());
}
