/*
 * cli_fmu_rules.c - what FMI 3.0 asks of single calls, beyond their order (Functional Mock-up
 * Interface Specification, version 3.0, 2022; sections and rules from memory).
 */
#include "fmu.h"

#include <float.h>
#include <sys/stat.h>

static fmu machine, plant;

static int enter(void **state)
{
    char example[1024];
    if (make_both_fmus(state, example, sizeof example) != 0)
        return -1;
    load_fmu("machine.fmu", "slewtime_machine", &machine);
    /* the plant's files are in a folder of its own */
    assert_true(mkdir("plant", 0700) == 0 && chdir("plant") == 0);
    load_fmu("../plant.fmu", "slewtime_plant", &plant);
    return chdir("..");
}

static int leave(void **state)
{
    static const char *const files[] = {"modelDescription.xml", "scenario.txt",
                                        "slewtime_plant.so"};
    char path[64];
    unload_fmu(&machine);
    unload_fmu(&plant);
    for (size_t i = 0; i < sizeof files / sizeof *files; i++) {
        snprintf(path, sizeof path, "plant/%s", files[i]);
        remove(path);
    }
    return rmdir("plant") == 0 ? leave_directory(state) : -1;
}

static fmi3Instance begin(fmu *f)
{
    fmi3Instance instance = begin_fmu(f, true, true);
    initialize(f, instance);
    return instance;
}

/* a load that moves the resting elevation, whose gear does not lock any more */
static void pushed_away(fmu *f, fmi3Instance instance)
{
    is_ok(f, set_double(f, instance, "elevation.gear.backward_efficiency", 0.5));
    is_ok(f, set_double(f, instance, "elevation.outside_torque", -1e6));
    assert_false(get_bool(f, instance, "holds"));
}

/* ---- discrete outputs ---- */

enum { DISCRETE_MAX = 40 };

typedef struct discrete {
    int count;
    char name[DISCRETE_MAX][64];
    char type[DISCRETE_MAX][16];
    fmi3ValueReference reference[DISCRETE_MAX];
    double value[DISCRETE_MAX];
} discrete;

static void find_discrete(const fmu *f, discrete *all)
{
    static const char which[] =
        "//ModelVariables/*[@causality='output' and @variability='discrete']";
    char path[160];
    snprintf(path, sizeof path, "count(%s)", which);
    all->count = (int)ask_number(&f->description, path);
    assert_true(all->count > 10 && all->count <= DISCRETE_MAX);
    for (int i = 0; i < all->count; i++) {
        snprintf(path, sizeof path, "(%s)[%d]/@name", which, i + 1);
        ask_text(&f->description, path, all->name[i], sizeof all->name[i]);
        snprintf(path, sizeof path, "name((%s)[%d])", which, i + 1);
        ask_text(&f->description, path, all->type[i], sizeof all->type[i]);
        all->reference[i] = reference_of(&f->description, all->name[i]);
    }
}

static double get_discrete(const fmu *f, fmi3Instance instance, const char *type,
                           fmi3ValueReference reference)
{
    fmi3Int32 whole;
    fmi3Int64 item;
    fmi3Boolean yes;
    if (strcmp(type, "Int32") == 0) {
        is_ok(f, f->GetInt32(instance, &reference, 1, &whole, 1));
        return whole;
    }
    if (strcmp(type, "Boolean") == 0) {
        is_ok(f, f->GetBoolean(instance, &reference, 1, &yes, 1));
        return yes;
    }
    is_ok(f, f->GetInt64(instance, &reference, 1, &item, 1));
    return (double)item;
}

/* how many are other than before; without an event none may be */
static int look(const fmu *f, fmi3Instance instance, discrete *all, double time, bool event)
{
    int changed = 0;
    for (int i = 0; i < all->count; i++) {
        double value = get_discrete(f, instance, all->type[i], all->reference[i]);
        if (value != all->value[i] && !event)
            fail_msg("%.6f s: %s is %g without an event, and was %g", time, all->name[i], value,
                     all->value[i]);
        changed += value != all->value[i];
        all->value[i] = value;
    }
    return changed;
}

