/* plan_words.c - the changes of a plan in plain words, and seconds beyond the choices. Runs from
 * the project's root. */

#include "../support.h"
#include "study/plan/plan_change.h"

static slew_scenario read(const char *path)
{
    slew_scenario s;
    assert_int_equal(slew_scenario_read_file(path, NULL, &s), SLEW_OK);
    return s;
}

/* every change of every truck here: words of its own, and no key among them */
static void every_change_has_plain_words(void **state)
{
    (void)state;
    static const char *const files[] = {"examples/daily.yaml", "examples/mast-on-the-way.yaml",
                                        "examples/sheet-24v.yaml", "examples/sheet-mast.yaml",
                                        "examples/fireboat-24v.yaml"};
    for (size_t f = 0; f < sizeof files / sizeof *files; f++) {
        const slew_scenario s = read(files[f]);
        slew_plan_change change[SLEW_PLAN_CHANGES_MAX];
        int count = slew_plan_changes(&s, change);
        char words[SLEW_PLAN_CHANGES_MAX][120], key[120];
        for (int i = 0; i < count; i++) {
            slew_plan_plain(&change[i], words[i], sizeof words[i]);
            slew_plan_to_set(&change[i], key, sizeof key);
            assert_true(strlen(words[i]) > 10);
            assert_string_not_equal(words[i], "change a setting");
            assert_null(strpbrk(words[i], ":=_"));
            if (change[i].key >= 0) {
                assert_null(strstr(words[i], slew_key_at(change[i].key)->path));
                assert_non_null(strstr(key, slew_key_at(change[i].key)->path));
            }
            for (int k = 0; k < i; k++)
                assert_string_not_equal(words[i], words[k]);
        }
    }
}

static void says(slew_plan_kind kind, const char *path, double value, const char *expected,
                 const char *to_set)
{
    char words[120], key[120];
    const slew_plan_change c = {kind, path != NULL ? slew_key_find(path) : -1, value,
                                SLEW_PLAN_COST_SETTING};
    slew_plan_plain(&c, words, sizeof words);
    slew_plan_to_set(&c, key, sizeof key);
    assert_string_equal(words, expected);
    assert_string_equal(key, to_set);
}

/* in figures each key has its path, the first of the table too */
static void changes_in_figures_name_the_key(void **state)
{
    char text[120];
    (void)state;
    for (int key = 0; key < 2; key++) {
        const slew_plan_change c = {key ? SLEW_PLAN_TAUGHT_AT : SLEW_PLAN_KEY,
                                    key ? slew_key_find("supply.main.voltage") : 0, key ? 12.5 : 1,
                                    SLEW_PLAN_COST_SETTING};
        slew_plan_words(&c, text, sizeof text);
        assert_string_equal(text, key ? "teach supply.main.voltage: 12.5 V" : "format: 1");
    }
}

static void changes_are_things_to_do(void **state)
{
    (void)state;
    says(SLEW_PLAN_KEY, "supply.auxiliary.fitted", 1, "fit an auxiliary battery at the controller",
         "supply.auxiliary.fitted=yes");
    says(SLEW_PLAN_KEY, "elevation.approach", SLEW_APPROACH_RISING, "let elevation home from below",
         "elevation.approach=rising");
    says(SLEW_PLAN_KEY, "rotation.approach", SLEW_APPROACH_FALLING,
         "let rotation home from the right", "rotation.approach=falling");
    says(SLEW_PLAN_KEY, "rotation.approach", SLEW_APPROACH_EITHER,
         "let rotation home from whichever side", "rotation.approach=either");
    says(SLEW_PLAN_KEY, "elevation.search", 1, "search up first for the home of the elevation",
         "elevation.search=up");
    says(SLEW_PLAN_KEY, "stow.order", SLEW_TOGETHER, "stow both axes together",
         "stow.order=together");
    says(SLEW_PLAN_KEY, "deploy.order", SLEW_ELEVATION_FIRST,
         "deploy elevation first, then rotation", "deploy.order=elevation, rotation");
    says(SLEW_PLAN_KEY, "deploy.same_day", 1, "deploy on the day it was stowed",
         "deploy.same_day=yes");
    says(SLEW_PLAN_TAUGHT_AT, "supply.main.voltage", 13, "teach at 13 V battery voltage",
         "teach.supply.main.voltage=13 V");
    says(SLEW_PLAN_KEY, "supply.feed.gauge", 4, "fit a feed cable of 4 AWG",
         "supply.feed.gauge=4 AWG");
    says(SLEW_PLAN_KEY, "stow.lift_first", 2, "raise the barrel for 2 s before it homes",
         "stow.lift_first=2 s");
    says(SLEW_PLAN_FINER, NULL, 0, "make seconds settable to 0.5 s",
         "deploy.choices in steps of 0.5 s");
    says(SLEW_PLAN_BEYOND, NULL, 0, "make seconds settable beyond the choices",
         "deploy.choices beyond the present ones");
}

