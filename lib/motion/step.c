/* step.c - reading a step; see step.h. */
#include "motion/step.h"

#include "motion/step_read.h"

const double slew_node[SLEW_NODES] = {0,
                                      0.049515566048790434,
                                      0.18825509907063323,
                                      0.38873953302184278,
                                      0.61126046697815717,
                                      0.8117449009293668,
                                      0.95048443395120952,
                                      1};

void slew_step_at(const slew_step *step, double since, double speed[SLEW_AXES],
                  double angle[SLEW_AXES], double change[SLEW_AXES])
{
    slew_step_place p = slew_step_place_at(step, since, step->moves[0], step->moves[1]);
    for (int j = 0; j < SLEW_AXES; j++) {
        bool moves = step->moves[j];
        speed[j] = moves ? slew_step_speed_there(step, j, &p) : 0;
        angle[j] = moves ? slew_step_angle_there(step, j, &p) : step->angle[j][0];
        if (change)
            change[j] = moves ? slew_step_change_there(step, j, &p) : 0;
    }
}
