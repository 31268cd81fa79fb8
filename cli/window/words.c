/* words.c - the words of `slewtime window`: names, and what was found. */
#include <math.h>

#include "answer.h"
#include "tell/append.h"
#include "tell/units.h"

/* ---- names ---- */

const char *cli_window_start_word(int axis, slew_window_start start)
{
    static const char *const words[SLEW_AXES][SLEW_WINDOW_STARTS] = {{"left", "right", "inside"},
                                                                     {"below", "above", "inside"}};
    return words[axis][start];
}

const char *cli_window_rule_words(int axis, slew_approach rule)
{
    static const char *const words[SLEW_AXES][SLEW_WINDOW_RULES] = {
        {"from whichever side", "from the left", "from the right"},
        {"from whichever side", "from below", "from above"}};
    return words[axis][rule];
}

void cli_window_say_figure(const cli_window *a, int figure, double value, char *text, size_t size)
{
    slew_unit_system units = a->scenario->units;
    if (figure == 0)
        snprintf(text, size, "%.4g T", value);
    else if (figure >= SLEW_WINDOW_FIGURES - 2)
        snprintf(text, size, "%.4g mT", 1000 * value);
    else
        snprintf(text, size, "%.3g %s", cli_measured(units, CLI_MEASURE_SMALL_LENGTH, value),
                 cli_measure_unit(units, CLI_MEASURE_SMALL_LENGTH));
}

bool cli_window_has(const cli_window *a, slew_window_remark remark)
{
    return (a->window.remarks & 1u << remark) != 0;
}

bool cli_window_has_edges(const cli_window *a)
{
    const slew_home *h = &a->window.home;
    return h->present && !h->stuck && isfinite(h->release);
}

const char *cli_window_own_rule(const cli_window *a)
{
    return cli_window_rule_words(a->axis, a->today.axis[a->axis].approach);
}

/* ---- findings ---- */

void cli_window_finding(const cli_window *a, char *text, size_t size)
{
    const slew_window *w = &a->window;
    const slew_magnet *m = &w->own.magnet;
    if (w->home.stuck && a->today.axis[a->axis].home.present)
        snprintf(text, size, "Stuck: closed at every angle");
    else if (cli_window_has(a, SLEW_WINDOW_NEVER_CLOSES))
        snprintf(text, size, "Never closes: %.4g mT over the magnet, and the switch needs %.4g mT",
                 1000 * w->own.flux, 1000 * m->operate_flux);
    else if (!w->home.present)
        snprintf(text, size, "Never closes: the sensor is not present");
    else if (isinf(w->home.operate))
        snprintf(text, size, "Never opens: closed at every angle");
    else if (isinf(w->home.release))
        snprintf(text, size, "Closes within %.2f° of home and then never opens",
                 cli_degrees(w->home.operate));
    else
        snprintf(text, size, "Closes within %.2f° of home and opens beyond %.2f°",
                 cli_degrees(w->home.operate), cli_degrees(w->home.release));
}

void cli_window_rules(const cli_window *a, char *text, size_t size)
{
    const slew_approach own = a->today.axis[a->axis].approach;
    text[0] = '\0';
    for (int i = 0; i < SLEW_WINDOW_RULES && cli_window_has_edges(a); i++) {
        /* the scenario's own rule first */
        int rule = i == 0 ? (int)own : i <= (int)own ? i - 1 : i;
        slew_range range = a->window.rests[rule];
        if (!isnan(range.low))
            cli_append(text, size, "%s%.2f°%s %s", text[0] == '\0' ? "Home repeats within " : ", ",
                       cli_degrees(range.high - range.low), text[0] == '\0' ? " when homed" : "",
                       cli_window_rule_words(a->axis, (slew_approach)rule));
    }
}
