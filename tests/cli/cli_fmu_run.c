/*
 * cli_fmu_run.c - an FMU goes through the whole order of calls, and is what the library is: the
 * same angles, currents, voltage and events to 1e-12.
 *
 * Rules are those of FMI 3.0 (Functional Mock-up Interface Specification, version 3.0, 2022), the
 * sections from memory. All tests share two FMUs that take some time to make, hence its length.
 */
#include "fmu.h"

static fmu machine, plant;

static int make_both(void **state)
{
    char example[1024];
    if (make_both_fmus(state, example, sizeof example) != 0)
        return -1;
    load_fmu("plant.fmu", "slewtime_plant", &plant);
    assert_int_equal(rename("scenario.txt", "plant-scenario.txt"), 0);
    load_fmu("machine.fmu", "slewtime_machine", &machine);
    FILE *link = fopen("example", "w");
    assert_true(link != NULL && fputs(example, link) >= 0 && fclose(link) == 0);
    return 0;
}

static int unload_both(void **state)
{
    unload_fmu(&machine);
    unload_fmu(&plant);
    return leave_directory(state);
}

/* ---- the library beside it ---- */

static void read_example(slew_scenario *scenario)
{
    char example[1024] = "";
    FILE *link = fopen("example", "r");
    assert_non_null(link);
    assert_non_null(fgets(example, sizeof example, link));
    fclose(link);
    assert_int_equal(slew_scenario_read_file(example, NULL, scenario), SLEW_OK);
}

static void start_library(slew_scenario *scenario, slew_machine *m)
{
    static slew_prepared prepared;
    assert_int_equal(slew_prepare(scenario, SLEW_STOW_ONLY, &prepared, NULL), SLEW_OK);
    slew_machine_start(scenario, &prepared, SLEW_OCCASION_STOW, m);
}

static void put(slew_scenario *s, const char *path, double value)
{
    assert_int_equal(slew_scenario_set_number(s, SLEW_LAYER_FILE, slew_key_find(path), value),
                     SLEW_OK);
}

/* how far the library has come */
typedef struct beside {
    slew_machine m;
    int64_t events;
    double last; /* event [s] */
} beside;

static void follow(beside *b, double time)
{
    slew_event event;
    while (slew_machine_advance(&b->m, time, &event)) {
        b->events++;
        b->last = event.time;
    }
}

static void are_the_same(fmu *f, fmi3Instance instance, const beside *b)
{
    const slew_sample s = slew_machine_look(&b->m);
    const slew_meters meters = slew_machine_meters(&b->m);
    near("rotation", get_double(f, instance, "rotation.angle"), s.angle[0], 1e-12);
    near("elevation", get_double(f, instance, "elevation.angle"), s.angle[1], 1e-12);
    near("turning", get_double(f, instance, "rotation.speed"), s.speed[0], 1e-12);
    near("raising", get_double(f, instance, "elevation.speed"), s.speed[1], 1e-12);
    near("current", get_double(f, instance, "rotation.current"), s.current[0], 1e-9);
    near("current", get_double(f, instance, "elevation.current"), s.current[1], 1e-9);
    near("voltage", get_double(f, instance, "voltage"), s.voltage, 1e-9);
    near("charge", get_double(f, instance, "charge"), meters.charge, 1e-9);
    assert_int_equal(get_bool(f, instance, "elevation.sensor"), s.closed[1]);
    assert_int_equal(get_int(f, instance, "elevation.drive"), s.drive[1]);
    assert_int_equal(get_int64_t(f, instance, "report.task"), b->m.task);
    assert_int_equal(get_int64_t(f, instance, "report.verdict"), b->m.says);
    assert_int_equal(get_int64_t(f, instance, "report.fault"), b->m.fault);
    assert_int_equal(get_bool(f, instance, "report.ready"), slew_machine_is_ready(&b->m));
    assert_int_equal(get_int(f, instance, "event.count"), b->events);
}

/* an event, or that it is ready: the end of a pause is none of the library's events */
static double last_change(const beside *b)
{
    return slew_machine_is_ready(&b->m) ? fmax(b->last, slew_machine_pause_end(&b->m)) : b->last;
}

/* goes on in steps; every event is met at its own time. Returns how many steps returned early. */
static int go_on(fmu *f, fmi3Instance instance, beside *b, double *now, double end)
{
    int stops = 0;
    while (*now < end) {
        stepped s = step(f, instance, *now, fmin(0.1, end - *now));
        *now = s.time;
        follow(b, *now);
        are_the_same(f, instance, b);
        if (s.early) {
            assert_true(s.event);
            near("event", *now, last_change(b), 1e-12);
            stops++;
        }
        if (s.event) {
            is_ok(f, f->EnterEventMode(instance));
            update(f, instance);
            is_ok(f, f->EnterStepMode(instance));
        }
    }
    return stops;
}

