/* text.c - the answer of `slewtime offset` as text. */
#include <inttypes.h>
#include <string.h>

#include "answer.h"
#include "frame/sampling.h"
#include "slewtime/slewtime.h"
#include "tell/units.h"
#include "tell/utf8.h"

enum { LINE = 98 };

/* a driver with less than this of the variance has no line of its own */
static const double least_total = 0.01;

static void print_sentence(const char *text)
{
    cli_print_wrapped(text, LINE);
}

/* ---- the choices ---- */

static void print_target(const slew_scenario *s)
{
    for (int j = 0; j < SLEW_AXES; j++)
        printf("  target      %-9s %.4g to %.4g deg\n", slew_axis_word(j),
               cli_degrees(s->deploy.target[j].low), cli_degrees(s->deploy.target[j].high));
}

static void print_choice(const slew_offset_choice *c, bool best)
{
    const slew_summary *e = &c->angle[SLEW_ELEVATION], *r = &c->angle[SLEW_ROTATION];
    printf("%c %+7.2f %+8.2f  %6.2f (%6.2f to %6.2f)  %6.2f  %6.2f  %7.2f %7.2f %7.2f %7.2f\n",
           best ? '*' : ' ', c->seconds[SLEW_ROTATION], c->seconds[SLEW_ELEVATION],
           cli_percent(c->inside.value), cli_percent(c->inside.low), cli_percent(c->inside.high),
           cli_percent(c->fault.value), cli_percent(c->keepout.value), cli_degrees(e->p05),
           cli_degrees(e->median), cli_degrees(e->p95), cli_degrees(r->median));
}

static void print_choices(const cli_offset *a)
{
    printf("%s\n", a->scenario->title);
    print_target(a->scenario);
    cli_print_spread(a->scenario);
    printf("  wanted      inside the target in %.10g %% of the cases\n", cli_percent(a->wanted));
    printf("  asked       %s\n\n", a->asked);
    printf(
        "  seconds           inside the target, %%      fault keep-out elevation at rest, deg   "
        "rotation\n"
        " rotation elevation      (95 %% interval)         %%       %%     5 %%   median    95 %%  "
        "median\n");
    for (int i = 0; i < a->offset->count; i++)
        print_choice(&a->offset->choice[i], i == a->offset->best);
}

/* ---- what was found ---- */

static void print_usual_fault(const slew_offset_choice *best)
{
    const slew_usual_fault *f = &best->usual_fault;
    if (f->fault == SLEW_FAULT_NONE)
        return;
    printf("Most faults: %s%s%s in the %s, %.2f %% of the cases.\n", slew_fault_word(f->fault),
           f->axis != SLEW_NO_AXIS ? " of the " : "",
           f->axis != SLEW_NO_AXIS ? slew_axis_word(f->axis) : "", f->in_stow ? "stow" : "deploy",
           cli_percent(f->share.value));
}

static bool advises(const cli_offset *a, slew_advice_kind kind)
{
    for (int i = 0; i < a->advice_count; i++)
        if (a->advice[i].kind == kind)
            return true;
    return false;
}

static void print_extremes(const cli_offset *a)
{
    char text[CLI_OFFSET_TEXT_MAX];
    const slew_summary *angle = a->offset->choice[a->offset->best].angle;
    double bounded = cli_offset_bounded(a);
    if (isnan(bounded))
        return;
    snprintf(text, sizeof text,
             "The extremes of the best choice, rotation %.2f to %.2f deg and elevation %.2f to "
             "%.2f deg, bound at least %.3f %% of all cases for each axis (95 %% confidence).",
             cli_degrees(angle[SLEW_ROTATION].lowest), cli_degrees(angle[SLEW_ROTATION].highest),
             cli_degrees(angle[SLEW_ELEVATION].lowest), cli_degrees(angle[SLEW_ELEVATION].highest),
             floor(1e5 * bounded) / 1e3);
    print_sentence(text);
}

static void print_finding(const cli_offset *a)
{
    char text[CLI_OFFSET_TEXT_MAX];
    const slew_offset_choice *best = &a->offset->choice[a->offset->best];
    printf("\nBest: rotation %+.2f s, elevation %+.2f s, inside the target in %.2f %% of the "
           "cases.\n",
           best->seconds[SLEW_ROTATION], best->seconds[SLEW_ELEVATION],
           cli_percent(best->inside.value));
    if (!cli_offset_is_enough(a))
        printf("None of the choices is good enough: %.10g %% are wanted.\n",
               cli_percent(a->wanted));
    cli_offset_say_why(a, text);
    print_sentence(text);
    if (!advises(a, SLEW_ADVICE_FAULTS))
        print_usual_fault(best);
    for (int i = 0; i < a->advice_count; i++) {
        if (a->advice[i].kind == SLEW_ADVICE_ENOUGH)
            continue;
        cli_offset_say(a, &a->advice[i], text);
        print_sentence(text);
    }
    print_extremes(a);
}

