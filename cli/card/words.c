/* words.c - the lines of a check card in words. */
#include "answer.h"

#include <inttypes.h>
#include <math.h>
#include <string.h>

#include "single/outcome_sentence.h"
#include "tell/append.h"
#include "tell/known.h"
#include "tell/units.h"
#include "tell/utf8.h"

/* ---- readings ---- */

static const struct {
    const char *label, *unit;
    int decimals;
} READS[SLEW_CARD_READ_COUNT] = {
    [SLEW_CARD_SECONDS] = {"time, s", "s", 2},
    [SLEW_CARD_VOLTAGE] = {"controller, V", "V", 2},
    [SLEW_CARD_CURRENT] = {"current, A", "A", 1},
    [SLEW_CARD_DROP] = {"cable drop, V", "V", 2},
    [SLEW_CARD_ROTATION] = {"rotation, °", "deg", 1},
    [SLEW_CARD_ELEVATION] = {"elevation, °", "deg", 1},
    [SLEW_CARD_LOWEST] = {"lowest, V", "V", 2},
    [SLEW_CARD_STORED] = {"stored time, s", "s", 2},
};

const char *cli_card_label(slew_card_read read)
{
    return READS[read].label;
}

const char *cli_card_unit(slew_card_read read)
{
    return READS[read].unit;
}

double cli_card_in_unit(slew_card_read read, double si)
{
    return strcmp(READS[read].unit, "deg") == 0 ? cli_degrees(si) : si;
}

void cli_card_number(char *text, size_t size, slew_card_read read, double si)
{
    double scale = pow(10, READS[read].decimals);
    double rounded = round(cli_card_in_unit(read, si) * scale) / scale + 0.0;
    if (isnan(si))
        snprintf(text, size, "none");
    else
        snprintf(text, size, "%.*f", READS[read].decimals, rounded);
}

/* ---- steps ---- */

/* where a travel begins or ends */
static void place_words(const slew_place *place, char text[16])
{
    if (place->kind == SLEW_PLACE_ANGLE)
        snprintf(text, 16, "%.1f°", cli_tenths(place->angle));
    else
        snprintf(text, 16, "%s", place->kind == SLEW_PLACE_HOME ? "home" : "stop");
}

static void travel_words(const slew_timing *row, char text[CLI_CARD_WHAT_MAX])
{
    char from[16], to[16];
    place_words(&row->from, from);
    place_words(&row->to, to);
    if (row->to.kind == SLEW_PLACE_NONE)
        snprintf(text, CLI_CARD_WHAT_MAX, "%s %s, held on the stop", slew_axis_word(row->axis),
                 slew_direction_word(row->axis, row->direction));
    else
        snprintf(text, CLI_CARD_WHAT_MAX, "%s %s, %s to %s", slew_axis_word(row->axis),
                 slew_direction_word(row->axis, row->direction), from, to);
}

void cli_card_what(const slew_card_step *step, char text[CLI_CARD_WHAT_MAX])
{
    const slew_timing *row = &step->row;
    if (step->kind == SLEW_CARD_DEPLOY)
        snprintf(text, CLI_CARD_WHAT_MAX, "deploy after the first stow");
    else if (step->kind == SLEW_CARD_STOW)
        snprintf(text, CLI_CARD_WHAT_MAX, "stow from rotation %.1f°",
                 cli_tenths(step->start[SLEW_ROTATION]));
    else if (row->to.kind == SLEW_PLACE_STOW_POINT)
        snprintf(text, CLI_CARD_WHAT_MAX, "%s %s, as stored", slew_axis_word(row->axis),
                 slew_direction_word(row->axis, row->direction));
    else if (row->direction == 0)
        snprintf(text, CLI_CARD_WHAT_MAX, "motors off, at rest");
    else
        travel_words(row, text);
}

/* what stands under it */
static void what_more(const slew_card_step *step, char text[CLI_CARD_WHAT_MAX])
{
    text[0] = '\0';
    if (step->kind == SLEW_CARD_STOW)
        snprintf(text, CLI_CARD_WHAT_MAX, "  and elevation %.1f°",
                 cli_tenths(step->start[SLEW_ELEVATION]));
    else if (step->kind == SLEW_CARD_DEPLOY)
        snprintf(text, CLI_CARD_WHAT_MAX, "  5 times, lay gauge on anew");
    else if (step->kind == SLEW_CARD_TRAVEL && step->agrees < 1)
        snprintf(text, CLI_CARD_WHAT_MAX, "  stalls in %.2g %% of the days",
                 100 * (1 - step->agrees));
}

