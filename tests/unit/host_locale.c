/*
 * host_locale.c - a program in a locale whose decimal point is a comma: the library reads and
 * writes as ever, units of UDUNITS' database included, and leaves the locale as it is.
 *
 * The locale is made here, by localedef of Debian's libc-bin; without that the test is skipped and
 * says so.
 */
#include "../support.h"

#include <locale.h>
#include <stdio.h>
#include <stdlib.h>
#include <unistd.h>

#include "slewtime/slewtime.h"

static const char SOURCE[] = "LC_NUMERIC\ndecimal_point \",\"\nthousands_sep \".\"\ngrouping 3;3\n"
                             "END LC_NUMERIC\n";

static char folder[] = "/tmp/slewtime-locale-XXXXXX";

static bool run(const char *format)
{
    char command[300];
    snprintf(command, sizeof command, format, folder, folder);
    return system(command) == 0;
}

static int enter(void **state)
{
    char path[64];
    (void)state;
    if (mkdtemp(folder) == NULL)
        return -1;
    snprintf(path, sizeof path, "%s/source", folder);
    FILE *file = fopen(path, "w");
    if (file == NULL || fputs(SOURCE, file) < 0 || fclose(file) != 0)
        return -1;
    run("localedef --no-archive -c -i %s/source %s/comma >/dev/null 2>&1"); /* warns, and says so */
    return setenv("LOCPATH", folder, 1);
}

static int leave(void **state)
{
    (void)state;
    return run("rm -rf %s") ? 0 : -1;
}

/* furlong: by the database, which has factors with a point */
static uint64_t read_truck(char text[40], double *length)
{
    static slew_scenario s;
    const slew_assignment far = {SLEW_LAYER_FILE, "supply.feed.length=0.0375 furlong", "here",
                                 false};
    const slew_reading how = {.assignments = &far, .assignment_count = 1};
    assert_int_equal(slew_scenario_read_file("examples/daily.yaml", &how, &s), SLEW_OK);
    int key = slew_key_find("supply.feed.length");
    slew_key_format(&s, key, text, 40);
    *length = slew_scenario_get_number(&s, key);
    return slew_scenario_hash(&s);
}

static void read_times(double *seconds)
{
    static slew_timings t;
    assert_int_equal(slew_timings_read_file("examples/story-times.csv", (slew_error_sink){0}, &t),
                     SLEW_OK);
    *seconds = t.row[0].measured[SLEW_MEASURE_SECONDS].value;
}

static void with_a_comma(void **state)
{
    (void)state;
    char plain[40], comma[40], number[8];
    double length[2], seconds[2];
    uint64_t hash = read_truck(plain, &length[0]);
    read_times(&seconds[0]);
    if (setlocale(LC_ALL, "comma") == NULL) {
        print_message("no localedef here: not tested\n");
        skip();
    }
    snprintf(number, sizeof number, "%.1f", 1.5);
    assert_string_equal(number, "1,5"); /* the locale is what it is said to be */
    assert_true(read_truck(comma, &length[1]) == hash);
    read_times(&seconds[1]);
    assert_string_equal(comma, plain);
    near("0.0375 furlong, 201.168 m (NIST SP 811, B.8)", length[0], 0.0375 * 201.168, 1e-4);
    assert_true(length[0] == length[1] && seconds[0] == seconds[1]);
    snprintf(number, sizeof number, "%.1f", 1.5);
    assert_string_equal(number, "1,5");
    setlocale(LC_ALL, "C");
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(with_a_comma)};
    return cmocka_run_group_tests(tests, enter, leave);
}
