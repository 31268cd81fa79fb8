/* margin_trial.c - see margin_trial.h. */
#include "study/margin/margin_trial.h"

#include <stdlib.h>
#include <string.h>

/* one sample at work */
typedef struct trial {
    slew_margin_case *c;
    slew_scenario scenario;
    slew_prepared prepared;
    double stop;   /* while teaching [rad] */
    double remain; /* how far from today's stop the last run ended [rad] */
} trial;

static double stop_of(const slew_range *stops, int side)
{
    return side < 0 ? stops->low : stops->high;
}

/* ---- teaching ---- */

static void begin(trial *t, slew_margin_case *c, const slew_scenario *drawn)
{
    slew_setup taught;
    t->c = c;
    t->scenario = *drawn;
    t->scenario.stow.has_times = false;
    slew_scenario_resolve(drawn, SLEW_OCCASION_TEACH, &taught);
    t->stop = stop_of(&taught.axis[c->axis].stops, c->side);
}

static int compare(const slew_error *a, const slew_error *b)
{
    int by_key = strcmp(a->key, b->key);
    return by_key != 0 ? by_key : strcmp(a->message, b->message);
}

static void keep_reason(slew_margin_case *c, const slew_error *error)
{
    pthread_mutex_lock(&c->lock);
    if (c->untaught.message[0] == '\0' || compare(error, &c->untaught) < 0)
        c->untaught = *error;
    pthread_mutex_unlock(&c->lock);
}

static slew_status teach(trial *t, int clearance, double stored[SLEW_AXES])
{
    slew_error error = {0};
    slew_margin_case *c = t->c;
    t->scenario.stow.point[c->axis] = t->stop - c->side * clearance * SLEW_MARGIN_GRID;
    if (c->taught != NULL) {
        memcpy(stored, c->taught[clearance].stored, sizeof c->taught[clearance].stored);
        return c->taught[clearance].status;
    }
    slew_status status = slew_teach(&t->scenario, stored, &error);
    if (status != SLEW_OK)
        keep_reason(c, &error);
    return status;
}

slew_status slew_margin_case_open(slew_margin_case *c)
{
    pthread_mutex_init(&c->lock, NULL);
    if (c->scenario->truck.count > 0)
        return SLEW_OK;
    trial *t = malloc(sizeof *t);
    slew_margin_taught *taught = calloc((size_t)c->last + 1, sizeof *taught);
    if (t != NULL && taught != NULL) {
        begin(t, c, c->scenario);
        for (int k = SLEW_MARGIN_FIRST; k <= c->last; k++)
            taught[k].status = teach(t, k, taught[k].stored);
        c->taught = taught;
        taught = NULL;
    }
    free(taught);
    free(t);
    return c->taught != NULL ? SLEW_OK : SLEW_ERROR_MEMORY;
}

void slew_margin_case_close(slew_margin_case *c)
{
    pthread_mutex_destroy(&c->lock);
    free(c->taught);
    c->taught = NULL;
}

/* ---- stowing ---- */

typedef struct watch {
    int axis, side;
    int found; /* axes at home */
    bool touched;
} watch;

static void look(void *context, const slew_event *event)
{
    watch *w = context;
    if (event->kind == SLEW_EVENT_HOME_FOUND)
        w->found++;
    if (event->kind == SLEW_EVENT_STOP_CONTACT && w->found == SLEW_AXES && event->axis == w->axis &&
        event->direction == w->side)
        w->touched = true;
}

static void judge(trial *t, const slew_part *stow, const watch *w, double *figures)
{
    int axis = w->axis, side = w->side;
    double stop = stop_of(&t->prepared.stow.axis[axis].stops, side), angle = stow->angle[axis];
    bool on_stop = angle == stop, stowed = stow->says == SLEW_STOWED && stow->holds;
    bool fault = w->found == SLEW_AXES && stow->says == SLEW_FAULTED &&
                 stow->fault == SLEW_FAULT_HARD_STOP && stow->axis == axis && on_stop;
    double off = (t->scenario.stow.point[axis] - angle) * side;
    t->remain = fabs(angle - stop);
    figures[SLEW_MARGIN_F_FAULT] = fault;
    figures[SLEW_MARGIN_F_PRESSED] = stow->says == SLEW_STOWED && on_stop;
    figures[SLEW_MARGIN_F_UNSAFE] = fault || figures[SLEW_MARGIN_F_PRESSED] > 0;
    figures[SLEW_MARGIN_F_TOUCHED] = w->touched || figures[SLEW_MARGIN_F_UNSAFE] > 0;
    figures[SLEW_MARGIN_F_SHORT] = stowed && off > t->scenario.stow.tolerance;
    figures[SLEW_MARGIN_F_NEAR] = stowed && !on_stop && -off > t->scenario.stow.tolerance;
    figures[SLEW_MARGIN_F_OTHER] = !stowed && !(figures[SLEW_MARGIN_F_UNSAFE] > 0);
}

static bool try_clearance(trial *t, int clearance, double *figures)
{
    slew_result result;
    watch w = {.axis = t->c->axis, .side = t->c->side};
    const slew_observer observer = {.event = look, .context = &w};
    for (int i = 0; i < SLEW_MARGIN_FIGURES; i++)
        figures[i] = NAN;
    if (teach(t, clearance, t->prepared.stored) != SLEW_OK)
        return false;
    slew_run_prepared(&t->scenario, &t->prepared, SLEW_STOW_ONLY, &observer, &result);
    judge(t, &result.stow, &w, figures);
    return true;
}

/* ---- the two questions ---- */

void slew_margin_ask_ladder(void *context, const slew_scenario *drawn,
                            const slew_prepared *prepared, double *figures)
{
    slew_margin_case *c = context;
    trial t = {.prepared = *prepared};
    begin(&t, c, drawn);
    for (int i = 0; i < c->step_count; i++)
        try_clearance(&t, c->step[i], figures + i * SLEW_MARGIN_FIGURES);
}

/* a clearance that can't be taught is no safe one */
static bool is_safe(trial *t, int clearance, bool *taught)
{
    double figures[SLEW_MARGIN_FIGURES];
    *taught = try_clearance(t, clearance, figures);
    return *taught && !(figures[SLEW_MARGIN_F_UNSAFE] > 0);
}

/* Between an unsafe and a safe clearance: after a safe run the clearance that it did not use up is
 * cut away, after an unsafe one the bracket is halved. */
static int next_between(int low, int high, bool was_safe, double remain)
{
    int guess = was_safe ? high - (int)fmin(remain / SLEW_MARGIN_GRID, high) : (low + high) / 2;
    return guess <= low ? low + 1 : guess >= high ? high - 1 : guess;
}

static double bisect(trial *t, int low, int high)
{
    bool safe = true, taught;
    while (high - low > 1) {
        int middle = next_between(low, high, safe, t->remain);
        safe = is_safe(t, middle, &taught);
        if (safe)
            high = middle;
        else
            low = middle;
    }
    return high;
}

void slew_margin_ask_need(void *context, const slew_scenario *drawn, const slew_prepared *prepared,
                          double *figures)
{
    slew_margin_case *c = context;
    trial t = {.prepared = *prepared};
    int low = SLEW_MARGIN_FIRST - 1, high = SLEW_MARGIN_FIRST;
    bool taught;
    begin(&t, c, drawn);
    while (!is_safe(&t, high, &taught)) {
        if (high == c->last) {
            figures[0] = taught ? (double)INFINITY : (double)NAN;
            return;
        }
        low = high;
        high = 4 * high < c->last ? 4 * high : c->last;
    }
    figures[0] = bisect(&t, low, high);
}
