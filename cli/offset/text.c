/* text.c - the answer of `slewtime offset` as text. */
#include <inttypes.h>
#include <string.h>

#include "answer.h"
#include "frame/sampling.h"
#include "slewtime/slewtime.h"
#include "tell/caution.h"
#include "tell/table.h"
#include "tell/units.h"
#include "tell/utf8.h"

enum { LINE = 98 };

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

/* how often it is inside, with its interval */
static void add_inside(cli_table *t, const char *head, const slew_offset_choice *c)
{
    const slew_share *inside = &c->inside;
    if (c->judged.certain)
        cli_table_cell(t, head, "  %6.2f %18s", cli_percent(inside->value), "(nothing varies)");
    else
        cli_table_cell(t, head, "  %6.2f (%6.2f to %6.2f)", cli_percent(inside->value),
                       cli_percent(inside->low), cli_percent(inside->high));
}

static void add_missed(cli_table *t, const char *head, int width, const slew_demand_state *s)
{
    if (s->asked)
        cli_table_cell(t, head, " %*.2f", width, cli_percent(s->missed.value));
    else
        cli_table_cell(t, head, " %*s", width, "-");
}

static void print_choice(cli_table *t, const slew_offset_choice *c, bool best)
{
    const slew_summary *e = &c->angle[SLEW_ELEVATION], *r = &c->angle[SLEW_ROTATION];
    const slew_demand_state *of = c->judged.of;
    cli_table_cell(t, NULL, "%c", best ? '*' : ' ');
    cli_table_cell(t, "seconds\nrotation", " %+7.2f", c->seconds[SLEW_ROTATION]);
    cli_table_cell(t, "\n elevation", " %+8.2f", c->seconds[SLEW_ELEVATION]);
    add_inside(t, "inside the target, %     \n(95 % interval)     ", c);
    add_missed(t, "keep-\nout %", 6, &of[SLEW_DEMAND_KEEPOUT]);
    add_missed(t, "hard \nstop %", 6, &of[SLEW_DEMAND_STOP]);
    add_missed(t, "other \nfault %", 7, &of[SLEW_DEMAND_FAULT]);
    cli_table_text(t, "elevation at rest, deg\n  5 %", " %7.2f", cli_degrees(e->p05));
    cli_table_cell(t, "\nmedian   ", " %7.2f", cli_degrees(e->median));
    cli_table_text(t, "\n 95 %", " %7.2f", cli_degrees(e->p95));
    cli_table_cell(t, "rotation\nmedian   ", " %7.2f", cli_degrees(r->median));
    cli_table_end_row(t);
}

