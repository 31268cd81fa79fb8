/* database.c - see database.h. */
#include "scenario/database.h"

#include <locale.h>
#include <math.h>
#include <pthread.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <udunits2.h>

#include "keys/text.h"

/* UDUNITS keeps its parser and its message handler in globals of its own */
static pthread_mutex_t one_at_a_time = PTHREAD_MUTEX_INITIALIZER;

/* UDUNITS 2.2.28 takes some 0.5 MB for its database and 1 KB for a unit. Where one of its own
 * allocations fails it ends the process, in its scanner and by assertions: so its room is asked for
 * beforehand, and it is not called where that is not there. */
enum { ROOM = 2 << 20 };

static bool has_room(void)
{
    void *room = malloc(ROOM);
    free(room);
    return room != NULL;
}

/* ---- the database, with what it lacks ---- */

static const struct {
    const char *name;
    const char *meaning;
} LACKING[] = {
    {"deg", "arc_degree"},
    {"Nm", "newton.meter"},
    {"gal", "3.785411784 liter"}, /* US gallon, exact; not the unit of gravity surveys */
    {"gallon", "gal"},
    {"gpm", "gal/minute"},
};

static void define(ut_system *system, const char *name, const char *meaning)
{
    ut_unit *unit = ut_parse(system, meaning, UT_ASCII);
    ut_unmap_name_to_unit(system, name, UT_ASCII);
    ut_unmap_symbol_to_unit(system, name, UT_ASCII);
    ut_map_name_to_unit(name, UT_ASCII, unit);
    ut_free(unit);
}

/* in the locale C, of this thread alone: elsewhere a point need not end the digits of a factor */
static ut_system *open_database(void)
{
    ut_error_message_handler before = ut_set_error_message_handler(ut_ignore);
    locale_t plain = newlocale(LC_ALL_MASK, "C", (locale_t)0);
    locale_t own = plain != (locale_t)0 ? uselocale(plain) : (locale_t)0;
    ut_system *system = ut_read_xml(NULL);
    if (system != NULL)
        for (size_t i = 0; i < sizeof LACKING / sizeof LACKING[0]; i++)
            define(system, LACKING[i].name, LACKING[i].meaning);
    if (plain != (locale_t)0) {
        uselocale(own);
        freelocale(plain);
    }
    ut_set_error_message_handler(before);
    return system;
}

static void open_once(slew_units *units)
{
    if (units->tried)
        return;
    pthread_mutex_lock(&one_at_a_time);
    units->system = has_room() ? open_database() : NULL;
    units->tried = true;
}

void slew_units_close(slew_units *units)
{
    if (!units->tried)
        return;
    ut_free_system(units->system);
    pthread_mutex_unlock(&one_at_a_time);
    units->system = NULL;
    units->tried = false;
}

/* ---- conversion ---- */

/* the ratio of two units is a plain factor; an angle counts as a dimension of its own here, which
 * keeps Hz from being read as rad/s */
static bool same_dimension(const ut_unit *a, const ut_unit *b)
{
    ut_unit *ratio = ut_divide(a, b);
    char text[128];
    int length = ratio ? ut_format(ratio, text, sizeof text, UT_ASCII | UT_DEFINITION) : -1;
    ut_free(ratio);
    if (length < 0 || (size_t)length >= sizeof text)
        return false;
    for (const char *c = text; *c != '\0'; c++)
        if (slew_is_letter(*c) && *c != 'e')
            return false;
    return true;
}

static slew_unit_answer convert(ut_unit *from, ut_unit *to, bool difference, double *value)
{
    if (!same_dimension(from, to))
        return SLEW_UNIT_OTHER;
    cv_converter *converter = ut_get_converter(from, to);
    if (converter == NULL)
        return SLEW_UNIT_OTHER;
    bool shifted = cv_convert_double(converter, 0.0) != 0.0;
    *value = cv_convert_double(converter, *value);
    cv_free(converter);
    return difference && shifted ? SLEW_UNIT_ZERO_POINT : SLEW_UNIT_FITS;
}

static slew_unit_answer ask_system(ut_system *system, const char *si, const char *unit,
                                   bool difference, double *value)
{
    ut_error_message_handler before = ut_set_error_message_handler(ut_ignore);
    ut_unit *from = ut_parse(system, unit, UT_ASCII);
    ut_unit *to = ut_parse(system, si, UT_ASCII);
    slew_unit_answer answer = from && to ? convert(from, to, difference, value) : SLEW_UNIT_UNKNOWN;
    ut_free(from);
    ut_free(to);
    ut_set_error_message_handler(before);
    return answer;
}

static slew_unit_answer ask_database(slew_units *units, const char *si, const char *unit,
                                     bool difference, double *value)
{
    open_once(units);
    if (units->system == NULL || !has_room())
        return SLEW_UNIT_NO_DATABASE;
    return ask_system(units->system, si, unit, difference, value);
}

slew_units slew_units_of_database(void)
{
    return (slew_units){.ask = ask_database};
}
