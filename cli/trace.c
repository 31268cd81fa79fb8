/* trace.c - see trace.h. */
#include "trace.h"

#include "command.h"
#include "origin.h"
#include "output.h"
#include "units.h"

static const char header[] =
    "time_s,rotation_deg,elevation_deg,rotation_deg_per_s,elevation_deg_per_s,rotation_A,"
    "elevation_A,total_A,voltage_V,rotation_drive,elevation_drive,rotation_closed,"
    "elevation_closed";

void cli_trace(FILE *stream, const cli_story *story)
{
    enum { R = SLEW_ROTATION, E = SLEW_ELEVATION };
    char hash[CLI_HASH_MAX];
    cli_origin_hash(&story->scenario, hash);
    fputs(header, stream);
    cli_origin_csv_names(stream, NULL);
    fputc('\n', stream);
    for (size_t i = 0; i < story->sample_count; i++) {
        const slew_sample *s = &story->sample[i];
        fprintf(stream, "%.12g,%.12g,%.12g,%.9g,%.9g,%.9g,%.9g,%.9g,%.9g,%d,%d,%d,%d,%s\n",
                s->time + 0.0, cli_degrees(s->angle[R]), cli_degrees(s->angle[E]),
                cli_degrees(s->speed[R]), cli_degrees(s->speed[E]), s->current[R] + 0.0,
                s->current[E] + 0.0, s->current[R] + s->current[E] + 0.0, s->voltage, s->drive[R],
                s->drive[E], (int)s->closed[R], (int)s->closed[E], hash);
    }
}

int cli_trace_file(const char *path, const cli_story *story)
{
    cli_file file;
    int code = cli_file_open(&file, path);
    if (code != CLI_OK)
        return code;
    cli_trace(file.stream, story);
    return cli_file_close(&file, CLI_OK);
}
