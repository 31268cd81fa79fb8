/* cli_schema.c - every answer in JSON is as `slewtime schema COMMAND` says, and every example of a
 * scenario as `slewtime schema scenario` does. After a figure is new or renamed: make schemas. */
#include "schema_valid.h"

#include <ctype.h>
#include <yaml.h>

static const char *const answering[] = {"run", "plan", "compare", "offset", "margin",
                                        "map", "feed", "speed",   "nozzle", "window",
                                        "fit", "card", "causes",  "check",  "keys"};
enum { ANSWERING = sizeof answering / sizeof *answering };

static char examples[600]; /* the folder */

static int enter(void **state)
{
    from_here("examples", examples, sizeof examples);
    return enter_directory(state);
}

static json_t *schema_of(const char *name)
{
    return document(TOOL("schema", name));
}

static void fits(const char *what, const json_t *schema, const json_t *value)
{
    judge j = judged(schema, value);
    if (j.why[0] != '\0')
        fail_msg("%s: %s", what, j.why);
}

/* ---- answers ---- */

static const char *example(char path[900], const char *name)
{
    snprintf(path, 900, "%s/%s", examples, name);
    return path;
}

static void every_command_with_json_has_one(void **state)
{
    (void)state;
    outcome all = TOOL("--help");
    for (const char *line = strstr(all.out, "Commands:\n") + 10; line[0] == ' ';
         line = strchr(line, '\n') + 1) {
        char name[32];
        sscanf(line, "%31s", name);
        if (!isalpha((unsigned char)name[0]) || strcmp(name, "help") == 0)
            continue;
        outcome help = TOOL("help", name), schema = TOOL("schema", name);
        bool answers = strstr(help.out, "\n  --json ") != NULL;
        bool listed = false;
        for (int i = 0; i < ANSWERING; i++)
            listed |= strcmp(answering[i], name) == 0;
        if (answers != (schema.code == 0) || answers != listed)
            fail_msg("%s: --json, its schema and this test differ", name);
        free_outcome(&help);
        free_outcome(&schema);
    }
    free_outcome(&all);
}

/* with what the command needs besides the scenario */
static outcome answer(const char *command, const char *scenario)
{
    char times[900];
    if (strcmp(command, "keys") == 0)
        return TOOL("keys", "--json");
    if (strcmp(command, "compare") == 0)
        return TOOL(command, scenario, "--beside", "weak", "--today", "supply.main.voltage=11.4 V",
                    "--json");
    if (strcmp(command, "map") == 0)
        return TOOL(command, scenario, "--vary", "today.supply.main.voltage=9V:15V:6", "--vary",
                    "stow.point.elevation=-16deg:-8deg:3", "--json");
    if (strcmp(command, "fit") == 0)
        return TOOL(command, scenario, example(times, "story-times.csv"), "--key",
                    "elevation.motor.no_load_speed", "--json");
    if (strcmp(command, "feed") == 0 || strcmp(command, "speed") == 0 ||
        strcmp(command, "window") == 0 || strcmp(command, "nozzle") == 0 ||
        strcmp(command, "run") == 0 || strcmp(command, "check") == 0)
        return TOOL(command, scenario, "--json");
    return TOOL(command, scenario, "--samples", "32", "--json");
}

/* an example may be none for a command: it is then refused with code 2 and a reason */
static void every_answer_is_as_its_schema_says(void **state)
{
    (void)state;
    static const char *const names[] = {"daily.yaml",        "story.yaml",
                                        "trouble-call.yaml", "foam-trailer-auxiliary.yaml",
                                        "weak-magnet.yaml",  "sheet-24v.yaml"};
    for (int c = 0; c < ANSWERING; c++) {
        int answered = 0;
        json_t *schema = schema_of(answering[c]);
        for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
            char scenario[900];
            outcome o = answer(answering[c], example(scenario, names[i]));
            if (o.code == 0) {
                json_t *whole = json_of(&o);
                fits(answering[c], schema, whole);
                json_decref(whole);
                answered++;
            } else
                assert_int_equal(o.code, 2);
            free_outcome(&o);
        }
        if (answered < 2)
            fail_msg("%s answered only %d examples", answering[c], answered);
        json_decref(schema);
    }
}

static void a_member_more_or_less_is_found(void **state)
{
    (void)state;
    json_t *schema = schema_of("margin");
    json_t *whole = document(TOOL("margin", "truck.yaml", "--samples", "10", "--spread",
                                  "supply.main.voltage=uniform 12 V..14 V", "--json"));
    fits("margin", schema, whole);
    json_object_set_new(whole, "unheard_of", json_null());
    assert_string_not_equal(judged(schema, whole).why, "");
    json_object_del(whole, "unheard_of");
    json_object_set_new(whole, "title", json_integer(3));
    assert_string_not_equal(judged(schema, whole).why, "");
    json_object_del(whole, "title");
    has(judged(schema, whole).why, "lacks title");
    json_decref(whole);
    json_decref(schema);
}

