/*
 * record.c - writes the schemas of the answers, cli/schema/COMMAND.json; `make schemas` runs it.
 *
 *     sh tests/golden/asks.sh | record FOLDER
 *
 * Every answer in JSON among those asked is worked out here by the tool's own parts. In place of
 * json.c stands this file: it listens to the same teller, and keeps of each figure its name and its
 * kinds instead of its value, merged over all answers. A member that all of them have is required;
 * a figure or a text may always be absent as a value. A name with a point in it is the path of a
 * key, not a member's name.
 */
#include <jansson.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "commands.h"
#include "frame/perform.h"
#include "line/exit_code.h"
#include "tell/json.h"

enum { DEPTH_MAX = 16, WORDS_MAX = 64, LINE_SIZE = 4096, DEFINITIONS_MAX = 2000 };

enum { NUMBER = 1, INTEGER = 2, BOOLEAN = 4, TEXT = 8, OBJECT = 16, ARRAY = 32, NOTHING = 64 };
static const char *const kind_words[] = {"number", "integer", "boolean", "string",
                                         "object", "array",   "null"};

typedef struct shape {
    char name[96];
    unsigned kinds;
    int told;                   /* how often */
    int objects;                /* how often as an object */
    struct shape *first, *next; /* its members, or the one that stands for all items of a list */
} shape;

typedef struct recorder {
    shape *open[DEPTH_MAX];
    int depth, absent;
} recorder;

static shape *command_shape; /* of the command that is asked */

/* ---- listening ---- */

static shape *add(recorder *r, const char *name, unsigned kinds)
{
    shape *place = r->open[r->depth];
    const char *wanted = name == NULL ? "" : strchr(name, '.') != NULL ? "." : name;
    shape **at = &place->first;
    while (*at != NULL && strcmp((*at)->name, wanted) != 0)
        at = &(*at)->next;
    if (*at == NULL) {
        *at = calloc(1, sizeof **at);
        if (*at == NULL)
            abort();
        snprintf((*at)->name, sizeof(*at)->name, "%s", wanted);
    }
    (*at)->kinds |= kinds;
    (*at)->told++;
    return *at;
}

static void open(void *context, const char *name, bool is_list, bool is_there)
{
    recorder *r = context;
    if (r->absent > 0 || !is_there) {
        if (r->absent++ == 0)
            add(r, name, NOTHING);
        return;
    }
    shape *inner = add(r, name, is_list ? ARRAY : OBJECT);
    inner->objects += !is_list;
    if (r->depth + 1 >= DEPTH_MAX)
        abort();
    r->open[++r->depth] = inner;
}

static void close(void *context)
{
    recorder *r = context;
    if (r->absent > 0)
        r->absent--;
    else
        r->depth--;
}

static void number(void *context, const char *name, double value)
{
    (void)value;
    add(context, name, NUMBER | NOTHING);
}

static void integer(void *context, const char *name, int64_t value)
{
    (void)value;
    add(context, name, INTEGER);
}

static void boolean(void *context, const char *name, bool value)
{
    (void)value;
    add(context, name, BOOLEAN);
}

static void text(void *context, const char *name, const char *value)
{
    (void)value;
    add(context, name, TEXT | NOTHING);
}

int cli_json_write(cli_record *record, const void *what)
{
    static const cli_listener listener = {open, close, number, integer, boolean, text, NULL};
    recorder r = {.open[0] = command_shape};
    cli_teller teller = {.listener = &listener, .context = &r, .in_full = true};
    command_shape->objects++;
    command_shape->kinds = OBJECT;
    record(&teller, what);
    return CLI_OK;
}

char *cli_json_line(cli_record *record, const void *what)
{
    (void)record, (void)what;
    return NULL;
}

/* ---- writing ---- */

