/* cli_utf8.c - texts cut and broken by letters, not by bytes. */
#include "tool.h"

#include "tell/utf8.h"

static void letters_are_counted_not_bytes(void **state)
{
    (void)state;
    assert_int_equal(cli_utf8_count(""), 0);
    assert_int_equal(cli_utf8_count("20 \u00B0C"), 5);
    assert_int_equal(cli_utf8_cut("20 \u00B0C", 4), 5); /* the sign has two bytes */
    assert_int_equal(cli_utf8_cut("20", 4), 2);
}

static void a_line_ends_between_words(void **state)
{
    (void)state;
    const char *text = "hits the lower stop";
    assert_int_equal(cli_utf8_line(text, 19), 19);
    assert_int_equal(cli_utf8_line(text, 18), 14);
    assert_int_equal(cli_utf8_line(text, 14), 14); /* the blank itself is no part of it */
    assert_int_equal(cli_utf8_line(text, 13), 8);
    assert_int_equal(cli_utf8_lines(text, 19), 1);
    assert_int_equal(cli_utf8_lines(text, 14), 2);
    assert_int_equal(cli_utf8_lines("", 14), 0);
    assert_int_equal(cli_utf8_line(text, 3), 3); /* a word longer than the line is cut */
    assert_int_equal(cli_utf8_line("", 10), 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(letters_are_counted_not_bytes),
        cmocka_unit_test(a_line_ends_between_words),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
