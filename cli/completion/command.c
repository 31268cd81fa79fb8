/* command.c - `slewtime completion`: scripts for shells, from the tables of commands, options,
 * keys.
 */
#include <stdio.h>
#include <string.h>

#include "commands.h"
#include "line/exit_code.h"
#include "line/report.h"
#include "scripts.h"
#include "slewtime/slewtime.h"

#define COMMAND(name) &cli_##name##_command,
static const cli_command *const commands[] = {CLI_COMMANDS(COMMAND)};

enum { COMMAND_COUNT = sizeof commands / sizeof *commands };

const cli_command *cli_completion_command_at(int index)
{
    return index < COMMAND_COUNT ? commands[index] : NULL;
}

void cli_completion_commands(void)
{
    for (int i = 0; i < COMMAND_COUNT; i++)
        printf(" %s", commands[i]->name);
}

void cli_completion_keys(void)
{
    for (int i = 0; i < slew_key_count(); i++)
        printf(" %s", slew_key_at(i)->path);
}

void cli_completion_words(const char *words)
{
    while (*words != '\0') {
        size_t length = strcspn(words, "|");
        if (length == strlen("COMMAND") && strncmp(words, "COMMAND", length) == 0)
            cli_completion_commands();
        else
            printf(" %.*s", (int)length, words);
        words += length + (words[length] == '|');
    }
}

bool cli_completion_operands(const cli_command *command)
{
    bool are_words = strchr(command->operands, '|') != NULL;
    if (are_words)
        cli_completion_words(command->operands);
    return are_words;
}

bool cli_completion_has_key(const cli_option *option)
{
    return option->kind == CLI_ASSIGNMENT || option->kind == CLI_VARIED ||
           option == cli_option_at(CLI_KEY);
}

static int run(const cli_options *options)
{
    const cli_complaint complaint = {.expected = "bash or zsh"};
    const char *shell = options->operand[0];
    if (strcmp(shell, "bash") == 0)
        cli_completion_bash();
    else if (strcmp(shell, "zsh") == 0)
        cli_completion_zsh();
    else
        return cli_complain(&complaint, "completion %s: there is none for this shell", shell);
    return CLI_OK;
}

const cli_command cli_completion_command = {
    .name = "completion",
    .operands = "bash|zsh",
    .least = 1,
    .most = 1,
    .options = CLI_BIT(CLI_HELP),
    .summary = "a script by which bash or zsh completes what you type",
    .about = "Prints a script by which the shell completes commands, options, their words, keys\n"
             "and files. `make install` puts it where the shells look for it.\n",
    .examples = "Examples:\n"
                "  source <(slewtime completion bash)\n"
                "  slewtime completion zsh > ~/.zfunc/_slewtime\n",
    .run = run,
};
