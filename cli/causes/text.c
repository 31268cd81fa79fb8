/* text.c - the table of signatures, and all about one cause. */
#include "answer.h"

#include <math.h>
#include <string.h>

#include "tell/utf8.h"

enum { NAME = 38 }; /* columns of a cause in the table */

/* ---- words ---- */

const char *cli_cause_name(const cli_causes *a, int cause)
{
    return a->catalogue->cause[cause].name;
}

slew_signature cli_signature(const cli_causes *a, int cause, int observable)
{
    slew_signature s;
    const double *weight =
        a->diagnosis != NULL ? a->diagnosis->ranking.weight + cause * a->causes->samples : NULL;
    if (slew_causes_signature(a->causes, weight, cause, observable, &s) != SLEW_OK)
        return (slew_signature){.low = NAN, .mid = NAN, .high = NAN, .word = -1};
    return s;
}

void cli_signature_words(const cli_causes *a, int cause, int observable, char *text, size_t size)
{
    slew_signature s = cli_signature(a, cause, observable);
    bool is_word = slew_observable_words(observable) > 0;
    double value = !is_word ? s.mid : s.word < 0 ? (double)NAN : (double)s.word;
    int length = slew_observable_format(observable, value, text, size);
    double share = (is_word ? s.share : 1) * s.readable;
    if (share < 0.995 && s.readable > 0 && length > 0 && (size_t)length < size)
        snprintf(text + length, size - (size_t)length, " (%.0f %%)", 100 * share);
}

void cli_alike_names(const cli_causes *a, int cause, char *text, size_t size)
{
    int count = a->causes->count, length = 0;
    text[0] = '\0';
    for (int other = 0; other < count && (size_t)length < size; other++)
        if (other != cause && a->likeness[cause * count + other] >= SLEW_LOOKS_THE_SAME)
            length += snprintf(text + length, size - (size_t)length, "%s%s", length > 0 ? ", " : "",
                               cli_cause_name(a, other));
}

void cli_causes_cautions(void)
{
    printf("Before any check: a monitor can move without warning and crush. Keep people clear of "
           "it,\nisolate its power before hands go near it, and support the barrel before "
           "anything that\nholds it is taken apart. Batteries deliver hundreds of amperes into a "
           "short circuit. The\nmaker's instructions go before what is said here.\n");
}

void cli_causes_head(const cli_causes *a)
{
    printf("%s\n  asked       %s\n", a->scenario->title, a->asked);
    if (a->catalogue_path != NULL)
        printf("  catalogue   %s\n", a->catalogue_path);
}

/* ---- the table ---- */

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
        slew_observable_format(SLEW_SEEN_STOW_FAULT, fault.word, word, sizeof word);
        share = fault.share;
    } else
        slew_observable_format(SLEW_SEEN_STOW_SAYS, says.word, word, sizeof word);
    int length =
        snprintf(text, size, "%s%s", word, faulted && axis > 0 ? (axis == 1 ? " R" : " E") : "");
    if (share < 0.995 && (size_t)length < size)
        snprintf(text + length, size - (size_t)length, " %.0f%%", 100 * share);
}

/* the middle of a number in its unit, or a dash */
static void number(const cli_causes *a, int cause, int observable, int width, int decimals)
{
    double mid = cli_signature(a, cause, observable).mid;
    double scale = pow(10, decimals);
    if (isnan(mid))
        printf(" %*s", width, "-");
    else
        printf(" %*.*f", width, decimals,
               round(slew_observable_in_unit(observable, mid) * scale) / scale + 0.0);
}

static void print_row(const cli_causes *a, int cause)
{
    char says[48];
    const char *name = cli_cause_name(a, cause);
    verdict(a, cause, says, sizeof says);
    int bytes = cli_utf8_cut(name, NAME);
    printf("%.*s%*s %c %c  %-20.20s", bytes, name, NAME - bytes > 0 ? NAME - bytes : 0, "",
           first_move(a, cause, SLEW_ROTATION, "-LR"), first_move(a, cause, SLEW_ELEVATION, "-DU"),
           says);
    number(a, cause, SLEW_SEEN_STOW_SECONDS, 5, 1);
    number(a, cause, SLEW_SEEN_STOW_ANGLE + SLEW_ROTATION, 6, 1);
    number(a, cause, SLEW_SEEN_STOW_ANGLE + SLEW_ELEVATION, 5, 1);
    number(a, cause, SLEW_SEEN_DEPLOY_ANGLE + SLEW_ELEVATION, 5, 1);
    putchar(cli_signature(a, cause, SLEW_SEEN_DEPLOY_SAYS).word == 1 ? '!' : ' ');
    number(a, cause, SLEW_SEEN_LOWEST_VOLTAGE, 4, 1);
    number(a, cause, SLEW_SEEN_PEAK_CURRENT, 4, 0);
    putchar('\n');
}

