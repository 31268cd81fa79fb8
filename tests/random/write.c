/* write.c - a scenario as a file; see generator.h. */
#include "generator.h"

#include <math.h>

#include "keys/fields.h"
#include "keys/values.h"

enum { DIGITS = 17, TEXT_MAX = 96 };

static void write_value(FILE *out, int key, double value)
{
    char text[TEXT_MAX];
    if (slew_key_at(key)->kind == SLEW_KEY_NUMBER && isfinite(value))
        slew_value_print_digits(slew_key_row_at(key), value, DIGITS, text, sizeof text);
    else
        slew_key_format_number(key, value, text, sizeof text);
    fprintf(out, "%s: %s", slew_key_at(key)->path, text);
}

/* the file says a key: it has a value, and nothing else stands for it */
static bool is_said(const slew_scenario *s, int key)
{
    const slew_key_row *row = slew_key_row_at(key);
    const slew_key_kind kind = row->key.kind;
    const int axis = slew_key_axis(key);
    if (row->offset == SLEW_NO_FIELD || isnan(slew_scenario_get_number(s, key)) ||
        (kind != SLEW_KEY_NUMBER && kind != SLEW_KEY_YES_NO && kind != SLEW_KEY_CHOICE))
        return false;
    switch (row->effect) {
    case SLEW_EFFECT_DEPLOY:
        return s->deploy.given;
    case SLEW_EFFECT_WINDOW:
        return !s->setup.axis[axis].home.magnet.given;
    case SLEW_EFFECT_MAGNET:
        return s->setup.axis[axis].home.magnet.given;
    case SLEW_EFFECT_POINT:
        return s->stow.has_point;
    case SLEW_EFFECT_TIMES:
        return s->stow.has_times;
    default:
        return true;
    }
}

/* an axis that is not said spans all */
static void write_bounds(FILE *out, const char *axis, slew_range r)
{
    const double degree = 0.017453292519943295;
    if (isfinite(r.low) && isfinite(r.high))
        fprintf(out, ", %s: {low: %.17g deg, high: %.17g deg}", axis, r.low / degree,
                r.high / degree);
}

static void write_boxes(FILE *out, const slew_keepout *keepout)
{
    if (keepout->count > 0)
        fprintf(out, "keepout:\n");
    for (int i = 0; i < keepout->count; i++) {
        const slew_keepout_box *box = &keepout->box[i];
        fprintf(out, "  - {name: %s", box->name);
        write_bounds(out, "rotation", box->axis[SLEW_ROTATION]);
        write_bounds(out, "elevation", box->axis[SLEW_ELEVATION]);
        fprintf(out, "}\n");
    }
}

static void write_layer(FILE *out, const slew_scenario *s, slew_layer_id id)
{
    const slew_layer *layer = slew_layer_at(s, id);
    if (layer->count == 0)
        return;
    fprintf(out, "%s:\n", slew_layer_word(id));
    for (int i = 0; i < layer->count; i++) {
        fprintf(out, "  ");
        write_value(out, layer->item[i].key, layer->item[i].value);
        fprintf(out, "\n");
    }
}

void random_write(FILE *out, const slew_scenario *s)
{
    fprintf(out, "format: 1\n");
    for (int key = 0; key < slew_key_count(); key++) {
        if (!is_said(s, key))
            continue;
        write_value(out, key, slew_scenario_get_number(s, key));
        fprintf(out, "\n");
    }
    write_boxes(out, &s->keepout);
    for (slew_layer_id id = SLEW_LAYER_TEACH; id <= SLEW_LAYER_DEPLOY_DAY; id++)
        write_layer(out, s, id);
}
