/* tables.c - the tables of `slewtime causes` as text. */
#include "answer.h"
#include "tell/append.h"
#include "tell/table.h"
#include "tell/utf8.h"

enum { NAME = 37, COLUMNS = 3, READING = 12 };

/* ---- what each cause looks like ---- */

static const struct {
    int observable, width, decimals;
    const char *head;
} numbers[] = {
    {SLEW_SEEN_STOW_SECONDS, 5, 1, "after\ns"},
    {SLEW_SEEN_STOW_ANGLE + SLEW_ROTATION, 6, 1, "rot.\n°"},
    {SLEW_SEEN_STOW_ANGLE + SLEW_ELEVATION, 5, 1, "elev.\n°"},
    {SLEW_SEEN_DEPLOY_ANGLE + SLEW_ELEVATION, 5, 1, "depl.\n°"},
    {SLEW_SEEN_LOWEST_VOLTAGE, 4, 1, "low\nV"},
    {SLEW_SEEN_PEAK_CURRENT, 4, 0, "peak\nA"},
};

enum { NUMBERS = sizeof numbers / sizeof *numbers, DEPLOYED = 3 };

static char first_move(const cli_causes *a, int cause, int axis, const char *letters)
{
    int word = cli_signature(a, cause, SLEW_SEEN_MOVED + axis).word;
    return word < 0 ? '-' : letters[word];
}

/* "stowed", "overload E 83 %" */
static void verdict(const cli_causes *a, int cause, char *text, size_t size)
{
    slew_signature says = cli_signature(a, cause, SLEW_SEEN_STOW_SAYS);
    slew_signature fault = cli_signature(a, cause, SLEW_SEEN_STOW_FAULT);
    int axis = cli_signature(a, cause, SLEW_SEEN_STOW_AXIS).word;
    char word[32];
    bool faulted = says.word == 1;
    double share = says.share;
    if (faulted && fault.word > 0) {
        snprintf(word, sizeof word, "%s", cli_fault_short(fault.word));
        share = fault.share;
    } else
        slew_observable_format(SLEW_SEEN_STOW_SAYS, says.word, word, sizeof word);
    snprintf(text, size, "%s%s", word, faulted && axis > 0 ? (axis == 1 ? " R" : " E") : "");
    if (share < 0.995)
        cli_append(text, size, " %.0f%%", 100 * share);
}

/* the middle of a number in its unit, or a dash */
static void add_number(cli_table *t, const cli_causes *a, int cause, int column)
{
    int observable = numbers[column].observable, decimals = numbers[column].decimals;
    double mid = cli_signature(a, cause, observable).mid, scale = pow(10, decimals);
    char text[32] = "-";
    if (!isnan(mid))
        snprintf(text, sizeof text, "%.*f", decimals,
                 round(slew_observable_in_unit(observable, mid) * scale) / scale + 0.0);
    cli_table_cell(t, numbers[column].head, " %*s", numbers[column].width, text);
}

static void print_signature(cli_table *t, const cli_causes *a, int cause)
{
    char says[48];
    const char *name = cli_cause_name(a, cause);
    bool deploy_faults = cli_signature(a, cause, SLEW_SEEN_DEPLOY_SAYS).word == 1;
    int bytes = cli_utf8_cut(name, NAME), letters = cli_utf8_count(name);
    verdict(a, cause, says, sizeof says);
    cli_table_text(t, "\ncause", "%.*s%*s", bytes, name, letters < NAME ? NAME - letters : 0, "");
    cli_table_text(t, " 1st\n mv.", " %c %c", first_move(a, cause, SLEW_ROTATION, "-LR"),
                   first_move(a, cause, SLEW_ELEVATION, "-DU"));
    cli_table_text(t, "\n  controller reports", "  %-21.21s", says);
    for (int i = 0; i < NUMBERS; i++) {
        add_number(t, a, cause, i);
        if (i == DEPLOYED)
            cli_table_cell(t, NULL, deploy_faults ? "!" : " ");
    }
    cli_table_end_row(t);
}

