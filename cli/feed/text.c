/* text.c - the answer of `feed` as text; see answer.h. */
#include "answer.h"
#include "slewtime/slewtime.h"
#include "tell/append.h"
#include "tell/provenance.h"
#include "tell/table.h"
#include "tell/units.h"
#include "tell/utf8.h"

/* a short circuit below so many times the load is told */
static const double near_the_load = 3;

static const slew_feed_figures *own_figures(const cli_feed *a)
{
    return &a->answer.climate[SLEW_FEED_AS_IT_IS].own.figures;
}

/* ---- what was asked ---- */

/* "connections" of a feed cable: lugs, splices, connectors */
static void print_feed(const cli_feed *a)
{
    const slew_feed *feed = &a->answer.setup.supply.feed;
    const slew_feed_figures *f = own_figures(a);
    char size[40], length[CLI_MEASURE_MAX];
    cli_feed_own_size(a, size);
    cli_measure_words(a->scenario->units, CLI_MEASURE_LENGTH, 1, feed->length, length);
    printf("  feed cable  %s, %s one way: %.1f mohm; ", size, length, cli_milliohms(f->conductors));
    if (feed->joints > 0)
        printf("%.4g connections (lugs, splices) of %.4g mohm: %.1f mohm\n", feed->joints,
               cli_milliohms(feed->joint_resistance), cli_milliohms(f->joints));
    else
        printf("no connections\n");
}

void cli_feed_place(const slew_feed_place *place, int axis, char text[CLI_FEED_TEXT_MAX])
{
    snprintf(text, CLI_FEED_TEXT_MAX, "%s %s", slew_axis_word(axis),
             place->anywhere ? "anywhere" : slew_direction_word(axis, place->direction));
    const char *before = " at";
    for (int j = 0; j < SLEW_AXES && !place->anywhere; j++)
        if (!isnan(place->angle[j])) {
            cli_append(text, CLI_FEED_TEXT_MAX, "%s %s %.1f°", before, slew_axis_word(j),
                       cli_degrees(place->angle[j]));
            before = ",";
        }
}

static void print_places(const slew_feed_figures *f)
{
    char rotation[CLI_FEED_TEXT_MAX], elevation[CLI_FEED_TEXT_MAX];
    cli_feed_place(&f->place[SLEW_ROTATION], SLEW_ROTATION, rotation);
    cli_feed_place(&f->place[SLEW_ELEVATION], SLEW_ELEVATION, elevation);
    printf("  running     steady, each axis where its load holds it back most between its stops:\n"
           "              %s; %s\n",
           rotation, elevation);
}

enum { ANSWER_LINES = 5 };

static void print_not_checked(void)
{
    cli_print_wrapped(cli_feed_not_checked, CLI_ANSWER_LETTERS);
}

/* what a chief could read aloud */
static void print_answer(const cli_feed *a)
{
    char text[CLI_FEED_TEXT_MAX];
    if (a->lacking[0] != '\0') {
        cli_feed_finding(a, text);
        cli_print_wrapped(text, CLI_ANSWER_LETTERS);
    }
    cli_feed_say_work(a, text);
    cli_print_wrapped(text, CLI_ANSWER_LETTERS);
    int lines = cli_utf8_lines(text, CLI_ANSWER_LETTERS);
    cli_feed_say_thinner(a, text);
    if (lines + cli_utf8_lines(text, CLI_ANSWER_LETTERS) < ANSWER_LINES)
        cli_print_wrapped(text, CLI_ANSWER_LETTERS);
}

/* what the answer has no room for */
static void print_left_over(const cli_feed *a)
{
    char text[CLI_FEED_TEXT_MAX];
    cli_feed_say_work(a, text);
    int lines = cli_utf8_lines(text, CLI_ANSWER_LETTERS);
    cli_feed_say_thinner(a, text);
    if (lines + cli_utf8_lines(text, CLI_ANSWER_LETTERS) >= ANSWER_LINES) {
        printf("\n");
        cli_print_wrapped(text, CLI_ANSWER_LETTERS);
    }
}

