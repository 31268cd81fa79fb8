/* cli_page.c - `slewtime page`: the file it writes, what it hands over, and what it refuses. */
#include "document.h"

#include <math.h>

#include "../near.h"

/* a page in small: what stands before and behind the truck stays as it is */
static void a_page_is_there(void)
{
    write_file("page.html", "<p>before</p>@TRUCK@<p>behind</p>\n");
    assert_int_equal(setenv("SLEWTIME_PAGE", "page.html", 1), 0);
}

static char *read_back(const char *path)
{
    FILE *file = fopen(path, "r");
    assert_non_null(file);
    return take_all(file);
}

/* the truck that the page holds */
static json_t *truck_in(const char *page)
{
    json_error_t error;
    const char *start = page + strlen("<p>before</p>"), *end = strstr(page, "<p>behind</p>");
    assert_memory_equal(page, "<p>before</p>", strlen("<p>before</p>"));
    assert_non_null(end);
    json_t *truck = json_loadb(start, (size_t)(end - start), 0, &error);
    if (truck == NULL)
        fail_msg("%s in:\n%s", error.text, page);
    return truck;
}

static json_t *hand_over(const char *scenario)
{
    a_page_is_there();
    outcome o = TOOL("page", scenario, "--out", "lesson.html");
    assert_int_equal(o.code, 0);
    assert_string_equal(o.out, "");
    assert_string_equal(o.err, "");
    free_outcome(&o);
    char *page = read_back("lesson.html");
    json_t *truck = truck_in(page);
    free(page);
    return truck;
}

static size_t size_of(json_t *truck, const char *name)
{
    return json_array_size(json_object_get(truck, name));
}

static int key_of(json_t *truck, const char *path)
{
    json_t *keys = json_object_get(truck, "keys"), *key;
    size_t i;
    json_array_foreach(keys, i, key) if (strcmp(json_string_value(json_object_get(key, "path")),
                                                path) == 0) return (int)i;
    fail_msg("no key %s", path);
    return -1;
}

/* of a layer, in SI */
static double value_of(json_t *truck, const char *layer, const char *path)
{
    json_t *list = json_object_get(truck, layer), *item;
    size_t i;
    int key = key_of(truck, path);
    json_array_foreach(list, i, item) if (json_integer_value(json_array_get(item, 0)) ==
                                          key) return json_number_value(json_array_get(item, 1));
    fail_msg("%s is not in %s", path, layer);
    return 0;
}

static void the_truck_in_numbers(void **state)
{
    (void)state;
    json_t *truck = hand_over("truck.yaml");
    assert_string_equal(json_string_value(json_object_get(truck, "title")),
                        "Bench monitor, \"invented\" for these tests");
    assert_string_equal(json_string_value(json_object_get(truck, "file_name")), "truck.yaml");
    near("voltage", value_of(truck, "file", "supply.main.voltage"), 13, 0);
    near("point", value_of(truck, "file", "stow.point.elevation"), -12 * acos(-1) / 180, 1e-15);
    assert_int_equal(size_of(truck, "keepout"), 1);
    assert_int_equal(size_of(truck, "days"), 100);
    assert_int_equal(size_of(truck, "today"), 0);
    json_decref(truck);
}

static void the_hash_is_the_scenarios(void **state)
{
    (void)state;
    json_t *truck = hand_over("truck.yaml");
    json_t *run = document(TOOL("run", "truck.yaml", "--json"));
    assert_string_equal(json_string_value(json_object_get(truck, "scenario")),
                        json_string_value(json_object_get(run, "scenario")));
    json_decref(run);
    json_decref(truck);
}

/* a choice comes with the number of each of its words */
static void words_with_their_numbers(void **state)
{
    (void)state;
    json_t *truck = hand_over("truck.yaml");
    json_t *key =
        json_array_get(json_object_get(truck, "keys"), (size_t)key_of(truck, "elevation.search"));
    assert_string_equal(json_string_value(json_object_get(key, "words")), "down | up");
    json_t *values = json_object_get(key, "values");
    near("down", json_number_value(json_array_get(values, 0)), -1, 0);
    near("up", json_number_value(json_array_get(values, 1)), 1, 0);
    json_decref(truck);
}

