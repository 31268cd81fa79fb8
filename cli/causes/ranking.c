/* ranking.c - the causes ranked by what was seen, and what to look at next. */
#include "answer.h"

#include <inttypes.h>
#include <string.h>

#include "tell/utf8.h"

enum { COLUMNS = 4, CHECKS = 6, PROSE = 3, ROOM = 400 };
static const double as_likely =
    0.8; /* share beside the first, of one that leads together with it */
static const double few_samples = 15;

/* ---- the finding ---- */

int cli_leaders(const slew_diagnosis *d)
{
    const slew_ranking *r = &d->ranking;
    int count = 1;
    while (count < d->candidates && r->share[r->order[count]] >= as_likely * r->share[r->order[0]])
        count++;
    return count;
}

static double percent(const cli_causes *a, int rank)
{
    const slew_ranking *r = &a->diagnosis->ranking;
    return 100 * r->share[r->order[rank]];
}

static const char *name_of(const cli_causes *a, int rank)
{
    return cli_cause_name(a, a->diagnosis->ranking.order[rank]);
}

/* the leaders with their shares: "X (50 %) or Y (49 %)" */
static int name_leaders(const cli_causes *a, char *text, size_t size)
{
    int leaders = cli_leaders(a->diagnosis), length = 0;
    for (int i = 0; i < leaders && (size_t)length < size; i++)
        length += snprintf(text + length, size - (size_t)length, "%s%s (%.0f %%)",
                           i == 0             ? ""
                           : i == leaders - 1 ? " or "
                                              : ", ",
                           name_of(a, i), percent(a, i));
    return length;
}

void cli_ranking_finding(const cli_causes *a, char *text, size_t size)
{
    char leaders[ROOM];
    const slew_diagnosis *d = a->diagnosis;
    name_leaders(a, leaders, sizeof leaders);
    if (!d->fits)
        snprintf(text, size, "Nothing in the catalogue fits; nearest is %s", leaders);
    else
        snprintf(text, size, "Likeliest: %s", leaders);
}

/* ---- what was seen ---- */

static void print_known(const cli_causes *a)
{
    slew_scenario shown = *a->scenario;
    for (int i = 0; i < a->seen->known.count; i++) {
        char value[64];
        const slew_override *own = &a->seen->known.item[i];
        slew_scenario_set_number(&shown, SLEW_LAYER_FILE, own->key, own->value);
        slew_key_format(&shown, own->key, value, sizeof value);
        printf("  %-31s %s, known\n", slew_key_at(own->key)->path, value);
    }
}

static void print_sightings(const cli_causes *a)
{
    char value[64], sd[64];
    printf("\nWhat was seen\n");
    for (int i = 0; i < SLEW_OBSERVABLES; i++) {
        if (isnan(a->seen->value[i]))
            continue;
        slew_observable_format(i, a->seen->value[i], value, sizeof value);
        printf("  %-31s %s", slew_observable_at(i)->key.path, value);
        if (slew_observable_words(i) == 0) {
            slew_observable_format(i, a->seen->sd[i], sd, sizeof sd);
            printf(" +- %s", sd);
        }
        putchar('\n');
    }
    print_known(a);
}

/* ---- the ranking ---- */

static void print_ranking(const cli_causes *a)
{
    const slew_diagnosis *d = a->diagnosis;
    double told = 0;
    printf("\n      share  fits, p  cause\n");
    for (int i = 0; i < d->candidates; i++) {
        bool fits = d->fit[i] >= SLEW_FITS;
        told += percent(a, i);
        printf("  %d %5.1f %%  %5.3f%s  %s\n", i + 1, percent(a, i), d->fit[i], fits ? "  " : " !",
               name_of(a, i));
    }
    if (d->candidates < d->ranking.count)
        printf("    %5.1f %%           %d others together\n", fmax(100 - told, 0),
               d->ranking.count - d->candidates);
}