static cli_card_line *add_line(cli_card_line *lines, int *count)
{
    cli_card_line *line = &lines[(*count)++];
    *line = (cli_card_line){.read = ""};
    return line;
}

static const char *verdict_in_words(const slew_card_step *step)
{
    return step->says == SLEW_NOT_RUN ? "nothing" : slew_verdict_word(step->says);
}

static void add_verdict(const cli_card *a, const slew_card_step *step, cli_card_line *lines,
                        int *count)
{
    cli_card_line *line = add_line(lines, count);
    line->read = "reports";
    if (a->card.varies && !isnan(step->agrees))
        snprintf(line->expected, sizeof line->expected, "%s in %.3g %%", verdict_in_words(step),
                 100 * step->agrees);
    else
        snprintf(line->expected, sizeof line->expected, "%s", verdict_in_words(step));
    if (step->says != SLEW_FAULTED)
        return;
    line = add_line(lines, count);
    line->read = "fault";
    snprintf(line->expected, sizeof line->expected, "%s", slew_fault_in_words(step->fault));
}

static void add_reading(const slew_card_reading *r, cli_card_line *line)
{
    line->read = READS[r->read].label;
    cli_card_number(line->expected, sizeof line->expected, r->read, r->expected);
    snprintf(line->from, sizeof line->from, "no");
    snprintf(line->to, sizeof line->to, "band");
    if (isnan(r->from))
        return;
    cli_card_number(line->from, sizeof line->from, r->read, r->from);
    cli_card_number(line->to, sizeof line->to, r->read, r->to);
}

static void add_step(const cli_card *a, const slew_card_step *step, cli_card_line *lines,
                     int *count)
{
    if (step->meets_stop)
        snprintf(add_line(lines, count)->what, CLI_CARD_WHAT_MAX,
                 "! to a stop: release there, clear overhead, nobody near");
    int first = *count;
    char more[CLI_CARD_WHAT_MAX];
    if (step->kind != SLEW_CARD_TRAVEL)
        add_verdict(a, step, lines, count);
    for (int k = 0; k < step->readings; k++)
        add_reading(&step->reading[k], add_line(lines, count));
    what_more(step, more);
    if (more[0] != '\0' && *count == first + 1)
        add_line(lines, count);
    lines[first].first = true;
    cli_card_what(step, lines[first].what);
    if (more[0] != '\0')
        memcpy(lines[first + 1].what, more, sizeof more);
}

/* how far the case of a motor is above the air today, as the scenario has it [K] */
static double case_rise(const cli_card *a, int axis)
{
    slew_setup today;
    slew_scenario_resolve(a->scenario, SLEW_OCCASION_STOW, &today);
    const slew_motor_sheet *motor = &today.axis[axis].motor;
    return motor->winding_rise * motor->magnet_share;
}

/* what the motors are like before the first reading */
static void add_motors(const cli_card *a, cli_card_line *lines, int *count)
{
    slew_unit_system units = a->scenario->units;
    double left = cli_measured(units, CLI_MEASURE_TEMPERATURE_STEP, case_rise(a, SLEW_ROTATION));
    double up = cli_measured(units, CLI_MEASURE_TEMPERATURE_STEP, case_rise(a, SLEW_ELEVATION));
    cli_card_line *line = add_line(lines, count);
    line->first = true;
    line->read = units == SLEW_UNITS_US ? "case R, E, °F" : "case R, E, °C";
    snprintf(line->what, sizeof line->what, "motors used before: _____ min");
    if (left > 0 || up > 0)
        snprintf(line->expected, sizeof line->expected, "air +%.0f, air +%.0f", left, up);
    else
        snprintf(line->expected, sizeof line->expected, "0; as the air");
}

int cli_card_lines(const cli_card *a, cli_card_line lines[CLI_CARD_LINES_MAX])
{
    int count = 0;
    add_motors(a, lines, &count);
    for (int i = 0; i < a->card.steps; i++)
        if (!a->card.step[i].left_out)
            add_step(a, &a->card.step[i], lines, &count);
    return count;
}

/* ---- notes ---- */

void cli_card_add_note(cli_card_notes *notes, const char *text)
{
    for (const char *indent = ""; *text != '\0' && notes->count < CLI_CARD_NOTES_MAX;
         indent = "  ") {
        int length = cli_utf8_line(text, notes->columns - (int)strlen(indent));
        snprintf(notes->line[notes->count++], sizeof notes->line[0], "%s%.*s", indent, length,
                 text);
        text += length;
        text += strspn(text, " ");
    }
}

