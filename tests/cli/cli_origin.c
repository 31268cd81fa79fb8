/* cli_origin.c - every output says which scenario, how many samples and which seed it comes from.
 */
#include "tool.h"

static char hash[17];

/* the bench truck with something that varies; invented data */
static int enter(void **state)
{
    int code = enter_directory(state);
    char text[4000];
    snprintf(text, sizeof text,
             "%sspread:\n  day:\n    supply.main.voltage: {uniform: {low: 12 V, high: 14 V}}\n",
             TRUCK);
    write_file("varied.yaml", text);
    outcome o = TOOL("check", "varied.yaml");
    const char *at = strstr(o.out, "scenario ");
    assert_non_null(at);
    snprintf(hash, sizeof hash, "%.16s", at + strlen("scenario "));
    assert_int_equal(strspn(hash, "0123456789abcdef"), 16);
    free_outcome(&o);
    return code;
}

/* each line of a table but the first */
static void every_row_has(const char *text, const char *part)
{
    for (const char *row = strchr(text, '\n'); row != NULL && row[1] != '\0';
         row = strchr(row + 1, '\n')) {
        char line[4000];
        snprintf(line, sizeof line, "%.*s", (int)strcspn(row + 1, "\n"), row + 1);
        has(line, part);
    }
}

/* ---- outputs ---- */

#define ONCE "varied.yaml"
#define MANY "varied.yaml", "--samples", "64", "--seed", "7"
#define LINE "varied.yaml", "--vary", "today.supply.main.voltage=12V:14V:4"

static void text_has_it(void **state)
{
    (void)state;
    outcome o[] = {TOOL("run", ONCE), TOOL("map", LINE), TOOL("offset", MANY), TOOL("margin", MANY),
                   TOOL("card", MANY)};
    for (size_t i = 0; i < sizeof o / sizeof o[0]; i++) {
        has(o[i].out, hash);
        if (i >= 2)
            has(o[i].out, i == 3
                              ? "64 independent simulated days, seed 7, scenario "
                              : "64 simulated days (evenly spread, 8 shifts), seed 7, scenario ");
        free_outcome(&o[i]);
    }
}

static void json_has_it(void **state)
{
    (void)state;
    outcome o[] = {TOOL("run", ONCE, "--json"), TOOL("map", LINE, "--json"),
                   TOOL("offset", MANY, "--json"), TOOL("margin", MANY, "--json"),
                   TOOL("card", MANY, "--json")};
    char field[64];
    snprintf(field, sizeof field, "\"scenario\": \"%s\"", hash);
    for (size_t i = 0; i < sizeof o / sizeof o[0]; i++) {
        has(o[i].out, field);
        if (i >= 2) {
            has(o[i].out, "\"seed\": 7");
            has(o[i].out, "\"samples\": 64");
        }
        free_outcome(&o[i]);
    }
}

static void every_row_of_csv_has_it(void **state)
{
    (void)state;
    outcome o[] = {TOOL("run", ONCE, "--csv"), TOOL("map", LINE, "--csv"),
                   TOOL("offset", MANY, "--csv"), TOOL("margin", MANY, "--csv")};
    char whole[64], independent[64];
    snprintf(whole, sizeof whole, ",%s,64,7,sobol", hash);
    snprintf(independent, sizeof independent, ",%s,64,7,independent", hash);
    for (size_t i = 0; i < sizeof o / sizeof o[0]; i++) {
        assert_true(lines_of(o[i].out) > 1);
        every_row_has(o[i].out, i < 2 ? hash : i == 3 ? independent : whole);
        free_outcome(&o[i]);
    }
}

/* its columns are those that fit reads, so it stands above them */
static void blank_table_has_it(void **state)
{
    (void)state;
    outcome o = TOOL("card", MANY, "--csv");
    char line[120];
    snprintf(line, sizeof line,
             "\n# asked: 64 simulated days (evenly spread, 8 shifts), seed 7, scenario %s\n", hash);
    has(o.out, line);
    free_outcome(&o);
}

static char *read_whole(const char *path)
{
    FILE *file = fopen(path, "r");
    assert_non_null(file);
    return take_all(file);
}

static void pictures_and_traces_have_it(void **state)
{
    (void)state;
    outcome o[] = {
        TOOL("run", ONCE, "--plot", "0.svg"),    TOOL("map", LINE, "--plot", "1.svg"),
        TOOL("offset", MANY, "--plot", "2.svg"), TOOL("margin", MANY, "--plot", "3.svg"),
        TOOL("card", MANY, "--plot", "4.svg"),   TOOL("run", ONCE, "--trace", "trace.csv")};
    for (size_t i = 0; i < sizeof o / sizeof o[0]; i++) {
        char name[16];
        snprintf(name, sizeof name, "%d.svg", (int)i);
        char *text = read_whole(i < 5 ? name : "trace.csv");
        has(text, hash);
        free(text);
        free_outcome(&o[i]);
    }
}

/* of these one scenario is asked, not many samples of it */
static void speed_nozzle_and_feed_have_it(void **state)
{
    (void)state;
    static const char *const commands[] = {"speed", "nozzle", "feed"};
    for (int i = 0; i < 3; i++) {
        const char *size = i == 1 ? "--tip" : "--only", *value = i == 1 ? "2in" : "stow";
        outcome o[] = {TOOL(commands[i], ONCE, size, value),
                       TOOL(commands[i], ONCE, size, value, "--json"),
                       TOOL(commands[i], ONCE, size, value, "--csv", "--plot", "4.svg")};
        char *picture = read_whole("4.svg");
        has(o[0].out, hash);
        has(o[1].out, hash);
        assert_true(lines_of(o[2].out) > 1);
        every_row_has(o[2].out, hash);
        has(picture, hash);
        free(picture);
        for (int k = 0; k < 3; k++)
            free_outcome(&o[k]);
    }
}

/* ---- what the hash sees ---- */

static void an_option_counts_like_the_file(void **state)
{
    (void)state;
    char other[64];
    outcome o = TOOL("run", ONCE, "--set", "supply.feed.length=7 m", "--json");
    snprintf(other, sizeof other, "\"scenario\": \"%s\"", hash);
    has_not(o.out, other);
    free_outcome(&o);
    o = TOOL("run", ONCE, "--set", "supply.feed.length=600 cm", "--json");
    has(o.out, other);
    free_outcome(&o);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(text_has_it),
        cmocka_unit_test(json_has_it),
        cmocka_unit_test(every_row_of_csv_has_it),
        cmocka_unit_test(blank_table_has_it),
        cmocka_unit_test(pictures_and_traces_have_it),
        cmocka_unit_test(speed_nozzle_and_feed_have_it),
        cmocka_unit_test(an_option_counts_like_the_file),
    };
    return cmocka_run_group_tests(tests, enter, leave_directory);
}
