/* command.c - `slewtime speed`: speed, current and voltage against supply voltage and reaction. */
#include "answer.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "commands.h"
#include "frame/answer.h"
#include "line/exit_code.h"
#include "line/report.h"
#include "line/value.h"
#include "single/single_run.h"
#include "tell/units.h"

static const char voltage_key[] = "supply.main.voltage";

/* ---- which voltages, pressures and places ---- */

static int read_voltages(const cli_options *options, const slew_scenario *scenario,
                         slew_speed_question *q)
{
    const cli_complaint once = {.expected = "one range", .help = "speed"};
    const cli_complaint other = {.expected = "--vary supply.main.voltage=9V:15V:24",
                                 .help = "speed"};
    slew_vary vary;
    if (options->vary_count > 1)
        return cli_complain(&once, "--vary is given %d times", options->vary_count);
    if (options->vary_count == 0)
        return CLI_OK;
    int code = cli_read_vary(options->vary[0], scenario, &vary);
    if (code != CLI_OK)
        return code;
    if (vary.key != slew_key_find(voltage_key) || vary.layer != SLEW_LAYER_FILE)
        return cli_complain(&other, "--vary %s: speed varies %s alone, on every occasion",
                            options->vary[0], voltage_key);
    q->from = vary.from;
    q->to = vary.to;
    q->steps = vary.steps > 0 ? vary.steps : q->steps;
    return CLI_OK;
}

static int read_pressures(const cli_options *options, slew_speed_question *q)
{
    if (options->pressure.count > 0)
        q->level_count = 1 + options->pressure.count;
    return cli_read_values("--pressure", &options->pressure, "nozzle.pressure", q->pressure + 1);
}

/* "elevation=30deg" */
static int read_place(const char *text, slew_speed_question *q)
{
    static const char *const paths[SLEW_AXES] = {"rotation.start", "elevation.start"};
    const cli_complaint complaint = {
        .expected = "--at elevation=30deg or --at rotation=-20deg, or both", .help = "speed"};
    const char *equals = strchr(text, '=');
    for (int j = 0; equals != NULL && j < SLEW_AXES; j++) {
        size_t length = strlen(slew_axis_word(j));
        if (strncmp(text, slew_axis_word(j), length) != 0 || text + length != equals)
            continue;
        if (!isnan(q->at[j]))
            return cli_complain(&complaint, "--at %s: %s is given twice", text, slew_axis_word(j));
        return cli_read_value("--at", text, paths[j], equals + 1, &q->at[j]);
    }
    return cli_complain(&complaint, "--at %s: not an axis with an angle", text);
}

static int check_places(const slew_scenario *scenario, const slew_speed_question *q)
{
    const cli_complaint complaint = {.expected = "an angle between the stops"};
    slew_setup setup;
    slew_scenario_resolve(scenario, q->occasion, &setup);
    for (int j = 0; j < SLEW_AXES; j++) {
        const slew_range *stops = &setup.axis[j].stops;
        if (q->at[j] < stops->low || q->at[j] > stops->high)
            return cli_complain(&complaint, "--at %s=%gdeg: beyond its stops, %g to %g deg",
                                slew_axis_word(j), cli_degrees(q->at[j]), cli_degrees(stops->low),
                                cli_degrees(stops->high));
    }
    return CLI_OK;
}

static int read_places(const cli_options *options, const slew_scenario *scenario,
                       slew_speed_question *q)
{
    int code = cli_check_count("--at", &options->at, SLEW_AXES);
    for (int i = 0; code == CLI_OK && i < options->at.count; i++)
        code = read_place(options->at.text[i], q);
    return code == CLI_OK ? check_places(scenario, q) : code;
}

/* ---- which occasions ---- */

/* what differs on deploy day, but for what is varied here anyway */
static bool deploy_day_differs(const slew_scenario *s)
{
    int varied[] = {slew_key_find(voltage_key), slew_key_find("nozzle.flowing"),
                    slew_key_find("rotation.start"), slew_key_find("elevation.start")};
    for (int i = 0; i < s->deploy_day.count; i++) {
        bool known = false;
        for (size_t k = 0; k < sizeof varied / sizeof *varied; k++)
            known = known || s->deploy_day.item[i].key == varied[k];
        if (!known)
            return true;
    }
    return false;
}

