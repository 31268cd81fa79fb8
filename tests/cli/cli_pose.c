/* cli_pose.c - the pose picture: every format, what its data say, the fan, and what it refuses. */
#include <math.h>

#include "document.h"

/* the bench truck with something that varies from day to day; invented data */
static void write_varied(void)
{
    char text[4000];
    snprintf(text, sizeof text,
             "%sspread:\n  day:\n    supply.main.voltage: {uniform: {low: 12 V, high: 14 V}}\n",
             TRUCK);
    write_file("varied.yaml", text);
}

/* with boxes ahead and to the right: the barrel stows at 5, -12 deg and deploys at 10 deg up */
static void write_boxes(void)
{
    char text[4000];
    snprintf(text, sizeof text,
             "%s"
             "  - {name: lamp, rotation: {low: 60 deg, high: 80 deg}, "
             "elevation: {low: 40 deg, high: 50 deg}}\n"
             "  - {name: roof, rotation: {low: 0 deg, high: 30 deg}, "
             "elevation: {low: -16 deg, high: -8 deg}}\n"
             "  - {name: rail, rotation: {low: 40 deg, high: 50 deg}, "
             "elevation: {low: -14 deg, high: -10 deg}}\n",
             TRUCK);
    write_file("boxes.yaml", text);
}

static int enter(void **state)
{
    int code = enter_directory(state);
    if (code == 0) {
        write_varied();
        write_boxes();
    }
    return code;
}

static bool has_gnuplot(void)
{
    return system("gnuplot --version > /dev/null 2>&1") == 0;
}

/* ---- a stand-in for gnuplot that keeps the data instead of drawing ---- */

static char old_path[4096];

static int keep_data(void **state)
{
    char here[512], path[4800];
    (void)state;
    assert_non_null(getcwd(here, sizeof here));
    snprintf(old_path, sizeof old_path, "%s", getenv("PATH") ? getenv("PATH") : "");
    snprintf(path, sizeof path, "#!/bin/sh\ncp *.csv '%s'\necho 'IEND</svg>%%%%EOF'\n", here);
    write_file("gnuplot", path);
    snprintf(path, sizeof path, "%s:%s", here, old_path);
    return chmod("gnuplot", 0755) | setenv("PATH", path, 1);
}

static int draw_again(void **state)
{
    (void)state;
    unlink("gnuplot");
    unlink("x.png");
    return setenv("PATH", old_path, 1);
}

static char *data(const char *name)
{
    FILE *file = fopen(name, "r");
    assert_non_null(file);
    return take_all(file);
}

/* a row of shapes.csv or fan.csv */
typedef struct corner {
    int pose;
    char view[8], kind[24];
    double low, high, x, y;
} corner;

/* the next row at *text that is of that view and kind; false: there is none */
static bool next_corner(const char **text, const char *view, const char *kind, corner *c)
{
    for (const char *line = *text; *line != '\0'; line = *text) {
        const char *end = strchr(line, '\n');
        *text = end != NULL ? end + 1 : line + strlen(line);
        if (line[0] != '\n' &&
            sscanf(line, "%d,%7[^,],%23[^,],%lf,%lf,%lf,%lf", &c->pose, c->view, c->kind, &c->low,
                   &c->high, &c->x, &c->y) == 7 &&
            strcmp(c->view, view) == 0 && strcmp(c->kind, kind) == 0)
            return true;
    }
    return false;
}

static corner first_corner(const char *text, const char *view, const char *kind)
{
    corner c;
    if (!next_corner(&text, view, kind, &c))
        fail_msg("no %s in the %s view", kind, view);
    return c;
}

static int count_corners(const char *text, const char *view, const char *kind)
{
    corner c;
    int count = 0;
    while (next_corner(&text, view, kind, &c))
        count++;
    return count;
}

/* ---- formats ---- */

