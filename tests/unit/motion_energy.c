/* motion_energy.c - what the sources give is what the machine uses: nothing is made or lost. */
#include "../support.h"

static const int R = SLEW_ROTATION, E = SLEW_ELEVATION;

/* ---- Energy ---- */

/* what has gone where, all in J */
typedef struct energy {
    double supplied, line, shared, drops, motors, friction, gears, lifted, reaction, contacts;
} energy;

typedef struct bench {
    slew_setup setup;
    slew_plant_model model;
    double source, shared;
} bench;

/* gear efficiency in the direction of the power flow, M3.2 */
static double carried(const slew_plant_axis *axis, double torque)
{
    return torque >= 0.0 ? torque / axis->forward : torque * axis->backward;
}

static void axis_powers(const bench *b, const slew_plant *plant, int j, double span, energy *sum)
{
    const slew_plant_axis *axis = &b->model.axis[j];
    const double speed = plant->speed[j], q = plant->moving[j], output = speed / axis->ratio;
    const double torque = q * slew_plant_load_torque(&b->model, j, plant->angle) + axis->friction;
    double current = plant->current[j];
    if (plant->drive[j])
        sum->drops += span * current * axis->drop;
    else
        current = b->model.brake ? axis->constant * speed / axis->resistance : 0.0;
    const double reaction = b->model.reaction[j] * (j == R ? cos(plant->angle[E]) : 1.0);
    sum->motors += span * axis->resistance * current * current;
    sum->friction += span * ((axis->coulomb + axis->viscous * fabs(speed)) * fabs(speed) +
                             axis->friction * fabs(output));
    sum->gears += span * (carried(axis, torque) - torque) * fabs(output);
    sum->reaction += span * reaction * output;
}

static void powers(const bench *b, const slew_plant *plant, double span, energy *sum)
{
    const double drives = plant->current[R] + plant->current[E];
    const slew_supply *supply = &b->setup.supply;
    double line = drives + b->shared;
    if (supply->auxiliary_fitted && plant->voltage < supply->auxiliary.voltage) {
        const double helped =
            (supply->auxiliary.voltage - plant->voltage) / supply->auxiliary.resistance;
        line -= helped;
        sum->supplied += span * supply->auxiliary.voltage * helped;
        sum->line += span * supply->auxiliary.resistance * helped * helped;
    }
    sum->supplied += span * b->source * line;
    sum->line += span * b->model.line_resistance * line * line;
    sum->shared += span * plant->voltage * b->shared;
    for (int j = 0; j < SLEW_AXES; j++)
        axis_powers(b, plant, j, span, sum);
}

/* height of the moving mass over the base's tilted ground, times its weight */
static double potential(const bench *b, const slew_plant *plant)
{
    const double side = cos(plant->angle[R] - b->model.downhill);
    return b->model.gravity_up * sin(plant->angle[E]) -
           b->model.gravity_side * cos(plant->angle[E]) * side;
}

/* Goes on to `until`, integrating between events with Simpson's rule in panels of a millisecond:
 * its error is (1 ms / 26 ms)^4/180 of an exponential, 1e-8. Changes of the gear's and the
 * supply's regime inside a panel are no jumps of the power. */
static void account(const bench *b, slew_plant *plant, double until, energy *sum)
{
    while (plant->time < until) {
        slew_plant ahead = *plant;
        const slew_plant_event event = slew_plant_advance(&b->model, &ahead, until);
        const double start = plant->time, span = ahead.time - start;
        const int panels = (int)ceil(span / 1e-3);
        for (int i = 0; i < panels; i++) {
            const double width = span / panels;
            powers(b, plant, width / 6.0, sum);
            slew_plant_advance(&b->model, plant, start + (i + 0.5) * width);
            powers(b, plant, width * 4.0 / 6.0, sum);
            if (i + 1 < panels) {
                slew_plant_advance(&b->model, plant, start + (i + 1.0) * width);
                powers(b, plant, width / 6.0, sum);
            }
        }
        slew_plant last = *plant;
        if (span > 0.0)
            slew_plant_advance(&b->model, &last, nextafter(ahead.time, 0.0));
        if (span > 0.0)
            powers(b, &last, span / panels / 6.0, sum);
        *plant = ahead;
        if (event.kind == SLEW_PLANT_STOP_CONTACT)
            sum->contacts += event.value;
        assert_int_not_equal(event.kind, SLEW_PLANT_DOES_NOT_HOLD);
    }
}