/* the unit that a figure's name ends in */
static const char *unit_of(const shape *figure)
{
    static const char *const units[][2] = {
        {"_deg_per_s", "degrees per second"},
        {"_L_per_min", "liters per minute"},
        {"_ohm_per_km", "ohms per kilometer"},
        {"_deg", "degrees"},
        {"_s", "seconds"},
        {"_V", "volts"},
        {"_A", "amperes"},
        {"_As", "ampere seconds"},
        {"_J", "joules"},
        {"_N", "newtons"},
        {"_Nm", "newton meters"},
        {"_T", "teslas"},
        {"_mT", "milliteslas"},
        {"_bar", "bar"},
        {"_psi", "pounds per square inch"},
        {"_gpm", "US gallons per minute"},
        {"_lbf", "pounds of force"},
        {"_degC", "degrees Celsius"},
        {"_m", "meters"},
        {"_mm", "millimeters"},
        {"_mm2", "square millimeters"},
        {"_in", "inches"},
        {"_ohm", "ohms"},
        {"_mohm", "milliohms"},
        {"_percent", "percent"},
    };
    size_t length = strlen(figure->name);
    for (size_t i = 0; i < sizeof units / sizeof *units && (figure->kinds & NUMBER) != 0; i++) {
        size_t end = strlen(units[i][0]);
        if (length > end && strcmp(figure->name + length - end, units[i][0]) == 0)
            return units[i][1];
    }
    return NULL;
}

static json_t *types(unsigned kinds)
{
    json_t *list = json_array();
    for (int i = 0; kinds >> i != 0; i++)
        if ((kinds >> i & 1) != 0)
            json_array_append_new(list, json_string(kind_words[i]));
    if (json_array_size(list) != 1)
        return list;
    json_t *only = json_incref(json_array_get(list, 0));
    json_decref(list);
    return only;
}

/* ---- what stands more than once is defined once ---- */

typedef struct definition {
    char name[96], *text;
    json_t *schema;
    int uses;
} definition;

static definition definitions[DEFINITIONS_MAX];
static int definition_count;

static void name_definition(definition *d, const char *member)
{
    const char *plain = member[0] == '\0' ? "item" : member[0] == '.' ? "key" : member;
    int number = 1;
    snprintf(d->name, sizeof d->name, "%s", plain);
    for (int i = 0; i < definition_count; i++)
        if (strcmp(definitions[i].name, d->name) == 0) {
            snprintf(d->name, sizeof d->name, "%.80s_%d", plain, ++number);
            i = -1;
        }
}

/* A reference to the definition of such an object, which takes the schema over. */
static json_t *defined(json_t *schema, const char *member)
{
    char *text = json_dumps(schema, JSON_COMPACT);
    int i = 0;
    while (i < definition_count && strcmp(definitions[i].text, text) != 0)
        i++;
    if (i == definition_count) {
        if (i == DEFINITIONS_MAX)
            abort();
        definitions[i] = (definition){.text = text, .schema = schema};
        name_definition(&definitions[i], member);
        definition_count++;
    } else {
        free(text);
        json_decref(schema);
    }
    definitions[i].uses++;
    return json_pack("{s:o}", "$ref", json_sprintf("#/$defs/%s", definitions[i].name));
}

static const definition *referred(const json_t *schema)
{
    const char *reference = json_string_value(json_object_get(schema, "$ref"));
    for (int i = 0; reference != NULL && i < definition_count; i++)
        if (strcmp(definitions[i].name, reference + strlen("#/$defs/")) == 0)
            return &definitions[i];
    return NULL;
}

/* puts in place what is used once */
static void put_in_place(json_t *schema)
{
    const definition *d = referred(schema);
    if (d != NULL && d->uses == 1) {
        json_object_clear(schema);
        json_object_update(schema, d->schema);
    }
    const char *name;
    json_t *inner;
    json_object_foreach(schema, name, inner) put_in_place(inner);
}

static void add_definitions(json_t *schema)
{
    json_t *all = json_object();
    put_in_place(schema);
    for (int i = 0; i < definition_count; i++) {
        put_in_place(definitions[i].schema);
        if (definitions[i].uses > 1)
            json_object_set(all, definitions[i].name, definitions[i].schema);
    }
    if (json_object_size(all) > 0)
        json_object_set(schema, "$defs", all);
    json_decref(all);
    for (; definition_count > 0; definition_count--) {
        free(definitions[definition_count - 1].text);
        json_decref(definitions[definition_count - 1].schema);
    }
}

