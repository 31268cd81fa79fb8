/*
 * cli_documents.c - what README and the examples tell people to type works, and prints what they
 * show.
 */
#include "tool.h"

#include <glob.h>

static char project[512]; /* the folder the test is started in */

/* ---- reading ---- */

static char *read_document(const char *name)
{
    char path[1200];
    snprintf(path, sizeof path, name[0] == '/' ? "%s%s" : "%s/%s", name[0] == '/' ? "" : project,
             name);
    FILE *file = fopen(path, "r");
    assert_non_null(file);
    return take_all(file);
}

/* the text between a line that starts with `fence` and the next line that starts with ``` */
static char *block_after(const char *text, const char *mark, const char *fence)
{
    const char *from = strstr(text, mark);
    assert_non_null(from);
    from = strstr(from, fence);
    assert_non_null(from);
    from = strchr(from, '\n') + 1;
    const char *end = strstr(from, "\n```");
    assert_non_null(end);
    return strndup(from, (size_t)(end + 1 - from));
}

/* ---- commands ---- */

/* "slewtime run ..." in a line of its own or in a comment: the command, or NULL */
static const char *command_in(const char *line)
{
    static const char *const starts[] = {"slewtime run ",     "slewtime check ",  "slewtime keys ",
                                         "slewtime offset ",  "slewtime margin ", "slewtime map ",
                                         "slewtime compare ", "slewtime feed ",   "slewtime speed ",
                                         "slewtime window ",  "slewtime nozzle ", "slewtime fit ",
                                         "slewtime causes ",  "slewtime card "};
    for (size_t i = 0; i < sizeof starts / sizeof starts[0]; i++) {
        const char *found = strstr(line, starts[i]);
        if (found == line || (found != NULL && line[0] == '#'))
            return found;
    }
    return NULL;
}

static int run_command(const char *command)
{
    char whole[2200];
    const char *note = strstr(command, "   #"); /* a comment behind it */
    int length = note != NULL ? (int)(note - command) : (int)strlen(command);
    snprintf(whole, sizeof whole, "slewtime() { \"%s\" \"$@\"; }; %.*s >out 2>err", tool_path,
             length, command);
    int status = system(whole);
    return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

/* Runs every command of a document; returns how many. */
static int run_commands(const char *name)
{
    char *text = read_document(name), *rest = NULL;
    int count = 0;
    for (char *line = strtok_r(text, "\n", &rest); line != NULL;
         line = strtok_r(NULL, "\n", &rest)) {
        const char *command = command_in(line);
        if (command == NULL || strchr(command, '$') != NULL)
            continue;
        int code = run_command(command);
        if (code != 0 && !(code == 1 && strstr(command, "--require") != NULL))
            fail_msg("%s: \"%s\" ends with %d", name, command, code);
        count++;
    }
    free(text);
    return count;
}

static void commands_of_the_documents_work(void **state)
{
    (void)state;
    assert_true(run_commands("README.md") >= 4);
    assert_true(run_commands("examples/README.md") >= 3);
    assert_true(run_commands("examples/story.md") >= 7);
}

static void every_example_names_a_command_that_works(void **state)
{
    (void)state;
    char pattern[600];
    glob_t found;
    snprintf(pattern, sizeof pattern, "%s/examples/*.yaml", project);
    assert_int_equal(glob(pattern, 0, NULL, &found), 0);
    assert_true(found.gl_pathc >= 14);
    for (size_t i = 0; i < found.gl_pathc; i++)
        if (run_commands(found.gl_pathv[i]) == 0)
            fail_msg("%s names no command", found.gl_pathv[i]);
    globfree(&found);
}

/* ---- README ---- */

/* the lines with which an answer begins */
static void shows_the_beginning(const char *readme, const char *command)
{
    char sentence[120];
    snprintf(sentence, sizeof sentence, "build/slewtime %s examples/daily.yaml", command);
    char *shown = block_after(readme, sentence, "```");
    outcome o = TOOL(command, "examples/daily.yaml");
    assert_true(strlen(shown) > 100);
    assert_int_equal(strncmp(o.out, shown, strlen(shown)), 0);
    free_outcome(&o);
    free(shown);
}

static void readme_shows_what_is_printed(void **state)
{
    (void)state;
    char *readme = read_document("README.md");
    shows_the_beginning(readme, "run");
    shows_the_beginning(readme, "plan");
    free(readme);
}

static void the_tour_shows_a_whole_run(void **state)
{
    (void)state;
    char *tour = read_document("examples/README.md");
    char *shown = block_after(tour, "build/slewtime run examples/daily.yaml", "```");
    outcome o = TOOL("run", "examples/daily.yaml");
    assert_string_equal(o.out, shown);
    free_outcome(&o);
    free(shown);
    free(tour);
}

/* an excerpt: each of its lines is one of the output */
static void the_tour_shows_lines_of_offset(void **state)
{
    (void)state;
    char *tour = read_document("examples/README.md"), *rest = NULL;
    char *shown = block_after(tour, "Some lines of its answer", "```");
    outcome o = TOOL("offset", "examples/daily.yaml");
    int count = 0;
    for (char *line = strtok_r(shown, "\n", &rest); line != NULL;
         line = strtok_r(NULL, "\n", &rest), count++)
        has(o.out, line);
    assert_true(count >= 5);
    free_outcome(&o);
    free(shown);
    free(tour);
}

static void program_of_the_readme_compiles_and_runs(void **state)
{
    (void)state;
    char command[2400], *readme = read_document("README.md");
    char *program = block_after(readme, "## In a program", "```c");
    write_file("program.c", program);
    snprintf(command, sizeof command,
             "cc -std=c11 $SLEWTIME_SANITIZE -I'%s/include' program.c $SLEWTIME_LIBRARY -lgsl "
             "-lgslcblas -lyaml "
             "-ludunits2 -lm -pthread "
             "-o program && ./program >out",
             project);
    assert_int_equal(system(command), 0);
    FILE *file = fopen("out", "r");
    assert_non_null(file);
    char *printed = take_all(file);
    printed[strcspn(printed, "\n")] = '\0';
    has(readme, printed);
    free(printed);
    free(program);
    free(readme);
}

static int enter(void **state)
{
    char library[1100];
    if (getcwd(project, sizeof project) == NULL || enter_directory(state) != 0)
        return -1;
    snprintf(library, sizeof library, "%s", tool_path);
    *strrchr(library, '/') = '\0';
    strcat(library, "/libslewtime.a");
    setenv("SLEWTIME_LIBRARY", library, 0);
    char examples[600];
    snprintf(examples, sizeof examples, "%s/examples", project);
    return symlink(examples, "examples");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(commands_of_the_documents_work),
        cmocka_unit_test(every_example_names_a_command_that_works),
        cmocka_unit_test(readme_shows_what_is_printed),
        cmocka_unit_test(the_tour_shows_a_whole_run),
        cmocka_unit_test(the_tour_shows_lines_of_offset),
        cmocka_unit_test(program_of_the_readme_compiles_and_runs),
    };
    return cmocka_run_group_tests(tests, enter, leave_directory);
}
