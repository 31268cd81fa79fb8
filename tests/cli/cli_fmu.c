/*
 * cli_fmu.c - `slewtime fmu`: the archive that it writes, its description by the rules of FMI 3.0
 * (Functional Mock-up Interface Specification, version 3.0, 2022; sections from memory), and what
 * it refuses. cli_fmu_run.c loads it.
 */
#include "fmu.h"

#include <libxml/xmlschemas.h>

static char schema[1024], examples[1024], license[1024];

static int enter(void **state)
{
    from_here("tests/cli/fmi3.xsd", schema, sizeof schema);
    from_here("examples", examples, sizeof examples);
    from_here("LICENSE", license, sizeof license);
    return enter_directory(state);
}

static void describe(const char *const *arguments, const char *path, description *d)
{
    make_fmu(arguments);
    take_out(path, "modelDescription.xml");
    *d = read_description();
}

#define DESCRIBE(d, fmu, ...)                                                                      \
    describe((const char *const[]){"fmu", __VA_ARGS__, "--out", fmu, NULL}, fmu, d)

/* a rule: what breaks it is not there */
static void none(const description *d, const char *path)
{
    char count[512];
    snprintf(count, sizeof count, "count(%s)", path);
    double found = ask_number(d, count);
    if (found != 0)
        fail_msg("%g of %s", found, path);
}

/* ---- the rules ---- */

static void keeps_the_schema(const description *d)
{
    xmlSchemaParserCtxt *parser = xmlSchemaNewParserCtxt(schema);
    xmlSchema *rules = xmlSchemaParse(parser);
    assert_non_null(rules);
    xmlSchemaValidCtxt *validator = xmlSchemaNewValidCtxt(rules);
    assert_int_equal(xmlSchemaValidateDoc(validator, d->document), 0);
    xmlSchemaFreeValidCtxt(validator);
    xmlSchemaFree(rules);
    xmlSchemaFreeParserCtxt(parser);
}

static void keeps_the_rules_of_variables(const description *d)
{
    /* 2.4.7.4: which causality goes with which variability */
    none(d, "//ModelVariables/*[@causality='parameter' and @variability!='fixed' and "
            "@variability!='tunable']");
    none(d, "//ModelVariables/*[@causality='calculatedParameter' and @variability!='fixed' and "
            "@variability!='tunable']");
    none(d, "//ModelVariables/*[(@causality='input' or @causality='output') and "
            "@variability!='discrete' and @variability!='continuous']");
    none(d, "//ModelVariables/*[@variability='continuous' and not(self::Float64)]");
    /* 2.4.7.4: exactly one independent variable, continuous, without start and initial */
    near("independent", ask_number(d, "count(//*[@causality='independent'])"), 1, 0);
    none(d, "//*[@causality='independent' and (@variability!='continuous' or @start or @initial)]");
    /* 2.4.7.5: inputs and parameters have a start; what is calculated has none */
    none(d, "//ModelVariables/*[(@causality='input' or @causality='parameter') and not(@start)]");
    none(d, "//ModelVariables/*[(@causality='output' or @causality='calculatedParameter') and "
            "@start]");
    none(d, "//ModelVariables/*[@causality='input' and @initial]");
    /* 2.4.4: no type is called as a variable is */
    none(d, "//TypeDefinitions/*[@name = //ModelVariables/*/@name]");
    /* 2.4.3: a display unit is one of the unit's */
    none(d, "//Float64[@displayUnit and not(@unit)]");
    /* 2.4.7.6: structured names: no name is the beginning of another */
    none(d, "//ModelVariables/*[@name = 'event' or @name = 'report' or @name = 'command']");
}

/* an attribute of the i-th variable; `without`: it has none */
static double number_of(const description *d, int i, const char *attribute, double without)
{
    char path[80], text[80], *end;
    snprintf(path, sizeof path, "//ModelVariables/*[%d]/@%s", i, attribute);
    ask_text(d, path, text, sizeof text);
    double value = strtod(text, &end); /* XPath 1.0 knows no exponents */
    return *text != '\0' && *end == '\0' ? value : without;
}

