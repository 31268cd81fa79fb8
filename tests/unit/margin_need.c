/*
 * margin_need.c - the probabilities and clearances of `margin` are those of the runs they are made
 * of.
 */
#include "../support.h"

#include "slewtime/margin.h"
#include "study/margin/margin_trial.h"

enum { LOW, HIGH };

static slew_variation in_range(const char *path, double low, double high)
{
    return (slew_variation){
        .key = slew_key_find(path), .distribution = SLEW_UNIFORM, .low = low, .high = high};
}

static slew_variation always(const char *path, double value)
{
    return (slew_variation){.key = slew_key_find(path),
                            .distribution = SLEW_TABLE,
                            .count = 1,
                            .value = {value},
                            .weight = {1.0}};
}

/* taught at 12.6 V; what varies: the voltage of the day, 11.8 to 14.2 V */
static slew_scenario varied_scenario(void)
{
    slew_scenario s = daily_scenario();
    set_key(&s, SLEW_LAYER_TEACH, "supply.main.voltage", 12.6);
    s.truck.count = 0;
    s.day.count = 1;
    s.day.item[0] = in_range("supply.main.voltage", 11.8, 14.2);
    return s;
}

/* the three clearance examples differ in their points alone: this is their truck and their day, its
 * voltage known, its temperature drawn as it is */
static slew_scenario example_scenario(const char *path)
{
    slew_scenario s;
    assert_int_equal(slew_scenario_read_file(path, NULL, &s), SLEW_OK);
    s.truck.count = 0;
    s.day.count = 1;
    s.day.item[0] = always("environment.temperature", s.setup.environment.temperature);
    return s;
}

static slew_sampling samples(int64_t count)
{
    slew_sampling how = slew_sampling_default();
    how.samples = count;
    how.threads = 2;
    return how;
}

static const slew_margin_question elevation = {SLEW_ELEVATION, 0.1};
static const slew_margin_question seldom = {SLEW_ELEVATION, 0.01};
static const slew_margin_question rotation = {SLEW_ROTATION, 0.1};

static void ask(const slew_scenario *s, const slew_margin_question *q, int64_t count,
                slew_margin *m)
{
    const slew_sampling how = samples(count);
    slew_error error;
    if (slew_margin_run(s, q, &how, m, &error) != SLEW_OK)
        fail_msg("%s: %s", error.key, error.message);
}

/* the point moved to this clearance from a stop of the elevation */
static slew_scenario at_clearance(const slew_scenario *s, int side, double clearance)
{
    const slew_range *stops = &s->setup.axis[SLEW_ELEVATION].stops;
    slew_scenario moved = *s;
    moved.stow.point[SLEW_ELEVATION] =
        side == LOW ? stops->low + clearance : stops->high - clearance;
    return moved;
}

static bool is_pressed(const slew_scenario *s, const slew_result *r)
{
    const slew_range *stops = &s->setup.axis[SLEW_ELEVATION].stops;
    double angle = r->stow.angle[SLEW_ELEVATION];
    return r->stow.says == SLEW_STOWED && (angle == stops->low || angle == stops->high);
}

static bool is_fault(const slew_result *r)
{
    return r->stow.says == SLEW_FAULTED && r->stow.fault == SLEW_FAULT_HARD_STOP;
}

/* ---- against direct runs ---- */

/* 4 deg are enough, 1.5 deg pressed, 0.5 deg fault: what the examples are there for */
static void examples_are_found_again(void **state)
{
    static const struct {
        const char *path;
        double clearance; /* [deg] */
        bool pressed, fault;
    } examples[] = {{"examples/clearance-enough.yaml", 4.0, false, false},
                    {"examples/clearance-pressed.yaml", 1.5, true, false},
                    {"examples/clearance-faults.yaml", 0.5, false, true}};
    static slew_margin m;
    static story run;
    (void)state;
    for (int i = 0; i < 3; i++) {
        slew_scenario s = example_scenario(examples[i].path);
        ask(&s, &elevation, 64, &m);
        double enough = m.side[LOW].need.enough;
        run_parts(&s, SLEW_STOW_ONLY, &run);
        assert_int_equal(is_pressed(&s, &run.result), examples[i].pressed);
        assert_int_equal(is_fault(&run.result), examples[i].fault);
        near("point", s.stow.point[SLEW_ELEVATION], degrees(-20.0 + examples[i].clearance), 1e-12);
        assert_int_equal(degrees(examples[i].clearance) < enough,
                         examples[i].pressed || examples[i].fault);
    }
}