/* ---- the machine ---- */

static fmi3Instance begin_with_events(fmu *f)
{
    fmi3Instance instance = begin_fmu(f, true, true);
    initialize(f, instance);
    return instance;
}

/* in Event Mode: a button is pressed, and let go */
static void press(fmu *f, fmi3Instance instance, const char *button)
{
    is_ok(f, set_bool(f, instance, button, true));
    update(f, instance);
    is_ok(f, set_bool(f, instance, button, false));
    update(f, instance);
    is_ok(f, f->EnterStepMode(instance));
}

static void it_stows_and_deploys_as_the_library(void **state)
{
    (void)state;
    static slew_scenario scenario;
    static beside b;
    fmu *f = &machine;
    double now = 0;
    read_example(&scenario);
    start_library(&scenario, &b.m);
    b.events = 0;
    fmi3Instance instance = begin_with_events(f);
    near("taught", get_double(f, instance, "elevation.stored_time"), b.m.program.stored[1], 0);
    press(f, instance, "command.stow");
    assert_true(slew_machine_stow(&b.m));
    follow(&b, 0);
    assert_true(go_on(f, instance, &b, &now, 40) > 10);
    assert_int_equal(b.m.says, SLEW_STOWED);
    is_ok(f, f->EnterEventMode(instance));
    press(f, instance, "command.deploy");
    assert_true(slew_machine_deploy(&b.m));
    follow(&b, now);
    assert_true(go_on(f, instance, &b, &now, 60) > 2);
    assert_int_equal(b.m.says, SLEW_DEPLOYED);
    is_ok(f, f->Terminate(instance));
    f->FreeInstance(instance);
}

/* voltage, water, load and jog change where an event is; the commands are cancelled */
static void inputs_change_at_events(void **state)
{
    (void)state;
    static slew_scenario scenario;
    static beside b;
    fmu *f = &machine;
    double now = 0;
    read_example(&scenario);
    start_library(&scenario, &b.m);
    b.events = 0;
    fmi3Instance instance = begin_with_events(f);
    press(f, instance, "command.stow");
    assert_true(slew_machine_stow(&b.m));
    follow(&b, 0);
    go_on(f, instance, &b, &now, 3);

    is_ok(f, f->EnterEventMode(instance));
    is_ok(f, set_double(f, instance, "supply.main.voltage", 11.7));
    is_ok(f, set_bool(f, instance, "nozzle.flowing", true));
    is_ok(f, set_double(f, instance, "elevation.load.friction", 11));
    is_ok(f, set_double(f, instance, "elevation.outside_torque", 15));
    slew_setup setup = b.m.setup;
    setup.supply.main.voltage = 11.7;
    setup.nozzle.flowing = true;
    setup.axis[SLEW_ELEVATION].load.friction = 11;
    assert_int_equal(slew_machine_change(&b.m, &setup, NULL), SLEW_OK);
    assert_int_equal(slew_machine_load(&b.m, SLEW_ELEVATION, 15), SLEW_OK);
    follow(&b, now);
    are_the_same(f, instance, &b); /* what is set shows before the update, and changes nothing */
    update(f, instance);
    are_the_same(f, instance, &b);
    is_ok(f, f->EnterStepMode(instance));
    go_on(f, instance, &b, &now, 6);

    is_ok(f, f->EnterEventMode(instance));
    press(f, instance, "command.cancel");
    assert_true(slew_machine_cancel(&b.m));
    follow(&b, now);
    assert_int_equal(get_int64_t(f, instance, "report.fault"), SLEW_FAULT_CANCELLED);
    go_on(f, instance, &b, &now, 8);

    is_ok(f, f->EnterEventMode(instance));
    is_ok(f, set_int(f, instance, "elevation.jog", 1));
    update(f, instance);
    is_ok(f, f->EnterStepMode(instance));
    assert_true(slew_machine_jog(&b.m, SLEW_ELEVATION, 1));
    follow(&b, now);
    go_on(f, instance, &b, &now, 9.25);
    assert_true(get_double(f, instance, "elevation.speed") > 0);
    f->FreeInstance(instance);
}

