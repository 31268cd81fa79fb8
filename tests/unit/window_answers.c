/* window_answers.c - the window of a home sensor: its extremes over tolerances, what is remarked,
 * and where the controller takes home. */
#include "../support.h"

static const double PI = 3.14159265358979323846;

enum { R = SLEW_ROTATION, E = SLEW_ELEVATION };

static slew_window w; /* the last answer */
static slew_error error;

/* ---- Ways to ask ---- */

/* invented */
static slew_scenario magnet_scenario(void)
{
    slew_scenario s = daily_scenario();
    s.setup.axis[R].home.magnet = daily_magnet();
    return s;
}

static slew_magnet *magnet_of(slew_scenario *s)
{
    return &s->setup.axis[R].home.magnet;
}

static void ask_of(const slew_scenario *s, slew_window_question q)
{
    error = (slew_error){0};
    if (slew_window_run(s, &q, &w, &error) != SLEW_OK)
        fail_msg("%s: %s", error.key, error.message);
}

static void ask(const slew_scenario *s)
{
    ask_of(s, slew_window_question_default(R));
}

static void refused(const slew_scenario *s, slew_window_question q, const char *key,
                    const char *message)
{
    error = (slew_error){0};
    assert_int_equal(slew_window_run(s, &q, &w, &error), SLEW_ERROR_INPUT);
    assert_string_equal(error.key, key);
    if (strstr(error.message, message) == NULL)
        fail_msg("\"%s\", not \"%s\"", error.message, message);
}

static int figure_of(const char *word)
{
    for (int i = 0; i < SLEW_WINDOW_FIGURES; i++)
        if (strcmp(slew_window_figure_word(i), word) == 0)
            return i;
    fail_msg("no figure %s", word);
    return -1;
}

static void remarks_are(unsigned expected)
{
    for (int i = 0; i < SLEW_WINDOW_REMARK_COUNT; i++)
        if ((w.remarks ^ expected) & 1u << i)
            fail_msg("%s %s", slew_window_remark_word((slew_window_remark)i),
                     expected & 1u << i ? "is not remarked" : "is remarked");
}

#define REMARK(name) (1u << SLEW_WINDOW_##name)

static slew_home resolved(const slew_scenario *s)
{
    slew_home home = s->setup.axis[R].home;
    slew_home_resolve(&home);
    return home;
}

/* ---- Words ---- */

static void words_are_those_of_keys_and_output(void **state)
{
    slew_magnet m = {.remanence = 1,
                     .diameter = 2,
                     .length = 3,
                     .radius = 4,
                     .gap = 5,
                     .operate_flux = 6,
                     .release_flux = 7};
    (void)state;
    for (int i = 0; i < SLEW_WINDOW_FIGURES; i++) {
        char path[96];
        snprintf(path, sizeof path, "elevation.home.magnet.%s", slew_window_figure_word(i));
        assert_true(slew_key_find(path) >= 0);
        near("in the order of slew_magnet", slew_window_figure(&m, i), i + 1, 0);
    }
    assert_null(slew_window_figure_word(-1));
    assert_null(slew_window_figure_word(SLEW_WINDOW_FIGURES));
    for (int i = 0; i < SLEW_WINDOW_REMARK_COUNT; i++)
        for (int k = 0; k < i; k++)
            assert_string_not_equal(slew_window_remark_word((slew_window_remark)i),
                                    slew_window_remark_word((slew_window_remark)k));
    assert_string_equal(slew_window_remark_word(SLEW_WINDOW_REMARK_COUNT), "?");
}

/* ---- Edges and tolerances ---- */

static void the_window_is_that_of_the_plant(void **state)
{
    slew_scenario s = magnet_scenario();
    slew_home home = resolved(&s);
    (void)state;
    ask(&s);
    near("operate", w.home.operate, home.operate, 0);
    near("release", w.own.release, home.release, 0);
    near("flux", w.own.flux, slew_home_flux(magnet_of(&s), 0), 0);
    assert_int_equal(w.cases, 1);
    remarks_are(0);
    /* as it is today */
    set_key(&s, SLEW_LAYER_TODAY, "rotation.home.magnet.gap", 0.011);
    magnet_of(&s)->gap = 0.011;
    home = resolved(&s);
    magnet_of(&s)->gap = 0.009;
    ask(&s);
    near("operate today", w.home.operate, home.operate, 0);
}

