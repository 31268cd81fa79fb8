/* figures.c - see figures.h. */
#include "figures.h"

#include <stdio.h>
#include <string.h>

#include "single/outcome_sentence.h"
#include "single/records.h"
#include "slewtime/slewtime.h"

/* clang-format off */
const cli_figure cli_figures[CLI_FIGURES] = {
    {CLI_OF_STOW, "stored time rotation", "stored_times_s_rotation", 2, true},
    {CLI_OF_STOW, "stored time elevation", "stored_times_s_elevation", 2, true},
    {CLI_OF_STOW, "controller reports", "stow_says", 0, false},
    {CLI_OF_STOW, "fault", "stow_fault", 0, false},
    {CLI_OF_STOW, "axis of the fault", "stow_axis", 0, false},
    {CLI_OF_STOW, "holds", "stow_holds", 0, false},
    {CLI_OF_STOW, "rotation rests at", "stow_rotation_deg", 2, false},
    {CLI_OF_STOW, "  from its stow point", "stow_rotation_from_point_deg", 2, true},
    {CLI_OF_STOW, "  from the nearer hard stop", "stow_rotation_from_stop_deg", 2, false},
    {CLI_OF_STOW, "elevation rests at", "stow_elevation_deg", 2, false},
    {CLI_OF_STOW, "  from its stow point", "stow_elevation_from_point_deg", 2, true},
    {CLI_OF_STOW, "  from the nearer hard stop", "stow_elevation_from_stop_deg", 2, false},
    {CLI_OF_STOW, "within tolerance", "stow_on_target", 0, false},
    {CLI_OF_STOW, "duration", "stow_duration_s", 2, false},
    {CLI_OF_DEPLOY, "controller reports", "deploy_says", 0, false},
    {CLI_OF_DEPLOY, "fault", "deploy_fault", 0, false},
    {CLI_OF_DEPLOY, "axis of the fault", "deploy_axis", 0, false},
    {CLI_OF_DEPLOY, "holds", "deploy_holds", 0, false},
    {CLI_OF_DEPLOY, "rotation rests at", "deploy_rotation_deg", 2, false},
    {CLI_OF_DEPLOY, "  from the target", "deploy_rotation_from_target_deg", 2, true},
    {CLI_OF_DEPLOY, "elevation rests at", "deploy_elevation_deg", 2, false},
    {CLI_OF_DEPLOY, "  from the target", "deploy_elevation_from_target_deg", 2, true},
    {CLI_OF_DEPLOY, "inside its target", "deploy_on_target", 0, false},
    {CLI_OF_DEPLOY, "duration", "deploy_duration_s", 2, false},
    {CLI_OF_SUPPLY, "lowest voltage", "lowest_voltage_V", 2, false},
    {CLI_OF_SUPPLY, "lowest while running", "lowest_loaded_voltage_V", 2, false},
    {CLI_OF_SUPPLY, "minimum voltage", "floor_V", 2, false},
    {CLI_OF_SUPPLY, "below it while running", "below_floor", 0, false},
    {CLI_OF_SUPPLY, "peak current", "peak_current_A", 1, false},
    {CLI_OF_SUPPLY, "charge", "charge_As", 1, false},
    {CLI_OF_SUPPLY, "keep-out zones entered", "keepouts_entered", 0, false},
};
/* clang-format on */

/* the word of the name that is a unit, as people write it */
const char *cli_figure_unit(const cli_figure *figure)
{
    static const char *const units[][2] = {
        {"deg", "\u00B0"}, {"s", "s"}, {"V", "V"}, {"A", "A"}, {"As", "A s"}};
    for (const char *at = strchr(figure->name, '_'); at != NULL; at = strchr(at + 1, '_'))
        for (size_t k = 0; k < sizeof units / sizeof *units; k++)
            if (strcspn(at + 1, "_") == strlen(units[k][0]) &&
                strncmp(at + 1, units[k][0], strlen(units[k][0])) == 0)
                return units[k][1];
    return "";
}

/* ---- the listener that takes them from the record ---- */

typedef struct reader {
    char prefix[CLI_FIGURE_TEXT_MAX]; /* "stow_" inside of that record */
    cli_figure_texts *out;
} reader;

/* -1: it has no place in the table */
static int figure_of(const reader *r, const char *name)
{
    char whole[80];
    snprintf(whole, sizeof whole, "%s%s", r->prefix, name);
    for (int k = 0; k < CLI_FIGURES; k++)
        if (strcmp(cli_figures[k].name, whole) == 0)
            return k;
    return -1;
}

static void open(void *context, const char *name, bool is_list, bool is_there)
{
    reader *r = context;
    (void)is_list;
    (void)is_there;
    snprintf(r->prefix, sizeof r->prefix, "%s_", name);
}

static void close(void *context)
{
    ((reader *)context)->prefix[0] = '\0';
}

/* "hard_stop" as people say it */
static const char *in_words(const char *name, const char *value)
{
    const char *fault = strcmp(name, "fault") == 0 ? cli_fault_word_in_words(value) : NULL;
    return fault != NULL ? fault : strcmp(value, "not_run") == 0 ? "not attempted" : value;
}

static void text(void *context, const char *name, const char *value)
{
    reader *r = context;
    int k = figure_of(r, name);
    if (k >= 0 && value != NULL)
        value = in_words(name, value);
    if (k >= 0 && value != NULL)
        snprintf(r->out->text[k], CLI_FIGURE_TEXT_MAX, "%s", value);
}

/* no minus zero among the numbers */
static double unsigned_zero(double value, int decimals)
{
    return fabs(value) < 0.5 * pow(10, -decimals) ? 0 : value;
}

static void number(void *context, const char *name, double value)
{
    char words[CLI_FIGURE_TEXT_MAX];
    int k = figure_of(context, name);
    if (k < 0 || !isfinite(value))
        return;
    const cli_figure *f = &cli_figures[k];
    snprintf(words, sizeof words, f->is_signed ? "%+.*f" : "%.*f", f->decimals,
             unsigned_zero(value, f->decimals));
    text(context, name, words);
}

static void integer(void *context, const char *name, int64_t value)
{
    number(context, name, (double)value);
}

static void boolean(void *context, const char *name, bool value)
{
    text(context, name, value ? "yes" : "no");
}

void cli_figures_read(const cli_single *single, cli_figure_texts *out)
{
    static const cli_listener listener = {open, close, number, integer, boolean, text, NULL};
    reader r = {.out = out};
    cli_teller teller = {.listener = &listener, .context = &r};
    for (int k = 0; k < CLI_FIGURES; k++)
        strcpy(out->text[k], "-");
    if (single != NULL)
        cli_tell_result(&teller, single);
}
