/* command.c - `slewtime check`: is this file right. */
#include "commands.h"
#include "frame/frame.h"
#include "line/exit_code.h"
#include "single/single_run.h"
#include "tell/provenance.h"

static const char *order_words(slew_order order)
{
    static const char *const words[] = {[SLEW_ROTATION_FIRST] = "rotation, then elevation",
                                        [SLEW_ELEVATION_FIRST] = "elevation, then rotation",
                                        [SLEW_TOGETHER] = "together"};
    return words[order];
}

static void print_order(const char *name, const double times[SLEW_AXES], slew_order order)
{
    printf("  %-8s rotation %+.2f s, elevation %+.2f s; %s\n", name, times[SLEW_ROTATION],
           times[SLEW_ELEVATION], order_words(order));
}

/* what follows from the file */
static void print_derived(const slew_scenario *s, const slew_prepared *prepared)
{
    print_order(s->stow.has_times ? "given" : "taught", prepared->stored, s->stow.order);
    if (s->deploy.given)
        print_order("deploy", s->deploy.seconds, s->deploy.order);
    printf("  supply   %.2f V at the controller at rest, %.1f mohm before it\n",
           prepared->stow.line_voltage, 1000 * prepared->stow.line_resistance);
    char hash[CLI_HASH_MAX];
    cli_provenance_hash(s, hash);
    printf("  scenario %s\n", hash);
    printf("  keep-out %d\n", s->keepout.count);
    printf("  layers   teach %d, today %d, deploy_day %d keys; spread %d + %d keys\n",
           s->teach.count, s->today.count, s->deploy_day.count, s->truck.count, s->day.count);
}

static int ask(const cli_options *options, const slew_scenario *scenario, void *answer)
{
    cli_single *single = answer;
    single->scenario = scenario;
    cli_doubt_warn(options, scenario);
    int code = cli_single_prepare(single, options);
    if (code == CLI_OK) {
        printf("%s: ok\n", options->operand[0]);
        print_derived(scenario, &single->prepared);
    }
    return code;
}

const cli_command cli_check_command = {
    .name = "check",
    .operands = "SCENARIO",
    .least = 1,
    .most = 1,
    .options = CLI_SCENARIO_OPTIONS,
    .summary = "is this file right",
    .about = "Reads the scenario and tells every error and warning with its line and the way out.\n"
             "Then teaches the stow point, which shows whether it can be taught.\n",
    .examples = "Examples:\n"
                "  slewtime check truck.yaml\n"
                "  slewtime check truck.yaml --set 'stow.point.elevation=-18 deg'\n",
    .ask = ask,
    .answer_size = sizeof(cli_single),
};