static void draws(const char *path, const char *magic, size_t length)
{
    if (!has_gnuplot())
        skip();
    int files = count_files();
    outcome o = TOOL("run", "varied.yaml", "--pose", path, "--samples", "40");
    if (o.code != 0)
        fail_msg("%s: exit code %d\n%s", path, o.code, o.err);
    assert_string_equal(o.err, "");
    begins(path, magic, length);
    free_outcome(&o);
    assert_int_equal(unlink(path), 0);
    assert_int_equal(count_files(), files);
}

static void every_format(void **state)
{
    (void)state;
    draws("x.png", "\x89PNG\r\n\x1a\n", 8);
    draws("x.svg", "<?xml ", 6);
    draws("x.pdf", "%PDF-", 5);
}

static void both_pictures_at_once(void **state)
{
    (void)state;
    if (!has_gnuplot())
        skip();
    outcome o = TOOL("run", "truck.yaml", "--plot", "travel.png", "--pose", "pose.png");
    assert_int_equal(o.code, 0);
    is_png("travel.png");
    is_png("pose.png");
    has(o.out, "Stowed: elevation at");
    free_outcome(&o);
    assert_int_equal(unlink("travel.png") | unlink("pose.png"), 0);
}

static char *draw_svg(const char *const *arguments)
{
    outcome o = run_tool(NULL, arguments);
    if (o.code != 0)
        fail_msg("exit code %d\n%s", o.code, o.err);
    free_outcome(&o);
    char *text = data("x.svg");
    assert_int_equal(unlink("x.svg"), 0);
    return text;
}

#define SVG(...) draw_svg((const char *const[]){__VA_ARGS__, "--pose", "x.svg", NULL})

static void titles_say_the_finding_and_the_origin(void **state)
{
    (void)state;
    if (!has_gnuplot())
        skip();
    char *text = SVG("run", "truck.yaml", "--today", "rotation.home.present=no");
    has(text, "Stow FAULT: rotation, home sensor not found; at");
    has(text, "home (dead)");
    has(text, "fault -90.0\u00B0, on ");
    has(text, "scenario ");
    has_not(text, ">deployed ");
    free(text);
    text = SVG("run", "varied.yaml", "--samples", "64", "--seed", "7");
    has(text, "Fan of 64 simulated days: stow: 64 within tolerance");
    has(text, "64 simulated days (evenly spread, 8 shifts), seed 7, scenario ");
    free(text);
}

static void a_tilted_base_is_told(void **state)
{
    (void)state;
    if (!has_gnuplot())
        skip();
    char *text = SVG("run", "truck.yaml");
    has(text, "Side view");
    has_not(text, "tilted");
    free(text);
    text = SVG("run", "truck.yaml", "--today", "environment.tilt=6 deg");
    has(text, "Side view, tilted 6\u00B0");
    free(text);
    text = SVG("run", "truck.yaml", "--deploy-day", "environment.tilt=6 deg");
    has(text, "Side view, tilted 0\u00B0, at the deploy 6\u00B0");
    free(text);
}

static void draws_in_the_terminal(void **state)
{
    (void)state;
    if (!has_gnuplot())
        skip();
    outcome o = TOOL("run", "varied.yaml", "--pose", "-", "--samples", "64");
    assert_int_equal(o.code, 0);
    assert_int_equal(strncmp(o.out, "Stowed: elevation at", 20), 0);
    has(o.out, "Bench monitor");
    has(o.out, "Fan of 64 simulated days: stow: ");
    has(o.out, "SSSS");
    has(o.out, "DDDD");
    has(o.out, "lower stop -20\u00B0");
    has_not(o.out, "From above"); /* it has nothing to say */
    has(o.out, "S after the stow");
    has_not(o.out, "\f");
    free_outcome(&o);
}

/* whatever a title says is drawn, not done */
static void a_title_is_only_text(void **state)
{
    (void)state;
    if (!has_gnuplot())
        skip();
    char *text = SVG("run", "truck.yaml", "--set", "title='; system 'touch harm' #`touch harm`");
    assert_int_not_equal(access("harm", F_OK), 0);
    free(text);
    outcome o = TOOL("run", "truck.yaml", "--pose", "-", "--set", "title=a \"b\", `touch harm`");
    assert_int_equal(o.code, 0);
    has(o.out, "a \"b\", `touch harm`");
    assert_int_not_equal(access("harm", F_OK), 0);
    free_outcome(&o);
}

