/* words.c - causes, signatures and findings in words. */
#include "answer.h"

#include <string.h>

#include "single/outcome_sentence.h"
#include "tell/append.h"

#include <stdlib.h>

/* share beside the first, of one that leads together with it */
static const double as_likely = 0.8;

/* ---- causes ---- */

const char *cli_cause_name(const cli_causes *a, int cause)
{
    return a->catalogue.cause[cause].name;
}

int cli_causes_count(const cli_causes *a)
{
    int count = 0;
    for (int c = 0; c < a->causes.count; c++)
        count += slew_causes_counts(&a->causes, c);
    return count;
}

bool cli_looks_alike(const cli_causes *a, int cause, int other)
{
    return cause != other && a->likeness[cause * a->causes.count + other] >= SLEW_LOOKS_THE_SAME;
}

void cli_alike_names(const cli_causes *a, int cause, char *text, size_t size)
{
    text[0] = '\0';
    for (int other = 0; other < a->causes.count; other++)
        if (cli_looks_alike(a, cause, other))
            cli_append(text, size, "%s%s", text[0] != '\0' ? ", " : "", cli_cause_name(a, other));
}

/* ---- signatures ---- */

/* to be freed; with another status they are not all there */
static slew_status find_signatures(const cli_causes *a, const double *weight, slew_signature **out)
{
    *out = calloc((size_t)a->causes.count * SLEW_OBSERVABLES, sizeof **out);
    return *out != NULL ? slew_causes_signatures(&a->causes, weight, *out) : SLEW_ERROR_MEMORY;
}

slew_status cli_signatures_find(cli_causes *a, slew_error *error)
{
    slew_status status = find_signatures(a, NULL, &a->alone);
    if (status == SLEW_OK && a->ranks)
        status = find_signatures(a, a->diagnosis.ranking.weight, &a->weighed);
    *error = (slew_error){.status = status};
    return status;
}

void cli_signatures_free(cli_causes *a)
{
    free(a->alone);
    free(a->weighed);
}

slew_signature cli_signature_alone(const cli_causes *a, int cause, int observable)
{
    return a->alone[cause * SLEW_OBSERVABLES + observable];
}

slew_signature cli_signature(const cli_causes *a, int cause, int observable)
{
    const slew_signature *all = a->ranks ? a->weighed : a->alone;
    return all[cause * SLEW_OBSERVABLES + observable];
}

/* "-17.4 deg" is -17.4° */
static void shorten_degrees(char *text)
{
    char *unit = strstr(text, " deg");
    if (unit == NULL)
        return;
    memcpy(unit, "°", strlen("°"));
    memmove(unit + strlen("°"), unit + strlen(" deg"), strlen(unit + strlen(" deg")) + 1);
}

void cli_reading_words(int observable, double value, char *text, size_t size)
{
    bool is_fault = observable == SLEW_SEEN_STOW_FAULT || observable == SLEW_SEEN_DEPLOY_FAULT;
    slew_observable_format(observable, value, text, size);
    if (is_fault && !isnan(value))
        snprintf(text, size, "%s", slew_fault_in_words((slew_fault)value));
    else if (slew_observable_words(observable) == 0)
        shorten_degrees(text);
}

void cli_signature_words(const slew_signature *s, int observable, char *text, size_t size)
{
    bool is_word = slew_observable_words(observable) > 0;
    double value = !is_word ? s->mid : s->word < 0 ? (double)NAN : (double)s->word;
    double share = (is_word ? s->share : 1) * s->readable;
    cli_reading_words(observable, value, text, size);
    if (share < 0.995 && s->readable > 0)
        cli_append(text, size, " (%.0f %%)", 100 * share);
}

const char *cli_fault_short(int fault)
{
    static const char *const words[SLEW_FAULT_COUNT] = {[SLEW_FAULT_HOME_NOT_FOUND] =
                                                            "home not found",
                                                        [SLEW_FAULT_HARD_STOP] = "hard stop",
                                                        [SLEW_FAULT_OVERLOAD] = "overload",
                                                        [SLEW_FAULT_TIMEOUT] = "move too long",
                                                        [SLEW_FAULT_UNDERVOLTAGE] = "brownout",
                                                        [SLEW_FAULT_CANCELLED] = "cancelled"};
    return words[fault] != NULL ? words[fault] : "none";
}

void cli_report_words(const cli_causes *a, int cause, char *text, size_t size)
{
    int says = cli_signature(a, cause, SLEW_SEEN_STOW_SAYS).word;
    int fault = cli_signature(a, cause, SLEW_SEEN_STOW_FAULT).word;
    if (fault > 0)
        snprintf(text, size, "fault: %s", cli_fault_short(fault));
    else
        slew_observable_format(SLEW_SEEN_STOW_SAYS, says >= 0 ? says : (double)NAN, text, size);
}

/* ---- the ranking ---- */

int cli_leaders(const slew_diagnosis *d)
{
    const slew_ranking *r = &d->ranking;
    int count = 1;
    while (count < d->candidates && r->share[r->order[count]] >= as_likely * r->share[r->order[0]])
        count++;
    return count;
}

