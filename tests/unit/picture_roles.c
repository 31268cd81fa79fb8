/* picture_roles.c - the roles of colors in pictures are told apart in gray and by the color-blind,
 * and scripts draw with nothing else. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <ctype.h>
#include <dirent.h>
#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef struct color {
    double red, green, blue; /* linear light, 0 to 1 */
} color;

/* ---- plots/common.gp ---- */

static char *read_plot(const char *name)
{
    char path[400];
    snprintf(path, sizeof path, "plots/%s", name);
    FILE *file = fopen(path, "r");
    assert_non_null(file);
    char *text = calloc(1, 60000);
    assert_non_null(text);
    assert_true(fread(text, 1, 59999, file) < 59999);
    fclose(file);
    return text;
}

/* IEC 61966-2-1 (sRGB), its transfer function */
static double linear(unsigned level)
{
    double v = level / 255.0;
    return v <= 0.04045 ? v / 12.92 : pow((v + 0.055) / 1.055, 2.4);
}

static color parse(const char *hex)
{
    unsigned red = 0, green = 0, blue = 0;
    assert_int_equal(sscanf(hex, "#%2x%2x%2x", &red, &green, &blue), 3);
    return (color){linear(red), linear(green), linear(blue)};
}

static const char *const roles[] = {"stop", "wrong", "good", "warning", "target"};
enum { ROLES = sizeof roles / sizeof *roles };

static color role(const char *script, const char *name)
{
    char line[40];
    snprintf(line, sizeof line, "\nrole_%-7s = '", name);
    const char *at = strstr(script, line);
    assert_non_null(at);
    return parse(at + strlen(line));
}

/* ---- seen without one kind of cones, and without color ---- */

typedef enum sight { NORMAL, PROTANOPE, DEUTERANOPE, SIGHTS } sight;

/* F. Vienot, H. Brettel, J. D. Mollon: Digital video colourmaps for checking the legibility of
 * displays by dichromats. Color Research and Application 24 (1999) 243-252: linear RGB to cones,
 * and what a dichromat's missing cone is replaced with; the figures from memory */
static color seen(color c, sight s)
{
    double l = 17.8824 * c.red + 43.5161 * c.green + 4.11935 * c.blue;
    double m = 3.45565 * c.red + 27.1554 * c.green + 3.86714 * c.blue;
    double t = 0.0299566 * c.red + 0.184309 * c.green + 1.46709 * c.blue;
    if (s == PROTANOPE)
        l = 2.02344 * m - 2.52581 * t;
    if (s == DEUTERANOPE)
        m = 0.494207 * l + 1.24827 * t;
    return (color){0.0809444479 * l - 0.130504409 * m + 0.116721066 * t,
                   -0.0102485335 * l + 0.0540193266 * m - 0.113614708 * t,
                   -0.000365296938 * l - 0.00412161469 * m + 0.693511405 * t};
}

static double clamped(double v)
{
    return fmin(fmax(v, 0), 1);
}

/* relative luminance: ITU-R BT.709, as in WCAG 2.1; what a gray print keeps of a color */
static double luminance(color c)
{
    return 0.2126 * clamped(c.red) + 0.7152 * clamped(c.green) + 0.0722 * clamped(c.blue);
}

/* WCAG 2.1, contrast ratio */
static double contrast(color a, color b)
{
    double x = luminance(a) + 0.05, y = luminance(b) + 0.05;
    return x > y ? x / y : y / x;
}

/* ---- the tests ---- */

static void the_matrices_are_inverse(void **state)
{
    (void)state;
    const color c = {0.2, 0.5, 0.7}, back = seen(c, NORMAL);
    assert_true(fabs(back.red - c.red) < 1e-5 && fabs(back.green - c.green) < 1e-5 &&
                fabs(back.blue - c.blue) < 1e-5);
    /* nobody takes white for another color */
    for (int s = 0; s < SIGHTS; s++)
        assert_true(fabs(luminance(seen((color){1, 1, 1}, (sight)s)) - 1) < 0.01);
}

/* each pair of roles differs by a step that is seen side by side, whoever looks, and in gray */
static void roles_are_told_apart_by_everybody(void **state)
{
    (void)state;
    char *script = read_plot("common.gp");
    for (int i = 0; i < ROLES; i++)
        for (int k = 0; k < i; k++)
            for (int s = 0; s < SIGHTS; s++) {
                color a = role(script, roles[i]), b = role(script, roles[k]);
                double ratio = contrast(seen(a, (sight)s), seen(b, (sight)s));
                if (ratio < 1.4)
                    fail_msg("%s and %s, sight %d: contrast %.2f", roles[i], roles[k], s, ratio);
            }
    free(script);
}

/* good and warning lie side by side: mixed with paper they would be one gray */
static void their_fills_are_whole(void **state)
{
    static const char *const fills[][2] = {
        {"\nfill_good    = \"fc rgb role_good fs solid 1 ", "@fill_good"},
        {"\nfill_warning = \"fc rgb role_warning fs solid 1 ", "@fill_warning"}};
    (void)state;
    char *script = read_plot("common.gp"), *speed = read_plot("speed.gp");
    for (int i = 0; i < 2; i++) {
        assert_non_null(strstr(script, fills[i][0]));
        assert_non_null(strstr(speed, fills[i][1]));
    }
    assert_null(strstr(speed, "fs solid"));
    free(script);
    free(speed);
}

static bool is_green(color c)
{
    return c.green > 1.2 * c.red && c.green > 1.2 * c.blue;
}

/* of 17 outcomes the first is good, five are warnings, all else is wrong or could not be run */
static void no_trouble_is_green(void **state)
{
    (void)state;
    char *script = read_plot("common.gp");
    assert_false(is_green(role(script, "wrong")) || is_green(role(script, "warning")));
    const char *shades = strstr(script, "\nshades = '");
    assert_non_null(shades);
    shades += strlen("\nshades = '");
    for (int k = 0; k < 17; k++, shades += 8)
        if (is_green(parse(shades)))
            fail_msg("outcome %d is green", k);
    free(script);
}

/* "#A83200", "rgb 'red'": a color that is not named after its role */
static bool has_own_color(const char *script)
{
    for (const char *at = script; (at = strchr(at, '#')) != NULL; at++) {
        int digits = 0;
        while (isxdigit((unsigned char)at[1 + digits]))
            digits++;
        if (digits == 6)
            return true;
    }
    return strstr(script, "rgb '") != NULL || strstr(script, "rgb \"") != NULL;
}

static void scripts_draw_with_roles_alone(void **state)
{
    (void)state;
    assert_true(has_own_color("lc rgb '#00ff00'") && has_own_color("tc rgb 'green'"));
    assert_false(has_own_color("# 12 rows\nlc rgb role_wrong"));
    DIR *folder = opendir("plots");
    assert_non_null(folder);
    int scripts = 0;
    for (struct dirent *entry; (entry = readdir(folder)) != NULL;) {
        const char *end = strrchr(entry->d_name, '.');
        if (end == NULL || strcmp(end, ".gp") != 0 || strcmp(entry->d_name, "common.gp") == 0)
            continue;
        char *script = read_plot(entry->d_name);
        if (has_own_color(script))
            fail_msg("%s has a color of its own", entry->d_name);
        free(script);
        scripts++;
    }
    closedir(folder);
    assert_true(scripts >= 17);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_matrices_are_inverse),
        cmocka_unit_test(roles_are_told_apart_by_everybody),
        cmocka_unit_test(their_fills_are_whole),
        cmocka_unit_test(no_trouble_is_green),
        cmocka_unit_test(scripts_draw_with_roles_alone),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
