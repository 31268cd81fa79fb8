/* command.c - `slewtime manual`: its manual pages, from the tables of commands, options and keys.
 */
#include <stdio.h>
#include <string.h>

#include "commands.h"
#include "line/exit_code.h"
#include "line/report.h"
#include "mdoc.h"
#include "slewtime/slewtime.h"
#include "tell/key_range.h"

#define COMMAND(name) &cli_##name##_command,
static const cli_command *const commands[] = {CLI_COMMANDS(COMMAND)};

enum { COMMAND_COUNT = sizeof commands / sizeof *commands };

/* name and first sentence of each public header */
static const char *const headers[][2] = {
#include "headers.inc"
};

enum { HEADERS = sizeof headers / sizeof *headers };

/* ---- slewtime(1) ---- */

static void write_command(const cli_command *command)
{
    printf(".Ss %s\n.Nm\n.Cm %s\n", command->name, command->name);
    if (command->operands[0] != '\0') {
        fputs(".Ar ", stdout);
        cli_mdoc_words(command->operands);
        putchar('\n');
    }
    puts(".Op Ar options");
    printf(".Pp\n");
    cli_mdoc_lines(command->about);
    puts(".Pp\nOptions:");
    for (int id = 0, first = 1; id < CLI_OPTION_COUNT; id++)
        if (command->options & CLI_BIT(id)) {
            printf("%s.Fl \\-%s", first ? "" : " ,\n", cli_option_at(id)->name + 2);
            first = 0;
        }
    puts(" .");
    puts(".Pp");
    cli_mdoc_lines(command->examples);
}

static void write_option(const cli_option *option)
{
    printf(".It Fl \\-%s", option->name + 2);
    if (option->value != NULL) {
        fputs(" Ar ", stdout);
        cli_mdoc_words(option->value);
    }
    putchar('\n');
    cli_mdoc_lines(option->help);
}

static void write_tool(void)
{
    cli_mdoc_begin("slewtime", 1,
                   "where a motorized monitor really ends, stowed and deployed by time");
    puts(".Sh SYNOPSIS\n.Nm\n.Ar command\n.Op Ar operand ...\n.Op Ar options\n.Sh DESCRIPTION\n"
         "The\n.Nm\ntool simulates a powered water monitor that is stowed and deployed by time,\n"
         "described in a scenario file, see\n.Xr slewtime\\-scenario 5 .\n"
         "Results are on stdout, everything else is on stderr.\n.Sh COMMANDS");
    for (int i = 0; i < COMMAND_COUNT; i++)
        write_command(commands[i]);
    puts(".Sh OPTIONS\nEach command takes those that it names above.\n.Bl -tag -width Ds");
    for (int id = 0; id < CLI_OPTION_COUNT; id++)
        write_option(cli_option_at(id));
    puts(".El\n.Sh ENVIRONMENT\n.Bl -tag -width Ds\n"
         ".It Ev SLEWTIME_PLOTS\nThe folder of the scripts that draw.\n"
         ".It Ev SLEWTIME_PAGE\nThe page that\n.Cm page\nwrites into.\n"
         ".It Ev SLEWTIME_FMU\nThe module that\n.Cm fmu\ntakes along.\n"
         ".It Ev SLEWTIME_GNUPLOT_SECONDS\nHow long gnuplot may take for a picture before it is\n"
         "ended, 60 unless set.\n"
         ".It Ev NO_COLOR\nIf set, nothing on stderr is colored.\n"
         ".It Ev TMPDIR\nThe folder for what is passed to gnuplot.\n.El\n"
         ".Sh EXIT STATUS\n.Bl -tag -width Ds\n"
         ".It 0\nCompleted.\n"
         ".It 1\nWith\n.Fl \\-require Ar ok :\na fault, a miss, or trouble on the way.\n"
         ".It 2\nThe scenario or the command line is wrong, or the stow point can't be taught.\n"
         ".It 3\nSomething outside failed: a file, gnuplot, memory.\n.El\n"
         ".Sh SEE ALSO\n.Xr slewtime 3 ,\n.Xr slewtime\\-scenario 5\n.Sh CAVEATS\n"
         "A monitor can move without warning and crush.\n"
         "Keep people clear of it; disconnect and lock out its power before any work on it.\n"
         "Simulated times and angles do not replace a test on the truck.");
}

/* ---- slewtime(3) ---- */

