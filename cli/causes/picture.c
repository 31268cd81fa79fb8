/* picture.c - what plots/causes.gp and plots/causes_seen.gp draw of `slewtime causes`. */
#include "answer.h"
#include "tell/units.h"

enum { NEXT_SHOWN = 6 };

static void set_headings(cli_plot *plot, const cli_causes *a, const char *finding)
{
    cli_plot_set_text(plot, "heading_1", finding);
    cli_plot_set_text(plot, "heading_2", a->scenario->title);
    cli_plot_set_text(plot, "origin", a->asked);
}

/* ---- signatures ---- */

static int count_alike(const cli_causes *a)
{
    int alike = 0;
    for (int c = 0; c < a->causes.count; c++) {
        char names[80];
        cli_alike_names(a, c, names, sizeof names);
        alike += names[0] != '\0';
    }
    return alike;
}

bool cli_signatures_fill(cli_plot *plot, const void *what)
{
    const cli_causes *a = what;
    char finding[200];
    int rows = cli_causes_count(a);
    snprintf(finding, sizeof finding,
             "What %d causes look like: %d of them look the same as another one at the truck", rows,
             count_alike(a));
    set_headings(plot, a, finding);
    cli_plot_set(plot, "rows=%d", rows);
    cli_plot_set(plot, "start=%.9g", cli_degrees(a->scenario->setup.axis[SLEW_ELEVATION].start));
    return cli_plot_table(plot, "signatures.csv", cli_signatures_table, a);
}

/* ---- the ranking ---- */

/* of several that agree alike not their names, which the bars have, but what tells them apart */
static void write_finding(const cli_causes *a, char *text, size_t size)
{
    const slew_diagnosis *d = &a->diagnosis;
    int leaders = cli_leaders(d);
    if (!d->fits || leaders == 1)
        cli_ranking_finding(a, text, size);
    else if (d->next_count > 0)
        snprintf(text, size, "%d causes agree alike; %s tells them apart best", leaders,
                 slew_observable_at(d->next[0])->key.path);
    else
        snprintf(text, size, "%d causes agree alike, and no check tells them apart", leaders);
}

bool cli_ranking_fill(cli_plot *plot, const void *what)
{
    const cli_causes *a = what;
    const slew_diagnosis *d = &a->diagnosis;
    char finding[300];
    int next = !d->fits ? 0 : d->next_count < NEXT_SHOWN ? d->next_count : NEXT_SHOWN;
    cli_plot_set(plot, "next_rows=%d", next);
    write_finding(a, finding, sizeof finding);
    set_headings(plot, a, finding);
    cli_plot_set(plot, "rows=%d", d->candidates);
    cli_plot_set(plot, "doubt=%.9g", d->ranking.bits);
    cli_plot_set(plot, "least_fit=%.9g", SLEW_FITS);
    return cli_plot_table(plot, "ranking.csv", cli_causes_table, a) &&
           cli_plot_table(plot, "next.csv", cli_next_checks_table, a);
}
