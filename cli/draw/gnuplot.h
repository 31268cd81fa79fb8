/* gnuplot.h - gnuplot as a child: what it draws comes back whole, or a reason. */
#ifndef SLEW_CLI_DRAW_GNUPLOT_H
#define SLEW_CLI_DRAW_GNUPLOT_H

#include <signal.h>
#include <stddef.h>

/* what gnuplot is asked to draw */
typedef struct cli_gnuplot {
    char **argument;       /* of gnuplot, its name first, NULL last */
    const char *directory; /* that it works in */
    const char *format;    /* "png", "svg", "pdf" or "dumb" */
    const sigset_t
        *before; /* the signals that it holds back; others that are held back here end it */
} cli_gnuplot;

/* Starts gnuplot, waits for it, and hands back what it drew in *picture, which is the caller's to
 * free. A picture counts only if its format's last mark stands at its end. gnuplot is ended after
 * $SLEWTIME_GNUPLOT_SECONDS (60), and where a signal is pending that ends this process as soon as
 * it is no longer held back. Returns an exit code; a failure is told on stderr, *picture is NULL
 * then. */
int cli_gnuplot_draw(const cli_gnuplot *ask, char **picture, size_t *length);

#endif
