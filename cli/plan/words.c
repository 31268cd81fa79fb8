/* words.c - what `slewtime plan` recommends, in words. */
#include <math.h>

#include "answer.h"
#include "slewtime/slewtime.h"
#include "tell/append.h"
#include "tell/judged.h"
#include "tell/units.h"

static bool meets(const slew_plan_setting *p)
{
    return p->confirmed && p->judgment.meets == SLEW_MEETS;
}

const slew_plan_setting *cli_plan_recommended(const cli_plan *a)
{
    const slew_plan *p = &a->plan;
    if (meets(&p->best))
        return &p->best;
    return p->count > 0 && meets(&p->row[0].best) ? &p->row[0].best : NULL;
}

const slew_plan_change *cli_plan_recommended_change(const cli_plan *a)
{
    const slew_plan *p = &a->plan;
    return !meets(&p->best) && cli_plan_recommended(a) != NULL ? &p->row[0].change : NULL;
}

void cli_plan_add_seconds(const slew_plan_setting *p, char *text, size_t size)
{
    cli_append(text, size, "rotation %.4g s, elevation %.4g s", p->seconds[SLEW_ROTATION],
               p->seconds[SLEW_ELEVATION]);
}

void cli_plan_add_point(const slew_plan_setting *p, char *text, size_t size)
{
    cli_append(text, size, "rotation %.4g deg, elevation %.4g deg",
               cli_degrees(p->point[SLEW_ROTATION]), cli_degrees(p->point[SLEW_ELEVATION]));
}

const char *cli_plan_demand_words(slew_demand demand)
{
    static const char *const words[SLEW_DEMAND_COUNT] = {
        [SLEW_DEMAND_KEEPOUT] = "enters a keep-out zone",
        [SLEW_DEMAND_STOP] = "meets a hard stop",
        [SLEW_DEMAND_FAULT] = "faults otherwise",
        [SLEW_DEMAND_DEPLOY] = "deploys inside the target",
        [SLEW_DEMAND_STOW] = "stows within tolerance",
        [SLEW_DEMAND_FLOOR] = "falls below the minimum voltage"};
    return words[demand];
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

/* "set stow.home_order: rotation, elevation; teach the point at ...; set the deploy to ..." */
static void add_what_to_do(const cli_plan *a, const slew_plan_change *c, const slew_plan_setting *p,
                           char *text)
{
    char words[160];
    const size_t size = CLI_PLAN_LINE_MAX;
    if (c != NULL) {
        slew_plan_words(c, words, sizeof words);
        cli_append(text, size, "%s%s; ", c->kind == SLEW_PLAN_KEY ? "set " : "", words);
        if (c->cost >= SLEW_PLAN_COST_RETEACH)
            cli_append(text, size, "teach the stow point again; ");
    }
    if (has_moved(p)) {
        cli_append(text, size, "teach the stow point at ");
        cli_plan_add_point(p, text, size);
        cli_append(text, size, " (moved %.2f deg); ",
                   cli_degrees(hypot(p->moved[SLEW_ROTATION], p->moved[SLEW_ELEVATION])));
    }
    cli_append(text, size, has_other_seconds(a, p) ? "set the deploy to " : "keep the deploy at ");
    cli_plan_add_seconds(p, text, size);
}

void cli_plan_advice(const cli_plan *a, char text[CLI_PLAN_LINE_MAX])
{
    const slew_plan_setting *p = cli_plan_recommended(a);
    text[0] = '\0';
    if (p == NULL) {
        cli_append(text, CLI_PLAN_LINE_MAX,
                   "No single change is shown to meet all demands: do not rely on this setup.");
        return;
    }
    if (p == &a->plan.best && meets(&a->plan.today) && !has_other_seconds(a, p) && !has_moved(p)) {
        cli_append(text, CLI_PLAN_LINE_MAX, "Do: nothing; keep the deploy at ");
        cli_plan_add_seconds(p, text, CLI_PLAN_LINE_MAX);
    } else {
        cli_append(text, CLI_PLAN_LINE_MAX, "Do: ");
        add_what_to_do(a, cli_plan_recommended_change(a), p, text);
    }
    cli_append(text, CLI_PLAN_LINE_MAX, ".");
}
