/* margin_trial.c - see margin_trial.h. */
#include "study/margin/margin_trial.h"

#include "motion/teach.h"
#include "study/margin/margin_stow.h"

#include <stdlib.h>
#include <string.h>

/* one sample at work */
typedef struct trial {
    slew_margin_case *c;
    slew_scenario scenario;
    slew_error error;       /* of the teaching */
    slew_status taught;     /* how `teaching` came about */
    slew_teaching teaching; /* up to where the clearance first matters */
    double stored[SLEW_AXES];
    double stop;      /* while teaching [rad] */
    double away;      /* by which the point truly is off where it is said to be taught [rad] */
    slew_range stops; /* today */
    slew_margin_day day;
    double remain; /* how far from today's stop the last run ended [rad] */
} trial;

static double stop_of(const slew_range *stops, int side)
{
    return side < 0 ? stops->low : stops->high;
}

/* ---- teaching ---- */

/* of a point that is known to an uncertainty, after a fit: what was drawn, whatever the clearance
 */
static double away_of(const slew_margin_case *c, const slew_scenario *drawn)
{
    double away = drawn->stow.point[c->axis] - c->scenario->stow.point[c->axis];
    return isnan(away) ? 0 : away; /* there is no point */
}

static void begin(trial *t, slew_margin_case *c, const slew_scenario *drawn)
{
    slew_setup taught;
    t->c = c;
    t->scenario = *drawn;
    t->scenario.stow.has_times = false;
    slew_scenario_resolve(drawn, SLEW_OCCASION_TEACH, &taught);
    t->stop = stop_of(&taught.axis[c->axis].stops, c->side);
    t->away = away_of(c, drawn);
}

/* home is found once for all clearances; an axis that is taught before this one keeps its time */
static void begin_teaching(trial *t)
{
    int first = slew_teaching_first(&t->scenario);
    t->error = (slew_error){0};
    t->taught = slew_teaching_begin(&t->scenario, &t->error, &t->teaching);
    if (t->taught == SLEW_OK && first != t->c->axis)
        t->taught = slew_teaching_axis(&t->teaching, first, &t->stored[first]);
}

static void begin_day(trial *t, const slew_prepared *prepared)
{
    const slew_margin_case *c = t->c;
    t->stops = prepared->stow.axis[c->axis].stops;
    slew_margin_day_begin(&t->scenario, prepared, c->axis, c->side, &t->day);
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

static slew_status teach_point(trial *t)
{
    slew_teaching rest; /* not cleared: it is large */
    int axis = t->c->axis;
    if (t->taught != SLEW_OK)
        return t->taught;
    slew_teaching_copy(&t->teaching, &rest);
    slew_status status = slew_teaching_axis(&rest, axis, &t->stored[axis]);
    if (status == SLEW_OK && slew_teaching_first(&t->scenario) == axis)
        status = slew_teaching_axis(&rest, !axis, &t->stored[!axis]);
    return status;
}

static slew_status teach(trial *t, int clearance)
{
    slew_margin_case *c = t->c;
    double off = clearance * SLEW_MARGIN_GRID - c->side * t->away;
    t->scenario.stow.point[c->axis] = t->stop - c->side * fmax(off, SLEW_MARGIN_GRID);
    if (c->taught != NULL) {
        memcpy(t->stored, c->taught[clearance].stored, sizeof t->stored);
        return c->taught[clearance].status;
    }
    slew_status status = teach_point(t);
    if (status != SLEW_OK)
        keep_reason(c, &t->error);
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
        begin_teaching(t);
        for (int k = SLEW_MARGIN_FIRST; k <= c->last; k++) {
            taught[k].status = teach(t, k);
            memcpy(taught[k].stored, t->stored, sizeof t->stored);
        }
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

static void judge(trial *t, const slew_margin_seen *seen, double *figures)
{
    int axis = t->c->axis, side = t->c->side;
    double stop = stop_of(&t->stops, side);
    bool on_stop = seen->angle == stop, stowed = seen->says == SLEW_STOWED && seen->holds;
    bool fault = seen->found == SLEW_AXES && seen->says == SLEW_FAULTED &&
                 seen->fault == SLEW_FAULT_HARD_STOP && seen->fault_axis == axis && on_stop;
    double off = (t->scenario.stow.point[axis] - seen->angle) * side;
    t->remain = fabs(seen->angle - stop);
    figures[SLEW_MARGIN_F_FAULT] = fault;
    figures[SLEW_MARGIN_F_PRESSED] = seen->says == SLEW_STOWED && on_stop;
    figures[SLEW_MARGIN_F_UNSAFE] = fault || figures[SLEW_MARGIN_F_PRESSED] > 0;
    figures[SLEW_MARGIN_F_TOUCHED] = seen->touched || figures[SLEW_MARGIN_F_UNSAFE] > 0;
    figures[SLEW_MARGIN_F_SHORT] = stowed && off > t->scenario.stow.tolerance;
    figures[SLEW_MARGIN_F_NEAR] = stowed && !on_stop && -off > t->scenario.stow.tolerance;
    figures[SLEW_MARGIN_F_OTHER] = !stowed && !(figures[SLEW_MARGIN_F_UNSAFE] > 0);
}

static bool try_clearance(trial *t, int clearance, double *figures)
{
    for (int i = 0; i < SLEW_MARGIN_FIGURES; i++)
        figures[i] = NAN;
    if (teach(t, clearance) != SLEW_OK)
        return false;
    const slew_margin_seen seen = slew_margin_day_stow(&t->day, t->stored);
    judge(t, &seen, figures);
    return true;
}

static void begin_sample(trial *t, slew_margin_case *c, const slew_scenario *drawn,
                         const slew_prepared *prepared)
{
    begin(t, c, drawn);
    if (c->taught == NULL)
        begin_teaching(t);
    begin_day(t, prepared);
}

/* ---- the two questions ---- */

void slew_margin_ask_ladder(void *context, const slew_scenario *drawn,
                            const slew_prepared *prepared, double *figures)
{
    slew_margin_case *c = context;
    trial t; /* not cleared: it is large */
    begin_sample(&t, c, drawn, prepared);
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

/* further out after an unsafe run without a safe one */
static int next_out(int low, int last)
{
    int next = low + low / 4 + 1;
    return next < last ? next : last;
}

/* Between an unsafe and a safe clearance: after a safe run most of what it did not use up is cut
 * away (nearer to the stop the way is longer, and a little more is used), after an unsafe one the
 * bracket is halved. */
static int next_between(int low, int high, bool was_safe, double remain)
{
    int cut = (int)fmin(0.8 * remain / SLEW_MARGIN_GRID, high);
    int guess = was_safe ? high - cut : (low + high) / 2;
    return guess <= low ? low + 1 : guess >= high ? high - 1 : guess;
}

void slew_margin_ask_need(void *context, const slew_scenario *drawn, const slew_prepared *prepared,
                          double *figures)
{
    slew_margin_case *c = context;
    trial t; /* not cleared: it is large */
    begin_sample(&t, c, drawn, prepared);
    int low = c->floor - 1, high = c->last + 1; /* unsafe, and safe */
    bool taught = false;
    for (int k = c->start; high - low > 1;) {
        bool safe = is_safe(&t, k, &taught);
        *(safe ? &high : &low) = k;
        k = high > c->last ? next_out(low, c->last) : next_between(low, high, safe, t.remain);
    }
    figures[0] = high <= c->last ? high : taught ? (double)INFINITY : (double)NAN;
}
