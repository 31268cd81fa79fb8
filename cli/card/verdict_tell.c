/* verdict_tell.c - a check card that was filled in, told as text, JSON and CSV. */
#include "answer.h"

#include <math.h>
#include <string.h>

#include "tell/csv.h"
#include "tell/known.h"
#include "tell/table.h"
#include "tell/timing.h"
#include "tell/utf8.h"

enum { COLUMNS = 80 };

/* ---- text ---- */

static void print_notes(const char *before, void add(const cli_card *, cli_card_notes *),
                        const cli_card *a)
{
    cli_card_notes notes = {.columns = COLUMNS};
    add(a, &notes);
    printf("%s", before);
    for (int i = 0; i < notes.count; i++)
        printf("%s\n", notes.line[i]);
}

static void print_reading(cli_table *t, const cli_card *a, const slew_card_judged *r)
{
    char what[CLI_CARD_WHAT_MAX], shown[16], from[16], to[16], by[24] = "";
    cli_verdict_what(a, r, what);
    cli_card_number(shown, sizeof shown, r->read, r->shown);
    cli_card_number(from, sizeof from, r->read, r->from);
    cli_card_number(to, sizeof to, r->read, r->to);
    if (r->off > 1)
        cli_card_number(by, sizeof by, r->read, r->outside);
    cli_table_cell(t, "line", "%4d", a->timings.row[r->row].line);
    cli_table_text(t, "  what was done", "  %-*s", 30 + (int)strlen(what) - cli_utf8_count(what),
                   what);
    cli_table_text(t, "read", "%-14s", cli_card_label(r->read));
    cli_table_cell(t, "shown", "%6s", shown);
    cli_table_text(t, "  healthy", "  %5s to %5s", from, to);
    cli_table_cell(t, "outside", "%7s", by);
    cli_table_end_row(t);
}

void cli_verdict_text(const void *what)
{
    const cli_card *a = what;
    cli_table table = {.heads = 1};
    print_notes("", cli_verdict_answer, a);
    printf("\n%s\n  readings    %s\n\n", a->scenario->title, a->readings);
    for (int i = 0; i < a->verdict.readings; i++)
        print_reading(&table, a, &a->verdict.reading[i]);
    print_notes("\n", cli_verdict_blanks, a);
    print_notes("", cli_verdict_next, a);
    printf("(%s)\n", a->asked);
}

/* ---- figures ---- */

typedef struct told {
    const cli_card *a;
    const slew_card_judged *reading;
} told;

static void tell_reading(cli_teller *t, const void *what)
{
    const told *of = what;
    const slew_card_judged *r = of->reading;
    char words[CLI_CARD_WHAT_MAX], seen[CLI_CARD_WHAT_MAX];
    cli_verdict_what(of->a, r, words);
    cli_verdict_seen(of->a, r, seen);
    cli_tell_integer(t, "line", of->a->timings.row[r->row].line);
    cli_tell_text(t, "what", words);
    cli_tell_text(t, "read", slew_card_read_word(r->read));
    cli_tell_unit(t, "unit", cli_card_unit(r->read));
    cli_tell_number(t, "shown", cli_card_in_unit(r->read, r->shown));
    cli_tell_number(t, "sd", cli_card_in_unit(r->read, r->sd));
    cli_tell_number(t, "expected", cli_card_in_unit(r->read, r->expected));
    cli_tell_number(t, "low", cli_card_in_unit(r->read, r->from));
    cli_tell_number(t, "middle", cli_card_in_unit(r->read, r->middle));
    cli_tell_number(t, "high", cli_card_in_unit(r->read, r->to));
    cli_tell_number(t, "outside", cli_card_in_unit(r->read, r->outside));
    cli_tell_number(t, "off", r->off);
    cli_tell_text(t, "seen", seen);
}

void cli_verdict_table(FILE *stream, const void *what)
{
    const cli_card *a = what;
    for (int i = 0; i < a->verdict.readings; i++)
        cli_csv_row(stream, i == 0, tell_reading, &(told){a, &a->verdict.reading[i]});
}

static void tell_blank(cli_teller *t, const slew_card_blank *blank)
{
    char words[CLI_CARD_WHAT_MAX];
    cli_card_what(&blank->step, words);
    cli_tell_open(t, NULL);
    cli_tell_text(t, "what", words);
    cli_tell_text(t, "read", slew_card_read_word(blank->read));
    cli_tell_open(t, "row");
    cli_tell_timing(t, &blank->step.row);
    cli_tell_close(t);
    cli_tell_close(t);
}

static void tell_notes(cli_teller *t, const char *name,
                       void add(const cli_card *, cli_card_notes *), const cli_card *a)
{
    cli_card_notes notes = {.columns = COLUMNS};
    add(a, &notes);
    cli_tell_open_list(t, name);
    for (int i = 0; i < notes.count; i++)
        cli_tell_text(t, NULL, notes.line[i]);
    cli_tell_close(t);
}

void cli_verdict_document(cli_teller *t, const void *what)
{
    const cli_card *a = what;
    const slew_card_verdict *v = &a->verdict;
    cli_tell_title(t, a->scenario);
    cli_tell_provenance(t, a->scenario, a->sampling, v->samples);
    if (a->sampling == NULL)
        cli_tell_known(t, a->scenario);
    cli_tell_boolean(t, "varies", v->varies);
    cli_tell_integer(t, "refused", v->refused);
    cli_tell_boolean(t, "passes", v->passes);
    cli_tell_number(t, "chance", v->chance);
    cli_tell_integer(t, "pages", v->pages);
    cli_tell_integer(t, "as_far_off", v->as_far);
    cli_tell_number(t, "all_inside", v->all_inside);
    cli_tell_integer(t, "outside", v->outside);
    cli_tell_integer(t, "worst", v->worst);
    cli_tell_open_list(t, "readings");
    for (int i = 0; i < v->readings; i++)
        cli_tell_record(t, NULL, tell_reading, &(told){a, &v->reading[i]});
    cli_tell_close(t);
    cli_tell_open_list(t, "not_filled_in");
    for (int i = 0; i < v->blanks; i++)
        tell_blank(t, &v->blank[i]);
    cli_tell_close(t);
    tell_notes(t, "next", cli_verdict_next, a);
}