static void without_a_magnet_it_is_as_given(void **state)
{
    slew_scenario s = daily_scenario();
    (void)state;
    ask(&s);
    assert_int_equal(w.own.sight, SLEW_SIGHT_GIVEN);
    near("operate", w.home.operate, degrees(3), 0);
    assert_true(isnan(w.never.value));
    assert_true(isnan(w.largest_gap) && isnan(w.own.flux) && isnan(w.turns_at));
    remarks_are(0);
    assert_true(w.rows > 0);
}

/* A wider gap, a weaker magnet and a less sensitive switch narrow this window; the widest one lies
 * between two values of the gap. */
static void worst_of_all_combinations(void **state)
{
    slew_scenario s = magnet_scenario(), low = s;
    slew_window_question q = slew_window_question_default(R);
    double reach = 0;
    (void)state;
    q.figure[figure_of("gap")] = (slew_range){0.008, 0.010};
    q.figure[figure_of("remanence")] = (slew_range){1.1, 1.3};
    q.figure[figure_of("operate_flux")] = (slew_range){0.008, 0.012};
    ask_of(&s, q);
    assert_int_equal(w.cases, 27);
    assert_int_equal(w.blind, 0);
    magnet_of(&low)->gap = 0.010, magnet_of(&low)->remanence = 1.1;
    magnet_of(&low)->operate_flux = 0.012;
    near("narrowest", w.narrowest.operate, resolved(&low).operate, 0);
    near("strongest", w.widest.magnet.remanence, 1.3, 0);
    assert_true(w.widest.magnet.gap > 0.0081 && w.widest.magnet.gap < 0.0099);
    remarks_are(0);
    for (int i = 0; i < 500; i++) {
        slew_scenario between = s;
        slew_magnet *m = magnet_of(&between);
        m->gap = 0.008 + 0.002 * slew_random_unit(3, (uint64_t)i, 0);
        m->remanence = 1.1 + 0.2 * slew_random_unit(3, (uint64_t)i, 1);
        m->operate_flux = 0.008 + 0.004 * slew_random_unit(3, (uint64_t)i, 2);
        slew_home home = resolved(&between);
        assert_true(home.operate >= w.narrowest.operate && home.release <= w.widest.release);
        reach = fmax(reach, home.release);
    }
    near("it is reached", w.widest.release, reach, degrees(0.02));
}

static void some_combinations_may_never_close(void **state)
{
    slew_scenario s = magnet_scenario();
    slew_window_question q = slew_window_question_default(R);
    (void)state;
    q.figure[figure_of("gap")] = (slew_range){0.003, 0.015};
    ask_of(&s, q);
    assert_int_equal(w.cases, 3);
    assert_int_equal(w.blind, 1);
    remarks_are(REMARK(MAY_NEVER_CLOSE));
    assert_true(w.narrowest.magnet.gap < 0.015);
    double blind = (0.015 - w.largest_gap) / 0.012; /* all gaps are as likely */
    assert_true(w.never.low < blind && blind < w.never.high);
    assert_true(w.never.high - w.never.low < 0.015);
}

/* a switch that would open above what it closes at is no combination */
static void combinations_that_can_t_be_are_left_out(void **state)
{
    slew_scenario s = magnet_scenario();
    slew_window_question q = slew_window_question_default(R);
    (void)state;
    q.figure[figure_of("operate_flux")] = (slew_range){0.006, 0.014};
    ask_of(&s, q); /* 6 mT is below the 7 mT of release */
    assert_int_equal(w.cases, 2);
}

static slew_variation *vary(slew_spread *spread, const char *path, slew_distribution distribution,
                            double low, double high)
{
    slew_variation *v = &spread->item[spread->count++];
    *v = (slew_variation){
        .key = slew_key_find(path), .distribution = distribution, .low = low, .high = high};
    return v;
}

