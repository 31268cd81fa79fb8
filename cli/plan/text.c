/* text.c - `slewtime plan` as text: the answer, then today, the best setting, and the changes. */
#include <inttypes.h>
#include <math.h>
#include <stdio.h>

#include "answer.h"
#include "frame/sampling.h"
#include "tell/append.h"
#include "tell/caution.h"
#include "tell/judged.h"
#include "tell/table.h"
#include "tell/units.h"
#include "tell/utf8.h"

enum { LINE = 98 };

/* ---- the answer ---- */

enum { LINES = 5 };

/* what is left of strike and stop, even within what is allowed */
static void add_risk(const slew_judgment *j, char *text, size_t size)
{
    cli_append(text, size, "Then ");
    if (j->of[SLEW_DEMAND_KEEPOUT].asked)
        cli_append(text, size, "keep-out %.2f %%, ",
                   cli_percent(j->of[SLEW_DEMAND_KEEPOUT].missed.value));
    cli_append(text, size, "hard stop %.2f %%. ",
               cli_percent(j->of[SLEW_DEMAND_STOP].missed.value));
}

static void print_caution(const cli_plan *a)
{
    char text[CLI_JUDGED_MAX] = "", dangers[CLI_JUDGED_MAX];
    cli_judged_dangers(&a->plan.today.judgment, dangers);
    if (a->advice.is_there)
        add_risk(&a->advice.setting.judgment, text, sizeof text);
    if (dangers[0] != '\0')
        cli_append(text, sizeof text, "Caution: clear overhead, nobody near.");
    if (text[0] != '\0')
        cli_print_wrapped(text, CLI_ANSWER_LETTERS);
}

/* how it is without a change, in so many lines */
static void print_today(const cli_plan *a, int lines)
{
    const slew_plan *p = &a->plan;
    char text[CLI_JUDGED_MAX + 60], judged[CLI_JUDGED_MAX];
    cli_judged_brief(&p->today.judgment, lines * CLI_ANSWER_LETTERS - 14, judged);
    if (p->taught)
        snprintf(text, sizeof text, "Today: %s.", judged);
    else
        snprintf(text, sizeof text, "Today the stow point can't be taught: %s.",
                 p->untaught.message);
    cli_print_wrapped(text, CLI_ANSWER_LETTERS);
}

static void print_answer(const cli_plan *a)
{
    char text[CLI_PLAN_LINE_MAX], nearest[CLI_PLAN_LINE_MAX];
    cli_plan_brief(a, text);
    cli_plan_nearest(a, nearest);
    int left = LINES - 1 - cli_utf8_lines(text, CLI_ANSWER_LETTERS) -
               cli_utf8_lines(nearest, CLI_ANSWER_LETTERS);
    print_today(a, left < 2 ? 1 : 2);
    cli_print_wrapped(text, CLI_ANSWER_LETTERS);
    cli_print_wrapped(nearest, CLI_ANSWER_LETTERS);
    print_caution(a);
}

/* ---- today and the best setting ---- */

static void add_state(cli_table *t, const char *head, const slew_judgment *j, slew_demand d)
{
    static const char *const words[] = {
        [SLEW_MEETS] = "met", [SLEW_MEETS_NOT] = "NOT MET", [SLEW_NOT_TOLD] = "too few"};
    cli_table_cell(t, head, "%12.2f", cli_demand_percent(d, j->of[d].missed.value));
    cli_table_text(t, NULL, "  %-8s", words[j->of[d].meets]);
}

static void print_demands(const cli_plan *a)
{
    const slew_judgment *today = &a->plan.today.judgment, *best = &a->plan.best.judgment;
    cli_table table = {.heads = 2};
    for (int i = 0; i < SLEW_DEMAND_COUNT; i++) {
        slew_demand d = (slew_demand)i;
        if (!today->of[d].asked)
            continue;
        cli_table_text(&table, "demand\n", "  %-32s", cli_demand_words(d));
        cli_table_cell(&table, "demanded\n%", "%s %6.4g",
                       slew_demand_is_at_least(d) ? "at least" : " at most",
                       cli_demand_percent(d, today->of[d].limit));
        add_state(&table, "today\n%", today, d);
        if (best->samples > 0)
            add_state(&table, "best setting\n%", best, d);
        cli_table_end_row(&table);
    }
}

static void print_setting(const char *name, const slew_plan_setting *p)
{
    char text[300] = "";
    cli_append(text, sizeof text, "stow point ");
    cli_plan_add_point(p, text, sizeof text);
    cli_append(text, sizeof text, "; deploy ");
    cli_plan_add_seconds(p, text, sizeof text);
    double moved = hypot(p->moved[SLEW_ROTATION], p->moved[SLEW_ELEVATION]);
    if (moved > 0)
        cli_append(text, sizeof text, "; the point moved by %.4g°", cli_degrees(moved));
    printf("  %-12s %s\n", name, text);
}

/* ---- changes ---- */

static void add_shares(cli_table *t, const slew_judgment *j)
{
    static const char *const head[SLEW_DEMAND_COUNT] = {
        [SLEW_DEMAND_KEEPOUT] = "keep-\nout %",  [SLEW_DEMAND_STOP] = "hard\nstop %",
        [SLEW_DEMAND_FAULT] = "other\nfault %",  [SLEW_DEMAND_DEPLOY] = "deploy\ninside %",
        [SLEW_DEMAND_STOW] = "stow on\npoint %", [SLEW_DEMAND_FLOOR] = "below\nmin. V %"};
    for (int d = 0; d < SLEW_DEMAND_COUNT; d++)
        if (j->of[d].asked)
            cli_table_cell(t, head[d], "%9.2f",
                           cli_demand_percent((slew_demand)d, j->of[d].missed.value));
}

