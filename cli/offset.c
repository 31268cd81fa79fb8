/* offset.c - `slewtime offset`: which deploy seconds land in the target on every day of the year.
 */
#include <stdlib.h>

#include "answer.h"
#include "command.h"
#include "csv.h"
#include "json.h"
#include "origin.h"
#include "plot.h"
#include "report.h"
#include "sampling.h"
#include "slewtime/slewtime.h"
#include "story.h"

/* less often inside than this is not called good */
static const double good_enough = 0.95;

typedef struct answer {
    const slew_scenario *scenario;
    const slew_offset *offset;
    const slew_sampling *sampling;
    char asked[CLI_ORIGIN_MAX];
} answer;

/* ---- text ---- */

static double percent(double share)
{
    return 100 * share;
}

static void print_choice(const slew_offset_choice *c, bool best)
{
    const slew_summary *e = &c->angle[SLEW_ELEVATION], *r = &c->angle[SLEW_ROTATION];
    printf("%c %+7.2f %+8.2f  %6.2f (%6.2f to %6.2f)  %6.2f  %6.2f  %7.2f %7.2f %7.2f %7.2f\n",
           best ? '*' : ' ', c->seconds[SLEW_ROTATION], c->seconds[SLEW_ELEVATION],
           percent(c->inside.value), percent(c->inside.low), percent(c->inside.high),
           percent(c->fault.value), percent(c->keepout.value), cli_degrees(e->p05),
           cli_degrees(e->median), cli_degrees(e->p95), cli_degrees(r->median));
}

static void print_target(const slew_scenario *s)
{
    for (int j = 0; j < SLEW_AXES; j++)
        printf("  target      %-9s %.4g to %.4g deg\n", slew_axis_word(j),
               cli_degrees(s->deploy.target[j].low), cli_degrees(s->deploy.target[j].high));
}

static void print_spread(const slew_scenario *s)
{
    const slew_spread *spreads[] = {&s->truck, &s->day};
    static const char *const names[] = {"truck", "day"};
    for (int k = 0; k < 2; k++)
        for (int i = 0; i < spreads[k]->count; i++)
            printf("  varies      %-9s %s\n", names[k], slew_key_at(spreads[k]->item[i].key)->path);
}

static void print_advice(const slew_offset *o)
{
    const slew_offset_choice *best = &o->choice[o->best];
    printf(
        "\nBest: rotation %+.2f s, elevation %+.2f s, inside the target in %.2f %% of the cases.\n",
        best->seconds[SLEW_ROTATION], best->seconds[SLEW_ELEVATION], percent(best->inside.value));
    if (best->inside.value < good_enough)
        printf("None of the choices is good enough (%.0f %% wanted): finer choices, a wider "
               "target, a\n"
               "steadier supply or another approach rule would have to help.\n",
               percent(good_enough));
    if (best->keepout.value > 0)
        printf("It enters a keep-out box in %.2f %% of the cases.\n", percent(best->keepout.value));
    printf("Simulated: it does not replace a test on the truck.\n");
}

static void print_table(const void *what)
{
    const answer *a = what;
    printf("%s\n", a->scenario->title);
    print_target(a->scenario);
    print_spread(a->scenario);
    printf("  asked       %s\n\n", a->asked);
    printf(
        "  seconds           inside the target, %%      fault  keepout elevation at rest, deg   "
        "rotation\n"
        " rotation elevation      (95 %% interval)         %%       %%     5 %%   median    95 %%  "
        "median\n");
    for (int i = 0; i < a->offset->count; i++)
        print_choice(&a->offset->choice[i], i == a->offset->best);
    print_advice(a->offset);
}

/* ---- CSV and JSON ---- */

static void write_csv_axis(FILE *stream, const slew_summary *s)
{
    fprintf(stream, ",%.9f,%.9f,%.9f,%.9f,%.9f", cli_degrees(s->lowest), cli_degrees(s->p05),
            cli_degrees(s->median), cli_degrees(s->p95), cli_degrees(s->highest));
}

