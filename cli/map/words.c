/* words.c - what `slewtime map` varies and what it found, in words. */
#include <math.h>
#include <string.h>

#include "answer.h"
#include "tell/append.h"
#include "tell/key_words.h"
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

double cli_vary_shown(const slew_vary *vary, slew_unit_system units, double value)
{
    cli_measure measure = cli_measure_of(cli_vary_unit(vary));
    return measure < CLI_MEASURES ? cli_measured(units, measure, value)
                                  : slew_vary_in_unit(vary, value);
}

int cli_vary_decimals(const slew_vary *vary, slew_unit_system units, double share)
{
    double range = cli_vary_shown(vary, units, vary->to) - cli_vary_shown(vary, units, vary->from);
    double decimals = ceil(-log10(share * range) - 1e-9);
    return (int)fmin(fmax(decimals, 0), 12);
}

const char *cli_vary_sign(const slew_vary *vary, slew_unit_system units)
{
    const char *unit = cli_vary_unit(vary);
    cli_measure measure = cli_measure_of(unit);
    if (measure < CLI_MEASURES)
        return cli_measure_unit(units, measure);
    return strcmp(unit, "deg") == 0 ? "\u00B0" : unit;
}

void cli_vary_words(const slew_vary *vary, slew_unit_system units, char words[CLI_VARY_NAME_MAX])
{
    static const char *const occasions[SLEW_LAYER_DEPLOY_DAY + 1] = {
        [SLEW_LAYER_TEACH] = " when taught",
        [SLEW_LAYER_TODAY] = " today",
        [SLEW_LAYER_DEPLOY_DAY] = " on the deploy day"};
    const char *unit = cli_vary_sign(vary, units), *when = occasions[vary->layer];
    char name[CLI_KEY_WORDS_MAX];
    cli_key_words(vary->key, name);
    snprintf(words, CLI_VARY_NAME_MAX, "%s%s%s%s", name, when != NULL ? when : "",
             unit[0] != '\0' ? ", " : "", unit);
}

/* ---- kinds ---- */

/* of each code what it is; a target that is missed short of it comes before past it */
static const struct {
    int kind;
    const char *words; /* NULL: those of the outcome */
} codes[CLI_MAP_CODES] = {
    {SLEW_OUTCOME_OK, NULL},
    {SLEW_OUTCOME_BELOW_FLOOR, NULL},
    {SLEW_OUTCOME_OFF_TARGET, "deployed short of the target"},
    {SLEW_OUTCOME_OFF_TARGET + SLEW_MAP_PAST, "deployed past the target"},
    {SLEW_OUTCOME_OFF_POINT, "stowed short of the stow point"},
    {SLEW_OUTCOME_OFF_POINT + SLEW_MAP_PAST, "stowed past the stow point"},
    {SLEW_OUTCOME_PRESSED, NULL},
    {SLEW_OUTCOME_KEEPOUT, NULL},
    {SLEW_OUTCOME_HOME_NOT_FOUND, NULL},
    {SLEW_OUTCOME_HARD_STOP, NULL},
    {SLEW_OUTCOME_OVERLOAD, NULL},
    {SLEW_OUTCOME_TIMEOUT, NULL},
    {SLEW_OUTCOME_UNDERVOLTAGE, NULL},
    {SLEW_OUTCOME_CANCELLED, NULL},
    {SLEW_OUTCOME_DOES_NOT_HOLD, NULL},
    {SLEW_OUTCOME_UNTAUGHT, NULL},
    {SLEW_OUTCOME_UNFIT, NULL},
};

int cli_map_code(int kind)
{
    int code = 0;
    while (code < CLI_MAP_CODES - 1 && codes[code].kind != kind)
        code++;
    return code;
}

char cli_map_letter(int code)
{
    return "ABCDEFGHIJKLMNPQR"[code]; /* as plots/common.gp has them */
}

const char *cli_map_code_words(int code)
{
    int outcome = codes[code].kind % SLEW_MAP_PAST;
    return codes[code].words != NULL ? codes[code].words
                                     : slew_outcome_words((slew_outcome)outcome);
}

double cli_map_share(const cli_map *a, int code)
{
    const slew_map *map = &a->map;
    size_t cells = (size_t)map->width * (size_t)map->height, count = 0;
    for (size_t i = 0; i < cells; i++)
        count += map->cell[i] == codes[code].kind;
    return (double)count / (double)cells;
}

double cli_map_largest_off(const cli_map *a, int code)
{
    const slew_map *map = &a->map;
    double largest = 0;
    for (int i = 0; i < map->columns * map->rows; i++)
        if (slew_map_kind(&map->point[i]) == codes[code].kind)
            largest = fmax(largest, map->point[i].off);
    return largest;
}

const slew_error *cli_map_reason(const cli_map *a, int code)
{
    return &a->map.reason[codes[code].kind % SLEW_MAP_PAST];
}

/* ---- the finding ---- */

/* the spans in which all is well; of many only how many */
static void line_finding(const cli_map *a, char *text, size_t size)
{
    const slew_vary *v = &a->vary[0];
    const slew_map_span *first = NULL;
    /* as many as a title can have, rounded to the safe side; the table has them all */
    slew_unit_system units = a->scenario->units;
    int decimals = cli_vary_decimals(v, units, fmax(a->tolerance, 0.002)), count = 0;
    double scale = pow(10, decimals);
    for (int i = a->line.count - 1; i >= 0; i--)
        if (a->line.span[i].first.outcome == SLEW_OUTCOME_OK) {
            first = &a->line.span[i];
            count++;
        }
    if (first == NULL)
        snprintf(text, size, "Trouble-free nowhere in this range");
    else
        snprintf(text, size, "Trouble-free from %.*f to %.*f %s%s", decimals,
                 ceil(cli_vary_shown(v, units, first->from) * scale - 1e-6) / scale, decimals,
                 floor(cli_vary_shown(v, units, first->to) * scale + 1e-6) / scale,
                 cli_vary_sign(v, units), count > 1 ? ", and again beyond" : "");
}

/* the code of the largest share but all is well, and but the one given */
static int largest_trouble(const double share[CLI_MAP_CODES], int but)
{
    int largest = -1;
    for (int k = 1; k < CLI_MAP_CODES; k++)
        if (k != but && share[k] > 0 && (largest < 0 || share[k] > share[largest]))
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
    double share[CLI_MAP_CODES];
    for (int k = 0; k < CLI_MAP_CODES; k++)
        share[k] = cli_map_share(a, k);
    double well = share[cli_map_code(SLEW_OUTCOME_OK)];
    int first = largest_trouble(share, -1), second = largest_trouble(share, first);
    int hard_stop = cli_map_code(SLEW_OUTCOME_HARD_STOP);
    if (share[hard_stop] > 0 && first != hard_stop)
        second = hard_stop;
    snprintf(text, size, "%.*f %% of this map is trouble-free (area of the map, not a probability)",
             percent_decimals(well), cli_percent(well));
    const int told[] = {first, second};
    for (int i = 0; i < 2; i++)
        if (told[i] >= 0)
            cli_append(text, size, "%s %s %.*f %%", i == 0 ? ";" : ",", cli_map_code_words(told[i]),
                       percent_decimals(share[told[i]]), cli_percent(share[told[i]]));
}

void cli_map_finding(const cli_map *a, char *text, size_t size)
{
    if (a->count == 1)
        line_finding(a, text, size);
    else
        map_finding(a, text, size);
}
