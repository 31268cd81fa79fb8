/* causes_simulated.c - a cause is the scenario with its changes, run as any other scenario. */
#include "causes_files.h"

static slew_catalogue catalogue;

static void read_causes(const char *text)
{
    kept all = {0};
    catalogue.count = 0;
    if (slew_catalogue_read_memory(text, strlen(text), "causes",
                                   (slew_error_sink){keep_error, &all}, &catalogue) != SLEW_OK)
        fail_msg("%s: %s", all.error[0].key, all.error[0].message);
}

static slew_causes simulate(const slew_scenario *s, const slew_seen *seen, int64_t samples)
{
    slew_sampling how = slew_sampling_default();
    slew_causes out;
    slew_error error = {0};
    how.samples = samples;
    how.shifts = 1;
    how.threads = 1;
    if (slew_causes_run(s, &catalogue, seen, &how, &out, &error) != SLEW_OK)
        fail_msg("%s: %s", error.key, error.message);
    return out;
}

static void vary(slew_spread *spread, const char *path, double low, double high)
{
    spread->item[spread->count++] = (slew_variation){
        .key = slew_key_find(path), .distribution = SLEW_UNIFORM, .low = low, .high = high};
}

static double figure(const slew_causes *c, int cause, int observable)
{
    return slew_causes_figures(c, cause, 0)[observable];
}

/* what is seen of a run, against the run itself */
static void is_seen_of(const slew_causes *c, int cause, const slew_scenario *s)
{
    story run;
    run_parts(s, SLEW_STOW_AND_DEPLOY, &run);
    const slew_result *r = &run.result;
    static const double says[] = {[SLEW_STOWED] = 0, [SLEW_FAULTED] = 1, [SLEW_NOT_RUN] = 2};
    near("says", figure(c, cause, SLEW_SEEN_STOW_SAYS), says[r->stow.says], 0.0);
    near("fault", figure(c, cause, SLEW_SEEN_STOW_FAULT), r->stow.fault, 0.0);
    near("axis", figure(c, cause, SLEW_SEEN_STOW_AXIS), r->stow.axis + 1, 0.0);
    near("seconds", figure(c, cause, SLEW_SEEN_STOW_SECONDS), r->stow.duration, 0.0);
    for (int j = 0; j < SLEW_AXES; j++)
        near("angle", figure(c, cause, SLEW_SEEN_STOW_ANGLE + j), r->stow.angle[j], 0.0);
    if (r->deploy.says == SLEW_DEPLOYED)
        near("deployed", figure(c, cause, SLEW_SEEN_DEPLOY_ANGLE + SLEW_ELEVATION),
             r->deploy.angle[SLEW_ELEVATION], 0.0);
    near("voltage", figure(c, cause, SLEW_SEEN_LOWEST_VOLTAGE), r->lowest_loaded_voltage, 0.0);
    near("current", figure(c, cause, SLEW_SEEN_PEAK_CURRENT), r->peak_current, 0.0);
    for (int j = 0; j < SLEW_AXES; j++)
        near("stored", figure(c, cause, SLEW_SEEN_SETTING_STORED + j), r->stored[j], 0.0);
}

/* ---- what changes ---- */

static void healthy_machine_is_the_scenario(void **state)
{
    const slew_scenario s = daily_scenario();
    (void)state;
    read_causes("causes: {healthy: {means: x}}");
    slew_causes c = simulate(&s, NULL, 1);
    assert_true(slew_causes_counts(&c, 0));
    is_seen_of(&c, 0, &s);
    is_seen_of(&c, 1, &s); /* one beyond the causes: the scenario itself */
    slew_causes_free(&c);
}

static void what_is_wrong_today_was_taught_without(void **state)
{
    slew_scenario s = daily_scenario(), faulty = s;
    (void)state;
    read_causes("causes: {a: {means: x, today: {supply.feed.joint_resistance: times 20}}}");
    slew_causes c = simulate(&s, NULL, 1);
    set_key(&faulty, SLEW_LAYER_TODAY, "supply.feed.joint_resistance", 0.03);
    is_seen_of(&c, 0, &faulty);
    slew_causes_free(&c);
}

