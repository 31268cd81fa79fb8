/* json.h - a record as a JSON document. */
#ifndef SLEW_CLI_TELL_JSON_H
#define SLEW_CLI_TELL_JSON_H

#include "teller.h"

/* Writes what the record tells to stdout, as one object. Returns an exit code; when memory is short
 * nothing is written. */
int cli_json_write(cli_record *record, const void *what);

/* The same for a program to read: in one line, numbers in full, to be freed. NULL: memory is short.
 */
char *cli_json_line(cli_record *record, const void *what);

#endif
