/* picture.c - what plots/window.gp draws of `slewtime window`. */
#include <math.h>

#include "answer.h"
#include "tell/csv.h"
#include "tell/provenance.h"
#include "tell/units.h"

static const double PI = 3.14159265358979323846;

/* ---- variables ---- */

static void set_headings(cli_plot *plot, const cli_window *a)
{
    char text[SLEW_TITLE_MAX + 40], origin[CLI_PROVENANCE_MAX];
    cli_window_finding(a, text, sizeof text);
    if (cli_window_has_edges(a) && cli_window_has(a, SLEW_WINDOW_MAY_NEVER_CLOSE))
        snprintf(text, sizeof text, "Closes within %.2f° of home; with its tolerances maybe never",
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
    for (int rule = 0; rule < SLEW_WINDOW_RULES; rule++) {
        char name[20];
        snprintf(name, sizeof name, "name_%s", slew_approach_word((slew_approach)rule));
        cli_plot_set_text(plot, name, cli_window_rule_words(a->axis, (slew_approach)rule));
    }
    if (own != NULL) {
        cli_plot_set_text(plot, "own_rule", slew_approach_word(own->rule));
        cli_plot_set_text(plot, "own_start", cli_window_start_word(a->axis, own->start));
    }
    if (!w->own.magnet.given)
        return;
    cli_plot_set(plot, "has_flux=1");
    cli_plot_set(plot, "has_cases=%d", w->cases > 1 && w->cases > w->blind);
    cli_plot_set(plot, "operate_flux=%.9g", 1000 * w->own.magnet.operate_flux);
    cli_plot_set(plot, "release_flux=%.9g", 1000 * w->own.magnet.release_flux);
}

/* ---- flux density against angle ---- */

static void tell_flux(cli_teller *t, const void *what)
{
    const slew_window_flux *f = what;
    cli_tell_degrees(t, "angle_deg", f->angle);
    cli_tell_number(t, "own_mT", 1000 * f->own);
    cli_tell_number(t, "narrowest_mT", 1000 * f->narrowest);
    cli_tell_number(t, "widest_mT", 1000 * f->widest);
}

static void write_flux(FILE *stream, const void *what)
{
    const cli_window *a = what;
    for (int i = 0; i < SLEW_WINDOW_ANGLES; i++) {
        const slew_window_flux flux = slew_window_flux_at(&a->window, i);
        cli_csv_row(stream, i == 0, tell_flux, &flux);
    }
}

bool cli_window_fill(cli_plot *plot, const void *what)
{
    const cli_window *a = what;
    set_headings(plot, a);
    set_window(plot, a);
    return cli_plot_table(plot, "window.csv", cli_window_table, a) &&
           (!a->window.own.magnet.given || cli_plot_table(plot, "flux.csv", write_flux, a));
}