/* one bad connection adds the same whatever the others have: fitted, counted, or none at all */
static void added_resistance_is_that_of_one_connection(void **state)
{
    static const double joints[] = {8, 2, 0};
    (void)state;
    read_causes("causes: {a: {means: x, today: {supply.feed.joints: at least 1, "
                "supply.feed.joint_resistance: plus 80 mohm over supply.feed.joints}}}");
    for (int i = 0; i < 3; i++) {
        slew_scenario s = daily_scenario();
        set_key(&s, SLEW_LAYER_FILE, "supply.feed.joints", joints[i]);
        set_key(&s, SLEW_LAYER_FILE, "supply.feed.joint_resistance", 0.4e-3);
        slew_causes c = simulate(&s, NULL, 1);
        double own = joints[i] == 0 ? 0.4e-3 : 0; /* one is there now, as good as the file says */
        near("feed", figure(&c, 0, SLEW_SEEN_FEED_RESISTANCE),
             figure(&c, 1, SLEW_SEEN_FEED_RESISTANCE) + own + 0.08, 1e-12);
        slew_causes_free(&c);
    }
}

static void what_was_always_wrong_was_taught_with(void **state)
{
    slew_scenario s = daily_scenario(), faulty;
    (void)state;
    set_key(&s, SLEW_LAYER_TEACH, "supply.feed.length", 8.0);
    faulty = s;
    read_causes("causes: {a: {means: x, always: {supply.feed.length: times 2}}}");
    slew_causes c = simulate(&s, NULL, 1);
    set_key(&faulty, SLEW_LAYER_FILE, "supply.feed.length", 18.0);
    set_key(&faulty, SLEW_LAYER_TEACH, "supply.feed.length", 16.0);
    is_seen_of(&c, 0, &faulty);
    slew_causes_free(&c);
}

static void taught_otherwise_changes_the_stored_times_alone(void **state)
{
    slew_scenario s = daily_scenario(), faulty = s;
    (void)state;
    read_causes("causes: {a: {means: x, teach: {supply.main.voltage: minus 2 V}}}");
    slew_causes c = simulate(&s, NULL, 1);
    set_key(&faulty, SLEW_LAYER_TEACH, "supply.main.voltage", s.setup.supply.main.voltage - 2.0);
    is_seen_of(&c, 0, &faulty);
    assert_true(figure(&c, 0, SLEW_SEEN_SETTING_STORED + SLEW_ELEVATION) <
                figure(&c, 1, SLEW_SEEN_SETTING_STORED + SLEW_ELEVATION) - 0.1);
    slew_causes_free(&c);
}

/* a fault of today is still there when it deploys, whatever deploy_day says of the key */
static void fault_of_today_lasts_into_the_deploy(void **state)
{
    slew_scenario s = daily_scenario(), faulty;
    (void)state;
    set_key(&s, SLEW_LAYER_DEPLOY_DAY, "supply.main.voltage", 12.0);
    faulty = s;
    read_causes("causes: {a: {means: x, today: {supply.main.voltage: times 0.9}}}");
    slew_causes c = simulate(&s, NULL, 1);
    set_key(&faulty, SLEW_LAYER_TODAY, "supply.main.voltage", s.setup.supply.main.voltage * 0.9);
    set_key(&faulty, SLEW_LAYER_DEPLOY_DAY, "supply.main.voltage", 12.0 * 0.9);
    is_seen_of(&c, 0, &faulty);
    slew_causes_free(&c);
}

static void point_is_taught_beside_the_stop(void **state)
{
    slew_scenario s = daily_scenario(), faulty = s;
    (void)state;
    read_causes("causes: {a: {means: x, always: {stow.point.elevation: elevation.stops.low plus "
                "0.5 deg}}}");
    slew_causes c = simulate(&s, NULL, 1);
    set_key(&faulty, SLEW_LAYER_FILE, "stow.point.elevation", degrees(-19.5));
    is_seen_of(&c, 0, &faulty);
    slew_causes_free(&c);
}

