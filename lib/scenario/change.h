/*
 * change.h - a changed key of a cause from its text:
 *     13 V   9 V to 11 V   5 deg or -5 deg             instead of the key's own value
 *     times 0.6   plus 2 deg to 4 deg   minus 1.2 V    of the key's own value
 *     at least 1                                       the own value, unless it is less
 *     plus 60 mohm over supply.feed.joints             each of so many gets its share
 *     elevation.stops.low plus 0.5 deg                 of another key's
 */
#ifndef SLEW_SCENARIO_CHANGE_H
#define SLEW_SCENARIO_CHANGE_H

#include "scenario/reader.h"
#include "slewtime/catalogue.h"

enum { SLEW_CHANGE_TEXT_MAX = 160 }; /* longest text with its end */

/* Fills in how, base, over and the amounts of a change of out->key; `text` is shorter than
 * SLEW_CHANGE_TEXT_MAX. false: said. */
bool slew_change_read(slew_reader *reader, const char *text, slew_mark mark, slew_change *out);

#endif
