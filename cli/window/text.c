/* text.c - the answer of `slewtime window` as text. */
#include <ctype.h>
#include <inttypes.h>
#include <math.h>
#include <string.h>

#include "answer.h"
#include "single/outcome_sentence.h"
#include "tell/provenance.h"
#include "tell/units.h"
#include "tell/utf8.h"

static double milli(double value)
{
    return 1000 * value;
}

/* ---- what was asked ---- */

static void print_tolerances(const cli_window *a)
{
    int told = 0;
    for (int i = 0; i < SLEW_WINDOW_FIGURES; i++) {
        char low[32], high[32];
        slew_range range = a->window.figure[i];
        if (isnan(range.low))
            continue;
        cli_window_say_figure(a, i, range.low, low, sizeof low);
        cli_window_say_figure(a, i, range.high, high, sizeof high);
        printf("%s%s %s to %s", told++ == 0 ? "  tolerance   " : ", ", slew_window_figure_word(i),
               low, high);
    }
    printf("%s", told > 0 ? "\n" : "");
}

static void print_magnet(const cli_window *a)
{
    const slew_magnet *m = &a->window.own.magnet;
    char figure[SLEW_WINDOW_FIGURES][32];
    if (!m->given) {
        bool other = a->today.axis[!a->axis].home.magnet.given;
        printf("  magnet      none given: the home window is as the scenario says%s%s\n",
               other ? "; another axis has one: --axis " : "",
               other ? slew_axis_word(!a->axis) : "");
        return;
    }
    for (int i = 0; i < SLEW_WINDOW_FIGURES; i++)
        cli_window_say_figure(a, i, slew_window_figure(m, i), figure[i], sizeof figure[i]);
    printf("  magnet      %s, %s across, %s long, on a radius of %s, gap %s\n"
           "  switch      closes at %s, opens at %s\n",
           figure[0], figure[1], figure[2], figure[3], figure[4], figure[5], figure[6]);
    print_tolerances(a);
}

static void print_asked(const cli_window *a)
{
    const slew_axis_setup *axis = &a->today.axis[a->axis];
    printf("\n%s\n  asked       home sensor of the %s at %.4g° today, homed %s\n",
           a->scenario->title, slew_axis_word(a->axis), cli_degrees(axis->home.angle),
           cli_window_own_rule(a));
    print_magnet(a);
}

/* what a chief could read aloud */
static void print_answer(const cli_window *a)
{
    char text[400];
    cli_window_finding(a, text, sizeof text);
    char line[480];
    snprintf(line, sizeof line, "Home sensor of the %s: %c%s.", slew_axis_word(a->axis),
             (char)tolower((unsigned char)text[0]), text + 1);
    cli_print_wrapped(line, CLI_ANSWER_LETTERS);
    cli_window_rules(a, text, sizeof text - 1);
    strcat(text, text[0] != '\0' ? "." : "");
    cli_print_wrapped(text, CLI_ANSWER_LETTERS);
}

/* ---- the field ---- */

static void print_field(const cli_window *a)
{
    const slew_window *w = &a->window;
    const slew_magnet *m = &w->own.magnet;
    if (!m->given)
        return;
    printf("\nOver the magnet it has %.2f times what the switch needs; ",
           w->own.flux / m->operate_flux);
    if (w->largest_gap > 0)
        printf("it closes up to a gap of %.3g %s.\n",
               cli_measured(a->scenario->units, CLI_MEASURE_SMALL_LENGTH, w->largest_gap),
               cli_measure_unit(a->scenario->units, CLI_MEASURE_SMALL_LENGTH));
    else
        printf("no gap is small enough.\n");
    if (cli_window_has(a, SLEW_WINDOW_MAY_NEVER_CLOSE))
        printf("With these tolerances it never closes in %" PRId64 " of %" PRId64
               " combinations of their ends, on %.2f %% of\nthe trucks (95 %% interval %.2f to "
               "%.2f), any value between two ends as likely.\n",
               w->blind, w->cases, cli_percent(w->never.value), cli_percent(w->never.low),
               cli_percent(w->never.high));
    if (isfinite(w->turns_at))
        printf("From %.2f° on the field points the other way, %.3g mT at most, at %.1f°.\n",
               cli_degrees(w->turns_at), milli(w->lobe_flux), cli_degrees(w->lobe_at));
}

/* ---- what is to be minded ---- */

static void print_weak(const cli_window *a)
{
    const slew_window *w = &a->window;
    if (cli_window_has(a, SLEW_WINDOW_NEVER_CLOSES))
        printf("  ! Too weak: the search runs to the stops and ends with home not found. Less gap, "
               "a\n    stronger magnet, or a more sensitive switch.\n");
    if (cli_window_has(a, SLEW_WINDOW_OFF_CENTRE))
        printf("  ! But at %.2f° to either side it has %.4g mT, enough to close: so near to the "
               "face of\n    a flat magnet its rim is stronger than its middle. The switch has two "
               "windows then;\n    the simulation has none. More gap.\n",
               cli_degrees(w->beside_at), milli(w->beside_flux));
    if (cli_window_has(a, SLEW_WINDOW_MAY_NEVER_CLOSE))
        printf("  ! With these tolerances it may never close: on %.2f %% of the trucks.\n",
               cli_percent(w->never.value));
}

