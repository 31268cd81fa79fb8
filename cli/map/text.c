/* text.c - the answer of `slewtime map` as text, JSON and CSV. */
#include "answer.h"

#include <math.h>
#include <string.h>

#include "single/old_json.h"
#include "slewtime/slewtime.h"
#include "tell/provenance.h"
#include "tell/units.h"

/* ---- names and numbers ---- */

void cli_vary_name(const slew_vary *vary, char name[CLI_VARY_NAME_MAX])
{
    static const char *const prefix[] = {"", "teach.", "today.", "deploy_day."};
    snprintf(name, CLI_VARY_NAME_MAX, "%s%s", prefix[vary->layer], slew_key_at(vary->key)->path);
}

static const char *unit_of(const slew_vary *vary)
{
    return slew_key_at(vary->key)->unit;
}

int cli_vary_decimals(const slew_vary *vary, double share)
{
    double range = slew_vary_in_unit(vary, vary->to) - slew_vary_in_unit(vary, vary->from);
    double decimals = ceil(-log10(share * range) - 1e-9);
    return (int)fmin(fmax(decimals, 0), 12);
}

char cli_outcome_letter(slew_outcome outcome)
{
    static const char letters[] = "ABCDEFGHIJKLMNP";
    return (unsigned)outcome < SLEW_OUTCOME_COUNT ? letters[outcome] : '?';
}

/* ---- the finding ---- */

/* the spans in which all is well; of many only how many */
static void line_finding(const cli_map *a, char *text, size_t size)
{
    const slew_vary *v = &a->vary[0];
    const slew_map_span *first = NULL;
    int decimals = cli_vary_decimals(v, a->tolerance), count = 0;
    for (int i = a->line.count - 1; i >= 0; i--)
        if (a->line.span[i].first.outcome == SLEW_OUTCOME_OK) {
            first = &a->line.span[i];
            count++;
        }
    if (first == NULL)
        snprintf(text, size, "All is well nowhere in this range");
    else
        snprintf(text, size, "All is well from %.*f to %.*f %s%s", decimals,
                 slew_vary_in_unit(v, first->from), decimals, slew_vary_in_unit(v, first->to),
                 unit_of(v), count > 1 ? ", and again beyond" : "");
}

/* the largest share but all is well, and but the one given */
static int largest_trouble(const slew_map *map, int but)
{
    int largest = -1;
    for (int k = SLEW_OUTCOME_OK + 1; k < SLEW_OUTCOME_COUNT; k++)
        if (k != but && map->share[k] > 0 && (largest < 0 || map->share[k] > map->share[largest]))
            largest = k;
    return largest;
}

static void map_finding(const cli_map *a, char *text, size_t size)
{
    const slew_map *map = &a->map;
    int first = largest_trouble(map, -1), second = largest_trouble(map, first);
    if (map->share[SLEW_OUTCOME_HARD_STOP] > 0 && first != SLEW_OUTCOME_HARD_STOP)
        second = SLEW_OUTCOME_HARD_STOP;
    int length = snprintf(text, size, "All is well in %.1f %%", 100 * map->share[SLEW_OUTCOME_OK]);
    const int told[] = {first, second};
    for (int i = 0; i < 2; i++)
        if (told[i] >= 0 && length > 0 && (size_t)length < size)
            length +=
                snprintf(text + length, size - (size_t)length, "%s %s %.1f %%", i == 0 ? ";" : ",",
                         slew_outcome_words((slew_outcome)told[i]), 100 * map->share[told[i]]);
}

void cli_map_finding(const cli_map *a, char *text, size_t size)
{
    if (a->count == 1)
        line_finding(a, text, size);
    else
        map_finding(a, text, size);
}

/* ---- text ---- */

static void print_varied(const cli_map *a)
{
    char origin[CLI_PROVENANCE_MAX];
    cli_provenance_words(a->scenario, NULL, 0, origin);
    printf("%s\n  asked       %s\n", a->scenario->title, origin);
    for (int i = 0; i < a->count; i++) {
        char name[CLI_VARY_NAME_MAX];
        const slew_vary *v = &a->vary[i];
        cli_vary_name(v, name);
        printf("  varies      %s  %.10g to %.10g %s in %d steps\n", name,
               slew_vary_in_unit(v, v->from), slew_vary_in_unit(v, v->to), unit_of(v), v->steps);
    }
}

/* the place at both ends of a span */
static void print_places(const slew_map_span *s, int axis)
{
    if (isnan(s->first.angle[axis]))
        printf("  %18s", "not run");
    else
        printf("  %8.2f  %8.2f", cli_degrees(s->first.angle[axis]),
               cli_degrees(s->last.angle[axis]));
}

