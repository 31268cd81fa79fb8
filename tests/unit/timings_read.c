/* timings_read.c - a CSV of timed travels: what is read, and what is wrong with it and where. */
#include "../support.h"

#include "slewtime/timing.h"

static const char HEADER[] = "axis,direction,from,to,seconds_s\n";

/* ---- reading, with the errors kept ---- */

enum { ERRORS_MAX = 8 };

typedef struct outcome {
    slew_status status;
    slew_timings timings;
    int count;
    slew_error error[ERRORS_MAX];
} outcome;

static void keep(void *context, const slew_error *error)
{
    outcome *o = context;
    if (o->count < ERRORS_MAX)
        o->error[o->count] = *error;
    o->count++;
}

static outcome *reading(const char *text)
{
    static outcome o;
    o = (outcome){.count = 0};
    o.status = slew_timings_read_memory(text, strlen(text), "times.csv",
                                        (slew_error_sink){keep, &o}, &o.timings);
    return &o;
}

static const slew_timings *rows_of(const char *text)
{
    outcome *o = reading(text);
    if (o->status != SLEW_OK)
        fail_msg("line %d: %s: %s", o->error[0].line, o->error[0].key, o->error[0].message);
    return &o->timings;
}

static bool not_given(double value)
{
    return isnan(value);
}

/* ---- right ---- */

static void every_column_is_read(void **state)
{
    (void)state;
    const slew_timings *t =
        rows_of("axis,direction,from,from_deg,to,to_deg,supply_V,pressure_bar,temperature_degC,"
                "winding_rise_K,seconds_s,seconds_sd_s,controller_V,controller_sd_V,current_A,"
                "current_sd_A\n"
                "elevation,up,low_stop,,,40.5,13.4,7,-5,32,11.3,0.2,12.6,0.02,4.2,0.5\n"
                "rotation,left,,12,home,,,,,,3.5,,,,,\n");
    assert_int_equal(t->count, 2);
    const slew_timing *a = &t->row[0], *b = &t->row[1];
    assert_int_equal(a->line, 2);
    assert_int_equal(a->axis, SLEW_ELEVATION);
    assert_int_equal(a->direction, 1);
    assert_int_equal(a->from.kind, SLEW_PLACE_LOW_STOP);
    assert_int_equal(a->to.kind, SLEW_PLACE_ANGLE);
    close_to("to", a->to.angle, degrees(40.5), 1e-15);
    close_to("pressure", a->pressure, 7e5, 1e-15);
    close_to("temperature", a->temperature, 268.15, 1e-15);
    assert_true(a->winding_rise == 32 && not_given(b->winding_rise));
    assert_true(a->supply == 13.4);
    assert_true(a->measured[SLEW_MEASURE_SECONDS].value == 11.3);
    assert_true(a->measured[SLEW_MEASURE_SECONDS].sd == 0.2);
    assert_true(a->measured[SLEW_MEASURE_VOLTAGE].sd == 0.02);
    assert_true(a->measured[SLEW_MEASURE_CURRENT].value == 4.2);
    assert_true(a->measured[SLEW_MEASURE_CURRENT].sd_given);
    assert_int_equal(b->axis, SLEW_ROTATION);
    assert_int_equal(b->direction, -1);
    assert_int_equal(b->from.kind, SLEW_PLACE_ANGLE);
    assert_int_equal(b->to.kind, SLEW_PLACE_HOME);
    assert_true(not_given(b->supply) && not_given(b->pressure) && not_given(b->temperature));
    assert_true(b->measured[SLEW_MEASURE_SECONDS].sd == slew_measure_sd(SLEW_MEASURE_SECONDS));
    assert_false(b->measured[SLEW_MEASURE_SECONDS].sd_given);
    assert_true(not_given(b->measured[SLEW_MEASURE_VOLTAGE].value));
}

