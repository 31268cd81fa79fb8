/*
 * cli_card.c - `slewtime card` as text, JSON, picture and blank table, the way from there to `fit`,
 * and what it refuses.
 */
#include <math.h>

#include "document.h"

static char daily[1024]; /* the example */

static int enter(void **state)
{
    from_here("examples/daily.yaml", daily, sizeof daily);
    return enter_directory(state);
}

static outcome good(outcome o)
{
    if (o.code != 0)
        fail_msg("exit code %d:\n%s", o.code, o.err);
    assert_string_equal(o.err, "");
    return o;
}

static double number_of(const json_t *object, const char *name)
{
    const json_t *value = json_object_get(object, name);
    assert_true(json_is_number(value));
    return json_number_value(value);
}

static const char *text_of(const json_t *object, const char *name)
{
    const json_t *value = json_object_get(object, name);
    assert_true(json_is_string(value));
    return json_string_value(value);
}

/* ---- text ---- */

/* in letters */
static size_t longest_line(const char *text)
{
    size_t longest = 0, letters = 0;
    for (; *text != '\0'; text++) {
        letters = *text == '\n' ? 0 : letters + ((*text & 0xC0) != 0x80);
        longest = letters > longest ? letters : longest;
    }
    return longest;
}

static void text_is_one_page(void **state)
{
    (void)state;
    outcome o = good(TOOL("card", daily));
    assert_true(lines_of(o.out) <= 66);
    assert_true(longest_line(o.out) <= 80);
    has(o.out, "2048 simulated days (evenly spread, 8 shifts), seed 1, scenario ");
    free_outcome(&o);
}

/* widths of all bands, one after the other */
static int widths_of(const json_t *card, double *width, int room)
{
    int count = 0;
    size_t i, k;
    json_t *step, *reading;
    json_array_foreach(json_object_get(card, "steps"), i, step) json_array_foreach(
        json_object_get(step, "readings"), k,
        reading) if (count < room && json_is_number(json_object_get(reading, "high")))
        width[count++] = number_of(reading, "high") - number_of(reading, "low");
    return count;
}

static void a_known_day_has_narrow_bands(void **state)
{
    (void)state;
    double any[64], known[64];
    json_t *of_any = document(TOOL("card", daily, "--json", "--samples", "512"));
    outcome o = TOOL("card", daily, "--json", "--samples", "512", "--today",
                     "supply.main.voltage=13.4 V", "--today", "environment.temperature=20 degC");
    has(o.err, "warning: known, so not drawn from spread.day: battery voltage today 13.4 V, "
               "outside temperature today 20 degC");
    json_t *of_known = document(o);
    int count = widths_of(of_any, any, 64);
    assert_int_equal(count, widths_of(of_known, known, 64));
    assert_true(count > 10);
    int narrower = 0;
    for (int i = 0; i < count; i++)
        narrower += known[i] < 0.75 * any[i];
    assert_true(2 * narrower > count);
    assert_int_equal(json_array_size(json_object_get(of_any, "known")), 0);
    json_t *list = json_object_get(of_known, "known");
    assert_int_equal(json_array_size(list), 2);
    assert_string_equal(json_string_value(json_array_get(list, 0)), "today.supply.main.voltage");
    json_decref(of_any);
    json_decref(of_known);
    o = TOOL("card", daily, "--samples", "64", "--today", "supply.main.voltage=13.4 V");
    has(o.out, "Known of this day, so not in the band: battery voltage today 13.4 V.");
    free_outcome(&o);
}

/* a warm motor changes every travel: the card asks, and the scenario's own warmth is expected */
static void motors_are_cool_or_noted(void **state)
{
    (void)state;
    outcome o = good(TOOL("card", daily, "--samples", "64"));
    has(o.out,
        "motors used before: _____ min case R, E, °F               0; as the air  _______\n");
    has(o.out, "Motors: cool");
    has(o.out, "motors used before: _____ min");
    free_outcome(&o);
    o = good(
        TOOL("card", daily, "--samples", "64", "--today", "elevation.motor.winding_rise=50 K"));
    has(o.out, "case R, E, °F             air +0, air +45  _______\n");
    free_outcome(&o);
    o = good(TOOL("card", daily, "--samples", "64", "--csv"));
    has(o.out, ",temperature_degC,winding_rise_K,seconds_s,");
    has(o.out, "# winding_rise_K: 0 on the first move of the day");
    free_outcome(&o);
}

