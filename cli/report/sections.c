/* sections.c - clearance, deploy seconds, supply, weather and changes, a section each. */
#include <math.h>
#include <string.h>

#include "answer.h"
#include "single/outcome_sentence.h"
#include "tell/append.h"
#include "tell/html.h"
#include "tell/judged.h"
#include "tell/units.h"

bool cli_report_has(FILE *html, const cli_report *r, cli_report_part part)
{
    const cli_report_answer *a = &r->part[part];
    if (a->said == NULL)
        cli_html(html, "p class=\"refused\"", "Not told: %s",
                 a->why_not != NULL ? a->why_not : "no answer");
    return a->said != NULL;
}

static void open_section(FILE *html, const char *title)
{
    fputs("<section>\n", html);
    cli_html(html, "h2", "%s", title);
}

static void cell(FILE *html, const char *format, double value)
{
    if (isnan(value))
        fputs("<td class=\"number\">-</td>", html);
    else
        cli_html(html, "td class=\"number\"", format, value);
}

/* ---- clearance ---- */

static void write_side(FILE *html, const cli_report *r, const char *side)
{
    const json_t *said = r->part[CLI_REPORT_MARGIN].said;
    int axis = cli_report_is(said, "axis", "rotation") ? SLEW_ROTATION : SLEW_ELEVATION;
    double point = cli_degrees(r->scenario->stow.point[axis]);
    const json_t *own = cli_report_at(said, side);
    double has = fabs(point - cli_report_number(own, "stop_deg"));
    double needs = cli_report_number(own, "need.enough_deg");
    bool is_near = !isnan(needs) && has < needs;
    fputs("<tr>", html);
    cli_html(html, "th scope=\"row\"", "%s of %s",
             cli_stop_in_words(axis, strcmp(side, "low") == 0 ? -1 : +1),
             cli_report_text(said, "axis"));
    cell(html, "%.2f deg", has);
    cell(html, "%.2f deg", needs);
    cli_html(html, is_near ? "td class=\"wrong\"" : "td class=\"good\"", "%s",
             isnan(needs) ? "not told"
             : is_near    ? "too near"
                          : "clear");
    fputs("</tr>\n", html);
}

static void write_clearance(FILE *html, const cli_report *r)
{
    open_section(html, "Clearance of the stow point from the hard stops");
    if (cli_report_has(html, r, CLI_REPORT_MARGIN)) {
        fputs("<table><thead><tr><th>Stop</th><th class=\"number\">Has</th><th "
              "class=\"number\">Needs</th><th>Answer</th></tr></thead>"
              "<tbody>\n",
              html);
        write_side(html, r, "low");
        write_side(html, r, "high");
        fputs("</tbody></table>\n", html);
        cli_report_picture(html, r, CLI_REPORT_MARGIN,
                           "How often the stow ends at a hard stop, against the clearance that "
                           "was taught.");
    }
    fputs("</section>\n", html);
}

/* ---- deploy seconds ---- */

static void write_seconds(FILE *html, const cli_report *r)
{
    const json_t *said = r->part[CLI_REPORT_OFFSET].said;
    size_t i;
    json_t *advice;
    open_section(html, "Deploy seconds, and why");
    if (cli_report_has(html, r, CLI_REPORT_OFFSET)) {
        cli_html(html, "p class=\"finding\"", "%s", cli_report_text(said, "headline"));
        cli_html(html, "p", "%s", cli_report_text(said, "why"));
        fputs("<ul>\n", html);
        json_array_foreach(json_object_get(said, "advice"), i, advice)
            cli_html(html, "li", "%s", cli_report_text(advice, "says"));
        fputs("</ul>\n", html);
        cli_report_picture(html, r, CLI_REPORT_OFFSET,
                           "Where the barrel rests after the deploy, for the seconds that the "
                           "controller can be set to.");
    }
    fputs("</section>\n", html);
}

/* ---- supply ---- */

static void write_step(FILE *html, const json_t *feed, const char *words, const char *path)
{
    const json_t *figures = cli_report_at(feed, path);
    double voltage = cli_report_number(figures, "voltage_V");
    if (isnan(voltage))
        return;
    fputs("<tr>", html);
    cli_html(html, "th scope=\"row\"", "%s", words);
    cell(html, "%.1f", cli_report_number(figures, "motors_A"));
    cell(html, "%.1f", cli_report_number(figures, "feed_A"));
    cell(html, "%.2f", voltage + cli_report_number(figures, "drop_V"));
    cell(html, "%.2f", cli_report_number(figures, "drop_V"));
    cell(html, "%.2f", voltage);
    fputs("</tr>\n", html);
}

