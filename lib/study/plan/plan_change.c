/* plan_change.c - see plan_change.h. */
#include "study/plan/plan_change.h"

#include "slewtime/physics.h"

static const double fine_step = 0.5; /* of seconds [s] */

/* ---- applying one ---- */

static bool set_layer(slew_scenario *s, slew_layer_id layer, const slew_plan_change *c)
{
    return !slew_layer_holds(slew_layer_at(s, layer), c->key) ||
           slew_scenario_set_number(s, layer, c->key, c->value) == SLEW_OK;
}

/* in the file, and in each layer that says it too */
static bool set_everywhere(slew_scenario *s, const slew_plan_change *c)
{
    return slew_scenario_get_number(s, c->key) != c->value &&
           slew_scenario_set_number(s, SLEW_LAYER_FILE, c->key, c->value) == SLEW_OK &&
           set_layer(s, SLEW_LAYER_TEACH, c) && set_layer(s, SLEW_LAYER_TODAY, c) &&
           set_layer(s, SLEW_LAYER_DEPLOY_DAY, c);
}

static slew_range ends_of(const slew_deploy *d, int axis)
{
    slew_range ends = {INFINITY, -INFINITY};
    for (int i = 0; i < d->choice_count[axis]; i++) {
        ends.low = fmin(ends.low, d->choices[axis][i]);
        ends.high = fmax(ends.high, d->choices[axis][i]);
    }
    return ends;
}

/* every half second from the least to the greatest choice; false: there is nothing between */
static bool refine(slew_deploy *d, int axis)
{
    slew_range ends = ends_of(d, axis);
    int count = (int)floor((ends.high - ends.low) / fine_step + 1e-9) + 1;
    if (count > SLEW_CHOICES_MAX || count <= d->choice_count[axis])
        return false;
    d->choice_count[axis] = count;
    for (int i = 0; i < count; i++)
        d->choices[axis][i] = ends.low + i * fine_step;
    return true;
}

/* the smallest step between two choices; infinite: there is one choice */
static double step_of(const slew_deploy *d, int axis)
{
    double step = INFINITY;
    for (int i = 0; i < d->choice_count[axis]; i++)
        for (int k = 0; k < i; k++) {
            double apart = fabs(d->choices[axis][i] - d->choices[axis][k]);
            step = apart > 1e-9 ? fmin(step, apart) : step;
        }
    return step;
}

/* as many steps beyond each end as make their range twice as far, and none to the other side of 0;
 * false: there is no step */
static bool reach_further(slew_deploy *d, int axis)
{
    const slew_range ends = ends_of(d, axis);
    double step = step_of(d, axis), reach = ends.high - ends.low;
    int before = d->choice_count[axis];
    for (double by = step; by <= reach + 1e-9 && d->choice_count[axis] + 2 <= SLEW_CHOICES_MAX;
         by += step) {
        if (ends.low < 0 || ends.low - by >= 0)
            d->choices[axis][d->choice_count[axis]++] = ends.low - by;
        if (ends.high > 0 || ends.high + by <= 0)
            d->choices[axis][d->choice_count[axis]++] = ends.high + by;
    }
    return d->choice_count[axis] > before;
}

static bool on_both(bool (*change)(slew_deploy *, int), slew_deploy *d)
{
    bool changed = false;
    for (int j = 0; j < SLEW_AXES; j++)
        changed |= change(d, j);
    return changed;
}

bool slew_plan_apply(slew_scenario *s, const slew_plan_change *c)
{
    if (s == NULL || c == NULL)
        return false;
    switch (c->kind) {
    case SLEW_PLAN_KEY:
        return set_everywhere(s, c);
    case SLEW_PLAN_TAUGHT_AT:
        return slew_scenario_set_number(s, SLEW_LAYER_TEACH, c->key, c->value) == SLEW_OK;
    case SLEW_PLAN_FINER:
        return on_both(refine, &s->deploy);
    case SLEW_PLAN_BEYOND:
        return on_both(reach_further, &s->deploy);
    default:
        return true;
    }
}

void slew_plan_set(slew_scenario *s, const slew_plan_setting *p)
{
    if (s == NULL || p == NULL)
        return;
    for (int j = 0; j < SLEW_AXES; j++) {
        s->stow.point[j] = p->point[j];
        s->deploy.seconds[j] = p->seconds[j];
    }
}

/* ---- all of them ---- */

typedef struct list {
    const slew_scenario *scenario;
    slew_plan_change *change;
    int count;
} list;

static void add(list *l, slew_plan_kind kind, const char *path, double value, slew_plan_cost cost)
{
    slew_plan_change c = {kind, path == NULL ? -1 : slew_key_find(path), value, cost};
    slew_scenario trial = *l->scenario;
    if (l->count < SLEW_PLAN_CHANGES_MAX && slew_plan_apply(&trial, &c))
        l->change[l->count++] = c;
}

