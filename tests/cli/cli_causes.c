/* cli_causes.c - `slewtime causes`: text, JSON, CSV, picture, the hidden cause, and its refusals.
 */
#include "document.h"

/* the bench truck with a day that differs little: small samples do */
static const char SPREAD[] =
    "spread:\n"
    "  day: {supply.main.voltage: {uniform: {low: 12.9 V, high: 13.1 V}}}\n";

static const char SEEN[] = "stow:\n"
                           "  says: fault\n"
                           "  fault: home_not_found\n"
                           "  axis: rotation\n"
                           "moved: {rotation: right}\n";

static int enter(void **state)
{
    char text[sizeof TRUCK + sizeof SPREAD];
    int code = enter_directory(state);
    snprintf(text, sizeof text, "%s%s", TRUCK, SPREAD);
    write_file("spread.yaml", text);
    write_file("seen.yaml", SEEN);
    return code;
}

#define CAUSES(...) TOOL("causes", "spread.yaml", "--samples", "64", __VA_ARGS__)

static void opens_with(const char *text, const char *start)
{
    if (strncmp(text, start, strlen(start)) != 0)
        fail_msg("\"%s\" is not how this opens:\n%s", start, text);
}

/* letters of the first line: a degree sign is one */
static int letters_of(const char *line)
{
    int count = 0;
    for (; *line != '\n' && *line != '\0'; line++)
        count += ((unsigned char)*line & 0xc0) != 0x80;
    return count;
}

static json_t *named(json_t *list, const char *name)
{
    size_t index;
    json_t *row;
    json_array_foreach(list, index, row) if (strcmp(json_string_value(json_object_get(row, "name")),
                                                    name) == 0) return row;
    fail_msg("%s is not there", name);
    return NULL;
}

/* ---- signatures ---- */

static void table_has_every_cause(void **state)
{
    (void)state;
    outcome o = CAUSES("--seed", "3");
    assert_int_equal(o.code, 0);
    opens_with(o.out, "35 causes on this truck; ");
    has(o.out, "\nBench monitor, \"invented\" for these tests\n  asked       64 simulated days");
    has(o.out, "seed 3, scenario ");
    has(o.out, "low: lowest voltage with a motor on;");
    has(o.out, "\nnothing wrong ");
    has(o.out, "\nrotation home sensor dead             R D  home not found R ");
    has(o.out, "\nelevation motor reversed ");
    has(o.out, "looks the same at the truck as rotation home magnet out of");
    has(o.out, "Left out:   auxiliary battery flat changes nothing on this scenario.");
    has(o.out, "Simulated: it does not replace a test on the truck.");
    for (const char *line = o.out; *line != '\0'; line = strchr(line, '\n') + 1)
        assert_true(letters_of(line) <= 100);
    free_outcome(&o);
}

static void about_tells_all_of_one(void **state)
{
    (void)state;
    outcome o = CAUSES("--about", "Rotation Home Sensor Dead");
    assert_int_equal(o.code, 0);
    opens_with(o.out,
               "rotation home sensor dead\n  means     The home sensor of rotation never closes");
    has(o.out, "\n  prove     With power disconnected and locked out");
    has(o.out, "\n  cure      Replace the sensor");
    has(o.out, "\n  alike     rotation home magnet out of reach");
    has(o.out, "\n  Rotation sensor at its home mark                     open ");
    has(o.out, " check.rotation.sensor_at_home\n");
    has(o.out, "\n  Stow fault                                           home sensor not found ");
    has(o.out, "move without warning and crush");
    has(o.out, "disconnect and lock out power");
    has(o.out, "manufacturer's instructions override");
    has_not(o.out, "deploy.elevation");
    free_outcome(&o);
}

static void json_has_signatures_and_words(void **state)
{
    (void)state;
    outcome o = CAUSES("--json");
    assert_int_equal(o.code, 0);
    json_t *whole = json_of(&o);
    assert_int_equal(json_integer_value(json_object_get(whole, "samples")), 64);
    assert_int_equal(strlen(json_string_value(json_object_get(whole, "scenario"))), 16);
    json_t *dead = named(json_object_get(whole, "causes"), "rotation home sensor dead");
    assert_true(strlen(json_string_value(json_object_get(dead, "prove"))) > 50);
    json_t *says = json_object_get(json_object_get(dead, "signature"), "stow.fault");
    assert_string_equal(json_string_value(json_object_get(says, "word")), "home_not_found");
    json_t *rests = json_object_get(json_object_get(dead, "signature"), "stow.rotation");
    assert_string_equal(json_string_value(json_object_get(rests, "unit")), "deg");
    assert_true(json_real_value(json_object_get(rests, "median")) == -90.0);
    assert_true(json_array_size(json_object_get(dead, "looks_the_same_as")) >= 1);
    named(json_object_get(whole, "left_out"), "auxiliary battery flat");
    json_decref(whole);
    free_outcome(&o);
}

