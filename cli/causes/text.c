/* text.c - the answers of `slewtime causes` as text. */
#include "answer.h"

#include <inttypes.h>
#include <string.h>

#include "tell/known.h"
#include "tell/utf8.h"

enum { PROSE = 3 };
static const double few_samples = 15;
static const char last_line[] = "Simulated: it does not replace a test on the truck.\n";

/* ---- what all of them have ---- */

void cli_causes_head(const cli_causes *a)
{
    char known[CLI_KNOWN_WORDS_MAX];
    printf("%s\n  asked       %s\n", a->scenario->title, a->asked);
    cli_known_words(a->scenario, known, sizeof known);
    if (known[0] != '\0')
        printf("  known       %s\n", known);
    if (a->catalogue_path != NULL)
        printf("  catalogue   %s\n", a->catalogue_path);
}

void cli_causes_cautions(void)
{
    printf("Before any check: a monitor can move without warning and crush. Keep people clear of "
           "it,\nisolate its power before hands go near it, and support the barrel before "
           "anything that\nholds it is taken apart. Batteries deliver hundreds of amperes into a "
           "short circuit. The\nmaker's instructions go before what is said here.\n");
}

void cli_cause_prose(const slew_cause *cause)
{
    cli_paragraph("  means     ", 12, cause->means);
    if (cause->prove[0] != '\0')
        cli_paragraph("  prove     ", 12, cause->prove);
    if (cause->cure[0] != '\0')
        cli_paragraph("  cure      ", 12, cause->cure);
}

/* why a cause is left out, if it is */
static void print_left_out(const cli_causes *a, int cause)
{
    char line[700];
    const slew_cause_state *state = &a->causes.state[cause];
    if (slew_causes_counts(&a->causes, cause))
        return;
    if (state->idle)
        snprintf(line, sizeof line, "%s changes nothing on this scenario.",
                 cli_cause_name(a, cause));
    else
        snprintf(line, sizeof line, "%s can't be here: %s: %s.", cli_cause_name(a, cause),
                 state->reason.key, state->reason.message);
    cli_paragraph("Left out:", 12, line);
}

/* ---- all causes ---- */

/* each group of causes that look the same once, by its first */
static void print_alike(const cli_causes *a)
{
    for (int c = 0; c < a->causes.count; c++) {
        char names[800], line[900];
        bool told = false;
        for (int other = 0; other < c; other++)
            told |= cli_looks_alike(a, c, other);
        cli_alike_names(a, c, names, sizeof names);
        if (told || names[0] == '\0')
            continue;
        snprintf(line, sizeof line, "%s looks the same at the truck as %s.", cli_cause_name(a, c),
                 names);
        cli_paragraph("Alike:", 12, line);
    }
}

static void print_all(const cli_causes *a)
{
    cli_causes_head(a);
    cli_print_signatures(a);
    putchar('\n');
    print_alike(a);
    for (int c = 0; c < a->causes.count; c++)
        print_left_out(a, c);
    printf("\n%d causes; each figure is the middle one of its samples. --about CAUSE tells all of "
           "one,\n--seen FILE ranks them by what was seen.\n%s",
           cli_causes_count(a), last_line);
}

/* ---- one cause ---- */

static void print_reading(const cli_causes *a, int cause, int observable)
{
    slew_signature s = cli_signature(a, cause, observable);
    char mid[64], low[64], high[64], range[160] = "";
    if (!(s.readable > 0))
        return;
    cli_signature_words(&s, observable, mid, sizeof mid);
    if (slew_observable_words(observable) == 0 && s.low < s.high) {
        slew_observable_format(observable, s.low, low, sizeof low);
        slew_observable_format(observable, s.high, high, sizeof high);
        if (strcmp(low, high) != 0)
            snprintf(range, sizeof range, "%.*s to %s", (int)strcspn(low, " "), low, high);
    }
    const slew_key *key = &slew_observable_at(observable)->key;
    printf("  %-31s %-16s %-19s %s\n", key->path, mid, range, key->meaning);
}

