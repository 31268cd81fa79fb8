/* text.c - the answer of `slewtime window` as text. */
#include "answer.h"

#include <inttypes.h>
#include <math.h>
#include <stdlib.h>

#include "single/outcome_sentence.h"
#include "slewtime/slewtime.h"
#include "tell/provenance.h"
#include "tell/units.h"

/* ---- words ---- */

const char *cli_approach_word(slew_approach approach)
{
    static const char *const words[] = {"either", "rising", "falling"};
    return words[approach];
}

const char *cli_window_start_words(int axis, slew_window_start start)
{
    static const char *const words[SLEW_AXES][SLEW_WINDOW_STARTS] = {{"left", "right", "inside"},
                                                                     {"below", "above", "inside"}};
    return words[axis][start];
}

/* "9 mm" */
static void say_figure(int figure, double value, char *text, size_t size)
{
    bool flux = figure >= 5;
    snprintf(text, size, "%.4g %s", figure == 0 ? value : 1000 * value,
             figure == 0 ? "T"
             : flux      ? "mT"
                         : "mm");
}

static const char *stop_word(int axis, int direction)
{
    return cli_stop_in_words(axis, direction);
}

static double milli(double value)
{
    return 1000 * value;
}

static bool has(const cli_window *a, slew_window_remark remark)
{
    return (a->window.remarks & 1u << remark) != 0;
}

bool cli_window_has_edges(const cli_window *a)
{
    const slew_home *h = &a->window.home;
    return h->present && !h->stuck && isfinite(h->release);
}

static double width(slew_range range)
{
    return cli_degrees(range.high - range.low);
}

/* ---- findings ---- */

void cli_window_finding(const cli_window *a, char *text, size_t size)
{
    const slew_window *w = &a->window;
    const slew_magnet *m = &w->own.magnet;
    if (w->home.stuck && a->today.axis[a->axis].home.present)
        snprintf(text, size, "Stuck: closed at every angle");
    else if (has(a, SLEW_WINDOW_NEVER_CLOSES))
        snprintf(text, size, "Never closes: %.4g mT over the magnet, and the switch needs %.4g mT",
                 milli(w->own.flux), milli(m->operate_flux));
    else if (!w->home.present)
        snprintf(text, size, "Never closes: the sensor is not present");
    else if (isinf(w->home.operate))
        snprintf(text, size, "Never opens: closed at every angle");
    else if (isinf(w->home.release))
        snprintf(text, size, "Closes within %.2f deg of home and then never opens",
                 cli_degrees(w->home.operate));
    else
        snprintf(text, size, "Closes within %.2f deg of home and opens beyond %.2f deg",
                 cli_degrees(w->home.operate), cli_degrees(w->home.release));
}

void cli_window_rules(const cli_window *a, char *text, size_t size)
{
    int length = 0;
    text[0] = '\0';
    for (int i = SLEW_WINDOW_RULES - 1; i >= 0 && cli_window_has_edges(a); i--) {
        slew_range range = a->window.rests[i];
        bool room = length >= 0 && (size_t)length < size;
        if (isnan(range.low) || !room)
            continue;
        length += snprintf(text + length, size - (size_t)length, "%s%.2f deg with %s",
                           length == 0 ? "Home moves by " : ", ", width(range),
                           cli_approach_word((slew_approach)i));
    }
}

/* ---- head ---- */

static void print_tolerances(const cli_window *a)
{
    int told = 0;
    for (int i = 0; i < SLEW_WINDOW_FIGURES; i++) {
        char low[32], high[32];
        slew_range range = a->window.figure[i];
        if (isnan(range.low))
            continue;
        say_figure(i, range.low, low, sizeof low);
        say_figure(i, range.high, high, sizeof high);
        printf("%s%s %s to %s", told++ == 0 ? "  tolerance   " : ", ", slew_window_figure_word(i),
               low, high);
    }
    printf("%s", told > 0 ? "\n" : "");
}

static void print_magnet(const cli_window *a)
{
    const slew_magnet *m = &a->window.own.magnet;
    if (!m->given) {
        bool other = a->today.axis[!a->axis].home.magnet.given;
        printf("  magnet      none given: the window is as the scenario says%s%s\n",
               other ? "; another axis has one: --axis " : "",
               other ? slew_axis_word(!a->axis) : "");
        return;
    }
    printf(
        "  magnet      %.4g T, %.4g mm across, %.4g mm long, on a radius of %.4g mm, gap %.4g mm\n"
        "  switch      closes at %.4g mT, opens at %.4g mT\n",
        m->remanence, milli(m->diameter), milli(m->length), milli(m->radius), milli(m->gap),
        milli(m->operate_flux), milli(m->release_flux));
    print_tolerances(a);
}

