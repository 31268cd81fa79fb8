/* records.c - the figures of a check card as JSON, and the blank CSV that `fit` reads. */
#include "answer.h"

#include <math.h>

#include "tell/caution.h"
#include "tell/csv.h"
#include "tell/known.h"
#include "tell/timing.h"

/* ---- CSV: a row for each travel, nothing measured ---- */

/* so many deploys tell where the next one rests to less than half a degree: M12.10 */
enum { DEPLOYS = 5 };

/* the deploy of an axis; false: it does not drive it */
static bool deploy_row(const slew_scenario *s, int axis, slew_timing *row)
{
    double seconds = s->deploy.seconds[axis];
    *row = slew_timing_default();
    row->axis = axis;
    row->direction = seconds > 0 ? 1 : -1;
    row->from.kind = SLEW_PLACE_STOW_POINT;
    row->to.kind = SLEW_PLACE_DEPLOYED;
    row->measured[SLEW_MEASURE_SECONDS].value = fabs(seconds);
    return seconds != 0;
}

static void write_deploys(FILE *stream, const slew_scenario *s)
{
    slew_timing row;
    for (int i = 0; i < SLEW_AXES * DEPLOYS; i++)
        if (deploy_row(s, i / DEPLOYS, &row))
            cli_csv_values(stream, cli_tell_timing, &row);
}

void cli_card_table(FILE *stream, const void *what)
{
    const cli_card *a = what;
    fprintf(
        stream,
        "# Check card: %s\n# asked: %s\n"
        "# Fill in what was measured, and supply_V (the battery with the motors off),\n"
        "# pressure_bar and temperature_degC where they are not those of the scenario.\n"
        "# winding_rise_K: 0 on the first move of the day, else about twice the rise of the\n"
        "# motor's case above the air (the rise over motor.magnet_share).\n"
        "# To stow_point: the controller's stored time; with a stopwatch add seconds_sd_s 0.25.\n"
        "# rests_deg: where the axis rests after that stow, and after each deploy from it: lay "
        "the\n"
        "# gauge on anew each time. seconds_s of a deploy is what the controller is set to.\n"
        "# Rows without a reading are skipped. Then: slewtime fit SCENARIO THIS.csv --key KEY\n",
        a->scenario->title, a->asked);
    cli_csv_names(stream, cli_tell_timing, &a->card.step[0].row);
    for (int i = 0; i < a->card.steps; i++)
        if (a->card.step[i].kind == SLEW_CARD_TRAVEL && !a->card.step[i].left_out)
            cli_csv_values(stream, cli_tell_timing, &a->card.step[i].row);
        else if (a->card.step[i].kind == SLEW_CARD_DEPLOY && !a->card.step[i].left_out)
            write_deploys(stream, a->scenario);
}

/* ---- the document ---- */

static void tell_reading(cli_teller *t, const slew_card_reading *r)
{
    slew_card_read read = r->read;
    cli_tell_open(t, NULL);
    cli_tell_text(t, "read", slew_card_read_word(read));
    cli_tell_unit(t, "unit", cli_card_unit(read));
    cli_tell_number(t, "expected", cli_card_in_unit(read, r->expected));
    cli_tell_number(t, "central_low", cli_card_in_unit(read, r->low));
    cli_tell_number(t, "central_high", cli_card_in_unit(read, r->high));
    cli_tell_number(t, "sd", cli_card_in_unit(read, slew_card_sd(read)));
    cli_tell_number(t, "low", cli_card_in_unit(read, r->from));
    cli_tell_number(t, "high", cli_card_in_unit(read, r->to));
    cli_tell_close(t);
}

static void tell_readings(cli_teller *t, const slew_card_step *step)
{
    cli_tell_open_list(t, "readings");
    for (int k = 0; k < step->readings && !step->left_out; k++)
        tell_reading(t, &step->reading[k]);
    cli_tell_close(t);
}

/* what is done */
static void tell_doing(cli_teller *t, const slew_card_step *step)
{
    static const char *const kinds[] = {"travel", "stow", "deploy"};
    char words[CLI_CARD_WHAT_MAX];
    cli_card_what(step, words);
    cli_tell_text(t, "what", words);
    cli_tell_text(t, "kind", kinds[step->kind]);
    cli_tell_text(t, "left_out", step->left_out ? step->why : NULL);
    cli_tell_caution(t, step->meets_stop ? "to a stop: release there" : "");
    cli_tell_open_if(t, "row", step->kind == SLEW_CARD_TRAVEL);
    cli_tell_timing(t, &step->row);
    cli_tell_close(t);
    cli_tell_open(t, "start");
    cli_tell_angles(t, step->start);
    cli_tell_close(t);
}

/* each of them is written several times into the CSV */
static void tell_deploys(cli_teller *t, const slew_scenario *s, bool made)
{
    slew_timing row;
    cli_tell_open_list(t, "rows");
    for (int j = 0; j < SLEW_AXES && made; j++)
        if (deploy_row(s, j, &row))
            cli_tell_record(t, NULL, cli_tell_timing, &row);
    cli_tell_close(t);
}

static void tell_step(cli_teller *t, const slew_scenario *s, const slew_card_step *step)
{
    bool runs = step->kind != SLEW_CARD_TRAVEL && !step->left_out, faulted = runs && step->fault;
    cli_tell_open(t, NULL);
    tell_doing(t, step);
    if (step->kind == SLEW_CARD_DEPLOY)
        tell_deploys(t, s, !step->left_out);
    cli_tell_text(t, "says", runs ? slew_verdict_word(step->says) : NULL);
    cli_tell_text(t, "fault", faulted ? slew_fault_word(step->fault) : NULL);
    cli_tell_axis(t, "fault_axis", faulted ? step->axis : SLEW_NO_AXIS);
    cli_tell_number(t, "agrees", step->left_out ? NAN : step->agrees);
    tell_readings(t, step);
    cli_tell_close(t);
}

static void tell_notes(cli_teller *t, const char *name, const cli_card_notes *notes)
{
    cli_tell_open_list(t, name);
    for (int i = 0; i < notes->count; i++)
        cli_tell_text(t, NULL, notes->line[i]);
    cli_tell_close(t);
}

void cli_card_document(cli_teller *t, const void *what)
{
    const cli_card *a = what;
    cli_card_notes cautions = {.columns = 80}, notes = {.columns = 80};
    cli_card_cautions(&cautions);
    cli_card_settings(a, &notes);
    cli_card_explain(a, &notes);
    cli_tell_title(t, a->scenario);
    cli_tell_provenance(t, a->scenario, a->sampling, a->card.samples);
    if (a->sampling == NULL)
        cli_tell_known(t, a->scenario);
    cli_tell_boolean(t, "varies", a->card.varies);
    cli_tell_integer(t, "refused", a->card.refused);
    cli_tell_number(t, "page_passes", a->card.passes);
    tell_notes(t, "cautions", &cautions);
    tell_notes(t, "notes", &notes);
    cli_tell_open_list(t, "steps");
    for (int i = 0; i < a->card.steps; i++)
        tell_step(t, a->scenario, &a->card.step[i]);
    cli_tell_close(t);
}
