/*
 * generator.c - see generator.h. What a key may be comes from its row: range, example, default and
 * words. Only what no single row tells is said here: which keys stand for each other, and that
 * places lie between stops.
 */
#include "generator.h"
#include "places.h"

#include <math.h>

#include "keys/fields.h"

static const double LARGE = 1e290; /* a number in every unit that a key is written in */

/* ---- how far a scenario goes ---- */

static temper temper_of(dice *d)
{
    static const double shares[] = {0.05, 0.2, 0.6, 1.0};
    const double kind = draw(d);
    temper t = {.alone = -1};
    t.depth = kind < 0.55 ? MILD : kind < 0.9 ? WIDE : WILD;
    t.share = shares[pick(d, t.depth == MILD ? 4 : 3)];
    if (chance(d, 0.25) && t.depth != MILD) {
        t.alone = pick(d, slew_key_count());
        t.share = 0;
    }
    return t;
}

bool random_is_mild(uint64_t number)
{
    dice d = {number, 0};
    return temper_of(&d).depth == MILD;
}

/* ---- one value ---- */

/* what an example says; the table's examples are the daily machine */
static double example_of(int key)
{
    static slew_scenario with; /* one that holds the last example asked for */
    const slew_key *row = slew_key_at(key);
    slew_scenario_init(&with);
    slew_scenario_set(&with, SLEW_LAYER_FILE, row->path, row->example, (slew_error_sink){0});
    return slew_scenario_get_number(&with, key);
}

static double examples[SLEW_KEYS_MAX];
static slew_scenario fresh; /* holds every default */

static void learn_the_table(void)
{
    static bool learned;
    if (learned)
        return;
    slew_scenario_init(&fresh);
    for (int key = 0; key < slew_key_count(); key++)
        examples[key] = example_of(key);
    learned = true;
}

/* the example, or where it is 0 something of its kind */
static double centre_of(int key)
{
    const slew_key *row = slew_key_at(key);
    if (examples[key] != 0)
        return examples[key];
    return row->quantity[0] == 'a' ? DEGREE : 1.0;
}

/* an end of the range, or next to it where the end itself is not allowed */
static double end_of(const slew_key *row, bool high)
{
    if (high)
        return row->high_open ? nextafter(row->high, row->low) : row->high;
    return row->low_open ? nextafter(row->low, row->high) : row->low;
}

static double scaled(dice *d, int key, double decades)
{
    const double far = centre_of(key) * pow(10, between(d, -decades, decades));
    const double value = fmax(fmin(far, LARGE), -LARGE);
    return slew_key_at(key)->low == -INFINITY && chance(d, 0.5) ? -value : value;
}

static double mild_number(dice *d, int key)
{
    const slew_key *row = slew_key_at(key);
    if (isfinite(row->low) && isfinite(row->high) && !row->low_open && chance(d, 0.5))
        return chance(d, 0.2) ? end_of(row, chance(d, 0.5)) : between(d, row->low, row->high);
    if (row->low == 0 && !row->low_open && chance(d, 0.1))
        return 0;
    return scaled(d, key, 0.5);
}

static double wide_number(dice *d, int key)
{
    const slew_key *row = slew_key_at(key);
    switch (pick(d, 5)) {
    case 0:
        return isfinite(row->low) ? end_of(row, false) : scaled(d, key, 3);
    case 1:
        return isfinite(row->high) ? end_of(row, true) : scaled(d, key, 3);
    case 2:
        return isfinite(row->low) && isfinite(row->high) ? between(d, row->low, row->high)
                                                         : scaled(d, key, 2);
    case 3:
        return scaled(d, key, 1);
    default:
        return scaled(d, key, 3);
    }
}

