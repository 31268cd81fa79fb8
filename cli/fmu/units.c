/* units.c - see units.h. */
#include "units.h"

#include <stdlib.h>
#include <string.h>

#include "xml.h"

/* ---- of a variable ---- */

static bool is_gauge(const fmu_variable *v)
{
    return v->quantity != NULL && strcmp(v->quantity, "wire gauge") == 0;
}

/* how it is shown; false: as its value is */
static bool scale_of(const fmu_variable *v, slew_scale *scale)
{
    return v->quantity != NULL && v->unit != NULL && v->unit[0] != '\0' &&
           slew_unit_scale(v->quantity, v->unit, scale);
}

const char *cli_fmu_unit(const fmu_variable *v)
{
    slew_scale scale;
    if (scale_of(v, &scale))
        return scale.si[0] != '\0' ? scale.si : "1";
    bool has_own = v->quantity == NULL || is_gauge(v); /* its name is all that is known of it */
    return has_own && v->unit != NULL && v->unit[0] != '\0' ? v->unit : NULL;
}

const char *cli_fmu_shown(const fmu_variable *v)
{
    slew_scale scale;
    return scale_of(v, &scale) && strcmp(cli_fmu_unit(v), v->unit) != 0 ? v->unit : NULL;
}

/* ---- base units ---- */

enum { KG, M, S, A, K, RAD, BASE_UNITS };
static const char *const base_name[BASE_UNITS] = {"kg", "m", "s", "A", "K", "rad"};

typedef struct derived {
    const char *name;
    int exponent[BASE_UNITS];
} derived;

/* SI Brochure, 9th edition, table 4: units with special names */
static const derived DERIVED[] = {
    {"kg", {[KG] = 1}},
    {"m", {[M] = 1}},
    {"s", {[S] = 1}},
    {"A", {[A] = 1}},
    {"K", {[K] = 1}},
    {"rad", {[RAD] = 1}},
    {"N", {[KG] = 1, [M] = 1, [S] = -2}},
    {"Pa", {[KG] = 1, [M] = -1, [S] = -2}},
    {"V", {[KG] = 1, [M] = 2, [S] = -3, [A] = -1}},
    {"ohm", {[KG] = 1, [M] = 2, [S] = -3, [A] = -2}},
    {"T", {[KG] = 1, [S] = -2, [A] = -1}},
    {"1", {0}},
};

/* a unit such as "N.m/Pa" or "kg.m2" into base units; false: it is no such unit */
static bool take_apart(const char *unit, int exponent[BASE_UNITS])
{
    int sign = 1;
    memset(exponent, 0, BASE_UNITS * sizeof *exponent);
    while (*unit != '\0') {
        size_t whole = strcspn(unit, "./"), letters = strcspn(unit, "./23456789"), i = 0;
        const size_t count = sizeof DERIVED / sizeof *DERIVED;
        while (i < count &&
               (strlen(DERIVED[i].name) != letters || strncmp(DERIVED[i].name, unit, letters) != 0))
            i++;
        if (i == count)
            return false;
        int power = letters < whole ? (int)strtol(unit + letters, NULL, 10) : 1;
        for (int b = 0; b < BASE_UNITS; b++)
            exponent[b] += sign * power * DERIVED[i].exponent[b];
        if (unit[whole] == '/')
            sign = -1;
        unit += whole + (unit[whole] != '\0');
    }
    return true;
}

static void describe_base(const char *unit, FILE *xml)
{
    int exponent[BASE_UNITS];
    if (!take_apart(unit, exponent)) /* a gauge: no factor leads to it */
        return;
    fputs("      <BaseUnit", xml);
    for (int b = 0; b < BASE_UNITS; b++)
        if (exponent[b] != 0)
            fprintf(xml, " %s=\"%d\"", base_name[b], exponent[b]);
    fputs("/>\n", xml);
}

/* ---- the element ---- */

/* the first variable with the same unit, and shown in the same */
static bool is_first(const fmu_variables *list, int index, bool shown)
{
    const char *own = shown ? cli_fmu_shown(&list->item[index]) : cli_fmu_unit(&list->item[index]);
    for (int i = 0; own != NULL && i < index; i++) {
        const char *other = shown ? cli_fmu_shown(&list->item[i]) : cli_fmu_unit(&list->item[i]);
        if (other != NULL && strcmp(own, other) == 0)
            return false;
    }
    return own != NULL;
}

static void describe_shown(const fmu_variable *v, FILE *xml)
{
    slew_scale scale;
    if (!scale_of(v, &scale))
        return;
    fputs("      <DisplayUnit", xml);
    cli_xml_text(xml, "name", v->unit);
    cli_xml_number(xml, "factor", scale.factor);
    if (scale.offset != 0)
        cli_xml_number(xml, "offset", scale.offset);
    fputs("/>\n", xml);
}

static void describe_unit(const fmu_variables *list, const char *unit, FILE *xml)
{
    fputs("    <Unit", xml);
    cli_xml_text(xml, "name", unit);
    fputs(">\n", xml);
    describe_base(unit, xml);
    for (int i = 0; i < list->count; i++) {
        const char *own = cli_fmu_unit(&list->item[i]);
        if (own != NULL && strcmp(own, unit) == 0 && is_first(list, i, true))
            describe_shown(&list->item[i], xml);
    }
    fputs("    </Unit>\n", xml);
}

void cli_fmu_describe_units(const fmu_variables *list, FILE *xml)
{
    fputs("  <UnitDefinitions>\n", xml);
    for (int i = 0; i < list->count; i++)
        if (is_first(list, i, false))
            describe_unit(list, cli_fmu_unit(&list->item[i]), xml);
    fputs("  </UnitDefinitions>\n", xml);
}