static void print_asked(const cli_feed *a)
{
    const slew_setup *setup = &a->answer.setup;
    const slew_supply *supply = &setup->supply;
    bool deploys = a->question.occasion == SLEW_OCCASION_DEPLOY;
    char temperature[CLI_MEASURE_MAX];
    cli_measure_words(a->scenario->units, CLI_MEASURE_TEMPERATURE, 0,
                      setup->environment.temperature, temperature);
    printf("\n%s\n  conditions  %s, %s; %s\n", a->scenario->title,
           deploys ? "on deploy day" : "today", temperature,
           a->answer.together ? "both axes at once count, too" : "one axis at a time counts");
    printf("  battery     %.4g V at rest, %.4g mohm; other load %.4g A\n", supply->main.voltage,
           cli_milliohms(supply->main.resistance), supply->shared_load);
    print_feed(a);
    printf("  auxiliary   battery %s: %.4g V, %.4g mohm\n",
           supply->auxiliary_fitted ? "fitted" : "not fitted", supply->auxiliary.voltage,
           cli_milliohms(supply->auxiliary.resistance));
    print_places(own_figures(a));
    printf("  minimum     %.4g V wished for at the controller while running\n", supply->floor);
    if (!deploys && a->scenario->deploy_day.count > 0)
        printf("  (when it deploys %d keys differ: --only deploy asks for that)\n",
               a->scenario->deploy_day.count);
}

/* ---- the states ---- */

static void print_state(cli_table *t, const cli_feed *a, const char *when, const char *who,
                        const slew_feed_state *s, const char *note)
{
    cli_table_text(t, NULL, "  %-10s%-12s", when, who);
    cli_table_cell(t, "controller\nV", "%8.2f", s->voltage);
    cli_table_cell(t, "motors\nA", "%10.2f", s->current);
    cli_table_cell(t, "feed\nA", "%9.2f", s->line);
    cli_table_cell(t, "auxiliary\nA", "%11.2f", s->auxiliary);
    cli_table_cell(t, "  drop in the feed\nV", "%8.2f", s->drop);
    cli_table_cell(t, "\n%", "%9.1f%s", 100 * s->drop / a->answer.setup.supply.system, note);
    cli_table_end_row(t);
}

static const char *running_note(const slew_feed_figures *f, int drives)
{
    if (!f->moves[drives])
        return f->blocked[drives] == SLEW_ROTATION ? "  rotation stalls" : "  elevation stalls";
    return f->starts[drives] ? "" : "  does not start from rest";
}

static void print_states(const cli_feed *a)
{
    static const char *const standing[SLEW_FEED_DRIVES] = {"starting", "/stalled", ""};
    const slew_feed_figures *f = own_figures(a);
    cli_table table = {.heads = 2};
    printf("\n");
    print_state(&table, a, "idle", "", &f->idle, "");
    for (int d = 0; d < SLEW_FEED_DRIVES; d++)
        print_state(&table, a, d == 0 ? "running" : "", cli_feed_drives(d), &f->running[d],
                    running_note(f, d));
    for (int d = 0; d < SLEW_FEED_DRIVES; d++)
        print_state(&table, a, standing[d], cli_feed_drives(d), &f->standing[d], "");
    printf("%%: of the nominal %.0f V. A motor at rest draws the same whether it is about to start "
           "or\nstalled. Starting, that is over in about %.2g s, and overstated by up to 20 %% "
           "(motor\n"
           "inductance is left out); stalled, it lasts until the controller gives up.\n",
           a->answer.setup.supply.system, 3 * fmax(f->settling[0], f->settling[1]));
}

/* ---- the auxiliary battery ---- */

