/* template.c - the page as `make page` builds it, found where it was built or installed. */
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>

#include "answer.h"
#include "line/input.h"
#include "line/report.h"

/* where it is, unless the environment says otherwise */
#ifndef SLEW_PAGE
#define SLEW_PAGE "build/page.html"
#endif

char *cli_page_template(void)
{
    const char *asked = getenv("SLEWTIME_PAGE");
    const char *path = asked != NULL && asked[0] != '\0' ? asked : SLEW_PAGE;
    FILE *file = fopen(path, "r");
    if (file == NULL) {
        cli_fail_errno(
            "build it in slewtime's sources: make deps-page page (make install takes it along);\n"
            "  or set SLEWTIME_PAGE to the file",
            errno, "the page %s is not there", path);
        return NULL;
    }
    char *text = cli_read_whole(file);
    fclose(file);
    if (text == NULL)
        cli_no_memory();
    return text;
}
