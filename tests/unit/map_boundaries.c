/*
 * map_boundaries.c - the outcomes of `map` are those of single runs, and its boundaries lie where
 * they change.
 */
#include "../support.h"

#include "slewtime/map.h"

/* invented: a point 2 deg above the lower stop, taught at 12.6 V, on days of 9 to 15 V */
static slew_scenario near_stop(void)
{
    slew_scenario s = daily_scenario();
    s.truck.count = s.day.count = 0;
    s.deploy.given = false;
    s.keepout.count = 0;
    s.stow.has_times = false;
    s.stow.has_point = true;
    s.stow.point[SLEW_ROTATION] = 0;
    s.stow.point[SLEW_ELEVATION] = s.setup.axis[SLEW_ELEVATION].stops.low + degrees(2.0);
    set_key(&s, SLEW_LAYER_TEACH, "supply.main.voltage", 12.6);
    return s;
}

static slew_vary voltage(int steps)
{
    return (slew_vary){SLEW_LAYER_TODAY, slew_key_find("supply.main.voltage"), 9.0, 15.0, steps};
}

static slew_vary clearance(const slew_scenario *s, int steps)
{
    double stop = s->setup.axis[SLEW_ELEVATION].stops.low;
    return (slew_vary){SLEW_LAYER_FILE, slew_key_find("stow.point.elevation"), stop,
                       stop + degrees(10.0), steps};
}

static slew_sampling two_threads(void)
{
    slew_sampling how = slew_sampling_default();
    how.threads = 2;
    return how;
}

static slew_map_line line_of(const slew_scenario *s, const slew_vary *vary)
{
    slew_map_line line;
    const slew_sampling how = two_threads();
    assert_int_equal(slew_map_line_run(s, vary, 1e-4, &how, &line, NULL), SLEW_OK);
    return line;
}

/* by a run of its own: the stow says stowed, and the barrel rests on its lower stop */
static bool is_pressed(const slew_scenario *s, double volts)
{
    slew_scenario trial = *s;
    slew_result r;
    set_key(&trial, SLEW_LAYER_TODAY, "supply.main.voltage", volts);
    assert_int_equal(slew_run(&trial, SLEW_STOW_AND_DEPLOY, NULL, &r, NULL), SLEW_OK);
    double stop = s->setup.axis[SLEW_ELEVATION].stops.low;
    return r.stow.says == SLEW_STOWED && r.stow.angle[SLEW_ELEVATION] <= stop + 1e-9;
}

static const slew_map_span *span_of(const slew_map_line *line, slew_outcome outcome)
{
    for (int i = 0; i < line->count; i++)
        if (line->span[i].first.outcome == outcome)
            return &line->span[i];
    return NULL;
}

/* The boundary is half a tolerance off at most, 1e-4 of 6 V; the bisection by hand, from another
 * bracket, ends at 1e-9. The home sensors are looked at without a time grid: a single change. */
static void boundary_is_where_a_bisection_by_hand_finds_it(void **state)
{
    slew_scenario s = near_stop();
    s.setup.controller.sample = 0.0;
    const slew_vary vary = voltage(60);
    slew_map_line line = line_of(&s, &vary);
    const slew_map_span *pressed = span_of(&line, SLEW_OUTCOME_PRESSED);
    (void)state;
    assert_non_null(pressed);
    assert_true(pressed->from > 9.0);
    double low = pressed->from - 0.05, high = pressed->from + 0.05;
    assert_false(is_pressed(&s, low));
    assert_true(is_pressed(&s, high));
    while (high - low > 1e-9)
        if (is_pressed(&s, (low + high) / 2))
            high = (low + high) / 2;
        else
            low = (low + high) / 2;
    near("boundary", pressed->from, high, 0.5e-4 * 6.0 + 1e-9);
    assert_int_equal(pressed->first.axis, SLEW_ELEVATION);
    slew_map_line_free(&line);
}

static void spans_leave_no_gap_and_differ_from_their_neighbours(void **state)
{
    const slew_scenario s = near_stop();
    const slew_vary vary = voltage(60);
    slew_map_line line = line_of(&s, &vary);
    (void)state;
    assert_true(line.count > 2);
    near("from", line.span[0].from, 9.0, 0.0);
    near("to", line.span[line.count - 1].to, 15.0, 0.0);
    for (int i = 1; i < line.count; i++) {
        near("no gap", line.span[i].from, line.span[i - 1].to, 0.0);
        assert_int_not_equal(line.span[i].first.outcome, line.span[i - 1].first.outcome);
        assert_int_equal(line.span[i].first.outcome, line.span[i].last.outcome);
        double bracket = line.span[i].first.value[0] - line.span[i - 1].last.value[0];
        assert_true(bracket > 0.0 && bracket <= 1e-4 * 6.0);
    }
    slew_map_line_free(&line);
}