static void write_csv(FILE *stream, const void *what)
{
    const answer *a = what;
    fputs("rotation_s,elevation_s,inside,inside_low,inside_high,fault,keepout,"
          "rotation_lowest_deg,rotation_p05_deg,rotation_median_deg,rotation_p95_deg,"
          "rotation_highest_deg,elevation_lowest_deg,elevation_p05_deg,elevation_median_deg,"
          "elevation_p95_deg,elevation_highest_deg",
          stream);
    cli_origin_csv_names(stream, a->sampling);
    fputc('\n', stream);
    for (int i = 0; i < a->offset->count; i++) {
        const slew_offset_choice *c = &a->offset->choice[i];
        fprintf(stream, "%.12g,%.12g,%.9g,%.9g,%.9g,%.9g,%.9g", c->seconds[SLEW_ROTATION],
                c->seconds[SLEW_ELEVATION], c->inside.value, c->inside.low, c->inside.high,
                c->fault.value, c->keepout.value);
        write_csv_axis(stream, &c->angle[SLEW_ROTATION]);
        write_csv_axis(stream, &c->angle[SLEW_ELEVATION]);
        cli_origin_csv(stream, a->scenario, a->sampling, a->offset->samples);
        fputc('\n', stream);
    }
}

static json_t *share(const slew_share *s)
{
    return json_pack("{s:o, s:o, s:o}", "share", cli_json_number(s->value), "low",
                     cli_json_number(s->low), "high", cli_json_number(s->high));
}

static json_t *angles(const slew_summary *s)
{
    return json_pack(
        "{s:o, s:o, s:o, s:o, s:o}", "lowest_deg", cli_json_number(cli_degrees(s->lowest)),
        "p05_deg", cli_json_number(cli_degrees(s->p05)), "median_deg",
        cli_json_number(cli_degrees(s->median)), "p95_deg", cli_json_number(cli_degrees(s->p95)),
        "highest_deg", cli_json_number(cli_degrees(s->highest)));
}

static json_t *choice(const slew_offset_choice *c)
{
    return json_pack("{s:{s:f, s:f}, s:o, s:o, s:o, s:o, s:o}", "seconds", "rotation",
                     c->seconds[SLEW_ROTATION], "elevation", c->seconds[SLEW_ELEVATION], "inside",
                     share(&c->inside), "fault", share(&c->fault), "keepout", share(&c->keepout),
                     "rotation", angles(&c->angle[SLEW_ROTATION]), "elevation",
                     angles(&c->angle[SLEW_ELEVATION]));
}

static int write_json(const void *what)
{
    const answer *a = what;
    json_t *choices = json_array();
    for (int i = 0; i < a->offset->count; i++)
        json_array_append_new(choices, choice(&a->offset->choice[i]));
    json_t *whole =
        json_pack("{s:s, s:s}", "slewtime", slew_version(), "title", a->scenario->title);
    cli_origin_json(whole, a->scenario, a->sampling, a->offset->samples);
    json_object_set_new(whole, "refused", json_integer(a->offset->refused));
    json_object_set_new(whole, "best", json_integer(a->offset->best));
    json_object_set_new(whole, "choices", choices);
    return cli_json_print(whole);
}

/* ---- picture ---- */

/* the axis with more choices, elevation of equals */
static int shown_axis(const slew_deploy *deploy)
{
    return deploy->choice_count[SLEW_ROTATION] > deploy->choice_count[SLEW_ELEVATION]
               ? SLEW_ROTATION
               : SLEW_ELEVATION;
}

static void set_headings(cli_plot *plot, const answer *a)
{
    char text[420];
    const slew_offset_choice *best = &a->offset->choice[a->offset->best];
    bool good = best->inside.value >= good_enough;
    snprintf(text, sizeof text, "%s: rotation %+.2f s, elevation %+.2f s, inside in %.1f %%",
             good ? "Best choice" : "None is good enough; best", best->seconds[SLEW_ROTATION],
             best->seconds[SLEW_ELEVATION], percent(best->inside.value));
    cli_plot_set_text(plot, "heading_1", text);
    snprintf(text, sizeof text, "%.200s   |   %s", a->scenario->title, a->asked);
    cli_plot_set_text(plot, "heading_2", text);
}

