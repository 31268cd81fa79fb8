/*
 * differences.h - which keys hold different values in several scenarios, and what they hold.
 *
 * What is compared is what a run depends on: every key of the table with a single value, as it is
 * on each occasion (taught, stowed, deployed) when the layers lie on top of the file. A key that a
 * layer sets to what the file has already is no difference. The title, deploy choices, keep-out
 * boxes and the spread are left out.
 */
#ifndef SLEWTIME_DIFFERENCES_H
#define SLEWTIME_DIFFERENCES_H

#include "slewtime/api.h"
#include "slewtime/scenario.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef struct slew_difference {
    int key;             /* index into the key table */
    slew_layer_id layer; /* FILE: alike on every occasion, in each scenario. Otherwise the value on
                            one occasion is meant, that whose topmost layer this is: TEACH while it
                            is taught, TODAY while it is stowed, DEPLOY_DAY while it is deployed */
} slew_difference;

/* Finds them, in the order of the key table; of one key in the order teach, today, deploy_day. The
 * deploy_day is told only where it differs from today in some scenario. Values are compared as
 * print-outs show them (ten digits). Returns how many there are; the first `room` of them are in
 * `list`. Fewer than two scenarios do not differ. */
SLEW_API int slew_differences(const slew_scenario *const *scenarios, int count,
                              slew_difference *list, int room);

/* Writes the value that one scenario has there, in the key's print unit as a file would have it
 * ("9 m"), always terminated; empty: it has none. Returns the length it needs, like snprintf. */
SLEW_API int slew_difference_format(const slew_scenario *scenario, slew_difference difference,
                                    char *text, size_t size);

#ifdef __cplusplus
}
#endif

#endif