/* 2.4.7.4: what is discrete changes at events alone, so a step that changes it says that there was
 * one; in a stow, the pause behind it and a deploy */
static void discrete_outputs_change_at_events(void **state)
{
    (void)state;
    static discrete all;
    fmu *f = &machine;
    fmi3Instance instance = begin(f);
    double now = 0;
    int changed = 0;
    find_discrete(f, &all);
    is_ok(f, set_bool(f, instance, "command.stow", true));
    update(f, instance);
    look(f, instance, &all, 0, true);
    is_ok(f, f->EnterStepMode(instance));
    while (now < 30) {
        stepped s = step(f, instance, now, 0.05);
        const bool deploys = now < 20 && s.time >= 20;
        now = s.time;
        changed += look(f, instance, &all, now, s.event);
        if (!s.event && !deploys)
            continue;
        is_ok(f, f->EnterEventMode(instance));
        if (deploys)
            is_ok(f, set_bool(f, instance, "command.deploy", true));
        update(f, instance);
        look(f, instance, &all, now, deploys);
        is_ok(f, f->EnterStepMode(instance));
    }
    assert_true(changed > 50);
    assert_int_equal(get_int64_t(f, instance, "report.verdict"), SLEW_DEPLOYED);
    assert_true(get_bool(f, instance, "report.ready"));
    f->FreeInstance(instance);
}

/* ---- a step ---- */

/* 2.3.3: past the stop time is an error; a step that ends there by the importer's rounding is none
 */
static void a_step_past_the_stop_time_is_refused(void **state)
{
    (void)state;
    fmu *f = &machine;
    fmi3Boolean event, end, early;
    fmi3Float64 time;
    fmi3Instance i = begin_fmu(f, true, true);
    is_ok(f, f->EnterInitializationMode(i, false, 0, 10, true, 12));
    is_ok(f, f->ExitInitializationMode(i));
    is_ok(f, f->EnterStepMode(i));
    is_refused(f, f->DoStep(i, 10, 3, false, &event, &end, &early, &time), "past the stop time");
    near("nowhere", time, 10, 0);
    near("to the end", step(f, i, 10, nextafter(2, 3)).time, 12, 1e-12);
    is_refused(f, f->DoStep(i, 12, 0.001, false, &event, &end, &early, &time),
               "past the stop time");
    is_ok(f, f->Reset(i));
    initialize(f, i);
    is_ok(f, f->EnterStepMode(i));
    near("no stop time", step(f, i, 0, 20).time, 20, 0);
    f->FreeInstance(i);
}

/* 4.2.1: what a step answers can be read whatever came of it */
static void a_refused_step_answers_too(void **state)
{
    (void)state;
    fmu *f = &machine;
    fmi3Boolean event = true, end = true, early = true;
    fmi3Float64 time = NAN;
    fmi3Instance i = begin(f);
    is_ok(f, f->EnterStepMode(i));
    is_refused(f, f->DoStep(i, 1, 1, false, &event, &end, &early, &time), "the last step ended");
    assert_false(event || end || early);
    near("where it is", time, 0, 0);
    f->FreeInstance(i);
}

/* 4.3.1, providesIntermediateUpdate false: what an importer would like to see then is never asked
 */
static void intermediate_variables_are_let_be(void **state)
{
    (void)state;
    fmu *f = &machine;
    const fmi3ValueReference wanted[] = {reference_of(&f->description, "rotation.angle")};
    fmi3Instance i = f->InstantiateCoSimulation("one", f->token, f->resources, false, false, true,
                                                true, wanted, 1, f, keep_message, NULL);
    assert_non_null(i);
    initialize(f, i);
    f->FreeInstance(i);
}

