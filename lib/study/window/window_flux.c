/* window_flux.c - the field of the magnets around home. */
#include "slewtime/window.h"

static const double PI = 3.14159265358979323846;

/* far enough to show the window and the field beyond it turning round */
static double reach_of(const slew_window *w)
{
    double window = fmax(w->home.release, isnan(w->widest.release) ? 0 : w->widest.release);
    double field = isfinite(w->turns_at) ? w->turns_at : 0;
    return fmin(fmax(w->home.present ? 1.5 * window : 0, 1.6 * field), PI);
}

static double flux_of(const slew_magnet *magnet, double turned)
{
    return magnet->given ? slew_home_flux(magnet, turned) : (double)NAN;
}

slew_window_flux slew_window_flux_at(const slew_window *w, int index)
{
    if (w == NULL || index < 0 || index >= SLEW_WINDOW_ANGLES)
        return (slew_window_flux){NAN, NAN, NAN, NAN};
    const int half = SLEW_WINDOW_ANGLES / 2;
    double turned = reach_of(w) * (index - half) / half;
    return (slew_window_flux){w->home.angle + turned, flux_of(&w->own.magnet, turned),
                              flux_of(&w->narrowest.magnet, turned),
                              flux_of(&w->widest.magnet, turned)};
}
