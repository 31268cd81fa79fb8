/* picture.c - what plots/causes.gp and plots/causes_seen.gp draw of `slewtime causes`. */
#include "answer.h"

#include <string.h>

#include "tell/csv.h"
#include "tell/units.h"

enum { CHECKS_SHOWN = 4 };

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
    int rows = cli_causes_count(a), same = count_alike(a);
    char alike[80] = "; no two look the same at the truck";
    if (same > 0)
        snprintf(alike, sizeof alike, "; %d of them look the same as another one at the truck",
                 same);
    snprintf(finding, sizeof finding, "What %d causes look like%s", rows, alike);
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
        snprintf(text, size, "%d causes agree alike; check next: %s", leaders,
                 slew_observable_at(d->next[0])->name);
    else
        snprintf(text, size, "%d causes agree alike, and no check tells them apart", leaders);
}

/* ---- the table of checks against causes ---- */

static int checks_shown(const slew_diagnosis *d)
{
    if (!d->fits || d->candidates < 2)
        return 0;
    return d->next_count < CHECKS_SHOWN ? d->next_count : CHECKS_SHOWN;
}

typedef struct cell {
    const cli_causes *answer;
    int check, rank; /* from 0 */
} cell;

/* "Resistance of the feed, by its voltage drop" up to its comma */
static void tell_check(cli_teller *t, const void *what)
{
    const cell *c = what;
    const char *name = slew_observable_at(c->answer->diagnosis.next[c->check])->name;
    char text[80];
    snprintf(text, sizeof text, "%.*s", (int)strcspn(name, ","), name);
    cli_tell_integer(t, "check", c->check + 1);
    cli_tell_text(t, "text", text);
}

static void tell_reading(cli_teller *t, const void *what)
{
    const cell *c = what;
    const slew_diagnosis *d = &c->answer->diagnosis;
    char text[64];
    slew_signature s = cli_signature(c->answer, d->ranking.order[c->rank], d->next[c->check]);
    cli_signature_words(&s, d->next[c->check], text, sizeof text);
    cli_tell_integer(t, "check", c->check + 1);
    cli_tell_integer(t, "rank", c->rank + 1);
    cli_tell_text(t, "text", text);
}

static void write_checks(FILE *stream, const void *what)
{
    const cli_causes *a = what;
    for (cell c = {.answer = a}; c.check < checks_shown(&a->diagnosis); c.check++)
        cli_csv_row(stream, c.check == 0, tell_check, &c);
}

static void write_readings(FILE *stream, const void *what)
{
    const cli_causes *a = what;
    for (cell c = {.answer = a}; c.check < checks_shown(&a->diagnosis); c.check++)
        for (c.rank = 0; c.rank < a->diagnosis.candidates; c.rank++)
            cli_csv_row(stream, c.check == 0 && c.rank == 0, tell_reading, &c);
}

bool cli_ranking_fill(cli_plot *plot, const void *what)
{
    const cli_causes *a = what;
    const slew_diagnosis *d = &a->diagnosis;
    char finding[300];
    write_finding(a, finding, sizeof finding);
    set_headings(plot, a, finding);
    cli_plot_set(plot, "rows=%d", d->candidates);
    cli_plot_set(plot, "checks=%d", checks_shown(d));
    cli_plot_set(plot, "least_fit=%.9g", SLEW_FITS);
    return cli_plot_table(plot, "ranking.csv", cli_causes_table, a) &&
           cli_plot_table(plot, "checks.csv", write_checks, a) &&
           cli_plot_table(plot, "readings.csv", write_readings, a);
}
