/* cli_compare_output.c - `slewtime compare` for other software, and as a picture. */
#include <math.h>

#include "compare/figures.h"
#include "document.h"

/* what makes the bench truck fault, and what can't be taught */
#define CLOSE "--set", "stow.point.elevation=-19.7deg", "--today", "supply.main.voltage=16.5V"
#define DEAD  "--teach", "rotation.home.present=no"

static const char *text_of(const json_t *object, const char *name)
{
    return json_string_value(json_object_get(object, name));
}

static json_t *load(outcome o)
{
    json_t *whole = json_of(&o);
    assert_int_equal(o.code, 0);
    assert_non_null(whole);
    free_outcome(&o);
    return whole;
}

/* ---- JSON ---- */

/* all that run says of it, but the events, which would be long, and the version, told once */
static void json_has_what_run_has(void **state)
{
    (void)state;
    json_t *whole = load(TOOL("compare", "truck.yaml", "--json", "--beside", "close", CLOSE));
    json_t *alone = load(TOOL("run", "truck.yaml", "--json", CLOSE));
    json_t *second = json_array_get(json_object_get(whole, "scenarios"), 1), *value;
    const char *name;
    int names = 0;
    json_object_foreach(alone, name, value)
    {
        if (strcmp(name, "events") == 0 || strcmp(name, "slewtime") == 0)
            continue;
        if (!json_equal(json_object_get(second, name), value))
            fail_msg("%s is another than run says", name);
        names++;
    }
    assert_true(names >= 11);
    assert_null(json_object_get(second, "events"));
    assert_string_equal(text_of(second, "column"), "B");
    assert_string_equal(text_of(second, "name"), "close");
    assert_string_equal(text_of(second, "file"), "truck.yaml");
    assert_true(json_is_null(json_object_get(second, "error")));
    assert_string_equal(text_of(second, "finding"),
                        "faults: driven into a hard stop, elevation after 7.4 s; enters a keep-out "
                        "zone");
    json_decref(alone);
    json_decref(whole);
}

static void json_has_the_keys_that_differ(void **state)
{
    (void)state;
    json_t *whole = load(TOOL("compare", "truck.yaml", "--json", "--beside", "close", CLOSE));
    json_t *list = json_object_get(whole, "differences");
    assert_int_equal(json_array_size(list), 2);
    json_t *first = json_array_get(list, 0);
    assert_string_equal(text_of(first, "path"), "today.supply.main.voltage");
    json_t *values = json_object_get(first, "values");
    assert_string_equal(json_string_value(json_array_get(values, 0)), "13 V");
    assert_string_equal(json_string_value(json_array_get(values, 1)), "16.5 V");
    assert_string_equal(text_of(json_array_get(list, 1), "path"), "stow.point.elevation");
    json_decref(whole);
}

static void json_says_what_cannot_be_taught(void **state)
{
    (void)state;
    json_t *whole =
        load(TOOL("compare", "truck.yaml", "--json", "--quiet", "--beside", "dead", DEAD));
    json_t *second = json_array_get(json_object_get(whole, "scenarios"), 1);
    has(text_of(second, "error"), "rotation, home sensor not found");
    assert_string_equal(text_of(second, "finding"), "can't be taught");
    assert_int_equal(strlen(text_of(second, "scenario")), 16);
    assert_null(json_object_get(second, "stow"));
    json_decref(whole);
}

/* a name that no JSON can hold is null, and the rest is there */
static void json_leaves_out_what_is_no_text(void **state)
{
    (void)state;
    json_t *whole = load(TOOL("compare", "truck.yaml", "--json", "--beside", "caf\xE9"));
    json_t *second = json_array_get(json_object_get(whole, "scenarios"), 1);
    assert_true(json_is_null(json_object_get(second, "name")));
    assert_string_equal(text_of(second, "column"), "B");
    json_decref(whole);
}

/* ---- CSV ---- */

/* field number `index` of a line without quotes */
static void field(const char *line, int index, char text[64])
{
    for (; index > 0; index--) {
        line = strchr(line, ',');
        assert_non_null(line);
        line++;
    }
    snprintf(text, 64, "%.*s", (int)strcspn(line, ",\n"), line);
}