/* 2.4.7.5: a start lies within its bounds */
static int keeps_its_bounds(const description *d, int i)
{
    double low = number_of(d, i, "min", -INFINITY), high = number_of(d, i, "max", INFINITY);
    double start = number_of(d, i, "start", NAN);
    assert_true(low <= high);
    if (isnan(start))
        return 0;
    assert_true(start >= low && start <= high);
    return isfinite(low) || isfinite(high);
}

/* what XPath 1.0 can't ask: it has no name for the node that is asked about */
static void keeps_the_rules_of_references(const description *d)
{
    char path[300], name[200], type[200], start[40], unit[80], shown[80];
    int count = (int)ask_number(d, "count(//ModelVariables/*)");
    int bounded = 0;
    assert_true(count > 40);
    for (int i = 1; i <= count; i++) {
        bounded += keeps_its_bounds(d, i);
        snprintf(path, sizeof path, "//ModelVariables/*[%d]/@name", i);
        ask_text(d, path, name, sizeof name);
        /* 2.4.7.6: letters, digits and underscores between dots */
        assert_int_equal(strspn(name, "abcdefghijklmnopqrstuvwxyz_0123456789."), strlen(name));
        snprintf(path, sizeof path, "//ModelVariables/*[%d]/@declaredType", i);
        ask_text(d, path, type, sizeof type);
        snprintf(path, sizeof path, "//ModelVariables/*[%d]/@start", i);
        ask_text(d, path, start, sizeof start);
        if (type[0] != '\0' && start[0] != '\0') {
            snprintf(path, sizeof path, "count(//EnumerationType[@name='%.90s']/Item[@value='%s'])",
                     type, start);
            near(name, ask_number(d, path), 1, 0);
        }
        snprintf(path, sizeof path, "//ModelVariables/*[%d]/@unit", i);
        ask_text(d, path, unit, sizeof unit);
        snprintf(path, sizeof path, "//ModelVariables/*[%d]/@displayUnit", i);
        ask_text(d, path, shown, sizeof shown);
        if (shown[0] != '\0') {
            snprintf(path, sizeof path, "count(//Unit[@name='%s']/DisplayUnit[@name='%s'])", unit,
                     shown);
            near(name, ask_number(d, path), 1, 0);
        }
    }
    assert_true(bounded > 20);
}

static void keeps_the_rules_of_structure(const description *d)
{
    char path[300], one[40], other[40];
    /* 2.4.8: all outputs, in the order of the variables; of the start also calculated parameters */
    int outputs = (int)ask_number(d, "count(//ModelVariables/*[@causality='output'])");
    near("outputs", ask_number(d, "count(//ModelStructure/Output)"), outputs, 0);
    for (int i = 1; i <= outputs; i++) {
        snprintf(path, sizeof path, "(//ModelVariables/*[@causality='output'])[%d]/@valueReference",
                 i);
        ask_text(d, path, one, sizeof one);
        snprintf(path, sizeof path, "//ModelStructure/Output[%d]/@valueReference", i);
        ask_text(d, path, other, sizeof other);
        assert_string_equal(one, other);
    }
    const char *unknown =
        "(//ModelVariables/*[@causality='output' or @causality='calculatedParameter'])";
    snprintf(path, sizeof path, "count(%s)", unknown);
    int unknowns = (int)ask_number(d, path);
    near("unknowns", ask_number(d, "count(//ModelStructure/InitialUnknown)"), unknowns, 0);
    for (int i = 1; i <= unknowns; i++) {
        snprintf(path, sizeof path, "%s[%d]/@valueReference", unknown, i);
        ask_text(d, path, one, sizeof one);
        snprintf(path, sizeof path, "//ModelStructure/InitialUnknown[%d]/@valueReference", i);
        ask_text(d, path, other, sizeof other);
        assert_string_equal(one, other);
    }
    /* 4.3.1: it promises what it does, and returns early without being asked in between */
    says(d, "//CoSimulation/@canGetAndSetFMUState", "true");
    says(d, "//CoSimulation/@canSerializeFMUState", "true");
    says(d, "//CoSimulation/@canHandleVariableCommunicationStepSize", "true");
    says(d, "//CoSimulation/@hasEventMode", "true");
    says(d, "//CoSimulation/@mightReturnEarlyFromDoStep", "true");
    none(d, "//CoSimulation[@providesIntermediateUpdate='true' or "
            "@canReturnEarlyAfterIntermediateUpdate='true']");
}