static void write_library(void)
{
    cli_mdoc_begin("slewtime", 3, "simulate a motorized monitor from a program");
    puts(".Sh LIBRARY\nslewtime (libslewtime, \\-lslewtime)\n"
         ".Sh SYNOPSIS\n.In slewtime/slewtime.h\n.Pp\n"
         ".Dl cc program.c $(pkg\\-config \\-\\-cflags \\-\\-libs slewtime)\n"
         ".Sh DESCRIPTION\n"
         "A program reads a scenario, or fills one in key by key, and asks questions of it:\n"
         ".Bd -literal -offset indent\n"
         "static slew_scenario scenario;\n"
         "slew_result result;\n"
         "slew_error error = {0};\n"
         "if (slew_scenario_read_file(path, NULL, &scenario) != SLEW_OK ||\n"
         "    slew_run(&scenario, SLEW_STOW_AND_DEPLOY, NULL, &result, &error) != SLEW_OK)\n"
         "        return 2;\n"
         ".Ed\n.Pp\n"
         "All numbers are in SI units.\n"
         "Structs are plain data that can be copied by assignment.\n"
         "Errors are values of\n.Vt slew_status ;\n"
         "the library never prints, never ends the program and keeps no hidden state.\n"
         ".Ss Headers\n.Bl -tag -width Ds");
    for (int i = 0; i < HEADERS; i++) {
        printf(".It In slewtime/%s\n", headers[i][0]);
        cli_mdoc_words(headers[i][1]);
        puts(".");
    }
    puts(".El\n.Sh SEE ALSO\n.Xr slewtime 1 ,\n.Xr slewtime\\-scenario 5\n.Pp\n"
         "The equations are in\n.Pa share/doc/slewtime/MODEL.md ,\n"
         "programs to begin from in\n.Pa share/slewtime/examples/embed .");
}

/* ---- slewtime-scenario(5) ---- */

static void write_key(cli_key_trial *trial, const slew_key *key)
{
    char range[CLI_RANGE_MAX];
    cli_key_range(trial, key, range);
    fputs(".It Cm ", stdout);
    cli_mdoc_words(key->path);
    putchar('\n');
    cli_mdoc_words(key->meaning);
    if (range[0] != '\0') {
        fputs(":\n", stdout);
        cli_mdoc_words(range);
    }
    fputs(".\nDefault: ", stdout);
    cli_mdoc_words(key->default_text != NULL ? key->default_text : "none");
    fputs(".\nFor example\n.Ql ", stdout);
    cli_mdoc_words(key->example);
    puts(" .");
}

/* the first name of a path begins a part of the page; keys without a group come first */
static void write_keys(cli_key_trial *trial)
{
    char part[64] = "";
    puts(".Bl -tag -width Ds");
    for (int i = 0; i < slew_key_count(); i++) {
        const slew_key *key = slew_key_at(i);
        size_t length = strcspn(key->path, ".");
        bool grouped = key->path[length] == '.';
        if (grouped && (strlen(part) != length || strncmp(part, key->path, length) != 0)) {
            snprintf(part, sizeof part, "%.*s", (int)length, key->path);
            printf(".El\n.Ss %s\n.Bl -tag -width Ds\n", part);
        }
        write_key(trial, key);
    }
    puts(".El");
}

static int write_scenario(void)
{
    cli_key_trial *trial = cli_key_trial_new();
    if (trial == NULL)
        return cli_no_memory();
    cli_mdoc_begin("slewtime-scenario", 5, "one truck and what is asked of it");
    puts(".Sh DESCRIPTION\n"
         "A scenario is a YAML file.\n"
         "A quantity is written with its unit\n.Pq Ql 9\\ m , Ql 30\\ ft ,\n"
         "a plain number without.\n"
         "Keys stand in their groups or by their whole paths.\n"
         "The layers\n.Cm teach , today\nand\n.Cm deploy_day\n"
         "hold keys of conditions by their paths and say what differs, and when.\n"
         ".Pp\n.Dl slewtime check FILE\n.Pp\n"
         "says what is missing or wrong, with file, line and key;\n"
         ".Pp\n.Dl slewtime schema scenario\n.Pp\n"
         "prints a JSON Schema for editors.\n.Sh KEYS");
    write_keys(trial);
    puts(".Sh EXAMPLES\n"
         "Invented trucks are in\n.Pa share/slewtime/examples ;\n"
         ".Pa daily.yaml\nthere names nearly every key.\n"
         ".Sh SEE ALSO\n.Xr slewtime 1 ,\n.Xr slewtime 3");
    return cli_key_trial_end(trial, CLI_OK);
}

/* ---- the command ---- */

static int run(const cli_options *options)
{
    const cli_complaint complaint = {.expected = "1 the tool, 3 the library, 5 the scenario file"};
    const char *section = options->operand[0];
    if (strcmp(section, "5") == 0)
        return write_scenario();
    if (strcmp(section, "1") == 0)
        write_tool();
    else if (strcmp(section, "3") == 0)
        write_library();
    else
        return cli_complain(&complaint, "manual %s: there is no such section", section);
    return CLI_OK;
}

const cli_command cli_manual_command = {
    .name = "manual",
    .operands = "1|3|5",
    .least = 1,
    .most = 1,
    .options = CLI_BIT(CLI_HELP),
    .summary = "the manual pages: 1 the tool, 3 the library, 5 the scenario",
    .about =
        "Prints a manual page in mdoc, as man reads it: 1 of the tool, 3 of the library, 5 of\n"
        "the scenario file with every key. `make install` installs them.\n",
    .examples = "Examples:\n"
                "  slewtime manual 5 | man -l -\n",
    .run = run,
};