static int index_of(const char *header, const char *name)
{
    char text[64];
    for (int i = 0;; i++) {
        field(header, i, text);
        if (strcmp(text, name) == 0)
            return i;
    }
}

static void csv_has_a_row_for_each_scenario(void **state)
{
    (void)state;
    outcome o = TOOL("compare", "truck.yaml", "--csv", "--beside", "close", CLOSE);
    char text[64];
    assert_int_equal(lines_of(o.out), 3);
    has(o.out, "column,name,file,error,stored_times_s_rotation,");
    has(o.out, ",keepouts_entered,today.supply.main.voltage,stow.point.elevation,scenario\n");
    const char *first = strchr(o.out, '\n') + 1, *second = strchr(first, '\n') + 1;
    assert_true(strncmp(second, "B,close,truck.yaml,,", 20) == 0);
    field(second, index_of(o.out, "stow_fault"), text);
    assert_string_equal(text, "hard_stop");
    field(second, index_of(o.out, "stow.point.elevation"), text);
    assert_string_equal(text, "-19.7 deg");
    field(second, index_of(o.out, "deploy_duration_s"), text);
    assert_string_equal(text, "");
    field(first, index_of(o.out, "deploy_duration_s"), text);
    assert_string_equal(text, "2");
    field(first, index_of(o.out, "stow_elevation_deg"), text);
    assert_true(fabs(atof(text) + 12.03) < 0.005); /* as the table shows it */
    free_outcome(&o);
}

/* what the text shows are the figures of the CSV, and its units are those of their names */
static void every_row_of_the_text_is_a_column(void **state)
{
    (void)state;
    outcome o = TOOL("compare", "truck.yaml", "--csv", "--beside", "close", CLOSE);
    o.out[strcspn(o.out, "\n")] = ',';
    for (int k = 0; k < CLI_FIGURES; k++) {
        char column[80];
        snprintf(column, sizeof column, ",%s,", cli_figures[k].name);
        has(o.out, column);
        if (strstr(column, "_deg,") != NULL)
            assert_string_equal(cli_figure_unit(&cli_figures[k]), "°");
    }
    free_outcome(&o);
    o = TOOL("compare", "truck.yaml", "--beside", "close", CLOSE);
    has(o.out, "stored time rotation         s ");
    has(o.out, "lowest while running         V ");
    has(o.out, "peak current                 A ");
    has(o.out, "charge                       A s");
    has(o.out, "below it while running       ");
    free_outcome(&o);
}

static void csv_quotes_names_and_leaves_empty_what_was_not_run(void **state)
{
    (void)state;
    outcome o =
        TOOL("compare", "truck.yaml", "--csv", "--quiet", "--beside", "dead, \"old\"", DEAD);
    has(o.out, "\nB,\"dead, \"\"old\"\"\",truck.yaml,\"while teaching, searching for home: "
               "rotation, home sensor not found\",,,,");
    free_outcome(&o);
}

/* ---- the picture ---- */

static bool has_gnuplot(void)
{
    return system("gnuplot --version > /dev/null 2>&1") == 0;
}

static char *take_picture(const char *path)
{
    FILE *file = fopen(path, "r");
    assert_non_null(file);
    char *text = take_all(file);
    assert_int_equal(unlink(path), 0);
    return text;
}

static void picture_is_drawn(void **state)
{
    (void)state;
    if (!has_gnuplot())
        skip();
    int files = count_files();
    outcome o = TOOL("compare", "truck.yaml", "--plot", "x.png", "--beside", "close", CLOSE);
    assert_int_equal(o.code, 0);
    assert_string_equal(o.err, "");
    is_png("x.png");
    free_outcome(&o);
    assert_int_equal(unlink("x.png"), 0);
    assert_int_equal(count_files(), files);
}

