/* answer.c - see answer.h. */
#include "answer.h"

#include "command.h"
#include "plot.h"
#include "report.h"

int cli_answer_check(const cli_options *options, const char *command)
{
    const cli_complaint complaint = {.expected = "one of them", .help = command};
    if (options->json && options->csv)
        return cli_complain(&complaint, "--json and --csv both ask for stdout");
    return options->plot != NULL ? cli_plot_check("--plot", options->plot) : CLI_OK;
}

int cli_answer_tell(const cli_options *options, const cli_answer *answer)
{
    if (options->plot != NULL) {
        int code = answer->draw(options->plot, answer->what);
        if (code != CLI_OK)
            return code;
    }
    if (options->json)
        return answer->json(answer->what);
    if (options->csv)
        answer->csv(stdout, answer->what);
    else
        answer->text(answer->what);
    return CLI_OK;
}

void cli_warn_of_refused(const cli_options *options, long refused, const slew_error *first)
{
    if (refused > 0 && !options->quiet)
        fprintf(stderr, "slewtime: warning: %ld samples can't run, the first because: %s %s\n",
                refused, first->key, first->message);
}
