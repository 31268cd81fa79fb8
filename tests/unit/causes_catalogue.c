/* causes_catalogue.c - catalogues are read as they are written, the built-in one among them. */
#include <stdlib.h>

#include "causes_files.h"

#define ONE(changes) "causes:\n  one:\n    means: x\n    today: {" changes "}\n"

static slew_catalogue catalogue; /* too large for a stack */

static slew_status read_text(const char *text, kept *all)
{
    const slew_error_sink errors = {keep_error, all};
    all->count = 0;
    return slew_catalogue_read_memory(text, strlen(text), "file.yaml", errors, &catalogue);
}

static const slew_cause *only_cause(const char *text)
{
    kept all;
    catalogue.count = 0;
    if (read_text(text, &all) != SLEW_OK)
        fail_msg("%d: %s: %s", all.error[0].line, all.error[0].key, all.error[0].message);
    assert_int_equal(catalogue.count, 1);
    return &catalogue.cause[0];
}

static slew_change only_change(const char *text)
{
    const slew_cause *cause = only_cause(text);
    assert_int_equal(cause->change_count, 1);
    return cause->change[0];
}

/* ---- the built-in one ---- */

static bool is_sentence(const char *text)
{
    size_t length = strlen(text);
    return length > 20 && text[0] >= 'A' && text[0] <= 'Z' && text[length - 1] == '.';
}

/* what is put to a conductor is put there while the power is locked out */
static bool touches_nothing_live(const char *prove)
{
    static const char *const at_conductors[] = {
        "clamp meter",          "meter leads",      "leads", "easure the voltage", "continuity",
        "controller low while", "at the controller"};
    for (size_t i = 0; i < sizeof at_conductors / sizeof *at_conductors; i++)
        if (strstr(prove, at_conductors[i]) != NULL && strstr(prove, "locked out") == NULL)
            return false;
    return strstr(prove, "is warm") == NULL;
}

static void built_in_causes_are_whole(void **state)
{
    (void)state;
    assert_int_equal(slew_catalogue_builtin(&catalogue), SLEW_OK);
    assert_in_range(catalogue.count, 30, SLEW_CAUSES_MAX);
    for (int i = 0; i < catalogue.count; i++) {
        const slew_cause *c = &catalogue.cause[i];
        if (!is_sentence(c->means) || !is_sentence(c->prove) || !is_sentence(c->cure))
            fail_msg("%s has no whole sentences", c->name);
        assert_null(strstr(c->name, "AXIS"));
        assert_null(strstr(c->prove, "AXIS"));
        if (!touches_nothing_live(c->prove))
            fail_msg("%s has hands or leads put to what is live", c->name);
        assert_true(c->commonness > 0);
        assert_true(c->change_count > 0 || strcmp(c->name, "nothing wrong") == 0);
        assert_int_equal(slew_catalogue_find(&catalogue, c->name), i);
    }
}

/* words that a technician stumbles over, and British spellings */
static void no_hard_words_in(const char *name, const char *text)
{
    static const char *const hard[] = {
        "isolate",    " by hand a", "driven by hand", "axis by hand",  " joint",
        "maker says", "metre",      "colour",         "licence",       "hand drive",
        "low stop",   "high stop",  "sound one",      "set otherwise", "called out"};
    for (size_t i = 0; i < sizeof hard / sizeof *hard; i++)
        if (strstr(text, hard[i]) != NULL)
            fail_msg("%s: \"%s\" in \"%s\"", name, hard[i], text);
}

static void words_are_plain(void **state)
{
    (void)state;
    assert_int_equal(slew_catalogue_builtin(&catalogue), SLEW_OK);
    for (int i = 0; i < catalogue.count; i++) {
        const slew_cause *c = &catalogue.cause[i];
        no_hard_words_in(c->name, c->name);
        no_hard_words_in(c->name, c->means);
        no_hard_words_in(c->name, c->prove);
        no_hard_words_in(c->name, c->cure);
    }
    for (int i = 0; i < SLEW_OBSERVABLES; i++) {
        const slew_observable *o = slew_observable_at(i);
        no_hard_words_in(o->key.path, o->key.meaning);
        no_hard_words_in(o->key.path, o->name);
        assert_null(strstr(o->key.meaning, " says"));
        assert_null(strstr(o->key.meaning, "driven"));
    }
}