static void print_battery_at_rest(const slew_battery *battery, const slew_feed_state *idle)
{
    if (idle->auxiliary <= 0)
        printf("At rest it gives no current: %.2f V come through the feed, it has %.4g V.\n",
               idle->voltage, battery->voltage);
    else if (idle->line >= 0)
        printf("At rest it discharges: it carries %.2f A of the other load, for its %.4g V\n"
               "are more than the feed brings.\n",
               idle->auxiliary, battery->voltage);
    else
        printf("At rest it discharges: %.2f A, of which %.2f A run back through the feed into the\n"
               "battery of the truck, and the rest into the other load.\n",
               idle->auxiliary, -idle->line);
}

static void print_battery_load(const char *when, const slew_feed_state *s)
{
    if (s->auxiliary <= 0)
        printf("%s it is not called upon.\n", when);
    else if (s->line >= 0)
        printf("%s it brings %.2f A, the feed %.2f A.\n", when, s->auxiliary, s->line);
    else
        printf("%s it brings %.2f A, of which %.2f A run back through the feed.\n", when,
               s->auxiliary, -s->line);
}

static void print_battery(const slew_battery *battery, const slew_feed_figures *f, bool together)
{
    int lowest = cli_feed_lowest_drives(f, together);
    print_battery_at_rest(battery, &f->idle);
    print_battery_load("Running", &f->running[lowest]);
    print_battery_load("Starting or stalled", &f->standing[lowest]);
}

static void print_auxiliary(const cli_feed *a)
{
    const slew_feed_answer *answer = &a->answer;
    const slew_supply *supply = &answer->setup.supply;
    const slew_feed_trial *t = &answer->auxiliary.with;
    char size[100];
    printf("\nAn auxiliary battery of %.4g V, %.4g mohm (%s):\n", supply->auxiliary.voltage,
           cli_milliohms(supply->auxiliary.resistance),
           supply->auxiliary_fitted ? "fitted" : "not fitted");
    if (t->status != SLEW_OK) {
        printf("Not possible on a battery and a feed cable without any resistance.\n");
        return;
    }
    print_battery(&supply->auxiliary, &t->figures, answer->together);
    if (isinf(answer->auxiliary.need_with.resistance))
        printf(
            "With it any conductor keeps the minimum voltage, as long as the battery lasts: the\n"
            "feed cable then only has to charge it.\n");
    else if (cli_feed_thinnest(a, &answer->auxiliary.need_with, size))
        printf("With it %s keeps the minimum voltage.\n", size);
    if (supply->auxiliary.voltage < 0.75 * supply->system)
        printf("For a system of %.0f V give supply.auxiliary.voltage its own value.\n",
               supply->system);
    printf(
        "The battery isolator is ideal: it lets current out of the battery only, without a drop.\n"
        "The battery is never charged and never empties here; a real one does both.\n");
}

/* ---- what it comes to ---- */

/* how a run tries what is thinnest */
static void print_settings(const cli_feed *a, const slew_feed_need *need)
{
    char setting[100];
    for (int i = 0; i < CLI_FEED_LADDERS && a->lacking[0] == '\0'; i++) {
        int thinnest = need->thinnest[a->ladder[i]];
        if (thinnest < 0)
            continue;
        cli_feed_setting(a, a->ladder[i], thinnest, setting);
        printf("To see it in a run: --set '%s'\n", setting);
    }
}

static void print_limits(const cli_feed *a, const slew_feed_need *need)
{
    char length[CLI_MEASURE_MAX];
    cli_measure_words(a->scenario->units, CLI_MEASURE_LENGTH, 0, need->length, length);
    if (need->resistance < 0 || isinf(need->resistance))
        return;
    printf("The whole feed cable may have %.1f mohm", cli_milliohms(need->resistance));
    if (need->length >= 0 && isfinite(need->length))
        printf("; it may be %s long", length);
    if (need->joint >= 0 && isfinite(need->joint))
        printf("; each connection may have %.3g mohm", cli_milliohms(need->joint));
    printf(".\n");
}

