/* command.c - `slewtime keys`: which keys there are, with units, defaults and meaning. */
#include <stdlib.h>
#include <string.h>

#include "commands.h"
#include "line/exit_code.h"
#include "line/report.h"
#include "single/old_json.h"
#include "slewtime/slewtime.h"

/* ---- the range, from the words in which the library asks for a value ---- */

typedef struct answer {
    char expected[256];
} answer;

static void keep_expected(void *context, const slew_error *error)
{
    answer *kept = context;
    strcpy(kept->expected, error->expected);
}

/* "a length of 0 m or more" */
static void range_of(slew_scenario *scratch, const slew_key *key, answer *range)
{
    range->expected[0] = '\0';
    slew_scenario_set(scratch, SLEW_LAYER_FILE, key->path, "?",
                      (slew_error_sink){keep_expected, range});
    char *example = strstr(range->expected, "for example");
    if (example != NULL)
        *example = '\0';
    size_t length = strlen(range->expected);
    while (length > 0 && strchr(", ", range->expected[length - 1]) != NULL)
        range->expected[--length] = '\0';
}

/* ---- as a table ---- */

static bool is_wanted(const slew_key *key, const cli_options *options)
{
    const char *pattern = options->operand_count > 0 ? options->operand[0] : "";
    return strstr(key->path, pattern) != NULL || strstr(key->meaning, pattern) != NULL;
}

static void print_key(const slew_key *key, const answer *range)
{
    const char *unit = key->unit != NULL && key->unit[0] != '\0' ? key->unit : "-";
    printf("%-36s %-10s %s\n", key->path, unit,
           key->default_text != NULL ? key->default_text : "-");
    printf("    %s\n", key->meaning);
    if (range->expected[0] != '\0')
        printf("    %s, for example %s\n", range->expected, key->example);
    else
        printf("    for example %s\n", key->example);
}

static int print_table(const cli_options *options, slew_scenario *scratch)
{
    int count = 0;
    for (int i = 0; i < slew_key_count(); i++) {
        const slew_key *key = slew_key_at(i);
        answer range;
        if (!is_wanted(key, options))
            continue;
        if (count++ == 0)
            printf("%-36s %-10s %s\n\n", "key", "unit", "default");
        range_of(scratch, key, &range);
        print_key(key, &range);
    }
    if (count > 0)
        return CLI_OK;
    const cli_complaint complaint = {.expected = "a part of a path or of a meaning, as "
                                                 "slewtime keys feed"};
    return cli_complain(&complaint, "no key has \"%s\" in it", options->operand[0]);
}

/* ---- as JSON ---- */

static const char *kind_word(slew_key_kind kind)
{
    static const char *const words[] = {"number", "yes_no", "choice", "text", "list", "structure"};
    return words[kind];
}

static json_t *key_object(const slew_key *key, const answer *range)
{
    return json_pack("{s:s, s:s, s:o, s:o, s:o, s:o, s:o, s:o, s:b, s:b, s:o}", "path", key->path,
                     "kind", kind_word(key->kind), "quantity", cli_json_text(key->quantity), "unit",
                     cli_json_text(key->unit), "default", cli_json_text(key->default_text), "range",
                     cli_json_text(range->expected), "example", cli_json_text(key->example),
                     "words", cli_json_text(key->words), "required", (int)key->required, "layered",
                     (int)key->layered, "meaning", cli_json_text(key->meaning));
}

static int print_json(const cli_options *options, slew_scenario *scratch)
{
    json_t *keys = json_array();
    for (int i = 0; i < slew_key_count(); i++) {
        const slew_key *key = slew_key_at(i);
        answer range;
        if (!is_wanted(key, options))
            continue;
        range_of(scratch, key, &range);
        json_array_append_new(keys, key_object(key, &range));
    }
    return cli_json_print(json_pack("{s:s, s:o}", "slewtime", slew_version(), "keys", keys));
}

static int keys(const cli_options *options)
{
    slew_scenario *scratch = malloc(sizeof *scratch);
    if (scratch == NULL)
        return cli_no_memory();
    slew_scenario_init(scratch);
    int code = options->json ? print_json(options, scratch) : print_table(options, scratch);
    free(scratch);
    return code;
}

const cli_command cli_keys_command = {
    .name = "keys",
    .operands = "[PATTERN]",
    .least = 0,
    .most = 1,
    .options = CLI_BIT(CLI_JSON) | CLI_BIT(CLI_HELP),
    .summary = "which keys a scenario knows, with units, defaults and meaning",
    .about =
        "Lists the keys of the scenario file: path, unit, default, meaning, and what values are\n"
        "allowed. With a pattern, only those that have it in their path or meaning.\n",
    .examples = "Examples:\n"
                "  slewtime keys\n"
                "  slewtime keys supply.feed\n",
    .run = keys,
};
