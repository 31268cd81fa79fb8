/* json.c - see json.h. */
#include "old_json.h"

#include <inttypes.h>
#include <stdio.h>

#include "line/exit_code.h"
#include "line/report.h"
#include "slewtime/slewtime.h"
#include "tell/provenance.h"
#include "tell/units.h"

/* ---- values ---- */

json_t *cli_json_number(double value)
{
    return isfinite(value) ? json_real(value + 0.0) : json_null();
}

json_t *cli_json_text(const char *text)
{
    json_t *string = text != NULL && text[0] != '\0' ? json_string(text) : NULL;
    return string != NULL ? string : json_null();
}

json_t *cli_json_degrees(double radians)
{
    return cli_json_number(cli_degrees(radians));
}

json_t *cli_json_axis(int axis)
{
    return axis == SLEW_NO_AXIS ? json_null() : json_string(slew_axis_word(axis));
}

json_t *cli_json_share(const slew_share *s)
{
    return json_pack("{s:o, s:o, s:o}", "share", cli_json_number(s->value), "low",
                     cli_json_number(s->low), "high", cli_json_number(s->high));
}

int cli_json_print(json_t *document)
{
    const size_t flags = JSON_PRESERVE_ORDER | JSON_REAL_PRECISION(12) | JSON_INDENT(1);
    if (document == NULL)
        return cli_no_memory();
    json_dumpf(document, stdout, flags);
    putchar('\n');
    json_decref(document);
    return CLI_OK;
}

static const char *points_word(const slew_sampling *sampling)
{
    return sampling->points == SLEW_SOBOL ? "sobol" : "independent";
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
