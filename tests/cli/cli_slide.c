/* cli_slide.c - pictures as SVG: what they say of themselves, and that no text is clipped, stands
 * on another, or is too small on a slide. Widths of texts are reckoned; tests/page/pictures.test.js
 * measures them in a browser, on every example. */
#include "tool.h"

#include <math.h>

enum { TEXTS_MAX = 600, TEXT_LENGTH = 200 };

/* ---- the texts of an SVG ---- */

/* of DejaVu Sans and its bold, from the space to the tilde, measured in thousandths of the size */
static const int widths[2][95] = {
    {318,  401, 460, 838, 636, 950, 780, 275, 390, 390, 500, 838, 318, 361, 318, 337,
     636,  636, 636, 636, 636, 636, 636, 636, 636, 636, 337, 337, 838, 838, 838, 531,
     1000, 684, 686, 698, 770, 632, 575, 775, 752, 295, 295, 656, 557, 863, 748, 787,
     603,  787, 695, 635, 611, 732, 684, 989, 685, 611, 685, 390, 337, 390, 838, 500,
     500,  613, 635, 550, 635, 615, 352, 635, 634, 278, 278, 579, 278, 974, 634, 612,
     635,  635, 411, 521, 392, 634, 592, 818, 592, 592, 525, 636, 337, 636, 838},
    {348,  456, 521, 838, 696, 1002, 872, 306,  457, 457, 523, 838, 380, 415,  380, 365,
     696,  696, 696, 696, 696, 696,  696, 696,  696, 696, 400, 400, 838, 838,  838, 580,
     1000, 774, 762, 734, 830, 683,  683, 821,  837, 372, 372, 775, 637, 995,  837, 850,
     733,  850, 770, 720, 682, 812,  774, 1103, 771, 724, 725, 457, 365, 457,  838, 500,
     500,  675, 716, 593, 716, 678,  435, 716,  712, 343, 343, 665, 343, 1042, 712, 687,
     716,  716, 493, 595, 478, 712,  652, 924,  645, 652, 582, 712, 365, 712,  838}};

typedef struct drawn_text {
    char words[TEXT_LENGTH];
    double size, left, right, top, bottom; /* [pixels] */
} drawn_text;

typedef struct drawing {
    double width, height;
    int count;
    drawn_text text[TEXTS_MAX];
} drawing;

/* the words inside a line's tags, entities read; a letter beyond ASCII counts as one */
static void words_of(const char *line, char words[TEXT_LENGTH])
{
    size_t length = 0;
    bool in_tag = false;
    for (const char *at = line; *at != '\0' && *at != '\n' && length < TEXT_LENGTH - 1; at++) {
        if (*at == '<' || *at == '>')
            in_tag = *at == '<';
        else if (!in_tag && *at == '&') {
            words[length++] = strncmp(at, "&lt;", 4) == 0 ? '<' : '&';
            at += strcspn(at, ";");
        } else if (!in_tag && *at != '\t')
            words[length++] = *at;
    }
    words[length] = '\0';
}

static double width_of(const char *words, double size, bool is_bold)
{
    double width = 0;
    for (; *words != '\0'; words++) {
        unsigned char letter = (unsigned char)*words;
        if (letter >= 32 && letter < 127)
            width += widths[is_bold][letter - 32];
        else if ((letter & 0xC0) == 0xC0)
            width += 600;
    }
    return size * width / 1000;
}

/* `group`: the <g> in which gnuplot puts each text, and the <text> of the next line */
static void read_text(const char *group, drawing *d)
{
    double x = 0, y = 0;
    drawn_text *t = &d->text[d->count];
    const char *line = strstr(group, "<text>"), *size = strstr(group, "font-size=\"");
    const char *anchor = strstr(group, "text-anchor=\""), *turn = strstr(group, "rotate(");
    assert_int_equal(sscanf(group, "<g transform=\"translate(%lf,%lf)", &x, &y), 2);
    assert_true(line != NULL && size != NULL && size < line && anchor != NULL);
    t->size = strtod(size + 11, NULL);
    words_of(line, t->words);
    const char *bold = strstr(group, "font-weight=\"bold\"");
    double wide = width_of(t->words, t->size, bold != NULL && bold < line + strcspn(line, "\n"));
    double before = anchor[13] == 's' ? 0 : anchor[13] == 'e' ? wide : wide / 2;
    bool is_upright = turn != NULL && turn < line;
    t->left = is_upright ? x - 0.75 * t->size : x - before;
    t->right = is_upright ? x : x - before + wide;
    t->top = is_upright ? y - wide + before : y - 0.75 * t->size;
    t->bottom = is_upright ? y + before : y;
    d->count += t->words[strspn(t->words, " ")] != '\0';
}