/* a point on the stop can't be taught, one just above it is pressed or faults */
static void what_can_not_be_taught_has_its_reason(void **state)
{
    const slew_scenario s = near_stop();
    slew_vary vary = clearance(&s, 20);
    (void)state;
    vary.from -= degrees(1.0);
    slew_map_line line = line_of(&s, &vary);
    assert_int_equal(line.span[0].first.outcome, SLEW_OUTCOME_UNTAUGHT);
    assert_non_null(strstr(line.span[0].reason.message, "hard stop"));
    assert_true(isnan(line.span[0].first.angle[SLEW_ELEVATION]));
    near("stop", line.span[0].to, s.setup.axis[SLEW_ELEVATION].stops.low,
         0.5e-4 * (vary.to - vary.from));
    slew_map_line_free(&line);
}

static void off_target_says_by_how_much(void **state)
{
    slew_scenario s = near_stop();
    const slew_vary vary = voltage(60);
    slew_result r;
    (void)state;
    s.stow.point[SLEW_ELEVATION] += degrees(6.0);
    slew_map_line line = line_of(&s, &vary);
    const slew_map_span *off = span_of(&line, SLEW_OUTCOME_OFF_POINT);
    assert_non_null(off);
    set_key(&s, SLEW_LAYER_TODAY, "supply.main.voltage", off->first.value[0]);
    assert_int_equal(slew_run(&s, SLEW_STOW_ONLY, NULL, &r, NULL), SLEW_OK);
    int axis = off->first.axis;
    near("off", off->first.off, fabs(r.stow.angle[axis] - s.stow.point[axis]), 0.0);
    assert_true(off->first.off > s.stow.tolerance);
    assert_true(off->largest_off >= off->first.off);
    slew_map_line_free(&line);
}

/* outcomes in the order of their seriousness, one scenario each */
static void each_outcome_is_told(void **state)
{
    slew_scenario s = near_stop();
    double value = 0;
    (void)state;
    s.stow.point[SLEW_ELEVATION] += degrees(6.0);
    set_key(&s, SLEW_LAYER_TODAY, "supply.main.voltage", 12.6);
    assert_int_equal(slew_map_ask(&s, NULL, 0, &value, NULL).outcome, SLEW_OUTCOME_OK);
    slew_scenario trial = s;
    set_key(&trial, SLEW_LAYER_TODAY, "supply.floor", 14.0);
    assert_int_equal(slew_map_ask(&trial, NULL, 0, &value, NULL).outcome, SLEW_OUTCOME_BELOW_FLOOR);
    trial.keepout.count = 1;
    trial.keepout.box[0] = (slew_keepout_box){
        .name = "everywhere", .axis = {{-INFINITY, INFINITY}, {-INFINITY, INFINITY}}};
    assert_int_equal(slew_map_ask(&trial, NULL, 0, &value, NULL).outcome, SLEW_OUTCOME_KEEPOUT);
    set_key(&trial, SLEW_LAYER_TODAY, "rotation.home.present", 0);
    assert_int_equal(slew_map_ask(&trial, NULL, 0, &value, NULL).outcome,
                     SLEW_OUTCOME_HOME_NOT_FOUND);
    trial = s;
    set_key(&trial, SLEW_LAYER_TODAY, "stow.cancel_at", 1.0);
    assert_int_equal(slew_map_ask(&trial, NULL, 0, &value, NULL).outcome, SLEW_OUTCOME_CANCELLED);
    trial = s;
    set_key(&trial, SLEW_LAYER_TEACH, "rotation.home.present", 0);
    assert_int_equal(slew_map_ask(&trial, NULL, 0, &value, NULL).outcome, SLEW_OUTCOME_UNTAUGHT);
    trial = s;
    trial.deploy.given = true;
    trial.deploy.seconds[SLEW_ROTATION] = trial.deploy.seconds[SLEW_ELEVATION] = 0;
    trial.deploy.order = SLEW_ELEVATION_FIRST;
    for (int j = 0; j < SLEW_AXES; j++) {
        trial.deploy.choice_count[j] = 1;
        trial.deploy.choices[j][0] = 0;
        trial.deploy.target[j] = (slew_range){degrees(30.0), degrees(40.0)};
    }
    slew_map_point p = slew_map_ask(&trial, NULL, 0, &value, NULL);
    assert_int_equal(p.outcome, SLEW_OUTCOME_OFF_TARGET);
    near("off", p.off, degrees(30.0) - p.angle[p.axis], 1e-12);
    assert_false(p.past);
}

/* more voltage than was taught with carries an axis on past its point, less leaves it short of it
 */