static void parameters_are_set_before_the_start(void **state)
{
    (void)state;
    static slew_scenario scenario;
    static beside b;
    fmu *f = &machine;
    double now = 0;
    read_example(&scenario);
    put(&scenario, "elevation.load.mass", 12.5);
    put(&scenario, "rotation.start", -0.6);
    put(&scenario, "deploy.seconds.elevation", 5.5);
    start_library(&scenario, &b.m);
    b.events = 0;
    fmi3Instance instance = begin_fmu(f, true, true);
    is_ok(f, set_double(f, instance, "elevation.load.mass", 12.5));
    is_ok(f, f->EnterInitializationMode(instance, false, 0, 0, true, 100));
    is_ok(f, set_double(f, instance, "rotation.start", -0.6));
    is_ok(f, set_double(f, instance, "deploy.seconds.elevation", 5.5));
    near("start", get_double(f, instance, "rotation.angle"), -0.6, 0);
    is_ok(f, f->ExitInitializationMode(instance));
    near("taught", get_double(f, instance, "elevation.stored_time"), b.m.program.stored[1], 0);
    press(f, instance, "command.deploy");
    assert_true(slew_machine_deploy(&b.m));
    follow(&b, 0);
    go_on(f, instance, &b, &now, 10);
    assert_int_equal(b.m.says, SLEW_DEPLOYED);
    f->FreeInstance(instance);
}

/* another voltage of today is none of teaching: what was taught is kept (teach.) */
static void todays_voltage_teaches_nothing(void **state)
{
    (void)state;
    fmu *f = &machine;
    double stored[3];
    for (int i = 0; i < 3; i++) {
        fmi3Instance instance = begin_fmu(f, true, true);
        if (i > 0)
            is_ok(f, set_double(f, instance,
                                i == 1 ? "supply.main.voltage" : "teach.supply.main.voltage", 12));
        initialize(f, instance);
        stored[i] = get_double(f, instance, "elevation.stored_time");
        f->FreeInstance(instance);
    }
    near("today", stored[1], stored[0], 0);
    assert_true(fabs(stored[2]) > fabs(stored[0]) + 0.05);
}

/* 4.2.1: without Event Mode a step goes through, and discrete inputs are set between steps */
static void without_event_mode_it_is_the_same(void **state)
{
    (void)state;
    static slew_scenario scenario;
    static beside b;
    fmu *f = &machine;
    double now = 0;
    read_example(&scenario);
    start_library(&scenario, &b.m);
    b.events = 0;
    fmi3Instance instance = begin_fmu(f, false, false);
    initialize(f, instance);
    is_ok(f, set_bool(f, instance, "command.stow", true));
    assert_true(slew_machine_stow(&b.m));
    for (int i = 1; i <= 400; i++) {
        stepped s = step(f, instance, now, 0.1);
        assert_false(s.event || s.early);
        near("time", s.time, now + 0.1, 0);
        now = s.time;
        follow(&b, now);
        are_the_same(f, instance, &b);
    }
    assert_int_equal(b.m.says, SLEW_STOWED);
    f->FreeInstance(instance);
}

/* ---- the plant ---- */

static void use_plant_scenario(bool yes)
{
    assert_int_equal(rename("scenario.txt", yes ? "machine-scenario.txt" : "plant-scenario.txt"),
                     0);
    assert_int_equal(rename(yes ? "plant-scenario.txt" : "machine-scenario.txt", "scenario.txt"),
                     0);
}

static void the_plant_is_driven_as_the_library(void **state)
{
    (void)state;
    static slew_scenario scenario;
    static slew_setup setup;
    static slew_plant_model model, to;
    static slew_plant p;
    fmu *f = &plant;
    double now = 0;
    int events = 0;
    read_example(&scenario);
    slew_scenario_resolve(&scenario, SLEW_OCCASION_STOW, &setup);
    assert_int_equal(slew_plant_model_build(&setup, &model, NULL), SLEW_OK);
    const double start[SLEW_AXES] = {setup.axis[0].start, setup.axis[1].start};
    assert_int_equal(slew_plant_start(&model, start, &p), SLEW_OK);
    use_plant_scenario(true);
    fmi3Instance instance = begin_with_events(f);
    use_plant_scenario(false);
    for (int i = 0; i < 6; i++) {
        static const int drive[6][SLEW_AXES] = {{1, -1}, {1, -1}, {0, -1}, {0, 0}, {-1, 1}, {0, 0}};
        const double end = 2.0 * (i + 1);
        for (int axis = 0; axis < SLEW_AXES; axis++) {
            is_ok(f, set_int(f, instance, axis == 0 ? "rotation.drive" : "elevation.drive",
                             drive[i][axis]));
            if (p.drive[axis] != drive[i][axis])
                assert_true(slew_plant_drive(&model, &p, axis, drive[i][axis]));
        }
        if (i == 1) {
            is_ok(f, set_double(f, instance, "environment.temperature", 258));
            setup.environment.temperature = 258;
            assert_int_equal(slew_plant_model_build(&setup, &to, NULL), SLEW_OK);
            slew_plant_transfer(&model, &to, &p);
            model = to;
        }
        update(f, instance);
        is_ok(f, f->EnterStepMode(instance));
        while (now < end) {
            stepped s = step(f, instance, now, end - now);
            now = s.time;
            double last = 0;
            while (slew_plant_advance(&model, &p, now).kind != SLEW_PLANT_NOTHING) {
                events++;
                last = p.time;
            }
            if (s.early)
                near("event", now, last, 1e-12);
            near("rotation", get_double(f, instance, "rotation.angle"), p.angle[0], 1e-12);
            near("elevation", get_double(f, instance, "elevation.angle"), p.angle[1], 1e-12);
            near("voltage", get_double(f, instance, "voltage"), p.voltage, 1e-9);
            near("current", get_double(f, instance, "elevation.current"), p.current[1], 1e-9);
            assert_int_equal(get_bool(f, instance, "rotation.sensor"), p.closed[0]);
            assert_int_equal(get_int(f, instance, "rotation.moving"), p.moving[0]);
            assert_int_equal(get_int(f, instance, "event.count"), events);
        }
        is_ok(f, f->EnterEventMode(instance));
    }
    assert_true(events > 10);
    f->FreeInstance(instance);
}

