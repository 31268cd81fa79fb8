/* command.c - `slewtime keys`: which keys there are, with units, defaults and meaning. */
#include <string.h>

#include "commands.h"
#include "frame/frame.h"
#include "line/exit_code.h"
#include "line/report.h"
#include "slewtime/slewtime.h"
#include "tell/key_range.h"
#include "tell/table.h"

typedef struct keys {
    const char *pattern; /* in the path or meaning of those that are wanted */
    cli_key_trial *trial;
} keys;

static bool is_wanted(const keys *k, const slew_key *key)
{
    return strstr(key->path, k->pattern) != NULL || strstr(key->meaning, k->pattern) != NULL;
}

/* ---- as text ---- */

static void print_key(cli_table *table, const keys *k, const slew_key *key)
{
    const char *unit = key->unit != NULL && key->unit[0] != '\0' ? key->unit : "-";
    char range[CLI_RANGE_MAX];
    cli_key_range(k->trial, key, range);
    cli_table_text(table, "key", "%-36s ", key->path);
    cli_table_text(table, "unit", "%-10s ", unit);
    cli_table_text(table, "default", "%s", key->default_text != NULL ? key->default_text : "-");
    cli_table_end_row(table);
    printf("    %s\n", key->meaning);
    printf("    %s%sfor example %s\n", range, range[0] != '\0' ? ", " : "", key->example);
}

static void print_keys(const void *what)
{
    cli_table table = {.heads = 2}; /* the second is a blank line */
    for (int i = 0; i < slew_key_count(); i++)
        if (is_wanted(what, slew_key_at(i)))
            print_key(&table, what, slew_key_at(i));
}

/* ---- as JSON ---- */

static void tell_key(cli_teller *t, const keys *k, const slew_key *key)
{
    static const char *const kinds[] = {"number", "yes_no", "choice", "text", "list", "structure"};
    char range[CLI_RANGE_MAX];
    cli_key_range(k->trial, key, range);
    cli_tell_open(t, NULL);
    cli_tell_text(t, "path", key->path);
    cli_tell_text(t, "kind", kinds[key->kind]);
    cli_tell_text(t, "quantity", key->quantity);
    cli_tell_text(t, "unit", key->unit);
    cli_tell_text(t, "default", key->default_text);
    cli_tell_text(t, "range", range);
    cli_tell_text(t, "example", key->example);
    cli_tell_text(t, "words", key->words);
    cli_tell_boolean(t, "required", key->required);
    cli_tell_boolean(t, "layered", key->layered);
    cli_tell_text(t, "meaning", key->meaning);
    cli_tell_close(t);
}

static void tell_keys(cli_teller *t, const void *what)
{
    cli_tell_text(t, "slewtime", slew_version());
    cli_tell_open_list(t, "keys");
    for (int i = 0; i < slew_key_count(); i++)
        if (is_wanted(what, slew_key_at(i)))
            tell_key(t, what, slew_key_at(i));
    cli_tell_close(t);
}

/* ---- the command ---- */

static int count_wanted(const keys *k)
{
    int count = 0;
    for (int i = 0; i < slew_key_count(); i++)
        count += is_wanted(k, slew_key_at(i));
    return count;
}

static int tell(const cli_options *options, const keys *k)
{
    const cli_complaint complaint = {.expected = "a part of a path or of a meaning, as "
                                                 "slewtime keys feed"};
    if (!options->json && count_wanted(k) == 0)
        return cli_complain(&complaint, "no key has \"%s\" in it", k->pattern);
    return cli_frame_tell(options,
                          &(cli_frame){.what = k, .text = print_keys, .document = tell_keys});
}

static int run(const cli_options *options)
{
    const keys k = {options->operand_count > 0 ? options->operand[0] : "", cli_key_trial_new()};
    return k.trial != NULL ? cli_key_trial_end(k.trial, tell(options, &k)) : cli_no_memory();
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
    .run = run,
};
