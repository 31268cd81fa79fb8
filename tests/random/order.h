/* order.h - whether the events of a run can have happened, in that order, and belong to its result.
 */
#ifndef TESTS_RANDOM_ORDER_H
#define TESTS_RANDOM_ORDER_H

#include "../support.h"

/* Fails the test with the event and what is wrong about it. */
void random_check_order(const slew_scenario *scenario, const slew_prepared *prepared,
                        const story *run);

/* Fails it if a figure of the result is none, or is not what the events say. */
void random_check_result(const slew_scenario *scenario, const slew_prepared *prepared,
                         const story *run);

#endif