static void the_spread_gives_ranges_too(void **state)
{
    slew_scenario s = magnet_scenario();
    slew_window_question q = slew_window_question_default(R);
    int gap = figure_of("gap"), remanence = figure_of("remanence");
    (void)state;
    vary(&s.truck, "rotation.home.magnet.gap", SLEW_UNIFORM, 0.0085, 0.0095);
    vary(&s.day, "rotation.home.magnet.gap", SLEW_UNIFORM, 0.009, 0.0101);
    slew_variation *v = vary(&s.truck, "rotation.home.magnet.remanence", SLEW_NORMAL, 0, 2);
    v->mean = 1.2, v->sd = 0.02;
    vary(&s.truck, "elevation.home.angle", SLEW_UNIFORM, 0, 0.1); /* of another sensor */
    ask_of(&s, q);
    assert_int_equal(w.cases, 9);
    near("drawn anew for the day", w.figure[gap].low, 0.009, 1e-15);
    near("drawn anew for the day", w.figure[gap].high, 0.0101, 1e-15);
    /* three standard deviations; the quantile is inverted to some digits */
    near("normal", w.figure[remanence].low, 1.14, 1e-9);
    near("normal", w.figure[remanence].high, 1.26, 1e-9);
    q.figure[gap] = (slew_range){0.0089, 0.0091};
    ask_of(&s, q);
    near("what is asked wins", w.figure[gap].low, 0.0089, 0);
    /* what today says hides what is drawn into the file */
    q = slew_window_question_default(R);
    s.day.count = 0;
    ask_of(&s, q);
    near("from truck to truck", w.figure[gap].low, 0.0085, 1e-15);
    set_key(&s, SLEW_LAYER_TODAY, "rotation.home.magnet.gap", 0.011);
    ask_of(&s, q);
    assert_true(isnan(w.figure[gap].low));
    assert_int_equal(w.cases, 3);
}

/* ---- The field ---- */

static void the_field_around_the_window(void **state)
{
    slew_scenario s = magnet_scenario();
    slew_magnet far = *magnet_of(&s);
    (void)state;
    ask(&s);
    far.gap = w.largest_gap;
    near("just enough", slew_home_flux(&far, 0), 0.010, 1e-15);
    near("no field", slew_home_flux(magnet_of(&s), w.turns_at), 0, 2e-12);
    assert_true(w.turns_at > w.home.release);
    /* weakest of many other places; the scan's own steps are 1/2000 of the way to half a turn */
    for (int i = 1; i <= 5000; i++) {
        double flux = slew_home_flux(magnet_of(&s), i * PI / 5000);
        assert_true(flux >= w.lobe_flux * (1 + 1e-4));
        assert_true(i * PI / 5000 < w.turns_at || flux <= 0);
    }
    near("strongest over it", w.beside_flux, w.own.flux, 0);
}

static void the_field_is_shown_to_either_side_of_home(void **state)
{
    slew_scenario s = magnet_scenario();
    slew_window_question q = slew_window_question_default(R);
    (void)state;
    s.setup.axis[R].home.angle = 0.1;
    q.figure[figure_of("gap")] = (slew_range){0.008, 0.010};
    ask_of(&s, q);
    const slew_window_flux low = slew_window_flux_at(&w, 0);
    const slew_window_flux high = slew_window_flux_at(&w, SLEW_WINDOW_ANGLES - 1);
    near("as far to either side", low.angle + high.angle, 0.2, 1e-15);
    assert_true(high.angle - 0.1 > w.turns_at && high.angle - 0.1 > w.widest.release);
    const slew_window_flux over = slew_window_flux_at(&w, SLEW_WINDOW_ANGLES / 2);
    near("home", over.angle, 0.1, 0);
    near("own", over.own, w.own.flux, 0);
    near("narrowest", over.narrowest, w.narrowest.flux, 0);
    near("widest", over.widest, w.widest.flux, 0);
    for (int i = 0; i < SLEW_WINDOW_ANGLES; i++) {
        slew_window_flux f = slew_window_flux_at(&w, i);
        assert_true((f.own >= 0.010) == (fabs(f.angle - 0.1) <= w.home.operate));
        assert_true((f.widest >= 0.007) == (fabs(f.angle - 0.1) <= w.widest.release));
    }
    s = daily_scenario();
    ask(&s);
    assert_true(isnan(slew_window_flux_at(&w, 0).own));
    near("the window as given", slew_window_flux_at(&w, 0).angle,
         w.home.angle - 1.5 * w.home.release, 1e-15);
}

