/* cli_labels.c - texts in a picture keep off each other, off the hatching and inside the panel. */
#include "tool.h"

#include "../../cli/draw/labels.c"

static const cli_panel panel = {.name = "elevation",
                                .width = 1200,
                                .height = 300,
                                .t_end = 20,
                                .low = -30,
                                .high = 60,
                                .free_low = -20,
                                .free_high = 60};

static cli_label label_at(double time, double value, const char *text)
{
    cli_label label = {.x = cli_panel_x(&panel, time), .y = cli_panel_y(&panel, value)};
    snprintf(label.text, sizeof label.text, "%s", text);
    return label;
}

static void pixels_and_values_go_both_ways(void **state)
{
    (void)state;
    assert_true(cli_panel_x(&panel, 20) == 1200 && cli_panel_y(&panel, -30) == 0);
    /* 1e-12: a few roundings of numbers up to 1200 */
    assert_true(fabs(cli_panel_time(&panel, cli_panel_x(&panel, 7.3)) - 7.3) < 1e-12);
    assert_true(fabs(cli_panel_value(&panel, cli_panel_y(&panel, -17.4)) + 17.4) < 1e-12);
}

static void texts_keep_apart(void **state)
{
    (void)state;
    /* close together, at the edges, and on a stop */
    cli_label labels[] = {
        label_at(10, 0, "home found"),      label_at(10.3, 1, "home found"),
        label_at(10.6, -2, "home found"),   label_at(0, 59, "home found"),
        label_at(20, -20, "hits the stop"), label_at(19.2, -20, "stall, FAULT"),
        label_at(12, -20, "hits the stop"),
    };
    enum { COUNT = sizeof labels / sizeof *labels };
    cli_labels_place(&panel, labels, COUNT, NULL, 0);
    for (int i = 0; i < COUNT; i++) {
        rectangle own = around(&labels[i]);
        assert_true(outside(&panel, own) == 0);
        assert_true(hatched(&panel, own) == 0);
        assert_true(distance_to(own, (cli_point){labels[i].end_x, labels[i].end_y}) == 0);
        for (int j = 0; j < i; j++)
            assert_true(shared_area(own, around(&labels[j])) == 0);
    }
}

/* a close-up begins where it begins, and ends where it ends */
static void a_close_up_has_a_start(void **state)
{
    (void)state;
    const cli_panel close_up = {.width = 400, .height = 300, .t_start = 11, .t_end = 13};
    assert_true(cli_panel_x(&close_up, 11) == 0 && cli_panel_x(&close_up, 13) == 400);
    assert_true(cli_panel_time(&close_up, 100) == 11.5);
}

/* no room to the left of the point, none to the right, but enough in all */
static void texts_stay_inside_a_narrow_panel(void **state)
{
    (void)state;
    cli_panel narrow = panel;
    narrow.width = 250;
    for (int time = 0; time <= 20; time++) {
        cli_label label = {
            .x = cli_panel_x(&narrow, time), .y = 150, .text = "hits the lower stop"};
        assert_true(cli_label_width(&label) < narrow.width);
        cli_labels_place(&narrow, &label, 1, NULL, 0);
        assert_true(outside(&narrow, around(&label)) == 0);
    }
}

static void names_are_spread(void **state)
{
    (void)state;
    double y[] = {0, 1, 2, 100, 290, 300};
    cli_labels_spread(y, 6, 20, 300);
    for (int i = 0; i < 6; i++) {
        assert_true(y[i] >= 0 && y[i] <= 300);
        assert_true(i == 0 || y[i] - y[i - 1] > 19); /* by 1 pixel, after 100 rounds */
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(pixels_and_values_go_both_ways),
        cmocka_unit_test(texts_keep_apart),
        cmocka_unit_test(a_close_up_has_a_start),
        cmocka_unit_test(texts_stay_inside_a_narrow_panel),
        cmocka_unit_test(names_are_spread),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