static void healthy_machine_is_one_of_them(void **state)
{
    (void)state;
    assert_int_equal(slew_catalogue_builtin(&catalogue), SLEW_OK);
    int healthy = slew_catalogue_find(&catalogue, "Nothing Wrong");
    assert_true(healthy >= 0);
    assert_int_equal(catalogue.cause[healthy].change_count, 0);
}

/* ---- changes ---- */

static void value_takes_the_place_of_the_own(void **state)
{
    (void)state;
    slew_change c = only_change(ONE("supply.main.voltage: 11 V"));
    assert_int_equal(c.layer, SLEW_LAYER_TODAY);
    assert_int_equal(c.key, slew_key_find("supply.main.voltage"));
    assert_int_equal(c.how, SLEW_CHANGE_TO);
    assert_int_equal(c.base, -1);
    assert_int_equal(c.count, 1);
    near("voltage", c.amount[0], 11.0, 0.0);
    c = only_change(ONE("rotation.home.present: no"));
    near("no", c.amount[0], 0.0, 0.0);
    c = only_change(ONE("rotation.search: left"));
    near("left", c.amount[0], -1.0, 0.0);
}

static void own_value_is_changed_by_an_amount(void **state)
{
    (void)state;
    slew_change c = only_change(ONE("controller.stall.current: times 0.6"));
    assert_int_equal(c.how, SLEW_CHANGE_TIMES);
    assert_int_equal(c.base, c.key);
    near("factor", c.amount[0], 0.6, 0.0);
    c = only_change(ONE("elevation.home.angle: plus 2 deg"));
    assert_int_equal(c.how, SLEW_CHANGE_PLUS);
    near("angle", c.amount[0], degrees(2.0), 1e-15);
    c = only_change(ONE("environment.temperature: minus 20 K"));
    assert_int_equal(c.how, SLEW_CHANGE_PLUS);
    near("colder", c.amount[0], -20.0, 0.0);
    c = only_change(ONE("supply.feed.gauge: plus 4"));
    near("gauges", c.amount[0], 4.0, 0.0);
}

static void another_key_is_taken(void **state)
{
    (void)state;
    slew_change c = only_change("causes: {a: {means: x, always: {stow.point.elevation: "
                                "elevation.stops.low plus 0.5 deg}}}");
    assert_int_equal(c.layer, SLEW_LAYER_FILE);
    assert_int_equal(c.how, SLEW_CHANGE_PLUS);
    assert_int_equal(c.base, slew_key_find("elevation.stops.low"));
    near("clearance", c.amount[0], degrees(0.5), 1e-15);
    c = only_change(ONE("elevation.start: elevation.home.angle"));
    assert_int_equal(c.base, slew_key_find("elevation.home.angle"));
    assert_int_equal(c.count, 1);
    near("nothing more", c.amount[0], 0.0, 0.0);
}

static void amounts_have_ranges_and_alternatives(void **state)
{
    (void)state;
    slew_change c = only_change(ONE("supply.main.voltage: 9 V to 11 V"));
    assert_true(c.range);
    near("from", c.amount[0], 9.0, 0.0);
    near("to", c.amount[1], 11.0, 0.0);
    c = only_change(ONE("supply.main.voltage: minus 1 V to 2 V"));
    assert_true(c.range);
    near("from", c.amount[0], -1.0, 0.0);
    near("to", c.amount[1], -2.0, 0.0);
    c = only_change(ONE("rotation.home.angle: plus 5 deg or -5 deg or 9 deg"));
    assert_false(c.range);
    assert_int_equal(c.count, 3);
    near("second", c.amount[1], degrees(-5.0), 1e-15);
}

