/*
 * cli_scripts.c - what a script in plots/ names, the tool writes: every column of its data files
 * and every variable.
 *
 * A gnuplot of the test's own stands before the real one on PATH. It notes the variables that the
 * tool sets and the heads of the data files that it writes, and what the real one complains of.
 */
#include "tool.h"

#include <ctype.h>

enum { TEXT_MAX = 60000, WORD_LENGTH = 120 };

static char root[512];

/* ---- what the tool hands over ---- */

static const char noting_gnuplot[] =
    "#!/bin/sh\n"
    "for word; do case $word in -e|*.gp) ;; *) echo \"${word%%=*}\" ;; esac; done "
    ">\"$SLEW_NOTES/variables\"\n"
    "ls >\"$SLEW_NOTES/files\"\n"
    "for file in *; do head -n 1 \"$file\"; done >\"$SLEW_NOTES/heads\"\n"
    "PATH=$SLEW_PATH exec gnuplot \"$@\" 2>\"$SLEW_NOTES/complaints\"\n";

static int enter_with_gnuplot(void **state)
{
    char path[4096];
    const char *before = getenv("PATH");
    if (before == NULL || getcwd(root, sizeof root) == NULL || enter_directory(state) != 0)
        return -1;
    snprintf(path, sizeof path, "%s:%s", tool_directory, before);
    setenv("SLEW_PATH", before, 1);
    setenv("SLEW_NOTES", tool_directory, 1);
    write_file("gnuplot", noting_gnuplot);
    return chmod("gnuplot", 0755) == 0 ? setenv("PATH", path, 1) : -1;
}

/* a file with a comma or blank before and behind each of its words */
static void read_words(const char *path, char text[TEXT_MAX])
{
    FILE *file = fopen(path, "r");
    size_t length = 1;
    assert_non_null(file);
    text[0] = ' ';
    for (int c; (c = getc(file)) != EOF && length < TEXT_MAX - 2;)
        text[length++] = (char)(c == '\n' || c == ',' || c == '"' ? ' ' : c);
    text[length++] = ' ';
    text[length] = '\0';
    fclose(file);
}

static bool has_word(const char *words, const char *word)
{
    char spaced[WORD_LENGTH + 3];
    snprintf(spaced, sizeof spaced, " %s ", word);
    return strstr(words, spaced) != NULL;
}

/* ---- what the script names ---- */

/* whether the script has the word on its own, outside of comments */
static bool uses(const char *script, const char *word)
{
    size_t length = strlen(word);
    for (const char *at = script; (at = strstr(at, word)) != NULL; at++) {
        bool begins = at == script || (!isalnum((unsigned char)at[-1]) && at[-1] != '_');
        bool ends = !isalnum((unsigned char)at[length]) && at[length] != '_';
        const char *line = at;
        while (line > script && line[-1] != '\n')
            line--;
        if (begins && ends && *line != '#')
            return true;
    }
    return false;
}

/* the quoted name behind `before` and quotes, if there is one; returns where to go on */
static const char *next_name(const char *script, const char *before, char name[WORD_LENGTH])
{
    const char *at = strstr(script, before);
    name[0] = '\0';
    if (at == NULL)
        return NULL;
    at += strlen(before);
    if (*at != '\'' && *at != '"')
        return at;
    size_t length = strcspn(at + 1, "'\"");
    if (length < WORD_LENGTH)
        snprintf(name, WORD_LENGTH, "%.*s", (int)length, at + 1);
    return at;
}

/* how many of the columns that the script names no data file has; a name that the script itself
 * puts together ("size_".i) is gnuplot's to complain of */
static int count_unknown(const char *script, const char *heads, int *named)
{
    static const char *const before[] = {"column(", "stringcolumn(", "using ", ":", "of(", "own("};
    char name[WORD_LENGTH];
    int unknown = 0;
    for (size_t k = 0; k < sizeof before / sizeof *before; k++)
        for (const char *at = script; (at = next_name(at, before[k], name)) != NULL;) {
            if (name[0] == '\0' || strpbrk(name, " %.") != NULL)
                continue;
            ++*named;
            if (!has_word(heads, name)) {
                unknown++;
                printf("no data file has the column %s\n", name);
            }
        }
    return unknown;
}