/* 4.2.1: without early return a step goes through all events, and says that there were some */
static void without_early_return_a_step_goes_through(void **state)
{
    (void)state;
    fmu *f = &machine;
    fmi3Instance i = begin_fmu(f, true, false);
    initialize(f, i);
    is_ok(f, set_bool(f, i, "command.stow", true));
    update(f, i);
    is_ok(f, f->EnterStepMode(i));
    stepped s = step(f, i, 0, 40);
    assert_true(s.event && !s.early);
    near("time", s.time, 40, 0);
    assert_int_equal(get_int64_t(f, i, "report.verdict"), SLEW_STOWED);
    f->FreeInstance(i);
}

/* ---- variables ---- */

typedef struct variable {
    fmi3ValueReference reference;
    char name[120], type[16], causality[24];
    bool is_set; /* it has a start */
    double start, low, high;
} variable;

static double attribute(const fmu *f, int i, const char *name, double without)
{
    char path[80], text[40];
    snprintf(path, sizeof path, "//ModelVariables/*[%d]/@%s", i, name);
    ask_text(&f->description, path, text, sizeof text);
    return text[0] == '\0'              ? without
           : strcmp(text, "true") == 0  ? 1
           : strcmp(text, "false") == 0 ? 0
                                        : strtod(text, NULL);
}

static variable variable_at(const fmu *f, int i)
{
    char path[80];
    variable v;
    snprintf(path, sizeof path, "//ModelVariables/*[%d]/@name", i);
    ask_text(&f->description, path, v.name, sizeof v.name);
    snprintf(path, sizeof path, "name(//ModelVariables/*[%d])", i);
    ask_text(&f->description, path, v.type, sizeof v.type);
    snprintf(path, sizeof path, "//ModelVariables/*[%d]/@causality", i);
    ask_text(&f->description, path, v.causality, sizeof v.causality);
    v.reference = (fmi3ValueReference)attribute(f, i, "valueReference", NAN);
    v.start = attribute(f, i, "start", NAN);
    v.is_set = !isnan(v.start);
    v.low = attribute(f, i, "min", -INFINITY);
    v.high = attribute(f, i, "max", INFINITY);
    return v;
}

static int variable_count(const fmu *f)
{
    return (int)ask_number(&f->description, "count(//ModelVariables/*)");
}

static double get_any(const fmu *f, fmi3Instance instance, const variable *v)
{
    fmi3Float64 number;
    if (strcmp(v->type, "Float64") != 0)
        return get_discrete(f, instance, v->type, v->reference);
    is_ok(f, f->GetFloat64(instance, &v->reference, 1, &number, 1));
    return number;
}

static fmi3Status set_any(const fmu *f, fmi3Instance instance, const variable *v, double value)
{
    if (strcmp(v->type, "Float64") == 0)
        return f->SetFloat64(instance, &v->reference, 1, &(fmi3Float64){value}, 1);
    if (strcmp(v->type, "Int32") == 0)
        return f->SetInt32(instance, &v->reference, 1, &(fmi3Int32){(fmi3Int32)value}, 1);
    if (strcmp(v->type, "Boolean") == 0)
        return f->SetBoolean(instance, &v->reference, 1, &(fmi3Boolean){value != 0}, 1);
    return f->SetInt64(instance, &v->reference, 1, &(fmi3Int64){(fmi3Int64)value}, 1);
}

/* 2.4.7.5: each begins with its start; what is calculated is a number within its bounds from
 * Initialization Mode on */
static void variables_begin_as_described(void **state)
{
    (void)state;
    fmu *const both[] = {&machine, &plant};
    for (int k = 0; k < 2; k++) {
        fmu *f = both[k];
        int starts = 0, calculated = 0;
        fmi3Instance instance = begin_fmu(f, true, true);
        for (int i = 1; i <= variable_count(f); i++) {
            const variable v = variable_at(f, i);
            if (v.is_set)
                near(v.name, get_any(f, instance, &v), v.start, 0);
            starts += v.is_set;
        }
        is_ok(f, f->EnterInitializationMode(instance, false, 0, 0, false, 0));
        for (int i = 1; i <= variable_count(f); i++) {
            const variable v = variable_at(f, i);
            double value = get_any(f, instance, &v);
            if (!isfinite(value) || value < v.low || value > v.high)
                fail_msg("%s is %g", v.name, value);
            calculated += !v.is_set;
        }
        assert_true(starts > 40 && calculated > 15);
        f->FreeInstance(instance);
    }
}