/* a rule stands for a key that is not given: 9 V for a 12 V system */
static void default_by_a_rule_can_be_changed(void **state)
{
    slew_scenario s = daily_scenario();
    (void)state;
    s.setup.controller.brownout_voltage = SLEW_NOT_GIVEN;
    read_causes("causes: {a: {means: x, today: {controller.brownout.voltage: times 1.2}}}");
    slew_causes c = simulate(&s, NULL, 1);
    near("brownout", figure(&c, 0, SLEW_SEEN_SETTING_BROWNOUT), 10.8, 1e-12);
    slew_causes_free(&c);
}

/* ---- over the spread ---- */

/* a draw of the day lies on top of today, and a cause on top of the draw */
static void amounts_are_of_what_was_drawn(void **state)
{
    slew_scenario s = daily_scenario();
    (void)state;
    vary(&s.day, "supply.main.voltage", 12.0, 14.0);
    s.deploy.same_day = true;
    read_causes("causes: {a: {means: x, today: {supply.main.voltage: minus 1 V}}}");
    slew_causes c = simulate(&s, NULL, 64);
    double low = INFINITY, high = -INFINITY;
    for (int64_t i = 0; i < c.samples; i++) {
        double own = slew_causes_figures(&c, 0, i)[SLEW_SEEN_BATTERY_IDLE];
        double healthy = slew_causes_figures(&c, 1, i)[SLEW_SEEN_BATTERY_IDLE];
        near("lower", own, healthy - 1.0, 1e-9);
        low = fmin(low, own), high = fmax(high, own);
    }
    assert_true(high - low > 1.8);
    slew_causes_free(&c);
}

static void ranges_and_alternatives_are_drawn(void **state)
{
    slew_scenario s = daily_scenario();
    int64_t left = 0;
    double low = INFINITY, high = -INFINITY;
    (void)state;
    read_causes("causes: {a: {means: x, today: {controller.stall.current: 10 A to 12 A, "
                "controller.move_limit: plus 20 s or -20 s}}}");
    slew_causes c = simulate(&s, NULL, 400);
    for (int64_t i = 0; i < c.samples; i++) {
        const double *f = slew_causes_figures(&c, 0, i);
        low = fmin(low, f[SLEW_SEEN_SETTING_STALL]), high = fmax(high, f[SLEW_SEEN_SETTING_STALL]);
        bool is_short = f[SLEW_SEEN_SETTING_MOVE_LIMIT] < 60;
        near("limit", f[SLEW_SEEN_SETTING_MOVE_LIMIT], is_short ? 40.0 : 80.0, 1e-12);
        left += is_short;
    }
    assert_true(low >= 10.0 && low < 10.05 && high <= 12.0 && high > 11.95);
    near("half of them", (double)left / 400, 0.5, 4 * 0.5 / sqrt(400.0)); /* 4 sd */
    slew_causes_free(&c);
}

static void threads_do_not_matter(void **state)
{
    slew_scenario s = daily_scenario();
    slew_sampling how = slew_sampling_default();
    slew_causes one, three;
    (void)state;
    vary(&s.day, "supply.main.voltage", 12.0, 14.0);
    vary(&s.truck, "elevation.gear.efficiency", 0.33, 0.39);
    assert_int_equal(slew_catalogue_builtin(&catalogue), SLEW_OK);
    how.samples = 200;
    how.threads = 1;
    assert_int_equal(slew_causes_run(&s, &catalogue, NULL, &how, &one, NULL), SLEW_OK);
    how.threads = 3;
    assert_int_equal(slew_causes_run(&s, &catalogue, NULL, &how, &three, NULL), SLEW_OK);
    size_t count = (size_t)one.samples * (size_t)(one.count + 1) * SLEW_OBSERVABLES;
    for (size_t i = 0; i < count; i++)
        assert_memory_equal(&one.figure[i], &three.figure[i], sizeof(double));
    slew_causes_free(&one);
    slew_causes_free(&three);
}

