/* timeline.c - see timeline.h. */
#include "timeline.h"

#include <stdio.h>

#include "event_words.h"
#include "line/report.h"
#include "outcome_sentence.h"
#include "tell/key_words.h"
#include "tell/table.h"
#include "tell/units.h"

/* ---- conditions ---- */

static void print_occasion(const cli_single *single, const char *name, const slew_setup *setup)
{
    const slew_supply *supply = &setup->supply;
    char temperature[CLI_MEASURE_MAX];
    cli_measure_words(single->scenario->units, CLI_MEASURE_TEMPERATURE, 0,
                      setup->environment.temperature, temperature);
    printf("  %-9s  battery %.2f V", name, supply->main.voltage);
    if (supply->auxiliary_fitted)
        printf(", auxiliary battery %.2f V", supply->auxiliary.voltage);
    printf(", %s, water %s", temperature, setup->nozzle.flowing ? "flowing" : "off");
    if (setup->environment.tilt > 0)
        printf(", tilted %.1f°", cli_degrees(setup->environment.tilt));
    putchar('\n');
}

/* battery voltage, temperature and water stand in the line of the occasion */
static bool is_in_occasion(int key)
{
    static const char *const said[] = {"supply.main.voltage", "environment.temperature",
                                       "nozzle.flowing"};
    for (size_t i = 0; i < sizeof said / sizeof *said; i++)
        if (key == slew_key_find(said[i]))
            return true;
    return false;
}

/* what a layer sets, but for what print_occasion says */
static void print_layer(const cli_single *single, slew_layer_id id)
{
    const slew_layer *layer = slew_layer_at(single->scenario, id);
    for (int i = 0; i < layer->count; i++) {
        const slew_override *item = &layer->item[i];
        char value[64], shown[64], words[CLI_KEY_WORDS_MAX];
        if (is_in_occasion(item->key))
            continue;
        slew_key_format_number(item->key, item->value, value, sizeof value);
        cli_key_shown(item->key, single->scenario->units, value, shown, sizeof shown);
        cli_key_words(item->key, words);
        printf("             %s: %s\n", words, shown);
    }
}

/* of the deploy alone */
static void print_begin(const slew_setup *setup)
{
    printf("  begins     as stowed today, rotation %.2f°, elevation %.2f°\n",
           cli_degrees(setup->axis[SLEW_ROTATION].start),
           cli_degrees(setup->axis[SLEW_ELEVATION].start));
}

static void print_conditions(const cli_single *single)
{
    const slew_scenario *s = single->scenario;
    slew_setup setup;
    if (cli_single_stows(single) && !s->stow.has_times) {
        slew_scenario_resolve(s, SLEW_OCCASION_TEACH, &setup);
        print_occasion(single, "taught", &setup);
        print_layer(single, SLEW_LAYER_TEACH);
    }
    if (cli_single_stows(single))
        print_occasion(single, "stowed", &single->prepared.stow_setup);
    else
        print_occasion(single, "deployed", &single->prepared.deploy_setup);
    print_layer(single, SLEW_LAYER_TODAY);
    if (cli_single_stows(single) && cli_single_deploys(single))
        print_occasion(single, "deployed", &single->prepared.deploy_setup);
    if (cli_single_deploys(single))
        print_layer(single, SLEW_LAYER_DEPLOY_DAY);
    if (!cli_single_stows(single))
        print_begin(&single->prepared.deploy_setup);
}

static void print_stored(const cli_single *single)
{
    const double *stored = single->result.stored;
    printf("\nStored times (%s):", single->scenario->stow.has_times ? "given" : "taught");
    for (int axis = 0; axis < SLEW_AXES; axis++) {
        const char *way = slew_direction_word(axis, (stored[axis] > 0) - (stored[axis] < 0));
        printf("%s %s %.2f s%s%s", axis > 0 ? "," : "", slew_axis_word(axis), fabs(stored[axis]),
               way[0] != '\0' ? " " : "", way);
    }
    putchar('\n');
}

/* ---- events ---- */

/* drive-on and the start of motion are one line where they are one instant */
static bool is_start_of_drive(const slew_event *last, const slew_event *e)
{
    return last != NULL && e != NULL && e->kind == SLEW_EVENT_MOVING &&
           last->kind == SLEW_EVENT_DRIVE_ON && last->axis == e->axis &&
           last->direction == e->direction && last->time == e->time;
}

static void print_event(cli_table *table, const slew_event *e, const char *words)
{
    bool loud = cli_event_is_trouble(e->kind) && cli_colour(stdout);
    cli_table_cell(table, "time\ns", "%8.3f", e->time);
    cli_table_text(table, "  axis", "  %-9s",
                   e->axis == SLEW_NO_AXIS ? "" : slew_axis_word(e->axis));
    cli_table_text(table, "  what happens", "  %s%-40s%s", loud ? "\033[1;31m" : "", words,
                   loud ? "\033[0m" : "");
    cli_table_cell(table, "rotation\n°", "%10.2f", cli_degrees(e->angle[SLEW_ROTATION]));
    cli_table_cell(table, "elevation\n°", "%11.2f", cli_degrees(e->angle[SLEW_ELEVATION]));
    cli_table_cell(table, "voltage\nV", "%9.2f", e->voltage);
    cli_table_cell(table, "current\nA", "%9.2f", e->current);
    cli_table_end_row(table);
}

static void print_events(const cli_single *single)
{
    cli_table table = {.heads = 2};
    const slew_event *last = NULL;
    double stow_end = cli_single_stows(single) ? cli_single_stow_end(single) : -INFINITY;
    putchar('\n');
    for (size_t i = 0; i < single->event_count; i++) {
        const slew_event *e = &single->event[i];
        const slew_event *next = i + 1 < single->event_count ? e + 1 : NULL;
        char words[CLI_WORDS_MAX];
        cli_event_words(single, e, e->time > stow_end, words);
        if (is_start_of_drive(e, next))
            snprintf(words, sizeof words, "motor on, %s", cli_moving_word(e->axis, e->direction));
        if (!is_start_of_drive(last, e))
            print_event(&table, e, words);
        last = e;
    }
}

void cli_timeline(const void *what)
{
    const cli_single *single = what;
    cli_answer(single);
    printf("\n%s\n", single->scenario->title);
    print_conditions(single);
    if (cli_single_stows(single))
        print_stored(single);
    print_events(single);
    cli_verdict(single);
}
