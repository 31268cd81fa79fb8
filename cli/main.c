/* main.c - slewtime COMMAND SCENARIO [options]: finds the command and hands the rest to it. */
#include <signal.h>
#include <stdio.h>
#include <string.h>

#include "commands.h"
#include "frame/perform.h"
#include "line/exit_code.h"
#include "line/help.h"
#include "line/output.h"
#include "line/outputs.h"
#include "line/report.h"
#include "line/suggest.h"
#include "slewtime/slewtime.h"

#define COMMAND(name) &cli_##name##_command,
static const cli_command *const commands[] = {CLI_COMMANDS(COMMAND)};

enum { COMMAND_COUNT = sizeof commands / sizeof *commands };

static const cli_command *find(const char *name)
{
    for (int i = 0; i < COMMAND_COUNT; i++)
        if (strcmp(commands[i]->name, name) == 0)
            return commands[i];
    return NULL;
}

static int refuse_command(const char *name)
{
    const char *names[COMMAND_COUNT];
    for (int i = 0; i < COMMAND_COUNT; i++)
        names[i] = commands[i]->name;
    cli_complaint complaint = {.nearest = cli_nearest(name, strlen(name), names, COMMAND_COUNT),
                               .help = ""};
    return cli_complain(&complaint, "unknown command %s", name);
}

static int show_help(int count, char **words)
{
    const cli_command *command = count > 0 ? find(words[0]) : NULL;
    if (count > 0 && command == NULL)
        return refuse_command(words[0]);
    if (command != NULL)
        cli_help_command(command);
    else
        cli_help(commands, COMMAND_COUNT);
    return CLI_OK;
}

static int dispatch(int count, char **words)
{
    if (count == 0) {
        cli_complaint complaint = {.expected = "slewtime COMMAND SCENARIO [options]", .help = ""};
        return cli_complain(&complaint, "no command is given");
    }
    if (strcmp(words[0], "help") == 0)
        return show_help(count - 1, words + 1);
    if (strcmp(words[0], "--help") == 0 || strcmp(words[0], "-h") == 0)
        return show_help(0, words);
    if (strcmp(words[0], "--version") == 0) {
        printf("slewtime %s\n", slew_version());
        return CLI_OK;
    }
    const cli_command *command = find(words[0]);
    return command != NULL ? cli_perform(command, count - 1, words + 1) : refuse_command(words[0]);
}

/* a closed pipe and a full disk are errors of the write that meets them, not ends of the program */
static void ignore_write_signals(void)
{
    signal(SIGPIPE, SIG_IGN);
    signal(SIGXFSZ, SIG_IGN);
}

int main(int argc, char **argv)
{
    cli_guard_streams();
    ignore_write_signals();
    int code = dispatch(argc > 0 ? argc - 1 : 0, argv + 1);
    return cli_close_stdout(code);
}
