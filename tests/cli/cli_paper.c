/* cli_paper.c - a wiring check on paper: feed, speed and window on a file with only what they need.
 */
#include "document.h"

/* the truck of these tests without where it begins, how it finds home, and what it is to do */
static void write_paper(const char *path)
{
    char text[4000], *to = text;
    static const char *const left_out[] = {"  start:", "  home: {angle", "  search:"};
    const char *end = strstr(TRUCK, "stow:");
    for (const char *line = TRUCK; line < end; line = strchr(line, '\n') + 1) {
        bool out = false;
        for (int i = 0; i < 3; i++)
            out |= strncmp(line, left_out[i], strlen(left_out[i])) == 0;
        size_t length = (size_t)(strchr(line, '\n') + 1 - line);
        if (!out)
            to = (char *)memcpy(to, line, length) + length;
    }
    *to = '\0';
    write_file(path, text);
}

static int enter(void **state)
{
    int code = enter_directory(state);
    write_paper("paper.yaml");
    return code;
}

static json_t *part_of(json_t *whole, const char *name)
{
    json_t *part = json_object_get(whole, name);
    assert_non_null(part);
    return part;
}

/* the steady points are those of the whole file */
static void is_alike(const char *command, const char *const parts[], int count)
{
    json_t *paper = document(TOOL(command, "paper.yaml", "--json"));
    json_t *whole = document(TOOL(command, "truck.yaml", "--json"));
    for (int i = 0; i < count; i++)
        assert_true(json_equal(part_of(paper, parts[i]), part_of(whole, parts[i])));
    json_decref(paper);
    json_decref(whole);
}

static void steady_figures_are_those_of_the_whole_file(void **state)
{
    (void)state;
    static const char *const of_feed[] = {"as_it_is", "weather", "conductors", "length"};
    is_alike("feed", of_feed, 4);
    outcome o = TOOL("speed", "paper.yaml"), whole = TOOL("speed", "truck.yaml");
    const char *needs = strstr(o.out, "Lowest battery voltage, V");
    const char *same = strstr(whole.out, "Lowest battery voltage, V");
    assert_true(needs != NULL && same != NULL);
    assert_int_equal(strncmp(needs, same, (size_t)(strstr(same, "\n(scenario") - same)), 0);
    free_outcome(&o);
    free_outcome(&whole);
}

static void feed_says_what_was_left_out(void **state)
{
    (void)state;
    outcome o = TOOL("feed", "paper.yaml");
    assert_int_equal(o.code, 0);
    assert_string_equal(o.err, "");
    has(o.out, "A wiring check on paper, at one steady operating point: teaching, stow and\n"
               "  deploy are left out.\nAmpacity and fuse NOT checked");
    has_not(o.out, "To see it in a run");
    has_not(o.out, "simulated days");
    free_outcome(&o);
    json_t *whole = document(TOOL("feed", "paper.yaml", "--json"));
    assert_true(json_is_null(part_of(whole, "work")));
    has(json_string_value(part_of(whole, "lacking")), "stow");
    json_decref(whole);
    whole = document(TOOL("feed", "truck.yaml", "--json"));
    assert_true(json_is_object(part_of(whole, "work")));
    assert_true(json_is_null(part_of(whole, "lacking")));
    json_decref(whole);
}

static void pictures_are_drawn(void **state)
{
    (void)state;
    outcome o = TOOL("feed", "paper.yaml", "--plot", "paper.svg");
    assert_int_equal(o.code, 0);
    char *svg = take_all(fopen("paper.svg", "r"));
    has(svg, "Steady point only: no sequence in the file to run");
    free(svg);
    free_outcome(&o);
    o = TOOL("speed", "paper.yaml", "--plot", "paper.svg");
    assert_int_equal(o.code, 0);
    free_outcome(&o);
}

/* the home that is asked about and the direction of its search, nothing else */
static void window_needs_the_home_alone(void **state)
{
    (void)state;
    outcome o = TOOL("window", "paper.yaml");
    assert_int_equal(o.code, 2);
    has(o.err, "error: elevation.home.angle: required");
    has(o.err, "error: elevation.search: required");
    has_not(o.err, "rotation");
    has_not(o.err, "stow");
    has_not(o.err, "start");
    free_outcome(&o);
    o = TOOL("window", "paper.yaml", "--set", "elevation.home.angle=0deg", "--set",
             "elevation.search=down");
    outcome whole = TOOL("window", "truck.yaml");
    assert_int_equal(o.code, 0);
    const char *found = strstr(o.out, "Where the controller takes home");
    const char *same = strstr(whole.out, "Where the controller takes home");
    assert_true(found != NULL && same != NULL);
    assert_int_equal(strncmp(found, same, (size_t)(strstr(same, "Disconnect and") - same)), 0);
    free_outcome(&o);
    free_outcome(&whole);
}

/* what is missing and needed, and no more */
static void an_error_names_what_is_needed(void **state)
{
    static const char *const commands[] = {"feed", "speed"};
    (void)state;
    write_file("less.yaml", "format: 1\nsupply: {main: {voltage: 13 V}}\n");
    for (int i = 0; i < 2; i++) {
        outcome o = TOOL(commands[i], "less.yaml");
        assert_int_equal(o.code, 2);
        has(o.err, "supply.feed");
        has(o.err, "elevation");
        has_not(o.err, "stow");
        has_not(o.err, "search");
        has_not(o.err, "start");
        free_outcome(&o);
    }
}

static void runs_need_it_all(void **state)
{
    static const char *const commands[] = {"run", "check", "offset", "nozzle"};
    (void)state;
    for (int i = 0; i < 4; i++) {
        outcome o = TOOL(commands[i], "paper.yaml");
        assert_int_equal(o.code, 2);
        has(o.err, "error: stow: required, but missing");
        has(o.err, "error: rotation.start: required, but missing");
        free_outcome(&o);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(steady_figures_are_those_of_the_whole_file),
        cmocka_unit_test(feed_says_what_was_left_out),
        cmocka_unit_test(pictures_are_drawn),
        cmocka_unit_test(window_needs_the_home_alone),
        cmocka_unit_test(an_error_names_what_is_needed),
        cmocka_unit_test(runs_need_it_all),
    };
    return cmocka_run_group_tests(tests, enter, leave_directory);
}
