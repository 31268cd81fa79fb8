/* picture.c - the picture of `slewtime window`. */
#include <math.h>
#include <string.h>

#include "answer.h"
#include "draw/plot.h"
#include "line/exit_code.h"
#include "tell/provenance.h"
#include "tell/units.h"

static const double PI = 3.14159265358979323846;

enum { ANGLES = 400 }; /* to either side */

/* ---- flux density against angle ---- */

/* far enough to show the window and the field beyond it turning round */
static double reach_of(const slew_window *w)
{
    double window = fmax(w->home.release, isnan(w->widest.release) ? 0 : w->widest.release);
    double field = isfinite(w->turns_at) ? w->turns_at : 0;
    return fmin(fmax(w->home.present ? 1.5 * window : 0, 1.6 * field), PI);
}

static double milliteslas(const slew_magnet *magnet, double turned)
{
    return magnet->given ? 1000 * slew_home_flux(magnet, turned) : (double)NAN;
}

static void write_flux(FILE *stream, const slew_window *w)
{
    double reach = reach_of(w);
    fputs("angle_deg,own_mT,narrowest_mT,widest_mT\n", stream);
    for (int i = -ANGLES; i <= ANGLES; i++) {
        double turned = reach * i / ANGLES;
        fprintf(stream, "%.9g,%.9g,%.9g,%.9g\n", cli_degrees(w->home.angle + turned),
                milliteslas(&w->own.magnet, turned), milliteslas(&w->narrowest.magnet, turned),
                milliteslas(&w->widest.magnet, turned));
    }
}

/* ---- variables ---- */

static void set_headings(cli_plot *plot, const cli_window *a)
{
    char text[SLEW_TITLE_MAX + 40], origin[CLI_PROVENANCE_MAX];
    cli_window_finding(a, text, sizeof text);
    if (cli_window_has_edges(a) && a->window.remarks & 1u << SLEW_WINDOW_MAY_NEVER_CLOSE)
        snprintf(text, sizeof text,
                 "Closes within %.2f deg of home; with its tolerances maybe never",
                 cli_degrees(a->window.home.operate));
    cli_plot_set_text(plot, "heading_1", text);
    cli_window_rules(a, text, sizeof text);
    cli_plot_set_text(plot, "heading_2", text);
    snprintf(text, sizeof text, "%s   |   home sensor of the %s", a->scenario->title,
             slew_axis_word(a->axis));
    cli_plot_set_text(plot, "heading_3", text);
    cli_provenance_words(a->scenario, NULL, 0, origin);
    cli_plot_set_text(plot, "origin", origin);
}

/* the first row of the scenario's own rule that tells a way; NULL: none does */
static const slew_window_row *own_row(const cli_window *a)
{
    for (int i = 0; i < a->window.rows; i++) {
        const slew_window_row *row = &a->window.row[i];
        if (row->found > 0 && isfinite(row->speed) &&
            row->rule == a->today.axis[a->axis].approach && row->start != SLEW_WINDOW_INSIDE)
            return row;
    }
    return NULL;
}

static bool is_found(const slew_window *w)
{
    for (int i = 0; i < w->rows; i++)
        if (w->row[i].found > 0 && isfinite(w->row[i].speed))
            return true;
    return false;
}

static void set_window(cli_plot *plot, const cli_window *a)
{
    const slew_window *w = &a->window;
    bool closes = w->home.present;
    double everywhere = 2 * PI, operate = w->home.stuck ? everywhere : w->home.operate;
    double release = w->home.stuck ? everywhere : w->home.release;
    const slew_window_row *own = own_row(a);
    cli_plot_set(plot, "home=%.9g", cli_degrees(w->home.angle));
    cli_plot_set(plot, "operate=%.9g", closes ? cli_degrees(fmin(operate, everywhere)) : -1.0);
    cli_plot_set(plot, "release=%.9g", cli_degrees(fmin(release, everywhere)));
    cli_plot_set(plot, "has_home=%d", is_found(w));
    if (own != NULL) {
        cli_plot_set_text(plot, "own_rule", cli_approach_word(own->rule));
        cli_plot_set_text(plot, "own_start", cli_window_start_words(a->axis, own->start));
    }
    if (!w->own.magnet.given)
        return;
    cli_plot_set(plot, "has_flux=1");
    cli_plot_set(plot, "has_cases=%d", w->cases > 1 && w->cases > w->blind);
    cli_plot_set(plot, "operate_flux=%.9g", 1000 * w->own.magnet.operate_flux);
    cli_plot_set(plot, "release_flux=%.9g", 1000 * w->own.magnet.release_flux);
}

int cli_window_draw(const char *path, const void *what)
{
    const cli_window *a = what;
    cli_plot plot;
    int code = cli_plot_open(&plot);
    if (code != CLI_OK)
        return code;
    set_headings(&plot, a);
    set_window(&plot, a);
    FILE *data = cli_plot_data(&plot, "window.csv");
    FILE *flux = data != NULL ? cli_plot_data(&plot, "flux.csv") : NULL;
    if (flux != NULL) {
        cli_window_csv(data, a);
        write_flux(flux, &a->window);
    }
    return cli_plot_close(&plot, flux != NULL ? CLI_OK : CLI_OUTSIDE, "window.gp", path);
}