static void print_reason(const slew_error *reason)
{
    if (reason->message[0] != '\0')
        printf("      because: %s%s%s\n", reason->key, reason->key[0] != '\0' ? ": " : "",
               reason->message);
}

static void print_span(const slew_map_span *s, const slew_vary *v, int decimals)
{
    char words[96];
    int axis = s->first.axis;
    snprintf(words, sizeof words, "%s%s%s", slew_outcome_words((slew_outcome)s->first.outcome),
             axis == SLEW_NO_AXIS ? "" : ", ", axis == SLEW_NO_AXIS ? "" : slew_axis_word(axis));
    printf("%12.*f %12.*f  %-46s", decimals, slew_vary_in_unit(v, s->from), decimals,
           slew_vary_in_unit(v, s->to), words);
    print_places(s, SLEW_ELEVATION);
    print_places(s, SLEW_ROTATION);
    if (s->largest_off > 0)
        printf("  %6.2f", cli_degrees(s->largest_off));
    printf("\n");
    print_reason(&s->reason);
}

static void print_line(const cli_map *a)
{
    const slew_vary *v = &a->vary[0];
    int decimals = cli_vary_decimals(v, a->tolerance);
    double range = slew_vary_in_unit(v, v->to) - slew_vary_in_unit(v, v->from);
    char from[32], to[32];
    snprintf(from, sizeof from, "from, %s", unit_of(v));
    snprintf(to, sizeof to, "to, %s", unit_of(v));
    printf("  boundaries  to %.2g %s\n\n", a->tolerance * range, unit_of(v));
    printf("%12s %12s  %-46s  %18s  %18s  off by at\n", "", "", "", "elevation, deg",
           "rotation, deg");
    printf("%12s %12s  %-46s  %8s  %8s  %8s  %8s  most, deg\n", unit_of(v)[0] ? from : "from",
           unit_of(v)[0] ? to : "to", "outcome", "at from", "at to", "at from", "at to");
    for (int i = 0; i < a->line.count; i++)
        print_span(&a->line.span[i], v, decimals);
}

static double largest_off(const slew_map *map, int outcome)
{
    double largest = 0;
    for (size_t i = 0; i < (size_t)map->columns * (size_t)map->rows; i++)
        if ((int)map->point[i].outcome == outcome)
            largest = fmax(largest, map->point[i].off);
    return largest;
}

static void print_shares(const cli_map *a)
{
    const slew_map *map = &a->map;
    printf("  boundaries  to 1/%d of a step\n\n", map->fine);
    printf("    outcome                               share, %%  off by at most, deg\n");
    for (int k = 0; k < SLEW_OUTCOME_COUNT; k++) {
        if (!(map->share[k] > 0) && map->reason[k].message[0] == '\0')
            continue;
        double off = largest_off(map, k);
        printf(" %c  %-36s  %8.2f", cli_outcome_letter((slew_outcome)k),
               slew_outcome_words((slew_outcome)k), 100 * map->share[k]);
        if (off > 0)
            printf("  %19.2f", cli_degrees(off));
        printf("\n");
        print_reason(&map->reason[k]);
    }
}

void cli_map_print(const void *what)
{
    const cli_map *a = what;
    char finding[300];
    print_varied(a);
    if (a->count == 1)
        print_line(a);
    else
        print_shares(a);
    cli_map_finding(a, finding, sizeof finding);
    printf("\n%s.\n", finding);
    printf("Simulated: it does not replace a test on the truck.\n");
}

/* ---- CSV ---- */

static void write_number(FILE *stream, double value)
{
    if (!isnan(value))
        fprintf(stream, "%.9f", value);
}

static void write_point(FILE *stream, const cli_map *a, const slew_map_point *p, const char *hash)
{
    for (int i = 0; i < a->count; i++)
        fprintf(stream, "%.12g,", slew_vary_in_unit(&a->vary[i], p->value[i]));
    fprintf(stream, "%s,%s,", slew_outcome_word((slew_outcome)p->outcome),
            p->axis == SLEW_NO_AXIS ? "" : slew_axis_word(p->axis));
    write_number(stream, cli_degrees(p->angle[SLEW_ROTATION]));
    fputc(',', stream);
    write_number(stream, cli_degrees(p->angle[SLEW_ELEVATION]));
    fprintf(stream, ",%.9f,%s\n", cli_degrees(p->off), hash);
}