/* ---- what the data say ---- */

/* The angles of the data are those of the JSON, to the 12 digits that are written; and the barrel
 * points that way: of places in 9 digits, up to 1600 pixels, some 100 apart. */
static void angle_is(const char *text, const char *view, const char *kind, const json_t *part,
                     const char *name)
{
    char line[32];
    double degrees = json_real_value(json_object_get(part, name));
    corner c = first_corner(text, view, kind), from, to;
    assert_true(c.low == c.high);
    assert_true(fabs(c.low - degrees) <= 1e-10);
    snprintf(line, sizeof line, "%s_line", kind);
    from = first_corner(text, view, line);
    assert_true(next_corner(&text, view, line, &from) && next_corner(&text, view, line, &to));
    double x = to.x - from.x, y = to.y - from.y;
    double drawn = strcmp(view, "side") == 0 ? atan2(y, x) : atan2(x, y);
    assert_true(fabs(drawn * 180 / acos(-1) - degrees) < 1e-4);
}

static void rests_are_those_of_the_run(void **state)
{
    (void)state;
    outcome o = TOOL("run", "truck.yaml", "--json", "--pose", "x.png", "--set",
                     "deploy.seconds.rotation=-1.5 s");
    json_t *whole = json_of(&o);
    char *text = data("shapes.csv");
    const json_t *stow = json_object_get(whole, "stow"), *deploy = json_object_get(whole, "deploy");
    angle_is(text, "side", "stowed", stow, "elevation_deg");
    angle_is(text, "plan", "stowed", stow, "rotation_deg");
    angle_is(text, "side", "deployed", deploy, "elevation_deg");
    angle_is(text, "plan", "deployed", deploy, "rotation_deg");
    free(text);
    json_decref(whole);
    free_outcome(&o);
}

static void sector_is(const char *text, const char *view, const char *kind, double low, double high)
{
    corner c = first_corner(text, view, kind);
    assert_true(fabs(c.low - low) <= 1e-10 && fabs(c.high - high) <= 1e-10);
}

static void sectors_are_those_of_the_scenario(void **state)
{
    (void)state;
    outcome o = TOOL("run", "truck.yaml", "--pose", "x.png");
    assert_int_equal(o.code, 0);
    char *text = data("shapes.csv");
    sector_is(text, "side", "home", -3, 3); /* the default: closes within 3 deg */
    sector_is(text, "side", "point", -14, -10);
    sector_is(text, "side", "target", 5, 20);
    sector_is(text, "side", "rim", -20, 60);
    sector_is(text, "side", "start", 20, 20);
    sector_is(text, "plan", "point", 3, 7);
    sector_is(text, "plan", "target", 0, 10);
    sector_is(text, "plan", "rim", -90, 90);
    sector_is(text, "plan", "start", -20, -20);
    free(text);
    free_outcome(&o);
}

static void boxes_count_where_the_other_axis_rests(void **state)
{
    (void)state;
    outcome o = TOOL("run", "boxes.yaml", "--pose", "x.png");
    assert_int_equal(o.code, 0);
    char *shapes = data("shapes.csv"), *texts = data("texts.csv");
    /* the mast, for every rotation: in the side view alone, up to the stop */
    sector_is(shapes, "side", "keepout", -20, -17);
    has(texts, "plain,left,");
    has(texts, "mast, folded");
    /* it stows in the roof's box */
    has(texts, "roof, stowed inside");
    sector_is(shapes, "plan", "keepout", 0, 30);
    /* of the lamp's and the rail's boxes the rotation is elsewhere; the rail's elevation is not */
    has(texts, "(lamp)");
    has(texts, "(rail)");
    has(texts, "rail, stow");
    sector_is(shapes, "side", "elsewhere", 40, 50);
    sector_is(shapes, "plan", "elsewhere", 60, 80);
    free(shapes);
    free(texts);
    free_outcome(&o);
}