/* ---- causes that can't be, or do nothing ---- */

typedef struct witnessed {
    int count;
    slew_scenario scenario[8]; /* [cause * 4 + sample] */
} witnessed;

static void bear_witness(void *context, int cause, int64_t sample, const slew_scenario *scenario)
{
    witnessed *w = context;
    w->count++;
    w->scenario[cause * 4 + sample] = *scenario;
}

/* run as it is, the scenario gives the figures; a cause that can't be has no witness */
static void witness_is_told_what_is_run(void **state)
{
    static witnessed w;
    const slew_causes_witness witness = {bear_witness, &w};
    slew_scenario s = daily_scenario();
    slew_sampling how = slew_sampling_default();
    slew_causes c;
    (void)state;
    vary(&s.day, "supply.main.voltage", 12.0, 14.0);
    vary(&s.truck, "elevation.gear.efficiency", 0.33, 0.39);
    read_causes("causes: {a: {means: x, today: {supply.feed.joint_resistance: times 20}},\n"
                "         b: {means: x, today: {supply.feed.length: 1e9 m}}}");
    how.samples = 4;
    how.shifts = 1;
    assert_int_equal(slew_causes_run_witnessed(&s, &catalogue, NULL, &how, &witness, &c, NULL),
                     SLEW_OK);
    assert_int_equal(w.count, 4);
    for (int i = 0; i < 4; i++) {
        story run;
        run_parts(&w.scenario[i], SLEW_STOW_AND_DEPLOY, &run);
        const double *figures = slew_causes_figures(&c, 0, i);
        near("angle", figures[SLEW_SEEN_STOW_ANGLE + SLEW_ELEVATION],
             run.result.stow.angle[SLEW_ELEVATION], 0.0);
        near("voltage", figures[SLEW_SEEN_LOWEST_VOLTAGE], run.result.lowest_loaded_voltage, 0.0);
    }
    slew_causes_free(&c);
}

static void idle_causes_are_told(void **state)
{
    slew_scenario s = daily_scenario();
    (void)state;
    read_causes("causes:\n"
                "  flat: {means: x, today: {supply.auxiliary.voltage: times 0.5}}\n"
                "  healthy: {means: x}\n");
    slew_causes c = simulate(&s, NULL, 2);
    assert_true(c.state[0].idle);
    assert_false(slew_causes_counts(&c, 0));
    assert_false(c.state[1].idle); /* a healthy machine is no idle fault */
    slew_causes_free(&c);
}

static void causes_that_can_not_be_say_why(void **state)
{
    slew_scenario s = daily_scenario();
    (void)state;
    s.deploy.given = false;
    s.deploy.seconds[SLEW_ELEVATION] = SLEW_NOT_GIVEN;
    read_causes("causes:\n"
                "  no deploy: {means: x, always: {deploy.seconds.elevation: 3 s}}\n"
                "  no machine: {means: x, today: {elevation.gear.efficiency: times 9}}\n"
                "  no teaching: {means: x, always: {elevation.home.present: no}}\n");
    slew_causes c = simulate(&s, NULL, 2);
    for (int i = 0; i < 3; i++) {
        assert_int_equal(c.state[i].possible, 0);
        assert_false(slew_causes_counts(&c, i));
    }
    assert_string_equal(c.state[0].reason.key, "deploy.seconds.elevation");
    assert_string_equal(c.state[1].reason.key, "elevation.gear.efficiency");
    assert_non_null(strstr(c.state[2].reason.message, "while teaching"));
    slew_causes_free(&c);
}

/* ---- what is known of the day ---- */