static void other_names_are_refused(void **state)
{
    (void)state;
    REFUSES(2, SAYS("there is none of that", "did you mean", "scenario"), "schema", "scenaro");
    REFUSES(2, SAYS("there is none of that"), "schema", "page");
}

/* ---- scenarios ---- */

/* a plain scalar as YAML 1.2 has it: a number is one by its letters */
static json_t *scalar(const yaml_node_t *node)
{
    const char *text = (const char *)node->data.scalar.value;
    char *end;
    double number = strtod(text, &end);
    if (strcmp(text, "true") == 0 || strcmp(text, "false") == 0)
        return json_boolean(text[0] == 't');
    if (node->data.scalar.style == YAML_PLAIN_SCALAR_STYLE && text[0] != '\0' && *end == '\0')
        return json_real(number);
    return json_string(text);
}

static json_t *node_as_json(yaml_document_t *yaml, int index)
{
    const yaml_node_t *node = yaml_document_get_node(yaml, index);
    if (node->type == YAML_SCALAR_NODE)
        return scalar(node);
    json_t *whole = node->type == YAML_MAPPING_NODE ? json_object() : json_array();
    if (node->type == YAML_MAPPING_NODE)
        for (yaml_node_pair_t *p = node->data.mapping.pairs.start; p < node->data.mapping.pairs.top;
             p++)
            json_object_set_new(
                whole, (const char *)yaml_document_get_node(yaml, p->key)->data.scalar.value,
                node_as_json(yaml, p->value));
    else
        for (yaml_node_item_t *i = node->data.sequence.items.start;
             i < node->data.sequence.items.top; i++)
            json_array_append_new(whole, node_as_json(yaml, *i));
    return whole;
}

static json_t *yaml_as_json(const char *text)
{
    yaml_parser_t parser;
    yaml_document_t yaml;
    assert_int_equal(yaml_parser_initialize(&parser), 1);
    yaml_parser_set_input_string(&parser, (const unsigned char *)text, strlen(text));
    assert_int_equal(yaml_parser_load(&parser, &yaml), 1);
    json_t *whole = node_as_json(&yaml, 1);
    yaml_document_delete(&yaml);
    yaml_parser_delete(&parser);
    return whole;
}

static void every_example_is_a_scenario(void **state)
{
    (void)state;
    int count = 0;
    json_t *schema = schema_of("scenario");
    DIR *folder = opendir(examples);
    assert_non_null(folder);
    for (struct dirent *entry; (entry = readdir(folder)) != NULL;) {
        char path[900];
        if (strstr(entry->d_name, ".yaml") == NULL || strncmp(entry->d_name, "seen-", 5) == 0)
            continue;
        FILE *file = fopen(example(path, entry->d_name), "r");
        assert_non_null(file);
        char *text = take_all(file);
        json_t *whole = yaml_as_json(text);
        fits(entry->d_name, schema, whole);
        json_decref(whole);
        free(text);
        count++;
    }
    closedir(folder);
    json_decref(schema);
    assert_true(count > 15);
}

static void says(const json_t *schema, const char *yaml, const char *why)
{
    json_t *whole = yaml_as_json(yaml);
    judge j = judged(schema, whole);
    if (why == NULL)
        assert_string_equal(j.why, "");
    else
        has(j.why, why);
    json_decref(whole);
}

/* what the tool takes passes, and what an editor can know to be wrong does not */
static void what_is_wrong_in_a_scenario_is_seen(void **state)
{
    (void)state;
    json_t *schema = schema_of("scenario");
    says(schema, "supply: {feed.length: 9 m, feed: {gauge: 8}}\nsupply.floor: 11 V\n", NULL);
    says(schema, "today: {supply.feed: {joints: 3}, rotation: {reversed: true}}\n", NULL);
    says(schema, "rotation: {gear: {ratio: \"900:1\", efficiency: 0.36}}\n", NULL);
    says(schema, "spread: {day: {supply.main: {voltage: {values: [11 V, 12 V]}}}}\n", NULL);
    says(schema, "suply: {}\n", "/suply: does not belong there");
    says(schema, "supply: {feed: {lenght: 9 m}}\n", "/supply/feed/lenght: does not belong there");
    says(schema, "supply: {feed: {length: 9}}\n", "/supply/feed/length: is of another type");
    says(schema, "rotation: {approach: sideways}\n", "is none of the words");
    says(schema, "rotation: {gear: {ratio: -3}}\n", "is out of range");
    says(schema, "today: {stow.point.rotaton: 3 deg}\n", "does not belong there");
    says(schema, "keepout: [{elevation: {low: 3 deg}}]\n", "lacks high");
    says(schema, "spread: {day: {rotation.start: {normal: {mean: 3 deg}}}}\n", "lacks sd");
    json_decref(schema);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_command_with_json_has_one),
        cmocka_unit_test(every_answer_is_as_its_schema_says),
        cmocka_unit_test(a_member_more_or_less_is_found),
        cmocka_unit_test(other_names_are_refused),
        cmocka_unit_test(every_example_is_a_scenario),
        cmocka_unit_test(what_is_wrong_in_a_scenario_is_seen),
    };
    return cmocka_run_group_tests(tests, enter, leave_directory);
}