static void short_and_past_are_told_apart(void **state)
{
    slew_scenario s = near_stop();
    (void)state;
    s.stow.point[SLEW_ELEVATION] += degrees(6.0);
    s.stow.tolerance = degrees(0.2);
    const slew_vary vary = voltage(60);
    slew_map_line line = line_of(&s, &vary);
    int spans[2] = {0};
    for (int i = 0; i < line.count; i++) {
        const slew_map_point *p = &line.span[i].first;
        assert_int_equal(slew_map_kind(p), slew_map_kind(&line.span[i].last));
        if (p->outcome != SLEW_OUTCOME_OFF_POINT || p->axis != SLEW_ELEVATION)
            continue;
        assert_true(p->past == (p->stowed[SLEW_ELEVATION] < s.stow.point[SLEW_ELEVATION]));
        assert_true(p->past == (p->value[0] > 12.6));
        assert_int_equal(slew_map_kind(p), SLEW_OUTCOME_OFF_POINT + (p->past ? SLEW_MAP_PAST : 0));
        spans[p->past]++;
    }
    assert_true(spans[0] > 0 && spans[1] > 0);
    slew_map_line_free(&line);
}

/* ---- what hides between corners that agree ---- */

static double middle(const slew_vary *v, int index, int count)
{
    return v->from + (v->to - v->from) * (index + 0.5) / count;
}

static int corner(const slew_map *map, int x, int y, int right, int up)
{
    return slew_map_kind(&map->point[(y / map->fine + up) * map->columns + x / map->fine + right]);
}

/* a controller that looks once a second or so finds home or not by the place that it starts from:
 * stripes narrower than the grid */
static void stripes_narrower_than_the_grid_are_found(void **state)
{
    slew_scenario s = near_stop();
    const slew_vary vary[2] = {
        {SLEW_LAYER_TODAY, slew_key_find("controller.sample"), 0, 2, 60},
        {SLEW_LAYER_TODAY, slew_key_find("rotation.start"), degrees(-60), degrees(60), 60}};
    const slew_sampling how = two_threads();
    slew_map map;
    int hidden = 0, misdrawn = 0;
    (void)state;
    assert_int_equal(slew_map_run(&s, vary, 2, &how, &map, NULL), SLEW_OK);
    for (int y = 0; y < map.height; y++)
        for (int x = 0; x < map.width; x++) {
            int first = corner(&map, x, y, 0, 0);
            const double value[] = {middle(&vary[0], x, map.width),
                                    middle(&vary[1], y, map.height)};
            if (corner(&map, x, y, 1, 0) != first || corner(&map, x, y, 0, 1) != first ||
                corner(&map, x, y, 1, 1) != first)
                continue;
            const slew_map_point asked = slew_map_ask(&s, vary, 2, value, NULL);
            int truth = slew_map_kind(&asked);
            hidden += truth != first;
            misdrawn += truth != map.cell[y * map.width + x];
        }
    assert_true(hidden > 100);
    assert_true(misdrawn < hidden / 2);
    assert_true(map.looked > 300 && map.different.low > 0);
    slew_map_free(&map);
}

/* the second key at one of its grid values: the row is the grid of a line */
static void row_of_a_map_is_a_line(void **state)
{
    slew_scenario s = near_stop();
    slew_vary vary[2] = {clearance(&s, 24), voltage(12)};
    const slew_sampling how = two_threads();
    slew_map map;
    (void)state;
    assert_int_equal(slew_map_run(&s, vary, 2, &how, &map, NULL), SLEW_OK);
    double largest[SLEW_OUTCOME_COUNT] = {0};
    for (int row = 0; row < map.rows; row++) {
        set_key(&s, SLEW_LAYER_TODAY, "supply.main.voltage", slew_vary_value(&vary[1], row));
        slew_map_line line = line_of(&s, &vary[0]);
        for (int i = 0; i < map.columns; i++) {
            const slew_map_point *a = &map.point[row * map.columns + i], *b = &line.point[i];
            assert_int_equal(a->outcome, b->outcome);
            assert_int_equal(a->axis, b->axis);
            assert_true(a->off == b->off);
            assert_memory_equal(a->angle, b->angle, sizeof a->angle);
            largest[b->outcome] = fmax(largest[b->outcome], b->off);
        }
        slew_map_line_free(&line);
    }
    assert_true(largest[SLEW_OUTCOME_OFF_POINT] > 0);
    assert_memory_equal(map.largest_off, largest, sizeof largest);
    slew_map_free(&map);
}

static slew_map small_map(const slew_scenario *s, const slew_vary *vary, int threads)
{
    slew_sampling how = slew_sampling_default();
    slew_map map;
    how.threads = threads;
    assert_int_equal(slew_map_run(s, vary, 4, &how, &map, NULL), SLEW_OK);
    return map;
}