/* ---- other trucks ---- */

/* magnets, 24 V, what has changed since teaching, data sheets, keep-out zones, a fault */
static void other_trucks_stow_as_the_library(void **state)
{
    (void)state;
    static const char *const names[] = {"weak-magnet",     "fireboat-24v", "warm-stow-cold-deploy",
                                        "mast-on-the-way", "sheet-pickup", "dead-sensor",
                                        "freezing-morning"};
    int faults = 0;
    for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
        static slew_scenario scenario;
        static beside b;
        static fmu f;
        char path[1200], example[1024] = "";
        double now = 0;
        FILE *link = fopen("example", "r");
        assert_true(link != NULL && fgets(example, sizeof example, link) != NULL);
        fclose(link);
        *strrchr(example, '/') = '\0';
        snprintf(path, sizeof path, "%s/%s.yaml", example, names[i]);
        MAKE_FMU(path, "--quiet", "--out", "other.fmu");
        load_fmu("other.fmu", "slewtime_machine", &f);
        assert_int_equal(slew_scenario_read_file(path, NULL, &scenario), SLEW_OK);
        start_library(&scenario, &b.m);
        b.events = 0;
        fmi3Instance instance = begin_with_events(&f);
        follow(&b, 0);
        press(&f, instance, "command.stow");
        assert_true(slew_machine_stow(&b.m));
        follow(&b, 0);
        go_on(&f, instance, &b, &now, 90);
        assert_int_equal(b.m.task, SLEW_TASK_NONE);
        faults += b.m.fault != SLEW_FAULT_NONE;
        f.FreeInstance(instance);
        unload_fmu(&f);
    }
    assert_true(faults > 0);
}

/* ---- states ---- */

static double run_on(fmu *f, fmi3Instance instance, double from, double end)
{
    while (from < end) {
        stepped s = step(f, instance, from, end - from);
        from = s.time;
        if (s.event) {
            is_ok(f, f->EnterEventMode(instance));
            update(f, instance);
            is_ok(f, f->EnterStepMode(instance));
        }
    }
    return get_double(f, instance, "elevation.angle");
}

static void states_are_kept_set_and_written(void **state)
{
    (void)state;
    fmu *f = &machine;
    fmi3FMUState kept = NULL, read = NULL;
    size_t size;
    fmi3Instance instance = begin_with_events(f), other = begin_fmu(f, true, true);
    press(f, instance, "command.stow");
    run_on(f, instance, 0, 4);
    is_ok(f, f->GetFMUState(instance, &kept));
    double there = run_on(f, instance, 4, 9);
    is_ok(f, f->SetFMUState(instance, kept));
    near("time", get_double(f, instance, "time"), 4, 0);
    near("again", run_on(f, instance, 4, 9), there, 0);

    is_ok(f, f->SerializedFMUStateSize(instance, kept, &size));
    fmi3Byte *bytes = malloc(size);
    assert_non_null(bytes);
    is_ok(f, f->SerializeFMUState(instance, kept, bytes, size));
    is_ok(f, f->DeserializeFMUState(other, bytes, size, &read));
    is_ok(f, f->SetFMUState(other, read));
    near("elsewhere", run_on(f, other, 4, 9), there, 0);
    is_ok(f, f->GetFMUState(other, &read)); /* into the same one */

    is_refused(f, f->SerializeFMUState(instance, kept, bytes, size - 1), "less than");
    is_refused(f, f->DeserializeFMUState(other, bytes, size - 1, &read), "no state of this FMU");
    static const double share[] = {0.0, 0.1, 0.5, 0.9};
    for (int i = 0; i < 4; i++) {
        size_t at = (size_t)(share[i] * (double)size);
        bytes[at] ^= 1;
        assert_int_equal(f->DeserializeFMUState(other, bytes, size, &read), fmi3Error);
        bytes[at] ^= 1;
    }
    is_ok(f, f->FreeFMUState(instance, &kept));
    assert_null(kept);
    is_ok(f, f->FreeFMUState(instance, &kept)); /* 2.2.10: of NULL nothing */
    is_ok(f, f->FreeFMUState(other, &read));
    free(bytes);
    f->FreeInstance(instance);
    f->FreeInstance(other);
}