static void print_row(cli_table *t, const char *name, const char *cost, const slew_plan_setting *p)
{
    const char *answer = p->judgment.meets == SLEW_MEETS       ? "yes"
                         : p->judgment.meets == SLEW_MEETS_NOT ? "no"
                                                               : "?";
    cli_table_text(t, "\nchange, alone", "  %-43s", name);
    cli_table_text(t, "\ncost", " %-8s", cost);
    cli_table_text(t, "meets\nall", "  %-5s", p->confirmed ? answer : "~");
    add_shares(t, &p->judgment);
    cli_table_cell(t, "  stow point\nrot. °", "%10.2f", cli_degrees(p->point[SLEW_ROTATION]));
    cli_table_cell(t, "\nel. °", "%9.2f", cli_degrees(p->point[SLEW_ELEVATION]));
    cli_table_cell(t, "    seconds\nrot.", "%7.4g", p->seconds[SLEW_ROTATION]);
    cli_table_cell(t, "\nel.", "%7.4g", p->seconds[SLEW_ELEVATION]);
    cli_table_end_row(t);
}

/* one line for each change, the figures at the last */
static void print_together(cli_table *t, const slew_plan_together *all)
{
    char words[120];
    printf("Together:\n");
    for (int i = 0; i < all->count; i++) {
        slew_plan_plain(&all->change[i], words, sizeof words);
        if (i + 1 < all->count)
            printf("  %s\n", words);
        else
            print_row(t, words, slew_plan_cost_word(all->cost), &all->best);
    }
}

static void explain_rows(const cli_plan *a, int left_out)
{
    if (left_out > 0)
        printf("--all adds %d more changes, seen with %" PRId64 " simulated days only.\n", left_out,
               a->plan.screened);
    else
        printf("~: seen with %" PRId64 " simulated days only, not confirmed.\n", a->plan.screened);
    printf("Each change has the best point and seconds of its own. A conductor's ampacity and its "
           "fuse are\nnot checked here: code and manufacturer decide.\n");
}

static void print_changes(const cli_plan *a)
{
    const slew_plan *p = &a->plan;
    char words[120];
    int left_out = 0;
    cli_table table = {.heads = 2};
    print_row(&table, "none: today", "", &p->today);
    if (p->best.judgment.samples > 0)
        print_row(&table, "none: best point and seconds", "", &p->best);
    for (int i = 0; i < p->count; i++) {
        bool shown = a->all || p->row[i].best.confirmed;
        left_out += !shown;
        slew_plan_plain(&p->row[i].change, words, sizeof words);
        if (shown)
            print_row(&table, words, slew_plan_cost_word(p->row[i].cost), &p->row[i].best);
    }
    if (p->together.count > 0)
        print_together(&table, &p->together);
    explain_rows(a, left_out);
}

/* ---- the end: keys and method ---- */

typedef struct keys {
    int count;
    char text[900];
} keys;

#define ADD_KEY(keys, ...)                                                                         \
    (cli_append((keys)->text, sizeof(keys)->text, "%s", (keys)->count++ > 0 ? "; " : ""),          \
     cli_append((keys)->text, sizeof(keys)->text, __VA_ARGS__))

/* point and seconds that are not today's */
static void add_setting(const cli_plan *a, const slew_plan_setting *p, keys *k)
{
    const slew_plan_setting *today = &a->plan.today;
    for (int j = 0; j < SLEW_AXES; j++) {
        if (p->point[j] != today->point[j])
            ADD_KEY(k, "stow.point.%s=%.4g deg", slew_axis_word(j), cli_degrees(p->point[j]));
        if (p->seconds[j] != today->seconds[j])
            ADD_KEY(k, "deploy.seconds.%s=%.4g s", slew_axis_word(j), p->seconds[j]);
    }
}

/* of what is recommended, else of what comes nearest */
static void print_keys(const cli_plan *a)
{
    const slew_plan_advice *d = &a->advice;
    const slew_plan_together *near = &a->plan.together;
    const slew_plan_change *change = d->is_there ? d->change : near->change;
    int count = d->is_there ? d->count : near->count;
    keys k = {0};
    char key[120];
    for (int i = 0; i < count; i++) {
        slew_plan_to_set(&change[i], key, sizeof key);
        ADD_KEY(&k, "%s", key);
    }
    if (d->is_there || near->count > 0)
        add_setting(a, d->is_there ? &d->setting : &near->best, &k);
    if (k.count > 0)
        cli_paragraph("  to set      ", 14, k.text);
}

static void print_end(const cli_plan *a)
{
    printf("Simulated: it does not replace a test on the truck. Clear overhead, nobody near.\n\n");
    print_keys(a);
    cli_print_spread(a->scenario);
    printf("  asked       %s\n", a->asked);
}

void cli_plan_text(const void *what)
{
    const cli_plan *a = what;
    char trucks[CLI_JUDGED_MAX];
    print_answer(a);
    printf("\n%s\n", a->scenario->title);
    print_setting("today", &a->plan.today);
    if (a->plan.best.judgment.samples > 0)
        print_setting("best setting", &a->plan.best);
    if (a->advice.is_there)
        print_setting("to do", &a->advice.setting);
    printf("\n");
    print_demands(a);
    cli_trucks_words(&a->trucks, a->scenario, trucks);
    if (trucks[0] != '\0') {
        printf("\n");
        cli_print_wrapped(trucks, LINE);
    }
    printf("\n");
    print_changes(a);
    print_end(a);
}
