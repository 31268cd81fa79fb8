/*
 * fmu.h - an FMU made by the tool and taken apart in the test's directory: its description as a
 * document, and its module loaded.
 */
#ifndef SLEW_TESTS_FMU_H
#define SLEW_TESTS_FMU_H

#include "tool.h"

#include <dlfcn.h>
#include <libxml/parser.h>
#include <libxml/xpath.h>
#include <math.h>
#include <zip.h>

#include "../near.h"
#include "fmu/module/fmi3.h"
#include "slewtime/slewtime.h"

/* ---- making and taking apart ---- */

static inline void make_fmu(const char *const *arguments)
{
    outcome o = run_tool(NULL, arguments);
    if (o.code != 0)
        fail_msg("exit code %d: %s", o.code, o.err);
    assert_string_equal(o.out, "");
    free_outcome(&o);
}

#define MAKE_FMU(...) make_fmu((const char *const[]){"fmu", __VA_ARGS__, NULL})

/* enters a directory with machine.fmu and plant.fmu of an example, whose path it tells */
static inline int make_both_fmus(void **state, char *example, size_t size)
{
    from_here("examples/daily.yaml", example, size);
    if (enter_directory(state) != 0)
        return -1;
    MAKE_FMU(example, "--out", "machine.fmu");
    MAKE_FMU(example, "--plant", "--out", "plant.fmu");
    return 0;
}

static inline void write_bytes(const char *path, const void *bytes, size_t length)
{
    FILE *out = fopen(path, "wb");
    assert_non_null(out);
    assert_int_equal(fwrite(bytes, 1, length, out), length);
    assert_int_equal(fclose(out), 0);
}

/* one file of the archive, under its last name */
static inline void take_out(const char *fmu, const char *name)
{
    const char *slash = strrchr(name, '/'), *last = slash != NULL ? slash + 1 : name;
    zip_stat_t about;
    zip_t *archive = zip_open(fmu, ZIP_RDONLY, NULL);
    assert_non_null(archive);
    if (zip_stat(archive, name, 0, &about) != 0)
        fail_msg("%s has no %s", fmu, name);
    char *bytes = malloc(about.size + 1);
    zip_file_t *file = zip_fopen(archive, name, 0);
    assert_true(bytes != NULL && file != NULL);
    assert_int_equal(zip_fread(file, bytes, about.size), about.size);
    zip_fclose(file);
    zip_close(archive);
    remove(last); /* a module that is loaded keeps its own */
    write_bytes(last, bytes, about.size);
    free(bytes);
}

/* The name in the archive of its one module, for whatever platform. */
static inline void find_module(const char *fmu, const char *identifier, char name[128])
{
    char end[64];
    int found = 0;
    zip_t *archive = zip_open(fmu, ZIP_RDONLY, NULL);
    assert_non_null(archive);
    snprintf(end, sizeof end, "-linux/%s.so", identifier);
    for (zip_int64_t i = 0; i < zip_get_num_entries(archive, 0); i++) {
        const char *own = zip_get_name(archive, (zip_uint64_t)i, 0);
        if (strncmp(own, "binaries/", 9) != 0)
            continue;
        assert_non_null(strstr(own, end));
        snprintf(name, 128, "%s", own);
        found++;
    }
    zip_discard(archive);
    assert_int_equal(found, 1);
}

/* ---- the description ---- */

typedef struct description {
    xmlDoc *document;
    xmlXPathContext *context;
} description;

static inline description read_description(void)
{
    description d = {.document = xmlReadFile("modelDescription.xml", NULL, 0)};
    assert_non_null(d.document);
    d.context = xmlXPathNewContext(d.document);
    assert_non_null(d.context);
    return d;
}

static inline void free_description(description *d)
{
    xmlXPathFreeContext(d->context);
    xmlFreeDoc(d->document);
}

/* a number or text of an XPath expression */
static inline double ask_number(const description *d, const char *path)
{
    xmlXPathObject *found = xmlXPathEvalExpression((const xmlChar *)path, d->context);
    if (found == NULL)
        fail_msg("%s is no path", path);
    double value = xmlXPathCastToNumber(found);
    xmlXPathFreeObject(found);
    return value;
}

static inline void ask_text(const description *d, const char *path, char *text, size_t size)
{
    xmlXPathObject *found = xmlXPathEvalExpression((const xmlChar *)path, d->context);
    if (found == NULL)
        fail_msg("%s is no path", path);
    xmlChar *own = xmlXPathCastToString(found);
    snprintf(text, size, "%s", (const char *)own);
    xmlFree(own);
    xmlXPathFreeObject(found);
}

static inline void says(const description *d, const char *path, const char *expected)
{
    char text[256];
    ask_text(d, path, text, sizeof text);
    if (strcmp(text, expected) != 0)
        fail_msg("%s is \"%s\", not \"%s\"", path, text, expected);
}

static inline fmi3ValueReference reference_of(const description *d, const char *name)
{
    char path[200];
    snprintf(path, sizeof path, "//ModelVariables/*[@name='%s']/@valueReference", name);
    double reference = ask_number(d, path);
    if (isnan(reference))
        fail_msg("there is no variable %s", name);
    return (fmi3ValueReference)reference;
}

/* ---- the module ---- */