static void csv_has_a_row_for_each_observable(void **state)
{
    (void)state;
    outcome o = CAUSES("--csv", "--about", "undersized feed");
    assert_int_equal(o.code, 0);
    has(o.out,
        "cause,observable,readable,word,share,unit,p05,median,p95,scenario,samples,seed,points\n");
    has(o.out, "\nundersized feed,stow.says,1,stowed,1,,,,,");
    has(o.out, "\nundersized feed,check.feed.resistance,1,,,mohm,");
    has(o.out, ",64,1,sobol\n");
    outcome all = CAUSES("--csv");
    assert_int_equal((lines_of(all.out) - 1) % (lines_of(o.out) - 1), 0);
    assert_true(lines_of(all.out) > 30 * lines_of(o.out));
    free_outcome(&all);
    free_outcome(&o);
}

/* ---- the ranking ---- */

static void ranking_names_what_agrees_and_what_is_next(void **state)
{
    (void)state;
    outcome o = CAUSES("--seen", "seen.yaml");
    assert_int_equal(o.code, 0);
    opens_with(o.out, "Likeliest: rotation home sensor dead (");
    has(o.out, "\nCheck next: \"Rotation sensor away from home\", 8 minutes. It reads ");
    has(o.out, "  Stow fault                                           home sensor not found\n");
    has(o.out, "  rotation home magnet out of reach\n");
    has(o.out, "What a check reads for each cause");
    has(o.out, "\n  Rotation sensor at its home mark                      10 ");
    has(o.out, "  none of these\n");
    has(o.out, "\n1 rotation home sensor dead\n  means ");
    has(o.out, "  prove ");
    has(o.out, "disconnect and lock out power");
    has(o.out, "  seen        seen.yaml\n");
    free_outcome(&o);
    o = CAUSES("--seen", "seen.yaml", "--csv");
    has(o.out, "rank,name,share,share_sd,bayes_factor,fit_p,effective_samples,scenario,");
    has(o.out, "\n1,rotation home sensor dead,0.");
    free_outcome(&o);
}

static void a_check_leaves_one_of_them(void **state)
{
    (void)state;
    char text[sizeof SEEN + 64];
    snprintf(text, sizeof text, "%scheck: {rotation: {hand_magnet: closed, sensor_away: open}}\n",
             SEEN);
    write_file("more.yaml", text);
    outcome o = CAUSES("--seen", "more.yaml", "--json");
    assert_int_equal(o.code, 0);
    json_t *whole = json_of(&o);
    json_t *first = json_array_get(json_object_get(whole, "ranking"), 0);
    assert_string_equal(json_string_value(json_object_get(first, "name")),
                        "rotation home magnet out of reach");
    assert_true(json_real_value(json_object_get(first, "share")) > 0.9);
    assert_true(json_is_true(json_object_get(whole, "fits")));
    double before = 1, sum = 0;
    size_t index;
    json_t *row;
    json_array_foreach(json_object_get(whole, "ranking"), index, row)
    {
        double share = json_real_value(json_object_get(row, "share"));
        assert_true(share <= before);
        before = share;
        sum += share;
    }
    json_t *none = json_object_get(whole, "none_of_these");
    assert_true(json_real_value(json_object_get(none, "prior")) == 0.05);
    sum += json_real_value(json_object_get(none, "share"));
    assert_true(sum > 1 - 1e-9 && sum < 1 + 1e-9);
    assert_true(json_real_value(json_object_get(first, "bayes_factor")) > 10);
    assert_true(json_is_number(json_object_get(first, "share_sd")));
    json_t *seen = json_object_get(whole, "seen");
    assert_string_equal(json_string_value(json_object_get(seen, "check.rotation.hand_magnet")),
                        "closed");
    json_decref(whole);
    free_outcome(&o);
}