static void order_blanks_quotes_comments_and_line_ends_do_not_matter(void **state)
{
    (void)state;
    const slew_timings *t = rows_of("\xEF\xBB\xBF# timed on a dry day\r\n"
                                    "\r\n"
                                    " to , from, seconds_s ,\"direction\",axis\r\n"
                                    "high_stop, low_stop , 11.3,\"up\", elevation\r\n"
                                    "   # the other way\r\n"
                                    "low_stop,high_stop,1.19e1,down,elevation");
    assert_int_equal(t->count, 2);
    assert_int_equal(t->row[0].line, 4);
    assert_int_equal(t->row[1].line, 6);
    assert_int_equal(t->row[1].direction, -1);
    close_to("seconds", t->row[1].measured[SLEW_MEASURE_SECONDS].value, 11.9, 1e-15);
}

/* as spreadsheets of many countries write it; a decimal comma is still none */
static void semicolons_part_columns_as_well(void **state)
{
    (void)state;
    const slew_timings *t = rows_of("# by hand, on a dry day\naxis;direction;from;to;seconds_s\n"
                                    "elevation;up;low_stop;\"high_stop\";11.3\n");
    assert_int_equal(t->count, 1);
    close_to("seconds", t->row[0].measured[SLEW_MEASURE_SECONDS].value, 11.3, 1e-15);
    const outcome *o = reading("axis;direction;from;to;seconds_s\n"
                               "elevation;up;low_stop;high_stop;11,3\n");
    assert_int_equal(o->count, 1);
    assert_non_null(strstr(o->error[0].message, "the decimal sign is a point"));
}

static void standstills(void **state)
{
    (void)state;
    const slew_timings *t = rows_of("axis,direction,from,to,controller_V,current_A\n"
                                    "elevation,down,low_stop,,12.1,19\n"
                                    ",off,,,13.3,\n"
                                    "rotation,off,home,,13.3,\n");
    assert_int_equal(t->count, 3);
    assert_int_equal(t->row[0].to.kind, SLEW_PLACE_NONE);
    assert_int_equal(t->row[1].axis, SLEW_NO_AXIS);
    assert_int_equal(t->row[1].direction, 0);
}

/* what is written is read as it was, whatever the row */
static void a_row_that_is_written_reads_back(void **state)
{
    char text[2000] = "", field[64];
    (void)state;
    const slew_timings before = *rows_of(
        "axis,direction,from_deg,to,seconds_s,seconds_sd_s,supply_V,pressure_bar,temperature_degC,"
        "winding_rise_K\n"
        "rotation,right,-12.25,high_stop,3.75,0.25,13.5,2.5,-7.5,27.5\n");
    for (int i = 0; i < slew_timing_column_count(); i++)
        strcat(strcat(text, i > 0 ? "," : ""), slew_timing_column_at(i)->name);
    strcat(text, "\n");
    for (int i = 0; i < slew_timing_column_count(); i++) {
        assert_true(slew_timing_format(&before.row[0], i, field, sizeof field) < 64);
        strcat(strcat(text, i > 0 ? "," : ""), field);
    }
    const slew_timing *a = &before.row[0], *b = &rows_of(text)->row[0];
    assert_int_equal(a->axis, b->axis);
    assert_int_equal(a->direction, b->direction);
    assert_int_equal(a->from.kind, b->from.kind);
    close_to("from", b->from.angle, a->from.angle, 1e-9);
    assert_int_equal(a->to.kind, b->to.kind);
    assert_true(a->supply == b->supply);
    close_to("pressure", b->pressure, a->pressure, 1e-9);
    close_to("temperature", b->temperature, a->temperature, 1e-9);
    assert_true(a->winding_rise == 27.5 && b->winding_rise == 27.5);
    for (slew_measure m = 0; m < SLEW_MEASURE_COUNT; m++) {
        assert_true(a->measured[m].value == b->measured[m].value ||
                    not_given(a->measured[m].value));
        assert_true(a->measured[m].sd == b->measured[m].sd);
        assert_int_equal(a->measured[m].sd_given, b->measured[m].sd_given);
    }
    assert_int_equal(slew_timing_format(a, -1, field, sizeof field), 0);
}

