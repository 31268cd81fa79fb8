/* text.c - the answers of `slewtime causes` as text. */
#include "answer.h"

#include <ctype.h>
#include <inttypes.h>
#include <string.h>

#include "tell/key_words.h"
#include "tell/known.h"
#include "tell/utf8.h"

enum { PROSE = 3, NAMES = 52 };
static const double few_samples = 15;
static const char last_line[] = "Simulated: it does not replace a test on the truck.\n";

/* ---- what all of them have ---- */

void cli_causes_origin(const cli_causes *a)
{
    char known[CLI_KNOWN_WORDS_MAX];
    printf("\n%s\n  asked       %s\n", a->scenario->title, a->asked);
    cli_known_words(a->scenario, known, sizeof known);
    if (known[0] != '\0')
        printf("  known       %s\n", known);
    if (a->seen_path != NULL)
        printf("  seen        %s\n", a->seen_path);
    if (a->catalogue_path != NULL)
        printf("  catalogue   %s\n", a->catalogue_path);
    printf("%s", last_line);
}

void cli_causes_caution(void)
{
    printf("Caution: it may move. Disconnect and lock out power before hands go near.\n");
}

void cli_causes_cautions(void)
{
    printf("Before any check: a monitor can move without warning and crush. Keep people clear of "
           "it,\ndisconnect and lock out power before hands go near it, and support the barrel "
           "before anything\nthat holds it is taken apart. Batteries deliver hundreds of amperes "
           "into a short circuit.\nThe manufacturer's instructions override what is said here.\n");
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

static int count_alike(const cli_causes *a)
{
    int alike = 0;
    for (int c = 0; c < a->causes.count; c++) {
        bool is_alike = false;
        for (int other = 0; other < a->causes.count; other++)
            is_alike |= cli_looks_alike(a, c, other);
        alike += is_alike;
    }
    return alike;
}

static void print_all(const cli_causes *a)
{
    int alike = count_alike(a);
    printf("%d causes on this truck; %d of them look the same at the truck as another one.\n",
           cli_causes_count(a), alike);
    printf("--seen FILE ranks them by what was seen; --about CAUSE tells all of one.\n");
    cli_print_signatures(a);
    putchar('\n');
    print_alike(a);
    for (int c = 0; c < a->causes.count; c++)
        print_left_out(a, c);
    cli_causes_origin(a);
}

/* ---- one cause ---- */

static void print_padded(const char *text, int letters)
{
    int own = cli_utf8_count(text);
    printf("%s%*s ", text, own < letters ? letters - own : 0, "");
}

static void print_reading(const cli_causes *a, int cause, int observable)
{
    slew_signature s = cli_signature(a, cause, observable);
    char mid[64], low[64], high[64], range[160] = "";
    if (!(s.readable > 0))
        return;
    cli_signature_words(&s, observable, mid, sizeof mid);
    if (slew_observable_words(observable) == 0 && s.low < s.high) {
        cli_reading_words(observable, s.low, low, sizeof low);
        cli_reading_words(observable, s.high, high, sizeof high);
        if (strcmp(low, high) != 0)
            snprintf(range, sizeof range, "%s to %s", low, high);
    }
    const slew_observable *o = slew_observable_at(observable);
    printf("  %-*s ", NAMES, o->name);
    print_padded(mid, 22);
    print_padded(range, 22);
    printf("%s\n", o->key.path);
}

static void print_about(const cli_causes *a)
{
    char names[800];
    const slew_cause *cause = &a->catalogue.cause[a->about];
    printf("%s\n", cause->name);
    cli_cause_prose(cause);
    cli_alike_names(a, a->about, names, sizeof names);
    if (names[0] != '\0')
        cli_paragraph("  alike     ", 12, names);
    print_left_out(a, a->about);
    printf(
        "\nWhat it would look like: mostly, from 5 %% to 95 %% of the simulated days, and its name "
        "in a\nfile for --seen\n");
    for (int i = 0; i < SLEW_OBSERVABLES; i++)
        print_reading(a, a->about, i);
    putchar('\n');
    cli_causes_cautions();
    cli_causes_origin(a);
}

/* ---- what was seen ---- */

static void print_known(const cli_causes *a)
{
    for (int i = 0; i < a->seen.known.count; i++) {
        char value[64], shown[64], words[CLI_KEY_WORDS_MAX];
        const slew_override *own = &a->seen.known.item[i];
        slew_key_format_number(own->key, own->value, value, sizeof value);
        cli_key_shown(own->key, a->scenario->units, value, shown, sizeof shown);
        cli_key_words(own->key, words);
        words[0] = (char)toupper((unsigned char)words[0]);
        printf("  %-*s %s, known\n", NAMES, words, shown);
    }
}

static void print_sightings(const cli_causes *a)
{
    char value[64], sd[64];
    printf("\nWhat was seen\n");
    for (int i = 0; i < SLEW_OBSERVABLES; i++) {
        if (isnan(a->seen.value[i]))
            continue;
        cli_reading_words(i, a->seen.value[i], value, sizeof value);
        printf("  %-*s %s", NAMES, slew_observable_at(i)->name, value);
        if (slew_observable_words(i) == 0) {
            cli_reading_words(i, a->seen.sd[i], sd, sizeof sd);
            printf(" +- %s", sd);
        }
        putchar('\n');
    }
    print_known(a);
}

/* ---- what it says of the causes ---- */

/* what a chief could read aloud, in five lines at most */
static void print_answer(const cli_causes *a)
{
    char text[700];
    if (cli_wants_fit(a))
        printf("Fit first: these figures are not this truck's; a healthy one may read alike.\n");
    cli_ranking_finding(a, text, sizeof text - 1);
    strcat(text, ".");
    cli_print_wrapped(text, CLI_ANSWER_LETTERS);
    cli_next_step(a, text, sizeof text);
    if (!cli_wants_fit(a)) /* that goes first */
        cli_print_wrapped(text, CLI_ANSWER_LETTERS);
    cli_causes_caution();
}

/* what the probabilities hold for */
static void print_basis(const cli_causes *a)
{
    char line[400];
    snprintf(
        line, sizeof line,
        "+-: standard error of the simulation. Before anything was seen: none of these %.3g %%, "
        "the rest shared by the causes as common as the catalogue says.",
        100 * a->catalogue.none);
    cli_paragraph("", 0, line);
    if (!a->diagnosis.fits)
        printf("None of these: something was misread, or it is another fault, or more than one.\n");
    if (!a->scenario->fitted)
        printf("The figures are not fitted to this truck: time it (`slewtime card`), run `slewtime "
               "fit ...\n--write FILE`, and ask FILE again.\n");
}

static void warn_of_few(const cli_causes *a)
{
    int cause = a->diagnosis.ranking.order[0];
    double effective = slew_ranking_effective(&a->causes, &a->diagnosis.ranking, cause);
    char line[400];
    if (effective >= few_samples)
        return;
    snprintf(line, sizeof line,
             "Few simulated days are near what was seen: of %s about %.0f of %" PRId64
             ". Tell what is known of the day (known: {rotation.start: -30 deg}), or ask for more "
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

/* what they are called in a file for --seen: the checks that are next */
static void print_names(const cli_causes *a)
{
    const slew_diagnosis *d = &a->diagnosis;
    if (!d->fits || d->next_count == 0)
        return;
    printf("\nNames in a file for --seen (all of them: --about 'nothing wrong')\n");
    for (int i = 0; i < d->next_count && i < CLI_CHECKS_SHOWN; i++)
        printf("  %-*s %s\n", NAMES, slew_observable_at(d->next[i])->name,
               slew_observable_at(d->next[i])->key.path);
}

static void print_ranked(const cli_causes *a)
{
    print_answer(a);
    cli_print_ranking(a);
    if (a->diagnosis.fits)
        cli_print_next_checks(a);
    print_basis(a);
    warn_of_few(a);
    print_sightings(a);
    if (a->diagnosis.fits)
        print_prose(a);
    putchar('\n');
    for (int c = 0; c < a->causes.count; c++)
        print_left_out(a, c);
    cli_causes_cautions();
    print_names(a);
    cli_causes_origin(a);
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