static double wild_number(dice *d, int key)
{
    const slew_key *row = slew_key_at(key);
    switch (pick(d, 6)) {
    case 0:
        return isfinite(row->low) ? end_of(row, false) : -LARGE;
    case 1:
        return isfinite(row->high) ? end_of(row, true) : LARGE;
    case 2:
        return scaled(d, key, 12);
    case 3:
        return scaled(d, key, 290);
    default:
        return scaled(d, key, 4);
    }
}

static double word_of(dice *d, int key)
{
    int count = 0;
    size_t length;
    const char *words = slew_key_at(key)->words;
    while (slew_word_next(&words, &length) != NULL)
        count++;
    return slew_key_row_at(key)->values[pick(d, count)];
}

static double number_of(dice *d, const temper *t, int key)
{
    const double value = t->depth == MILD   ? mild_number(d, key)
                         : t->depth == WIDE ? wide_number(d, key)
                                            : wild_number(d, key);
    return slew_key_row_at(key)->effect == SLEW_EFFECT_GAUGE ? round(value) : value;
}

static double drawn(dice *d, const temper *t, int key)
{
    switch (slew_key_at(key)->kind) {
    case SLEW_KEY_YES_NO:
        return chance(d, 0.5);
    case SLEW_KEY_CHOICE:
        return word_of(d, key);
    default:
        return number_of(d, t, key);
    }
}

static void put(slew_scenario *s, slew_layer_id layer, int key, double value)
{
    slew_scenario_set_number(s, layer, key, value); /* one that the key does not take: none */
}

/* ---- which keys there are ---- */

typedef struct blocks {
    slew_effect size; /* of the conductor */
    bool magnet[SLEW_AXES];
    bool times, point, deploy, range;
} blocks;

static blocks blocks_of(dice *d)
{
    blocks b;
    b.size = (slew_effect)(SLEW_EFFECT_GAUGE + pick(d, 3));
    b.magnet[0] = chance(d, 0.12);
    b.magnet[1] = chance(d, 0.12);
    b.times = chance(d, 0.25);
    b.point = !b.times || chance(d, 0.5);
    b.deploy = chance(d, 0.85);
    b.range = chance(d, 0.05);
    return b;
}

static bool is_number(int key)
{
    const slew_key_row *row = slew_key_row_at(key);
    const slew_key_kind kind = row->key.kind;
    return row->offset != SLEW_NO_FIELD &&
           (kind == SLEW_KEY_NUMBER || kind == SLEW_KEY_YES_NO || kind == SLEW_KEY_CHOICE);
}

static bool is_range_end(int key)
{
    return slew_key_within(key, "stow.range", sizeof "stow.range" - 1);
}

static bool is_there(const blocks *b, int key)
{
    switch (slew_key_row_at(key)->effect) {
    case SLEW_EFFECT_GAUGE:
    case SLEW_EFFECT_AREA:
    case SLEW_EFFECT_PER_LENGTH:
        return slew_key_row_at(key)->effect == b->size;
    case SLEW_EFFECT_POINT:
        return b->point;
    case SLEW_EFFECT_TIMES:
        return b->times;
    case SLEW_EFFECT_DEPLOY:
        return b->deploy;
    case SLEW_EFFECT_WINDOW:
        return !b->magnet[slew_key_axis(key)];
    case SLEW_EFFECT_MAGNET:
        return b->magnet[slew_key_axis(key)];
    case SLEW_EFFECT_SHEET:
        return false;
    default:
        return !is_range_end(key) || b->range;
    }
}

/* what a key is as long as it does not leave it; "yes" is what a fault reads like */
static double usual_value(int key)
{
    const slew_key *row = slew_key_at(key);
    const bool keeps_default =
        row->kind == SLEW_KEY_YES_NO || slew_key_row_at(key)->infinite != NULL;
    return keeps_default ? slew_scenario_get_number(&fresh, key) : examples[key];
}