/* a page can't work out a window from a magnet, so every occasion gets its own */
static void magnets_become_windows(void **state)
{
    (void)state;
    char *text = calloc(1, 8192);
    assert_non_null(text);
    snprintf(text, 8192,
             "%stoday: {rotation.home.magnet.gap: 13.8 mm}\n"
             "spread: {day: {rotation.home.magnet.gap: {uniform: {low: 13 mm, high: 14 mm}}}}\n",
             TRUCK);
    write_file("magnet.yaml", text);
    free(text);
    a_page_is_there();
    outcome o =
        TOOL("page", "magnet.yaml", "--out", "lesson.html", "--set",
             "rotation.home.magnet.remanence=1.2 T", "--set", "rotation.home.magnet.diameter=8 mm",
             "--set", "rotation.home.magnet.length=5 mm", "--set",
             "rotation.home.magnet.radius=120 mm", "--set", "rotation.home.magnet.gap=12 mm",
             "--set", "rotation.home.magnet.operate_flux=10 mT", "--set",
             "rotation.home.magnet.release_flux=7 mT");
    assert_int_equal(o.code, 0);
    free_outcome(&o);
    char *page = read_back("lesson.html");
    json_t *truck = truck_in(page);
    /* as slewtime window tells them: 2.69 and 1.12 deg */
    const double degree = acos(-1) / 180;
    near("taught", value_of(truck, "teach", "rotation.home.operate") / degree, 2.69, 0.005);
    near("today", value_of(truck, "today", "rotation.home.operate") / degree, 1.12, 0.005);
    free(page);
    json_decref(truck);
}

static void faults_to_hide(void **state)
{
    (void)state;
    json_t *truck = hand_over("truck.yaml");
    json_t *exercise = json_object_get(truck, "exercise"), *cause;
    json_t *causes = json_object_get(exercise, "causes");
    size_t i, observables = json_array_size(json_object_get(exercise, "observables"));
    assert_true(json_array_size(causes) > 20);
    json_array_foreach(causes, i, cause)
    {
        json_t *cases = json_object_get(cause, "cases");
        json_t *motions = json_object_get(cause, "motions");
        assert_true(json_array_size(cases) >= 1);
        assert_int_equal(json_array_size(motions), json_array_size(cases));
        assert_int_equal(json_array_size(json_array_get(motions, 0)) % 3, 0);
        assert_int_equal(json_array_size(json_array_get(cases, 0)), observables);
        assert_int_equal(json_array_size(json_object_get(cause, "reads")), observables);
        assert_true(strlen(json_string_value(json_object_get(cause, "cure"))) > 10);
    }
    json_decref(truck);
}

/* no text can end the element that holds the truck */
static void markup_is_text(void **state)
{
    (void)state;
    a_page_is_there();
    outcome o = TOOL("page", "truck.yaml", "--out", "lesson.html", "--set",
                     "title=</script><script>alert(1)</script>");
    assert_int_equal(o.code, 0);
    free_outcome(&o);
    char *page = read_back("lesson.html");
    has_not(page, "<script>");
    has_not(page, "</script>");
    json_t *truck = truck_in(page);
    assert_string_equal(json_string_value(json_object_get(truck, "title")),
                        "</script><script>alert(1)</script>");
    json_decref(truck);
    free(page);
}

static void what_it_refuses(void **state)
{
    (void)state;
    a_page_is_there();
    remove("lesson.html");
    REFUSES(2, SAYS("page needs a file to write", "--out lesson.html"), "page", "truck.yaml");
    REFUSES(2, SAYS("page needs SCENARIO"), "page", "--out", "lesson.html");
    REFUSES(2, SAYS("out of range"), "page", "truck.yaml", "--out", "lesson.html", "--set",
            "supply.feed.length=-3 m");
    REFUSES(3, SAYS("cannot write", "no/folder.html"), "page", "truck.yaml", "--out",
            "no/folder.html");
    write_file("page.html", "<p>a page without a place</p>\n");
    REFUSES(3, SAYS("no room for a truck", "make page"), "page", "truck.yaml", "--out",
            "lesson.html");
    assert_int_equal(setenv("SLEWTIME_PAGE", "gone.html", 1), 0);
    REFUSES(3, SAYS("gone.html is not there", "make deps-page page"), "page", "truck.yaml", "--out",
            "lesson.html");
    assert_int_not_equal(access("lesson.html", F_OK), 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_truck_in_numbers),     cmocka_unit_test(the_hash_is_the_scenarios),
        cmocka_unit_test(words_with_their_numbers), cmocka_unit_test(magnets_become_windows),
        cmocka_unit_test(faults_to_hide),           cmocka_unit_test(markup_is_text),
        cmocka_unit_test(what_it_refuses),
    };
    return cmocka_run_group_tests(tests, enter_directory, leave_directory);
}
