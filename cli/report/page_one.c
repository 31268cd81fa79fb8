/* page_one.c - the first page: what holds, what to do and by whom, and a hundred days. */
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "answer.h"
#include "tell/append.h"
#include "tell/html.h"
#include "tell/judged.h"

/* ---- the head ---- */

/* the day of the report, or what the environment says it is, for a report that can be repeated */
static void write_date(FILE *html)
{
    const char *fixed = getenv("SOURCE_DATE_EPOCH");
    time_t now = fixed != NULL ? (time_t)strtoll(fixed, NULL, 10) : time(NULL);
    struct tm day;
    char text[40] = "";
    if (gmtime_r(&now, &day) != NULL)
        strftime(text, sizeof text, "%B %e, %Y", &day);
    cli_html(html, "span", "%s", text);
}

static void write_head(FILE *html, const cli_report *r)
{
    fputs("<header>\n", html);
    cli_html(html, "h1", "%s", r->scenario->title);
    fputs("<p class=\"meta\">", html);
    cli_html(html, "span", "Stow and deploy report");
    write_date(html);
    cli_html(html, "span",
             r->scenario->fitted ? "Simulated, with values fitted to readings of this truck"
                                 : "Simulated, not measured on the truck");
    fputs("</p>\n</header>\n", html);
    cli_html(html, "p class=\"caution\" role=\"note\"",
             "Caution: a monitor can move without warning and crush. Keep people clear of it and "
             "disconnect and lock out its power before any work on it. Before a try on the truck: "
             "clear overhead, "
             "nobody near, ready to release. Follow the manufacturer's instructions and local "
             "codes; leave licensed work to those who hold the license.");
}

/* ---- the verdict ---- */

typedef struct verdict {
    const char *class, *word, *finding;
} verdict;

static bool was_seen(const json_t *demands, const char *word)
{
    const json_t *demand = cli_report_at(demands, word);
    return demand != NULL && cli_report_number(demand, "misses") > 0;
}

static verdict judge(const json_t *demands)
{
    bool can_hurt = was_seen(demands, "keepout_entered") || was_seen(demands, "hard_stop") ||
                    was_seen(demands, "other_fault");
    if (cli_report_is(demands, "meets", "meets_not"))
        return (verdict){"wrong", "Does not meet its demands",
                         "As it stands this truck misses what is asked of it."};
    if (cli_report_is(demands, "meets", "not_told"))
        return (verdict){"warning", "Not told",
                         "The simulated days do not tell whether this truck meets its demands."};
    if (can_hurt)
        return (verdict){"warning", "Meets its demands, with limits",
                         "Now and then the barrel strikes something or the controller faults."};
    return (verdict){"good", "Meets its demands",
                     "In none of the simulated days the barrel strikes something or a fault "
                     "comes up."};
}

static const char *const who[][2] = {
    {"setting", "whoever sets up the controller"},
    {"re-teach", "whoever teaches the stow point, with the barrel clear and nobody near"},
    {"wiring", "a licensed electrician or the body builder; ampacity and fuse by code"},
    {"part", "the dealer or manufacturer"}};

enum { COSTS = sizeof who / sizeof *who };

/* what a change costs stands in the table of single changes */
static const char *cost_of(const json_t *plan, const char *change)
{
    size_t i;
    json_t *row;
    json_array_foreach(
        json_object_get(plan, "changes"), i,
        row) if (cli_report_is(row, "change", change)) return cli_report_text(row, "cost");
    return "setting";
}

static void write_by_whom(FILE *html, const json_t *plan)
{
    char text[400] = "";
    bool needed[COSTS] = {false};
    size_t i;
    json_t *change;
    json_array_foreach(cli_report_at(plan, "recommended.changes"), i,
                       change) for (int c = 0; c < COSTS; c++) needed[c] |=
        strcmp(who[c][0], cost_of(plan, cli_report_text(change, "change"))) == 0;
    for (int c = 0; c < COSTS; c++)
        if (needed[c])
            cli_append(text, sizeof text, "%s%s", text[0] != '\0' ? "; " : "", who[c][1]);
    cli_html(html, "p", "By: %s.", text[0] != '\0' ? text : who[0][1]);
}

static void write_verdict(FILE *html, const cli_report *r)
{
    const json_t *plan = r->part[CLI_REPORT_PLAN].said;
    if (!cli_report_has(html, r, CLI_REPORT_PLAN))
        return;
    verdict v = judge(cli_report_at(plan, "today.demands"));
    fprintf(html, "<section class=\"verdict %s\">\n", v.class);
    cli_html(html, "h2", "%s", v.word);
    cli_html(html, "p", "%s", v.finding);
    cli_html(html, "p class=\"do\"", "%s", cli_report_text(plan, "advice"));
    write_by_whom(html, plan);
    fputs("</section>\n", html);
}

/* ---- the demands ---- */