void cli_print_signatures(const cli_causes *a)
{
    cli_table table = {.heads = 2};
    printf(
        "\n1st mv.: the first movement of rotation (R right, L left) and elevation (D down, U up); "
        "rot., elev.:\nwhere they come to rest after the stow; depl.: elevation after the deploy, "
        "! "
        "the deploy faults;\nlow: lowest voltage with a motor on; peak: highest current. R and E "
        "after a fault name its axis.\n\n");
    for (int c = 0; c < a->causes.count; c++)
        if (slew_causes_counts(&a->causes, c))
            print_signature(&table, a, c);
}

/* ---- which agree with what was seen ---- */

static void print_share(cli_table *t, double share, double sd, const char *name)
{
    cli_table_cell(t, "probability", "  %9.1f %%", 100 * fmax(share, 0));
    if (isnan(sd))
        cli_table_cell(t, NULL, "%9s", "");
    else
        cli_table_cell(t, NULL, " +- %5.1f", 100 * sd);
    cli_table_text(t, "  cause", "  %s", name);
    cli_table_end_row(t);
}

void cli_print_ranking(const cli_causes *a)
{
    const slew_ranking *r = &a->diagnosis.ranking;
    cli_table table = {.heads = 1};
    char others[64];
    double told = r->none;
    int count = a->diagnosis.candidates;
    printf("\n");
    for (int i = 0; i < count; i++) {
        int cause = r->order[i];
        told += r->share[cause];
        cli_table_cell(&table, NULL, "%3d", i + 1);
        print_share(&table, r->share[cause], r->share_sd[cause], cli_ranked_name(a, i));
    }
    cli_table_cell(&table, NULL, "%3s", "");
    print_share(&table, r->none, r->none_sd, "none of these");
    if (count == r->count)
        return;
    snprintf(others, sizeof others, "%d others together", r->count - count);
    cli_table_cell(&table, NULL, "%3s", "");
    print_share(&table, 1 - told, (double)NAN, others);
}

/* ---- what to look at next ---- */

/* in a column of so many letters, with a sign where it is cut */
static void add_reading(cli_table *t, const char *head, const char *text)
{
    int letters = cli_utf8_count(text);
    bool cut = letters > READING;
    int bytes = cli_utf8_cut(text, cut ? READING - 1 : READING);
    cli_table_text(t, head, " %.*s%s%*s", bytes, text, cut ? "…" : "",
                   letters < READING ? READING - letters : 0, "");
}

static void print_check(cli_table *t, const cli_causes *a, int index)
{
    const slew_diagnosis *d = &a->diagnosis;
    const slew_observable *o = slew_observable_at(d->next[index]);
    cli_table_text(t, "  check", "  %-52s", o->name);
    cli_table_cell(t, "min", "%4.0f", o->minutes);
    for (int i = 0; i < d->candidates && i < COLUMNS; i++) {
        char head[16], text[64];
        slew_signature s = cli_signature(a, d->ranking.order[i], d->next[index]);
        cli_signature_words(&s, d->next[index], text, sizeof text);
        snprintf(head, sizeof head, " cause %d", i + 1);
        add_reading(t, head, text);
    }
    cli_table_end_row(t);
}

void cli_print_next_checks(const cli_causes *a)
{
    const slew_diagnosis *d = &a->diagnosis;
    cli_table table = {.heads = 1};
    if (d->candidates < 2 || d->next_count == 0) {
        printf("\nNo check would tell more: %s.\n",
               d->candidates < 2 ? "one cause is left" : "what is left reads the same everywhere");
        return;
    }
    printf("\nWhat a check reads for each cause, what tells most in the least time first\n");
    for (int i = 0; i < d->next_count && i < CLI_CHECKS_SHOWN; i++)
        print_check(&table, a, i);
}
