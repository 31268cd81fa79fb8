/*
 * describe.c - modelDescription.xml: FMI 3.0, 2.4 and 4.3. Elements stand in the order of the
 * standard's schema.
 */
#include <float.h>
#include <string.h>

#include "answer.h"
#include "slewtime/slewtime.h"
#include "units.h"
#include "xml.h"

const char *cli_fmu_identifier(fmu_kind kind)
{
    return kind == FMU_PLANT ? "slewtime_plant" : "slewtime_machine";
}

/* ---- the head ---- */

static void describe_head(const cli_fmu *fmu, FILE *xml)
{
    const char *title = fmu->scenario.title, *identifier = cli_fmu_identifier(fmu->kind);
    fputs("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<fmiModelDescription", xml);
    cli_xml_text(xml, "fmiVersion", "3.0");
    cli_xml_text(xml, "modelName", title[0] != '\0' ? title : identifier);
    cli_xml_text(xml, "instantiationToken", fmu->token);
    cli_xml_text(xml, "description",
                 fmu->kind == FMU_PLANT ? "a powered fire monitor without its controller, simulated"
                                        : "a powered fire monitor with its controller, simulated");
    cli_xml_text(xml, "generationTool", "slewtime " SLEW_VERSION);
    cli_xml_text(xml, "license", "GPL-3.0-or-later");
    cli_xml_text(xml, "variableNamingConvention", "structured");
    fputs(">\n", xml);
}

/* what is left out is false, as the standard has it */
static void describe_interface(const cli_fmu *fmu, FILE *xml)
{
    fputs("  <CoSimulation", xml);
    cli_xml_text(xml, "modelIdentifier", cli_fmu_identifier(fmu->kind));
    cli_xml_boolean(xml, "canGetAndSetFMUState", true);
    cli_xml_boolean(xml, "canSerializeFMUState", true);
    cli_xml_boolean(xml, "canHandleVariableCommunicationStepSize", true);
    cli_xml_boolean(xml, "mightReturnEarlyFromDoStep", true);
    cli_xml_boolean(xml, "hasEventMode", true);
    fputs("/>\n", xml);
}

/* ---- types ---- */

/* the type of an enumeration: none of its names is that of a variable */
static void type_name(const fmu_variable *v, char name[FMU_NAME_MAX + 8])
{
    snprintf(name, FMU_NAME_MAX + 8, "types.%s", v->name);
}

static void describe_type(const fmu_variable *v, FILE *xml)
{
    char name[FMU_NAME_MAX + 8], word[96];
    int value;
    type_name(v, name);
    fputs("    <EnumerationType", xml);
    cli_xml_text(xml, "name", name);
    fputs(">\n", xml);
    for (int i = 0; fmu_variable_item(v, i, word, sizeof word, &value); i++) {
        fputs("      <Item", xml);
        cli_xml_text(xml, "name", word);
        cli_xml_whole(xml, "value", value);
        fputs("/>\n", xml);
    }
    fputs("    </EnumerationType>\n", xml);
}

static void describe_types(const fmu_variables *list, FILE *xml)
{
    fputs("  <TypeDefinitions>\n", xml);
    for (int i = 0; i < list->count; i++)
        if (list->item[i].type == FMU_ENUMERATION)
            describe_type(&list->item[i], xml);
    fputs("  </TypeDefinitions>\n", xml);
}

static bool has_types(const fmu_variables *list)
{
    for (int i = 0; i < list->count; i++)
        if (list->item[i].type == FMU_ENUMERATION)
            return true;
    return false;
}

/* ---- variables ---- */

static const char *causality(const fmu_variable *v)
{
    switch (v->role) {
    case FMU_INDEPENDENT:
        return "independent";
    case FMU_INPUT:
        return "input";
    case FMU_OUTPUT:
        return "output";
    case FMU_CALCULATED:
        return "calculatedParameter";
    default:
        return "parameter";
    }
}

static const char *variability(const fmu_variable *v)
{
    if (v->role == FMU_FIXED || v->role == FMU_CALCULATED)
        return "fixed";
    if (v->role == FMU_TUNABLE)
        return "tunable";
    return v->type == FMU_FLOAT64 ? "continuous" : "discrete";
}

/* a bound that is not allowed itself: the next number that is */
static double within(double bound, bool open, double toward)
{
    if (!open)
        return bound;
    return bound == 0 ? copysign(DBL_MIN, toward) : nextafter(bound, toward);
}

