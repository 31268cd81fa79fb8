/* motion_magnet.c - the window of a home sensor from its magnet: the first crossing going outwards,
 * on every occasion, and a run that is the same as with the window written in. */
#include "motion_control.h"

#include "slewtime/magnet.h"

static const double PI = 3.14159265358979323846;

/* ---- Magnets ---- */

static slew_home home_with(slew_magnet magnet)
{
    slew_home home = daily_home();
    home.magnet = magnet;
    return home;
}

/* splitmix64, public domain (Vigna) */
static uint64_t dice;

static double draw(double low, double high)
{
    uint64_t z = (dice += 0x9e3779b97f4a7c15u);
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
    return low + (high - low) * ((double)((z ^ (z >> 31)) >> 11) * 0x1p-53);
}

/* of any shape, from a thin disc to a rod, near and far, on small and large circles; levels from
 * next to nothing to almost all there is */
static slew_magnet any_magnet(void)
{
    slew_magnet m = {.given = true, .remanence = draw(0.2, 1.4)};
    m.diameter = exp(draw(log(0.002), log(0.04)));
    m.length = m.diameter * exp(draw(log(0.05), log(20)));
    m.radius = exp(draw(log(0.01), log(0.5)));
    m.gap = m.diameter * exp(draw(log(0.02), log(4)));
    double most = fabs(slew_home_flux(&m, 0));
    m.operate_flux = most * exp(draw(log(0.002), log(1.2)));
    m.release_flux = m.operate_flux * draw(0.05, 1);
    return m;
}

/* ---- The path ---- */

static void the_switch_passes_along_a_chord(void **state)
{
    slew_magnet m = daily_magnet();
    (void)state;
    near("over it", slew_home_flux(&m, 0), slew_magnet_axial(1.2, 0.008, 0.005, 0, 0.0115), 0);
    near("60 degrees", slew_home_flux(&m, PI / 3),
         slew_magnet_axial(1.2, 0.008, 0.005, 0.12, 0.0115), 1e-16);
    near("half a turn", slew_home_flux(&m, PI), slew_magnet_axial(1.2, 0.008, 0.005, 0.24, 0.0115),
         1e-16);
    near("either side", slew_home_flux(&m, -0.04), slew_home_flux(&m, 0.04), 0);
}

/* ---- Edges ---- */

/* by walking outwards in small steps, without any idea of what the field looks like */
static double walk_to(const slew_magnet *m, double level)
{
    const int steps = 3000;
    for (int i = 1; i <= steps; i++) {
        double x = (double)i / steps, before = (double)(i - 1) / steps;
        double high = PI * x * x, low = PI * before * before;
        if (slew_home_flux(m, high) > level)
            continue;
        for (int n = 0; n < 60; n++) {
            double middle = (low + high) / 2;
            if (slew_home_flux(m, middle) > level)
                low = middle;
            else
                high = middle;
        }
        return high;
    }
    return INFINITY;
}

static void same_edge(const char *what, double found, double expected)
{
    if (isinf(found) != isinf(expected))
        fail_msg("%s: %.12g, walking outwards %.12g", what, found, expected);
    if (isfinite(expected))
        near(what, found, expected, 1e-11);
}

static void edges_are_the_first_crossings(void **state)
{
    const int64_t magnets = samples_here(1000);
    int closing = 0, weak = 0, wide = 0;
    (void)state;
    dice = 7;
    for (int n = 0; n < magnets; n++) {
        slew_home home = home_with(any_magnet());
        const slew_magnet *m = &home.magnet;
        slew_sight sight = slew_home_resolve(&home);
        if (slew_home_flux(m, 0) < m->operate_flux) {
            assert_int_equal(sight, SLEW_SIGHT_TOO_WEAK);
            assert_false(home.present);
            weak++;
            continue;
        }
        assert_true(home.present && home.operate <= home.release);
        same_edge("operate", home.operate, walk_to(m, m->operate_flux));
        same_edge("release", home.release, walk_to(m, m->release_flux));
        assert_int_equal(sight, isinf(home.release) ? SLEW_SIGHT_NEVER_OPENS : SLEW_SIGHT_CLOSES);
        wide += isinf(home.release);
        closing++;
    }
    print_message("%d close, %d too weak, %d never open\n", closing, weak, wide);
    /* each kind has been met */
    assert_true(closing > magnets / 2 && weak > magnets / 200 && wide > magnets / 50);
}

/* over a flat magnet the field first rises: the edge is where it has fallen again */
static void flat_magnets_rise_first(void **state)
{
    slew_home home = home_with(daily_magnet());
    slew_magnet *m = &home.magnet;
    (void)state;
    m->diameter = 0.02, m->length = 0.001, m->gap = 0.0004;
    m->operate_flux = 0.95 * slew_home_flux(m, 0), m->release_flux = 0.5 * m->operate_flux;
    assert_true(slew_home_flux(m, 0.03) > slew_home_flux(m, 0));
    assert_int_equal(slew_home_resolve(&home), SLEW_SIGHT_CLOSES);
    same_edge("operate", home.operate, walk_to(m, m->operate_flux));
}

