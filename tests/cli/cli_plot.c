/* cli_plot.c - pictures are drawn in every format, whole or not at all. */
#include "tool.h"

static bool has_gnuplot(void)
{
    return system("gnuplot --version > /dev/null 2>&1") == 0;
}

static void draws(const char *path, const char *magic, size_t length)
{
    if (!has_gnuplot())
        skip();
    int files = count_files();
    outcome o = TOOL("run", "truck.yaml", "--plot", path);
    if (o.code != 0)
        fail_msg("%s: exit code %d\n%s", path, o.code, o.err);
    begins(path, magic, length);
    free_outcome(&o);
    assert_int_equal(unlink(path), 0);
    assert_int_equal(count_files(), files);
}

static void png(void **state)
{
    (void)state;
    draws("x.png", "\x89PNG\r\n\x1a\n", 8);
    draws("X.PNG", "\x89PNG\r\n\x1a\n", 8);
}

static void svg(void **state)
{
    (void)state;
    draws("x.svg", "<?xml ", 6);
}

static void pdf(void **state)
{
    (void)state;
    draws("x.pdf", "%PDF-", 5);
}

static void the_title_says_the_finding(void **state)
{
    (void)state;
    if (!has_gnuplot())
        skip();
    outcome o = TOOL("run", "truck.yaml", "--plot", "x.svg", "--today", "rotation.home.present=no");
    assert_int_equal(o.code, 0);
    FILE *file = fopen("x.svg", "r");
    assert_non_null(file);
    char *text = take_all(file);
    has(text, "Stow FAULT: rotation, home sensor not found; at");
    has(text, "hits the right stop, stall");
    has(text, "home window (dead)");
    free(text);
    free_outcome(&o);
    assert_int_equal(unlink("x.svg"), 0);
}

/* a name on the upper edge of its panel is drawn whatever the digits of that edge */
static void names_on_an_edge_are_drawn(void **state)
{
    (void)state;
    static const char *const days[] = {
        "environment.temperature=-17 degC", "environment.temperature=3 degC",
        "environment.temperature=11 degC", "environment.temperature=17 degC"};
    if (!has_gnuplot())
        skip();
    for (size_t i = 0; i < sizeof days / sizeof *days; i++) {
        outcome o = TOOL("run", "truck.yaml", "--plot", "x.svg", "--only", "stow", "--set",
                         "supply.shared_load=7 A", "--today", days[i]);
        assert_int_equal(o.code, 0);
        FILE *file = fopen("x.svg", "r");
        assert_non_null(file);
        char *text = take_all(file);
        has(text, "dips: at least this");
        free(text);
        free_outcome(&o);
        assert_int_equal(unlink("x.svg"), 0);
    }
}

static void draws_in_the_terminal(void **state)
{
    (void)state;
    if (!has_gnuplot())
        skip();
    outcome o = TOOL("run", "truck.yaml", "--plot", "-");
    assert_int_equal(o.code, 0);
    has(o.out, "Stowed: elevation at");
    has(o.out, "*****");
    has_not(o.out, "\f");
    free_outcome(&o);
}

/* whatever a title says is drawn, not done */
static void a_title_is_only_text(void **state)
{
    (void)state;
    if (!has_gnuplot())
        skip();
    outcome o = TOOL("run", "truck.yaml", "--plot", "x.svg", "--set",
                     "title='; system 'touch harm' #`touch harm`");
    assert_int_equal(o.code, 0);
    assert_int_not_equal(access("harm", F_OK), 0);
    free_outcome(&o);
    assert_int_equal(unlink("x.svg"), 0);
}

/* the script is of use without the tool: with a trace beside it and nothing else */
static void the_script_runs_on_its_own(void **state)
{
    (void)state;
    char command[2048];
    if (!has_gnuplot())
        skip();
    outcome o = TOOL("run", "truck.yaml", "--trace", "trace.csv");
    assert_int_equal(o.code, 0);
    free_outcome(&o);
    snprintf(command, sizeof command, "gnuplot -e \"format='svg'\" '%s/travel.gp' > x.svg",
             getenv("SLEWTIME_PLOTS"));
    assert_int_equal(system(command), 0);
    FILE *file = fopen("x.svg", "r");
    assert_non_null(file);
    char *text = take_all(file);
    has(text, "Travel against time");
    has(text, "</svg>");
    free(text);
    assert_int_equal(unlink("x.svg") | unlink("trace.csv"), 0);
}

static void without_gnuplot_it_says_the_way_out(void **state)
{
    (void)state;
    char path[4096];
    int files = count_files();
    snprintf(path, sizeof path, "%s", getenv("PATH") ? getenv("PATH") : "");
    assert_int_equal(setenv("PATH", "/nowhere", 1), 0);
    outcome o = TOOL("run", "truck.yaml", "--plot", "x.png");
    assert_int_equal(setenv("PATH", path, 1), 0);
    assert_int_equal(o.code, 3);
    assert_string_equal(o.out, "");
    has(o.err, "gnuplot is not found");
    has(o.err, "apt-get install gnuplot-nox");
    free_outcome(&o);
    assert_int_equal(count_files(), files);
}

static void an_unwritable_picture_is_3(void **state)
{
    (void)state;
    REFUSES(3, SAYS("cannot write nowhere/x.png"), "run", "truck.yaml", "--plot", "nowhere/x.png");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(png),
        cmocka_unit_test(svg),
        cmocka_unit_test(pdf),
        cmocka_unit_test(the_title_says_the_finding),
        cmocka_unit_test(names_on_an_edge_are_drawn),
        cmocka_unit_test(draws_in_the_terminal),
        cmocka_unit_test(a_title_is_only_text),
        cmocka_unit_test(the_script_runs_on_its_own),
        cmocka_unit_test(without_gnuplot_it_says_the_way_out),
        cmocka_unit_test(an_unwritable_picture_is_3),
    };
    return cmocka_run_group_tests(tests, enter_directory, leave_directory);
}
