/* command.h - what a command is: its words for the help, its options, and what it does. */
#ifndef SLEW_CLI_LINE_COMMAND_H
#define SLEW_CLI_LINE_COMMAND_H

#include "options.h"

typedef struct cli_command {
    const char *name;
    const char *operands;                   /* as in the help: "SCENARIO" */
    int least, most;                        /* how many operands it takes */
    uint64_t options;                       /* the options it takes: CLI_BIT(CLI_SET) | ... */
    const char *summary;                    /* one line */
    const char *about;                      /* some lines more, for its own help */
    const char *examples;                   /* lines of examples */
    bool cautions;                          /* its help ends with the cautions */
    int (*run)(const cli_options *options); /* returns an exit code */
} cli_command;

#endif