static void write_state(FILE *html, const json_t *setting, slew_demand d)
{
    const json_t *state = cli_report_at(cli_report_at(setting, "demands"), slew_demand_word(d));
    const char *class = cli_report_is(state, "meets", "meets")       ? "good"
                        : cli_report_is(state, "meets", "meets_not") ? "wrong"
                                                                     : "warning";
    const char *word = strcmp(class, "good") == 0    ? "met"
                       : strcmp(class, "wrong") == 0 ? "NOT MET"
                                                     : "not told";
    fprintf(html, "<td class=\"number %s\">", class);
    fprintf(html, "%.2f %% ", cli_demand_percent(d, cli_report_number(state, "missed.share")));
    cli_html(html, "b", "%s", word);
    fputs("</td>", html);
}

static void write_demand(FILE *html, const json_t *plan, slew_demand d)
{
    const json_t *today = cli_report_at(plan, "today"), *best = cli_report_at(plan, "recommended");
    const json_t *state = cli_report_at(cli_report_at(today, "demands"), slew_demand_word(d));
    if (!json_is_object(state))
        return;
    fputs("<tr>", html);
    cli_html(html, "th scope=\"row\"", "%s", cli_demand_words(d));
    cli_html(html, "td class=\"number\"", "%s %.4g %%",
             slew_demand_is_at_least(d) ? "at least" : "at most",
             cli_demand_percent(d, cli_report_number(state, "limit")));
    write_state(html, today, d);
    if (json_is_object(best))
        write_state(html, best, d);
    fputs("</tr>\n", html);
}

static void write_demands(FILE *html, const cli_report *r)
{
    const json_t *plan = r->part[CLI_REPORT_PLAN].said;
    if (plan == NULL)
        return;
    fputs("<table><thead><tr><th>What is asked</th><th class=\"number\">Demanded</th><th "
          "class=\"number\">Today</th>",
          html);
    if (json_is_object(cli_report_at(plan, "recommended")))
        fputs("<th class=\"number\">When that is done</th>", html);
    fputs("</tr></thead><tbody>\n", html);
    for (int d = 0; d < SLEW_DEMAND_COUNT; d++)
        write_demand(html, plan, (slew_demand)d);
    fputs("</tbody></table>\n", html);
    cli_html(html, "p class=\"small\"", "From %.0f simulated days each.",
             cli_report_number(plan, "today.demands.samples"));
}

/* ---- a hundred days ---- */

typedef struct day_kind {
    const char *class, *mark, *words;
} day_kind;

static const day_kind kinds[SLEW_DEMAND_COUNT + 1] = {
    [SLEW_DEMAND_KEEPOUT] = {"wrong", "K", "barrel enters a keep-out zone"},
    [SLEW_DEMAND_STOP] = {"wrong", "S", "barrel driven into a hard stop"},
    [SLEW_DEMAND_FAULT] = {"wrong", "F", "controller faults"},
    [SLEW_DEMAND_DEPLOY] = {"warning", "D", "deploy ends outside the target"},
    [SLEW_DEMAND_STOW] = {"warning", "P", "stow ends off its point"},
    [SLEW_DEMAND_FLOOR] = {"low", "V", "below the minimum voltage, else well"},
    [SLEW_DEMAND_COUNT] = {"good", "", "all is well"}};

static int count_of(const cli_report_days *days, int kind)
{
    int count = 0;
    for (int i = 0; i < CLI_REPORT_DAYS; i++)
        count += days->worst[i] == kind;
    return count;
}

/* the good ones first */
static void write_squares(FILE *html, const cli_report_days *days)
{
    fputs("<div class=\"days\" role=\"img\" aria-label=\"A hundred simulated days; the list tells "
          "them\">",
          html);
    for (int kind = SLEW_DEMAND_COUNT; kind >= 0; kind--)
        for (int i = count_of(days, kind); i > 0; i--)
            fprintf(html, "<i class=\"%s\">%s</i>", kinds[kind].class, kinds[kind].mark);
    fputs("</div>\n", html);
}

static void write_days(FILE *html, const cli_report *r)
{
    fputs("<section class=\"hundred\">\n<h2>A hundred simulated days</h2>\n", html);
    write_squares(html, &r->days);
    fputs("<ul class=\"legend\">\n", html);
    for (int kind = SLEW_DEMAND_COUNT; kind >= 0; kind--)
        if (count_of(&r->days, kind) > 0) {
            fprintf(html, "<li><i class=\"%s\">%s</i> ", kinds[kind].class, kinds[kind].mark);
            cli_html(html, "span", "%d: %s", count_of(&r->days, kind), kinds[kind].words);
            fputs("</li>\n", html);
        }
    fputs("</ul>\n", html);
    cli_html(html, "p class=\"small\"",
             "A day that misses several counts for the worst. None in 100 proves nothing about 1 "
             "in 1000.");
    fputs("</section>\n", html);
}

void cli_report_page_one(FILE *html, const cli_report *r)
{
    fputs("<div class=\"page-one\">\n", html);
    write_head(html, r);
    write_verdict(html, r);
    write_demands(html, r);
    write_days(html, r);
    cli_report_picture(html, r, CLI_REPORT_RUN,
                       "Where the barrel rests after stow and deploy. Thin lines: a hundred "
                       "simulated days.");
    fputs("</div>\n", html);
}
