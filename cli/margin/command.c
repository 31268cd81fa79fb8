/* command.c - `slewtime margin`: the clearance a stow point needs from a hard stop. */
#include <inttypes.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "answer.h"
#include "frame/frame.h"
#include "frame/sampling.h"
#include "line/command.h"
#include "line/report.h"
#include "single/single_run.h"
#include "slewtime/slewtime.h"
#include "tell/json.h"
#include "tell/units.h"

/* enough for 1 in 1000 with no hit, and a power of two for the Sobol points */
static const int64_t default_samples = 4096;
static const double default_wanted = 0.001;
static const char *const side_words[] = {"low", "high"};

/* ---- text ---- */

static void print_shares(const slew_margin_step *p)
{
    printf("  %9.2f %8.2f   %6.2f (%6.2f to %6.2f)  %8.2f %10.2f %6.2f",
           cli_percent(p->fault.value), cli_percent(p->pressed.value), cli_percent(p->unsafe.value),
           cli_percent(p->unsafe.low), cli_percent(p->unsafe.high), cli_percent(p->touched.value),
           cli_percent(p->short_of.value), cli_percent(p->other.value));
}

static void print_step(const slew_margin_step *p, double point)
{
    printf("%9.2f %8.2f", cli_degrees(p->clearance), cli_degrees(point));
    if (!isnan(p->unsafe.value))
        print_shares(p);
    if (p->untaught > 0)
        printf("  can't be taught in %" PRId64 " samples", p->untaught);
    printf("\n");
}

static void print_need(const cli_margin *a, const slew_margin_need *n)
{
    if (isfinite(n->enough))
        printf("Enough: %.2f deg. Fault or pressed is then below %g, at 95 %% confidence.\n",
               cli_degrees(n->enough), a->question.wanted);
    else if (n->samples == 0)
        printf("The point can't be taught at any clearance up to %.2f deg.\n",
               cli_degrees(n->limit));
    else if (isinf(n->enough))
        printf("No clearance up to %.2f deg, where the home sensor is, is enough: a steadier "
               "supply,\na higher teaching voltage, or another stow point would have to help.\n",
               cli_degrees(n->limit));
    else {
        printf("%" PRId64 " samples do not suffice to say what is enough: below %g takes %" PRId64
               " or more "
               "(--samples %" PRId64 ").\n",
               n->samples, a->question.wanted, slew_margin_samples(a->question.wanted),
               slew_margin_samples(a->question.wanted) + n->untaught);
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
        if (p->clearance >= side->need.enough - 1e-9 && p->unsafe.high >= a->question.wanted) {
            printf("But at %.2f deg it is up to %.2f %%: more clearance is not always better "
                   "here.\n",
                   cli_degrees(p->clearance), cli_percent(p->unsafe.high));
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
               own >= side->need.enough - 1e-9 ? "enough" : "not enough");
}

static void print_side(const cli_margin *a, int index)
{
    const slew_margin_side *side = &a->margin->side[index];
    int sign = index == 0 ? 1 : -1;
    printf("\n%s side: %s stop at %.2f deg\n", index == 0 ? "Low" : "High",
           slew_axis_word(a->question.axis), cli_degrees(side->stop));
    if (side->need.status == SLEW_ERROR_INPUT) {
        printf("The home sensor is within 0.25 deg of this stop: there is no clearance to ask "
               "for.\n");
        return;
    }
    printf("clearance    point  hard_stop  pressed      either (95 %% interval)    touches  "
           "too short  other\n"
           "      deg      deg          %%        %%        %%                             %%"
           "          %%      %%\n");
    for (int i = 0; i < side->step_count; i++)
        print_step(&side->step[i], side->stop + sign * side->step[i].clearance);
    if (side->untaught.message[0] != '\0')
        printf("What can't be taught: %s %s\n", side->untaught.key, side->untaught.message);
    print_need(a, &side->need);
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
    static const char *const approaches[] = {"either", "rising", "falling"};
    slew_setup taught, today;
    slew_scenario_resolve(a->scenario, SLEW_OCCASION_TEACH, &taught);
    slew_scenario_resolve(a->scenario, SLEW_OCCASION_STOW, &today);
    bool brakes = today.controller.stop == SLEW_BRAKE;
    const char *words = slew_margin_change_words(change);
    if (change == SLEW_MARGIN_NONE)
        snprintf(text, size, "%s: %s, approach %s, taught at %.4g V", words,
                 brakes ? "brake" : "coast", approaches[today.axis[a->question.axis].approach],
                 taught.supply.main.voltage);
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
        const slew_margin_need *need = a->margin->change[i];
        if (i != SLEW_MARGIN_NONE && !is_asked(need))
            continue;
        name_change(a, (slew_margin_change)i, name, sizeof name);
        printf("  %-51s", name);
        print_change_need(&need[0]);
        print_change_need(&need[1]);
        printf("\n");
    }
}