static void a_drive_to_a_stop_is_warned_of(void **state)
{
    (void)state;
    outcome o = good(TOOL("card", daily));
    static const char *const rows[] = {
        "rotation left, stop to stop", "rotation right, stop to stop",
        "elevation down, stop to stop", "elevation up, stop to stop"};
    static const char warning[] = "! to a stop: release there, clear overhead, nobody near\n";
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        const char *row = strstr(o.out, rows[i]);
        assert_non_null(row);
        assert_memory_equal(row - strlen(warning), warning, strlen(warning));
    }
    /* from the right the search for home, right first, runs onto the stop; from the left it does
     * not */
    const char *right = strstr(o.out, "stow from rotation 85.0°");
    const char *left = strstr(o.out, "stow from rotation -85.0°");
    assert_true(right != NULL && left != NULL);
    assert_memory_equal(right - strlen(warning), warning, strlen(warning));
    assert_memory_not_equal(left - strlen(warning), warning, strlen(warning));
    free_outcome(&o);
    json_t *whole = document(TOOL("card", daily, "--json"));
    json_t *steps = json_object_get(whole, "steps");
    int warned = 0;
    for (size_t i = 0; i < json_array_size(steps); i++)
        warned += json_is_string(json_object_get(json_array_get(steps, i), "caution"));
    assert_int_equal(warned, 5);
    json_decref(whole);
}

static void point_target_and_floor_are_told(void **state)
{
    (void)state;
    outcome o = good(TOOL("card", daily));
    has(o.out, "Set: stow point rotation 0°, elevation -16°, within 2°;");
    has(o.out, "deploy target");
    has(o.out, "30° to 50°");
    has(o.out, "minimum voltage 11.5 V");
    free_outcome(&o);
    o = TOOL("card", "truck.yaml", "--json");
    has(o.out, "minimum voltage 11.5 V");
    free_outcome(&o);
}

static void text_has_cautions_room_to_write_and_bands(void **state)
{
    (void)state;
    outcome o = good(TOOL("card", daily));
    static const char *const parts[] = {
        "truck, monitor ____",
        "date ____",
        "by ____",
        "weather, temperature ____",
        "battery voltage, V ____",
        "can move without warning and crush",
        "Keep people clear",
        "lock out its power",
        "Batteries:",
        "Water that flows pushes",
        "manufacturer's instructions",
        "does not replace a test on the truck",
        "Band: 95 % of what healthy trucks show that end as expected, errors in",
        "elevation down, as stored     stored time, s     2.31 ",
        "motors off, at rest           controller, V     13.04 ",
        "rotation left, stop to home   time, s ",
        "stow from rotation 85.0° ",
        "reports                   stowed in 100 %  ____",
        "deploy after the first stow "};
    for (size_t i = 0; i < sizeof parts / sizeof parts[0]; i++)
        has(o.out, parts[i]);
    free_outcome(&o);
}

static void without_a_spread_it_says_so(void **state)
{
    (void)state;
    outcome o = good(TOOL("card", "truck.yaml"));
    has(o.out, "Band: the scenario has no spread");
    has_not(o.out, "samples");
    free_outcome(&o);
    json_t *whole = document(good(TOOL("card", "truck.yaml", "--json")));
    assert_true(json_is_false(json_object_get(whole, "varies")));
    json_decref(whole);
}

/* cancelled before anything moves there is no voltage under load */
static void what_has_no_figure_says_none(void **state)
{
    (void)state;
    outcome o = good(TOOL("card", "truck.yaml", "--set", "stow.cancel_at=0 s"));
    has(o.out, "lowest, V");
    has(o.out, "none");
    has_not(o.out, "nan");
    free_outcome(&o);
}