static void an_amount_can_be_shared(void **state)
{
    (void)state;
    slew_change c = only_change(ONE("supply.feed.joint_resistance: plus 60 mohm to 300 mohm over "
                                    "supply.feed.joints"));
    assert_int_equal(c.how, SLEW_CHANGE_PLUS);
    assert_int_equal(c.over, slew_key_find("supply.feed.joints"));
    assert_true(c.range);
    near("most", c.amount[1], 0.3, 1e-15);
    c = only_change(ONE("supply.feed.joints: at least 1"));
    assert_int_equal(c.how, SLEW_CHANGE_LEAST);
    assert_int_equal(c.base, c.key);
    assert_int_equal(c.over, -1);
    near("one", c.amount[0], 1, 0.0);
}

static void none_of_these_has_its_probability(void **state)
{
    kept all;
    (void)state;
    assert_int_equal(slew_catalogue_builtin(&catalogue), SLEW_OK);
    near("built in", catalogue.none, 0.05, 1e-15);
    int before = catalogue.count;
    assert_int_equal(read_text("none_of_these: 12 %\n", &all), SLEW_OK);
    near("own", catalogue.none, 0.12, 1e-15);
    assert_int_equal(catalogue.count, before);
}

static void layers_are_kept_apart(void **state)
{
    (void)state;
    const slew_cause *c = only_cause("causes:\n"
                                     "  a:\n"
                                     "    means: >-\n"
                                     "      one\n"
                                     "      two\n"
                                     "    commonness: 3\n"
                                     "    today:\n"
                                     "    teach: {supply.main.voltage: 11 V}\n"
                                     "    deploy_day: {supply.main.voltage: 12 V}\n"
                                     "    reads: {check.rotation.hand_magnet: closed}\n");
    assert_string_equal(c->means, "one two");
    assert_string_equal(c->prove, "");
    near("commonness", c->commonness, 3.0, 0.0);
    assert_int_equal(c->change[0].layer, SLEW_LAYER_TEACH);
    assert_int_equal(c->change[1].layer, SLEW_LAYER_DEPLOY_DAY);
    assert_int_equal(c->stated[0].observable, SLEW_SEEN_HAND_MAGNET + SLEW_ROTATION);
    near("closed", c->stated[0].value, 1.0, 0.0);
}

/* ---- entries ---- */

static void axis_stands_for_both(void **state)
{
    kept all;
    (void)state;
    catalogue.count = 0;
    assert_int_equal(read_text("causes: {AXIS loose: {means: The AXIS wobbles., today: "
                               "{AXIS.gear.ratio: AXIS.gear.ratio times 2}}}",
                               &all),
                     SLEW_OK);
    assert_int_equal(catalogue.count, 2);
    assert_string_equal(catalogue.cause[0].name, "rotation loose");
    assert_string_equal(catalogue.cause[1].means, "The elevation wobbles.");
    assert_int_equal(catalogue.cause[1].change[0].key, slew_key_find("elevation.gear.ratio"));
    assert_int_equal(catalogue.cause[1].change[0].base, slew_key_find("elevation.gear.ratio"));
}

static void file_adds_and_replaces(void **state)
{
    kept all;
    (void)state;
    assert_int_equal(slew_catalogue_builtin(&catalogue), SLEW_OK);
    int before = catalogue.count, feed = slew_catalogue_find(&catalogue, "undersized feed");
    const char *text = "causes:\n"
                       "  Undersized feed: {means: mine}\n"
                       "  something new: {means: new}\n";
    assert_int_equal(read_text(text, &all), SLEW_OK);
    assert_int_equal(catalogue.count, before + 1);
    assert_string_equal(catalogue.cause[feed].means, "mine");
    assert_int_equal(catalogue.cause[feed].change_count, 0);
    assert_string_equal(catalogue.cause[before].name, "something new");
}

