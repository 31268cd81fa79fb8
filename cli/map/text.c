/* text.c - the answer of `slewtime map` as text. */
#include <inttypes.h>
#include <math.h>

#include <string.h>

#include "answer.h"
#include "single/reason.h"
#include "tell/caution.h"
#include "tell/table.h"
#include "tell/units.h"
#include "tell/utf8.h"

/* the keys, at the end */
static void print_varied(const cli_map *a)
{
    for (int i = 0; i < a->count; i++) {
        char name[CLI_VARY_NAME_MAX];
        const slew_vary *v = &a->vary[i];
        cli_vary_name(v, name);
        printf("  varies      %s  %.10g to %.10g %s in %d steps\n", name,
               slew_vary_in_unit(v, v->from), slew_vary_in_unit(v, v->to), cli_vary_unit(v),
               v->steps);
    }
    printf("  asked       %s\n", a->asked);
}

/* in words, below the title */
static void print_over(const cli_map *a)
{
    printf("\n%s\n", a->scenario->title);
    for (int i = 0; i < a->count; i++) {
        char words[CLI_VARY_NAME_MAX];
        const slew_vary *v = &a->vary[i];
        cli_vary_words(v, a->scenario->units, words);
        printf("  over        %s: %.10g to %.10g\n", words,
               cli_vary_shown(v, a->scenario->units, v->from),
               cli_vary_shown(v, a->scenario->units, v->to));
    }
}

static void print_reason(const slew_error *reason)
{
    char words[300];
    cli_reason_words(reason, words, sizeof words);
    if (words[0] != '\0')
        printf("      because: %s\n", words);
}

/* an angle, blank where there is none */
static void add_off(cli_table *t, const char *head, int width, double off)
{
    if (off > 0)
        cli_table_cell(t, head, "  %*.2f", width, cli_degrees(off));
    else
        cli_table_cell(t, head, "  %*s", width, "");
}

/* ---- a line ---- */

/* a value of the varied key, with its unit in the head */
static void add_value(cli_table *t, const char *head, const cli_map *a, double value)
{
    char whole[60];
    const slew_vary *v = &a->vary[0];
    slew_unit_system units = a->scenario->units;
    const char *unit = cli_vary_sign(v, units);
    snprintf(whole, sizeof whole, "\n%s%s%s", head, unit[0] != '\0' ? ", " : "", unit);
    cli_table_cell(t, whole, "%12.*f", cli_vary_decimals(v, units, a->tolerance),
                   cli_vary_shown(v, units, value));
}

/* where an axis rests at both ends of a span */
static void add_places(cli_table *t, const char *head, const slew_map_span *s, int axis)
{
    char from[32] = "", to[32] = "not run";
    if (!isnan(s->first.angle[axis])) {
        snprintf(from, sizeof from, "%.2f", cli_degrees(s->first.angle[axis]));
        snprintf(to, sizeof to, "%.2f", cli_degrees(s->last.angle[axis]));
    }
    cli_table_cell(t, "\nat from", "  %8s", from);
    cli_table_cell(t, head, "  %8s", to);
}

static void print_span(cli_table *t, const slew_map_span *s, const cli_map *a)
{
    char words[96];
    int axis = s->first.axis;
    snprintf(words, sizeof words, "%s%s%s",
             cli_map_code_words(cli_map_code(slew_map_kind(&s->first))),
             axis == SLEW_NO_AXIS ? "" : ", ", axis == SLEW_NO_AXIS ? "" : slew_axis_word(axis));
    add_value(t, "from", a, s->from);
    cli_table_cell(t, NULL, " ");
    add_value(t, "to", a, s->to);
    cli_table_text(t, "\n  outcome", "  %-46s", words);
    add_places(t, "elevation, °\nat to", s, SLEW_ELEVATION);
    add_places(t, "rotation, °\nat to", s, SLEW_ROTATION);
    add_off(t, "  off by at\n  most, °", 6, s->largest_off);
    cli_table_end_row(t);
    print_reason(&s->reason);
}

static void print_line(const cli_map *a)
{
    const slew_vary *v = &a->vary[0];
    cli_table table = {.heads = 2};
    slew_unit_system units = a->scenario->units;
    double range = cli_vary_shown(v, units, v->to) - cli_vary_shown(v, units, v->from);
    printf("  boundaries  to %.2g %s\n\n", a->tolerance * range, cli_vary_sign(v, units));
    for (int i = 0; i < a->line.count; i++)
        print_span(&table, &a->line.span[i], a);
}

/* ---- a map ---- */

static void print_shares(const cli_map *a)
{
    const slew_map *map = &a->map;
    cli_table table = {.heads = 1};
    printf("  boundaries  to 1/%d of a step\n\n", map->fine);
    for (int code = 0; code < CLI_MAP_CODES; code++) {
        double share = cli_map_share(a, code);
        const slew_error *reason = cli_map_reason(a, code);
        if (!(share > 0) && reason->message[0] == '\0')
            continue;
        cli_table_cell(&table, NULL, " %c", cli_map_letter(code));
        cli_table_text(&table, "  outcome", "  %-36s", cli_map_code_words(code));
        cli_table_cell(&table, "share, %", "  %8.2f", cli_percent(share));
        add_off(&table, "off by at most, °", 19, cli_map_largest_off(a, code));
        cli_table_end_row(&table);
        print_reason(reason);
    }
}

/* how much may hide between points that agree */
static void print_looks(const slew_map *map)
{
    const slew_share *different = &map->different;
    if (map->looked == 0)
        return;
    printf("Looked into %" PRId64 " cells whose corners agree: ", map->looked);
    if (different->value > 0)
        printf(
            "%.2f %% have another outcome inside (95 %% interval\n%.2f to %.2f); these and their "
            "neighbors are drawn finer.\n",
            cli_percent(different->value), cli_percent(different->low),
            cli_percent(different->high));
    else
        printf("none has another outcome inside (95 %% interval 0\nto %.2f %%).\n",
               cli_percent(different->high));
}

/* an outcome in which the barrel strikes, is pressed or stops where nobody expects it */
static bool is_danger(slew_outcome outcome)
{
    return outcome >= SLEW_OUTCOME_PRESSED && outcome <= SLEW_OUTCOME_DOES_NOT_HOLD;
}

static bool has_danger(const cli_map *a)
{
    for (int i = 0; a->count == 1 && i < a->line.count; i++)
        if (is_danger(a->line.span[i].first.outcome))
            return true;
    for (int k = 0; a->count > 1 && k < SLEW_OUTCOME_COUNT; k++)
        if (is_danger((slew_outcome)k) && a->map.share[k] > 0)
            return true;
    return false;
}

const char *cli_map_dangers(const cli_map *a)
{
    return has_danger(a) ? "some runs fault, jam or enter a keep-out zone" : "";
}

void cli_map_text(const void *what)
{
    const cli_map *a = what;
    char finding[300];
    cli_map_finding(a, finding, sizeof finding - 1);
    strcat(finding, ".");
    cli_print_wrapped(finding, CLI_ANSWER_LETTERS);
    cli_caution(cli_map_dangers(a));
    print_over(a);
    if (a->count == 1)
        print_line(a);
    else {
        print_shares(a);
        print_looks(&a->map);
    }
    printf("\nSimulated: it does not replace a test on the truck.\n\n");
    print_varied(a);
}