/* how often the script takes a column by its number, which a new column before it would move */
static int count_numbered(const char *script)
{
    static const char *const before[] = {"column(", "using ", "$"};
    int count = strstr(script, "skip 1") != NULL;
    for (size_t k = 0; k < sizeof before / sizeof *before; k++)
        for (const char *at = script; (at = strstr(at, before[k])) != NULL;) {
            at += strlen(before[k]);
            count += *at >= '1' && *at <= '9';
        }
    return count;
}

/* text_3 where the script has 'text_'.k, enough_low where it has 'enough_'.side(k) */
static bool puts_together(const char *script, const char *word)
{
    char part[WORD_LENGTH + 4];
    const char *last = strrchr(word, '_');
    size_t length = last != NULL ? (size_t)(last + 1 - word) : strlen(word);
    snprintf(part, sizeof part, "'%.*s'.", (int)length, word);
    return word[length] != '\0' && strstr(script, part) != NULL;
}

/* the same of a name that the script puts together for each column of a comparison: "wrong_B",
 * "line_B_1", "B.csv" are there as 'wrong', 'line_' and '.csv' */
static bool uses_of_column(const char *script, const char *word)
{
    char stem[WORD_LENGTH];
    size_t at = strcspn(word, "ABCDEF");
    if (word[at] == '\0')
        return false;
    const char *rest = word + at + 1;
    snprintf(stem, sizeof stem, "%.*s", (int)at, word);
    if (at == 0)
        return uses(script, rest);
    if (uses(script, stem))
        return true;
    stem[at - 1] = '\0';
    return uses(script, stem);
}

static bool knows(const char *script, const char *word)
{
    return uses(script, word) || puts_together(script, word) || uses_of_column(script, word);
}

/* ---- the tests ---- */

typedef struct picture {
    const char *script;
    const char *arguments[16];
} picture;

static char *read_file(const char *name)
{
    char path[1024];
    snprintf(path, sizeof path, "%s/plots/%s", root, name);
    FILE *file = fopen(path, "r");
    assert_non_null(file);
    return take_all(file);
}

/* with what it loads */
static char *read_script(const char *name)
{
    static const char *const shared[] = {"common.gp", "courses.gp"};
    char *own = read_file(name), *whole = malloc(TEXT_MAX);
    assert_non_null(whole);
    int length = snprintf(whole, TEXT_MAX, "%s", own);
    for (int i = 0; i < 2; i++) {
        char *more = read_file(shared[i]);
        if (strstr(own, shared[i]) != NULL)
            length += snprintf(whole + length, (size_t)(TEXT_MAX - length), "%s", more);
        free(more);
    }
    assert_true(length < TEXT_MAX);
    free(own);
    return whole;
}

static void draw(const picture *p)
{
    outcome o = run_tool(NULL, p->arguments);
    if (o.code != 0)
        fail_msg("%s: exit code %d\n%s", p->script, o.code, o.err);
    free_outcome(&o);
}

static void check_variables(const char *name, const char *script, char *variables)
{
    for (char *word = strtok(variables, " "); word != NULL; word = strtok(NULL, " "))
        if (!knows(script, word))
            fail_msg("%s does not know the variable %s", name, word);
}

static void check(const picture *p)
{
    static char heads[TEXT_MAX], variables[TEXT_MAX], complaints[TEXT_MAX], files[TEXT_MAX];
    int named = 0;
    draw(p);
    read_words("heads", heads);
    read_words("variables", variables);
    read_words("complaints", complaints);
    read_words("files", files);
    char *script = read_script(p->script);
    if (strstr(complaints, "olumn") != NULL)
        fail_msg("%s: %s", p->script, complaints);
    assert_int_equal(count_unknown(script, heads, &named), 0);
    assert_true(named > 0);
    assert_int_equal(count_numbered(script), 0);
    check_variables(p->script, script, variables);
    for (char *file = strtok(files, " "); file != NULL; file = strtok(NULL, " "))
        if (!knows(script, file))
            fail_msg("%s does not read %s", p->script, file);
    free(script);
    unlink("heads"), unlink("variables"), unlink("complaints"), unlink("files");
}

/* the variables alone, of which one is expected: letters.csv is only for a terminal */
static void knows_variables(const picture *p, const char *expected)
{
    static char variables[TEXT_MAX];
    draw(p);
    read_words("variables", variables);
    has(variables, expected);
    char *script = read_script(p->script);
    check_variables(p->script, script, variables);
    free(script);
}

