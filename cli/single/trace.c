/* trace.c - see trace.h. */
#include "trace.h"

#include "line/exit_code.h"
#include "line/output.h"
#include "tell/csv.h"
#include "tell/provenance.h"

typedef struct row {
    const slew_sample *sample;
    const char *hash; /* of the scenario: worked out once for many rows */
} row;

static void tell_sample(cli_teller *t, const void *what)
{
    enum { R = SLEW_ROTATION, E = SLEW_ELEVATION };
    const row *r = what;
    const slew_sample *s = r->sample;
    cli_tell_number(t, "time_s", s->time);
    cli_tell_angles(t, s->angle);
    cli_tell_degrees(t, "rotation_deg_per_s", s->speed[R]);
    cli_tell_degrees(t, "elevation_deg_per_s", s->speed[E]);
    cli_tell_number(t, "rotation_A", s->current[R]);
    cli_tell_number(t, "elevation_A", s->current[E]);
    cli_tell_number(t, "total_A", s->current[R] + s->current[E]);
    cli_tell_number(t, "voltage_V", s->voltage);
    cli_tell_integer(t, "rotation_drive", s->drive[R]);
    cli_tell_integer(t, "elevation_drive", s->drive[E]);
    cli_tell_boolean(t, "rotation_closed", s->closed[R]);
    cli_tell_boolean(t, "elevation_closed", s->closed[E]);
    cli_tell_text(t, "scenario", r->hash);
}

void cli_trace(FILE *stream, const void *what)
{
    const cli_single *single = what;
    char hash[CLI_HASH_MAX];
    cli_provenance_hash(single->scenario, hash);
    for (size_t i = 0; i < single->sample_count; i++)
        cli_csv_row(stream, i == 0, tell_sample, &(row){&single->sample[i], hash});
}

/* ---- into a file, while it runs ---- */

typedef struct course {
    FILE *stream;
    const char *hash;
    bool begun;
} course;

static void write_sample(void *context, const slew_sample *sample)
{
    course *c = context;
    cli_csv_row(c->stream, !c->begun, tell_sample, &(row){sample, c->hash});
    c->begun = true;
}

static bool should_stop(void *context)
{
    const course *c = context;
    return ferror(c->stream) != 0 || cli_interrupt_pending();
}

int cli_trace_file(const char *path, const cli_single *single)
{
    cli_file file;
    char hash[CLI_HASH_MAX];
    slew_result result;
    int code = cli_file_open(&file, path);
    if (code != CLI_OK)
        return code;
    cli_provenance_hash(single->scenario, hash);
    course c = {.stream = file.stream, .hash = hash};
    const slew_observer observer = {.sample = write_sample,
                                    .stop = should_stop,
                                    .interval = CLI_SAMPLE_INTERVAL,
                                    .context = &c};
    slew_run_prepared(single->scenario, &single->prepared, single->parts, &observer, &result);
    return cli_file_close(&file, cli_interrupt_pending() ? CLI_OUTSIDE : CLI_OK);
}
