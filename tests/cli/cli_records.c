/* cli_records.c - a figure is told once: what a CSV calls it, JSON calls it too, and both have the
 * same value of it. */
#include "document.h"

#include <math.h>

enum { COLUMNS_MAX = 120, ROW_MAX = 8000, NAME_LENGTH = 160, RECORDS_MAX = 4000 };

/* ---- CSV ---- */

typedef struct row {
    int count;
    char text[ROW_MAX];
    const char *field[COLUMNS_MAX];
} row;

/* takes one line apart; returns what follows it */
static const char *read_row(const char *csv, row *r)
{
    char *out = r->text;
    r->count = 0;
    r->field[r->count++] = out;
    for (bool quoted = false; *csv != '\0' && (quoted || *csv != '\n'); csv++) {
        assert_true(out < r->text + ROW_MAX - 1 && r->count < COLUMNS_MAX);
        if (*csv == '"' && quoted && csv[1] == '"')
            *out++ = *csv++;
        else if (*csv == '"')
            quoted = !quoted;
        else if (*csv == ',' && !quoted) {
            *out++ = '\0';
            r->field[r->count++] = out;
        } else
            *out++ = *csv;
    }
    *out = '\0';
    return *csv == '\n' ? csv + 1 : csv;
}

/* ---- JSON ---- */

/* the value that a column of that name has in a record; NULL: the record has none. The share of a
 * record stands for it. */
static json_t *find(json_t *record, const char *name)
{
    const char *key;
    json_t *value;
    json_object_foreach(record, key, value)
    {
        size_t length = strlen(key);
        if (strcmp(key, name) == 0)
            return json_is_object(value) ? json_object_get(value, "share") : value;
        if (strncmp(key, name, length) != 0 || name[length] != '_')
            continue;
        json_t *inner = json_is_object(value) ? find(value, name + length + 1) : NULL;
        if (inner != NULL)
            return inner;
        if (json_is_null(value))
            return value; /* a record that is not there */
    }
    return NULL;
}

static bool is_same(json_t *value, const char *field)
{
    char *end;
    double number = strtod(field, &end);
    bool is_number = end != field && *end == '\0';
    if (json_is_null(value))
        return field[0] == '\0';
    if (json_is_boolean(value))
        return strcmp(field, json_is_true(value) ? "true" : "false") == 0;
    if (json_is_number(value))
        return is_number &&
               fabs(number - json_number_value(value)) <= 1e-11 * fabs(number) + 1e-300;
    return json_is_string(value) && strcmp(json_string_value(value), field) == 0;
}

/* every object of a document, the nested ones too */
typedef struct records {
    int count;
    json_t *record[RECORDS_MAX];
} records;

static void collect(json_t *value, records *all)
{
    const char *key;
    size_t index;
    json_t *inner;
    if (json_is_object(value)) {
        assert_true(all->count < RECORDS_MAX);
        all->record[all->count++] = value;
        json_object_foreach(value, key, inner) collect(inner, all);
    }
    json_array_foreach(value, index, inner) collect(inner, all);
}

/* ---- both ---- */

/* What a command is asked, the columns that only say which row it is, and whether each row is a
 * record of the document, too. */
typedef struct asked {
    const char *label;
    const char *arguments[16];
    const char *places; /* " side point_deg " */
    bool has_records;
} asked;

static bool is_place(const asked *a, const char *name)
{
    static const char provenance[] = " scenario samples seed points ";
    char word[NAME_LENGTH + 3];
    snprintf(word, sizeof word, " %s ", name);
    return strstr(a->places, word) != NULL || strstr(provenance, word) != NULL;
}

/* how many of the columns the record has, or goes without where the row is empty; negative: with
 * another value */
static int count_in(const asked *a, json_t *record, const row *names, const row *values)
{
    int found = 0;
    for (int c = 0; c < names->count; c++) {
        if (is_place(a, names->field[c]))
            continue;
        json_t *value = find(record, names->field[c]);
        if (value != NULL && !is_same(value, values->field[c]))
            return -1;
        found += value != NULL || values->field[c][0] == '\0';
    }
    return found;
}

static int columns_told(const asked *a, const row *names)
{
    int count = 0;
    for (int c = 0; c < names->count; c++)
        count += !is_place(a, names->field[c]);
    return count;
}

static void check_names(const asked *a, const records *all, const row *names)
{
    for (int c = 0; c < names->count; c++) {
        bool known = is_place(a, names->field[c]);
        for (int i = 0; i < all->count && !known; i++)
            known = find(all->record[i], names->field[c]) != NULL;
        if (!known)
            fail_msg("%s: JSON knows no %s", a->label, names->field[c]);
    }
}

static void check_row(const asked *a, const records *all, const row *names, const row *values)
{
    assert_int_equal(values->count, names->count);
    for (int i = 0; i < all->count; i++)
        if (count_in(a, all->record[i], names, values) == columns_told(a, names))
            return;
    fail_msg("%s: no record of the document is the row that begins with %s, %s", a->label,
             values->field[0], values->count > 1 ? values->field[1] : "");
}

static outcome ask(const asked *a, const char *form)
{
    const char *arguments[20];
    int count = 0;
    for (; a->arguments[count] != NULL; count++)
        arguments[count] = a->arguments[count];
    arguments[count++] = form;
    arguments[count] = NULL;
    outcome o = run_tool(NULL, arguments);
    if (o.code != 0)
        fail_msg("%s: exit code %d\n%s", a->label, o.code, o.err);
    return o;
}