/* examples/NAME of the project */
static const char *example(const char *name)
{
    static char path[4][1024];
    static int next;
    next = (next + 1) % 4;
    snprintf(path[next], sizeof path[next], "%s/examples/%s", root, name);
    return path[next];
}

static void margin(void **state)
{
    (void)state;
    check(&(picture){"margin.gp",
                     {"margin", example("daily.yaml"), "--samples", "64", "--plot", "x.svg"}});
    unlink("x.svg");
}

static void plan(void **state)
{
    (void)state;
    check(&(picture){"plan.gp",
                     {"plan", example("daily.yaml"), "--samples", "64", "--plot", "x.svg"}});
    unlink("x.svg");
}

static void speed(void **state)
{
    (void)state;
    check(&(picture){"speed.gp", {"speed", example("daily.yaml"), "--plot", "x.svg"}});
    unlink("x.svg");
}

static void window(void **state)
{
    (void)state;
    check(&(picture){"window.gp",
                     {"window", example("weak-magnet.yaml"), "--axis", "rotation", "--tolerance",
                      "gap=0.3mm", "--plot", "x.svg"}});
    unlink("x.svg");
}

static void offset(void **state)
{
    (void)state;
    check(&(picture){"offset.gp",
                     {"offset", example("daily.yaml"), "--samples", "64", "--plot", "x.svg"}});
    unlink("x.svg");
}

#define VOLTS  "--vary", "today.supply.main.voltage=9V:15V:10"
#define POINTS "--vary", "stow.point.elevation=-16deg:-4deg:10"

static void map(void **state)
{
    (void)state;
    check(&(picture){"map.gp", {"map", example("daily.yaml"), POINTS, VOLTS, "--plot", "x.svg"}});
    unlink("x.svg");
}

static void map_line(void **state)
{
    (void)state;
    check(&(picture){"map_line.gp", {"map", example("daily.yaml"), VOLTS, "--plot", "x.svg"}});
    unlink("x.svg");
}

static void a_column_by_number_is_seen(void **state)
{
    (void)state;
    assert_int_equal(count_numbered("plot 'x' using 'a_deg':(column('b')):0 every 2"), 0);
    assert_int_equal(count_numbered("plot 'x' using 1:'b'"), 1);
    assert_int_equal(count_numbered("plot 'x' using 'a':(column(2))"), 1);
    assert_int_equal(count_numbered("plot 'x' using 'a':(100 * $3) skip 1"), 2);
}

static void a_variable_put_together_is_seen(void **state)
{
    (void)state;
    assert_true(puts_together("value('text_'.k)", "text_3"));
    assert_false(puts_together("value('text_'.k)", "text"));
    assert_false(puts_together("value('words_'.k)", "text_3"));
}

static void feed(void **state)
{
    (void)state;
    check(&(picture){"feed.gp", {"feed", example("daily.yaml"), "--plot", "x.svg"}});
    unlink("x.svg");
}

static void nozzle(void **state)
{
    (void)state;
    check(&(picture){"nozzle.gp", {"nozzle", example("reaction-arm.yaml"), "--plot", "x.svg"}});
    unlink("x.svg");
}

static void fit(void **state)
{
    (void)state;
    check(&(picture){"fit.gp",
                     {"fit", example("daily.yaml"), example("stopwatch.csv"), "--key",
                      "elevation.gear.efficiency", "--plot", "x.svg"}});
    unlink("x.svg");
}

static void causes(void **state)
{
    (void)state;
    check(
        &(picture){"causes.gp",
                   {"causes", example("trouble-call.yaml"), "--samples", "16", "--plot", "x.svg"}});
    unlink("x.svg");
}

static void causes_seen(void **state)
{
    (void)state;
    check(&(picture){"causes_seen.gp",
                     {"causes", example("trouble-call.yaml"), "--samples", "16", "--seen",
                      example("seen-falls-short.yaml"), "--plot", "x.svg"}});
    unlink("x.svg");
}

static void card(void **state)
{
    (void)state;
    check(&(picture){"card.gp",
                     {"card", example("daily.yaml"), "--samples", "16", "--plot", "x.svg"}});
    unlink("x.svg");
}