/* each cell of the picture that was asked is the outcome at its middle */
static void picture_is_true_at_the_middle_of_its_cells(void **state)
{
    const slew_scenario s = near_stop();
    const slew_vary vary[2] = {clearance(&s, 10), voltage(10)};
    slew_map map = small_map(&s, vary, 2);
    int asked = 0;
    double sum = 0;
    (void)state;
    for (int y = 0; y < map.height; y++)
        for (int x = 0; x < map.width; x++) {
            const slew_map_point *p = &map.point[y / 4 * map.columns + x / 4];
            int kind = slew_map_kind(p);
            bool alike = kind == slew_map_kind(p + 1) && kind == slew_map_kind(p + map.columns) &&
                         kind == slew_map_kind(p + map.columns + 1);
            const double at[] = {vary[0].from + (vary[0].to - vary[0].from) * (x + 0.5) / map.width,
                                 vary[1].from +
                                     (vary[1].to - vary[1].from) * (y + 0.5) / map.height};
            const slew_map_point middle_point = slew_map_ask(&s, vary, 2, at, NULL);
            assert_int_equal(map.cell[y * map.width + x],
                             alike ? kind : slew_map_kind(&middle_point));
            asked += !alike;
        }
    for (int k = 0; k < SLEW_OUTCOME_COUNT; k++)
        sum += map.share[k];
    assert_true(asked > 0);
    near("shares", sum, 1.0, 1e-12);
    slew_map_free(&map);
}

static void threads_do_not_matter(void **state)
{
    const slew_scenario s = near_stop();
    const slew_vary vary[2] = {clearance(&s, 16), voltage(12)};
    const slew_vary turned[2] = {vary[1], vary[0]};
    slew_map one = small_map(&s, vary, 1), three = small_map(&s, vary, 3);
    slew_map other = small_map(&s, turned, 2);
    (void)state;
    assert_memory_equal(one.point, three.point,
                        (size_t)one.columns * (size_t)one.rows * sizeof *one.point);
    assert_memory_equal(one.cell, three.cell, (size_t)one.width * (size_t)one.height);
    assert_memory_equal(one.share, three.share, sizeof one.share);
    for (int row = 0; row < one.rows; row++)
        for (int i = 0; i < one.columns; i++)
            assert_int_equal(one.point[row * one.columns + i].outcome,
                             other.point[i * other.columns + row].outcome);
    slew_map_free(&one);
    slew_map_free(&three);
    slew_map_free(&other);
}

/* the release angle below the operate angle: no single value tells */
static void what_the_check_refuses_can_not_be_run(void **state)
{
    slew_scenario s = near_stop();
    double operate = s.setup.axis[SLEW_ROTATION].home.operate;
    const slew_vary vary = {SLEW_LAYER_TODAY, slew_key_find("rotation.home.release"), operate / 2,
                            operate * 2, 15};
    (void)state;
    slew_map_line line = line_of(&s, &vary);
    assert_int_equal(line.span[0].first.outcome, SLEW_OUTCOME_UNFIT);
    assert_true(line.span[0].reason.message[0] != '\0');
    near("operate", line.span[0].to, operate, 0.5e-4 * 1.5 * operate + 1e-12);
    slew_map_line_free(&line);
}

static bool stop_at_once(void *context, int64_t done)
{
    (void)context;
    (void)done;
    return false;
}

static void stopped_map_leaves_nothing(void **state)
{
    const slew_scenario s = near_stop();
    const slew_vary vary[2] = {clearance(&s, 20), voltage(40)};
    slew_sampling how = two_threads();
    slew_map_line line;
    slew_map map;
    slew_error error;
    (void)state;
    how.progress = stop_at_once;
    assert_int_equal(slew_map_run(&s, vary, 4, &how, &map, &error), SLEW_ERROR_STOPPED);
    assert_string_equal(error.message, "stopped");
    assert_null(map.point);
    assert_int_equal(slew_map_line_run(&s, &vary[1], 1e-4, &how, &line, &error),
                     SLEW_ERROR_STOPPED);
    assert_null(line.span);
    slew_map_free(NULL);
    slew_map_line_free(NULL);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(boundary_is_where_a_bisection_by_hand_finds_it),
        cmocka_unit_test(spans_leave_no_gap_and_differ_from_their_neighbours),
        cmocka_unit_test(what_can_not_be_taught_has_its_reason),
        cmocka_unit_test(off_target_says_by_how_much),
        cmocka_unit_test(each_outcome_is_told),
        cmocka_unit_test(short_and_past_are_told_apart),
        cmocka_unit_test(row_of_a_map_is_a_line),
        cmocka_unit_test(picture_is_true_at_the_middle_of_its_cells),
        cmocka_unit_test(stripes_narrower_than_the_grid_are_found),
        cmocka_unit_test(threads_do_not_matter),
        cmocka_unit_test(stopped_map_leaves_nothing),
        cmocka_unit_test(what_the_check_refuses_can_not_be_run),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
