/* command.c - `slewtime plan`: what to set, teach, wire or fit so that a truck meets its demands.
 */
#include "answer.h"
#include "commands.h"
#include "frame/frame.h"
#include "frame/sampling.h"
#include "line/exit_code.h"

/* what is recommended, else the best setting, on the trucks that this one may be */
static slew_status ask_trucks(cli_plan *a, slew_error *error)
{
    a->recommended = *a->scenario;
    for (int i = 0; i < a->advice.count; i++)
        slew_plan_apply(&a->recommended, &a->advice.change[i]);
    slew_plan_set(&a->recommended, &a->advice.setting);
    return slew_demands_by_truck(&a->recommended, SLEW_STOW_AND_DEPLOY, &a->sampling, &a->trucks,
                                 error);
}

static int ask(const cli_options *options, const slew_scenario *scenario, void *answer)
{
    cli_plan *a = answer;
    slew_error error = {0};
    cli_progress progress;
    a->scenario = scenario;
    a->all = options->all;
    cli_warn_of_known(options, scenario);
    a->sampling = cli_sampling(options, "plan", &progress);
    slew_status status = slew_plan_run(scenario, &a->sampling, &a->plan, &error);
    slew_plan_recommend(&a->plan, &a->advice);
    if (status == SLEW_OK && a->advice.setting.judgment.samples > 0)
        status = ask_trucks(a, &error);
    cli_sampling_end(&progress);
    const slew_judgment *today = &a->plan.today.judgment;
    cli_provenance_words(scenario, &a->sampling, a->plan.confirmed, a->asked);
    const cli_frame frame = {
        a,
        cli_plan_text,
        cli_plan_document,
        cli_plan_table,
        "plan.gp",
        "How often each demand is met, over the stow point and the deploy seconds",
        cli_plan_fill};
    int64_t refused = a->plan.taught ? today->refused : 0;
    return cli_frame_tell_sampled(options, &frame,
                                  &(cli_sampled){status, &error, a->sampling.samples,
                                                 a->plan.confirmed, refused, &a->plan.untaught});
}

const cli_command cli_plan_command = {
    .name = "plan",
    .operands = "SCENARIO",
    .least = 1,
    .most = 1,
    .options = CLI_SCENARIO_OPTIONS | CLI_SAMPLING_OPTIONS | CLI_BIT(CLI_JSON) | CLI_BIT(CLI_CSV) |
               CLI_BIT(CLI_ALL) | CLI_PICTURE_OPTIONS,
    .summary = "what to set, teach, wire or fit so that it all works",
    .about =
        "Holds the truck against its demands (keys demands.*) over the scenario's spread: what it\n"
        "does today; the best stow point (within stow.range) and deploy seconds (of\n"
        "deploy.choices); and a ranked table of single changes, each with the best point and\n"
        "seconds of its own: side to home from, orders of homing and moving, search direction,\n"
        "lift first, finer seconds and seconds beyond the choices, deploy on the same day,\n"
        "teaching at the middle of the supply's spread, the next two conductors, an auxiliary\n"
        "battery. What meets all demands comes first, then what costs least. Settings are found\n"
        "with few simulated days, and the figures of the first rows are of fresh ones; --all\n"
        "shows the other rows too. --csv is the table of changes.\n",
    .examples = "Examples:\n"
                "  slewtime plan truck.yaml --plot plan.png\n"
                "  slewtime plan truck.yaml --set demands.deploy_inside=99% --json\n"
                "  slewtime plan truck.yaml --set stow.range.elevation.low=-18deg "
                "--set stow.range.elevation.high=-8deg\n",
    .cautions = true,
    .ask = ask,
    .answer_size = sizeof(cli_plan),
};
