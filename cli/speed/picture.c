/* picture.c - what plots/speed.gp draws of `slewtime speed`: its first occasion. */
#include <string.h>

#include "answer.h"
#include "tell/provenance.h"
#include "tell/units.h"

static void set_headings(cli_plot *plot, const cli_speed *a)
{
    char text[SLEW_TITLE_MAX + 60], origin[CLI_PROVENANCE_MAX];
    cli_speed_finding(a, 0, text, sizeof text);
    cli_plot_set_text(plot, "heading_1", text);
    char temperature[CLI_MEASURE_MAX];
    cli_measure_words(a->scenario->units, CLI_MEASURE_TEMPERATURE, 0,
                      a->answer[0].setup.environment.temperature, temperature);
    snprintf(text, sizeof text, "%s   |   %s, %s", a->scenario->title, cli_speed_when(a, 0),
             temperature);
    cli_plot_set_text(plot, "heading_2", text);
    cli_provenance_words(a->scenario, NULL, 0, origin);
    cli_plot_set_text(plot, "origin", origin);
}

/* of the levels the one whose reaction is the hardest, which is the last */
static void set_reaction(cli_plot *plot, const cli_speed *a)
{
    const slew_speed *s = &a->answer[0];
    char level[40], text[60];
    cli_speed_level(a, &s->level[s->level_count - 1], level, sizeof level);
    snprintf(text, sizeof text, "%s%s", strcmp(level, "dry") == 0 ? "" : "nozzle ", level);
    cli_plot_set_text(plot, "how", text);
}

bool cli_speed_fill(cli_plot *plot, const void *what)
{
    const cli_speed *a = what;
    const slew_setup *setup = &a->answer[0].setup;
    set_headings(plot, a);
    cli_plot_set_text(plot, "occasion", cli_speed_occasion(a, 0));
    cli_plot_set_text(plot, "axis", a->axis == SLEW_NO_AXIS ? "" : slew_axis_word(a->axis));
    set_reaction(plot, a);
    cli_plot_set(plot, "has_curves=1");
    cli_plot_set(plot, "own=%.9g", setup->supply.main.voltage);
    cli_plot_set(plot, "floor=%.9g", setup->supply.floor);
    cli_plot_set(plot, "brownout=%.9g", setup->controller.brownout_voltage);
    return cli_plot_table(plot, "speed.csv", cli_speed_table, a) &&
           cli_plot_table(plot, "curves.csv", cli_speed_curves, a);
}
