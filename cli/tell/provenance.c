/* provenance.c - see provenance.h. */
#include "provenance.h"

#include <inttypes.h>

static const char *points_word(const slew_sampling *sampling)
{
    return sampling->points == SLEW_SOBOL ? "sobol" : "independent";
}

void cli_provenance_hash(const slew_scenario *scenario, char text[CLI_HASH_MAX])
{
    snprintf(text, CLI_HASH_MAX, "%016" PRIx64, slew_scenario_hash(scenario));
}

void cli_provenance_words(const slew_scenario *scenario, const slew_sampling *sampling,
                          int64_t done, char text[CLI_PROVENANCE_MAX])
{
    char hash[CLI_HASH_MAX];
    cli_provenance_hash(scenario, hash);
    if (sampling == NULL)
        snprintf(text, CLI_PROVENANCE_MAX, "scenario %s", hash);
    else if (sampling->points == SLEW_SOBOL)
        snprintf(text, CLI_PROVENANCE_MAX,
                 "%" PRId64 " samples (Sobol points in %d shifts), seed %" PRIu64 ", scenario %s",
                 done, sampling->shifts, sampling->seed, hash);
    else
        snprintf(text, CLI_PROVENANCE_MAX,
                 "%" PRId64 " independent samples, seed %" PRIu64 ", scenario %s", done,
                 sampling->seed, hash);
}

void cli_provenance_json(json_t *document, const slew_scenario *scenario,
                         const slew_sampling *sampling, int64_t done)
{
    char hash[CLI_HASH_MAX];
    cli_provenance_hash(scenario, hash);
    json_object_set_new(document, "scenario", json_string(hash));
    if (sampling == NULL)
        return;
    json_object_set_new(document, "samples", json_integer(done));
    json_object_set_new(document, "seed", json_integer((json_int_t)sampling->seed));
    json_object_set_new(document, "points", json_string(points_word(sampling)));
}

void cli_provenance_csv_names(FILE *stream, const slew_sampling *sampling)
{
    fputs(sampling != NULL ? ",scenario,samples,seed,points" : ",scenario", stream);
}

void cli_provenance_csv(FILE *stream, const slew_scenario *scenario, const slew_sampling *sampling,
                        int64_t done)
{
    char hash[CLI_HASH_MAX];
    cli_provenance_hash(scenario, hash);
    fprintf(stream, ",%s", hash);
    if (sampling != NULL)
        fprintf(stream, ",%" PRId64 ",%" PRIu64 ",%s", done, sampling->seed, points_word(sampling));
}
