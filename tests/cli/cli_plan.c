/* cli_plan.c - `slewtime plan` as text, JSON, CSV and picture. */
#include "document.h"

static char root[512];
static char mast[600], daily[600];

static int enter(void **state)
{
    if (getcwd(root, sizeof root) == NULL)
        return -1;
    snprintf(daily, sizeof daily, "%s/examples/daily.yaml", root);
    snprintf(mast, sizeof mast, "%s/examples/mast-on-the-way.yaml", root);
    return enter_directory(state);
}

static void text_says_the_answer_first(void **state)
{
    (void)state;
    outcome o = TOOL("plan", mast, "--samples", "4000");
    assert_int_equal(o.code, 0);
    assert_int_equal(strncmp(o.out, "Today: fails the demands: keep-out zone in 100.00", 49), 0);
    has(o.out, "\nDo: home rotation first, then elevation; keep the deploy seconds.\n"
               "Then keep-out 0.00 %, hard stop 0.00 %. Caution: clear overhead, nobody near.\n");
    has(o.out, "ampacity and its fuse are\nnot checked here: code and manufacturer decide.");
    has(o.out, "does not replace a test on the truck");
    free_outcome(&o);
}

/* of what is recommended: what is not known about this truck is kept apart from its days */
static void trucks_are_told_apart_from_days(void **state)
{
    (void)state;
    outcome o = TOOL("plan", daily, "--samples", "64");
    outcome days = TOOL("plan", mast, "--samples", "64");
    outcome json = TOOL("plan", daily, "--samples", "64", "--json");
    has(o.out, "\nTruck by truck (for what is not known about this one): 95 % of such");
    has(o.out, "% of their days");
    has_not(days.out, "Truck by truck");
    has(json.out, "\"by_truck\": {\n");
    has(json.out, "\"missed_median\"");
    free_outcome(&o);
    free_outcome(&days);
    free_outcome(&json);
}

/* key paths, seed and hash stand below all tables, and only there */
static void keys_stand_at_the_end(void **state)
{
    (void)state;
    static const char *const paths[] = {"supply.", "stow.", "elevation.", "rotation.",
                                        "spread.", "seed ", "deploy."};
    outcome o = TOOL("plan", mast, "--samples", "4000");
    char *end = strstr(o.out, "\n  to set      stow.home_order=rotation, elevation\n");
    assert_non_null(end);
    has(end, "\n  varies      ");
    has(end, "\n  asked       4000 simulated days");
    *end = '\0';
    for (size_t i = 0; i < sizeof paths / sizeof *paths; i++)
        has_not(o.out, paths[i]);
    free_outcome(&o);
}

/* what is confirmed, and all the rest with --all */
static void all_shows_the_rows_seen_with_few_days(void **state)
{
    (void)state;
    outcome few = TOOL("plan", daily, "--samples", "500");
    outcome all = TOOL("plan", daily, "--samples", "500", "--all");
    has(few.out, "\n  teach at 13 V battery voltage  ");
    has(few.out, "\n--all adds ");
    has_not(few.out, "  ~  ");
    has_not(all.out, "\n--all adds ");
    has(all.out, "\n  fit a feed cable of 4 AWG  ");
    has(all.out, "\n  raise the barrel for 1 s before it homes  ");
    has(all.out, "  ~  ");
    assert_true(strlen(all.out) > strlen(few.out));
    free_outcome(&few);
    free_outcome(&all);
}

static void few_samples_say_so(void **state)
{
    (void)state;
    outcome o = TOOL("plan", mast, "--samples", "100");
    assert_int_equal(o.code, 0);
    has(o.out, "Too few simulated days to say what meets all demands: ");
    has(o.out, " would do.\n");
    has_not(o.out, "\nDo: ");
    free_outcome(&o);
}

/* what the plan of a data sheet says to do, done by --set and --today: on the middle of the day,
 * and on a weak and a strong one */
static void what_it_says_works_by_set(void **state)
{
    (void)state;
    static const char *const volts[] = {"supply.main.voltage=25.3 V", "supply.main.voltage=27.2 V",
                                        "supply.main.voltage=28.3 V"};
    char sheet[600];
    snprintf(sheet, sizeof sheet, "%s/examples/sheet-24v.yaml", root);
    outcome o = TOOL("plan", sheet, "--samples", "4000");
    has(o.out, "\nDo: deploy rotation 0 s, elevation 6.4 s.\n");
    free_outcome(&o);
    for (int i = 0; i < 3; i++) {
        o = TOOL("run", sheet, "--set", "deploy.seconds.elevation=6.4 s", "--today", volts[i],
                 "--require", "ok");
        assert_int_equal(o.code, 0);
        free_outcome(&o);
        o = TOOL("run", sheet, "--today", volts[i], "--require", "ok");
        assert_int_equal(o.code, 1);
        free_outcome(&o);
    }
}

