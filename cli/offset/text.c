/* text.c - the answer of `slewtime offset` as text. */
#include <inttypes.h>
#include <string.h>

#include "answer.h"
#include "frame/sampling.h"
#include "single/outcome_sentence.h"
#include "slewtime/slewtime.h"
#include "tell/append.h"
#include "tell/caution.h"
#include "tell/key_words.h"
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
        printf("  target      %-9s %.4g° to %.4g°\n", slew_axis_word(j),
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
    cli_table_text(t, "  elevation at rest, °\n  5 %", " %7.2f", cli_degrees(e->p05));
    cli_table_cell(t, "\nmedian   ", " %7.2f", cli_degrees(e->median));
    cli_table_text(t, "\n 95 %", " %7.2f", cli_degrees(e->p95));
    cli_table_cell(t, "rotation\nmedian   ", " %7.2f", cli_degrees(r->median));
    cli_table_end_row(t);
}

enum { SHOWN = 5 };

/* the place of the best choice that is not shown yet, of equals the first; -1: none */
static int next_best(const cli_offset *a, const bool *shown)
{
    const slew_offset_choice *choice = a->offset.choice;
    int best = -1;
    for (int i = 0; i < a->offset.count; i++)
        if (!shown[i] &&
            (best < 0 || slew_offset_is_better(a->scenario, &choice[i], &choice[best])))
            best = i;
    return best;
}

/* the best ones by merit, in the order in which the file has them */
static void pick_best(const cli_offset *a, bool *shown)
{
    for (int k = 0; k < SHOWN && k < a->offset.count; k++)
        shown[next_best(a, shown)] = true;
}

static void print_choices(const cli_offset *a)
{
    bool shown[SLEW_CHOICES_MAX * SLEW_CHOICES_MAX] = {false};
    cli_table table = {.heads = 2};
    int left_out = 0;
    printf("\n%s\n", a->scenario->title);
    print_target(a->scenario);
    printf("\n");
    pick_best(a, shown);
    for (int i = 0; i < a->offset.count; i++)
        if (a->all || shown[i])
            print_choice(&table, &a->offset.choice[i], i == a->offset.best);
        else
            left_out++;
    if (left_out > 0)
        printf("  --all adds %d more.\n", left_out);
}

/* ---- what was found ---- */

static void print_usual_fault(const slew_offset_choice *best)
{
    const slew_usual_fault *f = &best->usual_fault;
    if (f->fault == SLEW_FAULT_NONE)
        return;
    printf("Most faults: %s%s%s in the %s, %.2f %% of the simulated days.\n",
           f->axis != SLEW_NO_AXIS ? slew_axis_word(f->axis) : "",
           f->axis != SLEW_NO_AXIS ? " " : "", slew_fault_in_words(f->fault),
           f->in_stow ? "stow" : "deploy", cli_percent(f->share.value));
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
             "The extremes of the best choice, rotation %.2f° to %.2f° and elevation %.2f° to "
             "%.2f°, bound at least %.3f %% of all days for each axis (95 %% confidence).",
             cli_degrees(angle[SLEW_ROTATION].lowest), cli_degrees(angle[SLEW_ROTATION].highest),
             cli_degrees(angle[SLEW_ELEVATION].lowest), cli_degrees(angle[SLEW_ELEVATION].highest),
             floor(1e5 * bounded) / 1e3);
    print_sentence(text);
}

/* the first piece of advice, which says what to do; -1: none but that it is enough */
static int first_advice(const cli_offset *a)
{
    for (int i = 0; i < a->advice_count; i++)
        if (a->advice[i].kind != SLEW_ADVICE_ENOUGH)
            return i;
    return -1;
}

static void print_piece(const cli_offset *a, int index)
{
    char text[CLI_OFFSET_TEXT_MAX];
    cli_offset_say(a, &a->advice[index], text);
    print_sentence(text);
}

static void print_more_advice(const cli_offset *a)
{
    if (!advises(a, SLEW_ADVICE_FAULTS))
        print_usual_fault(a->best);
    for (int i = first_advice(a) + 1; i > 0 && i < a->advice_count; i++)
        if (a->advice[i].kind != SLEW_ADVICE_ENOUGH)
            print_piece(a, i);
}

