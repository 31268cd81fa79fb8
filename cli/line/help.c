/* help.c - see help.h. */
#include "help.h"

#include <stdio.h>
#include <string.h>

#include "slewtime/slewtime.h"

enum { NAME_WIDTH = 24 };

static void print_exit_codes(bool requires)
{
    printf("Exit codes:\n"
           "  0  completed\n");
    if (requires)
        printf("  1  with --require ok: a fault, a miss, or trouble on the way\n");
    printf("  2  the scenario or the command line is wrong, or the stow point can't be taught\n"
           "  3  something outside failed: a file, gnuplot, memory\n");
}

static const char cautions[] =
    "Cautions:\n"
    "  A monitor can move without warning and crush. Keep people clear of it; disconnect and\n"
    "  lock out its power before any work on it. Simulated times and angles do not replace a\n"
    "  test on the truck. Follow the manufacturer's instructions and local codes; leave work\n"
    "  that takes a license to those who hold one.\n";

/* ---- options ---- */

/* the help of an option, its further lines under the first one */
static void print_lines(const char *lines)
{
    while (*lines != '\0') {
        size_t length = strcspn(lines, "\n");
        printf("%.*s\n", (int)length, lines);
        lines += length + (lines[length] == '\n');
        if (*lines != '\0')
            printf("  %*s", NAME_WIDTH, "");
    }
}

static void print_option(const cli_option *option)
{
    char name[64];
    snprintf(name, sizeof name, "%s%s%s", option->name, option->value ? " " : "",
             option->value ? option->value : "");
    printf("  %-*s", NAME_WIDTH, name);
    print_lines(option->help);
}

static void print_options(uint64_t takes)
{
    printf("Options:\n");
    for (int id = 0; id < CLI_OPTION_COUNT; id++)
        if (takes & CLI_BIT(id))
            print_option(cli_option_at(id));
}

/* ---- the texts ---- */

void cli_help_command(const cli_command *command)
{
    printf("slewtime %s - %s\n\n", command->name, command->summary);
    printf("Usage: slewtime %s%s%s [options]\n\n", command->name,
           command->operands[0] != '\0' ? " " : "", command->operands);
    printf("%s\n", command->about);
    print_options(command->options);
    printf("\n%s\n", command->examples);
    print_exit_codes(command->options & CLI_BIT(CLI_REQUIRE));
    if (command->cautions)
        printf("\n%s", cautions);
}

void cli_help(const cli_command *const *commands, int count)
{
    printf("slewtime %s - stow and deploy by time: where a motorized monitor really ends\n\n",
           slew_version());
    printf("Usage: slewtime COMMAND SCENARIO [options]\n\nCommands:\n");
    for (int i = 0; i < count; i++)
        printf("  %-11s%s\n", commands[i]->name, commands[i]->summary);
    printf("  %-11s%s\n  %-11s%s\n", "help", "this text; help COMMAND: that command's options",
           "--version", "the version");
    printf("\nExamples:\n"
           "  slewtime run truck.yaml                what happens, event by event\n"
           "  slewtime run truck.yaml --plot run.svg the same as a picture\n"
           "  slewtime keys supply                   which keys a scenario knows about its supply\n"
           "  slewtime help run                      all options of run\n\n");
    print_exit_codes(true);
    printf("\n%s", cautions);
}
