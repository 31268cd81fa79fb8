/* command.c - `slewtime page`: one scenario as a page for the class, in one file. */
#include <stdlib.h>
#include <string.h>

#include "answer.h"
#include "commands.h"
#include "frame/reading.h"
#include "line/exit_code.h"
#include "line/output.h"
#include "line/report.h"
#include "tell/json.h"

/* where the page has room for the truck */
static const char place[] = "@TRUCK@";

/* ---- writing ---- */

/* no text of the scenario may end the element that holds it */
static void put_document(const char *document, FILE *stream)
{
    for (const char *c = document; *c != '\0'; c++)
        if (*c == '<')
            fputs("\\u003c", stream);
        else
            putc(*c, stream);
}

static int write_page(const char *path, const char *page, const char *document)
{
    cli_file file;
    const char *room = strstr(page, place);
    if (room == NULL)
        return cli_fail("build it anew: make page", "the page has no room for a truck");
    int code = cli_file_open(&file, path);
    if (code != CLI_OK)
        return code;
    fwrite(page, 1, (size_t)(room - page), file.stream);
    put_document(document, file.stream);
    fputs(room + strlen(place), file.stream);
    return cli_file_close(&file, CLI_OK);
}

/* ---- asking ---- */

static int prepare(const cli_options *options, cli_page *page)
{
    slew_error error = {0};
    cli_without_magnets(page->scenario, &page->plain);
    slew_status status = cli_page_draw_days(page->scenario, page, &error);
    if (status == SLEW_OK)
        status = cli_page_exercise_run(page->scenario, &page->plain, &page->exercise, &error);
    if (status == SLEW_OK)
        status = cli_page_read_words(&page->words);
    return status == SLEW_OK ? CLI_OK : cli_report_located(options, status, &error);
}

static int answer(const cli_options *options, slew_scenario *scenario, cli_page *page,
                  const char *template)
{
    int code = cli_read_scenario(options, scenario);
    page->scenario = scenario;
    page->file = options->operand[0];
    if (code == CLI_OK)
        code = prepare(options, page);
    if (code != CLI_OK)
        return code;
    char *document = cli_json_line(cli_page_document, page);
    code = document != NULL ? write_page(options->out, template, document) : cli_no_memory();
    free(document);
    return code;
}

static int run(const cli_options *options)
{
    const cli_complaint complaint = {.expected = "--out lesson.html", .help = "page"};
    if (options->out == NULL)
        return cli_complain(&complaint, "page needs a file to write");
    char *template;
    int code = cli_page_template(options->out, &template);
    if (code != CLI_OK)
        return code;
    slew_scenario *scenario = malloc(sizeof *scenario);
    cli_page *page = calloc(1, sizeof *page);
    code = scenario != NULL && page != NULL ? answer(options, scenario, page, template)
                                            : cli_no_memory();
    if (page != NULL)
        cli_page_exercise_free(&page->exercise);
    free(page);
    free(scenario);
    free(template);
    return code;
}

const cli_command cli_page_command = {
    .name = "page",
    .operands = "SCENARIO",
    .least = 1,
    .most = 1,
    .options = CLI_SCENARIO_OPTIONS | CLI_BIT(CLI_OUT),
    .summary = "a page for the class: the simulated truck in one HTML file",
    .about =
        "Writes one file that opens in any current browser, from a disk and without a network. "
        "The\n"
        "simulation itself runs in it: voltage, temperature, clearance, seconds, cable and "
        "sensors\n"
        "are moved while the class watches, and a hundred simulated days are counted anew each "
        "time.\n"
        "It has lessons with a question to ask before and what to tell after, an exercise with a\n"
        "hidden fault, an instructor's sheet to print, and a panel for the figures of another "
        "truck.\n",
    .examples = "Examples:\n"
                "  slewtime page truck.yaml --out lesson.html\n"
                "  slewtime page truck.yaml --today 'supply.main.voltage=11.8 V' --out weak.html\n",
    .cautions = true,
    .run = run,
};