/* which samples tell what */
static void print_samples(const cli_offset *a)
{
    char text[CLI_OFFSET_TEXT_MAX];
    if (a->offset.fresh == 0)
        return;
    snprintf(text, sizeof text,
             "The table is of the simulated days that chose; what is said of the best, the "
             "runner-up and "
             "finer seconds is of %" PRId64 " fresh ones.",
             a->offset.fresh);
    cli_paragraph("  shown", 14, text);
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
    if (left[0] == '\0')
        cli_caution_after(all);
    else
        cli_caution(left);
}

/* what a chief is to hear */
static void print_answer(const cli_offset *a)
{
    char text[CLI_OFFSET_TEXT_MAX];
    cli_offset_say_brief(a, text);
    cli_print_wrapped(text, CLI_ANSWER_LETTERS);
    cli_offset_say_incurable(a, text);
    if (text[0] != '\0')
        printf("No deploy seconds cure all of it: `slewtime plan` tries what else could.\n");
    printf("Inside the target in %.2f %% of the simulated days.\n",
           cli_percent(a->best->inside.value));
    print_caution(&a->best->judged);
}

static void print_reasons(const cli_offset *a)
{
    char text[CLI_OFFSET_TEXT_MAX], trucks[CLI_JUDGED_MAX];
    printf("\n");
    cli_offset_say_headline(a, text);
    print_sentence(text);
    cli_offset_say_incurable(a, text);
    print_if_any(text);
    if (first_advice(a) >= 0)
        print_piece(a, first_advice(a));
    cli_offset_say_why(a, text);
    print_sentence(text);
    print_more_advice(a);
    cli_trucks_words(&a->trucks, a->scenario, trucks);
    print_if_any(trucks);
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
    cli_table_cell(t, head, "    %5.0f +-%2.0f", cli_percent(fmax(fmin(s->value, most), 0)),
                   fmax(ceil(half), 1));
}

static void add_driver(cli_table *t, const slew_driver *driver, int axis)
{
    char words[CLI_KEY_WORDS_MAX];
    cli_key_words(driver->drawn.key, words);
    cli_table_text(t, "What changes the final angles most,\n% of the variance", "    %-36s %-10s",
                   words, cli_offset_of_word(&driver->drawn));
    add_index(t, "gone if it\nwere fixed", &driver->first[axis],
              fmin(driver->total[axis].value, 1));
    add_index(t, "left if only\nit varies", &driver->total[axis], 1);
}

static void print_drivers_of(cli_table *t, const cli_offset *a, int axis)
{
    const slew_drivers *d = &a->drivers;
    int told = cli_offset_told_drivers(d, axis);
    if (!cli_offset_varies(a, axis)) {
        printf("  %s does not vary: it rests at %.2f°.\n", slew_axis_word(axis),
               cli_degrees(d->mean[axis]));
        return;
    }
    printf("  %s, %.2f° on average, standard deviation %.2f°\n", slew_axis_word(axis),
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
    cli_table table = {.heads = 2};
    if (a->no_drivers != NULL) {
        printf("\nWhat changes the final angles most is not told: %s.\n", a->no_drivers);
        return;
    }
    printf("\n");
    add_driver(&table, &d->driver[0], SLEW_ROTATION);
    cli_table_heads(&table);
    for (int j = 0; j < SLEW_AXES; j++)
        print_drivers_of(&table, a, j);
    printf("  of the best choice; +- is the 95 %% interval\n");
    if (a->scenario->correlation.count > 0)
        print_sentence("  Some of these go together (correlated): each is shown here by its "
                       "independent part, in the order of the file.");
}

/* ---- the end: keys and method ---- */

static void print_end(const cli_offset *a)
{
    const slew_drivers *d = &a->drivers;
    printf("\nSimulated: it does not replace a test on the truck.\n\n");
    cli_print_spread(a->scenario);
    printf("  wanted      inside the target in %.10g %% of the simulated days\n",
           cli_percent(a->wanted));
    if (a->no_drivers == NULL)
        printf("  variance    %" PRId64 " base points in %d repeats: %" PRId64 " runs\n",
               d->base * d->repeats, d->repeats, d->runs);
    print_samples(a);
    printf("  asked       %s\n", a->asked);
}

void cli_offset_text(const void *what)
{
    const cli_offset *a = what;
    print_answer(a);
    print_choices(a);
    print_reasons(a);
    print_finer(a);
    print_drivers(a);
    print_end(a);
}
