/* picture.c - see answer.h. */
#include "answer.h"

#include <inttypes.h>
#include <string.h>

#include "draw/plot.h"
#include "line/command.h"
#include "tell/csv.h"
#include "tell/units.h"

static const char *const sides[] = {"low", "high"};

/* ---- CSV ---- */

static void write_share(FILE *stream, const slew_share *s)
{
    cli_csv_number(stream, s->value);
    cli_csv_number(stream, s->low);
    cli_csv_number(stream, s->high);
}

static void write_row(FILE *stream, const slew_margin_side *side, int index,
                      const slew_margin_step *p, const cli_margin *a)
{
    double point = side->stop + (index == 0 ? p->clearance : -p->clearance);
    fprintf(stream, "%s,%.9g,%.9g,%" PRId64, sides[index], cli_degrees(p->clearance),
            cli_degrees(point), p->untaught);
    write_share(stream, &p->fault);
    write_share(stream, &p->pressed);
    write_share(stream, &p->unsafe);
    write_share(stream, &p->touched);
    write_share(stream, &p->short_of);
    write_share(stream, &p->other);
    cli_provenance_csv(stream, a->scenario, a->sampling, a->margin->samples);
    fputc('\n', stream);
}

void cli_margin_csv(FILE *stream, const void *what)
{
    const cli_margin *a = what;
    fputs("side,clearance_deg,point_deg,untaught,hard_stop,hard_stop_low,hard_stop_high,"
          "pressed,pressed_low,pressed_high,either,either_low,either_high,"
          "touches,touches_low,touches_high,too_short,too_short_low,too_short_high,"
          "other,other_low,other_high",
          stream);
    cli_provenance_csv_names(stream, a->sampling);
    fputc('\n', stream);
    for (int k = 0; k < SLEW_MARGIN_SIDES; k++)
        for (int i = 0; i < a->margin->side[k].step_count; i++)
            write_row(stream, &a->margin->side[k], k, &a->margin->side[k].step[i], a);
}

/* ---- picture ---- */

static void say_need(const slew_margin_need *n, char *text, size_t size)
{
    if (isfinite(n->enough))
        snprintf(text, size, "%.2f deg", cli_degrees(n->enough));
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
    say_need(&a->margin->side[0].need, low, sizeof low);
    say_need(&a->margin->side[1].need, high, sizeof high);
    if (strcmp(low, high) == 0)
        snprintf(text, sizeof text, "Clearance the %s needs: %s, at either stop",
                 slew_axis_word(a->question.axis), low);
    else
        snprintf(text, sizeof text, "Clearance the %s needs: low stop %s, high stop %s",
                 slew_axis_word(a->question.axis), low, high);
    cli_plot_set_text(plot, "heading_1", text);
    cli_plot_set_text(plot, "heading_2", a->scenario->title);
    cli_plot_set_text(plot, "origin", a->asked);
}

int cli_margin_draw(const char *path, const void *what)
{
    const cli_margin *a = what;
    cli_plot plot;
    int code = cli_plot_open(&plot);
    if (code != CLI_OK)
        return code;
    set_headings(&plot, a);
    cli_plot_set(&plot, "wanted=%.9g", a->question.wanted);
    for (int k = 0; k < SLEW_MARGIN_SIDES; k++) {
        const slew_margin_side *side = &a->margin->side[k];
        cli_plot_set(&plot, "has_%s=%d", sides[k], side->step_count > 0);
        cli_plot_set(&plot, "stop_%s=%.9g", sides[k], cli_degrees(side->stop));
        if (isfinite(side->need.enough))
            cli_plot_set(&plot, "enough_%s=%.9g", sides[k], cli_degrees(side->need.enough));
    }
    FILE *data = cli_plot_data(&plot, "margin.csv");
    if (data != NULL)
        cli_margin_csv(data, a);
    return cli_plot_close(&plot, data != NULL ? CLI_OK : CLI_OUTSIDE, "margin.gp", path);
}