static void known_keys_are_drawn_no_more(void **state)
{
    slew_scenario s = daily_scenario();
    slew_seen seen;
    (void)state;
    vary(&s.day, "supply.main.voltage", 12.0, 14.0);
    vary(&s.day, "rotation.start", degrees(-80.0), degrees(80.0));
    slew_seen_init(&seen);
    seen.known.count = 1;
    seen.known.item[0] = (slew_override){slew_key_find("supply.main.voltage"), 12.5};
    read_causes("causes:\n"
                "  healthy: {means: x}\n"
                "  weak: {means: x, today: {supply.main.voltage: 11 V}}\n"
                "  was weak: {means: x, teach: {supply.main.voltage: 11 V}}\n");
    slew_causes c = simulate(&s, &seen, 16);
    for (int64_t i = 0; i < c.samples; i++)
        near("voltage", slew_causes_figures(&c, 0, i)[SLEW_SEEN_BATTERY_IDLE], 12.5 - 0.010 * 6.0,
             1e-12);
    assert_int_equal(c.state[1].possible, 0); /* it is known to be 12.5 V */
    assert_string_equal(c.state[1].reason.key, "supply.main.voltage");
    assert_int_equal(c.state[2].possible, 16);
    slew_causes_free(&c);
}

static void impossible_knowledge_is_refused(void **state)
{
    slew_scenario s = daily_scenario();
    slew_sampling how = slew_sampling_default();
    slew_seen seen;
    slew_causes c;
    slew_error error = {0};
    (void)state;
    read_causes("causes: {healthy: {means: x}}");
    slew_seen_init(&seen);
    seen.known.count = 1;
    seen.known.item[0] = (slew_override){slew_key_find("rotation.start"), degrees(200.0)};
    assert_int_equal(slew_causes_run(&s, &catalogue, &seen, &how, &c, &error), SLEW_ERROR_INPUT);
    assert_string_equal(error.key, "rotation.start");
}

/* ---- what the checks read ---- */

static void supply_reads_as_by_hand(void **state)
{
    slew_scenario s = daily_scenario();
    (void)state;
    read_causes("causes: {healthy: {means: x}}");
    slew_causes c = simulate(&s, NULL, 1);
    /* 6 A of other equipment through 10 mohm of battery, and a feed of 8 AWG, 9 m, 8 joints */
    double area = slew_awg_area(8), feed = 2 * 9 * slew_conductor_resistance(area, 0.02) + 0.012;
    near("battery", figure(&c, 0, SLEW_SEEN_BATTERY_IDLE), 13.4 - 0.06, 1e-12);
    near("controller", figure(&c, 0, SLEW_SEEN_CONTROLLER_IDLE), 13.4 - 6 * (0.010 + feed), 1e-9);
    near("feed", figure(&c, 0, SLEW_SEEN_FEED_RESISTANCE), feed, 1e-9);
    double battery = figure(&c, 0, SLEW_SEEN_BATTERY_DRIVEN);
    double controller = figure(&c, 0, SLEW_SEEN_CONTROLLER_DRIVEN);
    near("the same current through both", (13.4 - battery) / 0.010, (battery - controller) / feed,
         1e-6);
    near("of the motor and the rest", (13.4 - battery) / 0.010 - 6.0,
         figure(&c, 0, SLEW_SEEN_CURRENT + SLEW_ELEVATION), 1e-6);
    slew_causes_free(&c);
}

