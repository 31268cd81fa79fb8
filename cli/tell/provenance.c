/* provenance.c - see provenance.h. */
#include "provenance.h"

#include <inttypes.h>
#include <stdio.h>

#include "known.h"

#include "slewtime/slewtime.h"

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
                 "%" PRId64 " simulated days (evenly spread, %d shifts), seed %" PRIu64
                 ", scenario %s",
                 done, sampling->shifts, sampling->seed, hash);
    else
        snprintf(text, CLI_PROVENANCE_MAX,
                 "%" PRId64 " independent simulated days, seed %" PRIu64 ", scenario %s", done,
                 sampling->seed, hash);
}

void cli_tell_provenance(cli_teller *t, const slew_scenario *scenario,
                         const slew_sampling *sampling, int64_t done)
{
    char hash[CLI_HASH_MAX];
    cli_provenance_hash(scenario, hash);
    cli_tell_text(t, "scenario", hash);
    if (sampling == NULL)
        return;
    cli_tell_integer(t, "samples", done);
    cli_tell_integer(t, "seed", (int64_t)sampling->seed);
    cli_tell_text(t, "points", points_word(sampling));
    if (t->in_full)
        cli_tell_known(t, scenario);
}

void cli_tell_title(cli_teller *t, const slew_scenario *scenario)
{
    cli_tell_text(t, "slewtime", slew_version());
    t->listener->text(t->context, "title", scenario->title); /* there, though it may be empty */
}