static void keeps_the_rules(const description *d)
{
    keeps_the_schema(d);
    keeps_the_rules_of_variables(d);
    keeps_the_rules_of_references(d);
    keeps_the_rules_of_structure(d);
}

static void the_description_keeps_the_rules(void **state)
{
    (void)state;
    static const char *const names[] = {"daily", "fireboat-24v", "weak-magnet",
                                        "warm-stow-cold-deploy", "sheet-pickup"};
    for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
        char path[1200];
        description d;
        snprintf(path, sizeof path, "%s/%s.yaml", examples, names[i]);
        DESCRIBE(&d, "x.fmu", path, "--quiet");
        keeps_the_rules(&d);
        free_description(&d);
        DESCRIBE(&d, "x.fmu", path, "--quiet", "--plant");
        keeps_the_rules(&d);
        none(&d, "//ModelVariables/*[starts-with(@name, 'stow.') or "
                 "starts-with(@name, 'teach.') or starts-with(@name, 'report.')]");
        free_description(&d);
    }
    assert_int_equal(remove("x.fmu"), 0);
}

/* ---- what it says of the truck ---- */

#define VARIABLE(name, attribute) "//ModelVariables/*[@name='" name "']/@" attribute

static void keys_are_variables(void **state)
{
    (void)state;
    description d;
    DESCRIBE(&d, "x.fmu", "truck.yaml", "--today", "supply.main.voltage=11.8 V", "--today",
             "rotation.load.friction=9 N.m");
    says(&d, "/*/@modelName", "Bench monitor, \"invented\" for these tests");
    says(&d, VARIABLE("supply.main.voltage", "causality"), "input");
    says(&d, VARIABLE("supply.main.voltage", "start"), "11.8");
    says(&d, VARIABLE("teach.supply.main.voltage", "start"), "13");
    says(&d, VARIABLE("teach.supply.main.voltage", "variability"), "fixed");
    says(&d, VARIABLE("rotation.load.friction", "start"), "9");
    says(&d, VARIABLE("teach.rotation.load.friction", "start"), "6");
    none(&d, "//*[@name='teach.elevation.load.friction']");
    /* what an importer may tell of today has its own value while teaching */
    says(&d, VARIABLE("teach.environment.temperature", "start"), "293.15");
    says(&d, VARIABLE("elevation.load.friction", "variability"), "tunable");
    says(&d, VARIABLE("elevation.load.friction", "unit"), "N.m");
    says(&d, VARIABLE("elevation.load.friction", "min"), "0");
    says(&d, VARIABLE("elevation.gear.ratio", "variability"), "fixed");
    says(&d, VARIABLE("elevation.angle", "unit"), "rad");
    says(&d, VARIABLE("elevation.angle", "displayUnit"), "deg");
    says(&d, VARIABLE("environment.temperature", "unit"), "K");
    /* 2.4.3: shown = factor * value + offset */
    says(&d, "//Unit[@name='K']/DisplayUnit[@name='degC']/@offset", "-273.15");
    near("deg", ask_number(&d, "//Unit[@name='rad']/DisplayUnit[@name='deg']/@factor"),
         180 / acos(-1), 1e-13);
    /* a rule is a number: brownout of 12 V */
    says(&d, VARIABLE("controller.brownout.voltage", "start"), "9");
    free_description(&d);
    assert_int_equal(remove("x.fmu"), 0);
}

