/*
 * commands.h - every command on a small example, for memory.c and writes.c. What they write is
 * OUTPUT, and the files of `output`.
 */
#ifndef SLEW_TESTS_FAULTS_COMMANDS_H
#define SLEW_TESTS_FAULTS_COMMANDS_H

#include <stdbool.h>
#include <stddef.h>

typedef struct asked {
    const char *name;
    const char *argument[16]; /* of the tool */
    bool leaks; /* gsl_multifit_nlinear_alloc and zip_close (libzip 1.7.3, of a compressed file)
                   leave blocks when one of their own is refused */
    bool tells_still; /* the answer is told though the file could not be written */
    bool slow;        /* `make check` leaves it out */
    int code;         /* what it ends with where nothing fails */
    int alike; /* more than 40 000 allocations, nearly all of them of JSON values in loops: of those
                  with the same callers the first so many are tried, and then every so-many-th */
} asked;

#define OUTPUT "out.csv"
enum { OUTPUTS = 3 };
static const char *const output[OUTPUTS] = {OUTPUT, "out.svg", "pose.svg"};

#define FEW   "--samples", "8", "--threads", "1"
#define OWN   "--samples", "2", "--threads", "1", "--catalogue", "own.yaml"
#define TIMED "fit", "truck.yaml", "times.csv", "--key", "elevation.motor.no_load_speed"
#define WEAK  "--beside", "weak", "--today", "supply.main.voltage=11 V"
#define VARY  "--vary", "today.supply.main.voltage=9V:15V:3"