static void the_table_of_columns_explains_itself(void **state)
{
    (void)state;
    assert_int_equal(slew_timing_column_count(), 22);
    for (int i = 0; i < slew_timing_column_count(); i++) {
        const slew_timing_column *c = slew_timing_column_at(i);
        assert_true(c->meaning[0] != '\0' && c->example[0] != '\0');
        assert_true((c->words != NULL) == (c->unit[0] == '\0'));
        const char *end = strrchr(c->name, '_');
        if (c->unit[0] != '\0')
            assert_string_equal(end + 1, c->unit);
    }
    assert_null(slew_timing_column_at(-1));
    assert_null(slew_timing_column_at(22));
}

/* a stow whose stored time and angle are read, and a deploy for seconds that were set */
static void where_runs_rest_is_read(void **state)
{
    char field[64];
    int rests = 0;
    (void)state;
    const slew_timings *t = rows_of("axis,direction,from,to,seconds_s,rests_deg,rests_sd_deg\n"
                                    "elevation,down,home,stow_point,2.31,-17.4,\n"
                                    "elevation,up,stow_point,deployed,7.5,43.5,0.2\n"
                                    "elevation,up,stow_point,deployed,7.5,,\n");
    assert_int_equal(t->count, 2); /* what was set is no reading */
    const slew_timing *stow = &t->row[0], *deploy = &t->row[1];
    const slew_measured *angle = &stow->measured[SLEW_MEASURE_ANGLE];
    close_to("stow", angle->value, degrees(-17.4), 1e-12);
    close_to("as usual", angle->sd, degrees(0.5), 1e-12);
    assert_false(angle->sd_given);
    angle = &deploy->measured[SLEW_MEASURE_ANGLE];
    close_to("deploy", angle->value, degrees(43.5), 1e-12);
    close_to("given", angle->sd, degrees(0.2), 1e-12);
    assert_true(deploy->measured[SLEW_MEASURE_SECONDS].value == 7.5);
    assert_int_equal(deploy->from.kind, SLEW_PLACE_STOW_POINT);
    assert_int_equal(deploy->to.kind, SLEW_PLACE_DEPLOYED);
    assert_true(slew_timing_is_run(stow) && slew_timing_is_run(deploy));
    while (strcmp(slew_timing_column_at(rests)->name, "rests_deg") != 0)
        rests++;
    slew_timing_format(deploy, rests, field, sizeof field);
    assert_string_equal(field, "43.5");
}

/* ---- wrong ---- */

static void refused(const char *text, int line, int column, const char *key, const char *message,
                    const char *expected)
{
    outcome *o = reading(text);
    assert_int_equal(o->status, SLEW_ERROR_INPUT);
    const slew_error *e = &o->error[0];
    if (o->count != 1 || e->line != line || e->column != column || strcmp(e->key, key) != 0 ||
        strstr(e->message, message) == NULL || strstr(e->expected, expected) == NULL)
        fail_msg("%d errors; %s:%d:%d: %s: %s | %s, not %d:%d: %s: %s | %s", o->count, e->source,
                 e->line, e->column, e->key, e->message, e->expected, line, column, key, message,
                 expected);
    assert_string_equal(e->source, "times.csv");
}

static void row_refused(const char *row, int column, const char *key, const char *message,
                        const char *expected)
{
    char text[400];
    snprintf(text, sizeof text, "%s%s\n", HEADER, row);
    refused(text, 2, column, key, message, expected);
}

