/*
 * differences.h - in what several scenarios differ: keys and keep-out boxes, and what they hold.
 *
 * What is compared is what a run depends on: every key of the table with a single value, as it is
 * on each occasion (taught, stowed, deployed) when the layers lie on top of the file, and the
 * keep-out boxes, of which those of one name belong together. A key that a layer sets to what the
 * file has already is no difference. The title, deploy choices and the spread are left out.
 */
#ifndef SLEWTIME_DIFFERENCES_H
#define SLEWTIME_DIFFERENCES_H

#include "slewtime/api.h"
#include "slewtime/scenario.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef struct slew_difference {
    int key;             /* index into the key table; -1: the range of a keep-out box */
    slew_layer_id layer; /* FILE: alike on every occasion, in each scenario. Otherwise the value on
                            one occasion is meant, that whose topmost layer this is: TEACH while it
                            is taught, TODAY while it is stowed, DEPLOY_DAY while it is deployed */
    const char *box;     /* the box's name, as the first scenario that has it holds it; or NULL */
    int nth, axis;       /* which of the boxes with that name, from 0; on which axis */
} slew_difference;

/* Finds them: keys in the order of the key table, of one key in the order teach, today, deploy_day;
 * then boxes in the order of the scenarios. The deploy_day is told only where it differs from today
 * in some scenario. Values are compared as print-outs show them (ten digits). Returns how many
 * there are; the first `room` of them are in `list`. Fewer than two scenarios do not differ. */
SLEW_API int slew_differences(const slew_scenario *const *scenarios, int count,
                              slew_difference *list, int room);

/* Writes what differs, "today.supply.main.voltage" or "keepout.elevation (mast)". Like the value
 * below: always terminated; returns the length it needs, like snprintf. */
SLEW_API int slew_difference_path(slew_difference difference, char *text, size_t size);

/* Writes the value that one scenario has there, in the key's print unit as a file would have it
 * ("9 m"); of a box "-20 to -17 deg", or "all". Empty: it has none. */
SLEW_API int slew_difference_format(const slew_scenario *scenario, slew_difference difference,
                                    char *text, size_t size);

#ifdef __cplusplus
}
#endif

#endif
