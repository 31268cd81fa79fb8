/*
 * ref_log.h - where the events go: to the caller, and the keep-out visits into the result.
 */
#ifndef REF_LOG_H
#define REF_LOG_H

#include "slewtime/run.h"

typedef struct ref_log {
    void (*event)(void *ctx, const slew_event *event);
    void *ctx;
    slew_result *result;
} ref_log;

void ref_log_event(ref_log *log, const slew_event *event);

#endif