static void what_is_left_out_is_said(void **state)
{
    (void)state;
    outcome o = good(TOOL("card", "truck.yaml", "--today", "rotation.home.present=no"));
    has(o.out, "Left out: rotation left, stop to home: the home sensor of this axis never\n");
    has(o.out, "Left out: deploy after the first stow: the stow before it does not end in");
    has(o.out, "reports                             fault");
    has(o.out, "home sensor not found");
    has_not(o.out, "home_not_found");
    free_outcome(&o);
    o = good(TOOL("card", "truck.yaml", "--today", "rotation.home.present=no", "--csv"));
    has_not(o.out, "rotation,left,high_stop,,home");
    has(o.out, "elevation,down,high_stop,,home");
    free_outcome(&o);
}

/* ---- JSON ---- */

static void json_has_every_reading_with_its_band(void **state)
{
    (void)state;
    json_t *whole = document(good(TOOL("card", daily, "--samples", "256", "--json")));
    json_t *step, *reading, *steps = json_object_get(whole, "steps");
    size_t i, k;
    int readings = 0;
    assert_int_equal(json_array_size(steps), 15);
    json_array_foreach(steps, i, step)
        json_array_foreach(json_object_get(step, "readings"), k, reading)
    {
        double more = 2 * number_of(reading, "sd"); /* of all errors, never more than that */
        assert_true(number_of(reading, "low") > number_of(reading, "central_low") - more);
        assert_true(number_of(reading, "high") < number_of(reading, "central_high") + more);
        number_of(reading, "expected");
        text_of(reading, "unit");
        readings++;
    }
    assert_int_equal(readings, 37);
    assert_true(number_of(whole, "page_passes") > 0.2 && number_of(whole, "page_passes") < 0.8);
    assert_string_equal(text_of(json_array_get(steps, 11), "says"), "stowed");
    assert_int_equal((int)number_of(whole, "samples"), 256);
    json_decref(whole);
}

static void same_numbers_for_any_number_of_threads(void **state)
{
    (void)state;
    outcome one = TOOL("card", daily, "--samples", "500", "--threads", "1", "--json");
    outcome two = TOOL("card", daily, "--samples", "500", "--threads", "3", "--json");
    assert_string_equal(one.out, two.out);
    free_outcome(&one);
    free_outcome(&two);
}

/* ---- to fit and back ---- */

/* the expected value of a step as a field, empty where the step has no such reading */
static void write_expected(FILE *file, const json_t *step, const char *read)
{
    size_t k;
    json_t *reading;
    json_array_foreach(json_object_get(step, "readings"), k,
                       reading) if (strcmp(text_of(reading, "read"), read) == 0)
        fprintf(file, "%.12g", number_of(reading, "expected"));
}

/* one row of the blank table, its empty fields of measured things filled in */
static void fill_row(FILE *file, const char *header, const char *row, const json_t *step)
{
    while (true) {
        size_t name = strcspn(header, ",\n"), field = strcspn(row, ",\n");
        fprintf(file, "%.*s", (int)field, row);
        if (strncmp(header, "seconds_s", name) == 0 && name > 7)
            write_expected(file, step, "seconds");
        else if (strncmp(header, "controller_V", name) == 0)
            write_expected(file, step, "voltage");
        else if (strncmp(header, "current_A", name) == 0)
            write_expected(file, step, "current");
        fputc(row[field] == ',' ? ',' : '\n', file);
        if (row[field] != ',')
            return;
        header += name + 1;
        row += field + 1;
    }
}

