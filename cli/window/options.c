/* options.c - the options of `slewtime window`, with quantities as a scenario writes them. */
#include <math.h>
#include <string.h>

#include "answer.h"
#include "line/exit_code.h"
#include "line/report.h"
#include "line/suggest.h"
#include "line/value.h"
#include "slewtime/physics.h"

enum { PART_MAX = 64 };

static const char tolerance_form[] = "KEY=TOLERANCE, several with commas between them, for example "
                                     "gap=0.5mm,remanence=5%,operate_flux=1mT";
static const char share_key[] = "supply.feed.stranding"; /* any share of 0 or more */
static const char sense_form[] =
    "SUPPLY,SERIES,CLOSED: supply of the line, resistor in series, resistance of the closed sensor "
    "with its wires, for example 12V,3.3kohm,820ohm";

/* ---- parts and quantities ---- */

/* The next part up to a comma, blanks at its ends left out; NULL: none, or too long. */
static const char *take(const char *text, char part[PART_MAX])
{
    size_t length = strcspn(text, ",");
    const char *after = text + length + (text[length] == ',');
    for (; length > 0 && *text == ' '; length--)
        text++;
    while (length > 0 && text[length - 1] == ' ')
        length--;
    if (length == 0 || length >= PART_MAX)
        return NULL;
    memcpy(part, text, length);
    part[length] = '\0';
    return after;
}

/* ---- tolerances ---- */

static int find_figure(const char *word)
{
    for (int i = 0; i < SLEW_WINDOW_FIGURES; i++)
        if (strcmp(slew_window_figure_word(i), word) == 0)
            return i;
    return -1;
}

static int refuse_figure(const char *word)
{
    const char *words[SLEW_WINDOW_FIGURES];
    for (int i = 0; i < SLEW_WINDOW_FIGURES; i++)
        words[i] = slew_window_figure_word(i);
    const cli_complaint complaint = {
        .expected = tolerance_form,
        .nearest = cli_nearest(word, strlen(word), words, SLEW_WINDOW_FIGURES)};
    return cli_complain(&complaint, "--tolerance %s: no such figure of a magnet", word);
}

/* in the unit of the figure, or a share of it in % */
static int read_tolerance(const char *given, int axis, int figure, const char *text, double own,
                          double *tolerance)
{
    char path[96];
    size_t length = strlen(text);
    if (length > 0 && text[length - 1] == '%') {
        double share = 0;
        int code = cli_read_quantity("--tolerance", text, share_key, tolerance_form, &share);
        *tolerance = share * own;
        return code;
    }
    snprintf(path, sizeof path, "%s.home.magnet.%s", slew_axis_word(axis),
             slew_window_figure_word(figure));
    return cli_read_value("--tolerance", given, path, text, tolerance);
}

/* "gap=0.5mm", which it takes apart */
static int read_one(char *part, const slew_magnet *magnet, slew_window_question *q)
{
    const cli_complaint complaint = {.expected = tolerance_form};
    char given[PART_MAX], *equals = strchr(part, '=');
    double tolerance;
    memcpy(given, part, strlen(part) + 1);
    if (equals == NULL)
        return cli_complain(&complaint, "--tolerance %s: no equals sign", part);
    const char *value = equals + 1 + strspn(equals + 1, " ");
    for (*equals = '\0'; equals > part && equals[-1] == ' '; equals--)
        equals[-1] = '\0';
    int figure = find_figure(part);
    if (figure < 0)
        return refuse_figure(part);
    if (!isnan(q->figure[figure].low))
        return cli_complain(&complaint, "--tolerance: %s is given twice", part);
    double own = slew_window_figure(magnet, figure);
    int code = read_tolerance(given, q->axis, figure, value, own, &tolerance);
    if (code != CLI_OK)
        return code;
    if (!(tolerance > 0))
        return cli_complain(&complaint, "--tolerance %s: not above zero", given);
    q->figure[figure] = (slew_range){own - tolerance, own + tolerance};
    return CLI_OK;
}

int cli_window_tolerances(const char *text, const slew_magnet *magnet,
                          slew_window_question *question)
{
    const cli_complaint complaint = {.expected = tolerance_form};
    const cli_complaint no_magnet = {
        .expected = "a scenario with home.magnet, of which slewtime keys tells the figures"};
    char part[PART_MAX];
    if (!magnet->given)
        return cli_complain(&no_magnet, "--tolerance: the home sensor of the %s has no magnet",
                            slew_axis_word(question->axis));
    do {
        text = take(text, part);
        if (text == NULL)
            return cli_complain(&complaint, "--tolerance: a part is empty or too long");
        int code = read_one(part, magnet, question);
        if (code != CLI_OK)
            return code;
    } while (*text != '\0');
    return CLI_OK;
}

/* ---- the line of the sensor ---- */

int cli_window_sense(const char *text, cli_sense *sense)
{
    static const char *const keys[] = {"supply.main.voltage", "supply.main.resistance",
                                       "supply.main.resistance"};
    double *const values[] = {&sense->supply, &sense->series, &sense->closed};
    const cli_complaint complaint = {.expected = sense_form};
    const char *rest = text;
    for (int i = 0; i < 3; i++) {
        char part[PART_MAX];
        rest = take(rest, part);
        if (rest == NULL)
            return cli_complain(&complaint, "--sense %s: not three quantities", text);
        int code = cli_read_quantity("--sense", part, keys[i], sense_form, values[i]);
        if (code != CLI_OK)
            return code;
    }
    if (*rest != '\0' || !(sense->series > 0))
        return cli_complain(&complaint, "--sense %s: %s", text,
                            *rest != '\0' ? "more than three quantities" : "no resistor");
    sense->asked = true;
    sense->voltage = slew_divider_voltage(sense->supply, sense->series, sense->closed);
    return CLI_OK;
}