void cli_card_cautions(cli_card_notes *notes)
{
    cli_card_add_note(notes,
                      "CAUTION: a monitor can move without warning and crush. Keep people clear of "
                      "it; disconnect and lock out its power before any work on it.");
    cli_card_add_note(
        notes, "Water that flows pushes monitor and truck back: secure both, raise the pressure "
               "slowly. Batteries: acid, gas, burns; no sparks or loose metal near terminals.");
    cli_card_add_note(notes,
                      "Follow the manufacturer's instructions and local codes; leave licensed work "
                      "to license holders. Simulated: it does not replace a test on the truck.");
}

static void explain_readings(const cli_card *a, cli_card_notes *notes)
{
    char text[420];
    const slew_card_step *step = &a->card.step[0];
    snprintf(text, sizeof text,
             "Time to hard stop, home sensor or report; voltage and current half way. Cable drop: "
             "terminal voltage minus controller. Lowest: without the dip at the start. Park other "
             "axis: R %.1f°, "
             "E %.1f°. Motors: cool, first move of the day.",
             cli_tenths(step->start[SLEW_ROTATION]), cli_tenths(step->start[SLEW_ELEVATION]));
    cli_card_add_note(notes, text);
}

static void explain_bands(const cli_card *a, cli_card_notes *notes)
{
    char text[500], sd[80], refused[80] = "";
    snprintf(sd, sizeof sd, "%.2f s, %.2f V, %.1f A, %.1f°", slew_card_sd(SLEW_CARD_SECONDS),
             slew_card_sd(SLEW_CARD_VOLTAGE), slew_card_sd(SLEW_CARD_CURRENT),
             cli_degrees(slew_card_sd(SLEW_CARD_ROTATION)));
    if (a->card.refused > 0)
        snprintf(refused, sizeof refused, " %" PRId64 " can't run and do not count.",
                 a->card.refused);
    bool has_spread = a->scenario->truck.count + a->scenario->day.count > 0;
    if (a->card.varies)
        snprintf(text, sizeof text,
                 "Band: 95 %% of what healthy trucks show that end as expected, errors in (sd %s). "
                 "All inside: %.0f %% of healthy trucks.%s",
                 sd, 100 * a->card.passes, refused);
    else
        snprintf(text, sizeof text,
                 "Band: %s, so it is 95 %% of the instrument alone (sd %s); a healthy truck on "
                 "another day may lie outside.",
                 has_spread ? "all that varies is known" : "the scenario has no spread", sd);
    cli_card_add_note(notes, text);
}

static void explain_known(const cli_card *a, cli_card_notes *notes)
{
    char known[CLI_KNOWN_WORDS_MAX], text[420];
    cli_known_words(a->scenario, known, sizeof known);
    snprintf(text, sizeof text, "Known of this day, so not in the band: %.360s.", known);
    if (known[0] != '\0')
        cli_card_add_note(notes, text);
}

void cli_card_explain(const cli_card *a, cli_card_notes *notes)
{
    char text[420], what[CLI_CARD_WHAT_MAX];
    explain_readings(a, notes);
    explain_bands(a, notes);
    explain_known(a, notes);
    for (int i = 0; i < a->card.steps; i++) {
        const slew_card_step *step = &a->card.step[i];
        cli_card_what(step, what);
        snprintf(text, sizeof text, "Left out: %s: %s.", what, step->why);
        if (step->left_out)
            cli_card_add_note(notes, text);
    }
}

void cli_card_settings(const cli_card *a, cli_card_notes *notes)
{
    char text[420] = "Set:";
    const slew_scenario *s = a->scenario;
    const slew_range *target = s->deploy.target;
    slew_setup today;
    slew_scenario_resolve(s, SLEW_OCCASION_STOW, &today);
    if (s->stow.has_point)
        cli_append(text, sizeof text, " stow point rotation %.4g°, elevation %.4g°, within %.3g°;",
                   cli_degrees(s->stow.point[SLEW_ROTATION]),
                   cli_degrees(s->stow.point[SLEW_ELEVATION]), cli_degrees(s->stow.tolerance));
    if (s->deploy.given && isfinite(target[SLEW_ELEVATION].low))
        cli_append(
            text, sizeof text, " deploy target rotation %.4g° to %.4g°, elevation %.4g° to %.4g°;",
            cli_degrees(target[SLEW_ROTATION].low), cli_degrees(target[SLEW_ROTATION].high),
            cli_degrees(target[SLEW_ELEVATION].low), cli_degrees(target[SLEW_ELEVATION].high));
    cli_append(text, sizeof text, " minimum voltage %.4g V.", today.supply.floor);
    cli_card_add_note(notes, text);
}