static void print_choices(const cli_offset *a)
{
    cli_table table = {.heads = 2};
    printf("%s\n", a->scenario->title);
    print_target(a->scenario);
    cli_print_spread(a->scenario);
    printf("  wanted      inside the target in %.10g %% of the cases\n", cli_percent(a->wanted));
    printf("  asked       %s\n\n", a->asked);
    for (int i = 0; i < a->offset.count; i++)
        print_choice(&table, &a->offset.choice[i], i == a->offset.best);
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
    const slew_summary *angle = a->best->angle;
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

static void print_advice(const cli_offset *a)
{
    char text[CLI_OFFSET_TEXT_MAX];
    if (!advises(a, SLEW_ADVICE_FAULTS))
        print_usual_fault(a->best);
    for (int i = 0; i < a->advice_count; i++)
        if (a->advice[i].kind != SLEW_ADVICE_ENOUGH) {
            cli_offset_say(a, &a->advice[i], text);
            print_sentence(text);
        }
}

/* which samples tell what */
static void print_samples(const cli_offset *a)
{
    char text[CLI_OFFSET_TEXT_MAX];
    if (a->offset.fresh == 0)
        return;
    snprintf(text, sizeof text,
             "The table is of the samples that chose; what is said of the best, the runner-up and "
             "finer seconds is of %" PRId64 " fresh ones.",
             a->offset.fresh);
    print_sentence(text);
}

static void print_if_any(const char *text)
{
    if (text[0] != '\0')
        print_sentence(text);
}

/* what the headline names is not named twice */
static void print_caution(const slew_judgment *j)
{
    char all[CLI_JUDGED_MAX], left[CLI_JUDGED_MAX];
    cli_judged_dangers(j, all);
    cli_judged_dangers_left(j, left);
    cli_caution(all[0] != '\0' && left[0] == '\0' ? "see above" : left);
}

static void print_finding(const cli_offset *a)
{
    char text[CLI_OFFSET_TEXT_MAX], trucks[CLI_JUDGED_MAX];
    printf("\n");
    cli_offset_say_headline(a, text);
    print_sentence(text);
    cli_offset_say_incurable(a, text);
    print_if_any(text);
    print_caution(&a->best->judged);
    printf("Inside the target in %.2f %% of the cases.\n", cli_percent(a->best->inside.value));
    cli_trucks_words(&a->trucks, a->scenario, trucks);
    print_if_any(trucks);
    cli_offset_say_why(a, text);
    print_sentence(text);
    print_advice(a);
    print_extremes(a);
    print_samples(a);
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

static void print_finer_choice(cli_table *t, const char *name, const slew_offset_choice *c)
{
    cli_table_text(t, "If the controller could be set finer", "  %-32s", name);
    cli_table_cell(t, "    seconds\nrotation", " %+8.2f", c->seconds[SLEW_ROTATION]);
    cli_table_cell(t, "\nelevation", " %+9.2f", c->seconds[SLEW_ELEVATION]);
    add_inside(t, "inside the target, % \n(95 % interval)      ", c);
    cli_table_end_row(t);
}

static void print_finer(const cli_offset *a)
{
    char name[60];
    const slew_finer *f = &a->finer;
    cli_table table = {.heads = 2};
    if (!a->has_finer)
        return;
    printf("\n");
    for (int k = 0; k < SLEW_FINER_COUNT; k++) {
        bool stepped = f->step[SLEW_ROTATION] > 0 || f->step[SLEW_ELEVATION] > 0;
        if (k != SLEW_FINER_ANY && !stepped)
            continue;
        name_step(f, (slew_finer_step)k, name, sizeof name);
        print_finer_choice(&table, name, &f->at[k]);
    }
}

/* ---- what drives the spread ---- */

/* to whole percents, and sure to no less than one; what is above `most` is so by chance */
static void add_index(cli_table *t, const char *head, const slew_share *s, double most)
{
    double half = cli_percent(s->high - s->low) / 2;
    cli_table_cell(t, head, "   %3.0f +-%2.0f", cli_percent(fmax(fmin(s->value, most), 0)),
                   fmax(ceil(half), 1));
}

static void add_driver(cli_table *t, const slew_driver *driver, int axis)
{
    cli_table_text(t, "What drives where the axes rest, % of the variance", "    %-36s %-10s",
                   slew_key_at(driver->drawn.key)->path, cli_offset_of_word(&driver->drawn));
    add_index(t, "alone  ", &driver->first[axis], fmin(driver->total[axis].value, 1));
    add_index(t, "with others", &driver->total[axis], 1);
}

static void print_drivers_of(cli_table *t, const cli_offset *a, int axis)
{
    const slew_drivers *d = &a->drivers;
    int told = cli_offset_told_drivers(d, axis);
    if (!cli_offset_varies(a, axis)) {
        printf("  %s does not vary: it rests at %.2f deg.\n", slew_axis_word(axis),
               cli_degrees(d->mean[axis]));
        return;
    }
    printf("  %s, %.2f deg on average, standard deviation %.2f deg\n", slew_axis_word(axis),
           cli_degrees(d->mean[axis]), cli_degrees(d->deviation[axis]));
    for (int i = 0; i < told; i++) {
        add_driver(t, &d->driver[d->order[axis][i]], axis);
        cli_table_end_row(t);
    }
    if (told < d->count)
        printf("    %-36s %d more, below %.0f each\n", "the others", d->count - told,
               cli_percent(cli_offset_least_total));
}

static void print_drivers(const cli_offset *a)
{
    const slew_drivers *d = &a->drivers;
    cli_table table = {.heads = 1};
    if (a->no_drivers != NULL) {
        printf("\nWhat drives the spread is not told: %s.\n", a->no_drivers);
        return;
    }
    printf("\n");
    add_driver(&table, &d->driver[0], SLEW_ROTATION);
    cli_table_heads(&table);
    for (int j = 0; j < SLEW_AXES; j++)
        print_drivers_of(&table, a, j);
    printf("  best choice, %" PRId64 " base points in %d repeats: %" PRId64
           " runs; +- is the 95 %% interval\n",
           d->base * d->repeats, d->repeats, d->runs);
    printf(
        "  alone: what falls away if it were known; with others: what is left if all else were\n");
    if (a->scenario->correlation.count > 0)
        print_sentence("  Some keys go together (spread.correlation): each is told here by its "
                       "independent part, in the order of the file.");
}

void cli_offset_text(const void *what)
{
    const cli_offset *a = what;
    print_choices(a);
    print_finding(a);
    print_finer(a);
    print_drivers(a);
    printf("\nSimulated: it does not replace a test on the truck.\n");
}
