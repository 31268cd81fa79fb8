/*
 * commands.h - all commands, each with a folder of its own.
 *
 * To add one: its folder with a command.c that defines a `const cli_command`, its line here; new
 * options get a row in line/options.c.
 */
#ifndef SLEW_CLI_COMMANDS_H
#define SLEW_CLI_COMMANDS_H

#include "line/command.h"

/* In the order of the help. */
#define CLI_COMMANDS(X)                                                                            \
    X(run)                                                                                         \
    X(plan)                                                                                        \
    X(compare)                                                                                     \
    X(offset)                                                                                      \
    X(margin)                                                                                      \
    X(map)                                                                                         \
    X(feed)                                                                                        \
    X(speed)                                                                                       \
    X(nozzle)                                                                                      \
    X(window)                                                                                      \
    X(fit)                                                                                         \
    X(card)                                                                                        \
    X(causes)                                                                                      \
    X(page)                                                                                        \
    X(report)                                                                                      \
    X(fmu)                                                                                         \
    X(check)                                                                                       \
    X(keys)

#define CLI_DECLARE_COMMAND(name) extern const cli_command cli_##name##_command;
CLI_COMMANDS(CLI_DECLARE_COMMAND)

#endif