/* the functions that the tests call, under their names without fmi3 */
#define FUNCTIONS(X)                                                                               \
    X(GetVersion)                                                                                  \
    X(SetDebugLogging)                                                                             \
    X(InstantiateModelExchange)                                                                    \
    X(InstantiateCoSimulation)                                                                     \
    X(FreeInstance)                                                                                \
    X(EnterInitializationMode)                                                                     \
    X(ExitInitializationMode)                                                                      \
    X(EnterEventMode)                                                                              \
    X(EnterStepMode)                                                                               \
    X(EnterConfigurationMode)                                                                      \
    X(Terminate)                                                                                   \
    X(Reset)                                                                                       \
    X(GetFloat64)                                                                                  \
    X(SetFloat64)                                                                                  \
    X(GetInt32)                                                                                    \
    X(SetInt32)                                                                                    \
    X(GetInt64)                                                                                    \
    X(SetInt64)                                                                                    \
    X(GetBoolean)                                                                                  \
    X(SetBoolean)                                                                                  \
    X(GetString)                                                                                   \
    X(GetFMUState)                                                                                 \
    X(SetFMUState)                                                                                 \
    X(FreeFMUState)                                                                                \
    X(SerializedFMUStateSize)                                                                      \
    X(SerializeFMUState)                                                                           \
    X(DeserializeFMUState)                                                                         \
    X(UpdateDiscreteStates)                                                                        \
    X(EvaluateDiscreteStates)                                                                      \
    X(SetTime)                                                                                     \
    X(DoStep)

typedef struct fmu {
    description description;
    char token[96], resources[600];
    void *module;
    char log[512]; /* the last message, with its category and status */
    char category[40];
    fmi3Status said;
#define FUNCTION(name) __typeof__(fmi3##name) *name;
    FUNCTIONS(FUNCTION)
#undef FUNCTION
} fmu;

static inline void load_fmu(const char *path, const char *identifier, fmu *f)
{
    char module[128], file[700];
    *f = (fmu){0};
    find_module(path, identifier, module);
    take_out(path, "modelDescription.xml");
    take_out(path, "resources/scenario.txt");
    take_out(path, module);
    f->description = read_description();
    ask_text(&f->description, "/*/@instantiationToken", f->token, sizeof f->token);
    assert_non_null(getcwd(f->resources, sizeof f->resources - 2));
    strcat(f->resources, "/");
    snprintf(file, sizeof file, "%s%s.so", f->resources, identifier);
    f->module = dlopen(file, RTLD_NOW | RTLD_LOCAL);
    if (f->module == NULL)
        fail_msg("%s", dlerror());
#define LOAD(name) *(void **)(void *)&f->name = dlsym(f->module, "fmi3" #name);
    FUNCTIONS(LOAD)
#undef LOAD
#define THERE(name) assert_non_null((void *)(uintptr_t)f->name);
    FUNCTIONS(THERE)
#undef THERE
}

static inline void unload_fmu(fmu *f)
{
    free_description(&f->description);
    dlclose(f->module);
}

static inline void keep_message(fmi3InstanceEnvironment environment, fmi3Status status,
                                fmi3String category, fmi3String message)
{
    fmu *f = environment;
    f->said = status;
    snprintf(f->category, sizeof f->category, "%s", category);
    snprintf(f->log, sizeof f->log, "%s", message);
}

static inline fmi3Instance begin_fmu(fmu *f, bool events, bool early)
{
    fmi3Instance instance = f->InstantiateCoSimulation(
        "one", f->token, f->resources, false, false, events, early, NULL, 0, f, keep_message, NULL);
    if (instance == NULL)
        fail_msg("%s", f->log);
    return instance;
}

static inline void is_ok(const fmu *f, fmi3Status status)
{
    if (status != fmi3OK)
        fail_msg("status %d: %s", (int)status, f->log);
}

static inline void is_refused(const fmu *f, fmi3Status status, const char *part)
{
    assert_int_equal(status, fmi3Error);
    has(f->log, part);
}

/* ---- values by name ---- */

#define BY_NAME(Type, type)                                                                        \
    static inline type get_##type(fmu *f, fmi3Instance instance, const char *name)                 \
    {                                                                                              \
        fmi3ValueReference reference = reference_of(&f->description, name);                        \
        fmi3##Type value = 0;                                                                      \
        is_ok(f, f->Get##Type(instance, &reference, 1, &value, 1));                                \
        return value;                                                                              \
    }                                                                                              \
                                                                                                   \
    static inline fmi3Status set_##type(fmu *f, fmi3Instance instance, const char *name,           \
                                        type value)                                                \
    {                                                                                              \
        fmi3ValueReference reference = reference_of(&f->description, name);                        \
        fmi3##Type own = value;                                                                    \
        return f->Set##Type(instance, &reference, 1, &own, 1);                                     \
    }

BY_NAME(Float64, double)
BY_NAME(Int32, int)
BY_NAME(Int64, int64_t)
BY_NAME(Boolean, bool)

/* ---- the order of calls ---- */

static inline void initialize(fmu *f, fmi3Instance instance)
{
    is_ok(f, f->EnterInitializationMode(instance, false, 0, 0, false, 0));
    is_ok(f, f->ExitInitializationMode(instance));
}

static inline void update(fmu *f, fmi3Instance instance)
{
    fmi3Boolean need, end, nominals, values, defined;
    fmi3Float64 next;
    is_ok(f, f->UpdateDiscreteStates(instance, &need, &end, &nominals, &values, &defined, &next));
    assert_false(need || end || nominals || values || defined);
}

typedef struct stepped {
    bool event, early;
    double time;
} stepped;

static inline stepped step(fmu *f, fmi3Instance instance, double from, double length)
{
    stepped s;
    fmi3Boolean event, end, early;
    is_ok(f, f->DoStep(instance, from, length, false, &event, &end, &early, &s.time));
    assert_false(end);
    s.event = event;
    s.early = early;
    return s;
}

#endif
