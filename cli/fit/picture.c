/* picture.c - what plots/fit.gp draws of `slewtime fit`. */
#include "answer.h"
#include "tell/provenance.h"

bool cli_fit_fill(cli_plot *plot, const void *what)
{
    const cli_fit *a = what;
    char text[500], origin[CLI_PROVENANCE_MAX];
    cli_plot_set_text(plot, "heading_1", a->finding);
    snprintf(text, sizeof text, "%.200s   |   %.200s", a->scenario->title, a->path);
    cli_plot_set_text(plot, "heading_2", text);
    cli_provenance_words(a->scenario, NULL, 0, origin);
    cli_plot_set_text(plot, "origin", origin);
    cli_plot_caution(plot, cli_fit_dangers(a));
    return cli_plot_table(plot, "fit.csv", cli_fit_table, a);
}
