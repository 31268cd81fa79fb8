/* cli_run.c - the forms of the result of `run`: JSON, CSV, trace. */
#include <math.h>

#include "document.h"

/* ---- JSON ---- */

#define DOCUMENT(...) document(TOOL("run", "truck.yaml", "--json", __VA_ARGS__))

/* the names of an object, in order, and no others */
static void names_are(json_t *object, const char *const *names)
{
    const char *name;
    json_t *value;
    assert_true(json_is_object(object));
    json_object_foreach(object, name, value)
    {
        assert_non_null(*names);
        assert_string_equal(name, *names++);
    }
    assert_null(*names);
}

static const char *word(json_t *object, const char *name)
{
    json_t *value = json_object_get(object, name);
    return json_is_string(value) ? json_string_value(value) : "(no text)";
}

static double number(json_t *object, const char *name)
{
    json_t *value = json_object_get(object, name);
    if (!json_is_number(value))
        fail_msg("%s is no number", name);
    return json_number_value(value);
}

static bool is_null(json_t *object, const char *name)
{
    return json_is_null(json_object_get(object, name));
}

static void json_names(void **state)
{
    (void)state;
    json_t *root = DOCUMENT("--quiet");
    names_are(root, SAYS("slewtime", "title", "scenario", "stored_times_s", "stow", "deploy",
                         "lowest_voltage_V", "lowest_loaded_voltage_V", "below_floor",
                         "peak_current_A", "charge_As", "keepout", "events"));
    const char *const part[] = {
        "says",          "fault",     "axis",    "holds",      "rotation_deg",
        "elevation_deg", "on_target", "pressed", "duration_s", NULL};
    names_are(json_object_get(root, "stow"), part);
    names_are(json_object_get(root, "deploy"), part);
    names_are(json_object_get(root, "stored_times_s"), SAYS("rotation", "elevation"));
    names_are(json_array_get(json_object_get(root, "events"), 0),
              SAYS("time_s", "axis", "kind", "direction", "rotation_deg", "elevation_deg",
                   "voltage_V", "current_A"));
    json_decref(root);
}

static void json_of_a_good_day(void **state)
{
    (void)state;
    json_t *root = DOCUMENT("--quiet");
    json_t *stow = json_object_get(root, "stow"), *deploy = json_object_get(root, "deploy");
    assert_string_equal(word(root, "slewtime"), "0.1.0");
    assert_string_equal(word(root, "title"), "Bench monitor, \"invented\" for these tests");
    assert_string_equal(word(stow, "says"), "stowed");
    assert_string_equal(word(deploy, "says"), "deployed");
    assert_true(is_null(stow, "fault") && is_null(stow, "axis"));
    assert_true(json_is_true(json_object_get(stow, "holds")));
    assert_true(json_is_true(json_object_get(stow, "on_target")));
    /* taught and stowed under the same conditions: off by half a tick of the 10 ms clock at most,
     * at 12 deg/s (3000 rpm / 1500) and at most that much more at 13 V */
    assert_true(fabs(number(stow, "elevation_deg") + 12) < 0.005 * 12 * 13 / 12);
    assert_true(number(root, "lowest_loaded_voltage_V") > number(root, "lowest_voltage_V"));
    assert_int_equal(json_array_size(json_object_get(root, "keepout")), 0);
    json_decref(root);
}

static json_t *find_event(json_t *root, const char *kind)
{
    size_t index;
    json_t *event;
    json_array_foreach(json_object_get(root, "events"), index, event)
    {
        if (strcmp(word(event, "kind"), kind) == 0)
            return event;
    }
    fail_msg("there is no event %s", kind);
    return NULL;
}

static void json_of_a_fault(void **state)
{
    (void)state;
    json_t *root = DOCUMENT("--today", "rotation.home.present=no");
    json_t *stow = json_object_get(root, "stow"), *deploy = json_object_get(root, "deploy");
    assert_string_equal(word(stow, "says"), "fault");
    assert_string_equal(word(stow, "fault"), "home_not_found");
    assert_string_equal(word(stow, "axis"), "rotation");
    assert_string_equal(word(deploy, "says"), "not_run");
    assert_true(is_null(deploy, "duration_s"));
    assert_string_equal(word(find_event(root, "fault"), "fault"), "home_not_found");
    assert_true(number(find_event(root, "stop_contact"), "energy_J") > 0);
    assert_string_equal(word(find_event(root, "stop_contact"), "direction"), "right");
    json_decref(root);
}