static void fill_in(dice *d, const temper *t, const blocks *b, slew_scenario *s)
{
    for (int key = 0; key < slew_key_count(); key++) {
        if (!is_number(key) || !is_there(b, key))
            continue;
        /* a yes or no is a fault more often than not */
        const bool is_rare = slew_key_at(key)->kind == SLEW_KEY_YES_NO && t->depth != WILD;
        const bool leaves = key == t->alone || chance(d, is_rare ? t->share / 3 : t->share);
        put(s, SLEW_LAYER_FILE, key, usual_value(key));
        if (leaves)
            put(s, SLEW_LAYER_FILE, key, drawn(d, t, key));
    }
}

/* ---- what belongs together ---- */

static void put_in_order(slew_scenario *s)
{
    exchange(&s->setup.grease.viscosity_100, &s->setup.grease.viscosity_40);
    for (int j = 0; j < SLEW_AXES; j++) {
        slew_axis_setup *a = &s->setup.axis[j];
        exchange(&a->motor.no_load_current, &a->motor.stall_current);
        exchange(&a->home.operate, &a->home.release);
        exchange(&a->home.magnet.release_flux, &a->home.magnet.operate_flux);
        exchange(&s->deploy.target[j].low, &s->deploy.target[j].high);
        exchange(&s->stow.range[j].low, &s->stow.range[j].high);
    }
}

/* a data sheet that tells its motor by another figure */
static void read_another_sheet(dice *d, slew_scenario *s, int axis)
{
    slew_motor_sheet *motor = &s->setup.axis[axis].motor;
    double *left_out[] = {&motor->no_load_speed, &motor->no_load_current, &motor->stall_current,
                          &s->setup.axis[axis].gear.efficiency};
    *left_out[pick(d, 4)] = SLEW_NOT_GIVEN;
    if (chance(d, 0.5))
        motor->inertia = SLEW_NOT_GIVEN;
    for (int key = 0; key < slew_key_count(); key++)
        if (slew_key_row_at(key)->effect == SLEW_EFFECT_SHEET && slew_key_axis(key) == axis &&
            chance(d, 0.6))
            put(s, SLEW_LAYER_FILE, key, scaled(d, key, 0.1));
}

/* ---- layers ---- */

static void fill_layer(dice *d, const temper *t, slew_scenario *s, slew_layer_id layer)
{
    const int count = 1 + pick(d, 4);
    for (int i = 0; i < count; i++) {
        const int key = pick(d, slew_key_count());
        if (is_number(key) && slew_key_at(key)->layered &&
            slew_key_row_at(key)->effect != SLEW_EFFECT_MAGNET)
            put(s, layer, key, drawn(d, t, key));
    }
    const int moved =
        slew_key_find(chance(d, 0.5) ? "rotation.home.angle" : "elevation.home.angle");
    if (chance(d, 0.15))
        put(s, layer, moved, between(d, -20, 60) * DEGREE);
}

/* ---- all ---- */

void random_scenario(uint64_t number, slew_scenario *out)
{
    dice d = {number, 0};
    const temper t = temper_of(&d);
    const blocks b = blocks_of(&d);
    learn_the_table();
    *out = fresh;
    fill_in(&d, &t, &b, out);
    for (int j = 0; j < SLEW_AXES && t.alone < 0; j++) {
        if (chance(&d, 0.7))
            random_place_axis(&d, &t, out, j);
        if (chance(&d, 0.1))
            read_another_sheet(&d, out, j);
    }
    put_in_order(out);
    if (t.alone < 0 && chance(&d, 0.3))
        random_place_boxes(&d, out);
    for (slew_layer_id l = SLEW_LAYER_TEACH; l <= SLEW_LAYER_DEPLOY_DAY && t.alone < 0; l++)
        if (chance(&d, 0.25))
            fill_layer(&d, &t, out, l);
    for (int j = 0; j < SLEW_AXES; j++)
        slew_scenario_complete_motor(out, j);
    for (int j = 0; j < SLEW_AXES; j++)
        out->deploy.choice_count[j] = 1, out->deploy.choices[j][0] = out->deploy.seconds[j];
}
