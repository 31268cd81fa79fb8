/* causes_seen.c - what was seen is read as it is written, from the one table of observables. */
#include "causes_files.h"

static slew_status read_text(const char *text, kept *all, slew_seen *seen)
{
    const slew_error_sink errors = {keep_error, all};
    all->count = 0;
    return slew_seen_read_memory(text, strlen(text), "file.yaml", errors, seen);
}

/* ---- the table ---- */

static void every_observable_is_whole(void **state)
{
    (void)state;
    assert_null(slew_observable_at(-1));
    assert_null(slew_observable_at(SLEW_OBSERVABLES));
    for (int i = 0; i < SLEW_OBSERVABLES; i++) {
        const slew_observable *o = slew_observable_at(i);
        int words = slew_observable_words(i);
        assert_int_equal(slew_observable_find(o->key.path), i);
        assert_true(strlen(o->key.meaning) > 5);
        assert_true((o->key.kind == SLEW_KEY_CHOICE) == (words >= 2));
        assert_true(words > 0 || (o->sd > 0 && o->width > 10 * o->sd));
        assert_true((strncmp(o->key.path, "check.", 6) == 0) == (o->by == SLEW_BY_CHECK));
    }
}

/* an observable's own example, read back from a file */
static void every_example_is_read(void **state)
{
    (void)state;
    for (int i = 0; i < SLEW_OBSERVABLES; i++) {
        const slew_key *key = &slew_observable_at(i)->key;
        char text[200] = "", path[96];
        kept all;
        slew_seen seen;
        snprintf(path, sizeof path, "%s", key->path);
        int depth = 0;
        for (char *part = strtok(path, "."); part != NULL; part = strtok(NULL, "."))
            strcat(strcat(strcat(text, depth++ ? "{" : ""), part), ": ");
        strncat(strcat(text, key->example), "}}}", (size_t)(depth - 1));
        if (read_text(text, &all, &seen) != SLEW_OK)
            fail_msg("%s: %s", text, all.error[0].message);
        assert_true(!isnan(seen.value[i]));
    }
}

static void values_are_shown_as_well_as_they_are_known(void **state)
{
    char text[64];
    (void)state;
    slew_observable_format(SLEW_SEEN_STOW_SECONDS, 12.94, text, sizeof text);
    assert_string_equal(text, "12.9 s");
    slew_observable_format(SLEW_SEEN_STOW_ANGLE, degrees(-0.01), text, sizeof text);
    assert_string_equal(text, "0.0 deg");
    slew_observable_format(SLEW_SEEN_STOW_FAULT, SLEW_FAULT_HARD_STOP, text, sizeof text);
    assert_string_equal(text, "hard_stop");
    slew_observable_format(SLEW_SEEN_STOW_FAULT, SLEW_FAULT_CANCELLED, text, sizeof text);
    assert_string_equal(text, "cancelled");
    slew_observable_format(SLEW_SEEN_FEED_RESISTANCE, 0.052, text, sizeof text);
    assert_string_equal(text, "52 mohm");
    slew_observable_format(SLEW_SEEN_STOW_SECONDS, NAN, text, sizeof text);
    assert_string_equal(text, "-");
}

/* ---- reading ---- */

static void file_is_read(void **state)
{
    kept all;
    slew_seen s;
    (void)state;
    assert_int_equal(read_text("known: {rotation.start: -30 deg, nozzle.flowing: yes}\n"
                               "stow:\n"
                               "  says: fault\n"
                               "  seconds: 12.9 s\n"
                               "  seconds_sd: 200 ms\n"
                               "stop_met: {elevation: upper}\n"
                               "peak_current: 18 A\n"
                               "check: {rotation: {sensor_at_home: open}}\n",
                               &all, &s),
                     SLEW_OK);
    near("says", s.value[SLEW_SEEN_STOW_SAYS], 1.0, 0.0);
    near("seconds", s.value[SLEW_SEEN_STOW_SECONDS], 12.9, 0.0);
    near("sd", s.sd[SLEW_SEEN_STOW_SECONDS], 0.2, 1e-15);
    near("default", s.sd[SLEW_SEEN_PEAK_CURRENT], 1.0, 0.0);
    near("upper", s.value[SLEW_SEEN_STOP_MET + SLEW_ELEVATION], 2.0, 0.0);
    near("open", s.value[SLEW_SEEN_SENSOR_AT_HOME + SLEW_ROTATION], 0.0, 0.0);
    assert_true(isnan(s.value[SLEW_SEEN_STOW_FAULT]));
    assert_int_equal(s.known.count, 2);
    assert_int_equal(s.known.item[0].key, slew_key_find("rotation.start"));
    near("start", s.known.item[0].value, degrees(-30.0), 1e-15);
    near("flowing", s.known.item[1].value, 1.0, 0.0);
    assert_int_equal(s.line[SLEW_SEEN_STOW_SECONDS], 4);
    assert_int_equal(s.column[SLEW_SEEN_STOW_SECONDS], 12);
}

