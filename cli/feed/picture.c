/* picture.c - CSV and picture of `feed`: voltage against length for each conductor; see
 * feed.h.
 */
#include <string.h>

#include "answer.h"
#include "draw/plot.h"
#include "line/exit_code.h"
#include "single/old_json.h"
#include "slewtime/slewtime.h"
#include "tell/provenance.h"
#include "tell/units.h"

enum { LENGTHS = 40, SHOWN_MAX = 5 }; /* the scenario's own length is in the middle */

static const int own_conductor = -1; /* instead of a size of a ladder */

/* ---- CSV ---- */

typedef struct row {
    slew_ladder ladder;
    int index; /* own_conductor: the scenario's */
    slew_setup setup;
} row;

static double longest(const cli_feed *a)
{
    double own = a->answer->setup.supply.feed.length;
    return own > 0 ? 2 * own : 20;
}

static void write_voltage(FILE *stream, double voltage, bool known)
{
    if (known)
        fprintf(stream, ",%.9g", voltage);
    else
        fputc(',', stream);
}

static bool all_move(const slew_feed_figures *f, bool together)
{
    return f->moves[0] && f->moves[1] && (!together || f->moves[SLEW_FEED_BOTH]);
}

/* the least voltage while running at another temperature */
static void write_climate(FILE *stream, const cli_feed *a, const slew_setup *setup,
                          slew_feed_weather weather)
{
    slew_setup other = *setup;
    slew_feed_figures f;
    other.environment.temperature = a->answer->climate[weather].temperature;
    bool known = slew_feed_ask(&other, &f, NULL) == SLEW_OK && all_move(&f, a->answer->together);
    write_voltage(stream, known ? slew_feed_lowest_running(&f, a->answer->together) : 0, known);
}

static void write_figures(FILE *stream, const cli_feed *a, const row *r)
{
    const slew_supply *supply = &r->setup.supply;
    bool together = a->answer->together;
    slew_feed_figures f;
    bool known = slew_feed_ask(&r->setup, &f, NULL) == SLEW_OK;
    bool moves = known && all_move(&f, together);
    fprintf(stream, ",%.9g", 1000 * (f.conductors + f.joints));
    write_voltage(stream, f.idle.voltage, known);
    for (int d = 0; d < SLEW_FEED_DRIVES; d++)
        write_voltage(stream, f.running[d].voltage, known && f.moves[d]);
    write_voltage(stream, slew_feed_lowest_running(&f, together), moves);
    write_climate(stream, a, &r->setup, SLEW_FEED_COLD);
    write_climate(stream, a, &r->setup, SLEW_FEED_HOT);
    write_voltage(stream, slew_feed_lowest_standing(&f, together), known);
    write_voltage(
        stream, 100 * f.running[cli_feed_lowest_drives(&f, together)].drop / supply->system, moves);
    fprintf(stream, ",%d,%d", moves, known && slew_feed_keeps(&f, together, supply->floor));
    cli_provenance_csv(stream, a->scenario, NULL, 0);
    fputc('\n', stream);
}

static void write_row(FILE *stream, const cli_feed *a, const row *r)
{
    char size[40];
    const char *ladder = r->index == own_conductor          ? "own"
                         : r->ladder == SLEW_LADDER_AWG     ? "AWG"
                         : r->ladder == SLEW_LADDER_CLASS_2 ? "class 2"
                                                            : "class 5";
    if (r->index == own_conductor)
        cli_feed_own_size(a, size);
    else
        cli_feed_size(a, r->ladder, r->index, size);
    fprintf(stream, "%s,%s,%.9g,%.9g", ladder, size,
            1000 * slew_feed_per_length(&r->setup.supply.feed), r->setup.supply.feed.length);
    write_figures(stream, a, r);
}

static void write_conductor(FILE *stream, const cli_feed *a, slew_ladder ladder, int index)
{
    row r = {ladder, index, a->answer->setup};
    if (index != own_conductor)
        slew_feed_fit(&r.setup, ladder, index);
    for (int i = 0; i <= LENGTHS; i++) {
        r.setup.supply.feed.length = longest(a) * i / LENGTHS;
        write_row(stream, a, &r);
    }
}

