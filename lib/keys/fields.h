/* fields.h - one key, one place in the scenario: putting and getting numbers, layer by layer. */
#ifndef SLEW_KEYS_FIELDS_H
#define SLEW_KEYS_FIELDS_H

#include "keys/keys.h"

/* true if the number may be kept in the layer at all: kind, `layered`, and room for it. */
bool slew_layer_takes(const slew_scenario *scenario, slew_layer_id layer, int key);

/* Puts a number (of a yes/no or choice key: see slew_override) into a layer. The range is not
 * looked at; NaN takes the place of a value that could not be read. A conductor size takes the
 * place of another size of the same layer. */
void slew_field_put(slew_scenario *scenario, slew_layer_id layer, int key, double value);

/* The number of a key in one occasion's setup; of a key that no layer may hold, the file's. */
double slew_field_get(const slew_scenario *scenario, const slew_setup *setup, int key);

/* slew_key_format with the conditions of `setup` in the place of the file's. */
int slew_key_print(const slew_scenario *scenario, const slew_setup *setup, int key, char *text,
                   size_t size);

/* Puts the list of deploy choices of an axis; at most SLEW_CHOICES_MAX count. */
void slew_field_put_choices(slew_scenario *scenario, int key, const double *value, int count);

/* Axis of a key of kind list. */
int slew_field_axis(int key);

/* The layers of an occasion on top of the file, lowest first; *count of them. */
const slew_layer_id *slew_occasion_layers(slew_occasion occasion, int *count);

#endif
