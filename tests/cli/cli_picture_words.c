/*
 * cli_picture_words.c - what stands in pictures: the words that texts have, no path of a key and no
 * raw word of JSON, and the units that are asked for. tests/page/pictures.test.js asks the same of
 * every example.
 */
#include "tool.h"

#include <ctype.h>

#include "picture_words.h"

enum { PICTURE_WORDS = sizeof picture_words / sizeof *picture_words, SAID_MAX = 60000 };

static char root[512];

static int enter(void **state)
{
    return getcwd(root, sizeof root) == NULL ? -1 : enter_directory(state);
}

/* ---- the words of a picture ---- */

/* what stands between > and < of texts, title and description, a line for each */
static void read_said(const char *svg, char said[SAID_MAX])
{
    static const char *const tags[] = {"<title>", "<desc>", "<text>"};
    char *to = said;
    for (size_t k = 0; k < sizeof tags / sizeof *tags; k++)
        for (const char *at = svg; (at = strstr(at, tags[k])) != NULL;) {
            bool in_tag = true;
            for (; *at != '\0' && *at != '\n'; at++) {
                if (*at == '<' || *at == '>')
                    in_tag = *at == '<';
                else if (!in_tag && to < said + SAID_MAX - 2)
                    *to++ = *at;
            }
            *to++ = '\n';
        }
    *to = '\0';
}

static bool is_letter(char c)
{
    return isalpha((unsigned char)c) || c == '_';
}

/* a whole word, its first letter in either case */
static const char *find_word(const char *text, const char *word)
{
    size_t length = strlen(word);
    for (const char *at = text; *at != '\0'; at++)
        if (tolower((unsigned char)at[0]) == word[0] &&
            strncmp(at + 1, word + 1, length - 1) == 0 && !is_letter(at[length]) &&
            (at == text || !is_letter(at[-1])))
            return at;
    return NULL;
}

/* "stow.point", "home_not_found"; a name of a file is none */
static const char *find_path(const char *text)
{
    for (const char *at = text + 1; *at != '\0'; at++) {
        bool joins = islower((unsigned char)at[-1]) && islower((unsigned char)at[1]);
        bool is_file = strncmp(at, ".csv", 4) == 0 || strncmp(at, ".yaml", 5) == 0;
        if (joins && (*at == '_' || (*at == '.' && !is_file)))
            return at;
    }
    return NULL;
}

static void is_plain(const char *name, const char *said)
{
    for (int i = 0; i < PICTURE_WORDS; i++) {
        const char *at = find_word(said, picture_words[i]);
        if (at != NULL)
            fail_msg("%s has \"%s\": %.70s", name, picture_words[i], at);
    }
    const char *path = find_path(said);
    if (path != NULL)
        fail_msg("%s has a path or a raw word: ...%.70s", name, path - (path - said < 20 ? 0 : 20));
}

/* ---- units ---- */

/* as they stand behind a figure or a comma; "mm2" is a size of cable, as it is given */
static const char *const of_us[] = {"\u00B0F", "psi", "lbf", "gpm", "ft", "in"};
static const char *const of_si[] = {"\u00B0C", "bar", "N", "L/min", "m", "mm"};
enum { UNITS = sizeof of_us / sizeof *of_us };

static bool ends_figure(const char *text, const char *at)
{
    if (at - text < 2 || at[-1] != ' ')
        return false;
    return isdigit((unsigned char)at[-2]) || at[-2] == ',';
}

static void lacks_units(const char *name, const char *said, const char *const units[UNITS])
{
    for (int k = 0; k < UNITS; k++)
        for (const char *at = said; (at = strstr(at, units[k])) != NULL; at++) {
            char next = at[strlen(units[k])];
            if (ends_figure(said, at) && !isalnum((unsigned char)next) && next != ' ')
                fail_msg("%s has %s: %.40s", name, units[k], at - 20 > said ? at - 20 : said);
        }
}

/* ---- pictures ---- */

