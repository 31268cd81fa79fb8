/* cli_pose_dial.c - the texts around a dial keep off each other, off the dial and in the panel. */
#include "tool.h"

#include "../../cli/pose/pose_dial.c"
#include "draw/labels.h"
#include "tell/utf8.h"

/* ---- dials ---- */

static void add_text(cli_dial *dial, cli_mark_kind kind, double degrees, const char *text)
{
    cli_mark *m = &dial->marks.mark[dial->marks.count++];
    m->kind = kind;
    m->named_at = degrees * DEGREE;
    m->range = (slew_range){m->named_at, m->named_at};
    snprintf(m->label.text, sizeof m->label.text, "%s", text);
}

/* stops, and texts at those angles */
static cli_dial dial_with(int axis, double low, double high, const double *degrees, int count)
{
    static const char *const texts[] = {
        "stowed -17.4\u00B0",    "point -16 \u00B1 2\u00B0", "home",
        "target 30 to 50\u00B0", "start 42\u00B0",           "stowed 170.0\u00B0, on the stop"};
    cli_dial dial = {.axis = axis};
    dial.marks.stops = (slew_range){low * DEGREE, high * DEGREE};
    add_text(&dial, CLI_MARK_STOP, low, "lower stop -20\u00B0");
    add_text(&dial, CLI_MARK_STOP, high, "upper stop 90\u00B0");
    for (int i = 0; i < count; i++)
        add_text(&dial, i % 2 ? CLI_MARK_STOWED : CLI_MARK_DEPLOYED, degrees[i], texts[i % 6]);
    return dial;
}

static const cli_lettering sheet_letters = {.scale = 1.06, .line = 30};
static const cli_lettering cells = {.line = 20, .is_terminal = true, .cell_width = 10};

/* ---- what is to be true of them ---- */

static cli_box text_box(const cli_mark *m, const cli_lettering *how)
{
    const cli_label *l = &m->label;
    return (cli_box){l->text_x, l->text_x + cli_text_width(l, how), l->text_y - how->line / 2,
                     l->text_y + how->line / 2};
}

static bool share_room(cli_box a, cli_box b)
{
    const double touch = 1e-6; /* neighbours touch, to a rounding */
    return a.left < b.right - touch && b.left < a.right - touch && a.bottom < b.top - touch &&
           b.bottom < a.top - touch;
}

/* on the rim the letters themselves count, which are lower than a line */
static bool reaches_rim(const cli_dial *dial, cli_box box, const cli_lettering *how)
{
    box.bottom += 0.15 * how->line;
    box.top -= 0.15 * how->line;
    const slew_range *stops = &dial->marks.stops;
    for (double a = stops->low; a <= stops->high; a += DEGREE / 4) {
        cli_point p = cli_dial_at(dial, 1, a);
        if (p.x > box.left && p.x < box.right && p.y > box.bottom && p.y < box.top)
            return true;
    }
    return false;
}

static void is_tidy(const cli_dial *dial, cli_box panel, const cli_lettering *how)
{
    for (int i = 0; i < dial->marks.count; i++) {
        cli_box own = text_box(&dial->marks.mark[i], how);
        assert_true(own.left >= panel.left - 1e-6 && own.right <= panel.right + 1e-6);
        assert_true(own.bottom >= panel.bottom - 1e-6 && own.top <= panel.top + 1e-6);
        if (reaches_rim(dial, own, how))
            fail_msg("\"%s\" is on the rim", dial->marks.mark[i].label.text);
        for (int k = 0; k < i; k++)
            if (share_room(own, text_box(&dial->marks.mark[k], how)))
                fail_msg("\"%s\" is on \"%s\"", dial->marks.mark[i].label.text,
                         dial->marks.mark[k].label.text);
    }
}

static const cli_box panel = {800, 1580, 85, 690};

static void fits(int axis, double low, double high, const double *degrees, int count)
{
    cli_dial dial = dial_with(axis, low, high, degrees, count);
    cli_dials_fit(&dial, 1, &panel, &sheet_letters);
    is_tidy(&dial, panel, &sheet_letters);
    assert_true(dial.radius > 80);
    const cli_box screen = {0, 790, 0, 420};
    dial = dial_with(axis, low, high, degrees, count);
    cli_dials_fit(&dial, 1, &screen, &cells);
    is_tidy(&dial, screen, &cells);
}