/* every box is drawn, but only a few have room for their names */
static void of_many_boxes_some_are_named(void **state)
{
    (void)state;
    char text[8000] = "";
    strcat(text, TRUCK);
    for (int i = 0; i < 12; i++)
        sprintf(text + strlen(text),
                "  - {name: far %d, rotation: {low: %d deg, high: %d deg}, "
                "elevation: {low: %d deg, high: %d deg}}\n",
                i, 20 + 5 * i, 23 + 5 * i, 24 + 3 * i, 25 + 3 * i);
    write_file("many.yaml", text);
    outcome o = TOOL("run", "many.yaml", "--pose", "x.png");
    assert_int_equal(o.code, 0);
    char *shapes = data("shapes.csv"), *texts = data("texts.csv");
    const char *rest = shapes;
    double last = NAN;
    int boxes = 0;
    corner c;
    while (next_corner(&rest, "plan", "elsewhere", &c)) {
        boxes += c.low != last;
        last = c.low;
    }
    assert_int_equal(boxes, 12);
    has(texts, "mast, folded");    /* it counts, so it is named before the others */
    has(texts, "(far 3), 8 more"); /* side view: the mast and 4 */
    has(texts, "(far 4), 7 more"); /* from above: 5 */
    has_not(texts, "far 5");
    free(shapes);
    free(texts);
    free_outcome(&o);
}

static void only_one_part(void **state)
{
    (void)state;
    outcome o = TOOL("run", "truck.yaml", "--only", "stow", "--pose", "x.png");
    assert_int_equal(o.code, 0);
    char *text = data("shapes.csv");
    assert_true(count_corners(text, "side", "stowed") > 0);
    assert_int_equal(count_corners(text, "side", "deployed"), 0);
    assert_int_equal(count_corners(text, "side", "target"), 0);
    free(text);
    free_outcome(&o);
    o = TOOL("run", "truck.yaml", "--only", "deploy", "--pose", "x.png");
    assert_int_equal(o.code, 0);
    text = data("shapes.csv");
    assert_int_equal(count_corners(text, "side", "stowed"), 0);
    assert_int_equal(count_corners(text, "side", "point"), 0);
    assert_true(count_corners(text, "side", "deployed") > 0);
    free(text);
    free_outcome(&o);
    o = TOOL("run", "varied.yaml", "--only", "deploy", "--pose", "x.png", "--samples", "16");
    text = data("fan.csv");
    assert_int_equal(count_corners(text, "side", "stow"), 0);
    assert_true(count_corners(text, "side", "deploy") > 0);
    free(text);
    free_outcome(&o);
}

/* ---- the fan ---- */

static char *fan_of(const char *const *arguments)
{
    outcome o = run_tool(NULL, arguments);
    if (o.code != 0)
        fail_msg("exit code %d\n%s", o.code, o.err);
    free_outcome(&o);
    return data("fan.csv");
}

#define FAN(...)                                                                                   \
    fan_of((const char *const[]){"run", "varied.yaml", "--pose", "x.png", __VA_ARGS__, NULL})

static void same_fan_for_any_number_of_threads(void **state)
{
    (void)state;
    char *one = FAN("--samples", "300", "--threads", "1");
    char *two = FAN("--samples", "300", "--threads", "2");
    char *other = FAN("--samples", "300", "--seed", "2");
    char *independent = FAN("--samples", "300", "--random");
    assert_string_equal(one, two);
    assert_string_not_equal(one, other);
    assert_string_not_equal(one, independent);
    free(one);
    free(two);
    free(other);
    free(independent);
}

static void the_fan_has_a_line_for_each_sample_up_to_100(void **state)
{
    (void)state;
    char *few = FAN("--samples", "64"), *many = FAN("--samples", "400");
    assert_int_equal(count_corners(few, "side", "stow"), 2 * 64);
    assert_int_equal(count_corners(few, "plan", "deploy"), 2 * 64);
    assert_int_equal(count_corners(many, "side", "stow"), 2 * 100);
    free(few);
    free(many);
    few = data("texts.csv");
    has_not(few, "fan");
    free(few);
}

