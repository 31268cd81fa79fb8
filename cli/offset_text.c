/* offset_text.c - `slewtime offset` as text. */
#include <ctype.h>
#include <math.h>
#include <string.h>

#include "offset.h"
#include "story.h"

enum { LINE = 92 };
static const double least_told = 0.01; /* drivers below are told in one line together */

static double percent(double share)
{
    return 100 * share;
}

/* length of the next piece that is not broken: a number stays with its unit */
static int piece(const char *text)
{
    int length = (int)strcspn(text, " ");
    while (length > 0 && text[length] == ' ' && isdigit((unsigned char)text[length - 1]))
        length += 1 + (int)strcspn(text + length + 1, " ");
    return length;
}

/* the text in lines, the first after `first` and the others below it */
static void print_wrapped(const char *first, const char *text)
{
    int indent = (int)strlen(first), column = indent;
    printf("%s", first);
    for (bool begins = true; *text != '\0'; begins = false) {
        int length = piece(text);
        if (!begins && column + 1 + length > LINE) {
            printf("\n%*s", indent, "");
            column = indent;
        } else if (!begins)
            column += printf(" ");
        column += printf("%.*s", length, text);
        text += length + (text[length] == ' ');
    }
    putchar('\n');
}

/* ---- what was asked ---- */

static void print_question(const cli_offset *a)
{
    const slew_scenario *s = a->scenario;
    const slew_spread *spreads[] = {&s->truck, &s->day};
    static const char *const names[] = {"truck", "day"};
    printf("%s\n", s->title);
    for (int j = 0; j < SLEW_AXES; j++)
        printf("  target      %-9s %.4g to %.4g deg\n", slew_axis_word(j),
               cli_degrees(s->deploy.target[j].low), cli_degrees(s->deploy.target[j].high));
    printf("  wanted      inside both in %g %% of the cases\n", percent(a->wanted));
    for (int k = 0; k < 2; k++)
        for (int i = 0; i < spreads[k]->count; i++)
            printf("  varies      %-9s %s\n", names[k], slew_key_at(spreads[k]->item[i].key)->path);
    printf("  asked       %s\n\n", a->asked);
}

/* ---- choices ---- */

static void print_choice(const slew_offset_choice *c, bool best)
{
    char name[CLI_FAULT_NAME_MAX];
    const slew_summary *e = &c->angle[SLEW_ELEVATION], *r = &c->angle[SLEW_ROTATION];
    printf("%c %+7.2f %+8.2f  %6.2f (%6.2f to %6.2f)  %6.2f  %6.2f  %7.2f %7.2f %7.2f %7.2f",
           best ? '*' : ' ', c->seconds[SLEW_ROTATION], c->seconds[SLEW_ELEVATION],
           percent(c->inside.value), percent(c->inside.low), percent(c->inside.high),
           percent(c->fault.value), percent(c->keepout.value), cli_degrees(e->p05),
           cli_degrees(e->median), cli_degrees(e->p95), cli_degrees(r->median));
    if (c->usual_fault.fault != SLEW_FAULT_NONE) {
        cli_fault_name(&c->usual_fault, name);
        printf("  %s", name);
    }
    putchar('\n');
}

static void print_choices(const cli_offset *a)
{
    bool faults = false;
    for (int i = 0; i < a->offset->count; i++)
        faults |= a->offset->choice[i].fault.value > 0;
    printf(
        "  seconds           inside the target, %%      fault  keepout elevation at rest, deg   "
        "rotation%s\n"
        " rotation elevation      (95 %% interval)         %%       %%     5 %%   median    95 %%  "
        "median\n",
        faults ? "  fault, mostly" : "");
    for (int i = 0; i < a->offset->count; i++)
        print_choice(&a->offset->choice[i], i == a->offset->best);
}

/* ---- the finding ---- */

static bool is_enough(const cli_offset *a)
{
    return cli_offset_best(a)->inside.value >= a->wanted;
}