static const asked command[] = {
    {.name = "help", .argument = {"--help"}},
    {.name = "help-run", .argument = {"help", "run"}},
    {.name = "check", .argument = {"check", "truck.yaml"}},
    {.name = "check-json", .argument = {"check", "truck.yaml", "--json"}, .slow = true},
    {.name = "check-wrong",
     .argument = {"check", "truck.yaml", "--set", "supply.feed.lenth=3 m"},
     .code = 2},
    {.name = "keys", .argument = {"keys"}, .tells_still = true},
    {.name = "keys-json", .argument = {"keys", "supply", "--json"}, .tells_still = true},
    {.name = "schema", .argument = {"schema", "run"}},
    {.name = "schema-scenario", .argument = {"schema", "scenario"}, .tells_still = true},
    {.name = "manual-1", .argument = {"manual", "1"}},
    {.name = "manual-3", .argument = {"manual", "3"}},
    {.name = "manual-5", .argument = {"manual", "5"}, .tells_still = true},
    {.name = "completion-bash", .argument = {"completion", "bash"}},
    {.name = "completion-zsh", .argument = {"completion", "zsh"}},
    {.name = "run", .argument = {"run", "truck.yaml", "--trace", OUTPUT}},
    {.name = "run-json", .argument = {"run", "truck.yaml", "--json"}},
    {.name = "run-csv", .argument = {"run", "truck.yaml", "--csv"}},
    {.name = "run-plot",
     .argument = {"run", "truck.yaml", "--plot", "out.svg", "--pose", "pose.svg"}},
    {.name = "run-plot-terminal", .argument = {"run", "truck.yaml", "--plot", "-"}},
    {.name = "run-fan", .argument = {"run", "truck.yaml", "--pose", "pose.svg", FEW}, .slow = true},
    {.name = "compare", .argument = {"compare", "truck.yaml", WEAK}},
    {.name = "compare-json", .argument = {"compare", "truck.yaml", WEAK, "--json"}, .slow = true},
    {.name = "compare-csv", .argument = {"compare", "truck.yaml", WEAK, "--csv"}},
    {.name = "compare-plot",
     .argument = {"compare", "truck.yaml", WEAK, "--plot", "out.svg"},
     .slow = true},
    {.name = "offset", .argument = {"offset", "truck.yaml", FEW}},
    {.name = "offset-json",
     .argument = {"offset", "truck.yaml", "--samples", "8", "--threads", "2", "--json"}},
    {.name = "offset-csv", .argument = {"offset", "truck.yaml", FEW, "--csv"}},
    {.name = "offset-plot",
     .argument = {"offset", "truck.yaml", FEW, "--plot", "out.svg"},
     .slow = true},
    {.name = "plan", .argument = {"plan", "truck.yaml", FEW}},
    {.name = "plan-json", .argument = {"plan", "truck.yaml", FEW, "--json"}},
    {.name = "plan-csv", .argument = {"plan", "truck.yaml", FEW, "--csv"}},
    {.name = "plan-plot",
     .argument = {"plan", "truck.yaml", FEW, "--plot", "out.svg"},
     .slow = true},
    {.name = "margin", .argument = {"margin", "truck.yaml", FEW}},
    {.name = "margin-json", .argument = {"margin", "truck.yaml", FEW, "--json"}},
    {.name = "margin-csv", .argument = {"margin", "truck.yaml", FEW, "--csv"}},
    {.name = "margin-plot",
     .argument = {"margin", "truck.yaml", FEW, "--plot", "out.svg"},
     .slow = true},
    {.name = "map", .argument = {"map", "truck.yaml", VARY}},
    {.name = "map-two",
     .argument = {"map", "truck.yaml", VARY, "--vary", "stow.point.elevation=-14deg:-4deg:3"},
     .slow = true},
    {.name = "map-json", .argument = {"map", "truck.yaml", VARY, "--json"}},
    {.name = "map-csv", .argument = {"map", "truck.yaml", VARY, "--csv"}},
    {.name = "map-plot",
     .argument = {"map", "truck.yaml", VARY, "--plot", "out.svg"},
     .slow = true},
    {.name = "feed", .argument = {"feed", "truck.yaml"}},
    {.name = "feed-json", .argument = {"feed", "truck.yaml", "--json"}},
    {.name = "feed-csv", .argument = {"feed", "truck.yaml", "--csv"}},
    {.name = "feed-plot", .argument = {"feed", "truck.yaml", "--plot", "out.svg"}, .slow = true},
    {.name = "speed", .argument = {"speed", "truck.yaml"}},
    {.name = "speed-json", .argument = {"speed", "truck.yaml", "--json"}},
    {.name = "speed-csv", .argument = {"speed", "truck.yaml", "--csv"}},
    {.name = "speed-plot", .argument = {"speed", "truck.yaml", "--plot", "out.svg"}, .slow = true},
    {.name = "nozzle",
     .argument = {"nozzle", "truck.yaml", "--tip", "1.5in", "--pressure", "80psi"}},
    {.name = "nozzle-json",
     .argument = {"nozzle", "--tip", "1.5in", "--pressure", "80psi", "--json"}},
    {.name = "nozzle-csv",
     .argument = {"nozzle", "--tip", "1.5in", "--pressure", "80psi", "--csv"}},
    {.name = "nozzle-plot",
     .argument = {"nozzle", "truck.yaml", "--tip", "1.5in", "--pressure", "80psi", "--plot",
                  "out.svg"},
     .slow = true},
    {.name = "window", .argument = {"window", "truck.yaml"}},
    {.name = "window-json", .argument = {"window", "truck.yaml", "--json"}},
    {.name = "window-csv", .argument = {"window", "truck.yaml", "--csv"}},
    {.name = "window-plot",
     .argument = {"window", "truck.yaml", "--plot", "out.svg"},
     .slow = true},
    {.name = "fit", .argument = {TIMED}, .leaks = true},
    {.name = "fit-robust", .argument = {TIMED, "--robust", "--json"}, .slow = true, .leaks = true},
    {.name = "fit-csv", .argument = {TIMED, "--csv"}, .leaks = true},
    {.name = "fit-plot", .argument = {TIMED, "--plot", "out.svg"}, .leaks = true},
    {.name = "fit-write",
     .argument = {TIMED, "--write", OUTPUT},
     .leaks = true,
     .tells_still = true},
    {.name = "card", .argument = {"card", "truck.yaml", FEW}},
    {.name = "card-json", .argument = {"card", "truck.yaml", FEW, "--json"}},
    {.name = "card-csv", .argument = {"card", "truck.yaml", FEW, "--csv"}},
    {.name = "card-plot",
     .argument = {"card", "truck.yaml", FEW, "--plot", "out.svg"},
     .slow = true},
    {.name = "card-readings", .argument = {"card", "truck.yaml", FEW, "--readings", "times.csv"}},
    {.name = "causes", .argument = {"causes", "truck.yaml", "--seen", "seen.yaml", OWN}},
    {.name = "causes-json", .argument = {"causes", "truck.yaml", OWN, "--json"}},
    {.name = "causes-builtin",
     .argument = {"causes", "truck.yaml", "--seen", "seen.yaml", "--samples", "2", "--threads",
                  "1"},
     .slow = true},
    {.name = "causes-about", .argument = {"causes", "truck.yaml", "--about", "weak battery", OWN}},
    {.name = "causes-csv", .argument = {"causes", "truck.yaml", OWN, "--csv"}},
    {.name = "causes-plot",
     .argument = {"causes", "truck.yaml", "--seen", "seen.yaml", OWN, "--plot", "out.svg"},
     .slow = true},
    {.name = "page",
     .argument = {"page", "truck.yaml", "--out", OUTPUT},
     .slow = true,
     .alike = 16},
    {.name = "report",
     .argument = {"report", "truck.yaml", "--out", OUTPUT},
     .slow = true,
     .alike = 16},
    {.name = "fmu", .argument = {"fmu", "truck.yaml", "--out", OUTPUT}, .leaks = true},
    {.name = "fmu-plant",
     .argument = {"fmu", "truck.yaml", "--plant", "--out", OUTPUT},
     .leaks = true,
     .slow = true},
};

enum { COMMANDS = sizeof command / sizeof *command };

#endif
