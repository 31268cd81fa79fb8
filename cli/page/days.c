/* days.c - a hundred simulated trucks and days, drawn by the tool and handed over as numbers. */
#include "answer.h"

#include <math.h>
#include <stdlib.h>

#include "slewtime/study.h"

/* what is drawn differs from the scenario in these keys alone */
static void add_layer(cli_page_day *day, const slew_scenario *drawn, const slew_scenario *plain,
                      slew_layer_id layer)
{
    const slew_layer *own = slew_layer_at(drawn, layer), *before = slew_layer_at(plain, layer);
    for (int i = 0; i < own->count; i++) {
        const slew_override *o = &own->item[i];
        bool is_new = i >= before->count || before->item[i].key != o->key ||
                      before->item[i].value != o->value;
        if (is_new && day->count < CLI_PAGE_DAY_KEYS)
            day->item[day->count++] = (cli_page_key){layer, o->key, o->value};
    }
}

void cli_page_day_layers(cli_page_day *day, const slew_scenario *drawn, const slew_scenario *plain)
{
    static const slew_layer_id layers[] = {SLEW_LAYER_TEACH, SLEW_LAYER_TODAY,
                                           SLEW_LAYER_DEPLOY_DAY};
    for (size_t i = 0; i < sizeof layers / sizeof *layers; i++)
        add_layer(day, drawn, plain, layers[i]);
}

void cli_page_day_file(cli_page_day *day, const slew_scenario *drawn, const slew_scenario *plain)
{
    for (int key = 0; key < slew_key_count(); key++) {
        double value = slew_scenario_get_number(drawn, key);
        bool is_new = !isnan(value) && value != slew_scenario_get_number(plain, key);
        if (is_new && day->count < CLI_PAGE_DAY_KEYS)
            day->item[day->count++] = (cli_page_key){SLEW_LAYER_FILE, key, value};
    }
}

static void add_truck(cli_page_day *day, const slew_scenario *drawn, const slew_spread *truck)
{
    for (int i = 0; i < truck->count; i++) {
        int key = truck->item[i].key;
        double value = slew_scenario_get_number(drawn, key);
        if (day->count < CLI_PAGE_DAY_KEYS && value == value)
            day->item[day->count++] = (cli_page_key){SLEW_LAYER_FILE, key, value};
    }
}

typedef struct drawing {
    cli_page *page;
    slew_ensemble ensemble;
    slew_scenario plain;
} drawing;

/* its number follows from the place of its figures */
static void keep(void *context, const slew_scenario *drawn, const slew_prepared *prepared,
                 double *figures)
{
    drawing *d = context;
    cli_page_day *day = &d->page->day[figures - d->ensemble.figure];
    (void)prepared;
    day->fits = true;
    cli_without_magnets(drawn, &d->plain);
    add_truck(day, &d->plain, &drawn->truck);
    cli_page_day_layers(day, &d->plain, &d->page->plain);
}

slew_status cli_page_draw_days(const slew_scenario *scenario, cli_page *page, slew_error *error)
{
    const slew_parts parts = scenario->deploy.given ? SLEW_STOW_AND_DEPLOY : SLEW_STOW_ONLY;
    drawing *d = calloc(1, sizeof *d);
    if (d == NULL)
        return SLEW_ERROR_MEMORY;
    d->page = page;
    page->days_asked = slew_sampling_default();
    page->days_asked.samples = CLI_PAGE_DAYS;
    page->days_asked.points = SLEW_PSEUDO_RANDOM;
    page->days_asked.threads = 1;
    slew_status status =
        slew_ensemble_run(scenario, parts, &page->days_asked, keep, d, 1, &d->ensemble, error);
    if (status == SLEW_OK)
        slew_ensemble_free(&d->ensemble);
    free(d);
    return status;
}