/* on that one day everything is certain: each rung is one run, and 0.05 deg less is not enough */
static void one_day_is_one_run(void **state)
{
    static slew_margin m;
    static story run;
    const slew_scenario s = example_scenario("examples/clearance-faults.yaml");
    (void)state;
    ask(&s, &elevation, 64, &m);
    for (int side = LOW; side <= HIGH; side++) {
        const slew_margin_side *found = &m.side[side];
        assert_int_equal(found->step_count, SLEW_MARGIN_STEPS);
        for (int i = 0; i < found->step_count; i++) {
            const slew_margin_step *step = &found->step[i];
            slew_scenario direct = at_clearance(&s, side, step->clearance);
            run_parts(&direct, SLEW_STOW_ONLY, &run);
            near("fault", step->fault.value, is_fault(&run.result), 0.0);
            near("pressed", step->pressed.value, is_pressed(&direct, &run.result), 0.0);
        }
        slew_scenario less = at_clearance(&s, side, found->need.enough - degrees(0.05));
        run_parts(&less, SLEW_STOW_ONLY, &run);
        assert_true(is_fault(&run.result) || is_pressed(&less, &run.result));
    }
}

/* ---- one search for many clearances ---- */

enum { RUNGS = 3 };
static const int rungs[RUNGS] = {10, 45, 80}; /* [grid steps] */

/* what the ladder says of a sample, beside whole runs of the same sample at the same points */
static void compare_with_whole_runs(void *context, const slew_scenario *drawn,
                                    const slew_prepared *prepared, double *differences)
{
    slew_margin_case *c = context;
    double figures[RUNGS * SLEW_MARGIN_FIGURES];
    slew_margin_ask_ladder(c, drawn, prepared, figures);
    *differences = 0;
    for (int i = 0; i < RUNGS; i++) {
        slew_result r;
        const double *of = figures + i * SLEW_MARGIN_FIGURES;
        slew_scenario s = at_clearance(drawn, LOW, rungs[i] * SLEW_MARGIN_GRID);
        slew_prepared p = *prepared;
        s.stow.has_times = false;
        assert_int_equal(slew_teach(&s, p.stored, NULL), SLEW_OK);
        slew_run_prepared(&s, &p, SLEW_STOW_ONLY, NULL, &r);
        double over = r.stow.angle[SLEW_ELEVATION] - s.stow.point[SLEW_ELEVATION];
        bool stowed = r.stow.says == SLEW_STOWED, pressed = is_pressed(&s, &r);
        *differences += of[SLEW_MARGIN_F_FAULT] != is_fault(&r);
        *differences += of[SLEW_MARGIN_F_PRESSED] != pressed;
        *differences += of[SLEW_MARGIN_F_SHORT] != (stowed && over > s.stow.tolerance);
        *differences += of[SLEW_MARGIN_F_NEAR] != (stowed && -over > s.stow.tolerance && !pressed);
    }
}

/* home is searched once for all clearances of a sample: not a verdict differs */
static void one_search_does_for_all_clearances(void **state)
{
    slew_scenario s = varied_scenario(), untaught;
    slew_ensemble e;
    const slew_sampling how = samples(128);
    (void)state;
    s.truck.count = 1;
    s.truck.item[0] = in_range("elevation.gear.efficiency", 0.32, 0.40);
    s.stow.tolerance = degrees(1);
    slew_margin_case c = {.scenario = &s,
                          .axis = SLEW_ELEVATION,
                          .side = -1,
                          .last = 400,
                          .step = rungs,
                          .step_count = RUNGS};
    for (int order = SLEW_ROTATION_FIRST; order <= SLEW_TOGETHER; order++) {
        s.stow.order = (slew_order)order;
        untaught = s;
        untaught.stow.has_times = true;
        assert_int_equal(slew_margin_case_open(&c), SLEW_OK);
        assert_int_equal(slew_ensemble_run(&untaught, SLEW_STOW_ONLY, &how, compare_with_whole_runs,
                                           &c, 1, &e, NULL),
                         SLEW_OK);
        for (int64_t i = 0; i < e.done; i++)
            near("differences", e.figure[i], 0, 0);
        slew_ensemble_free(&e);
        slew_margin_case_close(&c);
    }
}

