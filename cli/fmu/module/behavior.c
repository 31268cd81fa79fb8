/* behavior.c - what a machine or plant does: it starts, is told things, and goes on. */
#include "instance.h"

#include <string.h>

#include "slewtime/read.h"

/* ---- errors of the library ---- */

static fmi3Status fail(const fmu_instance *instance, const slew_error *error)
{
    return fmu_say(instance, fmi3Error, "%s%s%s%s%s", error->key, error->key[0] != '\0' ? ": " : "",
                   error->message, error->expected[0] != '\0' ? "; expected " : "",
                   error->expected);
}

typedef struct first_error {
    bool any;
    slew_error error;
} first_error;

static void keep_first(void *context, const slew_error *error)
{
    first_error *first = context;
    if (!first->any)
        *first = (first_error){true, *error};
}

/* ---- events ---- */

static void note(const fmu_instance *instance, fmu_state *state, const slew_event *e)
{
    char text[160];
    fmu_values *v = &state->v;
    v->events++;
    v->last_event = (int)e->kind;
    if (e->kind == SLEW_EVENT_KEEPOUT_ENTERED)
        v->inside |= 1u << e->box;
    if (e->kind == SLEW_EVENT_KEEPOUT_LEFT)
        v->inside &= ~(1u << e->box);
    if (state != &instance->now || !instance->logs[FMU_SAYS_EVENT] || instance->log == NULL)
        return;
    snprintf(text, sizeof text, "%.6f s: %s %s%s%s", v->ahead + e->time,
             e->axis == SLEW_NO_AXIS ? "" : slew_axis_word(e->axis), slew_event_word(e->kind),
             e->kind == SLEW_EVENT_FAULT ? " " : "",
             e->kind == SLEW_EVENT_FAULT ? slew_fault_word(e->fault) : "");
    instance->log(instance->environment, fmi3OK, fmu_categories[FMU_SAYS_EVENT].name, text);
}

static double own_time(const fmu_instance *instance, const fmu_state *state)
{
    return instance->kind == FMU_PLANT ? state->machine.plant.time : state->machine.time;
}

/* The next event up to `until` of the machine's own time, noted. false: there is none. */
static bool go_to_event(const fmu_instance *instance, fmu_state *state, double until)
{
    slew_machine *m = &state->machine;
    slew_event event;
    if (instance->kind == FMU_MACHINE) {
        bool any = slew_machine_advance(m, until, &event);
        if (any)
            note(instance, state, &event);
        return any;
    }
    if (!m->holds || m->gave_up)
        return false;
    slew_plant_event told = slew_plant_advance(&m->model, &m->plant, until);
    m->holds = !m->plant.does_not_hold;
    m->gave_up = m->plant.gave_up;
    state->v.events += told.kind != SLEW_PLANT_NOTHING;
    return told.kind != SLEW_PLANT_NOTHING;
}

/* all events of the present instant; true: there was one */
static bool go_nowhere(const fmu_instance *instance, fmu_state *state)
{
    bool any = false;
    while (go_to_event(instance, state, own_time(instance, state)))
        any = true;
    return any;
}

static fmi3Status check_pieces(const fmu_instance *instance, const fmu_state *state)
{
    if (!state->machine.gave_up)
        return fmi3OK;
    return fmu_say(instance, fmi3Error,
                   "the motion comes in more than %d pieces a second: the figures of motor, gear "
                   "and supply make no machine",
                   SLEW_PIECES_MAX);
}

/* ---- values into the scenario ---- */

static void put_values(fmu_instance *instance, const fmu_values *v)
{
    for (int i = 0; i < instance->variables.count; i++) {
        const fmu_variable *own = &instance->variables.item[i];
        if (own->key != FMU_NO_KEY)
            slew_scenario_set_number(&instance->scenario, own->layer, own->key,
                                     own->layer == SLEW_LAYER_TEACH ? v->taught[own->key]
                                                                    : v->key[own->key]);
    }
}

static fmi3Status check(const fmu_instance *instance)
{
    first_error first = {0};
    const slew_error_sink errors = {keep_first, &first}, none = {0};
    slew_scenario_check(&instance->scenario, errors, none);
    return first.any ? fail(instance, &first.error) : fmi3OK;
}

/* ---- start ---- */