static int draw(const char *path, const void *what)
{
    const answer *a = what;
    cli_plot plot;
    int code = cli_plot_open(&plot), axis = shown_axis(&a->scenario->deploy);
    if (code != CLI_OK)
        return code;
    const slew_range *target = &a->scenario->deploy.target[axis];
    set_headings(&plot, a);
    cli_plot_set(&plot, "axis='%s'", slew_axis_word(axis));
    cli_plot_set(&plot, "beside=%.17g", a->offset->choice[a->offset->best].seconds[!axis]);
    cli_plot_set(&plot, "target_low=%.9g", cli_degrees(target->low));
    cli_plot_set(&plot, "target_high=%.9g", cli_degrees(target->high));
    FILE *data = cli_plot_data(&plot, "offset.csv");
    if (data != NULL)
        write_csv(data, a);
    return cli_plot_close(&plot, data != NULL ? CLI_OK : CLI_OUTSIDE, "offset.gp", path);
}

/* ---- the command ---- */

static int tell(const cli_options *options, const answer *a)
{
    const cli_answer how = {a, draw, write_json, write_csv, print_table};
    cli_warn_of_refused(options, a->offset->refused, &a->offset->first_refusal);
    return cli_answer_tell(options, &how);
}

static int ask(const cli_options *options, const slew_scenario *scenario)
{
    slew_error error = {0};
    slew_offset offset;
    cli_progress progress;
    slew_sampling sampling = cli_sampling(options, "offset", &progress);
    slew_status status = slew_offset_run(scenario, &sampling, &offset, &error);
    cli_sampling_end(&progress);
    int code = cli_code(status);
    if (status == SLEW_ERROR_STOPPED)
        fprintf(stderr, "slewtime: stopped after %ld of %ld samples; this is what they tell\n",
                offset.samples, sampling.samples);
    else if (status != SLEW_OK) {
        cli_locate(options, &error);
        cli_report_error(&error);
    }
    if (status == SLEW_OK || (status == SLEW_ERROR_STOPPED && offset.samples > 0)) {
        answer a = {.scenario = scenario, .offset = &offset, .sampling = &sampling};
        cli_origin_words(scenario, &sampling, offset.samples, a.asked);
        int told = tell(options, &a);
        code = told != CLI_OK ? told : code;
    }
    slew_offset_free(&offset);
    return code;
}

static int run(const cli_options *options)
{
    slew_scenario *scenario = malloc(sizeof *scenario);
    int code = cli_answer_check(options, "offset");
    if (scenario == NULL)
        return cli_no_memory();
    if (code == CLI_OK)
        code = cli_read_scenario(options, scenario);
    if (code == CLI_OK)
        code = ask(options, scenario);
    free(scenario);
    return code;
}

const cli_command cli_offset_command = {
    .name = "offset",
    .operands = "SCENARIO",
    .least = 1,
    .most = 1,
    .options = CLI_SCENARIO_OPTIONS | CLI_SAMPLING_OPTIONS | CLI_BIT(CLI_JSON) | CLI_BIT(CLI_CSV) |
               CLI_BIT(CLI_PLOT),
    .summary = "which deploy seconds, for a target window, over the spread",
    .about =
        "Tries every pair of deploy.choices over the scenario's spread: from truck to truck\n"
        "(teaching repeated) and from day to day (stored times kept, the deploy on a day of its\n"
        "own). Prints how often each lands inside the target, faults, or enters a keep-out.\n",
    .examples = "Examples:\n"
                "  slewtime offset truck.yaml\n"
                "  slewtime offset truck.yaml --samples 50000 --csv\n"
                "  slewtime offset truck.yaml --set rotation.approach=rising --random --seed 7\n",
    .cautions = true,
    .run = run,
};