static double stowed_at(const char *voltage)
{
    outcome o = TOOL("run", "varied.yaml", "--pose", "x.png", "--today", voltage);
    assert_int_equal(o.code, 0);
    char *text = data("shapes.csv");
    double angle = first_corner(text, "side", "stowed").low;
    free(text);
    free_outcome(&o);
    return angle;
}

/* Only the voltage varies, and more volts take the barrel farther down: every line of the fan lies
 * between the rests at both ends of the range, and the outermost ones near them: of 400 evenly
 * spread samples the ends miss at most a few per cent of the range. */
static void the_fan_lies_between_the_ends_of_the_spread(void **state)
{
    (void)state;
    double weak = stowed_at("supply.main.voltage=12 V");
    double strong = stowed_at("supply.main.voltage=14 V");
    char *text = FAN("--samples", "400");
    const char *rest = text;
    double lowest = INFINITY, highest = -INFINITY;
    corner c;
    assert_true(strong < weak - 0.1);
    while (next_corner(&rest, "side", "stow", &c)) {
        assert_true(c.low >= strong && c.low <= weak);
        lowest = fmin(lowest, c.low);
        highest = fmax(highest, c.low);
    }
    assert_true(lowest < strong + 0.05 * (weak - strong));
    assert_true(highest > weak - 0.05 * (weak - strong));
    free(text);
}

static void without_samples_there_is_no_fan(void **state)
{
    (void)state;
    outcome o = TOOL("run", "varied.yaml", "--pose", "x.png");
    assert_int_equal(o.code, 0);
    char *text = data("fan.csv");
    assert_int_equal(lines_of(text), 1);
    free(text);
    free_outcome(&o);
}

/* ---- several ---- */

static void compare_draws_poses_side_by_side(void **state)
{
    (void)state;
    outcome o = TOOL("compare", "truck.yaml", "--pose", "x.png", "--beside", "weak", "--today",
                     "supply.main.voltage=11 V", "--beside", "untaught", "--teach",
                     "rotation.home.present=no");
    assert_int_equal(o.code, 0);
    char *shapes = data("shapes.csv"), *texts = data("texts.csv");
    const char *rest = shapes;
    bool seen[4] = {false};
    double height = NAN, radius = NAN;
    corner c;
    while (next_corner(&rest, "side", "start", &c)) {
        corner outer;
        assert_true(next_corner(&rest, "side", "start", &outer));
        seen[c.pose] = true;
        double own = hypot(outer.x - c.x, outer.y - c.y);
        assert_true(isnan(radius) || fabs(own - radius) < 1e-4); /* 9 digits of up to 1600 */
        assert_true(isnan(height) || fabs(c.y - height) < 1e-4);
        radius = own;
        height = c.y;
    }
    assert_true(seen[1] && seen[2] && !seen[3]);
    has(texts, "B  weak");
    has(texts, "C  untaught");
    has(texts, "sensor not found");
    free(shapes);
    free(texts);
    free_outcome(&o);
}

static void pressed_is_not_where_it_should_be(void **state)
{
    (void)state;
    if (!has_gnuplot())
        skip();
    char *text = SVG("compare", "truck.yaml", "--set", "stow.point.elevation=-19.7 deg", "--beside",
                     "pressed", "--today", "supply.main.voltage=15 V");
    has(text, "Stowed where it should be: 1 of 2");
    free(text);
}

static void compare_draws_them_in_the_terminal(void **state)
{
    (void)state;
    if (!has_gnuplot())
        skip();
    outcome o = TOOL("compare", "truck.yaml", "boxes.yaml", "--pose", "-");
    assert_int_equal(o.code, 0);
    has(o.out, "A  truck");
    has(o.out, "B  boxes");
    has(o.out, "roof, stowed inside");
    free_outcome(&o);
}

/* ---- the script alone ---- */

