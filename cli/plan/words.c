/* words.c - what `slewtime plan` recommends, in words. */
#include <inttypes.h>
#include <math.h>
#include <string.h>

#include "answer.h"
#include "tell/append.h"
#include "tell/judged.h"
#include "tell/units.h"
#include "tell/utf8.h"

void cli_plan_add_seconds(const slew_plan_setting *p, char *text, size_t size)
{
    cli_append(text, size, "rotation %.4g s, elevation %.4g s", p->seconds[SLEW_ROTATION],
               p->seconds[SLEW_ELEVATION]);
}

void cli_plan_add_point(const slew_plan_setting *p, char *text, size_t size)
{
    cli_append(text, size, "rotation %.4g°, elevation %.4g°", cli_degrees(p->point[SLEW_ROTATION]),
               cli_degrees(p->point[SLEW_ELEVATION]));
}

static bool has_moved(const slew_plan_setting *p)
{
    return p->moved[SLEW_ROTATION] != 0 || p->moved[SLEW_ELEVATION] != 0;
}

static bool has_other_seconds(const cli_plan *a, const slew_plan_setting *p)
{
    const double *today = a->plan.today.seconds;
    return p->seconds[SLEW_ROTATION] != today[SLEW_ROTATION] ||
           p->seconds[SLEW_ELEVATION] != today[SLEW_ELEVATION];
}

static void add_change(const slew_plan_change *c, char *text)
{
    char words[160];
    slew_plan_plain(c, words, sizeof words);
    cli_append(text, CLI_PLAN_LINE_MAX, "%s%s; ", words,
               c->cost == SLEW_PLAN_COST_WIRING ? " (ampacity and fuse not checked)" : "");
}

/* something that does not fail, though so many samples do not show that it meets all; NULL: nothing
 */
static const slew_judgment *find_untold(const slew_plan *p)
{
    if (p->best.judgment.meets == SLEW_NOT_TOLD)
        return &p->best.judgment;
    bool change = p->count > 0 && p->row[0].best.judgment.meets == SLEW_NOT_TOLD;
    return change ? &p->row[0].best.judgment : NULL;
}

static void say_nothing_found(const slew_judgment *untold, char text[CLI_PLAN_LINE_MAX])
{
    int64_t enough = untold != NULL ? cli_judged_enough(untold) : -1;
    if (untold == NULL)
        cli_append(text, CLI_PLAN_LINE_MAX,
                   "Nothing that was tried meets all demands: do not rely on this setup.");
    else if (enough > 0)
        cli_append(text, CLI_PLAN_LINE_MAX,
                   "Too few simulated days to say what meets all demands: %" PRId64 " would do.",
                   enough);
    else
        cli_append(text, CLI_PLAN_LINE_MAX,
                   "Too few simulated days to say what meets all demands, nor would more do.");
}

/* some change of it needs the point taught again */
static bool teaches_again(const slew_plan_advice *d)
{
    bool again = has_moved(&d->setting);
    for (int i = 0; i < d->count; i++)
        again |= d->change[i].cost >= SLEW_PLAN_COST_RETEACH;
    return again;
}

static void add_point(const slew_plan_advice *d, char *text)
{
    const slew_plan_setting *p = &d->setting;
    if (teaches_again(d)) {
        cli_append(text, CLI_PLAN_LINE_MAX, "teach the stow point at ");
        cli_plan_add_point(p, text, CLI_PLAN_LINE_MAX);
        cli_append(text, CLI_PLAN_LINE_MAX, "; ");
    }
    if (has_moved(p))
        cli_append(text, CLI_PLAN_LINE_MAX, "that is %.2f° from the wished point; ",
                   cli_degrees(hypot(p->moved[SLEW_ROTATION], p->moved[SLEW_ELEVATION])));
}

/* ---- in a few lines ---- */

static void add_brief_point(const slew_plan_advice *d, char *text)
{
    if (!teaches_again(d))
        return;
    if (!has_moved(&d->setting)) {
        cli_append(text, CLI_PLAN_LINE_MAX, "teach the stow point again; ");
        return;
    }
    cli_append(text, CLI_PLAN_LINE_MAX, "teach the stow point at ");
    cli_plan_add_point(&d->setting, text, CLI_PLAN_LINE_MAX);
    cli_append(text, CLI_PLAN_LINE_MAX, "; ");
}

void cli_plan_brief(const cli_plan *a, char text[CLI_PLAN_LINE_MAX])
{
    const slew_plan_advice *d = &a->advice;
    bool other = has_other_seconds(a, &d->setting);
    text[0] = '\0';
    if (!d->is_there) {
        say_nothing_found(find_untold(&a->plan), text);
        return;
    }
    cli_append(text, CLI_PLAN_LINE_MAX, "Do: ");
    for (int i = 0; i < d->count; i++)
        add_change(&d->change[i], text);
    add_brief_point(d, text);
    cli_append(text, CLI_PLAN_LINE_MAX, "%s",
               other                                    ? "deploy "
               : d->count > 0 || has_moved(&d->setting) ? "keep the deploy seconds"
                                                        : "nothing, all demands are met");
    if (other)
        cli_plan_add_seconds(&d->setting, text, CLI_PLAN_LINE_MAX);
    cli_append(text, CLI_PLAN_LINE_MAX, ".");
}

/* without advice only: what comes nearest */
void cli_plan_nearest(const cli_plan *a, char text[CLI_PLAN_LINE_MAX])
{
    const slew_plan_together *t = &a->plan.together;
    char words[160], judged[CLI_JUDGED_MAX];
    text[0] = '\0';
    if (a->advice.is_there || t->count == 0)
        return;
    cli_append(text, CLI_PLAN_LINE_MAX, "Nearest: ");
    for (int i = 0; i < t->count; i++) {
        slew_plan_plain(&t->change[i], words, sizeof words);
        cli_append(text, CLI_PLAN_LINE_MAX, "%s%s", i > 0 ? " + " : "", words);
    }
    cli_judged_brief(&t->best.judgment, 2 * CLI_ANSWER_LETTERS - 12 - (int)strlen(text), judged);
    cli_append(text, CLI_PLAN_LINE_MAX, ": %s.", judged);
}

/* ---- in full ---- */

void cli_plan_advice(const cli_plan *a, char text[CLI_PLAN_LINE_MAX])
{
    const slew_plan_advice *d = &a->advice;
    bool other = has_other_seconds(a, &d->setting);
    text[0] = '\0';
    if (!d->is_there) {
        say_nothing_found(find_untold(&a->plan), text);
        return;
    }
    cli_append(text, CLI_PLAN_LINE_MAX, "Do: ");
    for (int i = 0; i < d->count; i++)
        add_change(&d->change[i], text);
    add_point(d, text);
    bool nothing = d->count == 0 && !other && !has_moved(&d->setting);
    cli_append(text, CLI_PLAN_LINE_MAX, "%s",
               nothing ? "nothing; keep the deploy at "
               : other ? "set the deploy to "
                       : "keep the deploy at ");
    cli_plan_add_seconds(&d->setting, text, CLI_PLAN_LINE_MAX);
    cli_append(text, CLI_PLAN_LINE_MAX, ".");
}