static void reset_is_a_new_beginning(void **state)
{
    (void)state;
    fmu *f = &machine;
    fmi3Instance instance = begin_fmu(f, true, true);
    double start = get_double(f, instance, "elevation.start");
    is_ok(f, set_double(f, instance, "elevation.start", start - 0.1));
    initialize(f, instance);
    press(f, instance, "command.stow");
    run_on(f, instance, 0, 5);
    is_ok(f, f->Reset(instance));
    near("parameter", get_double(f, instance, "elevation.start"), start, 0);
    initialize(f, instance);
    near("angle", get_double(f, instance, "elevation.angle"), start, 0);
    assert_int_equal(get_int(f, instance, "event.count"), 0);
    f->FreeInstance(instance);
}

/* two at once, one step each in turn: neither knows the other */
static void two_go_on_beside_each_other(void **state)
{
    (void)state;
    fmu *f = &machine;
    fmi3Instance one = begin_with_events(f), two = begin_with_events(f);
    press(f, one, "command.stow");
    press(f, two, "command.deploy");
    double a = 0, b = 0;
    for (int i = 1; i <= 20; i++) {
        a = run_on(f, one, (i - 1) * 0.5, i * 0.5);
        b = run_on(f, two, (i - 1) * 0.5, i * 0.5);
    }
    f->FreeInstance(one);
    f->FreeInstance(two);
    one = begin_with_events(f);
    press(f, one, "command.stow");
    near("alone", run_on(f, one, 0, 10), a, 1e-12);
    assert_true(fabs(a - b) > 0.1);
    f->FreeInstance(one);
}

/* ---- what is refused ---- */

static void calls_in_the_wrong_order_are_refused(void **state)
{
    (void)state;
    fmu *f = &machine;
    fmi3Boolean b[5];
    fmi3Float64 time;
    fmi3Instance i = begin_fmu(f, true, true);
    is_refused(f, f->ExitInitializationMode(i), "not allowed in Instantiated");
    is_refused(f, f->EnterStepMode(i), "not allowed in Instantiated");
    is_refused(f, f->Terminate(i), "not allowed in Instantiated");
    is_refused(f, f->DoStep(i, 0, 1, false, &b[0], &b[1], &b[2], &time), "not allowed");
    is_ok(f, f->EnterInitializationMode(i, false, 0, 0, false, 0));
    is_refused(f, f->EnterInitializationMode(i, false, 0, 0, false, 0),
               "not allowed in Initialization Mode");
    is_refused(f, f->EnterEventMode(i), "not allowed");
    is_ok(f, f->ExitInitializationMode(i));
    is_refused(f, f->DoStep(i, 0, 1, false, &b[0], &b[1], &b[2], &time),
               "not allowed in Event Mode");
    is_refused(f, set_double(f, i, "rotation.start", 0), "can't be set now");
    is_ok(f, f->EnterStepMode(i));
    is_refused(f, f->UpdateDiscreteStates(i, &b[0], &b[1], &b[2], &b[3], &b[4], &time),
               "not allowed in Step Mode");
    /* 4.2.1: with Event Mode only continuous inputs are set in Step Mode */
    is_refused(f, set_bool(f, i, "command.stow", true), "can't be set now");
    is_refused(f, set_double(f, i, "elevation.load.friction", 9), "can't be set now");
    is_ok(f, set_double(f, i, "supply.main.voltage", 13));
    is_refused(f, f->DoStep(i, 3, 1, false, &b[0], &b[1], &b[2], &time), "the last step ended");
    is_refused(f, f->DoStep(i, 0, 0, false, &b[0], &b[1], &b[2], &time), "not above 0");
    is_refused(f, f->DoStep(i, 0, NAN, false, &b[0], &b[1], &b[2], &time), "not above 0");
    is_refused(f, f->DoStep(i, 0, 1, false, NULL, &b[1], &b[2], &time), "NULL");
    near("after all that", step(f, i, 0, 1).time, 1, 0);
    is_ok(f, f->Terminate(i));
    assert_true(get_double(f, i, "voltage") > 10);
    is_refused(f, set_double(f, i, "supply.main.voltage", 12), "can't be set now");
    assert_int_equal(f->Terminate(NULL), fmi3Error);
    f->FreeInstance(i);
    f->FreeInstance(NULL);
    i = begin_fmu(f, false, false);
    initialize(f, i);
    is_refused(f, f->EnterEventMode(i), "eventModeUsed false");
    f->FreeInstance(i);
}