static void wrong_headers(void **state)
{
    (void)state;
    refused("", 1, 1, "", "empty", "a header");
    refused("# nothing\n\n", 1, 1, "", "empty", "a header");
    refused(HEADER, 1, 1, "", "without rows", "a row");
    refused("axis,direction,from,to,seconds_min\n", 1, 24, "", "unknown column \"seconds_min\"",
            "it in s: seconds_s");
    assert_string_equal(reading("axis,direction,from,to,seconds_min\n")->error[0].nearest,
                        "seconds_s");
    refused("axis,direction,from,to,seconds_s,supply_mV\n", 1, 34, "", "\"supply_mV\"",
            "it in V: supply_V");
    refused("axis,direction,from,to,seconds_s,to_rad\n", 1, 34, "", "\"to_rad\"",
            "it in deg: to_deg");
    refused("axis,directoin,from,to,seconds_s\n", 1, 6, "", "\"directoin\"", "axis | direction");
    assert_string_equal(reading("axis,directoin,from,to,seconds_s\n")->error[0].nearest,
                        "direction");
    refused("axis\tdirection\tfrom\tto\tseconds_s\n", 1, 1, "", "unknown column",
            "commas between the columns");
    refused("axis,axis,direction,from,to,seconds_s\n", 1, 6, "axis", "given twice", "");
    refused("direction,from,to,seconds_s\n", 1, 1, "axis", "missing", "rotation or elevation");
    refused("axis,from,to,seconds_s\n", 1, 1, "direction", "missing", "left, right");
    refused("axis,direction,to,seconds_s\n", 1, 1, "from", "missing", "from_deg");
    refused("axis,direction,from,to,supply_V\n", 1, 1, "seconds_s",
            "no column has what was measured", "controller_V");
    refused("axis,direction,from,to,seconds_s,\n", 1, 34, "", "unknown column \"\"", "one of");
}

static void wrong_words_and_numbers(void **state)
{
    (void)state;
    row_refused("tilt,up,low_stop,high_stop,11", 1, "axis", "\"tilt\": not one of the words",
                "rotation | elevation");
    row_refused("elevation,upwards,low_stop,high_stop,11", 11, "direction", "not one of the words",
                "left | right");
    row_refused("elevation,left,low_stop,high_stop,11", 11, "direction",
                "elevation does not turn left", "down or up");
    row_refused("rotation,up,low_stop,high_stop,11", 10, "direction", "rotation does not turn up",
                "left or right");
    row_refused("elevation,up,low stop,high_stop,11", 14, "from", "not one of the words",
                "low_stop | high_stop | home");
    assert_string_equal(reading("axis,direction,from,to,seconds_s\nelevation,up,lowstop,home,1\n")
                            ->error[0]
                            .nearest,
                        "low_stop");
    row_refused("elevation,up,low_stop,high_stop,11.3 s", 33, "seconds_s",
                "its unit is in the header", "a number above 0 in s, for example 11.3");
    row_refused("elevation,up,low_stop,high_stop,fast", 33, "seconds_s", "no number", "above 0");
    row_refused("elevation,up,low_stop,high_stop,nan", 33, "seconds_s", "NaN", "above 0");
    row_refused("elevation,up,low_stop,high_stop,0", 33, "seconds_s", "out of range", "above 0");
    row_refused("elevation,up,low_stop,high_stop,-3", 33, "seconds_s", "out of range", "above 0");
    row_refused("elevation,up,low_stop,high_stop,\"11,3\"", 33, "seconds_s",
                "the decimal sign is a point", "above 0");
    row_refused("elevation,up,low_stop,high_stop,11,3", 1, "", "6 fields, but 5 columns",
                "a decimal point");
    row_refused("elevation,up,low_stop,high_stop,\"11", 33, "", "does not end", "a second \"");
    row_refused("elevation,up,low_stop,high_stop,"
                "1000000000000000000000000000000000000000000000000000000000000000000000000000000000"
                "00000000000000000",
                33, "", "too long a field", "at most 95 characters");
    refused("axis;direction;from;to;seconds_s\nelevation;up;low_stop;high_stop;\"11\",\n", 2, 37,
            "", "after the closing quote", "a semicolon");
    row_refused("elevation,up,low_stop,high_stop,\"11\"s", 37, "", "after the closing quote",
                "a comma");
    refused("axis,direction,from,to,seconds_s,seconds_sd_s\nelevation,up,low_stop,home,2,0\n", 2,
            30, "seconds_sd_s", "out of range", "above 0");
    refused("axis,direction,from,to,seconds_s,seconds_sd_s\nelevation,up,low_stop,home,2,-1\n", 2,
            30, "seconds_sd_s", "out of range", "above 0");
    refused("axis,direction,from,to,seconds_s,temperature_degC\nelevation,up,low_stop,home,2,300\n",
            2, 30, "temperature_degC", "out of range", "from -60 to 100 in degC");
    refused("axis,direction,from,to,seconds_s,winding_rise_K\nelevation,up,low_stop,home,2,-3\n", 2,
            30, "winding_rise_K", "out of range", "from 0 to 200 in K, for example 0");
}

