/* timing_columns.h - the columns of a CSV of timed travels: reading and writing one field. */
#ifndef SLEW_SCENARIO_TIMING_COLUMNS_H
#define SLEW_SCENARIO_TIMING_COLUMNS_H

#include "keys/keys.h"
#include "slewtime/timing.h"

/* In the order in which a row is read. Each measure has two, value and sd, from SECONDS on. */
enum {
    SLEW_COLUMN_AXIS,
    SLEW_COLUMN_DIRECTION,
    SLEW_COLUMN_FROM,
    SLEW_COLUMN_FROM_DEG,
    SLEW_COLUMN_TO,
    SLEW_COLUMN_TO_DEG,
    SLEW_COLUMN_SUPPLY,
    SLEW_COLUMN_PRESSURE,
    SLEW_COLUMN_TEMPERATURE,
    SLEW_COLUMN_WINDING,
    SLEW_COLUMN_SECONDS,
    SLEW_COLUMN_SECONDS_SD,
    SLEW_COLUMN_VOLTAGE,
    SLEW_COLUMN_VOLTAGE_SD,
    SLEW_COLUMN_CURRENT,
    SLEW_COLUMN_CURRENT_SD,
    SLEW_COLUMN_RESTS,
    SLEW_COLUMN_RESTS_SD,
    SLEW_COLUMN_SUPPLY_SD, /* of the inputs, in their order */
    SLEW_COLUMN_PRESSURE_SD,
    SLEW_COLUMN_TEMPERATURE_SD,
    SLEW_COLUMN_ANGLE_SD,
    SLEW_COLUMNS
};

/* Reads one field that is not empty into the row. false: message, expected and nearest say why. */
bool slew_timing_read_field(int column, const char *text, slew_timing *row, slew_error *error);

#endif