static void its_title_says_the_finding(void **state)
{
    (void)state;
    if (!has_gnuplot())
        skip();
    outcome o = TOOL("compare", "truck.yaml", "--plot", "x.svg", "--quiet", "--beside", "close",
                     CLOSE, "--beside", "dead", DEAD, "--beside", "same");
    assert_int_equal(o.code, 0);
    char *text = take_picture("x.svg");
    has(text, "A, D: all is well; B: fault: hard stop; C: can’t be taught");
    has(text, "they differ in battery voltage today, rotation home present when taught, "
              "stow point, elevation");
    has(text, "B  close");
    has(text, "searching for home: rotation, home");
    has(text, "Close-up: how elevation comes to where it is stowed");
    has(text, "6.92 s ↓"); /* the run's first trouble: the keep-out is entered */
    free(text);
    free_outcome(&o);
}

/* a stand-in for gnuplot keeps its variables: home lies to the left, the search reverses at the
 * right stop, and the deploy misses its target later */
static void a_reversal_of_the_search_is_no_trouble(void **state)
{
    char here[512], path[4800], old[4096], *words;
    double wrong = 0, verdict = 0;
    (void)state;
    assert_non_null(getcwd(here, sizeof here));
    snprintf(old, sizeof old, "%s", getenv("PATH"));
    snprintf(path, sizeof path, "#!/bin/sh\necho \"$@\" > '%s/said'\necho 'picture</svg>'\n", here);
    write_file("gnuplot", path);
    snprintf(path, sizeof path, "%s:%s", here, old);
    assert_int_equal(chmod("gnuplot", 0755) | setenv("PATH", path, 1), 0);
    outcome o = TOOL("compare", "truck.yaml", "--plot", "x.svg", "--beside", "behind", "--set",
                     "rotation.start=20 deg", "--set", "deploy.seconds.elevation=1 s");
    assert_int_equal(unlink("gnuplot") | setenv("PATH", old, 1), 0);
    assert_int_equal(o.code, 0);
    FILE *said = fopen("said", "r");
    assert_non_null(said);
    words = take_all(said);
    assert_non_null(strstr(words, "wrong_B="));
    assert_int_equal(sscanf(strstr(words, "wrong_B="), "wrong_B=%lf", &wrong), 1);
    assert_int_equal(sscanf(strstr(words, "verdict_B="), "verdict_B=%lf", &verdict), 1);
    assert_true(wrong > verdict);
    free(words);
    free_outcome(&o);
}

/* text and picture name the scenario that each column was worked out from, as run does */
static void each_column_says_what_it_comes_from(void **state)
{
    (void)state;
    json_t *alone = load(TOOL("run", "truck.yaml", "--json", CLOSE));
    const char *hash = text_of(alone, "scenario");
    char origin[32];
    snprintf(origin, sizeof origin, ", B %s", hash);
    bool draws = has_gnuplot();
    outcome o =
        TOOL("compare", "truck.yaml", "--beside", "close", CLOSE, draws ? "--plot" : NULL, "x.svg");
    has(o.out, origin);
    char *text = draws ? take_picture("x.svg") : NULL;
    if (draws)
        has(text, hash);
    free(text);
    free_outcome(&o);
    json_decref(alone);
}

static void one_difference_is_told_with_its_values(void **state)
{
    (void)state;
    if (!has_gnuplot())
        skip();
    outcome o = TOOL("compare", "truck.yaml", "--plot", "x.svg", "--beside", "cold", "--today",
                     "environment.temperature=-5 degC");
    char *text = take_picture("x.svg");
    has(text, "only the outside temperature today differs: 68 °F, 23 °F");
    has(text, "<title>A\u00A0(68 °F)");
    free(text);
    free_outcome(&o);
}

/* ends that lie far apart need no close-up; a deploy alone has none */
static void a_close_up_is_drawn_where_it_helps(void **state)
{
    (void)state;
    if (!has_gnuplot())
        skip();
    outcome o = TOOL("compare", "truck.yaml", "--plot", "x.svg", "--beside", "dead", "--today",
                     "rotation.home.present=no");
    char *text = take_picture("x.svg");
    has(text, "fault: home not found");
    has_not(text, "Close-up");
    free(text);
    free_outcome(&o);
    o = TOOL("compare", "truck.yaml", "--plot", "x.svg", "--only", "deploy", "--beside", "late",
             "--set", "deploy.seconds.elevation=2.5 s");
    text = take_picture("x.svg");
    has_not(text, "Close-up");
    free(text);
    free_outcome(&o);
}