static void nothing_fits_an_impossible_observation(void **state)
{
    (void)state;
    write_file("odd.yaml", "stow: {says: stowed, rotation: 55 deg, elevation: -12 deg}\n"
                           "lowest_voltage: 3 V\n");
    outcome o = CAUSES("--seen", "odd.yaml");
    assert_int_equal(o.code, 0);
    opens_with(o.out, "Fit first: these figures are not this truck's, ");
    const char *nothing = strstr(o.out, "\nNothing in the catalogue fits (9");
    assert_non_null(nothing);
    has(nothing, "\nMain evidence against it: ");
    has(nothing, ", seen 55.0°, expected ");
    has(o.out, "\nNone of these: something was misread");
    has_not(o.out, "  prove ");
    free_outcome(&o);
    o = CAUSES("--seen", "odd.yaml", "--set", "fitted=yes");
    opens_with(o.out, "Nothing in the catalogue fits (");
    has_not(o.out, "not fitted to this truck");
    free_outcome(&o);
}

/* what a chief could read aloud: five lines before the first empty one, no path, no raw fault */
static void the_answer_comes_first(void **state)
{
    static const char *const never[] = {"home_not_found", "check.", "stow.",   "bits",
                                        "belief",         "odder",  "isolate", "driven"};
    (void)state;
    outcome o = CAUSES("--seen", "seen.yaml");
    char top[1200];
    const char *end = strstr(o.out, "\n\n");
    assert_non_null(end);
    snprintf(top, sizeof top, "%.*s\n", (int)(end - o.out), o.out);
    assert_true(lines_of(top) <= 5);
    has(top, "\nCaution: it may move.");
    const char *names = strstr(o.out, "\nNames in a file for --seen");
    assert_non_null(names);
    has(names, " check.rotation.sensor_away\n");
    snprintf(top, sizeof top, "%.*s", (int)(names - o.out), o.out);
    for (size_t i = 0; i < sizeof never / sizeof *never; i++)
        has_not(top, never[i]);
    for (const char *line = o.out; *line != '\0'; line = strchr(line, '\n') + 1)
        assert_true(letters_of(line) <= 100);
    free_outcome(&o);
}

/* one cause is left: the others are so many times less likely */
static void the_odds_are_told_in_words(void **state)
{
    (void)state;
    write_file("left.yaml", "stow: {says: fault, fault: home_not_found, axis: rotation}\n"
                            "check: {rotation: {hand_magnet: open, sensor_at_home: open}}\n");
    outcome o = CAUSES("--seen", "left.yaml");
    opens_with(o.out, "Likeliest: rotation home sensor dead, probability 9");
    has(o.out, " times as likely as rotation");
    free_outcome(&o);
}

static void own_catalogue_joins_in(void **state)
{
    (void)state;
    write_file("own.yaml", "causes:\n"
                           "  tired crew:\n"
                           "    means: Nobody has pressed the button.\n"
                           "    today: {stow.cancel_at: 0 s}\n");
    outcome o = CAUSES("--catalogue", "own.yaml");
    assert_int_equal(o.code, 0);
    has(o.out, "  catalogue   own.yaml\n");
    has(o.out, "\ntired crew                            - -  cancelled ");
    has(o.out, "\nundersized feed ");
    free_outcome(&o);
}

static void pictures_are_drawn(void **state)
{
    (void)state;
    outcome o = CAUSES("--plot", "all.png");
    assert_int_equal(o.code, 0);
    is_png("all.png");
    free_outcome(&o);
    o = CAUSES("--seen", "seen.yaml", "--plot", "seen.png");
    assert_int_equal(o.code, 0);
    is_png("seen.png");
    free_outcome(&o);
    o = CAUSES("--seen", "seen.yaml", "--plot", "-", "--quiet");
    has(o.out, "rotation home sensor dead |");
    free_outcome(&o);
}

static void a_name_with_a_comma_is_drawn_whole(void **state)
{
    (void)state;
    write_file("own.yaml", "causes:\n"
                           "  \"tired, hungry crew\":\n"
                           "    means: Nobody has pressed the button.\n"
                           "    today: {stow.cancel_at: 0 s}\n");
    outcome o = CAUSES("--catalogue", "own.yaml", "--plot", "own.svg");
    assert_int_equal(o.code, 0);
    free_outcome(&o);
    FILE *file = fopen("own.svg", "r");
    assert_non_null(file);
    char *svg = take_all(file);
    has(svg, ">tired, hungry crew<");
    has(svg, ">fault: cancelled<");
    free(svg);
}

/* ---- the hidden cause ---- */