static int list_occasions(const cli_options *options, const slew_scenario *s,
                          slew_occasion occasion[CLI_SPEED_OCCASIONS])
{
    int count = 0;
    if (options->only != CLI_ONLY_DEPLOY)
        occasion[count++] = SLEW_OCCASION_STOW;
    if (options->only == CLI_ONLY_DEPLOY ||
        (options->only == 0 && s->deploy.given && deploy_day_differs(s)))
        occasion[count++] = SLEW_OCCASION_DEPLOY;
    return count;
}

static int read_question(const cli_options *options, const slew_scenario *scenario,
                         slew_occasion occasion, slew_speed_question *q)
{
    *q = slew_speed_question_default(scenario, occasion);
    int code = read_voltages(options, scenario, q);
    if (code == CLI_OK)
        code = read_pressures(options, q);
    return code == CLI_OK ? read_places(options, scenario, q) : code;
}

/* ---- the command ---- */

static int ask(const cli_options *options, cli_speed *a, int index)
{
    slew_error error = {0};
    slew_status status =
        slew_speed_run(a->scenario, &a->question[index], &a->answer[index], &error);
    if (status == SLEW_OK)
        return CLI_OK;
    return cli_report_located(options, status, &error);
}

static int ask_and_tell(const cli_options *options, const slew_scenario *scenario, void *answer)
{
    cli_speed *a = answer;
    const cli_answer how = {a, cli_speed_draw, cli_speed_json, cli_speed_csv, cli_speed_print};
    slew_occasion occasion[CLI_SPEED_OCCASIONS];
    int code = CLI_OK;
    a->scenario = scenario;
    a->count = list_occasions(options, a->scenario, occasion);
    for (int i = 0; i < a->count && code == CLI_OK; i++) {
        code = read_question(options, a->scenario, occasion[i], &a->question[i]);
        if (code == CLI_OK)
            code = ask(options, a, i);
    }
    code = code == CLI_OK ? cli_answer_tell(options, &how) : code;
    for (int i = 0; i < a->count; i++)
        slew_speed_free(&a->answer[i]);
    return code;
}

static int run(const cli_options *options)
{
    return cli_frame_ask(options, "speed", sizeof(cli_speed), ask_and_tell);
}

const cli_command cli_speed_command = {
    .name = "speed",
    .operands = "SCENARIO",
    .least = 1,
    .most = 1,
    .options = CLI_SCENARIO_OPTIONS | CLI_BIT(CLI_ONLY) | CLI_BIT(CLI_VARY) | CLI_BIT(CLI_AT) |
               CLI_BIT(CLI_PRESSURE) | CLI_BIT(CLI_JSON) | CLI_BIT(CLI_CSV) | CLI_BIT(CLI_PLOT),
    .summary = "speed, current and voltage against supply voltage; where an axis stalls",
    .about =
        "Drives one axis at a time, each way, at a range of source voltages (open circuit), dry\n"
        "and with the nozzle's reaction: half and all of nozzle.pressure, or the given pressures.\n"
        "A spray's flow then goes with the root of the pressure, as through a fixed opening.\n"
        "Prints steady speed, motor current and controller voltage where the load slows the axis\n"
        "most and least between its stops (or at --at), the time from stop to stop, and the\n"
        "lowest voltages at which it keeps running, starts, gets from stop to stop, and clears\n"
        "brownout and floor.\n"
        "Conditions are those of today; those of deploy day follow where they differ; --only\n"
        "picks one. The picture shows the first of them.\n",
    .examples = "Examples:\n"
                "  slewtime speed truck.yaml --plot speed.png\n"
                "  slewtime speed truck.yaml --vary supply.main.voltage=9V:15V:24 --csv\n"
                "  slewtime speed truck.yaml --pressure 5bar --pressure 8bar --at elevation=30deg\n"
                "  slewtime speed truck.yaml --today 'environment.temperature=-20 degC'\n",
    .cautions = true,
    .run = run,
};