static void six_fit(void **state)
{
    (void)state;
    if (!has_gnuplot())
        skip();
    outcome o = TOOL("compare", "truck.yaml", "--plot", "x.svg", "--beside", "two", "--beside",
                     "three", "--beside", "four", "--beside", "five", "--beside", "six", CLOSE);
    assert_int_equal(o.code, 0);
    char *text = take_picture("x.svg");
    has(text, "A, B, C, D, E: all is well; F: fault: hard stop");
    has(text, "F  six");
    free(text);
    free_outcome(&o);
}

static void draws_in_the_terminal(void **state)
{
    (void)state;
    if (!has_gnuplot())
        skip();
    outcome o = TOOL("compare", "truck.yaml", "--plot", "-", "--beside", "close", CLOSE);
    assert_int_equal(o.code, 0);
    has(o.out, "A: all is well; B: fault: hard stop");
    has(o.out, "A *****");
    has(o.out, "B #####");
    free_outcome(&o);
}

/* whatever a name says is drawn, not done */
static void a_name_is_only_text(void **state)
{
    (void)state;
    if (!has_gnuplot())
        skip();
    outcome o = TOOL("compare", "truck.yaml", "--plot", "x.svg", "--beside",
                     "'; system 'touch harm'\n`touch harm`");
    assert_int_equal(o.code, 0);
    assert_int_not_equal(access("harm", F_OK), 0);
    free(take_picture("x.svg"));
    free_outcome(&o);
}

/* the script is of use without the tool: with two traces beside it and nothing else */
static void the_script_runs_on_its_own(void **state)
{
    (void)state;
    char command[2048];
    if (!has_gnuplot())
        skip();
    outcome a = TOOL("run", "truck.yaml", "--trace", "A.csv");
    outcome b = TOOL("run", "truck.yaml", "--trace", "B.csv", CLOSE);
    assert_int_equal(a.code | b.code, 0);
    free_outcome(&a);
    free_outcome(&b);
    snprintf(command, sizeof command,
             "gnuplot -e \"count=2; format='svg'\" '%s/compare.gp' > x.svg",
             getenv("SLEWTIME_PLOTS"));
    assert_int_equal(system(command), 0);
    char *text = take_picture("x.svg");
    has(text, "Travel against time");
    has(text, "</svg>");
    free(text);
    assert_int_equal(unlink("A.csv") | unlink("B.csv"), 0);
}

static void a_picture_that_fails_leaves_stdout_empty(void **state)
{
    (void)state;
    REFUSES(3, SAYS("cannot write nowhere/x.png"), "compare", "truck.yaml", "truck.yaml", "--plot",
            "nowhere/x.png");
    REFUSES(2, SAYS("--plot x.gif: no kind of picture"), "compare", "truck.yaml", "truck.yaml",
            "--plot", "x.gif");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(json_has_what_run_has),
        cmocka_unit_test(json_has_the_keys_that_differ),
        cmocka_unit_test(json_says_what_cannot_be_taught),
        cmocka_unit_test(json_leaves_out_what_is_no_text),
        cmocka_unit_test(csv_has_a_row_for_each_scenario),
        cmocka_unit_test(every_row_of_the_text_is_a_column),
        cmocka_unit_test(csv_quotes_names_and_leaves_empty_what_was_not_run),
        cmocka_unit_test(picture_is_drawn),
        cmocka_unit_test(a_reversal_of_the_search_is_no_trouble),
        cmocka_unit_test(its_title_says_the_finding),
        cmocka_unit_test(each_column_says_what_it_comes_from),
        cmocka_unit_test(one_difference_is_told_with_its_values),
        cmocka_unit_test(a_close_up_is_drawn_where_it_helps),
        cmocka_unit_test(six_fit),
        cmocka_unit_test(draws_in_the_terminal),
        cmocka_unit_test(a_name_is_only_text),
        cmocka_unit_test(the_script_runs_on_its_own),
        cmocka_unit_test(a_picture_that_fails_leaves_stdout_empty),
    };
    return cmocka_run_group_tests(tests, enter_directory, leave_directory);
}