static void print_wide(const cli_window *a)
{
    if (cli_window_has(a, SLEW_WINDOW_NEVER_OPENS))
        printf("  ! Too wide: half a turn away the switch is still held closed.\n");
    for (int side = -1; side <= 1; side += 2)
        if (cli_window_has(a, side < 0 ? SLEW_WINDOW_OVER_LOW_STOP : SLEW_WINDOW_OVER_HIGH_STOP))
            printf("  ! Too wide: it has not opened when the axis meets the %s. A search that has "
                   "to\n    leave it that way stalls there, and no edge is met on that side.\n",
                   cli_stop_in_words(a->axis, side));
    if (cli_window_has(a, SLEW_WINDOW_STOW_POINT))
        printf(
            "  ! The stow point lies inside the home window, and homing is from whichever side: "
            "the next\n    search ends where the axis rests. Home from one side, or take another "
            "point.\n");
}

static void print_strange(const cli_window *a)
{
    const slew_window *w = &a->window;
    if (cli_window_has(a, SLEW_WINDOW_OTHER_POLE))
        printf(
            "  ! A switch that takes either pole (a reed contact) closes again around %.1f°, "
            "where\n    the field the other way has %.3g mT. Take one that needs its own pole.\n",
            cli_degrees(w->lobe_at), milli(fabs(w->lobe_flux)));
    if (cli_window_has(a, SLEW_WINDOW_WHOLE_TURN))
        printf("  ! Between its stops the axis turns so far that it meets the magnet a second "
               "time; the\n    simulation does not know that.\n");
    if (cli_window_has(a, SLEW_WINDOW_UNSEEN) && cli_window_has_edges(a))
        printf("  ! So narrow or so fast that it is missed between two samples in some runs.\n");
    if (cli_window_has(a, SLEW_WINDOW_NOT_FOUND) && cli_window_has_edges(a))
        printf("  ! Homed %s, home is not found in some runs.\n", cli_window_own_rule(a));
}

/* ---- at the truck ---- */

static void print_continuity(const cli_window *a)
{
    const slew_home *h = &a->window.home;
    double at = cli_degrees(h->angle), near = cli_degrees(h->operate),
           far = cli_degrees(h->release);
    if (!cli_window_has_edges(a))
        return;
    printf("\nWith the power disconnected and locked out: a multimeter on the sensor, the axis "
           "turned slowly by "
           "hand:\n");
    for (int d = 1; d >= -1; d -= 2)
        printf("  going %-6s closes at %7.2f°, opens at %7.2f°\n", slew_direction_word(a->axis, d),
               at - d * near + 0.0, at + d * far + 0.0);
    printf("  closed      from %.2f° to %.2f°; from there to %.2f° and %.2f° it holds its last "
           "state\n",
           at - near, at + near, at - far, at + far);
}

static void print_sense(const cli_window *a)
{
    const cli_sense *s = &a->sense;
    if (!s->asked)
        return;
    printf("\nWith the power ON, nobody near, leads clipped on while it was off:\n"
           "on its line (%.4g V, %.4g ohm in series, line, sensor to ground) against ground:\n"
           "  open        %.2f V\n"
           "  closed      %.2f V (the sensor with its wires has %.4g ohm)\n",
           s->supply, s->series, s->supply, s->voltage, s->closed);
}

/* ---- into a scenario ---- */

static void print_key(const cli_window *a, const char *name, double value, const char *after)
{
    char path[96], text[64];
    snprintf(path, sizeof path, "%s.home.%s", slew_axis_word(a->axis), name);
    slew_key_format_number(slew_key_find(path), value, text, sizeof text);
    printf("%s: %s%s", name, text, after);
}

static void print_yaml(const cli_window *a)
{
    const slew_home *h = &a->window.home;
    if (!a->window.own.magnet.given || !cli_window_has_edges(a) || !(h->operate > 0))
        return;
    printf("\nThe same in a scenario without the magnet, under %s:\n  home: {",
           slew_axis_word(a->axis));
    print_key(a, "angle", h->angle, ", ");
    print_key(a, "operate", h->operate, ", ");
    print_key(a, "release", h->release, "}\n");
}

void cli_window_text(const void *what)
{
    const cli_window *a = what;
    char origin[CLI_PROVENANCE_MAX];
    print_answer(a);
    print_weak(a);
    print_wide(a);
    print_strange(a);
    print_asked(a);
    cli_window_print_edges(a);
    print_field(a);
    print_continuity(a);
    print_sense(a);
    cli_window_print_home(a);
    print_yaml(a);
    printf("\nDisconnect and lock out power before any work on the monitor. Steel nearby, and a "
           "magnet that has\ngrown old or hot, are left out. Simulated: it does not replace a "
           "test on the truck.\n");
    cli_provenance_words(a->scenario, NULL, 0, origin);
    printf("(%s)\n", origin);
}