static const slew_plan_change beyond = {SLEW_PLAN_BEYOND, -1, 0, SLEW_PLAN_COST_SETTING};

static bool offers(const slew_scenario *s, int axis, double seconds)
{
    for (int i = 0; i < s->deploy.choice_count[axis]; i++)
        if (fabs(s->deploy.choices[axis][i] - seconds) < 1e-9)
            return true;
    return false;
}

/* in the same steps, twice as far, and never turned round */
static void seconds_beyond_go_on_in_the_same_steps(void **state)
{
    (void)state;
    slew_scenario s = read("examples/mast-on-the-way.yaml");
    static const double own[] = {2, 3, 4};
    memcpy(s.deploy.choices[SLEW_ELEVATION], own, sizeof own);
    s.deploy.choice_count[SLEW_ELEVATION] = 3;
    s.deploy.choices[SLEW_ROTATION][0] = 0;
    s.deploy.choice_count[SLEW_ROTATION] = 1;
    assert_true(slew_plan_apply(&s, &beyond));
    assert_int_equal(s.deploy.choice_count[SLEW_ROTATION], 1);
    assert_int_equal(s.deploy.choice_count[SLEW_ELEVATION], 7);
    for (int i = 0; i <= 6; i++)
        assert_true(offers(&s, SLEW_ELEVATION, i));
    assert_false(offers(&s, SLEW_ELEVATION, -1));
}

static void one_choice_has_no_beyond(void **state)
{
    (void)state;
    slew_scenario s = read("examples/mast-on-the-way.yaml");
    for (int j = 0; j < SLEW_AXES; j++)
        s.deploy.choice_count[j] = 1;
    assert_false(slew_plan_apply(&s, &beyond));
}

/* a truck whose choices end a second before the one that would do */
static void choices_too_short_are_named(void **state)
{
    (void)state;
    static slew_plan plan;
    slew_scenario s = read("examples/mast-on-the-way.yaml");
    slew_sampling how = slew_sampling_default();
    static const double own[] = {2, 2.5, 3};
    bool found = false;
    s.keepout.count = 0;
    memcpy(s.deploy.choices[SLEW_ELEVATION], own, sizeof own);
    s.deploy.choice_count[SLEW_ELEVATION] = 3;
    how.samples = 4000;
    assert_int_equal(slew_plan_run(&s, &how, &plan, NULL), SLEW_OK);
    assert_int_equal(plan.best.judgment.meets, SLEW_MEETS_NOT);
    for (int i = 0; i < plan.count; i++)
        if (plan.row[i].change.kind == SLEW_PLAN_BEYOND) {
            found = true;
            assert_int_equal(plan.row[i].best.judgment.meets, SLEW_MEETS);
            assert_true(plan.row[i].best.seconds[SLEW_ELEVATION] > 3);
        }
    assert_true(found);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_change_has_plain_words),
        cmocka_unit_test(changes_in_figures_name_the_key),
        cmocka_unit_test(changes_are_things_to_do),
        cmocka_unit_test(seconds_beyond_go_on_in_the_same_steps),
        cmocka_unit_test(one_choice_has_no_beyond),
        cmocka_unit_test(choices_too_short_are_named),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