static void a_weaker_field_is_a_narrower_window(void **state)
{
    double last = INFINITY;
    (void)state;
    for (double remanence = 1.4; remanence > 0.5; remanence -= 0.1) {
        slew_home home = home_with(daily_magnet());
        home.magnet.remanence = remanence;
        slew_home_resolve(&home);
        assert_true(home.operate < last);
        last = home.operate;
    }
}

/* just strong enough: the window shrinks to the centre, sqrt(2 (B - level)/-B'') */
static void the_edge_of_too_weak(void **state)
{
    slew_home home = home_with(daily_magnet());
    slew_magnet *m = &home.magnet;
    double most = slew_home_flux(m, 0), h = 1e-3;
    double bend = (2 * most - 2 * slew_home_flux(m, h)) / (h * h);
    (void)state;
    m->operate_flux = m->release_flux = most;
    assert_int_equal(slew_home_resolve(&home), SLEW_SIGHT_CLOSES);
    near("a point", home.operate, 0, 1e-6);
    m->operate_flux = m->release_flux = most * (1 - 1e-6);
    slew_home_resolve(&home);
    near("narrow", home.operate, sqrt(2 * most * 1e-6 / bend), 1e-3 * home.operate);
    m->operate_flux = m->release_flux = most * (1 + 1e-12);
    assert_int_equal(slew_home_resolve(&home), SLEW_SIGHT_TOO_WEAK);
    assert_false(home.present);
}

static void without_a_magnet_nothing_changes(void **state)
{
    slew_home home = daily_home();
    (void)state;
    assert_int_equal(slew_home_resolve(&home), SLEW_SIGHT_GIVEN);
    near("operate", home.operate, degrees(3), 0);
    near("release", home.release, degrees(4), 0);
}

static void a_stuck_switch_needs_no_magnet(void **state)
{
    slew_home home = home_with(daily_magnet());
    (void)state;
    home.magnet.gap = 0.05;
    home.stuck = true;
    assert_int_equal(slew_home_resolve(&home), SLEW_SIGHT_TOO_WEAK);
    assert_true(home.present && home.stuck);
    home.present = false;
    slew_home_resolve(&home);
    assert_false(home.present);
}

/* ---- Models ---- */

static slew_status build(slew_magnet magnet, slew_plant_model *model, slew_error *error)
{
    slew_setup setup = daily_setup();
    setup.axis[R].home.magnet = magnet;
    return slew_plant_model_build(&setup, model, error);
}

static void bad_figures_make_no_model(void **state)
{
    static const double bad[] = {0, -0.001, NAN, INFINITY};
    slew_plant_model model;
    (void)state;
    assert_int_equal(build(daily_magnet(), &model, NULL), SLEW_OK);
    for (int figure = 0; figure < SLEW_WINDOW_FIGURES; figure++)
        for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
            slew_error error = {0};
            slew_magnet m = daily_magnet();
            double *const place[] = {&m.remanence, &m.diameter,     &m.length,      &m.radius,
                                     &m.gap,       &m.operate_flux, &m.release_flux};
            *place[figure] = bad[i];
            assert_int_equal(build(m, &model, &error), SLEW_ERROR_INPUT);
            assert_non_null(strstr(error.key, "rotation.home.magnet"));
        }
}

static void a_release_above_operate_makes_no_model(void **state)
{
    slew_plant_model model;
    slew_error error = {0};
    slew_magnet m = daily_magnet();
    (void)state;
    m.release_flux = 0.011;
    assert_int_equal(build(m, &model, &error), SLEW_ERROR_INPUT);
    assert_string_equal(error.key, "rotation.home.magnet.release_flux");
}

/* ---- Runs ---- */

static slew_scenario scenario_with_magnet(void)
{
    slew_scenario s = daily_scenario();
    s.setup.axis[R].home.magnet = daily_magnet();
    return s;
}

static void same_run(const slew_scenario *a, const slew_scenario *b)
{
    static story one, other;
    run_parts(a, SLEW_STOW_AND_DEPLOY, &one);
    run_parts(b, SLEW_STOW_AND_DEPLOY, &other);
    assert_int_equal(one.count, other.count);
    for (int i = 0; i < one.count; i++) {
        assert_true(same_sort(&one.event[i], &other.event[i]));
        assert_true(one.event[i].time == other.event[i].time);
        assert_true(one.event[i].angle[R] == other.event[i].angle[R]);
        assert_true(one.event[i].voltage == other.event[i].voltage);
    }
    assert_true(one.result.stored[R] == other.result.stored[R]);
    assert_true(one.result.end == other.result.end);
}