static void print_misfit(const cli_causes *a)
{
    const slew_ranking *r = &a->diagnosis->ranking;
    int cause = r->order[0], observable = slew_causes_against(a->causes, a->seen, cause);
    char expected[64], seen[64], line[600];
    cli_causes all = *a;
    all.diagnosis = NULL; /* as the cause alone would have it */
    cli_paragraph(
        "", 0,
        "! What was seen is odder than all but 1 % of what that cause itself would show. "
        "Either something was misread, or what is wrong is not in the catalogue, or it is "
        "more than one thing.");
    if (observable < 0)
        return;
    cli_signature_words(&all, cause, observable, expected, sizeof expected);
    slew_observable_format(observable, a->seen->value[observable], seen, sizeof seen);
    snprintf(line, sizeof line, "Against %s speaks %s most: seen %s, expected %s.",
             cli_cause_name(a, cause), slew_observable_at(observable)->key.path, seen, expected);
    cli_paragraph("", 0, line);
}

static void warn_of_few(const cli_causes *a)
{
    int cause = a->diagnosis->ranking.order[0];
    double effective = slew_ranking_effective(a->causes, &a->diagnosis->ranking, cause);
    char line[400];
    if (effective >= few_samples)
        return;
    snprintf(line, sizeof line,
             "This rests on few samples: of %s only about %.0f of %" PRId64
             " are near what was seen. Tell "
             "what is known of the day (known: {rotation.start: -30 deg}), or ask for more "
             "--samples.",
             cli_cause_name(a, cause), fmax(effective, 1), a->causes->samples);
    cli_paragraph("", 0, line);
}

/* ---- what to look at next ---- */

static void print_next_row(const cli_causes *a, int index)
{
    const slew_diagnosis *d = a->diagnosis;
    const slew_key *key = &slew_observable_at(d->next[index])->key;
    printf("  %5.2f  %-31s", d->bits[index], key->path);
    for (int i = 0; i < d->candidates && i < COLUMNS; i++) {
        char text[64];
        cli_signature_words(a, d->ranking.order[i], d->next[index], text, sizeof text);
        printf(" %-*.14s", i + 1 < d->candidates && i + 1 < COLUMNS ? 14 : 0, text);
    }
    printf("\n         (%s)\n", key->meaning);
}

static void print_next(const cli_causes *a)
{
    const slew_diagnosis *d = a->diagnosis;
    if (d->candidates < 2 || d->next_count == 0) {
        printf("\nNo check would tell more: %s.\n",
               d->candidates < 2 ? "one cause is left" : "what is left reads the same everywhere");
        return;
    }
    printf("\nWhat tells them apart best: bits of the %.2f bits of doubt, and what it reads if it "
           "is\n  bits   %-31s",
           d->ranking.bits, "look at");
    for (int i = 0; i < d->candidates && i < COLUMNS; i++)
        printf(" %-*d", i + 1 < d->candidates && i + 1 < COLUMNS ? 14 : 0, i + 1);
    putchar('\n');
    for (int i = 0; i < d->next_count && i < CHECKS; i++)
        print_next_row(a, i);
}

static void print_prose(const cli_causes *a)
{
    for (int i = 0; i < a->diagnosis->candidates && i < PROSE; i++) {
        if (percent(a, i) < 10)
            continue;
        printf("\n%d %s\n", i + 1, name_of(a, i));
        cli_cause_prose(&a->catalogue->cause[a->diagnosis->ranking.order[i]]);
    }
}

void cli_ranking_print(const cli_causes *a)
{
    char finding[ROOM + 80];
    cli_causes_head(a);
    printf("  seen        %s\n", a->seen_path);
    print_sightings(a);
    print_ranking(a);
    cli_ranking_finding(a, finding, sizeof finding);
    putchar('\n');
    strcat(finding, ".");
    cli_paragraph("", 0, finding);
    warn_of_few(a);
    if (a->diagnosis->fits) {
        print_next(a);
        print_prose(a);
    } else
        print_misfit(a);
    putchar('\n');
    for (int c = 0; c < a->causes->count; c++)
        cli_left_out(a, c);
    cli_causes_cautions();
    printf("Simulated: it does not replace a test on the truck.\n");
}
