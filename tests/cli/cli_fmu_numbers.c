/*
 * cli_fmu_numbers.c - the scenario that an FMU carries comes back to the last bit, and a text that
 * is no such scenario is refused as a whole.
 */
#include "../support.h"

#include "fmu/numbers.h"

enum { TEXT_MAX = 40000 };

static char text[TEXT_MAX];

static void write_text(const slew_scenario *s, fmu_kind kind)
{
    FILE *file = tmpfile();
    assert_non_null(file);
    fmu_numbers_write(s, kind, file);
    rewind(file);
    text[fread(text, 1, sizeof text - 1, file)] = '\0';
    fclose(file);
}

static bool reads(const char *what, slew_scenario *s, fmu_kind *kind)
{
    FILE *file = tmpfile();
    assert_true(file != NULL && fputs(what, file) >= 0);
    rewind(file);
    bool good = fmu_numbers_read(file, s, kind);
    fclose(file);
    return good;
}

/* with a taught voltage, so many zones, and a number that no short decimal is */
static slew_scenario carried(int zones)
{
    slew_scenario s;
    assert_int_equal(slew_scenario_read_file("examples/daily.yaml", NULL, &s), SLEW_OK);
    set_key(&s, SLEW_LAYER_TEACH, "supply.main.voltage", 12.6);
    set_key(&s, SLEW_LAYER_FILE, "elevation.load.mass", 11.0 + 1.0 / 3.0);
    s.keepout.count = zones;
    for (int i = 0; i < zones; i++)
        s.keepout.box[i] = (slew_keepout_box){"zone", {{-0.1 * i, 0.1 * i}, {-INFINITY, 0.05 * i}}};
    return s;
}

static void a_scenario_comes_back(void **state)
{
    (void)state;
    for (int k = 0; k < 2; k++)
        for (int zones = 0; zones <= SLEW_KEEPOUT_MAX; zones += SLEW_KEEPOUT_MAX / 2) {
            const fmu_kind kind = k ? FMU_PLANT : FMU_MACHINE;
            const slew_scenario s = carried(zones);
            slew_scenario back;
            fmu_kind told;
            write_text(&s, kind);
            assert_true(reads(text, &back, &told));
            assert_int_equal(told, kind);
            assert_true(back.setup.axis[SLEW_ELEVATION].load.mass == 11.0 + 1.0 / 3.0);
            assert_true(slew_scenario_get_number(&back, slew_key_find("supply.main.voltage")) ==
                        s.setup.supply.main.voltage);
            assert_int_equal(back.keepout.count, zones);
            for (int i = 0; i < zones; i++)
                assert_memory_equal(back.keepout.box[i].axis, s.keepout.box[i].axis,
                                    sizeof s.keepout.box[i].axis);
            for (int j = 0; j < SLEW_AXES; j++) {
                assert_int_equal(back.deploy.choice_count[j], s.deploy.given);
                assert_true(back.deploy.choices[j][0] == s.deploy.seconds[j]);
            }
        }
}

/* the text with `by` in the place of `what` */
static const char *changed(const char *what, const char *by)
{
    static char other[TEXT_MAX];
    const char *at = strstr(text, what);
    assert_non_null(at);
    snprintf(other, sizeof other, "%.*s%s%s", (int)(at - text), text, by, at + strlen(what));
    return other;
}

static void what_is_no_such_text_is_refused(void **state)
{
    slew_scenario back;
    fmu_kind kind;
    const slew_scenario s = carried(SLEW_KEEPOUT_MAX);
    (void)state;
    write_text(&s, FMU_MACHINE);
    assert_true(reads(changed("keepout ", "keepout "), &back, &kind));
    assert_false(reads("", &back, &kind));
    assert_false(reads(changed("slewtime-fmu", "something-else"), &back, &kind));
    assert_false(reads(changed(SLEW_VERSION, "0.0.0"), &back, &kind));
    assert_false(reads(changed("elevation.load.mass", "elevation.load.weight"), &back, &kind));
    assert_false(reads(changed("file elevation.load.mass", "elevation.load.mass"), &back, &kind));
    assert_false(reads(changed("keepout ", "keepout x "), &back, &kind));
    assert_false(reads(changed("keepout ", "keepout 0 0 0 0\nkeepout "), &back, &kind));
}

static void a_token_tells_scenarios_and_kinds_apart(void **state)
{
    char first[FMU_TOKEN_MAX], other[FMU_TOKEN_MAX];
    const slew_scenario s = carried(0), with_zone = carried(1);
    (void)state;
    fmu_token(&s, FMU_MACHINE, first);
    assert_non_null(strstr(first, SLEW_VERSION));
    fmu_token(&s, FMU_PLANT, other);
    assert_string_not_equal(first, other);
    fmu_token(&with_zone, FMU_MACHINE, other);
    assert_string_not_equal(first, other);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_scenario_comes_back),
        cmocka_unit_test(what_is_no_such_text_is_refused),
        cmocka_unit_test(a_token_tells_scenarios_and_kinds_apart),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