/* ---- Remarks ---- */

static void too_weak_and_too_flat(void **state)
{
    slew_scenario s = magnet_scenario();
    slew_magnet *m = magnet_of(&s);
    (void)state;
    m->gap = 0.016;
    ask(&s);
    remarks_are(REMARK(NEVER_CLOSES) | REMARK(NOT_FOUND));
    assert_true(isnan(w.own.operate) && !w.home.present);
    assert_true(w.largest_gap > 0.014 && w.largest_gap < 0.016);
    assert_true(isnan(w.rests[SLEW_APPROACH_FALLING].low));
    m->diameter = 0.02, m->length = 0.001, m->gap = 0.0004, m->operate_flux = 0.1;
    ask(&s);
    remarks_are(REMARK(NEVER_CLOSES) | REMARK(OFF_CENTRE) | REMARK(NOT_FOUND));
    assert_true(w.beside_flux > 0.1);
    near("no gap", w.largest_gap, 0, 1e-9);
}

static void a_field_the_other_way(void **state)
{
    slew_scenario s = magnet_scenario();
    (void)state;
    magnet_of(&s)->operate_flux = magnet_of(&s)->release_flux = 0.0005;
    ask(&s);
    assert_true(w.lobe_flux < -0.0005);
    remarks_are(REMARK(OTHER_POLE));
}

static void too_wide(void **state)
{
    slew_scenario s = daily_scenario(), turned = magnet_scenario();
    (void)state;
    s.setup.axis[R].stops = (slew_range){degrees(-170), degrees(3.9)};
    s.setup.axis[R].home.angle = 0;
    ask(&s);
    /* falling has to leave upwards, and can't */
    remarks_are(REMARK(OVER_HIGH_STOP) | REMARK(NOT_FOUND));
    s.setup.axis[R].stops = (slew_range){degrees(-3.9), degrees(170)};
    s.setup.axis[R].start = degrees(30);
    ask(&s);
    assert_true(w.remarks & REMARK(OVER_LOW_STOP));
    assert_false(w.remarks & REMARK(OVER_HIGH_STOP));
    /* a circle so small that the magnet is always near */
    *magnet_of(&turned) = (slew_magnet){true, 1.2, 0.008, 0.005, 0.002, 0.009, 0.010, 0.007};
    ask(&turned);
    assert_true(isinf(w.home.operate) && isinf(w.own.release));
    assert_true(w.remarks & REMARK(NEVER_OPENS));
}

static void places_that_do_not_go_with_the_window(void **state)
{
    slew_scenario s = daily_scenario();
    (void)state;
    s.setup.axis[R].approach = SLEW_APPROACH_EITHER;
    ask(&s); /* stowed at 0 deg, home at 0 deg */
    remarks_are(REMARK(STOW_POINT));
    s.stow.point[R] = degrees(4.1);
    ask(&s);
    remarks_are(0);
    s.setup.axis[R].stops.high = degrees(357);
    ask(&s);
    remarks_are(REMARK(WHOLE_TURN));
}

/* ---- Home position ---- */

static const slew_window_row *row_of(slew_approach rule, slew_window_start start, double voltage)
{
    for (int i = 0; i < w.rows; i++)
        if (w.row[i].rule == rule && w.row[i].start == start && w.row[i].voltage == voltage)
            return &w.row[i];
    fail_msg("no row of rule %d, start %d, %g V", (int)rule, (int)start, voltage);
    return NULL;
}

/* The edge is seen 0 to 5 ms after it is met, the phases evenly spread, and acted on 15 ms later,
 * at constant speed: rotation has no load that changes. */
