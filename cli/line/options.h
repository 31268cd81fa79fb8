/*
 * options.h - the command line: one table gives the parser, the help texts and the checks.
 *
 * To add an option: a name in the enum, a field in cli_options, a row in options.c, and its bit in
 * the commands that take it.
 */
#ifndef SLEW_CLI_LINE_OPTIONS_H
#define SLEW_CLI_LINE_OPTIONS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "slewtime/read.h"

typedef enum cli_option_id {
    CLI_SET,
    CLI_TEACH,
    CLI_TODAY,
    CLI_DEPLOY_DAY,
    CLI_SPREAD,
    CLI_UNITS,
    CLI_ONLY,
    CLI_REQUIRE,
    CLI_JSON,
    CLI_CSV,
    CLI_TRACE,
    CLI_PLOT,
    CLI_SLIDE,
    CLI_POSE,
    CLI_SAMPLES,
    CLI_SEED,
    CLI_THREADS,
    CLI_RANDOM,
    CLI_AXIS,
    CLI_WANTED,
    CLI_VARY,
    CLI_SEEN,
    CLI_READINGS,
    CLI_CATALOGUE,
    CLI_ABOUT,
    CLI_DRAW,
    CLI_TOLERANCE,
    CLI_SENSE,
    CLI_DROP,
    CLI_CLASS,
    CLI_MEASURED_VOLTAGE,
    CLI_MEASURED_DROP,
    CLI_MEASURED_CURRENT,
    CLI_AT,
    CLI_TIP,
    CLI_FLOW,
    CLI_PRESSURE,
    CLI_BESIDE,
    CLI_KEY,
    CLI_BIAS,
    CLI_ROBUST,
    CLI_WRITE,
    CLI_OUT,
    CLI_PLANT,
    CLI_ALL,
    CLI_QUIET,
    CLI_HELP,
    CLI_OPTION_COUNT
} cli_option_id;

#define CLI_BIT(id) (UINT64_C(1) << (id))

/* The options by which every command reads its scenario. */
#define CLI_SCENARIO_OPTIONS                                                                       \
    (CLI_BIT(CLI_SET) | CLI_BIT(CLI_TEACH) | CLI_BIT(CLI_TODAY) | CLI_BIT(CLI_DEPLOY_DAY) |        \
     CLI_BIT(CLI_SPREAD) | CLI_BIT(CLI_UNITS) | CLI_BIT(CLI_QUIET) | CLI_BIT(CLI_HELP))

/* The options of commands that draw. */
#define CLI_PICTURE_OPTIONS (CLI_BIT(CLI_PLOT) | CLI_BIT(CLI_SLIDE))

/* The options of commands that ask many runs. */
#define CLI_SAMPLING_OPTIONS                                                                       \
    (CLI_BIT(CLI_SAMPLES) | CLI_BIT(CLI_SEED) | CLI_BIT(CLI_THREADS) | CLI_BIT(CLI_RANDOM))

typedef enum cli_option_kind {
    CLI_FLAG,        /* bool */
    CLI_TEXT,        /* const char * */
    CLI_COUNT,       /* long, 1 or more */
    CLI_WORD,        /* int: number of the word, from 1; 0: not given */
    CLI_TEXTS,       /* cli_texts: added to them */
    CLI_ASSIGNMENT,  /* added to the assignments, for the layer `layer` */
    CLI_UNIT_SYSTEM, /* the same: the key `units` of the file */
    CLI_VARIED,      /* added to the varied keys */
    CLI_GROUPED      /* begins a group: the assignments after it are its own */
} cli_option_kind;

typedef struct cli_option {
    const char *name;     /* "--set" */
    const char *value;    /* how the help calls its value; NULL: it has none */
    cli_option_kind kind; /* of the field */
    size_t offset;        /* of the field in cli_options */
    slew_layer_id layer;  /* of an assignment */
    bool is_spread;       /* of an assignment: of a distribution */
    const char *words;    /* of a word: "stow|deploy" */
    const char *help;     /* lines separated by \n */
} cli_option;

/* Words of --only, --require, --axis and --class, in the order of their rows. */
enum { CLI_ONLY_STOW = 1, CLI_ONLY_DEPLOY };
enum { CLI_REQUIRE_OK = 1 };
enum { CLI_AXIS_ELEVATION = 1, CLI_AXIS_ROTATION };
enum { CLI_CLASS_2 = 1, CLI_CLASS_5 };

enum { CLI_VARIED_MAX = 2, CLI_TEXTS_MAX = 16, CLI_COLUMNS_MAX = 6 };

/* The values of an option that may be repeated. */
typedef struct cli_texts {
    const char *text[CLI_TEXTS_MAX];
    int count; /* as given: of more than CLI_TEXTS_MAX only the first are kept */
} cli_texts;

/* A column of compare that --beside begins. */
typedef struct cli_group {
    const char *name;
    size_t first; /* its own assignments begin here, and end where the next group begins */
} cli_group;

typedef struct cli_options {
    const char **operand; /* what is no option, in order */
    int operand_count;
    slew_assignment *assignment; /* in the order given */
    size_t assignment_count;
    int only, require;
    bool json, csv, all, slide, quiet, help;
    bool spread_unused;          /* the command draws nothing, so a wrong spread is a warning */
    const char *const *unneeded; /* keys that the command does without (slew_reading) */
    bool *given;                 /* is told which keys are set (slew_reading); NULL: not asked */
    const char *trace, *plot, *pose;
    int64_t samples, seed, threads, draw; /* 0: not given */
    bool random;
    int axis;
    const char *seen, *readings, *catalogue, *about; /* NULL: not given */
    const char *wanted;                              /* NULL: not given */
    const char *tolerance, *sense;                   /* NULL: not given */
    const char *drop, *measured_voltage, *measured_drop, *measured_current;
    int iec_class;
    const char *vary[CLI_VARIED_MAX];
    int vary_count; /* as given: of more than CLI_VARIED_MAX only the first are kept */
    cli_texts at, tip, flow, pressure, key;
    cli_group group[CLI_COLUMNS_MAX];
    int group_count; /* as given: of more than CLI_COLUMNS_MAX only the first are kept */
    bool bias, robust, plant;
    const char *write, *out; /* NULL: not given */
} cli_options;

/* NULL outside 0 .. CLI_OPTION_COUNT-1. */
const cli_option *cli_option_at(int id);

/* Reads the words that follow the command. Errors are told on stderr. `takes` is the set of options
 * of `command`. Returns an exit code; free the options after any of them. */
int cli_options_read(cli_options *options, const char *command, uint64_t takes, int count,
                     char **words);
void cli_options_free(cli_options *options);

#endif
