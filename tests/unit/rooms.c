/* rooms.c - includes go one way: physics to motion to study to the tool, and inside the tool from
 * the command line to the commands, none of which knows another. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { PATH_LENGTH = 200, LINE_LENGTH = 400 };

/* one #include "what" in a file */
typedef struct include {
    char file[PATH_LENGTH], what[PATH_LENGTH];
} include;

/* "cli/tell/json.c:5:#include "line/report.h"" */
static bool parse(const char *line, include *i)
{
    return sscanf(line, "%199[^:]:%*d:#include \"%199[^\"]\"", i->file, i->what) == 2;
}

/* the folders of a path up to the file: "lib/study/feed" */
static void folder_of(const char *path, char folder[PATH_LENGTH])
{
    const char *slash = strrchr(path, '/');
    snprintf(folder, PATH_LENGTH, "%.*s", slash != NULL ? (int)(slash - path) : 0, path);
}

static bool begins_with(const char *text, const char *start)
{
    return strncmp(text, start, strlen(start)) == 0;
}

/* ---- the tool ---- */

/* each may include those before it */
static const char *const tool_order[] = {"line", "tell", "draw", "frame", "single"};
static const char *const pictures_of_runs[] = {"travel", "pose"}; /* neither includes the other */
enum { ORDERED = sizeof tool_order / sizeof *tool_order };

static int place_in_tool(const char *room)
{
    for (int i = 0; i < ORDERED; i++)
        if (strcmp(room, tool_order[i]) == 0)
            return i;
    for (int i = 0; i < 2; i++)
        if (strcmp(room, pictures_of_runs[i]) == 0)
            return ORDERED;
    return ORDERED + 1; /* a command */
}

static bool tool_may(const include *i)
{
    char room[PATH_LENGTH], other[PATH_LENGTH];
    folder_of(i->file, room);
    folder_of(i->what, other);
    if (strcmp(room, "cli") == 0) /* main.c and commands.h */
        return true;
    if (begins_with(i->what, "slewtime/"))
        return true;
    if (other[0] == '\0') { /* of the room itself, or the list of commands */
        const char *file = strrchr(i->file, '/') + 1;
        return strcmp(i->what, "commands.h") != 0 || strcmp(file, "command.c") == 0;
    }
    return place_in_tool(other) < place_in_tool(room + strlen("cli/"));
}

/* ---- the library ---- */

static const char *const questions[] = {"card",   "causes", "feed", "fit",   "map",   "margin",
                                        "nozzle", "offset", "plan", "speed", "window"};
enum { QUESTIONS = sizeof questions / sizeof *questions };

/* the question that a folder or a header belongs to; NULL: none */
static const char *question_of(const char *name)
{
    for (int q = 0; q < QUESTIONS; q++)
        if (strcmp(name, questions[q]) == 0)
            return questions[q];
    return NULL;
}

/* of "slewtime/feed.h" or "study/feed/feed_loop.h" */
static const char *question_included(const char *what)
{
    char name[PATH_LENGTH] = "";
    if (sscanf(what, "study/%[^/]/", name) != 1)
        sscanf(what, "slewtime/%[^.].h", name);
    return question_of(name);
}

static bool study_may(const include *i)
{
    char room[PATH_LENGTH] = "";
    sscanf(i->file, "lib/study/%[^/]/", room);
    const char *own = question_of(room), *other = question_included(i->what);
    if (other != NULL)
        return own == other;
    bool of_drive = begins_with(i->what, "study/drive/");
    return !of_drive || own != NULL || strcmp(room, "drive") == 0;
}

/* the rooms of the core, each knows those before it */
static const char *const core_order[] = {"error", "physics", "keys", "motion"};
enum { CORE_ROOMS = sizeof core_order / sizeof *core_order };

/* of "lib/keys" or "keys"; CORE_ROOMS: none of the core */
static int place_in_core(const char *folder)
{
    const char *room = begins_with(folder, "lib/") ? folder + strlen("lib/") : folder;
    int place = 0;
    while (place < CORE_ROOMS && strcmp(room, core_order[place]) != 0)
        place++;
    return place;
}