/* runs the game with these lines for stdin; they are no more than a pipe holds */
static outcome play(const char *seed, const char *lines)
{
    int ends[2], before = dup(STDIN_FILENO);
    assert_int_equal(pipe(ends), 0);
    assert_int_equal(write(ends[1], lines, strlen(lines)), (ssize_t)strlen(lines));
    close(ends[1]);
    dup2(ends[0], STDIN_FILENO);
    close(ends[0]);
    outcome o = CAUSES("--draw", seed);
    dup2(before, STDIN_FILENO);
    close(before);
    return o;
}

/* what it says it is */
static void hidden_by(const char *seed, char name[128])
{
    outcome o = play(seed, "give up\n");
    const char *found = strstr(o.out, "It is: ");
    assert_non_null(found);
    snprintf(name, 128, "%.*s", (int)strcspn(found + 7, "\n"), found + 7);
    free_outcome(&o);
}

static void game_is_the_same_for_a_number(void **state)
{
    (void)state;
    const char *lines = "?\ncheck.battery.idle\ncauses\nsymptom\ngive up\n";
    outcome one = play("7", lines), same = play("7", lines);
    assert_int_equal(one.code, 0);
    assert_string_equal(one.out, same.out);
    has(one.out, "hidden      one of ");
    has(one.out, "At the truck, with eyes and a stopwatch:\n  Controller reports after the stow ");
    has(one.out, "> check.battery.idle: 1");
    has(one.out, "  check.rotation.hand_magnet "); /* of the list */
    has(one.out, "\n  prove ");
    has(one.out, "disconnect and lock out power");
    char names[6][128];
    bool differ = false;
    for (int i = 0; i < 6; i++) {
        char seed[16];
        snprintf(seed, sizeof seed, "%d", i + 1);
        hidden_by(seed, names[i]);
        differ |= strcmp(names[i], names[0]) != 0;
    }
    assert_true(differ);
    free_outcome(&one);
    free_outcome(&same);
}

/* an axis that is stuck keeps the other from its way, which does not tell where the fault is */
static void what_gives_an_axis_away_is_of_that_axis(void **state)
{
    (void)state;
    int told = 0;
    for (int i = 1; i <= 30; i++) {
        char seed[16], line[200];
        snprintf(seed, sizeof seed, "%d", i);
        outcome o = play(seed, "give up\n");
        const char *away = strstr(o.out, "What gives it away most: ");
        if (away != NULL && strstr(o.out, "It is: elevation") != NULL) {
            snprintf(line, sizeof line, "%.*s", (int)strcspn(away, "\n"), away);
            has_not(line, "rotation");
            told++;
        }
        free_outcome(&o);
    }
    assert_true(told >= 3);
}

/* before anything is looked at, and again before the repair */
static void the_game_begins_with_the_caution(void **state)
{
    (void)state;
    outcome o = play("5", "");
    const char *caution = strstr(o.out, "Before any check: a monitor can move");
    assert_non_null(caution);
    assert_true(caution < strstr(o.out, "At the truck, with eyes and a stopwatch:"));
    free_outcome(&o);
}

static void naming_it_ends_the_game(void **state)
{
    (void)state;
    char name[128], lines[400];
    hidden_by("5", name);
    snprintf(
        lines, sizeof lines,
        "CHECK.battery.idle\ncheck.battery.idle\npeak_current\n\n  %s  \r\nnot read any more\n",
        name);
    outcome o = play("5", lines);
    assert_int_equal(o.code, 0);
    has(o.out,
        "Right, with 2 checks (10 minutes), 0 wrong guesses."); /* the same one twice counts once */
    has_not(o.out, "Neither");
    free_outcome(&o);
}

static void wrong_guess_is_told_why(void **state)
{
    (void)state;
    char name[128], lines[400];
    hidden_by("5", name);
    const char *wrong =
        strcmp(name, "controller drops out") != 0 ? "controller drops out" : "nothing wrong";
    snprintf(lines, sizeof lines, "%s\nrotation\ncheck.batery.idle\n%s\n", wrong, name);
    outcome o = play("5", lines);
    has(o.out, "> No: with ");
    has(o.out, "would mostly read");
    has(o.out, "Neither a check nor a cause; did you mean check.battery.idle?");
    has(o.out, "Right, with 0 checks (0 minutes), 1 wrong guess.");
    free_outcome(&o);
}