void cli_map_csv(FILE *stream, const void *what)
{
    const cli_map *a = what;
    char hash[CLI_HASH_MAX];
    cli_provenance_hash(a->scenario, hash);
    for (int i = 0; i < a->count; i++) {
        char name[CLI_VARY_NAME_MAX];
        cli_vary_name(&a->vary[i], name);
        fprintf(stream, "%s%s%s,", name, unit_of(&a->vary[i])[0] != '\0' ? "_" : "",
                unit_of(&a->vary[i]));
    }
    fputs("outcome,axis,rotation_deg,elevation_deg,off_deg", stream);
    cli_provenance_csv_names(stream, NULL);
    fputc('\n', stream);
    const slew_map_point *point = a->count == 1 ? a->line.point : a->map.point;
    int64_t count = a->count == 1 ? a->line.point_count : (int64_t)a->map.columns * a->map.rows;
    for (int64_t i = 0; i < count; i++)
        write_point(stream, a, &point[i], hash);
}

/* ---- JSON ---- */

static json_t *axes(const cli_map *a)
{
    json_t *list = json_array();
    for (int i = 0; i < a->count; i++) {
        char name[CLI_VARY_NAME_MAX];
        const slew_vary *v = &a->vary[i];
        cli_vary_name(v, name);
        json_array_append_new(list,
                              json_pack("{s:s, s:s, s:f, s:f, s:i}", "key", name, "unit",
                                        unit_of(v), "from", slew_vary_in_unit(v, v->from), "to",
                                        slew_vary_in_unit(v, v->to), "steps", v->steps));
    }
    return list;
}

static json_t *legend(const cli_map *a)
{
    json_t *list = json_array();
    for (int k = 0; k < SLEW_OUTCOME_COUNT; k++) {
        json_t *row =
            json_pack("{s:i, s:s, s:s}", "code", k, "outcome", slew_outcome_word((slew_outcome)k),
                      "words", slew_outcome_words((slew_outcome)k));
        if (a->count == 2) {
            json_object_set_new(row, "share", json_real(a->map.share[k]));
            json_object_set_new(row, "reason", cli_json_text(a->map.reason[k].message));
        }
        json_array_append_new(list, row);
    }
    return list;
}

static json_t *codes(const slew_map_point *point, int count)
{
    json_t *list = json_array();
    for (int i = 0; i < count; i++)
        json_array_append_new(list, json_integer(point[i].outcome));
    return list;
}

static json_t *place(const slew_map_point *p)
{
    return json_pack("{s:o, s:o}", "rotation_deg", cli_json_degrees(p->angle[SLEW_ROTATION]),
                     "elevation_deg", cli_json_degrees(p->angle[SLEW_ELEVATION]));
}

static json_t *intervals(const cli_map *a)
{
    json_t *list = json_array();
    for (int i = 0; i < a->line.count; i++) {
        const slew_map_span *s = &a->line.span[i];
        json_array_append_new(
            list,
            json_pack(
                "{s:f, s:f, s:s, s:o, s:o, s:o, s:f, s:o}", "from",
                slew_vary_in_unit(&a->vary[0], s->from), "to",
                slew_vary_in_unit(&a->vary[0], s->to), "outcome",
                slew_outcome_word((slew_outcome)s->first.outcome), "axis",
                cli_json_text(s->first.axis == SLEW_NO_AXIS ? NULL : slew_axis_word(s->first.axis)),
                "at_from", place(&s->first), "at_to", place(&s->last), "largest_off_deg",
                cli_degrees(s->largest_off), "reason", cli_json_text(s->reason.message)));
    }
    return list;
}

static json_t *grid(const slew_map *map)
{
    json_t *rows = json_array();
    for (int row = 0; row < map->rows; row++)
        json_array_append_new(rows,
                              codes(map->point + (size_t)row * (size_t)map->columns, map->columns));
    return rows;
}

int cli_map_json(const void *what)
{
    const cli_map *a = what;
    json_t *whole = json_pack("{s:s, s:s, s:o, s:o}", "slewtime", slew_version(), "title",
                              a->scenario->title, "axes", axes(a), "legend", legend(a));
    cli_provenance_json(whole, a->scenario, NULL, 0);
    if (whole != NULL && a->count == 1) {
        json_object_set_new(whole, "tolerance", json_real(a->tolerance));
        json_object_set_new(whole, "intervals", intervals(a));
        json_object_set_new(whole, "grid", codes(a->line.point, a->line.point_count));
    } else if (whole != NULL)
        json_object_set_new(whole, "grid", grid(&a->map));
    return cli_json_print(whole);
}
