/* template.c - the page as `make page` builds it, found where it was built or installed. */
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>

#include "answer.h"
#include "line/exit_code.h"
#include "line/input.h"
#include "line/outputs.h"
#include "line/report.h"

/* where it is, unless the environment says otherwise */
#ifndef SLEW_PAGE
#define SLEW_PAGE "build/page.html"
#endif

int cli_page_template(const char *out, char **text)
{
    const char *asked = getenv("SLEWTIME_PAGE");
    const char *path = asked != NULL && asked[0] != '\0' ? asked : SLEW_PAGE;
    int code = cli_outputs_spare(out, path, "page");
    *text = NULL;
    if (code != CLI_OK)
        return code;
    FILE *file = fopen(path, "r");
    if (file == NULL)
        return cli_fail_errno(
            "build it in slewtime's sources: make deps-page page (make install takes it along);\n"
            "  or set SLEWTIME_PAGE to the file",
            errno, "the page %s is not there", path);
    *text = cli_read_whole(file);
    fclose(file);
    return *text != NULL ? CLI_OK : cli_no_memory();
}