static void sensors_and_drives_read_what_is_wrong(void **state)
{
    slew_scenario s = daily_scenario();
    enum { HEALTHY, DEAD, STUCK, REVERSED, SEIZED, OPEN, LOST };
    (void)state;
    read_causes("causes:\n"
                "  healthy: {means: x}\n"
                "  dead: {means: x, today: {rotation.home.present: no}}\n"
                "  stuck: {means: x, today: {rotation.home.stuck: yes}}\n"
                "  reversed: {means: x, today: {rotation.reversed: yes}}\n"
                "  seized: {means: x, today: {rotation.load.friction: 5000 N.m}}\n"
                "  coupling: {means: x, today: {rotation.gear.ratio: times 1000000}}\n"
                "  lost: {means: x, today: {rotation.home.present: no},\n"
                "         reads: {check.rotation.hand_magnet: closed}}\n");
    slew_causes c = simulate(&s, NULL, 1);
    static const struct {
        int cause, observable;
        double word;
    } reads[] = {
        {HEALTHY, SLEW_SEEN_SENSOR_AT_HOME, 1},
        {HEALTHY, SLEW_SEEN_SENSOR_AWAY, 0},
        {HEALTHY, SLEW_SEEN_HAND_MAGNET, 1},
        {HEALTHY, SLEW_SEEN_WAY, 2},
        {DEAD, SLEW_SEEN_SENSOR_AT_HOME, 0},
        {DEAD, SLEW_SEEN_HAND_MAGNET, 0},
        {STUCK, SLEW_SEEN_SENSOR_AWAY, 1},
        {REVERSED, SLEW_SEEN_WAY, 1},
        {SEIZED, SLEW_SEEN_WAY, 0},
        {SEIZED, SLEW_SEEN_MOTOR_TURNS, 0},
        {OPEN, SLEW_SEEN_WAY, 0},
        {OPEN, SLEW_SEEN_MOTOR_TURNS, 1},
        {LOST, SLEW_SEEN_SENSOR_AT_HOME, 0},
        {LOST, SLEW_SEEN_HAND_MAGNET, 1},
    };
    for (size_t i = 0; i < sizeof reads / sizeof *reads; i++)
        near(slew_observable_at(reads[i].observable)->key.path,
             figure(&c, reads[i].cause, reads[i].observable), reads[i].word, 0.0);
    near("window", figure(&c, HEALTHY, SLEW_SEEN_WINDOW), degrees(7.0), 1e-12);
    assert_true(isnan(figure(&c, DEAD, SLEW_SEEN_WINDOW)));
    near("stall current", figure(&c, SEIZED, SLEW_SEEN_CURRENT),
         figure(&c, SEIZED, SLEW_SEEN_PEAK_CURRENT), 1.0);
    slew_causes_free(&c);
}

/* a window that a magnet gives is read and changed as any other; one out of reach leaves none, and
 * the switch itself still works */
static void window_of_a_magnet_is_one_too(void **state)
{
    slew_scenario s = daily_scenario();
    (void)state;
    s.setup.axis[SLEW_ROTATION].home.magnet =
        (slew_magnet){true, 1.2, 0.008, 0.005, 0.120, 0.012, 0.010, 0.007};
    slew_home own = s.setup.axis[SLEW_ROTATION].home;
    assert_int_equal(slew_home_resolve(&own), SLEW_SIGHT_CLOSES);
    read_causes("causes:\n"
                "  healthy: {means: x}\n"
                "  narrow: {means: x, today: {rotation.home.operate: times 0.5,\n"
                "                             rotation.home.release: times 0.6}}\n"
                "  bent: {means: x, today: {rotation.home.magnet.gap: 30 mm}}\n");
    slew_causes c = simulate(&s, NULL, 1);
    near("window", figure(&c, 0, SLEW_SEEN_WINDOW), own.operate + own.release, 1e-12);
    near("narrow", figure(&c, 1, SLEW_SEEN_WINDOW), 0.5 * own.operate + 0.6 * own.release, 1e-12);
    assert_true(isnan(figure(&c, 2, SLEW_SEEN_WINDOW)));
    near("open", figure(&c, 2, SLEW_SEEN_SENSOR_AT_HOME), 0.0, 0.0);
    near("closed by hand", figure(&c, 2, SLEW_SEEN_HAND_MAGNET), 1.0, 0.0);
    slew_causes_free(&c);
}