static void print_head(const cli_window *a)
{
    const slew_axis_setup *axis = &a->today.axis[a->axis];
    char origin[CLI_PROVENANCE_MAX], text[160];
    cli_provenance_words(a->scenario, NULL, 0, origin);
    cli_window_finding(a, text, sizeof text);
    printf("%s\n  asked       home sensor of the %s at %.4g deg today, approach %s, %s\n",
           a->scenario->title, slew_axis_word(a->axis), cli_degrees(axis->home.angle),
           cli_approach_word(axis->approach), origin);
    print_magnet(a);
    printf("\n%s.\n", text);
}

/* ---- edges ---- */

/* with the figures that make it so */
static void print_case(const cli_window *a, const char *name, const slew_window_case *c, bool told)
{
    printf("  %-10s %7.2f %7.2f  %9.4g", name, cli_degrees(c->operate), cli_degrees(c->release),
           milli(c->flux));
    for (int i = 0, said = 0; i < SLEW_WINDOW_FIGURES && told; i++)
        if (!isnan(a->window.figure[i].low)) {
            char value[32];
            say_figure(i, slew_window_figure(&c->magnet, i), value, sizeof value);
            printf("%s%s %s", said++ > 0 ? ", " : "  ", slew_window_figure_word(i), value);
        }
    putchar('\n');
}

static void print_edges(const cli_window *a)
{
    const slew_window *w = &a->window;
    if (!w->own.magnet.given || w->cases == w->blind || (w->cases == 1 && !cli_window_has_edges(a)))
        return;
    printf("\n               closes   opens  over the\n"
           "                  deg     deg  magnet, mT\n");
    if (w->blind > 0)
        printf("  %-10s never closes\n", "narrowest");
    else if (w->cases > 1)
        print_case(a, "narrowest", &w->narrowest, true);
    if (w->own.sight != SLEW_SIGHT_TOO_WEAK)
        print_case(a, "as it is", &w->own, false);
    if (w->cases > 1)
        print_case(a, "widest", &w->widest, true);
    if (w->cases > 1)
        printf("  (of %" PRId64
               " combinations of lowest, own and highest values, and between them; %" PRId64
               " never "
               "close)\n",
               w->cases, w->blind);
}

static void print_field(const cli_window *a)
{
    const slew_window *w = &a->window;
    const slew_magnet *m = &w->own.magnet;
    if (!m->given)
        return;
    printf("\nOver the magnet it has %.2f times what the switch needs; ",
           w->own.flux / m->operate_flux);
    if (w->largest_gap > 0)
        printf("it closes up to a gap of %.2f mm.\n", milli(w->largest_gap));
    else
        printf("no gap is small enough.\n");
    if (isfinite(w->turns_at))
        printf("From %.2f deg on the field points the other way, %.3g mT at most, at %.1f deg.\n",
               cli_degrees(w->turns_at), milli(w->lobe_flux), cli_degrees(w->lobe_at));
}

/* ---- what is to be minded ---- */

static void print_weak(const cli_window *a)
{
    const slew_window *w = &a->window;
    if (has(a, SLEW_WINDOW_NEVER_CLOSES))
        printf("  ! Too weak: the search runs to the stops and ends with home not found. Less gap, "
               "a\n    stronger magnet, or a more sensitive switch.\n");
    if (has(a, SLEW_WINDOW_OFF_CENTRE))
        printf("  ! But at %.2f deg to either side it has %.4g mT, enough to close: so near to the "
               "face of\n    a flat magnet its rim is stronger than its middle. The switch has two "
               "windows then;\n    the simulation has none. More gap.\n",
               cli_degrees(w->beside_at), milli(w->beside_flux));
    if (has(a, SLEW_WINDOW_MAY_NEVER_CLOSE))
        printf("  ! With these tolerances it may never close: %" PRId64 " of %" PRId64
               " combinations.\n",
               w->blind, w->cases);
}

static void print_wide(const cli_window *a)
{
    if (has(a, SLEW_WINDOW_NEVER_OPENS))
        printf("  ! Too wide: half a turn away the switch is still held closed.\n");
    for (int side = -1; side <= 1; side += 2)
        if (has(a, side < 0 ? SLEW_WINDOW_OVER_LOW_STOP : SLEW_WINDOW_OVER_HIGH_STOP))
            printf("  ! Too wide: it has not opened when the axis meets the %s. A search that has "
                   "to\n    leave it that way stalls there, and no edge is met on that side.\n",
                   stop_word(a->axis, side));
    if (has(a, SLEW_WINDOW_STOW_POINT))
        printf(
            "  ! The stow point lies inside the window and home is taken from either side: the "
            "next\n    search ends where the axis stands. Approach rising or falling, or another "
            "point.\n");
}