void cli_left_out(const cli_causes *a, int cause)
{
    char line[700];
    const slew_cause_state *state = &a->causes->state[cause];
    if (slew_causes_counts(a->causes, cause))
        return;
    if (state->idle)
        snprintf(line, sizeof line, "%s changes nothing on this scenario.",
                 cli_cause_name(a, cause));
    else
        snprintf(line, sizeof line, "%s can't be here: %s: %s.", cli_cause_name(a, cause),
                 state->reason.key, state->reason.message);
    cli_paragraph("Left out:", 12, line);
}

/* each group of causes that look the same once, by its first */
static void print_alike(const cli_causes *a)
{
    int count = a->causes->count;
    for (int c = 0; c < count; c++) {
        char names[800], line[900];
        bool told = false;
        for (int other = 0; other < c; other++)
            told |= a->likeness[c * count + other] >= SLEW_LOOKS_THE_SAME;
        cli_alike_names(a, c, names, sizeof names);
        if (told || names[0] == '\0')
            continue;
        snprintf(line, sizeof line, "%s looks the same at the truck as %s.", cli_cause_name(a, c),
                 names);
        cli_paragraph("Alike:", 12, line);
    }
}

static int count_told(const cli_causes *a)
{
    int told = 0;
    for (int c = 0; c < a->causes->count; c++)
        told += slew_causes_counts(a->causes, c);
    return told;
}

static void print_columns(void)
{
    static const char row[] = "%-*s %-3s  %-20s %5s %6s %5s %5s  %4s %4s\n";
    printf(
        "\n1st mv.: the first movement of rotation (R right, L left) and elevation (D down, U up); "
        "rot., elev.:\nwhere they rest after the stow; depl.: elevation after the deploy, ! the "
        "deploy faults; low:\nlowest voltage while driven; peak: highest current. R and E "
        "after a fault name its axis.\n\n");
    printf(row, NAME, "", "1st", "", "after", "rot.", "elev.", "depl.", "low", "peak");
    printf(row, NAME, "cause", "mv.", "the controller says", "s", "deg", "deg", "deg", "V", "A");
}

static void print_table(const cli_causes *a)
{
    cli_causes_head(a);
    print_columns();
    for (int c = 0; c < a->causes->count; c++)
        if (slew_causes_counts(a->causes, c))
            print_row(a, c);
    putchar('\n');
    print_alike(a);
    for (int c = 0; c < a->causes->count; c++)
        cli_left_out(a, c);
    printf("\n%d causes; each figure is the middle one of its samples. --about CAUSE tells all of "
           "one,\n--seen FILE ranks them by what was seen.\n"
           "Simulated: it does not replace a test on the truck.\n",
           count_told(a));
}

/* ---- one cause ---- */

static void print_reading(const cli_causes *a, int cause, int observable)
{
    slew_signature s = cli_signature(a, cause, observable);
    char mid[64], low[64], high[64], range[160] = "";
    if (!(s.readable > 0))
        return;
    cli_signature_words(a, cause, observable, mid, sizeof mid);
    if (slew_observable_words(observable) == 0 && s.low < s.high) {
        slew_observable_format(observable, s.low, low, sizeof low);
        slew_observable_format(observable, s.high, high, sizeof high);
        if (strcmp(low, high) != 0)
            snprintf(range, sizeof range, "%.*s to %s", (int)strcspn(low, " "), low, high);
    }
    const slew_key *key = &slew_observable_at(observable)->key;
    printf("  %-31s %-16s %-19s %s\n", key->path, mid, range, key->meaning);
}

void cli_cause_prose(const slew_cause *cause)
{
    cli_paragraph("  means     ", 12, cause->means);
    if (cause->prove[0] != '\0')
        cli_paragraph("  prove     ", 12, cause->prove);
    if (cause->cure[0] != '\0')
        cli_paragraph("  cure      ", 12, cause->cure);
}

static void print_about(const cli_causes *a)
{
    char names[800];
    const slew_cause *cause = &a->catalogue->cause[a->about];
    cli_causes_head(a);
    printf("\n%s\n", cause->name);
    cli_cause_prose(cause);
    cli_alike_names(a, a->about, names, sizeof names);
    if (names[0] != '\0')
        cli_paragraph("  alike     ", 12, names);
    cli_left_out(a, a->about);
    printf("\nWhat it would look like: mostly, and from 5 %% to 95 %% of the samples\n");
    for (int i = 0; i < SLEW_OBSERVABLES; i++)
        print_reading(a, a->about, i);
    putchar('\n');
    cli_causes_cautions();
    printf("Simulated: it does not replace a test on the truck.\n");
}

void cli_causes_print(const void *what)
{
    const cli_causes *a = what;
    if (a->diagnosis != NULL)
        cli_ranking_print(a);
    else if (a->about >= 0)
        print_about(a);
    else
        print_table(a);
}
