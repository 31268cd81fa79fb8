/*
 * study_stopped.c - every question stops when progress says so, at any moment: it says that it was
 * stopped, or its answer is the whole one; and leaves nothing behind: asked again it answers as
 * ever. Runs from the project's root.
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
    for (int until = 0; until < patient.told; until += until / 2 + 1)
        stopped += is_stopped_at(q, until, &whole);
    assert_true(stopped > 0 || q->untold);
    const reply anew = ask_until(q, &again);
    assert_memory_equal(whole.figure, anew.figure, sizeof anew.figure);
}

int main(void)
{
    struct CMUnitTest tests[QUESTION_COUNT];
    const slew_error_sink quiet = {0};
    about.sampling = slew_sampling_default();
    about.sampling.samples = 72;
    about.sampling.threads = 1;
    if (slew_scenario_read_file("examples/daily.yaml", NULL, &about.scenario) != SLEW_OK ||
        slew_timings_read_file("examples/daily-card.csv", quiet, &about.timings) != SLEW_OK ||
        slew_catalogue_builtin(&about.catalogue) != SLEW_OK)
        return 1;
    about.catalogue.count = 6; /* as good as all */
    for (int i = 0; i < QUESTION_COUNT; i++)
        tests[i] = (struct CMUnitTest){QUESTION[i].name, stops_and_says_so, NULL, NULL,
                                       (void *)(uintptr_t)&QUESTION[i]};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
