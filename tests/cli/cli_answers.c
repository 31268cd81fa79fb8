/*
 * cli_answers.c - the tool still says what it said when somebody last read it: each file of
 * tests/cli/answers begins with a command line, and goes on with its answer.
 *
 * Of a picture it holds what gnuplot is given, of what is long some lines. Numbers may differ
 * behind the eighth digit. After a change that is meant to be seen: `make answers`, and read the
 * difference.
 */
#include "tool.h"

#include <ctype.h>
#include <math.h>

enum { ANSWERS_MAX = 100, NAME_LENGTH = 64, PATH_LENGTH = 1024 };

static const char keeping_gnuplot[] =
    "#!/bin/sh\n"
    "for word; do case $word in -e) ;; *) printf '%s\\n' \"${word##*/plots/}\" ;; esac; done\n"
    "for file in *; do echo \"-- $file\"; awk 'NR <= 8 || NR % 61 == 0' \"$file\"; done\n"
    "echo 'IEND</svg>%%EOF'\n";

static char answers[PATH_LENGTH];
static char name[ANSWERS_MAX][NAME_LENGTH];
static int names;

static int by_name(const void *a, const void *b)
{
    return strcmp(a, b);
}

static void find_answers(void)
{
    from_here("tests/cli/answers", answers, sizeof answers);
    DIR *directory = opendir(answers);
    const char *only = getenv("SLEWTIME_ANSWERS"); /* those that begin with this */
    size_t length = only != NULL ? strlen(only) : 0;
    for (struct dirent *entry; directory != NULL && (entry = readdir(directory)) != NULL;)
        if (strstr(entry->d_name, ".txt") != NULL && names < ANSWERS_MAX &&
            (length == 0 || strncmp(entry->d_name, only, length) == 0))
            snprintf(name[names++], NAME_LENGTH, "%.*s", NAME_LENGTH - 1, entry->d_name);
    if (directory != NULL)
        closedir(directory);
    qsort(name, (size_t)names, sizeof *name, by_name);
}

static int enter(void **state)
{
    char examples[PATH_LENGTH], path[4096];
    const char *before = getenv("PATH");
    from_here("examples", examples, sizeof examples);
    if (before == NULL || enter_directory(state) != 0 || symlink(examples, "examples") != 0)
        return -1;
    snprintf(path, sizeof path, "%s:%s", tool_directory, before);
    write_file("gnuplot", keeping_gnuplot);
    return chmod("gnuplot", 0755) == 0 && setenv("SLEW_ASKED", tool_path, 1) == 0
               ? setenv("PATH", path, 1)
               : -1;
}

/* the hash of a scenario changes with every key that is new */
static void mask_hashes(char *text)
{
    while (*text != '\0') {
        size_t digits = strspn(text, "0123456789abcdef");
        if (digits == 16)
            memset(text, '#', digits);
        text += digits > 0 ? digits : 1;
    }
}

/* what a command line, `slewtime` and words as a shell reads them, says on both streams and draws
 */
static char *answer_to(const char *line)
{
    char command[2048];
    const char *words = strchr(line, ' ');
    assert_non_null(words);
    snprintf(command, sizeof command,
             "\"$SLEW_ASKED\"%.*s >all 2>&1; code=$?; awk 'NR <= 250 || NR %% 9 == 0' all >said; "
             "echo \"exit code $code\" >>said; "
             "if [ -f drawn.svg ]; then cat drawn.svg >>said; rm drawn.svg; fi",
             (int)strcspn(words, "\n"), words);
    assert_int_equal(system(command), 0); /* NOLINT: the command lines are our own */
    char *said = take_all(fopen("said", "r"));
    mask_hashes(said);
    return said;
}

static bool begins_number(const char *text, const char *at)
{
    return isdigit((unsigned char)*at) &&
           (at == text || !(isalnum((unsigned char)at[-1]) || at[-1] == '.'));
}

/* where two texts begin to differ, in the first of them; NULL: nowhere */
static const char *difference(const char *expected, const char *said)
{
    const char *e = expected, *s = said;
    while (*e != '\0' || *s != '\0') {
        if (begins_number(expected, e) && begins_number(said, s)) {
            char *after_e, *after_s;
            const double a = strtod(e, &after_e), b = strtod(s, &after_s);
            /* what should be nothing, an index of a key without influence, is rounding's: some
             * 1e-16 */
            if (!(fabs(a - b) <= 1e-8 * fabs(a) + 1e-14))
                return e;
            e = after_e;
            s = after_s;
        } else if (*e++ != *s++) {
            return e - 1;
        }
    }
    return NULL;
}

static const char *line_with(const char *text, const char *at)
{
    while (at > text && at[-1] != '\n')
        at--;
    return at;
}

static void is_as_it_was_read(void **state)
{
    char path[PATH_LENGTH + NAME_LENGTH];
    snprintf(path, sizeof path, "%s/%s", answers, (const char *)*state);
    FILE *file = fopen(path, "r");
    assert_non_null(file);
    char *expected = take_all(file);
    const char *line = strstr(expected, "slewtime");
    assert_non_null(line);
    char *said = answer_to(line);
    const char *rest = line + strcspn(line, "\n") + 1;
    if (getenv("SLEWTIME_WRITE_ANSWERS") != NULL) {
        file = fopen(path, "w");
        assert_non_null(file);
        assert_true(fprintf(file, "%.*s%s", (int)(rest - expected), expected, said) > 0);
        assert_int_equal(fclose(file), 0);
    } else {
        const char *at = difference(rest, said);
        if (at != NULL) {
            const char *was = line_with(rest, at);
            fail_msg("%s: line %d was:\n%.*s\nnow it says:\n%s", (const char *)*state,
                     1 + lines_of(expected) - lines_of(was), (int)strcspn(was, "\n"), was, said);
        }
    }
    free(expected);
    free(said);
}

int main(void)
{
    static struct CMUnitTest tests[ANSWERS_MAX];
    find_answers();
    for (int i = 0; i < names; i++)
        tests[i] = (struct CMUnitTest){name[i], is_as_it_was_read, NULL, NULL, name[i]};
    if (names == 0) {
        printf("no answers in %s\n", answers);
        return 1;
    }
    return _cmocka_run_group_tests("answers", tests, (size_t)names, enter, leave_directory);
}
