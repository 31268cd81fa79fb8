/*
 * command.h - what a command is. One file per command defines one, main.c lists them all.
 *
 * To add a command: write its file with one `const cli_command`, declare that here, list it in
 * main.c; new options get a row in options.c.
 */
#ifndef SLEW_CLI_LINE_COMMAND_H
#define SLEW_CLI_LINE_COMMAND_H

#include "options.h"

/* Exit codes. */
enum {
    CLI_OK = 0,      /* the question was answered */
    CLI_NOT_OK = 1,  /* --require ok, and the machine faulted or missed */
    CLI_WRONG = 2,   /* the input or the command line is wrong */
    CLI_OUTSIDE = 3, /* something outside failed: file, gnuplot, memory */
};

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

extern const cli_command cli_run_command;
extern const cli_command cli_offset_command;
extern const cli_command cli_map_command;
extern const cli_command cli_margin_command;
extern const cli_command cli_causes_command;
extern const cli_command cli_feed_command;
extern const cli_command cli_speed_command;
extern const cli_command cli_nozzle_command;
extern const cli_command cli_window_command;
extern const cli_command cli_compare_command;
extern const cli_command cli_fit_command;
extern const cli_command cli_card_command;
extern const cli_command cli_check_command;
extern const cli_command cli_keys_command;

#endif