static slew_status start_plant(fmu_instance *instance, slew_machine *m, slew_error *error)
{
    slew_scenario_resolve(&instance->scenario, SLEW_OCCASION_STOW, &m->setup);
    slew_status status = slew_plant_model_build(&m->setup, &m->model, error);
    if (status != SLEW_OK)
        return status;
    const double at[SLEW_AXES] = {m->setup.axis[0].start, m->setup.axis[1].start};
    m->holds = true;
    return slew_plant_start(&m->model, at, &m->plant);
}

static slew_status start_machine(fmu_instance *instance, fmu_state *state, slew_error *error)
{
    slew_prepared *prepared = &instance->prepared;
    slew_status status = slew_prepare(&instance->scenario, SLEW_STOW_ONLY, prepared, error);
    if (status != SLEW_OK)
        return status;
    memcpy(state->v.stored, prepared->stored, sizeof state->v.stored);
    slew_machine_start(&instance->scenario, prepared, SLEW_OCCASION_STOW, &state->machine);
    return SLEW_OK;
}

fmi3Status fmu_start(fmu_instance *instance, fmu_state *state)
{
    slew_error error = {0};
    put_values(instance, &state->v);
    if (check(instance) != fmi3OK)
        return fmi3Error;
    memset(&state->machine, 0, sizeof state->machine);
    slew_status status = instance->kind == FMU_PLANT
                             ? start_plant(instance, &state->machine, &error)
                             : start_machine(instance, state, &error);
    if (status != SLEW_OK)
        return fail(instance, &error);
    memcpy(state->v.used, state->v.key, sizeof state->v.used);
    state->v.started = true;
    go_nowhere(instance, state);
    return check_pieces(instance, state);
}

/* ---- what was set since ---- */

/* true: another value of such a key */
static bool differs(const fmu_instance *instance, const fmu_values *v, bool (*counts)(int key))
{
    for (int i = 0; i < instance->variables.count; i++) {
        int key = instance->variables.item[i].key;
        if (key != FMU_NO_KEY && v->key[key] != v->used[key] && counts(key))
            return true;
    }
    return false;
}

static bool counts_at_any_time(int key)
{
    return slew_key_used(key) != SLEW_USE_PROGRAM;
}

/* inputs change often, and no value that belongs with them is checked but by the machine */
static bool is_parameter(int key)
{
    return slew_key_used(key) != SLEW_USE_CONDITION;
}

static slew_status change_plant(slew_machine *m, const slew_setup *setup, slew_error *error)
{
    slew_plant_model to;
    slew_status status = slew_plant_model_build(setup, &to, error);
    if (status != SLEW_OK)
        return status;
    for (int axis = 0; axis < SLEW_AXES; axis++)
        slew_plant_model_load(&to, axis, m->model.outside[axis]);
    slew_plant_transfer(&m->model, &to, &m->plant);
    m->model = to;
    m->setup = *setup;
    m->holds = !m->plant.does_not_hold;
    return SLEW_OK;
}

static fmi3Status take_conditions(fmu_instance *instance, fmu_state *state, bool *taken)
{
    slew_setup setup;
    slew_error error = {0};
    if (memcmp(state->v.key, state->v.used, sizeof state->v.key) == 0)
        return fmi3OK;
    bool differ = differs(instance, &state->v, counts_at_any_time);
    put_values(instance, &state->v);
    if (differs(instance, &state->v, is_parameter) && check(instance) != fmi3OK)
        return fmi3Error;
    slew_scenario_resolve(&instance->scenario, SLEW_OCCASION_STOW, &setup);
    slew_machine *m = &state->machine;
    slew_status status = !differ                       ? SLEW_OK
                         : instance->kind == FMU_PLANT ? change_plant(m, &setup, &error)
                                                       : slew_machine_change(m, &setup, &error);
    if (status != SLEW_OK)
        return fail(instance, &error);
    memcpy(state->v.used, state->v.key, sizeof state->v.used);
    *taken = *taken || differ;
    return fmi3OK;
}

static void load_plant(slew_machine *m, int axis, double torque)
{
    slew_plant_model to = m->model;
    slew_plant_model_load(&to, axis, torque);
    slew_plant_transfer(&m->model, &to, &m->plant);
    m->model = to;
    m->holds = !m->plant.does_not_hold;
}

static void take_loads(const fmu_instance *instance, fmu_state *state, bool *taken)
{
    for (int axis = 0; axis < SLEW_AXES; axis++) {
        double torque = state->v.wanted.torque[axis];
        if (torque == state->v.taken.torque[axis])
            continue;
        *taken = true;
        if (instance->kind == FMU_PLANT)
            load_plant(&state->machine, axis, torque);
        else
            slew_machine_load(&state->machine, axis, torque);
    }
}