static void what_is_left_empty_says_nothing(void **state)
{
    kept all;
    slew_seen s;
    (void)state;
    assert_int_equal(read_text("known:\nstow:\nstop_met:\nlowest_voltage: 11 V\n", &all, &s),
                     SLEW_OK);
    assert_int_equal(s.known.count, 0);
    assert_true(isnan(s.value[SLEW_SEEN_STOW_SAYS]));
    near("voltage", s.value[SLEW_SEEN_LOWEST_VOLTAGE], 11, 0.0);
}

/* ---- what is wrong ---- */

static const wrong wrongs[] = {
    {"stow: {sayz: fault}", 1, 8, "stow.sayz", "nothing of that name", "stow.says"},
    {"stw: {says: fault}", 1, 1, "stw", "nothing of that name", NULL},
    {"lowest_volts: 3 V", 1, 1, "lowest_volts", "nothing of that name", "lowest_voltage"},
    {"stow: {seconds: 12.9 V}", 1, 17, "stow.seconds", "a voltage, not a time", NULL},
    {"stow: {seconds: 12.9}", 1, 17, "stow.seconds", "the unit is missing", NULL},
    {"stow: {fault: hardstop}", 1, 15, "stow.fault", "not one of the words", "hard_stop"},
    {"stow: {seconds: 12.9 s, seconds_sd: 0 s}", 1, 37, "stow.seconds_sd", "more than nothing",
     NULL},
    {"stow: {seconds: 12.9 s, seconds_sd: -1 s}", 1, 37, "stow.seconds_sd", "more than nothing",
     NULL},
    {"stow: {says: fault, seconds_sd: 1 s}", 1, 21, "stow.seconds", "no value", NULL},
    {"stow: {says: fault, says_sd: 1 s}", 1, 21, "stow.says_sd", "nothing of that name", NULL},
    {"stow: {says: fault, says: stowed}", 1, 21, "stow.says", "given twice", NULL},
    {"stow: fault", 1, 7, "stow", "a single value where a map belongs", NULL},
    {"stow: {says: {a: b}}", 1, 14, "stow.says", "a map where a single value belongs", NULL},
    {"stow: {says: fault}\nknown: {rotation.strt: 1 deg}", 2, 9, "rotation.strt", "unknown key",
     "rotation.start"},
    {"stow: {says: fault}\nknown: {stow.point.rotation: 1 deg}", 2, 9, "stow.point.rotation",
     "today can't hold", NULL},
    {"stow: {says: fault}\nknown: {rotation.start: 1 V}", 2, 25, "rotation.start",
     "a voltage, not an angle", NULL},
    {"stow: {seconds: 12.9 s, seconds_sd: 1 s, seconds_sd: 2 s}", 1, 42, "stow.seconds_sd",
     "given twice", NULL},
    {"stow: {seconds: 12.9 s, seconds_sd: 1 V}", 1, 37, "stow.seconds_sd", "a voltage, not a time",
     NULL},
    {"stow: {seconds: 12.9 s, seconds_sd: [1 s]}", 1, 37, "stow.seconds_sd",
     "a list where a single value belongs", NULL},
    {"_sd: 1 s", 1, 1, "_sd", "nothing of that name", NULL},
    {"[a]: 1", 1, 1, "", "a list where a single value belongs", NULL},
    {"stow: {[a]: 1}", 1, 8, "stow", "a list where a single value belongs", NULL},
    {"stow: {says: fault}\nknown: {rotation.start: 1 deg, rotation.start: 2 deg}", 2, 32,
     "rotation.start", "given twice", NULL},
    {"stow: {says: fault}\nknown: {[a]: 2 deg}", 2, 9, "known",
     "a list where a single value belongs", NULL},
    {"stow: {says: fault}\nknown: [a]", 2, 8, "known", "a list where a map belongs", NULL},
    {"known: {rotation.start: 1 deg}", 1, 1, "", "nothing was seen", NULL},
    {"format: 1", 1, 1, "format", "nothing of that name", NULL},
    {"[stow]", 1, 1, "", "a list where a map belongs", NULL},
    {"", 1, 1, "", "the file is empty", NULL},
    {"\n# nothing yet\n", 1, 1, "", "the file is empty", NULL},
};

static void what_is_wrong_is_said_where_it_stands(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof wrongs / sizeof *wrongs; i++) {
        kept all;
        slew_seen seen;
        slew_status status = read_text(wrongs[i].text, &all, &seen);
        if (strcmp(wrongs[i].message, "the file is empty") == 0)
            all.error[0].excerpt[0] = ' '; /* there is nothing to show */
        is_said(&wrongs[i], status, &all);
    }
}

/* such a file is no scenario, and an empty one is told so */
static void empty_file_says_how_one_begins(void **state)
{
    kept all;
    slew_seen seen;
    (void)state;
    read_text("", &all, &seen);
    assert_non_null(strstr(all.error[0].expected, "what was seen"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_observable_is_whole),
        cmocka_unit_test(every_example_is_read),
        cmocka_unit_test(values_are_shown_as_well_as_they_are_known),
        cmocka_unit_test(file_is_read),
        cmocka_unit_test(what_is_left_empty_says_nothing),
        cmocka_unit_test(what_is_wrong_is_said_where_it_stands),
        cmocka_unit_test(empty_file_says_how_one_begins),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
