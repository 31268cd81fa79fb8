/* records.c - the figures of `slewtime run`, for JSON and CSV. */
#include "single/records.h"
#include "answer.h"
#include "tell/csv.h"
#include "tell/provenance.h"

typedef struct row {
    const cli_single *single;
    const slew_event *event;
} row;

static void tell_event(cli_teller *t, const void *what)
{
    const row *r = what;
    const slew_event *e = r->event;
    cli_tell_number(t, "time_s", e->time);
    cli_tell_axis(t, "axis", e->axis);
    cli_tell_text(t, "kind", slew_event_word(e->kind));
    cli_tell_text(t, "direction", slew_direction_word(e->axis, e->direction));
    cli_tell_angles(t, e->angle);
    cli_tell_number(t, "voltage_V", e->voltage);
    cli_tell_number(t, "current_A", e->current);
    cli_tell_next_if(t, e->kind == SLEW_EVENT_STOP_CONTACT);
    cli_tell_number(t, "energy_J", e->energy);
    cli_tell_next_if(t, e->kind == SLEW_EVENT_FAULT);
    cli_tell_text(t, "fault", slew_fault_word(e->fault));
    cli_tell_next_if(t, e->box >= 0);
    cli_tell_text(t, "box", cli_box_name(r->single, e->box));
    if (!t->in_full)
        cli_tell_provenance(t, r->single->scenario, NULL, 0);
}

void cli_run_table(FILE *stream, const void *what)
{
    const cli_single *single = what;
    for (size_t i = 0; i < single->event_count; i++)
        cli_csv_row(stream, i == 0, tell_event, &(row){single, &single->event[i]});
}

void cli_run_document(cli_teller *t, const void *what)
{
    const cli_single *single = what;
    cli_tell_title(t, single->scenario);
    cli_tell_provenance(t, single->scenario, NULL, 0);
    cli_tell_result(t, single);
    cli_tell_open_list(t, "events");
    for (size_t i = 0; i < single->event_count; i++)
        cli_tell_record(t, NULL, tell_event, &(row){single, &single->event[i]});
    cli_tell_close(t);
}
