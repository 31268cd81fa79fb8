/* zsh.c - the script for zsh; see scripts.h. */
#include <stdio.h>
#include <string.h>

#include "scripts.h"

/* 'NAME:the first line of its words' as _describe has it */
static void write_item(const char *name, const char *words)
{
    printf("        '%s:", name);
    for (; *words != '\0' && *words != '\n'; words++)
        if (*words == '\'')
            fputs("'\\''", stdout);
        else if (*words == ':' || *words == '\\')
            printf("\\%c", *words);
        else
            putchar(*words);
    puts("'");
}

static void write_commands(void)
{
    const cli_command *command;
    puts("    commands=(");
    for (int i = 0; (command = cli_completion_command_at(i)) != NULL; i++)
        write_item(command->name, command->summary);
    write_item("help", "all options of a command");
    puts("    )");
}

static void write_options(void)
{
    const cli_command *command;
    puts("    case $words[2] in\n    (help) operands=(${commands%%:*}) ;;");
    for (int i = 0; (command = cli_completion_command_at(i)) != NULL; i++) {
        printf("    (%s)\n        operands=(", command->name);
        cli_completion_operands(command);
        puts(" )\n        options=(");
        for (int id = 0; id < CLI_OPTION_COUNT; id++)
            if (command->options & CLI_BIT(id))
                write_item(cli_option_at(id)->name, cli_option_at(id)->help);
        puts("        ) ;;");
    }
    puts("    esac");
}

static void write_values(void)
{
    puts("    case $words[CURRENT-1] in");
    for (int id = 0; id < CLI_OPTION_COUNT; id++) {
        const cli_option *option = cli_option_at(id);
        if (option->words != NULL) {
            printf("    (%s) compadd --", option->name);
            cli_completion_words(option->words);
            puts("; return ;;");
        } else if (cli_completion_has_key(option))
            printf("    (%s) compadd -S = -- $keys; return ;;\n", option->name);
        else if (option->value != NULL)
            printf("    (%s) _files; return ;;\n", option->name);
    }
    puts("    esac");
}

void cli_completion_zsh(void)
{
    puts("#compdef slewtime\n"
         "# zsh completion of slewtime, written by `slewtime completion zsh`\n"
         "_slewtime()\n{\n"
         "    local -a commands options operands keys");
    write_commands();
    fputs("    keys=(", stdout);
    cli_completion_keys();
    puts(" )\n"
         "    if (( CURRENT == 2 )); then\n"
         "        _describe command commands\n"
         "        return\n"
         "    fi");
    write_values();
    write_options();
    puts("    if [[ $PREFIX == -* ]]; then\n"
         "        _describe -o option options\n"
         "    elif (( $#operands > 0 )); then\n"
         "        compadd -- $operands\n"
         "    else\n"
         "        _files\n"
         "    fi\n"
         "}\n"
         "_slewtime \"$@\"");
}
