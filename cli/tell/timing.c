/* timing.c - see timing.h. */
#include "timing.h"

void cli_tell_timing(cli_teller *t, const void *row)
{
    for (int i = 0; i < slew_timing_column_count(); i++) {
        char text[64];
        int length = slew_timing_format(row, i, text, sizeof text);
        cli_tell_next_if(t, length > 0);
        cli_tell_text(t, slew_timing_column_at(i)->name, text);
    }
}
