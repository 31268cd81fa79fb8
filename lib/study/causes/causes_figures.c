/* causes_figures.c - what is seen and metered while the machine stows and deploys. */
#include "study/causes/causes_figures.h"

/* numbers of the words of stow.says and deploy.says */
enum { SAYS_SO, SAYS_FAULT, SAYS_NOTHING };

/* what an onlooker keeps in mind of the stow */
typedef struct onlooker {
    int way[SLEW_AXES];                                        /* of the first movement, 0: none */
    double began[SLEW_AXES], from[SLEW_AXES], took[SLEW_AXES]; /* [s], [rad], [s] */
    int stops[SLEW_AXES];                                      /* met: 1 low, 2 high */
    bool over;
} onlooker;

/* a movement too small to be seen was none */
static void note_end(onlooker *o, const slew_event *event)
{
    int axis = event->axis;
    if (o->way[axis] == 0 || !isnan(o->took[axis]))
        return;
    if (fabs(event->angle[axis] - o->from[axis]) < SLEW_VISIBLE_TURN)
        o->way[axis] = 0;
    else
        o->took[axis] = event->time - o->began[axis];
}

static void look(void *context, const slew_event *event)
{
    onlooker *o = context;
    int axis = event->axis;
    if (event->kind == SLEW_EVENT_DONE || event->kind == SLEW_EVENT_FAULT)
        o->over = true;
    if (axis == SLEW_NO_AXIS)
        return;
    if (event->kind == SLEW_EVENT_MOVING && o->way[axis] == 0 && !o->over) {
        o->way[axis] = event->direction;
        o->began[axis] = event->time;
        o->from[axis] = event->angle[axis];
    }
    if (event->kind == SLEW_EVENT_AT_REST || event->kind == SLEW_EVENT_STOP_CONTACT)
        note_end(o, event);
    if (event->kind == SLEW_EVENT_STOP_CONTACT && !o->over)
        o->stops[axis] |= event->direction < 0 ? 1 : 2;
}

static int says(const slew_part *part)
{
    return part->says == SLEW_FAULTED   ? SAYS_FAULT
           : part->says == SLEW_NOT_RUN ? SAYS_NOTHING
                                        : SAYS_SO;
}

static int word_of_way(int way)
{
    return way == 0 ? 0 : way < 0 ? 1 : 2;
}

/* `first` is the first of the six observables of a part */
static void fill_part(const slew_part *part, bool reached, double *first)
{
    first[0] = says(part);
    first[1] = part->fault;
    first[2] = part->axis + 1; /* none, rotation, elevation */
    first[3] = part->duration;
    for (int j = 0; j < SLEW_AXES; j++)
        first[4 + j] = reached ? part->angle[j] : NAN;
}

static void fill_moves(const onlooker *o, double *figures)
{
    for (int j = 0; j < SLEW_AXES; j++) {
        figures[SLEW_SEEN_MOVED + j] = word_of_way(o->way[j]);
        figures[SLEW_SEEN_MOVED_SECONDS + j] = o->took[j];
        figures[SLEW_SEEN_STOP_MET + j] = o->stops[j];
    }
}

void slew_figures_of_run(const slew_scenario *scenario, const slew_prepared *prepared,
                         double *figures)
{
    slew_result result;
    onlooker o = {.took = {NAN, NAN}};
    const slew_observer observer = {.event = look, .context = &o};
    slew_run_prepared(scenario, prepared, SLEW_STOW_AND_DEPLOY, &observer, &result);
    bool deployed = result.deploy.says != SLEW_NOT_RUN || !result.deploy.holds;
    fill_part(&result.stow, true, figures + SLEW_SEEN_STOW_SAYS);
    if (scenario->deploy.given)
        fill_part(&result.deploy, deployed, figures + SLEW_SEEN_DEPLOY_SAYS);
    fill_moves(&o, figures);
    figures[SLEW_SEEN_LOWEST_VOLTAGE] =
        isfinite(result.lowest_loaded_voltage) ? result.lowest_loaded_voltage : NAN;
    figures[SLEW_SEEN_PEAK_CURRENT] = result.peak_current;
}
