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

void cli_window_say_figure(int figure, double value, char *text, size_t size)
{
    static const char *const units[SLEW_WINDOW_FIGURES] = {"T", "mm", "mm", "mm", "mm", "mT", "mT"};
    snprintf(text, size, "%.4g %s", figure == 0 ? value : 1000 * value, units[figure]);
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
    return slew_approach_word(a->today.axis[a->axis].approach);
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
        snprintf(text, size, "Closes within %.2f deg of home and then never opens",
                 cli_degrees(w->home.operate));
    else
        snprintf(text, size, "Closes within %.2f deg of home and opens beyond %.2f deg",
                 cli_degrees(w->home.operate), cli_degrees(w->home.release));
}

void cli_window_rules(const cli_window *a, char *text, size_t size)
{
    text[0] = '\0';
    for (int i = SLEW_WINDOW_RULES - 1; i >= 0 && cli_window_has_edges(a); i--) {
        slew_range range = a->window.rests[i];
        if (!isnan(range.low))
            cli_append(text, size, "%s%.2f deg with %s", text[0] == '\0' ? "Home moves by " : ", ",
                       cli_degrees(range.high - range.low), slew_approach_word((slew_approach)i));
    }
}
