/*
 * cli_terminal.c - pictures in a terminal of 80 columns and 24 lines: the finding stands in the
 * first screen, and nothing is wider than it.
 */
#define _XOPEN_SOURCE 700
#define _DEFAULT_SOURCE

#include "tool.h"

#include <ctype.h>
#include <sys/ioctl.h>
#include <sys/wait.h>
#include <termios.h>

enum { COLUMNS = 80, LINES = 24, SCREEN_MAX = 400000 };

static char root[512];

static int enter(void **state)
{
    return getcwd(root, sizeof root) == NULL ? -1 : enter_directory(state);
}

/* ---- a terminal ---- */

static int open_terminal(int *tool)
{
    const struct winsize size = {.ws_row = LINES, .ws_col = COLUMNS};
    int screen = posix_openpt(O_RDWR | O_NOCTTY);
    assert_true(screen >= 0 && grantpt(screen) == 0 && unlockpt(screen) == 0);
    *tool = open(ptsname(screen), O_RDWR | O_NOCTTY);
    assert_true(*tool >= 0);
    assert_int_equal(ioctl(*tool, TIOCSWINSZ, &size), 0);
    return screen;
}

/* what the tool shows there, line ends as in a file */
static char *run_in_terminal(char *const *arguments)
{
    int tool, screen = open_terminal(&tool);
    char *shown = calloc(1, SCREEN_MAX);
    size_t length = 0;
    assert_non_null(shown);
    pid_t child = fork();
    if (child == 0) {
        dup2(tool, STDOUT_FILENO);
        close(tool);
        close(screen);
        execv(tool_path, arguments);
        _exit(127);
    }
    close(tool);
    for (char c; read(screen, &c, 1) == 1 && length < SCREEN_MAX - 1;)
        if (c != '\r')
            shown[length++] = c;
    close(screen);
    int status;
    waitpid(child, &status, 0);
    if (status != 0)
        fail_msg("%s: status %d\n%s", arguments[1], status, shown);
    return shown;
}

/* ---- what it shows ---- */

/* the words alone, a blank between them: as a title is wrapped and centered */
static void words_of(const char *text, size_t length, char *words)
{
    bool blank = true;
    for (size_t i = 0; i < length; i++) {
        if (!isspace((unsigned char)text[i]))
            *words++ = text[i];
        else if (!blank)
            *words++ = ' ';
        blank = isspace((unsigned char)text[i]);
    }
    *words = '\0';
}

/* how much of a text its first lines are */
static size_t screen_of(const char *text)
{
    const char *at = text;
    for (int line = 0; line < LINES && strchr(at, '\n') != NULL; line++)
        at = strchr(at, '\n') + 1;
    return (size_t)(at - text);
}

static int letters_of(const char *line, size_t length)
{
    int count = 0;
    for (size_t i = 0; i < length; i++)
        count += ((unsigned char)line[i] & 0xC0) != 0x80;
    return count;
}

static void fits_the_screen(const char *name, const char *shown)
{
    const char *at = shown, *end = shown + screen_of(shown);
    while (at < end) {
        size_t length = strcspn(at, "\n");
        bool is_drawn = memchr(at, '|', length) != NULL; /* the frame; below stands text */
        if (is_drawn && letters_of(at, length) > COLUMNS)
            fail_msg("%s is wider than the screen: %.100s", name, at);
        at += length + 1;
    }
}

/* ---- each picture ---- */

typedef struct drawn {
    const char *message;   /* in the first screen */
    const char *words[10]; /* the last asks for the picture; @ for the folder of the examples */
} drawn;