static void write_supply(FILE *html, const cli_report *r)
{
    const json_t *said = r->part[CLI_REPORT_FEED].said;
    const json_t *feed = cli_report_at(said, "as_it_is.feed");
    open_section(html, "Voltage, from the battery to the controller");
    if (cli_report_has(html, r, CLI_REPORT_FEED)) {
        cli_html(html, "p class=\"finding\"", "%s", cli_report_text(said, "work.finding"));
        cli_html(html, "p", "%s", cli_report_text(said, "finding"));
        fputs("<table><thead><tr><th>Today</th><th class=\"number\">Motors<br>A</th><th "
              "class=\"number\">Cable<br>A</th>"
              "<th class=\"number\">Battery<br>V</th><th class=\"number\">Lost in the "
              "cable<br>V</th><th class=\"number\">Controller<br>V</th></tr>"
              "</thead><tbody>\n",
              html);
        write_step(html, feed, "At rest", "idle");
        write_step(html, feed, "Rotation running", "running.rotation");
        write_step(html, feed, "Elevation running", "running.elevation");
        write_step(html, feed, "Both running", "running.both");
        write_step(html, feed, "Rotation starting", "starting.rotation");
        write_step(html, feed, "Elevation starting", "starting.elevation");
        write_step(html, feed, "Both starting", "starting.both");
        fputs("</tbody></table>\n", html);
        cli_html(html, "p class=\"small\"",
                 "Minimum at the controller while running: %.4g V. Ampacity and fuse are not "
                 "checked here: the code and the manufacturer decide.",
                 cli_report_number(said, "floor_V"));
        cli_report_picture(html, r, CLI_REPORT_FEED,
                           "Voltage at the controller against the length of the cable.");
    }
    fputs("</section>\n", html);
}

/* ---- weather ---- */

static void write_weather(FILE *html, const cli_report *r)
{
    size_t i;
    json_t *row;
    open_section(html, "Temperature and battery voltage");
    if (cli_report_has(html, r, CLI_REPORT_MAP)) {
        fputs("<ul>\n", html);
        json_array_foreach(json_object_get(r->part[CLI_REPORT_MAP].said, "legend"), i,
                           row) if (cli_report_number(row, "share") > 0)
            cli_html(html, "li", "%s: %.1f %% of the picture", cli_report_text(row, "words"),
                     100 * cli_report_number(row, "share"));
        fputs("</ul>\n", html);
        cli_report_picture(html, r, CLI_REPORT_MAP,
                           "What stow and deploy come to, over temperature and battery voltage.");
    }
    fputs("</section>\n", html);
}

/* ---- changes ---- */

static void write_share(FILE *html, const json_t *row, slew_demand d)
{
    const json_t *state = cli_report_at(cli_report_at(row, "demands"), slew_demand_word(d));
    double missed = cli_report_number(state, "missed.share");
    cell(html, "%.2f", cli_demand_percent(d, missed));
}

static void write_row(FILE *html, const json_t *row, const char *change, const char *cost)
{
    bool meets = cli_report_is(row, "demands.meets", "meets");
    fputs("<tr>", html);
    cli_html(html, "th scope=\"row\"", "%s", change);
    cli_html(html, "td", "%s", cost);
    cli_html(html, meets ? "td class=\"good\"" : "td", "%s",
             !json_is_true(json_object_get(row, "confirmed")) ? "~"
             : meets                                          ? "yes"
                                                              : "no");
    for (int d = 0; d < SLEW_DEMAND_COUNT; d++)
        write_share(html, row, (slew_demand)d);
    fputs("</tr>\n", html);
}

enum { CHANGES_SHOWN = 8 };

static void write_together(FILE *html, const json_t *together)
{
    char all[600] = "";
    size_t i;
    json_t *change;
    json_array_foreach(json_object_get(together, "changes"), i, change)
        cli_append(all, sizeof all, "%s%s", i > 0 ? " + " : "", cli_report_text(change, "words"));
    if (all[0] != '\0')
        write_row(html, together, all, cli_report_text(together, "cost"));
}

static void write_changes(FILE *html, const cli_report *r)
{
    const json_t *said = r->part[CLI_REPORT_PLAN].said;
    size_t i;
    json_t *row;
    open_section(html, "What can be changed, and what it does");
    if (cli_report_has(html, r, CLI_REPORT_PLAN)) {
        fputs("<div class=\"scroll\" tabindex=\"0\" role=\"region\" aria-label=\"Changes\"><table "
              "class=\"wide\"><thead><tr><th>Change</th><th>Kind</th><th>Meets all</th>"
              "<th class=\"number\">Keep-out entered %</th><th class=\"number\">Hard stop "
              "%</th><th class=\"number\">Other fault %</th>"
              "<th class=\"number\">Deploy inside %</th><th class=\"number\">Stow on point "
              "%</th><th class=\"number\">Below min. V %</th></tr>"
              "</thead><tbody>\n",
              html);
        write_row(html, cli_report_at(said, "today"), "none: today", "");
        json_array_foreach(json_object_get(said, "changes"), i, row) if (i < CHANGES_SHOWN)
            write_row(html, row, cli_report_text(row, "words"), cli_report_text(row, "cost"));
        write_together(html, cli_report_at(said, "together"));
        fputs("</tbody></table></div>\n", html);
        cli_html(html, "p class=\"small\"",
                 "Each change has the best stow point and seconds of its own. ~: seen with few "
                 "simulated days, not confirmed.");
        cli_report_picture(html, r, CLI_REPORT_PLAN,
                           "How often each demand is met, over stow point and deploy seconds.");
    }
    fputs("</section>\n", html);
}

void cli_report_sections(FILE *html, const cli_report *r)
{
    write_clearance(html, r);
    write_seconds(html, r);
    write_supply(html, r);
    write_weather(html, r);
    write_changes(html, r);
}