/* the dead sensor of the daily machine: to the right stop, then to the left one */
static void onlooker_sees_moves_and_stops(void **state)
{
    slew_scenario s = daily_scenario();
    (void)state;
    read_causes("causes:\n"
                "  dead: {means: x, today: {rotation.home.present: no}}\n"
                "  seized: {means: x, today: {elevation.load.friction: 5000 N.m}}\n");
    slew_causes c = simulate(&s, NULL, 1);
    set_key(&s, SLEW_LAYER_TODAY, "rotation.home.present", 0);
    story run;
    run_parts(&s, SLEW_STOW_AND_DEPLOY, &run);
    const slew_event *starts = nth(&run, SLEW_EVENT_MOVING, SLEW_ROTATION, 0);
    const slew_event *meets = nth(&run, SLEW_EVENT_STOP_CONTACT, SLEW_ROTATION, 0);
    near("right", figure(&c, 0, SLEW_SEEN_MOVED + SLEW_ROTATION), 2.0, 0.0);
    near("down", figure(&c, 0, SLEW_SEEN_MOVED + SLEW_ELEVATION), 1.0, 0.0);
    near("for", figure(&c, 0, SLEW_SEEN_MOVED_SECONDS + SLEW_ROTATION), meets->time - starts->time,
         1e-12);
    near("both", figure(&c, 0, SLEW_SEEN_STOP_MET + SLEW_ROTATION), 3.0, 0.0);
    near("none", figure(&c, 0, SLEW_SEEN_STOP_MET + SLEW_ELEVATION), 0.0, 0.0);
    near("does not move", figure(&c, 1, SLEW_SEEN_MOVED + SLEW_ELEVATION), 0.0, 0.0);
    assert_true(isnan(figure(&c, 1, SLEW_SEEN_MOVED_SECONDS + SLEW_ELEVATION)));
    slew_causes_free(&c);
}

/* ---- observing ---- */

static void observation_is_the_same_for_a_seed(void **state)
{
    slew_scenario s = daily_scenario();
    slew_seen one, same, other;
    (void)state;
    read_causes("causes: {healthy: {means: x}}");
    slew_causes c = simulate(&s, NULL, 4);
    slew_causes_observe(&c, 0, 2, 7, &one);
    slew_causes_observe(&c, 0, 2, 7, &same);
    slew_causes_observe(&c, 0, 2, 8, &other);
    for (int i = 0; i < SLEW_OBSERVABLES; i++) {
        double figure_ = slew_causes_figures(&c, 0, 2)[i];
        bool number = slew_observable_words(i) == 0 && !isnan(figure_);
        assert_memory_equal(&one.value[i], &same.value[i], sizeof(double));
        assert_true(number ? one.value[i] != other.value[i]
                           : isnan(figure_) || one.value[i] == figure_);
        assert_true(!number || fabs(one.value[i] - figure_) < 6 * one.sd[i]);
    }
    slew_causes_free(&c);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(healthy_machine_is_the_scenario),
        cmocka_unit_test(what_is_wrong_today_was_taught_without),
        cmocka_unit_test(added_resistance_is_that_of_one_connection),
        cmocka_unit_test(what_was_always_wrong_was_taught_with),
        cmocka_unit_test(taught_otherwise_changes_the_stored_times_alone),
        cmocka_unit_test(fault_of_today_lasts_into_the_deploy),
        cmocka_unit_test(point_is_taught_beside_the_stop),
        cmocka_unit_test(default_by_a_rule_can_be_changed),
        cmocka_unit_test(amounts_are_of_what_was_drawn),
        cmocka_unit_test(ranges_and_alternatives_are_drawn),
        cmocka_unit_test(threads_do_not_matter),
        cmocka_unit_test(witness_is_told_what_is_run),
        cmocka_unit_test(idle_causes_are_told),
        cmocka_unit_test(causes_that_can_not_be_say_why),
        cmocka_unit_test(known_keys_are_drawn_no_more),
        cmocka_unit_test(impossible_knowledge_is_refused),
        cmocka_unit_test(supply_reads_as_by_hand),
        cmocka_unit_test(sensors_and_drives_read_what_is_wrong),
        cmocka_unit_test(window_of_a_magnet_is_one_too),
        cmocka_unit_test(onlooker_sees_moves_and_stops),
        cmocka_unit_test(observation_is_the_same_for_a_seed),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
