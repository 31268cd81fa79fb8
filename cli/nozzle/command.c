/* command.c - `slewtime nozzle`: reaction and flow of nozzles, in both forms and in both units. */
#include <string.h>

#include "answer.h"
#include "commands.h"
#include "frame/frame.h"
#include "frame/reading.h"
#include "line/exit_code.h"
#include "line/report.h"
#include "line/value.h"
#include "slewtime/physics.h"

/* what is usual: common practice */
static const double usual_tips[] = {1.0, 1.125, 1.25, 1.375, 1.5, 1.75, 2.0, 2.25, 2.5}; /* [in] */
static const double usual_flows[] = {250.0,  350.0,  500.0,  750.0,
                                     1000.0, 1250.0, 1500.0, 2000.0}; /* [gpm] */
static const double bore_pressures[] = {50.0, 80.0, 100.0};           /* [psi] */
static const double spray_pressures[] = {75.0, 100.0};                /* [psi] */

enum { LIST_MAX = 16 };

typedef struct list {
    int count;
    double value[LIST_MAX]; /* [SI] */
} list;

#define USUAL(values, unit) usual(values, sizeof(values) / sizeof *(values), unit)

static list usual(const double *values, size_t count, double unit)
{
    list l = {.count = (int)count};
    for (size_t i = 0; i < count; i++)
        l.value[i] = values[i] * unit;
    return l;
}

/* ---- what is asked ---- */

typedef struct wanted {
    list tips, flows, pressures; /* as given; empty: not given */
} wanted;

static int read_list(const char *option, const cli_texts *given, const char *path, list *l)
{
    l->count = given->count;
    return cli_read_values(option, given, path, l->value);
}

static int read_wanted(const cli_options *options, wanted *w)
{
    int code = read_list("--tip", &options->tip, "nozzle.tip", &w->tips);
    if (code == CLI_OK)
        code = read_list("--flow", &options->flow, "nozzle.flow", &w->flows);
    if (code == CLI_OK)
        code = read_list("--pressure", &options->pressure, "nozzle.pressure", &w->pressures);
    return code;
}

/* the pressures given, or the scenario's own, or the usual ones */
static list pressures_of(const cli_nozzle *a, const wanted *w, slew_nozzle_kind kind)
{
    if (w->pressures.count > 0)
        return w->pressures;
    if (a->scenario != NULL && a->setup.nozzle.pressure > 0)
        return (list){1, {a->setup.nozzle.pressure}};
    return kind == SLEW_SMOOTH_BORE ? USUAL(bore_pressures, SLEW_PSI)
                                    : USUAL(spray_pressures, SLEW_PSI);
}

/* ---- rows ---- */

static void add_row(cli_nozzle *a, slew_nozzle nozzle)
{
    nozzle.flowing = true;
    a->row[a->count++] = (cli_nozzle_row){.asked = {nozzle, slew_jet_of(&nozzle)}};
}

static void add_rows(cli_nozzle *a, const wanted *w, const list *sizes, slew_nozzle_kind kind)
{
    const list pressures = pressures_of(a, w, kind);
    for (int i = 0; i < sizes->count; i++)
        for (int k = 0; k < pressures.count; k++) {
            slew_nozzle nozzle = a->setup.nozzle;
            nozzle.kind = kind;
            nozzle.tip = kind == SLEW_SMOOTH_BORE ? sizes->value[i] : 0;
            nozzle.flow = kind == SLEW_SPRAY ? sizes->value[i] : 0;
            nozzle.pressure = pressures.value[k];
            add_row(a, nozzle);
        }
}

/* the scenario's nozzle, at the pressures given or its own */
static int add_own(cli_nozzle *a, const wanted *w)
{
    const cli_complaint complaint = {
        .expected = "nozzle.pressure with nozzle.flow (spray) or nozzle.tip (smooth_bore) in the\n"
                    "  scenario, or --tip or --flow",
        .help = "nozzle"};
    if (!slew_nozzle_is_known(&a->setup.nozzle))
        return cli_complain(&complaint, "the scenario does not say which nozzle it has");
    const list pressures = pressures_of(a, w, a->setup.nozzle.kind);
    for (int i = 0; i < pressures.count; i++)
        add_row(a, slew_nozzle_at(a->setup.nozzle, pressures.value[i]));
    return CLI_OK;
}

static int add_all(cli_nozzle *a, wanted *w)
{
    bool none = w->tips.count == 0 && w->flows.count == 0;
    if (none && a->scenario != NULL)
        return add_own(a, w);
    if (none) {
        w->tips = USUAL(usual_tips, SLEW_INCH);
        w->flows = USUAL(usual_flows, SLEW_US_GALLON / 60);
    }
    add_rows(a, w, &w->tips, SLEW_SMOOTH_BORE);
    add_rows(a, w, &w->flows, SLEW_SPRAY);
    return CLI_OK;
}