static void run(void **state)
{
    (void)state;
    check(&(picture){"travel.gp", {"run", example("dead-sensor.yaml"), "--plot", "x.svg"}});
    knows_variables(&(picture){"pose.gp", {"run", example("daily.yaml"), "--pose", "x.svg"}},
                    " lens_keepout_low ");
    check(&(picture){"pose.gp", {"run", example("daily.yaml"), "--samples", "16", "--pose", "-"}});
    unlink("x.svg");
}

static void compare(void **state)
{
    (void)state;
    check(&(picture){"compare.gp",
                     {"compare", example("clearance-enough.yaml"), example("clearance-faults.yaml"),
                      "--plot", "x.svg"}});
    unlink("x.svg");
}

static void a_renamed_column_is_seen(void **state)
{
    (void)state;
    int named = 0;
    const char *script = "plot 'x.csv' using 'a_deg':(column('b_deg')):(stringcolumn('c'))";
    assert_int_equal(count_unknown(script, " a_deg b_deg c ", &named), 0);
    assert_int_equal(named, 3 + 1); /* column( stands in stringcolumn( too */
    assert_int_equal(count_unknown(script, " a_deg b c ", &named), 1);
    assert_int_equal(count_unknown(script, " a b_deg c ", &named), 1);
}

static void an_unknown_variable_is_seen(void **state)
{
    (void)state;
    assert_true(uses("x = floor_voltage + 1", "floor_voltage"));
    assert_false(uses("x = floor_voltages + 1", "floor_voltage"));
    assert_false(uses("# floor_voltage\nx = 1", "floor_voltage"));
    assert_true(knows("of_strip('wrong', k)", "wrong_B") && knows("'line_'.k", "line_B_1"));
    assert_true(knows("letter(k).'.csv'", "B.csv"));
    assert_false(knows("of_strip('wrong', k)", "verdict_B") || knows("'.csv'", "bands.csv"));
}

/* a script that misses a variable that it needs says so */
static void needs(const char *script, const char *given, const char *variable)
{
    char command[1600], complaint[200];
    snprintf(command, sizeof command,
             "PATH=$SLEW_PATH gnuplot -e \"format='svg'; %s\" %s/plots/%s >/dev/null 2>complaint",
             given, root, script);
    assert_int_not_equal(system(command), 0);
    FILE *file = fopen("complaint", "r");
    char *text = take_all(file);
    snprintf(complaint, sizeof complaint, "%s: the variable %s is missing", script, variable);
    has(text, complaint);
    free(text);
    unlink("complaint");
}

static void plan_needs_panels(void **state)
{
    (void)state;
    needs("plan.gp", "", "panels");
}

static void margin_needs_wanted(void **state)
{
    (void)state;
    needs("margin.gp", "", "wanted");
}

static void compare_needs_the_number_of_scenarios(void **state)
{
    (void)state;
    needs("compare.gp", "", "count");
}

static void maps_need_their_words(void **state)
{
    (void)state;
    needs("map_line.gp", "", "x_column");
    needs("map_line.gp", "x_column='x'; present='0 7'; text_0='fine'", "text_7");
    needs("map.gp", "present='3'", "text_3");
}

static void causes_seen_needs_least_fit(void **state)
{
    (void)state;
    needs("causes_seen.gp", "", "least_fit");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(run),
        cmocka_unit_test(compare),
        cmocka_unit_test(margin),
        cmocka_unit_test(plan),
        cmocka_unit_test(plan_needs_panels),
        cmocka_unit_test(speed),
        cmocka_unit_test(window),
        cmocka_unit_test(offset),
        cmocka_unit_test(map),
        cmocka_unit_test(map_line),
        cmocka_unit_test(a_column_by_number_is_seen),
        cmocka_unit_test(a_variable_put_together_is_seen),
        cmocka_unit_test(feed),
        cmocka_unit_test(nozzle),
        cmocka_unit_test(a_renamed_column_is_seen),
        cmocka_unit_test(an_unknown_variable_is_seen),
        cmocka_unit_test(margin_needs_wanted),
        cmocka_unit_test(compare_needs_the_number_of_scenarios),
        cmocka_unit_test(maps_need_their_words),
        cmocka_unit_test(fit),
        cmocka_unit_test(causes),
        cmocka_unit_test(causes_seen),
        cmocka_unit_test(card),
        cmocka_unit_test(causes_seen_needs_least_fit),
    };
    return cmocka_run_group_tests(tests, enter_with_gnuplot, leave_directory);
}
