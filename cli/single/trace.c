/* trace.c - see trace.h. */
#include "trace.h"

#include "line/exit_code.h"
#include "line/output.h"
#include "single/old_json.h"
#include "tell/provenance.h"
#include "tell/units.h"

static const char header[] =
    "time_s,rotation_deg,elevation_deg,rotation_deg_per_s,elevation_deg_per_s,rotation_A,"
    "elevation_A,total_A,voltage_V,rotation_drive,elevation_drive,rotation_closed,"
    "elevation_closed";

void cli_trace(FILE *stream, const cli_single *single)
{
    enum { R = SLEW_ROTATION, E = SLEW_ELEVATION };
    char hash[CLI_HASH_MAX];
    cli_provenance_hash(&single->scenario, hash);
    fputs(header, stream);
    cli_provenance_csv_names(stream, NULL);
    fputc('\n', stream);
    for (size_t i = 0; i < single->sample_count; i++) {
        const slew_sample *s = &single->sample[i];
        fprintf(stream, "%.12g,%.12g,%.12g,%.9g,%.9g,%.9g,%.9g,%.9g,%.9g,%d,%d,%d,%d,%s\n",
                s->time + 0.0, cli_degrees(s->angle[R]), cli_degrees(s->angle[E]),
                cli_degrees(s->speed[R]), cli_degrees(s->speed[E]), s->current[R] + 0.0,
                s->current[E] + 0.0, s->current[R] + s->current[E] + 0.0, s->voltage, s->drive[R],
                s->drive[E], (int)s->closed[R], (int)s->closed[E], hash);
    }
}

int cli_trace_file(const char *path, const cli_single *single)
{
    cli_file file;
    int code = cli_file_open(&file, path);
    if (code != CLI_OK)
        return code;
    cli_trace(file.stream, single);
    return cli_file_close(&file, CLI_OK);
}