static void check_row(const slew_window_row *row, int edge)
{
    double speed = row->speed, dt = 0.005, lag = 0.015;
    slew_range past = {degrees(3) - edge * row->acted.high, degrees(3) - edge * row->acted.low};
    if (edge < 0)
        past = (slew_range){degrees(3) + row->acted.low, degrees(3) + row->acted.high};
    int places = row->start == SLEW_WINDOW_INSIDE ? 3 : 1; /* the center and both ends */
    assert_int_equal(row->runs, places * SLEW_WINDOW_PHASES);
    assert_int_equal(row->found, places * SLEW_WINDOW_PHASES);
    assert_int_equal(row->unseen, 0);
    assert_true(past.low >= speed * lag - 1e-6 && past.low <= speed * (lag + dt / 32));
    assert_true(past.high <= speed * (lag + dt) + 1e-6 &&
                past.high >= speed * (lag + dt - dt / 32));
    /* braking goes on in the same direction; 1/c is 26 ms, so about that long at that speed */
    near("brakes", edge * (row->acted.high - row->rests.high), 0.02 * speed, 0.01 * speed);
}

static void home_is_taken_past_the_edge_of_the_rule(void **state)
{
    slew_scenario s = daily_scenario();
    (void)state;
    ask(&s);
    assert_int_equal(w.speeds, 3);
    for (int i = 0; i < w.speeds; i++) {
        double V = w.voltage[i];
        for (int start = 0; start < SLEW_WINDOW_STARTS; start++) {
            check_row(row_of(SLEW_APPROACH_FALLING, (slew_window_start)start, V), +1);
            check_row(row_of(SLEW_APPROACH_RISING, (slew_window_start)start, V), -1);
        }
        check_row(row_of(SLEW_APPROACH_EITHER, SLEW_WINDOW_BELOW, V), -1);
        const slew_window_row *inside = row_of(SLEW_APPROACH_EITHER, SLEW_WINDOW_INSIDE, V);
        near("where it stands", inside->acted.low, degrees(-3), 1e-5);
        near("where it stands", inside->acted.high, degrees(3), 1e-5);
        assert_true(isnan(inside->speed) && inside->runs == 3 && inside->found == 3);
    }
    /* search right from the right of home: the stop first, then back to the right edge */
    check_row(row_of(SLEW_APPROACH_EITHER, SLEW_WINDOW_ABOVE, 13.4), +1);
}

static void one_way_is_repeatable_and_either_is_not(void **state)
{
    slew_scenario s = daily_scenario();
    (void)state;
    ask(&s);
    slew_range either = w.rests[SLEW_APPROACH_EITHER], down = w.rests[SLEW_APPROACH_FALLING];
    /* an axis that stands just inside either end has found it there */
    near("either", either.high - either.low, degrees(6), degrees(0.01));
    assert_true(down.high - down.low < degrees(0.2));
    /* faster goes further past the edge */
    const slew_window_row *slow = row_of(SLEW_APPROACH_FALLING, SLEW_WINDOW_BELOW, w.voltage[0]);
    const slew_window_row *fast = row_of(SLEW_APPROACH_FALLING, SLEW_WINDOW_BELOW, w.voltage[2]);
    assert_true(fast->speed > slow->speed && fast->rests.low < slow->rests.low);
}

static void without_a_grid_there_is_one_phase(void **state)
{
    slew_scenario s = daily_scenario();
    (void)state;
    s.setup.controller.sample = 0;
    ask(&s);
    const slew_window_row *row = row_of(SLEW_APPROACH_RISING, SLEW_WINDOW_BELOW, 13.4);
    assert_int_equal(row->runs, 1);
    near("latency alone", row->acted.low, -degrees(3) + 0.015 * row->speed, 1e-6);
}

/* A window that is crossed in less than one sample is met by a sample in the share that its width
 * has of the way made in one: closed from -operate to release. */
static void narrow_windows_are_missed(void **state)
{
    slew_scenario s = daily_scenario();
    (void)state;
    s.setup.axis[R].home.operate = degrees(0.1);
    s.setup.axis[R].home.release = degrees(0.2);
    s.setup.controller.sample = 0.05;
    ask(&s);
    const slew_window_row *row = row_of(SLEW_APPROACH_RISING, SLEW_WINDOW_BELOW, 13.4);
    double seen = degrees(0.3) / (row->speed * 0.05);
    assert_true(seen < 0.8);
    near("missed at first", (double)row->unseen / row->runs, 1 - seen, 1.5 / SLEW_WINDOW_PHASES);
    assert_true(w.remarks & REMARK(UNSEEN));
    assert_true(row->found >= row->runs - row->unseen);
}

