/* picture.c - what plots/feed.gp draws of `slewtime feed`. */
#include <string.h>

#include "answer.h"
#include "slewtime/slewtime.h"
#include "tell/provenance.h"
#include "tell/units.h"

enum { SHOWN_MAX = 5 };

/* the ladder of the scenario's own conductor; mm2 where it has neither */
static slew_ladder shown_ladder(const cli_feed *a)
{
    bool gauge = a->answer.setup.supply.feed.conductor == SLEW_CONDUCTOR_GAUGE;
    return gauge ? SLEW_LADDER_AWG : a->ladder[1];
}

/* the sizes around the one that is enough, but the scenario's own, which has a curve anyway */
static void set_sizes(cli_plot *plot, const cli_feed *a)
{
    slew_ladder ladder = shown_ladder(a);
    int last = slew_ladder_count(ladder) - 1, shown = 0;
    int enough = a->answer.climate[SLEW_FEED_AS_IT_IS].floor.thinnest[ladder];
    int first = enough < 0 ? last : enough - 2;
    char own[40], size[40], name[20];
    first = first > last - SHOWN_MAX + 1 ? last - SHOWN_MAX + 1 : first < 0 ? 0 : first;
    cli_feed_own_size(a, own);
    for (int i = first + SHOWN_MAX - 1; i >= first; i--) {
        cli_feed_size(ladder, i, size);
        if (strcmp(size, own) == 0)
            continue;
        snprintf(name, sizeof name, "size_%d", ++shown);
        cli_plot_set_text(plot, name, size);
    }
    cli_plot_set(plot, "sizes=%d", shown);
    cli_plot_set_text(plot, "ladder", cli_feed_ladder(ladder));
    cli_plot_set_text(plot, "own_size", own);
}

/* the finding in two lines, and what it is about */
static void set_headings(cli_plot *plot, const cli_feed *a)
{
    const slew_feed_climate *c = a->answer.climate;
    char title[CLI_FEED_TEXT_MAX], text[400], origin[CLI_PROVENANCE_MAX];
    char here[CLI_MEASURE_MAX];
    cli_feed_title(a, title);
    cli_plot_set_text(plot, "heading_1", title);
    cli_plot_set_text(plot, "heading_2", cli_feed_not_checked);
    cli_measure_words(a->scenario->units, CLI_MEASURE_TEMPERATURE, 0,
                      c[SLEW_FEED_AS_IT_IS].temperature, here);
    snprintf(text, sizeof text, "%.200s   |   %s; %s at the worst place of the travel",
             a->scenario->title, here, a->answer.together ? "both axes" : "one axis");
    cli_plot_set_text(plot, "heading_3", text);
    cli_provenance_words(a->scenario, NULL, 0, origin);
    cli_plot_set_text(plot, "origin", origin);
}

static void set_weather(cli_plot *plot, const cli_feed *a)
{
    const slew_feed_climate *c = a->answer.climate;
    slew_unit_system units = a->scenario->units;
    char text[100], hot[CLI_MEASURE_MAX];
    cli_measure_words(units, CLI_MEASURE_TEMPERATURE, 0, c[SLEW_FEED_HOT].temperature, hot);
    snprintf(text, sizeof text, "%.0f to %s",
             cli_measured(units, CLI_MEASURE_TEMPERATURE, c[SLEW_FEED_COLD].temperature), hot);
    cli_plot_set_text(plot, "weather", text);
}

bool cli_feed_fill(cli_plot *plot, const void *what)
{
    const cli_feed *a = what;
    set_headings(plot, a);
    set_sizes(plot, a);
    set_weather(plot, a);
    cli_plot_set_text(plot, "length_unit",
                      cli_measure_unit(a->scenario->units, CLI_MEASURE_LENGTH));
    cli_plot_set(plot, "length_size=%.9g",
                 1 / cli_measured(a->scenario->units, CLI_MEASURE_LENGTH, 1));
    cli_plot_set(plot, "own_length=%.9g", a->answer.setup.supply.feed.length);
    cli_plot_set(plot, "floor_voltage=%.9g", a->answer.setup.supply.floor);
    return cli_plot_table(plot, "feed.csv", cli_feed_table, a);
}