static void without_a_deploy_there_is_no_such_command(void **state)
{
    (void)state;
    description d;
    char text[sizeof TRUCK];
    const char *deploy = strstr(TRUCK, "deploy:\n"), *keepout = strstr(TRUCK, "keepout:\n");
    snprintf(text, sizeof text, "%.*s%s", (int)(deploy - TRUCK), TRUCK, keepout);
    write_file("stows.yaml", text);
    DESCRIBE(&d, "x.fmu", "stows.yaml");
    keeps_the_rules(&d);
    none(&d, "//ModelVariables/*[@name='command.deploy' or starts-with(@name, 'deploy.')]");
    near("stow", ask_number(&d, "count(//*[@name='command.stow'])"), 1, 0);
    free_description(&d);
}

/* the SI Brochure, 9th edition (2019), table 4: V = kg m2 s-3 A-1, Pa = kg m-1 s-2 */
static void units_have_their_bases(void **state)
{
    (void)state;
    description d;
    DESCRIBE(&d, "x.fmu", "truck.yaml");
    says(&d, "//Unit[@name='V']/BaseUnit/@kg", "1");
    says(&d, "//Unit[@name='V']/BaseUnit/@m", "2");
    says(&d, "//Unit[@name='V']/BaseUnit/@s", "-3");
    says(&d, "//Unit[@name='V']/BaseUnit/@A", "-1");
    says(&d, "//Unit[@name='Pa']/BaseUnit/@m", "-1");
    says(&d, "//Unit[@name='N.m/Pa']/BaseUnit/@m", "3");
    none(&d, "//Unit[@name='N.m/Pa']/BaseUnit[@kg or @s]");
    says(&d, "//Unit[@name='A.s']/BaseUnit/@s", "1");
    free_description(&d);
    assert_int_equal(remove("x.fmu"), 0);
}

static void the_archive_is_as_the_standard_has_it(void **state)
{
    (void)state;
    char module[128];
    MAKE_FMU("truck.yaml", "--out", "x.fmu");
    MAKE_FMU("truck.yaml", "--out", "y.fmu");
    /* 2.5.1 */
    take_out("x.fmu", "modelDescription.xml");
    find_module("x.fmu", "slewtime_machine", module);
    take_out("x.fmu", module);
    take_out("x.fmu", "resources/scenario.txt");
    take_out("x.fmu", "documentation/index.html");
    /* the same truck is the same file, another one has another token */
    FILE *x = fopen("x.fmu", "rb"), *y = fopen("y.fmu", "rb");
    assert_true(x != NULL && y != NULL);
    for (int a = 0, b = 0; a != EOF;) {
        a = getc(x);
        b = getc(y);
        assert_int_equal(a, b);
    }
    fclose(x);
    fclose(y);
    char one[96], other[96];
    description d = read_description();
    ask_text(&d, "/*/@instantiationToken", one, sizeof one);
    free_description(&d);
    DESCRIBE(&d, "y.fmu", "truck.yaml", "--set", "rotation.load.friction=6.5 N.m");
    ask_text(&d, "/*/@instantiationToken", other, sizeof other);
    free_description(&d);
    assert_string_not_equal(one, other);
}

static char *bytes_of(const char *path, size_t *length)
{
    FILE *file = fopen(path, "rb");
    assert_true(file != NULL && fseek(file, 0, SEEK_END) == 0);
    *length = (size_t)ftell(file);
    rewind(file);
    char *bytes = malloc(*length);
    assert_non_null(bytes);
    assert_int_equal(fread(bytes, 1, *length, file), *length);
    fclose(file);
    return bytes;
}

/* 2.5.1: the license is in a folder of its own, under the name by which it is looked for */
static void the_license_goes_with_it(void **state)
{
    (void)state;
    size_t length, own_length;
    MAKE_FMU("truck.yaml", "--out", "x.fmu");
    take_out("x.fmu", "documentation/licenses/license.txt");
    char *there = bytes_of("license.txt", &length), *own = bytes_of(license, &own_length);
    assert_int_equal(length, own_length);
    assert_memory_equal(there, own, length);
    free(there);
    free(own);
}

/* what the head of a module says of its platform names its folder: 2.5.1.4.1; the numbers are those
 * of the System V ABI's registry (from memory) */
