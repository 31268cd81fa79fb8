/* nozzle_loads.c - what a jet asks of the motors is what the machine carries and starts against. */
#include "motion_plant.h"

#include "slewtime/drive.h"
#include "slewtime/nozzle.h"

static slew_nozzle jet_nozzle(void)
{
    slew_nozzle n = daily_setup().nozzle;
    n.flowing = true;
    return n;
}

static void both_axes(const slew_setup *setup, const slew_nozzle *n, slew_jet_load out[SLEW_AXES])
{
    slew_scenario s = daily_scenario();
    s.setup = *setup;
    assert_int_equal(slew_jet_loads(&s, SLEW_OCCASION_STOW, n, out, NULL), SLEW_OK);
}

/* 2263 N at 4 and 60 mm; the elevation carries its 16 kg with the water in it on top */
static void moments_are_reaction_times_arm(void **state)
{
    const slew_setup setup = daily_setup();
    const slew_nozzle n = jet_nozzle();
    slew_jet_load load[SLEW_AXES];
    (void)state;
    both_axes(&setup, &n, load);
    const double reaction = slew_spray_reaction_trade(n.flow, n.pressure);
    const double weight = 16.0 * SLEW_GRAVITY * 0.34;
    near("rotation", load[R].moment, reaction * 0.004, 1e-9);
    near("elevation", load[E].moment, reaction * 0.060, 1e-9);
    near("rotation, all", load[R].load, load[R].moment, 1e-9);
    near("elevation, all", load[E].load, reaction * 0.060 + weight, 1e-9);
    assert_true(load[R].pushes == -1 && load[E].pushes == -1);
    near("arm", load[E].arm, 0.060, 0.0);

    slew_setup other = setup;
    other.axis[E].load.reaction_arm = -0.060;
    other.axis[R].load.reaction_arm = 0.0;
    both_axes(&other, &n, load);
    near("the other way", load[E].moment, reaction * 0.060, 1e-9);
    assert_int_equal(load[E].pushes, 1);
    /* against it the weight helps least where the barrel stands upright */
    near("weight helps", load[E].load, reaction * 0.060 - weight * cos(degrees(90.0)), 1e-9);
    assert_true(load[R].moment == 0.0 && load[R].pushes == 0 && load[R].share == 0.0);
}

/* whichever way the scenario says, whatever nozzle is asked about */
static void reaction_is_in_the_form_of_the_nozzle(void **state)
{
    const slew_setup setup = daily_setup();
    slew_nozzle n = jet_nozzle();
    slew_jet_load load[SLEW_AXES];
    (void)state;
    n.flowing = false; /* it is asked about as flowing */
    for (int form = 0; form < 2; form++) {
        n.reaction = form ? SLEW_REACTION_MOMENTUM : SLEW_REACTION_TRADE;
        const slew_jet jet = slew_jet_of(&n);
        both_axes(&setup, &n, load);
        near("moment", load[E].moment, 0.060 * (form ? jet.momentum : jet.rule), 1e-9);
    }
}

/* A share of all of the load above 1 is where the machine does not start, below 1 where it does. */
static void whole_share_is_where_it_starts(void **state)
{
    const slew_setup setup = daily_setup();
    int above = 0, below = 0;
    (void)state;
    for (double pressure = 2e5; pressure < 30e5; pressure += 1e5) {
        const slew_nozzle n = slew_nozzle_at(jet_nozzle(), pressure);
        slew_jet_load load[SLEW_AXES];
        both_axes(&setup, &n, load);
        slew_setup flowing = setup;
        flowing.nozzle = n;
        const slew_plant_model model = model_of(&flowing);
        for (int axis = 0; axis < SLEW_AXES; axis++) {
            const slew_range travel[SLEW_AXES] = {model.axis[R].stops, model.axis[E].stops};
            const slew_speed_places p = slew_speed_find_places(&model, axis, 1, travel);
            const bool starts = slew_speed_at(&model, axis, 1, p.slowest).state == SLEW_SPEED_RUNS;
            assert_true(starts == (load[axis].whole < 1.0));
            near("available", load[axis].available, slew_speed_start_torque(&model, axis), 0.0);
            near("share", load[axis].share, load[axis].moment / load[axis].available, 1e-12);
            above += !starts, below += starts;
        }
    }
    assert_true(above > 3 && below > 3);
}

static void motor_without_torque_has_no_share(void **state)
{
    slew_setup setup = daily_setup();
    const slew_nozzle n = jet_nozzle();
    slew_jet_load load[SLEW_AXES];
    (void)state;
    setup.axis[E].load.friction = 1e4;
    both_axes(&setup, &n, load);
    assert_true(load[E].available < 0.0 && isinf(load[E].share) && isinf(load[E].whole));
    assert_true(isfinite(load[R].share));
}