static void judge_drawn(void *context, const slew_scenario *drawn, const slew_prepared *prepared,
                        double *figures)
{
    slew_result r;
    (void)context;
    slew_run_prepared(drawn, prepared, SLEW_STOW_ONLY, NULL, &r);
    double over = r.stow.angle[SLEW_ELEVATION] - drawn->stow.point[SLEW_ELEVATION];
    figures[0] = is_fault(&r);
    figures[1] = is_pressed(drawn, &r);
    figures[2] = r.stow.says == SLEW_STOWED && over > drawn->stow.tolerance;
    figures[3] = r.stow.says == SLEW_STOWED && -over > drawn->stow.tolerance && figures[1] == 0;
}

static double mean_of(const slew_ensemble *e, int index)
{
    double sum = 0.0;
    for (int64_t i = 0; i < e->done; i++)
        sum += e->figure[i * e->count + index];
    return sum / (double)e->done;
}

static void between(const char *what, double value, slew_share interval)
{
    if (!(value >= interval.low && value <= interval.high))
        fail_msg("%s: %g is not within %g to %g", what, value, interval.low, interval.high);
}

/* each rung against many samples drawn as nature does, with its point in the scenario */
static void each_rung_is_an_ensemble_of_its_own(void **state)
{
    static slew_margin m;
    slew_scenario s = varied_scenario();
    const slew_sampling how = samples(4096);
    (void)state;
    s.truck.count = 1;
    s.truck.item[0] = in_range("elevation.gear.efficiency", 0.32, 0.40);
    s.stow.tolerance = degrees(1);
    ask(&s, &seldom, 1024, &m);
    double nearer = 0;
    for (int i = 0; i < m.side[LOW].step_count; i++) {
        slew_ensemble e;
        const slew_margin_step *step = &m.side[LOW].step[i];
        slew_scenario moved = at_clearance(&s, LOW, step->clearance);
        assert_int_equal(
            slew_ensemble_run(&moved, SLEW_STOW_ONLY, &how, judge_drawn, NULL, 4, &e, NULL),
            SLEW_OK);
        between("fault", mean_of(&e, 0), step->fault);
        between("pressed", mean_of(&e, 1), step->pressed);
        between("too short", mean_of(&e, 2), step->short_of);
        between("too near", mean_of(&e, 3), step->near_to);
        between("either", mean_of(&e, 0) + mean_of(&e, 1), step->unsafe);
        near("together", step->unsafe.value, step->fault.value + step->pressed.value, 1e-12);
        nearer += step->near_to.value;
        slew_ensemble_free(&e);
    }
    assert_true(nearer > 0); /* there is something to compare */
}

/* ---- the curve and the clearance ---- */

static void more_clearance_is_never_worse(void **state)
{
    static slew_margin m;
    const slew_scenario s = varied_scenario();
    (void)state;
    ask(&s, &elevation, 256, &m);
    for (int side = LOW; side <= HIGH; side++) {
        const slew_margin_side *found = &m.side[side];
        assert_true(found->step[0].unsafe.value > 0.3);
        for (int i = 1; i < found->step_count; i++) {
            assert_true(found->step[i].clearance > found->step[i - 1].clearance);
            assert_true(found->step[i].unsafe.value <= found->step[i - 1].unsafe.value);
        }
    }
}

/* the rung of the clearance found is surely below, the clearance is the last but one */
static void clearance_found_meets_what_is_wanted(void **state)
{
    static slew_margin m;
    const slew_scenario s = varied_scenario();
    (void)state;
    ask(&s, &elevation, 256, &m);
    for (int side = LOW; side <= HIGH; side++) {
        const slew_margin_step *step = &m.side[side].step[SLEW_MARGIN_STEPS - 2];
        near("clearance", step->clearance, m.side[side].need.enough, 1e-12);
        assert_true(step->unsafe.value < elevation.wanted);
        near("either", step->unsafe.value, m.side[side].need.beyond.value, 1e-12);
        assert_true(m.side[side].need.enough <= m.side[side].need.unseen);
    }
}

static void a_lower_probability_takes_more_clearance(void **state)
{
    static slew_margin rare, often;
    const slew_margin_question more = {SLEW_ELEVATION, 0.3};
    const slew_scenario s = varied_scenario();
    (void)state;
    ask(&s, &elevation, 256, &rare);
    ask(&s, &more, 256, &often);
    assert_true(often.side[LOW].need.enough < rare.side[LOW].need.enough);
    assert_true(often.side[HIGH].need.enough < rare.side[HIGH].need.enough);
}

