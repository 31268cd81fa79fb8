/* picture.c - what plots/causes.gp and plots/causes_seen.gp draw of `slewtime causes`. */
#include "answer.h"

#include <math.h>
#include <string.h>

#include "tell/append.h"
#include "tell/csv.h"
#include "tell/units.h"

enum { CHECKS_SHOWN = 4, NEAREST_SHOWN = 6 };

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
    if (!d->fits)
        snprintf(text, size, "Nothing in the catalogue fits; nearest: %s", cli_ranked_name(a, 0));
    else if (leaders == 1)
        cli_ranking_finding(a, text, size);
    else if (d->next_count > 0)
        snprintf(text, size, "%d causes agree alike; check next: %s", leaders,
                 slew_observable_at(d->next[0])->name);
    else
        snprintf(text, size, "%d causes agree alike, and no check tells them apart", leaders);
}

/* ---- the table of checks against causes ----
 * of the next checks, or where nothing fits of what was seen, which is then hatched where a cause
 * would not have it */

typedef struct checks {
    const cli_causes *answer;
    int causes; /* rows: so many of the ranking */
    int count, observable[CHECKS_SHOWN];
    bool seen;
} checks;

/* a reading that the days of a cause hardly have, as far as it is seen */
static bool is_at_odds(const cli_causes *a, int rank, int observable)
{
    int cause = a->diagnosis.ranking.order[rank];
    slew_signature s = cli_signature_alone(a, cause, observable);
    double seen = a->seen.value[observable], near = 2 * a->seen.sd[observable];
    if (!(s.readable > 0))
        return false;
    if (slew_observable_words(observable) > 0)
        return s.word != (int)seen;
    return seen < s.low - near || seen > s.high + near;
}

static int count_odds(const checks *c, int observable)
{
    int count = 0;
    for (int rank = 0; rank < c->causes; rank++)
        count += is_at_odds(c->answer, rank, observable);
    return count;
}

/* puts one that was seen in its place, those at odds with most causes first */
static void add_seen(checks *c, int observable)
{
    int place = c->count < CHECKS_SHOWN ? c->count++ : CHECKS_SHOWN;
    for (; place > 0 && count_odds(c, observable) > count_odds(c, c->observable[place - 1]);
         place--)
        if (place < CHECKS_SHOWN)
            c->observable[place] = c->observable[place - 1];
    if (place < CHECKS_SHOWN)
        c->observable[place] = observable;
}

static checks find_checks(const cli_causes *a)
{
    const slew_diagnosis *d = &a->diagnosis;
    checks c = {.answer = a, .causes = d->candidates, .seen = !d->fits};
    if (d->fits) {
        int most = d->next_count < CHECKS_SHOWN ? d->next_count : CHECKS_SHOWN;
        for (; d->candidates >= 2 && c.count < most; c.count++)
            c.observable[c.count] = d->next[c.count];
        return c;
    }
    c.causes = d->ranking.count < NEAREST_SHOWN ? d->ranking.count : NEAREST_SHOWN;
    for (int i = 0; i < SLEW_OBSERVABLES; i++)
        if (!isnan(a->seen.value[i]))
            add_seen(&c, i);
    return c;
}

typedef struct cell {
    const checks *of;
    int check, rank; /* from 0 */
} cell;

static bool is_fault(int observable)
{
    return observable == SLEW_SEEN_STOW_FAULT || observable == SLEW_SEEN_DEPLOY_FAULT;
}

/* "Resistance of the feed, by its voltage drop" up to its comma; what was seen with its value */
static void tell_check(cli_teller *t, const void *what)
{
    const cell *c = what;
    int observable = c->of->observable[c->check];
    const char *name = slew_observable_at(observable)->name;
    char text[160], seen[64];
    snprintf(text, sizeof text, "%.*s", (int)strcspn(name, ","), name);
    if (c->of->seen) {
        double value = c->of->answer->seen.value[observable];
        cli_reading_words(observable, value, seen, sizeof seen);
        if (is_fault(observable))
            snprintf(seen, sizeof seen, "%s", cli_fault_short((int)value));
        cli_append(text, sizeof text, ": %s", seen);
    }
    cli_tell_integer(t, "check", c->check + 1);
    cli_tell_text(t, "text", text);
}

static void tell_reading(cli_teller *t, const void *what)
{
    const cell *c = what;
    const cli_causes *a = c->of->answer;
    int observable = c->of->observable[c->check], cause = a->diagnosis.ranking.order[c->rank];
    char text[64];
    slew_signature s = c->of->seen ? cli_signature_alone(a, cause, observable)
                                   : cli_signature(a, cause, observable);
    cli_signature_words(&s, observable, text, sizeof text);
    if (is_fault(observable) && s.word >= 0)
        snprintf(text, sizeof text, "%s", cli_fault_short(s.word));
    cli_tell_integer(t, "check", c->check + 1);
    cli_tell_integer(t, "rank", c->rank + 1);
    cli_tell_integer(t, "odd", c->of->seen && is_at_odds(a, c->rank, observable));
    cli_tell_text(t, "text", text);
}

static void write_checks(FILE *stream, const void *what)
{
    for (cell c = {.of = what}; c.check < c.of->count; c.check++)
        cli_csv_row(stream, c.check == 0, tell_check, &c);
}

static void write_readings(FILE *stream, const void *what)
{
    for (cell c = {.of = what}; c.check < c.of->count; c.check++)
        for (c.rank = 0; c.rank < c.of->causes; c.rank++)
            cli_csv_row(stream, c.check == 0 && c.rank == 0, tell_reading, &c);
}

bool cli_ranking_fill(cli_plot *plot, const void *what)
{
    const cli_causes *a = what;
    const checks shown = find_checks(a);
    char finding[300];
    write_finding(a, finding, sizeof finding);
    set_headings(plot, a, finding);
    cli_plot_set(plot, "rows=%d", shown.causes);
    cli_plot_set(plot, "checks=%d", shown.count);
    cli_plot_set(plot, "seen=%d", shown.seen);
    cli_plot_set(plot, "least_fit=%.9g", SLEW_FITS);
    return cli_plot_table(plot, "ranking.csv", cli_causes_table, a) &&
           cli_plot_table(plot, "checks.csv", write_checks, &shown) &&
           cli_plot_table(plot, "readings.csv", write_readings, &shown);
}
