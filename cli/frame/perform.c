/* perform.c - see perform.h. */
#include "perform.h"

#include "frame.h"
#include "line/exit_code.h"
#include "line/help.h"
#include "line/outputs.h"
#include "line/report.h"

static int check_operands(const cli_command *command, const cli_options *options)
{
    cli_complaint complaint = {.help = command->name};
    if (options->operand_count < command->least)
        return cli_complain(&complaint, "%s needs %s", command->name, command->operands);
    if (options->operand_count > command->most)
        return cli_complain(&complaint, "%s: one word too many: %s", command->name,
                            options->operand[command->most]);
    return CLI_OK;
}

int cli_perform(const cli_command *command, int count, char **words)
{
    cli_options options;
    int code = cli_options_read(&options, command->name, command->options, count, words);
    options.spread_unused = command->draws_nothing && options.samples == 0;
    options.unneeded = command->unneeded != NULL ? command->unneeded(&options) : NULL;
    if (code == CLI_OK && options.help)
        cli_help_command(command);
    else if (code == CLI_OK && (code = check_operands(command, &options)) == CLI_OK &&
             (code = cli_outputs_check(&options, command->name)) == CLI_OK)
        code = command->run != NULL
                   ? command->run(&options)
                   : cli_frame_ask(&options, command->name, command->answer_size, command->ask);
    cli_options_free(&options);
    return code;
}