double cli_ranked_percent(const cli_causes *a, int rank)
{
    const slew_ranking *r = &a->diagnosis.ranking;
    return 100 * r->share[r->order[rank]];
}

const char *cli_ranked_name(const cli_causes *a, int rank)
{
    return cli_cause_name(a, a->diagnosis.ranking.order[rank]);
}

/* ---- the answer ---- */

enum { NAMED = 3 }; /* causes in a sentence */
static const double many_times = 1000;

/* "75 %", "more than 99 %" */
static void percent_words(double share, char text[32])
{
    if (share > 0.99)
        snprintf(text, 32, "more than 99 %%");
    else if (share < 0.01)
        snprintf(text, 32, "less than 1 %%");
    else
        snprintf(text, 32, "%.0f %%", 100 * share);
}

/* how much likelier the first is than what comes next, be it none of them */
static void add_odds(const cli_causes *a, char *text, size_t size)
{
    const slew_ranking *r = &a->diagnosis.ranking;
    double first = r->share[r->order[0]], next = r->count > 1 ? r->share[r->order[1]] : 0;
    const char *name = r->count > 1 ? cli_ranked_name(a, 1) : "";
    if (r->none > next) {
        next = r->none;
        name = "none of these causes";
    }
    double odds = first / next;
    if (!(next > 0))
        return;
    if (odds > many_times)
        cli_append(text, size, ", more than %.0f times as likely as %s", many_times, name);
    else
        cli_append(text, size, ", about %.*f times as likely as %s", odds < 3 ? 1 : 0,
                   odds < 20 ? odds : 10 * round(odds / 10), name);
}

static void add_leaders(const cli_causes *a, int leaders, char *text, size_t size)
{
    int named = leaders < NAMED ? leaders : NAMED;
    for (int i = 0; i < named; i++)
        cli_append(text, size, "%s%s (%.0f %%)",
                   i == 0             ? ""
                   : i == leaders - 1 ? " or "
                                      : ", ",
                   cli_ranked_name(a, i), cli_ranked_percent(a, i));
    if (leaders > named)
        cli_append(text, size, " or %d others alike", leaders - named);
}

void cli_ranking_finding(const cli_causes *a, char *text, size_t size)
{
    const slew_diagnosis *d = &a->diagnosis;
    int leaders = cli_leaders(d);
    char share[32];
    percent_words(d->fits ? d->ranking.share[d->ranking.order[0]] : d->ranking.none, share);
    if (d->fits && leaders == 1) {
        snprintf(text, size, "Likeliest: %s, probability %s", cli_ranked_name(a, 0), share);
        add_odds(a, text, size);
    } else if (d->fits) {
        snprintf(text, size, "Likeliest: ");
        add_leaders(a, leaders, text, size);
    } else {
        snprintf(text, size, "Nothing in the catalogue fits (%s); nearest is %s", share,
                 cli_ranked_name(a, 0));
    }
}

/* ---- what to do ---- */

bool cli_wants_fit(const cli_causes *a)
{
    return !a->diagnosis.fits && !a->scenario->fitted;
}

/* what tells most a minute, and what it reads under the first of the causes */
static void say_check(const cli_causes *a, char *text, size_t size)
{
    const slew_diagnosis *d = &a->diagnosis;
    const slew_observable *o = slew_observable_at(d->next[0]);
    snprintf(text, size, "Check next: \"%s\", %.0f minutes. It reads ", o->name, o->minutes);
    for (int i = 0; i < d->candidates && i < NAMED; i++) {
        char reads[64];
        slew_signature s = cli_signature(a, d->ranking.order[i], d->next[0]);
        cli_signature_words(&s, d->next[0], reads, sizeof reads);
        cli_append(text, size, "%s%s for cause %d", i == 0 ? "" : ", ", reads, i + 1);
    }
    cli_append(text, size, ".");
}

/* the reading that agrees least with the nearest cause */
static void say_again(const cli_causes *a, char *text, size_t size)
{
    int cause = a->diagnosis.ranking.order[0];
    int observable = slew_causes_against(&a->causes, &a->seen, cause);
    char expected[64], seen[64];
    snprintf(text, size, "Take the readings once more.");
    if (observable < 0)
        return;
    slew_signature alone = cli_signature_alone(a, cause, observable);
    cli_signature_words(&alone, observable, expected, sizeof expected);
    cli_reading_words(observable, a->seen.value[observable], seen, sizeof seen);
    snprintf(text, size, "Main evidence against it: \"%s\", seen %s, expected %s. Read it again.",
             slew_observable_at(observable)->name, seen, expected);
}

void cli_next_step(const cli_causes *a, char *text, size_t size)
{
    const slew_diagnosis *d = &a->diagnosis;
    if (!d->fits)
        say_again(a, text, size);
    else if (d->next_count > 0 && d->candidates > 1)
        say_check(a, text, size);
    else if (d->candidates > 1)
        snprintf(text, size,
                 "Check next: no check would tell them apart; prove each as said below.");
    else
        snprintf(text, size, "Check next: prove it as said below.");
}