static const drawn asked[] = {
    {"Reports stowed, but elevation is jammed against its lower stop (-20.0\u00B0).",
     {"run", "@clearance-pressed.yaml", "--plot"}},
    {"Reports stowed, but elevation is jammed against its lower stop (-20.0\u00B0).",
     {"run", "@clearance-pressed.yaml", "--pose"}},
    {"S after the stow", {"run", "@daily.yaml", "--pose"}},
    {"passes home: not seen", {"run", "@dead-sensor.yaml", "--plot"}},
    {"A\u00A0(4.0\u00B0 from the stop): all is well; B\u00A0(0.5\u00B0): fault: hard stop",
     {"compare", "@clearance-enough.yaml", "@clearance-faults.yaml", "--plot"}},
    {"A clearance-enough Stowed: elevation at -18.8",
     {"compare", "@clearance-enough.yaml", "@clearance-faults.yaml", "--pose"}},
    {"the best choice, elevation 7.50 s, enters a keep-out zone in ",
     {"offset", "@daily.yaml", "--samples", "64", "--plot"}},
    {"Too few simulated days to say whether anything meets all demands",
     {"plan", "@daily.yaml", "--samples", "64", "--plot"}},
    {"Clearance the elevation needs: lower stop ",
     {"margin", "@daily.yaml", "--samples", "64", "--plot"}},
    {"E stowed short of the stow point",
     {"map", "@daily.yaml", "--vary", "today.supply.main.voltage=9V:15V:8", "--plot"}},
    {" % of this map is trouble-free (area of the map, not a probability)",
     {"map", "@daily.yaml", "--vary", "stow.point.elevation=-16deg:-4deg:6", "--vary",
      "today.supply.main.voltage=9V:15V:6", "--plot"}},
    {"Ampacity and fuse NOT checked", {"feed", "@daily.yaml", "--plot"}},
    {"Worst case elevation up at 102 psi: stop to stop takes a battery voltage of 9.90 V",
     {"speed", "@daily.yaml", "--plot"}},
    {"1000 gpm at 101.5 psi: 509 lbf", {"nozzle", "@daily.yaml", "--plot"}},
    {"Closes within 1.12\u00B0 of home",
     {"window", "@weak-magnet.yaml", "--axis", "rotation", "--plot"}},
    {"line of the file of readings",
     {"fit", "@daily.yaml", "@stopwatch.csv", "--key", "elevation.gear.efficiency", "--plot"}},
    {"What 37 causes look like", {"causes", "@trouble-call.yaml", "--samples", "16", "--plot"}},
    {"next check: Battery voltage at rest",
     {"causes", "@trouble-call.yaml", "--samples", "16", "--seen", "@seen-falls-short.yaml",
      "--plot"}},
};
enum { ASKED = sizeof asked / sizeof *asked };

static char *show(const drawn *d)
{
    static char paths[10][600];
    char *arguments[16] = {"slewtime"};
    int count = 1;
    for (int i = 0; d->words[i] != NULL; i++) {
        bool is_example = d->words[i][0] == '@';
        snprintf(paths[i], sizeof paths[i], "%s%s%s", is_example ? root : "",
                 is_example ? "/examples/" : "", d->words[i] + is_example);
        arguments[count++] = paths[i];
    }
    arguments[count++] = "-";
    arguments[count++] = "--quiet";
    return run_in_terminal(arguments);
}

static void the_message_is_in_the_first_screen(void **state)
{
    static char words[SCREEN_MAX];
    (void)state;
    for (int i = 0; i < ASKED; i++) {
        char *shown = show(&asked[i]);
        words_of(shown, screen_of(shown), words);
        if (strstr(words, asked[i].message) == NULL)
            fail_msg("%s: \"%s\" is not in the first screen:\n%.*s", asked[i].words[0],
                     asked[i].message, (int)screen_of(shown), shown);
        fits_the_screen(asked[i].words[0], shown);
        free(shown);
    }
}

static void wider_lines_are_seen(void **state)
{
    char words[40];
    (void)state;
    assert_int_equal(letters_of("-20\u00B0", 5), 4);
    words_of("  one \n  two\n", 13, words);
    assert_string_equal(words, "one two ");
    assert_int_equal(screen_of("one\ntwo\n"), 8);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(wider_lines_are_seen),
        cmocka_unit_test(the_message_is_in_the_first_screen),
    };
    if (system("gnuplot --version > /dev/null 2>&1") != 0)
        return 0;
    return cmocka_run_group_tests(tests, enter, leave_directory);
}
