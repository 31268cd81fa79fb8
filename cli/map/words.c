/* words.c - what `slewtime map` varies and what it found, in words. */
#include <math.h>
#include <string.h>

#include "answer.h"
#include "tell/append.h"
#include "tell/units.h"

/* ---- names and numbers ---- */

void cli_vary_name(const slew_vary *vary, char name[CLI_VARY_NAME_MAX])
{
    const char *layer = slew_layer_word(vary->layer);
    snprintf(name, CLI_VARY_NAME_MAX, "%s%s%s", layer, layer[0] != '\0' ? "." : "",
             slew_key_at(vary->key)->path);
}

const char *cli_vary_unit(const slew_vary *vary)
{
    return slew_key_at(vary->key)->unit;
}

void cli_vary_column(const slew_vary *vary, char name[CLI_VARY_NAME_MAX])
{
    const char *unit = cli_vary_unit(vary);
    cli_vary_name(vary, name);
    cli_append(name, CLI_VARY_NAME_MAX, "%s%s", unit[0] != '\0' ? "_" : "", unit);
}

int cli_vary_decimals(const slew_vary *vary, double share)
{
    double range = slew_vary_in_unit(vary, vary->to) - slew_vary_in_unit(vary, vary->from);
    double decimals = ceil(-log10(share * range) - 1e-9);
    return (int)fmin(fmax(decimals, 0), 12);
}

/* what people call a key, where that is shorter than its path */
static const char *const plain[][2] = {
    {"supply.main.voltage", "battery voltage"},
    {"supply.feed.length", "feed cable length"},
    {"supply.feed.joint_resistance", "resistance of each connection"},
    {"environment.temperature", "outside temperature"},
    {"stow.point.elevation", "stow point, elevation"},
    {"stow.point.rotation", "stow point, rotation"},
    {"nozzle.pressure", "nozzle pressure"},
};

void cli_vary_words(const slew_vary *vary, char words[CLI_VARY_NAME_MAX])
{
    static const char *const occasions[SLEW_LAYER_DEPLOY_DAY + 1] = {
        [SLEW_LAYER_TEACH] = " when taught",
        [SLEW_LAYER_TODAY] = " today",
        [SLEW_LAYER_DEPLOY_DAY] = " on the deploy day"};
    const char *unit = cli_vary_unit(vary), *when = occasions[vary->layer];
    const char *name = slew_key_at(vary->key)->path;
    for (size_t i = 0; i < sizeof plain / sizeof *plain; i++)
        if (strcmp(plain[i][0], name) == 0)
            name = plain[i][1];
    unit = strcmp(unit, "deg") == 0 ? "\u00B0" : strcmp(unit, "degC") == 0 ? "\u00B0C" : unit;
    snprintf(words, CLI_VARY_NAME_MAX, "%s%s%s%s", name, when != NULL ? when : "",
             unit[0] != '\0' ? ", " : "", unit);
}

/* ---- the finding ---- */

/* the spans in which all is well; of many only how many */
static void line_finding(const cli_map *a, char *text, size_t size)
{
    const slew_vary *v = &a->vary[0];
    const slew_map_span *first = NULL;
    /* as many as a title can have, rounded to the safe side; the table has them all */
    int decimals = cli_vary_decimals(v, fmax(a->tolerance, 0.002)), count = 0;
    double scale = pow(10, decimals);
    for (int i = a->line.count - 1; i >= 0; i--)
        if (a->line.span[i].first.outcome == SLEW_OUTCOME_OK) {
            first = &a->line.span[i];
            count++;
        }
    if (first == NULL)
        snprintf(text, size, "All is well nowhere in this range");
    else
        snprintf(text, size, "All is well from %.*f to %.*f %s%s", decimals,
                 ceil(slew_vary_in_unit(v, first->from) * scale - 1e-6) / scale, decimals,
                 floor(slew_vary_in_unit(v, first->to) * scale + 1e-6) / scale, cli_vary_unit(v),
                 count > 1 ? ", and again beyond" : "");
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

/* whole percents, but of less than one */
static int percent_decimals(double share)
{
    return share > 0 && share < 0.01;
}

static void map_finding(const cli_map *a, char *text, size_t size)
{
    const slew_map *map = &a->map;
    double well = map->share[SLEW_OUTCOME_OK];
    int first = largest_trouble(map, -1), second = largest_trouble(map, first);
    if (map->share[SLEW_OUTCOME_HARD_STOP] > 0 && first != SLEW_OUTCOME_HARD_STOP)
        second = SLEW_OUTCOME_HARD_STOP;
    snprintf(text, size, "All is well in %.*f %% of this map (its area, not a probability)",
             percent_decimals(well), cli_percent(well));
    const int told[] = {first, second};
    for (int i = 0; i < 2; i++)
        if (told[i] >= 0)
            cli_append(text, size, "%s %s %.*f %%", i == 0 ? ";" : ",",
                       slew_outcome_words((slew_outcome)told[i]),
                       percent_decimals(map->share[told[i]]), cli_percent(map->share[told[i]]));
}

void cli_map_finding(const cli_map *a, char *text, size_t size)
{
    if (a->count == 1)
        line_finding(a, text, size);
    else
        map_finding(a, text, size);
}
