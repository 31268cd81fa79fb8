/* answer.c - see answer.h. */
#include "answer.h"

#include "line/exit_code.h"

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