/* the program counts from the command that begins it */
static void set_program(const slew_scenario *s, slew_program *p)
{
    p->lift_first = s->stow.lift_first;
    p->home_order = s->stow.home_order;
    p->stow_order = s->stow.order;
    p->deploy_order = s->deploy.order;
    for (int axis = 0; axis < SLEW_AXES; axis++)
        p->seconds[axis] = s->deploy.seconds[axis];
}

/* false: a command was not taken */
static bool command(fmu_instance *instance, fmu_state *state, bool *taken)
{
    const fmu_inputs *wanted = &state->v.wanted, *before = &state->v.taken;
    slew_machine *m = &state->machine;
    bool stow = wanted->stow && !before->stow, deploy = wanted->deploy && !before->deploy;
    bool cancel = wanted->cancel && !before->cancel, good = true;
    if (stow || deploy) {
        put_values(instance, &state->v);
        set_program(&instance->scenario, &m->program);
    }
    if (cancel)
        good = slew_machine_cancel(m) && good;
    if (stow)
        good = slew_machine_stow(m) && good;
    if (deploy)
        good = slew_machine_deploy(m) && good;
    *taken = *taken || cancel || stow || deploy;
    for (int axis = 0; axis < SLEW_AXES; axis++)
        if (wanted->direction[axis] != before->direction[axis]) {
            good = slew_machine_jog(m, axis, wanted->direction[axis]) && good;
            *taken = true;
        }
    return good;
}

static void drive(fmu_state *state, bool *taken)
{
    slew_machine *m = &state->machine;
    for (int axis = 0; axis < SLEW_AXES; axis++)
        if (state->v.wanted.direction[axis] != state->v.taken.direction[axis]) {
            slew_plant_drive(&m->model, &m->plant, axis, state->v.wanted.direction[axis]);
            *taken = true;
        }
}

fmi3Status fmu_take(fmu_instance *instance, fmu_state *state, bool *happened)
{
    bool taken = false, heard = true;
    if (take_conditions(instance, state, &taken) != fmi3OK)
        return fmi3Error;
    take_loads(instance, state, &taken);
    if (instance->kind == FMU_PLANT)
        drive(state, &taken);
    else
        heard = command(instance, state, &taken);
    state->v.taken = state->v.wanted;
    if (taken && go_nowhere(instance, state))
        *happened = true;
    if (!heard)
        return fmu_say(instance, fmi3Warning,
                       "a command was not taken: the machine stands still for good, or too much "
                       "happens at once");
    return check_pieces(instance, state);
}

/* ---- time ---- */

static bool is_ready(const fmu_instance *instance, const fmu_state *state)
{
    return instance->kind == FMU_MACHINE && slew_machine_is_ready(&state->machine);
}

/* up to when nothing discrete changes, unless the machine tells of it: a pause ends in silence */
static double next_stop(const fmu_instance *instance, const fmu_state *state, double end)
{
    const slew_machine *m = &state->machine;
    if (instance->kind == FMU_PLANT)
        return end;
    double pause_end = slew_machine_pause_end(m);
    return pause_end > m->time && pause_end < end ? pause_end : end;
}

/* Up to the next event, or to when it is ready. false: `end` is there, and nothing happened. */
static bool go_on(const fmu_instance *instance, fmu_state *state, double end)
{
    const bool ready = is_ready(instance, state);
    for (;;) {
        double stop = next_stop(instance, state, end);
        if (go_to_event(instance, state, stop) || is_ready(instance, state) != ready)
            return true;
        if (!(stop < end && own_time(instance, state) == stop))
            return false;
    }
}

fmi3Status fmu_advance(fmu_instance *instance, fmu_state *state, double until, bool stops,
                       bool *happened)
{
    fmu_values *v = &state->v;
    const double begin = own_time(instance, state), end = until - v->ahead;
    while (go_on(instance, state, end)) {
        double now = own_time(instance, state);
        *happened = true;
        if (!stops || !(now > begin && now < end))
            continue;
        go_nowhere(instance, state);
        v->time = v->ahead + now;
        return check_pieces(instance, state);
    }
    /* one that does not hold stands still, and time goes on */
    if (!state->machine.holds)
        v->ahead += end - own_time(instance, state);
    v->time = until;
    return check_pieces(instance, state);
}
