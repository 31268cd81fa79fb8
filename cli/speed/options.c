/* options.c - which occasions, voltages, pressures and places `slewtime speed` is asked about. */
#include <math.h>
#include <string.h>

#include "answer.h"
#include "line/exit_code.h"
#include "line/report.h"
#include "line/value.h"
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

static int read_question(const cli_options *options, cli_speed *a, slew_occasion occasion)
{
    slew_speed_question *q = &a->question[a->count++];
    *q = slew_speed_question_default(a->scenario, occasion);
    int code = read_voltages(options, a->scenario, q);
    if (code == CLI_OK)
        code = read_pressures(options, q);
    return code == CLI_OK ? read_places(options, a->scenario, q) : code;
}

bool cli_speed_is_asked(const cli_speed *a, const slew_speed_curve *curve)
{
    return a->axis == SLEW_NO_AXIS || curve->axis == a->axis;
}

int cli_speed_questions(const cli_options *options, cli_speed *a)
{
    int code = CLI_OK;
    a->axis = options->axis == CLI_AXIS_ELEVATION  ? SLEW_ELEVATION
              : options->axis == CLI_AXIS_ROTATION ? SLEW_ROTATION
                                                   : SLEW_NO_AXIS;
    if (options->only != CLI_ONLY_DEPLOY)
        code = read_question(options, a, SLEW_OCCASION_STOW);
    if (code == CLI_OK &&
        (options->only == CLI_ONLY_DEPLOY ||
         (options->only == 0 && a->scenario->deploy.given && deploy_day_differs(a->scenario))))
        code = read_question(options, a, SLEW_OCCASION_DEPLOY);
    return code;
}
