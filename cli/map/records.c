/* records.c - the figures of `slewtime map`: for JSON, CSV and the picture. */
#include "answer.h"
#include "tell/caution.h"
#include "tell/csv.h"

/* ---- one point ---- */

static void tell_outcome(cli_teller *t, const slew_map_point *p)
{
    cli_tell_text(t, "outcome", slew_outcome_word(p->outcome));
    cli_tell_axis(t, "axis", p->axis);
}

static void tell_angles(cli_teller *t, const void *angle)
{
    cli_tell_angles(t, angle);
}

/* at the end, and after the stow */
static void tell_place(cli_teller *t, const void *what)
{
    const slew_map_point *p = what;
    cli_tell_angles(t, p->angle);
    cli_tell_record(t, "stowed", tell_angles, p->stowed);
}

typedef struct row {
    const cli_map *answer;
    const slew_map_point *point;
} row;

static void tell_point(cli_teller *t, const void *what)
{
    const row *r = what;
    const cli_map *a = r->answer;
    for (int i = 0; i < a->count; i++) {
        char name[CLI_VARY_NAME_MAX];
        cli_vary_column(&a->vary[i], name);
        cli_tell_number(t, name, slew_vary_in_unit(&a->vary[i], r->point->value[i]));
    }
    tell_outcome(t, r->point);
    tell_place(t, r->point);
    cli_tell_degrees(t, "off_deg", r->point->off);
    cli_tell_boolean(t, "past", r->point->past);
    cli_tell_provenance(t, a->scenario, NULL, 0);
}

void cli_map_table(FILE *stream, const void *what)
{
    const cli_map *a = what;
    const slew_map_point *point = a->count == 1 ? a->line.point : a->map.point;
    int64_t count = a->count == 1 ? a->line.point_count : (int64_t)a->map.columns * a->map.rows;
    for (int64_t i = 0; i < count; i++)
        cli_csv_row(stream, i == 0, tell_point, &(row){a, &point[i]});
}

/* ---- one interval of a line ---- */

typedef struct interval {
    const slew_vary *vary;
    const slew_map_span *span;
} interval;

static void tell_interval(cli_teller *t, const void *what)
{
    const interval *i = what;
    const slew_map_span *s = i->span;
    cli_tell_number(t, "from", slew_vary_in_unit(i->vary, s->from));
    cli_tell_number(t, "to", slew_vary_in_unit(i->vary, s->to));
    if (!t->in_full)
        cli_tell_integer(t, "code", cli_map_code(slew_map_kind(&s->first)));
    tell_outcome(t, &s->first);
    cli_tell_record(t, "at_from", tell_place, &s->first);
    cli_tell_record(t, "at_to", tell_place, &s->last);
    cli_tell_degrees(t, "largest_off_deg", s->largest_off);
    cli_tell_boolean(t, "past", s->first.past);
    cli_tell_text(t, "reason", s->reason.message);
}

void cli_map_spans_table(FILE *stream, const void *what)
{
    const cli_map *a = what;
    for (int i = 0; i < a->line.count; i++)
        cli_csv_row(stream, i == 0, tell_interval, &(interval){&a->vary[0], &a->line.span[i]});
}

/* ---- the document ---- */

static void tell_axis(cli_teller *t, const void *what)
{
    const slew_vary *v = what;
    char name[CLI_VARY_NAME_MAX];
    cli_vary_name(v, name);
    cli_tell_text(t, "key", name);
    cli_tell_unit(t, "unit", cli_vary_unit(v));
    cli_tell_number(t, "from", slew_vary_in_unit(v, v->from));
    cli_tell_number(t, "to", slew_vary_in_unit(v, v->to));
    cli_tell_integer(t, "steps", v->steps);
}

static void tell_legend(cli_teller *t, const cli_map *a)
{
    cli_tell_open_list(t, "legend");
    for (int k = 0; k < SLEW_OUTCOME_COUNT; k++) {
        cli_tell_open(t, NULL);
        cli_tell_integer(t, "code", k);
        cli_tell_text(t, "outcome", slew_outcome_word((slew_outcome)k));
        cli_tell_text(t, "words", slew_outcome_words((slew_outcome)k));
        if (a->count == 2) {
            cli_tell_number(t, "share", a->map.share[k]);
            cli_tell_text(t, "reason", a->map.reason[k].message);
        }
        cli_tell_close(t);
    }
    cli_tell_close(t);
}

static void tell_codes(cli_teller *t, const char *name, const slew_map_point *point, int count)
{
    cli_tell_open_list(t, name);
    for (int i = 0; i < count; i++)
        cli_tell_integer(t, NULL, point[i].outcome);
    cli_tell_close(t);
}

static void tell_grid(cli_teller *t, const slew_map *map)
{
    cli_tell_open_list(t, "grid");
    for (int y = 0; y < map->rows; y++)
        tell_codes(t, NULL, map->point + (size_t)y * (size_t)map->columns, map->columns);
    cli_tell_close(t);
}

void cli_map_document(cli_teller *t, const void *what)
{
    const cli_map *a = what;
    cli_tell_title(t, a->scenario);
    cli_tell_open_list(t, "axes");
    for (int i = 0; i < a->count; i++)
        cli_tell_record(t, NULL, tell_axis, &a->vary[i]);
    cli_tell_close(t);
    tell_legend(t, a);
    if (a->count == 2) {
        cli_tell_integer(t, "looked_into", a->map.looked);
        cli_tell_share(t, "found_different", &a->map.different);
    }
    cli_tell_caution(t, cli_map_dangers(a));
    cli_tell_provenance(t, a->scenario, NULL, 0);
    if (a->count == 2) {
        tell_grid(t, &a->map);
        return;
    }
    cli_tell_number(t, "tolerance", a->tolerance);
    cli_tell_open_list(t, "intervals");
    for (int i = 0; i < a->line.count; i++)
        cli_tell_record(t, NULL, tell_interval, &(interval){&a->vary[0], &a->line.span[i]});
    cli_tell_close(t);
    tell_codes(t, "grid", a->line.point, a->line.point_count);
}
