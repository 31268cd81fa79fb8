/*
 * ref_log.c - passes events on and keeps the book of keep-out visits.
 */
#include <math.h>

#include "ref_log.h"

static void enter(slew_result *result, int box, double t)
{
    if (result->visit_count < SLEW_KEEPOUT_VISITS_MAX)
        result->visit[result->visit_count] = (slew_keepout_visit){box, t, INFINITY};
    result->visit_count++;
}

static void leave(slew_result *result, int box, double t)
{
    int kept = result->visit_count;
    if (kept > SLEW_KEEPOUT_VISITS_MAX)
        kept = SLEW_KEEPOUT_VISITS_MAX;
    for (int i = kept - 1; i >= 0; i--) {
        if (result->visit[i].box == box) {
            if (isinf(result->visit[i].left))
                result->visit[i].left = t;
            return;
        }
    }
}

void ref_log_event(ref_log *log, const slew_event *event)
{
    if (event->kind == SLEW_EVENT_KEEPOUT_ENTERED)
        enter(log->result, event->box, event->time);
    if (event->kind == SLEW_EVENT_KEEPOUT_LEFT)
        leave(log->result, event->box, event->time);
    if (log->event)
        log->event(log->ctx, event);
}