static void json_of_a_keepout(void **state)
{
    (void)state;
    json_t *root = DOCUMENT("--set", "stow.point.elevation=-18 deg");
    json_t *visit = json_array_get(json_object_get(root, "keepout"), 0);
    names_are(visit, SAYS("name", "entered_s", "left_s"));
    assert_string_equal(word(visit, "name"), "mast, folded");
    assert_true(number(visit, "entered_s") < number(visit, "left_s"));
    json_t *event = find_event(root, "keepout_entered");
    assert_string_equal(word(event, "box"), "mast, folded");
    assert_true(is_null(event, "axis") && is_null(event, "direction"));
    assert_true(number(event, "time_s") == number(visit, "entered_s"));
    json_decref(root);
    root = DOCUMENT("--set", "stow.point.elevation=-18 deg", "--only", "stow");
    visit = json_array_get(json_object_get(root, "keepout"), 0);
    assert_true(is_null(visit, "left_s"));
    json_decref(root);
}

static void json_of_one_part(void **state)
{
    (void)state;
    json_t *root = DOCUMENT("--only", "stow");
    json_t *deploy = json_object_get(root, "deploy");
    assert_string_equal(word(deploy, "says"), "not_run");
    assert_true(is_null(deploy, "on_target") && is_null(deploy, "duration_s"));
    assert_string_equal(word(json_object_get(root, "stow"), "says"), "stowed");
    json_decref(root);
    root = DOCUMENT("--only", "deploy");
    assert_true(is_null(root, "stored_times_s"));
    assert_string_equal(word(json_object_get(root, "stow"), "says"), "not_run");
    assert_string_equal(word(json_object_get(root, "deploy"), "says"), "deployed");
    json_decref(root);
}

static double angle(json_t *root, const char *part, const char *name)
{
    return number(json_object_get(root, part), name);
}

static json_t *first_event(json_t *root)
{
    return json_array_get(json_object_get(root, "events"), 0);
}

#define LOW_BATTERY "--today", "supply.main.voltage=11.9 V"

/* not from rotation.start and elevation.start, and its figures are its own */
static void a_deploy_alone_begins_as_stowed_today(void **state)
{
    (void)state;
    static const char *const names[] = {"rotation_deg", "elevation_deg"};
    json_t *whole = DOCUMENT("--quiet", LOW_BATTERY);
    json_t *alone = DOCUMENT("--quiet", LOW_BATTERY, "--only", "deploy");
    for (int j = 0; j < 2; j++) {
        assert_true(fabs(number(first_event(alone), names[j]) - angle(whole, "stow", names[j])) <
                    1e-9);
        assert_true(fabs(angle(alone, "deploy", names[j]) - angle(whole, "deploy", names[j])) <
                    1e-9);
    }
    assert_true(number(first_event(alone), "time_s") == 0);
    assert_true(fabs(angle(alone, "deploy", "duration_s") - angle(whole, "deploy", "duration_s")) <
                1e-9);
    assert_true(number(alone, "charge_As") < 0.8 * number(whole, "charge_As"));
    json_decref(whole);
    json_decref(alone);
    outcome o = TOOL("run", "truck.yaml", "--only", "deploy", LOW_BATTERY);
    has(o.out, "  begins     as stowed today, rotation ");
    has_not(o.out, "Stored times");
    free_outcome(&o);
}

static void a_deploy_after_a_stow_that_fails_says_why(void **state)
{
    (void)state;
    outcome o = TOOL("run", "truck.yaml", "--only", "deploy", "--today", "rotation.home.present=no",
                     "--require", "ok");
    assert_int_equal(o.code, 1);
    has(o.out, "Stow FAULT: rotation, home sensor not found; at ");
    has(o.out, "\nDeploy not attempted.\n");
    has(o.out, "begins as stowed today, and this stow does not get there");
    free_outcome(&o);
    json_t *root = DOCUMENT("--only", "deploy", "--today", "rotation.home.present=no");
    assert_string_equal(word(json_object_get(root, "stow"), "says"), "fault");
    assert_string_equal(word(json_object_get(root, "deploy"), "says"), "not_run");
    json_decref(root);
}

/* a single run draws nothing */
static void a_wrong_spread_is_a_warning_unless_it_is_drawn(void **state)
{
    (void)state;
    char text[4000];
    snprintf(text, sizeof text,
             "%sspread:\n  day:\n    supply.main.voltage: {uniform: {low: 14 V, "
             "high: 12 V}}\n",
             TRUCK);
    write_file("wrong.yaml", text);
    outcome o = TOOL("run", "wrong.yaml");
    assert_int_equal(o.code, 0);
    has(o.err, "warning: supply.main.voltage: low is not below high");
    free_outcome(&o);
    REFUSES(2, SAYS("error: supply.main.voltage: low is not below high"), "run", "wrong.yaml",
            "--pose", "x.svg", "--samples", "8");
    REFUSES(2, SAYS("error: supply.main.voltage: low is not below high"), "check", "wrong.yaml");
}