/* what needs more than libm stays out: files, the field of a magnet, questions */
static bool core_may(const include *i, int place)
{
    char other[PATH_LENGTH];
    folder_of(i->what, other);
    if (strcmp(other, "slewtime") == 0)
        return strcmp(i->what, "slewtime/read.h") != 0 && strcmp(i->what, "slewtime/magnet.h") != 0;
    return place_in_core(other) <= place;
}

/* nature knows of nothing else; the machine not of what is asked of it */
static bool library_may(const include *i)
{
    char folder[PATH_LENGTH];
    folder_of(i->file, folder);
    int place = place_in_core(folder);
    if (place < CORE_ROOMS && !core_may(i, place))
        return false;
    bool of_study = begins_with(i->what, "study/") || question_included(i->what) != NULL ||
                    strcmp(i->what, "slewtime/study.h") == 0;
    if (begins_with(i->file, "lib/study/"))
        return study_may(i);
    if (begins_with(i->file, "lib/physics/"))
        return strcmp(i->what, "slewtime/physics.h") == 0 || begins_with(i->what, "physics/");
    if (begins_with(i->file, "lib/motion/"))
        return !of_study || strcmp(i->what, "slewtime/slewtime.h") == 0;
    return true;
}

/* ---- the tests ---- */

/* how many includes of that tree are against the order; prints them */
static int count_wrong(const char *tree, bool (*may)(const include *i), int *count)
{
    char command[PATH_LENGTH], line[LINE_LENGTH];
    include i;
    int wrong = 0;
    *count = 0;
    snprintf(command, sizeof command, "grep -rn '^#include \"' %s --include='*.[ch]'", tree);
    FILE *lines = popen(command, "r");
    assert_non_null(lines);
    while (fgets(line, sizeof line, lines) != NULL) {
        ++*count;
        if (!parse(line, &i) || !may(&i)) {
            wrong++;
            printf("against the order: %s", line);
        }
    }
    pclose(lines);
    return wrong;
}

static void includes_of_the_tool_go_one_way(void **state)
{
    (void)state;
    int count;
    assert_int_equal(count_wrong("cli", tool_may, &count), 0);
    assert_true(count > 300);
}

static void includes_of_the_library_go_one_way(void **state)
{
    (void)state;
    int count;
    assert_int_equal(count_wrong("lib", library_may, &count), 0);
    assert_true(count > 100);
}

static void what_is_against_the_order_is_seen(void **state)
{
    (void)state;
    assert_false(tool_may(&(include){"cli/tell/json.c", "frame/frame.h"}));
    assert_false(tool_may(&(include){"cli/pose/pose.c", "travel/bands.h"}));
    assert_false(tool_may(&(include){"cli/card/records.c", "fit/answer.h"}));
    assert_false(tool_may(&(include){"cli/card/records.c", "commands.h"}));
    assert_true(tool_may(&(include){"cli/card/records.c", "tell/json.h"}));
    assert_true(tool_may(&(include){"cli/card/command.c", "commands.h"}));
    assert_false(library_may(&(include){"lib/physics/motor.c", "slewtime/plant.h"}));
    assert_false(library_may(&(include){"lib/motion/run.c", "slewtime/offset.h"}));
    assert_false(library_may(&(include){"lib/motion/model.c", "slewtime/magnet.h"}));
    assert_false(library_may(&(include){"lib/keys/defaults.c", "scenario/database.h"}));
    assert_false(library_may(&(include){"lib/keys/fields.c", "motion/home.h"}));
    assert_true(library_may(&(include){"lib/motion/errors.c", "keys/fields.h"}));
    assert_false(library_may(&(include){"lib/study/feed/feed.c", "study/fit/fit_trial.h"}));
    assert_false(library_may(&(include){"lib/study/feed/feed.c", "slewtime/speed.h"}));
    assert_false(library_may(&(include){"lib/study/sampling/draw.c", "study/drive/timing.h"}));
    assert_true(library_may(&(include){"lib/study/feed/feed.c", "study/sampling/summary.h"}));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(includes_of_the_tool_go_one_way),
        cmocka_unit_test(includes_of_the_library_go_one_way),
        cmocka_unit_test(what_is_against_the_order_is_seen),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