/* 2.4.7.1, min and max: what the description allows can be set, and the next number cannot */
static void bounds_are_kept(void **state)
{
    (void)state;
    fmu *const both[] = {&machine, &plant};
    for (int k = 0; k < 2; k++) {
        fmu *f = both[k];
        int tried = 0;
        fmi3Instance instance = begin_fmu(f, true, true);
        for (int i = 1; i <= variable_count(f); i++) {
            const variable v = variable_at(f, i);
            bool whole = strcmp(v.type, "Int32") == 0;
            const double bounds[] = {v.low, v.high};
            for (int n = 0; n < 2 && v.is_set; n++) {
                double bound = bounds[n], away = n == 0 ? -1 : 1;
                if (!isfinite(bound))
                    continue;
                if (set_any(f, instance, &v, bound) != fmi3OK)
                    fail_msg("%s can't be %.17g: %s", v.name, bound, f->log);
                near(v.name, get_any(f, instance, &v), bound, 0);
                double beyond = whole              ? bound + away
                                : bound == DBL_MIN ? 0 /* the least that is above it */
                                                   : nextafter(bound, away * INFINITY);
                if (set_any(f, instance, &v, beyond) != fmi3Error)
                    fail_msg("%s can be %.17g", v.name, beyond);
                tried++;
            }
        }
        assert_true(tried > 40);
        f->FreeInstance(instance);
    }
}

/* 2.4.4: each item of an enumeration can be set, and no other value */
static void items_can_be_set(void **state)
{
    (void)state;
    fmu *f = &machine;
    char path[200];
    int tried = 0;
    fmi3Instance instance = begin_fmu(f, true, true);
    for (int i = 1; i <= variable_count(f); i++) {
        const variable v = variable_at(f, i);
        if (strcmp(v.type, "Enumeration") != 0 || !v.is_set)
            continue;
        for (int value = -3; value <= 9; value++) {
            snprintf(path, sizeof path,
                     "count(//EnumerationType[@name='types.%.100s']/Item[@value='%d'])", v.name,
                     value);
            bool is_item = ask_number(&f->description, path) == 1;
            if ((set_any(f, instance, &v, value) == fmi3OK) != is_item)
                fail_msg("%s, %d: %s", v.name, value, is_item ? "an item" : "no item");
            tried += is_item;
        }
    }
    assert_true(tried > 10);
    f->FreeInstance(instance);
}

/* ---- messages ---- */

static void is_a_category(const fmu *f)
{
    char path[120];
    snprintf(path, sizeof path, "count(//LogCategories/Category[@name='%s'])", f->category);
    near(f->category, ask_number(&f->description, path), 1, 0);
}

/* 2.4.5: messages come under the categories of the description, by their status; of the standard's
 * own names logStatusWarning is for fmi3Warning, logStatusError for fmi3Error */
static void messages_come_under_their_category(void **state)
{
    (void)state;
    fmu *f = &machine;
    fmi3Boolean b[5];
    fmi3Float64 next;
    fmi3Instance i = begin(f);
    is_refused(f, f->EnterEventMode(i), "not allowed");
    assert_string_equal(f->category, "logStatusError");
    assert_int_equal(f->said, fmi3Error);
    is_a_category(f);
    /* the machine stands still for good, and takes no command */
    pushed_away(f, i);
    update(f, i);
    is_ok(f, set_bool(f, i, "command.stow", true));
    assert_int_equal(f->UpdateDiscreteStates(i, &b[0], &b[1], &b[2], &b[3], &b[4], &next),
                     fmi3Warning);
    has(f->log, "was not taken");
    assert_string_equal(f->category, "logStatusWarning");
    assert_int_equal(f->said, fmi3Warning);
    is_a_category(f);
    f->FreeInstance(i);
}

