/*
 * study_questions.c - what holds of every question that asks many runs. It stops when progress says
 * so, at any moment: it says that it was stopped, or its answer is the whole one; asked again it
 * answers as ever. Samples that can't run change nothing about that: the answer is the same for any
 * number of threads, or says why there is none. Runs from the project's root.
 */
#include <limits.h>

#include "../support.h"

#include "slewtime/read.h"

#include "../questions.h"

static asked_of about;

/* ---- stopping from the n-th word of progress on ---- */

typedef struct patience {
    int told, until;
} patience;

static bool go_on(void *context, int64_t done)
{
    patience *p = context;
    assert_true(done >= 0);
    return p->told++ < p->until;
}

typedef struct reply {
    slew_status status;
    double figure[QUESTION_FIGURES];
} reply;

static reply ask_until(const struct question *q, patience *p)
{
    reply r = {.figure = {0}};
    slew_error error = {0};
    about.sampling.progress = go_on;
    about.sampling.context = p;
    r.status = q->ask(&about, r.figure, &error);
    if (r.status != SLEW_OK && r.status != SLEW_ERROR_STOPPED)
        fail_msg("%s: status %d: %s %s", q->name, (int)r.status, error.key, error.message);
    return r;
}

static bool is_stopped_at(const struct question *q, int until, const reply *whole)
{
    patience p = {.until = until};
    const reply r = ask_until(q, &p);
    if (r.status == SLEW_OK && memcmp(r.figure, whole->figure, sizeof r.figure) != 0)
        fail_msg("%s, stopped at word %d of progress, gives another answer", q->name, until);
    return r.status == SLEW_ERROR_STOPPED;
}

static void stops_and_says_so(void **state)
{
    const struct question *q = *state;
    patience patient = {.until = INT_MAX}, again = {.until = INT_MAX};
    int stopped = 0;
    const reply whole = ask_until(q, &patient);
    assert_int_equal(whole.status, SLEW_OK);
    for (int until = 0; until < patient.told; until += 2 * until + 1)
        stopped += is_stopped_at(q, until, &whole);
    assert_true(stopped > 0 || q->untold);
    const reply anew = ask_until(q, &again);
    assert_memory_equal(whole.figure, anew.figure, sizeof anew.figure);
}

/* ---- a scenario that is none ---- */

static void refuses_what_is_no_scenario(void **state)
{
    static asked_of of;
    const struct question *q = *state;
    double figure[QUESTION_FIGURES];
    for (int i = 0; i < 4; i++) {
        of = about;
        if (i == 0)
            of.scenario.today.count = SLEW_OVERRIDES_MAX + 1;
        else if (i == 1)
            of.scenario.truck.count = -1;
        else if (i == 2)
            of.scenario.stow.point[SLEW_ELEVATION] = NAN;
        else
            of.scenario.deploy.choice_count[SLEW_ROTATION] = SLEW_CHOICES_MAX + 1;
        slew_error error = {0};
        assert_int_equal(q->ask(&of, figure, &error), SLEW_ERROR_INPUT);
        assert_true(error.message[0] != '\0' && error.key[0] != '\0');
    }
}

/* ---- samples that can't run ---- */

static slew_variation table(const char *path, double first, double second)
{
    return (slew_variation){.key = slew_key_find(path),
                            .distribution = SLEW_TABLE,
                            .count = 2,
                            .value = {first, second},
                            .weight = {1, 3}};
}

static reply ask_with(const struct question *q, const asked_of *of, slew_error *error)
{
    reply r = {.figure = {0}};
    *error = (slew_error){0};
    r.status = q->ask(of, r.figure, error);
    return r;
}

static void is_the_same_for_any_threads(const struct question *q, asked_of *of)
{
    slew_error error, other;
    of->sampling.progress = NULL;
    of->sampling.threads = 1;
    const reply one = ask_with(q, of, &error);
    of->sampling.threads = 3;
    const reply three = ask_with(q, of, &other);
    assert_int_equal(one.status, three.status);
    assert_memory_equal(one.figure, three.figure, sizeof one.figure);
    assert_string_equal(error.message, other.message);
    if (one.status != SLEW_OK) {
        assert_true(one.status == SLEW_ERROR_INPUT || one.status == SLEW_ERROR_TEACH);
        assert_true(error.message[0] != '\0');
    }
}

/* days with 0.3 V, less than the drives drop; trucks at 100 rpm, which do not reach home in time;
 * days and trucks of which none can run */
static void answers_without_what_can_not_run(void **state)
{
    static asked_of of;
    of = about;
    of.sampling.samples = of.sampling.shifts = 4;
    slew_variation *voltage = of.scenario.day.item;
    *voltage = table("supply.main.voltage", 0.3, 13);
    is_the_same_for_any_threads(*state, &of);
    voltage->value[1] = 0.3;
    is_the_same_for_any_threads(*state, &of);
    *voltage = about.scenario.day.item[0];
    of.scenario.truck.item[0] = table("elevation.motor.no_load_speed", rpm(100), rpm(3200));
    is_the_same_for_any_threads(*state, &of);
    of.scenario.truck.item[0].value[1] = rpm(100);
    is_the_same_for_any_threads(*state, &of);
}

int main(void)
{
    static void (*const trials[])(void **) = {stops_and_says_so, refuses_what_is_no_scenario,
                                              answers_without_what_can_not_run};
    struct CMUnitTest tests[3 * QUESTION_COUNT];
    const slew_error_sink quiet = {0};
    about.sampling = slew_sampling_default();
    about.sampling.samples = 72;
    about.sampling.threads = 1;
    if (slew_scenario_read_file("examples/daily.yaml", NULL, &about.scenario) != SLEW_OK ||
        slew_timings_read_file("examples/daily-card.csv", quiet, &about.timings) != SLEW_OK ||
        slew_catalogue_builtin(&about.catalogue) != SLEW_OK)
        return 1;
    about.catalogue.count = 6; /* as good as all */
    for (int i = 0; i < 3 * QUESTION_COUNT; i++)
        tests[i] = (struct CMUnitTest){QUESTION[i / 3].name, trials[i % 3], NULL, NULL,
                                       (void *)(uintptr_t)&QUESTION[i / 3]};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