static void print_text(const void *what)
{
    const cli_margin *a = what;
    printf("%s\n", a->scenario->title);
    printf("  axis        %s, stow tolerance %.4g deg\n", slew_axis_word(a->question.axis),
           cli_degrees(a->scenario->stow.tolerance));
    printf("  wanted      hard_stop fault or pressed on the stop: below %g\n", a->question.wanted);
    cli_print_spread(a->scenario);
    printf("  asked       %s\n", a->asked);
    for (int k = 0; k < SLEW_MARGIN_SIDES; k++)
        print_side(a, k);
    print_changes(a);
    printf("\npressed: on the stop, but reported stowed. touches: meets the stop after homing.\n"
           "too short: stowed, but further from the stop than the tolerance allows.\n"
           "Simulated: it does not replace a test on the truck.\n");
}

/* ---- JSON ---- */

static json_t *json_step(const slew_margin_step *p)
{
    return json_pack("{s:o, s:I, s:o, s:o, s:o, s:o, s:o, s:o}", "clearance_deg",
                     cli_json_degrees(p->clearance), "untaught", (json_int_t)p->untaught,
                     "hard_stop", cli_json_share(&p->fault), "pressed", cli_json_share(&p->pressed),
                     "either", cli_json_share(&p->unsafe), "touches", cli_json_share(&p->touched),
                     "too_short", cli_json_share(&p->short_of), "other", cli_json_share(&p->other));
}

static json_t *json_need(const slew_margin_need *n)
{
    return json_pack("{s:b, s:o, s:o, s:o, s:I, s:I}", "asked", n->status != SLEW_ERROR_INPUT,
                     "enough_deg", cli_json_degrees(n->enough), "no_hit_from_deg",
                     cli_json_degrees(n->unseen), "limit_deg", cli_json_degrees(n->limit),
                     "samples", (json_int_t)n->samples, "untaught", (json_int_t)n->untaught);
}

static json_t *json_side(const slew_margin_side *side)
{
    json_t *steps = json_array();
    for (int i = 0; i < side->step_count; i++)
        json_array_append_new(steps, json_step(&side->step[i]));
    return json_pack("{s:o, s:o, s:o, s:o}", "stop_deg", cli_json_degrees(side->stop), "need",
                     json_need(&side->need), "untaught_because",
                     cli_json_text(side->untaught.message), "ladder", steps);
}

static json_t *json_changes(const slew_margin *m)
{
    json_t *changes = json_array();
    for (int i = SLEW_MARGIN_NONE + 1; i < SLEW_MARGIN_CHANGE_COUNT; i++)
        json_array_append_new(changes, json_pack("{s:s, s:o, s:o}", "change",
                                                 slew_margin_change_words((slew_margin_change)i),
                                                 side_words[0], json_need(&m->change[i][0]),
                                                 side_words[1], json_need(&m->change[i][1])));
    return changes;
}

static int write_json(const void *what)
{
    const cli_margin *a = what;
    const slew_margin *m = a->margin;
    json_t *whole = json_pack(
        "{s:s, s:s, s:I, s:s, s:f, s:I, s:o, s:o, s:o}", "slewtime", slew_version(), "title",
        a->scenario->title, "refused", (json_int_t)m->refused, "axis",
        slew_axis_word(a->question.axis), "wanted", a->question.wanted, "samples_needed",
        (json_int_t)slew_margin_samples(a->question.wanted), side_words[0], json_side(&m->side[0]),
        side_words[1], json_side(&m->side[1]), "changes", json_changes(m));
    cli_provenance_json(whole, a->scenario, a->sampling, m->samples);
    return cli_json_print(whole);
}

