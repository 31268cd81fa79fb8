/* heading.c - see heading.h. */
#include "heading.h"

#include <stdio.h>

#include "outcome_sentence.h"
#include "tell/provenance.h"
#include "tell/units.h"
#include "tell/utf8.h"

static void say_occasion(const cli_single *single, const char *part, const slew_setup *setup,
                         char text[80])
{
    char temperature[CLI_MEASURE_MAX];
    cli_measure_words(single->scenario->units, CLI_MEASURE_TEMPERATURE, 0,
                      setup->environment.temperature, temperature);
    snprintf(text, 80, "   |   %s at %.1f V, %s%s", part, setup->supply.main.voltage, temperature,
             setup->nozzle.flowing ? ", water flowing" : "");
}

void cli_heading_set(cli_plot *plot, const cli_single *single)
{
    char stow[CLI_SENTENCE_MAX], deploy[CLI_SENTENCE_MAX], truck[SLEW_TITLE_MAX + 160];
    char origin[CLI_PROVENANCE_MAX];
    char stow_day[80] = "", deploy_day[80] = "";
    cli_outcome_stow(single, stow);
    cli_outcome_deploy(single, deploy);
    if (cli_single_stows(single))
        say_occasion(single, "stow", &single->prepared.stow_setup, stow_day);
    if (cli_single_deploys(single))
        say_occasion(single, "deploy", &single->prepared.deploy_setup, deploy_day);
    cli_provenance_words(single->scenario, NULL, 0, origin);
    snprintf(truck, sizeof truck, "%.*s%s%s", cli_utf8_cut(single->scenario->title, 80),
             single->scenario->title, stow_day, deploy_day);
    cli_plot_set_text(plot, "heading_1", stow[0] != '\0' ? stow : deploy);
    cli_plot_set_text(plot, "heading_2", stow[0] != '\0' ? deploy : "");
    cli_plot_set_text(plot, "heading_3", truck);
    cli_plot_set_text(plot, "origin", origin);
}