/* of the example; @ stands for the folder of the examples */
static const char *const asked[][10] = {
    {"run", "@daily.yaml", "--plot"},
    {"run", "@dead-sensor.yaml", "--plot"},
    {"run", "@clearance-pressed.yaml", "--pose"},
    {"run", "@daily.yaml", "--samples", "64", "--pose"},
    {"compare", "@daily.yaml", "--beside", "cold", "--today", "environment.temperature=-20 degC",
     "--plot"},
    {"offset", "@daily.yaml", "--samples", "64", "--plot"},
    {"plan", "@daily.yaml", "--samples", "64", "--plot"},
    {"margin", "@daily.yaml", "--samples", "64", "--plot"},
    {"map", "@daily.yaml", "--vary", "today.environment.temperature=-30degC:40degC:8", "--plot"},
    {"map", "@daily.yaml", "--vary", "today.environment.temperature=-30degC:40degC:6", "--vary",
     "supply.feed.length=5m:30m:6", "--plot"},
    {"feed", "@foam-trailer.yaml", "--plot"},
    {"speed", "@daily.yaml", "--plot"},
    {"nozzle", "@daily.yaml", "--plot"},
    {"window", "@daily.yaml", "--plot"},
    {"window", "@weak-magnet.yaml", "--axis", "rotation", "--plot"},
    {"card", "@daily.yaml", "--samples", "64", "--plot"},
    {"fit", "@daily.yaml", "@stopwatch.csv", "--key", "elevation.motor.no_load_speed", "--key",
     "elevation.gear.efficiency", "--plot"},
    {"causes", "@trouble-call.yaml", "--samples", "16", "--plot"},
    {"causes", "@trouble-call.yaml", "--samples", "16", "--seen", "@seen-falls-short.yaml",
     "--plot"},
    {"causes", "@trouble-call.yaml", "--samples", "16", "--seen", "@seen-nothing-fits.yaml",
     "--plot"},
};
enum { ASKED = sizeof asked / sizeof *asked };

static char *draw(const char *const *words, const char *units)
{
    const char *arguments[16];
    char paths[3][600];
    int count = 0, examples = 0;
    for (; words[count] != NULL; count++) {
        arguments[count] = words[count];
        if (words[count][0] != '@')
            continue;
        snprintf(paths[examples], sizeof paths[0], "%s/examples/%s", root, words[count] + 1);
        arguments[count] = paths[examples++];
    }
    arguments[count++] = "x.svg"; /* of the last one, --plot or --pose */
    arguments[count++] = "--units";
    arguments[count++] = units;
    arguments[count] = NULL;
    outcome o = run_tool(NULL, arguments);
    if (o.code != 0)
        fail_msg("%s: exit code %d\n%s", words[0], o.code, o.err);
    free_outcome(&o);
    char *svg = take_all(fopen("x.svg", "r"));
    unlink("x.svg");
    return svg;
}

static int count_of(const char *text, const char *part)
{
    int count = 0;
    for (const char *at = text; (at = strstr(at, part)) != NULL; at++)
        count++;
    return count;
}

static void check_all(const char *units, const char *const others[UNITS])
{
    static char said[SAID_MAX];
    for (int i = 0; i < ASKED; i++) {
        char name[200];
        snprintf(name, sizeof name, "%s %s --units %s", asked[i][0], asked[i][1], units);
        char *svg = draw(asked[i], units);
        read_said(svg, said);
        is_plain(name, said);
        lacks_units(name, said, others);
        assert_int_equal(count_of(svg, "<title>"), 1); /* none of gnuplot's on a curve */
        free(svg);
    }
}

static void pictures_in_us_units(void **state)
{
    (void)state;
    check_all("us", of_si);
}

static void pictures_in_si_units(void **state)
{
    (void)state;
    check_all("si", of_us);
}

/* ---- the test itself ---- */

static void what_is_not_plain_is_seen(void **state)
{
    (void)state;
    assert_non_null(find_word("Cable is enough", "is enough"));
    assert_non_null(find_word("Undervoltage", "undervoltage"));
    assert_null(find_word("resource", "source"));
    assert_non_null(find_path("least: elevation.motor.no_load_speed"));
    assert_non_null(find_path("fault: home_not_found"));
    assert_null(find_path("read from examples/stopwatch.csv. Then"));
    assert_true(ends_figure("at 7 bar", "at 7 bar" + 5));
}

static void reads_what_a_picture_says(void **state)
{
    static char said[SAID_MAX];
    (void)state;
    read_said("<title>one</title>\n<g>\n<text><tspan font=\"x\" >two</tspan> three</text>\n", said);
    assert_string_equal(said, "one\ntwo three\n");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_is_not_plain_is_seen),
        cmocka_unit_test(reads_what_a_picture_says),
        cmocka_unit_test(pictures_in_us_units),
        cmocka_unit_test(pictures_in_si_units),
    };
    if (system("gnuplot --version > /dev/null 2>&1") != 0)
        return 0;
    return cmocka_run_group_tests(tests, enter, leave_directory);
}