static void end_of_input_is_polite(void **state)
{
    (void)state;
    outcome o = play("5", "check.battery.idle"); /* no line end either */
    assert_int_equal(o.code, 0);
    has(o.out, "The input has ended after 1 check (2 minutes), 0 wrong guesses; --draw 5 hides "
               "the same one again.");
    has_not(o.out, "It is:");
    free_outcome(&o);
}

/* ---- what is refused ---- */

static void files_are_refused_at_their_place(void **state)
{
    (void)state;
    write_file("bad.yaml", "causes:\n  x:\n    means: y\n    today: {rotation.hom.present: no}\n");
    REFUSES(2,
            SAYS("slewtime:bad.yaml:4:13: error: rotation.hom.present: unknown key",
                 "did you mean rotation.home.present?"),
            "causes", "spread.yaml", "--catalogue", "bad.yaml");
    write_file("bad.yaml", "stow: {says: fault, seconds: 5 V}\n");
    REFUSES(2, SAYS("slewtime:bad.yaml:1:30: error: stow.seconds: \"5 V\": a voltage, not a time"),
            "causes", "spread.yaml", "--seen", "bad.yaml");
    write_file("bad.yaml", "stw: {says: fault}\n");
    REFUSES(2, SAYS("bad.yaml:1:1: error: stw: nothing of that name can be seen"), "causes",
            "spread.yaml", "--seen", "bad.yaml");
    write_file("bad.yaml", "");
    REFUSES(2, SAYS("bad.yaml:1:1: error: the file is empty"), "causes", "spread.yaml", "--seen",
            "bad.yaml");
    REFUSES(3, SAYS("none.yaml: error:"), "causes", "spread.yaml", "--seen", "none.yaml");
}

static void what_can_not_be_seen_here_is_refused(void **state)
{
    (void)state;
    write_file("bad.yaml", "stow: {says: fault}\ncheck:\n  auxiliary: {idle: 12 V}\n");
    REFUSES(2, SAYS("bad.yaml:3:21: error: check.auxiliary.idle: can't be seen on this scenario"),
            "causes", "spread.yaml", "--samples", "64", "--seen", "bad.yaml");
    write_file("bad.yaml", "stow: {says: fault}\nknown: {rotation.start: 170 deg}\n");
    REFUSES(2, SAYS("bad.yaml", "rotation.start"), "causes", "spread.yaml", "--samples", "64",
            "--seen", "bad.yaml");
}

static void command_line_is_checked(void **state)
{
    (void)state;
    REFUSES(2, SAYS("--draw goes without --seen"), "causes", "spread.yaml", "--draw", "1", "--seen",
            "seen.yaml");
    REFUSES(2, SAYS("--about goes without --seen"), "causes", "spread.yaml", "--about", "x",
            "--seen", "seen.yaml");
    REFUSES(2, SAYS("--about undersised feed: no such cause", "did you mean undersized feed?"),
            "causes", "spread.yaml", "--about", "undersised feed");
    REFUSES(2, SAYS("--json and --csv"), "causes", "spread.yaml", "--json", "--csv");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(table_has_every_cause),
        cmocka_unit_test(about_tells_all_of_one),
        cmocka_unit_test(json_has_signatures_and_words),
        cmocka_unit_test(csv_has_a_row_for_each_observable),
        cmocka_unit_test(ranking_names_what_agrees_and_what_is_next),
        cmocka_unit_test(a_check_leaves_one_of_them),
        cmocka_unit_test(nothing_fits_an_impossible_observation),
        cmocka_unit_test(the_answer_comes_first),
        cmocka_unit_test(the_odds_are_told_in_words),
        cmocka_unit_test(own_catalogue_joins_in),
        cmocka_unit_test(pictures_are_drawn),
        cmocka_unit_test(a_name_with_a_comma_is_drawn_whole),
        cmocka_unit_test(game_is_the_same_for_a_number),
        cmocka_unit_test(the_game_begins_with_the_caution),
        cmocka_unit_test(what_gives_an_axis_away_is_of_that_axis),
        cmocka_unit_test(naming_it_ends_the_game),
        cmocka_unit_test(wrong_guess_is_told_why),
        cmocka_unit_test(end_of_input_is_polite),
        cmocka_unit_test(files_are_refused_at_their_place),
        cmocka_unit_test(what_can_not_be_seen_here_is_refused),
        cmocka_unit_test(command_line_is_checked),
    };
    return cmocka_run_group_tests(tests, enter, leave_directory);
}
