/* command.c - `slewtime fit`: this truck's figures from what was timed and metered at it. */
#include "answer.h"

#include <stdlib.h>
#include <string.h>

#include "commands.h"
#include "frame/frame.h"
#include "frame/reading.h"
#include "line/exit_code.h"
#include "line/output.h"
#include "line/report.h"
#include "line/value.h"
#include "slewtime/slewtime.h"
#include "tell/append.h"

/* ---- the question ---- */

/* a key of the group that the name stands for; NULL: it is no group */
static const char *key_in_group(const char *name)
{
    size_t length = strlen(name);
    for (int i = 0; i < slew_key_count(); i++) {
        const char *path = slew_key_at(i)->path;
        if (strncmp(path, name, length) == 0 && path[length] == '.')
            return path;
    }
    return NULL;
}

static int refuse_key(const char *name)
{
    int near = slew_key_nearest(name);
    const char *inside = key_in_group(name);
    cli_complaint complaint = {
        .expected = "a key with a number, for example --key elevation.motor.no_load_speed",
        .nearest = near >= 0 ? slew_key_at(near)->path : NULL,
        .help = "fit"};
    if (inside == NULL)
        return cli_complain(&complaint, "--key %s: unknown key", name);
    complaint.nearest = NULL;
    return cli_complain(&complaint, "--key %s: a group of keys, such as %s", name, inside);
}

/* "PATH" or "PATH +- SD", its standard deviation before the visit */
static int read_key(const char *text, int *key, double *tolerance)
{
    char path[CLI_FIT_WORDS_MAX];
    const char *sign = strstr(text, "+-");
    size_t length = sign != NULL ? (size_t)(sign - text) : strlen(text);
    while (length > 0 && text[length - 1] == ' ')
        length--;
    snprintf(path, sizeof path, "%.*s", (int)length, text);
    *key = slew_key_find(path);
    *tolerance = 0;
    if (*key < 0)
        return refuse_key(path);
    if (sign == NULL)
        return CLI_OK;
    int code = cli_read_value("--key", text, path, sign + 2 + strspn(sign + 2, " "), tolerance);
    const cli_complaint complaint = {.expected = "PATH +- SD, for example --key "
                                                 "'elevation.gear.efficiency +- 4 %'"};
    return code != CLI_OK || *tolerance > 0
               ? code
               : cli_complain(&complaint, "--key %s: not above zero", text);
}

static int read_keys(const cli_options *options, slew_fit_question *q)
{
    const cli_complaint complaint = {.expected = "1 to 15 keys, for example --key "
                                                 "elevation.motor.no_load_speed",
                                     .help = "fit"};
    int most = options->bias ? SLEW_FIT_KEYS_MAX - 1 : SLEW_FIT_KEYS_MAX;
    if (options->key.count == 0 && !options->bias)
        return cli_complain(&complaint, "no --key says what is to be fitted");
    if (options->key.count > most)
        return cli_complain(&complaint, "too many figures to fit");
    for (; q->keys < options->key.count; q->keys++) {
        int code = read_key(options->key.text[q->keys], &q->key[q->keys], &q->tolerance[q->keys]);
        if (code != CLI_OK)
            return code;
    }
    if (options->bias)
        q->key[q->keys++] = SLEW_FIT_BIAS;
    return CLI_OK;
}

static int read_timings(const cli_options *options, slew_timings *timings)
{
    slew_status status = slew_timings_read_file(
        options->operand[1], (slew_error_sink){.report = cli_tell_error}, timings);
    return status == SLEW_ERROR_MEMORY ? cli_no_memory() : cli_code(status);
}

/* ---- errors of the fit, with their place ---- */

static int report(const cli_options *options, slew_status status, slew_error *error)
{
    if (status == SLEW_ERROR_MEMORY)
        return cli_no_memory();
    if (error->line > 0)
        slew_timings_locate(options->operand[1], error);
    else if (slew_key_find(error->key) >= 0)
        cli_locate(options, error);
    else
        snprintf(error->source, sizeof error->source, "%s", options->operand[1]);
    cli_report_error(error);
    return cli_code(status);
}

/* ---- the calibrated scenario ---- */

static void write_note(const cli_options *options, const slew_fit *fit, char *note, size_t size)
{
    snprintf(note, size, "Fitted to %s by slewtime fit:", options->operand[1]);
    for (int j = 0; j < fit->figures; j++)
        if (fit->figure[j].key >= 0 && fit->figure[j].asked)
            cli_append(note, size, " %s", slew_fit_name(fit->figure[j].key));
}