/* a search that turns round on the low stop is no touch: taught and stowed on the same day */
static void search_on_the_stop_is_no_touch(void **state)
{
    static slew_margin m;
    static story run;
    slew_scenario s = varied_scenario();
    (void)state;
    s.day.item[0] = always("elevation.start", degrees(-10.0));
    set_key(&s, SLEW_LAYER_TODAY, "supply.main.voltage", 12.6);
    ask(&s, &elevation, 64, &m);
    slew_scenario today = s;
    set_key(&today, SLEW_LAYER_TODAY, "elevation.start", degrees(-10.0));
    run_parts(&today, SLEW_STOW_ONLY, &run);
    assert_int_equal(count_of(&run, SLEW_EVENT_STOP_CONTACT, SLEW_ELEVATION), 1);
    near("touched", m.side[LOW].step[m.side[LOW].step_count - 1].touched.value, 0.0, 0.0);
}

/* ---- against ten million samples ---- */

typedef struct brute_row {
    double wanted;
    int side;
    double clearance, share; /* [deg]; of samples that need more */
} brute_row;

/* tests/bench/margin.txt: the first clearance at which the share is below what is wanted */
static const brute_row brute_rows[] = {{1e-3, LOW, 3.75, 6.983e-04},
                                       {1e-3, HIGH, 14.60, 9.268e-04},
                                       {1e-5, LOW, 4.05, 7.000e-07},
                                       {1e-5, HIGH, 15.60, 6.300e-06}};

/* with 1536 samples the clearance is that, or up to 0.15 deg more to be sure; the share at it is
 * known to a fifth or better, twice its standard error */
static void rare_cases_are_those_of_brute_force(void **state)
{
    static slew_margin m;
    slew_scenario s;
    (void)state;
    assert_int_equal(slew_scenario_read_file("examples/daily.yaml", NULL, &s), SLEW_OK);
    for (size_t i = 0; i < sizeof brute_rows / sizeof *brute_rows; i++) {
        const brute_row *row = &brute_rows[i];
        const slew_margin_question question = {SLEW_ELEVATION, row->wanted};
        if (row->side == LOW)
            ask(&s, &question, 1536, &m);
        const slew_margin_need *need = &m.side[row->side].need;
        assert_true(need->enough > degrees(row->clearance - 0.01));
        assert_true(need->enough < degrees(row->clearance + 0.16));
        if (need->enough < degrees(row->clearance + 0.01))
            between("share", row->share, need->beyond);
        assert_true(need->beyond.high - need->beyond.low < 0.5 * row->wanted);
    }
}

/* ---- symmetry ---- */

/* rotation has no gravity on a level base: left and right are alike */
static slew_scenario mirrored(const slew_scenario *s)
{
    slew_scenario m = *s;
    slew_axis_setup *axis = &m.setup.axis[SLEW_ROTATION];
    const slew_axis_setup *own = &s->setup.axis[SLEW_ROTATION];
    axis->start = -own->start;
    axis->stops = (slew_range){-own->stops.high, -own->stops.low};
    axis->home.angle = -own->home.angle;
    axis->search = -own->search;
    axis->approach = own->approach == SLEW_APPROACH_RISING    ? SLEW_APPROACH_FALLING
                     : own->approach == SLEW_APPROACH_FALLING ? SLEW_APPROACH_RISING
                                                              : SLEW_APPROACH_EITHER;
    m.stow.point[SLEW_ROTATION] = -s->stow.point[SLEW_ROTATION];
    return m;
}

static void mirrored_machine_has_mirrored_clearances(void **state)
{
    static slew_margin one, other;
    slew_scenario s = varied_scenario();
    (void)state;
    s.setup.axis[SLEW_ROTATION].stops = (slew_range){degrees(-35.0), degrees(60.0)};
    s.setup.environment.tilt = 0.0;
    slew_scenario m = mirrored(&s);
    ask(&s, &rotation, 128, &one);
    ask(&m, &rotation, 128, &other);
    for (int side = LOW; side <= HIGH; side++) {
        const slew_margin_side *a = &one.side[side], *b = &other.side[!side];
        assert_true(a->need.enough > 0.0);
        near("enough", a->need.enough, b->need.enough, 1e-12);
        assert_int_equal(a->step_count, b->step_count);
        for (int i = 0; i < a->step_count; i++)
            near("either", a->step[i].unsafe.value, b->step[i].unsafe.value, 1e-12);
    }
    assert_true(one.side[LOW].need.enough < one.side[HIGH].need.enough); /* a shorter way */
}

