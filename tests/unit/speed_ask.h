/* speed_ask.h - a question of speed that is answered. */
#ifndef SLEW_TESTS_SPEED_ASK_H
#define SLEW_TESTS_SPEED_ASK_H

#include "motion_plant.h"

#include "slewtime/speed.h"

/* Free it with slew_speed_free(). */
static inline slew_speed ask(const slew_scenario *s, const slew_speed_question *q)
{
    slew_speed out;
    slew_error error;
    if (slew_speed_run(s, q, &out, &error) != SLEW_OK)
        fail_msg("%s: %s", error.key, error.message);
    return out;
}

#endif