void cli_feed_csv(FILE *stream, const void *what)
{
    const cli_feed *a = what;
    const slew_ladder ladders[] = {SLEW_LADDER_AWG, a->metric};
    fputs("ladder,size,conductor_ohm_per_km,length_m,feed_mohm,idle_V,rotation_V,elevation_V,"
          "both_V,running_V,running_cold_V,running_hot_V,starting_V,drop_percent,moves,"
          "keeps_floor",
          stream);
    cli_provenance_csv_names(stream, NULL);
    fputc('\n', stream);
    write_conductor(stream, a, SLEW_LADDER_AWG, own_conductor);
    for (int k = 0; k < 2; k++)
        for (int i = 0; i < slew_ladder_count(ladders[k]); i++)
            write_conductor(stream, a, ladders[k], i);
}

/* ---- picture ---- */

/* the ladder of the scenario's own conductor; mm2 where it has neither */
static slew_ladder shown_ladder(const cli_feed *a)
{
    bool gauge = a->answer->setup.supply.feed.conductor == SLEW_CONDUCTOR_GAUGE;
    return gauge ? SLEW_LADDER_AWG : a->metric;
}

/* the sizes around the one that is enough, but the scenario's own, which has a curve anyway */
static void set_sizes(cli_plot *plot, const cli_feed *a)
{
    slew_ladder ladder = shown_ladder(a);
    int last = slew_ladder_count(ladder) - 1, shown = 0;
    int enough = a->answer->climate[SLEW_FEED_AS_IT_IS].floor.thinnest[ladder];
    int first = enough < 0 ? last : enough - 2;
    char own[40], size[40], name[20];
    first = first > last - SHOWN_MAX + 1 ? last - SHOWN_MAX + 1 : first < 0 ? 0 : first;
    cli_feed_own_size(a, own);
    for (int i = first + SHOWN_MAX - 1; i >= first; i--) {
        cli_feed_size(a, ladder, i, size);
        if (strcmp(size, own) == 0)
            continue;
        snprintf(name, sizeof name, "size_%d", ++shown);
        cli_plot_set_text(plot, name, size);
    }
    cli_plot_set(plot, "sizes=%d", shown);
    cli_plot_set(plot, "ladder='%s'",
                 ladder == SLEW_LADDER_AWG       ? "AWG"
                 : ladder == SLEW_LADDER_CLASS_2 ? "class 2"
                                                 : "class 5");
}

/* the finding in two lines, and what it is about */
static void set_headings(cli_plot *plot, const cli_feed *a)
{
    const slew_feed_climate *c = a->answer->climate;
    char finding[CLI_FEED_TEXT_MAX], text[400], origin[CLI_PROVENANCE_MAX];
    cli_plot_set_text(plot, "heading_2", cli_feed_finding(a, finding));
    cli_plot_set_text(plot, "heading_1", finding);
    snprintf(text, sizeof text, "%.200s   |   %.4g degC; %s at the worst place of the travel",
             a->scenario->title, cli_celsius(c[SLEW_FEED_AS_IT_IS].temperature),
             a->answer->together ? "both axes" : "one axis");
    cli_plot_set_text(plot, "heading_3", text);
    cli_provenance_words(a->scenario, NULL, 0, origin);
    cli_plot_set_text(plot, "origin", origin);
}

int cli_feed_draw(const char *path, const void *what)
{
    const cli_feed *a = what;
    const slew_feed_climate *c = a->answer->climate;
    char own[40], text[100];
    cli_plot plot;
    int code = cli_plot_open(&plot);
    if (code != CLI_OK)
        return code;
    set_headings(&plot, a);
    set_sizes(&plot, a);
    cli_feed_own_size(a, own);
    cli_plot_set_text(&plot, "own_size", own);
    snprintf(text, sizeof text, "%.4g to %.4g degC", cli_celsius(c[SLEW_FEED_COLD].temperature),
             cli_celsius(c[SLEW_FEED_HOT].temperature));
    cli_plot_set_text(&plot, "weather", text);
    cli_plot_set(&plot, "own_length=%.9g", a->answer->setup.supply.feed.length);
    cli_plot_set(&plot, "floor_voltage=%.9g", a->answer->setup.supply.floor);
    FILE *data = cli_plot_data(&plot, "feed.csv");
    if (data != NULL)
        cli_feed_csv(data, a);
    return cli_plot_close(&plot, data != NULL ? CLI_OK : CLI_OUTSIDE, "feed.gp", path);
}
