/* read.c - a scenario from a file or from memory, and one key from a text. */
#include <stdlib.h>
#include <string.h>

#include "keys/fields.h"
#include "keys/text.h"
#include "scenario/check.h"
#include "scenario/document.h"

static const slew_reading NO_READING = {0};

/* ---- stages ---- */

/* a deploy that names no choices has the seconds alone */
static void fill_choices(slew_deploy *deploy)
{
    for (int axis = 0; axis < SLEW_AXES; axis++)
        if (deploy->given && deploy->choice_count[axis] == 0) {
            deploy->choice_count[axis] = 1;
            deploy->choices[axis][0] = deploy->seconds[axis];
        }
}

/* where a key, or the innermost group of a path that is there, was found: in the layer, in the
 * file, or wherever it is */
static slew_mark find_place(const slew_marks *marks, int in_layer, const char *path)
{
    int key = slew_key_find(path);
    if (key >= 0 && in_layer > 0 && in_layer < SLEW_LAYERS &&
        marks->key[in_layer][key].source != SLEW_FROM_NOWHERE)
        return marks->key[in_layer][key];
    for (int layer = 0; key >= 0 && layer < SLEW_LAYERS; layer++)
        if (marks->key[layer][key].source != SLEW_FROM_NOWHERE)
            return marks->key[layer][key];
    char group[SLEW_PATH_MAX];
    slew_say(group, sizeof group, "%s", path);
    for (char *end = group + strlen(group); end != NULL; end = strrchr(group, '.')) {
        *end = '\0';
        int first = slew_group_find(group);
        if (first >= 0 && marks->group[first][slew_path_depth(group)].source != SLEW_FROM_NOWHERE)
            return marks->group[first][slew_path_depth(group)];
    }
    return marks->root;
}

static void tell_given(const slew_marks *marks, bool *given)
{
    for (int key = 0; key < slew_key_count(); key++) {
        given[key] = false;
        for (int layer = 0; layer < SLEW_LAYERS; layer++)
            given[key] |= marks->key[layer][key].source != SLEW_FROM_NOWHERE;
    }
}

static void read_tree(slew_reader *reader, const slew_tree *tree, const slew_reading *reading,
                      slew_report *warnings)
{
    reader->of_spread = reading->spread_unused ? warnings : reader->errors;
    slew_checker checker = {.scenario = reader->scenario,
                            .marks = &reader->marks,
                            .errors = reader->errors,
                            .warnings = warnings,
                            .of_spread = reader->of_spread,
                            .unneeded = reading->unneeded};
    slew_reader_walk(reader, tree);
    for (size_t i = 0; i < reading->assignment_count; i++)
        slew_reader_assign(reader, &reading->assignments[i], i);
    fill_choices(&reader->scenario->deploy);
    slew_reader_complete_motors(reader, warnings);
    slew_check_all(&checker);
    if (reading->given != NULL)
        tell_given(&reader->marks, reading->given);
    if (reading->locate != NULL)
        slew_report_place(reader->errors->sources,
                          find_place(&reader->marks, reading->locate->layer, reading->locate->key),
                          reading->locate);
}

/* the tree is read before anything of the scenario, so that a broken file is one error */
static void read_text(slew_reader *reader, const slew_sources *sources, const slew_reading *reading,
                      slew_report *warnings)
{
    slew_tree tree = {0};
    if (slew_document_tree(sources, reader->errors, &tree))
        read_tree(reader, &tree, reading, warnings);
    slew_tree_free(&tree);
}

static slew_status finish(slew_report *errors, slew_report *warnings, const slew_reading *reading)
{
    slew_status doubts = slew_report_end(warnings, reading->warnings);
    slew_status status = slew_report_end(errors, reading->errors);
    return status != SLEW_OK ? status : doubts;
}

/* ---- from memory and from a file ---- */

slew_status slew_scenario_read_memory(const char *text, size_t length, const char *name,
                                      const slew_reading *reading, slew_scenario *out)
{
    if (text == NULL || out == NULL)
        return SLEW_ERROR_INPUT;
    const slew_reading *how = reading ? reading : &NO_READING;
    slew_sources sources = slew_document_sources(text, length, name);
    sources.assignment = how->assignments;
    slew_report errors = {.sources = &sources, .severity = SLEW_ERROR_INPUT};
    slew_report warnings = {.sources = &sources, .severity = SLEW_OK};
    slew_reader *reader = slew_reader_open(&errors);
    if (reader == NULL)
        return SLEW_ERROR_MEMORY;
    reader->scenario = out;
    slew_scenario_init(out);
    read_text(reader, &sources, how, &warnings);
    slew_reader_close(reader);
    return finish(&errors, &warnings, how);
}

slew_status slew_scenario_read_file(const char *path, const slew_reading *reading,
                                    slew_scenario *out)
{
    if (path == NULL || out == NULL)
        return SLEW_ERROR_INPUT;
    size_t length;
    char *text = NULL;
    slew_status status =
        slew_document_load(path, reading ? reading->errors : (slew_error_sink){0}, &text, &length);
    if (status == SLEW_OK)
        status = slew_scenario_read_memory(text, length, path, reading, out);
    free(text);
    return status;
}

/* ---- one key ---- */

slew_status slew_scenario_set(slew_scenario *scenario, slew_layer_id layer, const char *path,
                              const char *value, slew_error_sink errors)
{
    if (scenario == NULL || path == NULL || value == NULL ||
        (unsigned)layer > SLEW_LAYER_DEPLOY_DAY)
        return SLEW_ERROR_INPUT;
    slew_report report = {.severity = SLEW_ERROR_INPUT};
    slew_reader *reader = slew_reader_open(&report);
    const slew_mark nowhere = {0};
    if (reader == NULL)
        return SLEW_ERROR_MEMORY;
    reader->scenario = scenario;
    slew_reader_set_path(reader, layer, path, nowhere, value, nowhere);
    slew_reader_close(reader);
    return slew_report_end(&report, errors);
}
