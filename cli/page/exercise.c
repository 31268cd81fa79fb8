/* exercise.c - the faults that a page can hide, and what each reads. */
#include <math.h>
#include <stdlib.h>

#include "answer.h"

enum { SAMPLES = 64 };

/* ---- simulating ---- */

typedef struct watching {
    const slew_scenario *plain;
    cli_page_exercise *exercise;
} watching;

static void watch(void *context, int cause, int64_t sample, const slew_scenario *scenario)
{
    watching *w = context;
    slew_scenario drawn;
    cli_page_day *motion = &w->exercise->motion[cause * SAMPLES + sample];
    cli_without_magnets(scenario, &drawn);
    motion->fits = true;
    cli_page_day_file(motion, &drawn, w->plain);
    cli_page_day_layers(motion, &drawn, w->plain);
}

static slew_status simulate(const slew_scenario *scenario, const slew_scenario *plain,
                            cli_page_exercise *e, slew_error *error)
{
    watching w = {plain, e};
    const slew_causes_witness witness = {watch, &w};
    e->motion = calloc((size_t)e->catalogue.count * SAMPLES, sizeof *e->motion);
    if (e->motion == NULL)
        return SLEW_ERROR_MEMORY;
    return slew_causes_run_witnessed(scenario, &e->catalogue, NULL, &e->sampling, &witness,
                                     &e->causes, error);
}

static slew_status find_likeness(cli_page_exercise *e)
{
    size_t pairs = (size_t)e->causes.count * (size_t)e->causes.count;
    e->likeness = calloc(pairs, sizeof *e->likeness);
    if (e->likeness == NULL)
        return SLEW_ERROR_MEMORY;
    return slew_causes_likeness(&e->causes, SLEW_BY_CHECK, 0, e->likeness);
}

static slew_status find_signatures(cli_page_exercise *e)
{
    size_t count = (size_t)e->causes.count * SLEW_OBSERVABLES;
    e->signature = calloc(count, sizeof *e->signature);
    if (e->signature == NULL)
        return SLEW_ERROR_MEMORY;
    return slew_causes_signatures(&e->causes, NULL, e->signature);
}

slew_status cli_page_exercise_run(const slew_scenario *scenario, const slew_scenario *plain,
                                  cli_page_exercise *e, slew_error *error)
{
    e->sampling = slew_sampling_default();
    e->sampling.samples = SAMPLES;
    slew_status status = slew_catalogue_builtin(&e->catalogue);
    if (status == SLEW_OK)
        status = simulate(scenario, plain, e, error);
    if (status == SLEW_OK)
        status = find_likeness(e);
    if (status == SLEW_OK)
        status = find_signatures(e);
    return status;
}

void cli_page_exercise_free(cli_page_exercise *e)
{
    free(e->signature);
    free(e->likeness);
    free(e->motion);
    slew_causes_free(&e->causes);
}

/* ---- telling ---- */

static const char *by_word(slew_seen_by by)
{
    return by == SLEW_BY_EYE ? "eye" : by == SLEW_BY_METER ? "meter" : "check";
}

static void tell_checks(cli_teller *t)
{
    cli_tell_open_list(t, "observables");
    for (int i = 0; i < SLEW_OBSERVABLES; i++) {
        const slew_observable *o = slew_observable_at(i);
        cli_tell_open(t, NULL);
        cli_tell_text(t, "path", o->key.path);
        cli_tell_text(t, "by", by_word(o->by));
        cli_tell_text(t, "quantity", o->key.quantity);
        cli_tell_text(t, "words", o->key.words);
        cli_tell_text(t, "meaning", o->key.meaning);
        cli_tell_number(t, "sd", o->sd);
        cli_tell_close(t);
    }
    cli_tell_close(t);
}

/* what somebody at the truck reads, one number for each observable */
static void tell_case(cli_teller *t, const cli_page_exercise *e, int cause, int64_t sample)
{
    slew_seen seen;
    slew_causes_observe(&e->causes, cause, sample, (uint64_t)(cause + 1), &seen);
    cli_tell_open_list(t, NULL);
    for (int i = 0; i < SLEW_OBSERVABLES; i++)
        cli_tell_number(t, NULL, seen.value[i]);
    cli_tell_close(t);
}

/* the run that it was read of */
static void tell_motion(cli_teller *t, const cli_page_exercise *e, int cause, int64_t sample)
{
    cli_page_tell_day(t, &e->motion[cause * SAMPLES + sample]);
}

typedef void teller_of_case(cli_teller *, const cli_page_exercise *, int cause, int64_t sample);

static void tell_cases(cli_teller *t, const cli_page_exercise *e, int cause, const char *name,
                       teller_of_case *tell)
{
    int told = 0;
    cli_tell_open_list(t, name);
    for (int64_t i = 0; i < e->causes.samples && told < CLI_PAGE_CASES; i++)
        if (!isnan(slew_causes_figures(&e->causes, cause, i)[SLEW_SEEN_STOW_SAYS])) {
            tell(t, e, cause, i);
            told++;
        }
    cli_tell_close(t);
}

/* what it mostly reads: low, mid and high of a number, or word and share of a choice */
static void tell_signature(cli_teller *t, const cli_page_exercise *e, int cause)
{
    cli_tell_open_list(t, "reads");
    for (int i = 0; i < SLEW_OBSERVABLES; i++) {
        slew_signature s = e->signature[cause * SLEW_OBSERVABLES + i];
        cli_tell_open_list(t, NULL);
        cli_tell_number(t, NULL, s.readable);
        cli_tell_number(t, NULL, s.low);
        cli_tell_number(t, NULL, s.mid);
        cli_tell_number(t, NULL, s.high);
        cli_tell_integer(t, NULL, s.word);
        cli_tell_number(t, NULL, s.share);
        cli_tell_close(t);
    }
    cli_tell_close(t);
}

static void tell_alike(cli_teller *t, const cli_page_exercise *e, int cause)
{
    cli_tell_open_list(t, "looks_like");
    for (int c = 0; c < e->causes.count; c++)
        if (c != cause && slew_causes_counts(&e->causes, c) &&
            e->likeness[cause * e->causes.count + c] >= SLEW_LOOKS_THE_SAME)
            cli_tell_text(t, NULL, e->catalogue.cause[c].name);
    cli_tell_close(t);
}

static void tell_cause(cli_teller *t, const cli_page_exercise *e, int cause)
{
    const slew_cause *c = &e->catalogue.cause[cause];
    cli_tell_open(t, NULL);
    cli_tell_text(t, "name", c->name);
    cli_tell_text(t, "means", c->means);
    cli_tell_text(t, "prove", c->prove);
    cli_tell_text(t, "cure", c->cure);
    cli_tell_boolean(t, "healthy", c->change_count == 0);
    tell_alike(t, e, cause);
    tell_cases(t, e, cause, "cases", tell_case);
    tell_cases(t, e, cause, "motions", tell_motion);
    tell_signature(t, e, cause);
    cli_tell_close(t);
}

void cli_page_tell_exercise(cli_teller *t, const cli_page_exercise *e)
{
    cli_tell_open(t, "exercise");
    tell_checks(t);
    cli_tell_open_list(t, "causes");
    for (int c = 0; c < e->causes.count; c++)
        if (slew_causes_counts(&e->causes, c))
            tell_cause(t, e, c);
    cli_tell_close(t);
    cli_tell_close(t);
}