static void values_that_can_not_be_are_refused(void **state)
{
    (void)state;
    fmu *f = &machine;
    double value = 0;
    fmi3ValueReference nothing = 999999, angle;
    fmi3Instance i = begin_fmu(f, true, true);
    angle = reference_of(&f->description, "rotation.angle");
    is_refused(f, f->GetFloat64(i, &nothing, 1, &value, 1), "no variable 999999");
    is_refused(f, f->GetFloat64(i, &angle, 1, &value, 2), "one value for each");
    is_refused(f, f->GetFloat64(i, &angle, 1, &value, 1), "before Initialization Mode");
    is_refused(f, f->SetFloat64(i, &angle, 1, &value, 1), "can't be set");
    is_refused(f, f->GetInt32(i, &angle, 1, &(fmi3Int32){0}, 1), "of type Float64");
    is_refused(f, f->GetString(i, &angle, 1, NULL, 1), "no variable of type String");
    is_ok(f, f->GetString(i, NULL, 0, NULL, 0));
    is_refused(f, set_double(f, i, "supply.main.voltage", 0), "out of range");
    is_refused(f, set_double(f, i, "supply.main.voltage", NAN), "out of range");
    is_refused(f, set_double(f, i, "rotation.outside_torque", INFINITY), "out of range");
    is_refused(f, set_int(f, i, "rotation.jog", 2), "out of range");
    is_refused(f, set_int64_t(f, i, "nozzle.kind", 7), "out of range");
    /* what no single value tells comes up at the start, by its key */
    is_ok(f, set_double(f, i, "rotation.start", 20));
    is_ok(f, f->EnterInitializationMode(i, false, 0, 0, false, 0));
    is_refused(f, f->ExitInitializationMode(i), "rotation.start");
    is_ok(f, set_double(f, i, "rotation.start", -0.2));
    is_ok(f, f->ExitInitializationMode(i));
    f->FreeInstance(i);
}

static void what_it_has_not_is_refused_by_name(void **state)
{
    (void)state;
    fmu *f = &machine;
    fmi3Instance i = begin_fmu(f, true, true);
    assert_string_equal(f->GetVersion(), "3.0");
    is_refused(f, f->EnterConfigurationMode(i), "structural");
    is_refused(f, f->EvaluateDiscreteStates(i), "providesEvaluateDiscreteStates");
    is_refused(f, f->SetTime(i, 1), "Model Exchange");
    is_ok(f, f->SetDebugLogging(i, true, 1, (const fmi3String[]){"logEvents"}));
    is_refused(f, f->SetDebugLogging(i, true, 1, (const fmi3String[]){"logAll"}), "no category");
    assert_null(
        f->InstantiateModelExchange("one", f->token, f->resources, false, false, f, keep_message));
    has(f->log, "Co-Simulation");
    initialize(f, i);
    press(f, i, "command.stow");
    has(f->log, "elevation moving");
    f->FreeInstance(i);
}

/* whatever the description lists can be read before a step and after it, by its type */
static void read_all(fmu *f, fmi3Instance instance)
{
    const int count = (int)ask_number(&f->description, "count(//ModelVariables/*)");
    assert_true(count > 50);
    for (int k = 1; k <= count; k++) {
        char path[96], type[32];
        snprintf(path, sizeof path, "//ModelVariables/*[%d]/@valueReference", k);
        fmi3ValueReference reference = (fmi3ValueReference)ask_number(&f->description, path);
        snprintf(path, sizeof path, "name(//ModelVariables/*[%d])", k);
        ask_text(&f->description, path, type, sizeof type);
        fmi3Float64 real = INFINITY;
        fmi3Int32 small = -99;
        fmi3Int64 word = -99;
        fmi3Boolean yes = false;
        if (strcmp(type, "Int32") == 0)
            is_ok(f, f->GetInt32(instance, &reference, 1, &small, 1));
        else if (strcmp(type, "Boolean") == 0)
            is_ok(f, f->GetBoolean(instance, &reference, 1, &yes, 1));
        else if (strcmp(type, "Float64") == 0)
            is_ok(f, f->GetFloat64(instance, &reference, 1, &real, 1));
        else
            is_ok(f, f->GetInt64(instance, &reference, 1, &word, 1));
        assert_true(strcmp(type, "Int32") != 0 || small != -99);
        assert_true(strcmp(type, "Enumeration") != 0 || word != -99);
    }
}

