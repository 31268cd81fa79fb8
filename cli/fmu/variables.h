/*
 * variables.h - the variables of an FMU: one list, of which both the description and the module
 * are made.
 *
 * An FMU has what a machine is told and shows (variables.c), the keys that it makes something of
 * (slew_key_used) under their own paths, and `teach.` before a path for what differed while the
 * stow point was taught. All values are in SI.
 */
#ifndef SLEW_CLI_FMU_VARIABLES_H
#define SLEW_CLI_FMU_VARIABLES_H

#include "slewtime/scenario.h"

typedef enum fmu_kind { FMU_MACHINE, FMU_PLANT } fmu_kind;

typedef enum fmu_type { FMU_FLOAT64, FMU_INT32, FMU_BOOLEAN, FMU_ENUMERATION } fmu_type;

typedef enum fmu_role {
    FMU_INDEPENDENT, /* time */
    FMU_FIXED,       /* parameter, set before the start alone */
    FMU_TUNABLE,     /* parameter */
    FMU_INPUT,
    FMU_CALCULATED, /* follows from the parameters at the start */
    FMU_OUTPUT
} fmu_role;

/* Value references. A key has its place in the table of keys behind FMU_KEYS, what was otherwise
 * while teaching behind FMU_TAUGHT. Of two axes the rotation comes first. */
enum {
    FMU_TIME,
    FMU_STOW,
    FMU_DEPLOY,
    FMU_CANCEL,
    FMU_JOG,
    FMU_DRIVE_INPUT = FMU_JOG + 2,
    FMU_TORQUE = FMU_DRIVE_INPUT + 2,
    FMU_STORED = FMU_TORQUE + 2,
    FMU_ANGLE = FMU_STORED + 2,
    FMU_SPEED = FMU_ANGLE + 2,
    FMU_CURRENT = FMU_SPEED + 2,
    FMU_SENSOR = FMU_CURRENT + 2,
    FMU_MOVING = FMU_SENSOR + 2,
    FMU_DRIVE = FMU_MOVING + 2,
    FMU_OVER_CURRENT = FMU_DRIVE + 2,
    FMU_VOLTAGE = FMU_OVER_CURRENT + 2,
    FMU_BELOW_FLOOR,
    FMU_BELOW_BROWNOUT,
    FMU_HOLDS,
    FMU_TASK,
    FMU_VERDICT,
    FMU_FAULT,
    FMU_FAULT_AXIS,
    FMU_READY,
    FMU_KEEPOUT,
    FMU_EVENT,
    FMU_EVENTS,
    FMU_LOWEST_VOLTAGE,
    FMU_PEAK_CURRENT,
    FMU_CHARGE,
    FMU_OWN_COUNT,
    FMU_KEYS = 1000,
    FMU_TAUGHT = 2000
};

enum { FMU_NAME_MAX = 112, FMU_VARIABLES_MAX = 448, FMU_NO_KEY = -1 };

typedef struct fmu_variable {
    char name[FMU_NAME_MAX];
    unsigned reference;
    fmu_type type;
    fmu_role role;
    int key;              /* in the table of keys, or FMU_NO_KEY */
    slew_layer_id layer;  /* of a key: FILE or TEACH */
    const char *quantity; /* as in the table of keys; NULL: none */
    const char *unit;     /* in which it is shown; NULL: none */
    double low, high;     /* allowed; infinite where open */
    bool low_open, high_open;
    double start;        /* of inputs and parameters */
    const char *meaning; /* one line */
} fmu_variable;

/* In ascending order of their references. */
typedef struct fmu_variables {
    int count;
    fmu_variable item[FMU_VARIABLES_MAX];
} fmu_variables;

/* The variables of a scenario as an FMU has it (fmu_numbers_read). */
void fmu_variables_list(const slew_scenario *scenario, fmu_kind kind, fmu_variables *variables);

/* NULL: there is none of that reference. */
const fmu_variable *fmu_variable_find(const fmu_variables *variables, unsigned reference);

/* ---- what an FMU says to its importer: FMI 3.0, 2.4.5 (from memory) ---- */

enum { FMU_SAYS_ERROR, FMU_SAYS_WARNING, FMU_SAYS_EVENT, FMU_CATEGORIES };

typedef struct fmu_category {
    const char *name, *meaning;
} fmu_category;

extern const fmu_category fmu_categories[FMU_CATEGORIES];

/* One item of an enumeration: its word, and its value. false: there are no more. */
bool fmu_variable_item(const fmu_variable *variable, int index, char *word, size_t size,
                       int *value);

#endif