static void add_key(list *l, const char *path, double value, slew_plan_cost cost)
{
    add(l, SLEW_PLAN_KEY, path, value, cost);
}

/* stored times count from the edge that these rules choose */
static void add_search(list *l, int axis)
{
    static const char *const approach[] = {"rotation.approach", "elevation.approach"};
    static const char *const search[] = {"rotation.search", "elevation.search"};
    for (int a = SLEW_APPROACH_EITHER; a <= SLEW_APPROACH_FALLING; a++)
        add_key(l, approach[axis], a, SLEW_PLAN_COST_RETEACH);
    add_key(l, search[axis], -l->scenario->setup.axis[axis].search, SLEW_PLAN_COST_RETEACH);
}

static void add_orders(list *l)
{
    add_key(l, "stow.home_order", SLEW_ROTATION_FIRST, SLEW_PLAN_COST_SETTING);
    add_key(l, "stow.home_order", SLEW_ELEVATION_FIRST, SLEW_PLAN_COST_SETTING);
    for (int order = SLEW_ROTATION_FIRST; order <= SLEW_TOGETHER; order++) {
        add_key(l, "stow.order", order, SLEW_PLAN_COST_SETTING);
        add_key(l, "deploy.order", order, SLEW_PLAN_COST_SETTING);
    }
}

/* where the supply of the days is in the middle of its spread; stored times do not matter then */
static void add_teaching(list *l)
{
    int key = slew_key_find("supply.main.voltage");
    slew_setup taught;
    slew_scenario_resolve(l->scenario, SLEW_OCCASION_TEACH, &taught);
    for (int i = 0; i < l->scenario->day.count && !l->scenario->stow.has_times; i++) {
        const slew_variation *v = &l->scenario->day.item[i];
        double middle = slew_variation_quantile(v, 0.5);
        if (v->key == key && fabs(middle - taught.supply.main.voltage) > 0.05)
            add(l, SLEW_PLAN_TAUGHT_AT, "supply.main.voltage", middle, SLEW_PLAN_COST_RETEACH);
    }
}

/* the next two sizes of its own kind; of one that is given by its resistance, class 2 */
static void add_conductors(list *l)
{
    const slew_feed *feed = &l->scenario->setup.supply.feed;
    bool gauge = feed->conductor == SLEW_CONDUCTOR_GAUGE;
    bool area = feed->conductor == SLEW_CONDUCTOR_AREA;
    slew_ladder ladder = gauge ? SLEW_LADDER_AWG : SLEW_LADDER_CLASS_2;
    int found = 0;
    for (int i = 0; i < slew_ladder_count(ladder) && found < 2; i++) {
        double size = slew_ladder_size(ladder, i);
        double resistance = slew_ladder_resistance(ladder, i, feed->stranding);
        bool thicker = gauge  ? size < feed->gauge - 1e-9
                       : area ? size > feed->area * (1 + 1e-9)
                              : resistance < feed->per_length * (1 - 1e-9);
        if (!thicker)
            continue;
        found++;
        if (gauge || area)
            add_key(l, gauge ? "supply.feed.gauge" : "supply.feed.area", size,
                    SLEW_PLAN_COST_WIRING);
        else
            add_key(l, "supply.feed.per_length", resistance, SLEW_PLAN_COST_WIRING);
    }
}

/* one whose voltage is that of another system would say nothing */
static void add_auxiliary(list *l)
{
    const slew_supply *supply = &l->scenario->setup.supply;
    if (supply->auxiliary.voltage >= supply->system)
        add_key(l, "supply.auxiliary.fitted", 1, SLEW_PLAN_COST_PART);
}

int slew_plan_changes(const slew_scenario *scenario, slew_plan_change out[SLEW_PLAN_CHANGES_MAX])
{
    list l = {scenario, out, 0};
    add_orders(&l);
    add_key(&l, "stow.lift_first", 1, SLEW_PLAN_COST_SETTING);
    add_key(&l, "stow.lift_first", 2, SLEW_PLAN_COST_SETTING);
    add(&l, SLEW_PLAN_FINER, NULL, 0, SLEW_PLAN_COST_SETTING);
    add(&l, SLEW_PLAN_BEYOND, NULL, 0, SLEW_PLAN_COST_SETTING);
    if (scenario->day.count > 0)
        add_key(&l, "deploy.same_day", 1, SLEW_PLAN_COST_SETTING);
    for (int j = 0; j < SLEW_AXES; j++)
        add_search(&l, j);
    add_teaching(&l);
    add_conductors(&l);
    add_auxiliary(&l);
    return l.count;
}
