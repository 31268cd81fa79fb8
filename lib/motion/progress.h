/* progress.h - what a controller asks of a plant that others have no use for: an advance in
 * portions that leave no trace in it, and not to be told of a current for a while. */
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

/* The drive current of an axis is not followed, and nothing told of it, until slew_plant_hear or
 * the next command to its drive: what over_current says has no meaning. */
void slew_plant_deafen(slew_plant *plant, int axis);

/* Follows it again, beginning with what it is now. */
void slew_plant_hear(const slew_plant_model *model, slew_plant *plant, int axis);

#endif
