/* timing_columns.c - the columns of a CSV of timed travels: reading and writing one field. */
#include "scenario/timing_columns.h"

#include <stdio.h>
#include <string.h>

#include "keys/number.h"
#include "keys/text.h"
#include "slewtime/physics.h"

#define DEGREE (3.14159265358979323846 / 180)
#define BAR    1e5 /* [Pa] */

/* ---- the table ---- */

/* SI value = value * times + offset; the range is that of the value as written */
typedef struct column_row {
    slew_timing_column column;
    double times, offset;
    double low, high;
    bool low_open;
} column_row;

#define WORDS(name, words, example, meaning)                                                       \
    {                                                                                              \
        {name, "", words, example, meaning}, 0, 0, 0, 0, false                                     \
    }
#define NUMBER(name, unit, times, offset, low, high, low_open, example, meaning)                   \
    {                                                                                              \
        {name, unit, NULL, example, meaning}, times, offset, low, high, low_open                   \
    }
#define ANY_ANGLE(name, example, meaning)                                                          \
    NUMBER(name, "deg", DEGREE, 0, -INFINITY, INFINITY, false, example, meaning)
#define ABOVE_0(name, unit, example, meaning)                                                      \
    NUMBER(name, unit, 1, 0, 0, INFINITY, true, example, meaning)
#define FROM_0(name, unit, times, example, meaning)                                                \
    NUMBER(name, unit, times, 0, 0, INFINITY, false, example, meaning)

static const column_row COLUMNS[SLEW_COLUMNS] = {
    [SLEW_COLUMN_AXIS] = WORDS("axis", "rotation | elevation", "elevation", "which axis turns"),
    [SLEW_COLUMN_DIRECTION] =
        WORDS("direction", "left | right | down | up | off", "up",
              "in which it turns, or is pressed on a stop; off: no drive is on"),
    [SLEW_COLUMN_FROM] = WORDS("from", "low_stop | high_stop | home", "low_stop",
                               "where it stands still before; home: at the sensor's angle"),
    [SLEW_COLUMN_FROM_DEG] = ANY_ANGLE("from_deg", "-16", "the same as an angle"),
    [SLEW_COLUMN_TO] = WORDS("to", "low_stop | high_stop | home | stow_point", "high_stop",
                             "where the stopwatch ends; home: the sensor closes; stow_point: "
                             "seconds_s is the stored time"),
    [SLEW_COLUMN_TO_DEG] = ANY_ANGLE("to_deg", "40", "the same as an angle"),
    [SLEW_COLUMN_SUPPLY] = ABOVE_0("supply_V", "V", "13.4", "the source with the drives off"),
    [SLEW_COLUMN_PRESSURE] =
        FROM_0("pressure_bar", "bar", BAR, "7", "at the nozzle; 0: no water flows"),
    [SLEW_COLUMN_TEMPERATURE] = NUMBER("temperature_degC", "degC", 1, SLEW_ZERO_CELSIUS, -60, 100,
                                       false, "20", "of the surroundings"),
    [SLEW_COLUMN_WINDING] =
        NUMBER("winding_rise_K", "K", 1, 0, 0, 200, false, "0",
               "the axis' motor above the surroundings; 0: first move of the day"),
    [SLEW_COLUMN_SECONDS] = ABOVE_0("seconds_s", "s", "11.3", "the stopwatch, from drive-on"),
    [SLEW_COLUMN_SECONDS_SD] = ABOVE_0("seconds_sd_s", "s", "0.15", "its standard deviation"),
    [SLEW_COLUMN_VOLTAGE] = FROM_0("controller_V", "V", 1, "12.6",
                                   "voltage at the controller, half way or standing still"),
    [SLEW_COLUMN_VOLTAGE_SD] = ABOVE_0("controller_sd_V", "V", "0.05", "its standard deviation"),
    [SLEW_COLUMN_CURRENT] =
        FROM_0("current_A", "A", 1, "4.2", "current of the drive, half way or pressed on a stop"),
    [SLEW_COLUMN_CURRENT_SD] = ABOVE_0("current_sd_A", "A", "0.3", "its standard deviation"),
    [SLEW_COLUMN_SUPPLY_SD] =
        FROM_0("supply_sd_V", "V", 1, "0.05", "standard deviation of supply_V"),
    [SLEW_COLUMN_PRESSURE_SD] =
        FROM_0("pressure_sd_bar", "bar", BAR, "0.3", "standard deviation of pressure_bar"),
    [SLEW_COLUMN_TEMPERATURE_SD] =
        FROM_0("temperature_sd_K", "K", 1, "3", "standard deviation of temperature_degC"),
    [SLEW_COLUMN_ANGLE_SD] =
        FROM_0("angle_sd_deg", "deg", DEGREE, "0.5", "standard deviation of from_deg and to_deg"),
};