static void every_variable_is_read(void **state)
{
    (void)state;
    fmu *const both[] = {&machine, &plant};
    for (int k = 0; k < 2; k++) {
        if (k == 1)
            use_plant_scenario(true);
        fmi3Instance i = begin_with_events(both[k]);
        read_all(both[k], i);
        is_ok(both[k], both[k]->EnterStepMode(i));
        step(both[k], i, 0, 0.5);
        read_all(both[k], i);
        both[k]->FreeInstance(i);
    }
    use_plant_scenario(false);
}

/* what an importer hands over by mistake is refused, without a crash: no instance, or no room */
static void nothing_for_an_argument_is_refused(void **state)
{
    (void)state;
    fmu *f = &machine;
    fmi3Boolean b[5];
    fmi3Float64 time = 0;
    fmi3Byte byte = 0;
    size_t size;
    fmi3FMUState kept = NULL;
    fmi3Instance i = begin_with_events(f);
    is_ok(f, f->GetFMUState(i, &kept));
    const fmi3Status without_instance[] = {
        f->Reset(NULL),
        f->EnterInitializationMode(NULL, false, 0, 0, false, 0),
        f->ExitInitializationMode(NULL),
        f->EnterEventMode(NULL),
        f->EnterStepMode(NULL),
        f->SetDebugLogging(NULL, true, 0, NULL),
        f->GetFloat64(NULL, NULL, 0, NULL, 0),
        f->SetFloat64(NULL, NULL, 0, NULL, 0),
        f->GetInt32(NULL, NULL, 0, NULL, 0),
        f->SetInt32(NULL, NULL, 0, NULL, 0),
        f->GetInt64(NULL, NULL, 0, NULL, 0),
        f->SetInt64(NULL, NULL, 0, NULL, 0),
        f->GetBoolean(NULL, NULL, 0, NULL, 0),
        f->SetBoolean(NULL, NULL, 0, NULL, 0),
        f->GetString(NULL, NULL, 0, NULL, 0),
        f->GetFMUState(NULL, &kept),
        f->SetFMUState(NULL, kept),
        f->FreeFMUState(NULL, &kept),
        f->SerializedFMUStateSize(NULL, kept, &size),
        f->SerializeFMUState(NULL, kept, &byte, 1),
        f->DeserializeFMUState(NULL, &byte, 1, &kept),
        f->UpdateDiscreteStates(NULL, &b[0], &b[1], &b[2], &b[3], &b[4], &time),
        f->DoStep(NULL, 0, 1, false, &b[0], &b[1], &b[2], &time),
    };
    for (size_t k = 0; k < sizeof without_instance / sizeof *without_instance; k++)
        assert_int_equal(without_instance[k], fmi3Error);
    is_refused(f, f->GetFMUState(i, NULL), "an argument is NULL");
    is_refused(f, f->SetFMUState(i, NULL), "there is no state");
    is_ok(f, f->FreeFMUState(i, NULL));
    is_refused(f, f->SerializedFMUStateSize(i, NULL, &size), "an argument is NULL");
    is_refused(f, f->SerializedFMUStateSize(i, kept, NULL), "an argument is NULL");
    is_refused(f, f->SerializeFMUState(i, NULL, &byte, 1), "no state");
    is_refused(f, f->SerializeFMUState(i, kept, NULL, 1), "no state");
    is_refused(f, f->DeserializeFMUState(i, NULL, 1, &kept), "an argument is NULL");
    is_refused(f, f->DeserializeFMUState(i, &byte, 1, NULL), "an argument is NULL");
    assert_int_equal(f->SetDebugLogging(i, true, 1, NULL), fmi3Error);
    is_refused(f, f->SetDebugLogging(i, true, 1, (const fmi3String[]){NULL}), "no category (none)");
    is_refused(f, f->GetFloat64(i, NULL, 1, &time, 1), "one value for each");
    is_refused(f, f->SetFloat64(i, NULL, 1, &time, 1), "one value for each");
    fmi3Boolean *const there[] = {&b[0], &b[1], &b[2], &b[3], &b[4]};
    for (int k = 0; k < 6; k++)
        is_refused(f,
                   f->UpdateDiscreteStates(i, k == 0 ? NULL : there[0], k == 1 ? NULL : there[1],
                                           k == 2 ? NULL : there[2], k == 3 ? NULL : there[3],
                                           k == 4 ? NULL : there[4], k == 5 ? NULL : &time),
                   "an argument is NULL");
    is_ok(f, f->EnterStepMode(i));
    for (int k = 0; k < 4; k++)
        is_refused(f,
                   f->DoStep(i, 0, 1, false, k == 0 ? NULL : there[0], k == 1 ? NULL : there[1],
                             k == 2 ? NULL : there[2], k == 3 ? NULL : &time),
                   "an argument is NULL");
    is_refused(f, f->DoStep(i, 0, INFINITY, false, &b[0], &b[1], &b[2], &time), "not above 0");
    is_ok(f, f->FreeFMUState(i, &kept));
    f->FreeInstance(i);
}