static void file_can_stand_alone(void **state)
{
    kept all;
    (void)state;
    assert_int_equal(slew_catalogue_builtin(&catalogue), SLEW_OK);
    int before = catalogue.count;
    assert_int_equal(read_text("builtin: yes\ncauses: {mine: {means: x}}\n", &all), SLEW_OK);
    assert_int_equal(catalogue.count, before + 1);
    assert_int_equal(read_text("builtin: no\ncauses: {mine: {means: x}}\n", &all), SLEW_OK);
    assert_int_equal(catalogue.count, 1);
}

/* ---- what is wrong ---- */

static const wrong wrongs[] = {
    {ONE("rotation.hom.present: no"), 4, 13, "rotation.hom.present", "unknown key",
     "rotation.home.present"},
    {"causes: {AXIS x: {means: x, today: {AXIS.homes.angle: 1 deg}}}", 1, 37,
     "rotation.homes.angle", "unknown key", "rotation.home.angle"},
    {ONE("supply.main.voltage: 11 A"), 4, 34, "supply.main.voltage", "a current, not a voltage",
     NULL},
    {ONE("supply.main.voltage: plus 2 A"), 4, 34, "supply.main.voltage", "a current, not a voltage",
     NULL},
    {ONE("supply.main.voltage: times 2 V"), 4, 34, "supply.main.voltage",
     "a plain number has no unit", NULL},
    {ONE("supply.main.voltage: times"), 4, 34, "supply.main.voltage", "no amount", NULL},
    {ONE("supply.main.voltage: 11 V to 9 V"), 4, 34, "supply.main.voltage", "wrong way round",
     NULL},
    {ONE("supply.main.voltage: plus 2 V to 1 V"), 4, 34, "supply.main.voltage", "wrong way round",
     NULL},
    {ONE("supply.main.voltage: 9 V to 10 V to 11 V"), 4, 34, "supply.main.voltage",
     "more than one range", NULL},
    {ONE("supply.main.voltage: elevation.start plus 2 V"), 4, 34, "supply.main.voltage",
     "not of one kind", NULL},
    {ONE("supply.main.voltage: supply.man.voltage times 2"), 4, 34, "supply.man.voltage",
     "unknown key", "supply.main.voltage"},
    {ONE("rotation.home.present: times 2"), 4, 36, "rotation.home.present", "only a number", NULL},
    {ONE("rotation.home.present: no to yes"), 4, 36, "rotation.home.present",
     "only numbers have a range", NULL},
    {ONE("stow.point.rotation: 5 deg"), 4, 13, "stow.point.rotation", "today can't hold", NULL},
    {ONE("title: x"), 4, 13, "title", "can't change", NULL},
    {ONE("rotation.start: 1 deg, rotation.start: 2 deg"), 4, 36, "rotation.start", "given twice",
     NULL},
    {"causes: {a: {today: {rotation.reversed: yes}}}", 1, 13, "a", "means is missing", NULL},
    {"causes: {a: {means: x, prov: y}}", 1, 24, "a.prov", "unknown key", "prove"},
    {"causes: {a: {means: x, commonness: 0}}", 1, 36, "commonness", "out of range", NULL},
    {"causes: {a: {means: x, reads: {stow.says: stowed}}}", 1, 32, "stow.says",
     "only a check can be stated", NULL},
    {"causes: {a: {means: x, reads: {check.rotation.hand_magnt: open}}}", 1, 32,
     "check.rotation.hand_magnt", "unknown observable", "check.rotation.hand_magnet"},
    {"causes: {a: {means: x}, A: {means: y}}", 1, 25, "A", "given twice", NULL},
    {"causes: {}", 1, 9, "causes", "no causes", NULL},
    {"causs: {a: {means: x}}", 1, 1, "catalogue.causs", "unknown key", "causes"},
    {"builtin: maybe\ncauses: {a: {means: x}}", 1, 10, "builtin", "neither yes nor no", NULL},
    {"builtin: no", 1, 1, "causes", "no causes are given", NULL},
    {"none_of_these: 95 %\ncauses: {a: {means: x}}", 1, 16, "none_of_these", "out of range", NULL},
    {ONE("supply.main.voltage: times 2 over supply.feed.joints"), 4, 34, "supply.main.voltage",
     "only an amount that is added", NULL},
    {ONE("supply.main.voltage: plus 2 V over supply.feed.joins"), 4, 34, "supply.feed.joins",
     "unknown key", "supply.feed.joints"},
    {ONE("supply.main.voltage: plus 2 V over rotation.start"), 4, 34, "supply.main.voltage",
     "a plain number", NULL},
    {ONE("rotation.home.present: at least 2"), 4, 36, "rotation.home.present", "only a number",
     NULL},
    {"causes: {a: {means: ''}}", 1, 21, "means", "no words", NULL},
    {"causes: {a: {means: }}", 1, 21, "means", "no words", NULL},
    {"causes: {a: {means: [x]}}", 1, 21, "means", "a list where a single value belongs", NULL},
    {"causes: {a: x}", 1, 13, "a", "a single value where a map belongs", NULL},
    {"causes: [a]", 1, 9, "causes", "a list where a map belongs", NULL},
    {"causes: {[a]: {means: x}}", 1, 10, "causes", "a list where a single value belongs", NULL},
    {"causes: {' ': {means: x}}", 1, 10, "causes", "a name has 1 to 63 bytes", NULL},
    {"causes: {a: {means: x, today: [y]}}", 1, 31, "a", "a list where a map belongs", NULL},
    {"causes: {a: {means: x, reads: [y]}}", 1, 31, "a", "a list where a map belongs", NULL},
    {"causes: {a: {means: x, reads: {[y]: open}}}", 1, 32, "a",
     "a list where a single value belongs", NULL},
    {ONE("[y]: 1"), 4, 13, "one", "a list where a single value belongs", NULL},
    {ONE("rotation.start: [1 deg]"), 4, 29, "rotation.start", "a list where a single value belongs",
     NULL},
    {ONE("rotation.start: 1 deg or 2 deg or 3 deg or 4 deg or 5 deg or 6 deg or 7 deg or 8 deg or "
         "9 deg"),
     4, 29, "rotation.start", "more than 8 amounts", NULL},
    {ONE("rotation.stops.low: 1 deg to 1 deg"), 4, 33, "rotation.stops.low", "wrong way round",
     NULL},
    {ONE("stow.cancel_at: 1 s to never"), 4, 29, "stow.cancel_at", "a range has two ends", NULL},
    {ONE("supply.main.voltage: rotation.home.present plus 2 V"), 4, 34, "supply.main.voltage",
     "only a number", NULL},
    {"builtin: [no]\ncauses: {a: {means: x}}", 1, 10, "builtin",
     "a list where a single value belongs", NULL},
    {"- a", 1, 1, "", "a list where a map belongs", NULL},
    {"", 1, 1, "", "the file is empty", NULL},
};