int slew_timing_column_count(void)
{
    return SLEW_COLUMNS;
}

const slew_timing_column *slew_timing_column_at(int index)
{
    return index >= 0 && index < SLEW_COLUMNS ? &COLUMNS[index].column : NULL;
}

static bool refuse(int column, const char *text, const char *message, slew_error *error)
{
    const column_row *c = &COLUMNS[column];
    slew_say(error->message, sizeof error->message, "\"%.60s\": %s", text, message);
    char range[48] = "";
    if (isfinite(c->high))
        slew_say(range, sizeof range, " from %g to %g", c->low, c->high);
    else if (isfinite(c->low))
        slew_say(range, sizeof range, c->low_open ? " above 0" : " of 0 or more");
    if (c->column.words != NULL)
        slew_say(error->expected, sizeof error->expected, "one of %s", c->column.words);
    else
        slew_say(error->expected, sizeof error->expected, "a number%s in %s, for example %s", range,
                 c->column.unit, c->column.example);
    return false;
}

/* ---- words ---- */

static const char *const AXES[] = {"rotation", "elevation"};
static const slew_place_kind PLACES[] = {SLEW_PLACE_LOW_STOP, SLEW_PLACE_HIGH_STOP, SLEW_PLACE_HOME,
                                         SLEW_PLACE_STOW_POINT};
static const struct {
    int axis, sign;
} DIRECTIONS[] = {{SLEW_ROTATION, -1},
                  {SLEW_ROTATION, +1},
                  {SLEW_ELEVATION, -1},
                  {SLEW_ELEVATION, +1},
                  {SLEW_NO_AXIS, 0}};

/* which of the column's words the text is; -1, and said: none */
static int read_word(int column, const char *text, slew_error *error)
{
    const char *words = COLUMNS[column].column.words, *word;
    char near[SLEW_PATH_MAX];
    size_t length;
    for (int i = 0; (word = slew_word_next(&words, &length)) != NULL; i++)
        if (strlen(text) == length && strncmp(text, word, length) == 0)
            return i;
    if (slew_word_nearest(COLUMNS[column].column.words, text, near))
        slew_say(error->nearest, sizeof error->nearest, "%s", near);
    refuse(column, text, "not one of the words", error);
    return -1;
}

/* comes after the axis */
static bool set_direction(int word, const char *text, slew_timing *row, slew_error *error)
{
    row->direction = DIRECTIONS[word].sign;
    if (row->direction == 0 || row->axis == SLEW_NO_AXIS || DIRECTIONS[word].axis == row->axis)
        return true;
    slew_say(error->message, sizeof error->message, "%s does not turn %s", AXES[row->axis], text);
    slew_say(error->expected, sizeof error->expected,
             row->axis == SLEW_ROTATION ? "left or right" : "down or up");
    return false;
}

static bool set_word(int column, const char *text, slew_timing *row, slew_error *error)
{
    int word = read_word(column, text, error);
    if (word < 0)
        return false;
    if (column == SLEW_COLUMN_DIRECTION)
        return set_direction(word, text, row, error);
    if (column == SLEW_COLUMN_AXIS)
        row->axis = word;
    else if (column == SLEW_COLUMN_FROM)
        row->from.kind = PLACES[word];
    else
        row->to.kind = PLACES[word];
    return true;
}

/* ---- numbers ---- */

static bool is_input_sd(int column)
{
    return column >= SLEW_COLUMN_SUPPLY_SD;
}

static slew_measured *measured_in(slew_timing *row, int column)
{
    return column < SLEW_COLUMN_SECONDS ? NULL : &row->measured[(column - SLEW_COLUMN_SECONDS) / 2];
}

/* of a reading */
static bool is_sd(int column)
{
    return column >= SLEW_COLUMN_SECONDS && !is_input_sd(column) &&
           (column - SLEW_COLUMN_SECONDS) % 2 == 1;
}