static void check(const asked *a)
{
    static row names, values;
    static records all;
    outcome csv = ask(a, "--csv"), json = ask(a, "--json");
    json_t *document = json_loads(json.out, 0, NULL);
    assert_non_null(document);
    all.count = 0;
    collect(document, &all);
    const char *rest = read_row(csv.out, &names);
    check_names(a, &all, &names);
    int rows = 0;
    for (; *rest != '\0'; rows++) {
        rest = read_row(rest, &values);
        if (a->has_records)
            check_row(a, &all, &names, &values);
    }
    assert_true(rows > 0);
    json_decref(document);
    free_outcome(&csv);
    free_outcome(&json);
}

/* ---- the commands ---- */

static char root[512];

static int enter_from_root(void **state)
{
    if (getcwd(root, sizeof root) == NULL)
        return -1;
    return enter_directory(state);
}

/* examples/NAME of the project */
static const char *example(const char *name)
{
    static char path[4][1024];
    static int next;
    next = (next + 1) % 4;
    snprintf(path[next], sizeof path[next], "%s/examples/%s", root, name);
    return path[next];
}

static void margin(void **state)
{
    (void)state;
    check(&(asked){.label = "margin",
                   .arguments = {"margin", example("daily.yaml"), "--samples", "64"},
                   .places = " side point_deg ",
                   .has_records = true});
}

static void plan(void **state)
{
    (void)state;
    check(&(asked){.label = "plan",
                   .arguments = {"plan", example("daily.yaml"), "--samples", "64"},
                   .places = " rank ",
                   .has_records = true});
}

static void speed(void **state)
{
    (void)state;
    check(&(asked){.label = "speed",
                   .arguments = {"speed", example("daily.yaml")},
                   .places = " occasion axis direction level pressure_bar reaction_N ",
                   .has_records = true});
}

static void window(void **state)
{
    (void)state;
    check(&(asked){.label = "window",
                   .arguments = {"window", example("weak-magnet.yaml"), "--axis", "rotation"},
                   .places = " home_deg operate_deg release_deg ",
                   .has_records = true});
}

static void offset(void **state)
{
    (void)state;
    check(&(asked){.label = "offset",
                   .arguments = {"offset", example("daily.yaml"), "--samples", "64"},
                   .places = "",
                   .has_records = true});
}

/* a line tells its intervals and not its points, of which it tells how far the worst is off */
static void map_line(void **state)
{
    (void)state;
    check(&(asked){.label = "map",
                   .arguments = {"map", example("daily.yaml"), "--vary",
                                 "today.supply.main.voltage=9V:15V:10"},
                   .places = " today.supply.main.voltage_V off_deg "});
}

/* rows of lengths that no list of the document has */
static void feed(void **state)
{
    (void)state;
    check(&(asked){
        .label = "feed", .arguments = {"feed", example("daily.yaml")}, .places = " ladder "});
}

static void nozzle(void **state)
{
    (void)state;
    check(&(asked){.label = "nozzle", .arguments = {"nozzle"}, .places = "", .has_records = true});
    check(&(asked){.label = "nozzle of a truck",
                   .arguments = {"nozzle", example("reaction-arm.yaml"), "--tip", "2in", "--flow",
                                 "500gpm", "--pressure", "80psi"},
                   .places = "",
                   .has_records = true});
}

static void fit(void **state)
{
    (void)state;
    check(&(asked){.label = "fit",
                   .arguments = {"fit", example("daily.yaml"), example("stopwatch.csv"), "--key",
                                 "elevation.gear.efficiency"},
                   .places = " ",
                   .has_records = true});
    check(&(asked){.label = "card filled in",
                   .arguments = {"card", example("daily.yaml"), "--readings",
                                 example("daily-card.csv"), "--samples", "64"},
                   .places = " ",
                   .has_records = true});
}

/* a document has of a choice its word and of a number its range, and nothing where there is none */
static void causes(void **state)
{
    (void)state;
    check(&(asked){.label = "causes",
                   .arguments = {"causes", example("trouble-call.yaml"), "--samples", "16"},
                   .places = " cause observable "});
}

static void causes_ranked(void **state)
{
    (void)state;
    check(&(asked){.label = "causes --seen",
                   .arguments = {"causes", example("trouble-call.yaml"), "--samples", "16",
                                 "--seen", example("seen-falls-short.yaml")},
                   .places = " rank ",
                   .has_records = true});
}

/* events, of which only some have an energy, a fault or a keep-out box */
static void run(void **state)
{
    (void)state;
    check(&(asked){.label = "run",
                   .arguments = {"run", "truck.yaml", "--set", "stow.point.elevation=-19.7 deg",
                                 "--today", "supply.main.voltage=16.5 V"},
                   .places = "",
                   .has_records = true});
}

/* a row also has what differs in the input, and figures that follow from those of the document */
static void compare(void **state)
{
    (void)state;
    check(&(asked){.label = "compare",
                   .arguments = {"compare", example("daily.yaml"), "--beside", "weaker", "--today",
                                 "supply.main.voltage=12.8 V"},
                   .places = " today.supply.main.voltage floor_V keepouts_entered "
                             "stow_rotation_from_point_deg stow_rotation_from_stop_deg "
                             "stow_elevation_from_point_deg stow_elevation_from_stop_deg "
                             "deploy_rotation_from_target_deg deploy_elevation_from_target_deg ",
                   .has_records = true});
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(margin),  cmocka_unit_test(plan),          cmocka_unit_test(speed),
        cmocka_unit_test(window),  cmocka_unit_test(offset),        cmocka_unit_test(map_line),
        cmocka_unit_test(feed),    cmocka_unit_test(nozzle),        cmocka_unit_test(fit),
        cmocka_unit_test(causes),  cmocka_unit_test(causes_ranked), cmocka_unit_test(run),
        cmocka_unit_test(compare),
    };
    return cmocka_run_group_tests(tests, enter_from_root, leave_directory);
}