static void what_is_wrong_is_said_where_it_stands(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof wrongs / sizeof *wrongs; i++) {
        kept all;
        catalogue.count = 0;
        slew_status status = read_text(wrongs[i].text, &all);
        is_said(&wrongs[i], status, &all);
    }
}

/* what is put together from parts is told as well, at the cause that it is of */
static void too_much_of_one_cause_is_refused(void **state)
{
    static const char *const key[] = {
        "rotation.start",      "elevation.start",         "supply.main.voltage",
        "supply.floor",        "environment.temperature", "environment.tilt",
        "rotation.home.angle", "elevation.home.angle",    "supply.shared_load"};
    char text[2048] = "causes: {a: {means: x, today: {", longer[1200], path[200];
    kept all;
    (void)state;
    for (int i = 0; i <= SLEW_CHANGES_MAX; i++)
        strcat(strcat(strcat(text, i > 0 ? ", " : ""), key[i]), ": times 2");
    catalogue.count = 0;
    strcat(text, "}}}");
    is_said(&(wrong){text, 1, 258, "a", "more than 8 changes", NULL}, read_text(text, &all), &all);
    strcpy(text, "causes: {a: {means: x, reads: {");
    for (int i = 0, n = 0; n <= SLEW_CHANGES_MAX; i++)
        if (slew_observable_at(i)->by == SLEW_BY_CHECK && ++n > 0)
            strcat(strcat(strcat(strcat(text, n > 1 ? ", " : ""), slew_observable_at(i)->key.path),
                          ": "),
                   slew_observable_at(i)->key.example);
    assert_int_equal(read_text(strcat(text, "}}}"), &all), SLEW_ERROR_INPUT);
    assert_string_equal(all.error[0].message, "more than 8 stated checks");
    memset(longer, 'x', sizeof longer);
    longer[SLEW_WORDS_MAX] = '\0';
    snprintf(text, sizeof text, "causes: {a: {means: %s}}", longer);
    is_said(&(wrong){text, 1, 21, "means", "too long a text, at most 799 bytes", NULL},
            read_text(text, &all), &all);
    longer[64] = '\0';
    snprintf(text, sizeof text, "causes: {%s: {means: x}}", longer);
    is_said(&(wrong){text, 1, 10, "causes", "a name has 1 to 63 bytes", NULL},
            read_text(text, &all), &all);
    snprintf(text, sizeof text, "causes: {AXIS %s: {means: x}}", longer + 8);
    is_said(&(wrong){text, 1, 10, "causes", "a name has 1 to 63 bytes", NULL},
            read_text(text, &all), &all);
    memset(path, 'y', sizeof path);
    path[170] = '\0';
    snprintf(text, sizeof text, "causes: {a: {means: x, today: {%s: 1}}}", path);
    is_said(&(wrong){text, 1, 32, "a", "too long a path", NULL}, read_text(text, &all), &all);
    snprintf(text, sizeof text, "causes: {a: {means: x, reads: {%s: 1}}}", path);
    is_said(&(wrong){text, 1, 32, "a", "too long a path", NULL}, read_text(text, &all), &all);
    snprintf(text, sizeof text, "causes: {a: {means: x, today: {rotation.start: %s}}}", path);
    is_said(&(wrong){text, 1, 48, "rotation.start", "too long a value", NULL},
            read_text(text, &all), &all);
}