static slew_place *place_in(slew_timing *row, int column)
{
    return column == SLEW_COLUMN_FROM_DEG ? &row->from
           : column == SLEW_COLUMN_TO_DEG ? &row->to
                                          : NULL;
}

static double *number_in(slew_timing *row, int column)
{
    if (is_input_sd(column))
        return &row->input_sd[column - SLEW_COLUMN_SUPPLY_SD];
    switch (column) {
    case SLEW_COLUMN_FROM_DEG:
        return &row->from.angle;
    case SLEW_COLUMN_TO_DEG:
        return &row->to.angle;
    case SLEW_COLUMN_SUPPLY:
        return &row->supply;
    case SLEW_COLUMN_PRESSURE:
        return &row->pressure;
    case SLEW_COLUMN_TEMPERATURE:
        return &row->temperature;
    case SLEW_COLUMN_WINDING:
        return &row->winding_rise;
    default:
        return is_sd(column) ? &measured_in(row, column)->sd : &measured_in(row, column)->value;
    }
}

static bool read_number(int column, const char *text, double *value, slew_error *error)
{
    const column_row *c = &COLUMNS[column];
    const char *rest = text;
    const char *problem = slew_number_read(text, value, &rest);
    if (problem != NULL)
        return refuse(column, text, problem, error);
    if (*rest != '\0')
        return refuse(column, text, "a number alone; its unit is in the header", error);
    if (*value < c->low || *value > c->high || (c->low_open && *value <= c->low))
        return refuse(column, text, "out of range", error);
    return true;
}

static bool set_number(int column, const char *text, slew_timing *row, slew_error *error)
{
    double value = 0;
    if (!read_number(column, text, &value, error))
        return false;
    *number_in(row, column) = value * COLUMNS[column].times + COLUMNS[column].offset;
    if (place_in(row, column) != NULL)
        place_in(row, column)->kind = SLEW_PLACE_ANGLE;
    if (is_sd(column))
        measured_in(row, column)->sd_given = true;
    return true;
}

bool slew_timing_read_field(int column, const char *text, slew_timing *row, slew_error *error)
{
    return COLUMNS[column].column.words != NULL ? set_word(column, text, row, error)
                                                : set_number(column, text, row, error);
}

/* ---- writing ---- */

static const char *place_word(const slew_place *place)
{
    switch (place->kind) {
    case SLEW_PLACE_LOW_STOP:
        return "low_stop";
    case SLEW_PLACE_HIGH_STOP:
        return "high_stop";
    case SLEW_PLACE_HOME:
        return "home";
    case SLEW_PLACE_STOW_POINT:
        return "stow_point";
    default:
        return "";
    }
}

static const char *direction_word(const slew_timing *row)
{
    static const char *const words[SLEW_AXES][2] = {{"left", "right"}, {"down", "up"}};
    return row->direction == 0 || row->axis == SLEW_NO_AXIS ? "off"
                                                            : words[row->axis][row->direction > 0];
}

static const char *word_in(const slew_timing *row, int column)
{
    switch (column) {
    case SLEW_COLUMN_AXIS:
        return row->axis == SLEW_NO_AXIS ? "" : AXES[row->axis];
    case SLEW_COLUMN_DIRECTION:
        return direction_word(row);
    case SLEW_COLUMN_FROM:
        return place_word(&row->from);
    default:
        return place_word(&row->to);
    }
}

/* NaN: the field is empty */
static double number_to_write(const slew_timing *row, int column)
{
    slew_timing copy = *row;
    const slew_place *place = place_in(&copy, column);
    bool empty = (place != NULL && place->kind != SLEW_PLACE_ANGLE) ||
                 (is_sd(column) && !measured_in(&copy, column)->sd_given);
    return empty ? SLEW_NOT_GIVEN
                 : (*number_in(&copy, column) - COLUMNS[column].offset) / COLUMNS[column].times;
}

int slew_timing_format(const slew_timing *row, int column, char *text, size_t size)
{
    if (row == NULL || (text == NULL && size > 0))
        return slew_print_nothing(text, size);
    char number[32] = "";
    if (slew_timing_column_at(column) == NULL)
        return snprintf(text, size, "%s", "");
    if (COLUMNS[column].column.words != NULL)
        return snprintf(text, size, "%s", word_in(row, column));
    double value = number_to_write(row, column);
    if (!isnan(value))
        slew_text_of_double(number, sizeof number, 10, value);
    return snprintf(text, size, "%s", number);
}