static void print_about(const cli_causes *a)
{
    char names[800];
    const slew_cause *cause = &a->catalogue.cause[a->about];
    cli_causes_head(a);
    printf("\n%s\n", cause->name);
    cli_cause_prose(cause);
    cli_alike_names(a, a->about, names, sizeof names);
    if (names[0] != '\0')
        cli_paragraph("  alike     ", 12, names);
    print_left_out(a, a->about);
    printf("\nWhat it would look like: mostly, and from 5 %% to 95 %% of the samples\n");
    for (int i = 0; i < SLEW_OBSERVABLES; i++)
        print_reading(a, a->about, i);
    putchar('\n');
    cli_causes_cautions();
    printf("%s", last_line);
}

/* ---- what was seen ---- */

static void print_known(const cli_causes *a)
{
    for (int i = 0; i < a->seen.known.count; i++) {
        char value[64];
        const slew_override *own = &a->seen.known.item[i];
        slew_key_format_number(own->key, own->value, value, sizeof value);
        printf("  %-31s %s, known\n", slew_key_at(own->key)->path, value);
    }
}

static void print_sightings(const cli_causes *a)
{
    char value[64], sd[64];
    printf("  seen        %s\n\nWhat was seen\n", a->seen_path);
    for (int i = 0; i < SLEW_OBSERVABLES; i++) {
        if (isnan(a->seen.value[i]))
            continue;
        slew_observable_format(i, a->seen.value[i], value, sizeof value);
        printf("  %-31s %s", slew_observable_at(i)->key.path, value);
        if (slew_observable_words(i) == 0) {
            slew_observable_format(i, a->seen.sd[i], sd, sizeof sd);
            printf(" +- %s", sd);
        }
        putchar('\n');
    }
    print_known(a);
}

/* ---- what it says of the causes ---- */

static void print_finding(const cli_causes *a)
{
    char finding[512];
    cli_ranking_finding(a, finding, sizeof finding - 1);
    strcat(finding, ".");
    putchar('\n');
    cli_paragraph("", 0, finding);
}

static void print_misfit(const cli_causes *a)
{
    int cause = a->diagnosis.ranking.order[0];
    int observable = slew_causes_against(&a->causes, &a->seen, cause);
    char expected[64], seen[64], line[600];
    cli_paragraph(
        "", 0,
        "! What was seen is odder than all but 1 % of what that cause itself would show. "
        "Either something was misread, or what is wrong is not in the catalogue, or it is "
        "more than one thing.");
    if (observable < 0)
        return;
    slew_signature alone = cli_signature_alone(a, cause, observable);
    cli_signature_words(&alone, observable, expected, sizeof expected);
    slew_observable_format(observable, a->seen.value[observable], seen, sizeof seen);
    snprintf(line, sizeof line, "Against %s speaks %s most: seen %s, expected %s.",
             cli_cause_name(a, cause), slew_observable_at(observable)->key.path, seen, expected);
    cli_paragraph("", 0, line);
}

static void warn_of_few(const cli_causes *a)
{
    int cause = a->diagnosis.ranking.order[0];
    double effective = slew_ranking_effective(&a->causes, &a->diagnosis.ranking, cause);
    char line[400];
    if (effective >= few_samples)
        return;
    snprintf(line, sizeof line,
             "This rests on few samples: of %s only about %.0f of %" PRId64
             " are near what was seen. Tell "
             "what is known of the day (known: {rotation.start: -30 deg}), or ask for more "
             "--samples.",
             cli_cause_name(a, cause), fmax(effective, 1), a->causes.samples);
    cli_paragraph("", 0, line);
}

static void print_prose(const cli_causes *a)
{
    for (int i = 0; i < a->diagnosis.candidates && i < PROSE; i++) {
        if (cli_ranked_percent(a, i) < 10)
            continue;
        printf("\n%d %s\n", i + 1, cli_ranked_name(a, i));
        cli_cause_prose(&a->catalogue.cause[a->diagnosis.ranking.order[i]]);
    }
}

static void print_ranked(const cli_causes *a)
{
    cli_causes_head(a);
    print_sightings(a);
    cli_print_ranking(a);
    print_finding(a);
    warn_of_few(a);
    if (a->diagnosis.fits) {
        cli_print_next_checks(a);
        print_prose(a);
    } else
        print_misfit(a);
    putchar('\n');
    for (int c = 0; c < a->causes.count; c++)
        print_left_out(a, c);
    cli_causes_cautions();
    printf("%s", last_line);
}

void cli_causes_text(const void *what)
{
    const cli_causes *a = what;
    if (a->ranks)
        print_ranked(a);
    else if (a->about >= 0)
        print_about(a);
    else
        print_all(a);
}
