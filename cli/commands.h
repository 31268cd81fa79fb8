/*
 * commands.h - all commands, each with a folder of its own.
 *
 * To add one: its folder with a command.c that defines a `const cli_command`, its line here and in
 * main.c; new options get a row in line/options.c.
 */
#ifndef SLEW_CLI_COMMANDS_H
#define SLEW_CLI_COMMANDS_H

#include "line/command.h"

extern const cli_command cli_run_command;
extern const cli_command cli_offset_command;
extern const cli_command cli_plan_command;
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
extern const cli_command cli_page_command;
extern const cli_command cli_check_command;
extern const cli_command cli_keys_command;

#endif
