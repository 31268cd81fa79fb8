/* picture.c - what plots/margin.gp draws of `slewtime margin`. */
#include <math.h>
#include <string.h>

#include "answer.h"
#include "single/outcome_sentence.h"
#include "slewtime/slewtime.h"
#include "tell/units.h"

static void say_need(const slew_margin_need *n, char *text, size_t size)
{
    if (isfinite(n->enough))
        snprintf(text, size, "%.2f\u00B0", cli_degrees(n->enough));
    else
        snprintf(text, size, "%s",
                 n->status == SLEW_ERROR_INPUT ? "not asked"
                 : n->samples == 0             ? "can't be taught"
                 : isinf(n->enough)            ? "none is enough"
                                               : "too few samples");
}

static void set_headings(cli_plot *plot, const cli_margin *a)
{
    char text[420], low[40], high[40];
    say_need(&a->margin.side[0].need, low, sizeof low);
    say_need(&a->margin.side[1].need, high, sizeof high);
    if (strcmp(low, high) == 0)
        snprintf(text, sizeof text, "Clearance the %s needs: %s, at either stop",
                 slew_axis_word(a->question.axis), low);
    else
        snprintf(text, sizeof text, "Clearance the %s needs: low stop %s, high stop %s",
                 slew_axis_word(a->question.axis), low, high);
    cli_plot_set_text(plot, "heading_1", text);
    cli_plot_set_text(plot, "heading_2", a->scenario->title);
    cli_plot_set_text(plot, "origin", a->asked);
    cli_plot_caution(plot, cli_margin_dangers(a));
}

bool cli_margin_fill(cli_plot *plot, const void *what)
{
    const cli_margin *a = what;
    set_headings(plot, a);
    cli_plot_set(plot, "wanted=%.9g", a->question.wanted);
    for (int k = 0; k < SLEW_MARGIN_SIDES; k++) {
        const slew_margin_side *side = &a->margin.side[k];
        cli_plot_set(plot, "has_%s=%d", cli_margin_sides[k], side->step_count > 0);
        cli_plot_set(plot, "stop_%s=%.9g", cli_margin_sides[k], cli_degrees(side->stop));
        cli_plot_set_text(plot, k == 0 ? "name_low" : "name_high",
                          cli_stop_in_words(a->question.axis, k == 0 ? -1 : 1));
        if (a->scenario->stow.has_point)
            cli_plot_set(plot, "own_%s=%.9g", cli_margin_sides[k],
                         cli_degrees(fabs(a->scenario->stow.point[a->question.axis] - side->stop)));
        if (isfinite(side->need.enough))
            cli_plot_set(plot, "enough_%s=%.9g", cli_margin_sides[k],
                         cli_degrees(side->need.enough));
    }
    return cli_plot_table(plot, "margin.csv", cli_margin_table, a);
}