static void rows_that_lack_something(void **state)
{
    (void)state;
    row_refused(",up,low_stop,high_stop,11", 1, "axis", "no axis", "rotation or elevation");
    row_refused("elevation,,low_stop,high_stop,11", 1, "direction", "no direction", "off");
    row_refused("elevation,up,,high_stop,11", 1, "from", "no place to start from", "low_stop");
    row_refused("elevation,up,low_stop,,11", 1, "to", "no place to go to", "pressed on the stop");
    row_refused("elevation,down,low_stop,,11", 1, "seconds_s", "seconds of a standstill",
                "an empty field");
    row_refused("elevation,up,low_stop", 1, "to", "no place to go to", "");
    row_refused("elevation,off,low_stop,high_stop,11", 1, "to", "nothing goes anywhere", "");
    refused("axis,direction,from,from_deg,to,seconds_s\nelevation,up,low_stop,3,home,2\n", 2, 1,
            "from", "as a word and as an angle", "");
    refused("axis,direction,from,to,to_deg,seconds_s\nelevation,up,low_stop,home,3,2\n", 2, 1, "to",
            "as a word and as an angle", "");
    refused("axis,direction,from,current_A\n,off,,3\n", 2, 1, "current_A", "no drive draws", "");
    row_refused("elevation,up,home,deployed,7.5", 1, "from", "a deploy begins at the stow point",
                "stow_point to deployed");
    row_refused("elevation,up,stow_point,high_stop,7.5", 1, "from", "is a deploy", "stow_point");
    refused("axis,direction,from,to,rests_deg\nelevation,up,stow_point,deployed,40\n", 2, 1,
            "seconds_s", "no seconds that the controller was set to", "");
    refused("axis,direction,from,to,rests_deg\nelevation,up,low_stop,high_stop,40\n", 2, 1,
            "rests_deg", "where a stow or a deploy rests", "");
    refused("axis,direction,from,to,seconds_s,controller_V\n"
            "elevation,up,stow_point,deployed,7.5,12\n",
            2, 1, "seconds_s", "seconds and rests_deg alone", "");
}

/* a card that was filled in in part */
static void rows_without_a_reading_are_skipped(void **state)
{
    (void)state;
    slew_timings t;
    static const char text[] = "axis,direction,from,to,seconds_s,controller_V\n"
                               ",off,,,,\n"
                               "elevation,up,low_stop,high_stop,,\n"
                               "elevation,down,high_stop,low_stop,12.5,\n"
                               ",,,,,\n"
                               "rotation,left,high_stop,home,,12.9\n";
    assert_int_equal(
        slew_timings_read_memory(text, strlen(text), "card.csv", (slew_error_sink){0}, &t),
        SLEW_OK);
    assert_int_equal(t.count, 2);
    assert_int_equal(t.row[0].line, 4);
    assert_int_equal(t.row[1].line, 6);
    refused("axis,direction,from,to,seconds_s\nelevation,up,low_stop,high_stop,\n", 1, 1, "",
            "nothing is measured in any row", "controller_V");
    /* what is not measured is looked at all the same */
    refused("axis,direction,from,to,seconds_s\nelevation,left,low_stop,high_stop,\n", 2, 11,
            "direction", "does not turn", "down or up");
}

