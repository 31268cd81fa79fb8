/* trouble.c - if it goes wrong: what is seen, what it can be, and what to check first. */
#include <string.h>

#include "answer.h"
#include "single/outcome_sentence.h"
#include "tell/html.h"

/* ---- what is seen ---- */

typedef struct symptom {
    const char *says, *fault; /* as most of the samples have it */
} symptom;

static symptom symptom_of(const json_t *cause)
{
    const json_t *signature = json_object_get(cause, "signature");
    return (symptom){cli_report_text(json_object_get(signature, "stow.says"), "word"),
                     cli_report_text(json_object_get(signature, "stow.fault"), "word")};
}

static bool is_same(symptom a, symptom b)
{
    return strcmp(a.says, b.says) == 0 && strcmp(a.fault, b.fault) == 0;
}

static void write_symptom(FILE *html, symptom s)
{
    const char *fault = cli_fault_word_in_words(s.fault);
    if (strcmp(s.says, "stowed") == 0)
        cli_html(html, "h3", "Reports stowed, but rests elsewhere, is slow, or draws too much");
    else
        cli_html(html, "h3", "Stow fails: %s", fault != NULL ? fault : "a fault");
}

/* ---- what it can be ---- */

static bool is_healthy(const json_t *cause)
{
    return cli_report_is(cause, "name", "nothing wrong");
}

/* of both axes alike: "rotation seized", "elevation seized" */
static const char *name_of(const json_t *cause)
{
    static const char *const axes[] = {"rotation ", "elevation "};
    const char *name = cli_report_text(cause, "name");
    for (size_t i = 0; i < sizeof axes / sizeof *axes; i++)
        if (strncmp(name, axes[i], strlen(axes[i])) == 0)
            return name + strlen(axes[i]);
    return name;
}

static bool is_told(const json_t *causes, size_t index)
{
    const json_t *own = json_array_get(causes, index);
    for (size_t i = 0; i < index; i++) {
        const json_t *earlier = json_array_get(causes, i);
        if (is_same(symptom_of(earlier), symptom_of(own)) &&
            strcmp(name_of(earlier), name_of(own)) == 0)
            return true;
    }
    return is_healthy(own);
}

static void write_causes(FILE *html, const json_t *causes, symptom s)
{
    size_t i;
    json_t *cause;
    write_symptom(html, s);
    fputs("<table class=\"checks\"><thead><tr><th>It can be</th><th>Check</th></tr></thead>"
          "<tbody>\n",
          html);
    json_array_foreach(causes, i, cause)
    {
        if (is_told(causes, i) || !is_same(symptom_of(cause), s))
            continue;
        fputs("<tr>", html);
        cli_html(html, "th scope=\"row\"", "%s", name_of(cause));
        cli_html(html, "td", "%s", cli_report_text(cause, "prove"));
        fputs("</tr>\n", html);
    }
    fputs("</tbody></table>\n", html);
}

static bool is_first_of_its_kind(const json_t *causes, size_t index)
{
    symptom own = symptom_of(json_array_get(causes, index));
    for (size_t i = 0; i < index; i++)
        if (!is_healthy(json_array_get(causes, i)) &&
            is_same(symptom_of(json_array_get(causes, i)), own))
            return false;
    return !is_healthy(json_array_get(causes, index));
}

void cli_report_trouble(FILE *html, const cli_report *r)
{
    fputs("<section class=\"trouble\">\n<h2>If it goes wrong</h2>\n", html);
    if (cli_report_has(html, r, CLI_REPORT_CAUSES)) {
        const json_t *causes = json_object_get(r->part[CLI_REPORT_CAUSES].said, "causes");
        cli_html(html, "p",
                 "Find what was seen; the checks below it tell the causes apart. "
                 "Disconnect and lock out power where a check says so.");
        for (size_t i = 0; i < json_array_size(causes); i++)
            if (is_first_of_its_kind(causes, i))
                write_causes(html, causes, symptom_of(json_array_get(causes, i)));
    }
    fputs("</section>\n", html);
}

/* ---- the check card ---- */

void cli_report_card(FILE *html, const cli_report *r)
{
    fputs("<section class=\"card\">\n<h2>Check card</h2>\n", html);
    if (cli_report_has(html, r, CLI_REPORT_CARD))
        cli_report_picture(html, r, CLI_REPORT_CARD,
                           "To take to the truck: what a sound one reads, and room for what this "
                           "one reads.");
    fputs("</section>\n", html);
}