/* a dip that the controller itself gives up on */
static void print_brownout(const cli_feed *a, const char *what, const slew_feed_trial *t)
{
    const slew_controller_settings *c = &a->answer.setup.controller;
    double dip =
        t->status == SLEW_OK ? slew_feed_lowest_standing(&t->figures, a->answer.together) : NAN;
    if (dip < c->brownout_voltage)
        printf(
            "On %s a motor that starts or is stalled leaves %.2f V, below the brownout of %.4g V:\n"
            "after %.3g s of it the controller gives up.\n",
            what, dip, c->brownout_voltage, c->brownout_dwell);
}

static void print_brownouts(const cli_feed *a, const slew_feed_need *need)
{
    char size[40];
    print_brownout(a, "this feed", &a->answer.climate[SLEW_FEED_AS_IT_IS].own);
    for (int i = 0; i < CLI_FEED_LADDERS; i++) {
        int thinnest = need->thinnest[a->ladder[i]];
        if (thinnest < 0)
            continue;
        cli_feed_size(a->ladder[i], thinnest, size);
        print_brownout(a, size, &a->answer.ladder[a->ladder[i]][thinnest]);
    }
}

static void print_fusing(const slew_feed_answer *a)
{
    printf("\nFor fusing, as information: with both motors stalled up to %.1f A flow through the "
           "feed\ncable, a dead short at its end draws about %.0f A.",
           a->most_stall, a->short_circuit);
    if (a->short_circuit < near_the_load * a->most_stall)
        printf(" That is little more: a fuse may be slow\nto tell the two apart.");
    printf("\nOnly voltage is looked at: whether a conductor may carry its current, and how it is "
           "fused, is\nfor the codes and the manufacturer's instructions.\n");
}

static void print_steady(const cli_feed *a)
{
    const slew_feed_answer *answer = &a->answer;
    const slew_feed_need *need = &answer->climate[SLEW_FEED_AS_IT_IS].floor;
    slew_feed_need worst = cli_feed_worst_floor(answer);
    slew_unit_system units = a->scenario->units;
    char finding[CLI_FEED_TEXT_MAX], size[100], hot[CLI_MEASURE_MAX];
    const char *second = cli_feed_finding_lines(a, finding);
    cli_measure_words(units, CLI_MEASURE_TEMPERATURE, 0, answer->climate[SLEW_FEED_HOT].temperature,
                      hot);
    printf("\nSteady, with the battery as it is:\n%s\n%s%s", finding, second,
           second[0] != '\0' ? "\n" : "");
    if (cli_feed_thinnest(a, &worst, size))
        printf("From %.0f to %s: %s.\n",
               cli_measured(units, CLI_MEASURE_TEMPERATURE,
                            answer->climate[SLEW_FEED_COLD].temperature),
               hot, size);
    print_limits(a, need);
    print_brownouts(a, need);
}

/* ---- the whole ---- */

/* what follows the answer where nothing was measured */
static void print_rest(const cli_feed *a)
{
    print_states(a);
    cli_feed_conductors(a);
    if (a->all) {
        cli_feed_climates(a);
        cli_feed_changes(a);
        print_auxiliary(a);
    }
    print_steady(a);
    print_fusing(&a->answer);
    if (!a->all)
        printf("--all adds every size, cold and heat, length, connections, other load and an "
               "auxiliary battery.\n");
    print_settings(a, &a->answer.climate[SLEW_FEED_AS_IT_IS].floor);
}

void cli_feed_text(const void *what)
{
    const cli_feed *a = what;
    char origin[CLI_PROVENANCE_MAX];
    if (a->measured == CLI_FEED_NOTHING)
        print_answer(a);
    else
        cli_feed_measurement(a);
    print_not_checked();
    if (a->measured == CLI_FEED_NOTHING)
        print_left_over(a);
    print_asked(a);
    if (a->measured == CLI_FEED_NOTHING)
        print_rest(a);
    else
        cli_feed_measured_how(a);
    if (a->lacking[0] != '\0')
        cli_paragraph("The whole work is left out, as the file lacks ", 2, a->lacking);
    cli_provenance_words(a->scenario, NULL, 0, origin);
    printf("Simulated: it does not replace a test on the truck.\n(%s)\n", origin);
}