static void print_strange(const cli_window *a)
{
    const slew_window *w = &a->window;
    if (has(a, SLEW_WINDOW_OTHER_POLE))
        printf(
            "  ! A switch that takes either pole (a reed contact) closes again around %.1f deg, "
            "where\n    the field the other way has %.3g mT. Take one that needs its own pole.\n",
            cli_degrees(w->lobe_at), milli(fabs(w->lobe_flux)));
    if (has(a, SLEW_WINDOW_WHOLE_TURN))
        printf("  ! Between its stops the axis turns so far that it meets the magnet a second "
               "time; the\n    simulation does not know that.\n");
    if (has(a, SLEW_WINDOW_UNSEEN) && cli_window_has_edges(a))
        printf("  ! So narrow or so fast that it is crossed between two samples in some runs: "
               "see below.\n");
    if (has(a, SLEW_WINDOW_NOT_FOUND) && cli_window_has_edges(a))
        printf("  ! By its own rule, %s, home is not found in some runs: see below.\n",
               cli_approach_word(a->today.axis[a->axis].approach));
}

/* ---- at the truck ---- */

static void print_continuity(const cli_window *a)
{
    const slew_home *h = &a->window.home;
    double at = cli_degrees(h->angle), near = cli_degrees(h->operate),
           far = cli_degrees(h->release);
    if (!cli_window_has_edges(a))
        return;
    printf("\nWith a multimeter on the sensor, the axis turned slowly:\n");
    for (int d = 1; d >= -1; d -= 2)
        printf("  going %-6s closes at %7.2f deg, opens at %7.2f deg\n",
               slew_direction_word(a->axis, d), at - d * near + 0.0, at + d * far + 0.0);
    printf(
        "  closed      from %.2f to %.2f deg; as it came from there to %.2f and %.2f; else open\n",
        at - near, at + near, at - far, at + far);
}

static void print_sense(const cli_window *a)
{
    const cli_sense *s = &a->sense;
    if (!s->asked)
        return;
    printf("\nOn its line (%.4g V, %.4g ohm in series, line, sensor to ground) against ground:\n"
           "  open        %.2f V\n"
           "  closed      %.2f V (the sensor with its wires has %.4g ohm)\n",
           s->supply, s->series, s->supply, slew_divider_voltage(s->supply, s->series, s->closed),
           s->closed);
}

/* ---- into a scenario ---- */

static void print_key(const slew_scenario *s, int axis, const char *name)
{
    char path[96], value[64];
    snprintf(path, sizeof path, "%s.home.%s", slew_axis_word(axis), name);
    slew_key_format(s, slew_key_find(path), value, sizeof value);
    printf(", %s: %s", name, value);
}

static bool write_window(const cli_window *a, slew_scenario *s)
{
    static const char *const names[] = {"operate", "release"};
    const double values[] = {a->window.home.operate, a->window.home.release};
    for (int i = 0; i < 2; i++) {
        char path[96];
        snprintf(path, sizeof path, "%s.home.%s", slew_axis_word(a->axis), names[i]);
        if (slew_scenario_set_number(s, SLEW_LAYER_FILE, slew_key_find(path), values[i]) != SLEW_OK)
            return false;
    }
    return true;
}

static void print_yaml(const cli_window *a)
{
    if (!a->window.own.magnet.given || !cli_window_has_edges(a))
        return;
    slew_scenario *s = malloc(sizeof *s);
    if (s == NULL)
        return;
    *s = *a->scenario;
    if (write_window(a, s)) {
        char angle[64], path[96];
        snprintf(path, sizeof path, "%s.home.angle", slew_axis_word(a->axis));
        slew_key_format(s, slew_key_find(path), angle, sizeof angle);
        printf("\nThe same in a scenario without the magnet, under %s:\n  home: {angle: %s",
               slew_axis_word(a->axis), angle);
        print_key(s, a->axis, "operate");
        print_key(s, a->axis, "release");
        printf("}\n");
    }
    free(s);
}

void cli_window_print(const void *what)
{
    const cli_window *a = what;
    print_head(a);
    print_edges(a);
    print_field(a);
    print_weak(a);
    print_wide(a);
    print_strange(a);
    print_continuity(a);
    print_sense(a);
    cli_window_print_home(a);
    print_yaml(a);
    printf(
        "\nIsolate the power of the monitor before any work on it. The field of steel nearby, and "
        "of a\nmagnet that has grown old or hot, is left out. Simulated: it does not replace a "
        "test on the\ntruck.\n");
}