static void too_many_are_refused(void **state)
{
    char *text = malloc(8192);
    int length = sprintf(text, "causes:\n");
    kept all;
    (void)state;
    for (int i = 0; i <= SLEW_CAUSES_MAX; i++)
        length += sprintf(text + length, "  cause %d: {means: x}\n", i);
    catalogue.count = 0;
    assert_int_equal(read_text(text, &all), SLEW_ERROR_INPUT);
    assert_non_null(strstr(all.error[0].message, "more than 80 causes"));
    assert_int_equal(all.error[0].line, SLEW_CAUSES_MAX + 2);
    free(text);
}

static void missing_file_is_said(void **state)
{
    kept all = {0};
    (void)state;
    assert_int_equal(
        slew_catalogue_read_file("no/such.yaml", (slew_error_sink){keep_error, &all}, &catalogue),
        SLEW_ERROR_FILE);
    assert_string_equal(all.error[0].source, "no/such.yaml");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(built_in_causes_are_whole),
        cmocka_unit_test(words_are_plain),
        cmocka_unit_test(healthy_machine_is_one_of_them),
        cmocka_unit_test(value_takes_the_place_of_the_own),
        cmocka_unit_test(own_value_is_changed_by_an_amount),
        cmocka_unit_test(another_key_is_taken),
        cmocka_unit_test(amounts_have_ranges_and_alternatives),
        cmocka_unit_test(an_amount_can_be_shared),
        cmocka_unit_test(none_of_these_has_its_probability),
        cmocka_unit_test(layers_are_kept_apart),
        cmocka_unit_test(axis_stands_for_both),
        cmocka_unit_test(file_adds_and_replaces),
        cmocka_unit_test(file_can_stand_alone),
        cmocka_unit_test(what_is_wrong_is_said_where_it_stands),
        cmocka_unit_test(too_much_of_one_cause_is_refused),
        cmocka_unit_test(too_many_are_refused),
        cmocka_unit_test(missing_file_is_said),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