static int write_text(const char *path, const char *text)
{
    cli_file file;
    int code = cli_file_open(&file, path);
    if (code != CLI_OK)
        return code;
    fputs(text, file.stream);
    return cli_file_close(&file, CLI_OK);
}

static int write_scenario(const cli_options *options, const slew_fit *fit)
{
    slew_error error = {0};
    char note[1200], *after = NULL, *before = slew_scenario_text(options->operand[0], &error);
    write_note(options, fit, note, sizeof note);
    if (before != NULL)
        after = slew_fit_write(fit, before, options->assignment, options->assignment_count, note,
                               &error);
    int code = after != NULL ? write_text(options->write, after) : CLI_OK;
    if (after == NULL) {
        snprintf(error.source, sizeof error.source, "%s", options->operand[0]);
        cli_report_error(&error);
        code = cli_code(error.status);
    }
    free(before);
    free(after);
    return code;
}

/* ---- the command ---- */

static int read_question(const cli_options *options, cli_fit *a)
{
    a->path = options->operand[1];
    a->written = options->write;
    a->all = options->all;
    a->question = (slew_fit_question){.timings = &a->timings, .robust = options->robust};
    int code = read_keys(options, &a->question);
    return code == CLI_OK ? read_timings(options, &a->timings) : code;
}

static int ask(const cli_options *options, const slew_scenario *scenario, void *answer)
{
    cli_fit *a = answer;
    const cli_frame frame = {a,
                             cli_fit_text,
                             cli_fit_document,
                             cli_fit_table,
                             "fit.gp",
                             "Readings of the truck, measured against simulated",
                             cli_fit_fill};
    slew_error error = {0};
    a->scenario = scenario;
    int code = read_question(options, a);
    if (code != CLI_OK)
        return code;
    slew_status status = slew_fit_run(scenario, &a->question, &a->fit, &error);
    if (status != SLEW_OK)
        return report(options, status, &error);
    cli_fit_finding(a, a->finding);
    int written = options->write != NULL ? write_scenario(options, &a->fit) : CLI_OK;
    if (written != CLI_OK)
        a->written = NULL; /* what the readings tell is told all the same */
    code = cli_frame_tell(options, &frame);
    return code == CLI_OK ? written : code;
}

const cli_command cli_fit_command = {
    .name = "fit",
    .operands = "SCENARIO TIMES.csv",
    .least = 2,
    .most = 2,
    .options = (CLI_SCENARIO_OPTIONS & ~CLI_BIT(CLI_SPREAD)) | CLI_BIT(CLI_KEY) |
               CLI_BIT(CLI_BIAS) | CLI_BIT(CLI_ROBUST) | CLI_BIT(CLI_WRITE) | CLI_BIT(CLI_JSON) |
               CLI_BIT(CLI_CSV) | CLI_BIT(CLI_ALL) | CLI_PICTURE_OPTIONS,
    .summary = "this truck's figures from stopwatch times and meter readings",
    .about =
        "Reads timed travels (a CSV with a header: axis, direction, from or from_deg, to or\n"
        "to_deg, supply_V, pressure_bar, temperature_degC, winding_rise_K (the motor above the\n"
        "surroundings, 0 on the first move of the day), seconds_s, controller_V, current_A,\n"
        "and the standard deviations seconds_sd_s, controller_sd_V, current_sd_A) and finds the\n"
        "values of the keys with which the simulation, today's truck, shows the same, and what\n"
        "was known of them before (spread.truck, or what is usual of a sheet). Errors of what a\n"
        "row states count too: supply_sd_V, pressure_sd_bar, temperature_sd_K, angle_sd_deg;\n"
        "so do offsets of stopwatch, meters and clamp, and the motor's currents. A row is\n"
        "driven from standstill at `from` (low_stop, high_stop, home or an angle) until it\n"
        "reaches `to`; voltage and current are read half way. Without `to` it is held against the\n"
        "stop that it starts from; with the direction `off` the motors are off. From home to\n"
        "`stow_point` seconds_s is the controller's stored time: it tells where the point truly\n"
        "was taught. Tells how well each value is known and how much of that the readings tell,\n"
        "what they can't tell apart, what does not go together, and which reading would help\n"
        "most. Of the readings it shows those furthest off, with --all every one.\n",
    .examples = "Examples:\n"
                "  slewtime fit truck.yaml times.csv --key elevation.motor.no_load_speed --bias\n"
                "  slewtime fit truck.yaml times.csv --key elevation.gear.efficiency \\\n"
                "    --key supply.feed.joint_resistance --robust --write calibrated.yaml\n",
    .cautions = true,
    .ask = ask,
    .answer_size = sizeof(cli_fit),
};