static void the_script_runs_on_its_own(void **state)
{
    (void)state;
    char command[2048];
    if (!has_gnuplot())
        skip();
    assert_int_equal(keep_data(NULL), 0);
    char *fan = FAN("--samples", "16");
    free(fan);
    assert_int_equal(draw_again(NULL), 0);
    snprintf(command, sizeof command, "gnuplot -e \"format='svg'\" '%s/pose.gp' > x.svg",
             getenv("SLEWTIME_PLOTS"));
    assert_int_equal(system(command), 0);
    char *text = data("x.svg");
    has(text, "Where the barrel rests");
    has(text, "lower stop -20\u00B0");
    has(text, "</svg>");
    free(text);
}

/* ---- what it refuses ---- */

static void wrong_command_lines(void **state)
{
    (void)state;
    REFUSES(2, SAYS("--pose x.gif: no kind of picture", ".svg, .png or .pdf"), "run", "truck.yaml",
            "--pose", "x.gif");
    REFUSES(2, SAYS("--plot and --pose both write x.png", "two files"), "run", "truck.yaml",
            "--plot", "x.png", "--pose", "x.png");
    REFUSES(2, SAYS("--samples is for the fan", "--pose FILE"), "run", "varied.yaml", "--samples",
            "10");
    REFUSES(2, SAYS("--seed says how samples are drawn", "--samples N"), "run", "varied.yaml",
            "--pose", "x.png", "--seed", "2");
    REFUSES(2, SAYS("--threads says how", "--samples N"), "run", "varied.yaml", "--threads", "2");
    REFUSES(2, SAYS("--random says how", "--samples N"), "run", "varied.yaml", "--random");
    REFUSES(2, SAYS("nothing varies in truck.yaml", "spread"), "run", "truck.yaml", "--pose",
            "x.png", "--samples", "10");
    assert_int_not_equal(access("x.png", F_OK), 0);
}

static void what_fails_outside(void **state)
{
    (void)state;
    char path[4096];
    int files = count_files();
    REFUSES(3, SAYS("cannot write nowhere/x.png"), "run", "truck.yaml", "--pose", "nowhere/x.png");
    snprintf(path, sizeof path, "%s", getenv("PATH") ? getenv("PATH") : "");
    assert_int_equal(setenv("PATH", "/nowhere", 1), 0);
    REFUSES(3, SAYS("gnuplot is not found", "apt-get install gnuplot-nox"), "run", "truck.yaml",
            "--pose", "x.png");
    assert_int_equal(setenv("PATH", path, 1), 0);
    assert_int_equal(count_files(), files);
}

#define WITH_DATA(test) cmocka_unit_test_setup_teardown(test, keep_data, draw_again)

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_format),
        cmocka_unit_test(both_pictures_at_once),
        cmocka_unit_test(titles_say_the_finding_and_the_origin),
        cmocka_unit_test(a_tilted_base_is_told),
        cmocka_unit_test(draws_in_the_terminal),
        cmocka_unit_test(a_title_is_only_text),
        WITH_DATA(rests_are_those_of_the_run),
        WITH_DATA(sectors_are_those_of_the_scenario),
        WITH_DATA(boxes_count_where_the_other_axis_rests),
        WITH_DATA(of_many_boxes_some_are_named),
        WITH_DATA(only_one_part),
        WITH_DATA(same_fan_for_any_number_of_threads),
        WITH_DATA(the_fan_has_a_line_for_each_sample_up_to_100),
        WITH_DATA(the_fan_lies_between_the_ends_of_the_spread),
        WITH_DATA(without_samples_there_is_no_fan),
        WITH_DATA(compare_draws_poses_side_by_side),
        cmocka_unit_test(pressed_is_not_where_it_should_be),
        cmocka_unit_test(compare_draws_them_in_the_terminal),
        cmocka_unit_test(the_script_runs_on_its_own),
        cmocka_unit_test(wrong_command_lines),
        cmocka_unit_test(what_fails_outside),
    };
    return cmocka_run_group_tests(tests, enter, leave_directory);
}
