/* command.c - `slewtime fmu`: one machine for other simulators, as an FMU. */
#include <errno.h>
#include <stdlib.h>
#include <string.h>

#include "answer.h"
#include "commands.h"
#include "frame/reading.h"
#include "line/exit_code.h"
#include "line/output.h"
#include "line/report.h"
#include "slewtime/run.h"

/* what the FMU would refuse at its start is told here, with its place in the file */
static int check_start(const cli_options *options, const slew_scenario *scenario)
{
    static slew_prepared prepared;
    slew_error error = {0};
    slew_status status = slew_prepare(scenario, SLEW_STOW_ONLY, &prepared, &error);
    return status == SLEW_OK ? CLI_OK : cli_report_located(options, status, &error);
}

/* the scenario as the FMU will read it */
static int read_back(cli_fmu *fmu)
{
    fmu_kind kind;
    FILE *file = tmpfile();
    if (file == NULL)
        return cli_fail_errno("set TMPDIR to a directory with some room", errno,
                              "cannot make a temporary file");
    char title[SLEW_TITLE_MAX];
    memcpy(title, fmu->scenario.title, sizeof title);
    fmu_numbers_write(&fmu->scenario, fmu->kind, file);
    int error = fflush(file) != 0 ? errno : ferror(file) != 0 ? cli_write_error(file) : 0;
    rewind(file);
    bool good = fmu_numbers_read(file, &fmu->scenario, &kind);
    fclose(file);
    memcpy(fmu->scenario.title, title, sizeof title);
    if (error != 0)
        return cli_fail_errno("set TMPDIR to a directory with some room", error,
                              "cannot write a temporary file");
    return good ? CLI_OK : cli_fail(NULL, "the scenario can't be written as numbers");
}

static int ask(const cli_options *options, const slew_scenario *scenario, cli_fmu *fmu)
{
    fmu->kind = options->plant ? FMU_PLANT : FMU_MACHINE;
    int code = check_start(options, scenario);
    if (code != CLI_OK)
        return code;
    cli_fmu_pack(scenario, &fmu->scenario);
    code = read_back(fmu);
    if (code != CLI_OK)
        return code;
    fmu_variables_list(&fmu->scenario, fmu->kind, &fmu->variables);
    fmu_token(&fmu->scenario, fmu->kind, fmu->token);
    return cli_fmu_write(fmu, options->out);
}

static int run(const cli_options *options)
{
    const cli_complaint complaint = {.expected = "--out truck.fmu", .help = "fmu"};
    if (options->out == NULL)
        return cli_complain(&complaint, "fmu needs a file to write");
    slew_scenario *scenario = malloc(sizeof *scenario);
    cli_fmu *fmu = calloc(1, sizeof *fmu);
    int code;
    if (scenario == NULL || fmu == NULL) {
        code = cli_no_memory();
    } else {
        code = cli_read_scenario(options, scenario);
        if (code == CLI_OK)
            code = ask(options, scenario, fmu);
    }
    free(fmu);
    free(scenario);
    return code;
}

const cli_command cli_fmu_command = {
    .name = "fmu",
    .operands = "SCENARIO",
    .least = 1,
    .most = 1,
    .options = CLI_SCENARIO_OPTIONS | CLI_BIT(CLI_OUT) | CLI_BIT(CLI_PLANT),
    .summary = "the machine for other simulators: a functional mock-up unit (FMI 3.0)",
    .about =
        "Writes one file that simulators with FMI 3.0 co-simulation load. It has the machine with\n"
        "its controller: commands, supply voltage, temperature, water and load torques go in;\n"
        "angles, speeds, currents, voltage, home sensors and what the controller reports come "
        "out.\n"
        "With --plant it has the machine alone: drives go in. It stops at every event (event "
        "mode,\n"
        "early return), and its state can be kept, set and written as bytes. All values are in "
        "SI;\n"
        "the keys of the scenario are parameters under their own names, most of them tunable.\n"
        "It begins under today's conditions, taught as the scenario says; what teaching had\n"
        "otherwise is under teach. before the name. deploy_day and spread are no part of it.\n",
    .examples = "Examples:\n"
                "  slewtime fmu truck.yaml --out truck.fmu\n"
                "  slewtime fmu truck.yaml --plant --out plant.fmu\n",
    .draws_nothing = true,
    .cautions = true,
    .run = run,
};