/* ---- finer choices ---- */

/* "0.75 s", the step of each axis that has one */
static void name_step(const slew_finer *finer, slew_finer_step step, char *text, size_t size)
{
    const double parts = step == SLEW_FINER_HALF ? 2 : 10;
    const double *own = finer->step;
    if (step == SLEW_FINER_ANY)
        snprintf(text, size, "any time, to 0.01 s");
    else if (own[SLEW_ROTATION] > 0 && own[SLEW_ELEVATION] > 0)
        snprintf(text, size, "steps of %.4g and %.4g s", own[SLEW_ROTATION] / parts,
                 own[SLEW_ELEVATION] / parts);
    else
        snprintf(text, size, "steps of %.4g s", fmax(own[0], own[1]) / parts);
}

static void print_finer(const cli_offset *a)
{
    char name[60];
    if (a->finer == NULL)
        return;
    printf("\nIf the controller could be set finer    seconds            inside the target, %%\n"
           "                                   rotation elevation      (95 %% interval)\n");
    for (int k = 0; k < SLEW_FINER_COUNT; k++) {
        const slew_offset_choice *c = &a->finer->at[k];
        bool stepped = a->finer->step[SLEW_ROTATION] > 0 || a->finer->step[SLEW_ELEVATION] > 0;
        if (k != SLEW_FINER_ANY && !stepped)
            continue;
        name_step(a->finer, (slew_finer_step)k, name, sizeof name);
        printf("  %-32s %+8.2f %+9.2f  %6.2f (%6.2f to %6.2f)\n", name, c->seconds[SLEW_ROTATION],
               c->seconds[SLEW_ELEVATION], cli_percent(c->inside.value), cli_percent(c->inside.low),
               cli_percent(c->inside.high));
    }
}

/* ---- what drives the spread ---- */

/* to whole percents, and sure to no less than one; what is above `most` is so by chance */
static void print_index(const slew_share *s, double most)
{
    double half = cli_percent(s->high - s->low) / 2;
    printf("   %3.0f +-%2.0f", cli_percent(fmax(fmin(s->value, most), 0)), fmax(ceil(half), 1));
}

static void print_drivers_of(const slew_drivers *d, int axis)
{
    int order[SLEW_DRIVERS_MAX], shown = 0;
    if (!cli_offset_varies(d, axis)) {
        printf("  %s does not vary: it rests at %.2f deg.\n", slew_axis_word(axis),
               cli_degrees(d->mean[axis]));
        return;
    }
    cli_offset_rank(d, axis, order);
    printf("  %s, %.2f deg on average, standard deviation %.2f deg\n", slew_axis_word(axis),
           cli_degrees(d->mean[axis]), cli_degrees(d->deviation[axis]));
    for (; shown < d->count; shown++) {
        const slew_driver *driver = &d->driver[order[shown]];
        if (driver->total[axis].value < least_total)
            break;
        printf("    %-36s %-10s", slew_key_at(driver->drawn.key)->path,
               cli_offset_of_word(&driver->drawn));
        print_index(&driver->first[axis], fmin(driver->total[axis].value, 1));
        print_index(&driver->total[axis], 1);
        printf("\n");
    }
    if (shown < d->count)
        printf("    %-36s %d more, below %.0f each\n", "the others", d->count - shown,
               cli_percent(least_total));
}

static void print_drivers(const cli_offset *a)
{
    const slew_drivers *d = a->drivers;
    if (d == NULL) {
        printf("\nWhat drives the spread is not told: %s.\n", a->no_drivers);
        return;
    }
    printf(
        "\nWhat drives where the axes rest, %% of the variance              alone  with others\n");
    print_drivers_of(d, SLEW_ROTATION);
    print_drivers_of(d, SLEW_ELEVATION);
    printf("  best choice, %" PRId64 " base points in %d repeats: %" PRId64
           " runs; +- is the 95 %% interval\n",
           d->base * d->repeats, d->repeats, d->runs);
    printf(
        "  alone: what falls away if it were known; with others: what is left if all else were\n");
    if (a->scenario->correlation.count > 0)
        print_sentence("  Some keys go together (spread.correlation): each is told here by its "
                       "independent part, in the order of the file.");
}

void cli_offset_print(const void *answer)
{
    const cli_offset *a = answer;
    print_choices(a);
    print_finding(a);
    print_finer(a);
    print_drivers(a);
    printf("\nSimulated: it does not replace a test on the truck.\n");
}
