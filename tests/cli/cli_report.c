/* cli_report.c - `slewtime report`: what it says is what the commands say; whole or not at all. */
#include "document.h"

#include <signal.h>
#include <time.h>

static char *page; /* of truck.yaml */

static char *read_back(const char *path)
{
    FILE *file = fopen(path, "r");
    assert_non_null(file);
    return take_all(file);
}

/* a text as a page has it, so far as these tests need it */
static void escape(const char *text, char *out, size_t size)
{
    size_t used = 0;
    for (; *text != '\0' && used + 8 < size; text++)
        used += (size_t)snprintf(out + used, size - used, *text == '\'' ? "&#39;" : "%c", *text);
}

static void says(json_t *answer, const char *member)
{
    char text[2000];
    const char *said = json_string_value(json_object_get(answer, member));
    assert_non_null(said);
    escape(said, text, sizeof text);
    has(page, text);
}

static char *report_of(const char *scenario)
{
    outcome o = TOOL("report", scenario, "--out", "report.html");
    assert_string_equal(o.err, "");
    assert_int_equal(o.code, 0);
    assert_string_equal(o.out, "");
    free_outcome(&o);
    char *text = read_back("report.html");
    assert_int_equal(unlink("report.html"), 0);
    return text;
}

static int enter(void **state)
{
    if (enter_directory(state) != 0)
        return -1;
    page = report_of("truck.yaml");
    return 0;
}

static int leave(void **state)
{
    free(page);
    return leave_directory(state);
}

static void it_says_what_the_commands_say(void **state)
{
    (void)state;
    json_t *plan = document(TOOL("plan", "truck.yaml", "--json"));
    json_t *offset = document(TOOL("offset", "truck.yaml", "--json"));
    json_t *feed = document(TOOL("feed", "truck.yaml", "--json"));
    says(plan, "advice");
    says(offset, "headline");
    says(json_object_get(feed, "work"), "finding");
    says(feed, "scenario");
    json_decref(plan);
    json_decref(offset);
    json_decref(feed);
}

/* nothing varies: each of the days is the same */
static void a_hundred_days_are_counted(void **state)
{
    (void)state;
    has(page, "100: all is well");
    has(page, "Meets its demands</h2>");
}

static void pictures_do_not_share_names(void **state)
{
    (void)state;
    has(page, "id='p0-");
    has(page, "id='p1-");
    has_not(page, " id='gp");
    has_not(page, "href='#gp");
}

static void texts_of_the_scenario_are_texts(void **state)
{
    (void)state;
    outcome o = TOOL("report", "truck.yaml", "--set", "title=<script>alert('x')</script> & \"y\"",
                     "--out", "report.html");
    assert_int_equal(o.code, 0);
    char *escaped = read_back("report.html");
    has(escaped, "<h1>&lt;script&gt;alert(&#39;x&#39;)&lt;/script&gt; &amp; &quot;y&quot;</h1>");
    has_not(escaped, "<script>alert");
    unlink("report.html");
    free(escaped);
    free_outcome(&o);
}

static void what_a_command_refuses_is_said(void **state)
{
    (void)state;
    char truck[sizeof TRUCK];
    strcpy(truck, TRUCK);
    *strstr(truck, "deploy:") = '\0';
    write_file("stow_only.yaml", truck);
    char *stow_only = report_of("stow_only.yaml");
    has(stow_only, "Not told: ");
    has(stow_only, "Check card");
    free(stow_only);
    unlink("stow_only.yaml");
}

static void what_is_wrong_is_told(void **state)
{
    (void)state;
    int files = count_files();
    outcome o = TOOL("report", "truck.yaml");
    assert_int_equal(o.code, 2);
    has(o.err, "report needs a file to write");
    has(o.err, "--out truck.html");
    free_outcome(&o);
    o = TOOL("report", "truck.yaml", "--set", "supply.feed.length=-1 m", "--out", "r.html");
    assert_int_equal(o.code, 2);
    has(o.err, "supply.feed.length");
    free_outcome(&o);
    o = TOOL("report", "truck.yaml", "--out", "no/where.html");
    assert_int_equal(o.code, 3);
    has(o.err, "no/where.html");
    free_outcome(&o);
    assert_int_equal(count_files(), files);
}

static void without_gnuplot_nothing_is_written(void **state)
{
    (void)state;
    char before[4096];
    snprintf(before, sizeof before, "%s", getenv("PATH"));
    setenv("PATH", "/nowhere", 1);
    outcome o = TOOL("report", "truck.yaml", "--out", "r.html");
    setenv("PATH", before, 1);
    assert_int_equal(o.code, 3);
    has(o.err, "gnuplot is not found");
    assert_int_equal(access("r.html", F_OK), -1);
    free_outcome(&o);
}

/* soon, and nothing is left in the folder for temporary files */
static void an_interrupt_ends_it(void **state)
{
    (void)state;
    int status = 0;
    assert_int_equal(mkdir("temporary", 0700), 0);
    pid_t child = fork();
    if (child == 0) {
        char place[200];
        snprintf(place, sizeof place, "%s/temporary", tool_directory);
        setenv("TMPDIR", place, 1);
        execl(tool_path, "slewtime", "report", "truck.yaml", "--out", "r.html", (char *)NULL);
        _exit(125);
    }
    nanosleep(&(struct timespec){.tv_nsec = 100000000}, NULL);
    kill(child, SIGTERM);
    assert_int_equal(waitpid(child, &status, 0), child);
    assert_true(WIFSIGNALED(status) && WTERMSIG(status) == SIGTERM);
    assert_int_equal(access("r.html", F_OK), -1);
    assert_int_equal(rmdir("temporary"), 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(it_says_what_the_commands_say),
        cmocka_unit_test(a_hundred_days_are_counted),
        cmocka_unit_test(pictures_do_not_share_names),
        cmocka_unit_test(texts_of_the_scenario_are_texts),
        cmocka_unit_test(what_a_command_refuses_is_said),
        cmocka_unit_test(what_is_wrong_is_told),
        cmocka_unit_test(without_gnuplot_nothing_is_written),
        cmocka_unit_test(an_interrupt_ends_it),
    };
    return cmocka_run_group_tests(tests, enter, leave);
}