/* ---- changes ---- */

/* of many samples drawn as nature does it is enough, and not by far */
static void check_enough(const slew_scenario *s, int side, const slew_margin_need *need)
{
    const slew_sampling how = samples(2048);
    for (int less = 0; less < 2; less++) {
        slew_ensemble e;
        slew_scenario moved = at_clearance(s, side, need->enough * (less ? 0.9 : 1));
        assert_int_equal(
            slew_ensemble_run(&moved, SLEW_STOW_ONLY, &how, judge_drawn, NULL, 4, &e, NULL),
            SLEW_OK);
        assert_int_equal(mean_of(&e, 0) + mean_of(&e, 1) < elevation.wanted, !less);
        slew_ensemble_free(&e);
    }
}

static void changed_line_is_a_scenario_of_its_own(void **state)
{
    static slew_margin m, coasting, weaker;
    const slew_scenario s = varied_scenario();
    slew_scenario coast = s, weak = s;
    (void)state;
    ask(&s, &elevation, 1024, &m);
    assert_int_equal(s.setup.controller.stop, SLEW_BRAKE);
    coast.setup.controller.stop = SLEW_COAST;
    ask(&coast, &elevation, 128, &coasting);
    set_key(&weak, SLEW_LAYER_TEACH, "supply.main.voltage", 12.1);
    ask(&weak, &elevation, 128, &weaker);
    for (int side = LOW; side <= HIGH; side++) {
        const slew_margin_need *coasts = &m.change[SLEW_MARGIN_STOP][side];
        const slew_margin_need *lower = &m.change[SLEW_MARGIN_TAUGHT_LOWER][side];
        check_enough(&coast, side, coasts);
        check_enough(&weak, side, lower);
        near("coast", coasts->limit, coasting.side[side].need.limit, 1e-12);
        near("coast", coasts->enough, coasting.side[side].need.enough, degrees(0.3));
        near("12.1 V", lower->enough, weaker.side[side].need.enough, degrees(0.6));
        assert_true(m.change[SLEW_MARGIN_TAUGHT_LOWER][side].enough >
                    m.change[SLEW_MARGIN_TAUGHT_HIGHER][side].enough);
    }
}

/* exactly one of the three approach rules is the scenario's own */
static void own_approach_is_no_change(void **state)
{
    static slew_margin m;
    slew_scenario s = varied_scenario();
    (void)state;
    s.setup.axis[SLEW_ELEVATION].approach = SLEW_APPROACH_RISING;
    ask(&s, &elevation, 64, &m);
    assert_int_equal(m.change[SLEW_MARGIN_RISING][LOW].status, SLEW_ERROR_INPUT);
    assert_int_equal(m.change[SLEW_MARGIN_FALLING][LOW].status, SLEW_OK);
    assert_int_equal(m.change[SLEW_MARGIN_EITHER][LOW].status, SLEW_OK);
}

static void threads_do_not_matter(void **state)
{
    static slew_margin one, three;
    slew_scenario s = varied_scenario();
    slew_sampling how = samples(200);
    (void)state;
    s.truck.count = 1;
    s.truck.item[0] = in_range("elevation.gear.efficiency", 0.32, 0.40);
    how.threads = 1;
    assert_int_equal(slew_margin_run(&s, &elevation, &how, &one, NULL), SLEW_OK);
    how.threads = 3;
    assert_int_equal(slew_margin_run(&s, &elevation, &how, &three, NULL), SLEW_OK);
    assert_memory_equal(&one, &three, sizeof one);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(examples_are_found_again),
        cmocka_unit_test(one_day_is_one_run),
        cmocka_unit_test(one_search_does_for_all_clearances),
        cmocka_unit_test(each_rung_is_an_ensemble_of_its_own),
        cmocka_unit_test(more_clearance_is_never_worse),
        cmocka_unit_test(clearance_found_meets_what_is_wanted),
        cmocka_unit_test(a_lower_probability_takes_more_clearance),
        cmocka_unit_test(search_on_the_stop_is_no_touch),
        cmocka_unit_test(rare_cases_are_those_of_brute_force),
        cmocka_unit_test(mirrored_machine_has_mirrored_clearances),
        cmocka_unit_test(changed_line_is_a_scenario_of_its_own),
        cmocka_unit_test(own_approach_is_no_change),
        cmocka_unit_test(threads_do_not_matter),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
