/* read.c - figures and words out of the answers of other commands. */
#include <math.h>
#include <string.h>

#include "answer.h"

const json_t *cli_report_at(const json_t *from, const char *path)
{
    char name[64];
    while (from != NULL && *path != '\0') {
        size_t length = strcspn(path, ".");
        snprintf(name, sizeof name, "%.*s", (int)length, path);
        from = json_object_get(from, name);
        path += length + (path[length] == '.');
    }
    return from;
}

double cli_report_number(const json_t *from, const char *path)
{
    const json_t *found = cli_report_at(from, path);
    return json_is_number(found) ? json_number_value(found) : NAN;
}

const char *cli_report_text(const json_t *from, const char *path)
{
    const char *text = json_string_value(cli_report_at(from, path));
    return text != NULL ? text : "";
}

bool cli_report_is(const json_t *from, const char *path, const char *word)
{
    return strcmp(cli_report_text(from, path), word) == 0;
}