/* ---- shapes as schemas ---- */

static void describe(json_t *schema, const shape *s);

static json_t *described(const shape *s)
{
    json_t *schema = json_object();
    describe(schema, s);
    return (s->kinds & OBJECT) != 0 ? defined(schema, s->name) : schema;
}

static void describe_members(json_t *schema, const shape *s)
{
    json_t *members = json_object(), *required = json_array();
    for (const shape *m = s->first; m != NULL; m = m->next) {
        if (strcmp(m->name, ".") == 0) {
            json_object_set_new(schema, "patternProperties",
                                json_pack("{s:o}", "^[a-z0-9_]+(\\.[a-z0-9_]+)+$", described(m)));
            continue;
        }
        json_object_set_new(members, m->name, described(m));
        if (m->told == s->objects)
            json_array_append_new(required, json_string(m->name));
    }
    json_object_set_new(schema, "properties", members);
    json_object_set_new(schema, "required", required);
    json_object_set_new(schema, "additionalProperties", json_false());
}

static void describe(json_t *schema, const shape *s)
{
    if (unit_of(s) != NULL)
        json_object_set_new(schema, "description", json_sprintf("in %s", unit_of(s)));
    if (s->kinds != NOTHING) /* null in all of them: what else it may be is not known */
        json_object_set_new(schema, "type", types(s->kinds));
    if ((s->kinds & OBJECT) != 0)
        describe_members(schema, s);
    if ((s->kinds & ARRAY) == 0)
        return;
    if (s->first == NULL)
        fprintf(stderr, "record: no answer has an item in %s\n", s->name);
    else
        json_object_set_new(schema, "items", described(s->first));
}

static int write_schema(const char *folder, const cli_command *command, const shape *s)
{
    char path[LINE_SIZE];
    snprintf(path, sizeof path, "%s/%s.json", folder, command->name);
    json_t *schema = json_object();
    json_object_set_new(schema, "$schema",
                        json_string("https://json-schema.org/draft/2020-12/schema"));
    json_object_set_new(schema, "title", json_sprintf("slewtime %s --json", command->name));
    json_object_set_new(schema, "description",
                        json_sprintf("slewtime %s: %s", command->name, command->summary));
    describe(schema, s);
    add_definitions(schema);
    FILE *file = fopen(path, "w");
    int failed =
        file == NULL || json_dumpf(schema, file, JSON_INDENT(1)) != 0 || fputc('\n', file) == EOF;
    if (file != NULL && fclose(file) != 0)
        failed = 1;
    json_decref(schema);
    return failed;
}

/* ---- asking ---- */

#define COMMAND(name) &cli_##name##_command,
static const cli_command *const commands[] = {CLI_COMMANDS(COMMAND)};

enum { COMMAND_COUNT = sizeof commands / sizeof *commands };

static shape shapes[COMMAND_COUNT];

/* a line: NAME<tab>COMMAND<tab>ARGUMENT... */
static void ask(char *line)
{
    char *words[WORDS_MAX];
    int count = 0;
    for (char *word = strtok(line, "\t\n"); word != NULL && count < WORDS_MAX;
         word = strtok(NULL, "\t\n"))
        words[count++] = word;
    if (count < 3 || strcmp(words[count - 1], "--json") != 0)
        return;
    for (int i = 0; i < COMMAND_COUNT; i++)
        if (strcmp(commands[i]->name, words[1]) == 0) {
            command_shape = &shapes[i];
            cli_perform(commands[i], count - 2, words + 2);
        }
}

int main(int argc, char **argv)
{
    char line[LINE_SIZE];
    if (argc != 2)
        return 2;
    while (fgets(line, sizeof line, stdin) != NULL)
        ask(line);
    for (int i = 0; i < COMMAND_COUNT; i++)
        if (shapes[i].objects > 0 && write_schema(argv[1], commands[i], &shapes[i]) != 0)
            return 3;
    return 0;
}