static void too_many_columns(void **state)
{
    char text[256] = "axis";
    (void)state;
    for (int i = 0; i < 32; i++)
        strcat(text, ",a");
    refused(strcat(text, "\n"), 1, 1, "", "too many columns", "");
}

/* a mark in quotes, and a field that is too long in them: the rest of it counts for nothing */
static void quotes_hold_quotes(void **state)
{
    (void)state;
    row_refused("elevation,up,\"low\"\"stop\",high_stop,11", 14, "from", "\"low\"stop\"",
                "low_stop | high_stop");
}

static void every_error_is_told_in_its_line(void **state)
{
    (void)state;
    outcome *o = reading("axis,direction,from,to,seconds_s\n"
                         "elevation,up,low_stop,high_stop,x\n"
                         "elevation,up,low_stop,high_stop,11\n"
                         "elevation,aup,low_stop,high_stop,y\n");
    assert_int_equal(o->count, 3);
    assert_int_equal(o->error[0].line, 2);
    assert_int_equal(o->error[1].line, 4);
    assert_string_equal(o->error[1].key, "direction");
    assert_string_equal(o->error[2].key, "seconds_s");
    assert_string_equal(o->error[2].excerpt, "elevation,aup,low_stop,high_stop,y");
}

static void too_many_rows(void **state)
{
    static char text[20000] = "axis,direction,from,to,seconds_s\n";
    (void)state;
    for (int i = 0; i < SLEW_TIMINGS_MAX; i++)
        strcat(text, "elevation,up,low_stop,home,2\n");
    assert_int_equal(rows_of(text)->count, SLEW_TIMINGS_MAX);
    strcat(text, "elevation,up,low_stop,home,2\n");
    refused(text, SLEW_TIMINGS_MAX + 2, 1, "", "more than 256 rows", "");
}

static void what_is_no_text(void **state)
{
    outcome o = {0};
    (void)state;
    refused("axis,\x01\n", 1, 6, "", "binary", "CSV text");
    refused("axis,\xFF\n", 1, 6, "", "UTF-8", "CSV text");
    assert_int_equal(
        slew_timings_read_file("/nowhere/times.csv", (slew_error_sink){keep, &o}, &o.timings),
        SLEW_ERROR_FILE);
    assert_int_equal(o.count, 1);
    assert_string_equal(o.error[0].source, "/nowhere/times.csv");
    assert_int_equal(slew_timings_read_memory(NULL, 0, NULL, (slew_error_sink){0}, &o.timings),
                     SLEW_ERROR_INPUT);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_column_is_read),
        cmocka_unit_test(order_blanks_quotes_comments_and_line_ends_do_not_matter),
        cmocka_unit_test(semicolons_part_columns_as_well),
        cmocka_unit_test(standstills),
        cmocka_unit_test(a_row_that_is_written_reads_back),
        cmocka_unit_test(where_runs_rest_is_read),
        cmocka_unit_test(the_table_of_columns_explains_itself),
        cmocka_unit_test(wrong_headers),
        cmocka_unit_test(wrong_words_and_numbers),
        cmocka_unit_test(rows_that_lack_something),
        cmocka_unit_test(rows_without_a_reading_are_skipped),
        cmocka_unit_test(too_many_columns),
        cmocka_unit_test(quotes_hold_quotes),
        cmocka_unit_test(every_error_is_told_in_its_line),
        cmocka_unit_test(too_many_rows),
        cmocka_unit_test(what_is_no_text),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
