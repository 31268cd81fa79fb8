/* words.c - causes, signatures and findings in words. */
#include "answer.h"
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

static slew_status find_signatures(const cli_causes *a, const double *weight, slew_signature *out)
{
    slew_status status = SLEW_OK;
    for (int c = 0; c < a->causes.count; c++)
        for (int o = 0; o < SLEW_OBSERVABLES && status == SLEW_OK; o++) {
            const double *own = weight != NULL ? weight + c * a->causes.samples : NULL;
            status = slew_causes_signature(&a->causes, own, c, o, &out[c * SLEW_OBSERVABLES + o]);
        }
    return status;
}

slew_status cli_signatures_find(cli_causes *a, slew_error *error)
{
    size_t count = (size_t)a->causes.count * SLEW_OBSERVABLES;
    a->alone = calloc(count, sizeof *a->alone);
    a->weighed = calloc(count, sizeof *a->weighed);
    slew_status status = SLEW_ERROR_MEMORY;
    if (a->alone != NULL && a->weighed != NULL)
        status = find_signatures(a, NULL, a->alone);
    if (status == SLEW_OK)
        status = find_signatures(a, a->ranks ? a->diagnosis.ranking.weight : NULL, a->weighed);
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
    return a->weighed[cause * SLEW_OBSERVABLES + observable];
}

void cli_signature_words(const slew_signature *s, int observable, char *text, size_t size)
{
    bool is_word = slew_observable_words(observable) > 0;
    double value = !is_word ? s->mid : s->word < 0 ? (double)NAN : (double)s->word;
    double share = (is_word ? s->share : 1) * s->readable;
    slew_observable_format(observable, value, text, size);
    if (share < 0.995 && s->readable > 0)
        cli_append(text, size, " (%.0f %%)", 100 * share);
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

void cli_ranking_finding(const cli_causes *a, char *text, size_t size)
{
    int leaders = cli_leaders(&a->diagnosis);
    snprintf(text, size, "%s",
             a->diagnosis.fits ? "Likeliest: " : "Nothing in the catalogue fits; nearest is ");
    for (int i = 0; i < leaders; i++)
        cli_append(text, size, "%s%s (%.0f %%)",
                   i == 0             ? ""
                   : i == leaders - 1 ? " or "
                                      : ", ",
                   cli_ranked_name(a, i), cli_ranked_percent(a, i));
}
