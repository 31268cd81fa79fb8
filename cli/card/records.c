/* records.c - a check card as JSON, and the blank CSV that `fit` reads. */
#include "answer.h"

#include "fit/answer.h"
#include "single/old_json.h"
#include "slewtime/slewtime.h"

/* ---- CSV: a row for each travel, nothing measured ---- */

static void write_names(FILE *stream)
{
    for (int c = 0; c < slew_timing_column_count(); c++)
        fprintf(stream, "%s%s", c > 0 ? "," : "", slew_timing_column_at(c)->name);
    fputc('\n', stream);
}

static void write_row(FILE *stream, const slew_timing *row)
{
    for (int c = 0; c < slew_timing_column_count(); c++) {
        char text[64];
        slew_timing_format(row, c, text, sizeof text);
        fprintf(stream, "%s%s", c > 0 ? "," : "", text);
    }
    fputc('\n', stream);
}

void cli_card_csv(FILE *stream, const void *what)
{
    const cli_card *a = what;
    fprintf(
        stream,
        "# Check card: %s\n# asked: %s\n"
        "# Fill in what was measured, and supply_V (the source with the drives off),\n"
        "# pressure_bar and temperature_degC where they are not those of the scenario.\n"
        "# Rows without a reading are skipped. Then: slewtime fit SCENARIO THIS.csv --key KEY\n",
        a->scenario->title, a->asked);
    write_names(stream);
    for (int i = 0; i < a->card.steps; i++)
        if (a->card.step[i].kind == SLEW_CARD_TRAVEL && !a->card.step[i].left_out)
            write_row(stream, &a->card.step[i].row);
}

/* ---- JSON ---- */

static json_t *reading(const slew_card_reading *r)
{
    slew_card_read read = r->read;
    return json_pack("{s:s, s:s, s:o, s:o, s:o, s:o, s:o, s:o}", "read", slew_card_read_word(read),
                     "unit", cli_card_unit(read), "expected",
                     cli_json_number(cli_card_in_unit(read, r->expected)), "central_low",
                     cli_json_number(cli_card_in_unit(read, r->low)), "central_high",
                     cli_json_number(cli_card_in_unit(read, r->high)), "sd",
                     cli_json_number(cli_card_in_unit(read, slew_card_sd(read))), "low",
                     cli_json_number(cli_card_in_unit(read, r->from)), "high",
                     cli_json_number(cli_card_in_unit(read, r->to)));
}

static json_t *readings(const slew_card_step *step)
{
    json_t *list = json_array();
    for (int k = 0; k < step->readings && !step->left_out; k++)
        json_array_append_new(list, reading(&step->reading[k]));
    return list;
}

static json_t *start_of(const slew_card_step *step)
{
    return json_pack("{s:o, s:o}", "rotation_deg", cli_json_degrees(step->start[SLEW_ROTATION]),
                     "elevation_deg", cli_json_degrees(step->start[SLEW_ELEVATION]));
}

static json_t *step_of(const slew_card_step *step)
{
    static const char *const kinds[] = {"travel", "stow", "deploy"};
    bool runs = step->kind != SLEW_CARD_TRAVEL && !step->left_out, faulted = runs && step->fault;
    char what[CLI_CARD_WHAT_MAX];
    cli_card_what(step, what);
    return json_pack(
        "{s:s, s:s, s:o, s:o, s:o, s:o, s:o, s:o, s:o, s:o}", "what", what, "kind",
        kinds[step->kind], "left_out", cli_json_text(step->left_out ? step->why : NULL), "row",
        runs || step->kind != SLEW_CARD_TRAVEL ? json_null() : cli_fit_row_json(&step->row),
        "start", start_of(step), "says", cli_json_text(runs ? slew_verdict_word(step->says) : NULL),
        "fault", cli_json_text(faulted ? slew_fault_word(step->fault) : NULL), "fault_axis",
        cli_json_text(faulted && step->axis != SLEW_NO_AXIS ? slew_axis_word(step->axis) : NULL),
        "agrees", cli_json_number(step->left_out ? NAN : step->agrees), "readings", readings(step));
}

static json_t *list_of(const cli_card_notes *notes)
{
    json_t *list = json_array();
    for (int i = 0; i < notes->count; i++)
        json_array_append_new(list, json_string(notes->line[i]));
    return list;
}

int cli_card_json(const void *what)
{
    const cli_card *a = what;
    cli_card_notes cautions = {.columns = 80}, notes = {.columns = 80};
    json_t *steps = json_array();
    cli_card_cautions(&cautions);
    cli_card_explain(a, &notes);
    for (int i = 0; i < a->card.steps; i++)
        json_array_append_new(steps, step_of(&a->card.step[i]));
    json_t *whole =
        json_pack("{s:s, s:s}", "slewtime", slew_version(), "title", a->scenario->title);
    cli_provenance_json(whole, a->scenario, a->sampling, a->card.samples);
    json_object_set_new(whole, "varies", json_boolean(a->card.varies));
    json_object_set_new(whole, "refused", json_integer(a->card.refused));
    json_object_set_new(whole, "cautions", list_of(&cautions));
    json_object_set_new(whole, "notes", list_of(&notes));
    json_object_set_new(whole, "steps", steps);
    return cli_json_print(whole);
}
