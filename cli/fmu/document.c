/* document.c - documentation/index.html: what the FMU is, for who opens it. */
#include "answer.h"
#include "slewtime/slewtime.h"
#include "tell/html.h"

static const char *use_of(fmu_kind kind)
{
    return kind == FMU_PLANT
               ? "Set rotation.drive and elevation.drive to 1, -1 or 0, and let time go on."
               : "Set command.stow, command.deploy or command.cancel to true, or rotation.jog and "
                 "elevation.jog to 1, -1 or 0, and let time go on. A command counts when it "
                 "becomes true; a jog when it changes.";
}

static const char *role_word(fmu_role role)
{
    static const char *const words[] = {"time",  "fixed parameter",      "tunable parameter",
                                        "input", "calculated parameter", "output"};
    return words[role];
}

void cli_fmu_document(const cli_fmu *fmu, FILE *html)
{
    fputs("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n", html);
    cli_html(html, "title", "%s", fmu->scenario.title);
    fputs("</head>\n<body>\n", html);
    cli_html(html, "h1", "%s", fmu->scenario.title);
    cli_html(html, "p", "A powered fire monitor %s its controller, simulated by slewtime %s.",
             fmu->kind == FMU_PLANT ? "without" : "with", SLEW_VERSION);
    cli_html(html, "p", "%s", use_of(fmu->kind));
    cli_html(html, "p",
             "All values are in SI. Stored times are taught at the start, under the parameters "
             "and what teach. says of them. A program of stow and deploy counts from the command "
             "that begins it, every other tunable parameter and input at once.");
    cli_html(html, "p",
             "A monitor can move without warning and crush. Simulated times and angles do not "
             "replace a test on the truck.");
    cli_html(
        html, "p",
        "License: GPL-3.0-or-later, without any warranty; its text is in licenses/license.txt. "
        "The source is that of slewtime %s.",
        SLEW_VERSION);
    fputs("<table>\n<tr><th>variable</th><th>kind</th><th>meaning</th></tr>\n", html);
    for (int i = 0; i < fmu->variables.count; i++) {
        const fmu_variable *v = &fmu->variables.item[i];
        fputs("<tr>", html);
        cli_html(html, "td", "%s", v->name);
        cli_html(html, "td", "%s", role_word(v->role));
        cli_html(html, "td", "%s", v->meaning);
        fputs("</tr>\n", html);
    }
    fputs("</table>\n</body>\n</html>\n", html);
}
