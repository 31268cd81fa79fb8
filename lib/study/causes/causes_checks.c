/* causes_checks.c - what the checks read: the machine at rest, and driven by hand for a moment. */
#include "study/causes/causes_figures.h"

static const double hand_drive = 1;    /* how long it is driven [s] */
static const double audible_speed = 1; /* of a motor shaft [rad/s] */

typedef struct bench {
    const slew_plant_model *model;
    const slew_setup *setup, *healthy;
    double *figures;
} bench;

static double within(double angle, slew_range stops)
{
    return fmin(fmax(angle, stops.low), stops.high);
}

/* both axes where the stow began, one of them elsewhere */
static void place(const bench *b, int axis, double angle, slew_plant *plant)
{
    double place[SLEW_AXES];
    for (int j = 0; j < SLEW_AXES; j++)
        place[j] = b->setup->axis[j].start;
    if (axis != SLEW_NO_AXIS)
        place[axis] = within(angle, b->model->axis[axis].stops);
    slew_plant_start(b->model, place, plant);
}

/* across the main battery, with that voltage at the controller */
static double across_battery(const bench *b, double controller)
{
    const slew_supply *supply = &b->setup->supply;
    double line = b->model->line_resistance;
    double share = line > 0 ? supply->main.resistance / line : 0;
    return supply->main.voltage - share * (supply->main.voltage - controller);
}

/* ---- supply ---- */

static void check_supply(const bench *b)
{
    slew_plant plant;
    const slew_supply *supply = &b->setup->supply;
    place(b, SLEW_NO_AXIS, 0, &plant);
    b->figures[SLEW_SEEN_CONTROLLER_IDLE] = plant.voltage;
    b->figures[SLEW_SEEN_BATTERY_IDLE] = across_battery(b, plant.voltage);
    b->figures[SLEW_SEEN_FEED_RESISTANCE] = b->model->line_resistance - supply->main.resistance;
    b->figures[SLEW_SEEN_AUXILIARY_IDLE] =
        supply->auxiliary_fitted ? supply->auxiliary.voltage : NAN;
}

/* ---- driven by hand ---- */

static void check_drive(const bench *b, int axis)
{
    slew_plant plant;
    place(b, axis, b->healthy->axis[axis].home.angle, &plant);
    double from = plant.angle[axis];
    slew_plant_drive(b->model, &plant, axis, 1);
    while (plant.time < hand_drive && !slew_plant_is_over(&plant))
        slew_plant_advance(b->model, &plant, hand_drive);
    double turn = plant.angle[axis] - from;
    b->figures[SLEW_SEEN_WAY + axis] = fabs(turn) < SLEW_VISIBLE_TURN ? 0 : turn < 0 ? 1 : 2;
    b->figures[SLEW_SEEN_SPEED + axis] = fabs(slew_plant_output_speed(b->model, &plant, axis));
    b->figures[SLEW_SEEN_CURRENT + axis] = plant.current[axis];
    b->figures[SLEW_SEEN_MOTOR_TURNS + axis] = fabs(plant.speed[axis]) > audible_speed;
    if (axis == SLEW_ELEVATION) {
        b->figures[SLEW_SEEN_CONTROLLER_DRIVEN] = plant.voltage;
        b->figures[SLEW_SEEN_BATTERY_DRIVEN] = across_battery(b, plant.voltage);
    }
}

/* ---- sensors ---- */

static bool is_closed(const bench *b, int axis, double angle)
{
    slew_plant plant;
    place(b, axis, angle, &plant);
    return plant.closed[axis];
}

/* half way to the stop that is further from home */
static double away_from_home(const slew_axis_setup *axis)
{
    double home = axis->home.angle, low = axis->stops.low, high = axis->stops.high;
    return (home + (home - low > high - home ? low : high)) / 2;
}

static void check_sensor(const bench *b, int axis)
{
    const slew_home *home = &b->model->axis[axis].home; /* as its magnet makes it */
    const slew_axis_setup *healthy = &b->healthy->axis[axis];
    bool opens = home->present && !home->stuck && isfinite(home->release);
    b->figures[SLEW_SEEN_SENSOR_AT_HOME + axis] = is_closed(b, axis, healthy->home.angle);
    b->figures[SLEW_SEEN_SENSOR_AWAY + axis] = is_closed(b, axis, away_from_home(healthy));
    b->figures[SLEW_SEEN_HAND_MAGNET + axis] = b->setup->axis[axis].home.present;
    b->figures[SLEW_SEEN_WINDOW + axis] = opens ? home->operate + home->release : NAN;
}

/* ---- settings ---- */

static void check_settings(const bench *b, const slew_scenario *scenario,
                           const slew_prepared *prepared)
{
    const slew_controller_settings *settings = &b->setup->controller;
    b->figures[SLEW_SEEN_SETTING_STALL] = settings->stall_current;
    b->figures[SLEW_SEEN_SETTING_BROWNOUT] = settings->brownout_voltage;
    b->figures[SLEW_SEEN_SETTING_MOVE_LIMIT] = settings->move_limit;
    for (int j = 0; j < SLEW_AXES; j++) {
        b->figures[SLEW_SEEN_SETTING_STORED + j] = prepared->stored[j];
        if (scenario->deploy.given)
            b->figures[SLEW_SEEN_SETTING_DEPLOY + j] = scenario->deploy.seconds[j];
    }
}

void slew_figures_of_checks(const slew_scenario *scenario, const slew_prepared *prepared,
                            const slew_setup *healthy, double *figures)
{
    const bench b = {&prepared->stow, &prepared->stow_setup, healthy, figures};
    check_supply(&b);
    for (int j = 0; j < SLEW_AXES; j++) {
        check_drive(&b, j);
        check_sensor(&b, j);
    }
    check_settings(&b, scenario, prepared);
}