/* Fills the first `rows` rows of the blank table in; the others stay blank. */
static void fill_in(const char *path, int rows)
{
    outcome blank = good(TOOL("card", daily, "--samples", "64", "--csv"));
    json_t *whole = document(good(TOOL("card", daily, "--samples", "64", "--json")));
    json_t *steps = json_object_get(whole, "steps");
    FILE *file = fopen(path, "w");
    const char *header = strstr(blank.out, "axis,"), *row = strchr(header, '\n') + 1;
    assert_non_null(file);
    assert_int_equal(lines_of(row), 11);
    fprintf(file, "%.*s", (int)(row - blank.out), blank.out);
    for (int i = 0; *row != '\0'; i++, row = strchr(row, '\n') + 1)
        if (i < rows)
            fill_row(file, header, row, json_array_get(steps, (size_t)i));
        else
            fprintf(file, "%.*s", (int)strcspn(row, "\n") + 1, row);
    assert_int_equal(fclose(file), 0);
    json_decref(whole);
    free_outcome(&blank);
}

#define SPEED      "elevation.motor.no_load_speed"
#define EFFICIENCY "elevation.gear.efficiency"
#define JOINTS     "supply.feed.joint_resistance"

static void fitted_is(const json_t *whole, size_t index, double value)
{
    const json_t *figure = json_array_get(json_object_get(whole, "figures"), index);
    if (fabs(number_of(figure, "fitted") - value) > 1e-4 * value)
        fail_msg("%s: fitted %.9g, not %.9g", text_of(figure, "key"), number_of(figure, "fitted"),
                 value);
}

/* Readings without an error fit back exactly, where next to nothing was known of the joints before
 * and the spread has the others in its middle; the least squares stop at steps of about 1e-6 of a
 * figure's size, and 1e-4 of it is far below any standard error here. */
static void a_filled_card_fits_back_the_scenario(void **state)
{
    (void)state;
    fill_in("filled.csv", 9);
    json_t *whole =
        document(good(TOOL("fit", daily, "filled.csv", "--set", SPEED "=2900 rpm", "--set",
                           EFFICIENCY "=31 %", "--set", JOINTS "=3 mohm", "--key", SPEED, "--key",
                           EFFICIENCY, "--key", JOINTS "+-600 mohm", "--json")));
    fitted_is(whole, 0, 3200);
    fitted_is(whole, 1, 36);
    fitted_is(whole, 2, 1.5);
    json_decref(whole);
}

static void a_card_filled_in_in_part_is_read(void **state)
{
    (void)state;
    fill_in("part.csv", 2);
    outcome o = good(TOOL("fit", daily, "part.csv", "--key", "rotation.motor.no_load_speed"));
    has(o.out, "part.csv: 2 rows, 1 times, 2 voltages, 1 currents\n");
    free_outcome(&o);
    fill_in("blank.csv", 0);
    REFUSES(2, SAYS("blank.csv:9:1", "nothing is measured in any row"), "fit", daily, "blank.csv",
            "--key", SPEED);
}

/* the field of a row as JSON has it: a field that is empty is not there */
static void same_field(const json_t *row, const char *name, const char *text)
{
    const json_t *value = json_object_get(row, name);
    if (text[0] == '\0')
        assert_null(value);
    else
        assert_string_equal(json_string_value(value), text);
}

/* takes the next field of a line off it */
static const char *take_field(const char *line, char field[64])
{
    size_t length = strcspn(line, ",\n");
    snprintf(field, 64, "%.*s", (int)length, line);
    return line + length + (line[length] != '\0');
}

static void json_and_csv_tell_a_travel_alike(void **state)
{
    (void)state;
    outcome blank = good(TOOL("card", daily, "--samples", "64", "--csv"));
    json_t *whole = document(good(TOOL("card", daily, "--samples", "64", "--json")));
    const char *header = strstr(blank.out, "axis,"), *rest = strchr(header, '\n') + 1;
    size_t travels = 0;
    for (; *rest != '\0'; travels++) {
        char name[64], text[64];
        json_t *steps = json_object_get(whole, "steps");
        const json_t *row = json_object_get(json_array_get(steps, travels), "row");
        for (const char *names = header; names[-1] != '\n' || names == header;) {
            names = take_field(names, name);
            rest = take_field(rest, text);
            same_field(row, name, text);
        }
    }
    assert_int_equal(travels, 11);
    json_decref(whole);
    free_outcome(&blank);
}

/* ---- picture ---- */

