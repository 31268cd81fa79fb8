/* csv.c - see csv.h. */
#include "old_csv.h"

#include <math.h>

void cli_csv_number(FILE *stream, double value)
{
    fputc(',', stream);
    if (isfinite(value))
        fprintf(stream, "%.9g", value);
}