static void voltages_are_the_spread_s_or_the_trade_s(void **state)
{
    slew_scenario s = daily_scenario();
    (void)state;
    ask(&s);
    assert_false(w.voltage_given);
    near("low", w.voltage[0], 11.8, 0); /* common practice */
    near("own", w.voltage[1], 13.4, 0);
    near("high", w.voltage[2], 14.4, 0);
    vary(&s.day, "supply.main.voltage", SLEW_UNIFORM, 12.0, 13.4);
    ask(&s);
    assert_true(w.voltage_given);
    assert_int_equal(w.speeds, 2);
    near("low", w.voltage[0], 12, 1e-12);
    s.day.count = 0;
    s.setup.supply.system = 24;
    s.setup.supply.main.voltage = 26;
    s.setup.controller.stall_current = 100; /* it is still the motor for 12 V */
    ask(&s);
    near("doubled", w.voltage[2], 28.8, 1e-12);
}

/* a supply so weak that nothing moves: no row finds home, and says by which fault */
static void a_voltage_at_which_it_does_not_search(void **state)
{
    slew_scenario s = daily_scenario();
    (void)state;
    vary(&s.day, "supply.main.voltage", SLEW_UNIFORM, 1.5, 13.4);
    ask(&s);
    const slew_window_row *row = row_of(SLEW_APPROACH_FALLING, SLEW_WINDOW_BELOW, w.voltage[0]);
    assert_int_equal(row->found, 0);
    assert_string_equal(slew_fault_word(row->fault), "undervoltage");
    assert_true(w.remarks & REMARK(NOT_FOUND));
    assert_int_equal(row_of(SLEW_APPROACH_FALLING, SLEW_WINDOW_BELOW, 13.4)->found,
                     SLEW_WINDOW_PHASES);
}

/* ---- Refusals ---- */

static void what_it_refuses(void **state)
{
    slew_scenario s = daily_scenario(), m = magnet_scenario();
    slew_window_question q = slew_window_question_default(R);
    (void)state;
    q.figure[figure_of("gap")] = (slew_range){0.008, 0.010};
    refused(&s, q, "rotation.home.magnet.gap", "no magnet");
    q.figure[figure_of("gap")] = (slew_range){-0.001, 0.019};
    refused(&m, q, "rotation.home.magnet.gap", "out of its range");
    q.figure[figure_of("gap")] = (slew_range){0.010, 0.008};
    refused(&m, q, "rotation.home.magnet.gap", "out of its range");
    m.setup.axis[R].home.magnet.length = NAN;
    refused(&m, slew_window_question_default(E), "rotation.home.magnet", "missing");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(words_are_those_of_keys_and_output),
        cmocka_unit_test(the_window_is_that_of_the_plant),
        cmocka_unit_test(without_a_magnet_it_is_as_given),
        cmocka_unit_test(worst_of_all_combinations),
        cmocka_unit_test(some_combinations_may_never_close),
        cmocka_unit_test(combinations_that_can_t_be_are_left_out),
        cmocka_unit_test(the_spread_gives_ranges_too),
        cmocka_unit_test(the_field_around_the_window),
        cmocka_unit_test(the_field_is_shown_to_either_side_of_home),
        cmocka_unit_test(too_weak_and_too_flat),
        cmocka_unit_test(a_field_the_other_way),
        cmocka_unit_test(too_wide),
        cmocka_unit_test(places_that_do_not_go_with_the_window),
        cmocka_unit_test(home_is_taken_past_the_edge_of_the_rule),
        cmocka_unit_test(one_way_is_repeatable_and_either_is_not),
        cmocka_unit_test(without_a_grid_there_is_one_phase),
        cmocka_unit_test(narrow_windows_are_missed),
        cmocka_unit_test(voltages_are_the_spread_s_or_the_trade_s),
        cmocka_unit_test(a_voltage_at_which_it_does_not_search),
        cmocka_unit_test(what_it_refuses),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