/* ---- the command ---- */

static int load_axes(const cli_options *options, cli_nozzle *a)
{
    slew_error error = {0};
    for (int i = 0; i < a->count && a->scenario != NULL; i++) {
        slew_status status = slew_jet_loads(a->scenario, a->occasion, &a->row[i].asked.nozzle,
                                            a->row[i].load, &error);
        if (status != SLEW_OK)
            return cli_report_located(options, status, &error);
    }
    return CLI_OK;
}

static bool is_units(const slew_assignment *a)
{
    return strcmp(a->origin, "--units") == 0;
}

/* without a scenario nothing has read what the command line sets */
static slew_unit_system units_of(const cli_options *options, const slew_scenario *scenario)
{
    slew_unit_system units = scenario->units;
    for (size_t i = 0; i < options->assignment_count; i++)
        if (is_units(&options->assignment[i]))
            units = strcmp(options->assignment[i].text, "units=si") == 0 ? SLEW_UNITS_SI
                                                                         : SLEW_UNITS_US;
    return units;
}

static int check_scenario(const cli_options *options)
{
    const cli_complaint complaint = {.expected = "slewtime nozzle SCENARIO", .help = "nozzle"};
    const char *about = options->only != 0 ? "--only" : NULL;
    for (size_t i = 0; i < options->assignment_count && about == NULL; i++)
        if (!is_units(&options->assignment[i]))
            about = options->assignment[i].origin;
    if (options->operand_count > 0 || about == NULL)
        return CLI_OK;
    return cli_complain(&complaint, "%s is about a scenario, and none is given", about);
}

static int ask(const cli_options *options, const slew_scenario *scenario, void *answer)
{
    cli_nozzle *a = answer;
    wanted w = {0};
    a->scenario = options->operand_count > 0 ? scenario : NULL;
    a->units = units_of(options, scenario);
    a->occasion = options->only == CLI_ONLY_DEPLOY ? SLEW_OCCASION_DEPLOY : SLEW_OCCASION_STOW;
    slew_scenario_resolve(scenario, a->occasion, &a->setup);
    int code = check_scenario(options);
    if (code == CLI_OK)
        code = read_wanted(options, &w);
    if (code == CLI_OK)
        code = add_all(a, &w);
    if (code == CLI_OK)
        code = load_axes(options, a);
    if (code == CLI_OK)
        cli_nozzle_finding(a, a->finding, sizeof a->finding);
    const cli_frame frame = {
        a,
        cli_nozzle_text,
        cli_nozzle_document,
        cli_nozzle_table,
        "nozzle.gp",
        "Reaction of nozzles against pressure, by the momentum of the jet and by the rules",
        cli_nozzle_fill};
    return code == CLI_OK ? cli_frame_tell(options, &frame) : code;
}

const cli_command cli_nozzle_command = {
    .name = "nozzle",
    .operands = "[SCENARIO]",
    .least = 0,
    .most = 1,
    .options = CLI_SCENARIO_OPTIONS | CLI_BIT(CLI_ONLY) | CLI_BIT(CLI_TIP) | CLI_BIT(CLI_FLOW) |
               CLI_BIT(CLI_PRESSURE) | CLI_BIT(CLI_JSON) | CLI_BIT(CLI_CSV) | CLI_PICTURE_OPTIONS,
    .summary = "reaction force and flow of nozzles, and what they ask of the motors",
    .about =
        "Reaction and flow of smooth bores and sprays by the fire service's rules (1.57 d^2 P,\n"
        "29.7 d^2 sqrt(P), 0.0505 Q sqrt(P)) and by the momentum of the jet, how far they are\n"
        "apart, in US and SI units: of usual tips and sprays, or of those given, each at each\n"
        "pressure. With a SCENARIO, of its own nozzle or those given, at its own pressure unless\n"
        "another is given: the moment about both axes by reaction_arm, and its share of what the\n"
        "motors can start against, today or (--only deploy) on deploy day.\n\n"
        "The reaction pushes on whatever holds the nozzle: a mount, a ladder, people. It throws\n"
        "down people who hold a nozzle with more than they can take, and it comes and goes with\n"
        "the water. Anchor what it pushes on for the highest pressure, and open slowly.\n",
    .examples = "Examples:\n"
                "  slewtime nozzle\n"
                "  slewtime nozzle --tip 1.75in --pressure 80psi\n"
                "  slewtime nozzle --flow 1000gpm --flow 3000L/min --pressure 7bar --plot jet.png\n"
                "  slewtime nozzle truck.yaml --tip 2in --pressure 80psi --pressure 100psi\n",
    .cautions = true,
    .ask = ask,
    .answer_size = sizeof(cli_nozzle),
};