/* to the last bit: the magnet does nothing but give the two angles */
static void a_run_is_that_with_the_window_written_in(void **state)
{
    slew_scenario s = scenario_with_magnet(), written = daily_scenario();
    slew_home home = s.setup.axis[R].home;
    (void)state;
    slew_home_resolve(&home);
    set_key(&written, SLEW_LAYER_FILE, "rotation.home.operate", home.operate);
    set_key(&written, SLEW_LAYER_FILE, "rotation.home.release", home.release);
    same_run(&s, &written);
    near("another window", home.operate, degrees(3.65), degrees(0.01));
}

static void layers_act_on_the_magnet(void **state)
{
    slew_scenario s = scenario_with_magnet();
    (void)state;
    run_parts(&s, SLEW_STOW_ONLY, &run);
    double home = nth(&run, SLEW_EVENT_HOME_FOUND, R, 0)->angle[R], taught = run.result.stored[R];
    set_key(&s, SLEW_LAYER_TODAY, "rotation.home.magnet.gap", 0.012);
    run_parts(&s, SLEW_STOW_ONLY, &run);
    double later = nth(&run, SLEW_EVENT_HOME_FOUND, R, 0)->angle[R];
    near("stored as taught", run.result.stored[R], taught, 0);
    slew_home near_home = s.setup.axis[R].home, far_home = near_home;
    far_home.magnet.gap = 0.012;
    slew_home_resolve(&near_home);
    slew_home_resolve(&far_home);
    /* the edge is seen up to one sample later: 5 ms at less than 12 deg/s */
    near("home moves with the edge", later - home, far_home.operate - near_home.operate,
         degrees(0.06));
    assert_true(far_home.operate < near_home.operate - degrees(0.5));
}

static void too_weak_is_never_found(void **state)
{
    slew_scenario s = scenario_with_magnet();
    (void)state;
    set_key(&s, SLEW_LAYER_TODAY, "rotation.home.magnet.gap", 0.016);
    do_stow(s);
    assert_string_equal(slew_fault_word(run.result.stow.fault), "home_not_found");
    assert_int_equal(count_of(&run, SLEW_EVENT_SWITCH_CLOSED, R), 0);
}

/* from truck to truck: a drawn gap gives each its own window */
static void see_operate(void *context, const slew_scenario *drawn, const slew_prepared *prepared,
                        double *figures)
{
    (void)context;
    figures[0] = prepared->stow.axis[R].home.operate;
    figures[1] = drawn->setup.axis[R].home.magnet.gap;
}

static void the_spread_acts_on_the_magnet(void **state)
{
    slew_scenario s = scenario_with_magnet();
    slew_ensemble e;
    slew_sampling sampling = slew_sampling_default();
    (void)state;
    s.truck.count = 1;
    s.truck.item[0] = (slew_variation){.key = slew_key_find("rotation.home.magnet.gap"),
                                       .distribution = SLEW_UNIFORM,
                                       .low = 0.006,
                                       .high = 0.012};
    sampling.samples = 64;
    assert_int_equal(
        slew_ensemble_run(&s, SLEW_STOW_ONLY, &sampling, see_operate, NULL, 2, &e, NULL), SLEW_OK);
    assert_int_equal(e.refused, 0);
    for (int64_t i = 0; i < e.done; i++) {
        slew_home home = s.setup.axis[R].home;
        home.magnet.gap = e.figure[2 * i + 1];
        slew_home_resolve(&home);
        near("operate", e.figure[2 * i], home.operate, 0);
        assert_true(home.magnet.gap >= 0.006 && home.magnet.gap <= 0.012);
    }
    assert_true(e.figure[0] != e.figure[2]);
    slew_ensemble_free(&e);
}

/* so small that the first step of the search outwards would be one of nothing, and the search
 * without an end */
static void a_magnet_of_next_to_nothing_is_searched_to_an_end(void **state)
{
    (void)state;
    for (int power = -20; power >= -320; power -= 20) {
        slew_magnet m = daily_magnet();
        m.diameter = m.gap = pow(10, power);
        slew_home home = home_with(m);
        const slew_sight sight = slew_home_resolve(&home);
        assert_true(sight == SLEW_SIGHT_TOO_WEAK || home.operate <= 1e-9);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_switch_passes_along_a_chord),
        cmocka_unit_test(edges_are_the_first_crossings),
        cmocka_unit_test(flat_magnets_rise_first),
        cmocka_unit_test(a_magnet_of_next_to_nothing_is_searched_to_an_end),
        cmocka_unit_test(a_weaker_field_is_a_narrower_window),
        cmocka_unit_test(the_edge_of_too_weak),
        cmocka_unit_test(without_a_magnet_nothing_changes),
        cmocka_unit_test(a_stuck_switch_needs_no_magnet),
        cmocka_unit_test(bad_figures_make_no_model),
        cmocka_unit_test(a_release_above_operate_makes_no_model),
        cmocka_unit_test(a_run_is_that_with_the_window_written_in),
        cmocka_unit_test(layers_act_on_the_magnet),
        cmocka_unit_test(too_weak_is_never_found),
        cmocka_unit_test(the_spread_acts_on_the_magnet),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