static void page_is_drawn(void **state)
{
    (void)state;
    outcome o = good(TOOL("card", daily, "--samples", "64", "--plot", "card.png"));
    is_png("card.png");
    free_outcome(&o);
    o = good(TOOL("card", daily, "--samples", "64", "--plot", "card.pdf"));
    free_outcome(&o);
    FILE *file = fopen("card.pdf", "rb");
    char magic[5] = "";
    assert_non_null(file);
    assert_int_equal(fread(magic, 1, 4, file), 4);
    assert_string_equal(magic, "%PDF");
    fclose(file);
}

static void page_has_what_the_text_has(void **state)
{
    (void)state;
    outcome o = good(TOOL("card", daily, "--samples", "64", "--plot", "card.svg"));
    free_outcome(&o);
    FILE *file = fopen("card.svg", "r");
    assert_non_null(file);
    char *svg = take_all(file);
    has(svg, "Roof monitor of a rural water tender");
    has(svg, "without warning and crush");
    has(svg, "weather, temperature");
    has(svg, ">rotation right, stop to home<");
    has(svg, ">  and elevation 42.0°<");
    has(svg, "deployed in 100 %");
    has(svg, "seed 1, scenario ");
    free(svg);
}

/* a title with whatever is in it */
static void odd_titles_are_drawn(void **state)
{
    (void)state;
    char text[4000];
    const char *rest = strstr(TRUCK, "supply:");
    snprintf(text, sizeof text, "format: 1\ntitle: \"it's 50%% \\\"odd\\\", {x}_y\"\n%s", rest);
    write_file("odd.yaml", text);
    outcome o = good(TOOL("card", "odd.yaml", "--plot", "odd.svg"));
    has(o.out, "it's 50% \"odd\", {x}_y");
    free_outcome(&o);
}

/* ---- what it refuses ---- */

static void what_it_refuses(void **state)
{
    (void)state;
    REFUSES(2, SAYS("--json and --csv"), "card", daily, "--json", "--csv");
    REFUSES(2, SAYS("--samples 0", "1 or more"), "card", daily, "--samples", "0");
    REFUSES(2, SAYS("--plot card.txt"), "card", daily, "--plot", "card.txt");
    REFUSES(2, SAYS("rotation, home sensor not found", "truck.yaml:"), "card", "truck.yaml",
            "--teach", "rotation.home.present=no");
    REFUSES(2, SAYS("card needs SCENARIO"), "card");
    REFUSES(3, SAYS("none.yaml"), "card", "none.yaml");
}

static void help_has_cautions(void **state)
{
    (void)state;
    outcome o = good(TOOL("card", "--help"));
    has(o.out, "Cautions:");
    has(o.out, "slewtime card truck.yaml --csv > times.csv");
    free_outcome(&o);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(text_is_one_page),
        cmocka_unit_test(a_known_day_has_narrow_bands),
        cmocka_unit_test(motors_are_cool_or_noted),
        cmocka_unit_test(a_drive_to_a_stop_is_warned_of),
        cmocka_unit_test(point_target_and_floor_are_told),
        cmocka_unit_test(text_has_cautions_room_to_write_and_bands),
        cmocka_unit_test(without_a_spread_it_says_so),
        cmocka_unit_test(what_has_no_figure_says_none),
        cmocka_unit_test(what_is_left_out_is_said),
        cmocka_unit_test(json_has_every_reading_with_its_band),
        cmocka_unit_test(same_numbers_for_any_number_of_threads),
        cmocka_unit_test(a_filled_card_fits_back_the_scenario),
        cmocka_unit_test(a_card_filled_in_in_part_is_read),
        cmocka_unit_test(json_and_csv_tell_a_travel_alike),
        cmocka_unit_test(page_is_drawn),
        cmocka_unit_test(page_has_what_the_text_has),
        cmocka_unit_test(odd_titles_are_drawn),
        cmocka_unit_test(what_it_refuses),
        cmocka_unit_test(help_has_cautions),
    };
    return cmocka_run_group_tests(tests, enter, leave_directory);
}