static void read_drawing(const char *svg, drawing *d)
{
    const char *box = strstr(svg, "viewBox=\"0 0 ");
    assert_non_null(box);
    d->count = 0;
    assert_int_equal(sscanf(box, "viewBox=\"0 0 %lf %lf", &d->width, &d->height), 2);
    for (const char *at = svg; (at = strstr(at, "<g transform=\"translate(")) != NULL; at++) {
        const char *next = strstr(at + 1, "<g "), *text = strstr(at, "<text>");
        assert_true(d->count < TEXTS_MAX);
        if (text != NULL && (next == NULL || text < next))
            read_text(at, d);
    }
}

/* ---- what must not be ---- */

/* gnuplot writes a text in a box twice */
static bool is_twice(const drawn_text *a, const drawn_text *b)
{
    return strcmp(a->words, b->words) == 0 && fabs(a->left - b->left) < 1 &&
           fabs(a->top - b->top) < 1;
}

/* by more than their widths are reckoned wrongly */
static bool overlap(const drawn_text *a, const drawn_text *b)
{
    double across = fmin(a->right, b->right) - fmax(a->left, b->left);
    double down = fmin(a->bottom, b->bottom) - fmax(a->top, b->top);
    return across > 4 && down > 2 && !is_twice(a, b);
}

static void check_texts(const char *name, const drawing *d, double least_size)
{
    assert_true(d->count > 4);
    for (int i = 0; i < d->count; i++) {
        const drawn_text *t = &d->text[i];
        if (t->left < -4 || t->top < -2 || t->right > d->width + 4 || t->bottom > d->height)
            fail_msg("%s: \"%s\" is clipped", name, t->words);
        if (t->size < least_size)
            fail_msg("%s: \"%s\" has %.1f pixels", name, t->words, t->size);
        for (int k = 0; k < i; k++)
            if (overlap(t, &d->text[k]))
                fail_msg("%s: \"%s\" stands on \"%s\"", name, t->words, d->text[k].words);
    }
}

static void check_description(const char *name, const char *svg)
{
    const char *title = strstr(svg, "<title>"), *shows = strstr(svg, "<desc>");
    assert_true(title != NULL && shows != NULL);
    if (strcspn(title + 7, "<") < 8 || strcspn(shows + 6, "<") < 30)
        fail_msg("%s: it does not say what it shows", name);
    has_not(svg, "Gnuplot");
    has_not(svg, "GNUPLOT");
}

/* ---- drawing ---- */

static char root[512];

static int enter(void **state)
{
    return getcwd(root, sizeof root) == NULL ? -1 : enter_directory(state);
}

/* the arguments with @ for the project's examples, drawn to x.svg; --pose if `option` says so */
static char *draw(const char *option, const char *const *words, bool is_slide)
{
    const char *arguments[24];
    char paths[3][600];
    int count = 0, examples = 0;
    for (; words[count] != NULL; count++) {
        arguments[count] = words[count];
        if (words[count][0] != '@')
            continue;
        assert_true(examples < 3);
        snprintf(paths[examples], sizeof paths[0], "%s/examples/%s", root, words[count] + 1);
        arguments[count] = paths[examples++];
    }
    arguments[count++] = option;
    arguments[count++] = "x.svg";
    arguments[count++] = is_slide ? "--slide" : NULL;
    arguments[count] = NULL;
    outcome o = run_tool(NULL, arguments);
    if (o.code != 0)
        fail_msg("%s: exit code %d\n%s", words[0], o.code, o.err);
    free_outcome(&o);
    FILE *file = fopen("x.svg", "r");
    assert_non_null(file);
    char *svg = take_all(file);
    unlink("x.svg");
    return svg;
}