static void json_without_a_point(void **state)
{
    (void)state;
    json_t *root =
        DOCUMENT("--set", "stow.times.rotation=0.2 s", "--set", "stow.times.elevation=-0.5 s");
    assert_true(number(json_object_get(root, "stored_times_s"), "elevation") == -0.5);
    json_decref(root);
}

/* ---- CSV ---- */

static int count_lines(const char *text)
{
    int count = 0;
    for (; *text != '\0'; text++)
        count += *text == '\n';
    return count;
}

static void csv_has_a_row_per_event(void **state)
{
    (void)state;
    json_t *root = DOCUMENT("--set", "stow.point.elevation=-18 deg");
    outcome o = TOOL("run", "truck.yaml", "--csv", "--set", "stow.point.elevation=-18 deg");
    assert_int_equal(o.code, 0);
    assert_int_equal(count_lines(o.out), 1 + (int)json_array_size(json_object_get(root, "events")));
    const char header[] =
        "time_s,axis,kind,direction,rotation_deg,elevation_deg,voltage_V,"
        "current_A,energy_J,fault,box,scenario\n0,elevation,drive_on,down,-20,20,";
    assert_memory_equal(o.out, header, sizeof header - 1);
    has(o.out, ",\"mast, folded\",");
    free_outcome(&o);
    json_decref(root);
}

/* ---- trace ---- */

enum { SAMPLES = 5000 };

static double trace[SAMPLES][13];
static int trace_count;

static void read_trace(const char *path)
{
    char line[512];
    FILE *file = fopen(path, "r");
    assert_non_null(file);
    assert_non_null(fgets(line, sizeof line, file));
    assert_string_equal(line, "time_s,rotation_deg,elevation_deg,rotation_deg_per_s,"
                              "elevation_deg_per_s,rotation_A,elevation_A,total_A,voltage_V,"
                              "rotation_drive,elevation_drive,rotation_closed,"
                              "elevation_closed,scenario\n");
    for (trace_count = 0; fgets(line, sizeof line, file) != NULL; trace_count++) {
        const char *text = line;
        assert_true(trace_count < SAMPLES);
        for (int i = 0; i < 13; i++, text += strcspn(text, ",") + 1)
            trace[trace_count][i] = strtod(text, NULL);
    }
    fclose(file);
}

/* the last sample at that time; NULL: none */
static const double *sample_at(double time)
{
    for (int i = trace_count - 1; i >= 0; i--)
        if (trace[i][0] == time)
            return trace[i];
    return NULL;
}

static void trace_is_monotone_and_exact_at_events(void **state)
{
    (void)state;
    json_t *root = DOCUMENT("--trace", "trace.csv"), *event;
    size_t index;
    read_trace("trace.csv");
    assert_true(trace[0][0] == 0);
    for (int i = 1; i < trace_count; i++) {
        assert_true(trace[i][0] >= trace[i - 1][0]);
        assert_true(trace[i][0] - trace[i - 1][0] <= 0.010 + 1e-9); /* 1e-9: printed digits */
        assert_true(fabs(trace[i][7] - trace[i][5] - trace[i][6]) < 1e-6); /* 9 digits */
    }
    json_array_foreach(json_object_get(root, "events"), index, event)
    {
        const double *sample = sample_at(number(event, "time_s"));
        if (sample == NULL)
            fail_msg("no sample at %s, %.12g s", word(event, "kind"), number(event, "time_s"));
        assert_true(fabs(sample[1] - number(event, "rotation_deg")) < 1e-9); /* 12 digits */
        assert_true(fabs(sample[2] - number(event, "elevation_deg")) < 1e-9);
    }
    json_decref(root);
    assert_int_equal(unlink("trace.csv"), 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(json_names),
        cmocka_unit_test(json_of_a_good_day),
        cmocka_unit_test(json_of_a_fault),
        cmocka_unit_test(json_of_a_keepout),
        cmocka_unit_test(json_of_one_part),
        cmocka_unit_test(a_wrong_spread_is_a_warning_unless_it_is_drawn),
        cmocka_unit_test(a_deploy_alone_begins_as_stowed_today),
        cmocka_unit_test(a_deploy_after_a_stow_that_fails_says_why),
        cmocka_unit_test(json_without_a_point),
        cmocka_unit_test(csv_has_a_row_per_event),
        cmocka_unit_test(trace_is_monotone_and_exact_at_events),
    };
    return cmocka_run_group_tests(tests, enter_directory, leave_directory);
}