static void the_module_says_its_platform(void **state)
{
    (void)state;
    static const struct {
        unsigned char machine, word, order;
        const char *folder;
    } kinds[] = {{62, 2, 1, "x86_64-linux"},   {3, 1, 1, "x86-linux"},
                 {183, 2, 1, "aarch64-linux"}, {40, 1, 1, "aarch32-linux"},
                 {243, 2, 1, "riscv64-linux"}, {243, 1, 1, "riscv32-linux"},
                 {21, 2, 2, "ppc64-linux"},    {20, 1, 2, "ppc32-linux"}};
    char path[64];
    for (size_t i = 0; i < sizeof kinds / sizeof *kinds; i++) {
        unsigned char head[64] = {0x7f, 'E', 'L', 'F', kinds[i].word, kinds[i].order, 1};
        bool high_first = kinds[i].order == 2;
        head[high_first ? 19 : 18] = kinds[i].machine;
        write_bytes("other.so", head, sizeof head);
        assert_int_equal(setenv("SLEWTIME_FMU", "other.so", 1), 0);
        MAKE_FMU("truck.yaml", "--out", "x.fmu");
        snprintf(path, sizeof path, "binaries/%s/slewtime_machine.so", kinds[i].folder);
        take_out("x.fmu", path);
        /* an architecture that the standard does not name; a text */
        head[high_first ? 18 : 19] = 0x7f;
        write_bytes("other.so", head, sizeof head);
        REFUSES(3, SAYS("other.so", "has a name for"), "fmu", "truck.yaml", "--out", "z.fmu");
        write_file("other.so", "so");
        REFUSES(3, SAYS("other.so", "has a name for"), "fmu", "truck.yaml", "--out", "z.fmu");
    }
    assert_int_equal(unsetenv("SLEWTIME_FMU"), 0);
    assert_int_not_equal(access("z.fmu", F_OK), 0);
}

static void markup_is_text(void **state)
{
    (void)state;
    description d;
    DESCRIBE(&d, "x.fmu", "truck.yaml", "--set", "title=<a & \"b\" 'c'> 5 °C");
    says(&d, "/*/@modelName", "<a & \"b\" 'c'> 5 °C");
    free_description(&d);
}

static void what_it_refuses(void **state)
{
    (void)state;
    remove("x.fmu");
    REFUSES(2, SAYS("fmu needs a file to write", "--out truck.fmu"), "fmu", "truck.yaml");
    REFUSES(2, SAYS("fmu needs SCENARIO"), "fmu", "--out", "x.fmu");
    REFUSES(2, SAYS("out of range"), "fmu", "truck.yaml", "--out", "x.fmu", "--set",
            "supply.feed.length=-3 m");
    /* what can't be taught is told with its place in the file */
    REFUSES(2, SAYS("truck.yaml:", "stow.point"), "fmu", "truck.yaml", "--out", "x.fmu", "--teach",
            "supply.main.voltage=4 V");
    REFUSES(3, SAYS("cannot write", "no/folder.fmu"), "fmu", "truck.yaml", "--out",
            "no/folder.fmu");
    assert_int_equal(setenv("SLEWTIME_FMU", "gone.so", 1), 0);
    REFUSES(3, SAYS("gone.so", "make all"), "fmu", "truck.yaml", "--out", "x.fmu");
    assert_int_equal(unsetenv("SLEWTIME_FMU"), 0);
    assert_int_not_equal(access("x.fmu", F_OK), 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_description_keeps_the_rules),
        cmocka_unit_test(keys_are_variables),
        cmocka_unit_test(without_a_deploy_there_is_no_such_command),
        cmocka_unit_test(units_have_their_bases),
        cmocka_unit_test(the_archive_is_as_the_standard_has_it),
        cmocka_unit_test(the_license_goes_with_it),
        cmocka_unit_test(the_module_says_its_platform),
        cmocka_unit_test(markup_is_text),
        cmocka_unit_test(what_it_refuses),
    };
    return cmocka_run_group_tests(tests, enter, leave_directory);
}
