/*
 * database.h - units beyond the table of quantity.h, by UDUNITS-2.
 *
 * The database is read at the first unit that needs it (some 4 ms) and freed by slew_units_close;
 * UDUNITS 2.2.28 itself then keeps about 7 KB. Its parser is not re-entrant, so one reader at a
 * time has the database open, and others wait: close it before calling anything of the user's.
 * Short of memory it ends the process. It is called only while 2 MB are there, four times what it
 * takes: what is left is another thread that takes them at that very moment.
 */
#ifndef SLEW_SCENARIO_DATABASE_H
#define SLEW_SCENARIO_DATABASE_H

#include "keys/units.h"

/* Those who ask UDUNITS; to be closed. */
slew_units slew_units_of_database(void);

void slew_units_close(slew_units *units);

#endif