static void a_point_that_moves_says_how_far(void **state)
{
    (void)state;
    outcome o = TOOL("plan", daily, "--samples", "100", "--set", "stow.range.elevation.low=-18deg",
                     "--set", "stow.range.elevation.high=-8deg");
    assert_int_equal(o.code, 0);
    has(o.out, "; the point moved by ");
    free_outcome(&o);
}

/* a size has its caveat beside it also where all together does not suffice */
static void a_size_is_not_named_without_its_caveat(void **state)
{
    (void)state;
    outcome o =
        TOOL("plan", daily, "--samples", "200", "--set", "supply.feed.gauge=14 AWG", "--set",
             "deploy.target.elevation.low=39deg", "--set", "deploy.target.elevation.high=41deg");
    const char *nearest = strstr(o.out, "\nNearest: ");
    assert_non_null(nearest);
    const char *size = strstr(nearest, "feed cable of ");
    const char *caveat = strstr(nearest, " AWG (ampacity and fuse not checked)");
    assert_true(size != NULL && caveat != NULL && caveat - size < 30);
    free_outcome(&o);
}

static void json_and_csv_rank_the_changes(void **state)
{
    (void)state;
    outcome o = TOOL("plan", mast, "--samples", "4000", "--json");
    assert_int_equal(o.code, 0);
    has(o.out, "\"change\": \"stow.home_order: rotation, elevation\"");
    has(o.out, "\"words\": \"home rotation first, then elevation\"");
    has(o.out, "\"advice\": \"Do: home rotation first, then elevation; keep");
    has(o.out, "\"recommended\"");
    has(o.out, "\"curves\"");
    free_outcome(&o);
    o = TOOL("plan", mast, "--samples", "100", "--csv");
    has(o.out, "rank,change,words,key,layer,cost,point_rotation_deg");
    has(o.out, "\n1,\"stow.home_order: rotation, elevation\",\"home rotation first, then "
               "elevation\",stow.home_order,,setting,");
    free_outcome(&o);
}

/* how often the picture `name` has a stroke of this color */
static int strokes(const char *name, const char *color)
{
    int count = 0;
    char *svg = take_all(fopen(name, "r"));
    for (const char *at = svg; (at = strstr(at, color)) != NULL; at++)
        count++;
    free(svg);
    return count;
}

/* demands that 128 samples can tell */
#define EASY                                                                                       \
    "--samples", "128", "--set", "stow.home_order=rotation,elevation", "--set",                    \
        "demands.keepout_entered=0.2", "--set", "demands.hard_stop=0.2", "--set",                  \
        "demands.other_fault=0.2", "--set", "demands.deploy_inside=0.7", "--set",                  \
        "demands.stow_on_target=0.7", "--set", "demands.below_floor=0.9"

/* what meets all is filled where it is met; the point has a panel where it may move */
static void a_picture_marks_what_meets_all(void **state)
{
    (void)state;
    static const char met[] =
        "path stroke='rgb(220, 238, 249)'"; /* role_target of plots/common.gp */
    outcome o = TOOL("plan", mast, EASY, "--plot", "met.svg");
    assert_int_equal(o.code, 0);
    free_outcome(&o);
    char *svg = take_all(fopen("met.svg", "r"));
    has(svg, "stow point, elevation");
    has(svg, "deploy seconds, elevation");
    free(svg);
    o = TOOL("plan", mast, "--samples", "64", "--plot", "unmet.svg"); /* not told */
    free_outcome(&o);
    o = TOOL("plan", daily, "--samples", "64", "--plot", "fixed.svg");
    free_outcome(&o);
    svg = take_all(fopen("fixed.svg", "r"));
    has_not(svg, "stow point, ");
    has(svg, "deploy seconds, elevation");
    free(svg);
    assert_int_equal(strokes("unmet.svg", met), 1); /* of the key */
    assert_int_equal(strokes("met.svg", met), 3);   /* and of the two panels */
}

static void a_picture_is_drawn(void **state)
{
    (void)state;
    outcome o = TOOL("plan", mast, "--samples", "64", "--plot", "plan.svg");
    assert_int_equal(o.code, 0);
    assert_string_equal(o.err, "");
    assert_int_equal(unlink("plan.svg"), 0);
    free_outcome(&o);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(text_says_the_answer_first),
        cmocka_unit_test(trucks_are_told_apart_from_days),
        cmocka_unit_test(keys_stand_at_the_end),
        cmocka_unit_test(all_shows_the_rows_seen_with_few_days),
        cmocka_unit_test(few_samples_say_so),
        cmocka_unit_test(what_it_says_works_by_set),
        cmocka_unit_test(a_point_that_moves_says_how_far),
        cmocka_unit_test(a_size_is_not_named_without_its_caveat),
        cmocka_unit_test(json_and_csv_rank_the_changes),
        cmocka_unit_test(a_picture_marks_what_meets_all),
        cmocka_unit_test(a_picture_is_drawn),
    };
    return cmocka_run_group_tests(tests, enter, leave_directory);
}
