/* csv.c - see csv.h. */
#include "old_csv.h"

#include "old_json.h"
#include "tell/csv.h"

#include <math.h>
#include <string.h>

#include "tell/provenance.h"
#include "tell/units.h"

void cli_csv_number(FILE *stream, double value)
{
    fputc(',', stream);
    if (isfinite(value))
        fprintf(stream, "%.9g", value);
}

/* what only some kinds of event have; empty otherwise */
static void write_extras(FILE *stream, const cli_single *single, const slew_event *e,
                         const char *hash)
{
    fputc(',', stream);
    if (e->kind == SLEW_EVENT_STOP_CONTACT)
        fprintf(stream, "%.12g", e->energy);
    fputc(',', stream);
    if (e->kind == SLEW_EVENT_FAULT)
        fputs(slew_fault_word(e->fault), stream);
    fputc(',', stream);
    if (e->box >= 0)
        cli_csv_text(stream, single->scenario.keepout.box[e->box].name);
    fprintf(stream, ",%s\n", hash);
}

void cli_csv_events(FILE *stream, const cli_single *single)
{
    char hash[CLI_HASH_MAX];
    cli_provenance_hash(&single->scenario, hash);
    fputs("time_s,axis,kind,direction,rotation_deg,elevation_deg,voltage_V,current_A,energy_J,"
          "fault,box",
          stream);
    cli_provenance_csv_names(stream, NULL);
    fputc('\n', stream);
    for (size_t i = 0; i < single->event_count; i++) {
        const slew_event *e = &single->event[i];
        fprintf(stream, "%.12g,%s,%s,%s,%.12g,%.12g,%.12g,%.12g", e->time + 0.0,
                e->axis == SLEW_NO_AXIS ? "" : slew_axis_word(e->axis), slew_event_word(e->kind),
                slew_direction_word(e->axis, e->direction), cli_degrees(e->angle[SLEW_ROTATION]),
                cli_degrees(e->angle[SLEW_ELEVATION]), e->voltage, e->current + 0.0);
        write_extras(stream, single, e, hash);
    }
}