/* 2.3.1: by their names, one, several or all; a name that there is not changes none */
static void categories_are_chosen(void **state)
{
    (void)state;
    fmu *f = &machine;
    fmi3Instance i = begin(f);
    f->log[0] = '\0';
    is_ok(f, f->SetDebugLogging(i, false, 1, (const fmi3String[]){"logStatusError"}));
    assert_int_equal(f->EnterEventMode(i), fmi3Error);
    assert_string_equal(f->log, "");
    const fmi3String some[] = {"logStatusError", "logEvents"};
    const fmi3String wrong[] = {"logStatusError", "logNothing"};
    is_ok(f, f->SetDebugLogging(i, true, 2, some));
    is_refused(f, f->SetDebugLogging(i, false, 2, wrong), "no category logNothing");
    is_refused(f, f->EnterEventMode(i), "not allowed");
    is_ok(f, set_bool(f, i, "command.stow", true));
    update(f, i);
    assert_string_equal(f->category, "logEvents");
    is_a_category(f);
    is_ok(f, f->SetDebugLogging(i, false, 0, NULL));
    f->log[0] = '\0';
    assert_int_equal(f->EnterEventMode(i), fmi3Error);
    assert_string_equal(f->log, "");
    f->FreeInstance(i);
}

/* ---- dependencies ---- */

/* 2.4.8: an output that names no dependencies stays as it is, whatever input is set at an instant
 */
static void what_depends_on_no_input_stays(void **state)
{
    (void)state;
    fmu *f = &machine;
    char path[120];
    fmi3Instance i = begin(f);
    is_ok(f, set_int(f, i, "rotation.jog", 1));
    update(f, i);
    is_ok(f, f->EnterStepMode(i));
    for (double now = 0; now < 2;) {
        stepped s = step(f, i, now, 2 - now);
        now = s.time;
        is_ok(f, f->EnterEventMode(i));
        update(f, i);
        is_ok(f, f->EnterStepMode(i));
    }
    is_ok(f, f->EnterEventMode(i));
    int free = (int)ask_number(&f->description, "count(//Output[@dependencies=''])");
    double before[8], after;
    fmi3ValueReference reference[8];
    assert_true(free > 0 && free <= 8);
    for (int n = 0; n < free; n++) {
        snprintf(path, sizeof path, "(//Output[@dependencies=''])[%d]/@valueReference", n + 1);
        reference[n] = (fmi3ValueReference)ask_number(&f->description, path);
        is_ok(f, f->GetFloat64(i, &reference[n], 1, &before[n], 1));
    }
    assert_true(get_double(f, i, "rotation.speed") > 0.01);
    pushed_away(f, i);
    is_ok(f, set_double(f, i, "supply.main.voltage", 8));
    is_ok(f, set_int(f, i, "rotation.jog", -1));
    is_ok(f, set_bool(f, i, "nozzle.flowing", true));
    for (int n = 0; n < free; n++) {
        is_ok(f, f->GetFloat64(i, &reference[n], 1, &after, 1));
        if (after != before[n])
            fail_msg("variable %u goes from %g to %g", (unsigned)reference[n], before[n], after);
    }
    f->FreeInstance(i);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(discrete_outputs_change_at_events),
        cmocka_unit_test(a_step_past_the_stop_time_is_refused),
        cmocka_unit_test(a_refused_step_answers_too),
        cmocka_unit_test(intermediate_variables_are_let_be),
        cmocka_unit_test(without_early_return_a_step_goes_through),
        cmocka_unit_test(variables_begin_as_described),
        cmocka_unit_test(bounds_are_kept),
        cmocka_unit_test(items_can_be_set),
        cmocka_unit_test(messages_come_under_their_category),
        cmocka_unit_test(categories_are_chosen),
        cmocka_unit_test(what_depends_on_no_input_stays),
    };
    return cmocka_run_group_tests(tests, enter, leave);
}
