/* command.h - what a command is: its words for the help, its options, and what it does. */
#ifndef SLEW_CLI_LINE_COMMAND_H
#define SLEW_CLI_LINE_COMMAND_H

#include "options.h"
#include "slewtime/scenario.h"

/* What a command asks of a scenario that is read; `answer` is its own and begins zeroed. Returns an
 * exit code. */
typedef int cli_question(const cli_options *options, const slew_scenario *scenario, void *answer);

typedef struct cli_command {
    const char *name;
    const char *operands; /* as in the help: "SCENARIO" */
    int least, most;      /* how many operands it takes */
    uint64_t options;     /* the options it takes: CLI_BIT(CLI_SET) | ... */
    const char *summary;  /* one line */
    const char *about;    /* some lines more, for its own help */
    const char *examples; /* lines of examples */
    bool draws_nothing;   /* but with --samples */
    /* what of a scenario need not be there (slew_reading); NULL: it asks for runs */
    const char *const *(*unneeded)(const cli_options *options);
    bool cautions;     /* its help ends with the cautions */
    cli_question *ask; /* with an answer of so many bytes: */
    size_t answer_size;
    int (*run)(const cli_options *options); /* where it does not ask one scenario, or checks more
                                               before; returns an exit code */
} cli_command;

#endif