/* ---- The nozzle alone ---- */

static void same_opening_at_another_pressure(void **state)
{
    const slew_nozzle n = jet_nozzle();
    const slew_nozzle half = slew_nozzle_at(n, n.pressure / 4.0), dry = slew_nozzle_at(n, 0.0);
    (void)state;
    close_to("flow", half.flow, n.flow / 2.0, 1e-15);
    close_to("pressure", half.pressure, n.pressure / 4.0, 1e-15);
    assert_true(half.flowing && !dry.flowing);
    close_to("reaction", slew_jet_of(&half).rule, slew_jet_of(&n).rule / 4.0, 1e-14);
}

/* even steps of the root of pressure: even steps of a spray's reaction, which goes with it */
static void a_curve_is_denser_at_its_foot(void **state)
{
    const double highest = 12e5;
    slew_nozzle n = jet_nozzle();
    slew_jet_point point[SLEW_JET_POINTS];
    const slew_jet_point *last = &point[SLEW_JET_POINTS - 1];
    (void)state;
    for (int kind = SLEW_SMOOTH_BORE; kind <= SLEW_SPRAY; kind++) {
        n.kind = (slew_nozzle_kind)kind;
        n.tip = 0.03;
        slew_jet_curve(&n, highest, point);
        near("end", last->nozzle.pressure, highest, 0.0);
        for (int i = 0; i < SLEW_JET_POINTS; i++) {
            const double share = i / (SLEW_JET_POINTS - 1.0);
            const slew_jet jet = slew_jet_of(&point[i].nozzle);
            near("jet", point[i].jet.momentum, jet.momentum, 0.0);
            near("flow", point[i].nozzle.flow, n.flow, 0.0);
            near("rule", point[i].jet.rule,
                 last->jet.rule * (kind == SLEW_SPRAY ? share : share * share),
                 1e-13 * last->jet.rule);
        }
    }
}

static void known_nozzles(void **state)
{
    slew_nozzle n = jet_nozzle();
    (void)state;
    assert_true(slew_nozzle_is_known(&n));
    n.flow = 0.0;
    assert_false(slew_nozzle_is_known(&n));
    n.kind = SLEW_SMOOTH_BORE;
    assert_true(slew_nozzle_is_known(&n));
    n.tip = 0.0;
    assert_false(slew_nozzle_is_known(&n));
    n.tip = 0.03, n.pressure = 0.0;
    assert_false(slew_nozzle_is_known(&n));
    assert_true(isnan(slew_jet_of(&n).off));
    n.pressure = 7e5, n.coefficient = 0.97;
    const slew_jet jet = slew_jet_of(&n);
    close_to("coefficient", jet.momentum, 0.97 * 0.97 * slew_bore_reaction(0.03, 7e5, 1.0), 1e-14);
    close_to("flow", jet.flow, slew_bore_flow(0.03, 7e5, 0.97), 1e-15);
    close_to("rule", jet.rule, slew_bore_reaction_trade(0.03, 7e5), 1e-15);
    close_to("flow by rule", jet.flow_rule, slew_bore_flow_trade(0.03, 7e5), 1e-15);
}

static void no_machine_is_refused_and_blamed_on_its_day(void **state)
{
    slew_scenario s = daily_scenario();
    const slew_nozzle n = jet_nozzle();
    slew_jet_load load[SLEW_AXES];
    slew_error error;
    (void)state;
    set_key(&s, SLEW_LAYER_DEPLOY_DAY, "supply.main.voltage", 0.5);
    assert_int_equal(slew_jet_loads(&s, SLEW_OCCASION_STOW, &n, load, &error), SLEW_OK);
    assert_int_equal(slew_jet_loads(&s, SLEW_OCCASION_DEPLOY, &n, load, &error), SLEW_ERROR_INPUT);
    assert_string_equal(error.key, "supply.main.voltage");
    assert_int_equal(error.layer, SLEW_LAYER_DEPLOY_DAY);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(moments_are_reaction_times_arm),
        cmocka_unit_test(reaction_is_in_the_form_of_the_nozzle),
        cmocka_unit_test(whole_share_is_where_it_starts),
        cmocka_unit_test(motor_without_torque_has_no_share),
        cmocka_unit_test(same_opening_at_another_pressure),
        cmocka_unit_test(a_curve_is_denser_at_its_foot),
        cmocka_unit_test(known_nozzles),
        cmocka_unit_test(no_machine_is_refused_and_blamed_on_its_day),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
