/* appendix.c - for whoever wants to know more: events, assumptions, keys, commands, the hash. */
#include <string.h>

#include "answer.h"
#include "slewtime/slewtime.h"
#include "tell/html.h"
#include "tell/provenance.h"

static void open_details(FILE *html, const char *title)
{
    fputs("<details>\n", html);
    cli_html(html, "summary", "%s", title);
}

/* ---- events ---- */

static void write_event(FILE *html, const json_t *event)
{
    char kind[60];
    snprintf(kind, sizeof kind, "%s", cli_report_text(event, "kind"));
    for (char *c = kind; *c != '\0'; c++)
        if (*c == '_')
            *c = ' ';
    fputs("<tr>", html);
    cli_html(html, "td class=\"number\"", "%.3f", cli_report_number(event, "time_s"));
    cli_html(html, "td", "%s", cli_report_text(event, "axis"));
    cli_html(html, "td", "%s", kind);
    cli_html(html, "td class=\"number\"", "%.2f", cli_report_number(event, "rotation_deg"));
    cli_html(html, "td class=\"number\"", "%.2f", cli_report_number(event, "elevation_deg"));
    cli_html(html, "td class=\"number\"", "%.2f", cli_report_number(event, "voltage_V"));
    fputs("</tr>\n", html);
}

static void write_events(FILE *html, const cli_report *r)
{
    size_t i;
    json_t *event;
    open_details(html, "What happens when, on the day of the scenario");
    if (cli_report_has(html, r, CLI_REPORT_RUN)) {
        fputs("<table><thead><tr><th class=\"number\">Time s</th><th>Axis</th><th>Event</th><th "
              "class=\"number\">Rotation deg</th>"
              "<th class=\"number\">Elevation deg</th><th class=\"number\">Controller "
              "V</th></tr></thead><tbody>\n",
              html);
        json_array_foreach(json_object_get(r->part[CLI_REPORT_RUN].said, "events"), i, event)
            write_event(html, event);
        fputs("</tbody></table>\n", html);
    }
    fputs("</details>\n", html);
}

/* ---- assumptions ---- */

static void write_varied(FILE *html, const char *when, const slew_spread *spread)
{
    for (int i = 0; i < spread->count; i++)
        cli_html(html, "li", "%s varies %s", slew_key_at(spread->item[i].key)->path, when);
}

static void write_assumptions(FILE *html, const cli_report *r)
{
    char warnings[CLI_REPORT_WARNINGS_MAX], *rest = warnings;
    memcpy(warnings, r->warnings, sizeof warnings);
    open_details(html, "What is assumed");
    fputs("<ul>\n", html);
    cli_html(html, "li",
             "All figures are simulated from the scenario below; nothing here was "
             "measured.");
    write_varied(html, "from truck to truck", &r->scenario->truck);
    write_varied(html, "from day to day", &r->scenario->day);
    for (char *line; (line = strtok_r(rest, "\n", &rest)) != NULL;)
        cli_html(html, "li", "%s", line);
    fputs("</ul>\n</details>\n", html);
}

/* ---- keys ---- */

static void write_key(FILE *html, int key, const char *text)
{
    fputs("<tr>", html);
    cli_html(html, "th scope=\"row\"", "%s", slew_key_at(key)->path);
    cli_html(html, "td", "%s", text);
    fputs("</tr>\n", html);
}

static void write_layer(FILE *html, const cli_report *r, slew_layer_id layer, const char *name)
{
    const slew_layer *own = slew_layer_at(r->scenario, layer);
    for (int i = 0; i < own->count; i++)
        cli_html(html, "li", "%s: %s", name, slew_key_at(own->item[i].key)->path);
}

static void write_keys(FILE *html, const cli_report *r)
{
    char text[200], usual[200];
    static slew_scenario fresh;
    slew_scenario_init(&fresh);
    open_details(html, "Keys that differ from their defaults");
    fputs("<table><tbody>\n", html);
    for (int key = 0; key < slew_key_count(); key++) {
        slew_key_format(r->scenario, key, text, sizeof text);
        slew_key_format(&fresh, key, usual, sizeof usual);
        if (strcmp(text, usual) != 0)
            write_key(html, key, text);
    }
    fputs("</tbody></table>\n<ul>\n", html);
    write_layer(html, r, SLEW_LAYER_TEACH, "differs while it is taught");
    write_layer(html, r, SLEW_LAYER_TODAY, "differs today");
    write_layer(html, r, SLEW_LAYER_DEPLOY_DAY, "differs on deploy day");
    fputs("</ul>\n</details>\n", html);
}

/* ---- commands ---- */

/* as a shell takes it */
static void write_word(FILE *html, const char *word)
{
    bool is_plain = strspn(word, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789"
                                 "./:=_+-") == strlen(word);
    fputs(is_plain ? " " : " &#39;", html);
    for (const char *c = word; *c != '\0'; c++)
        if (*c == '\'')
            fputs("&#39;\\&#39;&#39;", html);
        else
            cli_html_text(html, (char[]){*c, '\0'});
    fputs(is_plain ? "" : "&#39;", html);
}

static void write_commands(FILE *html, const cli_report *r)
{
    open_details(html, "Commands that give the same figures");
    fputs("<pre>", html);
    for (int part = 0; part < CLI_REPORT_PARTS; part++) {
        fprintf(html, "slewtime %s", r->asked[part]->name);
        for (int i = 0; i < r->part[part].words; i++)
            write_word(html, r->part[part].word[i]);
        fputs("\n", html);
    }
    fputs("</pre>\n</details>\n", html);
}

void cli_report_appendix(FILE *html, const cli_report *r)
{
    char hash[CLI_HASH_MAX];
    cli_provenance_hash(r->scenario, hash);
    fputs("<section class=\"appendix\">\n<h2>Appendix</h2>\n", html);
    write_events(html, r);
    write_assumptions(html, r);
    write_keys(html, r);
    write_commands(html, r);
    cli_html(html, "p class=\"small\"", "Scenario %s, slewtime %s.", hash, slew_version());
    fputs("</section>\n", html);
}
