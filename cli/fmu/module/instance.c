/* instance.c - instances begin, end, and say what is wrong. */
#include "instance.h"

#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

/* ---- words to the importer ---- */

fmi3Status fmu_say(const fmu_instance *instance, fmi3Status status, const char *format, ...)
{
    char text[640];
    va_list arguments;
    int category = status == fmi3Warning ? FMU_SAYS_WARNING : FMU_SAYS_ERROR;
    if (instance->log == NULL || !instance->logs[category])
        return status;
    va_start(arguments, format);
    vsnprintf(text, sizeof text, format, arguments);
    va_end(arguments);
    instance->log(instance->environment, status, fmu_categories[category].name, text);
    return status;
}

static const char *mode_word(fmu_mode mode)
{
    return mode == FMU_INSTANTIATED     ? "Instantiated"
           : mode == FMU_INITIALIZATION ? "Initialization Mode"
           : mode == FMU_EVENT_MODE     ? "Event Mode"
           : mode == FMU_STEP_MODE      ? "Step Mode"
                                        : "Terminated";
}

bool fmu_may(const fmu_instance *instance, unsigned modes, const char *call)
{
    if (instance == NULL)
        return false;
    if (instance->now.v.mode & modes)
        return true;
    fmu_say(instance, fmi3Error, "%s: not allowed in %s", call, mode_word(instance->now.v.mode));
    return false;
}

/* ---- beginning ---- */

static bool read_scenario(fmu_instance *instance, const char *folder)
{
    char path[4096];
    size_t length = strlen(folder);
    const char *slash = length > 0 && folder[length - 1] != '/' ? "/" : "";
    if (snprintf(path, sizeof path, "%s%s%s", folder, slash, FMU_NUMBERS_FILE) >= (int)sizeof path)
        return false;
    FILE *file = fopen(path, "r");
    bool good = file != NULL && fmu_numbers_read(file, &instance->scenario, &instance->kind);
    if (file != NULL)
        fclose(file);
    if (!good)
        fmu_say(instance, fmi3Error, "%s is not there, or not of this version of slewtime", path);
    return good;
}

static bool is_its_own(fmu_instance *instance, const char *token)
{
    fmu_token(&instance->scenario, instance->kind, instance->token);
    bool own = token != NULL && strcmp(token, instance->token) == 0;
    if (!own)
        fmu_say(instance, fmi3Error, "instantiationToken %s is of another FMU, not %s",
                token != NULL ? token : "(none)", instance->token);
    return own;
}

static void set_first(fmu_instance *instance)
{
    fmu_values *v = &instance->first.v;
    v->mode = FMU_INSTANTIATED;
    v->last_event = -1;
    for (int i = 0; i < FMU_KEYS_MAX; i++)
        v->key[i] = v->taught[i] = v->used[i] = 0;
    for (int i = 0; i < instance->variables.count; i++) {
        const fmu_variable *own = &instance->variables.item[i];
        if (own->key != FMU_NO_KEY)
            (own->layer == SLEW_LAYER_TEACH ? v->taught : v->key)[own->key] = own->start;
    }
    instance->now = instance->first;
}

fmi3Instance fmi3InstantiateCoSimulation(
    fmi3String instanceName, fmi3String instantiationToken, fmi3String resourcePath,
    fmi3Boolean visible, fmi3Boolean loggingOn, fmi3Boolean eventModeUsed,
    fmi3Boolean earlyReturnAllowed, const fmi3ValueReference requiredIntermediateVariables[],
    size_t nRequiredIntermediateVariables, fmi3InstanceEnvironment instanceEnvironment,
    fmi3LogMessageCallback logMessage, fmi3IntermediateUpdateCallback intermediateUpdate)
{
    /* there is no intermediate update (4.2.2): whatever is required of it is never asked for */
    (void)visible, (void)requiredIntermediateVariables, (void)nRequiredIntermediateVariables;
    (void)intermediateUpdate;
    fmu_instance *instance = calloc(1, sizeof *instance);
    if (instance == NULL)
        return NULL;
    *instance = (fmu_instance){
        .environment = instanceEnvironment,
        .log = logMessage,
        .logs = {[FMU_SAYS_ERROR] = true, [FMU_SAYS_WARNING] = true, [FMU_SAYS_EVENT] = loggingOn},
        .event_mode_used = eventModeUsed,
        .early_return_allowed = earlyReturnAllowed};
    bool good = instanceName != NULL && instanceName[0] != '\0' && resourcePath != NULL;
    if (!good)
        fmu_say(instance, fmi3Error, "an instance needs a name and the path of the resources");
    if (good && read_scenario(instance, resourcePath) && is_its_own(instance, instantiationToken)) {
        fmu_variables_list(&instance->scenario, instance->kind, &instance->variables);
        set_first(instance);
        return instance;
    }
    free(instance);
    return NULL;
}

/* ---- ending ---- */

void fmi3FreeInstance(fmi3Instance instance)
{
    free(instance);
}

fmi3Status fmi3Reset(fmi3Instance instance)
{
    fmu_instance *own = instance;
    if (!fmu_may(own, FMU_ANY_MODE, "fmi3Reset"))
        return fmi3Error;
    own->now = own->first;
    own->has_seen = false;
    return fmi3OK;
}

/* ---- version, logging ---- */

const char *fmi3GetVersion(void)
{
    return "3.0";
}

/* FMU_CATEGORIES: there is none of that name */
static int category_of(const char *name)
{
    int c = 0;
    while (c < FMU_CATEGORIES && (name == NULL || strcmp(name, fmu_categories[c].name) != 0))
        c++;
    return c;
}

fmi3Status fmi3SetDebugLogging(fmi3Instance instance, fmi3Boolean loggingOn, size_t nCategories,
                               const fmi3String categories[])
{
    fmu_instance *own = instance;
    if (!fmu_may(own, FMU_ANY_MODE, "fmi3SetDebugLogging") ||
        (nCategories > 0 && categories == NULL))
        return fmi3Error;
    bool chosen[FMU_CATEGORIES];
    for (int c = 0; c < FMU_CATEGORIES; c++)
        chosen[c] = nCategories == 0;
    for (size_t i = 0; i < nCategories; i++) {
        int c = category_of(categories[i]);
        if (c == FMU_CATEGORIES)
            return fmu_say(own, fmi3Error, "fmi3SetDebugLogging: there is no category %s",
                           categories[i] != NULL ? categories[i] : "(none)");
        chosen[c] = true;
    }
    for (int c = 0; c < FMU_CATEGORIES; c++)
        if (chosen[c])
            own->logs[c] = loggingOn;
    return fmi3OK;
}
