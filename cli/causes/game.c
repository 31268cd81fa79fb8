/*
 * game.c - `slewtime causes --draw`: a hidden fault for a trainee to find.
 *
 * Plain lines in, plain lines out: works on a terminal, from a file and through a pipe. What a
 * check reads is a sample of the hidden cause, the same for the same seed.
 */
#include "answer.h"

#include <inttypes.h>
#include <string.h>
#include <strings.h>

#include "line/suggest.h"
#include "tell/utf8.h"

enum { LINE = 256 };

typedef struct game {
    const cli_causes *a;
    int cause; /* the hidden one */
    slew_seen truth;
    bool asked[SLEW_OBSERVABLES];
    int checks, wrong;
    double minutes; /* that the checks took */
} game;

/* ---- hiding ---- */

/* a cause that counts, and a sample in which it can be */
static void hide(game *g)
{
    const slew_causes *causes = &g->a->causes;
    uint64_t seed = (uint64_t)g->a->draw;
    int nth = (int)(slew_random_unit(seed, 0, 0) * cli_causes_count(g->a));
    for (g->cause = 0; !slew_causes_counts(causes, g->cause) || nth-- > 0;)
        g->cause++;
    int64_t sample = (int64_t)(slew_random_unit(seed, 0, 1) * (double)causes->samples);
    while (isnan(slew_causes_figures(causes, g->cause, sample)[SLEW_SEEN_STOW_SAYS]))
        sample = (sample + 1) % causes->samples;
    slew_causes_observe(causes, g->cause, sample, seed, &g->truth);
}

/* ---- what is told ---- */

static void print_symptom(const game *g)
{
    printf("\nAt the truck, with eyes and a stopwatch:\n");
    for (int i = 0; i < SLEW_OBSERVABLES; i++) {
        char text[64];
        const slew_observable *row = slew_observable_at(i);
        if (row->by != SLEW_BY_EYE || isnan(g->truth.value[i]))
            continue;
        cli_reading_words(i, g->truth.value[i], text, sizeof text);
        printf("  %-36s %s\n", row->name, text);
    }
}

static void print_checks(void)
{
    printf("Checks, and the minutes that each takes:\n");
    for (int i = 0; i < SLEW_OBSERVABLES; i++)
        if (slew_observable_at(i)->by != SLEW_BY_EYE)
            printf("  %-31s %2.0f  %s\n", slew_observable_at(i)->key.path,
                   slew_observable_at(i)->minutes, slew_observable_at(i)->name);
}

static void print_causes(const game *g)
{
    printf("Causes:\n");
    for (int c = 0; c < g->a->causes.count; c++)
        if (slew_causes_counts(&g->a->causes, c))
            printf("  %s\n", cli_cause_name(g->a, c));
}

static void print_usage(void)
{
    printf("\nType the name of a check (? lists them) or of a cause (causes lists them); symptom "
           "tells it\nagain, give up tells what it is.\n");
}

static void print_reading(game *g, int check)
{
    char text[64];
    const slew_key *key = &slew_observable_at(check)->key;
    if (!g->asked[check]) {
        g->checks++;
        g->minutes += slew_observable_at(check)->minutes;
    }
    g->asked[check] = true;
    cli_reading_words(check, g->truth.value[check], text, sizeof text);
    printf("%s: %s   (%s)\n", key->path, isnan(g->truth.value[check]) ? "no reading" : text,
           key->meaning);
}

/* ---- naming a cause ---- */

static bool is_same(const game *g, int cause)
{
    return cause == g->cause || cli_looks_alike(g->a, cause, g->cause);
}

/* what has been looked at so far: the symptom and the checks asked for */
static void known_so_far(const game *g, slew_seen *seen)
{
    *seen = g->truth;
    for (int i = 0; i < SLEW_OBSERVABLES; i++)
        if (slew_observable_at(i)->by != SLEW_BY_EYE && !g->asked[i])
            seen->value[i] = NAN;
}

static void explain_wrong(const game *g, int cause)
{
    slew_seen seen;
    char own[64], expected[64], line[400];
    known_so_far(g, &seen);
    int against = slew_causes_against(&g->a->causes, &seen, cause);
    if (against < 0) {
        printf("No: what was looked at so far does not speak against it, but a check would.\n");
        return;
    }
    cli_reading_words(against, g->truth.value[against], own, sizeof own);
    slew_signature s = cli_signature(g->a, cause, against);
    cli_signature_words(&s, against, expected, sizeof expected);
    snprintf(line, sizeof line, "No: with %s, \"%s\" would mostly read %s; here it reads %s.",
             cli_cause_name(g->a, cause), slew_observable_at(against)->name, expected, own);
    cli_paragraph("", 0, line);
}

/* what was seen without the readings of the other axis than the hidden cause's, if it has one: an
 * axis that is stuck keeps the other from its way, which tells nothing of where the fault is */
static slew_seen seen_of_cause(const game *g)
{
    slew_seen seen = g->truth;
    const char *name = cli_cause_name(g->a, g->cause);
    for (int axis = 0; axis < SLEW_AXES; axis++) {
        const char *other = slew_axis_word(1 - axis);
        if (strncmp(name, slew_axis_word(axis), strlen(slew_axis_word(axis))) != 0)
            continue;
        for (int i = 0; i < SLEW_OBSERVABLES; i++)
            if (strstr(slew_observable_at(i)->key.path, other) != NULL)
                seen.value[i] = NAN;
    }
    return seen;
}