typedef struct leg {
    double until;
    int drive[SLEW_AXES];
} leg;

/* follows the legs, lets all come to rest, closes the account */
static energy balance(const slew_setup *setup, double elevation, const leg *legs)
{
    const double start[SLEW_AXES] = {degrees(-30.0), elevation};
    bench b = {
        .setup = *setup, .source = setup->supply.main.voltage, .shared = setup->supply.shared_load};
    energy e = {0};
    slew_plant plant;
    assert_int_equal(slew_plant_model_build(setup, &b.model, NULL), SLEW_OK);
    slew_plant_start(&b.model, start, &plant);
    const double before = potential(&b, &plant);
    for (; legs->until > 0.0; legs++) {
        for (int j = 0; j < SLEW_AXES; j++)
            slew_plant_drive(&b.model, &plant, j, legs->drive[j]);
        account(&b, &plant, legs->until, &e);
    }
    assert_false(slew_plant_is_moving(&plant));
    e.lifted = potential(&b, &plant) - before;

    /* what the line and the shared load take at rest must not hide an error of the rest */
    const double used =
        e.drops + e.motors + e.friction + e.gears + e.lifted + e.reaction + e.contacts;
    const double turned = e.drops + e.motors + e.friction + e.gears + fabs(e.lifted);
    near("used by the axes", e.supplied - e.line - e.shared, used, 1e-6 * turned);
    close_to("all of it", e.supplied, e.line + e.shared + used, 1e-6);
    return e;
}

/* up and down, left and right, one or both, into the low stop */
static void balances(const slew_setup *setup)
{
    static const leg legs[] = {{1.5, {1, 0}},   {2.0, {0, 0}},  {4.0, {0, 1}},
                               {4.5, {0, 0}},   {7.0, {-1, 1}}, {7.7, {0, 0}},
                               {16.0, {0, -1}}, {17.0, {0, 0}}, {0.0, {0, 0}}};
    const energy e = balance(setup, degrees(12.0), legs);
    assert_true(e.contacts > 0.0 && e.motors > 0.05 * e.drops && e.friction > 0.0);
}

static void energy_is_neither_made_nor_lost(void **state)
{
    slew_setup setup = daily_setup();
    (void)state;
    balances(&setup);
    setup.environment.tilt = degrees(15.0);
    setup.environment.tilt_direction = degrees(70.0);
    balances(&setup);
    setup.nozzle.flowing = true;
    balances(&setup);
    setup.supply.auxiliary_fitted = true;
    balances(&setup);
    setup.controller.stop = SLEW_COAST;
    setup.environment.temperature = celsius(-15.0);
    balances(&setup);
}

/* a gear that lets the falling barrel drive the motor: the line takes back what it gave */
static void energy_flows_back_through_an_efficient_gear(void **state)
{
    static const leg legs[] = {{2.0, {0, -1}}, {13.0, {0, 0}}, {0.0, {0, 0}}};
    slew_setup setup = daily_setup();
    (void)state;
    setup.axis[E].gear =
        (slew_gear){.ratio = 400.0, .efficiency = 0.9, .backward_efficiency = SLEW_NOT_GIVEN};
    setup.axis[E].load.friction = 0.5;
    setup.axis[E].load.mass = 80.0;
    const energy e = balance(&setup, degrees(85.0), legs);
    assert_true(e.lifted < -200.0 && e.drops < 0.0 && e.supplied < e.line + e.shared);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(energy_is_neither_made_nor_lost),
        cmocka_unit_test(energy_flows_back_through_an_efficient_gear),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