/* 2.3.1: debug logging is turned on and off by category, or all of it; without a logger nobody
 * hears */
static void logging_is_turned_on_and_off(void **state)
{
    (void)state;
    fmu *f = &machine;
    fmi3Instance i = begin_fmu(f, true, true);
    is_ok(f, f->SetDebugLogging(i, false, 1, (const fmi3String[]){"logStatusError"}));
    f->log[0] = '\0';
    assert_int_equal(f->Terminate(i), fmi3Error);
    assert_string_equal(f->log, "");
    is_ok(f, f->SetDebugLogging(i, true, 0, NULL));
    is_refused(f, f->Terminate(i), "not allowed in Instantiated");
    is_refused(f, f->EnterInitializationMode(i, false, 0, NAN, false, 0), "no number");
    is_refused(f, f->EnterInitializationMode(i, false, 0, 5, true, 4), "the stop time before it");
    is_ok(f, f->EnterInitializationMode(i, true, 1e-6, 0, true, 100));
    f->FreeInstance(i);
    i = f->InstantiateCoSimulation("one", f->token, f->resources, false, true, true, true, NULL, 0,
                                   f, NULL, NULL);
    assert_non_null(i);
    assert_int_equal(f->Terminate(i), fmi3Error);
    f->FreeInstance(i);
}

/* 2.3.1: the token is that of this very FMU, and follows from what it has */
static void another_token_makes_no_instance(void **state)
{
    (void)state;
    fmu *f = &machine;
    assert_string_not_equal(machine.token, plant.token);
    assert_null(f->InstantiateCoSimulation("one", plant.token, f->resources, false, false, true,
                                           true, NULL, 0, f, keep_message, NULL));
    has(f->log, "instantiationToken");
    assert_null(f->InstantiateCoSimulation("one", f->token, "/nowhere/", false, false, true, true,
                                           NULL, 0, f, keep_message, NULL));
    has(f->log, "/nowhere/scenario.txt");
    assert_null(f->InstantiateCoSimulation("one", f->token, "/nowhere", false, false, true, true,
                                           NULL, 0, f, keep_message, NULL));
    has(f->log, "/nowhere/scenario.txt");
    assert_null(f->InstantiateCoSimulation("one", NULL, f->resources, false, false, true, true,
                                           NULL, 0, f, keep_message, NULL));
    has(f->log, "instantiationToken (none)");
    assert_null(f->InstantiateCoSimulation("one", f->token, NULL, false, false, true, true, NULL, 0,
                                           f, keep_message, NULL));
    has(f->log, "the path of the resources");
    assert_null(f->InstantiateCoSimulation(NULL, f->token, f->resources, false, false, true, true,
                                           NULL, 0, f, keep_message, NULL));
    has(f->log, "needs a name");
    assert_null(f->InstantiateCoSimulation("", f->token, f->resources, false, false, true, true,
                                           NULL, 0, f, keep_message, NULL));
    has(f->log, "needs a name");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(it_stows_and_deploys_as_the_library),
        cmocka_unit_test(inputs_change_at_events),
        cmocka_unit_test(parameters_are_set_before_the_start),
        cmocka_unit_test(todays_voltage_teaches_nothing),
        cmocka_unit_test(without_event_mode_it_is_the_same),
        cmocka_unit_test(the_plant_is_driven_as_the_library),
        cmocka_unit_test(states_are_kept_set_and_written),
        cmocka_unit_test(reset_is_a_new_beginning),
        cmocka_unit_test(two_go_on_beside_each_other),
        cmocka_unit_test(calls_in_the_wrong_order_are_refused),
        cmocka_unit_test(values_that_can_not_be_are_refused),
        cmocka_unit_test(what_it_has_not_is_refused_by_name),
        cmocka_unit_test(every_variable_is_read),
        cmocka_unit_test(nothing_for_an_argument_is_refused),
        cmocka_unit_test(logging_is_turned_on_and_off),
        cmocka_unit_test(another_token_makes_no_instance),
        cmocka_unit_test(other_trucks_stow_as_the_library), /* last: it takes the others' files */
    };
    return cmocka_run_group_tests(tests, make_both, unload_both);
}
