/* picture.c - the readings of `slewtime fit` as a picture. */
#include "answer.h"
#include "draw/plot.h"
#include "line/exit_code.h"
#include "tell/provenance.h"

static void set_headings(cli_plot *plot, const cli_fit *a)
{
    char text[500], finding[CLI_FIT_WORDS_MAX], origin[CLI_PROVENANCE_MAX];
    cli_fit_finding(a, finding);
    cli_plot_set_text(plot, "heading_1", finding);
    snprintf(text, sizeof text, "%.200s   |   %.200s", a->scenario->title, a->path);
    cli_plot_set_text(plot, "heading_2", text);
    cli_provenance_words(a->scenario, NULL, 0, origin);
    cli_plot_set_text(plot, "origin", origin);
}

int cli_fit_draw(const char *path, const void *what)
{
    const cli_fit *a = what;
    cli_plot plot;
    int code = cli_plot_open(&plot);
    if (code != CLI_OK)
        return code;
    set_headings(&plot, a);
    FILE *data = cli_plot_data(&plot, "fit.csv");
    if (data != NULL)
        cli_fit_csv(data, a);
    return cli_plot_close(&plot, data != NULL ? CLI_OK : CLI_OUTSIDE, "fit.gp", path);
}