/* ---- the command ---- */

static int tell(const cli_options *options, const cli_margin *a)
{
    const cli_answer how = {a, cli_margin_draw, write_json, cli_margin_csv, print_text};
    cli_warn_of_refused(options, a->margin->refused, &a->margin->first_refusal);
    return cli_answer_tell(options, &how);
}

static slew_sampling sampling_of(const cli_options *options, cli_progress *progress)
{
    slew_sampling sampling = cli_sampling(options, "margin", progress);
    if (options->samples == 0)
        sampling.samples = progress->samples = default_samples;
    return sampling;
}

static int ask(const cli_options *options, const slew_scenario *scenario,
               const slew_margin_question *question, slew_margin *margin)
{
    slew_error error = {0};
    cli_progress progress;
    slew_sampling sampling = sampling_of(options, &progress);
    slew_status status = slew_margin_run(scenario, question, &sampling, margin, &error);
    cli_sampling_end(&progress);
    int code = cli_code(status);
    if (status == SLEW_ERROR_STOPPED)
        fprintf(stderr, "slewtime: stopped before all was asked; this is what is known\n");
    else if (status != SLEW_OK)
        cli_report_located(options, status, &error);
    if (status == SLEW_OK || (status == SLEW_ERROR_STOPPED && margin->samples > 0)) {
        cli_margin a = {
            .scenario = scenario, .question = *question, .margin = margin, .sampling = &sampling};
        cli_provenance_words(scenario, &sampling, margin->samples, a.asked);
        int told = tell(options, &a);
        code = told != CLI_OK ? told : code;
    }
    return code;
}

static int run(const cli_options *options)
{
    slew_margin_question question = {.axis = SLEW_ELEVATION, .wanted = default_wanted};
    if (options->axis == CLI_AXIS_ROTATION)
        question.axis = SLEW_ROTATION;
    if (cli_read_wanted(options, "0.001", &question.wanted) != CLI_OK)
        return CLI_WRONG;
    if (cli_answer_check(options, "margin") != CLI_OK)
        return CLI_WRONG;
    slew_scenario *scenario = malloc(sizeof *scenario);
    slew_margin *margin = malloc(sizeof *margin);
    int code =
        scenario != NULL && margin != NULL ? cli_read_scenario(options, scenario) : cli_no_memory();
    if (code == CLI_OK)
        code = ask(options, scenario, &question, margin);
    free(margin);
    free(scenario);
    return code;
}

const cli_command cli_margin_command = {
    .name = "margin",
    .operands = "SCENARIO",
    .least = 1,
    .most = 1,
    .options = CLI_SCENARIO_OPTIONS | CLI_SAMPLING_OPTIONS | CLI_BIT(CLI_JSON) | CLI_BIT(CLI_CSV) |
               CLI_BIT(CLI_PLOT) | CLI_BIT(CLI_AXIS) | CLI_BIT(CLI_WANTED),
    .summary = "the clearance a stow point needs from a hard stop",
    .about =
        "Teaches the stow point at one clearance from a hard stop after the other and stows it\n"
        "over the scenario's spread: from truck to truck (teaching repeated) and from day to day.\n"
        "Prints how often the controller faults on the stop, the axis is pressed on it though the\n"
        "controller says stowed, meets it, or ends too short; the smallest clearance that is\n"
        "enough, to 0.05 deg, at either stop; and how that moves with brake or coast, the\n"
        "approach rule and the teaching voltage.\n",
    .examples = "Examples:\n"
                "  slewtime margin truck.yaml --plot margin.png\n"
                "  slewtime margin truck.yaml --wanted 0.01 --axis rotation\n"
                "  slewtime margin truck.yaml --teach 'supply.main.voltage=13.5 V' --csv\n",
    .cautions = true,
    .run = run,
};
