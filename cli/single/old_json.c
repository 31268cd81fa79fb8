/* json.c - see json.h. */
#include "old_json.h"

#include <inttypes.h>
#include <stdio.h>

#include "line/exit_code.h"
#include "line/report.h"
#include "slewtime/slewtime.h"
#include "tell/provenance.h"
#include "tell/units.h"

/* ---- values ---- */

json_t *cli_json_number(double value)
{
    return isfinite(value) ? json_real(value + 0.0) : json_null();
}

json_t *cli_json_text(const char *text)
{
    json_t *string = text != NULL && text[0] != '\0' ? json_string(text) : NULL;
    return string != NULL ? string : json_null();
}

json_t *cli_json_degrees(double radians)
{
    return cli_json_number(cli_degrees(radians));
}

json_t *cli_json_axis(int axis)
{
    return axis == SLEW_NO_AXIS ? json_null() : json_string(slew_axis_word(axis));
}

static const char *box_name(const cli_single *single, int box)
{
    return box >= 0 ? single->scenario.keepout.box[box].name : NULL;
}

/* ---- parts of the document ---- */

static json_t *stored_times(const cli_single *single)
{
    if (!cli_single_stows(single))
        return json_null();
    return json_pack("{s:o, s:o}", "rotation",
                     cli_json_number(single->result.stored[SLEW_ROTATION]), "elevation",
                     cli_json_number(single->result.stored[SLEW_ELEVATION]));
}

/* a part that was not asked for is one that was not run, and has no target to meet */
static json_t *part(const slew_part *p, bool asked)
{
    return json_pack(
        "{s:s, s:o, s:o, s:b, s:o, s:o, s:o, s:o}", "says", slew_verdict_word(p->says), "fault",
        p->fault == SLEW_FAULT_NONE ? json_null() : json_string(slew_fault_word(p->fault)), "axis",
        cli_json_axis(p->axis), "holds", (int)p->holds, "rotation_deg",
        cli_json_degrees(p->angle[SLEW_ROTATION]), "elevation_deg",
        cli_json_degrees(p->angle[SLEW_ELEVATION]), "on_target",
        asked && p->has_target ? json_boolean(p->on_target) : json_null(), "duration_s",
        cli_json_number(p->duration));
}

static json_t *keepout(const cli_single *single)
{
    json_t *list = json_array();
    int count = single->result.visit_count;
    for (int i = 0; i < count && i < SLEW_KEEPOUT_VISITS_MAX; i++) {
        const slew_keepout_visit *visit = &single->result.visit[i];
        json_array_append_new(list,
                              json_pack("{s:s, s:o, s:o}", "name", box_name(single, visit->box),
                                        "entered_s", cli_json_number(visit->entered), "left_s",
                                        cli_json_number(visit->left)));
    }
    return list;
}

static json_t *event(const cli_single *single, const slew_event *e)
{
    json_t *object =
        json_pack("{s:o, s:o, s:s, s:o, s:o, s:o, s:o, s:o}", "time_s", cli_json_number(e->time),
                  "axis", cli_json_axis(e->axis), "kind", slew_event_word(e->kind), "direction",
                  cli_json_text(slew_direction_word(e->axis, e->direction)), "rotation_deg",
                  cli_json_degrees(e->angle[SLEW_ROTATION]), "elevation_deg",
                  cli_json_degrees(e->angle[SLEW_ELEVATION]), "voltage_V",
                  cli_json_number(e->voltage), "current_A", cli_json_number(e->current));
    if (e->kind == SLEW_EVENT_STOP_CONTACT)
        json_object_set_new(object, "energy_J", cli_json_number(e->energy));
    if (e->kind == SLEW_EVENT_FAULT)
        json_object_set_new(object, "fault", json_string(slew_fault_word(e->fault)));
    if (e->box >= 0)
        json_object_set_new(object, "box", json_string(box_name(single, e->box)));
    return object;
}

static json_t *events(const cli_single *single)
{
    json_t *list = json_array();
    for (size_t i = 0; i < single->event_count; i++)
        json_array_append_new(list, event(single, &single->event[i]));
    return list;
}

/* ---- the document ---- */

json_t *cli_json_result(const cli_single *single)
{
    const slew_result *r = &single->result;
    char hash[CLI_HASH_MAX];
    cli_provenance_hash(&single->scenario, hash);
    return json_pack("{s:s, s:s, s:s, s:o, s:o, s:o, s:o, s:o, s:b, s:o, s:o, s:o}", "slewtime",
                     slew_version(), "title", single->scenario.title, "scenario", hash,
                     "stored_times_s", stored_times(single), "stow",
                     part(&r->stow, cli_single_stows(single)), "deploy",
                     part(&r->deploy, cli_single_deploys(single)), "lowest_voltage_V",
                     cli_json_number(r->lowest_voltage), "lowest_loaded_voltage_V",
                     cli_json_number(r->lowest_loaded_voltage), "below_floor", (int)r->below_floor,
                     "peak_current_A", cli_json_number(r->peak_current), "charge_As",
                     cli_json_number(r->charge), "keepout", keepout(single));
}

json_t *cli_json_share(const slew_share *s)
{
    return json_pack("{s:o, s:o, s:o}", "share", cli_json_number(s->value), "low",
                     cli_json_number(s->low), "high", cli_json_number(s->high));
}

int cli_json_print(json_t *document)
{
    const size_t flags = JSON_PRESERVE_ORDER | JSON_REAL_PRECISION(12) | JSON_INDENT(1);
    if (document == NULL)
        return cli_no_memory();
    json_dumpf(document, stdout, flags);
    putchar('\n');
    json_decref(document);
    return CLI_OK;
}

int cli_json_story(const cli_single *single)
{
    json_t *document = cli_json_result(single);
    if (document != NULL)
        json_object_set_new(document, "events", events(single));
    return cli_json_print(document);
}

static const char *points_word(const slew_sampling *sampling)
{
    return sampling->points == SLEW_SOBOL ? "sobol" : "independent";
}

void cli_provenance_json(json_t *document, const slew_scenario *scenario,
                         const slew_sampling *sampling, int64_t done)
{
    char hash[CLI_HASH_MAX];
    cli_provenance_hash(scenario, hash);
    json_object_set_new(document, "scenario", json_string(hash));
    if (sampling == NULL)
        return;
    json_object_set_new(document, "samples", json_integer(done));
    json_object_set_new(document, "seed", json_integer((json_int_t)sampling->seed));
    json_object_set_new(document, "points", json_string(points_word(sampling)));
}

void cli_provenance_csv_names(FILE *stream, const slew_sampling *sampling)
{
    fputs(sampling != NULL ? ",scenario,samples,seed,points" : ",scenario", stream);
}

void cli_provenance_csv(FILE *stream, const slew_scenario *scenario, const slew_sampling *sampling,
                        int64_t done)
{
    char hash[CLI_HASH_MAX];
    cli_provenance_hash(scenario, hash);
    fprintf(stream, ",%s", hash);
    if (sampling != NULL)
        fprintf(stream, ",%" PRId64 ",%" PRIu64 ",%s", done, sampling->seed, points_word(sampling));
}