/* the reading that sets the hidden cause off from a healthy machine most */
static void explain_right(const game *g)
{
    const slew_seen seen = seen_of_cause(g);
    int healthy = slew_catalogue_find(&g->a->catalogue, "nothing wrong");
    char own[64], expected[64];
    int tells = healthy >= 0 && healthy != g->cause
                    ? slew_causes_against(&g->a->causes, &seen, healthy)
                    : -1;
    if (tells < 0)
        return;
    cli_reading_words(tells, g->truth.value[tells], own, sizeof own);
    slew_signature s = cli_signature(g->a, healthy, tells);
    cli_signature_words(&s, tells, expected, sizeof expected);
    printf("What gives it away most: \"%s\" reads %s, on a healthy machine %s.\n",
           slew_observable_at(tells)->name, own, expected);
}

static void reveal(const game *g)
{
    printf("It is: %s\n", cli_cause_name(g->a, g->cause));
    cli_cause_prose(&g->a->catalogue.cause[g->cause]);
    explain_right(g);
    cli_causes_cautions();
}

static void count_words(const game *g, char *text, size_t size)
{
    snprintf(text, size, "%d check%s (%.0f minutes), %d wrong guess%s", g->checks,
             g->checks == 1 ? "" : "s", g->minutes, g->wrong, g->wrong == 1 ? "" : "es");
}

/* true: it is named */
static bool name_cause(game *g, int cause)
{
    char counts[64];
    if (!is_same(g, cause)) {
        explain_wrong(g, cause);
        g->wrong++;
        return false;
    }
    count_words(g, counts, sizeof counts);
    printf("Right, with %s.\n", counts);
    if (cause != g->cause)
        printf("It was drawn as another one that reads the same everywhere.\n");
    reveal(g);
    return true;
}

/* ---- one line ---- */

static void trim(char *line)
{
    size_t length = strlen(line), start = strspn(line, " \t\r\n");
    while (length > start && strchr(" \t\r\n", line[length - 1]) != NULL)
        length--;
    line[length] = '\0';
    memmove(line, line + start, length - start + 1);
}

static int find_check(const char *name)
{
    for (int i = 0; i < SLEW_OBSERVABLES; i++)
        if (slew_observable_at(i)->by != SLEW_BY_EYE &&
            strcasecmp(slew_observable_at(i)->key.path, name) == 0)
            return i;
    return -1;
}

static void suggest(const game *g, const char *line)
{
    const char *names[SLEW_OBSERVABLES + SLEW_CAUSES_MAX];
    int count = 0;
    for (int i = 0; i < SLEW_OBSERVABLES; i++)
        if (slew_observable_at(i)->by != SLEW_BY_EYE)
            names[count++] = slew_observable_at(i)->key.path;
    for (int c = 0; c < g->a->causes.count; c++)
        if (slew_causes_counts(&g->a->causes, c))
            names[count++] = cli_cause_name(g->a, c);
    const char *near = cli_nearest(line, strlen(line), names, count);
    printf("Neither a check nor a cause%s%s%s\n",
           near != NULL ? "; did you mean " : ": ? and causes", near != NULL ? near : " list them",
           near != NULL ? "?" : ".");
}

/* true: the game is over */
static bool answer(game *g, const char *line)
{
    int check = find_check(line), cause = slew_catalogue_find(&g->a->catalogue, line);
    if (*line == '\0')
        return false;
    if (strcmp(line, "?") == 0)
        print_checks();
    else if (strcasecmp(line, "causes") == 0)
        print_causes(g);
    else if (strcasecmp(line, "symptom") == 0)
        print_symptom(g);
    else if (strcasecmp(line, "give up") == 0) {
        reveal(g);
        return true;
    } else if (check >= 0)
        print_reading(g, check);
    else if (cause >= 0)
        return name_cause(g, cause);
    else
        suggest(g, line);
    return false;
}

/* the rest of a line that is too long is left out */
static bool read_line(char line[LINE])
{
    if (fgets(line, LINE, stdin) == NULL)
        return false;
    if (strchr(line, '\n') == NULL)
        for (int c; (c = getchar()) != EOF && c != '\n';)
            continue;
    trim(line);
    return true;
}

void cli_causes_game(const void *what)
{
    char line[LINE], counts[64];
    game g = {.a = what};
    hide(&g);
    cli_causes_cautions();
    cli_causes_origin(g.a);
    printf("  hidden      one of %d causes, number %" PRId64 "\n", cli_causes_count(g.a),
           g.a->draw);
    print_symptom(&g);
    print_usage();
    for (;;) {
        printf("\n> ");
        fflush(stdout);
        if (!read_line(line))
            break;
        if (answer(&g, line))
            return;
    }
    count_words(&g, counts, sizeof counts);
    printf("\nThe input has ended after %s; --draw %" PRId64 " hides the same one again.\n", counts,
           g.a->draw);
}
