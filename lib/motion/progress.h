/* progress.h - a plant's advance in portions that leave no trace in it. */
#ifndef SLEW_MOTION_PROGRESS_H
#define SLEW_MOTION_PROGRESS_H

#include "slewtime/plant.h"

/* Does what slew_plant_advance does towards `until`, but only what ends at `horizon` or before:
 * pieces of motion are never split there, so that the digits are those of one advance. `fresh`
 * begins a new span; a portion that follows an unfinished one goes on with the span. true: done,
 * *event says what happened (SLEW_PLANT_NOTHING: `until` is reached). false: what comes next ends
 * beyond the horizon.
 */
bool slew_plant_progress(const slew_plant_model *model, slew_plant *plant, double until,
                         double horizon, bool fresh, slew_plant_event *event);

#endif
