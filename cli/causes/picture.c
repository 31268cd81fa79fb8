/* picture.c - the picture of `slewtime causes`: signatures row by row, or the ranking. */
#include "answer.h"

#include "draw/plot.h"
#include "line/exit_code.h"
#include "single/old_csv.h"
#include "tell/units.h"

enum { NEXT_SHOWN = 6 };

static void set_headings(cli_plot *plot, const cli_causes *a, const char *finding)
{
    cli_plot_set_text(plot, "heading_1", finding);
    cli_plot_set_text(plot, "heading_2", a->scenario->title);
    cli_plot_set_text(plot, "origin", a->asked);
}

/* ---- signatures ---- */

static void write_range(FILE *stream, const cli_causes *a, int cause, int observable)
{
    slew_signature s = cli_signature(a, cause, observable);
    const double values[] = {s.low, s.mid, s.high};
    for (int i = 0; i < 3; i++)
        if (isnan(values[i]))
            fputs(",NaN", stream);
        else
            fprintf(stream, ",%.9g", slew_observable_in_unit(observable, values[i]));
}

/* what the controller says, in one word */
static void write_verdict(FILE *stream, const cli_causes *a, int cause)
{
    char word[64];
    int fault = cli_signature(a, cause, SLEW_SEEN_STOW_FAULT).word;
    int says = cli_signature(a, cause, SLEW_SEEN_STOW_SAYS).word;
    if (fault > 0)
        slew_observable_format(SLEW_SEEN_STOW_FAULT, fault, word, sizeof word);
    else
        slew_observable_format(SLEW_SEEN_STOW_SAYS, says, word, sizeof word);
    fprintf(stream, ",%s", word);
}

static int write_signatures(FILE *stream, const cli_causes *a)
{
    int rows = 0;
    fputs("row,cause,says,seconds_p05,seconds,seconds_p95,elevation_p05,elevation,elevation_p95,"
          "voltage_p05,voltage,voltage_p95\n",
          stream);
    for (int c = 0; c < a->causes->count; c++) {
        if (!slew_causes_counts(a->causes, c))
            continue;
        fprintf(stream, "%d,", ++rows);
        cli_csv_text(stream, cli_cause_name(a, c));
        write_verdict(stream, a, c);
        write_range(stream, a, c, SLEW_SEEN_STOW_SECONDS);
        write_range(stream, a, c, SLEW_SEEN_STOW_ANGLE + SLEW_ELEVATION);
        write_range(stream, a, c, SLEW_SEEN_LOWEST_VOLTAGE);
        fputc('\n', stream);
    }
    return rows;
}

static int count_alike(const cli_causes *a)
{
    int alike = 0;
    for (int c = 0; c < a->causes->count; c++) {
        char names[80];
        cli_alike_names(a, c, names, sizeof names);
        alike += names[0] != '\0';
    }
    return alike;
}

static int draw_signatures(cli_plot *plot, const cli_causes *a, const char *path)
{
    char finding[200];
    FILE *data = cli_plot_data(plot, "signatures.csv");
    int rows = data != NULL ? write_signatures(data, a) : 0;
    snprintf(finding, sizeof finding,
             "What %d causes look like: %d of them look the same as another one at the truck", rows,
             count_alike(a));
    set_headings(plot, a, finding);
    cli_plot_set(plot, "rows=%d", rows);
    cli_plot_set(plot, "start=%.9g", cli_degrees(a->scenario->setup.axis[SLEW_ELEVATION].start));
    return cli_plot_close(plot, data != NULL ? CLI_OK : CLI_OUTSIDE, "causes.gp", path);
}

/* ---- the ranking ---- */

static void write_shares(FILE *stream, const cli_causes *a)
{
    const slew_diagnosis *d = a->diagnosis;
    fputs("row,cause,share,fit_p\n", stream);
    for (int i = 0; i < d->candidates; i++) {
        int cause = d->ranking.order[i];
        fprintf(stream, "%d,", i + 1);
        cli_csv_text(stream, cli_cause_name(a, cause));
        fprintf(stream, ",%.9g,%.9g\n", d->ranking.share[cause], d->fit[i]);
    }
}

/* of several that agree alike not their names, which the bars have, but what tells them apart */
static void write_finding(const cli_causes *a, char *text, size_t size)
{
    const slew_diagnosis *d = a->diagnosis;
    int leaders = cli_leaders(d);
    if (!d->fits || leaders == 1)
        cli_ranking_finding(a, text, size);
    else if (d->next_count > 0)
        snprintf(text, size, "%d causes agree alike; %s tells them apart best", leaders,
                 slew_observable_at(d->next[0])->key.path);
    else
        snprintf(text, size, "%d causes agree alike, and no check tells them apart", leaders);
}

static int write_next(FILE *stream, const cli_causes *a)
{
    const slew_diagnosis *d = a->diagnosis;
    int rows = !d->fits ? 0 : d->next_count < NEXT_SHOWN ? d->next_count : NEXT_SHOWN;
    fputs("row,observable,bits\n", stream);
    for (int i = 0; i < rows; i++)
        fprintf(stream, "%d,%s,%.9g\n", i + 1, slew_observable_at(d->next[i])->key.path,
                d->bits[i]);
    return rows;
}

static int draw_ranking(cli_plot *plot, const cli_causes *a, const char *path)
{
    char finding[300];
    FILE *shares = cli_plot_data(plot, "ranking.csv");
    FILE *next = shares != NULL ? cli_plot_data(plot, "next.csv") : NULL;
    if (next != NULL) {
        write_shares(shares, a);
        cli_plot_set(plot, "next_rows=%d", write_next(next, a));
    }
    write_finding(a, finding, sizeof finding);
    set_headings(plot, a, finding);
    cli_plot_set(plot, "rows=%d", a->diagnosis->candidates);
    cli_plot_set(plot, "doubt=%.9g", a->diagnosis->ranking.bits);
    cli_plot_set(plot, "least_fit=%.9g", SLEW_FITS);
    return cli_plot_close(plot, next != NULL ? CLI_OK : CLI_OUTSIDE, "causes_seen.gp", path);
}

int cli_causes_draw(const char *path, const void *what)
{
    const cli_causes *a = what;
    cli_plot plot;
    int code = cli_plot_open(&plot);
    if (code != CLI_OK)
        return code;
    return a->diagnosis != NULL ? draw_ranking(&plot, a, path) : draw_signatures(&plot, a, path);
}
