/* heading.c - see heading.h. */
#include "heading.h"

#include <stdio.h>

#include "finding.h"
#include "letters.h"
#include "origin.h"
#include "slewtime/slewtime.h"
#include "units.h"

static void say_occasion(const char *part, const slew_setup *setup, char text[80])
{
    snprintf(text, 80, "   |   %s at %.1f V, %.0f \u00B0C%s", part, setup->supply.main.voltage,
             cli_celsius(setup->environment.temperature),
             setup->nozzle.flowing ? ", water flowing" : "");
}

void cli_heading_set(cli_plot *plot, const cli_story *story)
{
    char stow[CLI_FINDING_MAX], deploy[CLI_FINDING_MAX], truck[SLEW_TITLE_MAX + 160];
    char origin[CLI_ORIGIN_MAX];
    char stow_day[80] = "", deploy_day[80] = "";
    cli_finding_stow(story, "\u00B0", stow);
    cli_finding_deploy(story, "\u00B0", deploy);
    if (cli_story_stows(story))
        say_occasion("stow", &story->prepared.stow_setup, stow_day);
    if (cli_story_deploys(story))
        say_occasion("deploy", &story->prepared.deploy_setup, deploy_day);
    cli_origin_words(&story->scenario, NULL, 0, origin);
    snprintf(truck, sizeof truck, "%.*s%s%s", cli_letters(story->scenario.title, 80),
             story->scenario.title, stow_day, deploy_day);
    cli_plot_set_text(plot, "heading_1", stow[0] != '\0' ? stow : deploy);
    cli_plot_set_text(plot, "heading_2", stow[0] != '\0' ? deploy : "");
    cli_plot_set_text(plot, "heading_3", truck);
    cli_plot_set_text(plot, "origin", origin);
}
