/* bash.c - the script for bash; see scripts.h. */
#include <stdio.h>

#include "scripts.h"

static void write_commands(void)
{
    const cli_command *command;
    puts("    case ${COMP_WORDS[1]} in\n    help) operands=$commands ;;");
    for (int i = 0; (command = cli_completion_command_at(i)) != NULL; i++) {
        printf("    %s)\n        options=\"", command->name);
        for (int id = 0; id < CLI_OPTION_COUNT; id++)
            if (command->options & CLI_BIT(id))
                printf(" %s", cli_option_at(id)->name);
        fputs("\"\n        operands=\"", stdout);
        cli_completion_operands(command);
        puts("\" ;;");
    }
    puts("    esac");
}

/* what follows an option that has a value: the words of some, keys, or files */
static void write_values(void)
{
    puts("    case ${COMP_WORDS[COMP_CWORD-1]} in");
    for (int id = 0; id < CLI_OPTION_COUNT; id++) {
        const cli_option *option = cli_option_at(id);
        if (option->words != NULL) {
            printf("    %s) operands=\"", option->name);
            cli_completion_words(option->words);
            puts("\" ;;");
        } else if (cli_completion_has_key(option))
            printf("    %s) operands=$keys end='=' ;;\n", option->name);
        else if (option->value != NULL)
            printf("    %s) operands= ;;\n", option->name);
    }
    puts("    esac");
}

void cli_completion_bash(void)
{
    puts("# bash completion of slewtime, written by `slewtime completion bash`\n"
         "_slewtime()\n{\n"
         "    local word=${COMP_WORDS[COMP_CWORD]} options= operands= end=");
    fputs("    local commands=\"", stdout);
    cli_completion_commands();
    fputs("\"\n    local keys=\"", stdout);
    cli_completion_keys();
    puts("\"");
    write_commands();
    write_values();
    puts("    if [ \"$COMP_CWORD\" = 1 ]; then\n"
         "        operands=\"$commands help\" options=\"--help --version\"\n"
         "    fi\n"
         "    if [[ $word == -* ]]; then\n"
         "        mapfile -t COMPREPLY < <(compgen -W \"$options\" -- \"$word\")\n"
         "    elif [ -n \"$operands\" ]; then\n"
         "        mapfile -t COMPREPLY < <(compgen -W \"$operands\" -S \"$end\" -- \"$word\")\n"
         "        [ -z \"$end\" ] || compopt -o nospace 2>/dev/null\n"
         "    else\n"
         "        mapfile -t COMPREPLY < <(compgen -f -- \"$word\")\n"
         "        compopt -o filenames 2>/dev/null\n"
         "    fi\n"
         "    return 0\n"
         "}\n"
         "complete -F _slewtime slewtime");
}
