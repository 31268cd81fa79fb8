/* teller.c - see teller.h. */
#include "teller.h"

#include <stddef.h>

#include "units.h"

/* true: there is such a figure; otherwise that is told */
static bool is_there(cli_teller *t, const char *name)
{
    bool there = t->absent == 0 && !t->left_out;
    t->left_out = false;
    if (!there && t->listener->nothing != NULL)
        t->listener->nothing(t->context, name);
    return there;
}

/* ---- figures ---- */

void cli_tell_number(cli_teller *t, const char *name, double value)
{
    if (is_there(t, name))
        t->listener->number(t->context, name, value + 0.0); /* no minus zero */
}

void cli_tell_integer(cli_teller *t, const char *name, int64_t value)
{
    if (is_there(t, name))
        t->listener->integer(t->context, name, value);
}

void cli_tell_boolean(cli_teller *t, const char *name, bool value)
{
    if (is_there(t, name))
        t->listener->boolean(t->context, name, value);
}

void cli_tell_text(cli_teller *t, const char *name, const char *value)
{
    bool empty = value == NULL || value[0] == '\0';
    if (is_there(t, name))
        t->listener->text(t->context, name, empty ? NULL : value);
}

void cli_tell_unit(cli_teller *t, const char *name, const char *unit)
{
    if (is_there(t, name))
        t->listener->text(t->context, name, unit);
}

void cli_tell_degrees(cli_teller *t, const char *name, double radians)
{
    cli_tell_number(t, name, cli_degrees(radians));
}

void cli_tell_angles(cli_teller *t, const double radians[SLEW_AXES])
{
    cli_tell_degrees(t, "rotation_deg", radians[SLEW_ROTATION]);
    cli_tell_degrees(t, "elevation_deg", radians[SLEW_ELEVATION]);
}

void cli_tell_axis(cli_teller *t, const char *name, int axis)
{
    cli_tell_text(t, name, axis == SLEW_NO_AXIS ? NULL : slew_axis_word(axis));
}

void cli_tell_nothing(cli_teller *t, const char *name)
{
    cli_tell_text(t, name, NULL);
}

void cli_tell_share(cli_teller *t, const char *name, const slew_share *share)
{
    cli_tell_open(t, name);
    cli_tell_number(t, t->in_full ? "share" : NULL, share->value);
    cli_tell_number(t, "low", share->low);
    cli_tell_number(t, "high", share->high);
    cli_tell_close(t);
}

void cli_tell_axes(cli_teller *t, const char *name, const double value[SLEW_AXES])
{
    cli_tell_open(t, name);
    for (int j = 0; j < SLEW_AXES; j++)
        cli_tell_number(t, slew_axis_word(j), value[j]);
    cli_tell_close(t);
}

void cli_tell_next_if(cli_teller *t, bool there)
{
    t->left_out = !there;
}

/* ---- records and lists ---- */

static void open_part(cli_teller *t, const char *name, bool is_list, bool there)
{
    t->listener->open(t->context, name, is_list, there && t->absent == 0);
    if (!there || t->absent > 0)
        t->absent++;
}

void cli_tell_open(cli_teller *t, const char *name)
{
    open_part(t, name, false, true);
}

void cli_tell_open_if(cli_teller *t, const char *name, bool there)
{
    open_part(t, name, false, there);
}

void cli_tell_open_list(cli_teller *t, const char *name)
{
    open_part(t, name, true, true);
}

void cli_tell_close(cli_teller *t)
{
    if (t->absent > 0)
        t->absent--;
    t->listener->close(t->context);
}

void cli_tell_record(cli_teller *t, const char *name, cli_record *record, const void *what)
{
    cli_tell_open(t, name);
    record(t, what);
    cli_tell_close(t);
}

void cli_tell_figures_if(cli_teller *t, cli_record *record, const void *what, bool there)
{
    if (!there && t->in_full)
        return;
    t->absent += !there;
    record(t, what);
    t->absent -= !there;
}