static void check(const char *option, const char *const *words)
{
    static drawing d;
    for (int is_slide = 0; is_slide < 2; is_slide++) {
        char name[200];
        snprintf(name, sizeof name, "%s %s%s", words[0], option, is_slide ? " --slide" : "");
        char *svg = draw(option, words, is_slide);
        read_drawing(svg, &d);
        check_description(name, svg);
        check_texts(name, &d, is_slide ? 0.035 * 1080 : 0);
        if (is_slide) {
            assert_true(d.width == 1920 && d.height == 1080);
            has_not(svg, "scenario 9ab7d57376f77e22");
            has_not(svg, "seed 1");
        }
        free(svg);
    }
}

#define CHECK(option, ...) check(option, (const char *const[]){__VA_ARGS__, NULL})
#define SOME               "--samples", "64"

static void runs(void **state)
{
    (void)state;
    CHECK("--plot", "run", "@daily.yaml");
    CHECK("--plot", "run", "@dead-sensor.yaml");
    CHECK("--pose", "run", "@daily.yaml");
    CHECK("--pose", "run", "@mast-on-the-way.yaml");
}

static void comparisons(void **state)
{
    (void)state;
    CHECK("--plot", "compare", "@clearance-enough.yaml", "@clearance-pressed.yaml",
          "@clearance-faults.yaml");
    CHECK("--pose", "compare", "@clearance-enough.yaml", "@clearance-pressed.yaml",
          "@clearance-faults.yaml");
}

static void settings(void **state)
{
    (void)state;
    CHECK("--plot", "offset", "@daily.yaml", SOME);
    CHECK("--plot", "plan", "@daily.yaml", SOME);
    CHECK("--plot", "margin", "@daily.yaml", SOME);
}

static void maps(void **state)
{
    (void)state;
    CHECK("--plot", "map", "@daily.yaml", "--vary", "today.supply.main.voltage=9V:15V:8");
    CHECK("--plot", "map", "@daily.yaml", "--vary", "stow.point.elevation=-16deg:-4deg:6", "--vary",
          "today.supply.main.voltage=9V:15V:6");
}

static void machine(void **state)
{
    (void)state;
    CHECK("--plot", "feed", "@daily.yaml");
    CHECK("--plot", "speed", "@daily.yaml");
    CHECK("--plot", "nozzle", "@reaction-arm.yaml");
    CHECK("--plot", "window", "@weak-magnet.yaml", "--axis", "rotation");
}

static void at_the_truck(void **state)
{
    (void)state;
    CHECK("--plot", "card", "@daily.yaml", SOME);
    CHECK("--plot", "fit", "@daily.yaml", "@stopwatch.csv", "--key", "elevation.gear.efficiency");
    CHECK("--plot", "causes", "@trouble-call.yaml", "--samples", "16");
    CHECK("--plot", "causes", "@trouble-call.yaml", "--samples", "16", "--seen",
          "@seen-falls-short.yaml");
}

/* ---- what is to be seen ---- */

static void shows(const char *option, const char *const *words, const char *text)
{
    char *svg = draw(option, words, false);
    has(svg, text);
    free(svg);
}

#define SHOWS(text, option, ...) shows(option, (const char *const[]){__VA_ARGS__, NULL}, text)

static void trouble_is_named_where_it_is(void **state)
{
    (void)state;
    SHOWS("The last second: 0.16 s on the stop; a", "--plot", "run", "@clearance-pressed.yaml");
    SHOWS("passes home: not seen", "--plot", "run", "@dead-sensor.yaml");
    SHOWS("13.1\u00B0, off by 11.9\u00B0", "--plot", "run", "@foam-trailer.yaml");
    SHOWS("This sensor never closes.", "--plot", "window", "@dead-sensor.yaml", "--axis",
          "rotation");
}

static void distances_are_drawn(void **state)
{
    (void)state;
    SHOWS("4.0\u00B0 from the stop", "--plot", "compare", "@clearance-enough.yaml",
          "@clearance-pressed.yaml", "@clearance-faults.yaml");
    SHOWS("as taught: -18.5\u00B0", "--pose", "run", "@clearance-pressed.yaml");
    SHOWS("this truck: 4.0\u00B0", "--plot", "margin", "@daily.yaml", SOME);
    SHOWS("hard stop", "--plot", "map", "@daily.yaml", "--vary",
          "today.supply.main.voltage=9V:15V:40");
    SHOWS("deployed, and target", "--plot", "map", "@daily.yaml", "--vary",
          "today.supply.main.voltage=9V:15V:8");
    SHOWS("stowed, and stow point", "--plot", "map", "@daily.yaml", "--vary",
          "today.supply.main.voltage=9V:15V:8");
}