static void print_finding(const cli_offset *a)
{
    const slew_offset_choice *best = cli_offset_best(a);
    char text[CLI_SENTENCE_MAX];
    printf("\nBest: rotation %+.2f s, elevation %+.2f s, inside the target in %.2f %% of the "
           "cases.\n",
           best->seconds[SLEW_ROTATION], best->seconds[SLEW_ELEVATION],
           percent(best->inside.value));
    cli_offset_say_lead(a, text);
    print_wrapped("", text);
    if (!is_enough(a))
        printf("None of the choices is good enough: %g %% are wanted%s.\n", percent(a->wanted),
               best->inside.high < a->wanted
                   ? ""
                   : ", and the interval reaches that far; more samples would tell");
    for (int i = 0; i < a->advice_count; i++) {
        cli_offset_say(a, &a->advice[i], text);
        print_wrapped(a->advice[i].kind == SLEW_ADVICE_ENOUGH ? "" : "  - ", text);
    }
}

/* ---- other seconds ---- */

static void print_finer(const cli_offset *a)
{
    printf("\nWith other times            rotation  elevation    inside the target, %%\n"
           "                                   s          s      (95 %% interval)\n");
    for (int k = 0; k < SLEW_FINER_COUNT; k++) {
        const slew_offset_choice *c = &a->finer->at[k];
        bool stepless = !(a->finer->step[0] > 0 || a->finer->step[1] > 0);
        if (k != SLEW_FINER_ANY && stepless)
            continue;
        printf("  %-24s %+9.3f  %+9.3f    %6.2f (%6.2f to %6.2f)\n",
               cli_finer_words((slew_finer_step)k), c->seconds[SLEW_ROTATION],
               c->seconds[SLEW_ELEVATION], percent(c->inside.value), percent(c->inside.low),
               percent(c->inside.high));
    }
}

/* ---- drivers ---- */

/* a share of the variance, and how far off it may be; never a digit that is noise */
static void print_index(const slew_share *s)
{
    printf("  %5.0f +-%2.0f", percent(fmax(s->value, 0)),
           fmax(ceil(percent(s->high - s->value)), 1));
}

static void print_driver(const cli_offset *a, const slew_driver *driver, int axis)
{
    char name[CLI_DRIVER_NAME_MAX];
    slew_share alone = driver->first[axis], total = driver->total[axis];
    if (alone.value > total.value) /* by chance */
        alone = total;
    double left = sqrt(1 - fmin(fmax(alone.value, 0), 1)) * a->drivers->deviation[axis];
    cli_driver_name(a->scenario, driver, name);
    print_index(&alone);
    print_index(&total);
    printf("    %9.2f   %s\n", cli_degrees(left), name);
}

static void print_axis_drivers(const cli_offset *a, int axis)
{
    const slew_drivers *d = a->drivers;
    int order[SLEW_DRIVERS_MAX], told = 0;
    if (!(d->deviation[axis] > 0)) {
        printf("\nWhere the %s rests does not vary.\n", slew_axis_word(axis));
        return;
    }
    printf("\nWhat drives where the %s rests (best choice; %.2f deg, standard deviation %.2f deg)\n"
           "  share of the variance, %%   deviation\n"
           "     alone   with others    left, deg   what varies\n",
           slew_axis_word(axis), cli_degrees(d->mean[axis]), cli_degrees(d->deviation[axis]));
    cli_driver_order(d, axis, order);
    for (; told < d->count && d->driver[order[told]].total[axis].value >= least_told; told++)
        print_driver(a, &d->driver[order[told]], axis);
    if (told < d->count)
        printf("  %d more: below %g %% each\n", d->count - told, percent(least_told));
}

static void print_drivers(const cli_offset *a)
{
    const slew_drivers *d = a->drivers;
    if (d == NULL) {
        printf("\nWhat drives the spread is not told: %s.\n", a->why_not);
        return;
    }
    for (int j = SLEW_AXES - 1; j >= 0; j--)
        print_axis_drivers(a, j);
    printf("alone: by how much the variance falls if this is always the same, which leaves the\n"
           "deviation beside it; with others: its part together with what it acts on.\n"
           "From %d times %ld base points, %ld runs; +- at 95 %% confidence.\n",
           d->repeats, d->base, d->runs);
    if (a->scenario->correlation.count > 0)
        printf("Of keys that go together, what they share counts for the one that stands first.\n");
}

void cli_offset_text(const void *what)
{
    const cli_offset *a = what;
    print_question(a);
    print_choices(a);
    print_finding(a);
    if (a->finer != NULL)
        print_finer(a);
    print_drivers(a);
    printf("\nSimulated: it does not replace a test on the truck.\n");
}