#define FITS(axis, low, high, ...)                                                                 \
    fits(axis, low, high, (const double[]){__VA_ARGS__},                                           \
         (int)(sizeof(const double[]){__VA_ARGS__} / sizeof(double)))

/* ---- tests ---- */

static void angles_go_up_and_to_the_right(void **state)
{
    (void)state;
    cli_dial side = {.axis = SLEW_ELEVATION, .x = 100, .y = 50, .radius = 10};
    cli_dial plan = {.axis = SLEW_ROTATION, .x = 100, .y = 50, .radius = 10};
    cli_point p = cli_dial_at(&side, 1, 0);
    assert_true(p.x == 110 && p.y == 50);
    p = cli_dial_at(&side, 0.5, 90 * DEGREE);
    assert_true(fabs(p.x - 100) < 1e-9 && fabs(p.y - 55) < 1e-9);
    p = cli_dial_at(&plan, 1, 0);
    assert_true(p.x == 100 && p.y == 60);
    p = cli_dial_at(&plan, 1, 90 * DEGREE);
    assert_true(fabs(p.x - 110) < 1e-9 && fabs(p.y - 50) < 1e-9);
}

static void texts_keep_off_each_other_and_the_dial(void **state)
{
    (void)state;
    FITS(SLEW_ELEVATION, -20, 90, -17.4, -16, 0, 30, 42);
    FITS(SLEW_ELEVATION, -20, 90, -20, -20, -20, -19.9, 90, 90);
    FITS(SLEW_ELEVATION, -10, 10, -7.7, -7, 0, 4, 4.3, 8);
    FITS(SLEW_ELEVATION, -90, 120, -90, 0, 0, 0, 0, 119);
    FITS(SLEW_ROTATION, -170, 170, -0.3, 0, -3, 5, -30);
    FITS(SLEW_ROTATION, -170, 170, 170, 169, 165, 0, 0, -170);
    FITS(SLEW_ROTATION, -90, 90, 0, 0, 0, 0, 89, -90);
    FITS(SLEW_ROTATION, -10, 10, 0, 0, 0, 0, 9, -9);
    FITS(SLEW_ROTATION, -179, 179, 0, 90, 179, -90, -179, 45);
}

static void a_dozen_boxes_fit_too(void **state)
{
    (void)state;
    double degrees[18];
    for (int i = 0; i < 18; i++)
        degrees[i] = -20 + 6 * i;
    cli_dial dial = dial_with(SLEW_ELEVATION, -20, 90, degrees, 18);
    cli_dials_fit(&dial, 1, &panel, &sheet_letters);
    is_tidy(&dial, panel, &sheet_letters);
}

static void several_are_drawn_to_one_scale(void **state)
{
    (void)state;
    const double few[] = {0}, many[] = {-20, -20, -20, -19.9, 90, 90};
    const cli_box panels[] = {{0, 380, 0, 400}, {400, 780, 0, 400}, {800, 1180, 0, 400}};
    cli_dial dial[] = {dial_with(SLEW_ELEVATION, -20, 90, few, 1),
                       {.axis = SLEW_ELEVATION},
                       dial_with(SLEW_ELEVATION, -45, 80, many, 6)};
    const cli_lettering small = {.scale = 0.75, .line = 21};
    cli_dials_fit(dial, 3, panels, &small);
    is_tidy(&dial[0], panels[0], &small);
    is_tidy(&dial[2], panels[2], &small);
    assert_true(dial[0].radius == dial[2].radius && dial[0].y == dial[2].y);
}

static void a_terminal_counts_letters_and_a_sheet_measures_them(void **state)
{
    (void)state;
    cli_label label = {.text = "stop 90\u00B0"};
    assert_true(cli_text_width(&label, &cells) == 80); /* 8 letters in 9 bytes */
    assert_true(cli_text_width(&label, &sheet_letters) == 1.06 * cli_label_width(&label));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(angles_go_up_and_to_the_right),
        cmocka_unit_test(texts_keep_off_each_other_and_the_dial),
        cmocka_unit_test(a_dozen_boxes_fit_too),
        cmocka_unit_test(several_are_drawn_to_one_scale),
        cmocka_unit_test(a_terminal_counts_letters_and_a_sheet_measures_them),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