static void describe_range(const fmu_variable *v, FILE *xml)
{
    double low = within(v->low, v->low_open, INFINITY);
    double high = within(v->high, v->high_open, -INFINITY);
    void (*put)(FILE * file, const char *name, double value) = cli_xml_number;
    if (isfinite(low))
        put(xml, "min", low);
    if (isfinite(high))
        put(xml, "max", high);
}

static void describe_start(const fmu_variable *v, FILE *xml)
{
    if (v->role != FMU_INPUT && v->role != FMU_FIXED && v->role != FMU_TUNABLE)
        return;
    if (v->type == FMU_FLOAT64)
        cli_xml_number(xml, "start", v->start);
    else if (v->type == FMU_BOOLEAN)
        cli_xml_boolean(xml, "start", v->start != 0);
    else
        cli_xml_whole(xml, "start", (long)v->start);
}

static void describe_float64(const fmu_variable *v, FILE *xml)
{
    const char *unit = cli_fmu_unit(v), *shown = cli_fmu_shown(v);
    if (v->quantity != NULL)
        cli_xml_text(xml, "quantity", v->quantity);
    if (unit != NULL)
        cli_xml_text(xml, "unit", unit);
    if (shown != NULL)
        cli_xml_text(xml, "displayUnit", shown);
    if (v->quantity != NULL && strcmp(v->quantity, "temperature difference") == 0)
        cli_xml_boolean(xml, "relativeQuantity", true);
}

static void describe_variable(const fmu_variable *v, FILE *xml)
{
    static const char *const element[] = {"Float64", "Int32", "Boolean", "Enumeration"};
    char type[FMU_NAME_MAX + 8];
    fprintf(xml, "    <%s", element[v->type]);
    cli_xml_text(xml, "name", v->name);
    cli_xml_whole(xml, "valueReference", (long)v->reference);
    cli_xml_text(xml, "causality", causality(v));
    cli_xml_text(xml, "variability", variability(v));
    if (v->type == FMU_FLOAT64)
        describe_float64(v, xml);
    if (v->type == FMU_ENUMERATION) {
        type_name(v, type);
        cli_xml_text(xml, "declaredType", type);
    }
    if (v->type == FMU_FLOAT64 || v->type == FMU_INT32)
        describe_range(v, xml);
    describe_start(v, xml);
    cli_xml_text(xml, "description", v->meaning);
    fputs("/>\n", xml);
}

/* ---- structure ---- */

/* Angles and speeds go on from where they are, whatever is set; of the rest nothing is said, so
 * that it may depend on every input. */
static bool depends_on_no_input(const fmu_variable *v)
{
    return v->reference >= FMU_ANGLE && v->reference < FMU_CURRENT;
}

static void describe_structure(const fmu_variables *list, FILE *xml)
{
    fputs("  <ModelStructure>\n", xml);
    for (int i = 0; i < list->count; i++) {
        const fmu_variable *v = &list->item[i];
        if (v->role == FMU_OUTPUT)
            fprintf(xml, "    <Output valueReference=\"%u\"%s/>\n", v->reference,
                    depends_on_no_input(v) ? " dependencies=\"\"" : "");
    }
    for (int i = 0; i < list->count; i++) {
        const fmu_variable *v = &list->item[i];
        if (v->role == FMU_OUTPUT || v->role == FMU_CALCULATED)
            fprintf(xml, "    <InitialUnknown valueReference=\"%u\"/>\n", v->reference);
    }
    fputs("  </ModelStructure>\n", xml);
}

static void describe_categories(FILE *xml)
{
    fputs("  <LogCategories>\n", xml);
    for (int i = 0; i < FMU_CATEGORIES; i++) {
        fputs("    <Category", xml);
        cli_xml_text(xml, "name", fmu_categories[i].name);
        cli_xml_text(xml, "description", fmu_categories[i].meaning);
        fputs("/>\n", xml);
    }
    fputs("  </LogCategories>\n", xml);
}

void cli_fmu_describe(const cli_fmu *fmu, FILE *xml)
{
    const fmu_variables *list = &fmu->variables;
    describe_head(fmu, xml);
    describe_interface(fmu, xml);
    cli_fmu_describe_units(list, xml);
    if (has_types(list))
        describe_types(list, xml);
    describe_categories(xml);
    fputs("  <DefaultExperiment startTime=\"0\" stopTime=\"60\" stepSize=\"0.1\"/>\n"
          "  <ModelVariables>\n",
          xml);
    for (int i = 0; i < list->count; i++)
        describe_variable(&list->item[i], xml);
    fputs("  </ModelVariables>\n", xml);
    describe_structure(list, xml);
    fputs("</fmiModelDescription>\n", xml);
}