static void what_is_asked_is_answered(void **state)
{
    (void)state;
    SHOWS("Trouble-free from 12.03 to 13.74 V", "--plot", "map", "@daily.yaml", "--vary",
          "today.supply.main.voltage=9V:15V:16");
    SHOWS("of this map is trouble-free (area of the map, not a probability)", "--plot", "map",
          "@daily.yaml", "--vary", "stow.point.elevation=-16deg:-4deg:6", "--vary",
          "today.supply.main.voltage=9V:15V:6");
    SHOWS("battery voltage today, V", "--plot", "map", "@daily.yaml", "--vary",
          "today.supply.main.voltage=9V:15V:8");
    SHOWS("chosen", "--plot", "offset", "@daily.yaml", SOME);
    SHOWS("this: 8 AWG", "--plot", "feed", "@daily.yaml");
    SHOWS("its dip at start", "--plot", "feed", "@daily.yaml");
    SHOWS("hatched: it does not fit what was seen", "--plot", "causes", "@trouble-call.yaml",
          "--samples", "16", "--seen", "@seen-nothing-fits.yaml");
    SHOWS("fault: brownout", "--plot", "causes", "@trouble-call.yaml", "--samples", "16");
    SHOWS("from which battery voltage on it works", "--plot", "speed", "@daily.yaml");
    SHOWS("13.50 V", "--plot", "causes", "@trouble-call.yaml", "--samples", "64", "--seen",
          "@seen-falls-short.yaml");
    SHOWS("stow point rotation 0°, elevation -16°", "--plot", "card", "@daily.yaml", SOME);
}

/* ---- the test itself, and the option ---- */

static void what_stands_on_another_is_seen(void **state)
{
    (void)state;
    static drawing d;
    read_drawing("<svg viewBox=\"0 0 100 50\">"
                 "<g transform=\"translate(10,20)\" font-size=\"10\"  text-anchor=\"start\">\n"
                 "<text>one &amp; all</text></g>"
                 "<g transform=\"translate(30,22)\" font-size=\"10\"  text-anchor=\"end\">\n"
                 "<text>two</text></g>"
                 "<g transform=\"translate(90,40)\" font-size=\"10\"  text-anchor=\"start\">\n"
                 "<text>clipped</text></g>",
                 &d);
    assert_int_equal(d.count, 3);
    assert_string_equal(d.text[0].words, "one & all");
    assert_true(overlap(&d.text[0], &d.text[1]));
    assert_false(overlap(&d.text[0], &d.text[2]));
    assert_true(d.text[2].right > d.width + 4);
}

static void odd_words_stay_words(void **state)
{
    (void)state;
    outcome o = TOOL("run", "truck.yaml", "--plot", "x.svg", "--only", "stow");
    assert_int_equal(o.code, 0);
    free_outcome(&o);
    FILE *file = fopen("x.svg", "r");
    char *svg = take_all(file);
    has(svg, "<title>Stowed: elevation");
    has(svg, "<desc>Angles, current and controller voltage against time. Bench monitor, ");
    unlink("x.svg");
    free(svg);
}

static void slide_needs_a_file(void **state)
{
    (void)state;
    outcome o = TOOL("run", "truck.yaml", "--slide");
    assert_int_equal(o.code, 2);
    has(o.err, "--slide draws nothing by itself");
    free_outcome(&o);
    o = TOOL("feed", "truck.yaml", "--plot", "-", "--slide");
    assert_int_equal(o.code, 2);
    free_outcome(&o);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_stands_on_another_is_seen),
        cmocka_unit_test(odd_words_stay_words),
        cmocka_unit_test(slide_needs_a_file),
        cmocka_unit_test(trouble_is_named_where_it_is),
        cmocka_unit_test(distances_are_drawn),
        cmocka_unit_test(what_is_asked_is_answered),
        cmocka_unit_test(runs),
        cmocka_unit_test(comparisons),
        cmocka_unit_test(settings),
        cmocka_unit_test(maps),
        cmocka_unit_test(machine),
        cmocka_unit_test(at_the_truck),
    };
    if (system("gnuplot --version > /dev/null 2>&1") != 0)
        return 0;
    return cmocka_run_group_tests(tests, enter, leave_directory);
}
